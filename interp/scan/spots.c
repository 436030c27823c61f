/* SPDX-License-Identifier: MIT
 * The literals of a text by their place. */
#include "scan/spots.h"
#include <stdlib.h>

/* How many begin at a place or before it. */
static size_t up_to(const struct sl_spots *spots, int line, int col) {
  size_t low = 0, high = spots->n;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    const struct sl_span *span = &spots->list[middle].span;
    if (span->line < line || (span->line == line && span->col <= col)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/* How far a place is from a literal: lines first. */
static long long away(const struct sl_spot *spot, int line, int col) {
  const long long lines = llabs((long long)line - spot->span.line), end = spot->span.col + (long long)spot->span.len;
  return (lines << 31) + (col < spot->span.col ? spot->span.col - col : col >= end ? col - end + 1 : 0);
}

/* The nearest is the last that begins up to that column, or the first behind it, on a line of those that stand so about
 * the place itself. Of two that are as near it is the first. */
const struct sl_spot *sl_spots_near(const struct sl_spots *spots, int line, int col, bool *hit) {
  const struct sl_spot *best = NULL;
  const size_t next = up_to(spots, line, col);
  *hit = false;
  for (size_t i = next > 0 ? next - 1 : 0; i <= next && i < spots->n; i++) {
    const size_t behind = up_to(spots, spots->list[i].span.line, col);
    for (size_t j = behind > 0 ? behind - 1 : 0; j <= behind && j < spots->n; j++)
      if (!best || away(&spots->list[j], line, col) < away(best, line, col)) best = &spots->list[j];
  }
  if (best) *hit = away(best, line, col) == 0;
  return best;
}

void sl_spots_free(struct sl_spots *spots) {
  sl_memory_resize(spots->box, spots->list, spots->n * sizeof *spots->list, 0);
  sl_memory_resize(spots->box, spots->k, spots->nk * sizeof *spots->k, 0);
  *spots = (struct sl_spots){ .box = spots->box };
}
