/* SPDX-License-Identifier: MIT
 * Wind on an open rack by the directional method: ASCE 7 velocity pressure and the monoslope free roof.
 * SI: m, m/s, Pa, N, rad.  All forces and pressures are at strength level, as the speeds of the maps are.
 *
 * The other wind pressures are in wind_faces.h.  Not held: the method of ASCE 7-22 29.4.5. */
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

enum sl_flow { SL_FLOW_CLEAR, SL_FLOW_OBSTRUCTED };   /* at most half of the opening under the rack blocked; more */
extern const char *const sl_flows[];

/* Forces on one front and one back post, the largest of four cases: A and B, each with the high edge and with the low
 * edge to the wind.  Each post takes the horizontal part of its own reaction, but not less than its share of the least
 * wind of 27.1.5: no brace between the lines is counted. */
struct sl_rack_wind_in {
  double velocity_pressure;   /* without Kd, > 0 */
  double tilt;                /* 0 to 45 deg */
  double slope_length;        /* > 0 */
  double mean_height;         /* above ground; 0.25 to 1.0 of the plan depth of the slope */
  int flow;                   /* enum sl_flow */
  double front, back;         /* lines of posts, fraction of the slope from the lower edge; 0 <= front < back <= 1 */
  double tributary;           /* length of row that the post carries, > 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_rack_wind_out {
  double front_uplift, front_down, front_lateral;   /* >= 0 */
  double back_uplift, back_down, back_lateral;
  double peak_uplift, peak_down;                    /* net pressure on a half panel, >= 0 */
  /* What governs each: "B, high edge" is the case and the edge to the wind, "least wind" 27.1.5; "none": no force. */
  char front_uplift_case[16], front_down_case[16], front_lateral_case[16];
  char back_uplift_case[16], back_down_case[16], back_lateral_case[16];
  char peak_uplift_case[16], peak_down_case[16];
};
enum sl_status sl_rack_wind(const struct sl_rack_wind_in *in, struct sl_rack_wind_out *out, struct sl_sheet *sh);

#endif
