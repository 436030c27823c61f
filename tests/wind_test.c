/* SPDX-License-Identifier: MIT
 * Velocity pressure of the wind: laws and refusals.  Values from outside: outside/wind.case. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/wind.h"

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

static const struct op_case ops[] = { { "velocity_pressure", &site } };

int main(void) {
  struct CMUnitTest tests[8];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(pressure_goes_with_the_square), cmocka_unit_test(openness_and_height_raise_it),
    cmocka_unit_test(above_the_gradient_height_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("wind", tests, n, NULL, NULL);
}
