/* SPDX-License-Identifier: MIT
 * A whole text: tokens, fields, context, and the plain Lua that comes out. */
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "scan/places.h"
#include "scan/spots.h"
#include "scan/tokens.h"

bool sl_room(struct sl_scanning *s, void *array_pointer, size_t n, size_t *cap, size_t size) {
  if (n < *cap) return true;
  void *old, *new = NULL;
  memcpy(&old, array_pointer, sizeof old);       /* a pointer to any kind of pointer */
  size_t more = *cap ? *cap * 2 : 64;
  if (!s->no_memory && more <= SIZE_MAX / size) new = sl_memory_resize(s->box, old, *cap * size, more * size);
  if (!new) return s->no_memory = true, false;
  memcpy(array_pointer, &new, sizeof new);
  *cap = more;
  return true;
}

struct sl_complaint *sl_complain(struct sl_scanning *s, const char *code, int line, int col, int len) {
  size_t room = sizeof s->bad / sizeof *s->bad;
  struct sl_complaint *c = s->nbad < room ? &s->bad[s->nbad++] : &s->spare;
  *c = (struct sl_complaint){ .span = { line, col, len > 0 ? len : 1 } };
  SL_SAY(c->code, "%s", code);
  return c;
}

struct sl_complaint *sl_complain_at(struct sl_scanning *s, const char *code, const struct sl_token *t) {
  return sl_complain(s, code, t->line, t->col, t->shown);
}

struct sl_span sl_span_of(const struct sl_token *t) { return (struct sl_span){ t->line, t->col, t->shown }; }

bool sl_told(const struct sl_scanning *s, const struct sl_token *t) {
  for (size_t i = 0; i < s->nbad; i++)
    if (s->bad[i].span.line == t->line && s->bad[i].span.col == t->col) return true;
  return false;
}

static int by_place(const void *a, const void *b) {
  const struct sl_complaint *x = a, *y = b;
  if (x->span.line != y->span.line) return x->span.line < y->span.line ? -1 : 1;
  return (x->span.col > y->span.col) - (x->span.col < y->span.col);
}

static bool wordy(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

/* Literals of Lua's own that are to be constants, too: where they begin in the text, in order. */
struct opened { const size_t *at; size_t n; };

/* The text with _K[n] for each literal.  All else stays as it was, so that lines stay one to one. */
static bool rewrite(const struct sl_scanning *s, const struct opened *opened, struct sl_scan *out) {
  enum { LONGEST = 28 };                         /* a blank, "_K[", 20 digits, "]", " ;" */
  const size_t room = (size_t)(s->end - s->start) + (s->nliteral + opened->n) * LONGEST + 1;
  char *text = sl_memory_resize(s->box, NULL, 0, room), *to = text;
  if (!text) return false;
  const char *from = s->start;
  size_t next = 0;                               /* of those that are opened */
  for (size_t i = 1; i + 1 < s->n; i++) {
    const struct sl_token *t = &s->token[i];
    const bool more = next < opened->n && opened->at[next] == (size_t)(t->at - s->text);
    if (more) next++;
    if (t->kind != T_LITERAL && !t->folded && !t->begins && !more) continue;
    memcpy(to, from, (size_t)(t->at - from));
    to += t->at - from;
    from = t->at;
    if (t->begins) *to++ = ';';
    if (t->folded) *to++ = ' ';                  /* `return-10degC` */
    if (t->kind == T_LITERAL || more)
      to += sprintf(to, "%s_K[%zu]", to > text && wordy(to[-1]) ? " " : "",
                    more ? s->nliteral + next : t->literal + 1);
    if (more && t[1].kind == '(') to += sprintf(to, " ;");       /* no number is called */
    if (!t->begins) from = t->end;
  }
  memcpy(to, from, (size_t)(s->end - from));
  to += s->end - from;
  *to = '\0';
  out->len = (size_t)(to - text);
  out->text = sl_memory_resize(s->box, text, room, out->len + 1);
  if (!out->text) sl_memory_resize(s->box, text, room, 0);
  return out->text;
}

/* The constants in memory of their own; false: there is none. */
static bool constants_of(const struct sl_scanning *s, struct sl_const **k, size_t *n) {
  if (s->nliteral == 0) return true;
  *k = sl_memory_resize(s->box, NULL, 0, s->nliteral * sizeof **k);
  if (!*k) return false;
  for (size_t i = 0; i < s->nliteral; i++) (*k)[i] = s->literal[i].k;
  *n = s->nliteral;
  return true;
}

static bool hand_over(struct sl_scanning *s, const struct opened *opened, struct sl_scan *out) {
  if (!rewrite(s, opened, out) || !sl_places_build(s->box, s->text, s->mark, s->nmark, &out->places)) return false;
  if (!constants_of(s, &out->k, &out->nk)) return false;
  if (s->nbad) {
    out->bad = sl_memory_resize(s->box, NULL, 0, s->nbad * sizeof *out->bad);
    if (!out->bad) return false;
    qsort(s->bad, s->nbad, sizeof *s->bad, by_place);
    memcpy(out->bad, s->bad, s->nbad * sizeof *out->bad);
    out->nbad = s->nbad;
  }
  const size_t size = sizeof *s->mark;
  out->mark = sl_memory_resize(s->box, s->mark, s->mark_cap * size, s->nmark * size);
  if (!out->mark && s->nmark) return false;
  out->nmark = s->nmark;
  s->mark = NULL;
  return true;
}

/* ---- literals by their place ------------------------------------------------------------------------------------- */

/* rack "east": a name, where no constant can stand. */
static bool argument(const struct sl_token *t) {
  const int before = t[-1].kind;
  return t->kind == T_STRING && (before == T_NAME || before == T_STRING || before == ')' || before == ']' ||
                                 before == '}');
}

static bool spot_of(const struct sl_scanning *s, const struct sl_token *t, struct sl_spot *out) {
  *out = (struct sl_spot){ .span = sl_span_of(t), .at = (size_t)(t->at - s->text), .len = (size_t)(t->end - t->at) };
  switch (t->kind) {
    case T_LITERAL:
      out->kind = SL_SPOT_CONST;
      out->k = t->literal;
      out->span = s->literal[t->literal].k.span;
      return true;
    case T_NUMBER: out->kind = SL_SPOT_NUMBER; return true;
    case T_STRING: out->kind = SL_SPOT_TEXT; return !argument(t);
    case T_TRUE: case T_FALSE: out->kind = SL_SPOT_FLAG; return true;
    default: return false;
  }
}

static bool list_spots(const struct sl_scanning *s, struct sl_spots *out) {
  struct sl_spot spot;
  size_t n = 0;
  for (size_t i = 1; i + 1 < s->n; i++) n += spot_of(s, &s->token[i], &spot);
  if (n == 0) return true;
  out->list = sl_memory_resize(s->box, NULL, 0, n * sizeof *out->list);
  if (!out->list) return false;
  for (size_t i = 1; i + 1 < s->n; i++)
    if (spot_of(s, &s->token[i], &spot)) out->list[out->n++] = spot;
  return constants_of(s, &out->k, &out->nk);
}

/* ---- a whole text ------------------------------------------------------------------------------------------------ */

/* The scan of a copy with a NUL at its end, up to where each literal is known; NULL: no memory. */
static struct sl_scanning *read_text(struct sl_box *box, const char *text, size_t len) {
  if (len > INT_MAX / 2) return NULL;
  struct sl_scanning *s = sl_memory_resize(box, NULL, 0, sizeof *s);
  char *copy = s ? sl_memory_resize(box, NULL, 0, len + 1) : NULL;
  if (!copy) return sl_memory_resize(box, s, sizeof *s, 0), NULL;
  if (len) memcpy(copy, text, len);
  copy[len] = '\0';
  *s = (struct sl_scanning){ .text = copy, .box = box };
  s->end = copy + len;
  sl_tokenise(s);
  if (!s->no_memory) sl_fields(s);
  if (!s->no_memory && !s->too_deep) sl_context(s);
  return s;
}

/* Frees it; tells whether there was memory for all of it. */
static bool drop(struct sl_scanning *s) {
  const bool whole = !s->no_memory;
  struct sl_box *box = s->box;
  sl_memory_resize(box, (void *)(uintptr_t)s->text, (size_t)(s->end - s->text) + 1, 0);
  sl_memory_resize(box, s->token, s->cap * sizeof *s->token, 0);
  sl_memory_resize(box, s->literal, s->literal_cap * sizeof *s->literal, 0);
  sl_memory_resize(box, s->mark, s->mark_cap * sizeof *s->mark, 0);
  sl_memory_resize(box, s->key, s->key_cap * sizeof *s->key, 0);
  sl_memory_resize(box, s, sizeof *s, 0);
  return whole;
}

bool sl_scan_open_in(struct sl_box *box, const char *text, size_t len, const size_t *at, size_t n,
                     struct sl_scan *out) {
  *out = (struct sl_scan){ .box = box };
  struct sl_scanning *s = read_text(box, text, len);
  if (!s) return false;
  const bool given = !s->no_memory && hand_over(s, &(struct opened){ at, n }, out);
  if (drop(s) && given) return true;
  sl_scan_free(out);
  return false;
}

bool sl_scan_in(struct sl_box *box, const char *text, size_t len, struct sl_scan *out) {
  return sl_scan_open_in(box, text, len, NULL, 0, out);
}

bool sl_spots_find(struct sl_box *box, const char *text, size_t len, struct sl_spots *out) {
  *out = (struct sl_spots){ .box = box };
  struct sl_scanning *s = read_text(box, text, len);
  if (!s) return false;
  const bool given = !s->no_memory && list_spots(s, out);
  if (drop(s) && given) return true;
  sl_spots_free(out);
  return false;
}

void sl_scan_free(struct sl_scan *scan) {
  struct sl_box *box = scan->box;
  if (scan->text) sl_memory_resize(box, scan->text, scan->len + 1, 0);
  sl_memory_resize(box, scan->k, scan->nk * sizeof *scan->k, 0);
  sl_memory_resize(box, scan->mark, scan->nmark * sizeof *scan->mark, 0);
  sl_places_free(box, &scan->places);
  sl_memory_resize(box, scan->bad, scan->nbad * sizeof *scan->bad, 0);
  *scan = (struct sl_scan){ .box = box };
}
