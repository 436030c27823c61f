/* SPDX-License-Identifier: MIT
 * A brace from one post to another.  Lengths in m, angles in rad.  Plane geometry. */
#ifndef STRINGLINE_BRACE_H
#define STRINGLINE_BRACE_H

#include "stringline/sheet.h"

/* Bolted to the faces of both posts, its foot so far above the ground and its head so far below the post's top.
 * Heights count from the datum. */
struct sl_brace_in {
  double apart;                         /* of the two posts, centre to centre in plan, > 0 */
  double foot_ground, low;              /* ground at the post of its foot; bolt above it, >= 0 */
  double foot_top;                      /* top of that post, not below the bolt */
  double head_top, high;                /* top of the post of its head; bolt below it, >= 0 */
  double head_ground;                   /* ground at that post, not above the bolt */
  double past;                          /* how far it reaches past each bolt, >= 0 */
};
struct sl_brace_out {
  double foot, head;                    /* both bolts above the datum */
  double bolts, length;                 /* between the bolts; of the whole piece, end to end */
  double angle;                         /* from level, -pi/2 to pi/2; less than 0: its head is the lower end */
};
enum sl_status sl_brace(const struct sl_brace_in *in, struct sl_brace_out *out, struct sl_sheet *sh);

#endif
