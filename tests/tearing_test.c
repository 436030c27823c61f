/* SPDX-License-Identifier: MIT
 * Wood around bolts and lag screws: a printed calculation by NDS 2015, working notes that quote NDS 2018 and 2024, hand
 * calculations from the equations; laws and refusals. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/tearing.h"

/* Two rows of one bolt of 3/4 in through 11.25 in of Douglas Fir-Larch No.1, ten minutes: 170 and 675 psi x 1.6; 3 in
 * apart, and from the end, as the geometry factor of 0.57 says (3/5.25). */
static const struct sl_tear_out_in column = {
  .shear = 272 * PSI, .tension = 1080 * PSI, .thickness = 11.25 * IN, .kind = SL_BOLT, .size = "3/4", .count = 1,
  .rows = 2, .spacing = NAN, .row_spacing = 3 * IN, .to_end = 3 * IN, .pull = 1000 * LBF, .edition = "NDS 2018",
};
/* A working note on NDS 2018: 2 plies of laminated veneer lumber, 3.5 by 11.875 in, bolts far from either end. */
static const struct sl_split_across_in beam = {
  .stress = 285 * PSI, .width = 3.5 * IN, .depth = 11.875 * IN, .reach = 6.25 * IN, .to_end = 106 * IN,
  .shear = 388 * LBF, .edition = "NDS 2018",
};

GIVES_OF(tear_out, torn)
GIVES_OF(split_across, split)

/* The printed calculation of bolted column bases, by NDS 2015: row tear-out 18360 lb, group tear-out 35758 lb; of
 * another base, one bolt of 1/2 in through 5.5 in, 180 psi x 1.6, 1.75 in from the end: 2772 lb. */
static void printed_by_others(void **state) {
  (void)state;
  const struct sl_tear_out_out out = torn(&column);
  assert_near(out.all_rows, 18360 * LBF, 1e-9);
  assert_near(out.row, 9180 * LBF, 1e-9);
  assert_near(out.group, 35758 * LBF, 2e-5);
  assert_near(out.allowed, 18360 * LBF, 1e-9);
  assert_near(out.used, 1000.0 / 18360, 1e-9);
  assert_string_equal(out.governs, "rows");
  struct sl_tear_out_in in = column;
  in.shear = 288 * PSI;
  in.thickness = 5.5 * IN;
  in.rows = 1;
  in.row_spacing = NAN;
  in.to_end = 1.75 * IN;
  assert_near(torn(&in).allowed, 2772 * LBF, 1e-9);
  assert_true(isnan(torn(&in).group));
}

/* A public check of Appendix E.3, 180 psi and 1.5 in of wood: two bolts 1.125 in apart and 2.625 in from the end 607.5
 * lb, 0.75 in from it 405, one bolt 708.75. */
static void rows_of_others(void **state) {
  (void)state;
  struct sl_tear_out_in in = column;
  in.shear = 180 * PSI;
  in.thickness = 1.5 * IN;
  in.rows = 1;
  in.row_spacing = NAN;
  in.count = 2;
  in.spacing = 1.125 * IN;
  in.to_end = 2.625 * IN;
  assert_near(torn(&in).row, 607.5 * LBF, 1e-9);
  in.to_end = 0.75 * IN;
  assert_near(torn(&in).row, 405 * LBF, 1e-9);
  in.count = 1;
  in.spacing = NAN;
  in.to_end = 2.625 * IN;
  assert_near(torn(&in).row, 708.75 * LBF, 1e-9);
}

/* By hand: two rows of three bolts of 1/2 in, 4 in apart, rows 1.5 in: 3 x 272 psi x 1.5 x 3 = 3672 lb a row; between
 * the rows 1.5 x (1.5 - 0.5625) = 1.40625 in2 x 500 psi: 3672 + 703.125 of 7344: the group is less.  A lag screw's hole
 * is its shank: 1.5 in2 x 500. */
static void groups_by_hand(void **state) {
  (void)state;
  struct sl_tear_out_in in = column;
  strcpy(in.size, "1/2");
  in.tension = 500 * PSI;
  in.thickness = 1.5 * IN;
  in.count = 3;
  in.spacing = 4 * IN;
  in.row_spacing = 1.5 * IN;
  assert_near(torn(&in).group, 4375.125 * LBF, 1e-9);
  assert_near(torn(&in).allowed, 4375.125 * LBF, 1e-9);
  assert_string_equal(torn(&in).governs, "group");
  in.kind = SL_LAG_SCREW;
  assert_near(torn(&in).group, (3672 + 750) * LBF, 1e-9);
}

/* The note: 2/3 x 285 x 3.5 x 6.25 = 4156 lb, 388 of it used: 0.09; 2.81 in from the edge 1870 lb. */
static void far_from_the_end(void **state) {
  (void)state;
  struct sl_split_across_in in = beam;
  assert_near(split(&in).allowed, 4156 * LBF, 1e-4);
  assert_near(split(&in).used, 388.0 / 4156.25, 1e-9);
  in.reach = 2.8125 * IN;
  assert_near(split(&in).allowed, 1870 * LBF, 2e-4);
  in.to_end = 5 * 11.875 * IN;                           /* five depths are far */
  assert_near(split(&in).allowed, 1870 * LBF, 2e-4);
}

/* By hand, from memory of the section: nearer to the end the square of the depth's share besides: 4156.25 x
 * (6.25/11.875)^2 = 1151.3 lb. */
static void near_the_end(void **state) {
  (void)state;
  struct sl_split_across_in in = beam;
  in.to_end = 59 * IN;
  assert_near(split(&in).allowed, 1151.3 * LBF, 2e-5);
  in.reach = in.depth;                                   /* at the far edge the whole shear of a rectangle */
  assert_near(split(&in).allowed, 285 * 3.5 * 11.875 * 2 / 3 * LBF, 1e-9);
}

/* More room never holds less. */
static void laws(void **state) {
  (void)state;
  struct sl_tear_out_in in = column;
  in.count = 2;
  in.spacing = 2 * IN;
  double before = 0;
  for (int i = 1; i <= 8; i++) {
    in.to_end = i * 0.5 * IN;
    const double now = torn(&in).allowed;
    assert_true(now >= before);
    before = now;
  }
  struct sl_split_across_in cut = beam;
  before = 0;
  for (int i = 1; i <= 20; i++) {
    cut.to_end = i * 5 * IN;
    const double now = split(&cut).allowed;
    assert_true(now >= before);
    before = now;
  }
}

static void refused_by_name(void **state) {
  (void)state;
  OP_REFUSED(tear_out, column, in.spacing = 2 * IN, SL_BAD_INPUT, "spacing");
  OP_REFUSED(tear_out, column, in.row_spacing = NAN, SL_BAD_INPUT, "row_spacing");
  OP_REFUSED(tear_out, column, in.rows = 1, SL_BAD_INPUT, "row_spacing");
  OP_REFUSED(tear_out, column, in.row_spacing = 0.8 * IN, SL_OUT_OF_RANGE, "row_spacing");
  OP_REFUSED(tear_out, column, in.count = 0, SL_BAD_INPUT, "count");
  OP_REFUSED(tear_out, column, in.rows = 101, SL_BAD_INPUT, "rows");
  OP_REFUSED(tear_out, column, in.to_end = 0, SL_BAD_INPUT, "to_end");
  OP_REFUSED(tear_out, column, in.shear = 0, SL_BAD_INPUT, "shear");
  OP_REFUSED(tear_out, column, strcpy(in.size, "9/16"), SL_NO_ROW, "size");
  OP_REFUSED(tear_out, column, strcpy(in.edition, "NDS 1901"), SL_NO_ROW, "edition");
  OP_REFUSED(split_across, beam, in.reach = 12 * IN, SL_BAD_INPUT, "reach");
  OP_REFUSED(split_across, beam, in.reach = 0, SL_BAD_INPUT, "reach");
  OP_REFUSED(split_across, beam, in.to_end = -1, SL_BAD_INPUT, "to_end");
  OP_REFUSED(split_across, beam, in.shear = INFINITY, SL_BAD_INPUT, "shear");
  OP_REFUSED(split_across, beam, strcpy(in.edition, "NDS 1901"), SL_NO_ROW, "edition");
}

static const struct op_case ops[] = { { "tear_out", &column }, { "split_across", &beam } };

int main(void) {
  struct CMUnitTest tests[20] = {
    cmocka_unit_test(printed_by_others), cmocka_unit_test(rows_of_others), cmocka_unit_test(groups_by_hand),
    cmocka_unit_test(far_from_the_end), cmocka_unit_test(near_the_end), cmocka_unit_test(laws),
    cmocka_unit_test(refused_by_name),
  };
  size_t n = 7;
  ADD_ROWS(tests, n, ops, op_behaves);
  return _cmocka_run_group_tests("tearing", tests, n, NULL, NULL);
}
