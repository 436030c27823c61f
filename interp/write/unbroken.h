/* SPDX-License-Identifier: MIT
 * What no signal may break off: while a file stands under a name that is not its own.  No Lua. */
#ifndef SL_UNBROKEN_H
#define SL_UNBROKEN_H

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>

struct sl_unbroken { sigset_t waiting, before; };     /* signals that are held back here; the mask of before */

/* Signals that would end the program wait from here on.  What the caller blocked, ignores or handles is left to him. */
void sl_unbroken_begin(struct sl_unbroken *u);
/* One has come: take back what is half done, and call sl_unbroken_end. */
bool sl_unbroken_stop(const struct sl_unbroken *u);
/* What has come takes its course: it ends the program. */
void sl_unbroken_end(const struct sl_unbroken *u);
#endif
