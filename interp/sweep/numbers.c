/* SPDX-License-Identifier: MIT
 * Sets and blocks of numbers of variants. */
#include "sweep/numbers.h"

#include <stdlib.h>
#include <string.h>

enum { FIRST_ROOM = 1024 };

bool sl_numbers_add(struct sl_numbers *set, int64_t number) {
  if (set->n == set->room) {
    const size_t room = set->room ? 2 * set->room : FIRST_ROOM;
    int64_t *new = room > SIZE_MAX / sizeof *new ? NULL : realloc(set->at, room * sizeof *new);
    if (!new) return false;
    set->at = new;
    set->room = room;
  }
  if (set->n && number < set->at[set->n - 1]) set->mixed = true;
  set->at[set->n++] = number;
  return true;
}

static int compare(const void *left, const void *right) {
  const int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
  return (a > b) - (a < b);
}

void sl_numbers_sort(struct sl_numbers *set) {
  if (set->mixed) qsort(set->at, set->n, sizeof *set->at, compare);
  set->mixed = false;
}

bool sl_numbers_has(const struct sl_numbers *set, int64_t number) {
  return set->n && bsearch(&number, set->at, set->n, sizeof *set->at, compare);
}

void sl_numbers_free(struct sl_numbers *set) {
  free(set->at);
  *set = (struct sl_numbers){ 0 };
}

struct sl_block *sl_block_new(size_t room) {
  struct sl_block *b = room > (SIZE_MAX - sizeof *b) / sizeof *b->number ? NULL
                                                                        : malloc(sizeof *b + room * sizeof *b->number);
  if (b) *b = (struct sl_block){ .next = NULL };
  return b;
}

/* Nearly always the first. */
static size_t place_of(const struct sl_block *b, int64_t number) {
  size_t i = b->at;
  while (i < b->n && b->number[i] != number) i++;
  return i;
}

bool sl_block_has(const struct sl_block *b, int64_t number) { return place_of(b, number) < b->n; }

bool sl_block_take(struct sl_block *b, int64_t number) {
  const size_t i = place_of(b, number);
  if (i == b->n) return false;
  memmove(b->number + b->at + 1, b->number + b->at, (i - b->at) * sizeof *b->number);
  b->at++;
  return true;
}

void sl_blocks_free(struct sl_block *first) {
  for (struct sl_block *b = first, *next; b; b = next) {
    next = b->next;
    free(b);
  }
}
