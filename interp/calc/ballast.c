/* SPDX-License-Identifier: MIT
 * What holds a post down by 0.6D + 0.6W: a pier with its soil. */
#include "guard.h"
#include "table.h"
#include "uplift.h"
#include "stringline/ballast.h"

#define DISPLACED "water that it displaces"

/* What may be left out: 0 then. */
#define OPTIONAL(sh, in, member, dim) if (!isnan((in)->member)) NOT_NEGATIVE(sh, in, member, dim)
#define OR_NOTHING(sh, dim, sym, in, member) \
  GIVEN(sh, dim, sym, isnan((in)->member) ? 0 : (in)->member); \
  if (!isnan((in)->member) && (sh) && (sh)->cap) sl_sheet_is(sh, "in->" #member)

enum sl_status sl_ground_uplift(const struct sl_ground_uplift_in *in, struct sl_ground_uplift_out *out,
                                struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, wind_uplift, SL_FORCE);
  NOT_NEGATIVE(sh, in, dead, SL_FORCE);
  NOT_NEGATIVE(sh, in, post, SL_FORCE);
  NOT_NEGATIVE(sh, in, post_volume, SL_VOLUME);
  NOT_NEGATIVE(sh, in, concrete, SL_VOLUME);
  POSITIVE(sh, in, length, SL_LENGTH);
  OPTIONAL(sh, in, dry_to, SL_LENGTH);
  OPTIONAL(sh, in, friction, SL_FORCE);
  OPTIONAL(sh, in, cone, SL_FORCE);
  OPTIONAL(sh, in, bell, SL_VOLUME);
  if (!isnan(in->bell)) REQUIRE(sh, in, bell, <= in->concrete, "is more than the concrete in all", SL_VOLUME);
  if (in->friction > 0 && in->cone > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "cone", "and friction are two ways to look at one thing: give one", "",
                          in->cone, NAN, SL_FORCE);
  EDITION(sh, in, edition, "ASCE", edition);
  UPLIFT_ROW(sh, c, edition);
  const bool dry = isnan(in->dry_to);
  GIVEN(sh, SL_FORCE, W, in->wind_uplift);
  GIVEN(sh, SL_FORCE, D, in->dead);
  GIVEN(sh, SL_FORCE, Wp, in->post);
  GIVEN(sh, SL_VOLUME, V_p, in->post_volume);
  GIVEN(sh, SL_VOLUME, V_c, in->concrete);
  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_NUMBER, keyed, in->keyed);
  GIVEN(sh, SL_LENGTH, dry_to, dry ? in->length : in->dry_to);
  if (sh && sh->cap) sl_sheet_is(sh, dry ? "in->length" : "in->dry_to");
  OR_NOTHING(sh, SL_FORCE, F, in, friction);
  OR_NOTHING(sh, SL_FORCE, C, in, cone);
  OR_NOTHING(sh, SL_VOLUME, V_b, in, bell);
  FACT(sh, SL_DENSITY, rho_c, "density_light", SL_NO_EDITION);
  FACT(sh, SL_DENSITY, rho_w, "ground_water", SL_NO_EDITION);
  FROM(sh, SL_NUMBER, f_D, c, dead, c->name, edition);
  FROM(sh, SL_NUMBER, f_W, c, wind, c->name, edition);
  STEP(sh, SL_NUMBER, wet, fmax(0, L - dry_to) / L, "share that stands in water");
  STEP(sh, SL_FORCE, Wp_w, Wp - rho_w * 9.80665 * V_p * wet, "less the " DISPLACED);
  STEP(sh, SL_VOLUME, V_w, (V_c - V_b) * wet + (wet > 0 ? V_b : 0), "concrete in water: of a bell all, or nothing");
  STEP(sh, SL_FORCE, Wc_w, 9.80665 * (rho_c * V_c - rho_w * V_w), "less the " DISPLACED);
  STEP(sh, SL_FORCE, weight, D + Wp_w + (keyed > 0 ? Wc_w + C : 0), "concrete and soil hold what is keyed to them");
  WITHIN(sh, "post", weight, >=, 0, "floats: with all else it weighs less than the water that it displaces", c->cite,
         SL_FORCE);
  STEP(sh, SL_FORCE, demand, f_W * W, c->cite);
  STEP(sh, SL_FORCE, resistance, f_D * weight + (keyed > 0 ? F : 0), c->cite);
  WITHIN(sh, "post", resistance, >, 0, "with all else holds nothing down, or floats", c->cite, SL_FORCE);
  STEP(sh, SL_NUMBER, ratio, demand / resistance, "holds at 1 or less");
  GIVES(sh, out, weight, weight);
  GIVES(sh, out, demand, demand);
  GIVES(sh, out, resistance, resistance);
  GIVES(sh, out, ratio, ratio);
  return SL_OK;
}
