/* SPDX-License-Identifier: MIT
 * Cases by value that a person who does not program can write (docs/cases.md): results_test [FILE ...], from the top
 * folder of the project.  Without a file it runs all of tests/results.  tests/results.lua reads them, in plain Lua;
 * what is asked of a job is asked by tests/case_run.lua, in the host's Lua, in a state of its own for each case. */
#include <lauxlib.h>
#include <lualib.h>
#include <stdio.h>
#include "host/host.h"
#include "host/raise.h"

/* Copies texts, numbers, booleans and tables of these from the top of one state to another. */
static void copy_value(lua_State *from, int at, lua_State *to) {
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

/* in_host(folder, file, input) -> what the file gives in the host's Lua, or nil and { code, text, help, line }. */
static int in_host(lua_State *L) {
  const struct sl_host host = { .folder = luaL_checkstring(L, 1), .format = SL_HUMAN };
  const char *file = luaL_checkstring(L, 2);
  lua_State *H = sl_host_new(&host, NULL);
  if (!H) return luaL_error(L, "not enough memory");
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
  lua_createtable(L, 0, 4);
  lua_pushstring(L, m.code ? m.code : "");
  lua_setfield(L, -2, "code");
  lua_pushstring(L, m.text);
  lua_setfield(L, -2, "text");
  lua_pushstring(L, m.help);
  lua_setfield(L, -2, "help");
  lua_pushinteger(L, m.span.line);
  lua_setfield(L, -2, "line");
  sl_host_close(H);
  return 2;
}

int main(int argc, char **argv) {
  lua_State *L = luaL_newstate();
  if (!L) return 3;
  luaL_openlibs(L);
  lua_register(L, "in_host", in_host);
  lua_createtable(L, argc, 0);
  for (int i = 1; i < argc; i++) {
    lua_pushstring(L, argv[i]);
    lua_rawseti(L, -2, i);
  }
  lua_setglobal(L, "arg");
  int status = luaL_dofile(L, "tests/results.lua") ? 2 : (int)lua_tointeger(L, -1);
  if (status == 2) fprintf(stderr, "%s\n", lua_tostring(L, -1));
  lua_close(L);
  return status;
}
