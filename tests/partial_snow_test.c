/* SPDX-License-Identifier: MIT
 * Snow on some spans of a beam: the table of beams of the reference, put together as ASCE 7, 7.5.1 has it, closed forms
 * of a bay with an overhang, Gerber beams by statics, laws and refusals. */
#include "op_check.h"
#include "stringline/partial_snow.h"

#define COUNT(list) (sizeof list / sizeof *list)
static const double places[] = { 0, 1, 2, 3 };

static struct sl_partial_snow_out solve(const struct sl_partial_snow_in *in) {
  struct sl_partial_snow_out out;
  struct sl_sheet sheet = { .cap = 0 };
  if (sl_partial_snow(in, &out, room_of(sl_partial_snow_need(in)), &sheet) != SL_OK)
    fail_msg("%s %s", sheet.fault.member, sheet.fault.text);
  return out;
}
static struct sl_partial_snow_in spans(int n) {
  return (struct sl_partial_snow_in){ .length = n, .ei = 1, .snow = 1, .supports = places, .nsupports = (size_t)n + 1,
                                      .edition = "ASCE 7-22" };
}

/* Two spans, w = L = 1.  By three moments, w on the left and w/2 on the right: 4 M = -(1/4 + 1/8), M = -3/32; left
 * support 1/2 - 3/32 = 13/32, its span sags (13/32)^2 / 2; the right one 1/4 - 3/32 = 5/32.  All loaded: M = -1/8, ends
 * 3/8 (the table of beams).  Middle: 5/4, and 1.5 - 13/32 - 5/32 = 15/16.  Shear: 5/8. */
static void two_spans(void **state) {
  (void)state;
  const struct sl_partial_snow_in in = spans(2);
  const struct sl_partial_snow_out out = solve(&in);
  assert_near(out.hogging, 0.125, 1e-9);
  assert_near(out.sagging, 13 * 13 / 2048.0, 1e-9);
  assert_near(out.shear, 0.625, 1e-9);
  assert_int_equal(out.pattern, SL_SNOW_EVERYWHERE);
  assert_near(out.supports[0].reaction, 13 / 32.0, 1e-9);
  assert_near(out.supports[0].least, 5 / 32.0, 1e-9);
  assert_near(out.supports[0].balanced, 0.375, 1e-9);
  assert_near(out.supports[1].reaction, 1.25, 1e-9);
  assert_near(out.supports[1].least, 15 / 16.0, 1e-9);
}

/* Three spans, half of all loaded and half of some.  Two beside each other (4 M1 + M2 = -1/2, M1 + 4 M2 = -1/4):
 * M1 = -7/60; all: -1/10; together -13/120; the support 1.15, half of the table's 1.1 and 1.2.  One end (4 M1 + M2 =
 * -1/4, M1 + 4 M2 = 0): M1 = -1/15, end support 13/30; with half of 0.4 it is 5/12, and that span sags (5/12)^2 / 2.
 * Half on one end, all elsewhere, is all less half of that: far end 0.4 - 1/120 = 47/120; the middle span sags most
 * there: M1 = -1/10 + 1/30, M2 = -1/10 - 1/120; between them 1/8 less both halves, and their slant: -7/80 + 1/8 +
 * 1/1152.
 * Two alone: M1 -13/120, M2 -1/15: the same halves. */
static void three_spans(void **state) {
  (void)state;
  struct sl_partial_snow_in in = spans(3);
  struct sl_partial_snow_out out = solve(&in);
  assert_near(out.hogging, 13 / 120.0, 1e-9);
  assert_int_equal(out.pattern, SL_SNOW_HALF_ON_ONE_END);       /* of three spans the same; told by the first */
  assert_int_equal(out.span, 1);
  assert_near(out.sagging, 25 / 288.0, 1e-9);
  assert_near(out.supports[1].reaction, 1.15, 1e-9);
  assert_near(out.supports[2].reaction, 1.15, 1e-9);
  assert_near(out.supports[0].reaction, 5 / 12.0, 1e-9);
  assert_near(out.supports[0].balanced, 0.4, 1e-9);
  assert_near(out.spans[1].sagging, 1 / 8.0 - 7 / 80.0 + 1 / 1152.0, 1e-9);
  /* Other loads lie on all spans: twice their tenth on top, and snow that is none changes nothing. */
  in.load = 2;
  out = solve(&in);
  assert_near(out.hogging, 0.2 + 13 / 120.0, 1e-9);
  in.snow = 0;
  out = solve(&in);
  assert_near(out.hogging, 0.2, 1e-9);
  assert_int_equal(out.pattern, SL_SNOW_EVERYWHERE);
}

/* A bay of L = 4 with an overhang of a = 1.5, w = 2; the overhang is a span.  All on the bay and half beyond: at the
 * overhang w a2 / 4, left support w L / 2 - w a2 / (4 L), the bay sags R2 / (2 w).  Half on the bay and all beyond:
 * w a2 / 2, left w L / 4 - w a2 / (2 L), the least.  The right support is pressed most with snow on all: w (L + a)2 /
 * (2 L).  The tip goes w a (4 a2 L - L3 + 3 a3) / (24 EI) down, by the handbook, for w on all: -L3 of that is the
 * bay's, which lifts it most with all on the bay and half beyond. */
static void overhang(void **state) {
  (void)state;
  const double l = 4, a = 1.5, w = 2, ei = 50, supports[] = { 0, 4 };
  const struct sl_partial_snow_in in = { .length = l + a, .ei = ei, .snow = w, .supports = supports, .nsupports = 2,
                                         .edition = "ASCE 7-16" };
  const struct sl_partial_snow_out out = solve(&in);
  assert_int_equal(out.nspans, 2);
  const double left = w * l / 2 - w * a * a / (4 * l);
  assert_near(out.supports[0].reaction, left, 1e-9);
  assert_near(out.sagging, left * left / (2 * w), 1e-9);
  assert_near(out.supports[0].least, w * l / 4 - w * a * a / (2 * l), 1e-9);
  assert_near(out.supports[1].reaction, w * (l + a) * (l + a) / (2 * l), 1e-9);
  assert_near(out.hogging, w * a * a / 2, 1e-9);
  assert_near(out.spans[1].deflection, w * a * (l * l * l - (4 * a * a * l + 3 * a * a * a) / 2) / (24 * ei), 1e-9);
}

/* What strains places under each pattern.  The two spans above: middle of the left one R / 2 - q / 8, over the middle
 * -1/8 and -3/32; shear beside that the span's load less its end's reaction: all 5/8 both; w on the left 19/32 there
 * and 1/2 - 5/32 right of it; w/2 on the left 11/32 and 19/32.  At the left end no moment, the reaction; at the right
 * one too.  Half on one end: its reactions are those of w on the other. */
static void strains(void **state) {
  (void)state;
  static const double at[] = { 0, 0.5, 1, 1.25, 2 };
  static const struct { int pattern, span; double moment[5], shear[5]; } rows[] = {
    { SL_SNOW_EVERYWHERE, 1, { 0, 0.0625, -0.125, -0.125 + 0.625 / 4 - 1 / 32.0, 0 },
      { 0.375, 0.125, 0.625, 0.375, 0.375 } },
    { SL_SNOW_ON_ONE_END, 1, { 0, 5 / 64.0, -3 / 32.0, -3 / 32.0 + 11 / 128.0 - 1 / 64.0, 0 },
      { 13 / 32.0, 3 / 32.0, 19 / 32.0, 7 / 32.0, 5 / 32.0 } },
    { SL_SNOW_ON_ONE_END, 2, { 0, 1 / 64.0, -3 / 32.0, -3 / 32.0 + 19 / 128.0 - 1 / 32.0, 0 },
      { 5 / 32.0, 3 / 32.0, 19 / 32.0, 11 / 32.0, 13 / 32.0 } },
    { SL_SNOW_HALF_ON_ONE_END, 1, { 0, 1 / 64.0, -3 / 32.0, -3 / 32.0 + 19 / 128.0 - 1 / 32.0, 0 },
      { 5 / 32.0, 3 / 32.0, 19 / 32.0, 11 / 32.0, 13 / 32.0 } },
    { SL_SNOW_HALF_ON_ONE_END, 2, { 0, 5 / 64.0, -3 / 32.0, -3 / 32.0 + 11 / 128.0 - 1 / 64.0, 0 },
      { 13 / 32.0, 3 / 32.0, 19 / 32.0, 7 / 32.0, 5 / 32.0 } },
    { SL_SNOW_ON_TWO, 1, { 0, 0.0625, -0.125, -0.125 + 0.625 / 4 - 1 / 32.0, 0 },
      { 0.375, 0.125, 0.625, 0.375, 0.375 } },
  };
  struct sl_partial_snow_in in = spans(2);
  in.places = at, in.nplaces = COUNT(at);
  struct sl_partial_snow_out out = solve(&in);
  assert_int_equal(out.nstrains, COUNT(rows) * COUNT(at));
  for (size_t i = 0; i < out.nstrains; i++) {
    const struct sl_partial_strain *const s = &out.strains[i];
    const size_t k = i / COUNT(at), place = i % COUNT(at);
    assert_int_equal(s->pattern, rows[k].pattern);
    assert_int_equal(s->span, rows[k].span);
    assert_true(fabs(s->at - at[place]) < 1e-12);
    assert_true(fabs(s->moment - rows[k].moment[place]) < 1e-9);
    assert_near(s->shear, rows[k].shear[place], 1e-9);
  }
  /* Gerber, below: no moment at a hinge, and what hangs there, q2 = 8 x 1 or 4 x 1, is its shear. */
  static const double supports[] = { 0, 4, 8, 12 }, hinged[] = { 5, 7 };
  in = (struct sl_partial_snow_in){ .length = 12, .ei = 1, .snow = 8, .supports = supports, .nsupports = 4,
                                    .hinges = hinged, .nhinges = 2, .places = hinged, .nplaces = 1,
                                    .edition = "ASCE 7-16" };
  out = solve(&in);
  assert_int_equal(out.nstrains, 7);
  for (size_t i = 0; i < out.nstrains; i++) {
    assert_true(fabs(out.strains[i].moment) < 1e-9);
    const bool half = out.strains[i].pattern == SL_SNOW_ON_ONE_END;
    assert_near(out.strains[i].shear, half ? 4 : 8, 1e-9);
  }
}

/* Gerber: three spans of 4, hinges 1 into the middle one from both sides, so that 2 hang between arms of 1; w = 8 or 4.
 * By statics, q on a span: a hinge hands on q2, an arm turns its support by q2 + q2 / 2 = 1.5 q2.  Outer span: end
 * q1 2 - 1.5 q2 / 4, sags by end^2 / (2 q1); support 2 q1 + 2 q2 + 1.5 q2 / 4.
 * All 8: -12, end 13.  One end 8, else 4: -6, end 14.5, sags 14.5^2 / 16 = 13.1406.  One end 4, else 8: -12, end
 * 8 - 3 = 5, the least, and 13 at the other.  Two: 8 and 8, 4: as all, -12, end 13 and 5.  Between the hinges 8 x
 * 2^2 / 8 = 4, with snow on that span.  Support: most 16 + 16 + 3 = 35 (all), least 8 + 8 + 1.5 = 17.5 (8 on the far
 * end). */
static void hinges(void **state) {
  (void)state;
  static const double supports[] = { 0, 4, 8, 12 }, at[] = { 5, 7 };
  struct sl_partial_snow_in in = { .length = 12, .ei = 1, .snow = 8, .supports = supports, .nsupports = 4,
                                   .hinges = at, .nhinges = 2, .edition = "ASCE 7-16" };
  struct sl_partial_snow_out out = solve(&in);
  assert_int_equal(out.nspans, 3);
  assert_near(out.spans[1].from, 4, 1e-12);
  assert_near(out.spans[1].to, 8, 1e-12);
  assert_near(out.hogging, 12, 1e-9);
  assert_near(out.spans[1].sagging, 4, 1e-9);
  assert_near(out.spans[0].sagging, 14.5 * 14.5 / 16, 1e-9);
  assert_near(out.sagging, 14.5 * 14.5 / 16, 1e-9);
  assert_int_equal(out.pattern, SL_SNOW_ON_ONE_END);
  for (size_t i = 0; i < 4; i += 3) {
    assert_near(out.supports[i].reaction, 14.5, 1e-9);
    assert_near(out.supports[i].least, 5, 1e-9);
    assert_near(out.supports[i].balanced, 13, 1e-9);
  }
  for (size_t i = 1; i < 3; i++) {
    assert_near(out.supports[i].reaction, 35, 1e-9);
    assert_near(out.supports[i].least, 17.5, 1e-9);
  }
  /* One hinge, 1 into the second of two spans of 4: 3 hang from it, q2 1.5 is handed on, 1.5 q2 + q2 / 2 = 2 q2 over
   * the support: -16.  8 and 4: end 16 - 8 / 4 = 14, sags 14^2 / 16; 4 and 8: 8 - 4 = 4, the least. */
  in.length = 8, in.nsupports = 3, in.nhinges = 1;
  out = solve(&in);
  assert_near(out.hogging, 16, 1e-9);
  assert_near(out.sagging, 14 * 14 / 16.0, 1e-9);
  assert_near(out.supports[0].reaction, 14, 1e-9);
  assert_near(out.supports[0].least, 4, 1e-9);
  assert_near(out.supports[2].reaction, 12, 1e-9);
  assert_near(out.spans[1].sagging, 8 * 3 * 3 / 8.0, 1e-9);
  /* Over the support, or as near to it as none: two beams by themselves. */
  static const double over[] = { 4 }, nearly[] = { 4 + 4e-5 }, just_before[] = { 4 - 4e-5 };
  const double *const all[] = { over, nearly, just_before };
  for (size_t i = 0; i < COUNT(all); i++) {
    in.hinges = all[i];
    out = solve(&in);
    assert_int_equal(out.nspans, 2);
    assert_near(out.hogging, 0, 1e-9);
    assert_near(out.sagging, 8 * 4 * 4 / 8.0, 1e-9);
    assert_near(out.supports[1].reaction, 32, 1e-9);
    assert_near(out.spans[1].deflection, 5 * 8 * 256 / 384.0, 1e-9);
  }
}

/* A bay of L = 4 with an arm of a = 1, beyond whose hinge 0.03 more go to the last support: so short a piece moves most
 * at the hinge, to which it hands q2 0.015.  By the handbook that goes down by P a^3 / 3 + q2 a^4 / 8 for the arm and
 * by its support's turn, a (M L / 3 - q1 L^3 / 24), M = P a + q2 a^2 / 2: most, upward, with 8 on the bay and 4 beyond
 * it. */
static void hinge_goes_down(void **state) {
  (void)state;
  static const double supports[] = { 0, 4, 5 + 3e-2 }, at[] = { 5 };
  const struct sl_partial_snow_in in = { .length = 5.03, .ei = 1, .snow = 8, .supports = supports, .nsupports = 3,
                                         .hinges = at, .nhinges = 1, .edition = "ASCE 7-16" };
  const struct sl_partial_snow_out out = solve(&in);
  const double handed = 4 * 0.015, turns = handed + 2;
  assert_near(out.spans[1].deflection, 8 * 64 / 24.0 - turns * 4 / 3 - handed / 3 - 4 / 8.0, 1e-6);
}

/* One bay has no neighbour: the closed form w L2 / 8 alone.  More snow is never less of anything; a whole beam of twice
 * the load is twice of all. */
static void laws(void **state) {
  (void)state;
  struct sl_partial_snow_in in = spans(1);
  struct sl_partial_snow_out out = solve(&in);
  assert_near(out.sagging, 0.125, 1e-9);
  assert_int_equal(out.pattern, SL_SNOW_EVERYWHERE);
  assert_near(out.supports[0].least, 0.5, 1e-9);
  static const double unlike[] = { 0.3, 1.1, 2.6, 3.2 };
  struct sl_partial_snow_out before = { .sagging = 0 };
  in = (struct sl_partial_snow_in){ .length = 3.5, .ei = 1, .load = 0.4, .supports = unlike, .nsupports = COUNT(unlike),
                                    .edition = "ASCE 7-16" };
  for (int i = 0; i <= 8; i++) {
    in.snow = 0.25 * i;
    out = solve(&in);
    assert_true(out.sagging >= before.sagging && out.hogging >= before.hogging && out.shear >= before.shear);
    for (size_t k = 0; k < out.nsupports; k++) {
      assert_true(out.supports[k].reaction >= out.supports[k].balanced - 1e-12);
      assert_true(out.supports[k].least <= out.supports[k].balanced + 1e-12);
    }
    before = out;
  }
  const double moment = out.hogging, most = out.supports[1].reaction;
  in.load *= 2;
  in.snow *= 2;
  out = solve(&in);
  assert_near(out.hogging, 2 * moment, 1e-9);
  assert_near(out.supports[1].reaction, 2 * most, 1e-9);
}

static void refusals(void **state) {
  (void)state;
  static const double back[] = { 0, 2, 1 }, beyond[] = { 0, 4 };
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_partial_snow_out out;
  struct sl_partial_snow_in in = spans(3);
  in.nsupports = 1;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "supports");
  in.nsupports = 101;
  assert_int_equal(sl_partial_snow_need(&in), 0);
  in = spans(3);
  in.supports = back, in.nsupports = 3;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  assert_int_equal(sheet.fault.item, 3);
  in.supports = beyond, in.nsupports = 2;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  in = spans(3);
  in.snow = -1;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "snow");
  in = spans(3);
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
  /* Places: too many, beyond the ends. */
  static const double off[] = { 1.5, 3.5 };
  in.nplaces = 1001;
  assert_int_equal(sl_partial_snow_need(&in), 0);
  assert_int_equal(sl_partial_snow(&in, &out, room_of(8), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "places");
  in.places = off, in.nplaces = 2;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "places");
  assert_int_equal(sheet.fault.item, 2);
  in.nplaces = 0;
  /* Hinges: too many, not rising, at an end; two in a bay or one in an overhang, and it is a mechanism. */
  static const double falling[] = { 1.5, 1.2 }, end[] = { 3 }, fold[] = { 1.2, 1.8 }, second[] = { 0, 2 };
  in.nhinges = 101;
  assert_int_equal(sl_partial_snow_need(&in), 0);
  assert_int_equal(sl_partial_snow(&in, &out, room_of(8), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "hinges");
  in.hinges = falling, in.nhinges = 2;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "hinges");
  assert_int_equal(sheet.fault.item, 2);
  in.hinges = end, in.nhinges = 1;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "hinges");
  in = spans(2);
  in.hinges = fold, in.nhinges = 2;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_NO_ANSWER);
  assert_non_null(strstr(sheet.fault.text, "a mechanism"));
  in.length = 3, in.supports = second, in.nsupports = 2, in.hinges = (const double[]){ 2.5 }, in.nhinges = 1;
  assert_int_equal(sl_partial_snow(&in, &out, room_of(sl_partial_snow_need(&in)), &sheet), SL_NO_ANSWER);
  assert_non_null(strstr(sheet.fault.text, "a mechanism"));
}

static const struct sl_partial_snow_in any = { .length = 3.5, .ei = 2e4, .load = 300, .snow = 500, .supports = places,
                                               .nsupports = 4, .edition = "ASCE 7-16" };
static const double turning[] = { 1.3, 2.2 };
static const struct sl_partial_snow_in hinged = { .length = 3.5, .ei = 2e4, .load = 300, .snow = 500,
                                                  .supports = places, .nsupports = 4, .hinges = turning, .nhinges = 2,
                                                  .places = turning, .nplaces = 2,
                                                  .edition = "ASCE 7-16" };
static const struct op_case ops[] = { { "partial_snow", &any }, { "partial_snow", &hinged } };

int main(void) {
  static struct CMUnitTest tests[16];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest others[] = {
    cmocka_unit_test(two_spans), cmocka_unit_test(three_spans), cmocka_unit_test(overhang), cmocka_unit_test(strains),
    cmocka_unit_test(laws), cmocka_unit_test(hinges), cmocka_unit_test(hinge_goes_down), cmocka_unit_test(refusals),
  };
  for (size_t i = 0; i < COUNT(others); i++) tests[n++] = others[i];
  return _cmocka_run_group_tests("partial snow", tests, n, NULL, NULL);
}
