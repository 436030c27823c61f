/* SPDX-License-Identifier: MIT
 * Numbers with so many decimals, as printf has them, to the last digit. */
#ifndef SL_FIXED_H
#define SL_FIXED_H
#include <stddef.h>

enum { SL_FIXED_DECIMALS = 18, SL_FIXED_ROOM = 40 };

/* What snprintf(to, size, "%.*f", decimals, x) writes, and gives; -1: printf is to do it, since the number is large or
 * none, there are more decimals than SL_FIXED_DECIMALS, or there is less room than SL_FIXED_ROOM. */
int sl_fixed(char *to, size_t size, double x, int decimals);

#endif
