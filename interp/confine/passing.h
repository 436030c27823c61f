/* SPDX-License-Identifier: MIT
 * The output of a child process, made safe and passed on. */
#ifndef SL_PASSING_H
#define SL_PASSING_H

#include <stdbool.h>
#include <stddef.h>
#include "confine/child.h"

/* Passes on what comes from these pipes to standard output and error until both are closed, within limits->output.
 * false: `why` says why the child is to be stopped.  What comes on standard error ends with a line end. */
bool sl_pass_output(int out, int err, const struct sl_child_limits *limits, char *why, size_t size);
#endif
