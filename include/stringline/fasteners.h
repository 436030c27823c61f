/* SPDX-License-Identifier: MIT
 * Fasteners in wood by allowable stress design: lag screws and wood screws that are pulled, bolts and screws that are
 * loaded sideways, their distances, several in a row, both loads together.  SI: m, N, Pa, rad.
 *
 * Held: sawn lumber, fasteners across or along the fibers, temperatures to 100 degF, bolts to 1 in, lag screws 1/4 to
 * 3/4 in, wood screws No. 8 to 14.  Not held: load and resistance factor design, nails, glued timber, panels, concrete,
 * toe-nails and diaphragms, fasteners loaded at an angle to their axis; the strength of a bolt's own steel (bolts.h),
 * of a screw's, of the plate and of net sections (joints.h), of what tears out between fasteners (tearing.h); lead
 * holes.
 * Lengths of bearing go by the root of the thread, and all of a screw in bearing is taken as thread: on the safe
 * side. */
#ifndef STRINGLINE_FASTENERS_H
#define STRINGLINE_FASTENERS_H

#include <stdbool.h>
#include "stringline/timber.h"

enum sl_fastener { SL_BOLT, SL_LAG_SCREW, SL_WOOD_SCREW };
extern const char *const sl_fasteners[];
/* Wet: moisture above 19 % in service; dried: above it when built, below it in service. */
enum sl_moisture { SL_DRY, SL_WET, SL_DRIED };
extern const char *const sl_moistures[];

/* A lag screw or wood screw that is pulled along its axis.  Wood by its species or by its specific gravity. */
struct sl_screw_withdrawal_in {
  int kind;              /* enum sl_fastener; bolts are refused */
  char size[8];          /* "3/8", "No. 10" */
  char species[32];      /* of what holds the thread; "" with a gravity */
  double gravity;        /* oven-dry specific gravity; NAN with a species */
  double length;         /* of the screw under its head, with its tip, > 0 */
  double thread;         /* of it with the tip, > 0; NAN: the least that the size table has for the length */
  double side, washer;   /* thickness of what it passes through, >= 0; NAN: none */
  double depth;          /* of the wood that holds the thread, > 0; NAN: deeper than the screw */
  int duration;          /* enum sl_duration */
  int moisture;          /* enum sl_moisture */
  bool end_grain;        /* into the end of the member: lag screws alone */
  char edition[SL_EDITION_NAME];
};
struct sl_screw_withdrawal_out {
  double thread_in;      /* thread in the wood without the tip */
  double per_length;     /* N/m of thread, reference */
  double reference;      /* W p */
  double adjusted;       /* W' p */
};
enum sl_status sl_screw_withdrawal(const struct sl_screw_withdrawal_in *in, struct sl_screw_withdrawal_out *out,
                                   struct sl_sheet *sh);

/* A screw that is pulled and loaded sideways at once. */
struct sl_screw_combined_in {
  double lateral_allowed, withdrawal_allowed;          /* Z', W' p, > 0 */
  double lateral, withdrawal;                          /* loads, >= 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_screw_combined_out { double angle, load, allowed, used; };   /* from the wood's surface */
enum sl_status sl_screw_combined(const struct sl_screw_combined_in *in, struct sl_screw_combined_out *out,
                                 struct sl_sheet *sh);

/* One fastener loaded across its axis, in one or two planes of shear.  In two, both side members are alike. */
struct sl_dowel_yield_in {
  int kind;              /* enum sl_fastener */
  char size[8];
  bool two_planes;       /* double shear */
  char main_species[32]; /* of what holds the point; in two planes of what lies in the middle */
  double main_gravity;   /* NAN with a species */
  double main_thickness, side_thickness;               /* > 0, along the fastener */
  double main_angle;     /* of the load to the grain, 0 to 90 deg */
  char side_species[32]; /* "" with a gravity or a plate */
  double side_gravity;   /* NAN with a species or a plate */
  double side_angle;     /* NAN with a plate */
  char plate[16];        /* steel of the side plates, "A36"; "" for wood */
  double length;         /* of a screw under its head, with its tip; NAN for a bolt */
  double washer;         /* under a screw's head; NAN: none */
  bool end_grain;        /* the fastener lies along the fibers of the main member */
  int duration, moisture;
  bool one_row;          /* a fastener alone, or one row along the grain */
  double group;          /* factor Cg of the row, above 0 to 1; NAN: 1 */
  double geometry;       /* factor of distances, 0 to 1; NAN: 1 */
  char edition[SL_EDITION_NAME];
};
struct sl_dowel_yield_out {
  double main_bearing, side_bearing;                   /* Fem, Fes, Pa */
  double main_length, side_length;                     /* of bearing, m */
  double mode_Im, mode_Is, mode_IIIs, mode_IV;         /* N */
  double mode_II, mode_IIIm;                           /* NAN in two planes */
  double reference, adjusted;                          /* Z, Z' */
  char governs[8];                                     /* "IIIs" */
};
enum sl_status sl_dowel_yield(const struct sl_dowel_yield_in *in, struct sl_dowel_yield_out *out, struct sl_sheet *sh);

/* How fasteners from 1/4 in on are loaded in a member: along its grain towards the nearest end, or away from it; across
 * it; or pulled alone. */
enum sl_fastener_load { SL_TOWARDS_END, SL_AWAY_FROM_END, SL_ACROSS_GRAIN, SL_IN_WITHDRAWAL };
extern const char *const sl_fastener_loads[];

/* Distances of bolts and lag screws in solid softwood.  What is not said (NAN) is not judged.  A factor of 0: nearer
 * than the least, no load stands. */
struct sl_dowel_spacing_in {
  int kind;
  char size[8];
  int load;                                            /* enum sl_fastener_load */
  double main_bearing, side_bearing;   /* lengths in wood, both sides together; NAN: withdrawal; steel at the side */
  double to_end, spacing;                              /* along the grain; in a row along the load */
  double to_edge, to_other_edge;       /* the nearest; across the grain that which is pressed, and the other */
  double row_spacing;
  char edition[SL_EDITION_NAME];
};
struct sl_dowel_spacing_out {
  double end_least, end_full, spacing_least, spacing_full, edge_least, rows_least;
  double unloaded_edge_least;                          /* NAN unless across the grain */
  double outermost_most;                               /* across the grain, where no room is left for shrinkage */
  double factor;                                       /* C_delta; 0: too near */
  char governs[16];                                    /* "end", "spacing", "edge", "unloaded edge", "rows", "none" */
};
enum sl_status sl_dowel_spacing(const struct sl_dowel_spacing_in *in, struct sl_dowel_spacing_out *out,
                                struct sl_sheet *sh);

/* Several fasteners in a row along the load.  Where that is across the grain of a member, its section is its thickness
 * times the width of the group, of one row times the least spacing along the grain. */
struct sl_group_action_in {
  int kind;
  char size[8];
  int count;                                           /* in one row, 1 to 1000 */
  double spacing;                                      /* in the row, > 0 */
  double main_area, side_area;                         /* gross sections, > 0; of both sides together */
  double main_modulus;                                 /* E, > 0 */
  double side_modulus;                                 /* NAN: side plates of steel */
  char edition[SL_EDITION_NAME];
};
struct sl_group_action_out { double slip, factor; };   /* load per slip, N/m; Cg */
enum sl_status sl_group_action(const struct sl_group_action_in *in, struct sl_group_action_out *out,
                               struct sl_sheet *sh);

#endif
