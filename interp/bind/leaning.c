/* SPDX-License-Identifier: MIT
 * Posts that lean as the ground gives way, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/leaning.h"

#define S struct sl_ground_motion_in
static const struct sl_field ground_motion_in[] = {
  SL_FLAG(S, isolated, "whether twice the table's lateral bearing counts, as for isolated posts"),
  SL_TEXT(S, edition, "edition of the building code: \"IBC 2021\""),
};
#undef S
static const struct sl_field ground_motion_out[] = {
  SL_REAL(struct sl_ground_motion_out, motion, SL_LENGTH, "at the ground, where that bearing is used whole"),
};
SL_OP_CALL(ground_motion)

#define S struct sl_head_motion_in
static const struct sl_field head_motion_in[] = {
  SL_REAL(S, motion, SL_LENGTH, "at the ground"),
  SL_REAL(S, height, SL_LENGTH, "of its head above the ground"),
  SL_REAL(S, depth, SL_LENGTH, "of its footing in the ground, gravel not counted"),
};
#undef S
#define S struct sl_head_motion_out
static const struct sl_field head_motion_out[] = {
  SL_REAL(S, turn, SL_ANGLE, "by which the post leans"),
  SL_REAL(S, motion, SL_LENGTH, "of its head, sideways"),
};
#undef S
SL_OP_CALL(head_motion)

SL_OPS(leaning, 41) = {
  SL_OP(ground_motion, "how far the ground gives way under a post, as the code's words bound it"),
  SL_OP(head_motion, "how far a post's head moves as the ground gives way"),
  {0},
};
