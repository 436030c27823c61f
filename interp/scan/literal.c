/* SPDX-License-Identifier: MIT
 * Quantity literals by recursive descent.  Grammar: docs/language.md. */
#include "scan/literal.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool digit(char c) { return c >= '0' && c <= '9'; }
static bool letter(char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); }
static bool wordy(char c) { return letter(c) || digit(c) || c == '_'; }

/* Past `word` at p, or NULL.  Texts end with a NUL, so that nothing is read past their end. */
static const char *past(const char *p, const char *word) {
  size_t n = strlen(word);
  return strncmp(p, word, n) == 0 ? p + n : NULL;
}
static const char *past_any(const char *p, const char *const *words) {
  for (; *words; words++)
    if (past(p, *words)) return p + strlen(*words);
  return NULL;
}

static const char *digits(const char *p) {
  while (digit(*p)) p++;
  return p;
}

const char *sl_decimal_end(const char *at) {
  const char *p = digits(at);
  if (*p == '.' && (p > at || digit(p[1]))) p = digits(p + 1);
  if (p > at && (*p == 'e' || *p == 'E')) {
    const char *e = p + 1 + (p[1] == '+' || p[1] == '-');
    if (digit(*e)) p = digits(e);
  }
  return p;
}

/* Past blanks between a number and its unit. */
static const char *gap(const char *p, enum sl_blanks how) {
  while (how != SL_GLUED && (*p == ' ' || *p == '\t')) p++;
  return p;
}

/* Past blanks behind a minus, of which a script has more. */
static const char *behind_minus(const char *p) {
  while (*p && strchr(" \t\f\v", *p)) p++;
  return p;
}

/* Past blanks within a number: feet and inches, a whole and its fraction.  More than one between two values of a script
 * are columns of a list. */
static const char *gap_within(const char *p, enum sl_blanks how) {
  if (how != SL_SPACED) return gap(p, how);
  return *p == ' ' && p[1] != ' ' && p[1] != '\t' ? p + 1 : p;
}

/* Units begin with a letter, a degree or an ohm sign; µ is here for a better message. */
static bool unit_start(const char *p) {
  return letter(*p) || past(p, "°") || past(p, "Ω") || past(p, "µ") || past(p, "μ");
}
static bool money_sign(const char *p) { return past(p, "$") || past(p, "€") || past(p, "£"); }

static const char *word_end(const char *p) {
  while (wordy(*p) || (unsigned char)*p >= 0x80) p++;
  return p;
}

/* At most 40 bytes of a text for a message, not cut inside a character. */
static int shown(const char *from, const char *to) {
  return (int)sl_whole(from, (size_t)(to - from), 40);
}

static enum sl_literal_verdict bad(struct sl_literal *l, const char *code, const char *from, const char *to) {
  SL_SAY(l->bad->code, "%s", code);
  l->bad_from = from;
  l->bad_to = l->end = to;
  return SL_LITERAL_BAD;
}
#define TEXT(l, ...) SL_SAY((l)->bad->text, __VA_ARGS__)
#define HELP(l, ...) SL_SAY((l)->bad->help, __VA_ARGS__)

/* ---- feet and inches --------------------------------------------------------------------------------------------- */

/* Past "/8": a fraction's bar and one of the denominators of a tape. */
static const char *denominator(const char *p, double *n) {
  if (*p != '/') return NULL;
  const char *end = digits(p + 1);
  *n = strtod(p + 1, NULL);
  if (end == p + 1 || end > p + 3 || p[1] == '0') return NULL;
  for (int tape = 2; tape <= 64; tape *= 2)
    if (*n == tape) return end;
  return NULL;
}

static const char *inch_mark(const char *p, enum sl_blanks how) {
  static const char *const quotes[] = { "\"", "''", "″", "”", NULL };
  const char *end = past(p, "in");
  if (end) return letter(*end) || *end == '_' ? NULL : end;
  return how == SL_CELL ? past_any(p, quotes) : NULL;
}

static const char *foot_mark(const char *p, enum sl_blanks how) {
  static const char *const quotes[] = { "'", "′", "’", NULL };
  const char *end = past(p, "ft");
  if (end) return letter(*end) || *end == '_' ? NULL : end;
  return how == SL_CELL && !past(p, "''") ? past_any(p, quotes) : NULL;
}

enum inches_form { INCHES_PLAIN, INCHES_FRACTION, INCHES_MIXED };
struct inches { double value; enum inches_form form; bool improper; };

/* Past "6.5in", "3/8in", "6-3/8in" and, with blanks, "6 3/8 in"; NULL if no mark follows. */
static const char *read_inches(const char *p, enum sl_blanks how, struct inches *out) {
  const char *mark, *whole = digits(p), *f;
  if (whole > p) {
    double n = strtod(p, NULL), over;
    if ((f = denominator(whole, &over)) && (mark = inch_mark(gap(f, how), how)))
      return *out = (struct inches){ n / over, INCHES_FRACTION, false }, mark;
    const char *top = *whole == '-' ? whole + 1 : gap_within(whole, how);
    const char *bar = digits(top);
    if (top > whole && bar > top && (f = denominator(bar, &over)) && (mark = inch_mark(gap(f, how), how))) {
      double part = strtod(top, NULL) / over;
      return *out = (struct inches){ n + part, INCHES_MIXED, !(part > 0 && part < 1) }, mark;
    }
  }
  const char *end = sl_decimal_end(p);
  if (end == p || !(mark = inch_mark(gap(end, how), how))) return NULL;
  return *out = (struct inches){ strtod(p, NULL), INCHES_PLAIN, false }, mark;
}

/* ---- units behind a number --------------------------------------------------------------------------------------- */

/* Past up to two tails "/m2/d", or "*ft" where `product` says so.  A tail is taken only if it is a unit that may be
 * used. */
static const char *factors(const char *p, const char *end, bool product, struct sl_literal *l) {
  for (int i = 0; i < 2 && (*p == '/' || (product && *p == '*')); i++) {
    int power;
    const char *symbol = p + 1, *stop = symbol + sl_unit_symbol(symbol, (size_t)(end - symbol));
    if (!unit_start(symbol)) break;
    size_t n = (size_t)(stop - symbol);
    const char *next = stop + sl_unit_power(stop, (size_t)(end - stop), &power);
    if (wordy(*next)) break;
    if (!sl_unit_known(symbol, n)) {
      if (sl_unit_refused(symbol, n)) l->refused_tail = symbol;
      break;
    }
    l->tail[i] = symbol;
    p = next;
  }
  return p;
}
static const char *tails(const char *p, const char *end, struct sl_literal *l) { return factors(p, end, false, l); }

#define SEE_UNITS "`stringline units` lists the units"

/* Gives the literal its value: number times the unit text, which begins with the sign of a currency or is glued on. */
static enum sl_literal_verdict finish(struct sl_literal *l, double number, const char *sign, const char *unit,
                                      const char *unit_end, const char *end) {
  char text[80];
  struct sl_unit_error err;
  size_t n = strlen(sign), len = (size_t)(unit_end - unit);
  if (len > sizeof text - 8) {
    TEXT(l, "this unit is too long");
    return bad(l, "Q102", unit, unit_end);
  }
  memcpy(text, sign, n);
  memcpy(text + n, unit, len);
  if (!sl_unit_parse(text, n + len, &l->k.unit, &err)) {
    const char *from = err.at < n ? unit : unit + (err.at - n);
    const char *to = from + err.len < unit_end ? from + err.len : unit_end;
    TEXT(l, "%s", err.text);
    HELP(l, "%s", *err.help ? err.help : SEE_UNITS);
    bad(l, err.refused ? "Q103" : "Q102", from, to > from ? to : from + (from < unit_end));
    l->end = end;
    return SL_LITERAL_BAD;
  }
  l->number = number;
  l->k.si = (number + l->k.unit.offset) * l->k.unit.factor;
  const size_t most = sizeof l->k.written - 1, kept = n + len < most ? n + len : most;
  memcpy(l->k.written, text, kept);
  l->k.written[kept] = '\0';
  l->end = end;
  if (!isfinite(l->k.si)) {
    TEXT(l, "this number is too large");
    return bad(l, "Q110", unit, end);
  }
  return SL_LITERAL_GOOD;
}

static enum sl_literal_verdict unknown(struct sl_literal *l, const char *from, const char *to) {
  struct sl_unit_error err;
  struct sl_unit unit;
  size_t n = sl_unit_symbol(from, (size_t)(to - from));
  if (n == 0 || sl_unit_parse(from, n, &unit, &err)) {       /* ends in something that no unit has */
    TEXT(l, "unknown unit '%.*s'", shown(from, to), from);
    HELP(l, SEE_UNITS);
    return bad(l, "Q102", from, to);
  }
  TEXT(l, "%s", err.text);
  HELP(l, "%s", *err.help ? err.help : SEE_UNITS);
  bad(l, err.refused ? "Q103" : "Q102", from, from + n);
  l->end = to;
  return SL_LITERAL_BAD;
}

static enum sl_literal_verdict wire(struct sl_literal *l, const char *from, const char *to) {
  l->k.kind = SL_CONST_WIRE;
  l->end = to;
  if (sl_wire_parse(from, (size_t)(to - from), &l->k.wire)) {
    l->k.unit.factor = 1;
    return SL_LITERAL_GOOD;
  }
  TEXT(l, "no such wire size '%.*s'", shown(from, to), from);
  HELP(l, "sizes are 40AWG to 1AWG, 1/0AWG to 4/0AWG, then 250kcmil to 2000kcmil");
  return bad(l, "Q107", from, to);
}

/* A bare '%' glued to a number: per cent, unless what is glued behind it begins an operand. */
static bool modulo(const char *p) {
  static const char *const words[] = {
    "and", "or", "then", "do", "end", "else", "elseif", "until", "in", "return", "local", "for", "while", "if",
    "repeat", "break", "goto", NULL,
  };
  if (letter(*p) || *p == '_') {
    size_t n = 1;
    while (wordy(p[n])) n++;
    for (const char *const *w = words; *w; w++)
      if (strlen(*w) == n && memcmp(*w, p, n) == 0) return false;
    return true;
  }
  if (*p == '.') return p[1] != '.' || p[2] == '.';          /* .5 and ... ; but `5%..x` joins */
  if (*p == '~') return p[1] != '=';
  return digit(*p) || (*p && strchr("\"'({[#$", *p));
}

static enum sl_literal_verdict percent(const char *at, const char *p, const char *end, struct sl_literal *l) {
  const char *stop = tails(p + 1, end, l);
  if (stop == p + 1 && modulo(stop)) return SL_LITERAL_NONE;
  l->percent = stop == p + 1;
  return finish(l, strtod(at, NULL), "", p, stop, stop);
}

enum { LONGEST_BRACKET = 70 };

/* 5[kN*m] */
static enum sl_literal_verdict bracket(const char *at, const char *p, struct sl_literal *l) {
  size_t n = 1;
  while (n < LONGEST_BRACKET && p[n] && !strchr("[]\r\n", p[n])) n++;
  if (p[n] != ']') {
    TEXT(l, "the unit in brackets has no ']'");
    HELP(l, "write it as in 5[kN*m]");
    return bad(l, "Q101", at, p + 1);
  }
  return finish(l, strtod(at, NULL), "", p + 1, p + n, p + n + 1);
}

#define ONE_UNIT "one number and one unit, as in 12.5 ft"

static enum sl_literal_verdict malformed(struct sl_literal *l, const char *at, const char *to, const char *help) {
  TEXT(l, "malformed number '%.*s'", shown(at, to), at);
  HELP(l, "%s", help);
  return bad(l, "Q101", at, to);
}

/* A number and the unit glued to it. */
static enum sl_literal_verdict glued(const char *at, const char *p, const char *end, struct sl_literal *l) {
  const char *unit = p;
  if (*p == '[') return bracket(at, p, l);
  if (*p == '%') return percent(at, p, end, l);
  if (money_sign(p)) {
    HELP(l, "the sign stands in front: $450");
    TEXT(l, "a price is written the other way round");
    return bad(l, "Q101", at, p + sl_unit_symbol(p, (size_t)(end - p)));
  }
  if (*p == '_') return malformed(l, at, word_end(p), "digits are not grouped: write 1000");
  if (!unit_start(p)) return SL_LITERAL_NONE;
  size_t n = sl_unit_symbol(p, (size_t)(end - p));
  if (n == 3 && memcmp(p, "AWG", 3) == 0 && !wordy(p[3])) return wire(l, at, p + 3);
  if (n == 1 && (*p == 'e' || *p == 'E')) return malformed(l, at, word_end(p), "an exponent needs digits, as in 5e3");
  if (!sl_unit_known(p, n)) return unknown(l, p, word_end(p));
  int power;
  p += n;
  p += sl_unit_power(p, (size_t)(end - p), &power);
  if (wordy(*p) || (*p == '.' && digit(p[1])))
    return malformed(l, at, *p == '.' ? sl_decimal_end(p) : word_end(p),
                     n == 2 && past(unit, "ft") ? "feet and inches are written as in 8ft11in or 8ft6-1/2in"
                                                : "one number, one unit; powers are 2, 3 and 4, as in ft2");
  p = tails(p, end, l);
  return finish(l, strtod(at, NULL), "", unit, p, p);
}

/* Behind a number: 0.000023 1/K. */
static bool inverse(const char *unit, const char *end) {
  return past(unit, "1/") && sl_unit_symbol(unit + 2, (size_t)(end - unit) - 2) > 0;
}

/* A number and its unit with blanks between; the unit goes on to the next blank. */
static enum sl_literal_verdict apart(const char *at, const char *p, struct sl_literal *l) {
  const char *unit = gap(p, SL_CELL), *stop = unit;
  if (*unit == '[') return bracket(at, unit, l);
  while (*stop && !strchr(" \t+", *stop) && !past(stop, "±")) stop++;
  if (stop == unit || *unit == ',') return SL_LITERAL_NONE;
  if (stop - unit == 3 && memcmp(unit, "AWG", 3) == 0) return wire(l, at, stop);
  if (!inverse(unit, stop) && (digit(*unit) || *unit == '.')) return malformed(l, at, stop, ONE_UNIT);
  return finish(l, strtod(at, NULL), "", unit, stop, stop);
}

/* As the program prints it, with blanks before the unit; whatever is no unit is none of ours: Lua may read it. */
static enum sl_literal_verdict spaced(const char *at, const char *p, const char *end, struct sl_literal *l) {
  const char *unit = gap(p, SL_SPACED);
  size_t n = sl_unit_symbol(unit, (size_t)(end - unit));
  int power;
  if (inverse(unit, end)) {
    p = tails(unit + 1, end, l);
    return p == unit + 1 ? SL_LITERAL_NONE : finish(l, strtod(at, NULL), "", unit, p, p);
  }
  if (n == 3 && past(unit, "AWG") && !wordy(unit[3])) return wire(l, at, unit + 3);
  if ((!unit_start(unit) && *unit != '%') || !sl_unit_known(unit, n)) return SL_LITERAL_NONE;
  p = unit + n;
  p += sl_unit_power(p, (size_t)(end - p), &power);
  if (wordy(*p) || (*p == '.' && digit(p[1]))) return SL_LITERAL_NONE;
  p = factors(p, end, true, l);
  return finish(l, strtod(at, NULL), "", unit, p, p);
}

/* ---- the whole literal ------------------------------------------------------------------------------------------- */

static enum sl_literal_verdict money(const char *at, const char *end, enum sl_blanks how, struct sl_literal *l) {
  char sign[8] = "";
  if (how == SL_SPACED) how = SL_GLUED;                    /* no price is printed with blanks */
  size_t n = sl_unit_symbol(at, (size_t)(end - at));
  const char *number = gap(at + n, how), *p = sl_decimal_end(number);
  memcpy(sign, at, n);
  if (p == number) {
    TEXT(l, "a price needs a number behind '%s'", sign);
    HELP(l, "write it as in %s450 or %s1.35/ft", sign, sign);
    return bad(l, "Q101", at, at + n);
  }
  bool grouped = digits(number) == p && p - number <= 3 && *p == ',' && digits(p + 1) == p + 4;
  if (grouped || wordy(*p)) {
    const char *to = grouped ? p + 4 : word_end(p);
    if (grouped) HELP(l, "digits are not grouped: write %s%.*s%.3s; two values want a blank behind the comma", sign,
                      shown(number, p), number, p + 1);
    else HELP(l, "a price for something is written as in %s1.35/ft", sign);
    TEXT(l, "malformed price '%.*s'", shown(at, to), at);
    return bad(l, "Q101", at, to);
  }
  const char *unit = *gap(p, how) == '/' ? gap(p, how) : p, *stop = tails(unit, end, l);
  return finish(l, strtod(number, NULL), sign, unit, stop, stop == unit ? p : stop);
}

#define TWO_VALUES "; two values want a comma between them"

static enum sl_literal_verdict inches_bad(struct sl_literal *l, const char *at, const char *to, const char *text,
                                          const char *help) {
  TEXT(l, "%s", text);
  HELP(l, "%s", help);
  return bad(l, "Q111", at, to);
}

/* 3/8in, 2-3/8in, 12ft6in, 8ft11-3/8in, also with tails (1/4in/ft), and with blanks; in a cell 12' 6-1/2" and 6". */
static enum sl_literal_verdict tape(const char *at, const char *end, enum sl_blanks how, struct sl_literal *l) {
  struct inches in = { 0 };
  const char *whole = digits(at), *number = sl_decimal_end(at), *mark, *rest;
  double feet = 0;
  if ((mark = read_inches(at, how, &in))) {
    if (in.form == INCHES_PLAIN && *(mark - 1) == 'n') return SL_LITERAL_NONE;       /* 6.5in is glued() */
    l->arithmetic = in.form != INCHES_PLAIN;
  } else {
    if (!(mark = foot_mark(gap(number, how), how))) return SL_LITERAL_NONE;
    bool quoted = *(mark - 1) != 't';
    if (number != whole && !quoted && how == SL_GLUED) return SL_LITERAL_NONE;         /* 8.5ft */
    rest = gap_within(mark, how);
    bool dash = *rest == '-';
    if (how == SL_CELL && dash) rest = gap(rest + 1, how);
    const char *more = read_inches(rest, how, &in);
    if (more && number != whole)
      return inches_bad(l, at, more, "feet with decimals, and inches", "write 8ft6in, or 8.5ft" TWO_VALUES);
    if (!more && how != SL_CELL && dash && (more = read_inches(rest + 1, how, &in)))
      return inches_bad(l, at, more, "feet and inches, or a subtraction?",
                        "write 12ft6in for feet and inches, 12ft - 6in (with blanks) to subtract");
    if (!more && !quoted) return SL_LITERAL_NONE;                                      /* 12ft */
    if (more) mark = more;
    feet = strtod(at, NULL);
    if (in.value >= 12)
      return inches_bad(l, at, mark, "12 inches or more behind the feet", "12 in are one more foot" TWO_VALUES);
  }
  if (in.improper)
    return inches_bad(l, at, mark, "this is no part of an inch", "write 2-3/8in, with a fraction below one");
  int power;
  if (sl_unit_power(mark, (size_t)(end - mark), &power) || wordy(*mark)) {
    TEXT(l, "a fraction of an inch cannot have a power");
    HELP(l, "write 0.375in2 for an area");
    return bad(l, "Q106", at, word_end(mark + (*mark == '^')));
  }
  const char *stop = *mark == '/' ? tails(mark, end, l) : mark;
  enum sl_literal_verdict v = finish(l, feet * 12 + in.value, "in", mark, stop, stop);
  if (v == SL_LITERAL_GOOD && stop == mark) strcpy(l->k.written, "ft-in");
  return v;
}

/* 4/0AWG: no number has a letter glued to its nought, so Lua has no reading of it. */
static enum sl_literal_verdict aught(const char *at, enum sl_blanks how, struct sl_literal *l) {
  const char *whole = digits(at), *bar = past(whole, "/0"), *stop = bar ? past(gap(bar, how), "AWG") : NULL;
  if (whole == at || !stop || wordy(*stop)) return SL_LITERAL_NONE;
  l->arithmetic = true;
  return wire(l, at, stop);
}

static enum sl_literal_verdict one(const char *at, const char *end, enum sl_blanks how, struct sl_literal *l) {
  if (money_sign(at)) return money(at, end, how, l);
  const char *p = sl_decimal_end(at);
  if (p == at) return SL_LITERAL_NONE;
  if (*at == '0' && (*p == 'x' || *p == 'X')) return SL_LITERAL_NONE;
  enum sl_literal_verdict v = aught(at, how, l);
  if (v == SL_LITERAL_NONE) v = tape(at, end, how, l);
  if (v != SL_LITERAL_NONE) return v;
  if (how == SL_CELL) return apart(at, p, l);
  return how == SL_SPACED && gap(p, how) > p ? spaced(at, p, end, l) : glued(at, p, end, l);
}

/* "+-3ft" or "±3ft" behind a literal. */
static enum sl_literal_verdict tolerance(const char *sign, const char *p, const char *end, enum sl_blanks how,
                                         struct sl_literal *l) {
  struct sl_literal t = { .end = p, .bad = l->bad };
  const char *number = gap(p, how);
  enum sl_literal_verdict v = one(number, end, how, &t);
  const char *to = v == SL_LITERAL_NONE ? sl_decimal_end(number) : t.end;
  if (v == SL_LITERAL_BAD) return *l = t, v;
  if (v == SL_LITERAL_NONE) {
    TEXT(l, "the tolerance has no unit");
    HELP(l, "write both, as in 175ft+-3ft");
    return bad(l, "Q109", sign, to);
  }
  if (l->k.kind != SL_CONST_QUANTITY || t.k.kind != SL_CONST_QUANTITY || t.k.unit.dims.w != l->k.unit.dims.w ||
      t.k.unit.currency != l->k.unit.currency) {
    TEXT(l, "the tolerance is of another kind than the value");
    HELP(l, "both in one kind of unit, as in 175ft+-3ft or 175ft+-6in");
    return bad(l, "Q109", sign, to);
  }
  l->k.tolerance = t.number * t.k.unit.factor;             /* of a temperature point: a difference */
  l->percent = false;
  l->end = to;
  return v;
}

static bool begins_number(const char *p) { return digit(*p) || (*p == '.' && digit(p[1])) || money_sign(p); }

/* "175ft +-3ft": with a blank on one side alone it may be either. */
static bool blank_on_one_side(const char *end, struct sl_literal *l) {
  const char *sign = gap(l->end, SL_CELL), *p = past(sign, "+-"), *number = p ? gap(p, SL_CELL) : NULL;
  if (!p || (sign == l->end) == (number == p) || !begins_number(number)) return false;
  struct sl_complaint unread;
  struct sl_literal t = { .end = number, .bad = &unread };
  const char *to = one(number, end, SL_GLUED, &t) == SL_LITERAL_GOOD ? t.end : sl_decimal_end(number);
  TEXT(l, "a tolerance or a subtraction?");
  HELP(l, "a tolerance has a blank on both sides or on none, as in 175ft+-3ft; a subtraction is written 175ft - 3ft");
  bad(l, "Q109", sign, to);
  return true;
}

enum sl_literal_verdict sl_literal_read(const char *at, const char *end, enum sl_blanks how, struct sl_literal *out,
                                        struct sl_complaint *complaint) {
  *complaint = (struct sl_complaint){ .span = { 0 } };
  *out = (struct sl_literal){ .end = at, .bad = complaint };
  enum sl_literal_verdict v = one(at, end, how, out);
  if (v != SL_LITERAL_GOOD) return v;
  if (how != SL_CELL && blank_on_one_side(end, out)) return SL_LITERAL_BAD;
  const char *sign = gap(out->end, SL_CELL), *p = past(sign, "±");
  if (!p) p = past(sign, "+-");
  if (!p || (how == SL_GLUED && sign > out->end)) return v;
  const char *next = gap(p, how);
  if (!begins_number(next)) {
    if (*sign == '+') return v;                            /* 175ft+-x adds -x */
    TEXT(out, "'±' stands between two literals");
    HELP(out, "write it as in 175ft±3ft");
    return bad(out, "Q109", sign, p);
  }
  return tolerance(sign, p, end, how, out);
}

/* ---- cells ------------------------------------------------------------------------------------------------------- */

enum { LONGEST_CELL = 120 };

static const char *past_minus(const char *p) {
  static const char *const minus[] = { "-", "−", NULL };
  return past_any(p, minus);
}

/* from, to: within the cell. */
static bool cell_bad(struct sl_complaint *bad, const char *code, const char *cell, const char *from, const char *to,
                     const char *text, const char *help) {
  *bad = (struct sl_complaint){ .span = { 1, (int)(from - cell) + 1, to > from ? (int)(to - from) : 1 } };
  SL_SAY(bad->code, "%s", code);
  SL_SAY(bad->text, "%s", text);
  SL_SAY(bad->help, "%s", help);
  return false;
}

/* Takes the literal, or the bare number, at p; false and a complaint if there is none or something is left over. */
static bool read_cell(const char *cell, const char *p, const char *end, struct sl_literal *l,
                      struct sl_complaint *bad) {
  enum sl_literal_verdict v = sl_literal_read(p, end, SL_CELL, l, bad);
  if (v == SL_LITERAL_BAD) {
    int bytes = (int)(l->bad_to - l->bad_from);
    bad->span = (struct sl_span){ 1, (int)(l->bad_from - cell) + 1, bytes > 0 ? bytes : 1 };
    return false;
  }
  if (v == SL_LITERAL_NONE) {
    const char *stop = sl_decimal_end(p);
    if (stop == p) return cell_bad(bad, "Q101", cell, p, end, "this is not a number with a unit", ONE_UNIT);
    *l = (struct sl_literal){ .end = stop, .number = strtod(p, NULL), .k = { .unit = { .factor = 1 } } };
    l->k.si = l->number;
    if (!isfinite(l->number)) return cell_bad(bad, "Q110", cell, p, stop, "this number is too large", "");
  }
  if (l->end == end) return true;
  if (*l->end == ',' && digit(l->end[1]))
    return cell_bad(bad, "Q112", cell, p, end, "a comma inside a number?",
                    "decimals have a point, and digits are not grouped: 1.5 ft, 1200 mm");
  return cell_bad(bad, "Q101", cell, gap(l->end, SL_CELL), end, "this does not belong to the value before it",
                  ONE_UNIT);
}

bool sl_scan_literal(const char *text, size_t len, struct sl_const *out, struct sl_complaint *bad) {
  char cell[LONGEST_CELL + 1];
  struct sl_literal l;
  *out = (struct sl_const){ .kind = SL_CONST_QUANTITY };
  if (len > LONGEST_CELL)
    return cell_bad(bad, "Q101", text, text, text + LONGEST_CELL, "this is too long for a value", "");
  if (len) memcpy(cell, text, len);
  cell[len] = '\0';
  char *end = cell + len;
  const char *first = gap(cell, SL_CELL), *p = first, *minus = past_minus(p);
  while (end > first && (end[-1] == ' ' || end[-1] == '\t')) end--;
  *end = '\0';
  if (minus) p = behind_minus(minus);
  else if (*p == '+') p++;
  if (!read_cell(cell, p, end, &l, bad)) return false;
  if (minus && l.k.kind == SL_CONST_WIRE) return cell_bad(bad, "Q107", cell, first, p, "a wire size has no sign", "");
  if (minus) {                                   /* into the number, so that -16 degC is 257.15 K */
    l.number = -l.number;
    l.k.si = (l.number + l.k.unit.offset) * l.k.unit.factor;
  }
  if (l.k.unit.point && l.k.si < 0) return cell_bad(bad, "Q110", cell, first, end, "this is below absolute zero", "");
  *out = l.k;
  out->span = (struct sl_span){ 1, (int)(first - cell) + 1, (int)(end - first) };
  return true;
}

bool sl_scan_length(const char *text, size_t len, double *metres, struct sl_complaint *bad) {
  struct sl_const k;
  if (!sl_scan_literal(text, len, &k, bad)) return false;
  const char *from = text + k.span.col - 1;
  if (k.kind != SL_CONST_QUANTITY || k.unit.dims.w != sl_dim_dims(SL_LENGTH).w || k.tolerance > 0)
    return cell_bad(bad, "Q111", text, from, from + k.span.len, "this is not a length",
                    "write feet and inches as in 12' 6-1/2\" or 12ft 6-1/2in");
  *metres = k.si;
  return true;
}
