/* SPDX-License-Identifier: MIT
 * What was worked out, and what it was worked out from: the global `nodes`, for model.memo. */
#ifndef SL_NODES_H
#define SL_NODES_H

#include <lua.h>

void sl_nodes_open(lua_State *L);

#endif
