/* SPDX-License-Identifier: MIT
 * Load combinations as Lua sees them. */
#include "bind/bind.h"
#include "stringline/combine.h"

static const struct sl_field combinations_in[] = {
  SL_TEXT(struct sl_combinations_in, edition, "of the load standard, \"ASCE 7-16\"; snow and wind are of the same"),
  SL_CHOICE(struct sl_combinations_in, method, sl_methods, "allowable stresses, or strengths with factored loads"),
};
#define R struct sl_combination_row
static const struct sl_field combination_row[] = {
  SL_REAL(R, number, SL_NUMBER, "of the combination, from 1"),
  SL_TEXT(R, name, "D dead load, S snow at the level of the edition's map, W wind at strength level"),
  SL_REAL(R, dead, SL_NUMBER, "factor on dead load"),
  SL_REAL(R, snow, SL_NUMBER, "factor on snow"),
  SL_REAL(R, wind, SL_NUMBER, "factor on strength-level wind"),
  SL_CHOICE(R, duration, sl_lastings, "the shortest load in it, after which wood is judged"),
};
#undef R
static const struct sl_field combinations_out[] = {
  SL_ROWS(struct sl_combinations_out, rows, nrows, struct sl_combination_row, combination_row,
          "the combinations in the order of the standard, as far as they are held"),
};
SL_OP_CALL_ROOM(combinations)

SL_OPS(combine, 35) = {
  SL_OP_ROOM(combinations, "load combinations of a rack, without roof live load, which is not applied to modules"),
  {0},
};
