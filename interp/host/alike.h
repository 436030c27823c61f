/* SPDX-License-Identifier: MIT
 * Whether two values are the same to the last bit, with the units that they were written in and where they stood: so
 * that nobody could tell them apart.  Where that would be long to find out, they are not. */
#ifndef SL_ALIKE_H
#define SL_ALIKE_H

#include <lua.h>
#include <stdbool.h>

bool sl_alike(lua_State *L, int a, int b);

#endif
