/* SPDX-License-Identifier: MIT
 * Loads square to a slope and what of them a rail carries: worked by hand, laws and refusals. */
#include "op_check.h"
#include "us.h"
#include "stringline/slope_loads.h"

#define COUNT(list) (sizeof list / sizeof *list)

/* 100 ft2 of slope at 30 deg, 300 lbf of which 250 are modules, snow 20 psf of plan, wind 40 psf down, 50 psf up. */
static const struct sl_slope_loads_in table = {
  .tilt = 30 * DEGREE, .area = 100 * FT * FT, .weight = 300 * LBF, .weight_least = 250 * LBF, .snow = 20 * PSF,
  .push = 40 * PSF, .lift = 50 * PSF, .edition = "ASCE 7-16",
};
static const double two[] = { 20 * IN, 50 * IN }, five[] = { 10 * IN, 30 * IN, 60 * IN, 80 * IN, 100 * IN };
static const struct sl_rail_share_in share = { 68 * IN, 1, 0, two, COUNT(two) };

/* By hand, ASCE 7 2.4.1.  D 3 cos 30 = 2.5981, without what is no module 2.1651, S 20 x 0.75 = 15 psf.
 * Weight alone 2.5981.  D + S 17.5981.  D + 0.6W pressed 26.5981, D + 0.75 (0.6W) + 0.75S pressed 2.5981 + 18 + 11.25 =
 * 31.8481.  0.6D + 0.6W lifted 30 - 0.6 x 2.1651 = 28.7010. */
static void by_hand(void **state) {
  (void)state;
  struct sl_slope_loads_out out;
  assert_int_equal(sl_slope_loads(&table, &out, room_of(sl_slope_loads_need(&table)), NULL), SL_OK);
  assert_near(out.press / PSF, 31.8481, 1e-5);
  assert_string_equal(out.press_combination, "D + 0.75(0.6W) + 0.75S");
  assert_near(out.lift / PSF, 28.7010, 1e-5);
  assert_string_equal(out.lift_combination, "0.6D + 0.6W");
  assert_int_equal(out.nlasting, 3);
  static const double want[] = { 2.5981, 17.5981, 31.8481 };
  for (int i = 0; i < 3; i++) {
    assert_int_equal(out.lasting[i].duration, i);
    assert_near(out.lasting[i].load / PSF, want[i], 2e-5);
  }
  /* The two with snow, what of each is snow: 15, and three quarters of it. */
  assert_int_equal(out.nsnowed, 2);
  static const double others[] = { 2.5981, 20.5981 }, snow[] = { 15, 11.25 };
  for (int i = 0; i < 2; i++) {
    assert_int_equal(out.snowed[i].duration, i + 1);
    assert_near(out.snowed[i].others / PSF, others[i], 2e-5);
    assert_near(out.snowed[i].snow / PSF, snow[i], 1e-9);
  }
  assert_string_equal(out.snowed[1].combination, "D + 0.75(0.6W) + 0.75S");
  struct sl_slope_loads_in bare = table;
  bare.snow = 0;
  assert_int_equal(sl_slope_loads(&bare, &out, room_of(sl_slope_loads_need(&bare)), NULL), SL_OK);
  assert_int_equal(out.nsnowed, 0);
}

/* With twice the lift what lifts is the most of all that lasts as wind: 60 - 1.2990 = 58.7010 psf up. */
static void lift_may_govern(void **state) {
  (void)state;
  struct sl_slope_loads_in in = table;
  struct sl_slope_loads_out out;
  in.lift *= 2;
  assert_int_equal(sl_slope_loads(&in, &out, room_of(sl_slope_loads_need(&in)), NULL), SL_OK);
  assert_near(out.lasting[2].load / PSF, -58.7010, 1e-5);
  assert_string_equal(out.lasting[2].combination, "0.6D + 0.6W");
  assert_near(out.press / PSF, 31.8481, 1e-5);
}

/* The same for a crossing that carries 10 of these 100 ft2, with a least wind of 16 psf: what is known square to the
 * slope is what slope_loads gives, by the square foot.  By hand, steeper: at 60 deg D + S slides with 10 x (3 + 20 x
 * cos 60) x sin 60 = 112.58 lbf, which at 0 deg is none. */
static const struct sl_crossing_loads_in crossing = {
  .tilt = 30 * DEGREE, .area = 100 * FT * FT, .weight = 300 * LBF, .weight_least = 250 * LBF, .snow = 20 * PSF,
  .push = 40 * PSF, .lift = 50 * PSF, .least = 16 * PSF, .carried = 10 * FT * FT, .edition = "ASCE 7-16",
};
static void a_crossing_has_its_share_of_the_slope(void **state) {
  (void)state;
  struct sl_slope_loads_out square;
  struct sl_crossing_loads_out out;
  assert_int_equal(sl_slope_loads(&table, &square, room_of(sl_slope_loads_need(&table)), NULL), SL_OK);
  const double press = square.press, lift = square.lift;
  struct sl_crossing_loads_in in = crossing;
  in.least = 0;
  assert_int_equal(sl_crossing_loads(&in, &out, room_of(sl_crossing_loads_need(&in)), NULL), SL_OK);
  double up = -INFINITY, down = -INFINITY;
  for (size_t i = 0; i < out.nrows; i++) {
    up = fmax(up, out.rows[i].lift);
    down = fmax(down, -out.rows[i].lift);
    if (out.rows[i].wind == SL_NO_WIND) assert_true(out.rows[i].duration != SL_LASTS_AS_WIND);
  }
  assert_near(up, lift * in.carried, 1e-9);
  assert_near(down, press * in.carried, 1e-9);
  in.tilt = 60 * DEGREE;
  assert_int_equal(sl_crossing_loads(&in, &out, room_of(sl_crossing_loads_need(&in)), NULL), SL_OK);
  assert_near(out.rows[1].along / LBF, 112.583, 1e-5);
  in.tilt = 0;
  assert_int_equal(sl_crossing_loads(&in, &out, room_of(sl_crossing_loads_need(&in)), NULL), SL_OK);
  for (size_t i = 0; i < out.nrows; i++) assert_near(out.rows[i].along + 1, 1, 1e-12);
}

/* By hand, inches.  A module of 68 on rails at 20 and 50: its middle at 34 is 14 over the lower rail, of 30 between
 * them: upper 68 x 14/30 = 31.733, lower 36.267.  At its ends: half each.  On one rail: all.  On rails at 10, 30, 60,
 * 80 and 100 of 110: to 20, 20 to 45, 45 to 70, 70 to 90, 90 to 110: the most is 25.  Two rows of 50, 10 apart: the
 * lower on 10 and 30: its middle at 25: 50 x 15/20 = 37.5; the upper, 60 to 110, on 60, 80 and 100: 10, 20 and 20.  Two
 * rows of 28, 2 apart, on rails at 10 and at 30 and 60: the lower whole on the first, 28, and the upper on the next. */
static const struct shared { const char *name; struct sl_rail_share_in in; double want; } shares[] = {
  { "share: two rails", { 68 * IN, 1, 0, two, 2 }, 36.266667 },
  { "share: two rails at the ends of a module", { 30 * IN, 1, 0, (const double[]){ 0, 30 * IN }, 2 }, 15 },
  { "share: one rail", { 68 * IN, 1, 0, two, 1 }, 68 },
  { "share: five rails", { 110 * IN, 1, 0, five, 5 }, 25 },
  { "share: two rows, two rails and three", { 50 * IN, 2, 10 * IN, five, 5 }, 37.5 },
  { "share: two rows, a rail each", { 28 * IN, 2, 2 * IN, (const double[]){ 10 * IN, 30 * IN, 60 * IN }, 3 }, 28 },
};
static void shared_as_by_hand(void **state) {
  const struct shared *r = *state;
  struct sl_rail_share_out out;
  assert_int_equal(sl_rail_share(&r->in, &out, NULL), SL_OK);
  assert_near(out.height / IN, r->want, 1e-7);
}

/* 40 psf on 10 x 20 ft are 8000 lbf; a row that rises 3 for 4 has a sine of 0.6, modules at 60 deg a cosine of 0.5.  In
 * vectors, for any row and tilt: the row lies along (4, 0, 3) / 5; square to it and to level (-3, 0, 4) / 5 is turned
 * about it by the tilt, to cos x that - sin x (0, 1, 0), whose part along the plan of the row is that of its x. */
static const struct sl_slant_case winds[] = { { 20 * PSF, 10 * PSF }, { -30 * PSF, -50 * PSF } };
static const struct sl_slant_wind_in slant = { winds, COUNT(winds), 10 * FT, 20 * FT, 0.75, 60 * DEGREE };
static void along_a_row_that_slopes(void **state) {
  (void)state;
  struct sl_slant_wind_in in = slant;
  struct sl_slant_wind_out out;
  assert_int_equal(sl_slant_wind(&in, &out, NULL), SL_OK);
  assert_near(out.square, 8000 * LBF, 1e-9);
  assert_near(out.along, 2400 * LBF, 1e-9);
  in.rise = -0.75;                                      /* downhill alike */
  in.tilt = 35 * DEGREE;
  assert_int_equal(sl_slant_wind(&in, &out, NULL), SL_OK);
  assert_near(out.along, 8000 * LBF * cos(35 * DEGREE) * 3 / 5, 1e-9);
  in.rise = 0;
  assert_int_equal(sl_slant_wind(&in, &out, NULL), SL_OK);
  assert_near(out.along, 0, 1e-9);
}

static void refusals(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_rail_share_out height;
  struct sl_rail_share_in rail = share;
  rail.rails = (const double[]){ 70 * IN, 80 * IN };
  assert_int_equal(sl_rail_share(&rail, &height, &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "rails");
  rail.rails = (const double[]){ 20 * IN, 20 * IN };
  assert_int_equal(sl_rail_share(&rail, &height, &sheet), SL_BAD_INPUT);
  struct sl_slant_wind_in none = slant;
  struct sl_slant_wind_out along;
  none.nwinds = 0;
  assert_int_equal(sl_slant_wind(&none, &along, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "winds");
  struct sl_slope_loads_out out;
  struct sl_slope_loads_in in = table;
  in.weight_least = 301 * LBF;
  assert_int_equal(sl_slope_loads(&in, &out, room_of(sl_slope_loads_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "weight_least");
}

static const struct op_case ops[] = { { "slope_loads", &table }, { "crossing_loads", &crossing },
                                      { "rail_share", &share }, { "slant_wind", &slant } };

int main(void) {
  struct CMUnitTest tests[16];
  size_t n = 0;
  ADD_ROWS(tests, n, shares, shared_as_by_hand);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(by_hand), cmocka_unit_test(lift_may_govern),
    cmocka_unit_test(a_crossing_has_its_share_of_the_slope), cmocka_unit_test(along_a_row_that_slopes),
    cmocka_unit_test(refusals),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("slope_loads", tests, n, NULL, NULL);
}
