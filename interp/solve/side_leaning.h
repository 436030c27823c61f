/* SPDX-License-Identifier: MIT
 * What a combination with a case has of each load, and how far a station's frame leans under it.  Private to
 * interp/solve. */
#ifndef SL_SIDE_LEANING_H
#define SL_SIDE_LEANING_H

#include "solve/side_effects.h"

/* How much of each load a combination with a case has.  half: 0 all modules are up, 1 the lower half, 2 the upper. */
void sl_side_shares(const struct sl_side_frames_in *in, double dead, double snow, double wind, size_t wind_case,
                    int half, double share[SIDE_LOADS]);
size_t sl_side_cases(const struct sl_side_frames_in *in);

/* Presses the model's members but braces by the combination and case that presses all posts together most; or each by
 * the most of all: a frame that bears this leans no less than under any of them.  Returns what presses the feet. */
double sl_side_press(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                     struct side_model *model, const struct side_effects *effects);
double sl_side_press_each(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                          struct side_model *model, const struct side_effects *effects);

/* How much larger moments grow, and what braces carry, as the frame leans under what presses it: the sideways move of
 * its heads under one force, with that weight and without. */
struct side_lean {
  double grows;
  double thrust[SIDE_BRACES];           /* of each brace under 1 N at the heads, either way */
  bool gives;                           /* the ground gives way beside: heads stand out of plumb by `leans` */
};
/* answer: of the model with all cases; pressed: what presses the feet. */
enum sl_status sl_side_leaning(struct side_model *model, const struct sl_frame_answer *answer, double pressed,
                               struct side_lean *lean, struct sl_space space);
/* Braces carry so much more, and what the push at the heads does to the outer posts of a braced frame is grown so, too;
 * so is what posts out of plumb push with.  Changes the effects of one combination; only_feet: of members there are
 * none. */
void sl_side_lean(const struct side_model *model, const struct side_effects *effects, const struct side_lean *lean,
                  bool only_feet, double *sum);

#endif
