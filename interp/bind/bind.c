/* SPDX-License-Identifier: MIT
 * One function serves every primitive: table in, checked struct, call, result out.  A result keeps its inputs, so its
 * sheet is worked again, step by step, when somebody asks. */
#include "bind.h"

#include <lauxlib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "value/quantity.h"
#include "host/raise.h"
#include "open.h"
#include "host/nearest.h"
#include "host/text.h"

struct worked {
  const struct sl_op *op;
  unsigned rests;
  unsigned char *in, *out;
  _Alignas(max_align_t) unsigned char bytes[];
};

static const char WORKED = 'k';
#define MEMBER "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_"

static const struct sl_field *find(const struct sl_field *f, size_t n, const char *name) {
  for (size_t i = 0; i < n; i++)
    if (strcmp(f[i].name, name) == 0) return &f[i];
  return NULL;
}

/* ---- in ---------------------------------------------------------------------------------------------------------- */


/* If a value would fit another field, and that field's value fits this one, the two were swapped. */
static const char *swapped(lua_State *L, const struct sl_op *op, const struct sl_field *f) {
  const struct sl_quantity *mine = sl_quantity_at(L, -1);
  for (size_t i = 0; mine && i < op->nin; i++) {
    const struct sl_field *g = &op->in[i];
    if (g == f || g->kind != SL_FIELD_REAL || sl_dim_dims(g->dim).w != mine->dims.w) continue;
    lua_getfield(L, 1, g->name);
    const struct sl_quantity *other = sl_quantity_at(L, -1);
    bool yes = other && other->dims.w == sl_dim_dims(f->dim).w;
    lua_pop(L, 1);
    if (yes) return g->name;
  }
  return NULL;
}

static int wrong(lua_State *L, const struct sl_op *op, const struct sl_field *f, const char *what,
                 const char *example) {
  char got[200], help[200];
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  sl_describe_value(L, -1, got, sizeof got);
  const char *other = f->kind == SL_FIELD_REAL ? swapped(L, op, f) : NULL;
  *help = 0;
  if (other) snprintf(help, sizeof help, "are '%s' and '%s' swapped?", f->name, other);
  else if (f->kind == SL_FIELD_REAL && f->dim == SL_FORCE && q && q->dims.w == sl_dim_dims(SL_MASS).w)
    snprintf(help, sizeof help, "lb is a mass: write lbf where a force is meant");
  return sl_raise(L, "C001", *help ? help : NULL, "%s: '%s' needs %s %s%s%s%s, got %s", op->name, f->name,
                  sl_article(what), what,
                  *example ? " (like " : "", example, *example ? ")" : "", got);
}

/* The number on top of the stack as a double of dimension dim; false if it is none. */
static bool real(lua_State *L, enum sl_dim dim, double *out) {
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  if (q && q->dims.w == sl_dim_dims(dim).w && (q->point != 0) == (dim == SL_TEMPERATURE)) *out = q->si;
  else if (!q && lua_type(L, -1) == LUA_TNUMBER && sl_dim_dims(dim).w == 0) *out = lua_tonumber(L, -1);
  else return false;
  return true;
}

static void take(lua_State *L, const struct sl_op *op, const struct sl_field *f, unsigned char *in) {
  void *m = in + f->offset;
  int ok = 1;
  switch (f->kind) {
    case SL_FIELD_REAL:
      if (!real(L, f->dim, m)) wrong(L, op, f, sl_dim_name(f->dim), sl_dim_example(f->dim));
      break;
    case SL_FIELD_COUNT: {
      lua_Integer n = lua_tointegerx(L, -1, &ok);
      if (!ok || lua_type(L, -1) != LUA_TNUMBER || n < -1000000 || n > 1000000) wrong(L, op, f, "whole number", "4");
      memcpy(m, &(int){ (int)n }, sizeof(int));
      break;
    }
    case SL_FIELD_FLAG:
      if (!lua_isboolean(L, -1)) wrong(L, op, f, "true or false", "");
      *(bool *)m = lua_toboolean(L, -1);
      break;
    case SL_FIELD_CHOICE: {
      const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tostring(L, -1) : "";
      int i = 0;
      while (f->choices[i] && strcmp(f->choices[i], text) != 0) i++;
      if (!f->choices[i]) {
        luaL_Buffer b;
        luaL_buffinit(L, &b);
        for (int j = 0; f->choices[j]; j++) {
          if (j) luaL_addstring(&b, ", ");
          luaL_addstring(&b, f->choices[j]);
        }
        luaL_pushresult(&b);
        char got[200];
        sl_describe_value(L, -2, got, sizeof got);
        sl_raise(L, "C001", NULL, "%s: '%s' is one of %s; got %s", op->name, f->name, lua_tostring(L, -1), got);
      }
      memcpy(m, &i, sizeof i);
      break;
    }
    case SL_FIELD_TEXT: {
      size_t n;
      if (lua_type(L, -1) != LUA_TSTRING) wrong(L, op, f, "text", "\"6\"");
      const char *text = lua_tolstring(L, -1, &n);
      if (n >= f->size || strlen(text) != n) wrong(L, op, f, "shorter text", "");
      memcpy(m, text, n + 1);
      break;
    }
    case SL_FIELD_ARRAY: {
      if (!lua_istable(L, -1)) wrong(L, op, f, "list", "");
      const size_t n = (size_t)luaL_len(L, -1);     /* not its raw length: a list out of a declaration is a proxy */
      if (n > f->size) {                            /* its range, not a mistake: what asked is unknown */
        sl_error_push(L, "C001", NULL, "%s: '%s' takes at most %d items, got %lld", op->name, f->name, (int)f->size,
                      (long long)n);
        sl_error_field(L, "class", "range");
        lua_error(L);
      }
      for (size_t i = 0; i < n; i++) {
        lua_geti(L, -1, (lua_Integer)i + 1);
        if (!real(L, f->dim, (double *)m + i)) wrong(L, op, f, "list of that kind", sl_dim_example(f->dim));
        lua_pop(L, 1);
      }
      *(size_t *)(void *)(in + f->count) = n;
      break;
    }
  }
}

/* Of several unknown fields the first by name is told, so that the message is the same in every run. */
static void unknown_field(lua_State *L, const struct sl_op *op) {
  const char *worst = NULL;
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) {
    const char *key = lua_type(L, -2) == LUA_TSTRING ? lua_tostring(L, -2) : NULL;
    if (!key) sl_raise(L, "C002", NULL, "%s: every value needs a name, as in `%s = ...`", op->name, op->in[0].name);
    if (!find(op->in, op->nin, key) && (!worst || strcmp(key, worst) < 0)) worst = key;
  }
  if (!worst) return;
  const char *names[64];
  size_t n = op->nin < 64 ? op->nin : 64;
  for (size_t i = 0; i < n; i++) names[i] = op->in[i].name;
  const char *near = sl_nearest(worst, names, n);
  char help[120];
  snprintf(help, sizeof help, "did you mean '%s'?", near ? near : "");
  sl_raise(L, "C002", near ? help : NULL, "%s: no field '%s'", op->name, worst);
}

/* A misspelt field is told before the one that is missing for it. */
static void read_in(lua_State *L, const struct sl_op *op, unsigned char *in) {
  const struct sl_field *missing = NULL;
  size_t present = 0, entries = 0;
  for (size_t i = 0; i < op->nin; i++) {
    const struct sl_field *f = &op->in[i];
    if (lua_getfield(L, 1, f->name) != LUA_TNIL) {
      present++;
      take(L, op, f, in);
    } else if (!f->optional) missing = missing ? missing : f;
    else if (f->kind == SL_FIELD_REAL) *(double *)(void *)(in + f->offset) = NAN;
    lua_pop(L, 1);
  }
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) entries++;
  const bool inherits = lua_getmetatable(L, 1);          /* then the counts tell nothing */
  if (inherits) lua_pop(L, 1);
  if (inherits || entries != present) unknown_field(L, op);
  if (missing) {
    char help[240];
    snprintf(help, sizeof help, "%s = ...: %s", missing->name, missing->help);
    sl_raise(L, "C003", help, "%s: '%s' is missing", op->name, missing->name);
  }
}

/* ---- faults ------------------------------------------------------------------------------------------------------ */

static int fail(lua_State *L, const struct worked *w, enum sl_status status, const struct sl_fault *f) {
  const struct sl_op *op = w->op;
  static const char *const code[] = { [SL_OK] = "", [SL_BAD_INPUT] = "C004", [SL_OUT_OF_RANGE] = "C005",
                                      [SL_NO_ROW] = "C006", [SL_NO_ANSWER] = "C007" };
  char value[96] = "", limit[96] = "";
  struct sl_quantity q = { .si = f->value, .dims = sl_dim_dims(f->dim), .point = f->dim == SL_TEMPERATURE };
  struct sl_style style = { .us = true, .digits = 6 };
  const struct sl_field *field = f->member && *f->member ? find(op->in, op->nin, f->member) : NULL;
  if (f->dim == SL_RATIO) sl_format_in(value, sizeof value, f->value, "%", 6);
  else sl_format(value, sizeof value, &q, &style);
  q.si = f->limit;
  if (f->dim == SL_RATIO) sl_format_in(limit, sizeof limit, f->limit, "%", 6);
  else sl_format(limit, sizeof limit, &q, &style);
  bool numbered = !(isnan(f->value) && (field ? field->kind != SL_FIELD_REAL : true));
  const bool text = field && field->kind == SL_FIELD_TEXT;
  sl_error_push(L, code[status], NULL, "%s: %s%s%s%s%s%s%s%s%s%s%s%s%s", op->name, f->member && *f->member ? "'" : "",
                f->member ? f->member : "", f->member && *f->member ? "' " : "",
                f->text ? f->text : "cannot be worked out",
                text ? "; got \"" : "", text ? (const char *)w->in + field->offset : "", text ? "\"" : "",
                numbered ? "; got " : "", numbered ? value : "", isnan(f->limit) ? "" : ", the limit is ",
                isnan(f->limit) ? "" : limit, f->cite && *f->cite ? " — " : "", f->cite ? f->cite : "");
  if (status != SL_BAD_INPUT) sl_error_field(L, "class", "range");
  if (f->cite) sl_error_field(L, "cite", f->cite);
  return lua_error(L);
}

/* ---- out --------------------------------------------------------------------------------------------------------- */

static void push_real(lua_State *L, enum sl_dim dim, double value) {
  sl_quantity_push(L, (struct sl_quantity){ .si = value, .dims = sl_dim_dims(dim), .point = dim == SL_TEMPERATURE });
}

static bool absent(const struct sl_field *f, const void *m) {
  return f->optional && f->kind == SL_FIELD_REAL && isnan(*(const double *)m);
}

static bool is_choice(const struct sl_field *f, int choice) {
  int n = 0;
  while (f->choices[n] && n < choice) n++;
  return choice >= 0 && f->choices[n];
}

static void give(lua_State *L, const struct sl_field *f, const unsigned char *bytes) {
  const void *m = bytes + f->offset;
  switch (f->kind) {
    case SL_FIELD_REAL: push_real(L, f->dim, *(const double *)m); break;
    case SL_FIELD_COUNT: lua_pushinteger(L, *(const int *)m); break;
    case SL_FIELD_FLAG: lua_pushboolean(L, *(const bool *)m); break;
    case SL_FIELD_CHOICE: lua_pushstring(L, f->choices[*(const int *)m]); break;
    case SL_FIELD_TEXT: lua_pushstring(L, m); break;
    case SL_FIELD_ARRAY: {
      size_t n = *(const size_t *)(const void *)(bytes + f->count);
      lua_createtable(L, (int)n, 0);
      for (size_t i = 0; i < n; i++) {
        push_real(L, f->dim, ((const double *)m)[i]);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
      }
      break;
    }
  }
}

/* The door: what is no number, no choice, or longer than its array never comes back as an answer. */
static const struct sl_field *unfit(const struct sl_op *op, const unsigned char *out) {
  for (size_t i = 0; i < op->nout; i++) {
    const struct sl_field *f = &op->out[i];
    const void *m = out + f->offset;
    bool fit = true;
    switch (f->kind) {
      case SL_FIELD_REAL: fit = isfinite(*(const double *)m) || absent(f, m); break;
      case SL_FIELD_COUNT: case SL_FIELD_FLAG: break;
      case SL_FIELD_CHOICE: fit = is_choice(f, *(const int *)m); break;
      case SL_FIELD_TEXT: fit = memchr(m, 0, f->size) != NULL; break;
      case SL_FIELD_ARRAY: {
        const size_t n = *(const size_t *)(const void *)(out + f->count);
        fit = n <= f->size;
        for (size_t k = 0; fit && k < n; k++) fit = isfinite(((const double *)m)[k]);
        break;
      }
    }
    if (!fit) return f;
  }
  return NULL;
}

static int call_op(lua_State *L) {
  const struct sl_op *op = lua_touserdata(L, lua_upvalueindex(1));
  luaL_checkstack(L, 10, op->name);
  if (!lua_istable(L, 1)) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    return sl_raise(L, "C001", NULL, "%s needs its inputs in braces, as in %s{ %s = ... }; got %s", op->name, op->name,
                    op->in[0].name, got);
  }
  size_t gap = (op->in_size + sizeof(max_align_t) - 1) / sizeof(max_align_t) * sizeof(max_align_t);
  struct worked *w = lua_newuserdatauv(L, sizeof *w + gap + op->out_size, 0);
  memset(w, 0, sizeof *w + gap + op->out_size);
  w->op = op;
  w->in = w->bytes;
  w->out = w->bytes + gap;
  read_in(L, op, w->in);
  struct sl_sheet sheet;            /* without rows: the fault, and what the answer rests on */
  memset(&sheet, 0, offsetof(struct sl_sheet, row));
  sheet.fault = (struct sl_fault){ .limit = NAN };
  enum sl_status status = op->call(w->in, w->out, &sheet);
  if (status != SL_OK) return fail(L, w, status, &sheet.fault);
  w->rests = sheet.rests;
  const struct sl_field *bad = unfit(op, w->out);
  if (bad) {
    sl_error_push(L, "C005", NULL, "%s: '%s' comes out as no number: an input is far beyond what it is for", op->name,
                  bad->name);
    sl_error_field(L, "class", "range");
    return lua_error(L);
  }
  lua_rawgetp(L, LUA_REGISTRYINDEX, &WORKED);
  lua_setmetatable(L, -2);
  return 1;
}

static struct worked *worked_at(lua_State *L, int idx) {
  void *p = lua_touserdata(L, idx);
  if (!p || !lua_getmetatable(L, idx)) return NULL;
  lua_rawgetp(L, LUA_REGISTRYINDEX, &WORKED);
  bool ours = lua_rawequal(L, -1, -2);
  lua_pop(L, 2);
  return ours ? p : NULL;
}

static int worked_index(lua_State *L) {
  const struct worked *w = worked_at(L, 1);
  const char *key = lua_tostring(L, 2);
  const struct sl_field *f = w && key ? find(w->op->out, w->op->nout, key) : NULL;
  if (f && absent(f, w->out + f->offset)) {
    sl_error_push(L, "C007", NULL, "%s gives no '%s' here: %s", w->op->name, f->name, f->help);
    sl_error_field(L, "class", "range");
    return lua_error(L);
  }
  if (f) give(L, f, w->out);
  else {
    const char *names[64];
    size_t n = w->op->nout < 64 ? w->op->nout : 64;
    for (size_t i = 0; i < n; i++) names[i] = w->op->out[i].name;
    const char *near = key ? sl_nearest(key, names, n) : NULL;
    char help[120];
    snprintf(help, sizeof help, "did you mean '%s'?", near ? near : "");
    return sl_raise(L, "C002", near ? help : NULL, "%s gives no '%s'", w->op->name, key ? key : "?");
  }
  return 1;
}

/* sheet(worked) -> op name, { { kind, symbol, text, cite, basis, member, value, dim }, ... }.  Works it again,
 * recording. */
static int worked_sheet(lua_State *L) {
  struct worked *w = worked_at(L, 1);
  if (!w) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    return sl_raise(L, "C001", NULL, "sheet needs the result of a primitive, got %s", got);
  }
  static const char *const kinds[] = { "given", "table", "step" };
  struct sl_sheet *sheet = lua_newuserdatauv(L, sizeof *sheet, 0);
  memset(sheet, 0, sizeof *sheet);
  sheet->cap = SL_SHEET_ROWS;
  w->op->call(w->in, w->out, sheet);
  lua_pushstring(L, w->op->name);
  lua_createtable(L, (int)sheet->n, 1);
  for (size_t i = 0; i < sheet->n; i++) {
    const struct sl_row *r = &sheet->row[i];
    lua_createtable(L, 0, 7);
    sl_error_field(L, "kind", kinds[r->kind]);
    sl_error_field(L, "symbol", r->symbol);
    sl_error_field(L, "text", r->text);
    sl_error_field(L, "cite", r->cite);
    sl_error_field(L, "basis", sl_basis_name(r->basis));
    if (*r->member) {
      lua_pushlstring(L, r->member, strspn(r->member, MEMBER));
      lua_setfield(L, -2, "member");
    }
    sl_error_field(L, "dim", sl_dim_name(r->dim));
    push_real(L, r->dim, r->value);
    lua_setfield(L, -2, "value");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_pushinteger(L, (lua_Integer)sheet->lost);
  lua_setfield(L, -2, "lost");
  return 2;
}

/* worked_rests(worked) -> bits, 1 << basis, of the values out of tables that it rests on: bit 0 is memory. */
static int worked_rests(lua_State *L) {
  const struct worked *w = worked_at(L, 1);
  lua_pushinteger(L, w ? w->rests : 0);
  return 1;
}

static int read_only(lua_State *L) { return sl_raise(L, "C008", NULL, "a worked result cannot be changed"); }

/* ---- tables of fields for describe and the reference ------------------------------------------------------------- */

static void push_fields(lua_State *L, const struct sl_field *f, size_t n) {
  static const char *const kinds[] = { "quantity", "count", "flag", "choice", "text", "list" };
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_createtable(L, 0, 6);
    sl_error_field(L, "name", f[i].name);
    sl_error_field(L, "kind", kinds[f[i].kind]);
    sl_error_field(L, "dim", sl_dim_name(f[i].dim));
    sl_error_field(L, "help", f[i].help);
    lua_pushboolean(L, f[i].optional);
    lua_setfield(L, -2, "optional");
    if (f[i].choices) {
      lua_newtable(L);
      for (int j = 0; f[i].choices[j]; j++) {
        lua_pushstring(L, f[i].choices[j]);
        lua_rawseti(L, -2, j + 1);
      }
      lua_setfield(L, -2, "choices");
    }
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void push_op(lua_State *L, const struct sl_op *op) {
  lua_createtable(L, 0, 4);
  sl_error_field(L, "name", op->name);
  sl_error_field(L, "help", op->help);
  push_fields(L, op->in, op->nin);
  lua_setfield(L, -2, "inputs");
  push_fields(L, op->out, op->nout);
  lua_setfield(L, -2, "outputs");
}

/* primitives() -> { { name, help, inputs, outputs }, ... } in the order of the lists. */
static int list_ops(lua_State *L) {
  lua_newtable(L);
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++) {
      push_op(L, op);
      lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
    }
  return 1;
}

void sl_bind_push(lua_State *L, const struct sl_op *op) {
  lua_pushlightuserdata(L, (void *)(uintptr_t)op);
  lua_pushcclosure(L, call_op, 1);
}

static const struct sl_op *op_at(lua_State *L, int index) {
  const char *name = lua_type(L, index) == LUA_TSTRING ? lua_tostring(L, index) : "";
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (strcmp(op->name, name) == 0) return op;
  return NULL;
}

/* primitive(name) -> { name, help, inputs, outputs }, or nil. */
static int one_op(lua_State *L) {
  const struct sl_op *op = op_at(L, 1);
  if (op) push_op(L, op);
  return op != NULL;
}

/* A primitive is made at its first use: their number costs a start nothing. */
static int calc_index(lua_State *L) {
  const struct sl_op *op = op_at(L, 2);
  if (!op) return 0;
  sl_bind_push(L, op);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, -2);
  lua_rawset(L, 1);
  return 1;
}

void sl_bind_open(lua_State *L) {
  lua_newtable(L);
  lua_pushcfunction(L, worked_index);
  lua_setfield(L, -2, "__index");
  lua_pushcfunction(L, read_only);
  lua_setfield(L, -2, "__newindex");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_pushliteral(L, "worked result");
  lua_setfield(L, -2, "__name");
  lua_rawsetp(L, LUA_REGISTRYINDEX, &WORKED);

  lua_newtable(L);
  lua_createtable(L, 0, 1);
  lua_pushcfunction(L, calc_index);
  lua_setfield(L, -2, "__index");
  lua_setmetatable(L, -2);
  lua_setglobal(L, "calc");
  lua_pushcfunction(L, worked_sheet);
  lua_setglobal(L, "worked_sheet");
  lua_pushcfunction(L, worked_rests);
  lua_setglobal(L, "worked_rests");
  lua_pushcfunction(L, list_ops);
  lua_setglobal(L, "primitives");
  lua_pushcfunction(L, one_op);
  lua_setglobal(L, "primitive");
}
