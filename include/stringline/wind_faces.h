/* SPDX-License-Identifier: MIT
 * Wind on the faces of a rack, and over hills.  SI: m, Pa, rad.  Pressures are at strength level, net and normal to
 * the face: plus pushes down on the modules, minus lifts them.  Kd stands apart from the velocity pressure: ASCE 7-16
 * prints it in q, 7-22 in p, and the product is the same. */
#ifndef STRINGLINE_WIND_FACES_H
#define STRINGLINE_WIND_FACES_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* Kzt.  Where a hill stands free enough to count (26.8.1) is not judged here. */
enum sl_hill { SL_RIDGE, SL_ESCARPMENT, SL_HILL };
extern const char *const sl_hills[];
struct sl_topographic_in {
  int shape;             /* enum sl_hill */
  double height;         /* H, of the hill, >= 0 */
  double half_length;    /* Lh, from the crest upwind to half of the height, > 0 */
  double distance;       /* from the crest, >= 0 */
  bool downwind;         /* of the crest; else upwind */
  double above_ground;   /* z, >= 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_topographic_out { double kzt, k1, k2, k3; };   /* where the hill is too flat to count: 1, 0, 0, 0 */
enum sl_status sl_topographic(const struct sl_topographic_in *in, struct sl_topographic_out *out, struct sl_sheet *sh);

enum sl_flow { SL_FLOW_CLEAR, SL_FLOW_OBSTRUCTED };   /* at most half of the opening under the rack blocked; more */
extern const char *const sl_flows[];

/* The eight cases of the monoslope free roof, by half of the slope: flow clear, then obstructed; in each A high, B
 * high, A low, B low. */
struct sl_roof_wind_in {
  double velocity_pressure;   /* without Kd, > 0 */
  double tilt;                /* 0 to 45 deg */
  double slope_length;        /* > 0 */
  double mean_height;         /* 0.25 to 1.0 of the plan depth of the slope.  Lower and below 5 deg: sl_along_wind */
  char edition[SL_EDITION_NAME];
};
struct sl_roof_case {
  double letter;              /* 1 A, 2 B */
  double to_wind;             /* 1 the high edge, 2 the low edge */
  double flow;                /* 1 clear, 2 obstructed */
  double low, high;           /* on the lower and on the upper half */
};
struct sl_roof_wind_out {
  double peak_up, peak_down;  /* >= 0 */
  double least;               /* 27.1.5, on the area seen from the front */
  const struct sl_roof_case *cases; size_t ncases;
};
size_t sl_roof_wind_need(const struct sl_roof_wind_in *in);
enum sl_status sl_roof_wind(const struct sl_roof_wind_in *in, struct sl_roof_wind_out *out, struct sl_space space,
                            struct sl_sheet *sh);

/* Wind along the row: zones from the windward end.  The figure's note has roofs below 5 deg with h/L from 0.05 to 0.25
 * by it in both directions: `length` is their plan depth then. */
struct sl_along_wind_in {
  double velocity_pressure;   /* without Kd, > 0 */
  double tilt;                /* 0 to 45 deg */
  double mean_height;         /* > 0 */
  double length;              /* of the row, > 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_along_zone { double letter, flow, from, to, pressure; };
struct sl_along_wind_out {
  double peak_up, peak_down;
  const struct sl_along_zone *zones; size_t nzones;   /* flow clear A, B, then obstructed A, B */
};
size_t sl_along_wind_need(const struct sl_along_wind_in *in);
enum sl_status sl_along_wind(const struct sl_along_wind_in *in, struct sl_along_wind_out *out, struct sl_space space,
                             struct sl_sheet *sh);

/* A face steeper than 45 deg as a solid freestanding sign.  Every pressure acts either way. */
struct sl_sign_wind_in {
  double velocity_pressure;   /* without Kd, at the upper edge, > 0 */
  double tilt;                /* above 45 to 90 deg */
  double slope_length;        /* > 0 */
  double row_width;           /* B, > 0 */
  double top;                 /* h, of the upper edge above the ground */
  char edition[SL_EDITION_NAME];
};
struct sl_sign_strip { double from, to, pressure; };   /* case C, from the windward end */
struct sl_sign_wind_out {
  double cf;
  double pressure;            /* cases A and B, over the whole face */
  double offset;              /* case B: of the force from the middle, along the row, to either side */
  double raise;               /* of the force above the middle of a face that reaches the ground; else 0 */
  const struct sl_sign_strip *strips; size_t nstrips;  /* none where B/s is less than 2 */
};
size_t sl_sign_wind_need(const struct sl_sign_wind_in *in);
enum sl_status sl_sign_wind(const struct sl_sign_wind_in *in, struct sl_sign_wind_out *out, struct sl_space space,
                            struct sl_sheet *sh);

/* Components: what an area of modules, clamps or a rail's end carries; clear and obstructed flow together. */
struct sl_module_wind_in {
  double velocity_pressure;   /* without Kd, > 0 */
  double tilt;                /* 0 to 45 deg */
  double slope_length, row_width;   /* > 0 */
  double mean_height;         /* 0.25 to 1.0 of the plan depth of the slope */
  double area;                /* effective, > 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_wind_zone { double zone, lift, push; };      /* 3 corners, 2 edges, 1 field; lift and push >= 0 */
struct sl_module_wind_out {
  double width;               /* a, of a zone */
  const struct sl_wind_zone *zones; size_t nzones;
};
size_t sl_module_wind_need(const struct sl_module_wind_in *in);
enum sl_status sl_module_wind(const struct sl_module_wind_in *in, struct sl_module_wind_out *out,
                              struct sl_space space, struct sl_sheet *sh);

#endif
