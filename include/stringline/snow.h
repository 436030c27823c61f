/* SPDX-License-Identifier: MIT
 * Balanced snow on a rack: flat load, slope factor, sloped load.  SI: Pa, rad, kg/m3.
 *
 * Not held: drift, snow sliding from a rack behind, rain on snow (7.10, for slopes flatter than W/50 degrees). */
#ifndef STRINGLINE_SNOW_H
#define STRINGLINE_SNOW_H

#include <stdbool.h>
#include "stringline/asce7.h"
#include "stringline/sheet.h"

enum sl_sheltering { SL_FULLY_EXPOSED, SL_PARTIALLY_EXPOSED, SL_SHELTERED };
enum sl_thermal { SL_OPEN_AIR, SL_KEPT_ABOVE_FREEZING, SL_HEATED };   /* a rack is open air; 7-22 holds only that */
extern const char *const sl_shelterings[], *const sl_thermals[];

struct sl_snow_load_in {
  char edition[SL_EDITION_NAME];   /* ground_snow must be of it: 7-16 service level, 7-22 strength level */
  double ground_snow;    /* pg, >= 0 */
  int exposure;          /* enum sl_exposure */
  int sheltering;        /* enum sl_sheltering */
  int risk_category;     /* enum sl_risk.  7-16: importance factor.  7-22: pg is already from this category's map */
  int thermal;           /* enum sl_thermal */
  double tilt;           /* 0 to pi/2; with 7-22 at least 15 deg */
  bool slippery;         /* glass that nothing obstructs, and room below the low edge for what slides off */
};
struct sl_snow_load_out {
  double flat;           /* pf */
  double slope_factor;   /* Cs */
  double minimum;        /* pm, below 15 deg; 0 elsewhere */
  double sloped;         /* larger of ps = Cs pf and pm, per horizontal area; at the level of pg */
  double density;        /* of the snow; of a design load at strength level with 7-22 */
};
enum sl_status sl_snow_load(const struct sl_snow_load_in *in, struct sl_snow_load_out *out, struct sl_sheet *sh);

#endif
