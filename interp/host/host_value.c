/* SPDX-License-Identifier: MIT
 * Quantities for the host's Lua: what kind they are, and how they print. */
#include <ctype.h>
#include <math.h>
#include <string.h>
#include "host/alike.h"
#include "host/host_parts.h"
#include "host/state.h"
#include "value/quantity.h"
#include "host/raise.h"
#include "host/text.h"
#include "box/sandbox.h"

/* ---- values ------------------------------------------------------------------------------------------------------ */

/* The name that a value's exponents have, which are those of a moment and of an energy, is that of a moment. */
static int dim_by_name(const char *name) {
  for (int d = 0; d < SL_DIM_COUNT; d++) {
    const char *known = sl_dim_name((enum sl_dim)d);
    if (*known == *name && strcmp(known, name) == 0) return d;
  }
  char either[80];                               /* how the dimension of a value that may be one or the other is told */
  return strcmp(sl_dims_name(sl_dim_dims(SL_MOMENT), false, either, sizeof either), name) == 0 ? SL_MOMENT : -1;
}

static enum sl_dim dim_argument(lua_State *L, int idx) {
  const char *name = luaL_checkstring(L, idx);
  int d = dim_by_name(name);
  if (d < 0) luaL_error(L, "no dimension '%s'", name);
  return (enum sl_dim)d;
}

static int h_is(lua_State *L) {
  enum sl_dim dim = dim_argument(L, 2);
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  bool yes = q ? q->dims.w == sl_dim_dims(dim).w && (q->point != 0) == (dim == SL_TEMPERATURE)
               : lua_type(L, 1) == LUA_TNUMBER && sl_dim_dims(dim).w == 0;
  lua_pushboolean(L, yes);
  return 1;
}

static int h_is_quantity(lua_State *L) {
  lua_pushboolean(L, sl_quantity_at(L, 1) != NULL);
  return 1;
}

static int h_example(lua_State *L) {
  lua_pushstring(L, sl_dim_example(dim_argument(L, 1)));
  return 1;
}

/* dims() -> the names of all dimensions, in the order of their table. */
static int h_dims(lua_State *L) {
  lua_createtable(L, SL_DIM_COUNT, 0);
  for (int d = 0; d < SL_DIM_COUNT; d++) {
    lua_pushstring(L, sl_dim_name((enum sl_dim)d));
    lua_rawseti(L, -2, d + 1);
  }
  return 1;
}

static int h_describe(lua_State *L) {
  char text[256];
  lua_settop(L, 1);
  if (lua_istable(L, 1) && luaL_getmetafield(L, 1, "__name") == LUA_TSTRING) {
    lua_pushfstring(L, "%s %s", sl_article(lua_tostring(L, -1)), lua_tostring(L, -1));
    return 1;
  }
  sl_describe_value(L, 1, text, sizeof text);
  lua_pushstring(L, text);
  return 1;
}

static double si_of(lua_State *L, int idx) {
  const struct sl_quantity *q = sl_quantity_at(L, idx);
  return q ? q->si : luaL_checknumber(L, idx);
}

static int h_si(lua_State *L) { lua_pushnumber(L, si_of(L, 1)); return 1; }
static int h_near(lua_State *L) { lua_pushboolean(L, sl_equal(si_of(L, 1), si_of(L, 2))); return 1; }
static int h_size(lua_State *L) { lua_pushnumber(L, fabs(si_of(L, 1))); return 1; }

static int h_abs(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) lua_pushnumber(L, fabs(luaL_checknumber(L, 1)));
  else {
    struct sl_quantity r = *q;
    r.si = fabs(r.si);
    sl_quantity_push(L, r);
  }
  return 1;
}

static int h_same_kind(lua_State *L) {
  const struct sl_quantity *a = sl_quantity_at(L, 1), *b = sl_quantity_at(L, 2);
  lua_pushboolean(L, a && b && sl_same_kind(a, b) && a->point == b->point);
  return 1;
}

static int h_same(lua_State *L) {
  const struct sl_quantity *a = sl_quantity_at(L, 1), *b = sl_quantity_at(L, 2);
  if (a && b)
    lua_pushboolean(L, a->dims.w == b->dims.w && a->point == b->point && a->currency == b->currency &&
                       sl_equal(a->si, b->si));
  else if (lua_type(L, 1) == LUA_TNUMBER && lua_type(L, 2) == LUA_TNUMBER)
    lua_pushboolean(L, sl_equal(lua_tonumber(L, 1), lua_tonumber(L, 2)));
  else lua_pushboolean(L, lua_rawequal(L, 1, 2));
  return 1;
}

/* alike(a, b): see sl_alike. */
static int h_alike(lua_State *L) {
  lua_settop(L, 2);
  lua_pushboolean(L, sl_alike(L, 1, 2));
  return 1;
}

static int h_quantity(lua_State *L) {
  double si = luaL_checknumber(L, 1);
  enum sl_dim dim = dim_argument(L, 2);
  sl_quantity_push(L, (struct sl_quantity){ .si = si, .dims = sl_dim_dims(dim), .point = dim == SL_TEMPERATURE });
  return 1;
}

/* like(q, si): another amount of the same kind and unit. */
static int h_like(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) {
    lua_settop(L, 2);
    return 1;
  }
  struct sl_quantity r = *q;
  r.si = luaL_checknumber(L, 2);
  r.origin = 0;
  sl_quantity_push(L, r);
  return 1;
}

/* literal(text) -> value[, tolerance], or nil, what is wrong, help, column. */
static int h_literal(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  sl_sandbox_charge(L, (long long)n);
  struct sl_const k;
  struct sl_complaint bad;
  if (!sl_scan_literal(text, n, &k, &bad)) {
    lua_pushnil(L);
    lua_pushstring(L, bad.text);
    lua_pushstring(L, bad.help);
    lua_pushinteger(L, bad.span.col);
    return 4;
  }
  sl_const_push(L, &k, 0);
  if (!(k.tolerance > 0)) return 1;
  sl_tolerance_push(L, &k);
  return 2;
}

/* is_unit(word) -> whether a number may stand before it: 1 psf, 1 AWG.  Most words are told from a unit by their first
 * letters, and nobody wants to know what was surely meant. */
static int h_is_unit(lua_State *L) {
  size_t n;
  const char *word = luaL_checklstring(L, 1, &n);
  const size_t symbol = sl_unit_symbol(word, n);
  const bool letters = symbol && isalpha((unsigned char)*word);
  struct sl_const k;
  struct sl_complaint bad;
  if (letters && !sl_unit_known(word, symbol) && strncmp(word, "AWG", symbol) != 0) lua_pushboolean(L, false);
  else {
    lua_pushfstring(L, "1%s", word);
    const char *text = lua_tolstring(L, -1, &n);
    sl_sandbox_charge(L, (long long)n);
    lua_pushboolean(L, sl_scan_literal(text, n, &k, &bad));
  }
  return 1;
}

static int h_wire(lua_State *L) {
  struct sl_wire w;
  size_t n;
  if (sl_wire_at(L, 1)) lua_pushvalue(L, 1);
  else if (lua_type(L, 1) == LUA_TSTRING) {
    const char *text = lua_tolstring(L, 1, &n);
    if (!sl_wire_parse(text, n, &w)) return 0;
    sl_wire_push(L, &w);
  } else return 0;
  return 1;
}

/* ---- printing ---------------------------------------------------------------------------------------------------- */

/* style{ us, fraction }: how the job prints. */
static int h_style(lua_State *L) {
  struct sl_style *style = &sl_state_of(L)->style;
  lua_getfield(L, 1, "us");
  style->us = lua_toboolean(L, -1);
  lua_getfield(L, 1, "fraction");
  style->fraction = (int)lua_tointeger(L, -1);
  return 0;
}

/* format(value[, unit[, digits[, decimal]]]).  In a job with fractions a length in "in" has no feet, and one with
 * `decimal` neither feet nor fractions. */
static int h_format(lua_State *L) {
  enum { A_TEXT = 60 };
  char text[160];
  sl_sandbox_charge(L, A_TEXT);
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  const struct sl_wire *w = sl_wire_at(L, 1);
  const char *unit = luaL_optstring(L, 2, NULL);
  struct sl_style style = sl_state_of(L)->style;
  style.digits = (int)luaL_optinteger(L, 3, 4);
  if (lua_toboolean(L, 4)) style.fraction = 0;
  if (w) {
    sl_describe_value(L, 1, text, sizeof text);
    char *open = strstr(text, " (");
    if (open) *open = 0;
  } else if (q && unit && !q->currency && !(style.fraction && q->dims.w == sl_dim_dims(SL_LENGTH).w)) {
    sl_format_in(text, sizeof text, q->si, unit, style.digits);
  } else if (q) {
    style.written = unit && !q->currency ? unit : sl_written(L, q);
    style.inches_only = unit && strcmp(unit, "in") == 0;
    sl_format(text, sizeof text, q, &style);
  } else if (lua_type(L, 1) == LUA_TNUMBER) {
    if (unit) sl_format_in(text, sizeof text, lua_tonumber(L, 1), unit, style.digits);
    else sl_format_number(text, sizeof text, lua_tonumber(L, 1), style.digits);
  } else {
    lua_pushstring(L, sl_sandbox_tostring(L, 1, NULL));
    return 1;
  }
  lua_pushstring(L, text);
  return 1;
}

/* feet(length[, denominator[, inches only]]): 8 ft 11-3/8 in. */
static int h_feet(lua_State *L) {
  char text[96];
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  luaL_argcheck(L, q && q->dims.w == sl_dim_dims(SL_LENGTH).w, 1, "a length");
  struct sl_style style = { .us = true, .fraction = (int)luaL_optinteger(L, 2, 8), .inches_only = lua_toboolean(L, 3) };
  sl_format(text, sizeof text, q, &style);
  lua_pushstring(L, text);
  return 1;
}

/* Digits at which two values print apart. */
static int h_digits_apart(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  struct sl_unit u = { .factor = 1 };
  struct sl_unit_error err;
  const char *unit = lua_type(L, 3) == LUA_TSTRING ? lua_tostring(L, 3) : q ? sl_written(L, q) : "";
  if (*unit && strcmp(unit, "ft-in") != 0 && !(q && q->currency)) sl_unit_parse(unit, strlen(unit), &u, &err);
  lua_pushinteger(L, sl_digits_apart(si_of(L, 1), si_of(L, 2), u.factor, u.offset));
  return 1;
}

/* SI value, unit text, for machine output. */
static int h_unit(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) return 0;
  char name[80];
  lua_pushstring(L, sl_dims_name(q->dims, q->point, name, sizeof name));
  lua_pushstring(L, sl_written(L, q));
  lua_pushstring(L, q->currency ? sl_currency_code(q->currency) : "");
  return 3;
}

/* customary(unit) -> boolean */
static int h_customary(lua_State *L) {
  lua_pushboolean(L, sl_unit_customary(luaL_checkstring(L, 1)));
  return 1;
}

/* units() -> the unit table's rows. */
static int h_units(lua_State *L) {
  const struct sl_unit_row *rows;
  size_t n = sl_unit_rows(&rows);
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_createtable(L, 0, 6);
    sl_error_field(L, "symbol", rows[i].symbol);
    sl_error_field(L, "aliases", rows[i].aliases);
    sl_error_field(L, "name", rows[i].name);
    sl_error_field(L, "definition", rows[i].definition);
    sl_error_field(L, "refused", rows[i].refused);
    sl_error_field(L, "system", rows[i].system);
    sl_error_field(L, "dimension", rows[i].dimension);
    sl_error_field(L, "source", rows[i].source);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

const luaL_Reg sl_host_values[] = {
  { "is", h_is }, { "is_quantity", h_is_quantity }, { "example", h_example }, { "dims", h_dims },
  { "describe", h_describe },
  { "si", h_si }, { "near", h_near },
  { "size", h_size }, { "abs", h_abs }, { "same_kind", h_same_kind },
  { "same", h_same }, { "alike", h_alike }, { "quantity", h_quantity }, { "like", h_like },
  { "literal", h_literal }, { "is_unit", h_is_unit }, { "wire", h_wire },
  { "style", h_style }, { "format", h_format }, { "feet", h_feet },
  { "digits_apart", h_digits_apart }, { "unit", h_unit }, { "customary", h_customary }, { "units", h_units },
  { NULL, NULL },
};
