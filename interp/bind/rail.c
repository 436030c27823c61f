/* SPDX-License-Identifier: MIT
 * Rails as Lua sees them. */
#include "bind/bind.h"
#include "stringline/rail.h"

static const char *const materials[] = { [SL_ALUMINIUM] = "aluminium", [SL_STEEL] = "steel", NULL };
static const char *const splice_places[] = { [SL_IN_BAY] = "bay", [SL_IN_END_BAY] = "end bay",
                                             [SL_IN_OVERHANG] = "overhang", NULL };

#define S struct sl_expansion_in
static const struct sl_field expansion_in[] = {
  SL_CHOICE(S, material, materials, "of the rail"),
  SL_REAL_OPT(S, coefficient, SL_PER_WARMTH, "by the rail's maker; the table's own for the material, if not said"),
  SL_REAL(S, length, SL_LENGTH, "of the rail"),
  SL_REAL(S, range, SL_WARMTH, "from the coldest to the hottest that the rail gets"),
};
#undef S
static const struct sl_field expansion_out[] = {
  SL_REAL(struct sl_expansion_out, movement, SL_LENGTH, "by which the rail lengthens over that range"),
};
SL_OP_CALL(expansion)

#define S struct sl_rail_runs_in
static const struct sl_field rail_runs_in[] = {
  SL_REAL(S, module, SL_LENGTH, "side of a module along the row"),
  SL_COUNT(S, columns, "modules along the row"),
  SL_REAL(S, column_gap, SL_LENGTH, "between neighbours along the row"),
  SL_REAL(S, joint_gap, SL_LENGTH, "between neighbours at an expansion joint"),
  SL_REAL(S, end_allowance, SL_LENGTH, "rail beyond the last module of a run, at each end"),
  SL_REAL_OPT(S, limit, SL_LENGTH, "longest rail: places the fewest joints; without it they are those of the list"),
  SL_LIST(S, joints, njoints, SL_NUMBER, "after which columns there is an expansion joint"),
};
#undef S
#define R struct sl_rail_run
static const struct sl_field rail_run[] = {
  SL_REAL(R, first_column, SL_NUMBER, "from the west"),
  SL_REAL(R, last_column, SL_NUMBER, "from the west"),
  SL_REAL(R, from, SL_LENGTH, "west end of its rail, from the west end of the rails"),
  SL_REAL(R, to, SL_LENGTH, "east end of its rail, from there"),
  SL_REAL(R, length, SL_LENGTH, "of its rail"),
};
#undef R
#define S struct sl_rail_runs_out
static const struct sl_field rail_runs_out[] = {
  SL_REAL(S, row_width, SL_LENGTH, "of the modules along the row, with the gaps of the joints"),
  SL_REAL(S, longest, SL_LENGTH, "rail of all runs"),
  SL_REAL(S, rail, SL_LENGTH, "of all runs together, in one line"),
  SL_COUNT(S, joints, "expansion joints"),
  SL_ROWS(S, runs, nruns, struct sl_rail_run, rail_run, "the runs, from the west"),
};
#undef S
SL_OP_CALL_ROOM(rail_runs)

#define RAIL(S) \
  SL_REAL(S, from, SL_LENGTH, "west end of the run's rail, from the west end of the rails"), \
  SL_REAL(S, to, SL_LENGTH, "east end of it, from there"), \
  SL_LIST(S, supports, nsupports, SL_LENGTH, "places of all that the rail lies on, from there")
#define ZONE(S) \
  SL_REAL(S, zone_from, SL_RATIO, "where a splice may begin to be, of the bay from its nearer support"), \
  SL_REAL(S, zone_to, SL_RATIO, "where that ends"), \
  SL_FLAG(S, end_bays, "true if the first and the last bay may have a splice, too")

static const struct sl_field rail_joints_in[] = {
  RAIL(struct sl_rail_joints_in),
  ZONE(struct sl_rail_joints_in),
  SL_LIST(struct sl_rail_joints_in, stock, nstock, SL_LENGTH, "lengths that are had"),
  SL_LIST(struct sl_rail_joints_in, prices, nprices, SL_MONEY,
          "of one stick of each; none: the shortest stock in all is taken"),
};
static const struct sl_field rail_joint[] = {
  SL_REAL(struct sl_rail_joint, way, SL_NUMBER, "1 for the first rail and every second after it, 2 for the others"),
  SL_REAL(struct sl_rail_joint, at, SL_LENGTH, "place of the splice, from the west end of the rails"),
};
#define S struct sl_rail_joints_out
static const struct sl_field rail_joints_out[] = {
  SL_COUNT(S, pieces, "of one rail"),
  SL_REAL(S, longest, SL_LENGTH, "piece"),
  SL_FLAG(S, staggered, "true if no bay has a splice in two neighbouring rails"),
  SL_FLAG(S, proven, "true if no cheaper way with as few pieces exists"),
  SL_ROWS(S, joints, njoints, struct sl_rail_joint, rail_joint, "the splices, way 1 first, from the west"),
};
#undef S
SL_OP_CALL_ROOM(rail_joints)

static const struct sl_field rail_reach_in[] = { RAIL(struct sl_rail_reach_in), ZONE(struct sl_rail_reach_in) };
static const struct sl_field rail_reach_out[] = {
  SL_REAL(struct sl_rail_reach_out, least, SL_LENGTH, "stock out of which the rail can be made"),
};
SL_OP_CALL_ROOM(rail_reach)

static const struct sl_field splice_in[] = {
  RAIL(struct sl_splice_in),
  SL_REAL(struct sl_splice_in, at, SL_LENGTH, "place of the splice, from the west end of the rails"),
};
static const struct sl_field splice_out[] = {
  SL_CHOICE(struct sl_splice_out, place, splice_places, "what it is in"),
  SL_COUNT(struct sl_splice_out, bay, "from the west, the first is 1; 0 in an overhang"),
  SL_REAL(struct sl_splice_out, share, SL_RATIO, "of the bay, from the nearer support"),
};
SL_OP_CALL(splice)

SL_OPS(rail, 15) = {
  SL_OP(expansion, "how much a rail lengthens with warmth"),
  SL_OP_ROOM(rail_runs, "the runs of a row between its expansion joints"),
  SL_OP_ROOM(rail_joints, "where a rail is spliced: fewest pieces, then the cheapest stock"),
  SL_OP_ROOM(rail_reach, "the shortest stock out of which a rail can be made"),
  SL_OP(splice, "in which bay a splice is, and how far from its nearer support"),
  {0},
};
