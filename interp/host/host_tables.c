/* SPDX-License-Identifier: MIT
 * The published tables, told to the host's own Lua: rows, columns for a schema's choices, citations of an edition. */
#include <lauxlib.h>
#include <math.h>
#include "host/host_parts.h"
#include "table.h"
#include "value/quantity.h"
#include "value/units.h"

static const char *const basis_words[] = {
  [SL_MEMORY] = "MEMORY", [SL_PRACTICE] = "PRACTICE", [SL_SECOND_HAND] = "READ-2ND", [SL_TAKEN_OVER] = "TAKEN",
  [SL_DERIVED] = "DERIVED", [SL_READ] = "READ",
};

static const struct sl_table *table_at(lua_State *L, int index) {
  const char *name = luaL_checkstring(L, index);
  const struct sl_table *t = sl_tables;
  while (t->name && !sl_same_text(t->name, name)) t++;
  if (!t->name) luaL_error(L, "there is no table '%s'", name);
  return t;
}

static const struct sl_column *column_at(lua_State *L, const struct sl_table *t, int index) {
  const char *name = luaL_checkstring(L, index);
  const struct sl_column *c = t->columns;
  while (c->name && !sl_same_text(c->name, name)) c++;
  if (!c->name) luaL_error(L, "the table '%s' has no column '%s'", t->name, name);
  return c;
}

/* "insulation_types.type": a table and one of its columns of texts. */
static const struct sl_column *text_column_at(lua_State *L, int index, const struct sl_table **table) {
  const char *path = luaL_checkstring(L, index), *dot = strchr(path, '.');
  const size_t n = dot ? (size_t)(dot - path) : 0;
  const struct sl_table *t = sl_tables;
  while (t->name && (strncmp(t->name, path, n) != 0 || t->name[n])) t++;
  const struct sl_column *c = t->name ? t->columns : NULL;
  while (c && c->name && strcmp(c->name, dot + 1) != 0) c++;
  if (!c || !c->name || c->kind != SL_COLUMN_TEXT) luaL_error(L, "no table has a column of texts '%s'", path);
  *table = t;
  return c;
}
static const char *text_of(const struct sl_table *t, const struct sl_column *c, size_t row) {
  return *(const char *const *)(const void *)((const unsigned char *)t->rows + row * t->size + c->offset);
}

/* in_column("TABLE.COLUMN", text) -> whether it stands there. */
static int in_column(lua_State *L) {
  const struct sl_table *t;
  const struct sl_column *c = text_column_at(L, 1, &t);
  const char *text = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "";
  bool found = false;
  for (size_t i = 0; *text && !found && i < t->nrows; i++) found = sl_same_text(text_of(t, c, i), text);
  lua_pushboolean(L, found);
  return 1;
}

/* A value of SI in the unit that the table declares, so that it prints as the page has it. */
static void push_real(lua_State *L, const char *in, double value) {
  struct sl_unit unit;
  struct sl_unit_error why;
  if (isnan(value)) lua_pushnil(L);
  else if (in && sl_unit_parse(in, strlen(in), &unit, &why))
    sl_quantity_push(L, (struct sl_quantity){ .si = value, .dims = unit.dims, .point = unit.point });
  else lua_pushnumber(L, value);
}

static void push_cell(lua_State *L, const struct sl_column *c, const unsigned char *row) {
  const void *at = row + c->offset;
  switch (c->kind) {
    case SL_COLUMN_TEXT: lua_pushstring(L, *(const char *const *)at); break;
    case SL_COLUMN_INT: lua_pushinteger(L, *(const int *)at); break;
    case SL_COLUMN_REAL: push_real(L, c->unit, *(const double *)at); break;
  }
}

static void push_row(lua_State *L, const struct sl_table *t, const unsigned char *row) {
  int columns = 1;                                         /* with `known` */
  while (t->columns[columns - 1].name) columns++;
  lua_createtable(L, 0, columns);
  for (const struct sl_column *c = t->columns; c->name; c++) {
    push_cell(L, c, row);
    lua_setfield(L, -2, c->name);
  }
  lua_newtable(L);
  for (int e = 0; e < SL_EDITIONS; e++)
    if (row[t->known + (size_t)e]) {
      lua_pushstring(L, basis_words[row[t->known + (size_t)e] - 1]);
      lua_setfield(L, -2, e ? sl_edition_rows[e].name : "");
    }
  lua_setfield(L, -2, "known");
}

/* table(name) -> { { column = value, ..., known = { ["NEC 2023"] = "READ", ... } }, ... }; nil where a cell is blank;
 * the key of `known` in a table of no code is "". */
static int whole_table(lua_State *L) {
  const struct sl_table *t = table_at(L, 1);
  lua_createtable(L, (int)t->nrows, 0);
  for (size_t i = 0; i < t->nrows; i++) {
    push_row(L, t, (const unsigned char *)t->rows + i * t->size);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

/* tables() -> { name, ... } */
static int table_names(lua_State *L) {
  lua_newtable(L);
  for (const struct sl_table *t = sl_tables; t->name; t++) {
    lua_pushstring(L, t->name);
    lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
  }
  return 1;
}

/* table_row(table, column, text) -> the first row with that text in that column, as of table(); nil for none. */
static int one_row(lua_State *L) {
  const struct sl_table *t = table_at(L, 1);
  const struct sl_column *c = column_at(L, t, 2);
  const char *text = luaL_checkstring(L, 3);
  for (size_t i = 0; c->kind == SL_COLUMN_TEXT && i < t->nrows; i++) {
    const unsigned char *row = (const unsigned char *)t->rows + i * t->size;
    if (!sl_same_text(*(const char *const *)(const void *)(row + c->offset), text)) continue;
    push_row(L, t, row);
    return 1;
  }
  return 0;
}

/* fact(key [, edition]) -> its value in its own unit, its name, where it stands, how it was come by; nil if it does not
 * stand there. */
static int fact(lua_State *L) {
  const char *name = luaL_optstring(L, 2, "");
  int edition = SL_NO_EDITION;
  for (int e = 1; e < SL_EDITIONS; e++)
    if (sl_same_text(sl_edition_rows[e].name, name)) edition = e;
  const struct sl_fact *f = sl_fact_in(luaL_checkstring(L, 1), edition);
  if (!f) return 0;
  push_real(L, strcmp(f->unit, "1") != 0 ? f->unit : NULL, f->value);
  lua_pushstring(L, f->name);
  lua_pushstring(L, sl_cite(f->cite, edition));
  lua_pushstring(L, sl_basis_name(sl_known_as(f->known, edition)));
  return 4;
}

/* column("TABLE.COLUMN") -> the texts of a column in the table's order, each once; blank cells left out. */
static int one_column(lua_State *L) {
  const struct sl_table *t;
  const struct sl_column *c = text_column_at(L, 1, &t);
  lua_settop(L, 2);
  lua_newtable(L);               /* the list */
  lua_newtable(L);               /* what is in it */
  const char *before = "";       /* like texts mostly stand together */
  for (size_t i = 0; i < t->nrows; i++) {
    const void *at = (const unsigned char *)t->rows + i * t->size + c->offset;
    const char *text = *(const char *const *)at;
    if (strcmp(text, before) == 0) continue;
    before = text;
    push_cell(L, c, (const unsigned char *)t->rows + i * t->size);
    lua_pushvalue(L, -1);
    if (*lua_tostring(L, -1) && lua_rawget(L, -3) == LUA_TNIL) {
      lua_pushvalue(L, -2);
      lua_rawseti(L, -5, (lua_Integer)lua_rawlen(L, -5) + 1);
      lua_pushvalue(L, -2);
      lua_pushboolean(L, 1);
      lua_rawset(L, -5);
    }
    lua_settop(L, 4);
  }
  lua_settop(L, 3);
  return 1;
}

/* editions(family) -> { "NEC 2017", ... }: of which rows are kept; of all families without one. */
static int editions(lua_State *L) {
  const char *family = luaL_optstring(L, 1, NULL);
  lua_newtable(L);
  for (int e = 1; e < SL_EDITIONS; e++)
    if (!family || strcmp(sl_edition_rows[e].family, family) == 0) {
      lua_pushstring(L, sl_edition_rows[e].name);
      lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
    }
  return 1;
}

/* currencies() -> { "USD", ... }: the codes of the table of units. */
static int currencies(lua_State *L) {
  lua_newtable(L);
  for (uint8_t i = 1; *sl_currency_code(i); i++) {
    lua_pushstring(L, sl_currency_code(i));
    lua_rawseti(L, -2, i);
  }
  return 1;
}

/* cited(key) -> the family of its code; cited(key, edition) -> the citation of that edition, nil where it has none. */
static int cited(lua_State *L) {
  const char *key = luaL_checkstring(L, 1), *edition = lua_tostring(L, 2);
  const struct sl_citation *c = sl_citations;
  while (c->key && !sl_same_text(c->key, key)) c++;
  for (int e = 1; c->key && e < SL_EDITIONS; e++) {
    if (!c->in[e] || (edition && !sl_same_text(sl_edition_rows[e].name, edition))) continue;
    lua_pushstring(L, edition ? c->in[e] : sl_edition_rows[e].family);
    return 1;
  }
  return 0;
}

/* stands_there(citation) -> what a composed citation is of, in words; nil of a text that is none. */
static int stands_there(lua_State *L) {
  const char *text = luaL_checkstring(L, 1);
  for (const struct sl_citation *c = sl_citations; c->key; c++)
    for (int e = 1; e < SL_EDITIONS; e++)
      if (c->in[e] && sl_same_text(c->in[e], text)) {
        lua_pushstring(L, c->says);
        return 1;
      }
  return 0;
}

const luaL_Reg sl_host_tables[] = {
  { "table", whole_table }, { "tables", table_names }, { "table_row", one_row }, { "fact", fact },
  { "column", one_column }, { "in_column", in_column }, { "editions", editions }, { "cited", cited },
  { "stands_there", stands_there },
  { "currencies", currencies }, { NULL, NULL },
};
