/* SPDX-License-Identifier: MIT
 * A worked sheet must explain itself: every name in a step's formula is an earlier row of the sheet, or of math.h. */
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
    "hypot", "log", "log10", "pow", "round", "sin", "sinh", "sqrt", "tan", "tanh", "trunc",
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

/* Fails the test unless the sheet is whole, explained, and every row of a table says where it is from. */
#define check_sheet(sh) check_sheet_(sh, __FILE__, __LINE__)
static inline void check_sheet_(const struct sl_sheet *sh, const char *file, int line) {
  if (sh->n == 0 || sh->lost > 0) {
    print_error("%s:%d: the sheet has %zu rows and lost %zu\n", file, line, sh->n, sh->lost);
    _fail(file, line);
  }
  for (size_t i = 0; i < sh->n; i++) {
    const struct sl_row *r = &sh->row[i];
    size_t len = 0;
    const char *word = sheet_unexplained(sh, i, &len);
    const char *wrong = word ? "uses a name that no earlier row explains"
                      : isnan(r->value) ? "is not a number"
                      : !*r->symbol || r->dim >= SL_DIM_COUNT ? "has no symbol or no dimension"
                      : r->kind == SL_ROW_STEP && (!*r->text || !*r->cite) ? "is a step without formula or reason"
                      : r->kind == SL_ROW_TABLE && (!*r->text || !*r->cite) ? "is from a table without name or citation"
                      : NULL;
    if (!wrong) continue;
    print_error("%s:%d: row %zu, %s = %s: %s %.*s\n", file, line, i, r->symbol, r->text, wrong, word ? (int)len : 0,
                word ? word : "");
    _fail(file, line);
  }
}

#endif
