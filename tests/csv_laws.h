/* SPDX-License-Identifier: MIT
 * What holds of the reader of parts and price lists for any bytes:
 *   - it gives the rows and cells that a plain reader of RFC 4180 gives, which goes through the bytes once, state by
 *     state, and knows no places: none lost, none moved, none changed; and leaves out, with a complaint, what that does
 *   - what it refuses as a whole is so: empty, no UTF-8, no heading, a name twice ...
 *   - each complaint has code, words and, unless it is of the file, a place that the file has, in order
 *   - a cell stands where its span says */
#ifndef SL_CSV_LAWS_H
#define SL_CSV_LAWS_H

#include <stdint.h>
#include <string.h>
#include "host/csv.h"
#include "law.h"

static inline void *csv_room(void *memory) {
  if (!memory) abort();
  return memory;
}

/* ---- UTF-8, by the table of Unicode 3.9, D92 --------------------------------------------------------------------- */

static inline bool csv_utf8(const char *text, size_t len) {
  const unsigned char *s = (const unsigned char *)text;
  for (size_t i = 0; i < len;) {
    const size_t more = s[i] < 0x80 ? 0 : s[i] < 0xC2 ? 9 : s[i] < 0xE0 ? 1 : s[i] < 0xF0 ? 2 : s[i] < 0xF5 ? 3 : 9;
    if (more == 9 || i + more >= len) return false;
    if (more > 0) {
      const unsigned char low = s[i] == 0xE0 ? 0xA0 : s[i] == 0xF0 ? 0x90 : 0x80;
      const unsigned char high = s[i] == 0xED ? 0x9F : s[i] == 0xF4 ? 0x8F : 0xBF;
      if (s[i + 1] < low || s[i + 1] > high) return false;
    }
    for (size_t k = 2; k <= more; k++)
      if ((s[i + k] & 0xC0) != 0x80) return false;
    i += more + 1;
  }
  return true;
}

/* ---- the plain reader -------------------------------------------------------------------------------------------- */

struct plain_cell { size_t from, len; bool quoted; };          /* bytes of `to` */
struct plain_row { size_t first, n; bool broken, comment; size_t commas; };
struct plain_csv {
  char *to; size_t n;
  struct plain_cell *cell; size_t ncell;
  struct plain_row *row; size_t nrow;
};

enum plain_state { PLAIN_LINE, PLAIN_CELL, PLAIN_BARE, PLAIN_QUOTED, PLAIN_QUOTE, PLAIN_AFTER, PLAIN_COMMENT,
                   PLAIN_BROKEN };

static inline void plain_end_cell(struct plain_csv *p) {
  struct plain_cell *c = &p->cell[p->ncell++];
  if (!c->quoted)
    while (p->n > c->from && (p->to[p->n - 1] == ' ' || p->to[p->n - 1] == '\t')) p->n--;
  c->len = p->n - c->from;
  p->row[p->nrow].n++;
  p->cell[p->ncell] = (struct plain_cell){ .from = p->n };
}

/* A row of nothing but unquoted emptiness is none; a comment stays only where it might be a row. */
static inline void plain_end_row(struct plain_csv *p) {
  struct plain_row *r = &p->row[p->nrow];
  bool blank = !r->broken && !r->comment;
  for (size_t i = r->first; i < r->first + r->n; i++) blank = blank && !p->cell[i].quoted && p->cell[i].len == 0;
  if (blank || r->broken || r->comment) p->ncell = r->first;
  if (!blank) p->nrow++;
  p->row[p->nrow] = (struct plain_row){ .first = p->ncell };
  p->cell[p->ncell] = (struct plain_cell){ .from = p->n };
}

static inline struct plain_csv plain_read(const char *text, size_t len) {
  struct plain_csv p = { .to = csv_room(malloc(len + 1)), .cell = csv_room(calloc(len + 3, sizeof *p.cell)),
                         .row = csv_room(calloc(len + 3, sizeof *p.row)) };
  enum plain_state state = PLAIN_LINE;
  for (size_t i = 0; i <= len; i++) {
    const bool end = i == len;
    const char c = end ? '\n' : text[i];
    const bool line = c == '\n' || c == '\r', blank = c == ' ' || c == '\t';
    struct plain_row *row = &p.row[p.nrow];
    if (state == PLAIN_LINE && end) break;
    if (state == PLAIN_QUOTED && end) row->broken = true;
    if (line && !end && i + 1 < len && (text[i + 1] == '\n' || text[i + 1] == '\r') && text[i + 1] != c) i++;
    if (state == PLAIN_LINE) {
      state = PLAIN_CELL;
      if (c == '#') {
        state = PLAIN_COMMENT;
        row->comment = true;
        row->broken = i + 1 < len && text[i + 1] >= '0' && text[i + 1] <= '9';      /* that may be a row */
        continue;
      }
    }
    if (state == PLAIN_QUOTED && !end) {
      if (c == '"') state = PLAIN_QUOTE;
      else p.to[p.n++] = line ? '\n' : c;
    } else if (state == PLAIN_QUOTE && c == '"' && !end) {
      p.to[p.n++] = '"';
      state = PLAIN_QUOTED;
    } else if (line) {
      if (state != PLAIN_COMMENT && state != PLAIN_BROKEN && !row->broken) plain_end_cell(&p);
      plain_end_row(&p);
      state = PLAIN_LINE;
    } else if (state == PLAIN_COMMENT) row->commas += c == ',';
    else if (state == PLAIN_BROKEN) continue;
    else if (c == ',') {
      plain_end_cell(&p);
      state = PLAIN_CELL;
    } else if (blank) {
      if (state == PLAIN_BARE) p.to[p.n++] = c;
      if (state == PLAIN_QUOTE) state = PLAIN_AFTER;
    } else if (c == '"' && state == PLAIN_CELL) {
      p.cell[p.ncell].quoted = true;
      state = PLAIN_QUOTED;
    } else if (c == '"' || state == PLAIN_QUOTE || state == PLAIN_AFTER) {
      row->broken = true;
      state = PLAIN_BROKEN;
    } else {
      p.to[p.n++] = c;
      state = PLAIN_BARE;
    }
  }
  return p;
}

static inline void plain_free(struct plain_csv *p) {
  free(p->to);
  free(p->cell);
  free(p->row);
}

/* The number of the row of the heading: the first that is no comment; nrow: there is none. */
static inline size_t plain_heading(const struct plain_csv *p) {
  size_t i = 0;
  while (i < p->nrow && p->row[i].comment) i++;
  return i;
}

static inline bool plain_same(const struct plain_csv *p, const struct plain_cell *c, const struct sl_csv_cell *cell) {
  return c->len == cell->len && memcmp(p->to + c->from, cell->text, c->len) == 0 && cell->text[cell->len] == 0;
}

/* ---- places ------------------------------------------------------------------------------------------------------ */

/* Where each line begins; their number is returned. */
static inline size_t csv_lines(const char *text, size_t len, size_t from, size_t **starts) {
  size_t n = 0;
  *starts = csv_room(malloc((len + 2) * sizeof **starts));
  (*starts)[n++] = from;
  for (size_t i = from; i < len; i++) {
    if (text[i] != '\n' && text[i] != '\r') continue;
    if (i + 1 < len && (text[i + 1] == '\n' || text[i + 1] == '\r') && text[i + 1] != text[i]) i++;
    (*starts)[n++] = i + 1;
  }
  return n;
}

struct csv_text { const char *at; size_t len, *line, lines; };

/* The bytes of a span; the file has them. */
static inline const char *csv_at(const struct csv_text *t, struct sl_span span) {
  LAW_OR(span.line >= 1 && (size_t)span.line <= t->lines && span.col >= 1 && span.len >= 0, "a place %d:%d+%d",
         span.line, span.col, span.len);
  const size_t at = t->line[span.line - 1] + (size_t)span.col - 1;
  LAW_OR(at + (size_t)span.len <= t->len, "a place behind the file's end: %d:%d+%d", span.line, span.col, span.len);
  return t->at + at;
}

static inline void csv_cell_holds(const struct csv_text *t, const struct sl_csv_cell *c) {
  const char *at = csv_at(t, c->span);
  LAW(csv_utf8(c->text, c->len) && strlen(c->text) == c->len);
  if (c->quoted) LAW(c->span.len > 0 && *at == '"');
  else LAW((size_t)c->span.len == c->len && memcmp(at, c->text, c->len) == 0);
}

static inline void csv_complaint_holds(const struct sl_complaint *bad, const struct csv_text *t) {
  LAW(bad->code[0] == 'F' && strlen(bad->code) == 4 && *bad->text);
  LAW_OR(csv_utf8(bad->text, strlen(bad->text)) && csv_utf8(bad->help, strlen(bad->help)), "%s is no UTF-8: %s",
         bad->code, bad->text);
  if (bad->span.line) csv_at(t, bad->span);
}

/* ---- the laws ---------------------------------------------------------------------------------------------------- */

static inline bool csv_begins(const char *text, size_t len, const char *magic, size_t n) {
  return len >= n && memcmp(text, magic, n) == 0;
}

/* What is said of the whole is so. */
static inline void csv_refused(const char *text, size_t len, const struct sl_complaint *bad,
                               const struct plain_csv *p) {
  const char *code = bad->code;
  const size_t at = plain_heading(p);
  const struct plain_row *head = &p->row[at];
  bool so = false;
  if (strcmp(code, "F001") == 0) so = len == 0;
  else if (strcmp(code, "F002") == 0) so = at == p->nrow;
  else if (strcmp(code, "F012") == 0) so = csv_begins(text, len, "\xFF\xFE", 2) || csv_begins(text, len, "\xFE\xFF", 2);
  else if (strcmp(code, "F014") == 0)
    so = csv_begins(text, len, "PK\x03\x04", 4) || csv_begins(text, len, "\xD0\xCF\x11\xE0", 4);
  else if (strcmp(code, "F010") == 0) so = memchr(text, 0, len) != NULL;
  else if (strcmp(code, "F011") == 0) so = !csv_utf8(text, len);
  else if (at == p->nrow) so = false;
  else if (strcmp(code, "F013") == 0) so = head->n == 1 || head->broken;
  else if (strcmp(code, "F016") == 0) so = head->n > SL_CSV_COLUMNS;
  else if (strcmp(code, "F005") == 0 || strcmp(code, "F006") == 0 || strcmp(code, "F007") == 0) so = head->broken;
  else if (strcmp(code, "F003") == 0)
    for (size_t i = 0; i < head->n; i++) so = so || p->cell[head->first + i].len == 0;
  else if (strcmp(code, "F004") == 0)
    for (size_t i = 0; i < head->n; i++)
      for (size_t k = 0; k < i; k++) {
        const struct plain_cell *a = &p->cell[head->first + i], *b = &p->cell[head->first + k];
        so = so || (a->len == b->len && memcmp(p->to + a->from, p->to + b->from, a->len) == 0);
      }
  LAW_OR(so, "[%s] %s, which is not so", code, bad->text);
}

static inline void csv_same_rows(const struct plain_csv *p, const struct sl_csv *csv) {
  const size_t at = plain_heading(p);
  LAW(at < p->nrow && !p->row[at].broken && p->row[at].n == csv->columns);
  size_t row = 0, bad = 0;
  for (size_t i = at; i < p->nrow && bad < SL_CSV_COMPLAINTS; i++) {
    const struct plain_row *r = &p->row[i];
    if (r->comment) {
      bad += r->broken && csv->columns > 1 && r->commas + 1 == csv->columns;
      continue;
    }
    if (r->broken || r->n != csv->columns) {
      bad++;
      continue;
    }
    for (size_t k = 0; k < r->n; k++) {
      const struct sl_csv_cell *cell = i == at ? &csv->head[k] : sl_csv_at(csv, row, k);
      LAW_OR(i == at || row < csv->rows, "row %zu is lost", row);
      LAW_OR(plain_same(p, &p->cell[r->first + k], cell), "row %zu, cell %zu: '%s'", row, k, cell->text);
      LAW(p->cell[r->first + k].quoted == cell->quoted);
    }
    row += i > at;
  }
  LAW_OR(row == csv->rows, "%zu rows, and %zu by the plain reader", csv->rows, row);
  LAW_OR(bad == csv->nbad, "%zu rows left out, and %zu by the plain reader", csv->nbad, bad);
}

static inline void csv_laws(const char *text, size_t len) {
  struct sl_csv csv;
  struct sl_complaint bad;
  const bool fine = sl_csv_read(text, len, &csv, &bad);
  const size_t mark = csv_begins(text, len, "\xEF\xBB\xBF", 3) ? 3 : 0;
  struct csv_text t = { text, len, NULL, 0 };
  t.lines = csv_lines(text, len, mark, &t.line);
  struct plain_csv p = plain_read(text + mark, len - mark);
  if (fine) {
    LAW(csv_utf8(text, len) && !memchr(text, 0, len) && csv.columns > 0 && csv.columns <= SL_CSV_COLUMNS);
    csv_same_rows(&p, &csv);
    for (size_t i = 0; i < (csv.rows + 1) * csv.columns; i++) csv_cell_holds(&t, &csv.head[i]);
    for (size_t i = 0; i < csv.nbad; i++) {
      LAW_OR(csv.bad[i].span.line > 0, "[%s] %s, without a place", csv.bad[i].code, csv.bad[i].text);
      LAW(i == 0 || csv.bad[i].span.line >= csv.bad[i - 1].span.line);
      csv_complaint_holds(&csv.bad[i], &t);
    }
    sl_csv_free(&csv);
  } else {
    LAW(!csv.head && !csv.text && !csv.bad);
    csv_complaint_holds(&bad, &t);
    csv_refused(text, len, &bad, &p);
  }
  plain_free(&p);
  free(t.line);
}
#endif
