/* SPDX-License-Identifier: MIT
 * The scanner: Lua 5.4 plus quantity literals in, plain Lua plus a constant table and a span table out.
 * No Lua here.  Grammar: docs/language.md.  Output keeps lines one to one; a text without literals comes out
 * byte for byte, but for a byte order mark and a first line that begins with '#', which Lua skips too when it loads a
 * file.  Where there are constants, the host puts "local _K=...;" in front of line 1, in its own words.  The semicolon
 * is needed: a script that begins with '(' or '-' would go on with the dots. */
#ifndef SL_SCANNER_H
#define SL_SCANNER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "box/memory.h"
#include "value/units.h"

struct sl_span { int line, col, len; };      /* 1-based line and byte column; len in bytes, within the line */

enum sl_const_kind { SL_CONST_QUANTITY, SL_CONST_WIRE };
struct sl_const {                            /* _K[i + 1] */
  enum sl_const_kind kind;
  double si;                                 /* a plain per cent is dimensionless: 2% is 0.02 */
  double tolerance;                          /* half width in SI, 0 where none was written */
  struct sl_unit unit;                       /* dims, point, currency of the value */
  char written[SL_UNIT_LONGEST + 1];         /* the unit; "ft-in" for feet and inches, inch fractions; "" of a wire */
  struct sl_wire wire;
  struct sl_span span;
};

/* HEAD: NAME {...}, NAME "text" {...}, NAME (expression) {...}; also NAME "text" alone, which may want a table.
 * A bracketed key that is no plain string ([1] = x) has no mark. */
enum sl_mark_kind { SL_MARK_HEAD, SL_MARK_OPEN, SL_MARK_CLOSE, SL_MARK_KEY, SL_MARK_ITEM };
struct sl_mark {                             /* in order of the text */
  enum sl_mark_kind kind;
  struct sl_span span;                       /* HEAD: the name; KEY: the key, without quotes; ITEM: its first token */
  struct sl_span value;                      /* KEY, ITEM: its value (first line of it); HEAD: its string argument */
  size_t at, from, to;                       /* bytes of the text: where KEY and ITEM begin; from, to: their value;
                                              * OPEN, CLOSE: the brace; HEAD: from, to: its string argument */
  size_t word;                               /* HEAD, KEY: the first byte of span */
  int parent;                                /* KEY, ITEM, CLOSE: its OPEN.  OPEN: its HEAD; with none, like a HEAD:
                                              * the KEY or ITEM around it (not out of a function), or -1 */
};

struct sl_complaint { struct sl_span span; char code[8]; char text[240]; char help[240]; };

/* See scan/places.h: the marks by what they are called, as indices. */
struct sl_places {
  int *head; size_t nhead;                   /* HEADs by word, then as they stand in the text */
  int *named; size_t nnamed;                 /* those with a text behind them by word, that text, and so on */
  int *key; size_t nkey;                     /* KEYs by their OPEN and word */
  int *item; size_t nitem;                   /* ITEMs by their OPEN */
  int *open; size_t nopen;                   /* OPENs by what they belong to */
  int *close; size_t nclose;                 /* CLOSEs by their OPEN */
};

struct sl_scan {
  char *text; size_t len;                    /* rewritten */
  struct sl_const *k; size_t nk;
  struct sl_mark *mark; size_t nmark;
  struct sl_places places;                   /* of the marks */
  struct sl_complaint *bad; size_t nbad;     /* empty: the text may be compiled.  At most 20 are kept. */
  struct sl_box *box;                        /* whose memory all that is */
};

/* Scans a whole text (any bytes; a first line starting with '#' is skipped as Lua does).  False: no memory. */
bool sl_scan_in(struct sl_box *box, const char *text, size_t len, struct sl_scan *out);
/* The same, and the literals of Lua's own that begin at these bytes of the text, in order, are constants, too: at[i]
 * becomes _K[nk + i + 1], whose value is the caller's. */
bool sl_scan_open_in(struct sl_box *box, const char *text, size_t len, const size_t *at, size_t n,
                     struct sl_scan *out);
static inline bool sl_scan(const char *text, size_t len, struct sl_scan *out) {
  return sl_scan_in(NULL, text, len, out);
}
static inline bool sl_scan_open(const char *text, size_t len, const size_t *at, size_t n, struct sl_scan *out) {
  return sl_scan_open_in(NULL, text, len, at, n, out);
}
void sl_scan_free(struct sl_scan *scan);

/* One literal alone, as a CSV cell or a --set value: all that the scanner takes, and also what the program prints:
 * blanks between number and unit ("180.9 in", "-0.25 %/K", "8 ft 11-3/8 in", "12' 6-1/2\"", "$ 1.05/ft").
 * A bare number comes back dimensionless.  False: bad holds the reason (span within the text, line 1). */
bool sl_scan_literal(const char *text, size_t len, struct sl_const *out, struct sl_complaint *bad);
/* Feet and inches for len[[...]]: "12' 6-1/2\"", "12ft 6-1/2in", "-3 1/2 in"; any length that the program prints. */
bool sl_scan_length(const char *text, size_t len, double *metres, struct sl_complaint *bad);
#endif
