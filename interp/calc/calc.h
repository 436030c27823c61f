/* SPDX-License-Identifier: MIT
 * How a calculation is written: GIVEN, LOOKUP, STEP, REQUIRE.  Only files of interp/calc and of
 * interp/solve include this.
 *
 * STEP computes and records at once, so the formula that a person is shown is the code that ran.
 * Local names are the standard's symbols.  Every identifier in a STEP's expression is a GIVEN, a LOOKUP or an
 * earlier STEP of the same sheet, or a function of math.h (tests/sheet_check.h fails on any other).
 *
 * What is worked for each item of a list is a table: LINES, a LINE before each item's rows, LINES_END.  A SUM takes a
 * column of it together.
 */
#ifndef SL_CALC_H
#define SL_CALC_H

#include <math.h>
#include "stringline/sheet.h"

void sl_sheet_add(struct sl_sheet *sh, enum sl_row_kind kind, enum sl_dim dim, enum sl_basis basis,
                  const char *symbol, const char *text, const char *cite, double value);
/* A mark; a line's number is kept by the sheet. */
void sl_sheet_mark(struct sl_sheet *sh, enum sl_row_kind kind, const char *text);
/* The latest row is the input `value` ("in->isc": the member isc); the row of `symbol` is the output `member`. */
/* Citations written "@key" (citations.csv) are composed for the editions that a primitive was asked by. */
void sl_sheet_edition(struct sl_sheet *sh, int edition);
void sl_sheet_is(struct sl_sheet *sh, const char *value);
void sl_sheet_gives(struct sl_sheet *sh, const char *symbol, const char *member);
/* A value from memory was read: what it is called in its table, and its citation. */
void sl_sheet_memory(struct sl_sheet *sh, const char *name, const char *cite);
enum sl_status sl_sheet_fault(struct sl_sheet *sh, enum sl_status status, const char *member, const char *text,
                              const char *cite, double value, double limit, enum sl_dim dim);
/* The fault just told is in the item i, from 0, of a list: its status again. */
enum sl_status sl_sheet_at(struct sl_sheet *sh, size_t i, enum sl_status status);

/* Operations of a loop or a search that may be long: whoever lets strangers call it charges for them. */
#define WORKED(sh, operations) do { if (sh) (sh)->work += (size_t)(operations); } while (0)

#define SL_ADD_(sh, kind, dim, basis, sym, text, cite) \
  do { if ((sh) && (sh)->cap) sl_sheet_add(sh, kind, dim, basis, #sym, text, cite, sym); } while (0)

/* Below, + 0.0 makes a negative zero 0: which of the two fmax and fmin give is the compiler's choice. */
/* An input: symbol and value.  Written `in->member`, its row knows the member. */
#define GIVEN(sh, dim, sym, value) \
  const double sym = (value) + 0.0; SL_ADD_(sh, SL_ROW_GIVEN, dim, SL_READ, sym, "", ""); \
  do { if ((sh) && (sh)->cap) sl_sheet_is(sh, #value); } while (0)
/* An input that is a word; the same as a table calls it: 10 AWG of 10. */
#define WORD(sh, sym, value) WORD_AS(sh, sym, value, value)
#define WORD_AS(sh, sym, value, called) \
  do { if ((sh) && (sh)->cap) { \
         sl_sheet_add(sh, SL_ROW_WORD, SL_NUMBER, SL_READ, #sym, called, "", 0); sl_sheet_is(sh, #value); } } while (0)
#define SL_MARK_(sh, kind, text) do { if ((sh) && (sh)->cap) sl_sheet_mark(sh, kind, text); } while (0)
#define HEADING(sh, text) SL_MARK_(sh, SL_ROW_HEADING, text)
#define LINES(sh, title)  SL_MARK_(sh, SL_ROW_LINES, title)
#define LINE(sh)          SL_MARK_(sh, SL_ROW_LINE, "")
#define LINES_END(sh)     SL_MARK_(sh, SL_ROW_LINES_END, "")
/* A value out of a published table: what it is called there, citation, basis. */
#define LOOKUP(sh, dim, sym, value, name, cite, basis) \
  const double sym = (value) + 0.0; SL_ADD_(sh, SL_ROW_TABLE, dim, basis, sym, name, cite); \
  do { \
    if (sh) { \
      (sh)->rests |= 1u << (basis); \
      if ((basis) == SL_MEMORY) sl_sheet_memory(sh, name, cite); \
    } \
  } while (0)
/* A formula.  Inputs so far out that it overflows are refused: no answer is built on what is no number. */
#define STEP(sh, dim, sym, expr, cite) \
  const double sym = (expr) + 0.0; SL_ADD_(sh, SL_ROW_STEP, dim, SL_READ, sym, #expr, cite); \
  do { if (!isfinite(sym)) return sl_sheet_fault(sh, SL_OUT_OF_RANGE, #sym, SL_NO_NUMBER, cite, NAN, NAN, dim); \
     } while (0)
/* What a column of the latest table comes to: `total` is what its loop added up, from 0, line by line. */
#define SUM(sh, dim, sym, total, column, cite) \
  const double sym = (total) + 0.0; SL_ADD_(sh, SL_ROW_STEP, dim, SL_READ, sym, "sum(" #column ")", cite); \
  do { if (!isfinite(sym)) return sl_sheet_fault(sh, SL_OUT_OF_RANGE, #sym, SL_NO_NUMBER, cite, NAN, NAN, dim); \
     } while (0)
/* An output: the member that a symbol's value goes to, whole, as a count, or as a flag (1 where it is above 0). */
#define GIVES_(sh, out, member, sym, value) \
  do { (out)->member = (value); if ((sh) && (sh)->cap) sl_sheet_gives(sh, #sym, #member); } while (0)
#define GIVES(sh, out, member, sym)       GIVES_(sh, out, member, sym, sym)
#define GIVES_COUNT(sh, out, member, sym) GIVES_(sh, out, member, sym, (int)sym)
#define GIVES_FLAG(sh, out, member, sym)  GIVES_(sh, out, member, sym, sym > 0)
/* The same of row i, from 0, of the output `rows`: that is the name of the pointer to it, too. */
#define GIVES_ROW(sh, rows, i, member, sym) \
  do { (rows)[i].member = sym; if ((sh) && (sh)->cap) sl_sheet_gives(sh, #sym, #rows "[i]." #member); } while (0)
#define SL_NO_NUMBER "comes out as no number: an input is far beyond what the formula is for"

/* Wrong input: misuse.  Written so that NaN fails.  `cond` is the rest of a comparison, e.g. > 0. */
#define REQUIRE(sh, in, member, cond, text, dim) \
  do { \
    if (!((in)->member cond)) return sl_sheet_fault(sh, SL_BAD_INPUT, #member, text, "", (in)->member, NAN, dim); \
  } while (0)
/* The same of an item of a list of numbers, and of a member of a row. */
#define REQUIRE_ITEM(sh, in, list, i, cond, text, dim) \
  do { \
    if (!((in)->list[i] cond)) \
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, #list, text, "", (in)->list[i], NAN, dim)); \
  } while (0)
#define REQUIRE_ROW(sh, in, list, i, member, cond, text, dim) \
  do { \
    if (!((in)->list[i].member cond)) \
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, #list "[i]." #member, text, "", \
                                               (in)->list[i].member, NAN, dim)); \
  } while (0)
/* Outside the source's range: refuse and say whose range. */
#define WITHIN(sh, member, value, cond, limit, text, cite, dim) \
  do { \
    if (!((value) cond (limit))) return sl_sheet_fault(sh, SL_OUT_OF_RANGE, member, text, cite, value, limit, dim); \
  } while (0)

#endif
