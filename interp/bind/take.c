/* SPDX-License-Identifier: MIT
 * A script's table into the inputs of a primitive.  The rows of a list are looked at as the primitive's own inputs are;
 * a message about one says which: conductors[2]. */
#include "take.h"

#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "box/sandbox.h"
#include "fields.h"
#include "host/nearest.h"
#include "host/raise.h"
#include "host/text.h"
#include "value/quantity.h"

enum { MOST = 1000000 };           /* items of a list, and of what is counted */

/* What is being read: the inputs, or one row of a list of them. */
struct reading {
  lua_State *L;
  const struct sl_op *op;
  const struct sl_field *fields;
  size_t nfields;
  int table;                       /* where on the stack */
  const char *list;                /* NULL: the inputs themselves */
  size_t item;                     /* of the list, from 1 */
};

/* raceway_fill: conductors[2]: */
static const char *place(const struct reading *r, char *to, size_t size) {
  if (r->list) sl_say(to, size, "%s: %s[%zu]", r->op->name, r->list, r->item);
  else sl_say(to, size, "%s", r->op->name);
  return to;
}

/* If a value would fit another field, and that field's value fits this one, the two were swapped. */
static const char *swapped(const struct reading *r, const struct sl_field *f) {
  lua_State *L = r->L;
  const struct sl_quantity *mine = sl_quantity_at(L, -1);
  for (size_t i = 0; mine && i < r->nfields; i++) {
    const struct sl_field *g = &r->fields[i];
    if (g == f || g->kind != SL_FIELD_REAL || sl_dim_dims(g->dim).w != mine->dims.w) continue;
    lua_getfield(L, r->table, g->name);
    const struct sl_quantity *other = sl_quantity_at(L, -1);
    bool yes = other && other->dims.w == sl_dim_dims(f->dim).w;
    lua_pop(L, 1);
    if (yes) return g->name;
  }
  return NULL;
}

/* The value on top is not what the field `name` takes. */
static int wrong(const struct reading *r, const struct sl_field *f, const char *name, const char *what,
                 const char *example) {
  lua_State *L = r->L;
  char got[200], help[200], at[120];
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  sl_describe_value(L, -1, got, sizeof got);
  const char *other = f->kind == SL_FIELD_REAL ? swapped(r, f) : NULL;
  *help = 0;
  if (other) SL_SAY(help, "are '%s' and '%s' swapped?", f->name, other);
  else if (f->kind == SL_FIELD_REAL && f->dim == SL_FORCE && q && q->dims.w == sl_dim_dims(SL_MASS).w)
    SL_SAY(help, "lb is a mass: write lbf where a force is meant");
  return sl_raise(L, "C001", *help ? help : NULL, "%s: '%s' needs %s %s%s%s%s, got %s", place(r, at, sizeof at), name,
                  sl_article(what), what, *example ? " (like " : "", example, *example ? ")" : "", got);
}

static void no_choice(const struct reading *r, const struct sl_field *f) {
  lua_State *L = r->L;
  char got[200], at[120];
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  for (int j = 0; f->choices[j]; j++) {
    if (j) luaL_addstring(&b, ", ");
    luaL_addstring(&b, f->choices[j]);
  }
  luaL_pushresult(&b);
  sl_describe_value(L, -2, got, sizeof got);
  sl_raise(L, "C001", NULL, "%s: '%s' is one of %s; got %s", place(r, at, sizeof at), f->name, lua_tostring(L, -1),
           got);
}

/* The number on top of the stack as a double of dimension dim; false if it is none. */
static bool real(lua_State *L, enum sl_dim dim, double *out) {
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  if (q && q->dims.w == sl_dim_dims(dim).w && (q->point != 0) == (dim == SL_TEMPERATURE)) *out = q->si;
  else if (!q && lua_type(L, -1) == LUA_TNUMBER && sl_dim_dims(dim).w == 0) *out = lua_tonumber(L, -1);
  else return false;
  return true;
}

/* The value on top, of a field that holds one thing. */
static void take_one(const struct reading *r, const struct sl_field *f, unsigned char *to) {
  lua_State *L = r->L;
  void *m = to + f->offset;
  int ok = 1;
  switch (f->kind) {
    case SL_FIELD_REAL:
      if (!real(L, f->dim, m)) wrong(r, f, f->name, sl_dim_name(f->dim), sl_dim_example(f->dim));
      break;
    case SL_FIELD_COUNT: {
      lua_Integer n = lua_tointegerx(L, -1, &ok);
      if (!ok || lua_type(L, -1) != LUA_TNUMBER || n < -MOST || n > MOST)
        wrong(r, f, f->name, "whole number", "4");
      memcpy(m, &(int){ (int)n }, sizeof(int));
      break;
    }
    case SL_FIELD_FLAG:
      if (!lua_isboolean(L, -1)) wrong(r, f, f->name, "true or false", "");
      *(bool *)m = lua_toboolean(L, -1);
      break;
    case SL_FIELD_CHOICE: {
      size_t n = 0;
      const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tolstring(L, -1, &n) : "";
      int i = 0;
      while (f->choices[i] && (strcmp(f->choices[i], text) != 0 || strlen(text) != n)) i++;
      if (!f->choices[i]) no_choice(r, f);
      memcpy(m, &i, sizeof i);
      break;
    }
    case SL_FIELD_TEXT: {
      size_t n;
      if (lua_type(L, -1) != LUA_TSTRING) wrong(r, f, f->name, "text", "\"6\"");
      const char *text = lua_tolstring(L, -1, &n);
      if (n >= f->size || strlen(text) != n) wrong(r, f, f->name, "shorter text", "");
      memcpy(m, text, n + 1);
      break;
    }
    case SL_FIELD_LIST: case SL_FIELD_ROWS: break;
  }
}

/* Of several unknown fields the first by name is told, so that the message is the same in every run. */
static void unknown_field(const struct reading *r) {
  lua_State *L = r->L;
  const char *worst = NULL;
  char at[120];
  for (lua_pushnil(L); lua_next(L, r->table); lua_pop(L, 1)) {
    const char *key = lua_type(L, -2) == LUA_TSTRING ? lua_tostring(L, -2) : NULL;
    if (!key)
      sl_raise(L, "C002", NULL, "%s: every value needs a name, as in `%s = ...`", place(r, at, sizeof at),
               r->fields[0].name);
    if (!sl_field(r->fields, r->nfields, key) && (!worst || strcmp(key, worst) < 0)) worst = key;
  }
  if (worst) sl_no_field(L, r->fields, r->nfields, worst, "%s: no field '%s'", place(r, at, sizeof at), worst);
}

static size_t read_list(const struct reading *r, const struct sl_field *f, size_t n, unsigned char *to,
                        unsigned char *items);

/* A misspelt field is told before the one that is missing for it.  `items`: of the lists; gives how many bytes. */
static size_t read_fields(const struct reading *r, const size_t *length, unsigned char *to, unsigned char *items) {
  lua_State *L = r->L;
  const struct sl_field *missing = NULL;
  size_t present = 0, entries = 0, used = 0;
  for (size_t i = 0; i < r->nfields; i++) {
    const struct sl_field *f = &r->fields[i];
    const size_t n = f->kind < SL_FIELD_LIST ? 0 : *length++;
    if (lua_getfield(L, r->table, f->name) != LUA_TNIL) {
      present++;
      if (f->kind < SL_FIELD_LIST) take_one(r, f, to);
      else used += read_list(r, f, n, to, items + used);
    } else if (!f->optional) missing = missing ? missing : f;
    else if (f->kind == SL_FIELD_REAL) *(double *)(void *)(to + f->offset) = NAN;
    lua_pop(L, 1);
  }
  for (lua_pushnil(L); lua_next(L, r->table); lua_pop(L, 1)) entries++;
  const bool inherits = lua_getmetatable(L, r->table);   /* then the counts tell nothing */
  if (inherits) lua_pop(L, 1);
  if (inherits || entries != present) {
    sl_sandbox_charge(L, (long long)(entries * r->nfields));
    unknown_field(r);
  }
  if (missing) {
    char help[240], at[120];
    SL_SAY(help, "%s = ...: %s", missing->name, missing->help);
    sl_raise(L, "C003", help, "%s: '%s' is missing", place(r, at, sizeof at), missing->name);
  }
  return used;
}

static size_t items_size(const struct sl_field *f, size_t n) {
  const size_t step = sizeof(double);
  return (n * f->size + step - 1) / step * step;
}

/* The list on top. */
static size_t read_list(const struct reading *r, const struct sl_field *f, size_t n, unsigned char *to,
                        unsigned char *items) {
  lua_State *L = r->L;
  if (!lua_istable(L, -1)) wrong(r, f, f->name, f->kind == SL_FIELD_ROWS ? "list of tables" : "list", "");
  for (size_t i = 0; i < n; i++) {
    char name[80];
    unsigned char *item = items + i * f->size;
    lua_geti(L, -1, (lua_Integer)i + 1);
    if (f->kind == SL_FIELD_LIST) {
      if (!real(L, f->dim, (double *)(void *)item)) {
        SL_SAY(name, "%s[%zu]", f->name, i + 1);
        wrong(r, f, name, sl_dim_name(f->dim), sl_dim_example(f->dim));
      }
    } else {
      if (!lua_istable(L, -1)) {
        SL_SAY(name, "%s[%zu]", f->name, i + 1);
        wrong(r, f, name, "table", "");
      }
      const struct reading row = { L, r->op, f->fields, f->nfields, lua_gettop(L), f->name, i + 1 };
      read_fields(&row, NULL, item, NULL);
    }
    lua_pop(L, 1);
  }
  const void *list = items;
  memcpy(to + f->offset, &list, sizeof list);
  memcpy(to + f->count, &n, sizeof n);
  return items_size(f, n);
}

/* An item more than this is beyond its range, not a mistake: what asked is unknown. */
static void too_long(lua_State *L, const struct sl_op *op, const struct sl_field *f, lua_Integer n) {
  sl_error_push(L, "C001", NULL, "%s: '%s' takes at most %d items, got %lld", op->name, f->name, (int)MOST,
                (long long)n);
  sl_error_field(L, "class", "range");
  lua_error(L);
}

size_t sl_take_lengths(lua_State *L, const struct sl_op *op, size_t length[SL_LISTS]) {
  size_t bytes = 0, lists = 0;
  for (size_t i = 0; i < op->nin; i++) {
    const struct sl_field *f = &op->in[i];
    if (f->kind < SL_FIELD_LIST) continue;
    lua_Integer n = 0;
    if (lua_getfield(L, 1, f->name) == LUA_TTABLE) n = luaL_len(L, -1);   /* of a proxy too: not its raw length */
    lua_pop(L, 1);
    if (n < 0 || n > MOST) too_long(L, op, f, n);
    length[lists++] = (size_t)n;
    bytes += items_size(f, (size_t)n);
  }
  return bytes;
}

void sl_take(lua_State *L, const struct sl_op *op, const size_t length[SL_LISTS], unsigned char *in,
             unsigned char *items) {
  const struct reading inputs = { L, op, op->in, op->nin, 1, NULL, 0 };
  read_fields(&inputs, length, in, items);
}
