/* SPDX-License-Identifier: MIT
 * Quantities in Lua: an immutable userdata of an SI value, its dimensions and the unit that it was written in. */
#ifndef SL_QUANTITY_H
#define SL_QUANTITY_H

#include <lua.h>
#include "value/format.h"
#include "scan/scanner.h"

/* Opens the metatables of quantities and wire sizes; once a state. */
void sl_quantity_open(lua_State *L);
/* Pushes the functions that a script may use on quantities (sqrt, sin, as, len, ft ...) into the table at idx. */
void sl_quantity_functions(lua_State *L, int idx);

/* NULL where the value is not a quantity. */
const struct sl_quantity *sl_quantity_at(lua_State *L, int idx);
const struct sl_wire *sl_wire_at(lua_State *L, int idx);
/* Dimensions and currency agree (0 agrees with any). */
bool sl_same_kind(const struct sl_quantity *a, const struct sl_quantity *b);
/* a - b, which are of one kind, b no point where a is none: of two points the difference. */
struct sl_quantity sl_quantity_minus(lua_State *L, const struct sl_quantity *a, const struct sl_quantity *b);
/* A dimensionless value is pushed as a plain number. */
void sl_quantity_push(lua_State *L, struct sl_quantity q);
void sl_wire_push(lua_State *L, const struct sl_wire *wire);
/* The unit that it was written in, "" where there is none. */
const char *sl_written(lua_State *L, const struct sl_quantity *q);
/* A unit's text as the hint of a quantity. */
uint16_t sl_hint(lua_State *L, const char *unit);
/* A scanned literal; origin says which (sl_origin). */
void sl_const_push(lua_State *L, const struct sl_const *k, uint32_t origin);
/* The half width that was written behind it: a difference in the same unit. */
void sl_tolerance_push(lua_State *L, const struct sl_const *k);

/* What a value is, for messages: "900 lbf (force)", "a text", "nothing". */
void sl_describe_value(lua_State *L, int idx, char *buffer, size_t size);

/* Where a literal stands: source id and index of its constant. */
static inline uint32_t sl_origin(int source, size_t k) { return (uint32_t)source << 24 | (uint32_t)(k + 1); }
/* The literal behind an origin, or NULL; *source is set. */
const struct sl_const *sl_origin_const(lua_State *L, uint32_t origin, int *source);

#endif
