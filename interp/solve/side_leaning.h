/* SPDX-License-Identifier: MIT
 * What leaning adds in a station's frame that braces hold.  Private to interp/solve. */
#ifndef SL_SIDE_LEANING_H
#define SL_SIDE_LEANING_H

#include "solve/side_effects.h"

/* Braces carry so much more, and what the push at the heads does to the outer posts of a braced frame is grown so, too.
 * Changes the effects of one combination; only_feet: of members there are none. */
void sl_side_lean(const struct side_model *model, const struct side_effects *effects, double grows, bool only_feet,
                  double *sum);

#endif
