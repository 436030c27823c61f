/* SPDX-License-Identifier: MIT
 * What passes between rafter and posts at their heads.  Private to interp/solve. */
#ifndef SL_SIDE_HEADS_H
#define SL_SIDE_HEADS_H

#include "solve/side_effects.h"

enum { HEAD_DURATIONS = 3, HEAD_MOSTS = 5 };
/* Rows of a line. */
enum { HEADS_OF_LINE = HEAD_DURATIONS * HEAD_MOSTS };

/* Notes what these effects do at each head of a station; rows: HEADS_OF_LINE for each line. */
void sl_side_note_heads(const struct side_model *model, const struct side_effects *effects, const double *sum,
                        const struct sl_combination *combination, double wind_case, int station, int limit,
                        struct sl_side_head *rows);

#endif
