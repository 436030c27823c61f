/* SPDX-License-Identifier: MIT
 * Opens the binding in a state: the globals `calc` (a function for each primitive), `worked_sheet`,
 * `primitives`, `primitive`. */
#ifndef SL_BIND_OPEN_H
#define SL_BIND_OPEN_H
#include <lua.h>
#include "bind.h"
void sl_bind_open(lua_State *L);
/* Pushes the function that a script calls for one primitive.  Only after sl_bind_open. */
void sl_bind_push(lua_State *L, const struct sl_op *op);
/* Whether both are answers of the same primitive, the same to the last bit. */
bool sl_worked_alike(lua_State *L, int a, int b);
#endif
