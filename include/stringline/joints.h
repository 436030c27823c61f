/* SPDX-License-Identifier: MIT
 * What holds in a joint besides its fasteners: wood under the heads of screws and the washers of
 * bolts, wood at bolt holes, plates of steel, the
 * group of fasteners of a splice, the beam at that splice, what ties a post to what it stands on, and what two forces
 * are together.  Forces at allowable level.  SI: m, N, N m, N/m.
 *
 * Not held: concrete around anchors (a foot's strengths are declared), what tears out of a plate towards its edge (of
 * wood: tearing.h), plates that are bent across their face, prying, welds. */
#ifndef STRINGLINE_JOINTS_H
#define STRINGLINE_JOINTS_H

#include <stdbool.h>
#include "stringline/fasteners.h"

/* The head of a screw, or the round washer under it, pulled through the wood that it holds down.  The table ends with
 * heads of 0.5 in: what is wider counts as so wide. */
struct sl_head_pull_in {
  char species[32];      /* of that wood; "" with a gravity */
  double gravity;        /* oven-dry specific gravity; NAN with a species */
  double head;           /* diameter of head or washer, 0.234 in at least */
  double thickness;      /* of the wood under it, 5/16 in at least */
  int duration, moisture;              /* enum sl_duration, sl_moisture */
  char edition[SL_EDITION_NAME];
};
struct sl_head_pull_out { double reference, adjusted; };               /* WH, WH' */
enum sl_status sl_head_pull(const struct sl_head_pull_in *in, struct sl_head_pull_out *out, struct sl_sheet *sh);

/* The washer of a bolt, round, that is pressed on wood across its grain; so stiff that all of it presses, but for what
 * reaches beyond the wood: it counts as no wider than that. */
struct sl_washer_press_in {
  char size[8];          /* of the bolt */
  double washer, width;  /* its diameter; of the wood under it: both wider than the hole */
  double stress;         /* Fc_perp' of the wood, > 0 */
  double force;          /* that presses it, >= 0 */
  char edition[SL_EDITION_NAME];
};
struct sl_washer_press_out { double area, allowed, used; };
enum sl_status sl_washer_press(const struct sl_washer_press_in *in, struct sl_washer_press_out *out,
                               struct sl_sheet *sh);

/* A member of sawn wood where fasteners go through it, bent so that its depth counts. */
struct sl_net_section_in {
  int kind;              /* enum sl_fastener */
  char size[8];
  double width, depth;   /* of the member, > 0 */
  bool upright;          /* they go through its depth, side by side; else through its width, one above the other */
  int count;             /* of them in one section, 1 to 100 */
  double to_edge;        /* from the nearest edge to the first, > 0 */
  double spacing;        /* from one to the next, > 0; NAN of one */
  char edition[SL_EDITION_NAME];
};
struct sl_net_section_out {
  double hole, area, modulus;          /* diameter; what is left */
  double area_share, modulus_share;    /* of the whole section */
};
enum sl_status sl_net_section(const struct sl_net_section_in *in, struct sl_net_section_out *out,
                              struct sl_sheet *sh);

/* Plates of steel, alike, that a joint pulls at, bends on edge and shears. */
struct sl_plate_steel_in {
  char plate[16];        /* "A36" */
  double width, thickness;             /* of each, > 0 */
  int plates;            /* 1 or 2 */
  int kind;              /* of the fasteners through it */
  char size[8];
  int holes;             /* in one section across it, 1 to 100 */
  double spacing;        /* of these, > 0; NAN of one */
  double pull, shear, moment;          /* of all plates together, >= 0 */
  double free;           /* length between fasteners over which it is bent, > 0; NAN: it is not bent */
  double bears;          /* of the fastener that presses hardest, on all plates, >= 0 */
  char edition[SL_EDITION_NAME];       /* of the wood standard, by which sizes go */
};
struct sl_plate_steel_out {
  double pull_allowed, shear_allowed, moment_allowed, bears_allowed;
  double used;                         /* 1: its strength */
};
enum sl_status sl_plate_steel(const struct sl_plate_steel_in *in, struct sl_plate_steel_out *out,
                              struct sl_sheet *sh);

/* Two forces on a joint at once, square to each other: along the grain of a member, and across it.  The grain of the
 * other member leans off that of the first, in the plane of both forces; the one across may go either way. */
struct sl_joint_force_in {
  double along, across;  /* >= 0 */
  double lean;           /* of the other member's grain, 0 to 90 deg; NAN: it is not asked */
};
struct sl_joint_force_out {
  double force;          /* both together */
  double angle;          /* of it to the grain of the first member, 0 to 90 deg */
  double leaning_angle;  /* to that of the other, the larger of both ways, 0 to 90 deg; NAN where it is not asked */
};
enum sl_status sl_joint_force(const struct sl_joint_force_in *in, struct sl_joint_force_out *out, struct sl_sheet *sh);

/* What two forces at once, square to each other, do to a member: along its grain, and across it towards one edge.  The
 * second counts along the grain only as it is given above 0, across it whichever way. */
struct sl_grain_parts_in {
  double force, beside;  /* >= 0; below 0: away from that edge */
  double angle;          /* of the first to the grain, 0 to 90 deg */
};
struct sl_grain_parts_out { double along, across; };    /* >= 0; across: 0 where it goes to the other edge */
enum sl_status sl_grain_parts(const struct sl_grain_parts_in *in, struct sl_grain_parts_out *out, struct sl_sheet *sh);

/* A beam under one load along all of it, at a place, by what its supports give. */
struct sl_beam_reaction { double at, reaction; };       /* from the left end; upward */
struct sl_beam_place_in {
  double load, at;                     /* downward; from the left end, >= 0 */
  const struct sl_beam_reaction *supports; size_t nsupports;           /* 1 to 100 */
};
struct sl_beam_place_out { double moment, shear; };     /* sagging +; the larger of both sides, >= 0 */
enum sl_status sl_beam_place(const struct sl_beam_place_in *in, struct sl_beam_place_out *out, struct sl_sheet *sh);

/* Fasteners on one side of a splice, in rows along the member, that carry shear and moment from one stick to what lies
 * over the splice. */
struct sl_splice_group_in {
  int count, rows;       /* in each row, 1 to 100; of rows, 1 to 10; two fasteners at least */
  double spacing;        /* in a row, > 0; NAN of one */
  double row_spacing;    /* from row to row, > 0; NAN of one row */
  double to_end;         /* from the member's end to the first, > 0 */
  double moment, shear;  /* of the member at the splice, >= 0 */
};
struct sl_splice_group_out {
  double arm, turning;                 /* from the splice to the group's middle; the moment about that */
  double first;                        /* moment of what lies over the splice, at the first fastener */
  double across, along, force;         /* of the one that bears most: square to the member, along it, both */
  double angle;                        /* of that force to the member's grain, 0 to 90 deg */
};
enum sl_status sl_splice_group(const struct sl_splice_group_in *in, struct sl_splice_group_out *out,
                               struct sl_sheet *sh);

/* What ties the foot of a post to a block or a screw, by declared strengths, allowable. */
struct sl_foot_tie_in {
  double lift, side, moment;           /* on it, at once, >= 0 */
  double lift_allowed, side_allowed;   /* > 0 */
  double moment_allowed;               /* > 0; NAN: a foot that turns freely */
};
struct sl_foot_tie_out { double of_lift, of_side, of_moment, used; };
enum sl_status sl_foot_tie(const struct sl_foot_tie_in *in, struct sl_foot_tie_out *out, struct sl_sheet *sh);

#endif
