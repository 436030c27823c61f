/* SPDX-License-Identifier: MIT
 * The numbers of the post formulas (soil_facts), found once for all passes of a search. */
#ifndef STRINGLINE_CALC_POST_NUMBERS_H
#define STRINGLINE_CALC_POST_NUMBERS_H
#include "table.h"

struct post_numbers { int edition; const struct sl_fact *isolated, *deepest, *share, *a, *lever, *held; };

#define POST_NUMBER(sh, numbers, member, key) \
  if (!((numbers).member = sl_fact_in(key, (numbers).edition))) \
    return NO_ROW(sh, "edition", "has no value kept here of: " key, "")
static inline enum sl_status find_post_numbers(struct post_numbers *n, struct sl_sheet *sh) {
  POST_NUMBER(sh, *n, isolated, "isolated");
  POST_NUMBER(sh, *n, deepest, "depth_most");
  POST_NUMBER(sh, *n, share, "post_share");
  POST_NUMBER(sh, *n, a, "post_A");
  POST_NUMBER(sh, *n, lever, "post_lever");
  POST_NUMBER(sh, *n, held, "post_held");
  return SL_OK;
}
#undef POST_NUMBER
/* One of them, `n`, on the sheet. */
#define POST_NUMBER_ROW(sh, dim, sym, n, member) FROM(sh, dim, sym, (n)->member, value, (n)->member->name, (n)->edition)
#endif
