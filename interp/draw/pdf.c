/* SPDX-License-Identifier: MIT
 * An incremental update: the old file stays byte for byte, and a newer catalog stands behind it. */
#include "draw/pdf.h"
#include <string.h>

struct part { const char *at; size_t n; };

/* The last place of a word before `end`, or NULL. */
static const char *last(const char *from, const char *end, const char *word) {
  const size_t n = strlen(word);
  if ((size_t)(end - from) < n) return NULL;
  for (const char *s = end - n; s >= from; s--) if (*s == *word && memcmp(s, word, n) == 0) return s;
  return NULL;
}
static const char *first(const char *from, const char *end, const char *word) {
  const size_t n = strlen(word);
  for (const char *s = from; s + n <= end; s++) {
    s = memchr(s, *word, (size_t)(end - s));
    if (!s || s + n > end) return NULL;
    if (memcmp(s, word, n) == 0) return s;
  }
  return NULL;
}

/* The whole number behind a word; -1: there is none. */
static long long number(const char *from, const char *end, const char *word) {
  const char *s = first(from, end, word);
  long long n = -1;
  if (!s) return -1;
  s += strlen(word);
  while (s < end && (*s == ' ' || *s == '\n' || *s == '\r')) s++;
  for (; s < end && *s >= '0' && *s <= '9' && n < 1000000000000; s++) n = (n < 0 ? 0 : 10 * n) + (*s - '0');
  return n;
}

/* What stands between << and >> of an object. */
static struct part object(const char *from, const char *end, long long id) {
  char head[40];
  int n = 0;
  char digits[24];
  long long rest = id;
  do digits[n++] = (char)('0' + rest % 10), rest /= 10; while (rest);
  size_t at = 0;
  head[at++] = '\n';
  while (n) head[at++] = digits[--n];
  strcpy(head + at, " 0 obj");
  const char *s = first(from, end, head), *open = s ? first(s, end, "<<") : NULL;
  const char *close = open ? first(open, end, "endobj") : NULL;
  close = close ? last(open, close, ">>") : NULL;
  return close ? (struct part){ open + 2, (size_t)(close - open - 2) } : (struct part){ NULL, 0 };
}

static void ten_digits(struct sl_written *w, size_t n) {
  char text[11] = "0000000000";
  for (int i = 9; i >= 0 && n; i--, n /= 10) text[i] = (char)('0' + n % 10);
  sl_put(w, text);
}

bool sl_pdf_update(struct sl_written *w, const char *identity) {
  if (w->n == 0) return false;
  const char *from = w->at, *end = from + w->n, *trailer = last(from, end, "trailer");
  const char *x = last(from, end, "startxref");
  if (!trailer || !x) return false;
  const long long size = number(trailer, end, "/Size"), root = number(trailer, end, "/Root"),
                  info = number(trailer, end, "/Info"), before = number(x, end, "startxref");
  const struct part catalog = root < 0 ? (struct part){ NULL, 0 } : object(from, end, root);
  if (size < 0 || before < 0 || !catalog.at) return false;
  /* The text moves as it grows: what is put in comes from a place in it. */
  const size_t catalog_at = (size_t)(catalog.at - from), object_at = w->n;
  sl_put_whole(w, root), sl_put(w, " 0 obj\n<<");
  for (size_t i = 0; i < catalog.n && !w->starved; i++) {
    const char c = w->at[catalog_at + i];
    sl_put_bytes(w, &c, 1);
  }
  sl_put(w, " /Lang (en) /ViewerPreferences << /PrintScaling /None /DisplayDocTitle true >> >>\nendobj\n");
  const size_t xref = w->n;
  sl_put(w, "xref\n"), sl_put_whole(w, root), sl_put(w, " 1\n"), ten_digits(w, object_at);
  sl_put(w, " 00000 n \ntrailer\n<< /Size "), sl_put_whole(w, size);
  sl_put(w, " /Root "), sl_put_whole(w, root), sl_put(w, " 0 R");
  if (info >= 0) sl_put(w, " /Info "), sl_put_whole(w, info), sl_put(w, " 0 R");
  sl_put(w, " /Prev "), sl_put_whole(w, before), sl_put(w, " /ID [<"), sl_put(w, identity);
  sl_put(w, "> <"), sl_put(w, identity), sl_put(w, ">] >>\nstartxref\n"), sl_put_whole(w, (long long)xref);
  sl_put(w, "\n%%EOF\n");
  return true;
}
