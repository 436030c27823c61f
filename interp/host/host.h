/* SPDX-License-Identifier: MIT
 * The state in which a job runs: the sandbox, the quantities, the primitives, and the host's own Lua with its `host`
 * table.  One state a run. */
#ifndef SL_HOST_H
#define SL_HOST_H

#include <lua.h>
#include <stdbool.h>
#include "host/message.h"
#include "host/reads.h"
#include "box/sandbox.h"

struct sl_host {
  const char *folder;           /* of the job, "" for the current one; files that a script names are looked for here */
  const char *path;             /* further folders, parted by ':', where one is not there; NULL: none */
  enum sl_format format;        /* of messages */
  bool colour;
  struct sl_reads *reads;       /* what is read is noted here; NULL: nothing is going to be written */
  /* Of each line that a script prints; NULL: standard error. */
  void (*print)(void *to, struct sl_sources *sources, const struct sl_message *line);
  void *print_to;
};

/* NULL: no memory. The strings of `host` must outlive the state. */
lua_State *sl_host_new(const struct sl_host *host, const struct sl_limits *limits);
void sl_host_close(lua_State *L);
/* Pushes the embedded module `name` (loads it at first use). Raises if there is none. */
void sl_host_import(lua_State *L, const char *name);
/* Prints the error on top of the stack (ours or Lua's) to stderr and pops it. */
void sl_host_report(lua_State *L);
/* How a run whose error is on top of the stack ends: 3 where a file or a limit was in the way, else 2. */
int sl_host_failure(lua_State *L);
/* lua_pcall with the message handler that gives errors their place. */
int sl_host_call(lua_State *L, int nargs, int nresults);
#endif
