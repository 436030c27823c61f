/* SPDX-License-Identifier: MIT
 * What people lift and reach, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/lift.h"

static const struct sl_field lift_in[] = {
  SL_REAL(struct sl_lift_in, mass, SL_MASS, "of the piece"),
  SL_REAL(struct sl_lift_in, per_person, SL_MASS, "that one person lifts at most"),
};
static const struct sl_field lift_out[] = {
  SL_COUNT(struct sl_lift_out, people, "who lift it"),
};
SL_OP_CALL(lift)

static const struct sl_field reach_in[] = {
  SL_REAL(struct sl_reach_in, height, SL_LENGTH, "above the ground, at which somebody works"),
};
static const struct sl_field reach_out[] = {
  SL_REAL(struct sl_reach_out, platform, SL_LENGTH, "above the ground, on which he stands; 0: the ground will do"),
};
SL_OP_CALL(reach)

SL_OPS(lift, 13) = {
  SL_OP(lift, "people who lift a piece"),
  SL_OP(reach, "height of a platform from which work is within reach"),
  {0},
};
