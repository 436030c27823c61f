/* SPDX-License-Identifier: MIT
 * What freezing ground pulls up with: by hand, and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/frost.h"

/* A 16 in pier down to 60 in, all of it in ground that freezes. */
static const struct sl_frost_grip_in pier = {
  .width = 16 * IN, .depth = 60 * IN, .frost = 60 * IN, .face = SL_FROZEN_WOOD_OR_CONCRETE,
  .frame = 200 * LBF, .post = 60 * LBF, .concrete = 860 * LBF,
};

static struct sl_frost_grip_out sum_of(struct sl_frost_grip_in in) {
  struct sl_frost_grip_out out;
  assert_int_equal(sl_frost_grip(&in, &out, NULL), SL_OK);
  return out;
}

/* 65 kPa on wood or concrete, 100 kPa on steel: a Canadian manual as quoted in the brief.  By hand: pi x 0.4064 m x
 * 1.524 m = 1.945757 m2, at 65 kPa 126.4742 kN.  A pipe of 60.3 mm, 1.2 m of it frozen: pi x 0.0603 x 1.2 x 100 =
 * 22.7326 kN.  A 5-1/2 in post in 30 in of frost: 4 x 0.1397 x 0.762 m2 x 65 kPa = 27.6774 kN. */
static void sums_by_hand(void **state) {
  (void)state;
  struct sl_frost_grip_in in = pier;
  assert_near(sum_of(in).force, 126474.2, 1e-6);
  assert_near(sum_of(in).weight / LBF, 1120, 1e-9);
  in.width = 0.0603, in.frost = 1.2, in.depth = 1.6, in.face = SL_FROZEN_STEEL;
  assert_near(sum_of(in).force, 22732.6, 3e-6);
  in = pier;
  in.width = 5.5 * IN, in.square = true, in.frost = 30 * IN;
  assert_near(sum_of(in).force, 27677.4, 3e-6);
}

/* Only what is in frozen soil is gripped: nothing of what stands on the ground, and no more than reaches into it. */
static void frozen_is_what_is_in_frost(void **state) {
  (void)state;
  struct sl_frost_grip_in in = pier;
  in.depth = 0;
  assert_near(sum_of(in).force, 0, 0);
  in.depth = 15 * IN;
  assert_near(sum_of(in).force, 126474.2 / 4, 1e-6);
  in = pier;
  in.frost = 0;
  assert_near(sum_of(in).force, 0, 0);
  in.frost = 15 * IN;
  assert_near(sum_of(in).frozen, 15 * IN, 1e-12);
  assert_near(sum_of(in).force, 126474.2 / 4, 1e-6);
}

static void refused_by_name(void **state) {
  (void)state;
  static const struct { const char *member; struct sl_frost_grip_in in; } rows[] = {
    { "width", { 0, false, 1, 1, 0, 1, 1, 1 } }, { "depth", { 1, false, -1, 1, 0, 1, 1, 1 } },
    { "frost", { 1, false, 1, -1, 0, 1, 1, 1 } }, { "face", { 1, false, 1, 1, 2, 1, 1, 1 } },
    { "frame", { 1, false, 1, 1, 0, -1, 1, 1 } }, { "post", { 1, false, 1, 1, 0, 1, -1, 1 } },
    { "concrete", { 1, false, 1, 1, 0, 1, 1, -1 } },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct sl_frost_grip_out out;
    struct sl_sheet sheet = { .cap = 0 };
    assert_int_equal(sl_frost_grip(&rows[i].in, &out, &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, rows[i].member);
  }
}

static const struct op_case ops[] = { { "frost_grip", &pier } };

int main(void) {
  struct CMUnitTest tests[8];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(sums_by_hand), cmocka_unit_test(frozen_is_what_is_in_frost), cmocka_unit_test(refused_by_name),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("frost", tests, n, NULL, NULL);
}
