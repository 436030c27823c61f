/* SPDX-License-Identifier: MIT
 * How a primitive says what happened: a status, a fault that a person can read, and the worked sheet.
 *
 * Every primitive of this library has the shape
 *
 *     enum sl_status sl_NAME(const struct sl_NAME_in *in, struct sl_NAME_out *out, struct sl_sheet *sh);
 *
 * Inputs and outputs are SI doubles (radians, kelvin for temperatures, pascal, ...); the header of each gives
 * unit and range member by member.  `sh` may be NULL: then the status alone comes back and nothing is recorded.
 * A sheet with cap = 0 records the fault only.  No primitive allocates, prints, or keeps state.
 */
#ifndef STRINGLINE_SHEET_H
#define STRINGLINE_SHEET_H

#include <stddef.h>

enum sl_status {
  SL_OK = 0,
  SL_BAD_INPUT,     /* an input is not a number, or has the wrong sign: the caller's mistake */
  SL_OUT_OF_RANGE,  /* outside what the source covers, or what a double holds; the fault says whose range */
  SL_NO_ROW,        /* a published table has no such row */
  SL_NO_ANSWER,     /* the search found nothing that fits; the fault says what was tried */
};

enum sl_dim {
#define DIM(id, ...) SL_##id,
#include "stringline/dim.def"
#undef DIM
  SL_DIM_COUNT
};

/* How a published value was come by.  Worst first, so that the basis of a result is the least of its rows'. */
enum sl_basis { SL_MEMORY, SL_PRACTICE, SL_SECOND_HAND, SL_TAKEN_OVER, SL_DERIVED, SL_READ };

/* Primitives of a code are told the edition by its name: "NEC 2023", "ASCE 7-16", "IBC 2021", "NDS 2018". */
enum { SL_EDITION_NAME = 16 };

enum sl_row_kind {
  SL_ROW_GIVEN,   /* an input of the primitive */
  SL_ROW_TABLE,   /* a value out of a published table; cite and basis say which */
  SL_ROW_STEP,    /* computed; text is the C expression that was evaluated */
};

struct sl_row {
  enum sl_row_kind kind;
  enum sl_dim dim;
  enum sl_basis basis;      /* SL_ROW_TABLE only; SL_READ elsewhere */
  const char *symbol;       /* the standard's symbol, e.g. "S1" */
  const char *text;         /* the expression, or the row's name in its table; "" for a given */
  const char *cite;         /* standard, edition and section; "" for a given */
  const char *member;       /* the input that it is (what follows the name says which item), the output that it gives,
                               or "" */
  double value;             /* SI */
};

struct sl_fault {
  const char *member;       /* the input at fault, the symbol of a step that comes out as no number, or "" */
  const char *text;         /* what is wrong with it, in words */
  const char *cite;         /* whose range */
  double value;             /* what came */
  double limit;             /* what was wanted, or NAN */
  enum sl_dim dim;
};

enum { SL_SHEET_ROWS = 96 };

struct sl_sheet {
  size_t n;                 /* rows recorded */
  size_t cap;               /* rows wanted, at most SL_SHEET_ROWS; 0: the fault only */
  size_t lost;              /* rows that found no room: a sheet with lost > 0 is not complete */
  unsigned char edition[4]; /* of the codes that the primitive was asked by, for its citations; 0: none */
  unsigned rests;           /* bit 1 << basis: a value of that basis was read, recorded or not */
  struct sl_fault fault;
  struct sl_row row[SL_SHEET_ROWS];
};

/* Name of a dimension ("pressure per depth"), and of a basis ("read", "read second-hand", "from memory", ...). */
const char *sl_dim_name(enum sl_dim dim);
const char *sl_basis_name(enum sl_basis basis);

#endif
