/* SPDX-License-Identifier: MIT
 * A script's table into the inputs of a primitive: every field looked at, every mistake told by its name. */
#ifndef SL_BIND_TAKE_H
#define SL_BIND_TAKE_H

#include <lua.h>
#include "bind.h"

enum { SL_LISTS = 8 };             /* of one primitive */

/* How long the lists of the table at 1 are, in the order of their fields, and the bytes that their items take. */
size_t sl_take_lengths(lua_State *L, const struct sl_op *op, size_t length[SL_LISTS]);
/* Reads the table at 1 into `in`, the items of its lists into `items`; all of both is 0 before. */
void sl_take(lua_State *L, const struct sl_op *op, const size_t length[SL_LISTS], unsigned char *in,
             unsigned char *items);
#endif
