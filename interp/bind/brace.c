/* SPDX-License-Identifier: MIT
 * A brace, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/brace.h"

#define IN(m, help)  SL_REAL(struct sl_brace_in, m, SL_LENGTH, help)
#define OUT(m, dim, help) SL_REAL(struct sl_brace_out, m, dim, help)
static const struct sl_field brace_in[] = {
  IN(apart, "of the two posts in plan, centre to centre"),
  IN(foot_ground, "at the post of its foot, above the datum"),
  IN(low, "of the bolt at its foot, above the ground there"),
  IN(foot_top, "of the post of its foot, above the datum"),
  IN(head_top, "of the post of its head, above the datum"),
  IN(high, "of the bolt at its head, below that post's top"),
  IN(head_ground, "at the post of its head, above the datum"),
  IN(past, "of the brace beyond each bolt"),
};
static const struct sl_field brace_out[] = {
  OUT(foot, SL_LENGTH, "of the bolt at its foot above the datum"),
  OUT(head, SL_LENGTH, "of the bolt at its head above the datum"),
  OUT(bolts, SL_LENGTH, "between the two bolts"),
  OUT(length, SL_LENGTH, "of the whole piece, end to end"),
  OUT(angle, SL_ANGLE, "from level; less than 0: its head is the lower end"),
};
#undef IN
#undef OUT
SL_OP_CALL(brace)

SL_OPS(brace, 12) = {
  SL_OP(brace, "length and lean of a brace from one post to another"),
  {0},
};
