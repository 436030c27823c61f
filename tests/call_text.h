/* SPDX-License-Identifier: MIT
 * A call of a primitive as a text, for the fuzz target and its seeds.  The first line names the primitive (what is no
 * name counts as one: a text without structure is a call, too); each line below gives a field:
 *
 *     raceway_fill                     a number is of SI, in the field's own dimension; "3 as mass" in another
 *     kind = PVC 40                    a choice or a text as it stands; "#9": choice 9, which only C can say
 *     conductors                       a row of that list begins
 *     .size = 6                        and its fields
 *     angles = 1.5 0.8x20 nan          a list: numbers, "0.8x20" twenty of one
 *
 * It is read into the inputs of C (`fits` where they can hold it), and into a table as a script has it (`takes` where
 * the binding has to take that). */
#ifndef SL_CALL_TEXT_H
#define SL_CALL_TEXT_H

#include <lauxlib.h>
#include <limits.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include "bind/open.h"
#include "law.h"
#include "value/quantity.h"

enum { CALL_LINES = 400, CALL_ITEMS = 2000, CALL_LISTS = 8, CALL_COUNT = 1000000 };

struct call_span { const char *at; size_t len; };
struct call_line { struct call_span name, value; bool gives, of_row; };

struct call {
  const struct sl_op *op;
  struct call_line line[CALL_LINES]; size_t n;
  unsigned char *in;
  void *items[CALL_LISTS]; size_t bytes[CALL_LISTS], nitems;   /* of its lists */
  bool fits, takes;
};

static inline bool call_is(struct call_span s, const char *text) {
  if (s.len && *text != *s.at) return false;                    /* mostly: no sanitizer is asked */
  return strlen(text) == s.len && memcmp(s.at, text, s.len) == 0;
}

static inline size_t call_ops(void) {
  size_t n = 0;
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++) n++;
  return n;
}
static inline const struct sl_op *call_op_at(size_t at) {
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (at-- == 0) return op;
  return NULL;
}
static inline const struct sl_op *call_op(struct call_span name) {
  size_t sum = 0;
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (call_is(name, op->name)) return op;
  for (size_t i = 0; i < name.len; i++) sum = sum * 31 + (unsigned char)name.at[i];
  return call_op_at(sum % call_ops());
}

static inline const struct sl_field *call_field(const struct sl_field *fields, size_t n, struct call_span name) {
  for (size_t i = 0; i < n; i++)
    if (call_is(name, fields[i].name)) return &fields[i];
  return NULL;
}

static inline struct call_span call_trimmed(struct call_span s) {
  while (s.len && *s.at == ' ') s.at++, s.len--;
  while (s.len && s.at[s.len - 1] == ' ') s.len--;
  return s;
}

/* The whole of a span as a number. */
static inline bool call_number(struct call_span s, double *to) {
  char text[64], *end;
  if (s.len == 0 || s.len >= sizeof text || memchr(s.at, 0, s.len)) return false;
  memcpy(text, s.at, s.len);
  text[s.len] = 0;
  *to = strtod(text, &end);
  return *end == 0 && *text != ' ';
}

/* "3 as mass": the number, and the dimension if it is a word of one. */
static inline bool call_amount(struct call_span s, enum sl_dim *dim, double *to) {
  for (size_t i = 0; i + 4 < s.len; i++) {
    if (memcmp(s.at + i, " as ", 4) != 0) continue;
    for (int d = 0; d < SL_DIM_COUNT; d++)
      if (call_is((struct call_span){ s.at + i + 4, s.len - i - 4 }, sl_dim_name((enum sl_dim)d)))
        *dim = (enum sl_dim)d;
    s.len = i;
  }
  return call_number(s, to);
}

static inline bool call_same_dim(enum sl_dim a, enum sl_dim b) {
  return sl_dim_dims(a).w == sl_dim_dims(b).w && (a == SL_TEMPERATURE) == (b == SL_TEMPERATURE);
}

/* The next item of a list, with how many of it there are; false: there is none. */
static inline bool call_item(struct call_span *list, struct call_span *item, size_t *times) {
  *list = call_trimmed(*list);
  if (!list->len) return false;
  size_t n = 0;
  while (n < list->len && list->at[n] != ' ') n++;
  *item = (struct call_span){ list->at, n };
  list->at += n, list->len -= n;
  *times = 1;
  for (size_t i = item->len; i-- > 1;) {
    if (item->at[i] != 'x') continue;
    *times = 0;
    for (size_t k = i + 1; k < n && item->at[k] >= '0' && item->at[k] <= '9' && *times < CALL_ITEMS; k++)
      *times = *times * 10 + (size_t)(item->at[k] - '0');
    if (*times > CALL_ITEMS) *times = CALL_ITEMS;
    item->len = i;
  }
  return true;
}

/* ---- into the inputs of C ---------------------------------------------------------------------------------------- */

static inline void *call_items(struct call *c, size_t bytes) {
  LAW(c->nitems < CALL_LISTS);
  void *at = calloc(1, bytes ? bytes : 1);
  if (!at) abort();
  c->bytes[c->nitems] = bytes;
  return c->items[c->nitems++] = at;
}

static inline bool call_fill_list(struct call *c, const struct sl_field *f, struct call_span value,
                                  unsigned char *to) {
  static double items[CALL_ITEMS];
  double number;
  size_t n = 0, times;
  struct call_span item;
  while (call_item(&value, &item, &times))
    for (size_t i = 0; i < times && n < CALL_ITEMS; i++) {
      enum sl_dim dim = f->dim;
      if (!call_amount(item, &dim, &number) || !call_same_dim(dim, f->dim)) return false;
      items[n++] = number;
    }
  double *exact = call_items(c, n * sizeof *items);             /* not a byte more: a sanitizer watches its end */
  memcpy(exact, items, n * sizeof *items);
  memcpy(to + f->offset, &exact, sizeof exact);
  memcpy(to + f->count, &n, sizeof n);
  return true;
}

static inline int call_choice(const struct sl_field *f, struct call_span value) {
  for (int i = 0; f->choices[i]; i++)
    if (call_is(value, f->choices[i])) return i;
  return -1;
}

static inline void call_fill_field(struct call *c, const struct sl_field *f, struct call_span value,
                                   unsigned char *to) {
  void *m = to + f->offset;
  double number;
  bool fits = true;
  switch (f->kind) {
    case SL_FIELD_REAL: {
      enum sl_dim dim = f->dim;
      fits = call_amount(value, &dim, &number) && call_same_dim(dim, f->dim);
      if (fits) *(double *)m = number;
      break;
    }
    case SL_FIELD_COUNT:
      fits = call_number(value, &number) && number >= INT_MIN && number <= INT_MAX && floor(number) >= number;
      if (fits) *(int *)m = (int)number;
      c->takes = c->takes && fits && fabs(number) <= CALL_COUNT;
      break;
    case SL_FIELD_FLAG:
      fits = call_is(value, "true") || call_is(value, "false");
      *(bool *)m = call_is(value, "true");
      break;
    case SL_FIELD_CHOICE: {
      const int choice = call_choice(f, value);
      const bool raw = choice < 0 && value.len > 1 && *value.at == '#' &&
                       call_number((struct call_span){ value.at + 1, value.len - 1 }, &number);
      fits = choice >= 0 || (raw && fabs(number) < 1e6);
      if (fits) *(int *)m = raw ? (int)number : choice;
      c->takes = c->takes && choice >= 0;
      break;
    }
    case SL_FIELD_TEXT:
      fits = value.len < f->size && !memchr(value.at, 0, value.len);
      if (!fits) break;
      memset(m, 0, f->size);
      memcpy(m, value.at, value.len);
      break;
    case SL_FIELD_LIST: fits = call_fill_list(c, f, value, to); break;
    case SL_FIELD_ROWS: fits = false; break;
  }
  if (!fits) c->fits = c->takes = false;
}

/* What a struct holds where nothing was said. */
static inline void call_absent(const struct sl_field *fields, size_t n, unsigned char *to) {
  for (size_t i = 0; i < n; i++)
    if (fields[i].kind == SL_FIELD_REAL && fields[i].optional) *(double *)(void *)(to + fields[i].offset) = NAN;
}

/* Lines of one struct: the inputs, or the row that begins at `from`. */
static inline void call_fill(struct call *c, const struct sl_field *fields, size_t nfields, size_t from, bool of_row,
                             unsigned char *to) {
  bool given[64] = { false };
  size_t length[64] = { 0 };
  LAW(nfields <= 64);
  call_absent(fields, nfields, to);
  for (size_t i = from; i < c->n && !(of_row && !c->line[i].of_row); i++) {
    const struct call_line *l = &c->line[i];
    if (l->of_row != of_row) continue;
    const struct sl_field *f = call_field(fields, nfields, l->name);
    if (!f) {
      c->takes = false;
      continue;
    }
    given[f - fields] = true;
    if (!l->gives && f->kind == SL_FIELD_ROWS) length[f - fields]++;
    else if (f->kind == SL_FIELD_ROWS) length[f - fields] = 0, c->fits = c->takes = false;
    else call_fill_field(c, f, l->value, to);
  }
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    if (!given[i] && !f->optional) c->fits = c->takes = false;
    if (f->kind != SL_FIELD_ROWS) continue;
    unsigned char *rows = call_items(c, length[i] * f->size), *row = rows;
    for (size_t k = 0; k < c->n && length[i]; k++) {
      if (c->line[k].of_row || c->line[k].gives || !call_is(c->line[k].name, f->name)) continue;
      if (row == rows + length[i] * f->size) break;
      call_fill(c, f->fields, f->nfields, k + 1, true, row);
      row += f->size;
    }
    memcpy(to + f->offset, &rows, sizeof rows);
    memcpy(to + f->count, &length[i], sizeof length[i]);
  }
}

/* Of a field that is written twice the last counts, as in a table; of a list too, but its first block stays here. */
static inline void call_once(struct call *c) {
  size_t kept = 0;
  for (size_t i = 0; i < c->n; i++) {
    bool again = false;
    for (size_t k = i + 1; k < c->n && c->line[i].gives; k++) {
      if (c->line[i].of_row && !c->line[k].of_row) break;
      again = again || (c->line[k].gives && c->line[k].of_row == c->line[i].of_row &&
                        c->line[k].name.len == c->line[i].name.len &&
                        memcmp(c->line[k].name.at, c->line[i].name.at, c->line[i].name.len) == 0);
    }
    if (!again) c->line[kept++] = c->line[i];
  }
  c->n = kept;
}

/* Splits a text into its lines; of `op` where that is not NULL, else of the primitive that it names. */
static inline void call_read(struct call *c, const struct sl_op *op, const char *text, size_t len) {
  c->op = op;
  c->n = c->nitems = 0;                                         /* nobody reads lines and lists beyond */
  c->in = NULL;
  c->fits = c->takes = true;
  for (size_t at = 0, line = 0; at < len && c->n < CALL_LINES; line++) {
    const char *end = memchr(text + at, '\n', len - at);
    struct call_span s = { text + at, end ? (size_t)(end - text) - at : len - at };
    at += s.len + 1;
    if (line == 0) {
      if (!op) c->op = call_op(s);
      continue;
    }
    struct call_line *l = &c->line[c->n];
    *l = (struct call_line){ .of_row = s.len > 0 && *s.at == '.' };
    if (l->of_row) s.at++, s.len--;
    const char *equal = memchr(s.at, '=', s.len);
    l->gives = equal != NULL;
    l->name = call_trimmed((struct call_span){ s.at, equal ? (size_t)(equal - s.at) : s.len });
    if (equal) l->value = call_trimmed((struct call_span){ equal + 1, s.len - (size_t)(equal - s.at) - 1 });
    if (l->name.len == 0 || memchr(l->name.at, 0, l->name.len)) continue;
    if (!l->gives && l->of_row) continue;
    if (l->of_row && (c->n == 0 || (!c->line[c->n - 1].of_row && c->line[c->n - 1].gives))) continue;
    c->n++;
  }
  if (!c->op) c->op = call_op((struct call_span){ "", 0 });
  /* Only the name of a list of rows stands alone. */
  size_t kept = 0;
  bool rows = false;
  for (size_t i = 0; i < c->n; i++) {
    const struct sl_field *f = call_field(c->op->in, c->op->nin, c->line[i].name);
    if (!c->line[i].of_row) rows = !c->line[i].gives && f && f->kind == SL_FIELD_ROWS;
    if (c->line[i].of_row ? rows : rows || c->line[i].gives) c->line[kept++] = c->line[i];
  }
  c->n = kept;
  call_once(c);
  if (!(c->in = calloc(1, c->op->in_size ? c->op->in_size : 1))) abort();
  call_fill(c, c->op->in, c->op->nin, 0, false, c->in);
}

static inline void call_free(struct call *c) {
  for (size_t i = 0; i < c->nitems; i++) free(c->items[i]);
  free(c->in);
}

/* ---- into a table ------------------------------------------------------------------------------------------------ */

static inline void call_push_value(lua_State *L, enum sl_dim own, struct call_span value) {
  enum sl_dim dim = own;
  double number;
  if (call_amount(value, &dim, &number))
    sl_quantity_push(L, (struct sl_quantity){ .si = number, .dims = sl_dim_dims(dim), .point = dim == SL_TEMPERATURE });
  else lua_pushlstring(L, value.at, value.len);
}

static inline void call_push_field(lua_State *L, const struct sl_field *f, struct call_span value) {
  double number;
  if (f && f->kind == SL_FIELD_LIST) {
    struct call_span item;
    size_t times, n = 0;
    lua_newtable(L);
    while (call_item(&value, &item, &times))
      for (size_t i = 0; i < times && n < CALL_ITEMS; i++) {
        call_push_value(L, f->dim, item);
        lua_rawseti(L, -2, (lua_Integer)++n);
      }
  } else if (f && f->kind == SL_FIELD_REAL) call_push_value(L, f->dim, value);
  else if (f && f->kind == SL_FIELD_COUNT && call_number(value, &number)) lua_pushnumber(L, number);
  else if (f && f->kind == SL_FIELD_FLAG && (call_is(value, "true") || call_is(value, "false")))
    lua_pushboolean(L, call_is(value, "true"));
  else lua_pushlstring(L, value.at, value.len);
}

/* The table that a script would call the primitive with. */
static inline void call_push(lua_State *L, const struct call *c) {
  const struct sl_field *rows = NULL;
  lua_newtable(L);
  const int table = lua_gettop(L);
  for (size_t i = 0; i < c->n; i++) {
    const struct call_line *l = &c->line[i];
    lua_pushlstring(L, l->name.at, l->name.len);
    if (l->of_row) {
      call_push_field(L, call_field(rows->fields, rows->nfields, l->name), l->value);
      lua_rawset(L, -3);                                           /* the row lies on top */
      continue;
    }
    lua_settop(L, table + 1);                                      /* the name; a row that lay there is done */
    lua_pushlstring(L, l->name.at, l->name.len);
    lua_replace(L, table + 1);
    const struct sl_field *f = call_field(c->op->in, c->op->nin, l->name);
    if (l->gives) {
      call_push_field(L, f, l->value);
      lua_rawset(L, table);
      continue;
    }
    rows = f;
    lua_pushvalue(L, -1);
    const int type = lua_rawget(L, table);
    if (type != LUA_TTABLE) {
      lua_pop(L, 1);
      lua_newtable(L);
      lua_pushvalue(L, -2);
      lua_pushvalue(L, -2);
      if (type == LUA_TNIL) lua_rawset(L, table);
      else lua_pop(L, 2);                                          /* a text stands there, and stays */
    }
    lua_replace(L, table + 1);                                     /* the list */
    lua_newtable(L);
    lua_pushvalue(L, -1);
    lua_rawseti(L, table + 1, (lua_Integer)lua_rawlen(L, table + 1) + 1);
  }
  lua_settop(L, table);
}
#endif
