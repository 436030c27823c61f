/* SPDX-License-Identifier: MIT
 * Where things are: rack outline, bearing points, post lengths, stations.  Plane geometry; see layout.h. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/layout.h"

#define GEOMETRY "plane geometry"

enum { MOST_POSTS = 1000000 };

/* Slack for a sum of lengths that should meet exactly: far below what anyone can measure. */
static const double slack = 1e-9;

enum sl_status sl_layout(const struct sl_layout_in *in, struct sl_layout_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, module_width, SL_LENGTH);
  POSITIVE(sh, in, module_length, SL_LENGTH);
  REQUIRE(sh, in, module_length, >= in->module_width, "is the long side: not less than the width", SL_LENGTH);
  ONE_OF(sh, in, orientation, SL_LANDSCAPE);
  REQUIRE(sh, in, rows, >= 1, "must be at least 1", SL_NUMBER);
  REQUIRE(sh, in, columns, >= 1, "must be at least 1", SL_NUMBER);
  NOT_NEGATIVE(sh, in, column_gap, SL_LENGTH);
  NOT_NEGATIVE(sh, in, row_gap, SL_LENGTH);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= acos(0) + slack, "must be between 0 and 90 deg", SL_ANGLE);
  NOT_NEGATIVE(sh, in, lower_edge, SL_LENGTH);
  REQUIRE(sh, in, joints, >= 0 && in->joints < in->columns, "must be between 0 and one less than the columns",
          SL_NUMBER);
  const bool wider = !isnan(in->joint_gap);
  if (wider) NOT_NEGATIVE(sh, in, joint_gap, SL_LENGTH);

  GIVEN(sh, SL_LENGTH, l, in->module_length);
  GIVEN(sh, SL_LENGTH, w, in->module_width);
  GIVEN(sh, SL_NUMBER, landscape, in->orientation);
  GIVEN(sh, SL_NUMBER, m, in->rows);
  GIVEN(sh, SL_NUMBER, n, in->columns);
  GIVEN(sh, SL_LENGTH, gap_n, in->column_gap);
  GIVEN(sh, SL_LENGTH, gap_m, in->row_gap);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  GIVEN(sh, SL_LENGTH, edge, in->lower_edge);
  GIVEN(sh, SL_NUMBER, joints, in->joints);
  GIVEN(sh, SL_LENGTH, gap_j, wider ? in->joint_gap : gap_n);
  if (sh && sh->cap && wider) sl_sheet_is(sh, "in->joint_gap");
  STEP(sh, SL_LENGTH, across, landscape > 0 ? l : w, GEOMETRY);
  STEP(sh, SL_LENGTH, up, landscape > 0 ? w : l, GEOMETRY);
  STEP(sh, SL_LENGTH, W, n * across + (n - 1 - joints) * gap_n + joints * gap_j, GEOMETRY);
  STEP(sh, SL_LENGTH, S, m * up + (m - 1) * gap_m, GEOMETRY);
  STEP(sh, SL_LENGTH, rise, S * sin(beta), GEOMETRY);
  STEP(sh, SL_LENGTH, run, S * cos(beta), GEOMETRY);
  STEP(sh, SL_LENGTH, top, edge + rise, GEOMETRY);
  STEP(sh, SL_LENGTH, mean, edge + rise / 2, GEOMETRY);
  STEP(sh, SL_AREA, A, W * S, GEOMETRY);
  STEP(sh, SL_AREA, A_modules, m * n * l * w, GEOMETRY);
  GIVES(sh, out, row_width, W);
  GIVES(sh, out, slope_length, S);
  GIVES(sh, out, rise, rise);
  GIVES(sh, out, run, run);
  GIVES(sh, out, top_edge, top);
  GIVES(sh, out, mean_height, mean);
  GIVES(sh, out, area, A);
  GIVES(sh, out, module_area, A_modules);
  return SL_OK;
}

enum sl_status sl_bearing(const struct sl_bearing_in *in, struct sl_bearing_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= acos(0) + slack, "must be between 0 and 90 deg", SL_ANGLE);
  NOT_NEGATIVE(sh, in, lower_edge, SL_LENGTH);
  REQUIRE(sh, in, fraction, >= 0, "must be between 0 and 1", SL_RATIO);
  REQUIRE(sh, in, fraction, <= 1, "must be between 0 and 1", SL_RATIO);
  NOT_NEGATIVE(sh, in, stack, SL_LENGTH);
  if (!isnan(in->plumb)) NOT_NEGATIVE(sh, in, plumb, SL_LENGTH);

  GIVEN(sh, SL_LENGTH, S, in->slope_length);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  GIVEN(sh, SL_LENGTH, edge, in->lower_edge);
  GIVEN(sh, SL_RATIO, f, in->fraction);
  GIVEN(sh, SL_LENGTH, s, in->stack);
  STEP(sh, SL_LENGTH, y, f * S * cos(beta) + s * sin(beta), GEOMETRY);
  GIVES(sh, out, back, y);
  if (isnan(in->plumb)) {
    STEP(sh, SL_LENGTH, z, edge + f * S * sin(beta) - s * cos(beta), GEOMETRY);
    GIVES(sh, out, height, z);
  } else {
    GIVEN(sh, SL_LENGTH, p, in->plumb);
    STEP(sh, SL_LENGTH, z, edge + f * S * sin(beta) - s * cos(beta) - p, GEOMETRY);
    GIVES(sh, out, height, z);
  }
  return SL_OK;
}

/* On a base: nothing of it is in a hole. */
static enum sl_status cut_on_base(const struct sl_post_cut_in *in, struct sl_post_cut_out *out, struct sl_sheet *sh) {
  if (in->hole_depth > 0 || in->gravel > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "has_base", "means that the post has no hole and no gravel", "", 1, NAN,
                          SL_NUMBER);
  FINITE(sh, in, base, SL_LENGTH);
  REQUIRE(sh, in, base, < in->bearing_height - in->ground, "must be below the top of the post", SL_LENGTH);
  GIVEN(sh, SL_LENGTH, z_top, in->bearing_height);
  GIVEN(sh, SL_LENGTH, ground, in->ground);
  GIVEN(sh, SL_LENGTH, base, in->base);
  STEP(sh, SL_LENGTH, cut, z_top - (ground + base), GEOMETRY);
  STEP(sh, SL_LENGTH, above, z_top - ground, GEOMETRY);
  STEP(sh, SL_LENGTH, embedment, fmax(0, -base), "what is driven");
  GIVES(sh, out, cut_length, cut);
  GIVES(sh, out, above_ground, above);
  GIVES(sh, out, embedment, embedment);
  return SL_OK;
}

enum sl_status sl_post_cut(const struct sl_post_cut_in *in, struct sl_post_cut_out *out, struct sl_sheet *sh) {
  FINITE(sh, in, bearing_height, SL_LENGTH);
  FINITE(sh, in, ground, SL_LENGTH);
  REQUIRE(sh, in, bearing_height, > in->ground, "must be above the ground at the post", SL_LENGTH);
  if (in->has_base) return cut_on_base(in, out, sh);
  if (in->base < 0 || in->base > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "base", "is of a post that has_base", "", in->base, NAN, SL_LENGTH);
  POSITIVE(sh, in, hole_depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gravel, SL_LENGTH);
  REQUIRE(sh, in, gravel, < in->hole_depth, "must be less than the hole is deep", SL_LENGTH);

  GIVEN(sh, SL_LENGTH, z_top, in->bearing_height);
  GIVEN(sh, SL_LENGTH, ground, in->ground);
  GIVEN(sh, SL_LENGTH, hole, in->hole_depth);
  GIVEN(sh, SL_LENGTH, gravel, in->gravel);
  STEP(sh, SL_LENGTH, cut, z_top - (ground - hole + gravel), GEOMETRY);
  STEP(sh, SL_LENGTH, above, z_top - ground, GEOMETRY);
  STEP(sh, SL_LENGTH, embedment, hole - gravel, GEOMETRY);
  GIVES(sh, out, cut_length, cut);
  GIVES(sh, out, above_ground, above);
  GIVES(sh, out, embedment, embedment);
  return SL_OK;
}

enum sl_status sl_diagonal(const struct sl_diagonal_in *in, struct sl_diagonal_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, along, SL_LENGTH);
  POSITIVE(sh, in, across, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, a, in->along);
  GIVEN(sh, SL_LENGTH, b, in->across);
  STEP(sh, SL_LENGTH, c, hypot(a, b), "Pythagoras");
  GIVES(sh, out, diagonal, c);
  return SL_OK;
}

enum sl_status sl_rail_length(const struct sl_rail_length_in *in, struct sl_rail_length_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, row_width, SL_LENGTH);
  NOT_NEGATIVE(sh, in, end_allowance, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, W, in->row_width);
  GIVEN(sh, SL_LENGTH, e, in->end_allowance);
  STEP(sh, SL_LENGTH, L, W + 2 * e, GEOMETRY);
  GIVES(sh, out, length, L);
  return SL_OK;
}

size_t sl_stations_need(const struct sl_stations_in *in) {
  return in->posts >= 1 && in->posts <= MOST_POSTS ? NEED(0, struct sl_station, (size_t)in->posts) : 0;
}

enum sl_status sl_stations(const struct sl_stations_in *in, struct sl_stations_out *out, struct sl_space space,
                           struct sl_sheet *sh) {
  POSITIVE(sh, in, row_width, SL_LENGTH);
  REQUIRE(sh, in, posts, >= 1 && in->posts <= MOST_POSTS, "must be 1 to 1000000", SL_NUMBER);
  POSITIVE(sh, in, spacing, SL_LENGTH);
  REQUIRE(sh, in, spacing, * (in->posts - 1) <= in->row_width + slack, "sets the posts wider apart than the row is",
          SL_LENGTH);
  ENOUGH(sh, space, sl_stations_need(in));
  struct sl_station *stations = PART(&space, struct sl_station, (size_t)in->posts);

  GIVEN(sh, SL_LENGTH, W, in->row_width);
  GIVEN(sh, SL_NUMBER, n, in->posts);
  GIVEN(sh, SL_LENGTH, p, in->spacing);
  STEP(sh, SL_LENGTH, overhang, fmax(0, (W - (n - 1) * p) / 2), GEOMETRY);
  LINES(sh, "posts from the west");
  for (int k = 1; k <= in->posts; k++) {
    LINE(sh);
    GIVEN(sh, SL_NUMBER, i, k);
    STEP(sh, SL_LENGTH, x, overhang + (i - 1) * p, GEOMETRY);
    STEP(sh, SL_LENGTH, west, i > 1 ? p / 2 : overhang, GEOMETRY);
    STEP(sh, SL_LENGTH, east, i < n ? p / 2 : overhang, GEOMETRY);
    STEP(sh, SL_LENGTH, tributary, west + east, GEOMETRY);
    GIVES_ROW(sh, stations, k - 1, offset, x);
    GIVES_ROW(sh, stations, k - 1, tributary, tributary);
  }
  LINES_END(sh);
  *out = (struct sl_stations_out){ .stations = stations, .nstations = (size_t)in->posts };
  GIVES(sh, out, overhang, overhang);
  return SL_OK;
}

size_t sl_bays_need(const struct sl_bays_in *in) {
  return in->nbays < MOST_POSTS ? NEED(0, struct sl_station, in->nbays + 1) : 0;
}

enum sl_status sl_bays(const struct sl_bays_in *in, struct sl_bays_out *out, struct sl_space space,
                       struct sl_sheet *sh) {
  POSITIVE(sh, in, row_width, SL_LENGTH);
  if (in->nbays >= MOST_POSTS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "bays", "must be fewer than 1000000", "", (double)in->nbays, NAN,
                          SL_NUMBER);
  double sum = 0;
  for (size_t i = 0; i < in->nbays; i++) {
    REQUIRE_ITEM(sh, in, bays, i, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ITEM(sh, in, bays, i, < INFINITY, "must be a finite number", SL_LENGTH);
    sum += in->bays[i];
  }
  WORKED(sh, in->nbays);
  REQUIRE(sh, in, row_width, + slack >= sum, "is less than the bays take together", SL_LENGTH);
  if (!isnan(in->set_in)) {
    NOT_NEGATIVE(sh, in, set_in, SL_LENGTH);
    REQUIRE(sh, in, set_in, + sum <= in->row_width + slack, "sets the last post beyond the modules", SL_LENGTH);
  }
  ENOUGH(sh, space, sl_bays_need(in));
  const size_t count = in->nbays + 1;
  struct sl_station *stations = PART(&space, struct sl_station, count);

  GIVEN(sh, SL_LENGTH, W, in->row_width);
  LINES(sh, "bays from the west");
  for (size_t i = 0; i < in->nbays; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, bay, in->bays[i]);
    (void)bay;
  }
  LINES_END(sh);
  SUM(sh, SL_LENGTH, L, sum, bay, GEOMETRY);
  const bool centred = isnan(in->set_in);
  GIVEN(sh, SL_LENGTH, first, centred ? fmax(0, (W - L) / 2) : in->set_in);
  STEP(sh, SL_LENGTH, last, fmax(0, W - first - L), GEOMETRY);
  double here = 0;
  LINES(sh, "posts from the west");
  for (size_t i = 0; i < count; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, before, here);
    GIVEN(sh, SL_LENGTH, on, i > 0 ? in->bays[i - 1] : first);
    GIVEN(sh, SL_LENGTH, west, i > 0 ? in->bays[i - 1] / 2 : first);
    GIVEN(sh, SL_LENGTH, east, i + 1 < count ? in->bays[i] / 2 : last);
    STEP(sh, SL_LENGTH, x, before + on, GEOMETRY);
    STEP(sh, SL_LENGTH, tributary, west + east, GEOMETRY);
    GIVES_ROW(sh, stations, i, offset, x);
    GIVES_ROW(sh, stations, i, tributary, tributary);
    here = x;
  }
  LINES_END(sh);
  *out = (struct sl_bays_out){ .stations = stations, .nstations = count };
  GIVES(sh, out, length, L);
  GIVES(sh, out, west, first);
  GIVES(sh, out, east, last);
  return SL_OK;
}

enum sl_status sl_on_slope(const struct sl_on_slope_in *in, struct sl_on_slope_out *out, struct sl_sheet *sh) {
  FINITE(sh, in, slope, SL_RATIO);
  FINITE(sh, in, along, SL_LENGTH);
  FINITE(sh, in, above, SL_LENGTH);
  GIVEN(sh, SL_RATIO, g, in->slope);
  GIVEN(sh, SL_LENGTH, x, in->along);
  GIVEN(sh, SL_LENGTH, z, in->above);
  STEP(sh, SL_ANGLE, gamma, atan(g), GEOMETRY);
  STEP(sh, SL_LENGTH, plan, x * cos(gamma) - z * sin(gamma), GEOMETRY);
  STEP(sh, SL_LENGTH, up, x * sin(gamma) + z * cos(gamma), GEOMETRY);
  GIVES(sh, out, plan, plan);
  GIVES(sh, out, up, up);
  return SL_OK;
}

enum sl_status sl_true_bearing(const struct sl_true_bearing_in *in, struct sl_true_bearing_out *out,
                               struct sl_sheet *sh) {
  const double half = acos(-1);
  REQUIRE(sh, in, compass, >= 0, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, compass, <= 2 * half + slack, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, declination, >= -half - slack, "must be between 180 deg west and 180 deg east", SL_ANGLE);
  REQUIRE(sh, in, declination, <= half + slack, "must be between 180 deg west and 180 deg east", SL_ANGLE);

  GIVEN(sh, SL_ANGLE, M, in->compass);
  GIVEN(sh, SL_ANGLE, D, in->declination);
  STEP(sh, SL_ANGLE, circle, 2 * acos(-1), GEOMETRY);
  STEP(sh, SL_NUMBER, turns, floor((M + D) / circle + 1e-12), "whole turns; a hair below north is north");
  STEP(sh, SL_ANGLE, T, fmax(0, M + D - turns * circle), "true = magnetic + declination, east positive");
  GIVES(sh, out, bearing, T);
  return SL_OK;
}

enum sl_status sl_facing(const struct sl_facing_in *in, struct sl_facing_out *out, struct sl_sheet *sh) {
  const double half = acos(-1);
  REQUIRE(sh, in, bearing, >= 0, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, bearing, <= 2 * half + slack, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, latitude, >= -half / 2 - slack, "must be between 90 deg south and 90 deg north", SL_ANGLE);
  REQUIRE(sh, in, latitude, <= half / 2 + slack, "must be between 90 deg south and 90 deg north", SL_ANGLE);

  GIVEN(sh, SL_ANGLE, T, in->bearing);
  GIVEN(sh, SL_ANGLE, phi, in->latitude);
  FACT(sh, SL_ANGLE, off_most, "off_equator", SL_NO_EDITION);
  STEP(sh, SL_ANGLE, turn, acos(-1), GEOMETRY);
  STEP(sh, SL_ANGLE, T_equator, phi < 0 ? 0 : turn, "north in the south, south in the north");
  STEP(sh, SL_ANGLE, off_one, fabs(fmod(T - T_equator + 3 * turn, 2 * turn) - turn), GEOMETRY);
  STEP(sh, SL_ANGLE, off, fabs(phi) <= 1e-9 ? fmin(off_one, turn - off_one) : off_one, "on the equator either will do");
  GIVES(sh, out, off, off);
  GIVES(sh, out, most, off_most);
  return SL_OK;
}

enum sl_status sl_overhead(const struct sl_overhead_in *in, struct sl_overhead_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, z, in->height);
  FACT(sh, SL_LENGTH, clear, "overhead", SL_NO_EDITION);
  STEP(sh, SL_LENGTH, least, z + clear, GEOMETRY);
  GIVES(sh, out, least, least);
  return SL_OK;
}
