/* SPDX-License-Identifier: MIT
 * What a state keeps of each file that it has read: a job declared anew reads, scans and compiles none again. */
#ifndef SL_KEPT_H
#define SL_KEPT_H

#include <lauxlib.h>
#include "scan/scanner.h"

/* Pushes the table kept for a path, { source, sha256, and what its reader puts there }, and returns the id of its
 * source.  Reads the file where this state has not; raises where it cannot.  of_job: the job is made from it. */
int sl_kept_file(lua_State *L, const char *path, bool of_job);

/* Looks for a file that a script names, below a folder ("" is the current one): see host/beneath.h.  True: pushes its
 * path, which is that of the first name that it was found by, in whatever spelling or through whatever link.  False:
 * it is not there; pushes the path that it would have.  By that path it is read below that folder only, also where the
 * disk has changed since.  Raises where a link leads out. */
bool sl_kept_find(lua_State *L, const char *folder, const char *name);

/* Pushes an error where a line of the source is longer than any in use, for messages show lines and look for words in
 * them; false, and nothing: there is none. */
enum { SL_LONGEST_LINE = 10000 };        /* bytes */
bool sl_kept_too_long(lua_State *L, int source, const char *help);
/* Keeps a text for a path, as the source `name`: the file, which there need not be, is not read.  False, and nothing
 * done: there is no room for one more. */
bool sl_kept_put(lua_State *L, const char *path, const char *name, const char *text, size_t len);
/* Forgets all files and their texts: the next job of this state reads its own. */
void sl_kept_forget(lua_State *L);

/* Lays a text over a file: it is read in its place, as a source "PATH as patched", until it is taken off.  What is kept
 * of the file goes into the table at `old`.  False, and nothing done: there is no room for one more. */
bool sl_kept_lay_over(lua_State *L, int old, const char *path, const char *text, size_t len);
/* Brings back what was kept of all that are in the table. */
void sl_kept_take_off(lua_State *L, int old);

/* Pushes what is wrong with a text as an error with its place. */
void sl_complaint_push(lua_State *L, int source, const struct sl_complaint *c);

#endif
