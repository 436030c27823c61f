/* SPDX-License-Identifier: MIT
 * Modules on their rails: where rails cross them, where clamps sit, in which order they are mounted, and where every
 * corner, rail, support and post is.  Lengths in m, angles in rad.  Plane geometry; nothing of a code.
 *
 * Columns count from the west, rows from below, both from 1.  `joints` are the columns behind which the rails are
 * parted, from the west, each at least 1 and less than `columns`; the gap there is `joint_gap`. */
#ifndef STRINGLINE_MODULES_H
#define STRINGLINE_MODULES_H

#include "stringline/sheet.h"

/* Two rails for each row of modules, each in the middle of the zone where the maker permits a clamp. */
struct sl_rail_places_in {
  double side;                          /* of a module up the slope, > 0 */
  int rows;                             /* 1 to 100 */
  double row_gap;                       /* between rows, >= 0 */
  double zone_least, zone_most;         /* from a corner of the module, >= 0; at most half the side, >= zone_least */
};
struct sl_rail_places_out { const double *at; size_t nat; };        /* up the slope from the lower edge */
size_t sl_rail_places_need(const struct sl_rail_places_in *in);
enum sl_status sl_rail_places(const struct sl_rail_places_in *in, struct sl_rail_places_out *out,
                              struct sl_space space, struct sl_sheet *sh);

/* Which row of modules each rail crosses, and how far from the module's corner. */
struct sl_rail_crossings_in {
  double side;                          /* of a module up the slope, > 0 */
  int rows;                             /* 1 to 100 */
  double row_gap;                       /* between rows, >= 0 */
  const double *at; size_t nat;         /* up the slope from the lower edge, rising; on a module each */
};
struct sl_crossing {
  double up;                            /* up the slope from the lower edge */
  double row;                           /* of modules, from below */
  double from_below, from_corner;       /* along the module's side: from its lower corner; from the nearer one */
};
struct sl_rail_crossings_out { const struct sl_crossing *rails; size_t nrails; };
size_t sl_rail_crossings_need(const struct sl_rail_crossings_in *in);
enum sl_status sl_rail_crossings(const struct sl_rail_crossings_in *in, struct sl_rail_crossings_out *out,
                                 struct sl_space space, struct sl_sheet *sh);

/* The clamps on one rail: one in the middle of each gap, one at each end of the row and on both sides of a joint. */
struct sl_clamps_in {
  double across;                        /* of a module along the row, > 0 */
  int columns;                          /* 1 to 10000 */
  double column_gap;                    /* between modules, >= 0 */
  const double *joints; size_t njoints;
  double joint_gap;                     /* >= 0 */
};
struct sl_clamp {
  double along;                         /* from the west end of the modules: middle of the gap, edge of the module */
  double west, east;                    /* columns of the modules that it holds; 0: none */
};
struct sl_clamps_out {
  const struct sl_clamp *clamps; size_t nclamps;
  int mids, ends;
};
size_t sl_clamps_need(const struct sl_clamps_in *in);
enum sl_status sl_clamps(const struct sl_clamps_in *in, struct sl_clamps_out *out, struct sl_space space,
                         struct sl_sheet *sh);

/* Modules are mounted from the middle of their row, or of their part of it between joints, outward, east and west by
 * turns: what widths and gaps are off by runs up both ways only half as far as from one end. */
struct sl_mounting_in {
  double across;                        /* of a module along the row, > 0 */
  int columns;                          /* 1 to 10000 */
  double column_gap;                    /* between modules, >= 0 */
  const double *joints; size_t njoints;
  double joint_gap;                     /* >= 0 */
  double width_tolerance, gap_tolerance; /* how far a module's width and a gap may be off, >= 0 */
  double end_allowance;                 /* of the rail beyond the last module, >= 0 */
};
struct sl_turn {
  double column;                        /* of the module that is mounted next */
  double along;                         /* its west edge as drawn, from the west end of the modules */
  double drift;                         /* of its outer edge, at most */
};
struct sl_mounting_out {
  const struct sl_turn *turns; size_t nturns;
  double drift;                         /* of the last module's outer edge, from the middle outward */
  double one_way;                       /* the same, mounted from one end to the other */
  double left;                          /* of the end allowance; negative: the rail is too short */
};
size_t sl_mounting_need(const struct sl_mounting_in *in);
enum sl_status sl_mounting(const struct sl_mounting_in *in, struct sl_mounting_out *out, struct sl_space space,
                           struct sl_sheet *sh);

/* Where everything is.  The plane that edge height and tilt tell of is the underside of the module frames, which is the
 * top of the rails.  In the rack's own frame: along the row from the west end of the modules, horizontally uphill from
 * their lower edge, up from the datum.  On the plan: east and north of what the corner counts from. */
struct sl_run_ends { double from, to; };          /* ends of a run of rail, along the row; to > from */
struct sl_standing {
  double offset, setback;               /* of a post: along the row in plan; uphill from the lower edge */
  double top, ground;                   /* above the datum, top > ground */
};
struct sl_frame_points_in {
  double corner_east, corner_north;     /* west end of the lower edge */
  double azimuth;                       /* that the modules face, true, 0 to 2 pi */
  double tilt;                          /* 0 to pi/2 */
  double edge_height;                   /* of the lower edge above the datum */
  double across, side;                  /* of a module along the row; up the slope; > 0 */
  int rows, columns;                    /* 1 to 100; 1 to 10000 */
  double column_gap, row_gap;           /* >= 0 */
  const double *joints; size_t njoints;
  double joint_gap;                     /* >= 0 */
  const double *at; size_t nat;         /* the rails, up the slope from the lower edge */
  const struct sl_run_ends *runs; size_t nruns;
  const double *supports; size_t nsupports;       /* the members under the rails, along the row */
  double support_from, support_to;      /* their ends, up the slope from the lower edge; to > from */
  double rail_depth;                    /* of the rails, square to the modules: the supports' top edge, >= 0 */
  double slope;                         /* of the row, as in sl_on_slope: modules, rails, supports turn; NAN: level */
  const struct sl_standing *posts; size_t nposts;
};
struct sl_corner {
  double row, column;
  double corner;                        /* 1 lower west, 2 lower east, 3 upper east, 4 upper west */
  double along, uphill, up, east, north;
};
struct sl_rail_end {
  double line, run, which;              /* line from below, run from the west; 1 west end, 2 east end */
  double along, uphill, up, east, north;
};
struct sl_support_end {
  double support, which;                /* from the west; 1 lower, 2 upper end of its top edge */
  double along, uphill, up, east, north;
};
struct sl_post_end {
  double post, which;                   /* as they were given; 1 at the ground, 2 the top */
  double along, uphill, up, east, north;
};
struct sl_frame_points_out {
  double row_bearing;                   /* from the west end; where modules face due east or west, from the south end */
  const struct sl_corner *corners; size_t ncorners;
  const struct sl_rail_end *rail_ends; size_t nrail_ends;
  const struct sl_support_end *support_ends; size_t nsupport_ends;
  const struct sl_post_end *post_ends; size_t npost_ends;
};
size_t sl_frame_points_need(const struct sl_frame_points_in *in);
enum sl_status sl_frame_points(const struct sl_frame_points_in *in, struct sl_frame_points_out *out,
                               struct sl_space space, struct sl_sheet *sh);

#endif
