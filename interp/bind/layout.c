/* SPDX-License-Identifier: MIT
 * Layout primitives as Lua sees them. */
#include "bind/bind.h"
#include "stringline/layout.h"

static const char *const orientations[] = { [SL_PORTRAIT] = "portrait", [SL_LANDSCAPE] = "landscape", NULL };

#define IN(m, dim, help)  SL_REAL(struct sl_layout_in, m, dim, help)
#define OUT(m, dim, help) SL_REAL(struct sl_layout_out, m, dim, help)
static const struct sl_field layout_in[] = {
  IN(module_length, SL_LENGTH, "long side of a module"),
  IN(module_width, SL_LENGTH, "short side of a module"),
  SL_CHOICE(struct sl_layout_in, orientation, orientations, "portrait: long side up the slope"),
  SL_COUNT(struct sl_layout_in, rows, "modules up the slope"),
  SL_COUNT(struct sl_layout_in, columns, "modules along the row"),
  IN(column_gap, SL_LENGTH, "between neighbours along the row"),
  IN(row_gap, SL_LENGTH, "between neighbours up the slope"),
  IN(tilt, SL_ANGLE, "of the modules from level"),
  IN(lower_edge, SL_LENGTH, "clear height of the lower edge above the datum"),
  SL_COUNT_OPT(struct sl_layout_in, joints, "expansion joints among the gaps along the row"),
  SL_REAL_OPT(struct sl_layout_in, joint_gap, SL_LENGTH, "between the modules there; as column_gap, if not said"),
};
static const struct sl_field layout_out[] = {
  OUT(row_width, SL_LENGTH, "of the modules along the row, outside to outside"),
  OUT(slope_length, SL_LENGTH, "of the modules up the slope, outside to outside"),
  OUT(rise, SL_LENGTH, "of the slope"),
  OUT(run, SL_LENGTH, "depth of the slope in plan"),
  OUT(top_edge, SL_LENGTH, "height of the top edge above the datum"),
  OUT(mean_height, SL_LENGTH, "of the modules above the datum"),
  OUT(area, SL_AREA, "of the module plane with its gaps"),
  OUT(module_area, SL_AREA, "of the modules alone"),
};
#undef IN
#undef OUT
SL_OP_CALL(layout)

#define IN(m, dim, help) SL_REAL(struct sl_bearing_in, m, dim, help)
static const struct sl_field bearing_in[] = {
  IN(slope_length, SL_LENGTH, "of the modules up the slope"),
  IN(tilt, SL_ANGLE, "of the modules from level"),
  IN(lower_edge, SL_LENGTH, "clear height of the lower edge above the datum"),
  IN(fraction, SL_RATIO, "of the slope, from the lower edge, where the support stands"),
  IN(stack, SL_LENGTH, "rail, rafter and saddle together, square to the modules"),
  SL_REAL_OPT(struct sl_bearing_in, plumb, SL_LENGTH, "what lies below that plumb, such as a beam on edge"),
};
static const struct sl_field bearing_out[] = {
  SL_REAL(struct sl_bearing_out, back, SL_LENGTH, "horizontal, uphill from the lower edge"),
  SL_REAL(struct sl_bearing_out, height, SL_LENGTH, "above the datum"),
};
#undef IN
SL_OP_CALL(bearing)

#define IN(m, help)  SL_REAL(struct sl_post_cut_in, m, SL_LENGTH, help)
#define OUT(m, help) SL_REAL(struct sl_post_cut_out, m, SL_LENGTH, help)
static const struct sl_field post_cut_in[] = {
  IN(bearing_height, "top of the post above the datum"),
  IN(ground, "ground at the post above the datum"),
  SL_REAL_OPT(struct sl_post_cut_in, hole_depth, SL_LENGTH, "below the ground at the post"),
  SL_REAL_OPT(struct sl_post_cut_in, gravel, SL_LENGTH, "under the post in its hole"),
  SL_FLAG_OPT(struct sl_post_cut_in, has_base, "it stands on a block or a screw, or is driven: it has no hole"),
  SL_REAL_OPT(struct sl_post_cut_in, base, SL_LENGTH, "its foot above the ground, below 0 where it is driven"),
};
static const struct sl_field post_cut_out[] = {
  OUT(cut_length, "of the post, from its foot to its top"),
  OUT(above_ground, "top of the post above its own ground"),
  OUT(embedment, "of the post below its own ground"),
};
#undef IN
#undef OUT
SL_OP_CALL(post_cut)

static const struct sl_field diagonal_in[] = {
  SL_REAL(struct sl_diagonal_in, along, SL_LENGTH, "one side of the rectangle"),
  SL_REAL(struct sl_diagonal_in, across, SL_LENGTH, "the other side"),
};
static const struct sl_field diagonal_out[] = {
  SL_REAL(struct sl_diagonal_out, diagonal, SL_LENGTH, "corner to corner"),
};
SL_OP_CALL(diagonal)

static const struct sl_field rail_length_in[] = {
  SL_REAL(struct sl_rail_length_in, row_width, SL_LENGTH, "of the modules along the row"),
  SL_REAL(struct sl_rail_length_in, end_allowance, SL_LENGTH, "beyond the last module, at each end"),
};
static const struct sl_field rail_length_out[] = {
  SL_REAL(struct sl_rail_length_out, length, SL_LENGTH, "of one line of rail"),
};
SL_OP_CALL(rail_length)

static const struct sl_field stations_in[] = {
  SL_REAL(struct sl_stations_in, row_width, SL_LENGTH, "of the modules along the row"),
  SL_COUNT(struct sl_stations_in, posts, "in the line"),
  SL_REAL(struct sl_stations_in, spacing, SL_LENGTH, "of the posts, centre to centre"),
};
static const struct sl_field station[] = {
  SL_REAL(struct sl_station, offset, SL_LENGTH, "centre of the post from the west edge of the modules"),
  SL_REAL(struct sl_station, tributary, SL_LENGTH, "length of row that the post carries"),
};
static const struct sl_field stations_out[] = {
  SL_REAL(struct sl_stations_out, overhang, SL_LENGTH, "of the modules beyond an end post"),
  SL_ROWS(struct sl_stations_out, stations, nstations, struct sl_station, station, "the posts, from the west"),
};
SL_OP_CALL_ROOM(stations)

static const struct sl_field bays_in[] = {
  SL_REAL(struct sl_bays_in, row_width, SL_LENGTH, "of the modules along the row"),
  SL_LIST(struct sl_bays_in, bays, nbays, SL_LENGTH, "from post to post, west to east"),
  SL_REAL_OPT(struct sl_bays_in, set_in, SL_LENGTH, "first post from the west edge of the modules"),
};
static const struct sl_field bays_out[] = {
  SL_REAL(struct sl_bays_out, length, SL_LENGTH, "from the first post to the last"),
  SL_REAL(struct sl_bays_out, west, SL_LENGTH, "of the modules beyond the first post"),
  SL_REAL(struct sl_bays_out, east, SL_LENGTH, "of the modules beyond the last post"),
  SL_ROWS(struct sl_bays_out, stations, nstations, struct sl_station, station, "the posts, from the west"),
};
SL_OP_CALL_ROOM(bays)

static const struct sl_field on_slope_in[] = {
  SL_REAL(struct sl_on_slope_in, slope, SL_RATIO, "rise of the row over its length in plan, east up"),
  SL_REAL(struct sl_on_slope_in, along, SL_LENGTH, "the row from the west end of the modules, as on the level rack"),
  SL_REAL(struct sl_on_slope_in, above, SL_LENGTH, "the lower edge, as on the level rack"),
};
static const struct sl_field on_slope_out[] = {
  SL_REAL(struct sl_on_slope_out, plan, SL_LENGTH, "along the row from the west end of the lower edge, in plan"),
  SL_REAL(struct sl_on_slope_out, up, SL_LENGTH, "above the west end of the lower edge"),
};
SL_OP_CALL(on_slope)

static const struct sl_field true_bearing_in[] = {
  SL_REAL(struct sl_true_bearing_in, compass, SL_ANGLE, "magnetic, clockwise from north"),
  SL_REAL(struct sl_true_bearing_in, declination, SL_ANGLE, "of the compass, east positive"),
};
static const struct sl_field true_bearing_out[] = {
  SL_REAL(struct sl_true_bearing_out, bearing, SL_ANGLE, "true, clockwise from north"),
};
SL_OP_CALL(true_bearing)

static const struct sl_field facing_in[] = {
  SL_REAL(struct sl_facing_in, bearing, SL_ANGLE, "true, clockwise from north"),
  SL_REAL(struct sl_facing_in, latitude, SL_ANGLE, "north positive"),
};
static const struct sl_field facing_out[] = {
  SL_REAL(struct sl_facing_out, off, SL_ANGLE, "turned from the equator"),
  SL_REAL(struct sl_facing_out, most, SL_ANGLE, "that needs no reason"),
};
SL_OP_CALL(facing)

static const struct sl_field overhead_in[] = {
  SL_REAL(struct sl_overhead_in, height, SL_LENGTH, "to which something is raised"),
};
static const struct sl_field overhead_out[] = {
  SL_REAL(struct sl_overhead_out, least, SL_LENGTH, "distance along the ground from a line of up to 50 kV"),
};
SL_OP_CALL(overhead)

SL_OPS(layout, 10) = {
  SL_OP(layout, "outline of a rack from its modules"),
  SL_OP(bearing, "where a support meets the stack under the modules"),
  SL_OP(post_cut, "length to cut a post that stands on gravel"),
  SL_OP(diagonal, "check measure of a rectangle"),
  SL_OP(rail_length, "length of a line of rail"),
  SL_OP_ROOM(stations, "places of the posts in a line, and the length of row that each carries"),
  SL_OP_ROOM(bays, "places of the posts in a line with unlike bays, and the length of row that each carries"),
  SL_OP(on_slope, "where a point of a rack comes to lie when its row follows the ground"),
  SL_OP(true_bearing, "true bearing from a compass reading"),
  SL_OP(facing, "how far an array is turned from the equator"),
  SL_OP(overhead, "distance to keep from an overhead line"),
  {0},
};
