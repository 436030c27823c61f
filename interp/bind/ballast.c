/* SPDX-License-Identifier: MIT
 * What holds a post down, as Lua sees it. */
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

SL_OPS(ballast, 42) = {
  SL_OP(ground_uplift, "uplift on a post against weights in water, friction or a cone of soil"),
  {0},
};
