/* SPDX-License-Identifier: MIT
 * Marks on a tape as Lua sees them. */
#include "bind/bind.h"
#include "stringline/tape.h"

static const struct sl_field running_in[] = {
  SL_LIST(struct sl_running_in, places, nplaces, SL_LENGTH, "from the zero, in their order"),
  SL_REAL(struct sl_running_in, mark, SL_LENGTH, "that the tape is read to"),
};
static const struct sl_field mark[] = {
  SL_REAL(struct sl_mark, at, SL_LENGTH, "nearest mark of the tape, from the zero"),
  SL_REAL(struct sl_mark, bay, SL_LENGTH, "from the mark before; none before the first"),
};
static const struct sl_field running_out[] = {
  SL_ROWS(struct sl_running_out, marks, nmarks, struct sl_mark, mark, "the marks, in the order of the places"),
};
SL_OP_CALL_ROOM(running)

SL_OPS(tape, 15) = {
  SL_OP_ROOM(running, "places on a tape, rounded from one zero, and the bays between them"),
  {0},
};
