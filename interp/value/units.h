/* SPDX-License-Identifier: MIT
 * Units: the closed table (interp/data/units.csv), composed units such as psf/ft, and the names that a run has seen.
 * No Lua.  A unit that a person may not use (hp, yr, ton, C) is found too, with the help that it needs. */
#ifndef SL_UNITS_H
#define SL_UNITS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "box/memory.h"
#include "stringline/sheet.h"

/* Twice the exponents of m kg s A K rad money each; all 0 is dimensionless. */
union sl_dims { int8_t x[8]; uint64_t w; };

/* A unit as written: value_SI = (number + offset) * factor. */
struct sl_unit {
  double factor, offset;
  union sl_dims dims;
  bool point;            /* degC, degF written alone: a point on the scale, not a difference */
  uint8_t currency;      /* 0 none, else index of sl_currency_code(): USD EUR NZD AUD GBP CAD */
};

enum { SL_UNIT_LONGEST = 64 };           /* bytes of a unit's text */

/* at, len: bytes of the unit text.  refused: a unit of the table that a person may not use; help says why. */
struct sl_unit_error { size_t at, len; bool refused; char text[160], help[160]; };

/* Parses "psf/ft", "kWh/m2/d", "kN*m", "W/ft2/K", "%/K", "degC", "$/ft", "ohm/kft", "1/K".  A tail after '/' or '*' is
 * a difference.
 * False: err says what and, where surely right, help ("did you mean 'ft'?", or a refused unit's help). */
bool sl_unit_parse(const char *text, size_t len, struct sl_unit *out, struct sl_unit_error *err);
bool sl_unit_known(const char *symbol, size_t len);            /* one bare symbol or alias that may be used */
bool sl_unit_refused(const char *symbol, size_t len);          /* one bare symbol that the table refuses */
/* Bytes of the symbol, or of the power (2 ^2 ^-2 and superscripts), that the text begins with; 0 if with none. */
size_t sl_unit_symbol(const char *text, size_t len);
size_t sl_unit_power(const char *text, size_t len, int *power);
const char *sl_unit_nearest(const char *symbol, size_t len);   /* or NULL */

/* The unit texts of one run, each with a number that fits into a quantity.  Starts as all 0, but for the box
 * whose memory it takes. */
struct sl_unit_names { char **text; uint16_t *chain, bucket[1024]; size_t n, room; struct sl_box *box; };
/* Its number; 0 is "", and what comes when all numbers are taken: such a value prints in its dimension's own unit. */
uint16_t sl_unit_intern(struct sl_unit_names *names, const char *text, size_t len);
const char *sl_unit_text(const struct sl_unit_names *names, uint16_t id);
void sl_unit_names_free(struct sl_unit_names *names);

const char *sl_currency_code(uint8_t currency);                /* "USD" */
const char *sl_currency_sign(uint8_t currency);                /* "$", or "" where there is none of its own */
union sl_dims sl_dim_dims(enum sl_dim dim);
const char *sl_dim_unit(enum sl_dim dim, bool us);             /* what it prints in */
const char *sl_dim_example(enum sl_dim dim);
/* "length", "force"; for exponents with no name of their own "m2.kg.s-3" */
const char *sl_dims_name(union sl_dims dims, bool point, char *buffer, size_t size);
/* The unit of a value in SI whose exponents have no name, as sl_unit_parse reads it: "kg/s3/K", "s^-2/K".  False: they
 * have none, since one is no whole number or the money no currency. */
bool sl_dims_unit(union sl_dims dims, uint8_t currency, char *buffer, size_t size);

/* Wire sizes: "6 AWG", "#6", "4/0 AWG", "250 kcmil", "6 mm2", and bare as the tables of AWG and kcmil have them: "6",
 * "4/0", "250". */
struct sl_wire { char size[8]; double area; bool metric; };   /* size as the tables have it; metric: in mm2 */
bool sl_wire_parse(const char *text, size_t len, struct sl_wire *out);

/* For `stringline units` and the reference: the whole table in its order. */
struct sl_unit_row {
  const char *symbol, *aliases, *name, *dimension, *definition, *ucum, *source, *note;
  enum sl_basis basis; double factor, offset; const char *refused;   /* refused: help text, or "" */
  const char *system;                                                /* "US" for a customary unit, or "" */
};
/* Whether a unit as written, or one that it is made of, is a customary one: "lbf*ft". */
bool sl_unit_customary(const char *unit);
size_t sl_unit_rows(const struct sl_unit_row **rows);
#endif
