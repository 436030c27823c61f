/* SPDX-License-Identifier: MIT
 * What holds a rack down and in its place, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/ballast.h"

#define LOADS(s) SL_TEXT(s, edition, "edition of the load standard: \"ASCE 7-16\"")

#define S struct sl_ground_uplift_in
static const struct sl_field ground_uplift_in[] = {
  SL_REAL(S, wind_uplift, SL_FORCE, "of the wind on the post, strength level"),
  SL_REAL(S, dead, SL_FORCE, "weight of the structure that the post carries"),
  SL_REAL(S, post, SL_FORCE, "weight of the post"),
  SL_REAL(S, post_volume, SL_VOLUME, "of the post below grade"),
  SL_REAL(S, concrete, SL_VOLUME, "around it, post displaced"),
  SL_REAL(S, length, SL_LENGTH, "of post and concrete below grade"),
  SL_FLAG_OPT(S, keyed, "the post cannot be drawn out of its concrete, or has none; else that and soil do not count"),
  SL_REAL_OPT(S, dry_to, SL_LENGTH, "depth of the highest water; without it there is none"),
  SL_REAL_OPT(S, friction, SL_FORCE, "allowable, of the soil along it"),
  SL_REAL_OPT(S, cone, SL_FORCE, "weight of the soil above a bell, in place of friction"),
  SL_REAL_OPT(S, bell, SL_VOLUME, "of the concrete what is in a bell, beyond the shaft: in water wholly or not at all"),
  LOADS(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_ground_uplift_out, m, dim, help)
static const struct sl_field ground_uplift_out[] = {
  OUT(weight, SL_FORCE, "that is counted, less the water that it displaces"),
  OUT(demand, SL_FORCE, "uplift, allowable level"),
  OUT(resistance, SL_FORCE, "of weight and friction"),
  OUT(ratio, SL_NUMBER, "demand over resistance"),
};
#undef OUT
SL_OP_CALL(ground_uplift)

#define S struct sl_ballast_in
static const struct sl_field ballast_in[] = {
  SL_REAL(S, wind_uplift, SL_FORCE, "of the wind on the bay, strength level"),
  SL_REAL(S, wind_side, SL_FORCE, "of the wind on the bay, strength level"),
  SL_REAL(S, dead, SL_FORCE, "weight of structure and blocks of the bay"),
  SL_REAL(S, dead_arm, SL_LENGTH, "of that weight from the edge that it turns over"),
  SL_REAL(S, uplift_arm, SL_LENGTH, "of the uplift from that edge"),
  SL_REAL(S, side_height, SL_LENGTH, "of the push above that edge"),
  SL_REAL_OPT(S, friction, SL_NUMBER, "coefficient on the ground, by the table or a test"),
  SL_REAL_OPT(S, adhesion, SL_PRESSURE, "of clay, in place of friction"),
  SL_REAL_OPT(S, area, SL_AREA, "of contact, for adhesion"),
  SL_REAL_OPT(S, most, SL_NUMBER, "part of what presses that adhesion makes at most"),
  LOADS(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_ballast_out, m, dim, help)
static const struct sl_field ballast_out[] = {
  OUT(uplift_ratio, SL_NUMBER, "uplift over weight"),
  OUT(pressing, SL_FORCE, "on the ground still, allowable level"),
  OUT(sliding, SL_FORCE, "push, allowable level"),
  OUT(sliding_resistance, SL_FORCE, "of the ground"),
  SL_REAL_OPT(struct sl_ballast_out, sliding_ratio, SL_NUMBER, "push over resistance; none where nothing presses"),
  OUT(overturning, SL_MOMENT, "about the edge, allowable level"),
  OUT(righting, SL_MOMENT, "of the weight that may be counted"),
  OUT(overturning_ratio, SL_NUMBER, "overturning over righting"),
};
#undef OUT
SL_OP_CALL(ballast)

SL_OPS(ballast, 42) = {
  SL_OP(ground_uplift, "uplift on a post against weights in water, friction or a cone of soil"),
  SL_OP(ballast, "blocks on the ground: lifted, pushed, turned over"),
  {0},
};
