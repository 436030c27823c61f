/* SPDX-License-Identifier: MIT
 * How far the ground gives way under a post that it holds, as the code's own words bound it.  SI: m.
 *
 * The code lets the lateral bearing of its table count twice for isolated posts that half an inch of motion at the
 * ground does not harm: so much is expected of soil that is used whole at twice the table's value.  At the table's
 * own value, half the load, it is taken as half as much, as if the soil were a spring; soil gives way more and more,
 * so that half is more than it will be.  A bound for planning: nobody has measured this ground. */
#ifndef STRINGLINE_LEANING_H
#define STRINGLINE_LEANING_H

#include <stdbool.h>
#include "stringline/sheet.h"

struct sl_ground_motion_in {
  bool isolated;                        /* twice the table's lateral bearing counts */
  char edition[SL_EDITION_NAME];        /* "IBC 2021" */
};
struct sl_ground_motion_out { double motion; };         /* at the ground, at full use of that bearing */
enum sl_status sl_ground_motion(const struct sl_ground_motion_in *in, struct sl_ground_motion_out *out,
                                struct sl_sheet *sh);

/* How far the head of a stiff post moves then: the post turns about a point in the ground. */
struct sl_head_motion_in {
  double motion;                        /* at the ground, >= 0 */
  double height;                        /* of its head above the ground, > 0 */
  double depth;                         /* of its footing, > 0 */
};
struct sl_head_motion_out { double turn, motion; };     /* rad; of the head, m */
enum sl_status sl_head_motion(const struct sl_head_motion_in *in, struct sl_head_motion_out *out,
                              struct sl_sheet *sh);

#endif
