/* SPDX-License-Identifier: MIT
 * What posts and members of a station have, the most of all combinations, cases and limits.  Private to
 * interp/solve. */
#ifndef SL_SIDE_MOST_H
#define SL_SIDE_MOST_H

#include "solve/side_heads.h"
#include "solve/side_leaning.h"

enum { SIDE_LIMITS = 3, SIDE_DURATIONS = 3, SIDE_STRAINS = 3 };
enum { SIDE_OTHERS = 3 };                /* kinds of members beside posts: rafters, braces, legs */

/* One station under one limit. */
struct side_solved {
  const struct side_model *model;
  const struct sl_frame_answer *answer;
  const struct side_effects *effects;
  struct side_lean leaning;             /* what moments and braces' forces grow by: as posts bend that are fixed at
                                         * grade, and of footings that turn as if nothing kept them from it */
  double bending;                       /* the same of posts that are fixed at grade, under whatever limit */
  struct side_lean strained;            /* both under the loads by which members are told */
  double strained_bending;
};

/* The most of all. */
struct side_most {
  struct sl_side_foot *feet;
  struct sl_side_strain *strains;
  struct sl_side_head *heads;                  /* NULL: nobody wants them told */
  size_t kinds;
  double leaning, drift;
  double sways;                         /* the most that stations lean by with free feet; NAN once one does not stand */
};

/* Notes all that a station has under a limit. */
void sl_side_note_all(const struct sl_side_frames_in *in, int edition, const struct side_solved *solved, int station,
                      int limit, struct side_most *most, struct sl_side_foot *feet, struct sl_sheet *sh);

#endif
