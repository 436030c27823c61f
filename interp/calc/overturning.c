/* SPDX-License-Identifier: MIT
 * Turning over an edge, posts in the ground; see overturning.h. */
#include "guard.h"
#include "table.h"
#include "uplift.h"
#include "stringline/overturning.h"

#define STATICS "statics"

static enum sl_status check(const struct sl_overturning_in *in, struct sl_sheet *sh) {
  CHECK_FORCES(sh, in);
  if (in->nweights > SL_OVERTURNING_ITEMS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "weights", "must be 1000 at most", "", (double)in->nweights, NAN,
                          SL_NUMBER);
  if (in->nposts < 1 || in->nposts > SL_OVERTURNING_ITEMS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "posts", "must be 1 to 1000", "", (double)in->nposts, NAN, SL_NUMBER);
  FINITE(sh, in, front, SL_LENGTH);
  FINITE(sh, in, back, SL_LENGTH);
  REQUIRE(sh, in, back, >= in->front, "must not be before the front", SL_LENGTH);
  FINITE(sh, in, front_above, SL_LENGTH);
  FINITE(sh, in, back_above, SL_LENGTH);
  for (size_t i = 0; i < in->nweights; i++) {
    NOT_NEGATIVE_ROW(sh, in, weights, i, weight, SL_FORCE);
    FINITE_ROW(sh, in, weights, i, at, SL_LENGTH);
  }
  const double slack = 1e-9 * (1 + fabs(in->front) + fabs(in->back));
  for (size_t i = 0; i < in->nposts; i++) {
    REQUIRE_ROW(sh, in, posts, i, at, >= in->front - slack && in->posts[i].at <= in->back + slack,
                "must be between front and back", SL_LENGTH);
    NOT_NEGATIVE_ROW(sh, in, posts, i, holds, SL_FORCE);
    NOT_NEGATIVE_ROW(sh, in, posts, i, bends, SL_MOMENT);
    NOT_NEGATIVE_ROW(sh, in, posts, i, arm, SL_LENGTH);
    if (!isnan(in->posts[i].bears)) NOT_NEGATIVE_ROW(sh, in, posts, i, bears, SL_MOMENT);
  }
  return SL_OK;
}

/* What the ground takes in bending at all posts, pushed alike by so much: through each no more than it bears itself. */
static double ground_takes(const struct sl_overturning_in *in, double push) {
  double sum = 0;
  for (size_t i = 0; i < in->nposts; i++)
    sum += fmin(fmax(0, in->posts[i].bends - push * in->posts[i].arm), in->posts[i].bears);
  return sum;
}

enum sl_status sl_overturning(const struct sl_overturning_in *in, struct sl_overturning_out *out, struct sl_sheet *sh) {
  const enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "ASCE", edition);
  UPLIFT_ROW(sh, c, edition);
  WORKED(sh, in->nweights + in->nposts * (in->nforces + 1));
  FROM(sh, SL_NUMBER, f_D, c, dead, c->name, edition);
  FROM(sh, SL_NUMBER, f_W, c, wind, c->name, edition);
  GIVEN(sh, SL_LENGTH, x_f, in->front);
  GIVEN(sh, SL_LENGTH, x_b, in->back);
  GIVEN(sh, SL_LENGTH, z_f, in->front_above);
  GIVEN(sh, SL_LENGTH, z_b, in->back_above);

  double about_front = 0, about_back = 0;
  LINES(sh, "what weighs");
  for (size_t i = 0; i < in->nweights; i++) {
    LINE(sh);
    GIVEN(sh, SL_FORCE, G, in->weights[i].weight);
    GIVEN(sh, SL_LENGTH, x_G, in->weights[i].at);
    STEP(sh, SL_MOMENT, G_f, G * (x_G - x_f), "about the front");
    STEP(sh, SL_MOMENT, G_b, G * (x_b - x_G), "about the back");
    about_front += G_f, about_back += G_b;
  }
  LINES_END(sh);
  SUM(sh, SL_MOMENT, D_f, about_front, G_f, STATICS);
  SUM(sh, SL_MOMENT, D_b, about_back, G_b, STATICS);
  WITHIN(sh, "weights", fmin(D_f, D_b), >=, 0, "lie beyond an edge, and help to turn it over: that is not covered here",
         STATICS, SL_MOMENT);
  double held_front = 0, held_back = 0, bent = 0;
  LINES(sh, "posts");
  for (size_t i = 0; i < in->nposts; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, x, in->posts[i].at);
    GIVEN(sh, SL_FORCE, N, in->posts[i].holds);
    GIVEN(sh, SL_MOMENT, M_0, in->posts[i].bends);
    GIVEN(sh, SL_LENGTH, arm, in->posts[i].arm);
    if (isnan(in->posts[i].bears)) {
      LOOKUP(sh, SL_MOMENT, M_post, M_0, "what the post bears is not said", STATICS, SL_DERIVED);
    } else {
      GIVEN(sh, SL_MOMENT, M_post, in->posts[i].bears);
    }
    STEP(sh, SL_MOMENT, N_f, N * fmax(0, x - x_f), "about the front");
    STEP(sh, SL_MOMENT, N_b, N * fmax(0, x_b - x), "about the back");
    held_front += N_f, held_back += N_b;
    bent += M_0 > 0 ? 1 : 0;
  }
  LINES_END(sh);
  SUM(sh, SL_MOMENT, P_f, held_front, N_f, STATICS);
  SUM(sh, SL_MOMENT, P_b, held_back, N_b, STATICS);
  LOOKUP(sh, SL_NUMBER, n, fmax(1, bent), "posts that the ground holds in bending, 1 at least", STATICS, SL_DERIVED);

  struct worst { size_t at; bool over_back; double turn, push, ratio; } worst = { .ratio = -1 };
  LINES(sh, "cases");
  for (size_t i = 0; i < in->nforces; i++) {
    LINE(sh);
    FORCES_OF_CASE(sh, in, i);
    STEP(sh, SL_MOMENT, M_f, fmax(0, f_W * (H * z_f - T - U * x_f)), "over the front");
    STEP(sh, SL_MOMENT, M_b, fmax(0, f_W * (T + U * x_b - H * z_b)), "over the back");
    STEP(sh, SL_FORCE, V, f_W * fabs(H) / n, "push on each post that the ground holds");
    LOOKUP(sh, SL_MOMENT, R_ground, ground_takes(in, V), "each takes M_0 - V arm, M_post at most, or nothing", STATICS,
           SL_DERIVED);
    STEP(sh, SL_MOMENT, R_f, f_D * D_f + P_f + R_ground, "stands against it at the front");
    STEP(sh, SL_MOMENT, R_b, f_D * D_b + P_b + R_ground, "at the back");
    const double front = ratio_of(M_f, R_f), back = ratio_of(M_b, R_b);
    if (front > worst.ratio) worst = (struct worst){ i, false, M_f, V, front };
    if (back > worst.ratio) worst = (struct worst){ i, true, M_b, V, back };
  }
  LINES_END(sh);
  LOOKUP(sh, SL_NUMBER, over_back, worst.over_back, "1 where it comes nearest to turning over the back", STATICS,
         SL_DERIVED);
  LOOKUP(sh, SL_MOMENT, turn, worst.turn, "what turns it then", STATICS, SL_DERIVED);
  STEP(sh, SL_MOMENT, R_weight, f_D * (over_back > 0 ? D_b : D_f), c->cite);
  STEP(sh, SL_MOMENT, R_posts, over_back > 0 ? P_b : P_f, STATICS);
  LOOKUP(sh, SL_MOMENT, R_bent, ground_takes(in, worst.push), "what the ground takes in bending then", STATICS,
         SL_DERIVED);
  STEP(sh, SL_MOMENT, held, R_weight + R_posts + R_bent, STATICS);
  GIVES(sh, out, turn, turn);
  GIVES(sh, out, held, held);
  GIVES(sh, out, by_weight, R_weight);
  GIVES(sh, out, by_posts, R_posts);
  GIVES(sh, out, by_ground, R_bent);
  GIVES_FLAG(sh, out, over_back, over_back);
  out->of_case = (int)worst.at + 1;
  return SL_OK;
}
