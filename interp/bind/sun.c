/* SPDX-License-Identifier: MIT
 * The sun at noon of the shortest day, and shadows of rows, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/sun.h"

static const struct sl_field noon_sun_in[] = {
  SL_REAL(struct sl_noon_sun_in, latitude, SL_ANGLE, "of the place; south below 0"),
};
static const struct sl_field noon_sun_out[] = {
  SL_REAL(struct sl_noon_sun_out, elevation, SL_ANGLE, "of the sun above a level horizon; below 0 it stays down"),
  SL_REAL(struct sl_noon_sun_out, bearing, SL_ANGLE, "true, where it stands: south, or north south of the equator"),
};
SL_OP_CALL(noon_sun)

static const struct sl_field row_shadow_in[] = {
  SL_REAL(struct sl_row_shadow_in, elevation, SL_ANGLE, "of the sun above a level horizon"),
  SL_REAL(struct sl_row_shadow_in, bearing, SL_ANGLE, "true, where the sun stands"),
  SL_REAL(struct sl_row_shadow_in, facing, SL_ANGLE, "true bearing that the modules of both racks face"),
  SL_REAL(struct sl_row_shadow_in, drop, SL_LENGTH, "of the upper edge in front above the lower edge behind"),
  SL_REAL(struct sl_row_shadow_in, gap, SL_LENGTH, "between these two edges, in plan"),
  SL_REAL(struct sl_row_shadow_in, tilt, SL_ANGLE, "of the modules behind"),
  SL_REAL(struct sl_row_shadow_in, slope_length, SL_LENGTH, "of the modules behind, up their slope"),
};
static const struct sl_field row_shadow_out[] = {
  SL_REAL(struct sl_row_shadow_out, angle, SL_ANGLE, "at which the light falls, seen from the end of the rows"),
  SL_REAL(struct sl_row_shadow_out, reach, SL_LENGTH, "of the shadow behind the upper edge, at the lower edge's level"),
  SL_REAL(struct sl_row_shadow_out, clear, SL_LENGTH, "of the gap in the sun; below 0 the shadow goes beyond it"),
  SL_REAL(struct sl_row_shadow_out, shaded, SL_LENGTH, "of the modules behind, from their lower edge up"),
};
SL_OP_CALL(row_shadow)

SL_OPS(sun, 14) = {
  SL_OP(noon_sun, "the sun at noon of the shortest day"),
  SL_OP(row_shadow, "the shadow of a row of modules on the next behind it"),
  {0},
};
