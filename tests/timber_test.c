/* SPDX-License-Identifier: MIT
 * Sawn lumber: published examples, hand calculation from the printed table, laws and refusals. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/timber.h"

#define LBF_FT (LBF * FT)

static const struct sl_column_stability_in column = { 2764.8 * PSI, 867680 * PSI, 144 / 5.5, "NDS 2018" };
static const struct sl_timber_in post = {
  .section = "6x6", .species = "Southern Pine", .grade = "No.2", .edition = "NDS 2018", .duration = SL_TEN_MINUTES,
  .wet = true, .moment = 1000 * LBF_FT, .shear = 500 * LBF, .axial = 2000 * LBF, .unbraced = NAN,
  .length_strong = 8 * FT, .length_weak = 8 * FT, .bearing = NAN, .bearing_length = NAN,
};

static struct sl_timber_out use_of(const struct sl_timber_in *in) {
  struct sl_timber_out out;
  assert_int_equal(sl_timber(in, &out, NULL), SL_OK);
  return out;
}

/* AWC 2005 example problems, as quoted: 2x6, le 144 in on 5.5 in, CP 0.342 to 0.002.  LRFD: Fc* = 1600 x 2.40 x 0.9 x
 * 0.8 = 2764.8 psi, Emin' = 580000 x 1.76 x 0.85 = 867680 psi. */
static void published_column_of_lrfd(void **state) {
  (void)state;
  struct sl_column_stability_out out;
  assert_int_equal(sl_column_stability(&column, &out, NULL), SL_OK);
  assert_true(fabs(out.factor - 0.342) <= 0.002);
}

/* Residential structural design guide, 2nd edition (2017), example 5.6: 4x4 Spruce-Pine-Fir No.2, 7.3 ft pinned, 4800
 * lb, CD 1.0: CP 0.438, Fc' 579 psi, ratio 0.677. */
static void published_column(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  strcpy(in.section, "4x4");
  strcpy(in.species, "Spruce-Pine-Fir");
  in.duration = SL_TEN_YEARS;
  in.wet = false;
  in.moment = in.shear = 0;
  in.axial = 4800 * LBF;
  in.length_strong = in.length_weak = 7.3 * FT;
  const struct sl_timber_out out = use_of(&in);
  assert_near(out.column_stability, 0.438, 0.002);
  assert_near(out.compression, 579 * PSI, 0.002);
  assert_near(out.used_axial, 0.677, 0.002);
  assert_string_equal(out.governs, "compression");
}

/* The same guide, example 5.1: a 2x8 at 16 in, 40 psf, Fb 975 psi, Cr 1.15, CF 1.2: 1345 psi, span 14.87 ft.  Ours has
 * Fb 900 (Douglas Fir-Larch No.2): the allowed stress is 900/975 of theirs, so that span uses it 975/900. */
static void published_joist(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  strcpy(in.section, "2x8");
  strcpy(in.species, "Douglas Fir-Larch");
  in.duration = SL_TEN_YEARS;
  in.wet = false;
  in.repetitive = true;
  in.length_strong = in.length_weak = NAN;
  in.axial = 0;
  in.moment = 40 * 16 / 12. * 14.87 * 14.87 / 8 * LBF_FT;
  const struct sl_timber_out out = use_of(&in);
  assert_near(out.bending, 1345 * 900 / 975. * PSI, 0.003);
  assert_near(out.used_bending, 975 / 900., 0.003);
}

/* By hand from the table, 6x6 Southern Pine No.2 wet under wind: Fb' 850 x 1.6, Ft' 550 x 1.6, Fv' 165 x 1.6, Fc_perp'
 * 375 x 0.67, E' 1.2e6.  le/d = 96/5.5 = 17.4545: FcE = 0.822 x 440000/304.66 = 1187.2, Fc* = 525 x 1.6 x 0.91 = 764.4,
 * r = 1.5531, u = 1.5957, CP = 1.5957 - sqrt(2.5462 - 1.9413) = 0.8179, Fc' = 625.2; fc = 2000/30.25 = 66.12, fb =
 * 12000/27.729 = 432.76: 0.1058^2 + 432.76/(1360 (1 - 0.05569)) = 0.0112 + 0.3370 = 0.3482; fv = 1.5 x 500/30.25. */
static void post_by_hand(void **state) {
  (void)state;
  const struct sl_timber_out out = use_of(&post);
  assert_near(out.bending, 1360 * PSI, 1e-9);
  assert_near(out.tension, 880 * PSI, 1e-9);
  assert_near(out.shear, 264 * PSI, 1e-9);
  assert_near(out.bearing, 251.25 * PSI, 1e-9);
  assert_near(out.stiffness, 1.2e6 * PSI, 1e-9);
  assert_near(out.column_stability, 0.8179, 2e-4);
  assert_near(out.used_axial, 66.12 / 625.2, 5e-4);
  assert_near(out.used_combined, 0.3482, 5e-4);
  assert_near(out.used_shear, 1.5 * 500 / 30.25 / 264, 1e-9);
  assert_string_equal(out.governs, "with compression");
}

/* By strength, the same post under 1.2D + 1.0W + 0.5S, KF, phi and lambda second-hand: Fb' 850 x 2.54 x 0.85 = 1835.2,
 * Ft' 550 x 2.7 x 0.8 = 1188, Fv' 165 x 2.88 x 0.75 = 356.4, Fc_perp' 375 x 1.67 x 0.9 x 0.67 = 377.6, E' as before;
 * Emin' 440000 x 1.76 x 0.85 = 658240: FcE 1776.0; Fc* 525 x 2.4 x 0.9 x 0.91 = 1031.9, r 1.7211, u 1.7007, CP = 1.7007
 * - sqrt(2.8923 - 2.1514) = 0.8400, Fc' 866.8: 66.12/866.8 = 0.0763; squared, and 432.76/(1835.2 (1 - 0.03723)) =
 * 0.2449: 0.2507.  Led by snow lambda is 0.8, by weight alone 0.6: Fb' 1468.1 and 1101.1. */
static void post_by_strength(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  in.method = SL_STRENGTH;
  const struct sl_timber_out out = use_of(&in);
  assert_near(out.bending, 1835.15 * PSI, 1e-9);
  assert_near(out.tension, 1188 * PSI, 1e-9);
  assert_near(out.shear, 356.4 * PSI, 1e-9);
  assert_near(out.bearing, 377.6 * PSI, 1e-4);
  assert_near(out.stiffness, 1.2e6 * PSI, 1e-9);
  assert_near(out.column_stability, 0.8400, 2e-4);
  assert_near(out.used_axial, 0.0763, 1e-3);
  assert_near(out.used_combined, 0.2507, 5e-4);
  in.duration = SL_TWO_MONTHS;
  assert_near(use_of(&in).bending, 1468.12 * PSI, 1e-9);
  in.duration = SL_PERMANENT;
  assert_near(use_of(&in).bending, 1101.09 * PSI, 1e-9);
  in.duration = SL_SEVEN_DAYS;                     /* no load of a rack has such a time effect */
  struct sl_timber_out none;
  assert_int_equal(sl_timber(&in, &none, NULL), SL_NO_ROW);
}

/* By hand: pulled with 2000 lb and bent: 66.116/880 + 432.76/1360 = 0.07513 + 0.31821 = 0.39334. */
static void pulled_by_hand(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  in.axial = -2000 * LBF;
  const struct sl_timber_out out = use_of(&in);
  assert_near(out.used_combined, 0.39334, 2e-4);
  assert_string_equal(out.governs, "with tension");
}

/* By hand, NDS Eq. 3.9-3: 600 lbf ft about the other axis besides, 7200/27.729 = 259.66 psi.  FbE = 1.2 x 440000 /
 * (96 x 5.5/5.5^2) = 30250 psi, 1 - 0.05569 - (432.76/30250)^2 = 0.94411: 0.34815 + 259.66/(1360 x 0.94411) = 0.55038.
 * Pulled, 0.39334 + 259.66/1360 = 0.58426. */
static void both_axes_by_hand(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  in.moment_weak = 600 * LBF_FT;
  assert_near(use_of(&in).used_combined, 0.55038, 2e-4);
  assert_near(use_of(&in).worst, 0.55038, 2e-4);
  in.axial = -2000 * LBF;
  assert_near(use_of(&in).used_combined, 0.58426, 2e-4);
  struct sl_timber_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.on_flat = true;
  assert_int_equal(sl_timber(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "moment_weak");
  in.on_flat = false;
  strcpy(in.section, "6x8");
  assert_int_equal(sl_timber(&in, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "moment_weak");
}

/* By hand: 2x8 Southern Pine No.2 dry, CD 1.0, le 100 in: RB = sqrt(100 x 7.25)/1.5 = 17.951, FbE = 1.2 x 510000/322.22
 * = 1899.3, r = 1899.3/925 = 2.0533, u = 1.6070, CL = 1.6070 - sqrt(2.5824 - 2.1614) = 0.9582. */
static void beam_by_hand(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  strcpy(in.section, "2x8");
  in.duration = SL_TEN_YEARS;
  in.wet = false;
  in.axial = 0;
  in.unbraced = 100 * IN;
  in.length_strong = in.length_weak = NAN;
  assert_near(use_of(&in).beam_stability, 0.9582, 3e-4);
  in.on_flat = true;                       /* S = 7.25 x 1.5^2/6 = 2.71875 in3, nothing rolls over */
  assert_near(use_of(&in).used_bending, 12000 / 2.71875 / 925, 1e-9);
}

/* Wet factors of dimension lumber, from memory, and the values up to which 1 stands: 2x12 Douglas Fir-Larch No.2 has Fb
 * CF = 900 <= 1150, so 900 stays; 2x4 has 900 x 1.5 x 0.85; Fc 1350 x 1.15 x 0.8 (4 in), Fv 180 x 0.97. */
static void wet_dimension_lumber(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  strcpy(in.species, "Douglas Fir-Larch");
  strcpy(in.section, "2x12");
  in.duration = SL_TEN_YEARS;
  in.axial = 0;
  in.length_strong = in.length_weak = NAN;
  assert_near(use_of(&in).bending, 900 * PSI, 1e-9);
  strcpy(in.section, "2x4");
  const struct sl_timber_out out = use_of(&in);
  assert_near(out.bending, 900 * 1.5 * 0.85 * PSI, 1e-9);
  assert_near(out.compression, 1350 * 1.15 * 0.8 * PSI, 1e-9);
  assert_near(out.shear, 180 * 0.97 * PSI, 1e-9);
}

/* By hand: 1000 lb on 3 in of a 6x6: 1000/(5.5 x 3)/251.25. */
static void bearing_by_hand(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  in.bearing = 1000 * LBF;
  in.bearing_length = 3 * IN;
  assert_near(use_of(&in).used_bearing, 1000 / 16.5 / 251.25, 1e-9);
}

static void laws_hold(void **state) {
  (void)state;
  struct sl_timber_in in = post;
  const struct sl_timber_out one = use_of(&in);
  in.wet = false;
  const struct sl_timber_out dry = use_of(&in);
  assert_true(dry.worst <= one.worst && dry.compression > one.compression && dry.bearing > one.bearing);
  in = post;
  double last = 0;
  for (int duration = SL_TEN_MINUTES; duration >= SL_PERMANENT; duration--) {
    in.duration = duration;
    const struct sl_timber_out out = use_of(&in);
    assert_true(out.worst > last);
    assert_near(out.stiffness, one.stiffness, 1e-12);       /* CD never on E and Fc_perp */
    assert_near(out.bearing, one.bearing, 1e-12);
    last = out.worst;
  }
  in = post;
  strcpy(in.section, "8x8");
  assert_true(use_of(&in).worst < one.worst);
  in = post;
  in.moment *= 1.5;
  assert_true(use_of(&in).worst > one.worst);
}

static const struct refusal {
  const char *name, *section, *species, *grade;
  double unbraced, length, axial;
  bool incised;
  const char *member;
} refusals[] = {
  { "refused: incised", "6x6", "Southern Pine", "No.2", NAN, 2, 0, true, "incised" },
  { "refused: no such species", "6x6", "Ipe", "No.2", NAN, 2, 0, false, "species" },
  { "refused: a size that is not held", "2x6", "Southern Pine", "No.1", NAN, 2, 0, false, "grade" },
  { "refused: no such section", "7x7", "Southern Pine", "No.2", NAN, 2, 0, false, "section" },
  { "refused: too slender a column", "4x4", "Southern Pine", "No.2", NAN, 51 * 3.5 * IN, 1, false, "length_strong" },
  { "refused: too slender a beam", "2x12", "Southern Pine", "No.2", 15, 1, 0, false, "unbraced" },   /* RB 54 */
  { "refused: pressed without a length", "6x6", "Southern Pine", "No.2", NAN, NAN, 1, false, "length_strong" },
  { "refused: beyond the Euler load", "4x4", "Southern Pine", "No.2", NAN, 4, 50000, false, "axial" },
};

static void refusal_names_the_input(void **state) {
  const struct refusal *r = *state;
  struct sl_timber_in in = post;
  struct sl_timber_out out;
  struct sl_sheet sheet = { .cap = 0 };
  strcpy(in.section, r->section);
  strcpy(in.species, r->species);
  strcpy(in.grade, r->grade);
  in.unbraced = r->unbraced;
  in.length_strong = in.length_weak = r->length;
  in.axial = r->axial;
  in.incised = r->incised;
  assert_int_not_equal(sl_timber(&in, &out, &sheet), SL_OK);
  assert_string_equal(sheet.fault.member, r->member);
}

static const struct sl_timber_in both = {
  .section = "6x6", .species = "Southern Pine", .grade = "No.2", .edition = "NDS 2018", .duration = SL_TEN_MINUTES,
  .wet = true, .moment = 1000 * LBF_FT, .moment_weak = 600 * LBF_FT, .shear = 500 * LBF, .axial = 2000 * LBF,
  .unbraced = NAN, .length_strong = 8 * FT, .length_weak = 8 * FT, .bearing = NAN, .bearing_length = NAN,
};
static const struct op_case ops[] = { { "timber", &post }, { "timber", &both }, { "column_stability", &column } };

int main(void) {
  struct CMUnitTest tests[32];
  size_t n = 0;
  ADD_ROWS(tests, n, refusals, refusal_names_the_input);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(published_column_of_lrfd), cmocka_unit_test(published_column), cmocka_unit_test(published_joist),
    cmocka_unit_test(post_by_hand), cmocka_unit_test(pulled_by_hand),
    cmocka_unit_test(post_by_strength), cmocka_unit_test(both_axes_by_hand), cmocka_unit_test(beam_by_hand),
    cmocka_unit_test(wet_dimension_lumber), cmocka_unit_test(bearing_by_hand), cmocka_unit_test(laws_hold),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("timber", tests, n, NULL, NULL);
}
