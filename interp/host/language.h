/* SPDX-License-Identifier: MIT
 * The version of the language that a file says it was written for: `language "1"`, before anything else in it. */
#ifndef SL_LANGUAGE_H
#define SL_LANGUAGE_H

#include <stdbool.h>
#include <stddef.h>
#include "scan/scanner.h"

enum { SL_LANGUAGE = 1 };      /* the version that this program runs */

/* Looks behind blanks and comments, and needs no more of the language than that: a later version may be written in
 * ways that the scanner here would stumble over.  False: the file does not begin with the word and a text. */
bool sl_language_named(const char *text, size_t n, long *version, struct sl_span *span);
#endif
