/* SPDX-License-Identifier: MIT
 * Rails along the row: runs between expansion joints, pieces between splices, and what warmth does to them.
 * Lengths in m.  Places on a rail are counted from the west end of its line; the modules begin an end allowance
 * further east. */
#ifndef STRINGLINE_RAIL_H
#define STRINGLINE_RAIL_H

#include <stdbool.h>
#include "stringline/sheet.h"

enum sl_rail_material { SL_ALUMINIUM, SL_STEEL };

/* What warmth does to a length of rail. */
struct sl_expansion_in {
  int material;                         /* enum sl_rail_material */
  double coefficient;                   /* share of the length for each K, > 0; NAN: the table's of the material */
  double length;                        /* > 0 */
  double range;                         /* K, from the coldest to the hottest that the rail gets, >= 0 */
};
struct sl_expansion_out { double movement; };
enum sl_status sl_expansion(const struct sl_expansion_in *in, struct sl_expansion_out *out, struct sl_sheet *sh);

/* The runs of a row between its expansion joints. */
struct sl_rail_runs_in {
  double module;                        /* side along the row, > 0 */
  int columns;                          /* 1 to 10000 */
  double column_gap, joint_gap;         /* between neighbours; at an expansion joint, >= 0 */
  double end_allowance;                 /* rail beyond the last module of a run, at each end, >= 0 */
  double limit;                         /* longest rail, > 0: the fewest joints that keep to it, shared as evenly as
                                           can be.  NAN: the joints are those of the list */
  const double *joints; size_t njoints; /* after which columns, rising; empty where there is a limit */
};
struct sl_rail_run {
  double first_column, last_column;     /* from the west, from 1 */
  double from, to, length;              /* of its rail */
};
struct sl_rail_runs_out {
  double row_width;                     /* of the modules along the row, gaps of the joints too */
  double longest;                       /* rail of all runs */
  double rail;                          /* of all runs together, in one line */
  int joints;
  const struct sl_rail_run *runs; size_t nruns;
};
size_t sl_rail_runs_need(const struct sl_rail_runs_in *in);
enum sl_status sl_rail_runs(const struct sl_rail_runs_in *in, struct sl_rail_runs_out *out, struct sl_space space,
                            struct sl_sheet *sh);

/* Where a rail may be spliced: in a bay, on both sides of which it is held, never in an overhang, once in each bay. */
struct sl_rail_joints_in {
  double from, to;                      /* ends of the run's rail, from < to */
  const double *supports; size_t nsupports;   /* rising, at most 1000; those between the ends count */
  double zone_from, zone_to;            /* fractions of the bay from its nearer support, 0 to 0.5 */
  bool end_bays;                        /* the first and the last bay may have a splice, too */
  const double *stock; size_t nstock;   /* lengths that are had, 1 to 100 of them */
  const double *prices; size_t nprices; /* of one of each; empty: the shortest stock in all is taken */
};
/* Two ways to splice it, for every second rail the other: fewest pieces, then least price, each piece of a stick of
 * its own; the first pieces as long as can be, from the west and from the east. */
struct sl_rail_joint {
  double way;                           /* 1 or 2 */
  double at;
};
struct sl_rail_joints_out {
  int pieces;                           /* of one rail */
  double longest;                       /* piece of both ways */
  bool staggered;                       /* no bay has a splice in both ways */
  bool proven;                          /* no cheaper way with as few pieces was left out */
  const struct sl_rail_joint *joints; size_t njoints;   /* those of way 1, then of way 2, west to east */
};
size_t sl_rail_joints_need(const struct sl_rail_joints_in *in);
enum sl_status sl_rail_joints(const struct sl_rail_joints_in *in, struct sl_rail_joints_out *out,
                              struct sl_space space, struct sl_sheet *sh);

/* The shortest stock out of which such a rail can be made. */
struct sl_rail_reach_in {
  double from, to;
  const double *supports; size_t nsupports;
  double zone_from, zone_to;
  bool end_bays;
};
struct sl_rail_reach_out { double least; };
size_t sl_rail_reach_need(const struct sl_rail_reach_in *in);
enum sl_status sl_rail_reach(const struct sl_rail_reach_in *in, struct sl_rail_reach_out *out, struct sl_space space,
                             struct sl_sheet *sh);

/* In which bay a splice is, and how far from its nearer support. */
enum sl_splice_place { SL_IN_BAY, SL_IN_END_BAY, SL_IN_OVERHANG };
struct sl_splice_in {
  double from, to;
  const double *supports; size_t nsupports;
  double at;                            /* between the ends */
};
struct sl_splice_out {
  int place;                            /* enum sl_splice_place; in one bay between two supports: an end bay */
  int bay;                              /* of all supports, from the west, from 1; 0 in an overhang */
  double share;                         /* of the bay, from the nearer support, 0 to 0.5; 0 in an overhang */
};
enum sl_status sl_splice(const struct sl_splice_in *in, struct sl_splice_out *out, struct sl_sheet *sh);

#endif
