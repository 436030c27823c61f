/* SPDX-License-Identifier: MIT
 * A worked sheet must explain itself: every name in a step's formula is an earlier row of the sheet, or of math.h; a
 * sum is that of its column; what is worked for each item of a list stands in numbered lines of a table. */
#ifndef SL_SHEET_CHECK_H
#define SL_SHEET_CHECK_H

#include <ctype.h>
#include <stdbool.h>
#include "check.h"
#include "stringline/sheet.h"

static inline bool sheet_name_is(const char *word, size_t len, const char *name) {
  return strlen(name) == len && strncmp(word, name, len) == 0;
}

static inline bool sheet_name_known(const struct sl_sheet *sh, size_t before, const char *word, size_t len) {
  static const char *const of_math[] = {
    "acos", "asin", "atan", "atan2", "cbrt", "ceil", "cos", "cosh", "exp", "fabs", "floor", "fmax", "fmin", "fmod",
    "hypot", "log", "log10", "pow", "round", "sin", "sinh", "sqrt", "sum", "tan", "tanh", "trunc",
    "INFINITY", "NAN", "HUGE_VAL",
  };
  for (size_t i = 0; i < sizeof of_math / sizeof *of_math; i++)
    if (sheet_name_is(word, len, of_math[i])) return true;
  for (size_t i = 0; i < before; i++)
    if (sheet_name_is(word, len, sh->row[i].symbol)) return true;
  return false;
}

/* The first name that row i does not account for, or NULL. */
static inline const char *sheet_unexplained(const struct sl_sheet *sh, size_t i, size_t *len) {
  const char *s = sh->row[i].text;
  if (sh->row[i].kind != SL_ROW_STEP) return NULL;
  while (*s) {
    const unsigned char c = (unsigned char)*s;
    if (isdigit(c) || (c == '.' && isdigit((unsigned char)s[1]))) {
      bool power = false;                         /* a sign belongs to the number only after its e */
      for (; isalnum((unsigned char)*s) || *s == '.' || (power && (*s == '+' || *s == '-')); s++)
        power = *s == 'e' || *s == 'E';
    } else if (isalpha(c) || c == '_') {
      const char *word = s;
      while (isalnum((unsigned char)*s) || *s == '_') s++;
      *len = (size_t)(s - word);
      if (!sheet_name_known(sh, i, word, *len)) return word;
    } else s++;
  }
  return NULL;
}

/* A sheet with room for any primitive's rows, and the same emptied. */
#define SHEET(sh) static struct sl_row sh##_rows[1000]; struct sl_sheet sh = SL_SHEET(sh##_rows)
#define SHEET_ANEW(sh) (sh = (struct sl_sheet)SL_SHEET(sh##_rows))

/* Of the table that ended last before row i: where it begins, or i. */
static inline size_t sheet_table(const struct sl_sheet *sh, size_t i) {
  for (size_t k = i; k-- > 0;)
    if (sh->row[k].kind == SL_ROW_LINES) return k;
  return i;
}

/* "sum(A)" is what the column A of the table before it comes to. */
static inline bool sheet_sum_holds(const struct sl_sheet *sh, size_t i) {
  const struct sl_row *r = &sh->row[i];
  const size_t len = strcspn(r->text + 4, ")");
  double sum = 0;
  for (size_t k = sheet_table(sh, i); k < i; k++)
    if (sheet_name_is(r->text + 4, len, sh->row[k].symbol) && sh->row[k].item) sum += sh->row[k].value;
  return fabs(sum - r->value) <= 1e-12 * fabs(sum);
}

/* What is wrong with the marks, or NULL: a table within another, a line out of one, numbers that are not the lines'. */
static inline const char *sheet_misplaced(const struct sl_sheet *sh) {
  bool table = false;
  size_t line = 0;
  for (size_t i = 0; i < sh->n; i++) {
    const struct sl_row *r = &sh->row[i];
    if (r->kind == SL_ROW_HEADING && !*r->text) return "a heading has no text";
    if (r->kind == SL_ROW_LINES) {
      if (table) return "a table begins in a table";
      if (!*r->text) return "a table has no title";
      table = true, line = 0;
    } else if (r->kind == SL_ROW_LINE) {
      if (!table) return "a line stands in no table";
      line++;
    } else if (r->kind == SL_ROW_LINES_END) {
      if (!table) return "no table ends";
      table = false, line = 0;
    } else if (table && !line) return "a row stands before the first line of its table";
    if (r->item != line) return "a row has another number than its line";
  }
  return table ? "a table does not end" : NULL;
}

/* Fails the test unless the sheet is whole, explained, and every row of a table says where it is from. */
#define check_sheet(sh) check_sheet_(sh, __FILE__, __LINE__)
static inline void check_sheet_(const struct sl_sheet *sh, const char *file, int line) {
  if (sh->n == 0 || sh->lost > 0) {
    print_error("%s:%d: the sheet has %zu rows and lost %zu\n", file, line, sh->n, sh->lost);
    _fail(file, line);
  }
  const char *misplaced = sheet_misplaced(sh);
  if (misplaced) {
    print_error("%s:%d: %s\n", file, line, misplaced);
    _fail(file, line);
  }
  for (size_t i = 0; i < sh->n; i++) {
    const struct sl_row *r = &sh->row[i];
    size_t len = 0;
    if (r->kind >= SL_ROW_HEADING) continue;
    const char *word = sheet_unexplained(sh, i, &len);
    const char *wrong = word ? "uses a name that no earlier row explains"
                      : isnan(r->value) ? "is not a number"
                      : !*r->symbol || r->dim >= SL_DIM_COUNT ? "has no symbol or no dimension"
                      : r->kind == SL_ROW_STEP && (!*r->text || !*r->cite) ? "is a step without formula or reason"
                      : r->kind == SL_ROW_TABLE && (!*r->text || !*r->cite) ? "is from a table without name or citation"
                      : r->kind == SL_ROW_STEP && strncmp(r->text, "sum(", 4) == 0 && !sheet_sum_holds(sh, i)
                          ? "is not the sum of its column"
                      : NULL;
    if (!wrong) continue;
    print_error("%s:%d: row %zu, %s = %s: %s %.*s\n", file, line, i, r->symbol, r->text, wrong, word ? (int)len : 0,
                word ? word : "");
    _fail(file, line);
  }
}

#endif
