/* SPDX-License-Identifier: MIT
 * Memory of one run, and its account: what is taken from the system, which is what a limit can be about.
 *
 * Small blocks come from free lists over big chunks, medium ones too, large ones have pages of their own.  So a whole
 * run is given back at once without walking its heap.  A list of one size serves no other; where the account is full,
 * sl_pool_tidy joins what lies side by side and gives chunks back.
 *
 * With the address sanitizer free blocks are poisoned, and some bytes between blocks. */
#ifndef SL_POOL_H
#define SL_POOL_H

#include <stdbool.h>
#include <stddef.h>
#include <string.h>
#include "host/sanitizer.h"

enum {
  SL_POOL_STEP = 16, SL_POOL_MOST = 4096,        /* classes of small blocks, and the largest of them */
  SL_POOL_WIDE = 1024, SL_POOL_MEDIUM = 131072,  /* the same of medium ones */
  SL_POOL_CLASSES = SL_POOL_MOST / SL_POOL_STEP + (SL_POOL_MEDIUM - SL_POOL_MOST) / SL_POOL_WIDE + 1,
};

struct sl_pool {
  void *free[SL_POOL_CLASSES];                   /* by class */
  char *at, *end;                                /* free bytes of a chunk, from which new blocks are cut */
  struct sl_pool_run *narrow, *wide;             /* more of them: over SL_POOL_MOST, over SL_POOL_MEDIUM bytes */
  struct sl_pool_chunk *chunks;
  struct sl_pool_large *large;
  size_t chunk;                                  /* bytes of one, a power of two; 0: the largest there is */
  size_t most;                                   /* bytes that may be taken from the system; 0: as many as it has */
  size_t in_chunks, in_large;                    /* taken */
  bool full;                                     /* of the last refusal: there was no room for it in the account */
};

/* A small block where one is at hand, which is nearly always so; NULL: ask sl_pool_resize. */
static inline void *sl_pool_at_hand(struct sl_pool *pool, size_t size) {
#if SL_ADDRESS_SANITIZER
  (void)pool, (void)size;
  return NULL;
#else
  const size_t class = (size + SL_POOL_STEP - 1) / SL_POOL_STEP, bytes = class * SL_POOL_STEP;
  void *block = pool->free[class];
  if (block) {
    void *next;
    memcpy(&next, block, sizeof next);
    __builtin_prefetch(next, 1);                 /* freed long ago: it is fetched before somebody wants it */
    pool->free[class] = next;
  } else if ((size_t)(pool->end - pool->at) >= bytes) {
    block = pool->at;
    pool->at += bytes;
  }
  return block;
#endif
}

/* Frees a small block; false: ask sl_pool_resize. */
static inline bool sl_pool_gave(struct sl_pool *pool, void *block, size_t size) {
#if SL_ADDRESS_SANITIZER
  (void)pool, (void)block, (void)size;
  return false;
#else
  if (size > SL_POOL_MOST) return false;
  const size_t class = (size + SL_POOL_STEP - 1) / SL_POOL_STEP;
  memcpy(block, &pool->free[class], sizeof block);
  pool->free[class] = block;
  return true;
#endif
}

/* As realloc, told the old size; size 0 frees. NULL: no memory, and the block is as it was: see `full`.
 * Start from a pool that is zero but for `chunk` and `most`. */
void *sl_pool_resize(struct sl_pool *pool, void *block, size_t old, size_t size);
/* Joins free blocks that lie side by side, and gives chunks back in which nothing is left.  Returns how many bytes
 * there are for blocks of a size, in the account and in the chunks. */
size_t sl_pool_tidy(struct sl_pool *pool, size_t size);
/* Whether new blocks of that size together are to be had, in the account and in the chunks. */
bool sl_pool_has(const struct sl_pool *pool, size_t size);
/* A chunk that suits a limit. */
size_t sl_pool_chunk(size_t most);
/* Gives back everything. */
void sl_pool_drop(struct sl_pool *pool);

static inline size_t sl_pool_taken(const struct sl_pool *pool) { return pool->in_chunks + pool->in_large; }
/* What may still be taken. */
static inline size_t sl_pool_room(const struct sl_pool *pool) {
  const size_t taken = sl_pool_taken(pool);
  return !pool->most ? (size_t)-1 : pool->most > taken ? pool->most - taken : 0;
}

#endif
