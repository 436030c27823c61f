/* SPDX-License-Identifier: MIT
 * Velocity pressure of the wind by ASCE 7.  SI: m, m/s, Pa; at strength level, as the speeds of the maps are.
 *
 * What it does to a rack is in wind_faces.h.  Not held: the method of ASCE 7-22 29.4.5. */
#ifndef STRINGLINE_WIND_H
#define STRINGLINE_WIND_H

#include "stringline/asce7.h"
#include "stringline/sheet.h"

struct sl_velocity_pressure_in {
  double speed;          /* basic wind speed of the map for the risk category, > 0 */
  char edition[SL_EDITION_NAME];   /* "ASCE 7-16" */
  int exposure;          /* enum sl_exposure */
  double height;         /* mean height above ground, >= 0; below 15 ft the value at 15 ft stands */
  double elevation;      /* of the ground above sea level */
  double topographic;    /* Kzt, >= 1; 1 on flat ground */
};
struct sl_velocity_pressure_out {
  double kz, ke;
  double pressure;       /* q WITHOUT Kd, in both editions */
};
enum sl_status sl_velocity_pressure(const struct sl_velocity_pressure_in *in, struct sl_velocity_pressure_out *out,
                                    struct sl_sheet *sh);

#endif
