/* SPDX-License-Identifier: MIT
 * How a value prints: four significant digits, never fewer than a comparison needs; feet, inches and fractions on
 * request.  No Lua.  Every length that is printed here is read back by the scanner (sl_scan_length). */
#ifndef SL_FORMAT_H
#define SL_FORMAT_H

#include "value/units.h"

struct sl_quantity {
  double si;
  union sl_dims dims;
  uint16_t hint;         /* unit that it was written in (sl_unit_names), 0: none */
  uint8_t currency;      /* 0 none */
  uint8_t point;         /* a temperature on the scale, not a difference */
  uint32_t origin;       /* literal that it came from, 0: computed (see sl_origin) */
};

struct sl_style {
  bool us;               /* units of values that carry no hint */
  int digits;            /* significant digits, 4 where 0 */
  int fraction;          /* lengths as feet, inches and 1/fraction in: 8, 16, ...; 0: decimal.  Not those that were
                            written in a unit of which a tape in feet has no marks: 30 mm, 2 mi */
  bool inches_only;      /* with fraction: 106-7/8 in instead of 8 ft 10-7/8 in */
  const char *written;   /* unit that the value was written in, preferred; NULL or "": none */
};

/* "180.9 in", "-16 degC", "$1.05/ft", "8 ft 11-3/8 in".  Writes at most size bytes, ended; returns the length. */
size_t sl_format(char *to, size_t size, const struct sl_quantity *q, const struct sl_style *style);
/* The same in a given unit ("mm", "%"), of a value in SI. */
size_t sl_format_in(char *to, size_t size, double si, const char *unit, int digits);
/* A bare number with so many significant digits, no exponent between 1e-6 and 1e15, no trailing zeros. */
size_t sl_format_number(char *to, size_t size, double value, int digits);
/* Digits that two unlike values need so as not to print alike: at least 4, at most 15. */
int sl_digits_apart(double a, double b, double factor, double offset);

/* Relative tolerance of every comparison of quantities. */
#define SL_TOLERANCE 1e-9
bool sl_equal(double a, double b);

#endif
