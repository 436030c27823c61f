/* SPDX-License-Identifier: MIT
 * The formula of a step, worked once more from the rows above it: what is shown is what was computed. */
#ifndef SL_FORMULA_H
#define SL_FORMULA_H

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include "stringline/sheet.h"

/* A reading of one formula.  largest: of all values met, which is what rounding is measured by. */
struct formula {
  const struct sl_sheet *sheet;
  size_t row;
  const char *at;
  double largest;
  bool wrong;                        /* a name or a sign that there is none of */
};

static inline double formula_choice(struct formula *f);

static inline double formula_met(struct formula *f, double value) {
  if (fabs(value) > f->largest) f->largest = fabs(value);
  return value;
}

static inline bool formula_sign(struct formula *f, const char *sign) {
  while (*f->at == ' ') f->at++;
  const size_t n = strlen(sign);
  if (strncmp(f->at, sign, n) != 0) return false;
  f->at += n;
  return true;
}

/* The latest row above with that symbol. */
static inline double formula_symbol(struct formula *f, const char *name, size_t len) {
  for (size_t i = f->row; i-- > 0;) {
    const struct sl_row *r = &f->sheet->row[i];
    if (r->kind <= SL_ROW_STEP && strlen(r->symbol) == len && strncmp(r->symbol, name, len) == 0) return r->value;
  }
  f->wrong = true;
  return NAN;
}

/* The column of the table that ended last. */
static inline double formula_sum(struct formula *f, const char *name, size_t len) {
  double sum = 0;
  size_t from = f->row;
  while (from > 0 && f->sheet->row[from - 1].kind != SL_ROW_LINES) from--;
  if (from == 0) f->wrong = true;
  for (; from < f->row; from++) {
    const struct sl_row *r = &f->sheet->row[from];
    if (r->item && strlen(r->symbol) == len && strncmp(r->symbol, name, len) == 0) sum += formula_met(f, r->value);
  }
  return sum;
}

static inline double formula_function(struct formula *f, const char *name, size_t len) {
  static const struct { const char *name; double (*one)(double); double (*two)(double, double); } all[] = {
    { "acos", acos, NULL }, { "asin", asin, NULL }, { "atan", atan, NULL }, { "ceil", ceil, NULL },
    { "cos", cos, NULL }, { "exp", exp, NULL }, { "fabs", fabs, NULL }, { "floor", floor, NULL },
    { "log", log, NULL }, { "sin", sin, NULL }, { "sqrt", sqrt, NULL }, { "tan", tan, NULL },
    { "fmax", NULL, fmax }, { "fmin", NULL, fmin }, { "fmod", NULL, fmod }, { "hypot", NULL, hypot },
    { "atan2", NULL, atan2 },
    { "pow", NULL, pow },
  };
  if (len == 3 && strncmp(name, "sum", 3) == 0) {
    const size_t column = strspn(f->at, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_");
    const double sum = formula_sum(f, f->at, column);
    f->at += column;
    if (!formula_sign(f, ")")) f->wrong = true;
    return sum;
  }
  for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
    if (strlen(all[i].name) != len || strncmp(all[i].name, name, len) != 0) continue;
    const double first = formula_choice(f);
    if (all[i].two && !formula_sign(f, ",")) f->wrong = true;
    const double second = all[i].two ? formula_choice(f) : 0;
    if (!formula_sign(f, ")")) f->wrong = true;
    return all[i].two ? all[i].two(first, second) : all[i].one(first);
  }
  f->wrong = true;
  return NAN;
}

static inline double formula_term(struct formula *f) {
  if (formula_sign(f, "-")) return -formula_term(f);
  if (formula_sign(f, "(")) {
    const double inner = formula_choice(f);
    if (!formula_sign(f, ")")) f->wrong = true;
    return inner;
  }
  const char *from = f->at;
  if (isdigit((unsigned char)*from) || *from == '.') {
    char *end;
    const double number = strtod(from, &end);
    f->at = end;
    return number;
  }
  while (isalnum((unsigned char)*f->at) || *f->at == '_') f->at++;
  const size_t len = (size_t)(f->at - from);
  if (len == 0) f->wrong = true;
  return len == 0 ? NAN : formula_sign(f, "(") ? formula_function(f, from, len) : formula_symbol(f, from, len);
}

static inline double formula_product(struct formula *f) {
  double value = formula_met(f, formula_term(f));
  while (!f->wrong) {
    if (formula_sign(f, "*")) value = formula_met(f, value * formula_term(f));
    else if (formula_sign(f, "/")) value = formula_met(f, value / formula_term(f));
    else break;
  }
  return value;
}

static inline double formula_total(struct formula *f) {
  double value = formula_product(f);
  while (!f->wrong) {
    if (formula_sign(f, "+")) value = formula_met(f, value + formula_product(f));
    else if (formula_sign(f, "-")) value = formula_met(f, value - formula_product(f));
    else break;
  }
  return value;
}

static inline double formula_comparison(struct formula *f) {
  const double left = formula_total(f);
  if (formula_sign(f, "<=")) return left <= formula_total(f);
  if (formula_sign(f, ">=")) return left >= formula_total(f);
  if (formula_sign(f, "<")) return left < formula_total(f);
  if (formula_sign(f, ">")) return left > formula_total(f);
  return left;
}

static inline double formula_choice(struct formula *f) {
  const double condition = formula_comparison(f);
  if (!formula_sign(f, "?")) return condition;
  const double largest = f->largest;
  const double yes = formula_choice(f), with_yes = f->largest;
  f->largest = largest;
  if (!formula_sign(f, ":")) f->wrong = true;
  const double no = formula_choice(f);
  const bool chosen = condition > 0 || condition < 0;
  if (chosen) f->largest = with_yes;
  return chosen ? yes : no;
}

/* Whether the step at a row comes out of the rows above it, to rounding; a bit of it where values cancel. */
static inline bool formula_holds(const struct sl_sheet *sheet, size_t row) {
  struct formula f = { .sheet = sheet, .row = row, .at = sheet->row[row].text };
  const double value = formula_choice(&f);
  while (*f.at == ' ') f.at++;
  return !f.wrong && !*f.at && fabs(value - sheet->row[row].value) <= 1e-12 * fmax(f.largest, fabs(value));
}
#endif
