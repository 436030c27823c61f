/* SPDX-License-Identifier: MIT
 * A line on the terminal that says how far something is, written over itself.  No Lua. */
#ifndef SL_SWEEP_PROGRESS_H
#define SL_SWEEP_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>

struct sl_progress { bool terminal, shown; };

/* Standard error; where that is no terminal nothing is ever written. */
struct sl_progress sl_progress_begin(void);
/* Cut to the width of the terminal as it is now. */
void sl_progress_show(struct sl_progress *p, const char *text, size_t n);
void sl_progress_clear(struct sl_progress *p);
#endif
