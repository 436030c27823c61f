/* SPDX-License-Identifier: MIT
 * Wood that gives way around bolts and lag screws before they do: torn out along its grain, a row or all of a group,
 * and split across it towards the edge to which they press.  Stresses with all their factors, at the level of the
 * forces.  SI: m, N, Pa.
 *
 * Not held: rows that are staggered or unlike, loads at an angle to the grain but by their parts, and moments within a
 * group. */
#ifndef STRINGLINE_TEARING_H
#define STRINGLINE_TEARING_H

#include "stringline/fasteners.h"

/* Fasteners that are pulled along the grain, towards an end of the member. */
struct sl_tear_out_in {
  double shear, tension;               /* Fv' and Ft' of the member, > 0 */
  double thickness;                    /* of the member along the fasteners, > 0 */
  int kind;                            /* enum sl_fastener */
  char size[8];
  int count, rows;                     /* in each row along the grain; of such rows: 1 to 100 */
  double spacing, row_spacing;         /* along a row; from row to row: > 0; NAN of one */
  double to_end;                       /* from the end to the first of them, > 0 */
  double pull;                         /* of all of them together, >= 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_tear_out_out {
  double row;                          /* one row */
  double all_rows;                     /* all of them, each by itself */
  double group;                        /* in one piece; NAN of one row */
  double allowed, used;                /* the least; holds at 1 or less */
  char governs[8];                     /* "rows" or "group" */
};
enum sl_status sl_tear_out(const struct sl_tear_out_in *in, struct sl_tear_out_out *out, struct sl_sheet *sh);

/* A bent member at fasteners that press across its grain. */
struct sl_split_across_in {
  double stress;                       /* Fv' of the member, > 0 */
  double width, depth;                 /* along the fasteners; across the grain: > 0 */
  double reach;                        /* from the edge to which they press to the farthest of them, > 0, to depth */
  double to_end;                       /* from the member's nearest end, >= 0 */
  double shear;                        /* of the member there, >= 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_split_across_out { double allowed, used; };
enum sl_status sl_split_across(const struct sl_split_across_in *in, struct sl_split_across_out *out,
                               struct sl_sheet *sh);

#endif
