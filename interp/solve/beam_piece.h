/* SPDX-License-Identifier: MIT
 * A piece of a beam under an even load, looked at along its length.  Private to interp/solve. */
#ifndef SL_BEAM_PIECE_H
#define SL_BEAM_PIECE_H

#include "stringline/beam.h"

/* Shear and moment at its left end, the load downward, how it lies there. */
struct beam_piece { double length, v, m, w, ei, down, turn; };

/* Enlarges what the span has by what the piece has. */
void sl_beam_look(const struct beam_piece *piece, struct sl_beam_span *span);

#endif
