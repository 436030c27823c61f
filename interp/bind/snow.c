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
  SL_CHOICE_OPT(struct sl_snow_load_in, ground_level, sl_ground_levels,
                "of the map that the ground snow is from; the other edition's is refused"),
};
#define OUT(m, dim, help) SL_REAL(struct sl_snow_load_out, m, dim, help)
static const struct sl_field snow_load_out[] = {
  OUT(flat, SL_PRESSURE, "flat roof snow load pf"),
  OUT(slope_factor, SL_NUMBER, "slope factor Cs"),
  OUT(minimum, SL_PRESSURE, "least load pm below 15 deg, 0 elsewhere"),
  OUT(sloped, SL_PRESSURE, "design load on the plan area, the larger of ps and pm"),
  OUT(density, SL_DENSITY, "of the snow"),
  SL_CHOICE(struct sl_snow_load_out, level, sl_snow_levels, "of all these loads, which combinations count with"),
};
#undef OUT
SL_OP_CALL(snow_load)

static const struct sl_field rain_on_snow_in[] = {
  SL_TEXT(struct sl_rain_on_snow_in, edition, "of the load standard, \"ASCE 7-16\"; of a later one it is not held"),
  SL_REAL(struct sl_rain_on_snow_in, ground_snow, SL_PRESSURE, "ground snow load pg"),
  SL_REAL(struct sl_rain_on_snow_in, tilt, SL_ANGLE, "of the modules from level"),
  SL_REAL(struct sl_rain_on_snow_in, plan_depth, SL_LENGTH, "from the lower to the upper edge, in plan"),
};
static const struct sl_field rain_on_snow_out[] = {
  SL_REAL(struct sl_rain_on_snow_out, surcharge, SL_PRESSURE, "on the plan area, beside balanced snow; may be 0"),
  SL_REAL(struct sl_rain_on_snow_out, steep_from, SL_ANGLE, "tilt from which rain does not count"),
};
SL_OP_CALL(rain_on_snow)

static const struct sl_field snow_pile_in[] = {
  SL_REAL(struct sl_snow_pile_in, load, SL_PRESSURE, "snow on the plan area, all of which slides"),
  SL_REAL(struct sl_snow_pile_in, plan_depth, SL_LENGTH, "of the modules, in plan"),
  SL_REAL(struct sl_snow_pile_in, density, SL_DENSITY, "of the snow in the pile"),
  SL_REAL(struct sl_snow_pile_in, repose, SL_ANGLE, "of the sides of the pile from level, as the author judges it"),
  SL_FLAG_OPT(struct sl_snow_pile_in, banked, "true if the pile cannot spread under the rack, but to the front only"),
};
static const struct sl_field snow_pile_out[] = {
  SL_REAL(struct sl_snow_pile_out, area, SL_AREA, "of the pile's section across the row"),
  SL_REAL(struct sl_snow_pile_out, height, SL_LENGTH, "of the pile above what it falls on"),
  SL_REAL(struct sl_snow_pile_out, width, SL_LENGTH, "of its foot"),
};
SL_OP_CALL(snow_pile)

static const struct sl_field ice_load_in[] = {
  SL_REAL(struct sl_ice_load_in, thickness, SL_LENGTH, "of the ice, as the building office gives it"),
  SL_REAL(struct sl_ice_load_in, density, SL_DENSITY, "of the ice"),
};
static const struct sl_field ice_load_out[] = {
  SL_REAL(struct sl_ice_load_out, pressure, SL_PRESSURE, "on the area of the modules"),
};
SL_OP_CALL(ice_load)

SL_OPS(snow, 30) = {
  SL_OP(snow_load, "balanced snow on the modules"),
  SL_OP(rain_on_snow, "what rain adds to balanced snow"),
  SL_OP(snow_pile, "pile below the lower edge of what slides off the modules"),
  SL_OP(ice_load, "weight of a layer of ice on the modules"),
  {0},
};
