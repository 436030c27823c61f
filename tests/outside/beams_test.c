/* SPDX-License-Identifier: MIT
 * Beams against the table of coefficients that the project was given (uniform load, equal spans): read from a published
 * table for all spans loaded, a three-moment solution for partial loading; further closed forms of handbooks. */
#include "../check.h"
#include "../room.h"
#include "stringline/beam.h"

#define COUNT(list) (sizeof list / sizeof *list)
enum { MOST = 8 };
static const double places[MOST] = { 0, 1, 2, 3, 4, 5, 6, 7 };

static struct sl_beam_out beam(const struct sl_beam_in *in) {
  struct sl_beam_out out;
  struct sl_sheet sheet = { .cap = 0 };
  if (sl_beam(in, &out, room_of(sl_beam_need(in)), &sheet) != SL_OK) fail_msg("%s %s", sheet.fault.member,
                                                                             sheet.fault.text);
  return out;
}
/* w = L = EI = 1. Digits as printed: half of the last. */
static const struct equal {
  const char *name;
  int spans;
  unsigned loaded;                                     /* bit i: span i */
  double reactions[MOST], moments[MOST], span[MOST], deflection;
} equals[] = {
  { "simple 1 span", 1, 1, { .5, .5 }, { 0 }, { .125 }, .013021 },
  { "2 equal spans all loaded", 2, 3, { .375, 1.25, .375 }, { 0, -.125 }, { .0703, .0703 }, .00542 },
  { "3 equal spans all loaded", 3, 7, { .4, 1.1, 1.1, .4 }, { 0, -.1, -.1 }, { .08, .025, .08 }, .00688 },
  { "4 equal spans all loaded", 4, 15, { .3929, 1.1429, .9286, 1.1429, .3929 }, { 0, -.1071, -.0714, -.1071 },
    { .0772, .0364, .0364, .0772 }, .00646 },
  { "5 equal spans all loaded", 5, 31, { .3947, 1.1316, .9737, .9737, 1.1316, .3947 },
    { 0, -.1053, -.0789, -.0789, -.1053 }, { .0779, .0332, .0461, .0332, .0779 }, .00657 },
  { "2 spans, one loaded", 2, 1, { .4375, .625, -.0625 }, { 0, -.0625 }, { .0957, 0 }, .00915 },
  { "3 spans, ends loaded", 3, 5, { .45, .55, .55, .45 }, { 0, -.05, -.05 }, { .1013, 0, .1013 }, .00992 },
  { "3 spans, middle loaded", 3, 2, { -.05, .55, .55, -.05 }, { 0, -.05, -.05 }, { 0, .075, 0 }, .00677 },
  { "3 spans, two adjacent loaded", 3, 3, { .3833, 1.2, .45, -.0333 }, { 0, -.1167, -.0333 }, { .0735, .0535, 0 },
    .0059 },
};
static void equal_matches(void **state) {
  const struct equal *r = *state;
  double from[MOST], to[MOST], load[MOST];
  size_t n = 0;
  for (int i = 0; i < r->spans; i++)
    if (r->loaded >> i & 1) from[n] = i, to[n] = i + 1, load[n++] = 1;
  const struct sl_beam_in in = { .length = r->spans, .ei = 1, .supports = places, .nsupports = (size_t)r->spans + 1,
                                 .patch_from = from, .npatch_from = n, .patch_to = to, .npatch_to = n,
                                 .patch_load = load, .npatch_load = n };
  const struct sl_beam_out out = beam(&in);
  assert_int_equal(out.nspans, r->spans);
  for (int i = 0; i <= r->spans; i++) {
    assert_true(fabs(out.supports[i].reaction - r->reactions[i]) < 0.00005001);
    assert_true(fabs(out.supports[i].moment - r->moments[i]) < 0.00005001);
  }
  for (int i = 0; i < r->spans; i++) assert_true(fabs(out.spans[i].sagging - r->span[i]) < 0.00005001);
  assert_true(fabs(out.deflection - r->deflection) < 0.00000501);
}

/* 6 and 7 spans: Clapeyron's M(i-1) + 4 M(i) + M(i+1) = -1/2, eliminated by hand from the left. */
static void three_moments(void **state) {
  (void)state;
  for (int spans = 6; spans <= 7; spans++) {
    double c[MOST] = { 0 }, d[MOST] = { 0 }, m[MOST + 1] = { 0 };
    for (int i = 1; i < spans; i++) {
      c[i] = 1 / (4 - c[i - 1]);
      d[i] = (-0.5 - d[i - 1]) * c[i];
    }
    for (int i = spans - 1; i > 0; i--) m[i] = d[i] - c[i] * m[i + 1];
    const struct sl_beam_in in = { .length = spans, .ei = 3, .load = 1, .supports = places,
                                   .nsupports = (size_t)spans + 1 };
    const struct sl_beam_out out = beam(&in);
    for (int i = 0; i <= spans; i++) {
      const double right = i < spans ? 0.5 + m[i + 1] - m[i] : 0, left = i > 0 ? 0.5 + m[i - 1] - m[i] : 0;
      assert_true(fabs(out.supports[i].moment - m[i]) < 1e-9);
      assert_near(out.supports[i].reaction, left + right, 1e-9);
    }
  }
}

/* Rows from memory of the same table. */
static void overhang(void **state) {                   /* L = 4, a = 1.5, w = 300, EI = 2e4 */
  (void)state;
  const double l = 4, a = 1.5, w = 300, ei = 2e4, supports[] = { 0, 4 };
  const struct sl_beam_in in = { .length = 5.5, .ei = ei, .load = w, .supports = supports, .nsupports = 2 };
  const struct sl_beam_out out = beam(&in);
  assert_int_equal(out.nspans, 2);
  assert_near(out.supports[0].reaction, w * (l * l - a * a) / (2 * l), 1e-9);
  assert_near(out.supports[1].reaction, w * (l + a) * (l + a) / (2 * l), 1e-9);
  assert_near(out.hogging, w * a * a / 2, 1e-9);
  assert_near(out.sagging, w * pow(l + a, 2) * pow(l - a, 2) / (8 * l * l), 1e-9);
  const double tip = w * a * (4 * a * a * l - l * l * l + 3 * a * a * a) / (24 * ei);
  assert_true(out.spans[1].deflection >= fabs(tip) - 1e-12);
}
static void cantilevers(void **state) {                /* w L2 / 2, w L4 / (8 EI); P L, P L3 / (3 EI); L = 3 */
  (void)state;
  const double foot[] = { 0 }, at[] = { 3 }, p[] = { 50 };
  struct sl_beam_in in = { .length = 3, .ei = 1000, .load = 20, .held_first = true, .supports = foot, .nsupports = 1 };
  struct sl_beam_out out = beam(&in);
  assert_near(out.supports[0].moment, -90, 1e-9);
  assert_near(out.deflection, 20 * 81 / 8000.0, 1e-9);
  in.load = 0;
  in.point_at = at, in.npoint_at = 1, in.point_load = p, in.npoint_load = 1;
  out = beam(&in);
  assert_near(out.hogging, 150, 1e-9);
  assert_near(out.deflection, 50 * 27 / 3000.0, 1e-9);
}
static void two_forces(void **state) {                 /* simple, two P at a: P a, P a (3 L2 - 4 a2) / (24 EI) */
  (void)state;
  const double supports[] = { 0, 6 }, at[] = { 2, 4 }, p[] = { 100, 100 };
  const struct sl_beam_in in = { .length = 6, .ei = 1000, .supports = supports, .nsupports = 2, .point_at = at,
                                 .npoint_at = 2, .point_load = p, .npoint_load = 2 };
  const struct sl_beam_out out = beam(&in);
  assert_near(out.sagging, 200, 1e-9);
  assert_near(out.shear, 100, 1e-9);
  assert_near(out.deflection, 100 * 2 * (108 - 16) / 24000.0, 1e-9);
}
/* A hinge in the second of two spans of 4 and 6, one metre from the middle support: by statics the hung part's
 * reaction is w 5 / 2, the moment over the middle -(w 5 / 2 x 1 + w / 2). */
static void hinges(void **state) {
  (void)state;
  const double supports[] = { 0, 4, 10 }, one[] = { 5 }, two[] = { 2, 5 };
  struct sl_beam_in in = { .length = 10, .ei = 1000, .load = 10, .supports = supports, .nsupports = 3, .hinges = one,
                           .nhinges = 1 };
  const struct sl_beam_out out = beam(&in);
  assert_near(out.supports[2].reaction, 25, 1e-9);
  assert_near(out.supports[1].moment, -30, 1e-9);
  in.hinges = two;
  in.nhinges = 2;
  struct sl_beam_out none;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_beam(&in, &none, room_of(sl_beam_need(&in)), &sheet), SL_NO_ANSWER);
  assert_non_null(strstr(sheet.fault.text, "a mechanism"));
  in.nhinges = 1;
  assert_int_equal(sl_beam(&in, &none, room_of(sl_beam_need(&in) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
}

int main(void) {
  static struct CMUnitTest tests[20];
  size_t n = 0;
  ADD_ROWS(tests, n, equals, equal_matches);
  static const struct CMUnitTest others[] = {
    cmocka_unit_test(three_moments), cmocka_unit_test(overhang), cmocka_unit_test(cantilevers),
    cmocka_unit_test(two_forces), cmocka_unit_test(hinges),
  };
  for (size_t i = 0; i < COUNT(others); i++) tests[n++] = others[i];
  return _cmocka_run_group_tests("beams", tests, n, NULL, NULL);
}
