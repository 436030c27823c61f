/* SPDX-License-Identifier: MIT
 * Calls by lot: any primitive with all its fields, values as a job has them, at edges, out of tables, none at all. */
#ifndef SL_CALL_DRAW_H
#define SL_CALL_DRAW_H

#include <float.h>
#include <stdarg.h>
#include <stdio.h>
#include "call_text.h"
#include "fuzz/lot.h"
#include "table.h"

/* A text that grows up to its room. */
struct call_out { char *at; size_t len, room; };
static inline void call_say(struct call_out *out, const char *format, ...) __attribute__((format(printf, 2, 3)));
static inline void call_say(struct call_out *out, const char *format, ...) {
  char text[600];
  va_list args;
  va_start(args, format);
  const int n = vsnprintf(text, sizeof text, format, args);
  va_end(args);
  if (n < 0 || (size_t)n >= sizeof text || (size_t)n > out->room - out->len) return;
  memcpy(out->at + out->len, text, (size_t)n);
  out->len += (size_t)n;
}

/* What jobs have, from and to; other dimensions: 0.001 to 1000. */
static const struct { enum sl_dim dim; double from, to; } CALL_USUAL[] = {
  { SL_LENGTH, 0.01, 30 }, { SL_ANGLE, 0.01, 1.6 }, { SL_TEMPERATURE, 230, 340 }, { SL_PER_WARMTH, -0.005, -0.001 },
  { SL_RATIO, 0.01, 1 }, { SL_NUMBER, 1, 20 }, { SL_PRESSURE, 10, 5000 }, { SL_SOIL, 1e4, 1e5 },
  { SL_FORCE, 10, 1e5 }, { SL_VOLTAGE, 1, 1000 }, { SL_CURRENT, 0.1, 600 }, { SL_POWER, 10, 20000 },
  { SL_SPEED, 20, 100 }, { SL_MASS, 10, 50 }, { SL_WARMTH, 1, 60 }, { SL_SECTION, 1e-6, 1e-3 },
};

static inline double call_draw_share(struct lot *lot) { return (double)(lot_draw(lot) >> 11) * 0x1p-53; }

static inline double call_draw_usual(struct lot *lot, enum sl_dim dim) {
  double from = 1e-3, to = 1e3;
  for (size_t i = 0; i < sizeof CALL_USUAL / sizeof *CALL_USUAL; i++)
    if (CALL_USUAL[i].dim == dim) from = CALL_USUAL[i].from, to = CALL_USUAL[i].to;
  return from * pow(to / from, call_draw_share(lot));
}

static inline double call_draw_edge(struct lot *lot) {
  static const double edges[] = { 0, -0.0, 1, -1, 0.5, 5e-324, -5e-324, DBL_MIN, DBL_EPSILON, 1e-9, 1e-3, 0.15, 25,
                                  233.15, 273.15, 298.15, 1000, 1e5, 1e6, 1e9, 1e12, 1e15, 1e100, 1e154, 1e155, 1e300,
                                  1e308, DBL_MAX, -DBL_MAX, INFINITY, -INFINITY, NAN, 1.5707963267948966,
                                  1.5707963277948964, 3.1415926535897931, 6.2831853071795862, 6.2831853081795859,
                                  2147483647, 9007199254740992 };
  return edges[lot_below(lot, sizeof edges / sizeof *edges)];
}

static inline size_t call_tables(void) {
  size_t n = 0;
  while (sl_tables[n].name) n++;
  return n;
}

static inline const void *call_cell(const struct sl_table *t, const struct sl_column *c, size_t row) {
  return (const unsigned char *)t->rows + row * t->size + c->offset;
}

static inline double call_draw_cell(struct lot *lot) {
  for (int tries = 0; tries < 20; tries++) {
    const struct sl_table *t = &sl_tables[lot_below(lot, call_tables())];
    size_t columns = 0;
    while (t->columns[columns].name) columns++;
    const struct sl_column *c = &t->columns[lot_below(lot, columns)];
    if (c->kind != SL_COLUMN_REAL || t->nrows == 0) continue;
    const double value = *(const double *)call_cell(t, c, lot_below(lot, t->nrows));
    if (!isnan(value)) return value;
  }
  return 1;
}

/* least_size: size. */
static inline bool call_ends(const char *field, const char *column) {
  const size_t n = strlen(field), m = strlen(column);
  return n >= m && strcmp(field + n - m, column) == 0;
}

/* Texts of tables, n of them: of the column in which `like` stands, or of one called as the field is, or of any.
 * Counts them where `to` is NULL. */
static inline size_t call_texts(const char *field, bool any, struct call_span like, const char **to) {
  size_t n = 0;
  for (size_t i = 0; sl_tables[i].name; i++)
    for (const struct sl_column *c = sl_tables[i].columns; c->name; c++) {
      if (c->kind != SL_COLUMN_TEXT) continue;
      bool of = any || call_ends(field, c->name) || strncmp(sl_tables[i].name, field, strlen(field)) == 0;
      for (size_t r = 0; r < sl_tables[i].nrows && !of && like.len; r++)
        of = call_is(like, *(const char *const *)call_cell(&sl_tables[i], c, r));
      for (size_t r = 0; r < sl_tables[i].nrows && of; r++) {
        const char *text = *(const char *const *)call_cell(&sl_tables[i], c, r);
        if (!text || strlen(text) >= 40 || strchr(text, '\n')) continue;
        if (to) to[n] = text;
        n++;
      }
    }
  return n;
}

struct call_found { const char *field; bool any; const char **text; size_t n; };

/* The same, which are looked for once where nothing is to be like them: a field is asked for by the thousand. */
static inline const struct call_found *call_find(const char *field, bool any, struct call_span like) {
  static struct call_found known[300], anew;
  struct call_found *at = known;
  while (at < known + sizeof known / sizeof *known && at->text && (at->field != field || at->any != any)) at++;
  if (like.len || at == known + sizeof known / sizeof *known) {
    free(anew.text);
    at = &anew;
  } else if (at->text) return at;
  *at = (struct call_found){ field, any, NULL, call_texts(field, any, like, NULL) };
  if (!(at->text = malloc((at->n + 1) * sizeof *at->text))) abort();
  call_texts(field, any, like, at->text);
  return at;
}

/* One of them, of no more than there is room for. */
static inline const char *call_draw_text(struct lot *lot, const char *field, struct call_span like) {
  enum { ROOM = 600 };
  static const char *some[ROOM];
  size_t n = 0;
  if (strcmp(field, "edition") == 0 && lot_below(lot, 8)) {
    while (sl_edition_rows[n + 1].name) n++;
    return sl_edition_rows[1 + lot_below(lot, n)].name;
  }
  const struct call_found *found = call_find(field, lot_below(lot, 8) == 0, like);
  if (found->n <= ROOM) return found->n ? found->text[lot_below(lot, found->n)] : "x";
  memcpy(some, found->text, sizeof some);
  for (size_t i = ROOM; i < found->n; i++) some[lot_below(lot, ROOM)] = found->text[i];
  return some[lot_below(lot, ROOM)];
}

static inline double call_draw_number(struct lot *lot, enum sl_dim dim) {
  const size_t how = lot_below(lot, 16);
  return how == 0 ? call_draw_edge(lot) : how == 1 ? call_draw_cell(lot) : call_draw_usual(lot, dim);
}

/* What stands behind the sign of a field: as it is, or, rarely, what it cannot be. */
static inline void call_draw_value(struct lot *lot, const struct sl_field *f, struct call_span like,
                                   struct call_out *out) {
  static const char *const strange[] = { "", "true", "false", "x", "#-1", "#2147483647", "1.5", "nan", "1e999", "-1",
                                         "1000001", "3 as mass", "3 as temperature", "3 as number", "\xff\xfe",
                                         "a text that is longer than any member of a struct has room for it" };
  if (lot_below(lot, 200) == 0) {
    call_say(out, "%s", strange[lot_below(lot, sizeof strange / sizeof *strange)]);
    return;
  }
  switch (f->kind) {
    case SL_FIELD_REAL: call_say(out, "%.17g", call_draw_number(lot, f->dim)); break;
    case SL_FIELD_COUNT: call_say(out, "%d", (int)lot_below(lot, lot_below(lot, 4) ? 12 : 1200)); break;
    case SL_FIELD_FLAG: call_say(out, lot_below(lot, 2) ? "true" : "false"); break;
    case SL_FIELD_CHOICE: {
      size_t n = 0;
      while (f->choices[n]) n++;
      call_say(out, "%s", f->choices[lot_below(lot, n)]);
      break;
    }
    case SL_FIELD_TEXT: call_say(out, "%s", call_draw_text(lot, f->name, like)); break;
    case SL_FIELD_LIST: {
      const size_t many = lot_below(lot, 8), items = many == 0 ? 0 : many == 1 ? lot_below(lot, 40) : 1 + many / 3;
      for (size_t i = 0; i < items; i++) {
        call_say(out, i ? " %.17g" : "%.17g", call_draw_number(lot, f->dim));
        if (lot_below(lot, 8) == 0) call_say(out, "x%zu", lot_below(lot, 30));
      }
      break;
    }
    case SL_FIELD_ROWS: break;
  }
}

static inline void call_draw_fields(struct lot *lot, const struct sl_field *fields, size_t n, const char *mark,
                                    struct call_out *out) {
  static const struct call_span none = { "", 0 };
  for (size_t i = 0; i < n; i++) {
    const struct sl_field *f = &fields[i];
    if (lot_below(lot, f->optional ? 2 : 50) == 0) continue;
    if (f->kind == SL_FIELD_ROWS) {
      for (size_t k = lot_below(lot, 4) ? 1 + lot_below(lot, 3) : lot_below(lot, 12); k > 0; k--) {
        call_say(out, "%s\n", f->name);
        call_draw_fields(lot, f->fields, f->nfields, ".", out);
      }
      continue;
    }
    call_say(out, "%s%s = ", mark, f->name);
    call_draw_value(lot, f, none, out);
    call_say(out, "\n");
  }
}

/* A call of a primitive, NULL: of any. */
static inline void call_draw(struct lot *lot, const struct sl_op *op, struct call_out *out) {
  if (!op) op = call_op_at(lot_below(lot, call_ops()));
  call_say(out, "%s\n", op->name);
  call_draw_fields(lot, op->in, op->nin, "", out);
  if (lot_below(lot, 40) == 0) call_say(out, "strange = 1\n");
}

/* ---- a call with something changed ------------------------------------------------------------------------------- */

static inline double call_changed_number(struct lot *lot, double was, enum sl_dim dim) {
  switch (lot_below(lot, 10)) {
    case 0: return nextafter(was, INFINITY);
    case 1: return nextafter(was, -INFINITY);
    case 2: return was * 2;
    case 3: return was / 2;
    case 4: return -was;
    case 5: return was * pow(10, (double)lot_below(lot, 40) - 20);
    case 6: return call_draw_edge(lot);
    case 7: return call_draw_cell(lot);
    case 8: return was * (0.9 + 0.2 * call_draw_share(lot));
    default: return call_draw_usual(lot, dim);
  }
}

static inline void call_changed_value(struct lot *lot, const struct sl_field *f, struct call_span was,
                                      struct call_out *out) {
  double number;
  struct call_span item;
  size_t times, which = lot_below(lot, 6);
  if (f && f->kind == SL_FIELD_LIST && was.len) {
    for (size_t i = 0; call_item(&was, &item, &times); i++) {
      if (i == which && lot_below(lot, 4) == 0) continue;
      const bool changes = i == which && call_number(item, &number);
      if (i) call_say(out, " ");
      if (changes) call_say(out, "%.17g", call_changed_number(lot, number, f->dim));
      else call_say(out, "%.*s", (int)(item.len < 100 ? item.len : 100), item.at);
      if (changes && lot_below(lot, 4) == 0) times = lot_below(lot, 50);
      if (times != 1) call_say(out, "x%zu", times);
    }
    if (lot_below(lot, 4) == 0) call_say(out, " %.17g", call_draw_number(lot, f->dim));
  } else if (f && f->kind == SL_FIELD_REAL && call_number(was, &number))
    call_say(out, "%.17g", call_changed_number(lot, number, f->dim));
  else if (f && f->kind != SL_FIELD_ROWS) call_draw_value(lot, f, was, out);
}

static inline void call_line_out(const struct call_line *l, struct call_out *out) {
  call_say(out, "%s%.*s", l->of_row ? "." : "", (int)(l->name.len < 100 ? l->name.len : 100), l->name.at);
  if (l->gives && l->value.len < out->room - out->len - (out->room > out->len + 4 ? 4 : 0)) {
    call_say(out, " = ");
    if (l->value.len <= out->room - out->len) memcpy(out->at + out->len, l->value.at, l->value.len);
    if (l->value.len <= out->room - out->len) out->len += l->value.len;
  }
  call_say(out, "\n");
}

/* The bound that C refuses the call with, into the field that it names: the edge of its range. */
static inline bool call_to_edge(struct lot *lot, const struct call *c, struct call_line *line, char *text,
                                size_t size) {
  struct sl_sheet sheet = { .fault = { .limit = NAN } };
  if (!c->fits || c->op->need) return false;
  unsigned char *out = calloc(1, c->op->out_size);
  if (!out) abort();
  const enum sl_status status = c->op->call(c->in, out, (struct sl_space){ 0 }, &sheet);
  free(out);
  if (status == SL_OK || isnan(sheet.fault.limit) || !call_is(line->name, sheet.fault.member)) return false;
  const double limit = sheet.fault.limit;
  const double near = lot_below(lot, 3) ? limit : lot_below(lot, 2) ? nextafter(limit, 0) : nextafter(limit, INFINITY);
  snprintf(text, size, "%.17g", near);
  line->value = (struct call_span){ text, strlen(text) };
  return true;
}

/* The call of a text, changed by lot. */
static inline void call_changed(struct lot *lot, const char *text, size_t len, struct call_out *out) {
  static struct call c;
  char edge[40];
  call_read(&c, NULL, text, len);
  const size_t which = lot_below(lot, c.n), how = lot_below(lot, 32);
  const struct sl_field *rows = NULL;
  for (size_t i = 0; i < c.n; i++) call_to_edge(lot, &c, &c.line[i], edge, sizeof edge);
  call_say(out, "%s\n", c.op->name);
  for (size_t i = 0; i < c.n; i++) {
    const struct call_line *l = &c.line[i];
    const struct sl_field *f = l->of_row && rows ? call_field(rows->fields, rows->nfields, l->name)
                                                 : call_field(c.op->in, c.op->nin, l->name);
    if (!l->of_row && !l->gives) rows = f;
    if (i != which) call_line_out(l, out);
    else if (how == 0) continue;                                           /* left out */
    else if (how == 1) call_line_out(l, out), call_line_out(l, out);       /* twice: a row more */
    else if (how == 2 && l->gives) {                                       /* with the value of another */
      struct call_line other = *l;
      other.value = c.line[lot_below(lot, c.n)].value;
      if (other.value.at) call_line_out(&other, out);
    } else if (!l->gives) call_line_out(l, out);
    else {
      call_say(out, "%s%.*s = ", l->of_row ? "." : "", (int)(l->name.len < 100 ? l->name.len : 100), l->name.at);
      call_changed_value(lot, f, l->value, out);
      call_say(out, "\n");
    }
  }
  call_free(&c);
}
#endif
