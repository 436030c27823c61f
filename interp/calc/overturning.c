/* SPDX-License-Identifier: MIT
 * Turning over an edge, posts in the ground; see overturning.h. */
#include "guard.h"
#include "table.h"
#include "stringline/overturning.h"

#define STATICS "statics"

static enum sl_status check(const struct sl_overturning_in *in, struct sl_sheet *sh) {
  if (in->ncases < 1 || in->ncases > SL_OVERTURNING_CASES)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "cases", "must be 1 to 100", "", (double)in->ncases, NAN, SL_NUMBER);
  if (in->nweights > SL_OVERTURNING_ITEMS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "weights", "must be 1000 at most", "", (double)in->nweights, NAN,
                          SL_NUMBER);
  if (in->nposts < 1 || in->nposts > SL_OVERTURNING_ITEMS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "posts", "must be 1 to 1000", "", (double)in->nposts, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->ncases; i++) {
    FINITE_ROW(sh, in, cases, i, turning, SL_MOMENT);
    FINITE_ROW(sh, in, cases, i, side, SL_FORCE);
  }
  for (size_t i = 0; i < in->nweights; i++) {
    NOT_NEGATIVE_ROW(sh, in, weights, i, weight, SL_FORCE);
    FINITE_ROW(sh, in, weights, i, at, SL_LENGTH);
  }
  for (size_t i = 0; i < in->nposts; i++) {
    NOT_NEGATIVE_ROW(sh, in, posts, i, at, SL_LENGTH);
    NOT_NEGATIVE_ROW(sh, in, posts, i, holds, SL_FORCE);
    NOT_NEGATIVE_ROW(sh, in, posts, i, bends, SL_MOMENT);
    NOT_NEGATIVE_ROW(sh, in, posts, i, arm, SL_LENGTH);
  }
  return SL_OK;
}

/* What the ground takes in bending at all posts, pushed alike by so much. */
static double ground_takes(const struct sl_overturning_in *in, double push) {
  double sum = 0;
  for (size_t i = 0; i < in->nposts; i++) sum += fmax(0, in->posts[i].bends - push * in->posts[i].arm);
  return sum;
}

static double ratio_of(double demand, double held) { return held > 0 ? demand / held : demand > 0 ? INFINITY : 0; }

enum sl_status sl_overturning(const struct sl_overturning_in *in, struct sl_overturning_out *out, struct sl_sheet *sh) {
  const enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "ASCE", edition);
  FIND(c, load_combinations, STANDS(c, edition) && sl_same_text(c->key, "uplift") &&
                             sl_same_text(c->method, "allowable"));
  if (!c) return NO_ROW(sh, "edition", "has no combination here", "@combination_uplift");
  WORKED(sh, in->nweights + in->nposts * (in->ncases + 1));
  FROM(sh, SL_NUMBER, f_D, c, dead, c->name, edition);
  FROM(sh, SL_NUMBER, f_W, c, wind, c->name, edition);

  double weighs = 0, held_down = 0, in_bending = 0;
  LINES(sh, "what weighs");
  for (size_t i = 0; i < in->nweights; i++) {
    LINE(sh);
    GIVEN(sh, SL_FORCE, G, in->weights[i].weight);
    GIVEN(sh, SL_LENGTH, x_G, in->weights[i].at);
    STEP(sh, SL_MOMENT, M_G, G * x_G, STATICS);
    weighs += M_G;
  }
  LINES_END(sh);
  SUM(sh, SL_MOMENT, D_edge, weighs, M_G, STATICS);
  WITHIN(sh, "weights", D_edge, >=, 0, "lie beyond the edge, and help to turn it over: that is not covered here",
         STATICS, SL_MOMENT);
  LINES(sh, "posts");
  for (size_t i = 0; i < in->nposts; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, x, in->posts[i].at);
    GIVEN(sh, SL_FORCE, N, in->posts[i].holds);
    GIVEN(sh, SL_MOMENT, M_0, in->posts[i].bends);
    GIVEN(sh, SL_LENGTH, arm, in->posts[i].arm);
    STEP(sh, SL_MOMENT, M_N, N * x, STATICS);
    held_down += M_N;
    in_bending += M_0 > 0 ? 1 : 0;
  }
  LINES_END(sh);
  SUM(sh, SL_MOMENT, R_posts, held_down, M_N, STATICS);
  STEP(sh, SL_MOMENT, R_weight, f_D * D_edge, c->cite);
  LOOKUP(sh, SL_NUMBER, n, fmax(1, in_bending), "posts that the ground holds in bending, 1 at least", STATICS,
         SL_DERIVED);

  size_t worst = 0;
  double most = -1;
  LINES(sh, "cases");
  for (size_t i = 0; i < in->ncases; i++) {
    LINE(sh);
    GIVEN(sh, SL_MOMENT, T, in->cases[i].turning);
    GIVEN(sh, SL_FORCE, H, in->cases[i].side);
    STEP(sh, SL_MOMENT, M_over, fmax(0, f_W * T), "turns it over");
    STEP(sh, SL_FORCE, P, f_W * fabs(H) / n, "push on each post that the ground holds");
    LOOKUP(sh, SL_MOMENT, R_ground, ground_takes(in, P), "each takes M_0 - P arm in bending, or nothing", STATICS,
           SL_DERIVED);
    STEP(sh, SL_MOMENT, R, R_weight + R_posts + R_ground, "stands against it");
    const double ratio = ratio_of(M_over, R);
    if (ratio > most) most = ratio, worst = i;
  }
  LINES_END(sh);
  LOOKUP(sh, SL_MOMENT, T_most, in->cases[worst].turning, "of the case that comes nearest to it", STATICS, SL_DERIVED);
  LOOKUP(sh, SL_FORCE, H_most, in->cases[worst].side, "its push", STATICS, SL_DERIVED);
  STEP(sh, SL_MOMENT, turn, fmax(0, f_W * T_most), c->cite);
  STEP(sh, SL_FORCE, P_most, f_W * fabs(H_most) / n, c->cite);
  LOOKUP(sh, SL_MOMENT, R_bent, ground_takes(in, P_most), "what the ground takes in bending then", STATICS, SL_DERIVED);
  STEP(sh, SL_MOMENT, held, R_weight + R_posts + R_bent, STATICS);
  GIVES(sh, out, turn, turn);
  GIVES(sh, out, held, held);
  GIVES(sh, out, by_weight, R_weight);
  GIVES(sh, out, by_posts, R_posts);
  GIVES(sh, out, by_ground, R_bent);
  out->of_case = (int)worst + 1;
  return SL_OK;
}
