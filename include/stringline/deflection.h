/* SPDX-License-Identifier: MIT
 * How far a member may bend, as the building code limits it. */
#ifndef STRINGLINE_DEFLECTION_H
#define STRINGLINE_DEFLECTION_H

#include "stringline/sheet.h"

struct sl_deflection_limit_in {
  char member[16];       /* "roof" (no ceiling under it), "farm building", "greenhouse", "metal siding" */
  char load[16];         /* "live", "snow", "wind", "dead and live" */
  char edition[SL_EDITION_NAME];   /* "IBC 2021" */
};
struct sl_deflection_limit_out { double ratio; };                 /* span over deflection, at least */
enum sl_status sl_deflection_limit(const struct sl_deflection_limit_in *in, struct sl_deflection_limit_out *out,
                                   struct sl_sheet *sh);

#endif
