/* SPDX-License-Identifier: MIT
 * The least depth at which something holds, found by halving: plain substitution of a formula in itself would swing. */
#ifndef SL_HALVING_H
#define SL_HALVING_H

#include <stdbool.h>

#define SL_DEEPEST 1024.0        /* m, deeper than any post: no depth beyond it is tried */

/* What holds at a depth holds at every deeper one.  False: nothing to a kilometre does; `depth` is then the deepest
 * that was tried. */
static inline bool sl_least_depth(bool (*holds)(const void *of, double depth), const void *of, double *depth) {
  double low = 0, high = 1;
  while (high < SL_DEEPEST && !holds(of, high)) {
    low = high;
    high *= 2;
  }
  *depth = high;
  if (high >= SL_DEEPEST && !holds(of, high)) return false;
  for (double middle = low + (high - low) / 2; middle > low && middle < high; middle = low + (high - low) / 2) {
    if (holds(of, middle)) high = middle;
    else low = middle;
  }
  *depth = high;
  return true;
}

#endif
