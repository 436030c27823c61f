/* SPDX-License-Identifier: MIT
 * What the ground does for a post or pier: depth with the top of the soil left out, bearing below, friction beside,
 * soil above a bell, sliding, and how far apart.  SI: m, N, Pa, Pa/m.  All at allowable level.
 *
 * Soil is given by its class in IBC Table 1806.2, as sl_soil takes it, or by an allowable value of a report. */
#ifndef STRINGLINE_GROUND_H
#define STRINGLINE_GROUND_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* Depth of a post in soil: of one that nothing restrains at grade (IBC 1807.3.2.1), solved so that S1 belongs to the
 * depth found, or of one that is held there.  Soil on top that freezes, topsoil and fill may not count: the force then
 * acts that much higher above the soil that does.
 *
 * Many offices take S1 at the depth provided instead: what is needed then is no more than that exactly when the solved
 * depth is not, but the number differs.
 *
 * Two readings of how far down pressure grows are both given.  The text caps the depth that is put into S: min(d/3, 12
 * ft) or min(d, 12 ft).  An older one caps d before it is divided: 4 ft at most.  Of a post that is held at grade
 * they are one. */
struct sl_embed_neglecting_in {
  double lateral;        /* P at allowable level, > 0 */
  double height;         /* of P above grade, >= 0; > 0 where the post is held */
  double width;          /* diameter of the concrete or post; side of a square one, > 0 */
  bool square;           /* that stands in the soil as it is: its diagonal counts.  False in round concrete */
  double bearing;        /* allowable lateral bearing per depth, > 0 */
  bool isolated;         /* 1806.3.4: stands alone, 1/2 in at the ground does no harm, short-term load: doubled */
  bool held;             /* at grade by a rigid slab or pavement (1807.3.2.2); soil is no restraint */
  double neglect;        /* depth of the soil that does not count, >= 0 */
  bool from_grade;       /* pressure grows from grade (soil on top is weight still), else from where soil counts */
  double provided;       /* depth below grade at which S is taken, > neglect, and not from_grade if neglect > 0;
                          * NAN: at the depth found */
  char edition[SL_EDITION_NAME];   /* "IBC 2021" */
};
struct sl_embed_neglecting_out {
  double depth;          /* least embedment below grade */
  double counted;        /* of it in soil that counts */
  double pressure;       /* S1, or S3 */
  double strict;         /* least embedment by the older reading, >= depth */
  double a;              /* A of the formula; NAN where the post is held */
};
enum sl_status sl_embed_neglecting(const struct sl_embed_neglecting_in *in, struct sl_embed_neglecting_out *out,
                                   struct sl_sheet *sh);

/* What presses on the soil below a pier, or a post without one, against its vertical bearing (1807.3.2.3): friction
 * beside is not counted, and neither width nor depth makes it more. */
struct sl_soil_bearing_in {
  double pressed;        /* by the post, allowable level, >= 0 */
  double weight;         /* of post and concrete below grade, >= 0 */
  double width;          /* of the base: diameter, or side of a square one, > 0 */
  bool square;
  char soil_class[24];   /* "": by `vertical` */
  double vertical;       /* allowable vertical bearing of a report, > 0; NAN: by the class */
  char edition[SL_EDITION_NAME];
};
struct sl_soil_bearing_out { double area, pressure, allowable, capacity, ratio; };   /* holds at ratio <= 1 */
enum sl_status sl_soil_bearing(const struct sl_soil_bearing_in *in, struct sl_soil_bearing_out *out,
                               struct sl_sheet *sh);

/* Allowable friction of the soil along a pier or post (1810.3.3.1.4), from where soil counts to its foot. */
struct sl_friction_hold_in {
  double width;          /* diameter, or side of a square post, > 0 */
  bool square;
  double depth;          /* of its foot, > neglect */
  double neglect;        /* depth of the soil that does not count: what freezes; >= 0 */
  char soil_class[24];
  double vertical;
  char edition[SL_EDITION_NAME];
};
struct sl_friction_hold_out { double friction, force; };          /* allowable: per area; in all */
enum sl_status sl_friction_hold(const struct sl_friction_hold_in *in, struct sl_friction_hold_out *out,
                                struct sl_sheet *sh);

/* Weight of the cone of soil above a bell, from its base up to where soil counts; below water less what it displaces.
 * The soil straight above the bell is not counted: of the cone the cylinder of its base is taken off. */
enum sl_firmness { SL_GOOD_GRANULAR, SL_LOOSE_OR_WET };
extern const char *const sl_firmnesses[];
struct sl_bell_hold_in {
  double width;          /* diameter of the bell at its base, > 0 */
  double depth;          /* of the base, > neglect */
  double neglect;        /* >= 0 */
  double angle;          /* of the cone off plumb, >= 0, as wide as the soil allows at most */
  int firmness;          /* enum sl_firmness.  Soil that stands in water above the base is wet whatever this says */
  double dry_to;         /* depth of the highest water, >= 0; NAN: none down to the base */
};
struct sl_bell_hold_out { double volume, weight; };
enum sl_status sl_bell_hold(const struct sl_bell_hold_in *in, struct sl_bell_hold_out *out, struct sl_sheet *sh);

/* What resists sliding on the ground (Table 1806.2): friction times what presses, or adhesion times the area of contact
 * with a part of the dead load at most.  NAN for the other one. */
struct sl_soil_sliding_in { char soil_class[24]; char edition[SL_EDITION_NAME]; };
struct sl_soil_sliding_out { double friction, adhesion, most; };  /* 1; Pa; 1 */
enum sl_status sl_soil_sliding(const struct sl_soil_sliding_in *in, struct sl_soil_sliding_out *out,
                               struct sl_sheet *sh);

/* How far apart, middle to middle, piers stand that do not work as a group.  Nearer ones are refused: what a group
 * loses is not held here. */
struct sl_pier_spacing_in {
  double diameter;       /* of the pier, its bell or collar, > 0 */
  double post_width;     /* > 0; NAN: not asked */
  double spacing;        /* > 0; NAN: only the least is asked */
};
struct sl_pier_spacing_out { double least; };
enum sl_status sl_pier_spacing(const struct sl_pier_spacing_in *in, struct sl_pier_spacing_out *out,
                               struct sl_sheet *sh);

/* The two of many piers that stand nearest for their widths: least over what there is between them is most.  Asked of
 * one rack: at least one of the two is of it. */
struct sl_pier_at { double east, north, diameter, post_width; int rack; };   /* as in sl_pier_spacing */
struct sl_piers_apart_in { const struct sl_pier_at *piers; size_t n; int of; };
struct sl_piers_apart_out {
  int first, second;     /* rows, from 1 */
  double spacing;        /* middle to middle */
  double least;          /* of those two */
};
enum sl_status sl_piers_apart(const struct sl_piers_apart_in *in, struct sl_piers_apart_out *out, struct sl_sheet *sh);

#endif
