/* SPDX-License-Identifier: MIT
 * How a run ends: its exit status, by the code of the message that ended it.  No Lua. */
#ifndef SL_EXIT_H
#define SL_EXIT_H

enum sl_exit {
#define STATUS(id, number, says) SL_##id = number,
#include "host/exit.def"
};

struct sl_exit_row { int number; const char *says; };
extern const struct sl_exit_row sl_statuses[];        /* ends with a row of NULLs */

/* The exit status of a code of a message. */
enum sl_exit sl_exit_of(const char *code);
#endif
