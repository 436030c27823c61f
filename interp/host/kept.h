/* SPDX-License-Identifier: MIT
 * What a state keeps of each file that it has read: a job declared anew reads, scans and compiles none again. */
#ifndef SL_KEPT_H
#define SL_KEPT_H

#include <lauxlib.h>
#include "scan/scanner.h"

/* Pushes the table kept for a path, { source, sha256, and what its reader puts there }, and returns the id of its
 * source.  Reads the file where this state has not; raises where it cannot.  of_job: the job is made from it. */
int sl_kept_file(lua_State *L, const char *path, bool of_job);

/* Pushes what is wrong with a text as an error with its place. */
void sl_complaint_push(lua_State *L, int source, const struct sl_complaint *c);

#endif
