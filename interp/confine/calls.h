/* SPDX-License-Identifier: MIT
 * The system calls that a confined process has.  Every other fails as not permitted. */
#ifndef SL_CALLS_H
#define SL_CALLS_H

#include <stdbool.h>
#include <stdint.h>

/* The machine that this was built for, as libseccomp numbers them (SCMP_ARCH_X86_64 ...). */
uint32_t sl_calls_machine(void);
/* Whether the filter holds there: its calls have been looked through, and the arguments that it looks at stand where it
 * looks, as they are. */
bool sl_calls_known(uint32_t machine);
/* Filters the calls of this process from now on: 0, or errno. */
int sl_calls_filter(uint32_t machine);
#endif
