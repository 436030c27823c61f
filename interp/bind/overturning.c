/* SPDX-License-Identifier: MIT
 * Racks that turn over an edge, posts in the ground, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/overturning.h"

#define R struct sl_block_force
static const struct sl_field overturning_force[] = {
  SL_REAL(R, up, SL_FORCE, "of the wind, strength level; less than 0 presses"),
  SL_REAL(R, side, SL_FORCE, "plus to the back, the upper edge of the modules"),
  SL_REAL(R, turning, SL_MOMENT, "about the point that places count from, plus over its back"),
};
#undef R
#define R struct sl_overturning_weight
static const struct sl_field overturning_weight[] = {
  SL_REAL(R, weight, SL_FORCE, "at least"),
  SL_REAL(R, at, SL_LENGTH, "its place, plus to the back; beyond an edge it helps to turn over that"),
};
#undef R
#define R struct sl_overturning_post
static const struct sl_field overturning_post[] = {
  SL_REAL(R, at, SL_LENGTH, "place of the post, front to back"),
  SL_REAL(R, holds, SL_FORCE, "what holds it down beside those weights, allowable level"),
  SL_REAL(R, bends, SL_MOMENT, "that the ground takes there without a push, allowable level"),
  SL_REAL(R, arm, SL_LENGTH, "what a push takes off that, for each of its force"),
  SL_REAL_OPT(R, bears, SL_MOMENT, "that the post itself bears there, allowable level: no more comes to the ground"),
};
#undef R
#define S struct sl_overturning_in
static const struct sl_field overturning_in[] = {
  SL_ROWS(S, forces, nforces, struct sl_block_force, overturning_force, "of the cases of wind, each by itself"),
  SL_ROWS(S, weights, nweights, struct sl_overturning_weight, overturning_weight, "of frame and modules"),
  SL_ROWS(S, posts, nposts, struct sl_overturning_post, overturning_post, "and what the ground does for each"),
  SL_REAL(S, front, SL_LENGTH, "place of the front edge: the line of the front posts"),
  SL_REAL(S, back, SL_LENGTH, "place of the back edge"),
  SL_REAL(S, front_above, SL_LENGTH, "the ground at the front above the point that places count from"),
  SL_REAL(S, back_above, SL_LENGTH, "the ground at the back above it"),
  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\""),
};
#undef S
#define OUT(m, help) SL_REAL(struct sl_overturning_out, m, SL_MOMENT, help)
static const struct sl_field overturning_out[] = {
  OUT(turn, "what turns it over, of the case and edge that come nearest to it, allowable level"),
  OUT(held, "what stands against that"),
  OUT(by_weight, "of it by weight"),
  OUT(by_posts, "of it by what holds posts down"),
  OUT(by_ground, "of it by the ground, in bending"),
  SL_FLAG(struct sl_overturning_out, over_back, "it is the back that it comes nearest to turning over"),
  SL_COUNT(struct sl_overturning_out, of_case, "which case that is, from 1"),
};
#undef OUT
SL_OP_CALL(overturning)

SL_OPS(overturning, 43) = {
  SL_OP(overturning, "whether a rack with posts in the ground turns over the line of its front or back posts"),
  {0},
};
