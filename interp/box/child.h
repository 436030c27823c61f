/* SPDX-License-Identifier: MIT
 * Work done in a child process that can read files and write to two pipes, and nothing else: the only thing that
 * really stops a script, whatever it finds to exploit. */
#ifndef SL_CHILD_H
#define SL_CHILD_H

#include <stddef.h>

struct sl_child_limits {
  unsigned cpu_seconds;       /* 0: 60 */
  size_t memory;              /* bytes of address space, the program's own included; 0: 1 GiB */
  size_t output;              /* bytes of standard output and error together; 0: 64 MiB */
};

/* Runs body(arg) in a child and passes its output on.  Returns body's value (0 to 255), or 3 with the reason in `why`
 * ("stopped after 60 s of processor time"); otherwise why is "".  NULL limits: all defaults.
 * A child that cannot be confined runs nothing, says so on standard error, and gives 3.
 * The child has no input, no other descriptor, and cannot write or change a file, start a process or open a socket. */
int sl_child_run(int (*body)(void *), void *arg, const struct sl_child_limits *limits, char *why, size_t size);
#endif
