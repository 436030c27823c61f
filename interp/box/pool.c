/* SPDX-License-Identifier: MIT
 * Memory of one Lua state. */
#define _DEFAULT_SOURCE                        /* madvise */
#include "box/pool.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#ifdef SL_POOL_PLAIN

void *sl_pool_resize(struct sl_pool *pool, void *block, size_t old, size_t size) {
  (void)pool, (void)old;
  if (size) return realloc(block, size);
  free(block);
  return NULL;
}

int sl_pool_drop(struct sl_pool *pool) { (void)pool; return 0; }

#else

/* One huge page, where the kernel gives it: a run is short, faults are dear. */
enum { CHUNK = 1 << 21 };

struct sl_pool_chunk { struct sl_pool_chunk *next; _Alignas(max_align_t) char bytes[]; };
struct sl_pool_large { struct sl_pool_large *next, **link; _Alignas(max_align_t) char bytes[]; };

static size_t class_of(size_t size) { return (size + SL_POOL_STEP - 1) / SL_POOL_STEP; }

/* Most calls are for a small block that is new or freed.  What is seldom done stands in functions of its own, so that
 * the others need no registers saved for it. */
#define SELDOM __attribute__((noinline))

static SELDOM void *take_from_new_chunk(struct sl_pool *pool, size_t bytes) {
  struct sl_pool_chunk *chunk = aligned_alloc(CHUNK, CHUNK);
  if (!chunk) return NULL;
  madvise(chunk, CHUNK, MADV_HUGEPAGE);
  chunk->next = pool->chunks;
  pool->chunks = chunk;
  pool->at = chunk->bytes + bytes;
  pool->end = (char *)chunk + CHUNK;
  return chunk->bytes;
}

static void *take_small(struct sl_pool *pool, size_t size) {
  void *block = sl_pool_at_hand(pool, size);
  return block ? block : take_from_new_chunk(pool, class_of(size) * SL_POOL_STEP);
}

static void give_small(struct sl_pool *pool, void *block, size_t size) {
  size_t c = class_of(size);
  memcpy(block, &pool->free[c], sizeof(void *));
  pool->free[c] = block;
}

static struct sl_pool_large *header(void *block) {
  return (struct sl_pool_large *)(void *)((char *)block - offsetof(struct sl_pool_large, bytes));
}

static void link_in(struct sl_pool *pool, struct sl_pool_large *l) {
  l->next = pool->large;
  l->link = &pool->large;
  if (l->next) l->next->link = &l->next;
  pool->large = l;
}

static void unlink_it(struct sl_pool_large *l) {
  *l->link = l->next;
  if (l->next) l->next->link = l->link;
}

static SELDOM void *take_large(struct sl_pool *pool, size_t size) {
  struct sl_pool_large *l = size < (size_t)-1 - sizeof *l ? malloc(sizeof *l + size) : NULL;
  if (!l) return NULL;
  link_in(pool, l);
  return l->bytes;
}

static SELDOM void give_large(void *block) {
  unlink_it(header(block));
  free(header(block));
}

static SELDOM void *resize_large(struct sl_pool *pool, void *block, size_t size) {
  struct sl_pool_large *l = header(block);
  unlink_it(l);
  struct sl_pool_large *moved = size < (size_t)-1 - sizeof *l ? realloc(l, sizeof *l + size) : NULL;
  link_in(pool, moved ? moved : l);
  return moved ? moved->bytes : NULL;
}

static void *take(struct sl_pool *pool, size_t size) {
  return size <= SL_POOL_MOST ? take_small(pool, size) : take_large(pool, size);
}

static void give(struct sl_pool *pool, void *block, size_t size) {
  if (size <= SL_POOL_MOST) give_small(pool, block, size);
  else give_large(block);
}

static SELDOM void *resize(struct sl_pool *pool, void *block, size_t old, size_t size) {
  if (old <= SL_POOL_MOST && size <= SL_POOL_MOST && class_of(old) == class_of(size)) return block;
  if (old > SL_POOL_MOST && size > SL_POOL_MOST) return resize_large(pool, block, size);
  void *moved = take(pool, size);
  if (!moved) return NULL;
  memcpy(moved, block, old < size ? old : size);
  give(pool, block, old);
  return moved;
}

void *sl_pool_resize(struct sl_pool *pool, void *block, size_t old, size_t size) {
  if (block && size) return resize(pool, block, old, size);
  if (size) return take(pool, size);
  if (block) give(pool, block, old);
  return NULL;
}

int sl_pool_drop(struct sl_pool *pool) {
  for (struct sl_pool_chunk *c = pool->chunks, *next; c; c = next) {
    next = c->next;
    free(c);
  }
  for (struct sl_pool_large *l = pool->large, *next; l; l = next) {
    next = l->next;
    free(l);
  }
  *pool = (struct sl_pool){ 0 };
  return 1;
}

#endif
