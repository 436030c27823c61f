/* SPDX-License-Identifier: MIT
 * The worked sheet: how rows and faults are recorded. */
#include <string.h>
#include "calc.h"
#include "table.h"

static const char *const dim_names[] = {
#define DIM(id, name, ...) name,
#include "stringline/dim.def"
#undef DIM
};

static const char *const basis_names[] = {
  [SL_MEMORY] = "from memory",
  [SL_PRACTICE] = "common practice",
  [SL_SECOND_HAND] = "read second-hand",
  [SL_TAKEN_OVER] = "read in another edition",
  [SL_DERIVED] = "derived",
  [SL_READ] = "read",
};

const char *sl_dim_name(enum sl_dim dim) { return dim < SL_DIM_COUNT ? dim_names[dim] : "?"; }

const char *sl_basis_name(enum sl_basis basis) { return basis <= SL_READ ? basis_names[basis] : "?"; }

void sl_sheet_edition(struct sl_sheet *sh, int edition) {
  size_t i = 0;
  while (i < sizeof sh->edition - 1 && sh->edition[i] && sh->edition[i] != edition) i++;
  sh->edition[i] = (unsigned char)edition;
}

/* "@cover" in the edition of its code that the primitive was asked by. */
static const char *cited(const struct sl_sheet *sh, const char *cite) {
  const char *found = NULL;
  for (size_t i = 0; i < sizeof sh->edition && !found; i++) found = sl_cite(cite, sh->edition[i]);
  return found ? found : cite;
}

void sl_sheet_add(struct sl_sheet *sh, enum sl_row_kind kind, enum sl_dim dim, enum sl_basis basis,
                  const char *symbol, const char *text, const char *cite, double value) {
  if (sh->n >= sh->cap) {
    sh->lost++;
    return;
  }
  sh->row[sh->n++] = (struct sl_row){ .kind = kind, .dim = dim, .basis = basis,
                                      .symbol = symbol, .text = text, .cite = cited(sh, cite), .member = "",
                                      .item = sh->line, .value = value };
}

void sl_sheet_mark(struct sl_sheet *sh, enum sl_row_kind kind, const char *text) {
  sh->line = kind == SL_ROW_LINE ? sh->line + 1 : 0;
  sl_sheet_add(sh, kind, SL_NUMBER, SL_READ, "", text, "", 0);
}

void sl_sheet_is(struct sl_sheet *sh, const char *value) {
  static const char input[] = "in->";
  if (sh->n && !sh->lost && strncmp(value, input, sizeof input - 1) == 0)
    sh->row[sh->n - 1].member = value + sizeof input - 1;
}

void sl_sheet_gives(struct sl_sheet *sh, const char *symbol, const char *member) {
  for (size_t i = sh->n; i-- > 0;)
    if (strcmp(sh->row[i].symbol, symbol) == 0) {
      if (sh->row[i].kind != SL_ROW_GIVEN) sh->row[i].member = member;
      return;
    }
}

void sl_sheet_memory(struct sl_sheet *sh, const char *name, const char *cite) {
  cite = strcmp(cite, "common practice") == 0 ? name : cited(sh, cite);        /* that alone says nothing of it */
  for (size_t i = 0; i < sh->nmemory; i++)
    if (sh->memory[i] == cite || strcmp(sh->memory[i], cite) == 0) return;
  if (sh->nmemory < SL_SHEET_MEMORY) sh->memory[sh->nmemory++] = cite;
}

enum sl_status sl_sheet_fault(struct sl_sheet *sh, enum sl_status status, const char *member, const char *text,
                              const char *cite, double value, double limit, enum sl_dim dim) {
  if (sh) {
    sh->line = 0;                               /* a table that was being recorded ends here */
    sh->fault = (struct sl_fault){ .member = member, .text = text, .cite = cited(sh, cite),
                                   .value = value, .limit = limit, .dim = dim };
  }
  return status;
}

enum sl_status sl_sheet_at(struct sl_sheet *sh, size_t i, enum sl_status status) {
  if (sh) sh->fault.item = i + 1;
  return status;
}
