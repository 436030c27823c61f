/* SPDX-License-Identifier: MIT
 * Load combinations out of their table, ASCE 7 chapter 2. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/combine.h"

const char *const sl_methods[] = { [SL_ALLOWABLE] = "allowable", [SL_STRENGTH] = "strength", NULL };
const char *const sl_lastings[] = {
  [SL_LASTS_AS_DEAD] = "dead", [SL_LASTS_AS_SNOW] = "snow", [SL_LASTS_AS_WIND] = "wind", NULL,
};

FITS_COLUMN(load_combinations, name, struct sl_combination_row, name)

static int shortest(const struct sl_table_load_combinations *row) {
  if (row->wind > 0) return SL_LASTS_AS_WIND;
  return row->snow > 0 ? SL_LASTS_AS_SNOW : SL_LASTS_AS_DEAD;
}

size_t sl_combinations_of(int edition, int method, struct sl_combination to[SL_COMBINATIONS]) {
  size_t n = 0;
  for (size_t i = 0; i < SL_ROWS_OF_load_combinations && n < SL_COMBINATIONS; i++) {
    const struct sl_table_load_combinations *row = &sl_table_load_combinations[i];
    if (!STANDS(row, edition) || !sl_same_text(row->method, sl_methods[method])) continue;
    to[n++] = (struct sl_combination){ row->key, row->name, row->cite, row->dead, row->snow, row->wind, shortest(row),
                                       sl_known_as(row->known, edition) };
  }
  return n;
}

size_t sl_combinations_need(const struct sl_combinations_in *in) {
  (void)in;
  return NEED(0, struct sl_combination_row, SL_COMBINATIONS);
}

enum sl_status sl_combinations(const struct sl_combinations_in *in, struct sl_combinations_out *out,
                               struct sl_space space, struct sl_sheet *sh) {
  ONE_OF(sh, in, method, SL_STRENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_combinations_need(in));
  struct sl_combination held[SL_COMBINATIONS];
  const size_t n = sl_combinations_of(edition, in->method, held);
  if (n == 0) return NO_ROW(sh, "edition", "has no combinations here", "@combination_allowable");

  struct sl_combination_row *rows = PART(&space, struct sl_combination_row, SL_COMBINATIONS);
  WORD_AS(sh, method, in->method, sl_methods[in->method]);
  LINES(sh, "combinations; roof live load, which is not applied to modules, rain and earthquake are left out");
  for (size_t i = 0; i < n; i++) {
    const struct sl_combination *c = &held[i];
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, number, (double)i + 1, c->name, c->cite, c->basis);
    LOOKUP(sh, SL_NUMBER, f_D, c->dead, c->name, c->cite, c->basis);
    LOOKUP(sh, SL_NUMBER, f_S, c->snow, c->name, c->cite, c->basis);
    LOOKUP(sh, SL_NUMBER, f_W, c->wind, c->name, c->cite, c->basis);
    rows[i] = (struct sl_combination_row){ .duration = c->duration };
    strcpy(rows[i].name, c->name);
    GIVES_ROW(sh, rows, i, number, number);
    GIVES_ROW(sh, rows, i, dead, f_D);
    GIVES_ROW(sh, rows, i, snow, f_S);
    GIVES_ROW(sh, rows, i, wind, f_W);
  }
  LINES_END(sh);
  *out = (struct sl_combinations_out){ .rows = rows, .nrows = n };
  return SL_OK;
}
