/* SPDX-License-Identifier: MIT
 * What an untrusted process writes, made safe to pass on as it comes: what a terminal would obey, and bytes that are no
 * UTF-8, are shown as \xNN, as host/text.h does with a text.  Line ends, "\r\n" too, and tabs stay. */
#ifndef SL_STRAIN_H
#define SL_STRAIN_H

#include <stdbool.h>
#include <stddef.h>

enum { SL_STRAIN_WAITS = 3 };                            /* at most so many bytes wait for those that follow */

/* Puts n bytes into `to`, which has room for 4 n + 1; gives how many they became.  `taken` is less than n where the
 * last bytes may be the beginning of a character: they are to stand in front of the next.  last: nothing follows. */
size_t sl_strain(char *to, const char *text, size_t n, bool last, size_t *taken);
#endif
