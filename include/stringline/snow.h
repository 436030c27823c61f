/* SPDX-License-Identifier: MIT
 * Balanced snow on a rack: flat load, slope factor, sloped load; rain on it; what slides off it; ice.
 * SI: Pa, rad, m, kg/m3.
 *
 * Not held: drift, unbalanced snow, snow sliding from a rack behind. */
#ifndef STRINGLINE_SNOW_H
#define STRINGLINE_SNOW_H

#include <stdbool.h>
#include "stringline/asce7.h"
#include "stringline/sheet.h"

enum sl_sheltering { SL_FULLY_EXPOSED, SL_PARTIALLY_EXPOSED, SL_SHELTERED };
enum sl_thermal { SL_OPEN_AIR, SL_KEPT_ABOVE_FREEZING, SL_HEATED };   /* a rack is open air; 7-22 holds only that */
enum sl_snow_level { SL_SERVICE_LEVEL, SL_STRENGTH_LEVEL };
enum sl_ground_level { SL_GROUND_AS_EDITION, SL_GROUND_SERVICE, SL_GROUND_STRENGTH };
extern const char *const sl_shelterings[], *const sl_thermals[], *const sl_snow_levels[], *const sl_ground_levels[];

struct sl_snow_load_in {
  char edition[SL_EDITION_NAME];   /* ground_snow must be of it: 7-16 service level, 7-22 strength level */
  double ground_snow;    /* pg, >= 0 */
  int exposure;          /* enum sl_exposure */
  int sheltering;        /* enum sl_sheltering */
  int risk_category;     /* enum sl_risk.  7-16: importance factor.  7-22: pg is already from this category's map */
  int thermal;           /* enum sl_thermal */
  double tilt;           /* 0 to pi/2; with 7-22 at least 15 deg */
  bool slippery;         /* glass that nothing obstructs, and room below the low edge for what slides off */
  int ground_level;      /* enum sl_ground_level, of the map that pg is from: the other edition's is refused */
};
struct sl_snow_load_out {
  double flat;           /* pf */
  double slope_factor;   /* Cs */
  double minimum;        /* pm, below 15 deg; 0 elsewhere */
  double sloped;         /* larger of ps = Cs pf and pm, per horizontal area; at the level of pg */
  double density;        /* of the snow; of a design load at strength level with 7-22 */
  int level;             /* enum sl_snow_level: of pg, and so of every load here */
};
enum sl_status sl_snow_load(const struct sl_snow_load_in *in, struct sl_snow_load_out *out, struct sl_sheet *sh);

/* Rain on snow, added to a balanced load.  7-16 only: where that of 7-22 counts is not held. */
struct sl_rain_on_snow_in {
  char edition[SL_EDITION_NAME];
  double ground_snow;    /* pg, >= 0 */
  double tilt;           /* 0 to pi/2 */
  double plan_depth;     /* W, from the lower to the upper edge in plan, > 0 */
};
struct sl_rain_on_snow_out {
  double surcharge;      /* per horizontal area; 0 where it does not count */
  double steep_from;     /* tilt from which rain runs off */
};
enum sl_status sl_rain_on_snow(const struct sl_rain_on_snow_in *in, struct sl_rain_on_snow_out *out,
                               struct sl_sheet *sh);

/* The pile below the lower edge when all the snow of a design load has slid: a ridge as long as the row. */
struct sl_snow_pile_in {
  double load;           /* per horizontal area, >= 0 */
  double plan_depth;     /* of the modules, > 0 */
  double density;        /* of the pile, > 0 */
  double repose;         /* of its sides, from level, between 0 and pi/2 */
  bool banked;           /* it cannot spread under the rack: one side only */
};
struct sl_snow_pile_out {
  double area;           /* of its section across the row */
  double height;         /* above what it falls on */
  double width;          /* of its foot */
};
enum sl_status sl_snow_pile(const struct sl_snow_pile_in *in, struct sl_snow_pile_out *out, struct sl_sheet *sh);

/* A layer of ice on the modules. */
struct sl_ice_load_in { double thickness, density; };   /* >= 0; > 0 */
struct sl_ice_load_out { double pressure; };            /* weight per area of module */
enum sl_status sl_ice_load(const struct sl_ice_load_in *in, struct sl_ice_load_out *out, struct sl_sheet *sh);

#endif
