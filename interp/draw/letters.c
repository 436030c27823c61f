/* SPDX-License-Identifier: MIT
 * How wide letters are. */
#include "draw/letters.h"
#include "letters.inc"

static unsigned advance(unsigned long code) {
  for (size_t i = 0; i < sizeof letters_kept / sizeof *letters_kept; i++)
    if (code >= letters_kept[i].first && code <= letters_kept[i].last)
      return letters_advance[letters_kept[i].at + (code - letters_kept[i].first)];
  return 0;
}

bool sl_letters_has(unsigned long code) { return advance(code) != 0; }

enum { LONE = 0xDC00 };                                      /* no character: a byte that is no UTF-8 */

unsigned long sl_letters_next(const char *text, size_t *bytes) {
  const unsigned char *s = (const unsigned char *)text;
  const size_t n = s[0] < 0x80 ? 1 : s[0] >= 0xF0 ? 4 : s[0] >= 0xE0 ? 3 : s[0] >= 0xC2 ? 2 : 0;
  *bytes = 1;
  if (n == 0) return LONE | s[0];
  if (n == 1) return s[0];
  unsigned long code = s[0] & (0xFFu >> (n + 1));
  for (size_t i = 1; i < n; i++) {
    if ((s[i] & 0xC0) != 0x80) return LONE | s[0];
    code = code << 6 | (s[i] & 0x3F);
  }
  *bytes = n;
  return code;
}

/* Of what is written for a letter that the font has not: as U+4E2D. */
static double number_width(unsigned long code) {
  static const char hex[] = "0123456789ABCDEF";
  double sum = advance('U') + advance('+');
  for (int digits = 0; code || digits < 4; code >>= 4, digits++) sum += advance((unsigned char)hex[code & 15]);
  return sum;
}

double sl_letters_width(const char *utf8, double height) {
  double sum = 0;
  for (size_t n; *utf8; utf8 += n) {
    const unsigned long code = sl_letters_next(utf8, &n);
    sum += sl_letters_has(code) ? advance(code) : number_width(code & 0x1FFFFF);
  }
  return sum * height / LETTERS_CAPITAL;
}

double sl_letters_em(void) { return (double)LETTERS_EM / LETTERS_CAPITAL; }
double sl_letters_below(void) { return (double)LETTERS_BELOW / LETTERS_CAPITAL; }
