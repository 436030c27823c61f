/* SPDX-License-Identifier: MIT
 * The steel of bolts: printed strengths of the steel handbook and its companion of examples as they are quoted, hand
 * calculations from the section; laws and refusals. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/bolts.h"

#define KIP (1000 * LBF)
#define KSI (KIP / (IN * IN))

/* 7/8 in, A325, by strength design. */
static const struct sl_bolt_steel_in handbook = {
  .diameter = 0.875 * IN, .grade = "A325", .planes = 1, .tension = 1 * KIP, .shear = 0, .method = SL_STRENGTH,
};

GIVES_OF(bolt_steel, steel)
static bool is_about(double value, double printed, double half) { return fabs(value - printed) <= half; }

/* The steel handbook's tables of bolts, 14th edition, as they are quoted: 40.6 kip pulled, 61.3 kip sheared in two
 * planes off the thread.  The companion of examples, J.3, as an open-source program's tests quote it: 3/4 in, 8.0 kip
 * across it through its thread leave 33.9 kip nominal, 0.75 x 33.9 = 25.4. */
static void printed_by_others(void **state) {
  (void)state;
  struct sl_bolt_steel_in in = handbook;
  assert_true(is_about(steel(&in).tension_allowed, 40.6 * KIP, 0.05 * KIP));
  in.planes = 2;
  in.smooth = true;
  assert_true(is_about(steel(&in).shear_allowed, 61.3 * KIP, 0.05 * KIP));
  in = handbook;
  in.diameter = 0.75 * IN;
  in.shear = 8.0 * KIP;
  assert_true(is_about(steel(&in).tension_beside, 0.75 * 33.9 * KIP, 0.04 * KIP));
  in.tension = 0.75 * 33.9 * KIP;          /* so much uses it whole */
  assert_true(is_about(steel(&in).used, 1, 0.002));
}

/* By hand, 1/2 in, 0.19635 in2, SAE grade 5: 0.75 x 120 x 0.19635/2 = 8.8357 kip; through the thread 0.45 x 120 x
 * 0.19635/2 = 5.3014, off it 0.563: 6.6327; two planes twice.  3 and 2 kip at once: 0.33953 and 0.37726, their
 * sum over 1.3 is 0.55138.  A307: 45 x 0.19635/2 = 4.4179, 27 x 0.19635/2 = 2.6507. */
static void by_hand(void **state) {
  (void)state;
  struct sl_bolt_steel_in in = handbook;
  in.method = SL_ALLOWABLE;
  in.diameter = 0.5 * IN;
  strcpy(in.grade, "SAE grade 5");
  in.tension = 3 * KIP;
  in.shear = 2 * KIP;
  assert_near(steel(&in).tension_stress, 90 * KSI, 1e-9);
  assert_near(steel(&in).tension_allowed, 8.8357 * KIP, 1e-5);
  assert_near(steel(&in).shear_allowed, 5.3014 * KIP, 1e-5);
  assert_near(steel(&in).used_tension, 0.33953, 2e-5);
  assert_near(steel(&in).used_shear, 0.37726, 2e-5);
  assert_near(steel(&in).used, 0.55138, 2e-5);
  in.shear = 0.5 * KIP;              /* 0.33953 + 0.09431 is less than 1.3 of the pull alone */
  assert_near(steel(&in).used, 0.33953, 2e-5);
  in.smooth = true;
  assert_near(steel(&in).shear_allowed, 6.6327 * KIP, 1e-5);
  in.planes = 2;
  assert_near(steel(&in).shear_allowed, 2 * 6.6327 * KIP, 1e-5);
  strcpy(in.grade, "A307");          /* one value, wherever the thread lies */
  assert_near(steel(&in).tension_allowed, 4.4179 * KIP, 1e-5);
  assert_near(steel(&in).shear_allowed, 2 * 2.6507 * KIP, 2e-5);
}

/* Without a grade the weakest of that size counts: A307 with 60 ksi, less than 74 and 75. */
static void of_no_grade(void **state) {
  (void)state;
  struct sl_bolt_steel_in in = handbook, same = handbook;
  *in.grade = 0;
  strcpy(same.grade, "A307");
  const struct sl_bolt_steel_out out = steel(&in);
  assert_string_equal(out.grade, "A307");
  assert_near(out.tension_allowed, steel(&same).tension_allowed, 1e-15);
}

/* Stainless steel rolled cold: 90 ksi to 5/8 in as the list has it, 85 from 3/4 in on. */
static void by_size(void **state) {
  (void)state;
  struct sl_bolt_steel_in in = handbook;
  strcpy(in.grade, "stainless cold-worked");
  in.diameter = 0.625 * IN;
  assert_near(steel(&in).tension_stress, 67.5 * KSI, 1e-9);
  in.diameter = 0.75 * IN;
  assert_near(steel(&in).tension_stress, 63.75 * KSI, 1e-9);
}

/* A thicker bolt never holds less, nor does one of a stronger steel; its thread in the plane of shear never makes it
 * stronger; a second plane doubles what shears it; more of either never uses it less. */
static void laws(void **state) {
  (void)state;
  static const char *const rising[] = { "A307", "SAE grade 2", "stainless annealed", "SAE grade 5", "SAE grade 8" };
  for (size_t i = 0; i < sizeof rising / sizeof *rising; i++) {
    for (int size = 4; size < 12; size++) {
      struct sl_bolt_steel_in in = handbook;
      strcpy(in.grade, rising[i]);
      in.diameter = size * IN / 16;
      in.shear = 2 * KIP;
      const struct sl_bolt_steel_out out = steel(&in);
      struct sl_bolt_steel_in other = in;
      other.diameter += IN / 16;
      assert_true(steel(&other).tension_allowed > out.tension_allowed);
      assert_true(steel(&other).shear_allowed > out.shear_allowed);
      other = in;
      other.smooth = true;
      assert_true(steel(&other).shear_allowed >= out.shear_allowed);
      other.smooth = false;
      other.planes = 2;
      assert_near(steel(&other).shear_allowed, 2 * out.shear_allowed, 1e-12);
      other = in;
      other.method = SL_ALLOWABLE;
      assert_near(steel(&other).tension_allowed * 1.5, out.tension_allowed, 1e-12);      /* 0.75 x 2 */
      other = in;
      other.shear *= 1.2;
      assert_true(steel(&other).used >= out.used && steel(&other).tension_beside <= out.tension_beside);
      other = in;
      other.tension *= 1.2;
      assert_true(steel(&other).used >= out.used);
      if (i == 0) continue;
      other = in;
      strcpy(other.grade, rising[i - 1]);
      assert_true(steel(&other).tension_allowed < out.tension_allowed);
      assert_true(steel(&other).shear_allowed < out.shear_allowed);
    }
  }
}

/* ---- refusals ---------------------------------------------------------------------------------------------------- */

static void refused_by_name(void **state) {
  (void)state;
  OP_REFUSED(bolt_steel, handbook, strcpy(in.grade, "tin"), SL_NO_ROW, "grade");
  OP_REFUSED(bolt_steel, handbook, in.diameter = 0.375 * IN, SL_OUT_OF_RANGE, "diameter");     /* A325 from 1/2 in */
  OP_REFUSED(bolt_steel, handbook, in.diameter = 1.125 * IN, SL_OUT_OF_RANGE, "diameter");
  OP_REFUSED(bolt_steel, handbook, (strcpy(in.grade, "SAE grade 2"), in.diameter = 0.875 * IN), SL_OUT_OF_RANGE,
             "diameter");
  OP_REFUSED(bolt_steel, handbook, (strcpy(in.grade, "stainless cold-worked"), in.diameter = 0.7 * IN), SL_OUT_OF_RANGE,
             "diameter");
  OP_REFUSED(bolt_steel, handbook, in.diameter = 0, SL_BAD_INPUT, "diameter");
  OP_REFUSED(bolt_steel, handbook, in.planes = 0, SL_BAD_INPUT, "planes");
  OP_REFUSED(bolt_steel, handbook, in.planes = 3, SL_BAD_INPUT, "planes");
  OP_REFUSED(bolt_steel, handbook, in.tension = -1, SL_BAD_INPUT, "tension");
  OP_REFUSED(bolt_steel, handbook, in.shear = -1, SL_BAD_INPUT, "shear");
}

static const struct op_case ops[] = { { "bolt_steel", &handbook } };

int main(void) {
  struct CMUnitTest tests[40] = {
    cmocka_unit_test(printed_by_others), cmocka_unit_test(by_hand), cmocka_unit_test(of_no_grade),
    cmocka_unit_test(by_size), cmocka_unit_test(laws), cmocka_unit_test(refused_by_name),
  };
  size_t n = 6;
  ADD_ROWS(tests, n, ops, op_behaves);
  return _cmocka_run_group_tests("bolts", tests, n, NULL, NULL);
}
