/* SPDX-License-Identifier: MIT
 * The questions that most inputs are asked.  Each refuses NaN and infinity. */
#ifndef SL_GUARD_H
#define SL_GUARD_H

#include <float.h>
#include "calc.h"

#define FINITE(sh, in, member, dim) \
  do { REQUIRE(sh, in, member, > -INFINITY, "must be a finite number", dim); \
       REQUIRE(sh, in, member, < INFINITY, "must be a finite number", dim); } while (0)
/* What is so near to 0 that a double has lost digits of it counts as 0. */
#define POSITIVE(sh, in, member, dim) \
  do { REQUIRE(sh, in, member, >= DBL_MIN, "must be greater than 0", dim); \
       REQUIRE(sh, in, member, < INFINITY, "must be a finite number", dim); } while (0)
#define NOT_NEGATIVE(sh, in, member, dim) \
  do { REQUIRE(sh, in, member, >= 0, "must not be negative", dim); \
       REQUIRE(sh, in, member, < INFINITY, "must be a finite number", dim); } while (0)
/* In a row of a list. */
#define FINITE_ROW(sh, in, list, i, member, dim) \
  do { REQUIRE_ROW(sh, in, list, i, member, > -INFINITY, "must be a finite number", dim); \
       REQUIRE_ROW(sh, in, list, i, member, < INFINITY, "must be a finite number", dim); } while (0)
#define NOT_NEGATIVE_ROW(sh, in, list, i, member, dim) \
  do { REQUIRE_ROW(sh, in, list, i, member, >= 0, "must not be negative", dim); \
       REQUIRE_ROW(sh, in, list, i, member, < INFINITY, "must be a finite number", dim); } while (0)
/* 0 to `last`, the last enumerator. */
#define ONE_OF(sh, in, member, last) \
  do { REQUIRE(sh, in, member, >= 0, "is none of the choices", SL_NUMBER); \
       REQUIRE(sh, in, member, <= (last), "is none of the choices", SL_NUMBER); } while (0)

/* A text of a table fits the member that it is copied to or compared with: then strcmp, which ends where the table's
 * text does, reads no further than the member, whatever a caller left there. */
#define FITS(text, s, member) \
  _Static_assert(sizeof (text) <= sizeof ((s *)0)->member, #member " of " #s " is too short for " text);

#endif
