/* SPDX-License-Identifier: MIT
 * What holds in a joint besides its fasteners: hand calculations from the equations as they are quoted, from statics
 * and from the handbook's beams; laws and refusals. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/joints.h"

#define LBF_IN (LBF * IN)
#define KIP    (1000 * LBF)

static const struct sl_head_pull_in washer = {
  .species = "Southern Pine", .gravity = NAN, .head = 0.5 * IN, .thickness = 1.5 * IN, .duration = SL_TEN_YEARS,
  .edition = "NDS 2018",
};
static const struct sl_washer_press_in ring = { "1/2", 1.375 * IN, 1.5 * IN, 400 * PSI, 300 * LBF, "NDS 2018" };
static const struct sl_net_section_in rafter = {
  .kind = SL_BOLT, .size = "1/2", .width = 1.5 * IN, .depth = 7.25 * IN, .count = 2, .to_edge = 2 * IN,
  .spacing = 2 * IN, .edition = "NDS 2018",
};
static const struct sl_plate_steel_in plate = {
  .plate = "A36", .width = 3 * IN, .thickness = 0.25 * IN, .plates = 2, .kind = SL_BOLT, .size = "1/2", .holes = 1,
  .spacing = NAN, .pull = 10 * KIP, .shear = 5 * KIP, .moment = 1.6168 * KIP * IN, .free = 6 * IN, .bears = 2 * KIP,
  .edition = "NDS 2018",
};
static const struct sl_beam_reaction reactions[] = {
  { 0, 375 * LBF }, { 10 * FT, 1250 * LBF }, { 20 * FT, 375 * LBF },
};
static const struct sl_beam_place_in two_spans = { 100 * LBF / FT, 5 * FT, reactions, 3 };
static const struct sl_splice_group_in four = {
  .count = 2, .rows = 2, .spacing = 4 * IN, .row_spacing = 1.5 * IN, .to_end = 3.5 * IN, .moment = 1000 * LBF_IN,
  .shear = 100 * LBF,
};
static const struct sl_joint_force_in force = { 300 * LBF, 400 * LBF, 55 * DEGREE };
static const struct sl_grain_parts_in parts = { 400 * LBF, 300 * LBF, 30 * DEGREE };
static const struct sl_foot_tie_in foot = {
  450 * LBF, 100 * LBF, 60 * LBF * FT, 900 * LBF, 400 * LBF, 300 * LBF * FT,
};

GIVES_OF(head_pull, pull)
GIVES_OF(net_section, net)
GIVES_OF(plate_steel, steel)
GIVES_OF(splice_group, group)
GIVES_OF(grain_parts, of_grain)

/* By hand from NDS 2018 Eq. 12.2-6a and 12.2-6b as they are quoted: 690 pi D G2 t up to t = 2.5 D, 1725 pi D2 G2
 * beyond.  D 0.5 in, G 0.55: beyond 1.25 in 1725 x 3.14159 x 0.25 x 0.3025 = 409.83 lb; 1 in: 690 x 3.14159 x 0.5 x
 * 0.3025 = 327.86 lb. */
static void heads_by_hand(void **state) {
  (void)state;
  struct sl_head_pull_in in = washer;
  assert_near(pull(&in).reference, 409.83 * LBF, 2e-5);
  in.thickness = 3 * IN;
  assert_near(pull(&in).reference, 409.83 * LBF, 2e-5);
  in.thickness = 1 * IN;
  assert_near(pull(&in).reference, 327.86 * LBF, 2e-5);
  *in.species = 0;
  in.gravity = 0.55;
  assert_near(pull(&in).reference, 327.86 * LBF, 2e-5);
}

/* The table ends with 0.5 in: what is wider counts as so wide; below 0.234 in, and in wood thinner than 5/16, it has
 * none. */
static void heads_beyond_the_table(void **state) {
  (void)state;
  struct sl_head_pull_in in = washer;
  in.head = 1.25 * IN;
  assert_near(pull(&in).reference, 409.83 * LBF, 2e-5);
  in.head = 0.234 * IN;
  in.thickness = 0.3125 * IN;      /* 690 x 3.14159 x 0.234 x 0.3025 x 0.3125 = 47.950 lb */
  assert_near(pull(&in).reference, 47.950 * LBF, 2e-5);
}

/* CD 1.6 and CM 0.7. */
static void heads_in_wet_wood(void **state) {
  (void)state;
  struct sl_head_pull_in in = washer;
  in.duration = SL_TEN_MINUTES;
  in.moisture = SL_WET;
  assert_near(pull(&in).adjusted, 1.12 * pull(&in).reference, 1e-12);
}

/* By hand, a washer of 1-3/8 in on the hole of 9/16: 0.785398 x (1.890625 - 0.316406) = 1.236389 in2; x 400 psi =
 * 494.555 lb, of which 300 use 0.606605.  A wider one never holds less, nor does a thinner bolt; what reaches beyond
 * the wood holds nothing: 2 in on 1.5 are 0.785398 x (2.25 - 0.316406) = 1.518641 in2. */
static void washers_by_hand(void **state) {
  (void)state;
  struct sl_washer_press_in in = ring;
  struct sl_washer_press_out out, other;
  assert_int_equal(sl_washer_press(&in, &out, NULL), SL_OK);
  assert_near(out.area, 1.236389 * IN * IN, 2e-6);
  assert_near(out.allowed, 494.555 * LBF, 2e-6);
  assert_near(out.used, 0.606605, 2e-6);
  in.washer *= 1.01;
  assert_int_equal(sl_washer_press(&in, &other, NULL), SL_OK);
  assert_true(other.allowed > out.allowed);
  in.washer = 2 * IN;
  assert_int_equal(sl_washer_press(&in, &other, NULL), SL_OK);
  assert_near(other.area, 1.518641 * IN * IN, 2e-6);
  in = ring;
  strcpy(in.size, "3/8");
  assert_int_equal(sl_washer_press(&in, &other, NULL), SL_OK);
  assert_true(other.allowed > out.allowed);
}

/* By hand, 2x8 with two holes of 9/16 in, 2 in from its edge and 2 in apart: 6.125 in of 7.25 are left; the holes'
 * middle is 0.625 in off its own, that of what is left 1.125/6.125 x 0.625 = 0.1148 in; holes 0.84375 x (0.05273 +
 * 0.78125 + 2) = 2.3912 in4, 47.6348 - 2.3912 - 9.1875 x 0.1148^2 = 45.1225 in4, over 3.7398 in: 12.0655 of 13.1406
 * in3. */
static void holes_by_hand(void **state) {
  (void)state;
  struct sl_net_section_in in = rafter;
  assert_near(net(&in).hole, 0.5625 * IN, 1e-12);
  assert_near(net(&in).area, 1.5 * 6.125 * IN * IN, 1e-12);
  assert_near(net(&in).area_share, 6.125 / 7.25, 1e-12);
  assert_near(net(&in).modulus, 12.0655 * IN * IN * IN, 2e-5);
  assert_near(net(&in).modulus_share, 12.0655 / 13.140625, 2e-5);
  in.count = 1;                      /* in the middle: (7.25^3 - 0.5625^3)/7.25^3 */
  in.to_edge = 3.625 * IN;
  in.spacing = NAN;
  assert_near(net(&in).modulus_share, 1 - pow(0.5625 / 7.25, 3), 1e-12);
  in.kind = SL_LAG_SCREW;            /* a screw's hole is its shank; through the depth: 3.25 of 3.5 in */
  strcpy(in.size, "1/4");
  in.width = 3.5 * IN;
  in.depth = 1.5 * IN;
  in.upright = true;
  assert_near(net(&in).area_share, 3.25 / 3.5, 1e-12);
  assert_near(net(&in).modulus_share, 3.25 / 3.5, 1e-12);
  assert_near(net(&in).modulus, 3.25 * 1.5 * 1.5 / 6 * IN * IN * IN, 1e-12);
}

/* Seen from either edge a section is the same; a hole nearer to the middle takes less of its modulus. */
static void hole_laws(void **state) {
  (void)state;
  struct sl_net_section_in in = rafter, other = rafter;
  in.count = other.count = 1;
  in.spacing = other.spacing = NAN;
  other.to_edge = 2.5 * IN;
  assert_true(net(&other).modulus > net(&in).modulus);
  assert_near(net(&other).area, net(&in).area, 1e-12);
}

/* By hand, two plates of A36, 3 in by 1/4, one hole of 5/8 as it counts: pulled 36 x 3/1.67 = 64.67 and 58 x 2.375/2 =
 * 68.875 kip/in: x 0.5 in = 32.335 kip; sheared 0.6 x min(36 x 3/1.5, 68.875) x 0.5 = 20.6625; under a bolt 2 x 2.4 x
 * 0.5 x 0.25 x 58/2 = 17.4; bent 2 x 36 x 0.25 x 9/6/1.67 = 16.168 kip in, where 58 x 0.3716 = 21.55 would tear it.
 * 10, 5 and 1.6168: sqrt(0.30926^2 + 0.24198^2) + 0.1 = 0.49268. */
static void plates_by_hand(void **state) {
  (void)state;
  struct sl_plate_steel_in in = plate;
  assert_near(steel(&in).pull_allowed, 32.335 * KIP, 2e-5);
  assert_near(steel(&in).shear_allowed, 20.6625 * KIP, 1e-9);
  assert_near(steel(&in).bears_allowed, 17.4 * KIP, 1e-9);
  assert_near(steel(&in).moment_allowed, 16.168 * KIP * IN, 3e-5);
  assert_near(steel(&in).used, 0.49268, 3e-5);
  in.bears = 8.7 * KIP;              /* then that is more than pull and shear */
  assert_near(steel(&in).used, 0.6, 3e-5);
  in.holes = 2;                      /* 1.75 in are left: 58 x 1.75/2 x 0.5 = 25.375 */
  in.spacing = 1.5 * IN;
  assert_near(steel(&in).pull_allowed, 25.375 * KIP, 1e-9);
  /* (27 - 2 x 0.625^3 - 0.625 x 2.25 x 6)/48 = 0.37655 in4; 2 x 58/2 x 0.25103 = 14.560 kip in */
  assert_near(steel(&in).moment_allowed, 14.560 * KIP * IN, 3e-5);
  strcpy(in.plate, "A653 Grade 33"); /* 0.06 in: 45 x 1.75/2 x 0.12 = 4.725 of 33 x 3/1.67 x 0.12 = 7.114 */
  in.thickness = 0.06 * IN;
  in.moment = 0;
  in.free = NAN;
  assert_near(steel(&in).pull_allowed, 4.725 * KIP, 1e-9);
}

/* The handbook's two equal spans, 10 ft and 100 plf: wL2/16 in the middle of one, -wL2/8 over the support, none at 3/4;
 * shear 5/8 wL beside it. */
static void two_spans_of_the_handbook(void **state) {
  (void)state;
  struct sl_beam_place_in in = two_spans;
  struct sl_beam_place_out out;
  static const struct { double at, moment, shear; } places[] = {
    { 5, 625, 125 }, { 7.5, 0, 375 }, { 10, -1250, 625 }, { 15, 625, 125 }, { 20, 0, 375 }, { 0, 0, 375 },
  };
  for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
    in.at = places[i].at * FT;
    assert_int_equal(sl_beam_place(&in, &out, NULL), SL_OK);
    assert_true(fabs(out.moment - places[i].moment * LBF * FT) < 1e-6);
    assert_near(out.shear, places[i].shear * LBF, 1e-9);
  }
}

/* By hand: e 3.5 + 2 = 5.5 in, M 1000 + 550 = 1550 lb in; each of four 2 and 0.75 in off: J 4 x 4.5625 = 18.25 in2;
 * square to the member 25 + 1550 x 2/18.25 = 194.863, along 1550 x 0.75/18.25 = 63.699, both 205.01.  Two in one
 * row: J 8, 50 +
 * 1550 x 2/8 = 437.5. */
static void splices_by_hand(void **state) {
  (void)state;
  struct sl_splice_group_in in = four;
  assert_near(group(&in).arm, 5.5 * IN, 1e-12);
  assert_near(group(&in).turning, 1550 * LBF_IN, 1e-12);
  assert_near(group(&in).first, 1350 * LBF_IN, 1e-12);         /* 3.5 in off: 1000 + 350 */
  assert_near(group(&in).across, 194.863 * LBF, 1e-5);
  assert_near(group(&in).along, 63.699 * LBF, 1e-5);
  assert_near(group(&in).force, 205.01 * LBF, 1e-5);
  assert_near(group(&in).angle, atan(194.863 / 63.699), 1e-5);
  in.rows = 1;
  in.row_spacing = NAN;
  assert_near(group(&in).force, 437.5 * LBF, 1e-12);
  assert_near(group(&in).angle, 90 * DEGREE, 1e-12);
  in.rows = 2;                       /* one above the other: 3.5 in, 1350 lb in; 50 across, 1350 x 0.75/1.125 along */
  in.count = 1;
  in.spacing = NAN;
  in.row_spacing = 1.5 * IN;
  assert_near(group(&in).across, 50 * LBF, 1e-12);
  assert_near(group(&in).along, 900 * LBF, 1e-12);
}

/* The triangle of 3, 4 and 5: 53.130 deg off the grain; to one that leans by 55 deg off that, 108.130 deg where the
 * part across goes to the other side, so 71.870 deg; 1.870 deg where it does not.  To a member that does not lean the
 * same angle, to one at right angles the rest to 90 deg.  Pushed across alone: at right angles to the grain, to a
 * rafter that rises by 35 deg, so leans by 55, at 35 deg. */
static void forces_by_hand(void **state) {
  (void)state;
  struct sl_joint_force_in in = force;
  struct sl_joint_force_out out;
  static const struct { double along, across, lean, force, angle, leaning; } rows[] = {
    { 300, 400, 55, 500, 53.130102, 71.869898 }, { 300, 400, 0, 500, 53.130102, 53.130102 },
    { 300, 400, 90, 500, 53.130102, 36.869898 }, { 0, 400, 55, 400, 90, 35 }, { 300, 0, 55, 300, 0, 55 },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    in = (struct sl_joint_force_in){ rows[i].along * LBF, rows[i].across * LBF, rows[i].lean * DEGREE };
    assert_int_equal(sl_joint_force(&in, &out, NULL), SL_OK);
    assert_near(out.force, rows[i].force * LBF, 1e-12);
    assert_true(fabs(out.angle - rows[i].angle * DEGREE) < 1e-8);
    assert_true(fabs(out.leaning_angle - rows[i].leaning * DEGREE) < 1e-8);
  }
  in.lean = NAN;
  assert_int_equal(sl_joint_force(&in, &out, NULL), SL_OK);
  assert_true(isnan(out.leaning_angle));
}

/* By hand at 30 deg, 400 and 300 lbf: along 346.410 + 150 = 496.410, across 200 + 259.808 = 459.808; the other way
 * 346.410 and nothing (200 - 259.808).  Along the grain all of the first goes along it, across it all across. */
static void parts_by_hand(void **state) {
  (void)state;
  struct sl_grain_parts_in in = parts;
  assert_near(of_grain(&in).along, 496.410 * LBF, 1e-6);
  assert_near(of_grain(&in).across, 459.808 * LBF, 1e-6);
  in.beside = -300 * LBF;
  assert_near(of_grain(&in).along, 346.410 * LBF, 1e-6);
  assert_true(of_grain(&in).across == 0);
  in.angle = 0;
  assert_near(of_grain(&in).along, 400 * LBF, 1e-12);
  in.angle = 90 * DEGREE;
  assert_near(of_grain(&in).across, 400 * LBF, 1e-12);
}

/* By hand: 450/900 + 100/400 + 60/300. */
static void feet_by_hand(void **state) {
  (void)state;
  struct sl_foot_tie_in in = foot;
  struct sl_foot_tie_out out;
  assert_int_equal(sl_foot_tie(&in, &out, NULL), SL_OK);
  assert_near(out.used, 0.95, 1e-12);
  assert_near(out.of_lift, 0.5, 1e-12);
  assert_near(out.of_side, 0.25, 1e-12);
  assert_near(out.of_moment, 0.2, 1e-12);
  in.moment = 0;
  in.moment_allowed = NAN;
  assert_int_equal(sl_foot_tie(&in, &out, NULL), SL_OK);
  assert_near(out.used, 0.75, 1e-12);
}

/* ---- refusals ---------------------------------------------------------------------------------------------------- */

static void refused_by_name(void **state) {
  (void)state;
  OP_REFUSED(head_pull, washer, in.head = 0.23 * IN, SL_OUT_OF_RANGE, "head");
  OP_REFUSED(head_pull, washer, in.thickness = 0.31 * IN, SL_OUT_OF_RANGE, "thickness");
  OP_REFUSED(head_pull, washer, in.gravity = 0.5, SL_BAD_INPUT, "gravity");
  OP_REFUSED(head_pull, washer, strcpy(in.species, "Ipe"), SL_NO_ROW, "species");
  OP_REFUSED(head_pull, washer, in.moisture = SL_DRIED, SL_NO_ROW, "moisture");
  OP_REFUSED(head_pull, washer, strcpy(in.edition, "NDS 1901"), SL_NO_ROW, "edition");
  OP_REFUSED(washer_press, ring, in.washer = 0.5625 * IN, SL_OUT_OF_RANGE, "washer");
  OP_REFUSED(washer_press, ring, in.width = 0.5625 * IN, SL_OUT_OF_RANGE, "width");
  OP_REFUSED(washer_press, ring, in.stress = 0, SL_BAD_INPUT, "stress");
  OP_REFUSED(washer_press, ring, in.force = -1, SL_BAD_INPUT, "force");
  OP_REFUSED(washer_press, ring, strcpy(in.size, "9/16"), SL_NO_ROW, "size");
  OP_REFUSED(net_section, rafter, in.spacing = NAN, SL_BAD_INPUT, "spacing");
  OP_REFUSED(net_section, rafter, in.count = 1, SL_BAD_INPUT, "spacing");
  OP_REFUSED(net_section, rafter, in.count = 0, SL_BAD_INPUT, "count");
  OP_REFUSED(net_section, rafter, in.spacing = 3.3 * IN, SL_OUT_OF_RANGE, "count");        /* 7.25 - 4 - 3.3 < 0 */
  OP_REFUSED(net_section, rafter, (in.count = 13, in.to_edge = 0.1 * IN, in.spacing = 0.5 * IN), SL_OUT_OF_RANGE,
             "count");
  OP_REFUSED(net_section, rafter, (in.upright = true, in.spacing = NAN, in.count = 3), SL_OUT_OF_RANGE, "count");
  OP_REFUSED(net_section, rafter, strcpy(in.size, "9/16"), SL_NO_ROW, "size");
  OP_REFUSED(plate_steel, plate, strcpy(in.plate, "tin"), SL_NO_ROW, "plate");
  OP_REFUSED(plate_steel, plate, in.plates = 3, SL_BAD_INPUT, "plates");
  OP_REFUSED(plate_steel, plate, in.width = 0.6 * IN, SL_OUT_OF_RANGE, "width");
  OP_REFUSED(plate_steel, plate, (in.holes = 2, in.spacing = 6 * IN), SL_OUT_OF_RANGE, "width");
  OP_REFUSED(plate_steel, plate, in.spacing = 1 * IN, SL_BAD_INPUT, "spacing");
  OP_REFUSED(plate_steel, plate, in.free = NAN, SL_BAD_INPUT, "free");
  OP_REFUSED(plate_steel, plate, in.free = 32 * IN, SL_OUT_OF_RANGE, "free");    /* 32 x 3/0.0625 x 36/29000 = 1.907 */
  OP_REFUSED(plate_steel, plate, strcpy(in.size, "9/16"), SL_NO_ROW, "size");
  OP_REFUSED(joint_force, force, in.across = -1, SL_BAD_INPUT, "across");
  OP_REFUSED(joint_force, force, in.lean = 91 * DEGREE, SL_BAD_INPUT, "lean");
  OP_REFUSED(grain_parts, parts, in.force = -1, SL_BAD_INPUT, "force");
  OP_REFUSED(grain_parts, parts, in.angle = 91 * DEGREE, SL_BAD_INPUT, "angle");
  OP_REFUSED(beam_place, two_spans, in.nsupports = 0, SL_BAD_INPUT, "supports");
  OP_REFUSED(splice_group, four, (in.count = in.rows = 1, in.spacing = in.row_spacing = NAN), SL_BAD_INPUT, "count");
  OP_REFUSED(splice_group, four, in.rows = 11, SL_BAD_INPUT, "rows");
  OP_REFUSED(splice_group, four, in.row_spacing = NAN, SL_BAD_INPUT, "row_spacing");
  OP_REFUSED(splice_group, four, in.count = 1, SL_BAD_INPUT, "spacing");
  OP_REFUSED(foot_tie, foot, in.moment_allowed = NAN, SL_BAD_INPUT, "moment");
  OP_REFUSED(foot_tie, foot, in.lift_allowed = 0, SL_BAD_INPUT, "lift_allowed");
}

static const struct op_case ops[] = {
  { "head_pull", &washer }, { "washer_press", &ring }, { "net_section", &rafter }, { "plate_steel", &plate },
  { "beam_place", &two_spans }, { "splice_group", &four }, { "foot_tie", &foot }, { "joint_force", &force },
  { "grain_parts", &parts },
};

int main(void) {
  struct CMUnitTest tests[40] = {
    cmocka_unit_test(heads_by_hand), cmocka_unit_test(heads_beyond_the_table), cmocka_unit_test(heads_in_wet_wood),
    cmocka_unit_test(washers_by_hand), cmocka_unit_test(holes_by_hand),
    cmocka_unit_test(hole_laws), cmocka_unit_test(plates_by_hand), cmocka_unit_test(two_spans_of_the_handbook),
    cmocka_unit_test(splices_by_hand), cmocka_unit_test(feet_by_hand), cmocka_unit_test(forces_by_hand),
    cmocka_unit_test(parts_by_hand),
    cmocka_unit_test(refused_by_name),
  };
  size_t n = 13;
  ADD_ROWS(tests, n, ops, op_behaves);
  return _cmocka_run_group_tests("joints", tests, n, NULL, NULL);
}
