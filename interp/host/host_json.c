/* SPDX-License-Identifier: MIT
 * Values as JSON text, for write.encode, whose tables say by their metatables what they are. */
#include <stdio.h>
#include <string.h>
#include "box/sandbox.h"
#include "host/host_parts.h"
#include "host/text.h"

enum { OBJECT = 1, ARRAY, RAW };        /* upvalues: the metatables */

/* The text so far lies in a block of the run's, in the stack at `slot`. */
struct text { char *at; size_t n, room; int slot; bool compact; };

enum { FIRST_ROOM = 1024, DEEPEST = 150 };

static char *more(lua_State *L, struct text *t, size_t n) {
  if (n > t->room - t->n) {
    size_t room = t->room;
    while (room - t->n < n) room *= 2;
    char *block = lua_newuserdatauv(L, room, 0);
    memcpy(block, t->at, t->n);
    lua_replace(L, t->slot);
    t->at = block;
    t->room = room;
  }
  return t->at + t->n;
}

static void put(lua_State *L, struct text *t, const char *text, size_t n) {
  memcpy(more(L, t, n), text, n);
  t->n += n;
}

static void put_line(lua_State *L, struct text *t, size_t indent) {
  if (t->compact) return;
  char *to = more(L, t, indent + 1);
  *to = '\n';
  memset(to + 1, ' ', indent);
  t->n += indent + 1;
}

/* The text or number on top, in quotes; it goes. */
static void put_quoted(lua_State *L, struct text *t) {
  size_t n;
  const char *text = luaL_checklstring(L, -1, &n);
  t->n += sl_json_put(more(L, t, 6 * n + 2), text, n);
  lua_pop(L, 1);
}

static void put_number(lua_State *L, struct text *t) {
  enum { ROOM = 64 };
  char *to = more(L, t, ROOM);
  const lua_Number x = lua_tonumber(L, -1);
  lua_Integer n;
  if (lua_isinteger(L, -1)) t->n += (size_t)lua_integer2str(to, ROOM, lua_tointeger(L, -1));
  else if (!(x - x == 0)) put(L, t, "null", 4);                      /* JSON has no such number */
  else if (x < 1e15 && x > -1e15 && lua_numbertointeger(x, &n) && (lua_Number)n - x == 0)
    t->n += (size_t)lua_integer2str(to, ROOM, n);
  else t->n += (size_t)snprintf(to, ROOM, "%.17g", x);
}

static bool has(lua_State *L, int meta) { return lua_rawequal(L, -1, lua_upvalueindex(meta)); }

static void put_value(lua_State *L, struct text *t, size_t indent, int depth);

/* What stands in the list on top, items or { key, value } of which the value is not nil. */
static void put_items(lua_State *L, struct text *t, size_t indent, int depth, bool object) {
  const int list = lua_gettop(L);
  const size_t inner = indent + 2;
  bool first = true;
  put(L, t, object ? "{" : "[", 1);
  for (lua_Integer i = 1; lua_rawgeti(L, list, i) != LUA_TNIL; i++) {
    if (!object || lua_rawgeti(L, list + 1, 2) != LUA_TNIL) {
      if (!first) put(L, t, ",", 1);
      put_line(L, t, inner);
      first = false;
      if (object) {
        lua_rawgeti(L, list + 1, 1);
        put_quoted(L, t);
        put(L, t, ": ", t->compact ? 1 : 2);
      }
      put_value(L, t, inner, depth + 1);
    }
    lua_settop(L, list);
  }
  lua_settop(L, list);
  if (!first) put_line(L, t, indent);
  put(L, t, object ? "}" : "]", 1);
}

/* The value on top. */
static void put_value(lua_State *L, struct text *t, size_t indent, int depth) {
  luaL_checkstack(L, 10, "JSON");
  if (depth > DEEPEST) luaL_error(L, "JSON is too deep");
  bool object = false, list = false, raw = false;
  if (lua_type(L, -1) == LUA_TTABLE && lua_getmetatable(L, -1)) {
    object = has(L, OBJECT);
    list = object || has(L, ARRAY);
    raw = has(L, RAW);
    lua_pop(L, 1);
  }
  size_t n;
  if (list) put_items(L, t, indent, depth, object);
  else if (raw) {
    lua_rawgeti(L, -1, 1);
    const char *text = luaL_checklstring(L, -1, &n);
    put(L, t, text, n);
    lua_pop(L, 1);
  } else if (lua_type(L, -1) == LUA_TSTRING) {
    lua_pushvalue(L, -1);
    put_quoted(L, t);
  } else if (lua_type(L, -1) == LUA_TNUMBER) put_number(L, t);
  else {
    const char *text = luaL_tolstring(L, -1, &n);
    put(L, t, text, n);
    lua_pop(L, 1);
  }
}

/* written(value, indent, end): the value as so many blanks deep, and the end behind it; compact(value): on one line. */
static int written(lua_State *L, bool compact) {
  struct text t = { .room = FIRST_ROOM, .slot = 4, .compact = compact };
  size_t n;
  const size_t indent = compact ? 0 : (size_t)luaL_checkinteger(L, 2);
  const char *end = luaL_optlstring(L, 3, "", &n);
  lua_settop(L, 3);
  t.at = lua_newuserdatauv(L, t.room, 0);
  lua_pushvalue(L, 1);
  put_value(L, &t, indent, 0);
  put(L, &t, end, n);
  lua_pushlstring(L, t.at, t.n);
  return 1;
}

static int h_written(lua_State *L) { return written(L, false); }
static int h_compact(lua_State *L) { return written(L, true); }

/* json_writer(object, array, raw) -> written, compact; of these metatables. */
static int h_json_writer(lua_State *L) {
  lua_settop(L, RAW);
  for (int i = OBJECT; i <= RAW; i++) lua_pushvalue(L, i);
  lua_pushcclosure(L, h_written, RAW);
  for (int i = OBJECT; i <= RAW; i++) lua_pushvalue(L, i);
  lua_pushcclosure(L, h_compact, RAW);
  return 2;
}

const luaL_Reg sl_host_json[] = { { "json_writer", h_json_writer }, { NULL, NULL } };
