/* SPDX-License-Identifier: MIT
 * The adapter to LAPACK.  dpbtf2 is the Cholesky without blocks: it needs little of BLAS and nothing of Fortran's own
 * library, and the bands of frames are narrower than a block. */
#include "band.h"

/* Each text's length follows behind, as compilers of Fortran pass it. */
void dpbtf2_(const char *half, const int *n, const int *width, double *at, const int *rows, int *info, size_t length);
void dpbtrs_(const char *half, const int *n, const int *width, const int *sides, const double *at, const int *rows,
             double *rhs, const int *rhs_rows, int *info, size_t length);

/* What LAPACK calls on an argument that it cannot use.  Its own prints and ends the process by Fortran's library; ours
 * leaves both: INFO says so, too.  It stands here, in front of the archives, for theirs would be taken otherwise. */
void xerbla_(const char *routine, const int *argument, size_t length);
void xerbla_(const char *routine, const int *argument, size_t length) {
  (void)routine;
  (void)argument;
  (void)length;
}

size_t sl_band_factor(const struct sl_band *band, double least) {
  const int n = (int)band->n, width = (int)band->width, rows = width + 1;
  int info = 0;
  dpbtf2_("L", &n, &width, band->at, &rows, &info, 1);
  const size_t worked = info > 0 ? (size_t)info - 1 : info < 0 ? 0 : band->n;
  for (size_t i = 0; i < worked; i++) {
    const double root = *sl_band_at(band, i, i);
    if (!(root * root > least)) return i;
  }
  return worked;
}

void sl_band_solve(const struct sl_band *factored, double *rhs) {
  const int n = (int)factored->n, width = (int)factored->width, rows = width + 1, one = 1;
  int info = 0;
  if (n == 0) return;
  dpbtrs_("L", &n, &width, &one, factored->at, &rows, rhs, &n, &info, 1);   /* -i: an argument, and these are right */
}
