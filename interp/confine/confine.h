/* SPDX-License-Identifier: MIT
 * How a process gives up all that a script does not need, step by step.  Each step either holds or ends it. */
#ifndef SL_CONFINE_H
#define SL_CONFINE_H

#include <sys/types.h>
#include "confine/child.h"

enum { SL_SAID = 3 };         /* the descriptor that stays open beside 0, 1 and 2 until all is done */

/* Of the process that is being confined: how far it came.  step -1: all steps are taken; else the one that failed and
 * errno, 0 where the kernel said yes and did nothing. */
struct sl_confined { int step, error; };

/* Confines this process, a child of `parent`. */
struct sl_confined sl_confine(const struct sl_child_limits *limits, pid_t parent);
/* Says in words why it is not confined: "the filter of system calls (seccomp) is refused: ..." */
void sl_confine_say(struct sl_confined confined, char *why, size_t size);
#endif
