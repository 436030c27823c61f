/* SPDX-License-Identifier: MIT
 * Equations of a symmetric matrix of a narrow band, by LAPACK's Cholesky.  Private to interp/solve. */
#ifndef SL_BAND_H
#define SL_BAND_H

#include <stddef.h>

/* Row i, column j (j <= i <= j + width) of the lower half stands at j * (width + 1) + i - j. */
struct sl_band { double *at; size_t n, width; };

static inline double *sl_band_at(const struct sl_band *band, size_t i, size_t j) {
  return &band->at[j * (band->width + 1) + (i - j)];
}

/* In place.  The first row whose pivot is not above `least`, where the matrix's diagonal is about 1, or n. */
size_t sl_band_factor(const struct sl_band *band, double least);
/* The right-hand side becomes the answer. */
void sl_band_solve(const struct sl_band *factored, double *rhs);

#endif
