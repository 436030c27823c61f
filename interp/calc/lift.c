/* SPDX-License-Identifier: MIT
 * How many people a piece takes, and on what they stand; see lift.h. */
#include "guard.h"
#include "table.h"
#include "stringline/lift.h"

#define SHARE "shared alike"

enum sl_status sl_lift(const struct sl_lift_in *in, struct sl_lift_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, mass, SL_MASS);
  POSITIVE(sh, in, per_person, SL_MASS);
  GIVEN(sh, SL_MASS, m, in->mass);
  GIVEN(sh, SL_MASS, each, in->per_person);
  STEP(sh, SL_NUMBER, share, m / each, SHARE);
  WITHIN(sh, "mass", share, <, 1e6, "asks for more people than anyone can call", "a million people", SL_NUMBER);
  STEP(sh, SL_NUMBER, n, fmax(1, ceil(share - 1e-9)), "whole people, up");
  GIVES_COUNT(sh, out, people, n);
  return SL_OK;
}

enum sl_status sl_reach(const struct sl_reach_in *in, struct sl_reach_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, z, in->height);
  FACT(sh, SL_LENGTH, reach, "reach", SL_NO_EDITION);
  STEP(sh, SL_LENGTH, platform, fmax(0, z - reach), "plane geometry");
  GIVES(sh, out, platform, platform);
  return SL_OK;
}
