/* SPDX-License-Identifier: MIT
 * Balanced snow on an open rack, ASCE 7-16 and 7-22 chapter 7.  The editions differ in what pg means: never mix. */
#include "facts.h"
#include "guard.h"
#include "stringline/snow.h"

static const struct fact facts[] = {
#define ROW(...) { __VA_ARGS__ },
#include "snow_facts.inc"
#undef ROW
};

static const struct exposed {
  const char *edition, *exposure, *sheltering;
  double ce;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} exposed[] = {
#define ROW(...) { __VA_ARGS__ },
#include "snow_exposure.inc"
#undef ROW
};

static const struct thermal {
  const char *edition, *thermal;
  double ct;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} thermals[] = {
#define ROW(...) { __VA_ARGS__ },
#include "snow_thermal.inc"
#undef ROW
};

static const struct slope {
  const char *edition;
  int slippery;
  double ct, full, none;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} slopes[] = {
#define ROW(...) { __VA_ARGS__ },
#include "snow_slope.inc"
#undef ROW
};

static const struct importance {
  const char *edition, *risk;
  double is;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} importances[] = {
#define ROW(...) { __VA_ARGS__ },
#include "snow_importance.inc"
#undef ROW
};

static const struct exposed *find_exposed(int edition, int exposure, int sheltering) {
  static const char *const words[] = {
    [SL_FULLY_EXPOSED] = "fully exposed", [SL_PARTIALLY_EXPOSED] = "partially exposed", [SL_SHELTERED] = "sheltered",
  };
  for (size_t i = 0; i < sizeof exposed / sizeof *exposed; i++)
    if (strcmp(exposed[i].edition, edition_word(edition)) == 0 &&
        strcmp(exposed[i].exposure, exposure_word(exposure)) == 0 &&
        strcmp(exposed[i].sheltering, words[sheltering]) == 0) return &exposed[i];
  return NULL;
}

static const struct thermal *find_thermal(int edition, int thermal) {
  static const char *const words[] = {
    [SL_OPEN_AIR] = "open air", [SL_KEPT_ABOVE_FREEZING] = "kept above freezing", [SL_HEATED] = "heated",
  };
  for (size_t i = 0; i < sizeof thermals / sizeof *thermals; i++)
    if (strcmp(thermals[i].edition, edition_word(edition)) == 0 &&
        strcmp(thermals[i].thermal, words[thermal]) == 0) return &thermals[i];
  return NULL;
}

static const struct slope *find_slope(int edition, bool slippery, double ct) {
  for (size_t i = 0; i < sizeof slopes / sizeof *slopes; i++)
    if (strcmp(slopes[i].edition, edition_word(edition)) == 0 && slopes[i].slippery == slippery &&
        fabs(slopes[i].ct - ct) < 1e-9) return &slopes[i];
  return NULL;
}

static const struct importance *find_importance(int edition, int risk) {
  static const char *const words[] = {
    [SL_RISK_I] = "I", [SL_RISK_II] = "II", [SL_RISK_III] = "III", [SL_RISK_IV] = "IV",
  };
  for (size_t i = 0; i < sizeof importances / sizeof *importances; i++)
    if (strcmp(importances[i].edition, edition_word(edition)) == 0 &&
        strcmp(importances[i].risk, words[risk]) == 0) return &importances[i];
  return NULL;
}

enum sl_status sl_snow_load(const struct sl_snow_load_in *in, struct sl_snow_load_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, edition, SL_ASCE_7_22);
  NOT_NEGATIVE(sh, in, ground_snow, SL_PRESSURE);
  ONE_OF(sh, in, exposure, SL_EXPOSURE_D);
  ONE_OF(sh, in, sheltering, SL_SHELTERED);
  ONE_OF(sh, in, risk_category, SL_RISK_IV);
  ONE_OF(sh, in, thermal, SL_HEATED);
  REQUIRE(sh, in, tilt, >= 0, "must be between 0 and 90 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, <= acos(0) + 1e-9, "must be between 0 and 90 deg", SL_ANGLE);
  const struct exposed *e = find_exposed(in->edition, in->exposure, in->sheltering);
  const struct thermal *t = find_thermal(in->edition, in->thermal);
  if (!t) return sl_sheet_fault(sh, SL_NO_ROW, "thermal", "only the open-air row of this edition is held",
                                "ASCE 7-22, Table 7.3-2", in->thermal, NAN, SL_NUMBER);
  const struct slope *s = find_slope(in->edition, in->slippery, t->ct);
  const struct importance *i = find_importance(in->edition, in->risk_category);
  if (!e || !s || !i) return sl_sheet_fault(sh, SL_NO_ROW, "edition", "has no such row in a snow table",
                                            "ASCE 7 chapter 7", in->edition, NAN, SL_NUMBER);

  GIVEN(sh, SL_PRESSURE, pg, in->ground_snow);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  FACT(sh, SL_ANGLE, beta_m, "minimum_tilt", DEG);
  LOOKUP(sh, SL_NUMBER, Ce, e->ce, e->name, e->cite, e->basis);
  LOOKUP(sh, SL_NUMBER, Ct, t->ct, t->name, t->cite, t->basis);
  LOOKUP(sh, SL_NUMBER, Is, i->is, i->name, i->cite, i->basis);
  FACT(sh, SL_PRESSURE, pg_m, "minimum_ground", PSF);
  LOOKUP(sh, SL_ANGLE, beta_full, s->full * DEG, s->name, s->cite, s->basis);
  LOOKUP(sh, SL_ANGLE, beta_none, s->none * DEG, s->name, s->cite, s->basis);
  FACT(sh, SL_DENSITY, rho_0, "density_least", PCF);
  FACT(sh, SL_DENSITY, rho_max, "density_most", PCF);
  if (in->edition == SL_ASCE_7_22)
    WITHIN(sh, "tilt", beta + 1e-9, >=, beta_m,
           "meets the least snow pm of this edition, whose table is known from memory only",
           "ASCE 7-22, Table 7.3-4", SL_ANGLE);
  STEP(sh, SL_PRESSURE, pf, 0.7 * Ce * Ct * Is * pg, "ASCE 7-16 and 7-22, Eq. 7.3-1; no Is in 7-22");
  STEP(sh, SL_NUMBER, Cs, fmin(1, fmax(0, (beta_none - beta) / (beta_none - beta_full))), s->cite);
  STEP(sh, SL_PRESSURE, ps, Cs * pf, "ASCE 7-16 and 7-22, Eq. 7.4-1");
  STEP(sh, SL_PRESSURE, pm, beta < beta_m - 1e-9 ? Is * fmin(pg, pg_m) : 0, "ASCE 7-16, 7.3.4");
  STEP(sh, SL_PRESSURE, p, fmax(ps, pm), "the larger governs");
  STEP(sh, SL_DENSITY, rho, fmin(0.13 / 0.3048 * pg / 9.80665 + rho_0, rho_max),
       "ASCE 7-16, Eq. 7.7-1: 0.13 per foot of snow, load as mass");
  GIVES(sh, out, flat, pf);
  GIVES(sh, out, slope_factor, Cs);
  GIVES(sh, out, minimum, pm);
  GIVES(sh, out, sloped, p);
  GIVES(sh, out, density, rho);
  return SL_OK;
}
