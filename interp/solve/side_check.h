/* SPDX-License-Identifier: MIT
 * What side_frames is asked: whether it is frames.  Private to interp/solve. */
#ifndef SL_SIDE_CHECK_H
#define SL_SIDE_CHECK_H

#include <stdbool.h>
#include "solve/side_model.h"

enum { SIDE_STATIONS = 1000 };

/* Of numbers that nobody has looked at yet: a cast might not hold them. */
static inline bool same(double a, double b) { return a <= b && a >= b; }

enum sl_status sl_side_check(const struct sl_side_frames_in *in, struct sl_sheet *sh);

#endif
