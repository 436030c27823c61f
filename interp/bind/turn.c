/* SPDX-License-Identifier: MIT
 * Modules turned to another tilt, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/turn.h"

#define IN(m, dim, help)  SL_REAL(struct sl_turned_in, m, dim, help)
#define OUT(m, help) SL_REAL(struct sl_turned_out, m, SL_LENGTH, help)
static const struct sl_field turned_in[] = {
  IN(slope_length, SL_LENGTH, "of the modules up the slope"),
  IN(tilt, SL_ANGLE, "of the modules from level, as they are built"),
  IN(lower_edge, SL_LENGTH, "of the lower edge above the datum at that tilt"),
  IN(stack, SL_LENGTH, "rail, rafter and saddle together, square to the modules"),
  IN(pivot, SL_RATIO, "of the slope, from the lower edge, where the line stands that they turn about"),
  IN(line, SL_RATIO, "of the slope, from the lower edge, where another line of supports stands"),
  IN(to, SL_ANGLE, "that they are turned to, from level"),
};
static const struct sl_field turned_out[] = {
  OUT(turned_edge, "of the lower edge above the datum"),
  OUT(turned_top, "of the top edge above the datum"),
  OUT(middle, "of the module plane above the datum"),
  OUT(moved, "of the lower edge in plan, uphill positive"),
  OUT(pivot_height, "of the line that they turn about above the datum"),
  OUT(line_height, "of the other line's bearing point above the datum"),
  OUT(from_pivot, "of that point behind the line that they turn about, in plan"),
  OUT(depth, "of the module plane seen from above"),
  OUT(leg_rise, "of that point above where the built tilt has it; less than 0: below"),
  OUT(leg_run, "of that point behind where the built tilt has it, in plan; less than 0: before"),
  OUT(leg, "of a leg between the two"),
};
#undef IN
#undef OUT
SL_OP_CALL(turned)

SL_OPS(turn, 11) = {
  SL_OP(turned, "modules turned to another tilt about one line of their supports"),
  {0},
};
