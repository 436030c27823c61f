/* SPDX-License-Identifier: MIT
 * Tables of fields: one by its name, and what is said of a name that there is none of. */
#ifndef SL_BIND_FIELDS_H
#define SL_BIND_FIELDS_H

#include <lua.h>
#include "bind.h"

#define SL_NAME_LETTERS "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_"

/* NULL where there is none. */
const struct sl_field *sl_field(const struct sl_field *fields, size_t n, const char *name);
/* Raises "no such field", asking for the nearest of them. */
int sl_no_field(lua_State *L, const struct sl_field *fields, size_t n, const char *name, const char *format, ...)
    __attribute__((format(printf, 5, 6)));
/* Pushes { { name, kind, dim, help, optional, choices, fields }, ... } for describe and the reference. */
void sl_push_fields(lua_State *L, const struct sl_field *fields, size_t n);
#endif
