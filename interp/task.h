/* SPDX-License-Identifier: MIT
 * One command in one state. */
#ifndef SL_TASK_H
#define SL_TASK_H

#include <lua.h>
#include <stdbool.h>
#include <stddef.h>
#include "box/sandbox.h"
#include "command/line.h"
#include "host/host.h"
#include "write/out.h"

/* One script, or a command without one. */
struct sl_task {
  const struct sl_line *line;
  const char *script;                  /* NULL: none */
  bool several;                        /* one script of several */
  size_t number;                       /* of it, from 1 */
  bool colour;                         /* of the output */
  int width;
  struct sl_host host;
  struct sl_limits limits;
  struct sl_out *to;
  /* Of folders, see command/jobs.lua: what is asked for, and what was said of that before. */
  const char *part, *left;
  char **judged;
  size_t jobs;
};

/* Why a script was not judged, for the place that its verdict would have. */
struct sl_failure { int status; char code[16], text[1024], *json; size_t told; };  /* json: told of them, one a line */

/* Protected: (task, failure or NULL) -> status, text.  With a failure the text stands in the place of a verdict. */
int sl_task_run(lua_State *L);
#endif
