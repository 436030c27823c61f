/* SPDX-License-Identifier: MIT
 * What freezing ground pulls up with, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/frost.h"

#define S struct sl_frost_grip_in
static const struct sl_field frost_grip_in[] = {
  SL_REAL(S, width, SL_LENGTH, "diameter of what stands in the ground; side of a square one"),
  SL_FLAG_OPT(S, square, "it is square"),
  SL_REAL(S, depth, SL_LENGTH, "of its foot; 0 of what stands on the ground"),
  SL_REAL(S, frost, SL_LENGTH, "depth to which the ground freezes"),
  SL_CHOICE(S, face, sl_frozen_faces, "of what the frozen soil holds on to"),
  SL_REAL(S, frame, SL_FORCE, "weight that it carries"),
  SL_REAL(S, post, SL_FORCE, "weight of the post"),
  SL_REAL(S, concrete, SL_FORCE, "weight of the concrete around it"),
};
#undef S
static const struct sl_field frost_grip_out[] = {
  SL_REAL(struct sl_frost_grip_out, frozen, SL_LENGTH, "length of its face that is frozen"),
  SL_REAL(struct sl_frost_grip_out, force, SL_FORCE, "upward, by the plain sum"),
  SL_REAL(struct sl_frost_grip_out, weight, SL_FORCE, "that there is against it, nothing taken off"),
};
SL_OP_CALL(frost_grip)

SL_OPS(frost, 43) = {
  SL_OP(frost_grip, "what freezing ground pulls up with, by the plain sum"),
  {0},
};
