/* SPDX-License-Identifier: MIT
 * Members of sawn lumber by allowable stress design, or by strength (load and resistance factor design): reference
 * values, their factors, and how far a member is used.  SI: m, N, N m, Pa.  Forces are at the level of the method, of
 * one combination with its own load duration; at strength level that of the load that leads it.
 *
 * Held: sawn lumber of the table of dressed sizes, bent about one axis or both.  Not held, and so taken on the safe
 * side or refused: incising factors (refused), impact (no duration here), the flat-use factor and the size factor of
 * tension of dimension lumber (both 1 or more for these sizes, taken as 1), the flat-use factor of timbers (refused
 * unless square), the bearing area factor (taken as 1), notches, and sustained heat above 100 degF. */
#ifndef STRINGLINE_TIMBER_H
#define STRINGLINE_TIMBER_H

#include <stdbool.h>
#include "stringline/combine.h"

/* Column stability of sawn lumber: how much of the crushing stress a slender member keeps. */
struct sl_column_stability_in {
  double crushing;       /* Fc with all factors but CP, > 0 */
  double stiffness;      /* Emin with its factors, > 0 */
  double slenderness;    /* effective length over the side that buckles, > 0, to 50 */
  char edition[SL_EDITION_NAME];   /* "NDS 2018" */
};
struct sl_column_stability_out { double buckling, factor; };      /* FcE; CP */
enum sl_status sl_column_stability(const struct sl_column_stability_in *in, struct sl_column_stability_out *out,
                                   struct sl_sheet *sh);

enum sl_duration { SL_PERMANENT, SL_TEN_YEARS, SL_TWO_MONTHS, SL_SEVEN_DAYS, SL_TEN_MINUTES };
extern const char *const sl_durations[];

struct sl_timber_in {
  char section[16];      /* "6x6" */
  char species[32];      /* "Southern Pine" */
  char grade[16];        /* "No.2" */
  char edition[SL_EDITION_NAME];   /* "NDS 2018" */
  int duration;          /* enum sl_duration: of the shortest load of the combination, or of its leading one */
  int method;            /* enum sl_method */
  bool wet;              /* moisture above 19 % in service: posts in the ground */
  bool incised;          /* refused: no factor is kept */
  bool on_flat;          /* bent about the weak axis */
  bool repetitive;       /* dimension lumber, one of three or more joined so that they share */
  double moment, shear;  /* >= 0 */
  double moment_weak;    /* about the weak axis besides, >= 0, not with on_flat; NAN: none */
  double axial;          /* compression above 0, tension below */
  double unbraced;       /* EFFECTIVE length of the beam against rolling over, > 0; NAN: held all along */
  double length_strong, length_weak;   /* effective lengths of buckling about either axis, > 0; both or none (NAN) */
  double bearing, bearing_length;      /* force across the grain and what it rests on, both or none (NAN) */
};
struct sl_timber_out {
  double bending, compression, tension, shear, bearing;    /* Fb', Fc', Ft', Fv', Fc_perp'; Fc' with CP if asked */
  double stiffness;                                        /* E' */
  double beam_stability, column_stability;                 /* CL, CP; NAN: no lengths given */
  double used_bending, used_axial, used_combined, used_shear;
  double used_bearing;                                     /* NAN: no bearing given */
  double worst;                                            /* the largest; holds to 1 */
  char governs[20];                                        /* "bending", "compression", "none" */
};
enum sl_status sl_timber(const struct sl_timber_in *in, struct sl_timber_out *out, struct sl_sheet *sh);

#endif
