/* SPDX-License-Identifier: MIT
 * Memory of one run. */
#define _GNU_SOURCE                            /* mremap, MAP_ANONYMOUS, madvise */
#include "box/pool.h"

#include <stdint.h>
#include <sys/mman.h>
#include <unistd.h>

/* Under the sanitizer each block is followed by some bytes that nobody may touch. */
#if SL_ADDRESS_SANITIZER
#include <sanitizer/asan_interface.h>
enum { REDZONE = SL_POOL_STEP };
#else
#define ASAN_POISON_MEMORY_REGION(at, size) ((void)(at), (void)(size))
#define ASAN_UNPOISON_MEMORY_REGION(at, size) ((void)(at), (void)(size))
enum { REDZONE = 0 };
#endif

enum {
  CHUNK = 1 << 21,              /* one huge page, where the kernel gives it: a run is short, faults are dear */
  LEAST_CHUNK = 1 << 18,
  CHUNKS = 32,                  /* of a limit, at least */
  WORD = 64,
  SMALL = SL_POOL_MOST / SL_POOL_STEP,           /* the last class of small blocks */
};

/* `free` has a bit for each step of the chunk, all 0 but while the pool is tidied; the blocks follow. */
struct sl_pool_chunk { struct sl_pool_chunk *next; void *unused; uint64_t free[]; };
struct sl_pool_large { struct sl_pool_large *next, **link; size_t pages; _Alignas(max_align_t) char bytes[]; };
struct sl_pool_run { struct sl_pool_run *next; size_t size; };

/* Most calls are for a small block that is new or freed.  What is seldom done stands in functions of its own, so that
 * the others need no registers saved for it. */
#define SELDOM __attribute__((noinline))

/* ---- the system -------------------------------------------------------------------------------------------------- */

static bool in_account(struct sl_pool *pool, size_t size) {
  pool->full = size > sl_pool_room(pool);
  return !pool->full;
}

/* All memory of a run comes from here. */
static void *from_system(size_t size) {
  void *at = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  return at == MAP_FAILED ? NULL : at;
}

static void *resize_in_system(void *at, size_t old, size_t size) {
  void *moved = mremap(at, old, size, MREMAP_MAYMOVE);
  return moved == MAP_FAILED ? NULL : moved;
}

static void to_system(void *at, size_t size) {
  ASAN_UNPOISON_MEMORY_REGION(at, size);       /* somebody else may get the place */
  munmap(at, size);
}

static void *aligned_from_system(size_t size) {
  char *at = from_system(2 * size);
  if (!at) return NULL;
  char *aligned = (char *)(((uintptr_t)at + size - 1) & ~(uintptr_t)(size - 1));
  if (aligned > at) to_system(at, (size_t)(aligned - at));
  if (aligned < at + size) to_system(aligned + size, (size_t)(at + size - aligned));
  return aligned;
}

/* ---- classes ----------------------------------------------------------------------------------------------------- */

static size_t class_of(size_t size) {
  size += REDZONE;
  return size <= SL_POOL_MOST ? (size + SL_POOL_STEP - 1) / SL_POOL_STEP
                              : SMALL + (size - SL_POOL_MOST + SL_POOL_WIDE - 1) / SL_POOL_WIDE;
}

static size_t bytes_of(size_t class) {
  return class <= SMALL ? class * SL_POOL_STEP : SL_POOL_MOST + (class - SMALL) * SL_POOL_WIDE;
}

static bool is_large(size_t size) { return size > SL_POOL_MEDIUM - REDZONE; }

static void *next_of(void *block) {
  void *next;
  ASAN_UNPOISON_MEMORY_REGION(block, sizeof next);
  memcpy(&next, block, sizeof next);
  return next;
}

static void put_in_list(struct sl_pool *pool, size_t class, void *block) {
  ASAN_UNPOISON_MEMORY_REGION(block, sizeof block);
  memcpy(block, &pool->free[class], sizeof block);
  pool->free[class] = block;
  ASAN_POISON_MEMORY_REGION(block, bytes_of(class));
}

/* ---- chunks ------------------------------------------------------------------------------------------------------ */

static size_t size_of_chunk(const struct sl_pool *pool) { return pool->chunk ? pool->chunk : CHUNK; }
static size_t head_of_chunk(size_t chunk) { return sizeof(struct sl_pool_chunk) + chunk / SL_POOL_STEP / 8; }

size_t sl_pool_chunk(size_t most) {
  size_t chunk = CHUNK;
  while (chunk > LEAST_CHUNK && chunk > most / CHUNKS) chunk /= 2;
  return chunk;
}

/* Keeps free bytes that lie side by side: they are a block of their size, or a run from which blocks are cut. */
static void put_away(struct sl_pool *pool, char *at, size_t size) {
  if (size == 0) return;
  if (size <= SL_POOL_MOST) {
    put_in_list(pool, size / SL_POOL_STEP, at);
    return;
  }
  struct sl_pool_run *run = (struct sl_pool_run *)(void *)at, **list = size > SL_POOL_MEDIUM ? &pool->wide
                                                                                              : &pool->narrow;
  ASAN_UNPOISON_MEMORY_REGION(run, sizeof *run);
  *run = (struct sl_pool_run){ *list, size };
  *list = run;
  ASAN_POISON_MEMORY_REGION(at, size);
}

static bool cut_from_run(struct sl_pool *pool, struct sl_pool_run **list) {
  struct sl_pool_run *run = *list;
  if (!run) return false;
  ASAN_UNPOISON_MEMORY_REGION(run, sizeof *run);
  *list = run->next;
  pool->at = (char *)run;
  pool->end = pool->at + run->size;
  ASAN_POISON_MEMORY_REGION(pool->at, sizeof *run);
  return true;
}

static bool cut_from_new_chunk(struct sl_pool *pool) {
  const size_t size = size_of_chunk(pool), head = head_of_chunk(size);
  struct sl_pool_chunk *chunk = in_account(pool, size) ? aligned_from_system(size) : NULL;
  if (!chunk) return false;
  madvise(chunk, size, MADV_HUGEPAGE);
  chunk->next = pool->chunks;
  pool->chunks = chunk;
  pool->in_chunks += size;
  pool->at = (char *)chunk + head;
  pool->end = (char *)chunk + size;
  ASAN_POISON_MEMORY_REGION(pool->at, size - head);
  return true;
}

/* Sees to it that a block of so many bytes can be cut. */
static SELDOM bool find_more(struct sl_pool *pool, size_t bytes) {
  char *at = pool->at;
  const size_t rest = (size_t)(pool->end - at);
  pool->at = pool->end = NULL;
  put_away(pool, at, rest);
  return (bytes <= SL_POOL_MOST && cut_from_run(pool, &pool->narrow)) || cut_from_run(pool, &pool->wide) ||
         cut_from_new_chunk(pool);
}

bool sl_pool_has(const struct sl_pool *pool, size_t size) {
  if (is_large(size)) return sl_pool_room(pool) >= size;
  return (size_t)(pool->end - pool->at) >= size || (size <= SL_POOL_MOST && pool->narrow) || pool->wide ||
         sl_pool_room(pool) >= size_of_chunk(pool);
}

static void *take_from_list(struct sl_pool *pool, size_t class) {
  void *block = pool->free[class];
  if (block) pool->free[class] = next_of(block);
  return block;
}

static void *cut(struct sl_pool *pool, size_t bytes) {
  char *block = pool->at;
  pool->at += bytes;
  return block;
}

/* Where nothing else is left: from a free block of a larger class, whose rest is free. */
static SELDOM void *cut_from_larger(struct sl_pool *pool, size_t class) {
  for (size_t larger = class + 1; larger < SL_POOL_CLASSES; larger++) {
    char *block = take_from_list(pool, larger);
    if (!block) continue;
    put_away(pool, block + bytes_of(class), bytes_of(larger) - bytes_of(class));
    return block;
  }
  return NULL;
}

static void *take_from_chunk(struct sl_pool *pool, size_t size) {
  const size_t class = class_of(size), bytes = bytes_of(class);
  void *block = take_from_list(pool, class);
  if (!block) {
    if ((size_t)(pool->end - pool->at) >= bytes || find_more(pool, bytes)) block = cut(pool, bytes);
    else block = cut_from_larger(pool, class);
  }
  if (!block) return NULL;
  ASAN_UNPOISON_MEMORY_REGION(block, size);
  return block;
}

/* ---- large blocks ------------------------------------------------------------------------------------------------ */

static struct sl_pool_large *header(void *block) {
  return (struct sl_pool_large *)(void *)((char *)block - offsetof(struct sl_pool_large, bytes));
}

/* Bytes of whole pages; 0: no machine has them. */
static size_t pages_of(size_t size) {
  const size_t page = (size_t)sysconf(_SC_PAGESIZE);
  return size > SIZE_MAX / 2 ? 0 : (sizeof(struct sl_pool_large) + size + page - 1) / page * page;
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

static void poison_rest(struct sl_pool_large *l, size_t size) {
  ASAN_UNPOISON_MEMORY_REGION(l, l->pages);
  ASAN_POISON_MEMORY_REGION(l->bytes + size, l->pages - sizeof *l - size);
}

static SELDOM void *take_large(struct sl_pool *pool, size_t size) {
  const size_t pages = pages_of(size);
  struct sl_pool_large *l = in_account(pool, pages ? pages : SIZE_MAX) && pages ? from_system(pages) : NULL;
  if (!l) return NULL;
  l->pages = pages;
  pool->in_large += pages;
  link_in(pool, l);
  poison_rest(l, size);
  return l->bytes;
}

static SELDOM void give_large(struct sl_pool *pool, void *block) {
  struct sl_pool_large *l = header(block);
  unlink_it(l);
  pool->in_large -= l->pages;
  to_system(l, l->pages);
}

static SELDOM void *resize_large(struct sl_pool *pool, void *block, size_t size) {
  struct sl_pool_large *l = header(block);
  const size_t pages = pages_of(size), was = l->pages;
  if (pages != was) {
    const size_t more = !pages ? SIZE_MAX : pages > was ? pages - was : 0;
    if (!in_account(pool, more) || !pages) return NULL;
    ASAN_UNPOISON_MEMORY_REGION(l, was);
    unlink_it(l);
    struct sl_pool_large *moved = resize_in_system(l, was, pages);
    link_in(pool, moved ? moved : l);
    if (!moved) return NULL;
    l = moved;
    l->pages = pages;
    pool->in_large += pages - was;             /* wraps back where it shrinks */
  }
  poison_rest(l, size);
  return l->bytes;
}

/* ---- blocks ------------------------------------------------------------------------------------------------------ */

static void *take(struct sl_pool *pool, size_t size) {
  return is_large(size) ? take_large(pool, size) : take_from_chunk(pool, size);
}

static void give(struct sl_pool *pool, void *block, size_t size) {
  if (is_large(size)) give_large(pool, block);
  else put_in_list(pool, class_of(size), block);
}

/* A block that grows where the next one would be cut, and nobody has to move it. */
static bool grows_in_place(struct sl_pool *pool, const char *block, size_t old, size_t size) {
  if (is_large(old) || is_large(size)) return false;
  const size_t was = bytes_of(class_of(old)), bytes = bytes_of(class_of(size));
  if (block + was != pool->at || bytes < was || (size_t)(pool->end - pool->at) < bytes - was) return false;
  pool->at += bytes - was;
  ASAN_UNPOISON_MEMORY_REGION(block, size);
  return true;
}

static SELDOM void *resize(struct sl_pool *pool, void *block, size_t old, size_t size) {
  if (grows_in_place(pool, block, old, size)) return block;
  if (is_large(old) && is_large(size)) return resize_large(pool, block, size);
  if (!is_large(old) && !is_large(size) && class_of(old) == class_of(size)) {
    ASAN_POISON_MEMORY_REGION(block, bytes_of(class_of(old)));
    ASAN_UNPOISON_MEMORY_REGION(block, size);
    return block;
  }
  const size_t most = pool->most;
  if (size < old) pool->most = 0;              /* it gives more back than it takes */
  void *moved = take(pool, size);
  pool->most = most;
  if (!moved) return size < old && !is_large(old) ? block : NULL;
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

/* ---- tidying ----------------------------------------------------------------------------------------------------- */

static void mark_free(const struct sl_pool *pool, const void *block, size_t bytes) {
  const uintptr_t mask = size_of_chunk(pool) - 1;
  struct sl_pool_chunk *chunk = (struct sl_pool_chunk *)((uintptr_t)block & ~mask);
  size_t at = ((uintptr_t)block & mask) / SL_POOL_STEP, n = bytes / SL_POOL_STEP;
  while (n > 0) {
    const size_t bit = at % WORD, here = n < WORD - bit ? n : WORD - bit;
    chunk->free[at / WORD] |= (here == WORD ? UINT64_MAX : (UINT64_C(1) << here) - 1) << bit;
    at += here;
    n -= here;
  }
}

static void mark_runs(struct sl_pool *pool, struct sl_pool_run **list) {
  for (struct sl_pool_run *run = *list, *next; run; run = next) {
    ASAN_UNPOISON_MEMORY_REGION(run, sizeof *run);
    next = run->next;
    mark_free(pool, run, run->size);
  }
  *list = NULL;
}

static void mark_all(struct sl_pool *pool) {
  for (size_t class = 1; class < SL_POOL_CLASSES; class++) {
    for (void *block = pool->free[class], *next; block; block = next) {
      next = next_of(block);
      mark_free(pool, block, bytes_of(class));
    }
    pool->free[class] = NULL;
  }
  mark_runs(pool, &pool->narrow);
  mark_runs(pool, &pool->wide);
  if (pool->at < pool->end) mark_free(pool, pool->at, (size_t)(pool->end - pool->at));
  pool->at = pool->end = NULL;
}

/* The first bit from `at` on that is set, or is not; n if there is none. */
static size_t next_bit(const uint64_t *word, size_t at, size_t n, bool set) {
  while (at < n) {
    const uint64_t here = (set ? word[at / WORD] : ~word[at / WORD]) >> at % WORD;
    if (here) return at + (size_t)__builtin_ctzll(here);
    at += WORD - at % WORD;
  }
  return n;
}

/* Puts what is free in a chunk away; adds to *fits runs of at least so many bytes.  True: the whole chunk is free. */
static bool put_chunk_away(struct sl_pool *pool, struct sl_pool_chunk *chunk, size_t least, size_t *fits) {
  const size_t bytes = size_of_chunk(pool), n = bytes / SL_POOL_STEP, first = head_of_chunk(bytes) / SL_POOL_STEP;
  for (size_t at = next_bit(chunk->free, first, n, true), end; at < n; at = next_bit(chunk->free, end, n, true)) {
    end = next_bit(chunk->free, at, n, false);
    if (at == first && end == n) return true;
    const size_t run = (end - at) * SL_POOL_STEP;
    if (run >= least) *fits += run;
    put_away(pool, (char *)chunk + at * SL_POOL_STEP, run);
  }
  memset(chunk->free, 0, n / 8);
  return false;
}

/* The least run from which a block of a size is cut. */
static size_t least_run(size_t size) {
  if (is_large(size)) return SIZE_MAX;
  const size_t bytes = bytes_of(class_of(size));
  return bytes <= SL_POOL_MOST ? bytes : SL_POOL_MEDIUM + 1;
}

size_t sl_pool_tidy(struct sl_pool *pool, size_t size) {
  const size_t least = least_run(size);
  size_t fits = 0;
  mark_all(pool);
  for (struct sl_pool_chunk **link = &pool->chunks, *chunk; (chunk = *link);) {
    if (!put_chunk_away(pool, chunk, least, &fits)) {
      link = &chunk->next;
      continue;
    }
    *link = chunk->next;
    pool->in_chunks -= size_of_chunk(pool);
    to_system(chunk, size_of_chunk(pool));
  }
  const size_t room = sl_pool_room(pool);
  return room > SIZE_MAX - fits ? SIZE_MAX : room + fits;
}

void sl_pool_drop(struct sl_pool *pool) {
  for (struct sl_pool_chunk *c = pool->chunks, *next; c; c = next) {
    next = c->next;
    to_system(c, size_of_chunk(pool));
  }
  for (struct sl_pool_large *l = pool->large, *next; l; l = next) {
    next = l->next;
    to_system(l, l->pages);
  }
  *pool = (struct sl_pool){ .chunk = pool->chunk, .most = pool->most };
}
