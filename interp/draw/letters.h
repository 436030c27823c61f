/* SPDX-License-Identifier: MIT
 * Letters of the one font that drawings have: how wide they are, by a table made of the font at build. */
#ifndef SL_LETTERS_H
#define SL_LETTERS_H

#include <stdbool.h>
#include <stddef.h>

/* Of capitals this high, without what is left out between pairs. */
double sl_letters_width(const char *utf8, double height);
/* Heights for capitals of 1: of the font's em, and how far letters reach below the line. */
double sl_letters_em(void);
double sl_letters_below(void);
bool sl_letters_has(unsigned long code);
/* The next character of a text, and how many bytes it takes; a byte that is no UTF-8 is DC00 and itself, which
 * no font has. */
unsigned long sl_letters_next(const char *text, size_t *bytes);
#endif
