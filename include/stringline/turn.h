/* SPDX-License-Identifier: MIT
 * Modules whose tilt is changed with the seasons: where the plane of the modules is once it is turned about one line of
 * its supports.  Lengths in m, angles in rad.  Plane geometry. */
#ifndef STRINGLINE_TURN_H
#define STRINGLINE_TURN_H

#include "stringline/sheet.h"

/* The bearing point of the line that it turns about stays where the built tilt puts it. */
struct sl_turned_in {
  double slope_length;                  /* > 0 */
  double tilt;                          /* at which it is built, 0 to pi/2 */
  double lower_edge;                    /* at that tilt, above the datum; less than 0: below it */
  double stack;                         /* rail + rafter + saddle, square to the modules, >= 0 */
  double pivot;                         /* the line that it turns about, a fraction of the slope, 0 to 1 */
  double line;                          /* another line of supports, likewise */
  double to;                            /* the tilt that it is turned to, 0 to pi/2 */
};
struct sl_turned_out {
  double turned_edge, turned_top;       /* lower and upper edge above the datum; less than 0: below it */
  double middle;                        /* of the module plane above the datum */
  double moved;                         /* of the lower edge in plan, uphill positive */
  double pivot_height;                  /* above the datum, the same at each tilt */
  double line_height;                   /* bearing point of the other line above the datum */
  double from_pivot;                    /* that point behind the pivot in plan, uphill positive */
  double depth;                         /* of the module plane seen from above */
  double leg_rise, leg_run;             /* that point above and behind where the built tilt has it; less than 0: below,
                                         * before */
  double leg;                           /* between the two */
};
enum sl_status sl_turned(const struct sl_turned_in *in, struct sl_turned_out *out, struct sl_sheet *sh);

#endif
