/* SPDX-License-Identifier: MIT
 * Snow primitives as Lua sees them. */
#include "bind/bind.h"
#include "stringline/snow.h"

static const struct sl_field snow_load_in[] = {
  SL_TEXT(struct sl_snow_load_in, edition, "of the load standard, \"ASCE 7-16\"; the ground snow must be of the same"),
  SL_REAL(struct sl_snow_load_in, ground_snow, SL_PRESSURE, "ground snow load pg"),
  SL_CHOICE(struct sl_snow_load_in, exposure, sl_exposures, "B wooded or built-up, C open country, D open water"),
  SL_CHOICE(struct sl_snow_load_in, sheltering, sl_shelterings, "of the array by trees and buildings around it"),
  SL_CHOICE(struct sl_snow_load_in, risk_category, sl_risks, "of what the array serves"),
  SL_CHOICE_OPT(struct sl_snow_load_in, thermal, sl_thermals, "warmth below; a rack is open air"),
  SL_REAL(struct sl_snow_load_in, tilt, SL_ANGLE, "of the modules from level"),
  SL_FLAG_OPT(struct sl_snow_load_in, slippery,
              "nothing obstructs the glass and there is room below for what slides off"),
};
#define OUT(m, dim, help) SL_REAL(struct sl_snow_load_out, m, dim, help)
static const struct sl_field snow_load_out[] = {
  OUT(flat, SL_PRESSURE, "flat roof snow load pf"),
  OUT(slope_factor, SL_NUMBER, "slope factor Cs"),
  OUT(minimum, SL_PRESSURE, "least load pm below 15 deg, 0 elsewhere"),
  OUT(sloped, SL_PRESSURE, "design load on the plan area, the larger of ps and pm"),
  OUT(density, SL_DENSITY, "of the snow"),
};
#undef OUT
SL_OP_CALL(snow_load)

SL_OPS(snow, 30) = {
  SL_OP(snow_load, "balanced snow on the modules"),
  {0},
};
