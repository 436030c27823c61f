/* SPDX-License-Identifier: MIT
 * The state in which a job runs, and what the host's own Lua gets from C: the `host` table and `import`. */
#include "host/host.h"
#include "host/exit.h"

#include <lauxlib.h>
#include <limits.h>
#include <lualib.h>
#include <stdlib.h>
#include <string.h>
#include "bind/open.h"
#include "host/host_parts.h"
#include "host/identity.h"
#include "host/library.h"
#include "host/nodes.h"
#include "host/state.h"
#include "value/quantity.h"
#include "host/raise.h"
#include "box/sandbox.h"

static const char LOADED = 'l';
enum { FIRST_KIB = 8 << 10 };

/* ---- errors ------------------------------------------------------------------------------------------------------ */

/* Whether the table at 1 says where.  To find what the person's text called there Lua goes through all of its code. */
static bool says_where(lua_State *L) {
  static const char *const place[] = { "source", "line", "col", "len" };
  bool all = true;
  for (size_t i = 0; all && i < sizeof place / sizeof *place; i++) {
    all = lua_getfield(L, 1, place[i]) != LUA_TNIL;
    lua_pop(L, 1);
  }
  return all;
}

/* raise{ code, text, help, source, line, col, len, labels, notes, class, ... } */
static int h_raise(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_getfield(L, 1, "text");
  const char *text = luaL_optstring(L, -1, "something is wrong");
  lua_getfield(L, 1, "code");
  const char *code = luaL_optstring(L, -1, "D000");
  if (says_where(L)) {
    sl_error_new(L);
    sl_error_field(L, "text", text);
    sl_error_field(L, "code", code);
  } else sl_error_push(L, code, NULL, "%s", text);
  int error = lua_gettop(L);
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) {
    lua_pushvalue(L, -2);
    lua_pushvalue(L, -2);
    lua_rawset(L, error);
  }
  lua_settop(L, error);
  return lua_error(L);
}

/* again(err): raises a copy of an error that is kept, so that nobody who catches it holds the kept one. */
static int h_again(lua_State *L) {
  lua_settop(L, 1);
  sl_error_clean(L);
  return lua_error(L);
}

static int h_caught(lua_State *L) {
  lua_pushboolean(L, sl_sandbox_catches(L));
  return 1;
}

static int h_class(lua_State *L) {
  if (!sl_is_error(L, 1)) return 0;
  lua_getfield(L, 1, "class");
  return 1;
}

/* message(err): what a page says of an error, which may be less of the machinery than its caller is told; its help. */
static int h_message(lua_State *L) {
  struct sl_message m;
  sl_error_message(L, 1, &m);
  if (!lua_istable(L, 1) || lua_getfield(L, 1, "page") != LUA_TSTRING) lua_pushstring(L, m.text);
  lua_pushstring(L, m.help);
  return 2;
}

/* ---- calling script code ----------------------------------------------------------------------------------------- */

/* call(f, ...): runs a script's function under the limits; its errors get their place and go on up. */
static int h_call(lua_State *L) {
  int n = lua_gettop(L);
  lua_pushcfunction(L, sl_error_handler);
  lua_insert(L, 1);
  if (sl_sandbox_call(L, n - 1, LUA_MULTRET, 1)) {
    sl_error_stopped(L);
    sl_error_clean(L);
    return lua_error(L);
  }
  return lua_gettop(L) - 1;
}

/* A script's environment: the safe library, and functions that know quantities. Trigonometry takes angles. */
static int h_env(lua_State *L) {
  static const char *const plain[] = { "abs", "ceil", "exp", "floor", "fmod", "huge", "log", "maxinteger",
                                       "mininteger", "modf", "pi", "random", "tointeger", "type", "ult", NULL };
  static const char *const ours[] = { "sin", "cos", "tan", "asin", "acos", "atan2", "sqrt", "min", "max", NULL };
  sl_sandbox_push_env(L);
  int env = lua_gettop(L);
  sl_quantity_functions(L, env);
  lua_getfield(L, env, "math");
  lua_newtable(L);
  for (int i = 0; plain[i]; i++) {
    lua_getfield(L, -2, plain[i]);
    lua_setfield(L, -2, plain[i]);
  }
  for (int i = 0; ours[i]; i++) {
    lua_getfield(L, env, ours[i]);
    lua_setfield(L, -2, ours[i]);
  }
  sl_sandbox_push_library(L, "math");
  lua_setfield(L, env, "math");
  lua_settop(L, env);
  return 1;
}

static int h_left_out(lua_State *L) {
  lua_pushstring(L, sl_sandbox_left_out(luaL_checkstring(L, 1)));
  return 1;
}

/* fresh(): another run in the same state: the same random numbers, all steps, no file read, plain printing. */
static int h_fresh(lua_State *L) {
  sl_sandbox_rerun(L);
  sl_state_of(L)->style = (struct sl_style){ .us = true };
  sl_identity_fresh(L);
  return 0;
}

/* room(names [, items]) -> a table that so many names and items fit into, so that it does not grow one by one. */
static int h_room(lua_State *L) {
  lua_createtable(L, (int)luaL_optinteger(L, 2, 0), (int)luaL_checkinteger(L, 1));
  return 1;
}

/* longer(list, item) -> another list with the same items and that one behind them. */
static int h_longer(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 2);
  const int n = (int)lua_rawlen(L, 1);
  lua_createtable(L, n + 1, 0);
  for (int i = 1; i <= n; i++) {
    lua_rawgeti(L, 1, i);
    lua_rawseti(L, 3, i);
  }
  lua_insert(L, 2);
  lua_rawseti(L, 2, n + 1);
  return 1;
}

/* copy(table) -> another with the same, as large at once; whether there are tables in it. */
static int h_copy(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  const lua_Unsigned items = lua_rawlen(L, 1);
  int names = 0;
  bool tables = false;
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1), names++) tables = tables || lua_istable(L, -1);
  names = (lua_Unsigned)names > items ? names - (int)items : 0;
  lua_createtable(L, items < INT_MAX ? (int)items : 0, names);
  for (lua_pushnil(L); lua_next(L, 1);) {
    lua_pushvalue(L, -2);
    lua_insert(L, -2);
    lua_rawset(L, 2);
  }
  lua_pushboolean(L, tables);
  return 2;
}

/* Most of what is asked for is there already: its name is looked up as it is, in the table at hand. */
static int import(lua_State *L) {
  const char *name = luaL_checkstring(L, 1);
  lua_pushvalue(L, 1);
  const int was = lua_rawget(L, lua_upvalueindex(1));
  if (was == LUA_TNIL || (was == LUA_TBOOLEAN && !lua_toboolean(L, -1))) sl_host_import(L, name);
  return 1;
}

static const struct sl_module *find_module(const struct sl_modules *all, const char *name) {
  for (size_t low = 0, high = all->n; low < high;) {
    const size_t mid = low + (high - low) / 2;
    const int side = strcmp(name, all->m[mid].name);
    if (side == 0) return &all->m[mid];
    if (side < 0) high = mid;
    else low = mid + 1;
  }
  return NULL;
}

/* Calls the function on top for its value. Where a script's word makes the library load, it does so in a thread of its
 * own: no step of that is the script's, and it does not matter how deep in calls the script is. */
static void call_loaded(lua_State *L) {
  if (!sl_sandbox_running(L)) {
    lua_call(L, 0, 1);
    return;
  }
  lua_State *apart = lua_newthread(L);
  int n;
  lua_insert(L, -2);
  lua_xmove(L, apart, 1);
  lua_sethook(apart, NULL, 0, 0);
  const int status = lua_resume(apart, NULL, 0, &n);
  if (status == LUA_OK && n == 0) lua_pushnil(apart);
  lua_xmove(apart, L, 1);
  lua_remove(L, -2);
  if (status != LUA_OK) lua_error(L);
}

void sl_host_import(lua_State *L, const char *name) {
  lua_rawgetp(L, LUA_REGISTRYINDEX, &LOADED);
  int loaded = lua_gettop(L);
  const int was = lua_getfield(L, loaded, name);
  if (was == LUA_TBOOLEAN && !lua_toboolean(L, -1))
    luaL_error(L, "the module '%s' is still being loaded, or could not be", name);
  if (was != LUA_TNIL) {
    lua_remove(L, loaded);
    return;
  }
  lua_pop(L, 1);
  const struct sl_module *m = find_module(&sl_library, name);
  if (!m) m = find_module(&sl_index, name);
  if (!m) {
    luaL_error(L, "no module '%s' in the library", name);
    return;
  }
  lua_pushboolean(L, 0);
  lua_setfield(L, loaded, name);
  if (luaL_loadbufferx(L, (const char *)m->code, m->size, name, "b")) lua_error(L);
  call_loaded(L);
  if (lua_isnil(L, -1)) {
    lua_pop(L, 1);
    lua_pushboolean(L, 1);
  }
  lua_pushvalue(L, -1);
  lua_setfield(L, loaded, name);
  lua_remove(L, loaded);
}

/* ---- the state --------------------------------------------------------------------------------------------------- */

/* Protected. */
static int open_host(lua_State *L) {
  static const luaL_Reg functions[] = {
    { "raise", h_raise }, { "again", h_again }, { "caught", h_caught },
    { "class", h_class }, { "message", h_message },
    { "call", h_call }, { "uncounted", sl_sandbox_uncounted }, { "env", h_env },
    { "left_out", h_left_out }, { "sorted", sl_sandbox_sorted }, { "fresh", h_fresh },
    { "room", h_room }, { "longer", h_longer }, { "copy", h_copy }, { NULL, NULL },
  };
  lua_newtable(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &LOADED);
  sl_raise_open(L);
  sl_quantity_open(L);
  sl_bind_open(L);
  lua_newtable(L);
  luaL_setfuncs(L, functions, 0);
  luaL_setfuncs(L, sl_host_places, 0);
  luaL_setfuncs(L, sl_host_values, 0);
  luaL_setfuncs(L, sl_host_compare, 0);
  luaL_setfuncs(L, sl_host_outcome, 0);
  luaL_setfuncs(L, sl_host_texts, 0);
  luaL_setfuncs(L, sl_host_json, 0);
  luaL_setfuncs(L, sl_host_files, 0);
  luaL_setfuncs(L, sl_host_scripts, 0);
  luaL_setfuncs(L, sl_host_asides, 0);
  luaL_setfuncs(L, sl_host_tables, 0);
  luaL_setfuncs(L, sl_host_identity, 0);
  sl_quantity_functions(L, -1);
  lua_setglobal(L, "host");
  lua_rawgetp(L, LUA_REGISTRYINDEX, &LOADED);
  lua_pushcclosure(L, import, 1);
  lua_setglobal(L, "import");
  sl_nodes_open(L);
  return 0;
}

lua_State *sl_host_new(const struct sl_host *host, const struct sl_limits *limits) {
  struct sl_state *state = calloc(1, sizeof *state);
  lua_State *L = state ? sl_sandbox_new(limits) : NULL;
  if (!L) {
    free(state);
    return NULL;
  }
  state->host = host;
  state->style.us = true;
  state->sources.box = state->units.box = sl_sandbox_box(L);
  sl_sandbox_own(L, state);
  lua_gc(L, LUA_GCINC, 400, 0, 0);         /* collect when the heap has grown fourfold: a larger one leaves caches; */
  lua_gc(L, LUA_GCSTEP, -FIRST_KIB);       /* and first when this much was asked for: most runs end before */
  lua_pushcfunction(L, open_host);
  if (lua_pcall(L, 0, 0, 0) == LUA_OK) return L;
  sl_host_close(L);
  return NULL;
}

void sl_host_close(lua_State *L) {
  struct sl_state *state = sl_state_of(L);
  if (state->leaving) state->leaving(L);
  sl_sandbox_close(L);                     /* and with it what the state has in its memory: texts, names of units */
  free(state);
}

int sl_host_call(lua_State *L, int nargs, int nresults) {
  int base = lua_gettop(L) - nargs;
  sl_sandbox_limit(L);
  lua_pushcfunction(L, sl_error_handler);
  lua_insert(L, base);
  int status = lua_pcall(L, nargs, nresults, base);
  lua_remove(L, base);
  if (status != LUA_OK || !sl_sandbox_abort(L)) return status;
  lua_settop(L, base - 1);                               /* somebody went on, though there was no memory */
  lua_pushnil(L);
  return LUA_ERRRUN;
}

static void worst_status(void *to, const struct sl_message *m) {
  int *status = to, own = (int)sl_exit_of(m->code);
  if (own > *status) *status = own;
}

/* Of several errors the worst. */
int sl_host_failure(lua_State *L) {
  if (sl_sandbox_abort(L)) return SL_RESOURCE;
  int status = SL_USAGE;
  sl_error_each(L, -1, worst_status, &status);
  return status;
}

static void report_one(void *to, const struct sl_message *m) {
  struct sl_state *state = sl_state_of(to);
  sl_message_print(stderr, &state->sources, m, state->host->format, state->host->colour);
}

void sl_host_report(lua_State *L) {
  sl_error_each(L, -1, report_one, L);
  lua_settop(L, 0);
}
