/* SPDX-License-Identifier: MIT
 * What those share that ask whether something is lifted, pushed away or turned over. */
#ifndef SL_UPLIFT_H
#define SL_UPLIFT_H

#include "guard.h"
#include "table.h"
#include "stringline/block.h"

/* The row of the allowable combination in which weight holds against wind. */
#define UPLIFT_ROW(sh, row, edition) \
  FIND(row, load_combinations, STANDS(row, edition) && sl_same_text(row->key, "uplift") && \
                               sl_same_text(row->method, "allowable")); \
  if (!row) return NO_ROW(sh, "edition", "has no combination here", "@combination_uplift")

/* Of each case what lifts, pushes and turns; + to the back. */
#define CHECK_FORCES(sh, in) \
  do { \
    if ((in)->nforces < 1 || (in)->nforces > SL_BLOCK_CASES) \
      return sl_sheet_fault(sh, SL_BAD_INPUT, "forces", "must be 1 to 100", "", (double)(in)->nforces, \
                            SL_BLOCK_CASES, SL_NUMBER); \
    for (size_t i = 0; i < (in)->nforces; i++) { \
      FINITE_ROW(sh, in, forces, i, up, SL_FORCE); \
      FINITE_ROW(sh, in, forces, i, side, SL_FORCE); \
      FINITE_ROW(sh, in, forces, i, turning, SL_MOMENT); \
    } \
  } while (0)

#define FORCES_OF_CASE(sh, in, i) \
  GIVEN(sh, SL_FORCE, U, in->forces[i].up); \
  GIVEN(sh, SL_FORCE, H, in->forces[i].side); \
  GIVEN(sh, SL_MOMENT, T, in->forces[i].turning)

/* Against nothing that holds, all is too much. */
static inline double ratio_of(double demand, double held) {
  return held > 0 ? demand / held : demand > 0 ? INFINITY : 0;
}

#endif
