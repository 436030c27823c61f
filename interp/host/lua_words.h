/* SPDX-License-Identifier: MIT
 * Lua's fixed texts in words for a person. No Lua state here. */
#ifndef SL_LUA_WORDS_H
#define SL_LUA_WORDS_H

#include "host/reword.h"

/* What Lua says while it compiles, or while a script runs; false: it is none of the texts that are known here. */
bool sl_lua_words(const char *raw, bool compiles, struct sl_reworded *out);
/* Why a library function cannot use a value, as it says in brackets. */
const char *sl_lua_why(const char *why);
/* What a library function wants: "string" is "a text". */
const char *sl_lua_wanted(const char *type);
#endif
