/* SPDX-License-Identifier: MIT
 * Quantities in Lua: arithmetic that knows dimensions, points and differences, and money. */
#include "value/quantity.h"

#include <lauxlib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "box/sandbox.h"
#include "host/raise.h"
#include "host/state.h"
#include "host/text.h"

/* ---- origins ----------------------------------------------------------------------------------------------------- */

const struct sl_const *sl_origin_const(lua_State *L, uint32_t origin, int *source) {
  size_t id = origin >> 24, index = origin & 0xffffff;
  const struct sl_scan *scan = sl_source_scan(&sl_state_of(L)->sources, (int)id);
  if (!scan || !index || index > scan->nk) return NULL;
  if (source) *source = (int)id;
  return &scan->k[index - 1];
}

/* ---- pushing and taking ------------------------------------------------------------------------------------------ */

/* A quantity and a wire size begin with an address of the program.  No script has a say in what the first word of any
 * userdata is, so they are known by it: quicker than by a metatable. */
static const char QUANTITY = 'q', WIRE = 'w';
struct held_quantity { const char *kind; struct sl_quantity q; };
struct held_wire { const char *kind; struct sl_wire wire; };

const struct sl_quantity *sl_quantity_at(lua_State *L, int idx) {
  if (lua_type(L, idx) != LUA_TUSERDATA) return NULL;
  const struct held_quantity *p = lua_touserdata(L, idx);
  return p->kind == &QUANTITY ? &p->q : NULL;
}

const struct sl_wire *sl_wire_at(lua_State *L, int idx) {
  if (lua_type(L, idx) != LUA_TUSERDATA) return NULL;
  const struct held_wire *p = lua_touserdata(L, idx);
  return p->kind == &WIRE ? &p->wire : NULL;
}

const char *sl_written(lua_State *L, const struct sl_quantity *q) {
  return sl_unit_text(&sl_state_of(L)->units, q->hint);
}

uint16_t sl_hint(lua_State *L, const char *unit) {
  return sl_unit_intern(&sl_state_of(L)->units, unit, strlen(unit));
}

void sl_quantity_push(lua_State *L, struct sl_quantity q) {
  if (q.dims.w == 0) {
    lua_pushnumber(L, q.si);
    return;
  }
  struct held_quantity *p = lua_newuserdatauv(L, sizeof *p, 0);
  *p = (struct held_quantity){ &QUANTITY, q };
  lua_rawgeti(L, LUA_REGISTRYINDEX, sl_state_of(L)->quantity_meta);
  lua_setmetatable(L, -2);
}

void sl_wire_push(lua_State *L, const struct sl_wire *wire) {
  struct held_wire *p = lua_newuserdatauv(L, sizeof *p, 0);
  *p = (struct held_wire){ &WIRE, *wire };
  lua_rawgeti(L, LUA_REGISTRYINDEX, sl_state_of(L)->wire_meta);
  lua_setmetatable(L, -2);
}

void sl_const_push(lua_State *L, const struct sl_const *k, uint32_t origin) {
  if (k->kind == SL_CONST_WIRE) {
    sl_wire_push(L, &k->wire);
    return;
  }
  sl_quantity_push(L, (struct sl_quantity){ .si = k->si, .dims = k->unit.dims, .hint = sl_hint(L, k->written),
                                            .currency = k->unit.currency, .point = k->unit.point, .origin = origin });
}

void sl_tolerance_push(lua_State *L, const struct sl_const *k) {
  const char *unit = k->unit.point ? "K" : k->written;         /* of a temperature a difference, as in subtraction */
  sl_quantity_push(L, (struct sl_quantity){ .si = k->tolerance, .dims = k->unit.dims, .hint = sl_hint(L, unit),
                                            .currency = k->unit.currency });
}

/* ---- words ------------------------------------------------------------------------------------------------------- */

static void plain(lua_State *L, const struct sl_quantity *q, char *to, size_t size) {
  sl_format(to, size, q, &(struct sl_style){ .us = true, .digits = 6, .written = sl_written(L, q) });
}

static void name_of(const struct sl_quantity *q, char *to, size_t size) {
  char name[80];
  if (q->currency) sl_say(to, size, "%s", "money");
  else sl_say(to, size, "%s", sl_dims_name(q->dims, q->point, name, sizeof name));
}

static const char *wire_unit(const struct sl_wire *w) {
  return w->metric ? "mm2" : atoi(w->size) >= 250 ? "kcmil" : "AWG";
}

static const char *endless(double number) {
  return isnan(number) ? "no number, as 0/0 gives it" : "a number without end, as 1/0 gives it";
}

void sl_describe_value(lua_State *L, int idx, char *to, size_t size) {
  const struct sl_quantity *q = sl_quantity_at(L, idx);
  const struct sl_wire *w = sl_wire_at(L, idx);
  char text[96], name[80];
  if (q) {
    plain(L, q, text, sizeof text);
    name_of(q, name, sizeof name);
    sl_say(to, size, "%s (%s)", isfinite(q->si) ? text : endless(q->si), name);
  } else if (w) sl_say(to, size, "%s %s (wire size)", w->size, wire_unit(w));
  else if (lua_type(L, idx) == LUA_TNUMBER) {
    const double number = lua_tonumber(L, idx);
    sl_format_number(text, sizeof text, number, 10);
    if (isfinite(number)) sl_say(to, size, "%s (a bare number)", text);
    else sl_say(to, size, "%s", endless(number));
  } else if (lua_type(L, idx) == LUA_TSTRING) {
    size_t n;
    const char *words = lua_tolstring(L, idx, &n);
    char shown[4 * 60 + 1];
    sl_safe(shown, sizeof shown, words, sl_whole(words, n, 60));
    sl_say(to, size, "the text \"%s\"", shown);
  } else if (lua_isboolean(L, idx)) sl_say(to, size, "%s", lua_toboolean(L, idx) ? "true" : "false");
  else if (lua_isnoneornil(L, idx)) sl_say(to, size, "nothing");
  else if (luaL_getmetafield(L, idx, "__name") == LUA_TSTRING) {
    sl_say(to, size, "%s %s", sl_article(lua_tostring(L, -1)), lua_tostring(L, -1));
    lua_pop(L, 1);
  } else sl_say(to, size, "%s %s", sl_article(luaL_typename(L, idx)), luaL_typename(L, idx));
}

/* ---- arithmetic -------------------------------------------------------------------------------------------------- */

bool sl_same_kind(const struct sl_quantity *a, const struct sl_quantity *b) {
  return a->dims.w == b->dims.w && (!a->currency || !b->currency || a->currency == b->currency);
}

static void label(lua_State *L, const struct sl_quantity *q, int source) {
  int from = 0;
  const struct sl_const *k = sl_origin_const(L, q->origin, &from);
  if (!k || from != source) return;
  char text[96], name[80], words[200];
  plain(L, q, text, sizeof text);
  name_of(q, name, sizeof name);
  if (q->currency) SL_SAY(words, "%s, %s", name, text);
  else SL_SAY(words, "%s %s, %s", sl_article(name), name, text);
  sl_error_label(L, k->span, words);
}

/* Underlines the operator where the line has only one of it (Lua tells lines, not columns). */
static void place_operator(lua_State *L, const char *operator) {
  int source, line;
  size_t n;
  if (!operator || !sl_where(L, &source, &line)) return;
  const char *text = sl_source_line(&sl_state_of(L)->sources, source, line, &n), *found = NULL;
  size_t length = strlen(operator);
  for (size_t i = 0; text && i + length <= n; i++) {
    if (i + 1 < n && text[i] == '-' && text[i + 1] == '-') break;
    if (memcmp(text + i, operator, length) != 0) continue;
    if (found) return;
    found = text + i;
  }
  if (found) sl_error_place(L, source, (struct sl_span){ line, (int)(found - text) + 1, (int)length });
  else if (*operator == '<') place_operator(L, operator[1] ? ">=" : ">");      /* a > b is b < a to Lua */
}

/* What stands in place of a quantity, where neither side can be helped by a unit. */
static const char *hint_for_stranger(lua_State *L) {
  for (int i = 1; i <= 2; i++) switch (lua_type(L, i)) {
    case LUA_TNIL: return "one side holds nothing: check how it is spelt, and that it was given a value above";
    case LUA_TSTRING: return "a text is no number: write the quantity without quotes";
    case LUA_TTABLE: return "a table has fields: write which, as in rack.tilt or heights[1]";
    case LUA_TFUNCTION: case LUA_TBOOLEAN: return "only numbers and quantities can be calculated with and compared";
    default: break;
  }
  return NULL;
}

static int refuse(lua_State *L, const char *code, const char *what, const char *operator, const struct sl_quantity *a,
                  const struct sl_quantity *b, const char *help) {
  char left[200], right[200];
  sl_describe_value(L, 1, left, sizeof left);
  sl_describe_value(L, 2, right, sizeof right);
  const char *stranger = hint_for_stranger(L);
  sl_error_push(L, code, stranger ? stranger : help, what, left, right);
  int source, line;
  if (sl_where(L, &source, &line)) {
    place_operator(L, operator);
    if (a) label(L, a, source);
    if (b) label(L, b, source);
  }
  return lua_error(L);
}

static const char one_currency[] = "one currency in a job; nothing is converted";

static const char *hint_for(const struct sl_quantity *a, const struct sl_quantity *b) {
  union sl_dims mass = sl_dim_dims(SL_MASS), force = sl_dim_dims(SL_FORCE);
  if (a && b && ((a->dims.w == mass.w && b->dims.w == force.w) || (a->dims.w == force.w && b->dims.w == mass.w)))
    return "lb is a mass, lbf is a force: write lbf where weight is meant";
  if (a && b && a->currency && b->currency && a->currency != b->currency) return one_currency;
  if (!a || !b) return "a bare number has no unit: write one, as in 3ft or 3mm";
  return NULL;
}

struct pair { const struct sl_quantity *a, *b; };

/* Both operands of an operator; a bare number is NULL. */
static struct pair operands(lua_State *L) { return (struct pair){ sl_quantity_at(L, 1), sl_quantity_at(L, 2) }; }

/* For metamethods, which carry the metatable as upvalue. */
static int push(lua_State *L, struct sl_quantity q) {
  if (q.dims.w == 0) {
    lua_pushnumber(L, q.si);
    return 1;
  }
  struct held_quantity *p = lua_newuserdatauv(L, sizeof *p, 0);
  *p = (struct held_quantity){ &QUANTITY, q };
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_setmetatable(L, -2);
  return 1;
}

static int q_add(lua_State *L) {
  struct pair p = operands(L);
  if (!p.a || !p.b || !sl_same_kind(p.a, p.b))
    return refuse(L, "Q003", "cannot add %s and %s", "+", p.a, p.b, hint_for(p.a, p.b));
  if (p.a->point && p.b->point)
    return refuse(L, "Q005", "cannot add two temperatures, %s and %s", "+", p.a, p.b, "add a difference: -16degC + 5K");
  struct sl_quantity q = *p.a;
  q.si = p.a->si + p.b->si;
  if (!q.hint || p.b->point) q.hint = p.b->hint;
  q.point = p.a->point || p.b->point;
  q.origin = 0;
  return push(L, q);
}

struct sl_quantity sl_quantity_minus(lua_State *L, const struct sl_quantity *a, const struct sl_quantity *b) {
  struct sl_quantity q = *a;
  q.si = a->si - b->si;
  q.point = a->point && !b->point;
  if (a->point && b->point) q.hint = sl_hint(L, "K");
  q.origin = 0;
  return q;
}

static int q_sub(lua_State *L) {
  struct pair p = operands(L);
  if (!p.a || !p.b || !sl_same_kind(p.a, p.b))
    return refuse(L, "Q003", "cannot subtract: %s minus %s", "-", p.a, p.b, hint_for(p.a, p.b));
  if (!p.a->point && p.b->point)
    return refuse(L, "Q005", "cannot take a temperature from a difference: %s minus %s", "-", p.a, p.b, NULL);
  return push(L, sl_quantity_minus(L, p.a, p.b));
}

static int no_points(lua_State *L, struct pair p, const char *operator) {
  return refuse(L, "Q005", "cannot multiply or divide a temperature: %s and %s", operator, p.a, p.b,
                "a difference can: write 10K or 18dF for a step of temperature");
}

static int combine(lua_State *L, bool divide) {
  struct pair p = operands(L);
  const char *operator = divide ? "/" : "*";
  if ((p.a && p.a->point) || (p.b && p.b->point)) return no_points(L, p, operator);
  if ((!p.a && lua_type(L, 1) != LUA_TNUMBER) || (!p.b && lua_type(L, 2) != LUA_TNUMBER))
    return refuse(L, "Q006", divide ? "cannot divide %s by %s" : "cannot multiply %s by %s", operator, p.a, p.b, NULL);
  if (p.a && p.b && p.a->currency && p.b->currency && p.a->currency != p.b->currency)
    return refuse(L, "Q004", "two currencies meet: %s and %s", operator, p.a, p.b, one_currency);
  double x = p.a ? p.a->si : lua_tonumber(L, 1), y = p.b ? p.b->si : lua_tonumber(L, 2);
  struct sl_quantity q = { .si = divide ? x / y : x * y };
  for (int i = 0; i < 8; i++) {
    int e = (p.a ? p.a->dims.x[i] : 0) + (p.b ? (divide ? -p.b->dims.x[i] : p.b->dims.x[i]) : 0);
    if (e < -120 || e > 120)
      return refuse(L, "Q006", "the unit of %s and %s has grown beyond sense", operator, p.a, p.b, NULL);
    q.dims.x[i] = (int8_t)e;
  }
  if (p.a && !p.b) q.hint = p.a->hint;
  if (p.b && !p.a && !divide) q.hint = p.b->hint;
  if (q.dims.x[6]) q.currency = p.a && p.a->currency ? p.a->currency : p.b ? p.b->currency : 0;
  return push(L, q);
}

static int q_mul(lua_State *L) { return combine(L, false); }
static int q_div(lua_State *L) { return combine(L, true); }

static int q_unm(lua_State *L) {
  struct pair p = operands(L);
  if (p.a->point)
    return refuse(L, "Q005", "cannot negate a temperature, %s", "-", p.a, NULL,
                  "write the minus into the literal: -16degC");
  struct sl_quantity q = *p.a;
  q.si = -q.si;                      /* its origin stays: -3ft+-1in keeps its place and its tolerance */
  return push(L, q);
}

static int q_pow(lua_State *L) {
  struct pair p = operands(L);
  if (p.b || lua_type(L, 2) != LUA_TNUMBER || p.a->point)
    return refuse(L, "Q006", "cannot raise %s to %s", "^", p.a, p.b, "the exponent is a plain number, as in (2m)^2");
  double n = lua_tonumber(L, 2);
  struct sl_quantity q = { .si = pow(p.a->si, n), .currency = p.a->currency };
  for (int i = 0; i < 8; i++) {
    double e = p.a->dims.x[i] * n;
    if (e != floor(e) || fabs(e) > 120)
      return refuse(L, "Q006", "%s to the power %s has no unit", "^", p.a, NULL, NULL);
    q.dims.x[i] = (int8_t)e;
  }
  return push(L, q);
}

static int ratio_of(lua_State *L, double *ratio, const char *operator) {
  struct pair p = operands(L);
  if (!p.a || !p.b || !sl_same_kind(p.a, p.b) || p.a->point || p.b->point)
    return refuse(L, "Q003", "cannot count how often %2$s goes into %1$s", operator, p.a, p.b, hint_for(p.a, p.b));
  if (!(p.b->si > 0))
    return refuse(L, "Q006", "cannot count how often %2$s goes into %1$s", operator, p.a, p.b,
                  "divide by an amount above 0");
  *ratio = floor(p.a->si / p.b->si + SL_TOLERANCE);
  if (!isfinite(p.b->si) || !isfinite(*ratio))
    return refuse(L, "Q006", "cannot count how often %2$s goes into %1$s", operator, p.a, p.b,
                  "was something divided by 0?");
  return 0;
}

static int q_idiv(lua_State *L) {
  double ratio = 0;
  ratio_of(L, &ratio, "//");
  lua_pushnumber(L, ratio);
  return 1;
}

static int q_mod(lua_State *L) {
  double ratio = 0;
  ratio_of(L, &ratio, "%");
  struct pair p = operands(L);
  struct sl_quantity q = *p.a;
  q.si = fmax(0, p.a->si - ratio * p.b->si);
  q.origin = 0;
  return push(L, q);
}

static int q_eq(lua_State *L) {
  struct pair p = operands(L);
  lua_pushboolean(L, p.a && p.b && sl_same_kind(p.a, p.b) && p.a->point == p.b->point && sl_equal(p.a->si, p.b->si));
  return 1;
}

static int compare(lua_State *L, const char *operator, bool or_equal) {
  struct pair p = operands(L);
  if (!p.a || !p.b || !sl_same_kind(p.a, p.b) || p.a->point != p.b->point)
    return refuse(L, "Q003", "cannot compare %s with %s", operator, p.a, p.b, hint_for(p.a, p.b));
  bool equal = sl_equal(p.a->si, p.b->si);
  lua_pushboolean(L, or_equal ? equal || p.a->si < p.b->si : !equal && p.a->si < p.b->si);
  return 1;
}

static int q_lt(lua_State *L) { return compare(L, "<", false); }
static int q_le(lua_State *L) { return compare(L, "<=", true); }

enum { A_TEXT = 60 };              /* steps for one to print */

static int q_tostring(lua_State *L) {
  sl_sandbox_charge(L, A_TEXT);
  char text[128];
  const struct sl_quantity *q = operands(L).a;
  sl_format(text, sizeof text, q, &(struct sl_style){ .us = true, .written = sl_written(L, q) });
  lua_pushstring(L, text);
  return 1;
}

static int q_concat(lua_State *L) {
  sl_sandbox_charge(L, A_TEXT);
  for (int i = 1; i <= 2; i++) {
    const bool text = lua_isstring(L, i) || sl_quantity_at(L, i) || sl_wire_at(L, i);
    if (!text) return luaL_error(L, "attempt to concatenate a %s value", luaL_typename(L, i));
    luaL_tolstring(L, i, NULL);
  }
  lua_concat(L, 2);
  return 1;
}

static int q_index(lua_State *L) {
  char what[200];
  sl_describe_value(L, 1, what, sizeof what);
  return sl_raise(L, "Q007", "number_in(x, \"ft\") gives its number, as(x, \"ft\") prints it in feet",
                  "%s has no field '%s'", what, lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "?");
}

static int q_newindex(lua_State *L) { return sl_raise(L, "Q007", NULL, "a quantity cannot be changed"); }
static int q_call(lua_State *L) {
  return sl_raise(L, "Q007", "a product is written with *", "a quantity cannot be called");
}
static int q_len(lua_State *L) { return sl_raise(L, "Q007", NULL, "a quantity has no length of a list"); }

/* ---- wire sizes -------------------------------------------------------------------------------------------------- */

static int w_index(lua_State *L) {
  const struct sl_wire *w = sl_wire_at(L, 1);
  const char *key = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "?";
  if (strcmp(key, "area") == 0)
    sl_quantity_push(L, (struct sl_quantity){ .si = w->area, .dims = sl_dim_dims(SL_AREA),
                                              .hint = sl_hint(L, "mm2") });
  else if (strcmp(key, "size") == 0) lua_pushstring(L, w->size);
  else if (strcmp(key, "metric") == 0) lua_pushboolean(L, w->metric);
  else return sl_raise(L, "Q008", "a wire size has .area, .size and .metric", "a wire size has no field '%s'", key);
  return 1;
}

static int w_tostring(lua_State *L) {
  const struct sl_wire *w = sl_wire_at(L, 1);
  lua_pushfstring(L, "%s %s", w->size, wire_unit(w));
  return 1;
}

static int w_arith(lua_State *L) {
  return sl_raise(L, "Q008", "a wire size is a name: use its .area", "cannot calculate with a wire size");
}

static void wire_pair(lua_State *L, const struct sl_wire **a, const struct sl_wire **b) {
  *a = sl_wire_at(L, 1);
  *b = sl_wire_at(L, 2);
  if (*a && *b) return;
  char left[200], right[200];
  sl_describe_value(L, 1, left, sizeof left);
  sl_describe_value(L, 2, right, sizeof right);
  sl_raise(L, "Q008", "write both as sizes: 6AWG < 4AWG", "cannot compare %s with %s", left, right);
}

static int w_eq(lua_State *L) {
  const struct sl_wire *a = sl_wire_at(L, 1), *b = sl_wire_at(L, 2);
  lua_pushboolean(L, a && b && sl_equal(a->area, b->area));
  return 1;
}

static int w_lt(lua_State *L) {
  const struct sl_wire *a, *b;
  wire_pair(L, &a, &b);
  lua_pushboolean(L, a->area < b->area && !sl_equal(a->area, b->area));
  return 1;
}

static int w_le(lua_State *L) {
  const struct sl_wire *a, *b;
  wire_pair(L, &a, &b);
  lua_pushboolean(L, a->area < b->area || sl_equal(a->area, b->area));
  return 1;
}

void sl_quantity_open(lua_State *L) {
  static const luaL_Reg quantity[] = {
    { "__add", q_add }, { "__sub", q_sub }, { "__mul", q_mul }, { "__div", q_div }, { "__unm", q_unm },
    { "__pow", q_pow },
    { "__idiv", q_idiv }, { "__mod", q_mod }, { "__eq", q_eq }, { "__lt", q_lt }, { "__le", q_le },
    { "__tostring", q_tostring }, { "__concat", q_concat }, { "__index", q_index }, { "__newindex", q_newindex },
    { "__call", q_call }, { "__len", q_len }, { NULL, NULL },
  };
  static const luaL_Reg wire[] = {
    { "__index", w_index }, { "__newindex", q_newindex }, { "__tostring", w_tostring }, { "__concat", q_concat },
    { "__eq", w_eq }, { "__lt", w_lt }, { "__le", w_le },
    { "__add", w_arith }, { "__sub", w_arith }, { "__mul", w_arith }, { "__div", w_arith }, { "__unm", w_arith },
    { "__pow", w_arith }, { "__mod", w_arith }, { "__idiv", w_arith }, { NULL, NULL },
  };
  lua_newtable(L);
  lua_pushvalue(L, -1);
  luaL_setfuncs(L, quantity, 1);
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_pushliteral(L, "quantity");
  lua_setfield(L, -2, "__name");
  sl_state_of(L)->quantity_meta = luaL_ref(L, LUA_REGISTRYINDEX);
  lua_newtable(L);
  luaL_setfuncs(L, wire, 0);
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_pushliteral(L, "wire size");
  lua_setfield(L, -2, "__name");
  sl_state_of(L)->wire_meta = luaL_ref(L, LUA_REGISTRYINDEX);
}
