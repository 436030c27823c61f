/* SPDX-License-Identifier: MIT
 * Blocks that stand on the ground: what comes to them, whether they are lifted, pushed away or turned over, and how
 * they press.  Seen from the side: places count from the middle of the block, + towards the upper edge of the modules
 * (its back); heights from the ground that it stands on; turning about its middle there, + over its back edge.
 * SI: m, N, N m, Pa, rad.  Forces of wind are at strength level. */
#ifndef STRINGLINE_BLOCK_H
#define STRINGLINE_BLOCK_H

#include <stdbool.h>
#include "stringline/combine.h"

enum { SL_BLOCK_CASES = 100, SL_BLOCK_WEIGHTS = 40 };            /* of a list at most */

/* One case: up less than 0 presses. */
struct sl_block_force { double up, side, turning; };

/* What wind on the modules of a station does to the one block under all its posts.  How the frame shares it between the
 * posts is of no account: it stands on one thing.  Behind the cases that are given: the least wind, up the slope and
 * down it. */
struct sl_block_wind { double low, high; };                      /* net on the halves of the slope, + presses down */
struct sl_wind_on_block_in {
  double tilt;           /* 0 to less than 90 deg */
  double slope_length;   /* of the modules, > 0 */
  double stack;          /* from their plane to the rafters' line, square to them, >= 0 */
  double lower_edge;     /* above the ground below the block, >= 0 */
  double middle;         /* of the block behind the lower edge, in plan; less than 0: before it */
  double tributary;      /* length of row that the station carries, > 0 */
  double least;          /* least wind on what is seen from the front, >= 0 */
  const struct sl_block_wind *winds; size_t nwinds;              /* to 98 */
};
struct sl_wind_on_block_out {
  double modules_at;     /* middle of the modules' weight, and of snow on them */
  double frame_at;       /* of rails and rafters, half way down to the rafters' line */
  const struct sl_block_force *forces; size_t nforces;           /* two more than winds */
};
size_t sl_wind_on_block_need(const struct sl_wind_on_block_in *in);
enum sl_status sl_wind_on_block(const struct sl_wind_on_block_in *in, struct sl_wind_on_block_out *out,
                                struct sl_space space, struct sl_sheet *sh);

/* The same of what posts bring to it, all at once: once pushed to the back, once to the front. */
struct sl_block_head {
  double up;             /* less than 0: down */
  double side;           /* >= 0, whichever way */
  double at;             /* place of the post */
  double height;         /* of the side force, >= 0 */
  double moment;         /* besides, the same way as the side force, >= 0; NAN: none */
};
struct sl_heads_on_block_in { const struct sl_block_head *heads; size_t nheads; };               /* 1 to 40 */
struct sl_heads_on_block_out { const struct sl_block_force *forces; size_t nforces; };           /* 2 */
size_t sl_heads_on_block_need(const struct sl_heads_on_block_in *in);
enum sl_status sl_heads_on_block(const struct sl_heads_on_block_in *in, struct sl_heads_on_block_out *out,
                                 struct sl_space space, struct sl_sheet *sh);

/* The same with wind on the face of the block itself, as on a solid wall that reaches the ground (the figure of the
 * solid sign): it pushes the way that each case does, above the middle of the face by `raise`.  Of the even pressure
 * and of strips from the windward end the more of both counts. */
struct sl_face_strip { double from, to, pressure; };    /* along the face, rising; >= 0 */
struct sl_wind_on_faces_in {
  const struct sl_block_force *forces; size_t nforces;           /* 1 to 100 */
  double pressure;       /* on all of the face, >= 0 */
  double width, height;  /* of the face, > 0 */
  double raise;          /* >= 0 */
  const struct sl_face_strip *strips; size_t nstrips;            /* to 40 */
};
struct sl_wind_on_faces_out {
  double force, arm;     /* on the face; above the ground */
  const struct sl_block_force *forces; size_t nforces;
};
size_t sl_wind_on_faces_need(const struct sl_wind_on_faces_in *in);
enum sl_status sl_wind_on_faces(const struct sl_wind_on_faces_in *in, struct sl_wind_on_faces_out *out,
                                struct sl_space space, struct sl_sheet *sh);

struct sl_block_weight {
  double weight;         /* at least, as it holds down, >= 0 */
  double most;           /* as it presses, >= weight; NAN: as that */
  double at;             /* its place, above the block: one beyond an edge is refused */
};

/* Lifted, pushed, turned over, by 0.6D + 0.6W with no further factor; or, with weight_counts, that part of the weight
 * against forces of another level as they are.  Sliding is resisted by friction of what presses still, or by adhesion
 * of the area of contact and a part of what presses at most (clay: see sl_soil_sliding).  Of each question the case
 * that is worst of all is told. */
struct sl_ballast_in {
  const struct sl_block_force *forces; size_t nforces;           /* 1 to 100 */
  const struct sl_block_weight *weights; size_t nweights;        /* 1 to 40, > 0 together: structure and block */
  double length;         /* of the block the way it is pushed, > 0 */
  double friction;       /* NAN: by adhesion; > 0 */
  double adhesion, area, most;     /* NAN: by friction; > 0 */
  double weight_counts;  /* more than 0, at most 1; NAN: by the edition */
  char edition[SL_EDITION_NAME];   /* "ASCE 7-16"; "": by weight_counts */
};
struct sl_ballast_out {
  double weight;         /* in all */
  double lift, lift_held, lift_ratio;                            /* all hold at <= 1 */
  double slide, slide_held, pressing;
  double slide_ratio;                                            /* NAN where nothing holds it any more */
  double turn, turn_held, turn_ratio;
  int lift_case, slide_case, turn_case;                          /* from 1 */
  bool over_back;                                                /* the edge that it turns over */
};
enum sl_status sl_ballast(const struct sl_ballast_in *in, struct sl_ballast_out *out, struct sl_sheet *sh);

/* What presses on the ground below its worst edge, by all allowable combinations, or of forces as they are: evenly
 * slanting over the block, or over what of it still presses. */
struct sl_block_bearing_in {
  const struct sl_block_force *forces; size_t nforces;
  const struct sl_block_weight *weights; size_t nweights;
  double snow, snow_at;  /* >= 0 */
  double length, width;  /* of the block, > 0 */
  double allowable;      /* bearing of the soil, > 0 */
  bool as_given;         /* forces are at allowable level with all other loads in them; weights count whole */
  char edition[SL_EDITION_NAME];   /* "ASCE 7-16"; "" where as_given */
};
struct sl_block_bearing_out {
  double pressure, ratio;                             /* holds at ratio <= 1 */
  int of_case;
  char combination[SL_COMBINATION_NAME];
};
enum sl_status sl_block_bearing(const struct sl_block_bearing_in *in, struct sl_block_bearing_out *out,
                                struct sl_sheet *sh);

#endif
