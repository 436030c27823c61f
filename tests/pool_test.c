/* SPDX-License-Identifier: MIT
 * The memory of a state: blocks keep what was written into them through any row of requests, and do not overlap. */
#include "check.h"
#include "box/pool.h"
#if SL_ADDRESS_SANITIZER
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>
enum { BETWEEN = 16 };                                   /* bytes behind each block */
#else
enum { BETWEEN = 0 };
#endif

enum { BLOCKS = 300, ROUNDS = 60000, MOST = 16 << 20 };

static struct { unsigned char *at; size_t size; unsigned char mark; } block[BLOCKS];

static uint32_t seed = 7;
static uint32_t draw(uint32_t below) {
  seed = seed * 1664525u + 1013904223u;
  return (seed >> 8) % below;
}

static void whole(size_t i, size_t size) {
  for (size_t k = 0; k < size; k++) assert_int_equal(block[i].at[k], block[i].mark);
}

/* Sizes around the classes' edges, the largest class, and beyond it. */
static size_t some_size(void) {
  static const size_t edges[] = { 1, 15, 16, 17, 255, 256, 257, SL_POOL_MOST - 1, SL_POOL_MOST,
                                  SL_POOL_MOST + 1, 3 * SL_POOL_MOST, SL_POOL_MEDIUM - 16, SL_POOL_MEDIUM,
                                  SL_POOL_MEDIUM + 1, 3 * SL_POOL_MEDIUM };
  return draw(4) ? 1 + draw(600) : edges[draw(sizeof edges / sizeof *edges)];
}

static void contents_survive(void **state) {
  (void)state;
  struct sl_pool pool = { .chunk = sl_pool_chunk(MOST), .most = MOST };
  for (int round = 0; round < ROUNDS; round++) {
    size_t i = draw(BLOCKS), size = draw(5) ? some_size() : 0, old = block[i].size;
    unsigned char *moved = sl_pool_resize(&pool, block[i].at, old, size);
    if (size) assert_non_null(moved);
    else assert_null(moved);
    block[i].at = moved;
    block[i].size = size;
    if (draw(2000) == 0) sl_pool_tidy(&pool, some_size());
    whole(i, old < size ? old : size);
    block[i].mark = (unsigned char)draw(256);
    if (size) memset(moved, block[i].mark, size);
  }
  for (size_t i = 0; i < BLOCKS; i++) {
    whole(i, block[i].size);
    sl_pool_resize(&pool, block[i].at, block[i].size, 0);
  }
  sl_pool_drop(&pool);
}

static void blocks_are_aligned(void **state) {
  (void)state;
  struct sl_pool pool = { .at = NULL };
  void *kept[200];
  for (size_t n = 1; n <= 200; n++) {
    kept[n - 1] = sl_pool_resize(&pool, NULL, 0, n * 237);
    assert_int_equal((uintptr_t)kept[n - 1] % _Alignof(max_align_t), 0);
  }
  for (size_t n = 1; n <= 200; n++) sl_pool_resize(&pool, kept[n - 1], n * 237, 0);
  sl_pool_drop(&pool);
}

static void too_much_is_refused_and_nothing_lost(void **state) {
  (void)state;
  struct sl_pool pool = { .at = NULL };
  unsigned char *small = sl_pool_resize(&pool, NULL, 0, 40), *large = sl_pool_resize(&pool, NULL, 0, 9000);
  memset(small, 1, 40);
  memset(large, 2, 9000);
  for (int limited = 0; limited < 2; limited++) {
    pool.most = limited ? MOST : 0;
    assert_null(sl_pool_resize(&pool, small, 40, (size_t)-1));
    assert_int_equal(pool.full, limited);
    assert_null(sl_pool_resize(&pool, large, 9000, (size_t)-1));
    assert_null(sl_pool_resize(&pool, large, 9000, (size_t)1 << 60));
    assert_int_equal(pool.full, limited);
  }
  assert_int_equal(small[39], 1);
  assert_int_equal(large[8999], 2);
  sl_pool_resize(&pool, small, 40, 0);
  sl_pool_resize(&pool, large, 9000, 0);
  sl_pool_drop(&pool);
}

/* Fills a pool with blocks of a size; returns how many there were room for, and frees all, or all but every so many. */
static size_t fill(struct sl_pool *pool, size_t size, size_t keeps) {
  static void *at[2 * MOST / SL_POOL_STEP];
  size_t n = 0, kept = 0;
  while ((at[n] = sl_pool_resize(pool, NULL, 0, size))) {
    memset(at[n++], 1, size);
    assert_true(sl_pool_taken(pool) <= pool->most);
  }
  assert_true(pool->full);
  for (size_t i = 0; i < n; i++)
    if (!keeps || i % keeps) sl_pool_resize(pool, at[i], size, 0);
    else kept++;
  return n - kept;
}

/* One size after the other takes all that there is: what was freed of one serves the next, large blocks as well. */
static void sizes_share(void **state) {
  (void)state;
  static const size_t sizes[] = { 48, 40000, 16, 3000, 4096, 1 << 20, 5000, 100, 32000, 700 };
  struct sl_pool pool = { .chunk = sl_pool_chunk(MOST), .most = MOST };
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    assert_in_range(fill(&pool, sizes[i], 0) * (sizes[i] + BETWEEN), MOST / 4 * 3, MOST);
    sl_pool_tidy(&pool, 16);
    assert_int_equal(sl_pool_taken(&pool), 0);           /* nothing lives, so all of it went back */
  }
  sl_pool_drop(&pool);
}

/* Where one block in ten stays, what lies between them is joined: nine small ones make room for a larger one. */
static void neighbours_are_joined(void **state) {
  (void)state;
  struct sl_pool pool = { .chunk = sl_pool_chunk(MOST), .most = MOST };
  fill(&pool, 128 - BETWEEN, 10);
  assert_null(sl_pool_resize(&pool, NULL, 0, 1000));
  assert_in_range(sl_pool_tidy(&pool, 1000), MOST / 4 * 3, MOST);
  assert_in_range(fill(&pool, 1000, 0), MOST / 1280 / 4 * 3, MOST / 1280);
  assert_in_range(sl_pool_tidy(&pool, 1300), 0, MOST / 64);    /* there is none, and that is told */
  assert_null(sl_pool_resize(&pool, NULL, 0, 1300));
  sl_pool_drop(&pool);
}

/* What shrinks gives back more than it takes, so it is not refused. */
static void shrinking_needs_no_room(void **state) {
  (void)state;
  struct sl_pool pool = { .chunk = sl_pool_chunk(MOST), .most = MOST };
  unsigned char *large = sl_pool_resize(&pool, NULL, 0, MOST - 8192);
  memset(large, 7, MOST - 8192);
  assert_null(sl_pool_resize(&pool, NULL, 0, 100));
  large = sl_pool_resize(&pool, large, MOST - 8192, 100);
  assert_non_null(large);
  for (int i = 0; i < 100; i++) assert_int_equal(large[i], 7);
  assert_int_equal(sl_pool_taken(&pool), sl_pool_chunk(MOST));
  sl_pool_drop(&pool);
}

#if SL_ADDRESS_SANITIZER
/* What a child that reads one byte of a pool's block says on standard error, and how it ends. */
static int read_in_child(size_t size, size_t at, bool freed, char *said, size_t room) {
  int ends[2], status;
  assert_int_equal(pipe(ends), 0);
  const pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) {
    struct sl_pool pool = { .at = NULL };
    dup2(ends[1], STDERR_FILENO);
    signal(SIGSEGV, SIG_DFL);                            /* of the test's own handler nothing here */
    volatile unsigned char *block = sl_pool_resize(&pool, NULL, 0, size);
    memset((void *)(uintptr_t)block, 1, size);
    if (freed) sl_pool_resize(&pool, (void *)(uintptr_t)block, size, 0);
    _exit(block[at] == 1 ? 0 : 2);
  }
  close(ends[1]);
  size_t n = 0;
  for (ssize_t got; n + 1 < room && (got = read(ends[0], said + n, room - 1 - n)) > 0;) n += (size_t)got;
  said[n] = '\0';
  close(ends[0]);
  assert_int_equal(waitpid(child, &status, 0), child);
  return status;
}

/* A small block, a medium one, and one with pages of its own, which are no longer there when it is freed. */
static void misuse_is_seen(void **state) {
  (void)state;
  static const size_t sizes[] = { 40, 64, SL_POOL_MOST, 20000, SL_POOL_MEDIUM, 2 * SL_POOL_MEDIUM };
  char said[4096];
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    const size_t size = sizes[i];
    assert_int_equal(read_in_child(size, size - 1, false, said, sizeof said), 0);
    assert_string_equal(said, "");
    assert_int_not_equal(read_in_child(size, size, false, said, sizeof said), 0);
    assert_non_null(strstr(said, "AddressSanitizer: use-after-poison"));
    assert_int_not_equal(read_in_child(size, size / 2, true, said, sizeof said), 0);
    if (size < SL_POOL_MEDIUM) assert_non_null(strstr(said, "AddressSanitizer: use-after-poison"));
  }
}
#endif

int main(void) {
  const struct CMUnitTest tests[] = {
    cmocka_unit_test(contents_survive),
    cmocka_unit_test(blocks_are_aligned),
    cmocka_unit_test(too_much_is_refused_and_nothing_lost),
    cmocka_unit_test(sizes_share),
    cmocka_unit_test(neighbours_are_joined),
    cmocka_unit_test(shrinking_needs_no_room),
#if SL_ADDRESS_SANITIZER
    cmocka_unit_test(misuse_is_seen),
#endif
  };
  return cmocka_run_group_tests_name("pool", tests, NULL, NULL);
}
