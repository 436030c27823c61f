/* SPDX-License-Identifier: MIT
 * What people lift and reach.  Masses in kg, lengths in m. */
#ifndef STRINGLINE_LIFT_H
#define STRINGLINE_LIFT_H

#include "stringline/sheet.h"

/* How many lift a piece, if none lifts more than his share. */
struct sl_lift_in { double mass, per_person; };           /* >= 0; > 0 */
struct sl_lift_out { int people; };                       /* at least 1 */
enum sl_status sl_lift(const struct sl_lift_in *in, struct sl_lift_out *out, struct sl_sheet *sh);

/* On what somebody stands who works so high. */
struct sl_reach_in { double height; };                    /* above the ground, >= 0 */
struct sl_reach_out { double platform; };                 /* above the ground, >= 0; 0: the ground itself */
enum sl_status sl_reach(const struct sl_reach_in *in, struct sl_reach_out *out, struct sl_sheet *sh);

#endif
