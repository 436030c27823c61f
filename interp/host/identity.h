/* SPDX-License-Identifier: MIT
 * What a report is made from: this program, its tables and rules, and each file that the run read. */
#ifndef SL_IDENTITY_H
#define SL_IDENTITY_H

#include <lauxlib.h>

/* SHA-256 over interp/data and over stdlib, made at build (interp/gen/hashes.c). */
extern const char sl_hash_of_tables[], sl_hash_of_rules[];

/* Keeps path and hash of a file that the run reads, each once, in the order of reading. */
void sl_identity_read(lua_State *L, const char *path, const char *sha256);
/* Forgets them, for another run in the same state. */
void sl_identity_fresh(lua_State *L);
/* Pushes what was kept so far; takes it back from the top of the stack, in the place of what was kept since. */
void sl_identity_push(lua_State *L);
void sl_identity_back(lua_State *L);

extern const luaL_Reg sl_host_identity[];      /* a part of the host table */

#endif
