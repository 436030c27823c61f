/* SPDX-License-Identifier: MIT
 * Did you mean: the nearest of some names. */
#include "host/nearest.h"
#include <stdbool.h>
#include <string.h>

static int lower(char c) { return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : (unsigned char)c; }

static bool same_but_case(const char *a, const char *b) {
  while (*a && lower(*a) == lower(*b)) a++, b++;
  return lower(*a) == lower(*b);
}

static int least(int a, int b) { return a < b ? a : b; }

/* Damerau-Levenshtein distance, unrestricted: letters may be put in between two that were swapped. */
static int distance(const char *a, int n, const char *b, int m) {
  int d[SL_LONGEST_WORD + 2][SL_LONGEST_WORD + 2], last_row[256] = {0};
  for (int i = 0; i <= n; i++) d[i + 1][0] = n + m, d[i + 1][1] = i;
  for (int j = 0; j <= m; j++) d[0][j + 1] = n + m, d[1][j + 1] = j;
  d[0][0] = n + m;
  for (int i = 1; i <= n; i++) {
    int last_column = 0;
    for (int j = 1; j <= m; j++) {
      bool same = a[i - 1] == b[j - 1];
      int row = last_row[(unsigned char)b[j - 1]], column = last_column;
      int swap = d[row][column] + (i - row - 1) + 1 + (j - column - 1);
      int change = least(d[i][j] + !same, least(d[i + 1][j], d[i][j + 1]) + 1);
      d[i + 1][j + 1] = least(change, swap);
      if (same) last_column = j;
    }
    last_row[(unsigned char)a[i - 1]] = i;
  }
  return d[n + 1][m + 1];
}

const char *sl_nearest(const char *word, const char *const *names, size_t n) {
  for (size_t i = 0; i < n; i++)
    if (same_but_case(word, names[i])) return names[i];
  size_t len = strlen(word);
  if (len == 0 || len > SL_LONGEST_WORD) return NULL;
  int limit = len < 6 ? 1 : (int)len / 3;
  const char *best = NULL;
  for (size_t i = 0; i < n; i++) {
    size_t other = strlen(names[i]);
    size_t apart = other > len ? other - len : len - other;
    if (other > SL_LONGEST_WORD || apart > (size_t)limit) continue;
    int d = distance(word, (int)len, names[i], (int)other);
    if (d <= limit && (size_t)d < (other > len ? other : len)) best = names[i], limit = d - 1;
  }
  return best;
}
