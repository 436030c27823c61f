/* SPDX-License-Identifier: MIT
 * The functions that scripts use on quantities: trigonometry on angles, roots, steps, units. */
#include <float.h>
#include <lauxlib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "value/quantity.h"
#include "box/sandbox.h"
#include "host/raise.h"
#include "host/text.h"

static const struct sl_quantity *want(lua_State *L, int idx, const char *function, enum sl_dim dim) {
  const struct sl_quantity *q = sl_quantity_at(L, idx);
  if (q && q->dims.w == sl_dim_dims(dim).w) return q;
  char got[200];
  sl_describe_value(L, idx, got, sizeof got);
  const char *name = sl_dim_name(dim);
  sl_raise(L, "Q009", NULL, "%s needs %s %s (like %s), got %s", function, sl_article(name), name, sl_dim_example(dim),
           got);
  return NULL;
}

/* What is no number is told, and leaves a rule unknown: a function that could lose it must not be a way to a pass. */
static int no_number(lua_State *L, const char *function, const char *what) {
  sl_error_push(L, "Q009", NULL, "%s: %s is no number: was something divided by 0?", function, what);
  sl_error_field(L, "class", "range");
  return lua_error(L);
}

#define TRIG(name) \
  static int f_##name(lua_State *L) { lua_pushnumber(L, name(want(L, 1, #name, SL_ANGLE)->si)); return 1; }
TRIG(sin) TRIG(cos) TRIG(tan)

static int angle(lua_State *L, double radians) {
  sl_quantity_push(L, (struct sl_quantity){ .si = radians, .dims = sl_dim_dims(SL_ANGLE),
                                            .hint = sl_hint(L, "deg") });
  return 1;
}

static double ratio_argument(lua_State *L, const char *function) {
  if (lua_type(L, 1) == LUA_TNUMBER && isnan(lua_tonumber(L, 1))) no_number(L, function, "the value");
  if (lua_type(L, 1) != LUA_TNUMBER || !(fabs(lua_tonumber(L, 1)) <= 1)) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    sl_raise(L, "Q009", NULL, "%s needs a number from -1 to 1, got %s", function, got);
  }
  return lua_tonumber(L, 1);
}

static int f_asin(lua_State *L) { return angle(L, asin(ratio_argument(L, "asin"))); }
static int f_acos(lua_State *L) { return angle(L, acos(ratio_argument(L, "acos"))); }

static int f_atan2(lua_State *L) {
  const struct sl_quantity *y = sl_quantity_at(L, 1), *x = sl_quantity_at(L, 2);
  if (y && x && sl_same_kind(y, x) && !y->point && !x->point) return angle(L, atan2(y->si, x->si));
  if (!y && !x && lua_type(L, 1) == LUA_TNUMBER && lua_type(L, 2) == LUA_TNUMBER)
    return angle(L, atan2(lua_tonumber(L, 1), lua_tonumber(L, 2)));
  char left[200], right[200];
  sl_describe_value(L, 1, left, sizeof left);
  sl_describe_value(L, 2, right, sizeof right);
  return sl_raise(L, "Q009", NULL, "atan2 needs two values of one kind, got %s and %s", left, right);
}

static double number_argument(lua_State *L, const char *function) {
  if (lua_type(L, 1) != LUA_TNUMBER) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    sl_raise(L, "Q009", NULL, "%s needs a number or a quantity, got %s", function, got);
  }
  return lua_tonumber(L, 1);
}

static int f_sqrt(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) {
    double x = number_argument(L, "sqrt");
    if (isnan(x)) return no_number(L, "sqrt", "the value");
    if (!(x >= 0)) return sl_raise(L, "Q009", NULL, "sqrt needs a number that is not negative, got %g", x);
    lua_pushnumber(L, sqrt(x));
    return 1;
  }
  if (isnan(q->si)) return no_number(L, "sqrt", "the value");
  struct sl_quantity r = { .si = sqrt(q->si) };
  for (int i = 0; i < 8; i++) {
    if (q->dims.x[i] % 2 || q->point || q->currency || !(q->si >= 0)) {
      char got[200];
      sl_describe_value(L, 1, got, sizeof got);
      return sl_raise(L, "Q009", NULL, "sqrt of %s has no meaning", got);
    }
    r.dims.x[i] = (int8_t)(q->dims.x[i] / 2);
  }
  sl_quantity_push(L, r);
  return 1;
}

static int f_abs(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) lua_pushnumber(L, fabs(number_argument(L, "abs")));
  else if (q->point) return sl_raise(L, "Q005", NULL, "abs needs a difference, not a temperature");
  else {
    struct sl_quantity r = *q;
    r.si = fabs(r.si);
    r.origin = 0;
    sl_quantity_push(L, r);
  }
  return 1;
}

static int extreme(lua_State *L, bool most, const char *name) {
  int n = lua_gettop(L), best = 1;
  if (!n) return sl_raise(L, "Q009", NULL, "%s needs at least one value", name);
  for (int i = 1; i <= n; i++) {
    const struct sl_quantity *q = sl_quantity_at(L, i);
    if (!q && lua_type(L, i) != LUA_TNUMBER) {
      char got[200];
      sl_describe_value(L, i, got, sizeof got);
      return sl_raise(L, "Q009", NULL, "%s needs quantities of one kind or numbers, got %s", name, got);
    }
    if (isnan(q ? q->si : lua_tonumber(L, i))) {
      char which[24];
      snprintf(which, sizeof which, "value %d", i);
      return no_number(L, name, which);
    }
    if (i > 1 && lua_compare(L, most ? best : i, most ? i : best, LUA_OPLT)) best = i;
  }
  lua_pushvalue(L, best);
  return 1;
}

static int f_max(lua_State *L) { return extreme(L, true, "max"); }
static int f_min(lua_State *L) { return extreme(L, false, "min"); }

/* floor(x), floor(x, 1in): to a whole number, or to a multiple of a step of the same kind. */
static int stepped(lua_State *L, const char *name, double (*round)(double), double lean) {
  const struct sl_quantity *q = sl_quantity_at(L, 1), *s = sl_quantity_at(L, 2);
  const bool numbers = lua_type(L, 1) == LUA_TNUMBER && (lua_isnoneornil(L, 2) || lua_type(L, 2) == LUA_TNUMBER);
  const double step = q && s ? s->si : numbers && !lua_isnoneornil(L, 2) ? lua_tonumber(L, 2) : 1;
  if (!numbers && !(q && s && sl_same_kind(q, s) && !q->point && !s->point)) {
    char got[200];
    sl_describe_value(L, q || lua_type(L, 1) == LUA_TNUMBER ? 2 : 1, got, sizeof got);
    return sl_raise(L, "Q009", NULL, q ? "%s of a quantity needs a step of the same kind (like %s(x, 1in)), got %s"
                                       : "%s needs a number, or a quantity and its step (like %s(x, 1in)), got %s",
                    name, name, got);
  }
  const double value = q ? q->si : lua_tonumber(L, 1);
  if (!isfinite(value)) return no_number(L, name, "the value");
  if (isnan(step) || step > DBL_MAX) return no_number(L, name, "the step");
  if (!(step > 0)) return sl_raise(L, "Q009", NULL, "%s needs a step above 0", name);
  const double x = round(value / step + lean) * step;
  if (!isfinite(x)) {
    sl_error_push(L, "Q009", NULL, "%s: there are too many steps to count", name);
    sl_error_field(L, "class", "range");
    return lua_error(L);
  }
  if (numbers) {
    lua_Integer whole;
    if (lua_isnoneornil(L, 2) && lua_numbertointeger(x, &whole)) lua_pushinteger(L, whole);
    else lua_pushnumber(L, x);
    return 1;
  }
  struct sl_quantity r = *q;
  r.si = x;
  r.hint = s->hint;
  r.origin = 0;
  sl_quantity_push(L, r);
  return 1;
}

static double half_up(double x) { return floor(x + 0.5); }
static int f_floor(lua_State *L) { return stepped(L, "floor", floor, SL_TOLERANCE); }
static int f_ceil(lua_State *L) { return stepped(L, "ceil", ceil, -SL_TOLERANCE); }
static int f_round(lua_State *L) { return stepped(L, "round", half_up, SL_TOLERANCE); }

enum { READING = 20 };             /* steps, and one for two bytes */

static const char *text_argument(lua_State *L, int idx, const char *function, const char *example, size_t *n) {
  if (lua_type(L, idx) != LUA_TSTRING) {
    char got[200];
    sl_describe_value(L, idx, got, sizeof got);
    sl_raise(L, "Q010", NULL, "%s needs a text (as in %s), got %s", function, example, got);
  }
  const char *text = lua_tolstring(L, idx, n);
  sl_sandbox_charge(L, READING + (long long)*n / 2);
  return text;
}

static struct sl_unit unit_argument(lua_State *L, int idx, const char *function) {
  size_t n;
  const char *text = text_argument(L, idx, function, "as(x, \"ft\")", &n);
  struct sl_unit u;
  struct sl_unit_error err;
  if (!sl_unit_parse(text, n, &u, &err)) sl_raise(L, "Q010", *err.help ? err.help : NULL, "%s: %s", function, err.text);
  return u;
}

static const struct sl_quantity *in_unit(lua_State *L, const char *function, struct sl_unit *u) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  *u = unit_argument(L, 2, function);
  if (!q || q->dims.w != u->dims.w) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    sl_raise(L, "Q010", NULL, "%s: %s cannot be given in %s", function, got, lua_tostring(L, 2));
  }
  if (u->point && !q->point)
    sl_raise(L, "Q005", "a difference is given in K, dC or dF",
             "%s: a difference of temperature is no temperature in %s", function, lua_tostring(L, 2));
  if (u->currency && q->currency && u->currency != q->currency)
    sl_raise(L, "Q004", "one currency in a job; nothing is converted", "%s: %s is another currency", function,
             lua_tostring(L, 2));
  return q;
}

static int f_number_in(lua_State *L) {
  struct sl_unit u;
  if (lua_type(L, 1) == LUA_TNUMBER) {
    u = unit_argument(L, 2, "number_in");
    if (u.dims.w == 0) { lua_pushnumber(L, lua_tonumber(L, 1) / u.factor); return 1; }
  }
  const struct sl_quantity *q = in_unit(L, "number_in", &u);
  lua_pushnumber(L, q->si / u.factor - u.offset);
  return 1;
}

static int f_as(lua_State *L) {
  struct sl_unit u;
  struct sl_quantity q = *in_unit(L, "as", &u);
  size_t n;
  const char *text = lua_tolstring(L, 2, &n);
  q.hint = sl_hint(L, text);
  sl_quantity_push(L, q);
  return 1;
}

static int f_len(lua_State *L) {
  size_t n;
  const char *text = text_argument(L, 1, "len", "len[[12' 6-1/2\"]]", &n);
  double metres;
  struct sl_complaint bad;
  if (!sl_scan_length(text, n, &metres, &bad))
    return sl_raise(L, bad.code, *bad.help ? bad.help : NULL, "len: %s", bad.text);
  sl_quantity_push(L, (struct sl_quantity){ .si = metres, .dims = sl_dim_dims(SL_LENGTH),
                                            .hint = sl_hint(L, "ft-in") });
  return 1;
}

static int f_awg(lua_State *L) {
  size_t n;
  const char *text = text_argument(L, 1, "awg", "awg\"4/0\"", &n);
  struct sl_wire w;
  if (!sl_wire_parse(text, n, &w))
    return sl_raise(L, "Q008", "as in awg\"6\" or awg\"4/0\"", "no such wire size '%s'", text);
  sl_wire_push(L, &w);
  return 1;
}

/* ft{4.62, 4.78}, mm{...}: one unit for a list, nested tables kept.  One that contains itself is too deep. */
enum { NESTING = 8 };
static const char *function_of(const char *unit) { return strcmp(unit, "in") == 0 ? "inch" : unit; }

static void with_unit(lua_State *L, int idx, const char *unit, const struct sl_unit *u, int depth) {
  luaL_checkstack(L, 8, "list of lists");
  if (lua_type(L, idx) == LUA_TNUMBER) {
    sl_quantity_push(L, (struct sl_quantity){ .si = lua_tonumber(L, idx) * u->factor, .dims = u->dims,
                                              .hint = sl_hint(L, unit) });
    return;
  }
  if (!lua_istable(L, idx) || lua_getmetatable(L, idx)) {
    char got[200];
    sl_describe_value(L, idx, got, sizeof got);
    sl_raise(L, "Q011", NULL, "%s{...} takes bare numbers, got %s", function_of(unit), got);
  }
  if (depth == NESTING)
    sl_raise(L, "Q011", NULL, "%s{...} takes lists of lists, at most %d deep", function_of(unit), NESTING);
  lua_newtable(L);
  int to = lua_gettop(L);
  for (lua_pushnil(L); lua_next(L, idx);) {
    lua_pushvalue(L, -2);
    with_unit(L, to + 2, unit, u, depth + 1);
    lua_rawset(L, to);
    lua_pop(L, 1);
  }
}

static int f_list(lua_State *L) {
  const char *unit = lua_tostring(L, lua_upvalueindex(1));
  struct sl_unit u;
  struct sl_unit_error err;
  lua_settop(L, 1);
  sl_unit_parse(unit, strlen(unit), &u, &err);
  if (!lua_istable(L, 1)) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    return sl_raise(L, "Q011", NULL, "%s needs a list, as in ft{4.62, 4.78}; got %s", function_of(unit), got);
  }
  with_unit(L, 1, unit, &u, 0);
  return 1;
}

/* A growth of so much a year: 365.25 days, and it says so by being a function. */
static int f_per_year(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q || q->point) return sl_raise(L, "Q009", NULL, "per_year needs a quantity, as in per_year(0.5ft)");
  struct sl_quantity r = *q;
  if (r.dims.x[2] < -118) return sl_raise(L, "Q006", NULL, "per_year: the unit has grown beyond sense");
  r.si /= 365.25 * 86400;
  r.dims.x[2] = (int8_t)(r.dims.x[2] - 2);
  r.hint = 0;
  r.origin = 0;
  sl_quantity_push(L, r);
  return 1;
}

void sl_quantity_functions(lua_State *L, int idx) {
  static const luaL_Reg functions[] = {
    { "sin", f_sin }, { "cos", f_cos }, { "tan", f_tan }, { "asin", f_asin }, { "acos", f_acos }, { "atan2", f_atan2 },
    { "sqrt", f_sqrt }, { "abs", f_abs }, { "min", f_min }, { "max", f_max },
    { "floor", f_floor }, { "ceil", f_ceil }, { "round", f_round },
    { "number_in", f_number_in }, { "as", f_as }, { "len", f_len }, { "awg", f_awg }, { "per_year", f_per_year },
    { NULL, NULL },
  };
  static const char *const lists[][2] = { { "ft", "ft" }, { "inch", "in" }, { "mm", "mm" }, { "m", "m" } };
  idx = lua_absindex(L, idx);
  for (const luaL_Reg *f = functions; f->name; f++) {
    lua_pushcfunction(L, f->func);
    lua_setfield(L, idx, f->name);
  }
  for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
    lua_pushstring(L, lists[i][1]);
    lua_pushcclosure(L, f_list, 1);
    lua_setfield(L, idx, lists[i][0]);
  }
}
