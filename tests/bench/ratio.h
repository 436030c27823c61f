/* SPDX-License-Identifier: MIT
 * Times, medians and the lines of the bench. */
#ifndef SL_RATIO_H
#define SL_RATIO_H

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static inline _Noreturn void die(const char *what) {
  fprintf(stderr, "bench: %s\n", what);
  exit(1);
}

static inline double read_clock(clockid_t clock) {
  struct timespec t;
  clock_gettime(clock, &t);
  return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static inline double now(void) { return read_clock(CLOCK_MONOTONIC); }
static inline double worked(void) { return read_clock(CLOCK_PROCESS_CPUTIME_ID); }   /* not while others did */

static inline int ascending(const void *a, const void *b) {
  const double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static inline double median(double *x, size_t n) {
  qsort(x, n, sizeof *x, ascending);
  return x[n / 2];
}

/* `scale` brings seconds into the unit; a target of 0: the ratio is told, and nothing is wanted of it. */
static inline void tell(const char *what, double one, const char *one_is, double other, const char *other_is,
                        double scale, const char *unit, double target) {
  const double ratio = one / other;
  printf("%-34s %9.4g %-3s %-30s %9.4g %-3s %-18s %6.2f", what, one * scale, unit, one_is, other * scale, unit,
         other_is, ratio);
  if (target > 0) printf("   at most %g: %s", target, ratio <= target ? "met" : "NOT MET");
  printf("\n");
  fflush(stdout);
}

#endif
