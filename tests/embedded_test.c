/* SPDX-License-Identifier: MIT
 * Moments of posts in soil: the published post formula read backwards, statics by hand and by small steps. */
#include "op_check.h"
#include "us.h"
#include "stringline/embedded.h"
#include "stringline/ground.h"

/* Engineering with the Spreadsheet (ASCE Press 2006), Fig. 16-1: 510 lbf 4 ft up want 5.02 ft by 266 psf/ft, 1 ft wide,
 * S1 445 psf; held at grade 3.19 ft.  A third digit of the depth is 11 lbf ft of 2040. */
static const struct sl_embed_moment_in spreadsheet = {
  .depth = 5.02 * FT, .width = 1 * FT, .bearing = 266 * PSF_FT, .edition = "IBC 2021",
};
static void formula_backwards(void **state) {
  (void)state;
  struct sl_embed_moment_out out;
  struct sl_embed_moment_in in = spreadsheet;
  assert_int_equal(sl_embed_moment(&in, &out, NULL), SL_OK);
  assert_near(out.pressure / PSF, 445, 2e-3);
  assert_near((out.alone - 510 * LBF * out.arm) / (LBF * FT), 2040, 11.0 / 2040);
  in.held = true;
  in.depth = 3.19 * FT;
  assert_int_equal(sl_embed_moment(&in, &out, NULL), SL_OK);
  assert_near(out.alone / (LBF * FT), 2040, 10.0 / 2040);
  assert_near(out.arm + 1, 1, 0);
}

/* Whatever is left out, doubled or square: the depth that a push and a moment need takes just that moment. */
static void there_and_back(void **state) {
  (void)state;
  for (int i = 0; i < 16; i++) {
    const struct sl_embed_neglecting_in need = {
      .lateral = 2000 + 300 * i, .height = 1.5, .width = 0.4, .square = i & 1, .bearing = 25000, .isolated = i & 2,
      .held = i & 4, .neglect = i & 8 ? 0.3 : 0, .from_grade = i & 1, .provided = NAN, .edition = "IBC 2021",
    };
    struct sl_embed_neglecting_out deep;
    assert_int_equal(sl_embed_neglecting(&need, &deep, NULL), SL_OK);
    const struct sl_embed_moment_in in = {
      .depth = deep.depth, .width = need.width, .square = need.square, .bearing = need.bearing,
      .isolated = need.isolated, .held = need.held, .neglect = need.neglect, .from_grade = need.from_grade,
      .edition = "IBC 2021",
    };
    struct sl_embed_moment_out out;
    assert_int_equal(sl_embed_moment(&in, &out, NULL), SL_OK);
    assert_near(out.alone - need.lateral * out.arm, need.lateral * need.height, 1e-7);
    assert_near(out.pressure, deep.pressure, 1e-7);
  }
}

/* ---- below the ground -------------------------------------------------------------------------------------------- */

/* By hand: 300 lbf and 1800 lbf ft on 6 ft: u = 6 (5400 + 7200)/216 = 350, v = 12 (3600 + 5400)/1296 = 83.33;
 * 300 - 175 z2 + 27.78 z3 = 0 at z = 1.5 ft: 300 - 393.75 + 93.75; 1800 + 450 - 58.33 x 3.375 + 6.944 x 5.0625 =
 * 2088.3 lbf ft.  Soil of 1000 psf/ft on 4 in: sqrt(600/333.3) = 1.342 ft, 1800 + 300 x 1.342 x 2/3 = 2068.3, less;
 * of 150 psf/ft sqrt(600/50) = 3.464 ft, 1800 + 692.8 = 2492.8. */
static struct sl_buried_moment_in driven(double bearing) {
  return (struct sl_buried_moment_in){ .lateral = 300 * LBF, .moment = 1800 * LBF * FT, .depth = 6 * FT,
      .width = 4 * IN, .bearing = bearing, .tested = NAN, .tested_at = NAN, .edition = "IBC 2021" };
}
static void below_by_hand(void **state) {
  (void)state;
  struct sl_buried_moment_out out;
  struct sl_buried_moment_in in = driven(1000 * PSF_FT);
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.moment / (LBF * FT), 2088.28, 1e-5);
  assert_near(out.at / FT, 1.5, 1e-9);
  in = driven(150 * PSF_FT);
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.moment / (LBF * FT), 2492.82, 1e-5);
  assert_near(out.at / FT, 3.4641, 1e-5);
  /* A foot of soil that does not count on top: 5 ft, and 2100 lbf ft where it begins. */
  in.neglect = 1 * FT;
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.moment / (LBF * FT), 2792.82, 1e-5);
  assert_near(out.at / FT, 4.4641, 1e-5);
  /* Soil of 45 psf/ft would want sqrt(600/15) = 6.32 ft to stop the push: refused. */
  in = driven(45 * PSF_FT);
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OUT_OF_RANGE);
  /* Without a push the moment at grade is the largest. */
  in = driven(150 * PSF_FT);
  in.lateral = 0;
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.moment / (LBF * FT), 1800, 1e-12);
  assert_near(out.at + 1, 1, 0);
}

/* A test counts where it tells of better soil: 300 lbf at 3 ft, 6 ft deep, 4 in: 3 x 2.34 x 300 (6 + 1.09 x 3) /
 * (216/3) = 271.2 psf/ft. */
static void by_a_test(void **state) {
  (void)state;
  struct sl_buried_moment_out out;
  struct sl_buried_moment_in in = driven(150 * PSF_FT);
  in.tested = 300 * LBF;
  in.tested_at = 3 * FT;
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.bearing / PSF_FT, 271.15, 1e-4);
  in.bearing = 400 * PSF_FT;
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.bearing / PSF_FT, 400, 1e-12);
  in.bearing = NAN;
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
  assert_near(out.bearing / PSF_FT, 271.15, 1e-4);
  in.tested = in.tested_at = NAN;
  assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_BAD_INPUT);
}

/* The stiff post in small steps: pressure z (a - z) in proportion, so that forces and moments are in balance; shear and
 * moment added up from the top.  Nothing of the closed form is used. */
static void stiff_in_small_steps(void **state) {
  (void)state;
  enum { STEPS = 200000 };
  for (int i = 0; i < 6; i++) {
    const double P = i == 5 ? 0 : 1000, M = 400.0 * i, d = 1 + 0.2 * i, dz = d / STEPS;
    double f[2] = { 0, 0 }, m[2] = { 0, 0 };            /* of z and of z squared: force, moment about the top */
    for (int k = 0; k < STEPS; k++) {
      const double z = (k + 0.5) * dz;
      f[0] += z * dz, f[1] += z * z * dz, m[0] += z * z * dz, m[1] += z * z * z * dz;
    }
    /* u f0 - v f1 = P; u m0 - v m1 = -M: soil pushes back by P, and turns the other way. */
    const double det = f[0] * m[1] - f[1] * m[0], u = (P * m[1] + M * f[1]) / det, v = (M * f[0] + P * m[0]) / det;
    double shear = P, moment = M, most = M, at = 0;
    for (int k = 0; k < STEPS; k++) {
      const double z = (k + 0.5) * dz;
      moment += shear * dz;
      shear -= (u * z - v * z * z) * dz;
      if (moment > most) most = moment, at = z;
    }
    struct sl_buried_moment_in in = { .lateral = P, .moment = M, .depth = d, .width = 1, .bearing = 1e9, .tested = NAN,
                                      .tested_at = NAN, .edition = "IBC 2021" };
    struct sl_buried_moment_out out;
    assert_int_equal(sl_buried_moment(&in, &out, NULL), SL_OK);
    assert_near(out.moment, most, 1e-4);
    assert_near(out.at + 1, at + 1, 1e-3);
    assert_near(moment / (M + P) + 1, 1, 1e-3);         /* and nothing is left at its foot */
  }
}

static const struct sl_buried_moment_in buried = {
  .lateral = 900, .moment = 1500, .depth = 1.5, .width = 0.06, .bearing = 31000, .tested = 3000, .tested_at = 1.2,
  .neglect = 0.1, .edition = "IBC 2021",
};
static const struct op_case ops[] = { { "embed_moment", &spreadsheet }, { "buried_moment", &buried } };

int main(void) {
  struct CMUnitTest tests[12];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(formula_backwards);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(there_and_back);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(below_by_hand);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(by_a_test);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(stiff_in_small_steps);
  return _cmocka_run_group_tests("embedded", tests, n, NULL, NULL);
}
