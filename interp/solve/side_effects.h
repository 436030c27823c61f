/* SPDX-License-Identifier: MIT
 * What each unit load does to one station's frame, as numbers that add up.  Private to interp/solve. */
#ifndef SL_SIDE_EFFECTS_H
#define SL_SIDE_EFFECTS_H

#include "side_model.h"

/* One after the other: of each post what its foot takes sideways and up, and the moment at grade; then of each member
 * that is judged, which footings are not, the forces at its ends, as frame.h has them, and the load across it. */
enum { SIDE_PUSH, SIDE_UP, SIDE_MOMENT, SIDE_OF_POST, SIDE_ACROSS = 6, SIDE_OF_MEMBER,
       SIDE_EFFECTS = SIDE_OF_POST * SIDE_POSTS + SIDE_OF_MEMBER * SIDE_MEMBERS };
struct side_effects {
  double of[SIDE_LOADS][SIDE_EFFECTS];
  size_t of_feet, n;                        /* how many are of feet, and of all */
  size_t member[SIDE_MEMBERS], nmembers;    /* those that are judged */
  double length[SIDE_MEMBERS];              /* of each of them */
};
extern const double sl_side_nothing[SIDE_EFFECTS];

void sl_side_effects(const struct side_model *model, const struct sl_frame_answer *answer,
                     struct side_effects *effects);
/* The first n effects of these shares of loads, on top of others. */
void sl_side_add(const struct side_effects *effects, const double share[SIDE_LOADS], const double *others, size_t n,
                 double *sum);

#endif
