/* SPDX-License-Identifier: MIT
 * Memory of one Lua state: small blocks from free lists over big chunks, large ones from malloc on a list, so that a
 * whole state is given back at once without walking its heap.  Under a sanitizer every block is malloc's own. */
#ifndef SL_POOL_H
#define SL_POOL_H

#include <stddef.h>

enum { SL_POOL_STEP = 16, SL_POOL_MOST = 4096 };

struct sl_pool {
  void *free[SL_POOL_MOST / SL_POOL_STEP + 1];   /* by size class */
  char *at, *end;                                /* of the chunk in use */
  struct sl_pool_chunk *chunks;
  struct sl_pool_large *large;
};

/* As realloc, told the old size; size 0 frees. NULL: no memory, and the block is as it was.
 * Start from a zeroed pool. */
void *sl_pool_resize(struct sl_pool *pool, void *block, size_t old, size_t size);
/* Gives back everything. 1 if that was done; 0 where blocks are malloc's own and must be freed one by one before. */
int sl_pool_drop(struct sl_pool *pool);

#endif
