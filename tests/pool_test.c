/* SPDX-License-Identifier: MIT
 * The memory of a state: blocks keep what was written into them through any row of requests, and do not overlap. */
#include "check.h"
#include "box/pool.h"

enum { BLOCKS = 300, ROUNDS = 60000 };

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
                                  SL_POOL_MOST + 1, 3 * SL_POOL_MOST };
  return draw(4) ? 1 + draw(600) : edges[draw(sizeof edges / sizeof *edges)];
}

static void contents_survive(void **state) {
  (void)state;
  struct sl_pool pool = { .at = NULL };
  for (int round = 0; round < ROUNDS; round++) {
    size_t i = draw(BLOCKS), size = draw(5) ? some_size() : 0, old = block[i].size;
    unsigned char *moved = sl_pool_resize(&pool, block[i].at, old, size);
    if (size) assert_non_null(moved);
    else assert_null(moved);
    block[i].at = moved;
    block[i].size = size;
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
    kept[n - 1] = sl_pool_resize(&pool, NULL, 0, n * 37);
    assert_int_equal((uintptr_t)kept[n - 1] % _Alignof(max_align_t), 0);
  }
  for (size_t n = 1; n <= 200; n++) sl_pool_resize(&pool, kept[n - 1], n * 37, 0);
  sl_pool_drop(&pool);
}

static void too_much_is_refused_and_nothing_lost(void **state) {
  (void)state;
  struct sl_pool pool = { .at = NULL };
  unsigned char *small = sl_pool_resize(&pool, NULL, 0, 40), *large = sl_pool_resize(&pool, NULL, 0, 9000);
  memset(small, 1, 40);
  memset(large, 2, 9000);
  {
    assert_null(sl_pool_resize(&pool, small, 40, (size_t)-1));
    assert_null(sl_pool_resize(&pool, large, 9000, (size_t)-1));
  }
  assert_int_equal(small[39], 1);
  assert_int_equal(large[8999], 2);
  sl_pool_resize(&pool, small, 40, 0);
  sl_pool_resize(&pool, large, 9000, 0);
  sl_pool_drop(&pool);
}

int main(void) {
  const struct CMUnitTest tests[] = {
    cmocka_unit_test(contents_survive),
    cmocka_unit_test(blocks_are_aligned),
    cmocka_unit_test(too_much_is_refused_and_nothing_lost),
  };
  return cmocka_run_group_tests_name("pool", tests, NULL, NULL);
}
