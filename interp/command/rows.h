/* SPDX-License-Identifier: MIT
 * The rows of command.def for the host's own Lua. */
#ifndef SL_ROWS_H
#define SL_ROWS_H

#include <lua.h>

/* host.command_line() -> { commands, options, formats, parts, statuses }, each a list of rows; host.status(code) -> the
 * exit status of a message; host.version. */
void sl_rows_open(lua_State *L);

#endif
