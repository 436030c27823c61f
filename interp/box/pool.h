/* SPDX-License-Identifier: MIT
 * Memory of one Lua state: small blocks from free lists over big chunks, large ones from malloc on a list, so that a
 * whole state is given back at once without walking its heap.  Under a sanitizer every block is malloc's own. */
#ifndef SL_POOL_H
#define SL_POOL_H

#include <stddef.h>
#include <string.h>

#if defined(__SANITIZE_ADDRESS__)
#define SL_POOL_PLAIN 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SL_POOL_PLAIN 1
#endif
#endif

enum { SL_POOL_STEP = 16, SL_POOL_MOST = 4096 };

struct sl_pool {
  void *free[SL_POOL_MOST / SL_POOL_STEP + 1];   /* by size class */
  char *at, *end;                                /* of the chunk in use */
  struct sl_pool_chunk *chunks;
  struct sl_pool_large *large;
};

/* A small block where one is at hand, which is nearly always so; NULL: ask sl_pool_resize. */
static inline void *sl_pool_at_hand(struct sl_pool *pool, size_t size) {
#ifdef SL_POOL_PLAIN
  (void)pool, (void)size;
  return NULL;
#else
  const size_t class = (size + SL_POOL_STEP - 1) / SL_POOL_STEP, bytes = class * SL_POOL_STEP;
  void *block = pool->free[class];
  if (block) memcpy(&pool->free[class], block, sizeof block);
  else if ((size_t)(pool->end - pool->at) >= bytes) {
    block = pool->at;
    pool->at += bytes;
  }
  return block;
#endif
}

/* As realloc, told the old size; size 0 frees. NULL: no memory, and the block is as it was.
 * Start from a zeroed pool. */
void *sl_pool_resize(struct sl_pool *pool, void *block, size_t old, size_t size);
/* Gives back everything. 1 if that was done; 0 where blocks are malloc's own and must be freed one by one before. */
int sl_pool_drop(struct sl_pool *pool);

#endif
