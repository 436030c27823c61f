/* SPDX-License-Identifier: MIT
 * Tokens of Lua 5.4 and of the literals; what is wrong with a single token is told here.
 * Byte mode: the contents of a string may be any bytes.  Strings, comments and long brackets are read by hand,
 * since they may hold a NUL, which ends the text only at its end. */
#include <stdlib.h>
#include <string.h>
#include "scan/tokens.h"

struct lines { int line; const char *start; };   /* where we are: number and first byte of the line */

/* Beginnings that C reads on; no token keeps these. */
enum { BLANK = 512, LINE_END, COMMENT, QUOTE, LUA_NUMBER, NO_NUMBER, PRICE, FOREIGN };

static int next(const char **at);                /* a token's kind, and past it: see the end of the file */

static bool eol(char c) { return c == '\n' || c == '\r'; }

/* Past a line end as Lua counts it: \n, \r, \r\n or \n\r. */
static const char *past_eol(const char *p, const char *end, struct lines *at) {
  p += 1 + (p + 1 < end && eol(p[1]) && p[1] != *p);
  at->line++;
  at->start = p;
  return p;
}

/* The bracket or block that is open behind token i, which stands in `open`. */
static size_t opened(const struct sl_scanning *s, size_t i, size_t open) {
  switch (s->token[i].kind) {
    case '(': case '[': case '{': case T_FUNCTION: case T_DO: case T_IF: case T_REPEAT: return i;
    case ')': case ']': case '}': case T_ENDBLOCK: case T_UNTIL: return s->token[open].open;
    default: return open;
  }
}

static struct sl_token *add(struct sl_scanning *s, int kind, const struct lines *at, const char *from, const char *to) {
  if (!sl_room(s, &s->token, s->n, &s->cap, sizeof *s->token)) return NULL;
  int shown = 0;
  while (from + shown < to && !eol(from[shown])) shown++;
  s->token[s->n] = (struct sl_token){ .kind = kind, .line = at->line, .col = (int)(from - at->start) + 1,
                                      .shown = shown, .at = from, .end = to, .open = s->open };
  s->open = opened(s, s->n, s->open);
  return &s->token[s->n++];
}

static struct sl_complaint *wrong(struct sl_scanning *s, const char *code, const struct lines *at, const char *from,
                                  const char *to) {
  return sl_complain(s, code, at->line, (int)(from - at->start) + 1, to > from ? (int)(to - from) : 1);
}

/* ---- strings and comments ---------------------------------------------------------------------------------------- */

/* Past [==[ ... ]==], or NULL if p does not open one; to the end of the text if it is never closed. */
static const char *long_bracket(struct sl_scanning *s, const char *p, struct lines *at, const char *what) {
  const char *q = p + 1;
  while (*q == '=') q++;
  if (*q != '[') return NULL;
  size_t level = (size_t)(q - p) - 1;
  struct lines opened = *at;
  for (q++; q < s->end;) {
    if (eol(*q)) q = past_eol(q, s->end, at);
    else if (*q++ == ']') {
      size_t n = 0;
      while (q[n] == '=') n++;
      if (n == level && q[n] == ']') return q + n + 1;
      q += n;
    }
  }
  struct sl_complaint *c = wrong(s, "Q126", &opened, p, p + level + 2);
  SL_SAY(c->text, "this long %s is not closed", what);
  SL_SAY(c->help, "it ends with ]%.*s]", level < 40 ? (int)level : 40, p + 1);
  return s->end;
}

/* Past a quoted string; at the end of its line if it is not closed. */
static const char *string(struct sl_scanning *s, const char *p, struct lines *at) {
  const char *open = p, quote = *p;
  struct lines opened = *at;
  for (p++; p < s->end && !eol(*p) && *p != quote;) {
    if (*p++ != '\\' || p == s->end) continue;
    if (eol(*p)) p = past_eol(p, s->end, at);
    else if (*p++ == 'z')
      while (p < s->end && (eol(*p) || strchr(" \t\f\v", *p))) {
        if (!*p) break;                          /* strchr finds the NUL too */
        p = eol(*p) ? past_eol(p, s->end, at) : p + 1;
      }
  }
  if (p < s->end && *p == quote) return p + 1;
  const char *to = open;
  while (to < s->end && !eol(*to)) to++;
  struct sl_complaint *c = wrong(s, "Q125", &opened, open, to);
  SL_SAY(c->text, "this string is not closed");
  bool before = false;
  for (const char *q = open; q > s->text && !eol(q[-1]); q--) before = before || q[-1] == quote;
  SL_SAY(c->help, "it ends with %c on the same line%s", quote, before ? "; is one missing further left?" : "");
  return p;
}

static const char *comment(struct sl_scanning *s, const char *p, struct lines *at) {
  if (p < s->end && *p == '[') {
    const char *end = long_bracket(s, p, at, "comment");
    if (end) return end;
  }
  while (p < s->end && !eol(*p)) p++;
  return p;
}

/* ---- characters of word processors ------------------------------------------------------------------------------- */

/* What each stands for, and how the scan goes on. */
static const struct typed { const char *bytes, *name, *plain; int as; } typed[] = {
  { "“", "a smart quote", "\"", '"' },  { "”", "a smart quote", "\"", '"' },  { "„", "a smart quote", "\"", '"' },
  { "‘", "a smart quote", "'", '"' },   { "’", "a smart quote", "'", '"' },
  { "«", "a quote", "\"", '"' },        { "»", "a quote", "\"", '"' },
  { "–", "an en dash", "-", '-' },      { "—", "an em dash", "-- for a comment, or -", 'c' },
  { "−", "a typographic minus", "-", '-' },                 /* U+2212 */
  { "\xC2\xA0", "a non-breaking blank", "a blank", ' ' },   { "\xE2\x80\xAF", "a narrow blank", "a blank", ' ' },
  { "\xEF\xBB\xBF", "a byte order mark", "nothing", ' ' },  { "\xE2\x80\x8B", "an invisible blank", "nothing", ' ' },
  { "×", "a times sign", "*", '*' },    { "·", "a dot", "*", '*' },           { "÷", "a division sign", "/", '/' },
  { "≤", "a sign", "<=", T_LE },        { "≥", "a sign", ">=", T_GE },        { "≠", "a sign", "~=", T_NE },
  { "…", "one character", "...", T_DOTS },
  { "½", "a fraction", "1/2", T_NUMBER }, { "¼", "a fraction", "1/4", T_NUMBER },
  { "¾", "a fraction", "3/4", T_NUMBER }, { "⅛", "a fraction", "1/8", T_NUMBER },
  { "⅜", "a fraction", "3/8", T_NUMBER }, { "⅝", "a fraction", "5/8", T_NUMBER },
  { "⅞", "a fraction", "7/8", T_NUMBER },
  { "²", "a raised 2", "^2", 0 },       { "³", "a raised 3", "^3", 0 },
  { "′", "a prime", "ft", 0 },          { "″", "a double prime", "in", 0 },
  { "°", "a degree sign", "deg behind a number, as in 35deg", 0 }, { "Ω", "an ohm sign", "ohm behind a number", 0 },
  { "±", "a plus-minus sign", "175ft±3ft, glued between two literals", '+' },
};

static const char *starts(const char *p, const char *with) {
  size_t n = strlen(with);
  return strncmp(p, with, n) == 0 ? p + n : NULL;
}

/* The closing quote on the same line, so that one complaint covers “the whole string”. */
static const char *quoted(const char *p, const char *end, bool single) {
  static const char *const closing[2][5] = { { "”", "“", "»", "«", "\"" }, { "’", "‘", "'", "'", "'" } };
  for (int n = 0; n < 400 && p < end && !eol(*p); n++, p++)
    for (size_t i = 0; i < 5; i++)
      if (starts(p, closing[single][i])) return starts(p, closing[single][i]);
  return NULL;
}

/* Bytes of the UTF-8 character at p; 0 if it is none. */
static size_t utf8(const char *p) {
  unsigned char c = (unsigned char)*p;
  size_t n = c < 0xC2 ? 0 : c < 0xE0 ? 2 : c < 0xF0 ? 3 : c < 0xF5 ? 4 : 0;
  for (size_t i = 1; i < n; i++)
    if (((unsigned char)p[i] & 0xC0) != 0x80) return 0;
  return n;
}

/* A byte that no Lua program has outside strings and comments. */
static const char *foreign(struct sl_scanning *s, const char *p, struct lines *at) {
  for (size_t i = 0; i < sizeof typed / sizeof *typed; i++) {
    const struct typed *t = &typed[i];
    const char *end = starts(p, t->bytes), *close;
    if (!end) continue;
    if (t->as == '"' && (close = quoted(end, s->end, *t->plain == '\''))) end = close;
    struct sl_complaint *c = wrong(s, "Q130", at, p, end);
    if (t->as == ' ') SL_SAY(c->text, "%s, which Lua does not read", t->name);
    else SL_SAY(c->text, "%s '%s', which Lua does not read", t->name, t->bytes);
    SL_SAY(c->help, t->as == ' ' ? "put %s in its place" : "write %s", t->plain);
    if (t->as == 'c') return comment(s, end, at);
    if (t->as == '"') add(s, T_STRING, at, p, end);
    else if (t->as && t->as != ' ') add(s, t->as, at, p, end);
    return end;
  }
  size_t n = utf8(p);
  if (n) {
    const char *end = p;
    while (utf8(end)) end += utf8(end);          /* a whole word in another script: one complaint */
    struct sl_complaint *c = wrong(s, "Q131", at, p, end);
    SL_SAY(c->text, "'%.*s' outside a string or comment", (int)n, p);
    SL_SAY(c->help, "names are made of a-z, A-Z, 0-9 and _");
    return end;
  }
  struct sl_complaint *c = wrong(s, "Q131", at, p, p + 1);
  if (*p) SL_SAY(c->text, "byte 0x%02X is not UTF-8", (unsigned)(unsigned char)*p);
  else SL_SAY(c->text, "a zero byte outside a string");
  SL_SAY(c->help, *p ? "save the file as UTF-8" : "the file may be damaged; save it again as plain text");
  return p + 1;
}

/* ---- numbers ----------------------------------------------------------------------------------------------------- */

/* 12' 6-1/2" as a script would write it: 12ft6-1/2in. */
static void plain_feet(const char *p, const char *end, char *to, size_t size) {
  static const struct { const char *mark, *word; } marks[] = {
    { "''", "in" }, { "\"", "in" }, { "″", "in" }, { "”", "in" }, { "'", "ft" }, { "′", "ft" }, { "’", "ft" },
  };
  size_t n = 0;
  char last = '\0';
  while (p < end && n + 3 < size) {
    const char *word = NULL, *next = p + 1;
    for (size_t i = 0; i < sizeof marks / sizeof *marks && !word; i++)
      if (starts(p, marks[i].mark)) word = marks[i].word, next = starts(p, marks[i].mark);
    bool digits_meet = *p == ' ' && last >= '0' && last <= '9' && next < end && *next >= '0' && *next <= '9';
    if (word) memcpy(to + n, word, 2), n += 2;
    else if (digits_meet) to[n++] = '-';
    else if (*p != ' ' && *p != '\t' && !(*p == '-' && last == 't')) to[n++] = *p;
    p = next;
    if (n) last = to[n - 1];
  }
  to[n] = '\0';
}

/* 24" and 12' 6": Lua sees the begin of a string. */
static const char *quote_mark(struct sl_scanning *s, const char *from, const char *number_end, struct lines *at) {
  struct sl_literal l;
  struct sl_complaint none;
  char plain[80];
  bool length = sl_literal_read(from, s->end, SL_CELL, &l, &none) == SL_LITERAL_GOOD && l.end > number_end;
  const char *end = length ? l.end : number_end + 1;
  plain_feet(from, end, plain, sizeof plain);
  struct sl_complaint *c = wrong(s, "Q113", at, from, end);
  SL_SAY(c->text, "a number with a mark of %s: Lua would begin a string here",
         *number_end == '"' || starts(number_end, "″") || starts(number_end, "”") ? "inches" : "feet");
  SL_SAY(c->help, "write %s", plain);
  add(s, T_NUMBER, at, from, end);
  return end;
}

static bool quote_behind(const char *p) {
  return *p == '"' || *p == '\'' || starts(p, "′") || starts(p, "″") || starts(p, "’") || starts(p, "”");
}

/* The kind of the token at *p, behind blanks, line ends and comments, and past it; where it begins. */
static int peek(struct sl_scanning *s, const char **p, const char **from) {
  const size_t told = s->nbad;
  struct lines nowhere = { 1, *p };
  int kind;
  do {
    *from = *p;
    kind = *p < s->end ? next(p) : T_END;
    if (kind == COMMENT) *p = comment(s, *p, &nowhere);
  } while (kind == BLANK || kind == LINE_END || kind == COMMENT);
  s->nbad = told;                                /* what is not closed is told when it is read */
  return kind;
}

/* Might Lua take a name there, that ends at p, for the begin of the next statement? */
static bool begins_statement(struct sl_scanning *s, const char *p) {
  const char *from;
  for (;;)
    switch (peek(s, &p, &from)) {
      case '=': case '.': case ':': case '[': case '(': case '{': case QUOTE: return true;
      case ',':                                  /* a, b = 1, 2 */
        if (peek(s, &p, &from) == T_NAME) continue;
        return *from == '(';
      default: return false;
    }
}

/* A number ends at p, and a literal goes on: could that be Lua? Two numbers side by side, a number before `in`, or
 * before a name within brackets, are in no program. */
static bool may_be_lua(struct sl_scanning *s, const char *p) {
  const char *unit = p + strspn(p, "0123456789-/ \t"), *from;
  for (const char *q = p; q < unit; q++)
    if ((*q == ' ' || *q == '\t') && q[1] >= '0' && q[1] <= '9') return false;
  if (*unit == '%') {
    const char *behind = unit + 1;
    const int kind = peek(s, &behind, &from);
    return sl_starts_operand(kind) || kind == '-' || kind == '~' || kind >= QUOTE;
  }
  const char *behind = unit;
  const int word = next(&behind), open = s->token[s->open].kind;         /* of none: T_END */
  if (word != T_NAME || open == '(' || open == '[' || open == '{') return false;
  return begins_statement(s, behind);
}

/* 5 feet: a number and a word that is no unit, but surely stands for one. */
static void unit_meant(struct sl_scanning *s, const char *p, const struct lines *at) {
  struct sl_unit unit;
  struct sl_unit_error err;
  const char *word = p + strspn(p, " \t"), *end = word, *behind, *from;
  if (word == p || next(&end) != T_NAME || may_be_lua(s, p)) return;
  behind = end;
  if (peek(s, &behind, &from) == '=') return;                              /* a field: its comma is missing */
  if (end == word + 1 && (*word == 'S' || *word == 'E')) {
    struct sl_complaint *c = wrong(s, "Q102", at, word, end);
    SL_SAY(c->text, "unknown unit '%c'", *word);
    SL_SAY(c->help, "a position stands in quotes, as in \"36.16 %c\"", *word);
    return;
  }
  if (sl_unit_parse(word, (size_t)(end - word), &unit, &err) || !*err.help) return;
  struct sl_complaint *c = wrong(s, err.refused ? "Q103" : "Q102", at, word, end);
  memcpy(c->text, err.text, sizeof err.text);
  memcpy(c->help, err.help, sizeof err.help);
}

static void tell(struct sl_scanning *s, const struct sl_complaint *bad, const struct sl_literal *l,
                 const struct lines *at) {
  struct sl_complaint *c = wrong(s, bad->code, at, l->bad_from, l->bad_to);
  memcpy(c->text, bad->text, sizeof c->text);
  memcpy(c->help, bad->help, sizeof c->help);
}

static const char *keep(struct sl_scanning *s, const char *from, struct sl_literal *l, const struct lines *at) {
  struct sl_token *t = add(s, T_LITERAL, at, from, l->end);
  if (!t || !sl_room(s, &s->literal, s->nliteral, &s->literal_cap, sizeof *l)) return l->end;
  t->literal = s->nliteral;
  l->k.span = sl_span_of(t);
  s->literal[s->nliteral++] = *l;
  return l->end;
}

/* Whether nothing that is written with blanks goes on there. */
static bool is_over(const char *p) { return strchr(",;)]}\r\n", *p) != NULL; }

/* A token that begins like a number: a literal, or a number of Lua (`plain`), or neither.  What is written with blanks,
 * as the program prints it, is read where no program of Lua could be meant. */
static const char *number(struct sl_scanning *s, const char *from, const char *lua_end, bool plain, struct lines *at) {
  struct sl_literal l, wide;
  struct sl_complaint bad, worse;
  enum sl_literal_verdict v = sl_literal_read(from, s->end, SL_GLUED, &l, &bad);
  const char *end = v == SL_LITERAL_GOOD ? l.end : lua_end;
  if (!is_over(end) && (v == SL_LITERAL_GOOD || (v == SL_LITERAL_NONE && plain))) {
    enum sl_literal_verdict w = sl_literal_read(from, s->end, SL_SPACED, &wide, &worse);
    if (w != SL_LITERAL_NONE && wide.end > end && (v == SL_LITERAL_GOOD || !may_be_lua(s, lua_end))) {
      v = w;
      l = wide;
      bad = worse;
    }
  }
  if (v == SL_LITERAL_GOOD) return keep(s, from, &l, at);
  if (v == SL_LITERAL_BAD) {
    tell(s, &bad, &l, at);
    add(s, T_NUMBER, at, from, l.end);
    return l.end > from ? l.end : from + 1;
  }
  if (!plain) {
    struct sl_complaint *c = wrong(s, "Q101", at, from, lua_end);
    bool dots = memchr(from, '.', (size_t)(lua_end - from)) && lua_end[-1] != 'x';
    bool loop = s->token[s->n - 1].kind == T_IN || (s->n > 2 && s->token[s->n - 3].kind == T_FOR);
    SL_SAY(c->text, "malformed number '%.*s'", lua_end - from < 40 ? (int)(lua_end - from) : 40, from);
    SL_SAY(c->help, "%s", from[0] == '0' && (from[1] | 32) == 'x' ? "a hexadecimal number has no unit"
                          : dots && loop ? "a loop counts as in: for i = 1, 3 do ... end"
                          : dots ? "join with blanks around the dots: 1 .. 2"
                                 : "write a number and a unit, as in 12.5ft");
  } else if (quote_behind(lua_end)) return quote_mark(s, from, lua_end, at);
  else unit_meant(s, lua_end, at);
  add(s, T_NUMBER, at, from, lua_end);
  return lua_end;
}

/* ---- the tokens -------------------------------------------------------------------------------------------------- */

/* The kind of token at *at, which moves past it. */
static int next(const char **at) {
  const unsigned char *YYCURSOR = (const unsigned char *)*at, *YYMARKER;
#define KIND(kind) return *at = (const char *)YYCURSOR, (kind)
  /*!re2c
    re2c:define:YYCTYPE = "unsigned char";
    re2c:yyfill:enable = 0;
    digit = [0-9];
    hexdigit = [0-9a-fA-F];
    decimal = (digit+ ("." digit*)? | "." digit+) ([eE] [+-]? digit+)?;
    hex = "0" [xX] (hexdigit+ ("." hexdigit*)? | "." hexdigit+) ([pP] [+-]? digit+)?;
    // what Lua's own scanner swallows before it says "malformed number"
    greedy = (digit | "." digit) ([eE] [+-]? | hexdigit | ".")* [A-Za-z_]?;
    greedyhex = "0" [xX] ([pP] [+-]? | hexdigit | ".")* [A-Za-z_]?;

    [ \t\f\v]+  { KIND(BLANK); }
    [\r\n]      { KIND(LINE_END); }
    "--"        { KIND(COMMENT); }
    ["']        { KIND(QUOTE); }
    decimal | hex      { KIND(LUA_NUMBER); }
    greedy | greedyhex { KIND(NO_NUMBER); }
    "$" | "\xE2\x82\xAC" | "\xC2\xA3" { KIND(PRICE); }

    "and"      { KIND(T_AND); }
    "break"    { KIND(T_BREAK); }
    "do"       { KIND(T_DO); }
    "else"     { KIND(T_ELSE); }
    "elseif"   { KIND(T_ELSEIF); }
    "end"      { KIND(T_ENDBLOCK); }
    "false"    { KIND(T_FALSE); }
    "for"      { KIND(T_FOR); }
    "function" { KIND(T_FUNCTION); }
    "goto"     { KIND(T_GOTO); }
    "if"       { KIND(T_IF); }
    "in"       { KIND(T_IN); }
    "local"    { KIND(T_LOCAL); }
    "nil"      { KIND(T_NIL); }
    "not"      { KIND(T_NOT); }
    "or"       { KIND(T_OR); }
    "repeat"   { KIND(T_REPEAT); }
    "return"   { KIND(T_RETURN); }
    "then"     { KIND(T_THEN); }
    "true"     { KIND(T_TRUE); }
    "until"    { KIND(T_UNTIL); }
    "while"    { KIND(T_WHILE); }
    [A-Za-z_] [A-Za-z0-9_]* { KIND(T_NAME); }

    "..."      { KIND(T_DOTS); }
    ".."       { KIND(T_CONCAT); }
    "//"       { KIND(T_IDIV); }
    "<<"       { KIND(T_SHL); }
    ">>"       { KIND(T_SHR); }
    "=="       { KIND(T_EQ); }
    "~="       { KIND(T_NE); }
    "<="       { KIND(T_LE); }
    ">="       { KIND(T_GE); }
    "::"       { KIND(T_LABEL); }
    [\x00\x80-\xff] { KIND(FOREIGN); }
    *          { KIND(YYCURSOR[-1]); }
  */
}

void sl_tokenise(struct sl_scanning *s) {
  const char *p = s->text;
  struct lines at = { 1, p };
  add(s, T_END, &at, p, p);
  if (starts(p, "\xEF\xBB\xBF")) p += 3;
  if (*p == '#') while (p < s->end && !eol(*p)) p++;
  s->start = p;
  while (p < s->end && !s->no_memory) {
    const char *from = p, *closed;
    struct lines first = at;
    int kind = next(&p);
    switch (kind) {
      case BLANK: break;
      case LINE_END: p = past_eol(from, s->end, &at); break;
      case COMMENT: p = comment(s, p, &at); break;
      case LUA_NUMBER: p = number(s, from, p, true, &at); break;
      case NO_NUMBER: case PRICE: p = number(s, from, p, false, &at); break;
      case FOREIGN: p = foreign(s, from, &at); break;
      case QUOTE: p = string(s, from, &at); add(s, T_STRING, &first, from, p); break;
      case '[':
        closed = long_bracket(s, from, &at, "string");
        if (closed) p = closed;
        add(s, closed ? T_STRING : '[', &first, from, p);
        break;
      default: add(s, kind, &at, from, p);
    }
  }
  add(s, T_END, &at, s->end, s->end);
}
