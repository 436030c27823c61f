/* SPDX-License-Identifier: MIT
 * Wind on faces and over hills: laws, limits of the figures, refusals.  Values from outside: outside/wind.case. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/wind_faces.h"

static const struct sl_topographic_in hill = { SL_HILL, 30, 100, 20, false, 3, "ASCE 7-16" };
static const struct sl_roof_wind_in roof = { 1000, 30 * DEGREE, 4, 2, "ASCE 7-16" };
static const struct sl_along_wind_in along = { 1000, 30 * DEGREE, 2, 9, "ASCE 7-16" };
static const struct sl_sign_wind_in sign = { 1000, 60 * DEGREE, 2, 9, 3, "ASCE 7-16" };
static const struct sl_module_wind_in module = { 1000, 30 * DEGREE, 4, 9, 2, 2, "ASCE 7-16" };

static const struct op_case ops[] = {
  { "topographic", &hill }, { "roof_wind", &roof }, { "along_wind", &along }, { "sign_wind", &sign },
  { "module_wind", &module },
};

/* Fig. 26.8-1: nothing below H/Lh 0.2; above 0.5 H/Lh is 0.5, hill K1 0.53; at the crest on the ground (1 + K1)^2. */
static void hills_end_where_the_figure_does(void **state) {
  (void)state;
  struct sl_topographic_in in = hill;
  struct sl_topographic_out out;
  in.height = 19.9;
  assert_int_equal(sl_topographic(&in, &out, NULL), SL_OK);
  assert_near(out.kzt, 1, 1e-12);
  in.height = 80, in.distance = in.above_ground = 0;
  assert_int_equal(sl_topographic(&in, &out, NULL), SL_OK);
  assert_near(out.kzt, 1.53 * 1.53, 1e-9);
  in.distance = 1e4;
  assert_int_equal(sl_topographic(&in, &out, NULL), SL_OK);
  assert_near(out.kzt, 1, 1e-12);
}

/* p = q Kd G CN: twice the pressure, twice every net pressure. */
static void pressures_follow_the_wind(void **state) {
  (void)state;
  static double one_room[64], two_room[64];
  const struct sl_space a = { one_room, sizeof one_room }, b = { two_room, sizeof two_room };
  struct sl_roof_wind_in in = roof;
  struct sl_roof_wind_out one, two;
  for (int t = 0; t <= 45; t += 5) {
    in.tilt = t * DEGREE, in.velocity_pressure = 1000;
    assert_int_equal(sl_roof_wind(&in, &one, a, NULL), SL_OK);
    in.velocity_pressure = 2000;
    assert_int_equal(sl_roof_wind(&in, &two, b, NULL), SL_OK);
    assert_int_equal(one.ncases, 8);
    for (size_t i = 0; i < 8; i++) {
      assert_near(two.cases[i].low, 2 * one.cases[i].low, 1e-12);
      assert_near(two.cases[i].high, 2 * one.cases[i].high, 1e-12);
      assert_true(two.cases[i].low <= two.peak_down && -two.cases[i].high <= two.peak_up);
    }
  }
}

static void figures_end(void **state) {
  (void)state;
  static double room[64];
  const struct sl_space space = { room, sizeof room };
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_roof_wind_in r = roof;
  struct sl_roof_wind_out ro;
  r.tilt = 46 * DEGREE;
  assert_int_equal(sl_roof_wind(&r, &ro, space, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "tilt");
  r = roof, r.mean_height = 0.8;                          /* h/L 0.23 */
  assert_int_equal(sl_roof_wind(&r, &ro, space, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "mean_height");
  struct sl_sign_wind_in s = sign;
  struct sl_sign_wind_out so;
  s.tilt = 45 * DEGREE;
  assert_int_equal(sl_sign_wind(&s, &so, space, &sheet), SL_OUT_OF_RANGE);
  s = sign, s.top = 1;                                    /* the face would reach below ground */
  assert_int_equal(sl_sign_wind(&s, &so, space, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "top");
  s = sign, s.row_width = 46 * sqrt(3);                   /* the table ends at B/s 45 */
  assert_int_equal(sl_sign_wind(&s, &so, space, &sheet), SL_OUT_OF_RANGE);
  s.row_width = 11.5 * sqrt(3);                           /* strips are divided otherwise at 10 and at 13 */
  assert_int_equal(sl_sign_wind(&s, &so, space, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "row_width");
}

/* Strips and zones follow one another from the windward end to the end of the row. */
static void strips_cover_the_face(void **state) {
  (void)state;
  static double room[64];
  const struct sl_space space = { room, sizeof room };
  struct sl_sign_wind_in in = sign;
  struct sl_sign_wind_out out;
  static const double wide[] = { 2, 2.5, 3.5, 7, 10, 13, 14, 30, 45 };
  for (size_t k = 0; k < sizeof wide / sizeof *wide; k++) {
    in.row_width = wide[k] * sqrt(3);
    assert_int_equal(sl_sign_wind(&in, &out, space, NULL), SL_OK);
    assert_true(out.nstrips >= 2);
    double end = 0;
    for (size_t i = 0; i < out.nstrips; end = out.strips[i++].to) assert_near(out.strips[i].from, end, 1e-9);
    assert_near(end, in.row_width, 1e-9);
  }
}

int main(void) {
  struct CMUnitTest tests[16];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(hills_end_where_the_figure_does), cmocka_unit_test(pressures_follow_the_wind),
    cmocka_unit_test(figures_end), cmocka_unit_test(strips_cover_the_face),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("wind faces", tests, n, NULL, NULL);
}
