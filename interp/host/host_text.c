/* SPDX-License-Identifier: MIT
 * Texts for the host's Lua: made safe to show, looked at for what cannot be shown, printed for a script. */
#include <string.h>
#include "box/sandbox.h"
#include "host/host.h"
#include "host/host_parts.h"
#include "host/nearest.h"
#include "host/raise.h"
#include "host/text.h"
#include "value/quantity.h"

/* ---- what a person sees ------------------------------------------------------------------------------------------- */

/* The text at idx, or the same made safe in its place. */
static const char *made_safe(lua_State *L, int idx, size_t *n) {
  idx = lua_absindex(L, idx);
  const char *text = luaL_checklstring(L, idx, n);
  if (sl_unsafe(text, *n) == *n) return text;
  luaL_Buffer b;
  const size_t room = 4 * *n + 1;
  char *safe = luaL_buffinitsize(L, &b, room);
  luaL_pushresultsize(&b, sl_safe(safe, room, text, *n));
  lua_replace(L, idx);
  return lua_tolstring(L, idx, n);
}

/* safe(text): the text as a person may see it; every writer puts out nothing else. */
static int h_safe(lua_State *L) {
  size_t n;
  lua_settop(L, 1);
  made_safe(L, 1, &n);
  return 1;
}

/* unsafe(text): nil, or what first stands in it that cannot be shown, and how to mend it. */
static int h_unsafe(lua_State *L) {
  char what[400];
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n), *help = sl_unsafe_words(what, sizeof what, text, n);
  if (!help) return 0;
  lua_pushstring(L, what);
  lua_pushstring(L, help);
  return 2;
}

/* columns(text): what it takes on a page, made safe. */
static int h_columns(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  lua_pushinteger(L, sl_columns(text, n));
  return 1;
}

static int h_nearest(lua_State *L) {
  const char *word = luaL_checkstring(L, 1);
  size_t n = lua_rawlen(L, 2);
  const char **list = lua_newuserdatauv(L, (n + 1) * sizeof *list, 0);
  size_t names = 0;
  for (size_t i = 0; i < n; i++) {
    if (lua_rawgeti(L, 2, (lua_Integer)i + 1) == LUA_TSTRING) list[names++] = lua_tostring(L, -1);     /* the table's */
    lua_pop(L, 1);
  }
  const char *near = sl_nearest(word, list, names);
  if (!near) return 0;
  lua_pushstring(L, near);
  return 1;
}

/* ---- what a script prints ----------------------------------------------------------------------------------------- */

/* One value as text on top of the stack: quantities as the job prints them. */
static void push_shown(lua_State *L, int idx) {
  if (!sl_quantity_at(L, idx)) {
    sl_sandbox_tostring(L, idx, NULL);
    return;
  }
  lua_getglobal(L, "host");
  lua_getfield(L, -1, "format");
  lua_pushvalue(L, idx);
  lua_call(L, 1, 1);
  lua_remove(L, -2);
}

static void print_line(const struct sl_host *host, int source, int line, const char *text) {
  const struct sl_message m = { .severity = SL_PRINT, .text = text, .source = source, .span = { line, 0, 0 } };
  sl_message_print(stderr, &m, host->format == SL_JSON ? SL_JSON : SL_GNU, false);
}

/* print(...): on standard error, every line with the place of the call, so that nothing that a script prints can be
 * taken for a report or a verdict. */
static int h_print(lua_State *L) {
  int n = lua_gettop(L), source = 0, line = 0;
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  for (int i = 1; i <= n; i++) {
    if (i > 1) luaL_addchar(&b, ' ');
    push_shown(L, i);
    luaL_addvalue(&b);
  }
  luaL_pushresult(&b);
  sl_where(L, &source, &line);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &sl_host_key);
  const struct sl_host *host = lua_touserdata(L, -1);
  size_t length;
  const char *text = lua_tolstring(L, n + 1, &length), *end = text + length;
  for (;;) {
    const char *stop = memchr(text, '\n', (size_t)(end - text));
    size_t bytes;
    lua_pushlstring(L, text, (size_t)((stop ? stop : end) - text));
    print_line(host, source, line, made_safe(L, -1, &bytes));
    lua_pop(L, 1);
    if (!stop || stop + 1 == end) return 0;    /* a last line end begins no line of its own */
    text = stop + 1;
  }
}

const luaL_Reg sl_host_texts[] = {
  { "safe", h_safe }, { "unsafe", h_unsafe }, { "columns", h_columns }, { "nearest", h_nearest }, { "print", h_print },
  { NULL, NULL },
};
