/* SPDX-License-Identifier: MIT
 * Marks on a tape: places along a line, pulled from one zero.  Lengths in m. */
#ifndef STRINGLINE_TAPE_H
#define STRINGLINE_TAPE_H

#include "stringline/sheet.h"

/* Each place is rounded for itself, and each bay is the difference of two rounded places: so bays add up to what is
 * measured over all, which bays rounded for themselves do not. */
struct sl_running_in {
  const double *places; size_t nplaces;   /* from the zero, which may stand among them; 1 to 1000000, in their order */
  double mark;                            /* what the tape is read to, > 0 */
};
struct sl_mark {
  double at;                              /* the nearest mark; of two that are as near the larger */
  double bay;                             /* from the one before, >= 0; 0 at the first */
};
struct sl_running_out { const struct sl_mark *marks; size_t nmarks; };
size_t sl_running_need(const struct sl_running_in *in);
enum sl_status sl_running(const struct sl_running_in *in, struct sl_running_out *out, struct sl_space space,
                          struct sl_sheet *sh);

#endif
