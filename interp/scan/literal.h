/* SPDX-License-Identifier: MIT
 * One quantity literal: the grammar that scripts, CSV cells and len[[...]] share.  No Lua. */
#ifndef SL_LITERAL_H
#define SL_LITERAL_H

#include "host/text.h"
#include "scan/scanner.h"

enum sl_literal_verdict {
  SL_LITERAL_NONE,                 /* not a literal: a plain number, or no number at all */
  SL_LITERAL_GOOD,
  SL_LITERAL_BAD,                  /* it wanted to be one; the complaint says what is wrong */
};

struct sl_literal {
  const char *end;                 /* past the bytes taken; of a bad one, past what belongs to the mistake */
  struct sl_const k;               /* all but the span */
  double number;                   /* as written, for a minus that is folded in */
  bool arithmetic;                 /* 3/8in, 2-3/8in, 4/0AWG: after `* / ^ %` it would read as another thing */
  bool percent;                    /* a bare per cent: what follows may make it a modulo */
  const char *tail[2];             /* taken behind '/' or '*': `10ft/s`, where s might be a name of the script */
  const char *refused_tail;        /* a division by a name, or by a unit such as yr that nobody may use */
  const char *bad_from, *bad_to;
  struct sl_complaint *bad;        /* the caller's: code, text and help are filled in, the span is not */
};

/* How a literal may be written.  GLUED: no blanks, no sign, no marks of feet and inches.  SPACED: as the program prints
 * it, with blanks before a unit and one blank within feet and inches; what is no unit there is not read.  CELL: also
 * the marks, and feet - inches. */
enum sl_blanks { SL_GLUED, SL_SPACED, SL_CELL };

/* Reads a literal at `at`; a NUL stands at `end`. */
enum sl_literal_verdict sl_literal_read(const char *at, const char *end, enum sl_blanks how, struct sl_literal *out,
                                        struct sl_complaint *bad);

/* Past the decimal number at `at`; `at` itself if there is none. */
const char *sl_decimal_end(const char *at);
#endif
