/* SPDX-License-Identifier: MIT
 * Fasteners in wood as Lua sees them. */
#include "bind/bind.h"
#include "stringline/fasteners.h"

#define WOOD(s) SL_TEXT(s, edition, "edition of the wood standard: \"NDS 2018\"")
#define KIND(s) SL_CHOICE(s, kind, sl_fasteners, "of fastener")
#define SIZE(s) SL_TEXT(s, size, "of the fastener: 3/8, No. 10")
#define DURATION(s) SL_CHOICE(s, duration, sl_durations, "of the shortest load of the combination")
#define MOISTURE(s) SL_CHOICE_OPT(s, moisture, sl_moistures, \
                                  "wet: above 19 % in service; dried: above it when built, below it in service")

#define S struct sl_screw_withdrawal_in
static const struct sl_field screw_withdrawal_in[] = {
  KIND(S),
  SIZE(S),
  SL_TEXT_OPT(S, species, "of the wood that holds the thread; or its gravity"),
  SL_REAL_OPT(S, gravity, SL_NUMBER, "oven-dry specific gravity of that wood; or its species"),
  SL_REAL(S, length, SL_LENGTH, "of the screw under its head, with its tip"),
  SL_REAL_OPT(S, thread, SL_LENGTH, "of it with the tip; without it the least of the size table"),
  SL_REAL_OPT(S, side, SL_LENGTH, "thickness of what it passes through"),
  SL_REAL_OPT(S, washer, SL_LENGTH, "thickness of the washer under the head"),
  SL_REAL_OPT(S, depth, SL_LENGTH, "of the wood that holds the thread; without it deeper than the screw"),
  DURATION(S),
  MOISTURE(S),
  SL_FLAG_OPT(S, end_grain, "into the end of the member: lag screws alone"),
  WOOD(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_screw_withdrawal_out, m, dim, help)
static const struct sl_field screw_withdrawal_out[] = {
  OUT(thread_in, SL_LENGTH, "thread in the wood, without the tip"),
  OUT(per_length, SL_LINE_LOAD, "reference value of a length of thread, W"),
  OUT(reference, SL_FORCE, "reference value of the screw"),
  OUT(adjusted, SL_FORCE, "what it holds with all factors"),
};
#undef OUT
SL_OP_CALL(screw_withdrawal)

#define S struct sl_screw_combined_in
static const struct sl_field screw_combined_in[] = {
  SL_REAL(S, lateral_allowed, SL_FORCE, "loaded sideways alone, with all factors, Z'"),
  SL_REAL(S, withdrawal_allowed, SL_FORCE, "pulled alone, with all factors, W' p"),
  SL_REAL(S, lateral, SL_FORCE, "load across the axis"),
  SL_REAL(S, withdrawal, SL_FORCE, "load along the axis, out of the wood"),
  WOOD(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_screw_combined_out, m, dim, help)
static const struct sl_field screw_combined_out[] = {
  OUT(angle, SL_ANGLE, "of the load to the surface of the wood"),
  OUT(load, SL_FORCE, "both loads together"),
  OUT(allowed, SL_FORCE, "at that angle"),
  OUT(used, SL_NUMBER, "load over what is allowed; holds at 1 or less"),
};
#undef OUT
SL_OP_CALL(screw_combined)

#define S struct sl_dowel_yield_in
static const struct sl_field dowel_yield_in[] = {
  KIND(S),
  SIZE(S),
  SL_FLAG_OPT(S, two_planes, "double shear: side members on both sides, alike"),
  SL_TEXT_OPT(S, main_species, "of the member that holds the point, or lies in the middle; or its gravity"),
  SL_REAL_OPT(S, main_gravity, SL_NUMBER, "oven-dry specific gravity of it; or its species"),
  SL_REAL(S, main_thickness, SL_LENGTH, "along the fastener"),
  SL_REAL(S, side_thickness, SL_LENGTH, "along the fastener, of one side member"),
  SL_REAL(S, main_angle, SL_ANGLE, "of the load to the grain of the main member"),
  SL_TEXT_OPT(S, side_species, "of the side member; or its gravity, or a plate"),
  SL_REAL_OPT(S, side_gravity, SL_NUMBER, "oven-dry specific gravity of it"),
  SL_REAL_OPT(S, side_angle, SL_ANGLE, "of the load to the grain of the side member; none with a plate"),
  SL_TEXT_OPT(S, plate, "steel of a side plate: A36, A653 Grade 33"),
  SL_REAL_OPT(S, length, SL_LENGTH, "of a screw under its head, with its tip; none of a bolt"),
  SL_REAL_OPT(S, washer, SL_LENGTH, "thickness of the washer under a screw's head"),
  SL_FLAG_OPT(S, end_grain, "the fastener lies along the fibers of the main member"),
  DURATION(S),
  MOISTURE(S),
  SL_FLAG_OPT(S, one_row, "a fastener alone, or one row along the grain: for wood that dries"),
  SL_REAL_OPT(S, group, SL_NUMBER, "factor Cg of several in a row; 1 if not said"),
  SL_REAL_OPT(S, geometry, SL_NUMBER, "factor of the distances, C_delta; 1 if not said"),
  WOOD(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_dowel_yield_out, m, dim, help)
#define OPT(m, dim, help) SL_REAL_OPT(struct sl_dowel_yield_out, m, dim, help)
static const struct sl_field dowel_yield_out[] = {
  OUT(main_bearing, SL_STRESS, "bearing strength of the main member, Fem"),
  OUT(side_bearing, SL_STRESS, "bearing strength of the side member, Fes"),
  OUT(main_length, SL_LENGTH, "of bearing in the main member"),
  OUT(side_length, SL_LENGTH, "of bearing in a side member"),
  OUT(mode_Im, SL_FORCE, "the main member is crushed"),
  OUT(mode_Is, SL_FORCE, "the side member is crushed"),
  OPT(mode_II, SL_FORCE, "both are, the fastener turns; one plane alone"),
  OPT(mode_IIIm, SL_FORCE, "the fastener bends in the main member; one plane alone"),
  OUT(mode_IIIs, SL_FORCE, "the fastener bends in the side member"),
  OUT(mode_IV, SL_FORCE, "the fastener bends twice at the plane"),
  OUT(reference, SL_FORCE, "the least of these, Z"),
  OUT(adjusted, SL_FORCE, "what it holds with all factors, Z'"),
  SL_TEXT(struct sl_dowel_yield_out, governs, "mode of the least"),
};
#undef OUT
#undef OPT
SL_OP_CALL(dowel_yield)

#define S struct sl_dowel_spacing_in
static const struct sl_field dowel_spacing_in[] = {
  KIND(S),
  SIZE(S),
  SL_CHOICE(S, load, sl_fastener_loads, "of the fastener in this member"),
  SL_REAL_OPT(S, main_bearing, SL_LENGTH, "of the fastener in the main member; none in withdrawal"),
  SL_REAL_OPT(S, side_bearing, SL_LENGTH, "of it in all side members of wood; none with steel and in withdrawal"),
  SL_REAL_OPT(S, to_end, SL_LENGTH, "distance to the nearest end, along the grain"),
  SL_REAL_OPT(S, spacing, SL_LENGTH, "in a row"),
  SL_REAL_OPT(S, to_edge, SL_LENGTH, "distance to the nearest edge; across the grain to that which is pressed"),
  SL_REAL_OPT(S, to_other_edge, SL_LENGTH, "distance to the other edge; across the grain alone"),
  SL_REAL_OPT(S, row_spacing, SL_LENGTH, "between rows"),
  WOOD(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_dowel_spacing_out, m, dim, help)
static const struct sl_field dowel_spacing_out[] = {
  OUT(end_least, SL_LENGTH, "from the end at least"),
  OUT(end_full, SL_LENGTH, "from the end for the whole value"),
  OUT(spacing_least, SL_LENGTH, "in a row at least"),
  OUT(spacing_full, SL_LENGTH, "in a row for the whole value"),
  OUT(edge_least, SL_LENGTH, "from the edge at least; across the grain that which is pressed"),
  OUT(rows_least, SL_LENGTH, "between rows at least"),
  SL_REAL_OPT(struct sl_dowel_spacing_out, unloaded_edge_least, SL_LENGTH, "from the other edge, across the grain"),
  OUT(outermost_most, SL_LENGTH, "between outermost fasteners across the grain, where the wood cannot shrink freely"),
  OUT(factor, SL_NUMBER, "C_delta, the least over the distances that are said; 0: nearer than the least"),
  SL_TEXT(struct sl_dowel_spacing_out, governs, "which distance that is"),
};
#undef OUT
SL_OP_CALL(dowel_spacing)

#define S struct sl_group_action_in
static const struct sl_field group_action_in[] = {
  KIND(S),
  SIZE(S),
  SL_COUNT(S, count, "in one row along the load"),
  SL_REAL(S, spacing, SL_LENGTH, "in the row"),
  SL_REAL(S, main_area, SL_SECTION, "gross section of the main member"),
  SL_REAL(S, side_area, SL_SECTION, "gross section of the side members together"),
  SL_REAL(S, main_modulus, SL_STRESS, "E of the main member"),
  SL_REAL_OPT(S, side_modulus, SL_STRESS, "E of the side members of wood; plates of steel if not said"),
  WOOD(S),
};
#undef S
static const struct sl_field group_action_out[] = {
  SL_REAL(struct sl_group_action_out, slip, SL_LINE_LOAD, "load of one fastener for each length that it slips"),
  SL_REAL(struct sl_group_action_out, factor, SL_NUMBER, "Cg"),
};
SL_OP_CALL(group_action)

SL_OPS(fasteners, 47) = {
  SL_OP(screw_withdrawal, "lag screw or wood screw that is pulled out of wood"),
  SL_OP(dowel_yield, "bolt or screw loaded across its axis, in wood or between wood and steel"),
  SL_OP(screw_combined, "screw that is pulled and loaded across its axis"),
  SL_OP(dowel_spacing, "distances of bolts and lag screws, and what nearer ones leave"),
  SL_OP(group_action, "several fasteners in a row along the load"),
  {0},
};
