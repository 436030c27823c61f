/* SPDX-License-Identifier: MIT
 * How far the ground gives way under a post: the code's half inch, and the head's way by similar triangles. */
#include "op_check.h"
#include "us.h"
#include "stringline/leaning.h"

static const struct sl_ground_motion_in doubled = { true, "IBC 2021" }, plain = { false, "IBC 2018" };
static const struct sl_head_motion_in post = { 0.5 * IN, 31.134 * IN, 60 * IN };

/* IBC 1806.3.4: 1/2 in of motion with twice the table's bearing; a spring gives half of that at half the load. */
static void half_an_inch(void **state) {
  (void)state;
  struct sl_ground_motion_out out;
  assert_int_equal(sl_ground_motion(&doubled, &out, NULL), SL_OK);
  assert_near(out.motion / IN, 0.5, 1e-12);
  assert_int_equal(sl_ground_motion(&plain, &out, NULL), SL_OK);
  assert_near(out.motion / IN, 0.25, 1e-12);
}

/* By hand: about 0.68 x 60 = 40.8 in down; 0.5/40.8 = 0.012255 rad; x (31.134 + 40.8) = 0.88154 in. */
static void similar_triangles(void **state) {
  (void)state;
  struct sl_head_motion_out out;
  assert_int_equal(sl_head_motion(&post, &out, NULL), SL_OK);
  assert_near(out.turn, 0.012255, 1e-4);
  assert_near(out.motion / IN, 0.88154, 1e-5);
}

static const struct op_case ops[] = { { "ground_motion", &doubled }, { "head_motion", &post } };

int main(void) {
  struct CMUnitTest tests[8];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(half_an_inch);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(similar_triangles);
  return _cmocka_run_group_tests("leaning", tests, n, NULL, NULL);
}
