/* SPDX-License-Identifier: MIT
 * Fasteners in wood: hand calculations of each mode, length and factor, laws and refusals.  Published tables:
 * outside/fasteners.case. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/fasteners.h"

#define RIGHT  (90 * DEGREE)

static const struct sl_screw_withdrawal_in lag = {
  .kind = SL_LAG_SCREW, .size = "1/2", .species = "Southern Pine", .gravity = NAN, .length = 4 * IN, .thread = NAN,
  .side = 1.5 * IN, .washer = NAN, .depth = NAN, .duration = SL_TEN_YEARS, .edition = "NDS 2018",
};
static const struct sl_dowel_yield_in bolt = {
  .kind = SL_BOLT, .size = "1/2", .main_gravity = 0.5, .main_thickness = 1.5 * IN, .side_thickness = 1.5 * IN,
  .side_gravity = 0.5, .length = NAN, .washer = NAN, .duration = SL_TEN_YEARS, .group = NAN, .geometry = NAN,
  .edition = "NDS 2018",
};
static const struct sl_dowel_spacing_in near_end = {
  .kind = SL_BOLT, .size = "1/2", .load = SL_TOWARDS_END, .main_bearing = 3.5 * IN, .side_bearing = 1.5 * IN,
  .to_end = 3.5 * IN, .spacing = 2 * IN, .to_edge = 0.75 * IN, .to_other_edge = NAN, .row_spacing = 0.75 * IN,
  .edition = "NDS 2018",
};
static const struct sl_group_action_in row = {
  .kind = SL_BOLT, .size = "1", .count = 4, .spacing = 4 * IN, .main_area = 10 * IN * IN, .side_area = 5 * IN * IN,
  .main_modulus = 1.4e6 * PSI, .side_modulus = 1.4e6 * PSI, .edition = "NDS 2018",
};
static const struct sl_screw_combined_in pulled = { 200 * LBF, 600 * LBF, 60 * LBF, 80 * LBF, "NDS 2018" };

static struct sl_screw_withdrawal_out pull(const struct sl_screw_withdrawal_in *in) {
  struct sl_screw_withdrawal_out out;
  assert_int_equal(sl_screw_withdrawal(in, &out, NULL), SL_OK);
  return out;
}
static struct sl_dowel_yield_out yield(const struct sl_dowel_yield_in *in) {
  struct sl_dowel_yield_out out;
  assert_int_equal(sl_dowel_yield(in, &out, NULL), SL_OK);
  return out;
}
static struct sl_dowel_spacing_out spaced(const struct sl_dowel_spacing_in *in) {
  struct sl_dowel_spacing_out out;
  assert_int_equal(sl_dowel_spacing(in, &out, NULL), SL_OK);
  return out;
}
static double group(const struct sl_group_action_in *in) {
  struct sl_group_action_out out;
  assert_int_equal(sl_group_action(in, &out, NULL), SL_OK);
  return out.factor;
}

/* ---- pulled ------------------------------------------------------------------------------------------------------ */

/* By hand, 1/2 in by 4 in: T = 4/2 + 1/2 = 2.5, E 5/16: 2.1875 by the thread, 4 - 1.5 - 0.3125 = 2.1875 by the side;
 * a washer of 0.1 takes 0.1, a member of 1.5 in leaves 1.5, a thread of 2 in 1.6875; 14 in has 6 in of thread. */
static void thread_by_hand(void **state) {
  (void)state;
  struct sl_screw_withdrawal_in in = lag;
  assert_near(pull(&in).thread_in, 2.1875 * IN, 1e-9);
  in.washer = 0.1 * IN;
  assert_near(pull(&in).thread_in, 2.0875 * IN, 1e-9);
  in.depth = 1.5 * IN;
  assert_near(pull(&in).thread_in, 1.5 * IN, 1e-9);
  in = lag;
  in.thread = 2 * IN;
  assert_near(pull(&in).thread_in, 1.6875 * IN, 1e-9);
  in.thread = NAN;
  in.length = 14 * IN;
  assert_near(pull(&in).thread_in, 5.6875 * IN, 1e-9);
  in = lag;                          /* No. 10 by 3 in: 2 in of thread less a tip of 0.38, 3 - 1.5 - 0.38 by the side */
  in.kind = SL_WOOD_SCREW;
  strcpy(in.size, "No. 10");
  in.length = 3 * IN;
  assert_near(pull(&in).thread_in, 1.12 * IN, 1e-9);
  in.side = NAN;
  assert_near(pull(&in).thread_in, 1.62 * IN, 1e-9);
}

/* By hand: W 1800 x 0.55^1.5 x 0.5^0.75 = 436.56 lb/in; CD 1.6 wind, 0.9 dead; CM 0.7 wet, 1 dried; Ceg 0.75. */
static void withdrawal_by_hand(void **state) {
  (void)state;
  struct sl_screw_withdrawal_in in = lag;
  assert_near(pull(&in).per_length, 436.56 * LBF / IN, 2e-5);
  assert_near(pull(&in).adjusted, 436.56 * 2.1875 * LBF, 2e-5);
  in.duration = SL_TEN_MINUTES;
  in.moisture = SL_WET;
  in.end_grain = true;
  assert_near(pull(&in).adjusted, 436.56 * 2.1875 * 1.6 * 0.7 * 0.75 * LBF, 2e-5);
  in.moisture = SL_DRIED;
  in.duration = SL_PERMANENT;
  assert_near(pull(&in).adjusted, 436.56 * 2.1875 * 0.9 * 0.75 * LBF, 2e-5);
  *in.species = 0;
  in.gravity = 0.55;
  assert_near(pull(&in).per_length, 436.56 * LBF / IN, 2e-5);
}

/* ---- loaded sideways --------------------------------------------------------------------------------------------- */

/* By hand, 1/2 in bolt, 1-1/2 in and 1-1/2 in of 0.50 along the grain: Fe 5600 both, Re = Rt = 1, k1 = (sqrt 8 - 2)/2 =
 * 0.414214, k2 = k3 = sqrt(4 + 67500/37800) - 1 = 1.405351: 1050, 1050, 483.25, 614.84, 614.84, 716.03 lb; in two
 * planes 1050, 2100, 1229.68 and 1432.06. */
static void modes_by_hand(void **state) {
  (void)state;
  struct sl_dowel_yield_in in = bolt;
  const struct sl_dowel_yield_out one = yield(&in);
  assert_near(one.main_bearing, 5600 * PSI, 1e-9);
  assert_near(one.mode_Im, 1050 * LBF, 1e-9);
  assert_near(one.mode_Is, 1050 * LBF, 1e-9);
  assert_near(one.mode_II, 483.25 * LBF, 2e-5);
  assert_near(one.mode_IIIm, 614.84 * LBF, 2e-5);
  assert_near(one.mode_IIIs, 614.84 * LBF, 2e-5);
  assert_near(one.mode_IV, 716.03 * LBF, 2e-5);
  assert_near(one.reference, one.mode_II, 1e-15);
  assert_string_equal(one.governs, "II");
  in.two_planes = true;
  const struct sl_dowel_yield_out two = yield(&in);
  assert_near(two.mode_Im, 1050 * LBF, 1e-9);
  assert_near(two.mode_Is, 2100 * LBF, 1e-9);
  assert_near(two.mode_IIIs, 1229.68 * LBF, 2e-5);
  assert_near(two.mode_IV, 1432.06 * LBF, 2e-5);
  assert_true(isnan(two.mode_II) && isnan(two.mode_IIIm));
  assert_near(two.reference, 1050 * LBF, 1e-9);
  assert_string_equal(two.governs, "Im");
}

/* By hand, 1/2 in bolt, 3-1/2 in of 0.55 (6160 psi) and 1/4 in of A36 (87000 psi): Re 0.0708046, Rt 14, k1 0.410836, k2
 * 0.501690, k3 7.401613: 2695, 2718.75, 1241.07, 1480.43, 860.06, 1026.33 lb. */
static void steel_side_by_hand(void **state) {
  (void)state;
  struct sl_dowel_yield_in in = bolt;
  in.main_gravity = 0.55;
  in.main_thickness = 3.5 * IN;
  in.side_gravity = in.side_angle = NAN;
  in.side_thickness = 0.25 * IN;
  strcpy(in.plate, "A36");
  const struct sl_dowel_yield_out out = yield(&in);
  assert_near(out.mode_Im, 2695 * LBF, 1e-9);
  assert_near(out.mode_Is, 2718.75 * LBF, 1e-9);
  assert_near(out.mode_II, 1241.07 * LBF, 2e-5);
  assert_near(out.mode_IIIm, 1480.43 * LBF, 2e-5);
  assert_near(out.mode_IIIs, 860.06 * LBF, 2e-5);
  assert_near(out.mode_IV, 1026.33 * LBF, 2e-5);
  assert_string_equal(out.governs, "IIIs");
}

/* By hand: across 6100 x 0.5^1.45/sqrt 0.5 = 3157.5 psi, at 45 deg twice their product over their sum, 4038.2; Rd with
 * K 1 + 0.25/2 there.  Under a No. 10, thinner than 1/4 in, 16600 x 0.279322 = 4636.74 at any angle. */
static void angle_by_hand(void **state) {
  (void)state;
  struct sl_dowel_yield_in in = bolt;
  in.main_angle = 45 * DEGREE;
  in.side_angle = RIGHT;
  struct sl_dowel_yield_out out = yield(&in);
  assert_near(out.main_bearing, 4038.2 * PSI, 3e-5);
  assert_near(out.side_bearing, 3157.5 * PSI, 3e-5);
  assert_near(out.mode_Im, 0.5 * 1.5 * 4038.2 / 5 * LBF, 3e-5);         /* the largest angle of both: K 1.25 */
  in.side_angle = 0;
  assert_near(yield(&in).mode_Im, 0.5 * 1.5 * 4038.2 / 4.5 * LBF, 3e-5);
  in.kind = SL_WOOD_SCREW;
  strcpy(in.size, "No. 10");
  in.length = 3 * IN;
  out = yield(&in);
  assert_near(out.main_bearing, 4636.74 * PSI, 3e-5);
  assert_near(out.mode_Is, 0.152 * 1.5 * 4636.74 / 2.2 * LBF, 3e-5);    /* Dr 0.152: KD 2.2, and no K of an angle */
  strcpy(in.size, "No. 14");                                           /* Dr 0.196: KD 10 x 0.196 + 0.5 = 2.46 */
  assert_near(yield(&in).mode_Is, 0.196 * 1.5 * 4636.74 / 2.46 * LBF, 3e-5);
}

/* By hand, 3/8 in lag of 6 in, 0.08 in washer, 1-1/2 in side: p = 4.42, half its tip of 7/32 less: 4.310625; a main
 * member of 2 in has 2.  In two planes of 1-1/2, 2 and 1-1/2 in: p = 2.42, the side has 1.5 of it. */
static void lengths_by_hand(void **state) {
  (void)state;
  struct sl_dowel_yield_in in = bolt;
  in.kind = SL_LAG_SCREW;
  strcpy(in.size, "3/8");
  in.main_thickness = 5.5 * IN;
  in.length = 6 * IN;
  in.washer = 0.08 * IN;
  assert_near(yield(&in).main_length, 4.310625 * IN, 1e-9);
  assert_near(yield(&in).side_length, 1.5 * IN, 1e-9);
  in.main_thickness = 2 * IN;
  assert_near(yield(&in).main_length, 2 * IN, 1e-9);
  in.two_planes = true;
  assert_near(yield(&in).main_length, 2 * IN, 1e-9);
  assert_near(yield(&in).side_length, 1.5 * IN, 1e-9);
  in.side_thickness = 2 * IN;                    /* p = 1.92, less half a tip 1.810625 */
  assert_near(yield(&in).side_length, 1.810625 * IN, 1e-9);
}

/* From the table of wet service: 0.7 wet, 0.4 where it dries, 1 in one row, 0.7 under 1/4 in; 0.67 along the fibers. */
static void factors_by_hand(void **state) {
  (void)state;
  struct sl_dowel_yield_in in = bolt;
  const double Z = yield(&in).reference;
  in.duration = SL_TEN_MINUTES;
  assert_near(yield(&in).adjusted, 1.6 * Z, 1e-12);
  in.moisture = SL_WET;
  assert_near(yield(&in).adjusted, 1.6 * 0.7 * Z, 1e-12);
  in.moisture = SL_DRIED;
  assert_near(yield(&in).adjusted, 1.6 * 0.4 * Z, 1e-12);
  in.one_row = true;
  in.group = 0.9;
  in.geometry = 0.5;
  assert_near(yield(&in).adjusted, 1.6 * 0.9 * 0.5 * Z, 1e-12);
  in.main_angle = RIGHT;
  in.group = in.geometry = NAN;
  const struct sl_dowel_yield_out side = yield(&in);
  in.end_grain = true;
  assert_near(yield(&in).adjusted, 0.67 * side.adjusted, 1e-12);
  in = bolt;
  in.kind = SL_WOOD_SCREW;
  strcpy(in.size, "No. 8");
  in.length = 3 * IN;
  in.moisture = SL_DRIED;
  in.one_row = true;
  assert_near(yield(&in).adjusted, 0.7 * yield(&in).reference, 1e-12);
}

/* ---- distances --------------------------------------------------------------------------------------------------- */

/* By hand, 1/2 in bolt with 1-1/2 in in its side member, l/D 3: rows across the grain (5 x 3 + 10)/8 = 3.125 D, 1.5625
 * in; l/D 2 and less: 2.5 D.  Along the grain with l/D over 6 the edge has half the spacing of rows. */
static void rows_and_edges_by_hand(void **state) {
  (void)state;
  struct sl_dowel_spacing_in in = near_end;
  in.load = SL_ACROSS_GRAIN;
  assert_near(spaced(&in).rows_least, 1.5625 * IN, 1e-9);
  in.side_bearing = 1 * IN;
  assert_near(spaced(&in).rows_least, 1.25 * IN, 1e-9);
  in.side_bearing = 0.5 * IN;
  assert_near(spaced(&in).rows_least, 1.25 * IN, 1e-9);
  in.side_bearing = NAN;
  assert_near(spaced(&in).rows_least, 2.5 * IN, 1e-9);          /* 3-1/2 in alone: l/D 7, 5 D */
  in.load = SL_TOWARDS_END;
  in.row_spacing = 4 * IN;
  assert_near(spaced(&in).edge_least, 2 * IN, 1e-9);
  in.main_bearing = 3 * IN;
  assert_near(spaced(&in).edge_least, 0.75 * IN, 1e-9);
  assert_near(spaced(&in).rows_least, 0.75 * IN, 1e-9);
}

static const struct near {
  const char *name;
  enum sl_fastener_load load;
  double to_end, spacing, to_edge, to_other_edge, row_spacing;      /* in, of a 1/2 in bolt */
  double factor;
  const char *governs;
} nears[] = {
  /* 7D = 3.5, 3.5D = 1.75, 4D = 2, 3D = 1.5, 2D = 1, 1.5D = 0.75, across: rows 1.5625 */
  { "all full", SL_TOWARDS_END, 3.5, 2, 0.75, NAN, 0.75, 1, "none" },
  { "end at half", SL_TOWARDS_END, 1.75, 2, 0.75, NAN, 0.75, 0.5, "end" },
  { "end too near", SL_TOWARDS_END, 1.74, 2, 0.75, NAN, 0.75, 0, "end" },
  { "spacing at three quarters", SL_TOWARDS_END, 3.5, 1.5, 0.75, NAN, NAN, 0.75, "spacing" },
  { "spacing too near", SL_TOWARDS_END, 3.5, 1.49, 0.75, NAN, NAN, 0, "spacing" },
  { "edge too near", SL_TOWARDS_END, 3.5, 2, 0.74, NAN, NAN, 0, "edge" },
  { "rows too near", SL_TOWARDS_END, 3.5, 2, 0.75, NAN, 0.74, 0, "rows" },
  { "away: 1.5 of 2", SL_AWAY_FROM_END, 1.5, NAN, NAN, NAN, NAN, 0.75, "end" },
  { "away: too near", SL_AWAY_FROM_END, 0.99, NAN, NAN, NAN, NAN, 0, "end" },
  { "across: all full", SL_ACROSS_GRAIN, 2, 2, 2, 0.75, 1.5625, 1, "none" },
  { "across: pressed edge too near", SL_ACROSS_GRAIN, 2, 2, 1.99, 0.75, 1.5625, 0, "edge" },
  { "across: other edge too near", SL_ACROSS_GRAIN, 2, 2, 2, 0.74, 1.5625, 0, "unloaded edge" },
  { "across: rows too near", SL_ACROSS_GRAIN, 2, 2, 2, 0.75, 1.56, 0, "rows" },
  { "nothing said", SL_TOWARDS_END, NAN, NAN, NAN, NAN, NAN, 1, "none" },
};

static void nearer_by_hand(void **state) {
  const struct near *n = *state;
  struct sl_dowel_spacing_in in = near_end;
  in.load = (int)n->load;
  in.to_end = n->to_end * IN;
  in.spacing = n->spacing * IN;
  in.to_edge = n->to_edge * IN;
  in.to_other_edge = n->to_other_edge * IN;
  in.row_spacing = n->row_spacing * IN;
  const struct sl_dowel_spacing_out out = spaced(&in);
  assert_true(fabs(out.factor - n->factor) <= 1e-9);
  assert_string_equal(out.governs, n->governs);
}

/* Two alike members share two fasteners alike; one fastener is no group; under 1/4 in there is none. */
static void group_laws(void **state) {
  (void)state;
  struct sl_group_action_in in = row;
  in.count = 1;
  assert_near(group(&in), 1, 1e-15);
  in.count = 2;
  in.side_area = in.main_area;
  assert_near(group(&in), 1, 1e-12);
  in = row;
  double last = 2;
  for (in.count = 2; in.count <= 12; in.count++) {
    assert_true(group(&in) < last);
    last = group(&in);
  }
  in = row;
  const double wood = group(&in);
  in.side_modulus = NAN;             /* by hand: 5 x 1.4/30 in2 of steel are as stiff as the wood, slip 1.5 */
  in.side_area = 5 * 1.4 / 30 * IN * IN;
  in.spacing = 4 / 1.5 * IN;
  assert_near(group(&in), wood, 1e-9);
  in.kind = SL_WOOD_SCREW;
  strcpy(in.size, "No. 10");
  assert_near(group(&in), 1, 1e-15);
  struct sl_group_action_out out;    /* by hand: 180000 x 0.25^1.5 = 180000/8 */
  in = row;
  strcpy(in.size, "1/4");
  assert_int_equal(sl_group_action(&in, &out, NULL), SL_OK);
  assert_near(out.slip, 22500 * LBF / IN, 1e-9);
}

/* Along the wood the lateral value stands, out of it the other. */
static void combined_at_its_ends(void **state) {
  (void)state;
  struct sl_screw_combined_in in = pulled;
  struct sl_screw_combined_out out;
  in.withdrawal = 0;
  assert_int_equal(sl_screw_combined(&in, &out, NULL), SL_OK);
  assert_near(out.allowed, 200 * LBF, 1e-12);
  assert_near(out.used, 0.3, 1e-12);
  in.withdrawal = 80 * LBF;
  in.lateral = 0;
  assert_int_equal(sl_screw_combined(&in, &out, NULL), SL_OK);
  assert_near(out.allowed, 600 * LBF, 1e-12);
  assert_near(out.angle, RIGHT, 1e-12);
  in.withdrawal = 0;
  assert_int_equal(sl_screw_combined(&in, &out, NULL), SL_OK);
  assert_true(out.used <= 0 && out.load <= 0);
}

/* ---- refusals ---------------------------------------------------------------------------------------------------- */

/* Each changes one good call and is refused by the name of what is wrong. */
static void pulls_refused(void **state) {
  (void)state;
  struct sl_screw_withdrawal_out out;
  struct sl_screw_withdrawal_in in;
  struct sl_sheet sheet = { .cap = 0 };
#define PULL_REFUSED(change, is, what) \
  do { in = lag; change; assert_int_equal(sl_screw_withdrawal(&in, &out, &sheet), is); \
       assert_string_equal(sheet.fault.member, what); } while (0)
  PULL_REFUSED(in.kind = SL_BOLT, SL_NO_ROW, "kind");
  PULL_REFUSED(strcpy(in.size, "7/8"), SL_NO_ROW, "size");
  PULL_REFUSED(strcpy(in.species, "Ipe"), SL_NO_ROW, "species");
  PULL_REFUSED(in.gravity = 0.5, SL_BAD_INPUT, "gravity");                      /* and a species */
  PULL_REFUSED(*in.species = 0, SL_BAD_INPUT, "gravity");                       /* and none */
  PULL_REFUSED((*in.species = 0, in.gravity = 0.30), SL_OUT_OF_RANGE, "gravity");
  PULL_REFUSED((*in.species = 0, in.gravity = 0.74), SL_OUT_OF_RANGE, "gravity");
  PULL_REFUSED((in.kind = SL_WOOD_SCREW, strcpy(in.size, "No. 8"), in.end_grain = true), SL_NO_ROW, "end_grain");
  PULL_REFUSED(in.side = 3.7 * IN, SL_OUT_OF_RANGE, "length");                  /* 4 - 3.7 is less than its tip */
  PULL_REFUSED((in.side = NAN, in.length = 1.4 * IN), SL_OUT_OF_RANGE, "length");        /* whose thread is not said */
  PULL_REFUSED(in.thread = 4.1 * IN, SL_BAD_INPUT, "thread");
  PULL_REFUSED(strcpy(in.edition, "NDS 1901"), SL_NO_ROW, "edition");
}

static void yields_refused(void **state) {
  (void)state;
  struct sl_dowel_yield_out out;
  struct sl_dowel_yield_in in, screw = bolt;
  struct sl_sheet sheet = { .cap = 0 };
  screw.kind = SL_LAG_SCREW;
  strcpy(screw.size, "3/8");
  screw.length = 3.25 * IN;                       /* 4D and the tip beyond 1-1/2 in are 3.21875 */
  screw.main_thickness = 3.5 * IN;
#define YIELD_REFUSED(good, change, is, what) \
  do { in = good; change; assert_int_equal(sl_dowel_yield(&in, &out, &sheet), is); \
       assert_string_equal(sheet.fault.member, what); } while (0)
  assert_int_equal(sl_dowel_yield(&screw, &out, NULL), SL_OK);
  YIELD_REFUSED(screw, in.length = 3.2 * IN, SL_OUT_OF_RANGE, "length");
  YIELD_REFUSED(screw, in.main_thickness = 1.4 * IN, SL_OUT_OF_RANGE, "length");
  YIELD_REFUSED(screw, in.length = NAN, SL_BAD_INPUT, "length");
  YIELD_REFUSED(bolt, in.length = 5 * IN, SL_BAD_INPUT, "length");
  YIELD_REFUSED(bolt, in.washer = 0, SL_BAD_INPUT, "washer");
  YIELD_REFUSED(bolt, in.side_angle = NAN, SL_BAD_INPUT, "side_angle");
  YIELD_REFUSED(bolt, in.main_angle = 91 * DEGREE, SL_BAD_INPUT, "main_angle");
  YIELD_REFUSED(bolt, in.end_grain = true, SL_BAD_INPUT, "main_angle");
  YIELD_REFUSED(bolt, strcpy(in.plate, "A36"), SL_BAD_INPUT, "side_gravity");
  YIELD_REFUSED(bolt, in.group = 1.1, SL_BAD_INPUT, "group");
  YIELD_REFUSED(bolt, in.geometry = -0.1, SL_BAD_INPUT, "geometry");
  struct sl_dowel_yield_in steel = bolt;
  steel.side_gravity = steel.side_angle = NAN;
  strcpy(steel.plate, "A36");
  YIELD_REFUSED(steel, in.side_thickness = 0.2 * IN, SL_OUT_OF_RANGE, "side_thickness");
  YIELD_REFUSED(steel, (strcpy(in.plate, "A653 Grade 33"), in.side_thickness = 0.25 * IN), SL_OUT_OF_RANGE,
                "side_thickness");
  YIELD_REFUSED(steel, (strcpy(in.plate, "A653 Grade 33"), in.side_thickness = 0.03 * IN), SL_OUT_OF_RANGE,
                "side_thickness");
  YIELD_REFUSED(steel, strcpy(in.plate, "tin"), SL_NO_ROW, "plate");
  YIELD_REFUSED(steel, (in.kind = SL_LAG_SCREW, in.length = 6 * IN, in.two_planes = true), SL_NO_ROW, "plate");
}

static void spacings_refused(void **state) {
  (void)state;
  struct sl_dowel_spacing_out out;
  struct sl_dowel_spacing_in in;
  struct sl_sheet sheet = { .cap = 0 };
#define SPACING_REFUSED(change, is, what) \
  do { in = near_end; change; assert_int_equal(sl_dowel_spacing(&in, &out, &sheet), is); \
       assert_string_equal(sheet.fault.member, what); } while (0)
  SPACING_REFUSED((in.kind = SL_WOOD_SCREW, strcpy(in.size, "No. 14")), SL_NO_ROW, "kind");
  SPACING_REFUSED((in.load = SL_IN_WITHDRAWAL, in.main_bearing = in.side_bearing = NAN), SL_NO_ROW, "load");
  SPACING_REFUSED((in.kind = SL_LAG_SCREW, in.load = SL_IN_WITHDRAWAL), SL_BAD_INPUT, "main_bearing");
  SPACING_REFUSED(in.main_bearing = NAN, SL_BAD_INPUT, "main_bearing");
  SPACING_REFUSED(in.to_other_edge = 1 * IN, SL_BAD_INPUT, "to_other_edge");
  SPACING_REFUSED(strcpy(in.size, "9/16"), SL_NO_ROW, "size");
  struct sl_group_action_in few = row;
  struct sl_group_action_out of_row;
  few.count = 0;
  assert_int_equal(sl_group_action(&few, &of_row, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "count");
}

static const struct op_case ops[] = {
  { "screw_withdrawal", &lag }, { "dowel_yield", &bolt }, { "dowel_spacing", &near_end }, { "group_action", &row },
  { "screw_combined", &pulled },
};

int main(void) {
  struct CMUnitTest tests[40];
  size_t n = 0;
  ADD_ROWS(tests, n, nears, nearer_by_hand);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest rest[] = {
    cmocka_unit_test(thread_by_hand), cmocka_unit_test(withdrawal_by_hand), cmocka_unit_test(modes_by_hand),
    cmocka_unit_test(steel_side_by_hand), cmocka_unit_test(angle_by_hand), cmocka_unit_test(lengths_by_hand),
    cmocka_unit_test(factors_by_hand), cmocka_unit_test(rows_and_edges_by_hand), cmocka_unit_test(group_laws),
    cmocka_unit_test(combined_at_its_ends), cmocka_unit_test(pulls_refused), cmocka_unit_test(yields_refused),
    cmocka_unit_test(spacings_refused),
  };
  for (size_t i = 0; i < sizeof rest / sizeof *rest; i++) tests[n++] = rest[i];
  assert(n <= sizeof tests / sizeof *tests);
  return _cmocka_run_group_tests("fasteners", tests, n, NULL, NULL);
}
