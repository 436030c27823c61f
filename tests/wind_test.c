/* SPDX-License-Identifier: MIT
 * Wind: a rack whose posts stand under the middles of its halves, so that each post carries one printed coefficient;
 * interpolation by hand; laws and refusals.  Coefficients: ASCE 7 Fig. 27.3-4 as reprinted (see the table's head). */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/wind.h"

/* 1 kPa, 30 deg, slope 4 m, h/L 0.577, 2 m of row: a half of the panel has 4 m2, and q Kd G CN = 722.5 CN Pa. */
static const struct sl_rack_wind_in rack = {
  .velocity_pressure = 1000, .tilt = 30 * DEGREE, .slope_length = 4, .mean_height = 2, .flow = SL_FLOW_CLEAR,
  .front = 0.25, .back = 0.75, .tributary = 2, .edition = "ASCE 7-16",
};
static const double half_panel = 722.5 * 4;

static const struct force {
  const char *name;
  int flow;
  double front_uplift, front_down, front_lateral, back_uplift, back_down, back_lateral;   /* CN that governs */
  const char *front_uplift_case, *front_down_case, *back_uplift_case, *back_down_case, *back_lateral_case;
} forces[] = {
  /* Front posts carry the low half: leeward with the high edge to the wind, windward with the low edge. */
  { "30 deg, clear", SL_FLOW_CLEAR, 1.8, 2.6, 2.6, 2.5, 2.1, 2.5,
    "A, high edge", "B, low edge", "B, high edge", "A, low edge", "B, high edge" },
  { "30 deg, obstructed", SL_FLOW_OBSTRUCTED, 1.8, 1.6, 1.8, 2.3, 0.1, 2.3,
    "A, high edge", "B, low edge", "B, high edge", "B, low edge", "B, high edge" },
};

static void force_matches(void **state) {
  const struct force *r = *state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  in.flow = r->flow;
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  const double down = half_panel * sqrt(3) / 2, side = half_panel / 2;
  assert_near(out.front_uplift, r->front_uplift * down, 1e-9);
  assert_near(out.front_down, r->front_down * down, 1e-9);
  assert_near(out.front_lateral, r->front_lateral * side, 1e-9);
  assert_near(out.back_uplift, r->back_uplift * down, 1e-9);
  assert_near(out.back_down, r->back_down * down, 1e-9);
  assert_near(out.back_lateral, r->back_lateral * side, 1e-9);
  assert_string_equal(out.front_uplift_case, r->front_uplift_case);
  assert_string_equal(out.front_down_case, r->front_down_case);
  assert_string_equal(out.back_uplift_case, r->back_uplift_case);
  assert_string_equal(out.back_down_case, r->back_down_case);
  assert_string_equal(out.back_lateral_case, r->back_lateral_case);
}

static const struct peak { const char *name; double tilt, up, down; } peaks[] = {
  { "peak at 30 deg: as printed", 30, 2.5, 2.6 },
  { "peak at 33.75 deg: half way to 37.5", 33.75, 2.45, 2.65 },
  { "peak at 45 deg: the last row", 45, 2.3, 2.6 },
  { "peak at 7.5 deg: as printed", 7.5, 1.4, 1.6 },
  { "peak at 7 deg: the level row, no interpolation", 7, 1.1, 1.2 },
  { "peak when level", 0, 1.1, 1.2 },
};

static void peak_matches(void **state) {
  const struct peak *r = *state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  in.tilt = r->tilt * DEGREE;
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  assert_near(out.peak_uplift, r->up * 722.5, 1e-9);
  assert_near(out.peak_down, r->down * 722.5, 1e-9);
}

/* Moments about the back line, worked by hand: with the high edge to the wind in case B the halves carry -2.5 and -0.5;
 * posts at 0.2 and 0.8: back (2.5 * 0.55 + 0.5 * 0.05)/0.6 = 2.3333, front 3 - 2.3333 = 0.6667 in case B;
 * case A, -1.8 and -1.8: 1.8 each, by symmetry. */
static void lever_rule_by_hand(void **state) {
  (void)state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  in.front = 0.2;
  in.back = 0.8;
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  assert_near(out.back_uplift, 7. / 3 * half_panel * sqrt(3) / 2, 1e-9);
  assert_near(out.front_uplift, 1.8 * half_panel * sqrt(3) / 2, 1e-9);
}

static void level_rack_has_no_side_force(void **state) {
  (void)state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  in.tilt = 0;
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  assert_near(out.back_lateral, 0, 1e-12);
  assert_string_equal(out.back_lateral_case, "none");
}

/* ASCE 7 27.1.5, from memory: 16 psf on the area seen from the front, here 4 m x sin 30 deg x 2 m, half to each post:
 * 1532 N.  Of its own the front post has 0.7225 q x 2.6 x 4 m2 x sin 30 deg: 376 N at 100 Pa, 1879 N at 500 Pa. */
static void least_wind_pushes_at_least_so_much(void **state) {
  (void)state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  in.velocity_pressure = 100;
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  assert_near(out.front_lateral, 16 * PSF * 4 * 0.5 * 2 / 2, 1e-9);
  assert_near(out.back_lateral, 16 * PSF * 4 * 0.5 * 2 / 2, 1e-9);
  assert_string_equal(out.front_lateral_case, "least wind");
  assert_near(out.front_uplift, 72.25 * 1.8 * 4 * sqrt(3) / 2, 1e-9);
  in.velocity_pressure = 500;
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  assert_near(out.front_lateral, 0.7225 * 500 * 2.6 * 4 * 0.5, 1e-9);
  assert_string_equal(out.front_lateral_case, "B, low edge");
}

static void forces_follow_pressure_and_tributary(void **state) {
  (void)state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out one, more;
  assert_int_equal(sl_rack_wind(&in, &one, NULL), SL_OK);
  in.velocity_pressure *= 2;
  in.tributary *= 1.5;
  assert_int_equal(sl_rack_wind(&in, &more, NULL), SL_OK);
  assert_near(more.back_uplift, 3 * one.back_uplift, 1e-12);
  assert_near(more.front_lateral, 3 * one.front_lateral, 1e-12);
  assert_near(more.peak_down, 2 * one.peak_down, 1e-12);
}

static const struct refusal { const char *name; double tilt, height; const char *member; } refusals[] = {
  { "refused: 46 deg", 46, 2, "tilt" },
  { "refused: h/L 0.20", 30, 0.2 * 4 * 0.8660254, "mean_height" },
  { "refused: h/L 1.05", 30, 1.05 * 4 * 0.8660254, "mean_height" },
};

static void refusal_names_the_figure(void **state) {
  const struct refusal *r = *state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.tilt = r->tilt * DEGREE;
  in.mean_height = r->height;
  assert_int_equal(sl_rack_wind(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, r->member);
  assert_non_null(strstr(sheet.fault.cite, "27.3-4"));
}

static void edges_of_the_figure_are_inside(void **state) {
  (void)state;
  struct sl_rack_wind_in in = rack;
  struct sl_rack_wind_out out;
  in.mean_height = 0.25 * 4 * cos(in.tilt);
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
  in.mean_height = 4 * cos(in.tilt);
  assert_int_equal(sl_rack_wind(&in, &out, NULL), SL_OK);
}

static void all_four_cases_are_on_the_sheet(void **state) {
  (void)state;
  static const char *const wanted[] = {
    "CNW_A0", "CNL_B0", "pW_A180", "pL_B180", "Rb_A0", "Rb_B0", "Rf_A180", "Rf_B180",
  };
  SHEET(sheet);
  struct sl_rack_wind_out out;
  SHEET_ANEW(sheet);
  assert_int_equal(sl_rack_wind(&rack, &out, &sheet), SL_OK);
  for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
    size_t row = 0;
    while (row < sheet.n && strcmp(sheet.row[row].symbol, wanted[i]) != 0) row++;
    assert_true(row < sheet.n);
  }
}

static const struct sl_velocity_pressure_in site = {
  .speed = 105 * MPH, .edition = "ASCE 7-16", .exposure = SL_EXPOSURE_C, .height = 5 * FT, .elevation = 1080 * FT,
  .topographic = 1,
};

static void pressure_goes_with_the_square(void **state) {
  (void)state;
  struct sl_velocity_pressure_in in = site;
  struct sl_velocity_pressure_out one, two;
  assert_int_equal(sl_velocity_pressure(&in, &one, NULL), SL_OK);
  in.speed *= 2;
  in.topographic = 1.5;
  assert_int_equal(sl_velocity_pressure(&in, &two, NULL), SL_OK);
  assert_near(two.pressure, 6 * one.pressure, 1e-12);
}

static void openness_and_height_raise_it(void **state) {
  (void)state;
  struct sl_velocity_pressure_in in = site;
  struct sl_velocity_pressure_out b, c, d, high, up;
  in.exposure = SL_EXPOSURE_B;
  assert_int_equal(sl_velocity_pressure(&in, &b, NULL), SL_OK);
  in.exposure = SL_EXPOSURE_C;
  assert_int_equal(sl_velocity_pressure(&in, &c, NULL), SL_OK);
  in.exposure = SL_EXPOSURE_D;
  assert_int_equal(sl_velocity_pressure(&in, &d, NULL), SL_OK);
  assert_true(b.pressure < c.pressure && c.pressure < d.pressure);
  in.height = 40 * FT;
  assert_int_equal(sl_velocity_pressure(&in, &high, NULL), SL_OK);
  assert_true(high.pressure > d.pressure);
  in.elevation = 6000 * FT;
  assert_int_equal(sl_velocity_pressure(&in, &up, NULL), SL_OK);
  assert_true(up.pressure < high.pressure);
}

static void above_the_gradient_height_is_refused(void **state) {
  (void)state;
  struct sl_velocity_pressure_in in = site;
  struct sl_velocity_pressure_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.height = 901 * FT;
  assert_int_equal(sl_velocity_pressure(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "height");
  assert_non_null(strstr(sheet.fault.cite, "26.11-1"));
}

static const struct op_case ops[] = {
  { "velocity_pressure", &site }, { "rack_wind", &rack },
};

int main(void) {
  struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, forces, force_matches);
  ADD_ROWS(tests, n, peaks, peak_matches);
  ADD_ROWS(tests, n, refusals, refusal_names_the_figure);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(lever_rule_by_hand), cmocka_unit_test(level_rack_has_no_side_force),
    cmocka_unit_test(least_wind_pushes_at_least_so_much),
    cmocka_unit_test(forces_follow_pressure_and_tributary), cmocka_unit_test(edges_of_the_figure_are_inside),
    cmocka_unit_test(all_four_cases_are_on_the_sheet), cmocka_unit_test(pressure_goes_with_the_square),
    cmocka_unit_test(openness_and_height_raise_it), cmocka_unit_test(above_the_gradient_height_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("wind", tests, n, NULL, NULL);
}
