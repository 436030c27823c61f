/* SPDX-License-Identifier: MIT
 * Numbers of variants: those that are done, and blocks of those that are to be done.  No Lua: what its collector would
 * walk in each worker is kept here. */
#ifndef SL_SWEEP_NUMBERS_H
#define SL_SWEEP_NUMBERS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct sl_numbers { int64_t *at; size_t n, room; bool mixed; };
bool sl_numbers_add(struct sl_numbers *set, int64_t number);       /* false: no memory */
void sl_numbers_sort(struct sl_numbers *set);                      /* after the last one, before the first question */
bool sl_numbers_has(const struct sl_numbers *set, int64_t number);
void sl_numbers_free(struct sl_numbers *set);

/* In the order in which they are to be done; at: the first that has no row yet. */
struct sl_block {
  struct sl_block *next;
  size_t n, at;
  int64_t number[];
};
struct sl_block *sl_block_new(size_t room);                        /* NULL: no memory */
bool sl_block_has(const struct sl_block *b, int64_t number);
bool sl_block_take(struct sl_block *b, int64_t number);            /* off the block; false: it is not in there */
void sl_blocks_free(struct sl_block *first);
#endif
