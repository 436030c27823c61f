/* SPDX-License-Identifier: MIT
 * Where things stand in the person's text: heads, fields, literals, words. */
#include <string.h>
#include "host/host_parts.h"
#include "scan/places.h"
#include "value/quantity.h"
#include "host/raise.h"
#include "host/state.h"

/* ---- marks of the scanner ---------------------------------------------------------------------------------------- */

/* A text, and the marks in it. */
struct page { struct sl_sources *sources; int id; const struct sl_scan *scan; const char *text; };

static const struct sl_scan unread;

static struct page page_of(lua_State *L, lua_Integer id) {
  struct sl_sources *sources = &sl_state_of(L)->sources;
  const struct sl_scan *scan = id > 0 && id <= SL_SOURCES ? sl_source_scan(sources, (int)id) : NULL;
  if (!scan) return (struct page){ sources, 0, &unread, "" };
  size_t n;
  return (struct page){ sources, (int)id, scan, sl_source_text(sources, (int)id, &n) };
}

static bool has_mark(const struct page *page, lua_Integer mark) {
  return mark >= 0 && (size_t)mark < page->scan->nmark;
}

/* The key on top, of the table that opens at a mark: the mark of its field; -1. */
static int entry_of(lua_State *L, const struct page *page, int open) {
  return lua_type(L, -1) == LUA_TSTRING ? sl_place_key(page->scan, page->text, open, lua_tostring(L, -1))
                                        : sl_place_item(page->scan, open, lua_tointeger(L, -1));
}

/* ---- places ------------------------------------------------------------------------------------------------------ */

static void push_span(lua_State *L, int source, struct sl_span s) {
  lua_createtable(L, 0, 4);
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
  lua_pushinteger(L, s.line);
  lua_setfield(L, -2, "line");
  lua_pushinteger(L, s.col);
  lua_setfield(L, -2, "col");
  lua_pushinteger(L, s.len);
  lua_setfield(L, -2, "len");
}

static int h_where(lua_State *L) {
  int source = 0, line = 0;
  sl_where(L, &source, &line);
  lua_pushinteger(L, source);
  lua_pushinteger(L, line);
  return 2;
}

static int h_head(lua_State *L) {
  const struct page page = page_of(L, luaL_checkinteger(L, 1));
  const int line = (int)luaL_checkinteger(L, 2);
  lua_pushinteger(L, sl_place_head(page.scan, page.text, line, luaL_checkstring(L, 3), luaL_optstring(L, 4, NULL)));
  return 1;
}

/* span(source, head mark, line, path, key only): the place of a field, or of the nearest thing around it. */
static int h_span(lua_State *L) {
  int source = (int)luaL_checkinteger(L, 1), mark = (int)luaL_checkinteger(L, 2), line = (int)luaL_checkinteger(L, 3);
  bool key_only = lua_toboolean(L, 5);
  const struct page page = page_of(L, source);
  struct sl_span span = { line, 1, 0 };
  if (has_mark(&page, mark)) {
    span = page.scan->mark[mark].span;
    size_t n = lua_rawlen(L, 4);
    int holder = mark;
    for (size_t i = 1; i <= n; i++) {
      int open = sl_place_open(page.scan, holder);
      if (open < 0) break;
      lua_rawgeti(L, 4, (lua_Integer)i);
      int entry = entry_of(L, &page, open);
      lua_pop(L, 1);
      if (entry < 0) break;
      const struct sl_mark *m = &page.scan->mark[entry];
      span = key_only || m->kind == SL_MARK_ITEM || m->value.len == 0 ? m->span : m->value;
      if (m->kind == SL_MARK_ITEM && m->value.len) span = m->value;
      holder = entry;
    }
  } else if (source > 0) {
    size_t n;
    const char *text = sl_source_line(page.sources, source, line, &n);
    size_t from = 0;
    while (text && from < n && (text[from] == ' ' || text[from] == '\t')) from++;
    span = (struct sl_span){ line, (int)from + 1, text ? (int)(n - from) : 0 };
  }
  push_span(L, source, span);
  return 1;
}

static void set_byte(lua_State *L, const char *name, size_t at) {
  lua_pushinteger(L, (lua_Integer)at);
  lua_setfield(L, -2, name);
}

/* The braces of a table, and where its fields stand, into the table on top. */
static void put_table(lua_State *L, const struct page *page, int open) {
  lua_Integer n = 0;
  set_byte(L, "open", page->scan->mark[open].from + 1);
  lua_newtable(L);
  for (size_t i = 0; i < page->scan->nmark; i++) {
    const struct sl_mark *m = &page->scan->mark[i];
    if (m->parent != open || (m->kind != SL_MARK_KEY && m->kind != SL_MARK_ITEM)) continue;
    lua_createtable(L, 0, 3);
    set_byte(L, "at", m->at + 1);
    set_byte(L, "from", m->from + 1);
    set_byte(L, "to", m->to);
    lua_rawseti(L, -2, ++n);
  }
  lua_setfield(L, -2, "fields");
  const int close = sl_place_close(page->scan, open);
  if (close >= 0) set_byte(L, "close", page->scan->mark[close].from + 1);
}

/* field(source, head mark, path) -> { found, from, to, open, close, fields = { { at, from, to } ... } }: how many keys
 * of the path stand there; the bytes of the value of the last of these; of the table that it is, or that the head has,
 * the braces and the fields, each from where it begins and with its value. Bytes as string.sub counts them. nil: the
 * head is in no text. */
static int h_field(lua_State *L) {
  const struct page page = page_of(L, luaL_checkinteger(L, 1));
  const lua_Integer head = luaL_checkinteger(L, 2);
  luaL_checktype(L, 3, LUA_TTABLE);
  if (!has_mark(&page, head)) return 0;
  lua_createtable(L, 0, 6);
  int open = sl_place_open(page.scan, (int)head);
  lua_Integer found = 0;
  const lua_Integer n = (lua_Integer)lua_rawlen(L, 3);
  while (found < n && open >= 0) {
    lua_rawgeti(L, 3, found + 1);
    const int entry = entry_of(L, &page, open);
    lua_pop(L, 1);
    if (entry < 0) break;
    found++;
    set_byte(L, "from", page.scan->mark[entry].from + 1);
    set_byte(L, "to", page.scan->mark[entry].to);
    open = sl_place_open(page.scan, entry);
  }
  set_byte(L, "found", (size_t)found);
  if (open >= 0) put_table(L, &page, open);
  return 1;
}

static int h_origin(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  int source = 0;
  const struct sl_const *k = q && q->origin ? sl_origin_const(L, q->origin, &source) : NULL;
  if (!k) return 0;
  push_span(L, source, k->span);
  if (k->tolerance > 0) {
    sl_tolerance_push(L, k);
    lua_setfield(L, -2, "tolerance");
  }
  return 1;
}

/* tolerance(q) -> what was written behind it as +- so much, or nothing. */
static int h_tolerance(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  int source = 0;
  const struct sl_const *k = q && q->origin ? sl_origin_const(L, q->origin, &source) : NULL;
  if (!k || !(k->tolerance > 0)) return 0;
  sl_tolerance_push(L, k);
  return 1;
}

/* tolerant() -> whether any text that was read has a tolerance in it: a value whose origin has one comes from there. */
static int h_tolerant(lua_State *L) {
  const struct sl_sources *all = &sl_state_of(L)->sources;
  bool any = false;
  for (int i = 0; !any && i < all->n; i++) {
    const struct sl_scan *scan = &all->list[i].scan;
    for (size_t k = 0; !any && k < scan->nk; k++) any = scan->k[k].tolerance > 0;
  }
  lua_pushboolean(L, any);
  return 1;
}

static int integer_of(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  int n = (int)lua_tointeger(L, -1);
  lua_pop(L, 1);
  return n;
}

static int h_place(lua_State *L) {
  int source = integer_of(L, 1, "source"), line = integer_of(L, 1, "line"), col = integer_of(L, 1, "col");
  const char *name = source ? sl_source_name(&sl_state_of(L)->sources, source) : NULL;
  if (!name) lua_pushliteral(L, "the command line");
  else if (!line) lua_pushstring(L, name);
  else lua_pushfstring(L, "%s:%d:%d", name, line, col);
  return 1;
}

/* word(source, line, word): its place on the line. */
static int h_word(lua_State *L) {
  int source = (int)luaL_checkinteger(L, 1), line = (int)luaL_checkinteger(L, 2);
  push_span(L, source, sl_find_word(L, source, line, luaL_checkstring(L, 3)));
  return 1;
}

/* character(source, line, column): the same column counted in characters, not bytes. */
static int h_character(lua_State *L) {
  size_t n;
  lua_Integer column = luaL_checkinteger(L, 3), characters = 1;
  const char *text = sl_source_line(&sl_state_of(L)->sources, (int)luaL_checkinteger(L, 1),
                                    (int)luaL_checkinteger(L, 2), &n);
  for (lua_Integer i = 0; text && i < column - 1 && i < (lua_Integer)n; i++)
    characters += ((unsigned char)text[i] & 0xC0) != 0x80;
  lua_pushinteger(L, characters);
  return 1;
}

const luaL_Reg sl_host_places[] = {
  { "where", h_where }, { "head", h_head }, { "span", h_span }, { "field", h_field }, { "origin", h_origin },
  { "tolerance", h_tolerance }, { "tolerant", h_tolerant },
  { "place", h_place }, { "word", h_word }, { "character", h_character }, { NULL, NULL },
};
