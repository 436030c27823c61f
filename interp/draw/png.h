/* SPDX-License-Identifier: MIT
 * What a PNG is written with besides: how large it is. */
#ifndef SL_DRAW_PNG_H
#define SL_DRAW_PNG_H

#include "draw/written.h"

/* Says in a PNG how many dots there are to a metre, so that it prints in its size.  False: it is none. */
bool sl_png_size(struct sl_written *w, double dot);

#endif
