/* SPDX-License-Identifier: MIT
 * How far the ground gives way under a post; see leaning.h. */
#include "guard.h"
#include "table.h"
#include "stringline/leaning.h"

enum sl_status sl_ground_motion(const struct sl_ground_motion_in *in, struct sl_ground_motion_out *out,
                                struct sl_sheet *sh) {
  EDITION(sh, in, edition, "IBC", edition);
  GIVEN(sh, SL_NUMBER, isolated, in->isolated);
  FACT(sh, SL_LENGTH, y_twice, "isolated_motion", edition);
  FACT(sh, SL_NUMBER, twice, "isolated", edition);
  STEP(sh, SL_LENGTH, y, isolated > 0 ? y_twice : y_twice / twice, "@soil_isolated");
  GIVES(sh, out, motion, y);
  return SL_OK;
}

enum sl_status sl_head_motion(const struct sl_head_motion_in *in, struct sl_head_motion_out *out,
                              struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, motion, SL_LENGTH);
  POSITIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, depth, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, y, in->motion);
  GIVEN(sh, SL_LENGTH, h, in->height);
  GIVEN(sh, SL_LENGTH, d, in->depth);
  FACT(sh, SL_RATIO, pivot_share, "pivot_share", SL_NO_EDITION);
  STEP(sh, SL_ANGLE, turn, y / (pivot_share * d), "rigid short pole: it turns about a point in the ground");
  STEP(sh, SL_LENGTH, y_head, turn * (h + pivot_share * d), "rigid short pole");
  GIVES(sh, out, turn, turn);
  GIVES(sh, out, motion, y_head);
  return SL_OK;
}
