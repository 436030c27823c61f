/* SPDX-License-Identifier: MIT
 * What holds a rack down and in its place by 0.6D + 0.6W: a pier with its soil, blocks on the ground. */
#include "guard.h"
#include "table.h"
#include "stringline/ballast.h"

#define DISPLACED "water that it displaces"
#define STATICS   "statics"

/* The combination, as c; in a function that has the sheet and the inputs. */
#define COMBINATION(sh, c, edition) \
  FIND(c, load_combinations, STANDS(c, edition) && sl_same_text(c->key, "uplift") && \
                             sl_same_text(c->method, "allowable")); \
  if (!c) return NO_ROW(sh, "edition", "has no combination here", "@combination_uplift")

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
  COMBINATION(sh, c, edition);
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

enum sl_status sl_ballast(const struct sl_ballast_in *in, struct sl_ballast_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, wind_uplift, SL_FORCE);
  NOT_NEGATIVE(sh, in, wind_side, SL_FORCE);
  POSITIVE(sh, in, dead, SL_FORCE);
  POSITIVE(sh, in, dead_arm, SL_LENGTH);
  NOT_NEGATIVE(sh, in, uplift_arm, SL_LENGTH);
  NOT_NEGATIVE(sh, in, side_height, SL_LENGTH);
  const bool clings = isnan(in->friction);
  if (clings == isnan(in->adhesion))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "friction", "or the adhesion must be given, one of the two", "",
                          in->friction, NAN, SL_NUMBER);
  if (clings) {
    POSITIVE(sh, in, adhesion, SL_PRESSURE);
    POSITIVE(sh, in, area, SL_AREA);
    POSITIVE(sh, in, most, SL_NUMBER);
  } else POSITIVE(sh, in, friction, SL_NUMBER);
  EDITION(sh, in, edition, "ASCE", edition);
  COMBINATION(sh, c, edition);
  GIVEN(sh, SL_FORCE, W_up, in->wind_uplift);
  GIVEN(sh, SL_FORCE, W_side, in->wind_side);
  GIVEN(sh, SL_FORCE, D, in->dead);
  GIVEN(sh, SL_LENGTH, x_D, in->dead_arm);
  GIVEN(sh, SL_LENGTH, x_up, in->uplift_arm);
  GIVEN(sh, SL_LENGTH, y_side, in->side_height);
  FROM(sh, SL_NUMBER, f_D, c, dead, c->name, edition);
  FROM(sh, SL_NUMBER, f_W, c, wind, c->name, edition);
  STEP(sh, SL_NUMBER, uplift, f_W * W_up / (f_D * D), c->cite);
  STEP(sh, SL_FORCE, N, fmax(0, f_D * D - f_W * W_up), c->cite);
  STEP(sh, SL_FORCE, slide, f_W * W_side, c->cite);
  *out = (struct sl_ballast_out){ .sliding_ratio = NAN };
  GIVES(sh, out, uplift_ratio, uplift);
  GIVES(sh, out, pressing, N);
  GIVES(sh, out, sliding, slide);
  if (clings) {
    GIVEN(sh, SL_PRESSURE, a, in->adhesion);
    GIVEN(sh, SL_AREA, A, in->area);
    GIVEN(sh, SL_NUMBER, most, in->most);
    STEP(sh, SL_FORCE, grip, fmin(a * A, most * N), "adhesion, a part of what presses at most");
    GIVES(sh, out, sliding_resistance, grip);
  } else {
    GIVEN(sh, SL_NUMBER, mu, in->friction);
    STEP(sh, SL_FORCE, grip, mu * N, "friction of what presses");
    GIVES(sh, out, sliding_resistance, grip);
  }
  if (out->sliding_resistance > 0) {
    const double grip = out->sliding_resistance;
    STEP(sh, SL_NUMBER, slides, slide / grip, "holds at 1 or less");
    GIVES(sh, out, sliding_ratio, slides);
  }
  STEP(sh, SL_MOMENT, M_over, f_W * (W_up * x_up + W_side * y_side), STATICS);
  STEP(sh, SL_MOMENT, M_right, f_D * D * x_D, STATICS);
  STEP(sh, SL_NUMBER, turns, M_over / M_right, "holds at 1 or less");
  GIVES(sh, out, overturning, M_over);
  GIVES(sh, out, righting, M_right);
  GIVES(sh, out, overturning_ratio, turns);
  return SL_OK;
}
