/* SPDX-License-Identifier: MIT
 * Reads of records that are kept from one run of a function to the next: see again.h. */
#include "host/again.h"

#include <stdint.h>

static const char NOTHING = 'n';        /* its address stands where nothing was given */

bool sl_again_before(lua_State *L, enum sl_again which) {
  lua_rawgeti(L, 3, which);
  lua_pushvalue(L, 1);
  if (lua_rawget(L, 4) == LUA_TTABLE) {
    lua_pushvalue(L, 2);
    if (lua_rawget(L, 5) != LUA_TNIL) {
      if (lua_touserdata(L, -1) == &NOTHING) lua_pushnil(L);
      return true;
    }
  }
  lua_settop(L, 3);
  lua_pushnil(L);
  lua_rawseti(L, 3, SL_AGAIN_PATH);
  lua_settop(L, 2);
  return false;
}

void sl_again_keep(lua_State *L, enum sl_again which) {
  const int store = lua_gettop(L), value = store - 1, path = store + 1, of = store + 2, places = store + 3;
  if (lua_rawgeti(L, store, SL_AGAIN_PATH) == LUA_TSTRING) {
    lua_rawgeti(L, store, which);
    lua_pushvalue(L, 1);
    if (lua_rawget(L, of) != LUA_TTABLE) {
      lua_settop(L, of);
      lua_newtable(L);
      lua_pushvalue(L, 1);
      lua_pushvalue(L, -2);
      lua_rawset(L, of);
    }
    lua_replace(L, of);
    lua_pushvalue(L, 2);
    if (lua_isnil(L, value)) lua_pushlightuserdata(L, (void *)(uintptr_t)&NOTHING);
    else lua_pushvalue(L, value);
    lua_rawset(L, of);
    lua_rawgeti(L, store, SL_AGAIN_PATHS);
    lua_pushvalue(L, path);
    if (lua_rawget(L, places) != LUA_TTABLE) {
      lua_settop(L, places);
      lua_newtable(L);
      lua_pushvalue(L, path);
      lua_pushvalue(L, -2);
      lua_rawset(L, places);
    }
    lua_replace(L, places);
    const lua_Integer n = (lua_Integer)lua_rawlen(L, places);
    lua_pushvalue(L, of);
    lua_rawseti(L, places, n + 1);
    lua_pushvalue(L, 2);
    lua_rawseti(L, places, n + 2);
  }
  lua_settop(L, value);
}
