/* SPDX-License-Identifier: MIT
 * Lag screws and wood screws that are pulled out of wood, and those that are loaded sideways at once. */
#include "fastener.h"

#define FACTORS "@fastener_factors"
#define PLACE   "how it is placed"

static enum sl_status check_withdrawal(const struct sl_screw_withdrawal_in *in, struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  ONE_OF(sh, in, duration, SL_TEN_MINUTES);
  ONE_OF(sh, in, moisture, SL_DRIED);
  POSITIVE(sh, in, length, SL_LENGTH);
  if (!isnan(in->thread)) {
    POSITIVE(sh, in, thread, SL_LENGTH);
    REQUIRE(sh, in, thread, <= in->length, "must not be longer than the screw", SL_LENGTH);
  }
  if (!isnan(in->side)) NOT_NEGATIVE(sh, in, side, SL_LENGTH);
  if (!isnan(in->washer)) NOT_NEGATIVE(sh, in, washer, SL_LENGTH);
  if (!isnan(in->depth)) POSITIVE(sh, in, depth, SL_LENGTH);
  return SL_OK;
}

/* Thread of a screw of which its length alone is said. */
static enum sl_status thread_of(const struct sl_screw_withdrawal_in *in, double length, int edition, double *thread,
                                struct sl_sheet *sh) {
  const double L = length;
  if (!isnan(in->thread)) {
    GIVEN(sh, SL_LENGTH, T, in->thread);
    *thread = T;
  } else if (in->kind == SL_LAG_SCREW) {
    FACT(sh, SL_LENGTH, L_least, "lag_thread_from", edition);
    WITHIN(sh, "length", L, >=, L_least * (1 - 1e-9), "is shorter than the lag screws whose thread goes by their "
           "length: say the thread", "@lag_thread", SL_LENGTH);
    FACT(sh, SL_LENGTH, T_more, "lag_thread_more", edition);
    FACT(sh, SL_LENGTH, T_most, "lag_thread_most", edition);
    STEP(sh, SL_LENGTH, T, fmin(T_most, L / 2 + T_more), "@lag_thread");
    *thread = T;
  } else {
    FACT(sh, SL_NUMBER, T_share, "screw_thread", edition);
    STEP(sh, SL_LENGTH, T, T_share * L, "@screw_thread");
    *thread = T;
  }
  return SL_OK;
}

/* Thread in the wood.  The tip counts for nothing; the sentence on wood screws does not take it off: the safe side. */
static enum sl_status thread_in(const struct sl_screw_withdrawal_in *in, const sl_fastener_row *row, double diameter,
                                int edition, double *within, struct sl_sheet *sh) {
  double E_of = 0, T_of = 0;
  HEADING(sh, "thread in the wood");
  GIVEN(sh, SL_LENGTH, L, in->length);
  enum sl_status status = sl_fastener_tip(row, diameter, edition, &E_of, sh);
  if (status != SL_OK || (status = thread_of(in, L, edition, &T_of, sh)) != SL_OK) return status;
  const double E = E_of, T = T_of;
  double through = 0, under = 0;
  if (!isnan(in->side)) {
    GIVEN(sh, SL_LENGTH, t_side, in->side);
    through = t_side;
  } else STANDS_AT(sh, SL_LENGTH, t_side, 0, "nothing between head and wood", PLACE);
  if (!isnan(in->washer)) {
    GIVEN(sh, SL_LENGTH, t_washer, in->washer);
    under = t_washer;
  } else STANDS_AT(sh, SL_LENGTH, t_washer, 0, "no washer", PLACE);
  const double t_side = through, t_washer = under;
  const char *const cite = in->kind == SL_LAG_SCREW ? "@lag_withdrawal" : "@screw_withdrawal";
  STEP(sh, SL_LENGTH, p_free, fmin(T - E, L - t_side - t_washer - E), cite);
  WITHIN(sh, "length", p_free, >, 0, "leaves no thread in the wood", cite, SL_LENGTH);
  if (isnan(in->depth)) {
    STEP(sh, SL_LENGTH, p_t, p_free, cite);
    *within = p_t;
    return SL_OK;
  }
  GIVEN(sh, SL_LENGTH, depth, in->depth);
  STEP(sh, SL_LENGTH, p_t, fmin(p_free, depth), cite);
  *within = p_t;
  return SL_OK;
}

static enum sl_status per_length(const struct sl_screw_withdrawal_in *in, const struct sl_wood *wood, double diameter,
                                 int edition, double *pull, struct sl_sheet *sh) {
  const double D = diameter;
  double gravity;
  HEADING(sh, "what a length of thread holds");
  if (wood->row) {
    FROM(sh, SL_NUMBER, G, wood->row, g, wood->row->species, edition);
    gravity = G;
  } else {
    GIVEN(sh, SL_NUMBER, G, in->gravity);
    gravity = G;
  }
  const double G = gravity;
  FACT(sh, SL_LENGTH, inch, "fastener_inch", edition);
  if (in->kind == SL_LAG_SCREW) {
    FACT(sh, SL_LINE_LOAD, W_1, "lag_pull", edition);
    STEP(sh, SL_LINE_LOAD, W, W_1 * pow(G, 1.5) * pow(D / inch, 0.75), "@lag_withdrawal");
    *pull = W;
    return SL_OK;
  }
  FACT(sh, SL_LINE_LOAD, W_1, "screw_pull", edition);
  STEP(sh, SL_LINE_LOAD, W, W_1 * G * G * D / inch, "@screw_withdrawal");
  *pull = W;
  return SL_OK;
}

enum sl_status sl_screw_withdrawal(const struct sl_screw_withdrawal_in *in, struct sl_screw_withdrawal_out *out,
                                   struct sl_sheet *sh) {
  enum sl_status status = check_withdrawal(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "NDS", edition);
  if (in->kind == SL_BOLT)
    return NO_ROW(sh, "kind", "has no thread in wood: its nut holds it, not the wood", "@lag_withdrawal");
  if (in->end_grain && in->kind == SL_WOOD_SCREW)
    return NO_ROW(sh, "end_grain", "holds no wood screw that is pulled", "@screw_withdrawal");
  struct sl_wood wood;
  status = sl_wood_of(in->species, in->gravity, "species", "gravity", edition, &wood, sh);
  if (status != SL_OK) return status;
  const sl_fastener_row *const row = sl_fastener_of(in->kind, in->size, edition);
  if (!row) return NO_SIZE(sh);

  double p_of = 0, W_of = 0, CD_of = 1, CM_of = 1, Ceg_of = 1;
  WORD(sh, size, in->size);
  FROM(sh, SL_LENGTH, D, row, diameter, row->name, edition);
  if ((status = thread_in(in, row, D, edition, &p_of, sh)) != SL_OK ||
      (status = per_length(in, &wood, D, edition, &W_of, sh)) != SL_OK) return status;
  HEADING(sh, "what the screw holds");
  const char *const moist = in->moisture == SL_WET ? "wet_pull" : in->moisture == SL_DRIED ? "dried_pull" : NULL;
  if ((status = sl_fastener_factors(in->duration, moist, edition, &CD_of, &CM_of, sh)) != SL_OK) return status;
  if (in->end_grain) {
    FACT(sh, SL_NUMBER, Ceg, "lag_end_grain", edition);
    Ceg_of = Ceg;
  } else STANDS_AT(sh, SL_NUMBER, Ceg, 1, "Ceg, side grain", "@lag_end_grain");
  const double p_t = p_of, W = W_of, CD = CD_of, CM = CM_of, Ceg = Ceg_of;
  STEP(sh, SL_FORCE, W_p, W * p_t, FACTORS);
  STEP(sh, SL_FORCE, W_a, W_p * CD * CM * Ceg, FACTORS);
  GIVES(sh, out, thread_in, p_t);
  GIVES(sh, out, per_length, W);
  GIVES(sh, out, reference, W_p);
  GIVES(sh, out, adjusted, W_a);
  return SL_OK;
}

enum sl_status sl_screw_combined(const struct sl_screw_combined_in *in, struct sl_screw_combined_out *out,
                                 struct sl_sheet *sh) {
  POSITIVE(sh, in, lateral_allowed, SL_FORCE);
  POSITIVE(sh, in, withdrawal_allowed, SL_FORCE);
  NOT_NEGATIVE(sh, in, lateral, SL_FORCE);
  NOT_NEGATIVE(sh, in, withdrawal, SL_FORCE);
  EDITION(sh, in, edition, "NDS", edition);
  GIVEN(sh, SL_FORCE, Z_a, in->lateral_allowed);
  GIVEN(sh, SL_FORCE, W_a, in->withdrawal_allowed);
  GIVEN(sh, SL_FORCE, side, in->lateral);
  GIVEN(sh, SL_FORCE, pull, in->withdrawal);
  STEP(sh, SL_FORCE, load, hypot(side, pull), "mechanics of forces");
  STEP(sh, SL_ANGLE, alpha, load > 0 ? asin(fmin(pull / load, 1)) : 0, "mechanics of forces");
  STEP(sh, SL_NUMBER, along, cos(alpha), "mechanics of forces");
  STEP(sh, SL_NUMBER, out_of, sin(alpha), "mechanics of forces");
  STEP(sh, SL_FORCE, Z_alpha, W_a * Z_a / (W_a * along * along + Z_a * out_of * out_of), "@fastener_both");
  STEP(sh, SL_NUMBER, used, load / Z_alpha, "demand over what is allowed");
  GIVES(sh, out, angle, alpha);
  GIVES(sh, out, load, load);
  GIVES(sh, out, allowed, Z_alpha);
  GIVES(sh, out, used, used);
  return SL_OK;
}
