/* SPDX-License-Identifier: MIT
 * How long a brace is, and how it leans; see brace.h. */
#include "guard.h"
#include "stringline/brace.h"

#define GEOMETRY "plane geometry"

/* Slack for a bolt that should sit just at the edge: far below what anyone can measure. */
static const double slack = 1e-9;

enum sl_status sl_brace(const struct sl_brace_in *in, struct sl_brace_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, apart, SL_LENGTH);
  FINITE(sh, in, foot_ground, SL_LENGTH);
  NOT_NEGATIVE(sh, in, low, SL_LENGTH);
  FINITE(sh, in, foot_top, SL_LENGTH);
  REQUIRE(sh, in, foot_top, >= in->foot_ground + in->low - slack, "is below the bolt at its foot", SL_LENGTH);
  FINITE(sh, in, head_ground, SL_LENGTH);
  FINITE(sh, in, head_top, SL_LENGTH);
  NOT_NEGATIVE(sh, in, high, SL_LENGTH);
  REQUIRE(sh, in, high, <= in->head_top - in->head_ground + slack,
          "is more than its post stands above the ground", SL_LENGTH);
  NOT_NEGATIVE(sh, in, past, SL_LENGTH);

  GIVEN(sh, SL_LENGTH, a, in->apart);
  GIVEN(sh, SL_LENGTH, ground, in->foot_ground);
  GIVEN(sh, SL_LENGTH, low, in->low);
  GIVEN(sh, SL_LENGTH, top, in->head_top);
  GIVEN(sh, SL_LENGTH, high, in->high);
  GIVEN(sh, SL_LENGTH, past, in->past);
  STEP(sh, SL_LENGTH, foot, ground + low, GEOMETRY);
  STEP(sh, SL_LENGTH, head, top - high, GEOMETRY);
  STEP(sh, SL_LENGTH, b, hypot(a, head - foot), "Pythagoras");
  STEP(sh, SL_LENGTH, L, b + 2 * past, GEOMETRY);
  STEP(sh, SL_ANGLE, lean, atan((head - foot) / a), GEOMETRY);
  GIVES(sh, out, foot, foot);
  GIVES(sh, out, head, head);
  GIVES(sh, out, bolts, b);
  GIVES(sh, out, length, L);
  GIVES(sh, out, angle, lean);
  return SL_OK;
}
