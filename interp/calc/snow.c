/* SPDX-License-Identifier: MIT
 * Balanced snow on an open rack, ASCE 7 chapter 7.  The editions differ in what pg means: never mix.
 * Rain on it, the pile of what slides off, ice. */
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
const char *const sl_snow_levels[] = {
  [SL_SERVICE_LEVEL] = "service", [SL_STRENGTH_LEVEL] = "strength", NULL,
};
const char *const sl_ground_levels[] = {
  [SL_GROUND_AS_EDITION] = "of the edition", [SL_GROUND_SERVICE] = "service", [SL_GROUND_STRENGTH] = "strength", NULL,
};

#define GEOMETRY "plane geometry"
#define WEIGHT   "weight of a layer"
#define NEAR_90  (acos(0) + 1e-9)

enum sl_status sl_snow_load(const struct sl_snow_load_in *in, struct sl_snow_load_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, ground_snow, SL_PRESSURE);
  ONE_OF(sh, in, exposure, SL_EXPOSURE_D);
  ONE_OF(sh, in, sheltering, SL_SHELTERED);
  ONE_OF(sh, in, risk_category, SL_RISK_IV);
  ONE_OF(sh, in, thermal, SL_HEATED);
  ONE_OF(sh, in, ground_level, SL_GROUND_STRENGTH);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= NEAR_90, "must be between 0 and 90 deg", SL_ANGLE);
  EDITION(sh, in, edition, "ASCE", edition);
  FIND(l, snow_level, STANDS(l, edition));
  if (!l) return NO_ROW(sh, "edition", "has no level of its ground snow here", "@snow_ground");
  if (in->ground_level != SL_GROUND_AS_EDITION && !sl_same_text(l->level, sl_ground_levels[in->ground_level]))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "ground_level", l->wants, l->cite, NAN, NAN, SL_NUMBER);
  FIND(e, snow_exposure, STANDS(e, edition) && sl_same_text(e->exposure, sl_exposures[in->exposure]) &&
                         sl_same_text(e->sheltering, sl_shelterings[in->sheltering]));
  FIND(t, snow_thermal, STANDS(t, edition) && sl_same_text(t->thermal, sl_thermals[in->thermal]));
  if (!t) return NO_ROW(sh, "thermal", "only the open-air row of this edition is held", "@snow_thermal");
  FIND(s, snow_slope, STANDS(s, edition) && s->slippery == in->slippery && fabs(s->ct - t->ct) < 1e-9);
  FIND(i, snow_importance, STANDS(i, edition) && sl_same_text(i->risk, sl_risks[in->risk_category]));
  if (!e || !s || !i) return NO_ROW(sh, "edition", "has no such row in a snow table", "@snow_flat");
  const struct sl_fact *const least = sl_fact_in("minimum_ground", edition);

  GIVEN(sh, SL_PRESSURE, pg, in->ground_snow);
  if (in->ground_level != SL_GROUND_AS_EDITION) WORD_AS(sh, level, in->ground_level, l->name);
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
  out->level = sl_same_text(l->level, sl_snow_levels[SL_STRENGTH_LEVEL]) ? SL_STRENGTH_LEVEL : SL_SERVICE_LEVEL;
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

enum sl_status sl_rain_on_snow(const struct sl_rain_on_snow_in *in, struct sl_rain_on_snow_out *out,
                               struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, ground_snow, SL_PRESSURE);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= NEAR_90, "must be between 0 and 90 deg", SL_ANGLE);
  POSITIVE(sh, in, plan_depth, SL_LENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  if (!sl_fact_in("rain_surcharge", edition))
    return NO_ROW(sh, "edition", "counts rain on snow in a range that is not held", "@rain_on_snow");
  GIVEN(sh, SL_PRESSURE, pg, in->ground_snow);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  GIVEN(sh, SL_LENGTH, W, in->plan_depth);
  FACT(sh, SL_PRESSURE, p_rain, "rain_surcharge", edition);
  FACT(sh, SL_PRESSURE, pg_rain, "rain_ground", edition);
  FACT(sh, SL_LENGTH, W_rain, "rain_run", edition);
  STEP(sh, SL_ANGLE, beta_rain, W / W_rain * acos(-1) / 180, "@rain_on_snow");
  STEP(sh, SL_PRESSURE, p_thin, pg > 0 ? (pg <= pg_rain * (1 + 1e-9) ? p_rain : 0) : 0, "@rain_on_snow");
  STEP(sh, SL_PRESSURE, rain, beta < beta_rain ? p_thin : 0, "@rain_on_snow");
  GIVES(sh, out, surcharge, rain);
  GIVES(sh, out, steep_from, beta_rain);
  return SL_OK;
}

/* Weight of the snow on a unit length of row over that of the pile; then the triangle that holds it.  Common practice,
 * no source: the published sliding load is for a lower roof. */
enum sl_status sl_snow_pile(const struct sl_snow_pile_in *in, struct sl_snow_pile_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, load, SL_PRESSURE);
  POSITIVE(sh, in, plan_depth, SL_LENGTH);
  POSITIVE(sh, in, density, SL_DENSITY);
  REQUIRE(sh, in, repose, > 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, repose, < acos(0), "must be between 0 and 90 deg", SL_ANGLE);
  GIVEN(sh, SL_PRESSURE, ps, in->load);
  GIVEN(sh, SL_LENGTH, W, in->plan_depth);
  GIVEN(sh, SL_DENSITY, rho, in->density);
  GIVEN(sh, SL_ANGLE, phi, in->repose);
  GIVEN(sh, SL_NUMBER, banked, in->banked);
  STEP(sh, SL_AREA, A, ps * W / (rho * 9.80665), "all the snow of the slope; common practice, no source");
  STEP(sh, SL_NUMBER, sides, banked > 0 ? 1 : 2, "sides of the pile");
  STEP(sh, SL_LENGTH, h, sqrt(2 * A * tan(phi) / sides), GEOMETRY);
  STEP(sh, SL_LENGTH, foot, sqrt(2 * A * sides / tan(phi)), GEOMETRY);
  GIVES(sh, out, area, A);
  GIVES(sh, out, height, h);
  GIVES(sh, out, width, foot);
  return SL_OK;
}

enum sl_status sl_ice_load(const struct sl_ice_load_in *in, struct sl_ice_load_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, thickness, SL_LENGTH);
  POSITIVE(sh, in, density, SL_DENSITY);
  GIVEN(sh, SL_LENGTH, t, in->thickness);
  GIVEN(sh, SL_DENSITY, rho, in->density);
  STEP(sh, SL_PRESSURE, p, t * rho * 9.80665, WEIGHT);
  GIVES(sh, out, pressure, p);
  return SL_OK;
}
