/* SPDX-License-Identifier: MIT
 * Balanced snow on an open rack, ASCE 7 chapter 7.  The editions differ in what pg means: never mix. */
#include "guard.h"
#include "table.h"
#include "stringline/snow.h"

const char *const sl_shelterings[] = {
  [SL_FULLY_EXPOSED] = "fully exposed", [SL_PARTIALLY_EXPOSED] = "partially exposed",
  [SL_SHELTERED] = "sheltered", NULL,
};
const char *const sl_risks[] = {
  [SL_RISK_I] = "I", [SL_RISK_II] = "II", [SL_RISK_III] = "III", [SL_RISK_IV] = "IV", NULL,
};
const char *const sl_thermals[] = {
  [SL_OPEN_AIR] = "open air", [SL_KEPT_ABOVE_FREEZING] = "kept above freezing", [SL_HEATED] = "heated", NULL,
};

enum sl_status sl_snow_load(const struct sl_snow_load_in *in, struct sl_snow_load_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, ground_snow, SL_PRESSURE);
  ONE_OF(sh, in, exposure, SL_EXPOSURE_D);
  ONE_OF(sh, in, sheltering, SL_SHELTERED);
  ONE_OF(sh, in, risk_category, SL_RISK_IV);
  ONE_OF(sh, in, thermal, SL_HEATED);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= acos(0) + 1e-9, "must be between 0 and 90 deg", SL_ANGLE);
  EDITION(sh, in, edition, "ASCE", edition);
  FIND(e, snow_exposure, STANDS(e, edition) && sl_same_text(e->exposure, sl_exposures[in->exposure]) &&
                         sl_same_text(e->sheltering, sl_shelterings[in->sheltering]));
  FIND(t, snow_thermal, STANDS(t, edition) && sl_same_text(t->thermal, sl_thermals[in->thermal]));
  if (!t) return NO_ROW(sh, "thermal", "only the open-air row of this edition is held", "@snow_thermal");
  FIND(s, snow_slope, STANDS(s, edition) && s->slippery == in->slippery && fabs(s->ct - t->ct) < 1e-9);
  FIND(i, snow_importance, STANDS(i, edition) && sl_same_text(i->risk, sl_risks[in->risk_category]));
  if (!e || !s || !i) return NO_ROW(sh, "edition", "has no such row in a snow table", "@snow_flat");
  const struct sl_fact *const least = sl_fact_in("minimum_ground", edition);

  GIVEN(sh, SL_PRESSURE, pg, in->ground_snow);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  FACT(sh, SL_ANGLE, beta_m, "minimum_tilt", edition);
  if (!least)
    WITHIN(sh, "tilt", beta + 1e-9, >=, beta_m,
           "meets the least snow pm of this edition, whose table is known from memory only", "@snow_minimum", SL_ANGLE);
  FACT(sh, SL_NUMBER, c_f, "flat", edition);
  FROM(sh, SL_NUMBER, Ce, e, ce, e->name, edition);
  FROM(sh, SL_NUMBER, Ct, t, ct, t->name, edition);
  FROM(sh, SL_NUMBER, Is, i, is, i->name, edition);
  FROM(sh, SL_ANGLE, beta_full, s, full, s->name, edition);
  FROM(sh, SL_ANGLE, beta_none, s, none, s->name, edition);
  FACT(sh, SL_PER_HEIGHT, c_rho, "density_rise", edition);
  FACT(sh, SL_DENSITY, rho_0, "density_least", edition);
  FACT(sh, SL_DENSITY, rho_max, "density_most", edition);
  STEP(sh, SL_PRESSURE, pf, c_f * Ce * Ct * Is * pg, "@snow_flat");
  STEP(sh, SL_NUMBER, Cs, fmin(1, fmax(0, (beta_none - beta) / (beta_none - beta_full))), s->cite);
  STEP(sh, SL_PRESSURE, ps, Cs * pf, "@snow_sloped");
  STEP(sh, SL_DENSITY, rho, fmin(c_rho * pg / 9.80665 + rho_0, rho_max), "@snow_density");
  GIVES(sh, out, flat, pf);
  GIVES(sh, out, slope_factor, Cs);
  GIVES(sh, out, density, rho);
  if (least) {
    FROM(sh, SL_PRESSURE, pg_m, least, value, least->name, edition);
    STEP(sh, SL_PRESSURE, pm, beta < beta_m - 1e-9 ? Is * fmin(pg, pg_m) : 0, "@snow_minimum");
    STEP(sh, SL_PRESSURE, p, fmax(ps, pm), "the larger governs");
    GIVES(sh, out, minimum, pm);
    GIVES(sh, out, sloped, p);
  } else {
    STEP(sh, SL_PRESSURE, pm, 0, "@snow_minimum");
    GIVES(sh, out, minimum, pm);
    GIVES(sh, out, sloped, ps);
  }
  return SL_OK;
}
