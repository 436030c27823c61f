/* SPDX-License-Identifier: MIT
 * Did you mean: the nearest of some names.  No Lua. */
#ifndef SL_NEAREST_H
#define SL_NEAREST_H

#include <stddef.h>

enum { SL_LONGEST_WORD = 80 };           /* a longer one is compared for case only */

/* Nearest name for did-you-mean: a case-only match first, then edit distance <= max(1, len/3), where swapping two
 * neighbours is one edit; the first of equals; NULL if none.  A name that shares no letter is none ("x" is not "y"). */
const char *sl_nearest(const char *word, const char *const *names, size_t n);
#endif
