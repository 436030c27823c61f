/* SPDX-License-Identifier: MIT
 * The least depth that gives what is needed there, found by halving: plain substitution of a formula in itself would
 * swing. */
#ifndef SL_HALVING_H
#define SL_HALVING_H

#include <math.h>
#include <stdbool.h>

#define SL_DEEPEST 1024.0        /* m, deeper than any post: no depth beyond it is tried */

/* What depth is needed where a depth is assumed: the deeper, the less.  NAN: cannot be worked out there. */
typedef double sl_needed_depth(const void *of, double assumed);

/* Near to where a depth needs itself, by straight lines through the last two that were tried. */
static inline double sl_near_depth(sl_needed_depth *needed, const void *of, double low, double high) {
  enum { LINES = 6 };
  double last = high, over = needed(of, last) - last, near = low + (high - low) / 2;
  for (int i = 0; i < LINES && near > low && near < high; i++) {
    const double here = needed(of, near) - near, next = near - here * (near - last) / (here - over);
    last = near;
    over = here;
    near = next;
  }
  return last;
}

/* What is enough at a depth is enough at every deeper one.  False: nothing to a kilometre is; `depth` is then the
 * deepest that was tried.  The lines only narrow what is halved: where they mislead, more is halved. */
static inline bool sl_least_depth(sl_needed_depth *needed, const void *of, double *depth) {
  const double close = 1e-13;
  double low = 0, high = 1;
  while (high < SL_DEEPEST && !(needed(of, high) <= high)) {
    low = high;
    high *= 2;
  }
  *depth = high;
  if (high >= SL_DEEPEST && !(needed(of, high) <= high)) return false;
  const double near = sl_near_depth(needed, of, low, high), below = near * (1 - close), above = near * (1 + close);
  if (below > low && !(needed(of, below) <= below)) low = below;
  if (above < high && needed(of, above) <= above) high = above;
  for (double middle = low + (high - low) / 2; middle > low && middle < high; middle = low + (high - low) / 2) {
    if (needed(of, middle) <= middle) high = middle;
    else low = middle;
  }
  *depth = high;
  return true;
}

#endif
