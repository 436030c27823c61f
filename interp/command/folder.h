/* SPDX-License-Identifier: MIT
 * The scripts of a folder, for commands that take one: host.scripts. */
#ifndef SL_FOLDER_H
#define SL_FOLDER_H

#include <lua.h>

/* Adds scripts(path) and peek(path) to the host's functions. */
void sl_folder_open(lua_State *L);
#endif
