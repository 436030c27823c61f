/* SPDX-License-Identifier: MIT
 * What stands around literals.  They become _K[17], which Lua could call, index or assign to, as it cannot a number;
 * and some spellings mean one thing to Lua's precedence and another to a person. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "scan/tokens.h"

/* ---- names of the script ----------------------------------------------------------------------------------------- */

struct name { const char *at; int len, line; };
struct names { struct name *name; size_t n, cap; };

static void note(struct sl_scanning *s, struct names *names, const struct sl_token *t) {
  if (t->kind != T_NAME || !sl_room(s, &names->name, names->n, &names->cap, sizeof *names->name)) return;
  names->name[names->n++] = (struct name){ t->at, (int)(t->end - t->at), t->line };
}

/* a, b <const>, c */
static void note_list(struct sl_scanning *s, struct names *names, const struct sl_token *t) {
  while (t->kind == T_NAME) {
    note(s, names, t++);
    if (t->kind == '<') t += t[1].kind == T_NAME && t[2].kind == '>' ? 3 : 1;
    if (t->kind != ',') break;
    t++;
  }
}

static int by_name(const void *a, const void *b) {
  const struct name *x = a, *y = b;
  int d = memcmp(x->at, y->at, (size_t)(x->len < y->len ? x->len : y->len));
  return d ? d : x->len - y->len;
}

/* All that the file declares: locals, parameters, loop variables, functions, and globals that it assigns. */
static void collect(struct sl_scanning *s, struct names *names) {
  for (size_t i = 1; i + 1 < s->n && !s->no_memory; i++) {
    const struct sl_token *t = &s->token[i];
    if (t->kind == T_LOCAL || t->kind == T_FOR) note_list(s, names, t + 1);
    if (t->kind == T_NAME && t[1].kind == '=' && !t->in_table && t[-1].kind != '.') note(s, names, t);
    if (t->kind != T_FUNCTION) continue;
    const struct sl_token *p = t + 1;
    if (p->kind == T_NAME && p[1].kind == '(') note(s, names, p);
    while (p->kind == T_NAME || p->kind == '.' || p->kind == ':') p++;
    if (p->kind == '(') note_list(s, names, p + 1);
  }
  if (names->n > 1) qsort(names->name, names->n, sizeof *names->name, by_name);
}

static const struct name *declared(const struct names *names, const char *at) {
  int len = 0;
  while ((at[len] >= 'a' && at[len] <= 'z') || (at[len] >= 'A' && at[len] <= 'Z') || at[len] == '_' ||
         (len && at[len] >= '0' && at[len] <= '9')) len++;
  struct name wanted = { at, len, 0 };
  return len && names->n ? bsearch(&wanted, names->name, names->n, sizeof wanted, by_name) : NULL;
}

static struct sl_complaint *complain_inside(struct sl_scanning *s, const char *code, const struct sl_token *t,
                                            const char *at, int len) {
  return sl_complain(s, code, t->line, t->col + (int)(at - t->at), len);
}

/* 20ft/s where s is also a variable. */
static void tails(struct sl_scanning *s, const struct names *names, const struct sl_token *t) {
  const struct sl_literal *l = &s->literal[t->literal];
  const struct name *n;
  for (int i = 0; i < 2; i++) {
    if (!l->tail[i] || !(n = declared(names, l->tail[i]))) continue;
    struct sl_complaint *c = complain_inside(s, "Q104", t, l->tail[i], n->len);
    int len = n->len < 40 ? n->len : 40;
    SL_SAY(c->text, "'%.*s' is a unit here, and a name of this script on line %d", len, n->at, n->line);
    const char *number = sl_decimal_end(t->at);
    if (number > t->at && !l->arithmetic && l->k.tolerance <= 0 && t->shown < 60)
      SL_SAY(c->help, "write `%.*s / %.*s` for your variable or `%.*s[%.*s]` for the unit",
             (int)(l->tail[i] - 1 - t->at), t->at, len, n->at, (int)(number - t->at), t->at, (int)(t->end - number),
             number);
    else SL_SAY(c->help, "put blanks around '/' for your variable, or give it another name");
  }
  if (l->refused_tail && !declared(names, l->refused_tail)) {
    struct sl_unit unit;
    struct sl_unit_error err;
    size_t len = sl_unit_symbol(l->refused_tail, (size_t)(s->end - l->refused_tail));
    struct sl_complaint *c = complain_inside(s, "Q103", t, l->refused_tail, (int)len);
    sl_unit_parse(l->refused_tail, len, &unit, &err);
    memcpy(c->text, err.text, sizeof err.text);
    memcpy(c->help, err.help, sizeof err.help);
  }
}

/* ---- before a literal -------------------------------------------------------------------------------------------- */

static bool binds_tighter(int kind) {
  return kind == '*' || kind == '/' || kind == T_IDIV || kind == '%' || kind == '^';
}
static bool unary(const struct sl_token *minus) { return minus->kind == '-' && !sl_ends_operand(minus[-1].kind); }

/* -10degC is 263.15 K, not minus 283.15 K. */
static void fold(struct sl_token *t, struct sl_literal *l) {
  if (!l->k.unit.point || !unary(t - 1)) return;
  t[-1].folded = true;
  l->number = -l->number;
  l->k.si = (l->number + l->k.unit.offset) * l->k.unit.factor;
  if (t[-1].line != t->line) return;
  l->k.span.len += t->col - t[-1].col;
  l->k.span.col = t[-1].col;
}

/* x*2-3/8in: two and three eighths, or x*2 less three eighths? */
static void fraction(struct sl_scanning *s, const struct sl_token *t) {
  const struct sl_token *before = unary(t - 1) ? t - 2 : t - 1;
  if (!s->literal[t->literal].arithmetic || !binds_tighter(before->kind)) return;
  struct sl_complaint *c = sl_complain_at(s, "Q106", t);
  SL_SAY(c->text, "'%.*s' behind '%.*s' can be read in two ways", sl_shown(t), t->at, sl_shown(before), before->at);
  bool mixed = memchr(t->at, '-', (size_t)t->shown) != NULL;
  SL_SAY(c->help, "write (%.*s) for one value%s", sl_shown(t), t->at,
         mixed ? ", or put blanks around '-' to subtract" : "");
}

/* 1,5ft */
static void decimal_comma(struct sl_scanning *s, const struct sl_token *t) {
  const struct sl_token *comma = t - 1;
  if (comma->kind != ',' || comma->end != t->at) return;
  const struct sl_token *whole = t - 2;
  if (whole->kind != T_NUMBER || whole->end != comma->at) return;
  if (*t->at < '0' || *t->at > '9') return;
  for (const char *p = whole->at; p < whole->end; p++)
    if (*p < '0' || *p > '9') return;
  struct sl_complaint *c = sl_complain(s, "Q112", whole->line, whole->col, t->col + t->shown - whole->col);
  int n = sl_shown(whole), m = sl_shown(t);
  SL_SAY(c->text, "a comma inside a number?");
  size_t digits = strspn(t->at, "0123456789");
  if (digits == 3 && n <= 3)                     /* 1,080ft */
    SL_SAY(c->help, "write %.*s%.*s (digits are not grouped), or %.*s, %.*s with a blank for two values", n, whole->at,
           m, t->at, n, whole->at, m, t->at);
  else
    SL_SAY(c->help, "write %.*s.%.*s, or %.*s, %.*s with a blank for two values", n, whole->at, m, t->at, n, whole->at,
           m, t->at);
}

/* Where a number can stand, so can a literal; but Lua would take _K[1] for the begin of a statement as well. */
static void place(struct sl_scanning *s, const struct sl_token *t) {
  bool stands = true;
  switch (t[-1].kind) {
    case T_END: case T_DO: case T_THEN: case T_ELSE: case T_REPEAT: case T_LABEL: case T_BREAK: case T_LOCAL:
    case T_FOR: case T_FUNCTION: case T_GOTO: case '.': case ':': stands = false; break;
    case ';': stands = t->in_table; break;
    default: stands = t->in_table || !sl_ends_operand(t[-1].kind);     /* in a table: a missing comma, told already */
  }
  if (stands || sl_told(s, t - 1)) return;       /* frost: 18in */
  struct sl_complaint *c = sl_complain_at(s, "Q108", t);
  SL_SAY(c->text, "the value '%.*s' cannot stand here", sl_shown(t), t->at);
  if (t[-1].kind == ':' && t[-2].kind == T_NAME)
    SL_SAY(c->help, "an equal sign stands between a name and its value: %.*s = %.*s", sl_shown(t - 2), t[-2].at,
           sl_shown(t), t->at);
  else SL_SAY(c->help, "give it a name (height = 5ft), or put an operator or a comma before it");
}

/* ---- behind a literal -------------------------------------------------------------------------------------------- */

static bool percent(struct sl_scanning *s, const struct sl_token *t) {
  if (!s->literal[t->literal].percent) return false;
  const struct sl_token *next = t + 1;
  bool operand = sl_starts_operand(next->kind) && next->line == t->line && !t->in_table;
  if (!operand && next->kind != '-' && next->kind != '~') return false;
  int digits = sl_shown(t) - 1;
  struct sl_complaint *c = sl_complain_at(s, "Q105", t);
  SL_SAY(c->text, "per cent, or the rest of a division?");
  if (operand)
    SL_SAY(c->help, "write %.*s %% x for the rest; behind a per cent put an operator or a new line", digits, t->at);
  else
    SL_SAY(c->help, "write (%.*s%%) %c x for per cent or %.*s %% %cx for the rest", digits, t->at, next->kind, digits,
           t->at, next->kind);
  return true;
}

static void behind(struct sl_scanning *s, const struct sl_token *t) {
  struct sl_token *next = &s->token[t - s->token + 1];
  bool wire = s->literal[t->literal].k.kind == SL_CONST_WIRE;
  const char *what;
  switch (next->kind) {
    case '(':
      next->begins = next->line != t->line;
      if (next->begins || t->in_table) return;
      what = "call"; break;
    case T_STRING: case '{':
      if (t->in_table) return;
      what = "call"; break;
    case '[': what = "index"; break;
    case '.': case ':':
      if (wire && next[1].kind == T_NAME) return;
      what = "index"; break;
    default: return;
  }
  struct sl_complaint *c = sl_complain_at(s, "Q108", next);
  SL_SAY(c->text, "one cannot %s the value '%.*s'", what, sl_shown(t), t->at);
  if (*what == 'c') SL_SAY(c->help, "put an operator, a comma or a new line between the two");
  else SL_SAY(c->help, "put (...) around the value");
}

/* First token of the operand that ends at i: a name with its suffixes, or what else there is. */
static size_t operand_start(const struct sl_scanning *s, size_t i) {
  for (;;) {
    const struct sl_token *t = &s->token[i];
    if (t->kind == ')' || t->kind == ']' || t->kind == '}') {
      if (!t->mate) return i;
      i = t->mate;
    } else if (t->kind == T_NAME && (t[-1].kind == '.' || t[-1].kind == ':')) {
      i -= 2;
      continue;
    } else if (t->kind != T_STRING) return i;
    int before = s->token[i - 1].kind;
    if (!sl_ends_operand(before) || before == T_LITERAL || before == T_NUMBER) return i;
    i--;
  }
}

/* a, 5ft = 1, 2 would change the constant. */
static void assigned(struct sl_scanning *s, size_t i) {
  for (;;) {
    size_t first = operand_start(s, i - 1);
    const struct sl_token *t = &s->token[first];
    if (t->kind == T_LITERAL) {
      struct sl_complaint *c = sl_complain_at(s, "Q108", t);
      SL_SAY(c->text, "one cannot give '%.*s' another value", sl_shown(t), t->at);
      SL_SAY(c->help, "two equal signs compare: x == %.*s", sl_shown(t), t->at);
    }
    if (first < 2 || t[-1].kind != ',' || t->in_table) return;
    i = first - 1;
  }
}

/* ---- the walk ---------------------------------------------------------------------------------------------------- */

void sl_context(struct sl_scanning *s) {
  struct names names = { 0 };
  collect(s, &names);
  for (size_t i = 1; i + 1 < s->n && !s->no_memory; i++) {
    struct sl_token *t = &s->token[i];
    if (t->kind == '=') assigned(s, i);
    if (t->kind == T_NAME && t->end - t->at == 2 && memcmp(t->at, "_K", 2) == 0) {
      struct sl_complaint *c = sl_complain_at(s, "Q132", t);
      SL_SAY(c->text, "the name '_K' is taken: the values of this file are kept in it");
      SL_SAY(c->help, "choose another name");
    }
    if (t->kind != T_LITERAL) continue;
    struct sl_literal *l = &s->literal[t->literal];
    fold(t, l);
    if (l->k.unit.point && l->k.si < 0) {
      struct sl_complaint *c = sl_complain_at(s, "Q110", t);
      SL_SAY(c->text, "this temperature is below absolute zero");
    }
    fraction(s, t);
    decimal_comma(s, t);
    place(s, t);
    if (!percent(s, t)) behind(s, t);
    tails(s, &names, t);
  }
  sl_memory_resize(s->box, names.name, names.cap * sizeof *names.name, 0);
}
