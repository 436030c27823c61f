/* SPDX-License-Identifier: MIT
 * Where racks stand in plan, and how far they stand from each other.  Plane geometry; see place.h. */
#include <stdbool.h>
#include "guard.h"
#include "room.h"
#include "stringline/place.h"

#define GEOMETRY "plane geometry"
#define COUNTED  "rows count from west to east, from south to north where they run so"

enum { MOST_OUTLINES = 10000, MOST_HOLES = 5000, SIDES = 4 };

/* Slack for what should meet exactly: far below what anyone can measure. */
static const double slack = 1e-9;

#define FACING(sh, in) \
  do { REQUIRE(sh, in, facing, >= 0, "must be between 0 and 360 deg", SL_ANGLE); \
       REQUIRE(sh, in, facing, <= 4 * acos(0) + slack, "must be between 0 and 360 deg", SL_ANGLE); } while (0)

/* The bearing of the row, and the one that leads behind it.  A row that runs north-south to within slack does so. */
#define ROW(sh, in) \
  GIVEN(sh, SL_ANGLE, A, (in)->facing); \
  STEP(sh, SL_ANGLE, quarter, acos(0), GEOMETRY); \
  STEP(sh, SL_ANGLE, row, fabs(cos(A)) <= 1e-9 ? 0 : cos(A) < 0 ? A - quarter : fmod(A + quarter, 4 * quarter), \
       COUNTED)
#define BEHIND(sh) \
  STEP(sh, SL_ANGLE, behind, A + 2 * quarter, GEOMETRY)

#define CORNER(sh, in) \
  GIVEN(sh, SL_LENGTH, E, (in)->east); \
  GIVEN(sh, SL_LENGTH, N, (in)->north)

enum sl_status sl_row_bearing(const struct sl_row_bearing_in *in, struct sl_row_bearing_out *out,
                              struct sl_sheet *sh) {
  FACING(sh, in);
  ROW(sh, in);
  GIVES(sh, out, bearing, row);
  return SL_OK;
}

enum sl_status sl_place(const struct sl_place_in *in, struct sl_place_out *out, struct sl_sheet *sh) {
  FINITE(sh, in, east, SL_LENGTH);
  FINITE(sh, in, north, SL_LENGTH);
  FACING(sh, in);
  FINITE(sh, in, along, SL_LENGTH);
  FINITE(sh, in, behind, SL_LENGTH);
  CORNER(sh, in);
  ROW(sh, in);
  BEHIND(sh);
  GIVEN(sh, SL_LENGTH, x, in->along);
  GIVEN(sh, SL_LENGTH, y, in->behind);
  STEP(sh, SL_LENGTH, east, E + x * sin(row) + y * sin(behind), GEOMETRY);
  STEP(sh, SL_LENGTH, north, N + x * cos(row) + y * cos(behind), GEOMETRY);
  GIVES(sh, out, east, east);
  GIVES(sh, out, north, north);
  return SL_OK;
}

size_t sl_rack_outline_need(const struct sl_rack_outline_in *in) {
  (void)in;
  return NEED(0, struct sl_plan_corner, SIDES);
}

enum sl_status sl_rack_outline(const struct sl_rack_outline_in *in, struct sl_rack_outline_out *out,
                               struct sl_space space, struct sl_sheet *sh) {
  FINITE(sh, in, east, SL_LENGTH);
  FINITE(sh, in, north, SL_LENGTH);
  FACING(sh, in);
  POSITIVE(sh, in, row_width, SL_LENGTH);
  NOT_NEGATIVE(sh, in, plan_depth, SL_LENGTH);
  ENOUGH(sh, space, sl_rack_outline_need(in));
  struct sl_plan_corner *corners = PART(&space, struct sl_plan_corner, SIDES);
  CORNER(sh, in);
  ROW(sh, in);
  BEHIND(sh);
  GIVEN(sh, SL_LENGTH, W, in->row_width);
  GIVEN(sh, SL_LENGTH, D, in->plan_depth);
  LINES(sh, "corners: lower west, lower east, upper east, upper west");
  for (size_t i = 0; i < SIDES; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, x, i == 1 || i == 2 ? W : 0);
    GIVEN(sh, SL_LENGTH, y, i >= 2 ? D : 0);
    STEP(sh, SL_LENGTH, east, E + x * sin(row) + y * sin(behind), GEOMETRY);
    STEP(sh, SL_LENGTH, north, N + x * cos(row) + y * cos(behind), GEOMETRY);
    GIVES_ROW(sh, corners, i, east, east);
    GIVES_ROW(sh, corners, i, north, north);
  }
  LINES_END(sh);
  *out = (struct sl_rack_outline_out){ .corners = corners, .ncorners = SIDES };
  STEP(sh, SL_LENGTH, from, E * sin(row) + N * cos(row), GEOMETRY);
  STEP(sh, SL_LENGTH, to, from + W, GEOMETRY);
  STEP(sh, SL_LENGTH, lower, E * sin(behind) + N * cos(behind), GEOMETRY);
  STEP(sh, SL_LENGTH, upper, lower + D, GEOMETRY);
  GIVES(sh, out, from, from);
  GIVES(sh, out, to, to);
  GIVES(sh, out, lower, lower);
  GIVES(sh, out, upper, upper);
  return SL_OK;
}

enum sl_status sl_place_beside(const struct sl_place_beside_in *in, struct sl_place_beside_out *out,
                               struct sl_sheet *sh) {
  FINITE(sh, in, east, SL_LENGTH);
  FINITE(sh, in, north, SL_LENGTH);
  FACING(sh, in);
  POSITIVE(sh, in, row_width, SL_LENGTH);
  NOT_NEGATIVE(sh, in, aisle, SL_LENGTH);
  FINITE(sh, in, step, SL_LENGTH);
  CORNER(sh, in);
  ROW(sh, in);
  BEHIND(sh);
  GIVEN(sh, SL_LENGTH, W, in->row_width);
  GIVEN(sh, SL_LENGTH, aisle, in->aisle);
  GIVEN(sh, SL_LENGTH, step, in->step);
  STEP(sh, SL_LENGTH, east, E + (W + aisle) * sin(row) + step * sin(behind), GEOMETRY);
  STEP(sh, SL_LENGTH, north, N + (W + aisle) * cos(row) + step * cos(behind), GEOMETRY);
  GIVES(sh, out, east, east);
  GIVES(sh, out, north, north);
  return SL_OK;
}

enum sl_status sl_place_behind(const struct sl_place_behind_in *in, struct sl_place_behind_out *out,
                               struct sl_sheet *sh) {
  FINITE(sh, in, east, SL_LENGTH);
  FINITE(sh, in, north, SL_LENGTH);
  FACING(sh, in);
  NOT_NEGATIVE(sh, in, plan_depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gap, SL_LENGTH);
  CORNER(sh, in);
  GIVEN(sh, SL_ANGLE, A, in->facing);
  STEP(sh, SL_ANGLE, quarter, acos(0), GEOMETRY);
  BEHIND(sh);
  GIVEN(sh, SL_LENGTH, D, in->plan_depth);
  GIVEN(sh, SL_LENGTH, gap, in->gap);
  STEP(sh, SL_LENGTH, east, E + (D + gap) * sin(behind), GEOMETRY);
  STEP(sh, SL_LENGTH, north, N + (D + gap) * cos(behind), GEOMETRY);
  GIVES(sh, out, east, east);
  GIVES(sh, out, north, north);
  return SL_OK;
}

/* ---- how far apart ----------------------------------------------------------------------------------------------- */

/* A rectangle as it is compared: its corners, the unit vectors of its sides, and a circle around it. */
struct box {
  double x[SIDES], y[SIDES];
  double ux, uy, vx, vy;
  double cx, cy, radius;
};

static struct box box_of(const struct sl_outline *o) {
  double A = o->facing, half = acos(-1);
  double row = fabs(cos(A)) <= slack ? 0 : cos(A) < 0 ? A - half / 2 : A + half / 2;
  struct box b = { .ux = sin(row), .uy = cos(row), .vx = sin(A + half), .vy = cos(A + half) };
  for (int i = 0; i < SIDES; i++) {
    double along = i == 1 || i == 2 ? o->along : 0, across = i >= 2 ? o->across : 0;
    b.x[i] = o->east + along * b.ux + across * b.vx;
    b.y[i] = o->north + along * b.uy + across * b.vy;
  }
  b.cx = (b.x[0] + b.x[2]) / 2;
  b.cy = (b.y[0] + b.y[2]) / 2;
  b.radius = hypot(o->along, o->across) / 2;
  return b;
}

/* How far two boxes reach into each other in the direction (x, y); below 0 they are apart there. */
static double reach(const struct box *a, const struct box *b, double x, double y) {
  double low_a = INFINITY, high_a = -INFINITY, low_b = INFINITY, high_b = -INFINITY;
  for (int i = 0; i < SIDES; i++) {
    double p = a->x[i] * x + a->y[i] * y, q = b->x[i] * x + b->y[i] * y;
    low_a = fmin(low_a, p);
    high_a = fmax(high_a, p);
    low_b = fmin(low_b, q);
    high_b = fmax(high_b, q);
  }
  return fmin(high_a - low_b, high_b - low_a);
}

static double to_side(double px, double py, double ax, double ay, double bx, double by) {
  double dx = bx - ax, dy = by - ay, square = dx * dx + dy * dy;
  double t = square > 0 ? fmin(1, fmax(0, ((px - ax) * dx + (py - ay) * dy) / square)) : 0;
  return hypot(px - ax - t * dx, py - ay - t * dy);
}

/* From the corners of one to the sides of the other. */
static double from_corners(const struct box *a, const struct box *b) {
  double least = INFINITY;
  for (int i = 0; i < SIDES; i++)
    for (int k = 0; k < SIDES; k++)
      least = fmin(least, to_side(a->x[i], a->y[i], b->x[k], b->y[k], b->x[(k + 1) % SIDES], b->y[(k + 1) % SIDES]));
  return least;
}

/* Two convex shapes that are apart are so across a side of one of them; else the least reach is what parts them. */
static double gap_between(const struct box *a, const struct box *b) {
  double into = fmin(fmin(reach(a, b, a->ux, a->uy), reach(a, b, a->vx, a->vy)),
                     fmin(reach(a, b, b->ux, b->uy), reach(a, b, b->vx, b->vy)));
  return into > slack ? -into : fmin(from_corners(a, b), from_corners(b, a));
}

static bool many_enough(size_t n) { return n >= 2 && n <= MOST_OUTLINES; }

size_t sl_apart_need(const struct sl_apart_in *in) {
  return many_enough(in->n) ? NEED(NEED(0, struct box, in->n), struct sl_way, in->n) : 0;
}

static void find_ways(const struct box *boxes, struct sl_way *ways, size_t n, struct sl_sheet *sh) {
  size_t compared = 0;
  for (size_t i = 0; i < n; i++) ways[i] = (struct sl_way){ .nearest = 0, .gap = INFINITY };
  for (size_t i = 0; i < n; i++)
    for (size_t k = i + 1; k < n; k++) {
      const struct box *a = &boxes[i], *b = &boxes[k];
      double at_least = hypot(a->cx - b->cx, a->cy - b->cy) - a->radius - b->radius;
      if (at_least > ways[i].gap && at_least > ways[k].gap) continue;
      double gap = gap_between(a, b);
      compared++;
      if (gap < ways[i].gap) ways[i] = (struct sl_way){ .nearest = (int)k + 1, .gap = gap };
      if (gap < ways[k].gap) ways[k] = (struct sl_way){ .nearest = (int)i + 1, .gap = gap };
    }
  WORKED(sh, 4 * n * n + 200 * compared);
}

enum sl_status sl_apart(const struct sl_apart_in *in, struct sl_apart_out *out, struct sl_space space,
                        struct sl_sheet *sh) {
  if (!many_enough(in->n))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "outlines", "must be 2 to 10000", "", (double)in->n, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->n; i++) {
    FINITE_ROW(sh, in, outlines, i, east, SL_LENGTH);
    FINITE_ROW(sh, in, outlines, i, north, SL_LENGTH);
    REQUIRE_ROW(sh, in, outlines, i, facing, >= 0, "must be between 0 and 360 deg", SL_ANGLE);
    REQUIRE_ROW(sh, in, outlines, i, facing, <= 4 * acos(0) + slack, "must be between 0 and 360 deg", SL_ANGLE);
    REQUIRE_ROW(sh, in, outlines, i, along, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ROW(sh, in, outlines, i, along, < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, in, outlines, i, across, >= 0, "must not be negative", SL_LENGTH);
    REQUIRE_ROW(sh, in, outlines, i, across, < INFINITY, "must be a finite number", SL_LENGTH);
  }
  ENOUGH(sh, space, sl_apart_need(in));
  struct box *boxes = PART(&space, struct box, in->n);
  struct sl_way *ways = PART(&space, struct sl_way, in->n);
  for (size_t i = 0; i < in->n; i++) boxes[i] = box_of(&in->outlines[i]);
  find_ways(boxes, ways, in->n, sh);

  LINES(sh, "each outline, the one nearest to it and the clear ground between them");
  for (size_t i = 0; i < in->n; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, E, in->outlines[i].east);
    GIVEN(sh, SL_LENGTH, N, in->outlines[i].north);
    GIVEN(sh, SL_ANGLE, A, in->outlines[i].facing);
    GIVEN(sh, SL_LENGTH, along, in->outlines[i].along);
    GIVEN(sh, SL_LENGTH, across, in->outlines[i].across);
    (void)E, (void)N, (void)A, (void)along, (void)across;
    LOOKUP(sh, SL_NUMBER, nearest, ways[i].nearest, "the outline that is nearest", GEOMETRY, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, gap, ways[i].gap, "clear between the two, below 0 where they overlap", GEOMETRY, SL_DERIVED);
    (void)nearest;
    if (!isfinite(gap))
      return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "gap", SL_NO_NUMBER, GEOMETRY, NAN, NAN, SL_LENGTH);
  }
  LINES_END(sh);
  *out = (struct sl_apart_out){ .ways = ways, .nways = in->n };
  return SL_OK;
}

enum sl_status sl_holes_apart(const struct sl_holes_apart_in *in, struct sl_holes_apart_out *out,
                              struct sl_sheet *sh) {
  if (!(in->n >= 2 && in->n <= MOST_HOLES))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "holes", "must be 2 to 5000", "", (double)in->n, NAN, SL_NUMBER);
  bool several = false;
  for (size_t i = 0; i < in->n; i++) {
    FINITE_ROW(sh, in, holes, i, east, SL_LENGTH);
    FINITE_ROW(sh, in, holes, i, north, SL_LENGTH);
    REQUIRE_ROW(sh, in, holes, i, diameter, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ROW(sh, in, holes, i, diameter, < INFINITY, "must be a finite number", SL_LENGTH);
    several = several || in->holes[i].rack != in->holes[0].rack;
  }
  if (!several)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "holes", "must be of two racks or more", "", 1, NAN, SL_NUMBER);
  size_t at[2] = { 0, 0 };
  double least = INFINITY;
  bool beyond = false;                             /* the step below tells of two that no number lies between */
  for (size_t i = 0; i < in->n && !beyond; i++)
    for (size_t k = i + 1; k < in->n && !beyond; k++) {
      const struct sl_hole *a = &in->holes[i], *b = &in->holes[k];
      if (a->rack == b->rack) continue;
      double clear = hypot(a->east - b->east, a->north - b->north) - (a->diameter + b->diameter) / 2;
      beyond = !isfinite(clear);
      if (beyond || clear < least) least = clear, at[0] = i, at[1] = k;
    }
  WORKED(sh, in->n * in->n * 4);
  const struct sl_hole *a = &in->holes[at[0]], *b = &in->holes[at[1]];
  LOOKUP(sh, SL_LENGTH, e_1, a->east, "of the two that are nearest: the first, east", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, n_1, a->north, "north", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, d_1, a->diameter, "its diameter", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, e_2, b->east, "the second, east", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, n_2, b->north, "north", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, d_2, b->diameter, "its diameter", GEOMETRY, SL_DERIVED);
  STEP(sh, SL_LENGTH, clear, hypot(e_1 - e_2, n_1 - n_2) - (d_1 + d_2) / 2, GEOMETRY);
  out->first = (int)at[0] + 1;
  out->second = (int)at[1] + 1;
  GIVES(sh, out, clear, clear);
  return SL_OK;
}
