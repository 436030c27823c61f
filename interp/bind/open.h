/* SPDX-License-Identifier: MIT
 * Opens the binding in a state: the globals `calc` (a function for each primitive), `worked_sheet`,
 * `worked_unread`, `primitives`, `primitive`. */
#ifndef SL_BIND_OPEN_H
#define SL_BIND_OPEN_H
#include <lua.h>
#include <stdbool.h>
#include "bind.h"
void sl_bind_open(lua_State *L);
/* Pushes the function that a script calls for one primitive.  Only after sl_bind_open. */
void sl_bind_push(lua_State *L, const struct sl_op *op);
/* What a primitive was called with, and where its answer lies: enough to call it again without Lua, for as long as the
 * answer is kept. */
struct sl_called {
  const struct sl_op *op;
  const void *in;
  void *out;
  struct sl_space space;
};
/* Of the answer at `index`; false if that is none. */
bool sl_bind_called(lua_State *L, int index, struct sl_called *to);
/* Whether both are answers of the same primitive, the same to the last bit. */
bool sl_worked_alike(lua_State *L, int a, int b);
#endif
