/* SPDX-License-Identifier: MIT
 * What a report is made from, for the host's own Lua. */
#include "host/identity.h"
#include "host/language.h"
#include "host/sha256.h"
#include <string.h>

static const char READ = 'r';      /* registry key: the list of the files read */

static void push_files(lua_State *L) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &READ) == LUA_TTABLE) return;
  lua_pop(L, 1);
  lua_newtable(L);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &READ);
}

static bool is_text(lua_State *L, const char *name, const char *text) {      /* of the table on top */
  lua_getfield(L, -1, name);
  bool same = strcmp(lua_tostring(L, -1), text) == 0;
  lua_pop(L, 1);
  return same;
}

void sl_identity_read(lua_State *L, const char *path, const char *sha256) {
  push_files(L);
  const lua_Integer count = (lua_Integer)lua_rawlen(L, -1);
  for (lua_Integer i = 1; i <= count; i++) {
    lua_rawgeti(L, -1, i);
    const bool known = is_text(L, "path", path);
    lua_pop(L, 1);
    if (known) { lua_pop(L, 1); return; }
  }
  lua_createtable(L, 0, 2);
  lua_pushstring(L, path);
  lua_setfield(L, -2, "path");
  lua_pushstring(L, sha256);
  lua_setfield(L, -2, "sha256");
  lua_rawseti(L, -2, count + 1);
  lua_pop(L, 1);
}

void sl_identity_fresh(lua_State *L) {
  lua_pushnil(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &READ);
}

void sl_identity_push(lua_State *L) { push_files(L); }

void sl_identity_back(lua_State *L) { lua_rawsetp(L, LUA_REGISTRYINDEX, &READ); }

/* program() -> { version, language, tables, rules } */
static int h_program(lua_State *L) {
  lua_createtable(L, 0, 4);
  lua_pushliteral(L, SL_VERSION);
  lua_setfield(L, -2, "version");
  lua_pushinteger(L, SL_LANGUAGE);
  lua_setfield(L, -2, "language");
  lua_pushstring(L, sl_hash_of_tables);
  lua_setfield(L, -2, "tables");
  lua_pushstring(L, sl_hash_of_rules);
  lua_setfield(L, -2, "rules");
  return 1;
}

/* files_read() -> { { path, sha256 } ... } in the order of reading. */
static int h_files_read(lua_State *L) {
  push_files(L);
  return 1;
}

static int h_sha256(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  char hex[SL_SHA256_HEX];
  sl_sha256(text, n, hex);
  lua_pushstring(L, hex);
  return 1;
}

const luaL_Reg sl_host_identity[] = {
  { "program", h_program }, { "files_read", h_files_read }, { "sha256", h_sha256 }, { NULL, NULL },
};
