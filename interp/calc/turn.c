/* SPDX-License-Identifier: MIT
 * Where the modules are when their tilt is changed: the plane turned about one line of its supports; see turn.h. */
#include "guard.h"
#include "stringline/turn.h"

#define GEOMETRY "plane geometry"

/* Slack for an angle that should be a right one: far below what anyone can measure. */
static const double slack = 1e-9;

#define TILT(sh, in, member) \
  do { REQUIRE(sh, in, member, >= 0, "must be between 0 and 90 deg", SL_ANGLE); \
       REQUIRE(sh, in, member, <= acos(0) + slack, "must be between 0 and 90 deg", SL_ANGLE); } while (0)
#define ON_SLOPE(sh, in, member) \
  do { REQUIRE(sh, in, member, >= 0, "must be between 0 and 1", SL_RATIO); \
       REQUIRE(sh, in, member, <= 1, "must be between 0 and 1", SL_RATIO); } while (0)

enum sl_status sl_turned(const struct sl_turned_in *in, struct sl_turned_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  TILT(sh, in, tilt);
  FINITE(sh, in, lower_edge, SL_LENGTH);
  NOT_NEGATIVE(sh, in, stack, SL_LENGTH);
  ON_SLOPE(sh, in, pivot);
  ON_SLOPE(sh, in, line);
  TILT(sh, in, to);

  GIVEN(sh, SL_LENGTH, S, in->slope_length);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  GIVEN(sh, SL_LENGTH, edge, in->lower_edge);
  GIVEN(sh, SL_LENGTH, s, in->stack);
  GIVEN(sh, SL_RATIO, f, in->pivot);
  GIVEN(sh, SL_RATIO, g, in->line);
  GIVEN(sh, SL_ANGLE, theta, in->to);
  STEP(sh, SL_LENGTH, z, edge + f * S * sin(beta) - s * cos(beta), GEOMETRY);
  STEP(sh, SL_LENGTH, moved, f * S * (cos(beta) - cos(theta)) + s * (sin(beta) - sin(theta)), GEOMETRY);
  STEP(sh, SL_LENGTH, edge_t, edge + f * S * (sin(beta) - sin(theta)) - s * (cos(beta) - cos(theta)), GEOMETRY);
  STEP(sh, SL_LENGTH, top_t, edge_t + S * sin(theta), GEOMETRY);
  STEP(sh, SL_LENGTH, middle, edge_t + S * sin(theta) / 2, GEOMETRY);
  STEP(sh, SL_LENGTH, z_g, z + (g - f) * S * sin(theta), GEOMETRY);
  STEP(sh, SL_LENGTH, y_g, (g - f) * S * cos(theta), GEOMETRY);
  STEP(sh, SL_LENGTH, depth, fmax(0, S * cos(theta)), GEOMETRY);
  STEP(sh, SL_LENGTH, up, (g - f) * S * (sin(theta) - sin(beta)), GEOMETRY);
  STEP(sh, SL_LENGTH, along, (g - f) * S * (cos(theta) - cos(beta)), GEOMETRY);
  STEP(sh, SL_LENGTH, leg, hypot(along, up), GEOMETRY);
  GIVES(sh, out, turned_edge, edge_t);
  GIVES(sh, out, turned_top, top_t);
  GIVES(sh, out, middle, middle);
  GIVES(sh, out, moved, moved);
  GIVES(sh, out, pivot_height, z);
  GIVES(sh, out, line_height, z_g);
  GIVES(sh, out, from_pivot, y_g);
  GIVES(sh, out, depth, depth);
  GIVES(sh, out, leg_rise, up);
  GIVES(sh, out, leg_run, along);
  GIVES(sh, out, leg, leg);
  return SL_OK;
}
