/* SPDX-License-Identifier: MIT
 * Where racks stand: plan coordinates from a corner, racks beside and behind each other, and the ways between them.
 * Lengths in m, east and north of the zero of the coordinates; angles in rad, clockwise from true north.  A rack is
 * known by its west corner, the end of its lower edge from which its row is counted: the west end, and where the row
 * runs due north-south the south end. */
#ifndef STRINGLINE_PLACE_H
#define STRINGLINE_PLACE_H

#include "stringline/sheet.h"

/* The direction in which a row is counted: square to where its modules face, and never west of north-south. */
struct sl_row_bearing_in { double facing; };              /* true bearing that the modules face, 0 to 2 pi */
struct sl_row_bearing_out { double bearing; };            /* 0 <= bearing < pi */
enum sl_status sl_row_bearing(const struct sl_row_bearing_in *in, struct sl_row_bearing_out *out,
                              struct sl_sheet *sh);

/* A point of a rack by its own measures, in plan. */
struct sl_place_in {
  double east, north;                   /* of the rack's west corner */
  double facing;                        /* 0 to 2 pi */
  double along;                         /* from that corner along the row */
  double behind;                        /* behind the line of the lower edge; may be negative */
};
struct sl_place_out { double east, north; };
enum sl_status sl_place(const struct sl_place_in *in, struct sl_place_out *out, struct sl_sheet *sh);

/* The plan of the module plane: its corners, lower west, lower east, upper east, upper west. */
struct sl_rack_outline_in {
  double east, north;                   /* of the rack's west corner */
  double facing;                        /* 0 to 2 pi */
  double row_width;                     /* > 0 */
  double plan_depth;                    /* >= 0 */
};
struct sl_plan_corner { double east, north; };
struct sl_rack_outline_out {
  const struct sl_plan_corner *corners; size_t ncorners;
  double from, to;                      /* its ends along the bearing of its row, from the zero of the coordinates */
  double lower, upper;                  /* its edges towards its back, from there */
};
size_t sl_rack_outline_need(const struct sl_rack_outline_in *in);
enum sl_status sl_rack_outline(const struct sl_rack_outline_in *in, struct sl_rack_outline_out *out,
                               struct sl_space space, struct sl_sheet *sh);

/* The west corner of a rack beside another, in the direction in which rows are counted. */
struct sl_place_beside_in {
  double east, north, facing, row_width;                  /* of the other rack; > 0 */
  double aisle;                         /* from the end of its modules to the first of this one's, >= 0 */
  double step;                          /* how far this lower edge lies behind the line of that one; may be negative */
};
struct sl_place_beside_out { double east, north; };
enum sl_status sl_place_beside(const struct sl_place_beside_in *in, struct sl_place_beside_out *out,
                               struct sl_sheet *sh);

/* The west corner of a rack behind another: its lower edge behind the other's upper edge. */
struct sl_place_behind_in {
  double east, north, facing, plan_depth;                 /* of the other rack; >= 0 */
  double gap;                           /* clear in plan, >= 0 */
};
struct sl_place_behind_out { double east, north; };
enum sl_status sl_place_behind(const struct sl_place_behind_in *in, struct sl_place_behind_out *out,
                               struct sl_sheet *sh);

/* Rectangles in plan, and for each the one that is nearest to it. */
struct sl_outline {
  double east, north;                   /* of its west corner */
  double facing;                        /* 0 to 2 pi */
  double along, across;                 /* its sides, along the row and behind the corner: > 0; >= 0 */
};
struct sl_apart_in {
  const struct sl_outline *outlines; size_t n;            /* 2 to 10000 */
};
struct sl_way {
  int nearest;                          /* which outline that is, counted from 1 */
  double gap;                           /* clear between the two; below 0: how far one must move to be clear */
};
struct sl_apart_out { const struct sl_way *ways; size_t nways; };      /* one for each, in their order */
size_t sl_apart_need(const struct sl_apart_in *in);
enum sl_status sl_apart(const struct sl_apart_in *in, struct sl_apart_out *out, struct sl_space space,
                        struct sl_sheet *sh);

/* Holes of several racks: the two of different racks that are nearest to each other. */
struct sl_hole {
  double east, north;                   /* of its middle */
  double diameter;                      /* > 0 */
  int rack;                             /* whose it is: a number of its own for each */
};
struct sl_holes_apart_in {
  const struct sl_hole *holes; size_t n;                  /* 2 to 5000, of two racks or more */
};
struct sl_holes_apart_out {
  int first, second;                    /* which holes these are, counted from 1, in their order */
  double clear;                         /* ground between their edges; below 0: they overlap */
};
enum sl_status sl_holes_apart(const struct sl_holes_apart_in *in, struct sl_holes_apart_out *out,
                              struct sl_sheet *sh);

#endif
