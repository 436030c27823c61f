/* SPDX-License-Identifier: MIT
 * The base functions a script has in place of Lua's: errors that cannot swallow an abort, walks in a fixed order,
 * metatables that cannot reach the collector, text without addresses. */
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <lauxlib.h>
#include "box/safe.h"

/* ---- errors ----------------------------------------------------------------------------------------------------- */

/* Results that go in a circle: what each is would depend on which was asked first. */
static bool circle(lua_State *L) {
  if (lua_type(L, -1) != LUA_TTABLE) return false;
  lua_pushliteral(L, "code");
  const char *code = lua_rawget(L, -2) == LUA_TSTRING ? lua_tostring(L, -1) : "";
  const bool is = strcmp(code, "G001") == 0;
  lua_pop(L, 1);
  return is;
}

/* true lies at `first`, the results after it; or an error on top. */
static int finish(lua_State *L, int status, int first) {
  if (sl_box_over(L)) {
    if (status == LUA_OK || (lua_type(L, -1) != LUA_TSTRING && lua_type(L, -1) != LUA_TTABLE)) sl_box_stop(L);
    return lua_error(L);                                 /* with the place where it was stopped; a table: the host's */
  }
  if (status == LUA_OK) return lua_gettop(L) - first + 1;
  if (circle(L)) return lua_error(L);
  lua_pushboolean(L, 0);
  lua_insert(L, -2);
  return 2;
}

int sl_base_pcall(lua_State *L) {
  luaL_checkany(L, 1);
  lua_pushboolean(L, 1);
  lua_insert(L, 1);
  return finish(L, lua_pcall(L, lua_gettop(L) - 2, LUA_MULTRET, 0), 1);
}

/* Lua calls the handler of an error raised in a hook with hooks off: a script's handler could then run for ever. */
static int handle(lua_State *L) {
  if (sl_box_over(L) || circle(L)) return 1;
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_insert(L, 1);
  lua_call(L, 1, 1);
  return 1;
}

/* function, handler, true, function, arguments */
static void push_handled(lua_State *L) {
  luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_pushvalue(L, 2);
  lua_pushcclosure(L, handle, 1);
  lua_replace(L, 2);
  lua_pushboolean(L, 1);
  lua_pushvalue(L, 1);
  lua_rotate(L, 3, 2);
}

int sl_base_xpcall(lua_State *L) {
  push_handled(L);
  return finish(L, lua_pcall(L, lua_gettop(L) - 4, LUA_MULTRET, 2), 3);
}

/* To catch an error, Lua walks its whole stack: so many calls are under way, to twice as many. */
static void charge_catching(lua_State *L) {
  lua_Debug ar;
  int depth = 16;
  while (lua_getstack(L, depth, &ar)) depth *= 2;
  sl_sandbox_charge(L, depth);
}

/* A script's own, counted: to look for them on the stack takes the square of its depth. */
static int script_pcall(lua_State *L) {
  luaL_checkany(L, 1);
  lua_pushboolean(L, 1);
  lua_insert(L, 1);
  sl_box(L)->catching++;
  const int status = lua_pcall(L, lua_gettop(L) - 2, LUA_MULTRET, 0);
  sl_box(L)->catching--;
  if (status != LUA_OK) charge_catching(L);
  return finish(L, status, 1);
}

static int script_xpcall(lua_State *L) {
  push_handled(L);
  sl_box(L)->catching++;
  const int status = lua_pcall(L, lua_gettop(L) - 4, LUA_MULTRET, 2);
  sl_box(L)->catching--;
  if (status != LUA_OK) charge_catching(L);
  return finish(L, status, 3);
}

bool sl_sandbox_catches(lua_State *L) {
  charge_catching(L);                                    /* of what was raised, whoever catches it */
  return sl_box(L)->catching > 0;
}

/* ---- walks ------------------------------------------------------------------------------------------------------ */

enum rank { NUMBERS, STRINGS, BOOLEANS, NONE };
struct key {
  enum rank rank;
  bool whole;                   /* NUMBERS: i, else d; BOOLEANS: i */
  lua_Integer i; lua_Number d;
  const char *s; size_t size;   /* lives as long as the key is in the list */
  lua_Integer place;            /* in the list */
};

static struct key read_key(lua_State *L, int index, lua_Integer place) {
  struct key k = { .rank = NONE, .place = place };
  switch (lua_type(L, index)) {
    case LUA_TNUMBER:
      k.rank = NUMBERS;
      k.whole = lua_isinteger(L, index);
      if (k.whole) k.i = lua_tointeger(L, index); else k.d = lua_tonumber(L, index);
      break;
    case LUA_TSTRING: k.rank = STRINGS; k.s = lua_tolstring(L, index, &k.size); break;
    case LUA_TBOOLEAN: k.rank = BOOLEANS; k.i = lua_toboolean(L, index); break;
    default: break;
  }
  return k;
}

/* Exact.  A float that is a key is no whole number, unless it is beyond the integers. */
static int compare_mixed(lua_Integer i, lua_Number d) {
  if (d >= 0x1p63) return -1;
  if (d < -0x1p63) return 1;
  return i <= (lua_Integer)floor(d) ? -1 : 1;
}

static int compare_keys(const void *left, const void *right) {
  const struct key *a = left, *b = right;
  if (a->rank != b->rank) return a->rank < b->rank ? -1 : 1;
  if (a->rank == STRINGS) {
    int bytes = memcmp(a->s, b->s, a->size < b->size ? a->size : b->size);
    return bytes ? bytes : (a->size > b->size) - (a->size < b->size);
  }
  if (a->rank == NONE) return (a->place > b->place) - (a->place < b->place);
  if (a->rank == BOOLEANS || (a->whole && b->whole)) return (a->i > b->i) - (a->i < b->i);
  if (!a->whole && !b->whole) return (a->d > b->d) - (a->d < b->d);
  return a->whole ? compare_mixed(a->i, b->d) : -compare_mixed(b->i, a->d);
}

static int bits(size_t n) {
  int b = 1;
  while (n >>= 1) b++;
  return b;
}

enum { USUAL_KEYS = 8 };

/* Pushes the list of the table's keys in table order; true if that is the right order already.  `any`: keys that have
 * no order come last. */
static bool collect_keys(lua_State *L, int table, bool any, lua_Integer *count) {
  struct key last = { .rank = NUMBERS, .whole = true, .i = LUA_MININTEGER };
  bool ordered = true;
  long long bytes = 0;
  lua_Integer n = 0;
  lua_createtable(L, USUAL_KEYS, 0);                     /* so that the list of a small table need not grow */
  lua_pushnil(L);
  while (lua_next(L, table)) {                           /* list, key, value */
    lua_pop(L, 1);
    struct key k = read_key(L, -1, n);
    if (k.rank == NONE && !any)
      luaL_error(L, "pairs walks tables whose keys are numbers, strings or booleans: this one has a %s as a key",
                 luaL_typename(L, -1));
    if (n > 0 && compare_keys(&last, &k) > 0) ordered = false;
    bytes += (long long)k.size;
    last = k;
    lua_pushvalue(L, -1);
    lua_rawseti(L, -3, ++n);
  }
  *count = n;
  sl_sandbox_charge(L, (n + bytes / 16) * (ordered ? 1 : bits((size_t)n)));
  return ordered;
}

/* Pushes the list of the table's keys in walking order. */
static lua_Integer push_keys(lua_State *L, int table, bool any) {
  lua_Integer n;
  luaL_checkstack(L, 8, "no room to walk a table");
  if (collect_keys(L, table, any, &n)) return n;
  struct key *k = lua_newuserdatauv(L, (size_t)n * sizeof *k, 0);
  for (lua_Integer i = 0; i < n; i++) {
    lua_rawgeti(L, -2, i + 1);
    k[i] = read_key(L, -1, i + 1);
    lua_pop(L, 1);
  }
  qsort(k, (size_t)n, sizeof *k, compare_keys);          /* keys differ, so any sort gives the one order */
  lua_createtable(L, n > INT_MAX ? INT_MAX : (int)n, 0);
  for (lua_Integer i = 0; i < n; i++) {
    lua_rawgeti(L, -3, k[i].place);
    lua_rawseti(L, -2, i + 1);
  }
  lua_replace(L, -3);
  lua_pop(L, 1);
  return n;
}

/* Upvalues: keys, place, table.  Keys that have gone since the walk began are passed over, new ones are not seen. */
static int step_walk(lua_State *L) {
  lua_Integer i = lua_tointeger(L, lua_upvalueindex(2));
  for (;;) {
    lua_settop(L, 0);
    if (lua_rawgeti(L, lua_upvalueindex(1), ++i) == LUA_TNIL) return 1;
    lua_pushvalue(L, -1);
    if (lua_rawget(L, lua_upvalueindex(3)) != LUA_TNIL) break;
    sl_sandbox_charge(L, 1);
  }
  lua_pushinteger(L, i);
  lua_replace(L, lua_upvalueindex(2));
  return 2;
}

/* Pushes what gives the next key and value of the table at 1 with each call. */
static void push_walk(lua_State *L, bool any) {
  push_keys(L, 1, any);
  lua_pushinteger(L, 0);
  lua_pushvalue(L, 1);
  lua_pushcclosure(L, step_walk, 3);
}

static int base_pairs(lua_State *L) {
  luaL_checkany(L, 1);
  lua_settop(L, 1);
  if (luaL_getmetafield(L, 1, "__pairs") != LUA_TNIL) {
    lua_insert(L, 1);
    lua_call(L, 1, 3);
    return 3;
  }
  luaL_checktype(L, 1, LUA_TTABLE);
  push_walk(L, false);
  lua_pushvalue(L, 1);
  lua_pushnil(L);
  return 3;
}

int sl_sandbox_sorted(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 1);
  push_walk(L, true);
  return 1;
}

/* The first of the n keys (list on top) that comes after k. */
static lua_Integer key_after(lua_State *L, struct key k, lua_Integer n) {
  lua_Integer low = 1, high = n + 1;
  while (low < high) {
    lua_Integer middle = low + (high - low) / 2;
    lua_rawgeti(L, -1, middle);
    struct key m = read_key(L, -1, middle);
    lua_pop(L, 1);
    if (compare_keys(&m, &k) <= 0) low = middle + 1; else high = middle;
  }
  return low;
}

/* Upvalues: the table of the walk under way, its keys, the place of the key given last.  Without them every call
 * would sort the keys again. */
static int base_next(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 2);
  if (luaL_getmetafield(L, 1, "__pairs") != LUA_TNIL) return luaL_error(L, "next cannot walk this; use pairs");
  lua_Integer place = lua_tointeger(L, lua_upvalueindex(3));
  bool known = false;
  if (!lua_isnil(L, 2) && lua_rawequal(L, 1, lua_upvalueindex(1))) {
    lua_rawgeti(L, lua_upvalueindex(2), place);
    known = lua_rawequal(L, 2, -1);
    lua_pop(L, 1);
  }
  if (!known) {
    struct key k = read_key(L, 2, 0);
    if (!lua_isnil(L, 2) && (k.rank == NONE || (k.rank == NUMBERS && !k.whole && k.d != k.d)))
      return luaL_error(L, "next: a %s cannot be a key of a walk", luaL_typename(L, 2));
    lua_Integer n = push_keys(L, 1, false);
    place = lua_isnil(L, 2) ? 0 : key_after(L, k, n) - 1;
    lua_replace(L, lua_upvalueindex(2));
    lua_pushvalue(L, 1);
    lua_replace(L, lua_upvalueindex(1));
  }
  for (;;) {
    lua_settop(L, 1);
    if (lua_rawgeti(L, lua_upvalueindex(2), ++place) == LUA_TNIL) break;
    lua_pushvalue(L, -1);
    if (lua_rawget(L, 1) != LUA_TNIL) {
      lua_pushinteger(L, place);
      lua_replace(L, lua_upvalueindex(3));
      return 2;
    }
    sl_sandbox_charge(L, 1);
  }
  lua_pushnil(L);                                        /* the walk is over: let go of the table */
  lua_replace(L, lua_upvalueindex(1));
  lua_pushnil(L);
  lua_replace(L, lua_upvalueindex(2));
  lua_pushnil(L);
  return 1;
}

/* ---- metatables ------------------------------------------------------------------------------------------------- */

/* A table gets a copy of its metatable, made of these events, which a script never sees: __gc and __mode added to the
 * original later reach nothing.  The copy's __metatable is the original, which is what getmetatable then gives. */
static const char *const events[] = {
  "__index", "__newindex", "__call", "__tostring", "__name", "__len", "__pairs", "__close", "__concat", "__eq", "__lt",
  "__le", "__unm", "__add", "__sub", "__mul", "__div", "__mod", "__pow", "__idiv", "__band", "__bor", "__bxor", "__shl",
  "__shr", "__bnot",
};
static const char *const refused[] = { "__gc", "__mode", "__metatable" };
static const char copies_key, copy_key;    /* registry: original -> copy, weak; in a copy: true */

static bool is_copy(lua_State *L, int metatable) {
  bool copy = lua_rawgetp(L, metatable, &copy_key) == LUA_TBOOLEAN;
  lua_pop(L, 1);
  return copy;
}

/* Pushes the copy of the metatable at index 2, brought up to date: it serves every table with that metatable. */
static void push_copy(lua_State *L) {
  lua_rawgetp(L, LUA_REGISTRYINDEX, &copies_key);
  lua_pushvalue(L, 2);
  if (lua_rawget(L, -2) == LUA_TNIL) {
    lua_pop(L, 1);
    lua_newtable(L);                                     /* copies, copy */
    lua_pushboolean(L, 1);
    lua_rawsetp(L, -2, &copy_key);
    lua_pushliteral(L, "__metatable");
    lua_pushvalue(L, 2);
    lua_rawset(L, -3);
    lua_pushvalue(L, 2);
    lua_pushvalue(L, -2);
    lua_rawset(L, -4);
  }
  for (size_t i = 0; i < sizeof events / sizeof *events; i++) {
    lua_pushstring(L, events[i]);
    lua_pushvalue(L, -1);
    lua_rawget(L, 2);
    lua_rawset(L, -3);
  }
  lua_remove(L, -2);
}

static int base_setmetatable(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  luaL_argexpected(L, lua_type(L, 2) == LUA_TTABLE || lua_isnil(L, 2), 2, "nil or table");
  lua_settop(L, 2);
  if (lua_getmetatable(L, 1)) {
    if (!is_copy(L, 3)) return luaL_error(L, "this table's metatable is locked");
    lua_settop(L, 2);
  }
  if (lua_isnil(L, 2)) {
    lua_setmetatable(L, 1);
    return 1;
  }
  for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
    lua_pushstring(L, refused[i]);
    if (lua_rawget(L, 2) != LUA_TNIL) return luaL_error(L, "a metatable here cannot have '%s'", refused[i]);
    lua_pop(L, 1);
  }
  push_copy(L);
  lua_setmetatable(L, 1);
  lua_settop(L, 1);
  return 1;
}

/* Only a script's own metatable is shown; false says that there is one. */
static int base_getmetatable(lua_State *L) {
  luaL_checkany(L, 1);
  lua_settop(L, 1);
  if (!lua_getmetatable(L, 1)) return luaL_pushfail(L), 1;
  if (!is_copy(L, 2)) return lua_pushboolean(L, 0), 1;
  lua_getfield(L, 2, "__metatable");
  return 1;
}

/* ---- text ------------------------------------------------------------------------------------------------------- */

const char *sl_sandbox_tostring(lua_State *L, int index, size_t *size) {
  index = lua_absindex(L, index);
  luaL_checkstack(L, 4, "no room for a text");
  switch (lua_type(L, index)) {
    case LUA_TNUMBER: case LUA_TSTRING: case LUA_TNIL: case LUA_TBOOLEAN: return luaL_tolstring(L, index, size);
    default: break;
  }
  if (luaL_callmeta(L, index, "__tostring")) {
    if (!lua_isstring(L, -1)) luaL_error(L, "'__tostring' must return a string");
  } else {
    int name = luaL_getmetafield(L, index, "__name");    /* LUA_TNIL: nothing was pushed */
    if (name != LUA_TNIL && name != LUA_TSTRING) lua_pop(L, 1);
    if (name != LUA_TSTRING) lua_pushstring(L, luaL_typename(L, index));
  }
  return lua_tolstring(L, -1, size);
}

static int base_tostring(lua_State *L) {
  luaL_checkany(L, 1);
  sl_sandbox_tostring(L, 1, NULL);
  return 1;
}

/* A numeral may be as long as a text can be. */
static int base_tonumber(lua_State *L) {
  size_t size = 0;
  if (lua_type(L, 1) == LUA_TSTRING) lua_tolstring(L, 1, &size);
  sl_sandbox_charge(L, (long long)(size / 4));
  return lua_tocfunction(L, lua_upvalueindex(1))(L);
}

/* ---- the table -------------------------------------------------------------------------------------------------- */

void sl_base_open(lua_State *L) {
  static const luaL_Reg ours[] = {
    { "pairs", base_pairs }, { "pcall", script_pcall }, { "xpcall", script_xpcall }, { "tostring", base_tostring },
    { "setmetatable", base_setmetatable }, { "getmetatable", base_getmetatable }, { NULL, NULL },
  };
  static const char *const as_they_are[] = {
    "assert", "error", "ipairs", "rawequal", "rawlen", "select", "type",
  };
  luaL_setfuncs(L, ours, 0);
  for (int i = 0; i < 3; i++) lua_pushnil(L);
  lua_pushcclosure(L, base_next, 3);
  lua_setfield(L, -2, "next");
  for (size_t i = 0; i < sizeof as_they_are / sizeof *as_they_are; i++) {
    lua_getglobal(L, as_they_are[i]);
    lua_setfield(L, -2, as_they_are[i]);
  }
  lua_getglobal(L, "tonumber");
  lua_pushcclosure(L, base_tonumber, 1);
  lua_setfield(L, -2, "tonumber");
  lua_newtable(L);                                       /* original -> copy lives only as long as both are in use */
  lua_newtable(L);
  lua_pushliteral(L, "kv");
  lua_setfield(L, -2, "__mode");
  lua_setmetatable(L, -2);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &copies_key);
}
