/* SPDX-License-Identifier: MIT
 * What acts square to a slope of modules, weight, snow and wind together; what lifts a piece of it off what it lies on
 * and slides it along; what the wind pushes along a row that slopes; and how much of the slope a rail carries.  SI: Pa,
 * N, m, rad. */
#ifndef STRINGLINE_SLOPE_LOADS_H
#define STRINGLINE_SLOPE_LOADS_H

#include "stringline/combine.h"

/* All allowable combinations, with the wind that presses and with that which lifts. */
struct sl_slope_loads_in {
  double tilt;                          /* 0 to less than 90 deg */
  double area;                          /* of slope that the weights are of, > 0 */
  double weight;                        /* all that presses with it, >= 0 */
  double weight_least;                  /* what of it holds down against lift, >= 0, at most the weight */
  double snow;                          /* for each area of plan, >= 0 */
  double push, lift;                    /* most that the wind presses and lifts there, strength level; lift > 0 lifts */
  char edition[SL_EDITION_NAME];
};
struct sl_slope_load {                  /* the most of either sign that lasts so long */
  int duration;                         /* enum sl_lasting */
  double load;                          /* > 0 presses */
  char combination[SL_COMBINATION_NAME];
};
struct sl_slope_snowed {                /* of a combination with snow, the wind pressing */
  int duration;
  double others, snow;                  /* all else; the snow, where it lies whole, > 0 */
  char combination[SL_COMBINATION_NAME];
};
struct sl_slope_loads_out {
  double press, lift;                   /* the most of each; less than 0: nothing does */
  char press_combination[SL_COMBINATION_NAME], lift_combination[SL_COMBINATION_NAME];
  const struct sl_slope_load *lasting; size_t nlasting;   /* from the longest duration on */
  const struct sl_slope_snowed *snowed; size_t nsnowed;   /* none where no snow lies */
};
size_t sl_slope_loads_need(const struct sl_slope_loads_in *in);
enum sl_status sl_slope_loads(const struct sl_slope_loads_in *in, struct sl_slope_loads_out *out,
                              struct sl_space space, struct sl_sheet *sh);

/* The same of what one crossing of a rail and a rafter carries, and along the slope beside it: under each allowable
 * combination with the wind that lifts, with that which presses, and with the least wind up and down the slope, which
 * acts on what is seen of the slope from the front, level. */
enum sl_crossing_wind { SL_NO_WIND, SL_WIND_LIFTS, SL_WIND_PRESSES, SL_LEAST_UP, SL_LEAST_DOWN };
extern const char *const sl_crossing_winds[];
struct sl_crossing_loads_in {
  double tilt;                          /* 0 to less than 90 deg */
  double area;                          /* of slope that the weights are of, > 0 */
  double weight;                        /* all that presses with it, and slides down the slope, >= 0 */
  double weight_least;                  /* what of it holds down against lift, >= 0, at most the weight */
  double snow;                          /* for each area of plan, >= 0 */
  double push, lift;                    /* most that the wind presses and lifts there, strength level; lift > 0 lifts */
  double least;                         /* least wind on what is seen from the front, strength level, >= 0 */
  double carried;                       /* area of slope that the crossing carries, > 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_crossing_load {
  int duration;                         /* enum sl_lasting */
  int wind;                             /* enum sl_crossing_wind */
  double lift;                          /* N, square to the slope, allowable; < 0 presses */
  double along;                         /* N, > 0 down the slope */
  char combination[SL_COMBINATION_NAME];
};
struct sl_crossing_loads_out { const struct sl_crossing_load *rows; size_t nrows; };
size_t sl_crossing_loads_need(const struct sl_crossing_loads_in *in);
enum sl_status sl_crossing_loads(const struct sl_crossing_loads_in *in, struct sl_crossing_loads_out *out,
                                 struct sl_space space, struct sl_sheet *sh);

/* The wind on the modules of a row that slopes, square to them: what of it goes along the row. */
struct sl_slant_case { double low, high; };               /* at the lower and the upper edge; > 0 presses */
struct sl_slant_wind_in {
  const struct sl_slant_case *winds; size_t nwinds;       /* 1 to 1000 */
  double slope_length, length;          /* up the modules and along the row, > 0 */
  double rise;                          /* of the row for its length in plan, either way */
  double tilt;                          /* 0 to less than 90 deg */
};
struct sl_slant_wind_out { double square, along; };       /* N, the most of any case */
enum sl_status sl_slant_wind(const struct sl_slant_wind_in *in, struct sl_slant_wind_out *out, struct sl_sheet *sh);

/* Of rows of modules one above the other, each as long up the slope, on rails at such places: what the most loaded rail
 * carries of the slope.  A module on two rails lies on them as a beam, on one whole, on more by halves of what is
 * between them.  Rails under no module carry nothing. */
struct sl_rail_share_in {
  double side;                          /* of a module up the slope, > 0 */
  int rows;                             /* 1 to 100 */
  double row_gap;                       /* >= 0 */
  const double *rails; size_t nrails;   /* places from the lower edge, rising, 1 to 1000 */
};
struct sl_rail_share_out { double height; };
enum sl_status sl_rail_share(const struct sl_rail_share_in *in, struct sl_rail_share_out *out, struct sl_sheet *sh);

#endif
