/* SPDX-License-Identifier: MIT
 * Texts for the host's Lua: the columns they take, padding, and lines of a given width. */
#include <string.h>
#include "host/host_parts.h"
#include "host/text.h"

static bool ascii(const char *text, size_t n) {
  for (size_t i = 0; i < n; i++)
    if ((unsigned char)text[i] >= 0x80) return false;
  return true;
}

static int columns_of(const char *text, size_t n) { return ascii(text, n) ? (int)n : sl_columns(text, n); }

static int h_columns(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  lua_pushinteger(L, columns_of(text, n));
  return 1;
}

/* pad(text, width[, right]): blanks up to the width, behind it or in front. */
static int h_pad(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  const lua_Integer missing = luaL_checkinteger(L, 2) - columns_of(text, n);
  if (missing <= 0) {
    lua_settop(L, 1);
    return 1;
  }
  luaL_Buffer b;
  char *to = luaL_buffinitsize(L, &b, n + (size_t)missing);
  const bool right = lua_toboolean(L, 3);
  memset(right ? to : to + n, ' ', (size_t)missing);
  memcpy(right ? to + missing : to, text, n);
  luaL_pushresultsize(&b, n + (size_t)missing);
  return 1;
}

/* The byte behind as many characters from `at` as `width` columns hold. */
static size_t reach(const char *text, size_t n, size_t at, lua_Integer width) {
  while (at < n && width > 0) {
    uint32_t point;
    size_t k = (unsigned char)text[at] < 0x80 ? 1 : sl_utf8(text + at, n - at, &point);
    if (k == 0) k = 1;
    width -= sl_columns(text + at, k);
    at += k;
  }
  while (at < n && sl_columns(text + at, 1) == 0) at++;
  return at;
}

/* Where a word that is too long is broken: behind a stroke or a stop, if there is one near the end. */
static size_t within_word(const char *text, size_t at, size_t stop) {
  const size_t half = at + (stop - at) / 2;
  for (size_t cut = stop; cut > half; cut--)
    if (strchr("/._:,-", text[cut - 1])) return cut;
  return stop;
}

/* Whether the blank at `at` must not be broken: only asked where a number or feet stand before it. */
static bool bound(lua_State *L, const char *text, size_t at) {
  if (at == 0) return false;
  const char before = text[at - 1];
  if (!(before >= '0' && before <= '9') && before != 't') return false;
  lua_pushvalue(L, 3);
  lua_pushvalue(L, 1);
  lua_pushinteger(L, (lua_Integer)at + 1);
  lua_call(L, 2, 1);
  const bool yes = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return yes;
}

/* wrap(text, width, bound) -> lines of at most width columns, broken at blanks; bound(text, at) says which blanks are
 * none to break at. A word that is longer than a line is broken anywhere. */
static int h_wrap(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  lua_Integer width = luaL_checkinteger(L, 2);
  if (width < 1) width = 1;
  const bool plain = ascii(text, n);
  lua_settop(L, 3);
  lua_newtable(L);
  lua_Integer lines = 0;
  size_t at = 0;
  for (;;) {
    const size_t stop = plain ? (n - at <= (size_t)width ? n : at + (size_t)width) : reach(text, n, at, width);
    if (stop >= n) break;
    size_t cut = stop;
    while (cut > at && (text[cut] != ' ' || bound(L, text, cut))) cut--;
    if (cut == at) cut = within_word(text, at, stop);
    lua_pushlstring(L, text + at, cut - at);
    lua_rawseti(L, 4, ++lines);
    at = cut;
    while (at < n && text[at] == ' ') at++;
  }
  if (at < n || lines == 0) {
    lua_pushlstring(L, text + at, n - at);
    lua_rawseti(L, 4, ++lines);
  }
  return 1;
}

const luaL_Reg sl_host_texts[] = {
  { "columns", h_columns }, { "pad", h_pad }, { "wrap", h_wrap }, { NULL, NULL },
};
