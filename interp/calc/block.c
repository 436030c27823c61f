/* SPDX-License-Identifier: MIT
 * Blocks that stand on the ground: what comes to them, whether they stay where they are, how they press. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "uplift.h"
#include "stringline/block.h"

#define STATICS "statics"
#define MOST_OF_A_LIST "are more than can be worked"

FITS_COLUMN(load_combinations, name, struct sl_block_bearing_out, combination)

static enum sl_status check_count(const char *list, size_t n, size_t least, size_t most, struct sl_sheet *sh) {
  if (n < least) return sl_sheet_fault(sh, SL_BAD_INPUT, list, "is empty", "", 0, NAN, SL_NUMBER);
  if (n > most) return sl_sheet_fault(sh, SL_BAD_INPUT, list, MOST_OF_A_LIST, "", (double)n, (double)most, SL_NUMBER);
  return SL_OK;
}

/* ---- what comes to it ------------------------------------------------------------------------------------------ */

size_t sl_wind_on_block_need(const struct sl_wind_on_block_in *in) {
  return NEED(0, struct sl_block_force, in->nwinds < SL_BLOCK_CASES ? in->nwinds + 2 : 0);
}

enum sl_status sl_wind_on_block(const struct sl_wind_on_block_in *in, struct sl_wind_on_block_out *out,
                                struct sl_space space, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  REQUIRE(sh, in, tilt, < acos(0), "must be less than a quarter turn", SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  NOT_NEGATIVE(sh, in, stack, SL_LENGTH);
  NOT_NEGATIVE(sh, in, lower_edge, SL_LENGTH);
  FINITE(sh, in, middle, SL_LENGTH);
  POSITIVE(sh, in, tributary, SL_LENGTH);
  NOT_NEGATIVE(sh, in, least, SL_PRESSURE);
  const enum sl_status counted = check_count("winds", in->nwinds, 0, SL_BLOCK_CASES - 2, sh);
  if (counted != SL_OK) return counted;
  for (size_t i = 0; i < in->nwinds; i++) {
    FINITE_ROW(sh, in, winds, i, low, SL_PRESSURE);
    FINITE_ROW(sh, in, winds, i, high, SL_PRESSURE);
  }
  ENOUGH(sh, space, sl_wind_on_block_need(in));
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, C, in->slope_length);
  GIVEN(sh, SL_LENGTH, t, in->stack);
  GIVEN(sh, SL_LENGTH, z_edge, in->lower_edge);
  GIVEN(sh, SL_LENGTH, m, in->middle);
  GIVEN(sh, SL_LENGTH, w, in->tributary);
  GIVEN(sh, SL_PRESSURE, p_least, in->least);
  STEP(sh, SL_LENGTH, x_D, C / 2 * cos(theta) - m, STATICS);
  STEP(sh, SL_LENGTH, x_frame, x_D + t / 2 * sin(theta), "half way down to the rafters");
  STEP(sh, SL_AREA, A, C / 2 * w, "half of the slope");
  STEP(sh, SL_LENGTH, a_low, (z_edge + C / 4 * sin(theta)) * sin(theta) + (C / 4 * cos(theta) - m) * cos(theta),
       "arm of the lower half's pressure about the block's middle");
  STEP(sh, SL_LENGTH, a_high, a_low + C / 2, "of the upper half's, half the slope further up");
  struct sl_block_force *const forces = PART(&space, struct sl_block_force, in->nwinds + 2);
  LINES(sh, "cases of wind");
  for (size_t i = 0; i < in->nwinds; i++) {
    LINE(sh);
    GIVEN(sh, SL_PRESSURE, low, in->winds[i].low);
    GIVEN(sh, SL_PRESSURE, high, in->winds[i].high);
    STEP(sh, SL_FORCE, U, -(low + high) * A * cos(theta), STATICS);
    STEP(sh, SL_FORCE, H, (low + high) * A * sin(theta), STATICS);
    STEP(sh, SL_MOMENT, T, A * (low * a_low + high * a_high), STATICS);
    GIVES_ROW(sh, forces, i, up, U);
    GIVES_ROW(sh, forces, i, side, H);
    GIVES_ROW(sh, forces, i, turning, T);
  }
  LINES_END(sh);
  STEP(sh, SL_FORCE, H_least, p_least * C * sin(theta) * w, "least wind on what is seen from the front");
  STEP(sh, SL_MOMENT, T_least, H_least * (z_edge + C / 2 * sin(theta)), STATICS);
  forces[in->nwinds] = (struct sl_block_force){ 0, H_least, T_least };
  forces[in->nwinds + 1] = (struct sl_block_force){ 0, -H_least + 0.0, -T_least + 0.0 };
  *out = (struct sl_wind_on_block_out){ .forces = forces, .nforces = in->nwinds + 2 };
  GIVES(sh, out, modules_at, x_D);
  GIVES(sh, out, frame_at, x_frame);
  return SL_OK;
}

size_t sl_heads_on_block_need(const struct sl_heads_on_block_in *in) {
  (void)in;
  return NEED(0, struct sl_block_force, 2);
}

enum sl_status sl_heads_on_block(const struct sl_heads_on_block_in *in, struct sl_heads_on_block_out *out,
                                 struct sl_space space, struct sl_sheet *sh) {
  const enum sl_status counted = check_count("heads", in->nheads, 1, SL_BLOCK_WEIGHTS, sh);
  if (counted != SL_OK) return counted;
  for (size_t i = 0; i < in->nheads; i++) {
    FINITE_ROW(sh, in, heads, i, up, SL_FORCE);
    NOT_NEGATIVE_ROW(sh, in, heads, i, side, SL_FORCE);
    FINITE_ROW(sh, in, heads, i, at, SL_LENGTH);
    NOT_NEGATIVE_ROW(sh, in, heads, i, height, SL_LENGTH);
    if (!isnan(in->heads[i].moment)) NOT_NEGATIVE_ROW(sh, in, heads, i, moment, SL_MOMENT);
  }
  ENOUGH(sh, space, sl_heads_on_block_need(in));
  double up = 0, side = 0, pushed = 0, lifted = 0;
  LINES(sh, "posts");
  for (size_t i = 0; i < in->nheads; i++) {
    const bool bent = !isnan(in->heads[i].moment);
    LINE(sh);
    GIVEN(sh, SL_FORCE, U_i, in->heads[i].up);
    GIVEN(sh, SL_FORCE, H_i, in->heads[i].side);
    GIVEN(sh, SL_LENGTH, x, in->heads[i].at);
    GIVEN(sh, SL_LENGTH, z, in->heads[i].height);
    GIVEN(sh, SL_MOMENT, M, bent ? in->heads[i].moment : 0);
    if (bent && sh && sh->cap) sl_sheet_is(sh, "in->heads[i].moment");
    STEP(sh, SL_MOMENT, T_i, H_i * z + M, STATICS);
    STEP(sh, SL_MOMENT, T_up, U_i * x, STATICS);
    up += U_i;
    side += H_i;
    pushed += T_i;
    lifted += T_up;
  }
  LINES_END(sh);
  struct sl_block_force *const forces = PART(&space, struct sl_block_force, 2);
  SUM(sh, SL_FORCE, U, up, U_i, STATICS);
  SUM(sh, SL_FORCE, H, side, H_i, STATICS);
  SUM(sh, SL_MOMENT, T_side, pushed, T_i, STATICS);
  SUM(sh, SL_MOMENT, T_lift, lifted, T_up, STATICS);
  STEP(sh, SL_MOMENT, T_back, T_side - T_lift, "pushed to the back");
  STEP(sh, SL_MOMENT, T_front, -T_side - T_lift, "pushed to the front");
  forces[0] = (struct sl_block_force){ U, H, T_back };
  forces[1] = (struct sl_block_force){ U, -H + 0.0, T_front };
  *out = (struct sl_heads_on_block_out){ .forces = forces, .nforces = 2 };
  return SL_OK;
}

/* ---- whether it stays ------------------------------------------------------------------------------------------ */

/* What is asked of the lists that both questions have. */
#define CHECK_LISTS(sh, in) \
  do { \
    CHECK_FORCES(sh, in); \
    const enum sl_status counted_ = check_count("weights", (in)->nweights, 1, SL_BLOCK_WEIGHTS, sh); \
    if (counted_ != SL_OK) return counted_; \
    for (size_t i = 0; i < (in)->nweights; i++) { \
      NOT_NEGATIVE_ROW(sh, in, weights, i, weight, SL_FORCE); \
      if (!isnan((in)->weights[i].most)) { \
        NOT_NEGATIVE_ROW(sh, in, weights, i, most, SL_FORCE); \
        REQUIRE_ROW(sh, in, weights, i, most, >= (in)->weights[i].weight, "is less than the least of it", SL_FORCE); \
      } \
      FINITE_ROW(sh, in, weights, i, at, SL_LENGTH); \
    } \
  } while (0)

/* Factors on weight and forces, f_D and f_W on the sheet: of the combination for uplift, or as somebody gives them. */
static enum sl_status take_factors(const struct sl_ballast_in *in, double *to_dead, double *to_wind,
                                   struct sl_sheet *sh) {
  if (!isnan(in->weight_counts)) {
    if (*in->edition)
      return sl_sheet_fault(sh, SL_BAD_INPUT, "weight_counts", "and an edition of the load standard are given: one of "
                            "them counts", "", in->weight_counts, NAN, SL_NUMBER);
    POSITIVE(sh, in, weight_counts, SL_NUMBER);
    REQUIRE(sh, in, weight_counts, <= 1, "is more than all of it", SL_NUMBER);
    GIVEN(sh, SL_NUMBER, f_D, in->weight_counts);
    STEP(sh, SL_NUMBER, f_W, 1, "forces at their own level");
    *to_dead = f_D, *to_wind = f_W;
    return SL_OK;
  }
  EDITION(sh, in, edition, "ASCE", edition);
  UPLIFT_ROW(sh, c, edition);
  FROM(sh, SL_NUMBER, f_D, c, dead, c->name, edition);
  FROM(sh, SL_NUMBER, f_W, c, wind, c->name, edition);
  *to_dead = f_D, *to_wind = f_W;
  return SL_OK;
}

enum sl_status sl_ballast(const struct sl_ballast_in *in, struct sl_ballast_out *out, struct sl_sheet *sh) {
  CHECK_LISTS(sh, in);
  POSITIVE(sh, in, length, SL_LENGTH);
  const bool clings = isnan(in->friction);
  if (clings == isnan(in->adhesion))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "friction", "or the adhesion must be given, one of the two", "",
                          in->friction, NAN, SL_NUMBER);
  if (clings) {
    POSITIVE(sh, in, adhesion, SL_PRESSURE);
    POSITIVE(sh, in, area, SL_AREA);
    POSITIVE(sh, in, most, SL_NUMBER);
  } else POSITIVE(sh, in, friction, SL_NUMBER);
  double f_D = 0, f_W = 0;
  const enum sl_status status = take_factors(in, &f_D, &f_W, sh);
  if (status != SL_OK) return status;

  GIVEN(sh, SL_LENGTH, L, in->length);
  double all = 0, back = 0, front = 0;
  LINES(sh, "what weighs");
  for (size_t i = 0; i < in->nweights; i++) {
    LINE(sh);
    GIVEN(sh, SL_FORCE, G, in->weights[i].weight);
    GIVEN(sh, SL_LENGTH, x, in->weights[i].at);
    if (!(fabs(x) <= L / 2))
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_OUT_OF_RANGE, "weights[i].at", "lies beyond the edge of the "
                         "block, and helps to turn it over: that is not covered here", STATICS, fabs(x), L / 2,
                         SL_LENGTH));
    STEP(sh, SL_MOMENT, G_back, G * (L / 2 - x), "about the back edge");
    STEP(sh, SL_MOMENT, G_front, G * (L / 2 + x), "about the front edge");
    all += G, back += G_back, front += G_front;
  }
  LINES_END(sh);
  SUM(sh, SL_FORCE, D, all, G, STATICS);
  WITHIN(sh, "weights", D, >, 0, "weigh nothing together", STATICS, SL_FORCE);
  SUM(sh, SL_MOMENT, D_back, back, G_back, STATICS);
  SUM(sh, SL_MOMENT, D_front, front, G_front, STATICS);
  STEP(sh, SL_MOMENT, R_back, f_D * D_back, STATICS);
  STEP(sh, SL_MOMENT, R_front, f_D * D_front, STATICS);

  struct worst { size_t at; double ratio; } lifted = { 0, -1 }, slid = { 0, -1 }, turned = { 0, -1 };
  bool over_back = false;
  LINES(sh, "cases");
  for (size_t i = 0; i < in->nforces; i++) {
    LINE(sh);
    FORCES_OF_CASE(sh, in, i);
    STEP(sh, SL_FORCE, N, fmax(0, f_D * D - f_W * U), "presses still");
    STEP(sh, SL_MOMENT, M_back, fmax(0, f_W * (T + U * L / 2)), "over the back edge");
    STEP(sh, SL_MOMENT, M_front, fmax(0, f_W * (U * L / 2 - T)), "over the front edge");
    const double grip = clings ? fmin(in->adhesion * in->area, in->most * N) : in->friction * N;
    const double lift = ratio_of(f_W * U, f_D * D), slide = ratio_of(f_W * fabs(H), grip);
    const double to_back = ratio_of(M_back, R_back), to_front = ratio_of(M_front, R_front);
    if (lift > lifted.ratio) lifted = (struct worst){ i, lift };
    if (slide > slid.ratio) slid = (struct worst){ i, slide };
    if (fmax(to_back, to_front) > turned.ratio) {
      turned = (struct worst){ i, fmax(to_back, to_front) };
      over_back = to_back >= to_front;
    }
  }
  LINES_END(sh);

  *out = (struct sl_ballast_out){ .slide_ratio = NAN, .over_back = over_back };
  GIVES(sh, out, weight, D);
  HEADING(sh, "lifted most");
  LOOKUP(sh, SL_NUMBER, lift_case, (double)lifted.at + 1, "case that lifts most", STATICS, SL_DERIVED);
  const double most_up = in->forces[lifted.at].up;
  GIVEN(sh, SL_FORCE, U_l, most_up);
  STEP(sh, SL_FORCE, lift, fmax(0, f_W * U_l), "what lifts");
  STEP(sh, SL_FORCE, lift_held, f_D * D, "what of the weight counts");
  STEP(sh, SL_NUMBER, lift_ratio, lift / lift_held, "holds at 1 or less");
  GIVES_COUNT(sh, out, lift_case, lift_case);
  GIVES(sh, out, lift, lift);
  GIVES(sh, out, lift_held, lift_held);
  GIVES(sh, out, lift_ratio, lift_ratio);

  HEADING(sh, "pushed most against what holds");
  LOOKUP(sh, SL_NUMBER, slide_case, (double)slid.at + 1, "case in which it slides soonest", STATICS, SL_DERIVED);
  const struct sl_block_force push = in->forces[slid.at];
  GIVEN(sh, SL_FORCE, U_s, push.up);
  GIVEN(sh, SL_FORCE, H_s, push.side);
  STEP(sh, SL_FORCE, N_s, fmax(0, f_D * D - f_W * U_s), "presses still");
  STEP(sh, SL_FORCE, slide, f_W * fabs(H_s), "what pushes");
  GIVES_COUNT(sh, out, slide_case, slide_case);
  GIVES(sh, out, pressing, N_s);
  GIVES(sh, out, slide, slide);
  if (clings) {
    GIVEN(sh, SL_PRESSURE, a, in->adhesion);
    GIVEN(sh, SL_AREA, A, in->area);
    GIVEN(sh, SL_NUMBER, most, in->most);
    STEP(sh, SL_FORCE, grip, fmin(a * A, most * N_s), "adhesion, a part of what presses at most");
    GIVES(sh, out, slide_held, grip);
  } else {
    GIVEN(sh, SL_NUMBER, mu, in->friction);
    STEP(sh, SL_FORCE, grip, mu * N_s, "friction of what presses");
    GIVES(sh, out, slide_held, grip);
  }
  if (out->slide_held > 0) {
    const double grip = out->slide_held;
    STEP(sh, SL_NUMBER, slide_ratio, slide / grip, "holds at 1 or less");
    GIVES(sh, out, slide_ratio, slide_ratio);
  }

  HEADING(sh, "turned most");
  LOOKUP(sh, SL_NUMBER, turn_case, (double)turned.at + 1, "case that turns it most", STATICS, SL_DERIVED);
  LOOKUP(sh, SL_NUMBER, to_back, over_back, "1: over its back edge; 0: over its front edge", STATICS,
         SL_DERIVED);
  const struct sl_block_force turn_by = in->forces[turned.at];
  GIVEN(sh, SL_FORCE, U_t, turn_by.up);
  GIVEN(sh, SL_MOMENT, T_t, turn_by.turning);
  STEP(sh, SL_MOMENT, turn, fmax(0, f_W * ((2 * to_back - 1) * T_t + U_t * L / 2)), STATICS);
  STEP(sh, SL_MOMENT, turn_held, to_back > 0 ? R_back : R_front, STATICS);
  GIVES_COUNT(sh, out, turn_case, turn_case);
  GIVES_FLAG(sh, out, over_back, to_back);
  GIVES(sh, out, turn, turn);
  GIVES(sh, out, turn_held, turn_held);
  WITHIN(sh, "weights", turn_held, >, 0, "lie at the edge that the block turns over", STATICS, SL_MOMENT);
  STEP(sh, SL_NUMBER, turn_ratio, turn / turn_held, "holds at 1 or less");
  GIVES(sh, out, turn_ratio, turn_ratio);
  return SL_OK;
}

/* ---- how it presses -------------------------------------------------------------------------------------------- */

/* Factors on weight, snow and forces. */
struct together { const char *name, *cite; double dead, snow, wind; enum sl_basis basis; };

static size_t together_of(const struct sl_block_bearing_in *in, int edition, struct together to[SL_COMBINATIONS]) {
  if (in->as_given) {
    to[0] = (struct together){ "as given", STATICS, 1, 0, 1, SL_DERIVED };
    return 1;
  }
  struct sl_combination held[SL_COMBINATIONS];
  const size_t n = sl_combinations_of(edition, SL_ALLOWABLE, held);
  for (size_t i = 0; i < n; i++)
    to[i] = (struct together){ held[i].name, held[i].cite, held[i].dead, held[i].snow, held[i].wind, held[i].basis };
  return n;
}

/* What of the weights counts: the least of them where less than all does, and its moment about the middle. */
struct weighed { double sum, turning; };
static struct weighed weigh(const struct sl_block_bearing_in *in, bool least) {
  struct weighed all = { 0, 0 };
  for (size_t i = 0; i < in->nweights; i++) {
    const struct sl_block_weight *g = &in->weights[i];
    const double weight = least || isnan(g->most) ? g->weight : g->most;
    all.sum += weight;
    all.turning += weight * g->at;
  }
  return all;
}

enum sl_status sl_block_bearing(const struct sl_block_bearing_in *in, struct sl_block_bearing_out *out,
                                struct sl_sheet *sh) {
  CHECK_LISTS(sh, in);
  NOT_NEGATIVE(sh, in, snow, SL_FORCE);
  FINITE(sh, in, snow_at, SL_LENGTH);
  POSITIVE(sh, in, length, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, allowable, SL_PRESSURE);
  int edition = SL_NO_EDITION;
  if (!in->as_given) {
    EDITION(sh, in, edition, "ASCE", named);
    edition = named;
  }
  struct together held[SL_COMBINATIONS];
  const size_t n = together_of(in, edition, held);
  if (n == 0) return NO_ROW(sh, "edition", "has no combinations here", "@combination_allowable");

  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_FORCE, S, in->snow);
  GIVEN(sh, SL_LENGTH, x_S, in->snow_at);
  GIVEN(sh, SL_PRESSURE, q, in->allowable);
  size_t at_case = 0, at_combination = 0;
  double worst = -1;
  bool over = false;
  WORKED(sh, n * in->nforces * 20);
  for (size_t k = 0; k < n; k++) {
    const struct weighed weights = weigh(in, held[k].dead < 1);
    for (size_t i = 0; i < in->nforces; i++) {
      const struct sl_block_force *f = &in->forces[i];
      const double N = held[k].dead * weights.sum + held[k].snow * in->snow - held[k].wind * f->up;
      const double M = held[k].dead * weights.turning + held[k].snow * in->snow * in->snow_at +
                       held[k].wind * f->turning;
      if (!(N > 0)) continue;                    /* it is lifted: nothing presses */
      const double e = fabs(M) / N, room = in->length / 2 - e;
      if (!(room > 0)) over = true;
      const double p = e <= in->length / 6 ? N / (in->length * in->width) * (1 + 6 * e / in->length)
                                           : 2 * N / (3 * in->width * room);
      if (!over && p > worst) worst = p, at_case = i, at_combination = k;
    }
  }
  if (over || worst < 0)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "forces", "lift the block or turn it over: how it presses then is not "
                          "told", STATICS, NAN, NAN, SL_NUMBER);

  const struct together *c = &held[at_combination];
  const struct weighed weights = weigh(in, c->dead < 1);
  const struct sl_block_force force = in->forces[at_case];
  HEADING(sh, "pressed most");
  LOOKUP(sh, SL_NUMBER, of_case, (double)at_case + 1, "case that presses most below an edge", STATICS, SL_DERIVED);
  LOOKUP(sh, SL_NUMBER, f_D, c->dead, c->name, c->cite, c->basis);
  LOOKUP(sh, SL_NUMBER, f_S, c->snow, c->name, c->cite, c->basis);
  LOOKUP(sh, SL_NUMBER, f_W, c->wind, c->name, c->cite, c->basis);
  GIVEN(sh, SL_FORCE, D, weights.sum);
  GIVEN(sh, SL_MOMENT, T_D, weights.turning);
  GIVEN(sh, SL_FORCE, U, force.up);
  GIVEN(sh, SL_MOMENT, T, force.turning);
  STEP(sh, SL_FORCE, N, f_D * D + f_S * S - f_W * U, c->cite);
  STEP(sh, SL_MOMENT, M, f_D * T_D + f_S * S * x_S + f_W * T, c->cite);
  STEP(sh, SL_LENGTH, e, fabs(M) / N, STATICS);
  STEP(sh, SL_PRESSURE, p, e <= L / 6 ? N / (L * b) * (1 + 6 * e / L) : 2 * N / (3 * b * (L / 2 - e)),
       "evenly slanting; where an edge would be lifted, over what presses");
  STEP(sh, SL_NUMBER, ratio, p / q, "holds at 1 or less");
  *out = (struct sl_block_bearing_out){ 0 };
  GIVES(sh, out, pressure, p);
  GIVES(sh, out, ratio, ratio);
  GIVES_COUNT(sh, out, of_case, of_case);
  strcpy(out->combination, c->name);
  return SL_OK;
}
