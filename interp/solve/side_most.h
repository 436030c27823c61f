/* SPDX-License-Identifier: MIT
 * What posts and members of a station have, the most of all combinations, cases and limits.  Private to
 * interp/solve. */
#ifndef SL_SIDE_MOST_H
#define SL_SIDE_MOST_H

#include "solve/side_heads.h"

enum { SIDE_LIMITS = 3, SIDE_DURATIONS = 3, SIDE_STRAINS = 3 };

/* One station under one limit. */
struct side_solved {
  const struct side_model *model;
  const struct sl_frame_answer *answer;
  const struct side_effects *effects;
  double leaning;                       /* what moments grow by as posts bend, where they are fixed at grade */
  double bending;                       /* the same of posts that are fixed at grade, under whatever limit */
  double strained, strained_bending;    /* both under the loads by which members are told */
};

/* The most of all. */
struct side_most {
  struct sl_side_foot *feet;
  struct sl_side_strain *strains;
  struct sl_side_head *heads;                  /* NULL: nobody wants them told */
  size_t kinds;
  double leaning, drift;
};

/* How many cases of wind there are; how much of each load a combination with a case has.  half: 0 all modules are up, 1
 * the lower half, 2 the upper. */
size_t sl_side_cases(const struct sl_side_frames_in *in);
void sl_side_shares(const struct sl_side_frames_in *in, double dead, double snow, double wind, size_t wind_case,
                    int half, double share[SIDE_LOADS]);

/* Notes all that a station has under a limit. */
void sl_side_note_all(const struct sl_side_frames_in *in, int edition, const struct side_solved *solved, int station,
                      int limit, struct side_most *most, struct sl_side_foot *feet, struct sl_sheet *sh);

#endif
