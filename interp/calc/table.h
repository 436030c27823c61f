/* SPDX-License-Identifier: MIT
 * What the generated tables are made of, and how a calculation reads them.  Private to interp/calc and interp/bind.
 *
 * A table of interp/data is `sl_table_NAME[]`, its rows in SI.  Adding one is its CSV and one look-up:
 *
 *     FIND(row, egc_250_122, STANDS(row, edition) && device <= row->amps);
 *     if (!row) return NO_ROW(...);
 *     FROM(sh, SL_CURRENT, I_row, row, amps, row->name, edition);
 */
#ifndef SL_TABLE_H
#define SL_TABLE_H

#include <stdbool.h>
#include <stddef.h>
#include <string.h>
#include "calc.h"

/* What a column is: for whoever reads a table without knowing it (choices of a schema, tests). */
enum sl_column_kind { SL_COLUMN_TEXT, SL_COLUMN_INT, SL_COLUMN_REAL };
struct sl_column { const char *name; enum sl_column_kind kind; size_t offset; const char *unit; };
struct sl_table { const char *name; const struct sl_column *columns; const void *rows; size_t nrows, size, known; };
extern const struct sl_table sl_tables[];            /* ended by a NULL name */

/* An edition of a code: "NEC 2023", "electrical", "NEC".  Row 0 is no edition; a row without a name ends them. */
struct sl_edition_row { const char *name, *family, *code; };
extern const struct sl_edition_row sl_edition_rows[];
struct sl_code_row { const char *code, *none; };     /* none: what is told of an edition that is not kept */
extern const struct sl_code_row sl_code_rows[];

/* A single number; all tables *_facts have these columns: key, name, value in SI, where it stands. */
struct sl_fact;
#include "tables.h"
struct sl_fact_list { const struct sl_fact *rows; size_t n; };
extern const struct sl_fact_list sl_fact_lists[];    /* ended by NULL rows */
struct sl_fact_place { unsigned short list, row; };
extern const struct sl_fact_place sl_facts_by_key[]; /* SL_FACTS of them; of one key in the order of the lists */

/* known[edition] is 1 + basis, 0 where the row does not stand.  A table of no code stands in all. */
static inline bool sl_stands(const unsigned char known[], int edition) {
  return known[edition] || known[SL_NO_EDITION];
}
static inline enum sl_basis sl_known_as(const unsigned char known[], int edition) {
  const int how = known[edition] ? known[edition] : known[SL_NO_EDITION];
  return (enum sl_basis)(how - 1);
}
static inline bool sl_same_text(const char *a, const char *b) {
  return *a == *b && strcmp(a, b) == 0;          /* most texts of a table differ in their first letter */
}
#define STANDS(row, edition) sl_stands((row)->known, edition)

/* The first row of a table for which the condition on `row` holds, or NULL. */
#define FIND(row, table, condition) \
  const struct sl_table_##table *row = sl_table_##table; \
  while (row < sl_table_##table + SL_ROWS_OF_##table && !(condition)) row++; \
  if (row == sl_table_##table + SL_ROWS_OF_##table) row = NULL

/* The texts of a column fit the member that they are copied to or compared with: then strcmp, which ends where the
 * table's text does, reads no further than the member, whatever a caller left there. */
#define FITS_COLUMN(table, column, s, member) \
  _Static_assert((size_t)SL_WIDTH_##table##_##column <= sizeof ((s *)0)->member, #member " of " #s " is too short");
/* The edition that the member names, for rows and for all citations of the sheet. */
#define EDITION(sh, in, member, code, id) \
  const int id = sl_edition_of((in)->member, code); \
  if (id == SL_NO_EDITION) \
    return sl_sheet_fault(sh, SL_NO_ROW, #member, sl_no_edition(code), "", NAN, NAN, SL_NUMBER); \
  if (sh) sl_sheet_edition(sh, id)
/* Nothing is kept of what was asked. */
#define NO_ROW(sh, member, text, cite) sl_sheet_fault(sh, SL_NO_ROW, member, text, cite, NAN, NAN, SL_NUMBER)
/* Records a column of a row under the symbol. */
#define FROM(sh, dim, sym, row, column, name, edition) \
  LOOKUP(sh, dim, sym, (row)->column, name, (row)->cite, sl_known_as((row)->known, edition))
/* Records the fact `key`, a literal; an edition in which it does not stand is refused. */
#define FACT(sh, dim, sym, key, edition) \
  const struct sl_fact *const fact_##sym = sl_fact_in(key, edition); \
  if (!fact_##sym) \
    return sl_sheet_fault(sh, SL_NO_ROW, "edition", "has no value kept here of: " key, "", NAN, NAN, SL_NUMBER); \
  FROM(sh, dim, sym, fact_##sym, value, fact_##sym->name, edition)
/* The same where the key is an expression. */
#define FACT_OF(sh, dim, sym, key, edition) \
  const struct sl_fact *const fact_##sym = sl_fact_in(key, edition); \
  if (!fact_##sym) \
    return sl_sheet_fault(sh, SL_NO_ROW, "edition", "has no value kept here of: " #sym, "", NAN, NAN, SL_NUMBER); \
  FROM(sh, dim, sym, fact_##sym, value, fact_##sym->name, edition)

/* The fact of that key in that edition, or NULL. */
const struct sl_fact *sl_fact_in(const char *key, int edition);

/* The edition of that name; SL_NO_EDITION if none of that code is kept. */
int sl_edition_of(const char *name, const char *code);
/* Why not: "is no edition of NEC kept here; there are NEC 2017, ...", a static text. */
const char *sl_no_edition(const char *code);

/* "@cover" as a citation of the edition, "NEC 2023 Table 300.5(A)"; NULL where none of that edition is kept.  What does
 * not begin with @ is a citation as it is. */
const char *sl_cite(const char *cite, int edition);

#endif
