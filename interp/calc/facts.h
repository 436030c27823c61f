/* SPDX-License-Identifier: MIT
 * Reading the published tables: single values by key, the exact units they are printed in, the words of their editions.
 * A table stays in its page's units so that a reviewer can lay the two side by side. */
#ifndef SL_FACTS_H
#define SL_FACTS_H

#include <string.h>
#include "calc.h"
#include "stringline/asce7.h"

#define INCH  0.0254
#define FOOT  0.3048
#define POUND 0.45359237                      /* mass */
#define LBF   (POUND * 9.80665)
#define PSF   (LBF / (FOOT * FOOT))
#define PCF   (POUND / (FOOT * FOOT * FOOT))  /* mass per volume */
#define MPH   0.44704
#define DEG   (3.14159265358979323846 / 180)

struct fact { const char *key, *name; double value; const char *unit, *cite; enum sl_basis basis; const char *source; };

/* A key that no row has gives NAN, which no result survives. */
static inline struct fact fact_find(const struct fact *table, size_t n, const char *key) {
  for (size_t i = 0; i < n; i++)
    if (strcmp(table[i].key, key) == 0) return table[i];
  return (struct fact){ .key = key, .name = "", .value = NAN, .unit = "", .cite = "", .source = "" };
}

/* Records the row `key` of the file's own table `facts` under the symbol. */
#define FACT(sh, dim, sym, key, unit) \
  const struct fact fact_##sym = fact_find(facts, sizeof facts / sizeof *facts, key); \
  LOOKUP(sh, dim, sym, fact_##sym.value * (unit), fact_##sym.name, fact_##sym.cite, fact_##sym.basis)

static inline const char *edition_word(int edition) { return edition == SL_ASCE_7_22 ? "7-22" : "7-16"; }
static inline const char *exposure_word(int exposure) {
  return exposure == SL_EXPOSURE_B ? "B" : exposure == SL_EXPOSURE_C ? "C" : "D";
}

#endif
