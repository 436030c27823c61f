/* SPDX-License-Identifier: MIT
 * The sun at noon of the shortest day, and what a rack throws on the one behind it then.  Angles in rad, bearings
 * clockwise from true north; lengths in m.  Noon is when the sun stands due south or due north. */
#ifndef STRINGLINE_SUN_H
#define STRINGLINE_SUN_H

#include "stringline/sheet.h"

struct sl_noon_sun_in { double latitude; };               /* -pi/2 to pi/2, south below 0 */
struct sl_noon_sun_out {
  double elevation;                     /* of its middle above a level horizon, without the air's bending; below 0 it
                                         * stays down all day */
  double bearing;                       /* where it stands: pi, and south of the equator 0 */
};
enum sl_status sl_noon_sun(const struct sl_noon_sun_in *in, struct sl_noon_sun_out *out, struct sl_sheet *sh);

/* Two racks that face alike, one behind the other, seen from the end of their rows.  The sun may stand off to a side:
 * what counts is how steep its light falls in that view. */
struct sl_row_shadow_in {
  double elevation, bearing;            /* of the sun; > 0; 0 to 2 pi */
  double facing;                        /* of both racks' modules, 0 to 2 pi */
  double drop;                          /* how far the upper edge in front stands above the lower edge behind */
  double gap;                           /* between these edges in plan, >= 0 */
  double tilt, slope_length;            /* of the rack behind: 0 to pi/2; > 0 */
};
struct sl_row_shadow_out {
  double angle;                         /* at which the light falls in that view, above level */
  double reach;                         /* where the shadow ends behind the upper edge, level with that lower edge */
  double clear;                         /* of the gap, left in the sun there; below 0 the shadow goes beyond it */
  double shaded;                        /* how far up the modules behind it lies, 0 to slope_length */
};
enum sl_status sl_row_shadow(const struct sl_row_shadow_in *in, struct sl_row_shadow_out *out, struct sl_sheet *sh);

#endif
