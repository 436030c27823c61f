/* SPDX-License-Identifier: MIT
 * What every cmocka suite includes: the headers in their order and a float check in double precision. */
#ifndef SL_CHECK_H
#define SL_CHECK_H

#include <assert.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* Relative tolerance; against an expected 0 it is absolute.  NaN never passes. */
#define assert_near(got, want, rel) check_near_(got, want, rel, #got, __FILE__, __LINE__)
static inline void check_near_(double got, double want, double rel, const char *what, const char *file, int line) {
  double scale = fabs(want) > 0 ? fabs(want) : 1;
  if (fabs(got - want) <= rel * scale) return;
  print_error("%s:%d: %s is %.10g, wanted %.10g within %g\n", file, line, what, got, want, rel);
  _fail(file, line);
}

/* Adds one test for each row of a table whose rows begin with `const char *name`. */
#define ADD_ROWS(tests, n, rows, function) \
  do { for (size_t row_ = 0; row_ < sizeof (rows) / sizeof *(rows); row_++) { \
         assert(n < sizeof (tests) / sizeof *(tests)); \
         (tests)[n++] = (struct CMUnitTest){ .name = (rows)[row_].name, .test_func = function, \
                                             .initial_state = (void *)(uintptr_t)&(rows)[row_] }; } } while (0)
#endif
