/* SPDX-License-Identifier: MIT
 * What `stringline new` needs besides. */
#ifndef SL_BEGIN_H
#define SL_BEGIN_H
#include <lua.h>

/* Adds host.new_folder. */
void sl_begin_open(lua_State *L);
#endif
