/* SPDX-License-Identifier: MIT
 * Suites written in plain Lua that ask the host: each question is a file of the host's Lua, run in a state of its own,
 * and what it gives is copied back. */
#ifndef SL_IN_HOST_H
#define SL_IN_HOST_H

#include <lauxlib.h>
#include <lualib.h>
#include <stdio.h>
#include "command/rows.h"
#include "host/host.h"
#include "host/raise.h"

/* Copies texts, numbers, booleans and tables of these from the top of one state to another. */
static inline void copy_value(lua_State *from, int at, lua_State *to) {
  luaL_checkstack(from, 8, "tables in tables");
  luaL_checkstack(to, 8, "tables in tables");
  at = lua_absindex(from, at);
  switch (lua_type(from, at)) {
  case LUA_TBOOLEAN: lua_pushboolean(to, lua_toboolean(from, at)); break;
  case LUA_TNUMBER:
    if (lua_isinteger(from, at)) lua_pushinteger(to, lua_tointeger(from, at));
    else lua_pushnumber(to, lua_tonumber(from, at));
    break;
  case LUA_TSTRING: {
    size_t n;
    const char *text = lua_tolstring(from, at, &n);
    lua_pushlstring(to, text, n);
    break;
  }
  case LUA_TTABLE:
    lua_newtable(to);
    for (lua_pushnil(from); lua_next(from, at); lua_pop(from, 1)) {
      copy_value(from, -2, to);
      copy_value(from, -1, to);
      lua_rawset(to, -3);
    }
    break;
  default: lua_pushnil(to);
  }
}

/* in_host(folder, file, input [, path]) -> what the file gives in the host's Lua, or nil and { code, text, help,
 * source, line, col }.  path: where files are looked for that are not in the folder. */
static inline int in_host(lua_State *L) {
  const struct sl_host host = { .folder = luaL_checkstring(L, 1), .path = luaL_optstring(L, 4, NULL),
                                .format = SL_HUMAN };
  const char *file = luaL_checkstring(L, 2);
  lua_State *H = sl_host_new(&host, NULL);
  if (!H) return luaL_error(L, "not enough memory");
  sl_rows_open(H);
#ifdef IN_HOST_OPENS                     /* what a suite wants in that state besides */
  IN_HOST_OPENS(H);
#endif
  int status = luaL_loadfilex(H, file, "t");
  if (status == LUA_OK) {
    copy_value(L, 3, H);
    status = sl_host_call(H, 1, 1);
  }
  if (status == LUA_OK) {
    copy_value(H, -1, L);
    sl_host_close(H);
    return 1;
  }
  struct sl_message m;
  sl_error_message(H, -1, &m);
  lua_pushnil(L);
  lua_createtable(L, 0, 6);
  lua_pushstring(L, m.code ? m.code : "");
  lua_setfield(L, -2, "code");
  lua_pushstring(L, m.text);
  lua_setfield(L, -2, "text");
  lua_pushstring(L, m.help);
  lua_setfield(L, -2, "help");
  lua_pushinteger(L, m.source);
  lua_setfield(L, -2, "source");
  lua_pushinteger(L, m.span.line);
  lua_setfield(L, -2, "line");
  lua_pushinteger(L, m.span.col);
  lua_setfield(L, -2, "col");
  sl_host_close(H);
  return 2;
}

/* Runs a suite, with the program's path and words in `arg` and `more` (may be NULL) among its functions; what it
 * returns is the status. */
static inline int suite_in_lua(const char *file, int argc, char **argv, const luaL_Reg *more) {
  lua_State *L = luaL_newstate();
  if (!L) return 3;
  luaL_openlibs(L);
  lua_register(L, "in_host", in_host);
  for (; more && more->name; more++) lua_register(L, more->name, more->func);
  lua_createtable(L, argc, 0);
  for (int i = 0; i < argc; i++) {
    lua_pushstring(L, argv[i]);
    lua_rawseti(L, -2, i);
  }
  lua_setglobal(L, "arg");
  int status = luaL_dofile(L, file) ? 2 : (int)lua_tointeger(L, -1);
  if (status == 2) fprintf(stderr, "%s\n", lua_tostring(L, -1));
  lua_close(L);
  return status;
}

#endif
