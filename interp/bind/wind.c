/* SPDX-License-Identifier: MIT
 * Wind primitives as Lua sees them. */
#include "bind/bind.h"
#include "stringline/wind.h"

#define IN(m, dim, help) SL_REAL(struct sl_velocity_pressure_in, m, dim, help)
static const struct sl_field velocity_pressure_in[] = {
  IN(speed, SL_SPEED, "basic wind speed for the risk category"),
  SL_TEXT(struct sl_velocity_pressure_in, edition, "edition of the load standard: \"ASCE 7-16\""),
  SL_CHOICE(struct sl_velocity_pressure_in, exposure, sl_exposures,
            "B wooded or built-up, C open country, D open water"),
  IN(height, SL_LENGTH, "mean height above the ground"),
  IN(elevation, SL_LENGTH, "of the ground above sea level"),
  IN(topographic, SL_NUMBER, "topographic factor Kzt, 1 on flat ground"),
};
static const struct sl_field velocity_pressure_out[] = {
  SL_REAL(struct sl_velocity_pressure_out, kz, SL_NUMBER, "velocity pressure exposure coefficient Kz"),
  SL_REAL(struct sl_velocity_pressure_out, ke, SL_NUMBER, "ground elevation factor Ke"),
  SL_REAL(struct sl_velocity_pressure_out, pressure, SL_PRESSURE, "velocity pressure q, strength level, without Kd"),
};
#undef IN
SL_OP_CALL(velocity_pressure)

#define IN(m, dim, help)  SL_REAL(struct sl_rack_wind_in, m, dim, help)
#define OUT(m, dim, help) SL_REAL(struct sl_rack_wind_out, m, dim, help)
#define NAMED(m)          SL_TEXT(struct sl_rack_wind_out, m, "the case that governs it, and the edge to the wind")
static const struct sl_field rack_wind_in[] = {
  IN(velocity_pressure, SL_PRESSURE, "q at mean height, without Kd"),
  IN(tilt, SL_ANGLE, "of the modules from level"),
  IN(slope_length, SL_LENGTH, "of the modules up the slope"),
  IN(mean_height, SL_LENGTH, "of the modules above the ground"),
  SL_CHOICE(struct sl_rack_wind_in, flow, sl_flows, "clear: at most half of the opening under the rack is blocked"),
  IN(front, SL_RATIO, "line of front posts, part of the slope from the lower edge"),
  IN(back, SL_RATIO, "line of back posts, part of the slope from the lower edge"),
  IN(tributary, SL_LENGTH, "length of row that the post carries"),
  SL_TEXT(struct sl_rack_wind_in, edition, "edition of the load standard: \"ASCE 7-16\""),
};
static const struct sl_field rack_wind_out[] = {
  OUT(front_uplift, SL_FORCE, "on a front post, strength level"), NAMED(front_uplift_case),
  OUT(front_down, SL_FORCE, "on a front post, strength level"), NAMED(front_down_case),
  OUT(front_lateral, SL_FORCE, "at the top of a front post, strength level"), NAMED(front_lateral_case),
  OUT(back_uplift, SL_FORCE, "on a back post, strength level"), NAMED(back_uplift_case),
  OUT(back_down, SL_FORCE, "on a back post, strength level"), NAMED(back_down_case),
  OUT(back_lateral, SL_FORCE, "at the top of a back post, strength level"), NAMED(back_lateral_case),
  OUT(peak_uplift, SL_PRESSURE, "largest net lift on half of the modules"), NAMED(peak_uplift_case),
  OUT(peak_down, SL_PRESSURE, "largest net pressure on half of the modules"), NAMED(peak_down_case),
};
#undef IN
#undef OUT
#undef NAMED
SL_OP_CALL(rack_wind)

SL_OPS(wind, 20) = {
  SL_OP(velocity_pressure, "velocity pressure of the wind"),
  SL_OP(rack_wind, "wind on one front and one back post of an open rack"),
  {0},
};
