/* SPDX-License-Identifier: MIT
 * Load combinations of an open rack: how much of dead load, snow and wind counts together, ASCE 7 chapter 2.
 *
 * Wind is at strength level in both editions, snow at the level of the edition's own map (sl_snow_load says which).
 * No roof live load, which is not applied to modules, no rain, no earthquake.  Of 7-22 not all is held: no dead load
 * alone, and no share of snow beside dead load alone at strength level. */
#ifndef STRINGLINE_COMBINE_H
#define STRINGLINE_COMBINE_H

#include "stringline/sheet.h"

enum sl_method { SL_ALLOWABLE, SL_STRENGTH };
enum sl_lasting { SL_LASTS_AS_DEAD, SL_LASTS_AS_SNOW, SL_LASTS_AS_WIND };
extern const char *const sl_methods[], *const sl_lastings[];

enum { SL_COMBINATIONS = 8, SL_COMBINATION_NAME = 32 };   /* of one edition and method at most; its name */

/* The combinations of an edition for other calculations, which record what they take as
 * LOOKUP(sh, SL_NUMBER, f_D, c->dead, c->name, c->cite, c->basis). */
struct sl_combination {
  const char *key;             /* what it is for: "snow", "uplift", ... */
  const char *name;            /* "D + 0.6W" */
  const char *cite;
  double dead, snow, wind;     /* factors, >= 0 */
  int duration;                /* enum sl_lasting: of the shortest load in it */
  enum sl_basis basis;
};
/* Those of an edition (enum sl_in_edition) in the order of the table; how many there are, at most SL_COMBINATIONS. */
size_t sl_combinations_of(int edition, int method, struct sl_combination to[SL_COMBINATIONS]);

struct sl_combinations_in {
  char edition[SL_EDITION_NAME];
  int method;                  /* enum sl_method */
};
struct sl_combination_row {
  double number;               /* from 1, in the order of the table */
  char name[SL_COMBINATION_NAME];
  double dead, snow, wind;
  int duration;                /* enum sl_lasting */
};
struct sl_combinations_out { const struct sl_combination_row *rows; size_t nrows; };
size_t sl_combinations_need(const struct sl_combinations_in *in);
enum sl_status sl_combinations(const struct sl_combinations_in *in, struct sl_combinations_out *out,
                               struct sl_space space, struct sl_sheet *sh);

#endif
