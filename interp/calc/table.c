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

static const struct sl_fact *fact_at(size_t i) {
  return &sl_fact_lists[sl_facts_by_key[i].list].rows[sl_facts_by_key[i].row];
}

const struct sl_fact *sl_fact_in(const char *key, int edition) {
  size_t from = 0;
  for (size_t to = SL_FACTS; from < to;) {               /* to the first of that key */
    const size_t middle = (from + to) / 2;
    if (strcmp(fact_at(middle)->key, key) < 0) from = middle + 1;
    else to = middle;
  }
  for (; from < SL_FACTS && sl_same_text(fact_at(from)->key, key); from++)
    if (STANDS(fact_at(from), edition)) return fact_at(from);
  return NULL;
}
