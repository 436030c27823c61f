/* SPDX-License-Identifier: MIT
 * The output of a child process, made safe and passed on. */
#ifndef SL_PASSING_H
#define SL_PASSING_H

#include <stdbool.h>
#include <stddef.h>

/* Passes on what comes from these pipes to standard output and error until both are closed; `most` bytes together.
 * false: `why` says why the child is to be stopped. */
bool sl_pass_output(int out, int err, size_t most, char *why, size_t size);
#endif
