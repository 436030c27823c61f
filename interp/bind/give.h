/* SPDX-License-Identifier: MIT
 * The answer of a primitive as a script reads it, and the door that it passes first. */
#ifndef SL_BIND_GIVE_H
#define SL_BIND_GIVE_H

#include <lua.h>
#include "bind.h"

/* Makes the tables that rows of an answer need. */
void sl_give_open(lua_State *L);
/* The number as a quantity, or as a plain number. */
void sl_push_real(lua_State *L, enum sl_dim dim, double value);
/* The output that is no number, no choice, a text without end or a list without items; NULL if all are fit. */
const struct sl_field *sl_unfit(const struct sl_field *out, size_t n, const unsigned char *bytes);
/* Whether two answers, or rows, are the same to the last bit. */
bool sl_same_bits(const struct sl_field *fields, size_t n, const unsigned char *a, const unsigned char *b);
/* Pushes what `key` names of an answer, or of a row of one: what holds it is at `owner` and stays while it is read.
 * `who` is the primitive's name. */
int sl_give(lua_State *L, const char *who, const struct sl_field *fields, size_t n, const unsigned char *bytes,
            const char *key, int owner);
/* An answer is read, not written: the function for __newindex. */
int sl_read_only(lua_State *L);
#endif
