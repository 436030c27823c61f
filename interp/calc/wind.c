/* SPDX-License-Identifier: MIT
 * Velocity pressure of the wind. */
#include "guard.h"
#include "table.h"
#include "stringline/wind.h"

const char *const sl_exposures[] = { [SL_EXPOSURE_B] = "B", [SL_EXPOSURE_C] = "C", [SL_EXPOSURE_D] = "D", NULL };

enum sl_status sl_velocity_pressure(const struct sl_velocity_pressure_in *in, struct sl_velocity_pressure_out *out,
                                    struct sl_sheet *sh) {
  POSITIVE(sh, in, speed, SL_SPEED);
  ONE_OF(sh, in, exposure, SL_EXPOSURE_D);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  FINITE(sh, in, elevation, SL_LENGTH);
  REQUIRE(sh, in, topographic, >= 1, "must be at least 1, its value on flat ground", SL_NUMBER);
  REQUIRE(sh, in, topographic, < INFINITY, "must be a finite number", SL_NUMBER);
  EDITION(sh, in, edition, "ASCE", edition);
  FIND(t, wind_terrain, STANDS(t, edition) && sl_same_text(t->exposure, sl_exposures[in->exposure]));
  if (!t) return NO_ROW(sh, "exposure", "has no row in this edition", "@wind_terrain");

  GIVEN(sh, SL_SPEED, V, in->speed);
  GIVEN(sh, SL_LENGTH, z, in->height);
  GIVEN(sh, SL_LENGTH, z_e, in->elevation);
  GIVEN(sh, SL_NUMBER, Kzt, in->topographic);
  FROM(sh, SL_NUMBER, k, t, k, t->name, edition);
  FROM(sh, SL_NUMBER, alpha, t, alpha, t->name, edition);
  FROM(sh, SL_LENGTH, zg, t, zg, t->name, edition);
  WITHIN(sh, "height", z, <=, zg, "is above the gradient height", t->cite, SL_LENGTH);
  FACT(sh, SL_LENGTH, z_min, "least_height", edition);
  FACT(sh, SL_DENSITY, c, "pressure_constant", edition);
  FACT(sh, SL_PER_HEIGHT, c_e, "Ke_height", edition);
  STEP(sh, SL_NUMBER, Kz, k * pow(fmax(z, z_min) / zg, 2 / alpha), "@wind_kz");
  STEP(sh, SL_NUMBER, Ke, exp(-c_e * z_e), "@wind_ke");
  STEP(sh, SL_PRESSURE, q, c * Kz * Kzt * Ke * V * V, "@wind_q");
  *out = (struct sl_velocity_pressure_out){ 0 };
  GIVES(sh, out, kz, Kz);
  GIVES(sh, out, ke, Ke);
  GIVES(sh, out, pressure, q);
  return SL_OK;
}
