/* SPDX-License-Identifier: MIT
 * Turning over an edge: statics by hand, by 0.6D + 0.6W of ASCE 7-16 in an open transcription. */
#include "op_check.h"
#include "us.h"
#include "stringline/overturning.h"

/* By hand, two posts 2 m apart, about the front one: 0.6 x 10,000 = 6000 N m turn.  Weights 0.6 (1000 x 0.8 + 500 x 1)
 * = 780; the back post 2500 N at 2 m = 5000; the ground 900 N m at each, less 0.9 m of half of 0.6 x 1500 N: 495 each,
 * 990.  6770 in all.  Pushed by 4000 N: 1200 N x 0.9 m is more than 900: nothing of the ground, 5780 against 0.6 x 9000
 * = 5400, which is nearer: 0.934 against 0.886. */
static const struct sl_block_force forces[] = { { 0, -1500, -10000 }, { 0, 4000, -9000 }, { 700, 1000, 9000 } };
static const struct sl_overturning_weight weights[] = { { 1000, 0.8 }, { 500, 1 } };
static const struct sl_overturning_post posts[] = { { 0, 3000, 900, 0.9, NAN }, { 2, 2500, 900, 0.9, NAN } };
static const struct sl_overturning_in station = { forces, 3, weights, 2, posts, 2, 0, 2, 0, 0.5, "ASCE 7-16" };

static void over_the_front(void **state) {
  (void)state;
  struct sl_overturning_in in = station;
  struct sl_overturning_out out;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_true(out.of_case == 2 && !out.over_back);
  assert_near(out.turn, 5400, 1e-12);
  assert_near(out.held, 5780, 1e-12);
  assert_near(out.by_ground + 1, 1, 0);
  in.nforces = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_near(out.turn, 6000, 1e-12);
  assert_near(out.by_weight, 780, 1e-12);
  assert_near(out.by_posts, 5000, 1e-12);
  assert_near(out.by_ground, 990, 1e-12);
  assert_near(out.held, 6770, 1e-12);
  /* One post that the ground holds takes all of the push: 900 - 0.9 x 900 = 90. */
  const struct sl_overturning_post one[] = { { 0, 0, 900, 0.9, NAN }, { 2, 2500, 0, 0, NAN } };
  in.posts = one;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_near(out.by_ground, 90, 1e-12);
}

/* The back edge stands half a metre higher and 2 m behind: 0.6 (9000 + 700 x 2 - 1000 x 0.5) = 5940 N m; weights 0.6
 * (1000 x 1.2 + 500 x 1) = 1020, the front post 3000 x 2 = 6000, the ground 2 (900 - 300 x 0.9) = 1260. */
static void over_the_back(void **state) {
  (void)state;
  struct sl_overturning_in in = station;
  struct sl_overturning_out out;
  in.forces = &forces[2], in.nforces = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_true(out.of_case == 1 && out.over_back);
  assert_near(out.turn, 5940, 1e-12);
  assert_near(out.by_weight, 1020, 1e-12);
  assert_near(out.by_posts, 6000, 1e-12);
  assert_near(out.by_ground, 1260, 1e-12);
  /* Places from elsewhere: the same, with what lifts and pushes about that point. */
  const struct sl_block_force there = { 700, 1000, 9000 + 700 * 3.0 + 1000 * 0.25 };
  const struct sl_overturning_weight moved[] = { { 1000, -2.2 }, { 500, -2 } };
  const struct sl_overturning_post stood[] = { { -3, 3000, 900, 0.9, NAN }, { -1, 2500, 900, 0.9, NAN } };
  in = (struct sl_overturning_in){ &there, 1, moved, 2, stood, 2, -3, -1, 0.25, 0.75, "ASCE 7-16" };
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_near(out.turn, 5940, 1e-12);
  assert_near(out.held, 1020 + 6000 + 1260, 1e-12);
}

/* The same about the front, by the first case: 495 N m at each by the ground, of which posts that bear 300 N m hand on
 * 300, one that bears 500 all 495, and one that bears none nothing. */
static void no_more_than_the_post_bears(void **state) {
  (void)state;
  struct sl_overturning_in in = station;
  struct sl_overturning_out out;
  const struct { double front, back, ground; } rows[] = { { 300, 300, 600 }, { 300, 500, 795 }, { 0, 500, 495 },
                                                          { 0, 0, 0 }, { 300, NAN, 795 } };
  in.nforces = 1;
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    const struct sl_overturning_post weak[] = { { 0, 3000, 900, 0.9, rows[i].front },
                                                { 2, 2500, 900, 0.9, rows[i].back } };
    in.posts = weak;
    assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
    assert_near(out.by_ground + 1, rows[i].ground + 1, 1e-12);
    assert_near(out.held, 780 + 5000 + rows[i].ground, 1e-12);
  }
  const struct sl_overturning_post below = { 0, 0, 900, 0.9, -1 };
  in.posts = &below, in.nposts = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
}

static void refused(void **state) {
  (void)state;
  struct sl_overturning_in in = station;
  struct sl_overturning_out out;
  const struct sl_overturning_weight before = { 1000, -0.1 }, behind = { 1000, 2.1 };
  in.weights = &before, in.nweights = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OUT_OF_RANGE);
  in.weights = &behind;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OUT_OF_RANGE);
  in = station, in.nforces = 0;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  in = station, in.nposts = 0;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  in = station, in.back = -1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  const struct sl_overturning_post outside = { 2.1, 0, 0, 0, NAN };
  in = station, in.posts = &outside, in.nposts = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  /* Nothing weighs, nothing holds: any wind turns it. */
  const struct sl_overturning_post bare = { 0, 0, 0, 0, NAN };
  in = station, in.posts = &bare, in.nposts = 1, in.nweights = 0;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_true(out.turn > 0 && out.held <= 0);
}

static const struct op_case ops[] = { { "overturning", &station } };

int main(void) {
  struct CMUnitTest tests[8];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(over_the_front);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(over_the_back);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(no_more_than_the_post_bears);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(refused);
  return _cmocka_run_group_tests("overturning", tests, n, NULL, NULL);
}
