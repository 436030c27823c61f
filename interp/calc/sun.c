/* SPDX-License-Identifier: MIT
 * The sun at noon of the shortest day, and a row's shadow on the next; see sun.h. */
#include "guard.h"
#include "table.h"
#include "stringline/sun.h"

#define SPHERE   "plane of the meridian"
#define GEOMETRY "plane geometry"

static const double slack = 1e-9;

enum sl_status sl_noon_sun(const struct sl_noon_sun_in *in, struct sl_noon_sun_out *out, struct sl_sheet *sh) {
  REQUIRE(sh, in, latitude, >= -acos(0) - slack, "must be between 90 deg south and 90 deg north", SL_ANGLE);
  REQUIRE(sh, in, latitude, <= acos(0) + slack, "must be between 90 deg south and 90 deg north", SL_ANGLE);
  GIVEN(sh, SL_ANGLE, phi, in->latitude);
  FACT(sh, SL_ANGLE, delta, "solstice_sun", SL_NO_EDITION);
  STEP(sh, SL_ANGLE, elevation, acos(0) - fabs(phi) - delta, SPHERE);
  STEP(sh, SL_ANGLE, bearing, phi < 0 ? 0 : acos(-1), SPHERE);
  GIVES(sh, out, elevation, elevation);
  GIVES(sh, out, bearing, bearing);
  return SL_OK;
}

enum sl_status sl_row_shadow(const struct sl_row_shadow_in *in, struct sl_row_shadow_out *out, struct sl_sheet *sh) {
  const double turn = 4 * acos(0) + slack;
  REQUIRE(sh, in, elevation, > 0, "must be greater than 0: there is no sun, and no shadow", SL_ANGLE);
  REQUIRE(sh, in, elevation, < acos(0), "must be less than 90 deg", SL_ANGLE);
  REQUIRE(sh, in, bearing, >= 0, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, bearing, <= turn, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, facing, >= 0, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, facing, <= turn, "must be between 0 and 360 deg", SL_ANGLE);
  FINITE(sh, in, drop, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gap, SL_LENGTH);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= acos(0) + slack, "must be between 0 and 90 deg", SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  GIVEN(sh, SL_ANGLE, e, in->elevation);
  GIVEN(sh, SL_ANGLE, sun, in->bearing);
  GIVEN(sh, SL_ANGLE, A, in->facing);
  GIVEN(sh, SL_LENGTH, h, in->drop);
  GIVEN(sh, SL_LENGTH, gap, in->gap);
  GIVEN(sh, SL_ANGLE, t, in->tilt);
  GIVEN(sh, SL_LENGTH, L, in->slope_length);
  STEP(sh, SL_NUMBER, ahead, cos(sun - A), GEOMETRY);
  WITHIN(sh, "facing", ahead, >, 1e-3, "turned so far from the sun that its light comes from the side or from behind",
         GEOMETRY, SL_NUMBER);
  STEP(sh, SL_ANGLE, angle, atan(tan(e) / ahead), GEOMETRY);
  STEP(sh, SL_LENGTH, reach, fmax(0, h) / tan(angle), GEOMETRY);
  STEP(sh, SL_LENGTH, clear, gap - reach, GEOMETRY);
  STEP(sh, SL_LENGTH, shaded, fmin(L, fmax(0, -clear) * sin(angle) / sin(angle + t)), GEOMETRY);
  GIVES(sh, out, angle, angle);
  GIVES(sh, out, reach, reach);
  GIVES(sh, out, clear, clear);
  GIVES(sh, out, shaded, shaded);
  return SL_OK;
}
