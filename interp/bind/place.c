/* SPDX-License-Identifier: MIT
 * Places of racks as Lua sees them. */
#include "bind/bind.h"
#include "stringline/place.h"

/* Where a rack stands, by its west corner, and which way it faces. */
#define CORNER(s) \
  SL_REAL(s, east, SL_LENGTH, "of the rack's west corner"), \
  SL_REAL(s, north, SL_LENGTH, "of the rack's west corner"), \
  SL_REAL(s, facing, SL_ANGLE, "true bearing that its modules face")

static const struct sl_field row_bearing_in[] = {
  SL_REAL(struct sl_row_bearing_in, facing, SL_ANGLE, "true bearing that the modules face"),
};
static const struct sl_field row_bearing_out[] = {
  SL_REAL(struct sl_row_bearing_out, bearing, SL_ANGLE, "true, in which the row is counted"),
};
SL_OP_CALL(row_bearing)

static const struct sl_field place_in[] = {
  CORNER(struct sl_place_in),
  SL_REAL(struct sl_place_in, along, SL_LENGTH, "from that corner along the row"),
  SL_REAL(struct sl_place_in, behind, SL_LENGTH, "behind the line of the lower edge, in plan"),
};
static const struct sl_field place_out[] = {
  SL_REAL(struct sl_place_out, east, SL_LENGTH, "of the point"),
  SL_REAL(struct sl_place_out, north, SL_LENGTH, "of the point"),
};
SL_OP_CALL(place)

static const struct sl_field rack_outline_in[] = {
  CORNER(struct sl_rack_outline_in),
  SL_REAL(struct sl_rack_outline_in, row_width, SL_LENGTH, "of the modules along the row"),
  SL_REAL(struct sl_rack_outline_in, plan_depth, SL_LENGTH, "of the module plane seen from above"),
};
static const struct sl_field corner[] = {
  SL_REAL(struct sl_plan_corner, east, SL_LENGTH, "of the corner"),
  SL_REAL(struct sl_plan_corner, north, SL_LENGTH, "of the corner"),
};
static const struct sl_field rack_outline_out[] = {
  SL_ROWS(struct sl_rack_outline_out, corners, ncorners, struct sl_plan_corner, corner,
          "lower west, lower east, upper east, upper west"),
  SL_REAL(struct sl_rack_outline_out, from, SL_LENGTH, "its west end, along its row from the zero of the coordinates"),
  SL_REAL(struct sl_rack_outline_out, to, SL_LENGTH, "its east end, so"),
  SL_REAL(struct sl_rack_outline_out, lower, SL_LENGTH, "its lower edge, from there towards its back"),
  SL_REAL(struct sl_rack_outline_out, upper, SL_LENGTH, "its upper edge, so"),
};
SL_OP_CALL_ROOM(rack_outline)

static const struct sl_field place_beside_in[] = {
  CORNER(struct sl_place_beside_in),
  SL_REAL(struct sl_place_beside_in, row_width, SL_LENGTH, "of its modules along the row"),
  SL_REAL(struct sl_place_beside_in, aisle, SL_LENGTH, "clear between the ends of the two racks' modules"),
  SL_REAL(struct sl_place_beside_in, step, SL_LENGTH, "that the next lower edge lies behind the line of this one"),
};
static const struct sl_field place_beside_out[] = {
  SL_REAL(struct sl_place_beside_out, east, SL_LENGTH, "of the next rack's west corner"),
  SL_REAL(struct sl_place_beside_out, north, SL_LENGTH, "of the next rack's west corner"),
};
SL_OP_CALL(place_beside)

static const struct sl_field place_behind_in[] = {
  CORNER(struct sl_place_behind_in),
  SL_REAL(struct sl_place_behind_in, plan_depth, SL_LENGTH, "of its module plane seen from above"),
  SL_REAL(struct sl_place_behind_in, gap, SL_LENGTH, "clear from its upper edge to the next rack's lower edge"),
};
static const struct sl_field place_behind_out[] = {
  SL_REAL(struct sl_place_behind_out, east, SL_LENGTH, "of the next rack's west corner"),
  SL_REAL(struct sl_place_behind_out, north, SL_LENGTH, "of the next rack's west corner"),
};
SL_OP_CALL(place_behind)

static const struct sl_field outline[] = {
  SL_REAL(struct sl_outline, east, SL_LENGTH, "of its west corner"),
  SL_REAL(struct sl_outline, north, SL_LENGTH, "of its west corner"),
  SL_REAL(struct sl_outline, facing, SL_ANGLE, "true bearing that the modules face"),
  SL_REAL(struct sl_outline, along, SL_LENGTH, "its side along the row"),
  SL_REAL(struct sl_outline, across, SL_LENGTH, "its side square to the row"),
};
static const struct sl_field apart_in[] = {
  SL_ROWS(struct sl_apart_in, outlines, n, struct sl_outline, outline, "rectangles in plan"),
};
static const struct sl_field way[] = {
  SL_COUNT(struct sl_way, nearest, "which outline is nearest, counted from 1"),
  SL_REAL(struct sl_way, gap, SL_LENGTH, "clear between the two; below 0, how far they overlap"),
};
static const struct sl_field apart_out[] = {
  SL_ROWS(struct sl_apart_out, ways, nways, struct sl_way, way, "one for each outline, in their order"),
};
SL_OP_CALL_ROOM(apart)

static const struct sl_field hole[] = {
  SL_REAL(struct sl_hole, east, SL_LENGTH, "of its middle"),
  SL_REAL(struct sl_hole, north, SL_LENGTH, "of its middle"),
  SL_REAL(struct sl_hole, diameter, SL_LENGTH, "of the hole"),
  SL_COUNT(struct sl_hole, rack, "whose it is: a number of its own for each rack"),
};
static const struct sl_field holes_apart_in[] = {
  SL_ROWS(struct sl_holes_apart_in, holes, n, struct sl_hole, hole, "of two racks or more"),
};
static const struct sl_field holes_apart_out[] = {
  SL_COUNT(struct sl_holes_apart_out, first, "of the two that are nearest: which hole it is, counted from 1"),
  SL_COUNT(struct sl_holes_apart_out, second, "which hole is the other one"),
  SL_REAL(struct sl_holes_apart_out, clear, SL_LENGTH, "ground between the two; below 0, how far they overlap"),
};
SL_OP_CALL(holes_apart)

SL_OPS(place, 11) = {
  SL_OP(row_bearing, "direction in which a row is counted"),
  SL_OP(place, "east and north of a point of a rack"),
  SL_OP_ROOM(rack_outline, "corners of a rack in plan"),
  SL_OP(place_beside, "where a rack beside another stands"),
  SL_OP(place_behind, "where a rack behind another stands"),
  SL_OP_ROOM(apart, "ways between racks: to each the nearest, and how far apart they are"),
  SL_OP(holes_apart, "the two holes of different racks that are nearest to each other"),
  {0},
};
