/* SPDX-License-Identifier: MIT
 * Velocity pressure of the wind as Lua sees it. */
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

SL_OPS(wind, 20) = {
  SL_OP(velocity_pressure, "velocity pressure of the wind"),
  {0},
};
