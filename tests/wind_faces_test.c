/* SPDX-License-Identifier: MIT
 * Wind on faces and over hills: the halves of a free roof at printed tilts and between them, by hand; laws, limits of
 * the figures, refusals.  Coefficients: ASCE 7 Fig. 27.3-4 as reprinted (see the table's head).  Further values from
 * outside: outside/wind.case. */
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

/* ---- the free roof ----------------------------------------------------------------------------------------------- */

static struct sl_roof_wind_out roof_of(const struct sl_roof_wind_in *in) {
  struct sl_roof_wind_out out;
  struct sl_sheet sheet = { .cap = 0 };
  if (sl_roof_wind(in, &out, room_of(sl_roof_wind_need(in)), &sheet) != SL_OK)
    fail_msg("%s: %s", sheet.fault.member, sheet.fault.text);
  return out;
}

/* The least and the largest CN of the halves in one flow: at 1 kPa q Kd G CN is 722.5 CN Pa. */
static void flow_matches(const struct sl_roof_wind_out *out, int flow, double up, double down) {
  double least = 0, most = 0;
  size_t n = 0;
  for (size_t i = 0; i < out->ncases; i++) {
    const struct sl_roof_case *c = &out->cases[i];
    if (fabs(c->flow - flow - 1) > 1e-12) continue;
    least = fmin(least, fmin(c->low, c->high));
    most = fmax(most, fmax(c->low, c->high));
    n++;
  }
  assert_int_equal(n, 4);
  assert_near(-least, up * 722.5, 1e-9);
  assert_near(most, down * 722.5, 1e-9);
}

/* Half way from 30 to 37.5 deg: (2.5 + 2.4)/2, (2.6 + 2.7)/2; obstructed (2.3 + 2.2)/2, (1.6 + 1.9)/2. */
static const struct peak { const char *name; double tilt, up, down, blocked_up, blocked_down; } peaks[] = {
  { "peak at 30 deg: as printed", 30, 2.5, 2.6, 2.3, 1.6 },
  { "peak at 33.75 deg: half way to 37.5", 33.75, 2.45, 2.65, 2.25, 1.75 },
  { "peak at 45 deg: the last row", 45, 2.3, 2.6, 1.9, 2.1 },
  { "peak at 7.5 deg: as printed", 7.5, 1.4, 1.6, 1.7, 0.8 },
  { "peak at 7 deg: the level row, no interpolation", 7, 1.1, 1.2, 1.2, 0 },
  { "peak when level", 0, 1.1, 1.2, 1.2, 0 },
};
static void peak_matches(void **state) {
  const struct peak *r = *state;
  struct sl_roof_wind_in in = roof;
  in.tilt = r->tilt * DEGREE;
  const struct sl_roof_wind_out out = roof_of(&in);
  flow_matches(&out, SL_FLOW_CLEAR, r->up, r->down);
  flow_matches(&out, SL_FLOW_OBSTRUCTED, r->blocked_up, r->blocked_down);
  assert_near(out.peak_up, fmax(r->up, r->blocked_up) * 722.5, 1e-9);
  assert_near(out.peak_down, fmax(r->down, r->blocked_down) * 722.5, 1e-9);
}

/* 30 deg as printed, windward and leeward: the high edge to the wind has its windward half above, the low one below. */
static const struct roof_half { const char *name; int letter, to_wind, flow; double windward, leeward; } halves[] = {
  { "30 deg, clear, A, high edge", 1, 1, 1, -1.8, -1.8 },
  { "30 deg, clear, B, high edge", 2, 1, 1, -2.5, -0.5 },
  { "30 deg, clear, A, low edge", 1, 2, 1, 2.1, 2.1 },
  { "30 deg, clear, B, low edge", 2, 2, 1, 2.6, 1.0 },
  { "30 deg, obstructed, A, high edge", 1, 1, 2, -1.5, -1.8 },
  { "30 deg, obstructed, B, high edge", 2, 1, 2, -2.3, -1.1 },
  { "30 deg, obstructed, A, low edge", 1, 2, 2, 0.6, -1.0 },
  { "30 deg, obstructed, B, low edge", 2, 2, 2, 1.6, 0.1 },
};
static void half_matches(void **state) {
  const struct roof_half *r = *state;
  const struct sl_roof_wind_out out = roof_of(&roof);
  const struct sl_roof_case *c = &out.cases[r - halves];       /* in this order, as the header says */
  assert_near(c->letter, r->letter, 1e-12);
  assert_near(c->to_wind, r->to_wind, 1e-12);
  assert_near(c->flow, r->flow, 1e-12);
  assert_near(r->to_wind == 1 ? c->high : c->low, r->windward * 722.5, 1e-9);
  assert_near(r->to_wind == 1 ? c->low : c->high, r->leeward * 722.5, 1e-9);
}

static const struct refusal { const char *name; double tilt, height; const char *member; } refusals[] = {
  { "refused: 46 deg", 46, 2, "tilt" },
  { "refused: h/L 0.20", 30, 0.2 * 4 * 0.8660254, "mean_height" },
  { "refused: h/L 1.05", 30, 1.05 * 4 * 0.8660254, "mean_height" },
};
static void refusal_names_the_figure(void **state) {
  const struct refusal *r = *state;
  struct sl_roof_wind_in in = roof;
  struct sl_roof_wind_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.tilt = r->tilt * DEGREE;
  in.mean_height = r->height;
  assert_int_equal(sl_roof_wind(&in, &out, room_of(sl_roof_wind_need(&in)), &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, r->member);
  assert_non_null(strstr(sheet.fault.cite, "27.3-4"));
}

static void edges_of_the_figure_are_inside(void **state) {
  (void)state;
  struct sl_roof_wind_in in = roof;
  in.mean_height = 0.25 * 4 * cos(in.tilt);
  assert_int_equal(roof_of(&in).ncases, 8);
  in.mean_height = 4 * cos(in.tilt);
  assert_int_equal(roof_of(&in).ncases, 8);
}

/* ASCE 7 27.1.5, from memory: 16 psf on the area seen from the front, however little or much the wind presses. */
static void least_wind_is_there_in_any_wind(void **state) {
  (void)state;
  static const double pressures[] = { 1, 100, 500, 5000 };
  struct sl_roof_wind_in in = roof;
  for (size_t i = 0; i < sizeof pressures / sizeof *pressures; i++) {
    in.velocity_pressure = pressures[i];
    assert_near(roof_of(&in).least, 16 * PSF, 1e-9);
  }
}

static void every_case_is_on_the_sheet(void **state) {
  (void)state;
  static const char *const wanted[] = { "flow", "edge", "letter", "CNWa", "CNWb", "CNLa", "CNLb", "pW", "pL", "p_low",
                                        "p_high" };
  SHEET(sheet);
  struct sl_roof_wind_out out;
  SHEET_ANEW(sheet);
  assert_int_equal(sl_roof_wind(&roof, &out, room_of(sl_roof_wind_need(&roof)), &sheet), SL_OK);
  for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
    size_t times = 0;
    for (size_t row = 0; row < sheet.n; row++)
      if (strcmp(sheet.row[row].symbol, wanted[i]) == 0) times++;
    assert_int_equal(times, 8);
  }
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

/* ---- other faces ------------------------------------------------------------------------------------------------- */

static void figures_end(void **state) {
  (void)state;
  static double room[64];
  const struct sl_space space = { room, sizeof room };
  struct sl_sheet sheet = { .cap = 0 };
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
  struct CMUnitTest tests[40];
  size_t n = 0;
  ADD_ROWS(tests, n, peaks, peak_matches);
  ADD_ROWS(tests, n, halves, half_matches);
  ADD_ROWS(tests, n, refusals, refusal_names_the_figure);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(hills_end_where_the_figure_does), cmocka_unit_test(pressures_follow_the_wind),
    cmocka_unit_test(edges_of_the_figure_are_inside), cmocka_unit_test(least_wind_is_there_in_any_wind),
    cmocka_unit_test(every_case_is_on_the_sheet),
    cmocka_unit_test(figures_end), cmocka_unit_test(strips_cover_the_face),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("wind faces", tests, n, NULL, NULL);
}
