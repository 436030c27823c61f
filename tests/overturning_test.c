/* SPDX-License-Identifier: MIT
 * Turning over an edge: statics by hand, by 0.6D + 0.6W of ASCE 7-16 in an open transcription. */
#include "op_check.h"
#include "us.h"
#include "stringline/overturning.h"

/* By hand, two posts 2 m apart, about the front one: 0.6 x 10,000 = 6000 N m turn.  Weights 0.6 (1000 x 0.8 + 500 x 1)
 * = 780; the back post 2500 N at 2 m = 5000; the ground 900 N m at each, less 0.9 m of half of 0.6 x 1500 N: 495 each,
 * 990.  6770 in all.  Pushed by 4000 N: 1200 N x 0.9 m is more than 900: nothing of the ground, 5780 against 0.6 x 9000
 * = 5400, which is nearer: 0.934 against 0.886. */
static const struct sl_overturning_case cases[] = { { 10000, -1500 }, { 9000, 4000 }, { -20000, 0 } };
static const struct sl_overturning_weight weights[] = { { 1000, 0.8 }, { 500, 1 } };
static const struct sl_overturning_post posts[] = { { 0, 3000, 900, 0.9 }, { 2, 2500, 900, 0.9 } };
static const struct sl_overturning_in station = { cases, 3, weights, 2, posts, 2, "ASCE 7-16" };

static void by_hand(void **state) {
  (void)state;
  struct sl_overturning_in in = station;
  struct sl_overturning_out out;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_int_equal(out.of_case, 2);
  assert_near(out.turn, 5400, 1e-12);
  assert_near(out.held, 5780, 1e-12);
  assert_near(out.by_ground + 1, 1, 0);
  in.ncases = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_near(out.turn, 6000, 1e-12);
  assert_near(out.by_weight, 780, 1e-12);
  assert_near(out.by_posts, 5000, 1e-12);
  assert_near(out.by_ground, 990, 1e-12);
  assert_near(out.held, 6770, 1e-12);
  /* Only what turns the other way: nothing to hold. */
  in.cases = &cases[2];
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_near(out.turn + 1, 1, 0);
  /* One post that the ground holds takes all of the push: 900 - 0.9 x 900 = 90. */
  const struct sl_overturning_post one[] = { { 0, 0, 900, 0.9 }, { 2, 2500, 0, 0 } };
  in.cases = cases, in.posts = one;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_near(out.by_ground, 90, 1e-12);
}

static void refused(void **state) {
  (void)state;
  struct sl_overturning_in in = station;
  struct sl_overturning_out out;
  const struct sl_overturning_weight beyond = { 1000, -0.1 };
  in.weights = &beyond, in.nweights = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OUT_OF_RANGE);
  in = station, in.ncases = 0;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  in = station, in.nposts = 0;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  const struct sl_overturning_post before = { -0.1, 0, 0, 0 };
  in = station, in.posts = &before, in.nposts = 1;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_BAD_INPUT);
  /* Nothing weighs, nothing holds: any wind turns it. */
  const struct sl_overturning_post bare = { 0, 0, 0, 0 };
  in = station, in.posts = &bare, in.nposts = 1, in.nweights = 0;
  assert_int_equal(sl_overturning(&in, &out, NULL), SL_OK);
  assert_true(out.turn > 0 && out.held <= 0);
}

static const struct op_case ops[] = { { "overturning", &station } };

int main(void) {
  struct CMUnitTest tests[8];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(by_hand);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(refused);
  return _cmocka_run_group_tests("overturning", tests, n, NULL, NULL);
}
