/* SPDX-License-Identifier: MIT
 * Where things are: the outline of a rack, the bearing points of its supports, the posts and their cut lengths.
 * Lengths in m, angles in rad.  Plane geometry; the two limits at the end are of the trade and of work safety. */
#ifndef STRINGLINE_LAYOUT_H
#define STRINGLINE_LAYOUT_H

#include <stdbool.h>
#include "stringline/sheet.h"

enum sl_orientation { SL_PORTRAIT, SL_LANDSCAPE };   /* long side up the slope; along the row */

/* Outline of one rack: rows of modules up the slope, columns along the row. */
struct sl_layout_in {
  double module_length, module_width;   /* long side and short side, > 0, length >= width */
  int orientation;                      /* enum sl_orientation */
  int rows, columns;                    /* >= 1 */
  double column_gap, row_gap;           /* between neighbours, >= 0 */
  double tilt;                          /* 0 to pi/2 */
  double lower_edge;                    /* clear height of the lower edge above the datum, >= 0 */
  int joints;                           /* expansion joints among the column gaps, 0 to columns - 1 */
  double joint_gap;                     /* between the modules there, >= 0; NAN: as the column gap */
};
struct sl_layout_out {
  double row_width, slope_length;       /* outside to outside, along the row and up the slope */
  double rise, run;                     /* of the slope, vertical and in plan */
  double top_edge, mean_height;         /* above the datum */
  double area, module_area;             /* of the plane with its gaps; of the modules alone */
};
enum sl_status sl_layout(const struct sl_layout_in *in, struct sl_layout_out *out, struct sl_sheet *sh);

/* Bearing point of a support: where the post meets the stack.  The stack shifts it uphill as well as down. */
struct sl_bearing_in {
  double slope_length;                  /* > 0 */
  double tilt;                          /* 0 to pi/2 */
  double lower_edge;                    /* >= 0 */
  double fraction;                      /* of the slope from the lower edge, 0 to 1 */
  double stack;                         /* rail + rafter + saddle, square to the modules, >= 0 */
  double plumb;                         /* what lies below that plumb, such as a beam on edge, >= 0; NAN: nothing */
};
struct sl_bearing_out {
  double back;                          /* horizontal, uphill from the lower edge */
  double height;                        /* above the datum of lower_edge */
};
enum sl_status sl_bearing(const struct sl_bearing_in *in, struct sl_bearing_out *out, struct sl_sheet *sh);

/* Length to cut a post that stands on gravel in its hole, or on a base: a block, the head of a screw, or as deep as it
 * was driven. */
struct sl_post_cut_in {
  double bearing_height;                /* top of the post above the datum */
  double ground;                        /* ground at the post above the datum; may be negative */
  double hole_depth, gravel;            /* > 0; >= 0 and less than the hole is deep; neither where it has a base */
  bool has_base;
  double base;                          /* its foot above the ground beside it, below 0 where it is driven */
};
struct sl_post_cut_out { double cut_length, above_ground, embedment; };
enum sl_status sl_post_cut(const struct sl_post_cut_in *in, struct sl_post_cut_out *out, struct sl_sheet *sh);

/* Check measure of a rectangle. */
struct sl_diagonal_in { double along, across; };          /* > 0 */
struct sl_diagonal_out { double diagonal; };
enum sl_status sl_diagonal(const struct sl_diagonal_in *in, struct sl_diagonal_out *out, struct sl_sheet *sh);

struct sl_rail_length_in { double row_width, end_allowance; };   /* > 0; beyond the last module at each end, >= 0 */
struct sl_rail_length_out { double length; };
enum sl_status sl_rail_length(const struct sl_rail_length_in *in, struct sl_rail_length_out *out, struct sl_sheet *sh);

/* A line of posts centred under the row: the place of each, counted from the west. */
struct sl_stations_in {
  double row_width;                     /* > 0 */
  int posts;                            /* 1 to 1000000 */
  double spacing;                       /* centre to centre, > 0 */
};
struct sl_station {
  double offset;                        /* from the west edge of the modules */
  double tributary;                     /* half of each bay beside it, the overhang at an end; no continuity */
};
struct sl_stations_out {
  double overhang;                      /* of the modules beyond an end post */
  const struct sl_station *stations; size_t nstations;
};
size_t sl_stations_need(const struct sl_stations_in *in);
enum sl_status sl_stations(const struct sl_stations_in *in, struct sl_stations_out *out, struct sl_space space,
                           struct sl_sheet *sh);

/* A line of posts with unlike bays: the place of each, counted from the west. */
struct sl_bays_in {
  double row_width;                     /* > 0 */
  const double *bays; size_t nbays;     /* from post to post, west to east, each > 0; none: one post */
  double set_in;                        /* first post from the west edge of the modules, >= 0; NAN: the line centred */
};
struct sl_bays_out {
  double length;                        /* from the first post to the last */
  double west, east;                    /* of the modules beyond the first post, and beyond the last */
  const struct sl_station *stations; size_t nstations;
};
size_t sl_bays_need(const struct sl_bays_in *in);
enum sl_status sl_bays(const struct sl_bays_in *in, struct sl_bays_out *out, struct sl_space space,
                       struct sl_sheet *sh);

/* Where a point of a level rack comes to lie when its row follows the ground: all of the rack is turned, rigid, about
 * the line through the west end of its lower edge that runs uphill in plan.  Posts stay plumb under their points. */
struct sl_on_slope_in {
  double slope;                         /* rise of the row over its length in plan, east up; finite */
  double along;                         /* of the point, along the row from the west end, as on the level rack */
  double above;                         /* of the point above the lower edge, as on the level rack; may be negative */
};
struct sl_on_slope_out {
  double plan;                          /* along the row from the west end of the lower edge, in plan */
  double up;                            /* above the west end of the lower edge */
};
enum sl_status sl_on_slope(const struct sl_on_slope_in *in, struct sl_on_slope_out *out, struct sl_sheet *sh);

struct sl_true_bearing_in {
  double compass;                       /* magnetic, clockwise from north, 0 to 2 pi */
  double declination;                   /* east positive, -pi to pi */
};
struct sl_true_bearing_out { double bearing; };           /* true, 0 <= bearing < 2 pi */
enum sl_status sl_true_bearing(const struct sl_true_bearing_in *in, struct sl_true_bearing_out *out,
                               struct sl_sheet *sh);

/* How far an array is turned from the equator. */
struct sl_facing_in {
  double bearing;                       /* true, clockwise from north, 0 to 2 pi */
  double latitude;                      /* north positive, -pi/2 to pi/2; on the equator north and south will do */
};
struct sl_facing_out { double off, most; };               /* >= 0; what needs no reason */
enum sl_status sl_facing(const struct sl_facing_in *in, struct sl_facing_out *out, struct sl_sheet *sh);

/* How near to an overhead line of up to 50 kV something may be raised that falls as far as it is high. */
struct sl_overhead_in { double height; };                 /* >= 0 */
struct sl_overhead_out { double least; };                 /* along the ground */
enum sl_status sl_overhead(const struct sl_overhead_in *in, struct sl_overhead_out *out, struct sl_sheet *sh);

#endif
