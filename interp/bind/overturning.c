/* SPDX-License-Identifier: MIT
 * Racks that turn over an edge, posts in the ground, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/overturning.h"

#define R struct sl_overturning_case
static const struct sl_field overturning_case[] = {
  SL_REAL(R, turning, SL_MOMENT, "of the wind about the edge, strength level; plus turns it over"),
  SL_REAL(R, side, SL_FORCE, "push of the wind, strength level, whichever way"),
};
#undef R
#define R struct sl_overturning_weight
static const struct sl_field overturning_weight[] = {
  SL_REAL(R, weight, SL_FORCE, "at least"),
  SL_REAL(R, at, SL_LENGTH, "from the edge, plus on the rack's side of it"),
};
#undef R
#define R struct sl_overturning_post
static const struct sl_field overturning_post[] = {
  SL_REAL(R, at, SL_LENGTH, "of the post from the edge"),
  SL_REAL(R, holds, SL_FORCE, "what holds it down beside those weights, allowable level"),
  SL_REAL(R, bends, SL_MOMENT, "that the ground takes there without a push, allowable level"),
  SL_REAL(R, arm, SL_LENGTH, "what a push takes off that, for each of its force"),
};
#undef R
#define S struct sl_overturning_in
static const struct sl_field overturning_in[] = {
  SL_ROWS(S, cases, ncases, struct sl_overturning_case, overturning_case, "of wind, each by itself"),
  SL_ROWS(S, weights, nweights, struct sl_overturning_weight, overturning_weight, "of frame and modules"),
  SL_ROWS(S, posts, nposts, struct sl_overturning_post, overturning_post, "and what the ground does for each"),
  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\""),
};
#undef S
#define OUT(m, help) SL_REAL(struct sl_overturning_out, m, SL_MOMENT, help)
static const struct sl_field overturning_out[] = {
  OUT(turn, "what turns it over, of the case that comes nearest to it, allowable level"),
  OUT(held, "what stands against that"),
  OUT(by_weight, "of it by weight"),
  OUT(by_posts, "of it by what holds posts down"),
  OUT(by_ground, "of it by the ground, in bending"),
  SL_COUNT(struct sl_overturning_out, of_case, "which case that is, from 1"),
};
#undef OUT
SL_OP_CALL(overturning)

SL_OPS(overturning, 43) = {
  SL_OP(overturning, "whether a rack with posts in the ground turns over the line of its front or back posts"),
  {0},
};
