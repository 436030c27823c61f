/* SPDX-License-Identifier: MIT
 * Looking things up in the generated tables: editions, citations, single numbers. */
#include "table.h"

int sl_edition_of(const char *name, const char *code) {
  for (int i = 1; i < SL_EDITIONS; i++)
    if (sl_same_text(sl_edition_rows[i].name, name))
      return sl_same_text(sl_edition_rows[i].code, code) ? i : SL_NO_EDITION;
  return SL_NO_EDITION;
}

const char *sl_no_edition(const char *code) {
  const struct sl_code_row *row = sl_code_rows;
  while (row->code && !sl_same_text(row->code, code)) row++;
  return row->code ? row->none : "is an edition of a code of which nothing is kept here";
}

const char *sl_cite(const char *cite, int edition) {
  if (*cite != '@') return cite;
  for (size_t from = 0, to = SL_CITATIONS; from < to;) {
    const size_t middle = (from + to) / 2;
    const struct sl_citation *c = &sl_citations[sl_citations_by_key[middle]];
    const int side = strcmp(cite + 1, c->key);
    if (side == 0) return c->in[edition];
    if (side < 0) to = middle;
    else from = middle + 1;
  }
  return NULL;
}

const struct sl_fact *sl_fact_in(const char *key, int edition) {
  for (const struct sl_fact_list *list = sl_fact_lists; list->rows; list++)
    for (const struct sl_fact *fact = list->rows; fact < list->rows + list->n; fact++)
      if (sl_same_text(fact->key, key) && STANDS(fact, edition)) return fact;
  return NULL;
}
