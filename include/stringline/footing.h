/* SPDX-License-Identifier: MIT
 * Posts in the ground: how much concrete, sizes, weights and soils out of tables; how deep is in ground.h.
 * SI: m, N, Pa, Pa/m, kg.  Uplift is at allowable (ASD) level: see sl_allowable_wind. */
#ifndef STRINGLINE_FOOTING_H
#define STRINGLINE_FOOTING_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* Allowable-level part of a strength-level wind force, and what of a weight counts against it: 0.6D + 0.6W. */
struct sl_allowable_wind_in { double wind; char edition[SL_EDITION_NAME]; };   /* >= 0; "ASCE 7-16" */
struct sl_allowable_wind_out { double force, factor, dead; };     /* N; on the wind; on a weight */
enum sl_status sl_allowable_wind(const struct sl_allowable_wind_in *in, struct sl_allowable_wind_out *out,
                                 struct sl_sheet *sh);

/* Concrete around a post that stands on gravel. */
struct sl_pier_in {
  double hole_diameter, hole_depth, gravel;   /* > 0; > 0; >= 0 and less than the hole is deep */
  double post_width;     /* side of the square post, >= 0 (0: no post), diagonal within the hole */
  double waste;          /* ratio, >= 0 */
  bool round;            /* the post: post_width is its diameter, outside; a pipe counts as full */
  double bell_concrete, bell_earth;           /* of a bell, beyond the shaft, as sl_bell has it; >= 0, NAN: none */
};
struct sl_pier_out {
  double concrete, ordered;                   /* net of the post; with waste */
  double post_volume;                         /* of the post in it */
  double earth;                               /* out of the hole */
  double weight_light, weight_heavy;          /* of the net concrete: counted against uplift; pressing on the soil */
};
enum sl_status sl_pier(const struct sl_pier_in *in, struct sl_pier_out *out, struct sl_sheet *sh);

/* A hole that widens at its foot: a frustum whose sides stand as steep as bells are commonly cut, from the width at the
 * base up to the hole's own; the gravel lies under it as wide as its base. */
struct sl_bell_in {
  double hole_diameter;  /* > 0 */
  double bell;           /* width at the base, > hole_diameter */
  double hole_depth, gravel;                  /* as in sl_pier_in; the concrete must be taller than the bell */
};
struct sl_bell_out { double height, concrete, earth; };           /* volumes: what it has beyond the shaft */
enum sl_status sl_bell(const struct sl_bell_in *in, struct sl_bell_out *out, struct sl_sheet *sh);

/* What one bag of concrete mix fills. */
struct sl_bag_yield_in { double bag_mass; };                      /* one of the table concrete_bags */
struct sl_bag_yield_out { double yield; };                        /* volume */
enum sl_status sl_bag_yield(const struct sl_bag_yield_in *in, struct sl_bag_yield_out *out, struct sl_sheet *sh);

/* Bags that are opened for one hole. */
struct sl_bags_in { double concrete, yield; };                    /* > 0, with waste; > 0, of one bag */
struct sl_bags_out { double bags_exact; int bags; };              /* rounded up */
enum sl_status sl_bags(const struct sl_bags_in *in, struct sl_bags_out *out, struct sl_sheet *sh);

/* Narrowest hole that a post is plumbed in, with room for concrete. */
struct sl_hole_in { double post_width; bool round; };             /* side, or diameter of a round one, > 0 */
struct sl_hole_out { double least; };                             /* diameter */
enum sl_status sl_hole(const struct sl_hole_in *in, struct sl_hole_out *out, struct sl_sheet *sh);

/* Dressed size of sawn lumber: of a product standard, whatever code is in force. */
struct sl_dressed_in { char section[16]; };                       /* "6x6", "2x8" */
struct sl_dressed_out { double breadth, depth; };
enum sl_status sl_dressed(const struct sl_dressed_in *in, struct sl_dressed_out *out, struct sl_sheet *sh);

/* A piece of sawn lumber: dressed size, volume, and its weight bone dry (for uplift) and freshly treated (to lift). */
struct sl_lumber_in {
  char section[16];      /* "6x6", "2x8" */
  double length;         /* > 0 */
  char species[32];      /* "" is Southern Pine */
  char edition[SL_EDITION_NAME];   /* "NDS 2018" */
};
struct sl_lumber_out { double breadth, depth, volume, weight_light, weight_heavy; };
enum sl_status sl_lumber(const struct sl_lumber_in *in, struct sl_lumber_out *out, struct sl_sheet *sh);

/* Presumptive bearing of IBC Table 1806.2.  The class in the table's own word ("gravel") or in that of a job ("sandy
 * gravel"). */
struct sl_soil_in { char soil_class[24]; char edition[SL_EDITION_NAME]; };
struct sl_soil_out { double lateral, vertical; };                 /* Pa per m of depth; Pa */
enum sl_status sl_soil(const struct sl_soil_in *in, struct sl_soil_out *out, struct sl_sheet *sh);

/* Diameters of augers that are commonly had, smallest first. */
struct sl_augers_in { double least; };                            /* NAN: all */
struct sl_augers_out { const double *diameters; size_t count; };
size_t sl_augers_need(const struct sl_augers_in *in);
enum sl_status sl_augers(const struct sl_augers_in *in, struct sl_augers_out *out, struct sl_space space,
                         struct sl_sheet *sh);

#endif
