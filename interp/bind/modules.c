/* SPDX-License-Identifier: MIT
 * Modules on their rails, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/modules.h"

#define UP_THE_SLOPE(s) \
  SL_REAL(s, side, SL_LENGTH, "of a module up the slope"), \
  SL_COUNT(s, rows, "modules up the slope"), \
  SL_REAL(s, row_gap, SL_LENGTH, "between rows of modules")
#define ALONG_THE_ROW(s) \
  SL_REAL(s, across, SL_LENGTH, "of a module along the row"), \
  SL_COUNT(s, columns, "modules along the row"), \
  SL_REAL(s, column_gap, SL_LENGTH, "between modules along the row"), \
  SL_LIST(s, joints, njoints, SL_NUMBER, "columns behind which the rails are parted, from the west"), \
  SL_REAL(s, joint_gap, SL_LENGTH, "between modules there")

static const struct sl_field rail_places_in[] = {
  UP_THE_SLOPE(struct sl_rail_places_in),
  SL_REAL(struct sl_rail_places_in, zone_least, SL_LENGTH, "from a module's corner to where clamps may begin"),
  SL_REAL(struct sl_rail_places_in, zone_most, SL_LENGTH, "from a module's corner to where they must end"),
};
static const struct sl_field rail_places_out[] = {
  SL_LIST(struct sl_rail_places_out, at, nat, SL_LENGTH, "the rails, up the slope from the lower edge"),
};
SL_OP_CALL_ROOM(rail_places)

static const struct sl_field rail_crossings_in[] = {
  UP_THE_SLOPE(struct sl_rail_crossings_in),
  SL_LIST(struct sl_rail_crossings_in, at, nat, SL_LENGTH, "the rails, up the slope from the lower edge"),
};
static const struct sl_field crossing[] = {
  SL_REAL(struct sl_crossing, up, SL_LENGTH, "up the slope from the lower edge"),
  SL_REAL(struct sl_crossing, row, SL_NUMBER, "of modules that it crosses, from below"),
  SL_REAL(struct sl_crossing, from_below, SL_LENGTH, "along the modules' side from their lower corner"),
  SL_REAL(struct sl_crossing, from_corner, SL_LENGTH, "along the modules' side from the nearer corner"),
};
static const struct sl_field rail_crossings_out[] = {
  SL_ROWS(struct sl_rail_crossings_out, rails, nrails, struct sl_crossing, crossing, "the rails, from below"),
};
SL_OP_CALL_ROOM(rail_crossings)

static const struct sl_field clamps_in[] = {
  ALONG_THE_ROW(struct sl_clamps_in),
};
static const struct sl_field clamp[] = {
  SL_REAL(struct sl_clamp, along, SL_LENGTH, "from the west end of the modules: middle of the gap, edge of the module"),
  SL_REAL(struct sl_clamp, west, SL_NUMBER, "column of the module west of it; 0: none"),
  SL_REAL(struct sl_clamp, east, SL_NUMBER, "column of the module east of it; 0: none"),
};
static const struct sl_field clamps_out[] = {
  SL_COUNT(struct sl_clamps_out, mids, "between two modules"),
  SL_COUNT(struct sl_clamps_out, ends, "at the ends of the row, and on both sides of a joint"),
  SL_ROWS(struct sl_clamps_out, clamps, nclamps, struct sl_clamp, clamp, "the clamps, from the west"),
};
SL_OP_CALL_ROOM(clamps)

#define IN(m, help) SL_REAL(struct sl_mounting_in, m, SL_LENGTH, help)
static const struct sl_field mounting_in[] = {
  ALONG_THE_ROW(struct sl_mounting_in),
  IN(width_tolerance, "how far a module's size along the row may be off"),
  IN(gap_tolerance, "how far a gap may be off"),
  IN(end_allowance, "rail beyond the last module"),
};
#undef IN
static const struct sl_field turn[] = {
  SL_REAL(struct sl_turn, column, SL_NUMBER, "of the module that comes next, from the west"),
  SL_REAL(struct sl_turn, along, SL_LENGTH, "its west edge as drawn, from the west end of the modules"),
  SL_REAL(struct sl_turn, drift, SL_LENGTH, "how far its outer edge may be off"),
};
static const struct sl_field mounting_out[] = {
  SL_REAL(struct sl_mounting_out, drift, SL_LENGTH, "of the last module's outer edge, from the middle outward"),
  SL_REAL(struct sl_mounting_out, one_way, SL_LENGTH, "of the last module's outer edge, from one end to the other"),
  SL_REAL(struct sl_mounting_out, left, SL_LENGTH, "of the end allowance, from the middle outward"),
  SL_ROWS(struct sl_mounting_out, turns, nturns, struct sl_turn, turn, "the modules of a row in their order"),
};
SL_OP_CALL_ROOM(mounting)

#define IN(m, dim, help) SL_REAL(struct sl_frame_points_in, m, dim, help)
static const struct sl_field run_ends[] = {
  SL_REAL(struct sl_run_ends, from, SL_LENGTH, "west end, from the west end of the modules"),
  SL_REAL(struct sl_run_ends, to, SL_LENGTH, "east end"),
};
static const struct sl_field standing[] = {
  SL_REAL(struct sl_standing, offset, SL_LENGTH, "from the west end of the modules"),
  SL_REAL(struct sl_standing, setback, SL_LENGTH, "behind the lower edge, in plan"),
  SL_REAL(struct sl_standing, top, SL_LENGTH, "of the post, above the datum"),
  SL_REAL(struct sl_standing, ground, SL_LENGTH, "at the post, above the datum"),
};
static const struct sl_field frame_points_in[] = {
  IN(corner_east, SL_LENGTH, "west end of the lower edge"),
  IN(corner_north, SL_LENGTH, "west end of the lower edge"),
  IN(azimuth, SL_ANGLE, "true bearing that the modules face"),
  IN(tilt, SL_ANGLE, "of the modules from level"),
  IN(edge_height, SL_LENGTH, "of the lower edge above the datum"),
  ALONG_THE_ROW(struct sl_frame_points_in),
  UP_THE_SLOPE(struct sl_frame_points_in),
  SL_LIST(struct sl_frame_points_in, at, nat, SL_LENGTH, "the rails, up the slope from the lower edge"),
  SL_ROWS(struct sl_frame_points_in, runs, nruns, struct sl_run_ends, run_ends, "parts of each rail between joints"),
  SL_LIST(struct sl_frame_points_in, supports, nsupports, SL_LENGTH, "members under the rails, from the west end"),
  IN(support_from, SL_LENGTH, "their lower end, up the slope from the lower edge"),
  IN(support_to, SL_LENGTH, "their upper end"),
  IN(rail_depth, SL_LENGTH, "of the rails, square to the modules"),
  SL_ROWS(struct sl_frame_points_in, posts, nposts, struct sl_standing, standing, "the posts"),
  SL_REAL_OPT(struct sl_frame_points_in, slope, SL_RATIO, "rise of the row over its length in plan, east up"),
};
#undef IN
#define POINT(s) \
  SL_REAL(s, along, SL_LENGTH, "along the row, from the west end of the modules"), \
  SL_REAL(s, uphill, SL_LENGTH, "horizontally uphill from the lower edge"), \
  SL_REAL(s, up, SL_LENGTH, "above the datum"), \
  SL_REAL(s, east, SL_LENGTH, "on the plan"), \
  SL_REAL(s, north, SL_LENGTH, "on the plan")
static const struct sl_field corner[] = {
  SL_REAL(struct sl_corner, row, SL_NUMBER, "of the module, from below"),
  SL_REAL(struct sl_corner, column, SL_NUMBER, "of the module, from the west"),
  SL_REAL(struct sl_corner, corner, SL_NUMBER, "1 lower west, 2 lower east, 3 upper east, 4 upper west"),
  POINT(struct sl_corner),
};
static const struct sl_field rail_end[] = {
  SL_REAL(struct sl_rail_end, line, SL_NUMBER, "of rail, from below"),
  SL_REAL(struct sl_rail_end, run, SL_NUMBER, "part of it, from the west"),
  SL_REAL(struct sl_rail_end, which, SL_NUMBER, "end: 1 west, 2 east"),
  POINT(struct sl_rail_end),
};
static const struct sl_field support_end[] = {
  SL_REAL(struct sl_support_end, support, SL_NUMBER, "from the west"),
  SL_REAL(struct sl_support_end, which, SL_NUMBER, "end: 1 lower, 2 upper"),
  POINT(struct sl_support_end),
};
static const struct sl_field post_end[] = {
  SL_REAL(struct sl_post_end, post, SL_NUMBER, "in the order in which they were given"),
  SL_REAL(struct sl_post_end, which, SL_NUMBER, "end: 1 at the ground, 2 the top"),
  POINT(struct sl_post_end),
};
static const struct sl_field frame_points_out[] = {
  SL_REAL(struct sl_frame_points_out, row_bearing, SL_ANGLE, "of the row from its west end, due north from its south"),
  SL_ROWS(struct sl_frame_points_out, corners, ncorners, struct sl_corner, corner,
          "of the modules, at the underside of their frames"),
  SL_ROWS(struct sl_frame_points_out, rail_ends, nrail_ends, struct sl_rail_end, rail_end,
          "of the rails, at their top"),
  SL_ROWS(struct sl_frame_points_out, support_ends, nsupport_ends, struct sl_support_end, support_end,
          "of the members under the rails, at their top edge"),
  SL_ROWS(struct sl_frame_points_out, post_ends, npost_ends, struct sl_post_end, post_end, "of the posts"),
};
SL_OP_CALL_ROOM(frame_points)

SL_OPS(modules, 12) = {
  SL_OP_ROOM(rail_places, "places of the rails in the middle of the modules' clamp zones"),
  SL_OP_ROOM(rail_crossings, "where rails cross the modules"),
  SL_OP_ROOM(clamps, "places and numbers of the clamps on a rail"),
  SL_OP_ROOM(mounting, "order in which the modules of a row are mounted, and what their errors run up to"),
  SL_OP_ROOM(frame_points, "coordinates of modules, rails, supports and posts"),
  {0},
};
