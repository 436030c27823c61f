/* SPDX-License-Identifier: MIT
 * Posts: legs, stock, foot plates, blocks and tolerances, worked by hand (common practice, no source), and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/footing.h"
#include "stringline/layout.h"
#include "stringline/post.h"

#define LENGTHS(...) (const double[]){ __VA_ARGS__ }, sizeof (const double[]){ __VA_ARGS__ } / sizeof(double)

/* By hand: the nearest of the lengths, and what is left of the slide. */
static const struct leg { const char *name; struct sl_leg_in in; double length, off, left; } legs[] = {
  { "leg, 1312 mm of 1200, 1300, 1500", { 1.312, 0.060, LENGTHS(1.2, 1.3, 1.5) }, 1.3, 0.012, 0.048 },
  { "leg, the longest is too short", { 3.277, 0.060, LENGTHS(1.5, 3.2) }, 3.2, 0.077, -0.017 },
  { "leg, just within its slide", { 1.36, 0.060, LENGTHS(1.3, 1.5) }, 1.3, 0.060, 0 },
  { "leg, between two the shorter", { 1.275, 0.060, LENGTHS(1.3, 1.25) }, 1.25, 0.025, 0.035 },
  { "leg, exact, no slide", { 2, 0, LENGTHS(3, 2, 1) }, 2, 0, 0 },
};

static void leg_matches(void **state) {
  const struct leg *r = *state;
  struct sl_leg_out out;
  assert_int_equal(sl_leg(&r->in, &out, NULL), SL_OK);
  assert_near(out.length, r->length, 1e-12);
  assert_near(out.off + 1, r->off + 1, 1e-12);
  assert_near(out.left + 1, r->left + 1, 1e-12);
}

/* Off-grid job by hand: back posts bear 130.93 in above the datum and stand 60 in deep, the sticks are 16 ft long. */
static const struct stick { const char *name; double rod, datum, reserve, spare, left; } sticks[] = {
  { "trim, first rack, last back post: 1-1/2 in short", 4.83, 4.62, 0, -1.45, 58.55 },
  { "trim, second rack, last back post: 2-1/4 in short", 6.02, 5.74, 0, -2.29, 57.71 },
  { "trim, third rack, last back post: 1-5/8 in short", 7.20, 6.97, 0, -1.69, 58.31 },
  { "trim, first rack, first back post: 4-3/4 in over", 4.31, 4.62, 0, 4.79, 60 },
  { "trim, the same with 6 in to trim off", 4.31, 4.62, 6, -1.21, 60 },
};

static void trim_matches(void **state) {
  const struct stick *r = *state;
  const struct sl_trim_in in = { 16 * FT, (130.93 + 12 * (r->rod - r->datum) + 60) * IN, r->reserve * IN, 60 * IN };
  struct sl_trim_out out;
  assert_int_equal(sl_trim(&in, &out, NULL), SL_OK);
  assert_near(out.spare / IN, r->spare, 1e-9);
  assert_near(out.embedment_left / IN, r->left, 1e-9);
  assert_near(out.needed + out.spare, in.stock, 1e-12);
}

/* By hand: width and twice the edge, or the lines of screws and twice the edge; 4 diameters where the wind presses
 * across the grain (recollection of the wood standard's table). */
static const struct foot { const char *name; double width, line, edge, fastener, least; } feet[] = {
  { "plate 3 in, edge 1 in", 3, NAN, 1, NAN, 5 },
  { "plate 3 in, lines 1-1/2 in apart, edge 1 in: the lines", 3, 1.5, 1, NAN, 3.5 },
  { "plate 4 in, lines 1 in apart, edge 1 in: the plate itself", 4, 1, 1, NAN, 4 },
  { "plate 3 in, lines 1-1/2 in apart, 1/2 in lags: 1-1/2 + 2 x 2", 3, 1.5, NAN, 0.5, 5.5 },
  { "plate 3 in, 1/4 in screws: 3 + 2 x 1", 3, NAN, NAN, 0.25, 5 },
};

static void foot_matches(void **state) {
  const struct foot *r = *state;
  const struct sl_plate_in in = { r->width * IN, r->line * IN, r->edge * IN, r->fastener * IN, "NDS 2018" };
  struct sl_plate_out out;
  assert_int_equal(sl_plate(&in, &out, NULL), SL_OK);
  assert_near(out.least / IN, r->least, 1e-12);
}

/* 3-4-12 goes into 13; nothing but plumb; nothing at all. */
static const struct off { const char *name; struct sl_tolerance_stack_in in; double lean, error; } offs[] = {
  { "stack 3, 4 and 1 % of 1200", { 3, 4, 0.01, 1200 }, 12, 13 },
  { "stack of plumb alone, 1/4 in in 4 ft at 8 ft", { 0, 0, 0.25 / 48, 96 * IN }, 0.5 * IN, 0.5 * IN },
};

static void off_matches(void **state) {
  const struct off *r = *state;
  struct sl_tolerance_stack_out out;
  assert_int_equal(sl_tolerance_stack(&r->in, &out, NULL), SL_OK);
  assert_near(out.lean, r->lean, 1e-12);
  assert_near(out.error, r->error, 1e-12);
}

/* 2.6 x 0.5 x 0.4 m = 0.52 m3; at 2400 kg/m3 1248 kg. */
static void a_block_weighs(void **state) {
  (void)state;
  const struct sl_block_in in = { 2.6, 0.5, 0.4, 2400 };
  struct sl_block_out out;
  assert_int_equal(sl_block(&in, &out, NULL), SL_OK);
  assert_near(out.volume, 0.52, 1e-12);
  assert_near(out.mass, 1248, 1e-12);
}

/* Packhouse: tops 1220 and 2985 mm above the ground that reads 1410 mm; heads above the ground, by hand 1220 + (rod -
 * 1410) and 2985 + (rod - 1410): as its brief has them to the millimetre. */
static const struct head { const char *name; double top, rod, base, above, cut, embedment; } heads[] = {
  { "on a screw, packhouse F2", 1220, 1502, 100, 1312, 1212, 0 },
  { "on a screw, packhouse F5", 1220, 1822, 100, 1632, 1532, 0 },
  { "on a screw, packhouse B1", 2985, 1275, 100, 2850, 2750, 0 },
  { "on a screw, packhouse B5", 2985, 1702, 100, 3277, 3177, 0 },
  { "on a block of 400 mm", 1220, 1410, 400, 1220, 820, 0 },
  { "driven 1500 mm", 1220, 1410, -1500, 1220, 2720, 1500 },
};

static void head_matches(void **state) {
  const struct head *r = *state;
  const struct sl_post_cut_in in = { .bearing_height = r->top * MM, .ground = (1410 - r->rod) * MM, .has_base = true,
                                     .base = r->base * MM };
  struct sl_post_cut_out out;
  assert_int_equal(sl_post_cut(&in, &out, NULL), SL_OK);
  assert_near(out.above_ground / MM, r->above, 1e-12);
  assert_near(out.cut_length / MM, r->cut, 1e-12);
  assert_near(out.embedment / MM + 1, r->embedment + 1, 1e-12);
}

/* A pipe of 2.375 in in a 12 in hole, 48 in deep: (pi/4)(144 - 5.640625) x 48 / 1728 = 3.0185 ft3; the hole it wants is
 * as wide as the pipe and 4 in. */
static void a_round_post_is_round(void **state) {
  (void)state;
  const struct sl_pier_in in = { 12 * IN, 48 * IN, 0, 2.375 * IN, 0, true, NAN, NAN };
  struct sl_pier_out out;
  assert_int_equal(sl_pier(&in, &out, NULL), SL_OK);
  assert_near(out.concrete / FT3, 3.0185, 2e-5);
  const struct sl_hole_in hole = { 2.375 * IN, true };
  struct sl_hole_out wide;
  assert_int_equal(sl_hole(&hole, &wide, NULL), SL_OK);
  assert_near(wide.least / IN, 6.375, 1e-12);
}

/* More slide leaves more; a higher post is farther off; the order of the lengths does not matter. */
static void laws_hold(void **state) {
  (void)state;
  double lengths[] = { 2.4, 1.2, 1.8, 3.0 }, turned[] = { 3.0, 1.8, 1.2, 2.4 };
  double before = -1;
  for (int i = 1; i < 40; i++) {
    const struct sl_leg_in in = { 0.1 * i, 0.2, lengths, 4 }, other = { 0.1 * i, 0.2, turned, 4 };
    struct sl_leg_out a, b;
    assert_int_equal(sl_leg(&in, &a, NULL), SL_OK);
    assert_int_equal(sl_leg(&other, &b, NULL), SL_OK);
    assert_near(a.length, b.length, 0);
    assert_near(a.off, fabs(a.length - in.needed), 1e-12);
    const struct sl_tolerance_stack_in off = { 0.01, 0.02, 0.01, 0.1 * i };
    struct sl_tolerance_stack_out out;
    assert_int_equal(sl_tolerance_stack(&off, &out, NULL), SL_OK);
    assert_true(out.error > before);
    before = out.error;
  }
}

static void refuses(enum sl_status status, const struct sl_sheet *sheet, const char *member) {
  assert_int_equal(status, SL_BAD_INPUT);
  assert_string_equal(sheet->fault.member, member);
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_leg_out leg;
  const struct sl_leg_in none = { 1, 0.1, NULL, 0 }, bad = { 1, 0.1, LENGTHS(1, -1) };
  refuses(sl_leg(&none, &leg, &sheet), &sheet, "lengths");
  refuses(sl_leg(&bad, &leg, &sheet), &sheet, "lengths");
  struct sl_plate_out plate;
  const struct sl_plate_in both = { 0.1, NAN, 0.02, 0.01, "NDS 2018" }, neither = { 0.1, NAN, NAN, NAN, "NDS 2018" },
                           wide = { 0.1, 0.2, 0.02, NAN, "NDS 2018" };
  refuses(sl_plate(&both, &plate, &sheet), &sheet, "edge");
  refuses(sl_plate(&neither, &plate, &sheet), &sheet, "edge");
  refuses(sl_plate(&wide, &plate, &sheet), &sheet, "screw_line");
  struct sl_post_cut_out cut;
  const struct sl_post_cut_in hole = { .bearing_height = 1, .has_base = true, .hole_depth = 1, .gravel = 0.1 },
                              high = { .bearing_height = 1, .has_base = true, .base = 1 },
                              stray = { .bearing_height = 1, .hole_depth = 1, .gravel = 0.1, .base = 0.2 };
  refuses(sl_post_cut(&hole, &cut, &sheet), &sheet, "has_base");
  refuses(sl_post_cut(&high, &cut, &sheet), &sheet, "base");
  refuses(sl_post_cut(&stray, &cut, &sheet), &sheet, "base");
}

static const struct sl_trim_in good_trim = { 4.8, 4.5, 0.1, 1.5 };
static const struct sl_plate_in good_plate = { 0.08, 0.04, 0.02, NAN, "NDS 2018" };
static const struct sl_block_in good_block = { 2.6, 0.5, 0.4, 2400 };
static const struct sl_post_cut_in good_base = { .bearing_height = 1.2, .ground = 0.1, .has_base = true, .base = 0.4 };
static const struct op_case ops[] = {
  { "leg", &legs[0].in }, { "trim", &good_trim }, { "plate", &good_plate }, { "tolerance_stack", &offs[0].in },
  { "block", &good_block }, { "post_cut", &good_base },
};

int main(void) {
  struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, legs, leg_matches);
  ADD_ROWS(tests, n, sticks, trim_matches);
  ADD_ROWS(tests, n, feet, foot_matches);
  ADD_ROWS(tests, n, offs, off_matches);
  ADD_ROWS(tests, n, heads, head_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(a_block_weighs), cmocka_unit_test(a_round_post_is_round), cmocka_unit_test(laws_hold),
    cmocka_unit_test(nonsense_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("post", tests, n, NULL, NULL);
}
