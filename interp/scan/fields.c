/* SPDX-License-Identifier: MIT
 * Braces and blocks: the span table of heads, tables, keys and items; missing commas, open braces, keys written twice.
 * None of it complains about a valid Lua program, but for a key written twice. */
#include <stdlib.h>
#include <string.h>
#include "scan/tokens.h"

/* An open bracket or block.  Kinds: ( [ {, or the word that opened a block. */
struct frame {
  int kind;
  size_t token;
  size_t open;                     /* '{': its OPEN mark */
  size_t field;                    /* '{': mark of the field being read + 1; 0 between fields */
  size_t field_first;              /* first token of that field's value */
};
struct stack { struct frame *f; size_t n, cap; };

/* Lua reads no deeper; what looks down through all that is open would take the square of a long text. */
enum { DEEPEST = 200 };

static bool push(struct sl_scanning *s, struct stack *k, int kind, size_t token) {
  if (k->n == DEEPEST) {
    struct sl_complaint *c = sl_complain_at(s, "Q128", &s->token[token]);
    SL_SAY(c->text, "brackets and blocks stand in each other more than %d deep here", DEEPEST);
    SL_SAY(c->help, "give what stands inside a name of its own above: local inner = { ... }");
    s->too_deep = true;
    return false;
  }
  if (!sl_room(s, &k->f, k->n, &k->cap, sizeof *k->f)) return false;
  k->f[k->n++] = (struct frame){ .kind = kind, .token = token };
  return true;
}
static struct frame *top(struct stack *k) { return k->n ? &k->f[k->n - 1] : NULL; }
static bool in_table(struct stack *k) { return k->n && top(k)->kind == '{'; }

/* ---- brackets ---------------------------------------------------------------------------------------------------- */

static int opener(int kind) { return kind == ')' ? '(' : kind == ']' ? '[' : kind == '}' ? '{' : 0; }

/* Finds each bracket's other one.  A closer that does not fit its opener ends the search: Lua will say so. */
static void match(struct sl_scanning *s, struct stack *k) {
  for (size_t i = 1; i < s->n && !s->no_memory && !s->too_deep; i++) {
    int kind = s->token[i].kind;
    if (kind == '(' || kind == '[' || kind == '{') push(s, k, kind, i);
    else if (opener(kind)) {
      if (!k->n || top(k)->kind != opener(kind)) break;
      s->token[i].mate = top(k)->token;
      s->token[top(k)->token].mate = i;
      k->n--;
    }
  }
  k->n = 0;
}

/* ---- marks ------------------------------------------------------------------------------------------------------- */

static size_t mark(struct sl_scanning *s, enum sl_mark_kind kind, struct sl_span span, int parent) {
  if (!sl_room(s, &s->mark, s->nmark, &s->mark_cap, sizeof *s->mark)) return 0;
  s->mark[s->nmark] = (struct sl_mark){ .kind = kind, .span = span, .parent = parent };
  return s->nmark++;
}

/* The field that a place is in: of the innermost table, but not from inside a function in it. */
static int field_around(struct stack *k) {
  for (size_t i = k->n; i-- > 0;) {
    if (k->f[i].kind == '{') return (int)k->f[i].field - 1;
    if (k->f[i].kind != '(' && k->f[i].kind != '[') break;
  }
  return -1;
}

/* The first line of tokens first to last. */
static struct sl_span first_line(const struct sl_scanning *s, size_t first, size_t last) {
  struct sl_span span = sl_span_of(&s->token[first]);
  size_t low = first, high = last;               /* last token that begins on that line */
  while (low < high) {
    size_t middle = (low + high + 1) / 2;
    if (s->token[middle].line == span.line) low = middle;
    else high = middle - 1;
  }
  span.len = s->token[low].col + s->token[low].shown - span.col;
  return span;
}

static size_t byte_of(const struct sl_scanning *s, const char *at) { return (size_t)(at - s->text); }

/* The mark of a brace. */
static size_t brace(struct sl_scanning *s, enum sl_mark_kind kind, size_t i, int parent) {
  const struct sl_token *t = &s->token[i];
  const size_t m = mark(s, kind, sl_span_of(t), parent);
  if (s->no_memory) return m;
  s->mark[m].at = s->mark[m].from = byte_of(s, t->at);
  s->mark[m].to = byte_of(s, t->end);
  return m;
}

static void end_field(struct sl_scanning *s, struct frame *f, size_t next) {
  if (f->field && f->field_first < next && !s->no_memory) {
    struct sl_mark *m = &s->mark[f->field - 1];
    m->value = first_line(s, f->field_first, next - 1);
    m->from = byte_of(s, s->token[f->field_first].at);
    m->to = byte_of(s, s->token[next - 1].end);
  }
  f->field = 0;
}

/* Of the field that begins with token i; its value with token `value`. */
static void key(struct sl_scanning *s, struct frame *f, struct sl_span span, const char *at, size_t i, size_t value) {
  if (!sl_room(s, &s->key, s->nkey, &s->key_cap, sizeof *s->key)) return;
  f->field = mark(s, SL_MARK_KEY, span, (int)f->open) + 1;
  f->field_first = value;
  if (!s->no_memory) {
    s->mark[f->field - 1].at = byte_of(s, s->token[i].at);
    s->mark[f->field - 1].word = byte_of(s, at);
  }
  s->key[s->nkey++] = (struct sl_key){ at, (size_t)span.len, f->field - 1, (int)f->open };
}

/* name = ..., ["name"] = ..., or a value. */
static void begin_field(struct sl_scanning *s, struct frame *f, size_t i) {
  const struct sl_token *t = &s->token[i];
  size_t left = s->n - i;
  if (t->kind == T_NAME && left > 1 && t[1].kind == '=') key(s, f, sl_span_of(t), t->at, i, i + 2);
  else if (t->kind == '[') {
    if (left <= 3 || t[1].kind != T_STRING || t[2].kind != ']' || t[3].kind != '=') return;
    if (*t[1].at == '[' || t[1].end - t[1].at != t[1].shown || t[1].shown < 2) return;      /* a long string */
    struct sl_span inside = sl_span_of(&t[1]);
    inside.col++;
    inside.len -= 2;
    key(s, f, inside, t[1].at + 1, i, i + 4);
  } else {
    f->field = mark(s, SL_MARK_ITEM, sl_span_of(t), (int)f->open) + 1;
    f->field_first = i;
    if (!s->no_memory) s->mark[f->field - 1].at = byte_of(s, t->at);
  }
}

/* NAME "text", NAME {, NAME "text" {, NAME (expression) {. */
static void head(struct sl_scanning *s, struct stack *k, size_t i) {
  struct sl_token *t = &s->token[i];
  if (i + 1 >= s->n || t[-1].kind == T_FUNCTION) return;
  const struct sl_token *text = NULL;
  if (t[1].kind == T_STRING) text = &t[1];
  else if (t[1].kind == '(') {
    size_t close = t[1].mate;
    if (!close || close + 1 >= s->n || s->token[close + 1].kind != '{') return;
    if (close == i + 3 && t[2].kind == T_STRING) text = &t[2];
  } else if (t[1].kind != '{') return;
  size_t m = mark(s, SL_MARK_HEAD, sl_span_of(t), field_around(k));
  if (s->no_memory) return;
  s->mark[m].word = byte_of(s, t->at);
  if (text) {
    s->mark[m].value = sl_span_of(text);
    s->mark[m].from = byte_of(s, text->at);
    s->mark[m].to = byte_of(s, text->end);
  }
  t->head = m + 1;
}

/* The mark that a table belongs to: its head, or the field that it is in. */
static int owner(struct sl_scanning *s, struct stack *k, size_t i) {
  const struct sl_token *before = &s->token[i - 1];
  if (before->kind == T_STRING) before--;
  else if (before->kind == ')' && before->mate) before = &s->token[before->mate - 1];
  return before->head ? (int)before->head - 1 : field_around(k);
}

/* ---- complaints -------------------------------------------------------------------------------------------------- */

/* A value that cannot be called or indexed as it stands: a string, '{' or '(' behind it begins another value. */
static bool plain_value(const struct sl_scanning *s, size_t i) {
  const struct sl_token *t = &s->token[i];
  switch (t->kind) {
    case T_NUMBER: case T_LITERAL: case T_NIL: case T_TRUE: case T_FALSE: case T_DOTS: case T_ENDBLOCK: return true;
    case T_STRING: return !sl_ends_operand(t[-1].kind);
    case '}': return t->mate && !sl_ends_operand(s->token[t->mate - 1].kind);
    default: return false;
  }
}

/* Directly in a table, a value and then the begin of another: no Lua program has that. */
static bool comma_missing(const struct sl_scanning *s, size_t i) {
  const struct sl_token *t = &s->token[i];
  if (!sl_ends_operand(t[-1].kind)) return false;
  switch (t->kind) {
    case T_STRING: case '{': case '(': return plain_value(s, i - 1);
    case '#': return true;
    default: return sl_starts_operand(t->kind);
  }
}

/* Whether token i is the first of a field. */
static bool begins(const struct sl_scanning *s, const struct frame *f, size_t i) {
  return s->token[i - 1].kind == ',' || s->token[i - 1].kind == ';' || i == f->token + 1;
}

static void say_comma(struct sl_scanning *s, const struct frame *f, size_t i) {
  const struct sl_token *t = &s->token[i], *before = t - 1;
  bool value = before->kind == T_NUMBER || before->kind == T_LITERAL || before->kind == T_STRING;
  bool cells = value && (t->kind == T_NUMBER || t->kind == T_LITERAL || t->kind == T_STRING) && before->line == t->line;
  bool pasted = before->line == t->line && memchr(before->end, '\t', (size_t)(t->at - before->end));
  if (before->kind == T_NUMBER && t->kind == T_NAME && sl_told(s, t)) return;
  struct sl_complaint *c = sl_complain_at(s, cells || pasted ? "Q122" : "Q121", t);
  if (pasted && before->kind == T_NAME) {
    SL_SAY(c->text, "a name and a value with only a tab between them");
    SL_SAY(c->help, "pasted from a spreadsheet? write %.*s = %.*s, with a comma behind each", sl_shown(before),
           before->at, sl_shown(t), t->at);
  } else if (pasted) {
    SL_SAY(c->text, "two values with only a tab between them");
    SL_SAY(c->help, "pasted from a spreadsheet? put commas between the values");
  } else if (cells) {
    SL_SAY(c->text, "two values with only blanks between them");
    SL_SAY(c->help, "put a comma between them: %.*s, %.*s", sl_shown(before), before->at, sl_shown(t), t->at);
  } else {
    SL_SAY(c->text, "a comma is missing before '%.*s'", sl_shown(t), t->at);
    if (before->kind == T_NAME && t->kind == T_NAME && t[1].kind == '=' && begins(s, f, i - 1))
      SL_SAY(c->help, "a field's name is one word: %.*s_%.*s", sl_shown(before), before->at, sl_shown(t), t->at);
    else SL_SAY(c->help, "put a comma behind the field before it, or close the table opened on line %d with '}'",
           s->token[f->token].line);
  }
}

/* frost: 18in, "frost": "deep": no program of Lua has that. */
static void say_colon(struct sl_scanning *s, size_t i) {
  const struct sl_token *name = &s->token[i - 1], *value = &s->token[i + 1];
  const bool text = name->kind == T_STRING;
  struct sl_complaint *c = sl_complain_at(s, "Q127", &s->token[i]);
  SL_SAY(c->text, "a colon between a name and its value");
  SL_SAY(c->help, "an equal sign stands there: %.*s = %.*s", sl_shown(name) - 2 * text, name->at + text,
         sl_shown(value), value->at);
}

static void say_open(struct sl_scanning *s, const struct frame *f, const struct sl_token *before) {
  const struct sl_token *t = &s->token[f->token];
  struct sl_complaint *c = sl_complain_at(s, "Q123", t);
  if (before->kind == T_END) SL_SAY(c->text, "the table opened here is not closed by the end of the file");
  else SL_SAY(c->text, "the table opened here is not closed before '%.*s' on line %d", sl_shown(before), before->at,
              before->line);
  SL_SAY(c->help, "put '}' where it ends");
}

static int by_text(const struct sl_key *a, const struct sl_key *b) {
  int d = memcmp(a->at, b->at, a->len < b->len ? a->len : b->len);
  return d ? d : (a->len > b->len) - (a->len < b->len);
}

static int by_table(const void *a, const void *b) {
  const struct sl_key *x = a, *y = b;
  if (x->parent != y->parent) return x->parent < y->parent ? -1 : 1;
  int d = by_text(x, y);
  return d ? d : (x->mark > y->mark) - (x->mark < y->mark);
}

/* Lua would keep the last one and say nothing. */
static void keys_twice(struct sl_scanning *s) {
  if (s->nkey > 1) qsort(s->key, s->nkey, sizeof *s->key, by_table);
  for (size_t i = 1; i < s->nkey; i++) {
    const struct sl_key *k = &s->key[i];
    const struct sl_mark *m = &s->mark[k->mark], *other = &s->mark[k[-1].mark];
    if (k->parent != k[-1].parent || by_text(k, k - 1) != 0) continue;
    struct sl_complaint *c = sl_complain(s, "Q120", m->span.line, m->span.col, m->span.len);
    SL_SAY(c->text, "'%.*s' is written twice in this table", k->len < 40 ? (int)k->len : 40, k->at);
    SL_SAY(c->help, "it also stands on line %d; keep one of them", other->span.line);
  }
}

/* ---- the walk ---------------------------------------------------------------------------------------------------- */

/* Words that begin a statement: inside a table they show that its brace is missing. */
static bool statement(int kind) {
  switch (kind) {
    case T_LOCAL: case T_IF: case T_FOR: case T_WHILE: case T_REPEAT: case T_RETURN: case T_BREAK: case T_GOTO:
    case T_DO: case T_ENDBLOCK: case T_UNTIL: case T_ELSE: case T_ELSEIF: case T_THEN: return true;
    default: return false;
  }
}

static bool is_block(int kind) { return kind >= T_AND; }

/* The block that a word ends; what was left open in it goes with it (Lua will say so). */
static void pop_block(struct stack *k) {
  size_t n = k->n;
  while (n && !is_block(k->f[n - 1].kind)) n--;
  if (n) k->n = n - 1;
}

static void close_bracket(struct sl_scanning *s, struct stack *k, size_t i) {
  int open = opener(s->token[i].kind);
  size_t n = k->n;
  while (n && k->f[n - 1].kind != open) n--;
  if (!n) {
    if (open != '{') return;
    struct sl_complaint *c = sl_complain_at(s, "Q124", &s->token[i]);
    SL_SAY(c->text, "this '}' closes nothing");
    SL_SAY(c->help, "no table is open here; was one closed too early, or is the line that opens it a comment?");
    return;
  }
  while (open != '{' && k->n > n && in_table(k)) say_open(s, top(k), &s->token[i]), k->n--;
  k->n = n;
  if (open == '{') {
    end_field(s, top(k), i);
    brace(s, SL_MARK_CLOSE, i, (int)top(k)->open);
  }
  k->n--;
}

static void open_bracket(struct sl_scanning *s, struct stack *k, size_t i) {
  int kind = s->token[i].kind;
  int parent = kind == '{' ? owner(s, k, i) : -1;
  if (!push(s, k, kind, i)) return;
  if (kind == '{') top(k)->open = brace(s, SL_MARK_OPEN, i, parent);
}

/* Is this a colon behind the name of a field? Lua has only a method's there. */
static bool colon(const struct sl_scanning *s, const struct frame *f, size_t i) {
  const struct sl_token *t = &s->token[i];
  if (t->kind != ':' || i < f->token + 2 || !begins(s, f, i - 1)) return false;
  return t[-1].kind == T_STRING ? t[1].kind != T_NAME || t[2].kind == ',' || t[2].kind == '}'
                                : t[-1].kind == T_NAME && t[1].kind != T_NAME && sl_starts_operand(t[1].kind);
}

static void step(struct sl_scanning *s, struct stack *k, size_t i) {
  struct sl_token *t = &s->token[i];
  while (in_table(k) && statement(t->kind)) say_open(s, top(k), t), k->n--;
  t->in_table = in_table(k);
  if (t->in_table) {
    struct frame *f = top(k);
    bool between = begins(s, f, i), sep = t->kind == ',' || t->kind == ';';
    bool missing = !between && comma_missing(s, i);
    if (missing) say_comma(s, f, i);
    if (colon(s, f, i)) say_colon(s, i);
    if (sep || missing) end_field(s, f, i);
    if ((between || missing) && !sep && t->kind != '}') begin_field(s, f, i);
  }
  switch (t->kind) {
    case T_NAME: head(s, k, i); break;
    case '(': case '[': case '{': open_bracket(s, k, i); break;
    case ')': case ']': case '}': close_bracket(s, k, i); break;
    case T_FUNCTION: case T_DO: case T_IF: case T_REPEAT: push(s, k, t->kind, i); break;
    case T_ENDBLOCK: case T_UNTIL: pop_block(k); break;
    default: break;
  }
}

void sl_fields(struct sl_scanning *s) {
  struct stack k = { 0 };
  match(s, &k);
  for (size_t i = 1; i + 1 < s->n && !s->no_memory && !s->too_deep; i++) step(s, &k, i);
  for (size_t i = 0; i < k.n && !s->no_memory && !s->too_deep; i++)
    if (k.f[i].kind == '{') say_open(s, &k.f[i], &s->token[s->n - 1]);
  sl_memory_resize(s->box, k.f, k.cap * sizeof *k.f, 0);
  if (!s->no_memory) keys_twice(s);
}
