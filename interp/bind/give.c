/* SPDX-License-Identifier: MIT
 * The answer of a primitive as a script reads it.  Rows are shown in place: rows[2].offset copies no list. */
#include "give.h"

#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "fields.h"
#include "host/raise.h"
#include "value/quantity.h"

static const char ROWS = 'l', ROW = 'r';
/* A list of an answer, or one row of it: kind is &ROWS or &ROW, by which a view is known as a quantity is
 * (value/quantity.c).  The answer itself hangs on it as its user value. */
struct view { const char *kind, *who; const struct sl_field *list; const unsigned char *at; size_t n; };

void sl_push_real(lua_State *L, enum sl_dim dim, double value) {
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

/* ---- the door ---------------------------------------------------------------------------------------------------- */

static const unsigned char *items(const struct sl_field *f, const unsigned char *bytes, size_t *n) {
  const void *at;
  memcpy(&at, bytes + f->offset, sizeof at);
  memcpy(n, bytes + f->count, sizeof *n);
  return at;
}

static bool fit_list(const struct sl_field *f, const unsigned char *bytes) {
  size_t n;
  const unsigned char *at = items(f, bytes, &n);
  if (n && !at) return false;
  for (size_t i = 0; i < n; i++) {
    const unsigned char *item = at + i * f->size;
    if (f->kind == SL_FIELD_LIST ? !isfinite(*(const double *)(const void *)item)
                                 : sl_unfit(f->fields, f->nfields, item) != NULL) return false;
  }
  return true;
}

bool sl_same_bits(const struct sl_field *fields, size_t n, const unsigned char *a, const unsigned char *b) {
  for (size_t i = 0; i < n; i++) {
    const struct sl_field *f = &fields[i];
    size_t bytes = 0, other = 0;
    const void *x = a + f->offset, *y = b + f->offset;
    switch (f->kind) {
      case SL_FIELD_REAL: bytes = sizeof(double); break;
      case SL_FIELD_COUNT: case SL_FIELD_CHOICE: bytes = sizeof(int); break;
      case SL_FIELD_FLAG: bytes = sizeof(bool); break;
      case SL_FIELD_TEXT:
        if (strcmp(x, y) != 0) return false;
        continue;
      case SL_FIELD_LIST: case SL_FIELD_ROWS:
        x = items(f, a, &bytes), y = items(f, b, &other);
        if (bytes != other) return false;
        bytes *= f->size;
        if (f->kind == SL_FIELD_ROWS) {
          for (size_t at = 0; at < bytes; at += f->size)
            if (!sl_same_bits(f->fields, f->nfields, (const unsigned char *)x + at, (const unsigned char *)y + at))
              return false;
          continue;
        }
        break;
    }
    if (bytes && memcmp(x, y, bytes) != 0) return false;
  }
  return true;
}

const struct sl_field *sl_unfit(const struct sl_field *out, size_t n, const unsigned char *bytes) {
  for (size_t i = 0; i < n; i++) {
    const struct sl_field *f = &out[i];
    const void *m = bytes + f->offset;
    bool fit = true;
    switch (f->kind) {
      case SL_FIELD_REAL: fit = isfinite(*(const double *)m) || absent(f, m); break;
      case SL_FIELD_COUNT: case SL_FIELD_FLAG: break;
      case SL_FIELD_CHOICE: fit = is_choice(f, *(const int *)m); break;
      case SL_FIELD_TEXT: fit = memchr(m, 0, f->size) != NULL; break;
      case SL_FIELD_LIST: case SL_FIELD_ROWS: fit = fit_list(f, bytes); break;
    }
    if (!fit) return f;
  }
  return NULL;
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

static void push_view(lua_State *L, struct view view, int owner) {
  struct view *v = lua_newuserdatauv(L, sizeof *v, 1);
  *v = view;
  lua_pushvalue(L, owner);
  lua_setiuservalue(L, -2, 1);
  lua_rawgetp(L, LUA_REGISTRYINDEX, view.kind);
  lua_setmetatable(L, -2);
}

int sl_give(lua_State *L, const char *who, const struct sl_field *fields, size_t n, const unsigned char *bytes,
            const char *key, int owner) {
  const struct sl_field *f = key ? sl_field(fields, n, key) : NULL;
  if (!f) return sl_no_field(L, fields, n, key ? key : "", "%s gives no '%s'", who, key ? key : "?");
  const void *m = bytes + f->offset;
  if (absent(f, m)) {
    sl_error_push(L, "C007", NULL, "%s gives no '%s' here: %s", who, f->name, f->help);
    sl_error_field(L, "class", "range");
    return lua_error(L);
  }
  switch (f->kind) {
    case SL_FIELD_REAL: sl_push_real(L, f->dim, *(const double *)m); break;
    case SL_FIELD_COUNT: lua_pushinteger(L, *(const int *)m); break;
    case SL_FIELD_FLAG: lua_pushboolean(L, *(const bool *)m); break;
    case SL_FIELD_CHOICE: lua_pushstring(L, f->choices[*(const int *)m]); break;
    case SL_FIELD_TEXT: lua_pushstring(L, m); break;
    case SL_FIELD_LIST: {
      size_t count;
      const double *at = (const void *)items(f, bytes, &count);
      lua_createtable(L, (int)count, 0);
      for (size_t i = 0; i < count; i++) {
        sl_push_real(L, f->dim, at[i]);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
      }
      break;
    }
    case SL_FIELD_ROWS: {
      struct view v = { .kind = &ROWS, .who = who, .list = f };
      v.at = items(f, bytes, &v.n);
      push_view(L, v, owner);
      break;
    }
  }
  return 1;
}

static const struct view *view_at(lua_State *L, const char *kind) {
  const struct view *v = lua_type(L, 1) == LUA_TUSERDATA ? lua_touserdata(L, 1) : NULL;
  return v && v->kind == kind ? v : NULL;
}

static int rows_index(lua_State *L) {
  const struct view *v = view_at(L, &ROWS);
  int whole = 0;
  const lua_Integer i = lua_tointegerx(L, 2, &whole);
  if (!v) return 0;
  if (lua_type(L, 2) != LUA_TNUMBER)
    return sl_raise(L, "C002", NULL, "%s gives a list '%s': its rows have numbers, as in %s[1].%s", v->who,
                    v->list->name, v->list->name, v->list->fields[0].name);
  if (!whole || i < 1 || (lua_Unsigned)i > v->n) return 0;
  lua_getiuservalue(L, 1, 1);
  push_view(L, (struct view){ &ROW, v->who, v->list, v->at + (size_t)(i - 1) * v->list->size, 1 }, lua_gettop(L));
  return 1;
}

static int rows_length(lua_State *L) {
  const struct view *v = view_at(L, &ROWS);
  lua_pushinteger(L, v ? (lua_Integer)v->n : 0);
  return 1;
}

static int row_index(lua_State *L) {
  const struct view *v = view_at(L, &ROW);
  if (!v) return 0;
  lua_getiuservalue(L, 1, 1);
  const char *key = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : NULL;
  return sl_give(L, v->who, v->list->fields, v->list->nfields, v->at, key, lua_gettop(L));
}

int sl_read_only(lua_State *L) { return sl_raise(L, "C008", NULL, "a worked result cannot be changed"); }

static void open_view(lua_State *L, const char *meta, lua_CFunction index, lua_CFunction length, const char *name) {
  lua_newtable(L);
  lua_pushcfunction(L, index);
  lua_setfield(L, -2, "__index");
  if (length) {
    lua_pushcfunction(L, length);
    lua_setfield(L, -2, "__len");
  }
  lua_pushcfunction(L, sl_read_only);
  lua_setfield(L, -2, "__newindex");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_pushstring(L, name);
  lua_setfield(L, -2, "__name");
  lua_rawsetp(L, LUA_REGISTRYINDEX, meta);
}

void sl_give_open(lua_State *L) {
  open_view(L, &ROWS, rows_index, rows_length, "list of a worked result");
  open_view(L, &ROW, row_index, NULL, "row of a worked result");
}
