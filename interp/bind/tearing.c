/* SPDX-License-Identifier: MIT
 * Wood torn out and split by its fasteners, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/tearing.h"

#define WOOD(s) SL_TEXT(s, edition, "edition of the wood standard: \"NDS 2018\"")

#define S struct sl_tear_out_in
static const struct sl_field tear_out_in[] = {
  SL_REAL(S, shear, SL_STRESS, "Fv' of the member, with all its factors"),
  SL_REAL(S, tension, SL_STRESS, "Ft' of it"),
  SL_REAL(S, thickness, SL_LENGTH, "of the member, along the fasteners"),
  SL_CHOICE(S, kind, sl_fasteners, "of fastener"),
  SL_TEXT(S, size, "of the fastener: 3/8, No. 10"),
  SL_COUNT(S, count, "fasteners in each row along the grain"),
  SL_COUNT(S, rows, "of such rows, side by side"),
  SL_REAL_OPT(S, spacing, SL_LENGTH, "along a row; none of one"),
  SL_REAL_OPT(S, row_spacing, SL_LENGTH, "from row to row; none of one"),
  SL_REAL(S, to_end, SL_LENGTH, "from the end towards which they are pulled to the first of them"),
  SL_REAL(S, pull, SL_FORCE, "of all of them together, along the grain"),
  WOOD(S),
};
#undef S
#define OUT(m, help) SL_REAL(struct sl_tear_out_out, m, SL_FORCE, help)
static const struct sl_field tear_out_out[] = {
  OUT(row, "that tears out one row"),
  OUT(all_rows, "that tears out all rows, each by itself"),
  SL_REAL_OPT(struct sl_tear_out_out, group, SL_FORCE, "that tears them out in one piece; none of one row"),
  OUT(allowed, "the least"),
  SL_REAL(struct sl_tear_out_out, used, SL_NUMBER, "how far that is used; holds at 1 or less"),
  SL_TEXT(struct sl_tear_out_out, governs, "which is the least: rows, group"),
};
#undef OUT
SL_OP_CALL(tear_out)

#define S struct sl_split_across_in
static const struct sl_field split_across_in[] = {
  SL_REAL(S, stress, SL_STRESS, "Fv' of the member, with all its factors"),
  SL_REAL(S, width, SL_LENGTH, "of the member, along the fasteners"),
  SL_REAL(S, depth, SL_LENGTH, "of the member, across its grain, the way they press"),
  SL_REAL(S, reach, SL_LENGTH, "from the edge towards which they press to the middle of the farthest of them"),
  SL_REAL(S, to_end, SL_LENGTH, "from the member's nearest end"),
  SL_REAL(S, shear, SL_FORCE, "of the member there"),
  WOOD(S),
};
#undef S
static const struct sl_field split_across_out[] = {
  SL_REAL(struct sl_split_across_out, allowed, SL_FORCE, "what the member may be sheared with there"),
  SL_REAL(struct sl_split_across_out, used, SL_NUMBER, "how far that is used; holds at 1 or less"),
};
SL_OP_CALL(split_across)

SL_OPS(tearing, 49) = {
  SL_OP(tear_out, "rows and groups of fasteners torn out of wood along its grain"),
  SL_OP(split_across, "a bent member at fasteners that press across its grain"),
  {0},
};
