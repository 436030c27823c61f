/* SPDX-License-Identifier: MIT
 * A whole text: tokens, fields, context, and the plain Lua that comes out. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include "scan/tokens.h"

bool sl_room(struct sl_scanning *s, void *array_pointer, size_t n, size_t *cap, size_t size) {
  if (n < *cap) return true;
  void *old, *new = NULL;
  memcpy(&old, array_pointer, sizeof old);       /* a pointer to any kind of pointer */
  size_t more = *cap ? *cap * 2 : 64;
  if (!s->no_memory && more <= SIZE_MAX / size) new = realloc(old, more * size);
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

static int by_place(const void *a, const void *b) {
  const struct sl_complaint *x = a, *y = b;
  if (x->span.line != y->span.line) return x->span.line < y->span.line ? -1 : 1;
  return (x->span.col > y->span.col) - (x->span.col < y->span.col);
}

static bool wordy(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

/* The text with _K[n] for each literal.  All else stays as it was, so that lines stay one to one. */
static bool rewrite(const struct sl_scanning *s, struct sl_scan *out) {
  enum { LONGEST = 26 };                         /* a blank, "_K[", 20 digits, "]", ";" */
  char *text = malloc((size_t)(s->end - s->start) + s->nliteral * LONGEST + 1), *to = text;
  if (!text) return false;
  const char *from = s->start;
  for (size_t i = 1; i + 1 < s->n; i++) {
    const struct sl_token *t = &s->token[i];
    if (t->kind != T_LITERAL && !t->folded && !t->begins) continue;
    memcpy(to, from, (size_t)(t->at - from));
    to += t->at - from;
    from = t->at;
    if (t->begins) *to++ = ';';
    if (t->folded) *to++ = ' ';                  /* `return-10degC` */
    if (t->kind == T_LITERAL)
      to += sprintf(to, "%s_K[%zu]", to > text && wordy(to[-1]) ? " " : "", t->literal + 1);
    if (!t->begins) from = t->end;
  }
  memcpy(to, from, (size_t)(s->end - from));
  to += s->end - from;
  *to = '\0';
  out->text = text;
  out->len = (size_t)(to - text);
  return true;
}

static bool hand_over(struct sl_scanning *s, struct sl_scan *out) {
  if (!rewrite(s, out)) return false;
  if (s->nliteral) {
    out->k = malloc(s->nliteral * sizeof *out->k);
    if (!out->k) return false;
    for (size_t i = 0; i < s->nliteral; i++) out->k[i] = s->literal[i].k;
    out->nk = s->nliteral;
  }
  if (s->nbad) {
    out->bad = malloc(s->nbad * sizeof *out->bad);
    if (!out->bad) return false;
    qsort(s->bad, s->nbad, sizeof *s->bad, by_place);
    memcpy(out->bad, s->bad, s->nbad * sizeof *out->bad);
    out->nbad = s->nbad;
  }
  out->mark = s->mark;
  out->nmark = s->nmark;
  s->mark = NULL;
  return true;
}

bool sl_scan(const char *text, size_t len, struct sl_scan *out) {
  *out = (struct sl_scan){ 0 };
  if (len > INT_MAX / 2) return false;
  char *copy = malloc(len + 1);
  if (!copy) return false;
  if (len) memcpy(copy, text, len);
  copy[len] = '\0';
  struct sl_scanning *s = calloc(1, sizeof *s);
  bool done = false;
  if (s) {
    s->text = copy;
    s->end = copy + len;
    sl_tokenise(s);
    if (!s->no_memory) sl_fields(s);
    if (!s->no_memory) sl_context(s);
    done = !s->no_memory && hand_over(s, out);
    free(s->token);
    free(s->literal);
    free(s->mark);
    free(s->key);
  }
  free(s);
  free(copy);
  if (!done) sl_scan_free(out);
  return done;
}

void sl_scan_free(struct sl_scan *scan) {
  free(scan->text);
  free(scan->k);
  free(scan->mark);
  free(scan->bad);
  *scan = (struct sl_scan){ 0 };
}
