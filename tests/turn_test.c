/* SPDX-License-Identifier: MIT
 * Turned modules, braces, and what people lift and reach: jobs worked by hand (common practice, no source), right
 * triangles, and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/brace.h"
#include "stringline/lift.h"
#include "stringline/turn.h"

static const struct turn {
  const char *name;
  struct sl_turned_in in;
  double unit, half, edge, top, pivot, line, from_pivot;
} turns[] = {
  /* sin 30 = 1/2, sin 60 = 0.8660254: the pivot at 0.6 + 0.25 x 4 x 0.5 - 0.2 x 0.8660254 = 0.9268; at 60 deg the edge
   * at 0.9268 - 0.8660 + 0.1 = 0.1608, the top 4 x 0.8660 above it, the other line 2 x 0.8660 above the pivot. */
  { "turned from 30 to 60 deg", { 4, 30 * DEGREE, 0.6, 0.2, 0.25, 0.75, 60 * DEGREE },
    1, 0.00005, 0.1608, 3.6249, 0.9268, 2.6588, 1 },
  /* By the same sums, about the upper line: 0.6 + 1.5 - 0.1732 = 1.9268; 1.9268 - 3 x 0.8660 + 0.1 = -0.5713. */
  { "turned about the upper line, into the ground", { 4, 30 * DEGREE, 0.6, 0.2, 0.75, 0.25, 60 * DEGREE },
    1, 0.00005, -0.5713, 2.8928, 1.9268, 0.1947, -1 },
  { "turned from upright to level", { 4, 90 * DEGREE, 1, 0, 0, 1, 0 }, 1, 1e-9, 1, 1, 1, 1, 4 },
  /* The off-grid job turned for the summer: the front bearing is 64.33 in by the brief; 0.2 x 135.51 x 0.57358 = 15.55
   * off and 10.236 x 0.81915 = 8.38 on is 57.17 in; 135.51 x 0.57358 = 77.73 above it is 134.90 in; the back line
   * 0.6 x 77.73 = 46.64 above the front; 0.6 x 135.51 x 0.81915 = 66.60 behind it. */
  { "turned, off-grid, 55 to 35 deg", { 3442 * MM, 55 * DEGREE, 48 * IN, 260 * MM, 0.2, 0.8, 35 * DEGREE },
    IN, 0.0151, 57.17, 134.90, 64.33, 110.97, 66.60 },
};

static void turn_matches(void **state) {
  const struct turn *r = *state;
  struct sl_turned_out out;
  assert_int_equal(sl_turned(&r->in, &out, NULL), SL_OK);
  assert_near(out.turned_edge / r->unit - r->edge, 0, r->half);
  assert_near(out.turned_top / r->unit - r->top, 0, r->half);
  assert_near(out.pivot_height / r->unit - r->pivot, 0, r->half);
  assert_near(out.line_height / r->unit - r->line, 0, r->half);
  assert_near(out.from_pivot / r->unit - r->from_pivot, 0, r->half);
  assert_near(out.middle, (out.turned_edge + out.turned_top) / 2, 1e-12);
}

/* 1 x 0.8660 + 0.1 = 0.9660 behind the edge at 30 deg, 0.5 + 0.1732 = 0.6732 at 60: the edge goes 0.2928 uphill. */
static void the_edge_moves_in_plan(void **state) {
  (void)state;
  struct sl_turned_out out;
  assert_int_equal(sl_turned(&turns[0].in, &out, NULL), SL_OK);
  assert_near(out.moved - 0.2928, 0, 0.00005);
}

static void the_built_tilt_changes_nothing(void **state) {
  (void)state;
  struct sl_turned_in in = turns[3].in;
  in.to = in.tilt;
  struct sl_turned_out out;
  assert_int_equal(sl_turned(&in, &out, NULL), SL_OK);
  assert_near(out.turned_edge, in.lower_edge, 1e-12);
  assert_near(out.moved, 0, 1e-12);
  assert_near(out.turned_top, in.lower_edge + in.slope_length * sin(in.tilt), 1e-12);
}

/* A rafter gets no longer by being turned. */
static void lines_stay_as_far_apart(void **state) {
  (void)state;
  struct sl_turned_in in = turns[0].in;
  for (int i = 0; i <= 90; i += 15) {
    in.to = i * DEGREE;
    struct sl_turned_out out;
    assert_int_equal(sl_turned(&in, &out, NULL), SL_OK);
    assert_near(hypot(out.from_pivot, out.line_height - out.pivot_height), 0.5 * 4, 1e-12);
    assert_near(out.pivot_height, 0.6 + 0.5 - 0.2 * cos(30 * DEGREE), 1e-12);
  }
}

/* From 30 to 60 deg 2 m of rafter behind the pivot: 2 (sin 60 - sin 30) = 0.7321 up, as much forward; the chord of 30
 * deg is 4 sin 15 = 1.0353.  Back to 0: 2 sin 30 = 1 down.  4 m at 60 deg are 2 m deep. */
static void a_leg_is_the_chord(void **state) {
  (void)state;
  struct sl_turned_in in = turns[0].in;
  struct sl_turned_out out;
  assert_int_equal(sl_turned(&in, &out, NULL), SL_OK);
  assert_near(out.leg_rise - 0.7321, 0, 0.00005);
  assert_near(out.leg_run + 0.7321, 0, 0.00005);
  assert_near(out.leg - 1.0353, 0, 0.00005);
  assert_near(out.depth, 2, 1e-12);
  in.to = 0;
  assert_int_equal(sl_turned(&in, &out, NULL), SL_OK);
  assert_near(out.leg_rise, -1, 1e-12);
  in.to = in.tilt;
  assert_int_equal(sl_turned(&in, &out, NULL), SL_OK);
  assert_near(out.leg, 0, 1e-12);
}

static const struct piece {
  const char *name;
  struct sl_brace_in in;
  double length, angle;                  /* in the unit of `in`; in degrees */
} pieces[] = {
  { "brace 3-4-5, nothing past the bolts", { 4, 0, 1, 2, 4.5, 0.5, 0, 0 }, 5, 36.8699 },
  { "brace 5-12-13 with 0.1 past each bolt", { 12, 0.5, 0.5, 9, 6.25, 0.25, 0, 0.1 }, 13.2, 22.6199 },
  { "brace downhill, 8-15-17", { 15, 10, 0, 12, 4, 2, 1, 0 }, 17, -28.0725 },
  { "brace level", { 2, 0, 1, 1, 1, 0, 0.5, 0.05 }, 2.1, 0 },
};

static void piece_matches(void **state) {
  const struct piece *r = *state;
  struct sl_brace_out out;
  assert_int_equal(sl_brace(&r->in, &out, NULL), SL_OK);
  assert_near(out.length, r->length, 1e-12);
  assert_near(out.angle / DEGREE - r->angle, 0, 0.00005);
  assert_near(out.bolts, r->length - 2 * r->in.past, 1e-12);
  assert_near(out.foot, r->in.foot_ground + r->in.low, 1e-12);
  assert_near(out.head, r->in.head_top - r->in.high, 1e-12);
}

static const struct none { const char *name; struct sl_brace_in in; const char *text; } nones[] = {
  { "refused, foot above its post", { 4, 0, 3, 2, 4, 0.5, 0, 0 }, "below the bolt at its foot" },
  { "refused, head under the ground", { 4, 0, 1, 2, 4, 3.5, 1, 0 }, "more than its post stands above the ground" },
};

static void piece_is_refused(void **state) {
  const struct none *r = *state;
  struct sl_brace_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_brace(&r->in, &out, &sheet), SL_BAD_INPUT);
  assert_non_null(strstr(sheet.fault.text, r->text));
}

/* Two lift 100 lb at 50 lb each, three a hair more; one lifts what weighs nothing. */
static const struct load { const char *name; double mass, each; int people; } loads[] = {
  { "lift, two share it alike", 100, 50, 2 }, { "lift, a hair more wants a third", 100.001, 50, 3 },
  { "lift, 28.5 kg by 25 kg", 28.5, 25, 2 }, { "lift, light", 0, 50, 1 },
  { "lift, thirds that do not add up", 0.3, 0.1, 3 },
};

static void load_matches(void **state) {
  const struct load *r = *state;
  const struct sl_lift_in in = { r->mass, r->each };
  struct sl_lift_out out;
  assert_int_equal(sl_lift(&in, &out, NULL), SL_OK);
  assert_int_equal(out.people, r->people);
}

/* 7 ft within reach (common practice, no source): 13 ft 3 in wants a platform of 6 ft 3 in. */
static const struct height { const char *name; double height, platform; } heights[] = {
  { "reach, top edge at 159 in", 159, 75 }, { "reach, just", 84, 0 }, { "reach, from the ground", 30, 0 },
};

static void height_matches(void **state) {
  const struct height *r = *state;
  const struct sl_reach_in in = { r->height * IN };
  struct sl_reach_out out;
  assert_int_equal(sl_reach(&in, &out, NULL), SL_OK);
  assert_near(out.platform / IN - r->platform, 0, 1e-9);
}

static const struct sl_lift_in good_lift = { 28.5, 25 };
static const struct sl_reach_in good_reach = { 4 };
static const struct op_case ops[] = { { "turned", &turns[0].in }, { "brace", &pieces[0].in },
  { "lift", &good_lift }, { "reach", &good_reach } };

int main(void) {
  struct CMUnitTest tests[32];
  size_t n = 0;
  ADD_ROWS(tests, n, turns, turn_matches);
  ADD_ROWS(tests, n, pieces, piece_matches);
  ADD_ROWS(tests, n, nones, piece_is_refused);
  ADD_ROWS(tests, n, loads, load_matches);
  ADD_ROWS(tests, n, heights, height_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(the_edge_moves_in_plan), cmocka_unit_test(the_built_tilt_changes_nothing),
    cmocka_unit_test(lines_stay_as_far_apart), cmocka_unit_test(a_leg_is_the_chord),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("turn", tests, n, NULL, NULL);
}
