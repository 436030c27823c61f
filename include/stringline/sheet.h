/* SPDX-License-Identifier: MIT
 * How a primitive says what happened: a status, a fault that a person can read, and the worked sheet.
 *
 * Every primitive of this library has the shape
 *
 *     enum sl_status sl_NAME(const struct sl_NAME_in *in, struct sl_NAME_out *out, struct sl_sheet *sh);
 *
 * Inputs and outputs are SI doubles (radians, kelvin for temperatures, pascal, ...); the header of each gives
 * unit and range member by member.  `sh` may be NULL: then the status alone comes back and nothing is recorded.
 * A sheet with cap = 0 records the fault only; one with room takes the rows too, and counts those that found none:
 *
 *     struct sl_row rows[100];
 *     struct sl_sheet sheet = SL_SHEET(rows);
 *
 * A list goes in as a pointer and a count, of numbers or of structs.  Lists of open length that come out lie in room of
 * the caller.  A primitive that needs some says how much for the inputs at hand, and takes it before the sheet:
 *
 *     size_t sl_NAME_need(const struct sl_NAME_in *in);
 *     enum sl_status sl_NAME(const struct sl_NAME_in *in, struct sl_NAME_out *out, struct sl_space space,
 *                            struct sl_sheet *sh);
 *
 * The need is in bytes: 0 where the inputs are refused before any is used, SIZE_MAX where they are beyond all room.
 * What the lists of `out` point to stands as long as the room and the inputs do; a row of a sheet may point into the
 * inputs' texts.
 *
 * No primitive allocates, prints, or keeps state.
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

/* Aligned for doubles and pointers, as malloc's is; what stands in it says nothing. */
struct sl_space { void *at; size_t size; };

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
  SL_ROW_WORD,    /* an input that is a word: text is it, and may lie in the input struct */
  /* Marks between the rows; text is the title.  Lines of one table have the same symbols: they are its columns. */
  SL_ROW_HEADING, /* what follows, to the next heading, belongs together */
  SL_ROW_LINES,   /* a table begins */
  SL_ROW_LINE,    /* the next line begins; `item` is its number */
  SL_ROW_LINES_END,
};

struct sl_row {
  enum sl_row_kind kind;
  enum sl_dim dim;
  enum sl_basis basis;      /* SL_ROW_TABLE only; SL_READ elsewhere */
  const char *symbol;       /* the standard's symbol, e.g. "S1" */
  const char *text;         /* the expression, or the row's name in its table; "" for a given */
  const char *cite;         /* standard, edition and section; "" for a given */
  const char *member;       /* the input that it is, the output that it gives, or "".  In a list "angles[i]", or
                               "conductors[i].count": i is item - 1 */
  size_t item;              /* which line of a table it stands in, from 1; 0: in none */
  double value;             /* SI; 0 for a word and a mark */
};

struct sl_fault {
  const char *member;       /* the input at fault, the symbol of a step that comes out as no number, or "" */
  size_t item;              /* which of a list, from 1; 0: none.  Of a row, member is as in struct sl_row */
  const char *text;         /* what is wrong with it, in words */
  const char *cite;         /* whose range */
  double value;             /* what came */
  double limit;             /* what was wanted, or NAN */
  enum sl_dim dim;
};

enum { SL_SHEET_MEMORY = 8 };

struct sl_sheet {
  struct sl_row *row;       /* room for rows, the caller's */
  size_t cap;               /* for how many; 0: the fault only */
  size_t n;                 /* rows recorded; a second call adds its own behind them */
  size_t lost;              /* rows that found no room: with room for n + lost the same call records all */
  size_t line;              /* of the table that is being recorded; 0: in none */
  unsigned char edition[4]; /* of the codes that the primitive was asked by, for its citations; 0: none */
  unsigned rests;           /* bit 1 << basis: a value of that basis was read, recorded or not */
  size_t nmemory;           /* citations in `memory`: of values from memory, recorded or not, each once */
  const char *memory[SL_SHEET_MEMORY];
  size_t work;              /* simple operations of loops and searches whose length the inputs set, about 2 ns each */
  struct sl_fault fault;
};
/* An empty sheet whose room is an array. */
#define SL_SHEET(rows) { .row = (rows), .cap = sizeof (rows) / sizeof *(rows) }

/* Name of a dimension ("pressure per depth"), and of a basis ("read", "read second-hand", "from memory", ...). */
const char *sl_dim_name(enum sl_dim dim);
const char *sl_basis_name(enum sl_basis basis);

#endif
