/* SPDX-License-Identifier: MIT
 * What the electrical primitives share: single facts, rows of conductors, standard ratings.  Private to interp/calc. */
#ifndef SL_ELECTRICAL_H
#define SL_ELECTRICAL_H

#include <string.h>
#include "guard.h"
#include "stringline/strings.h"
#include "stringline/wire.h"

/* A value out of a table with all that a sheet says about it. */
struct sl_entry { double value; const char *name, *cite; enum sl_basis basis; };
#define ENTRY(sh, dim, sym, entry) \
  const struct sl_entry sym##_row = (entry); \
  LOOKUP(sh, dim, sym, sym##_row.value, sym##_row.name, sym##_row.cite, sym##_row.basis)

/* electrical_facts.csv; an id that is not there is a mistake of ours and ends in a value of NAN. */
struct sl_entry sl_fact(const char *id);
struct sl_entry sl_fact_kelvin(const char *id);   /* a fact kept in C */
double sl_kelvin(double celsius);

/* NULL where the table has no such row. */
struct sl_conductor_row {
  const char *size, *stranding;
  double cmil, od_in, area_in2, ohm_kft[2];    /* by enum sl_material */
  const char *name[2], *bare, *cite;
  enum sl_basis basis;
};
const struct sl_conductor_row *sl_conductor_row(const char *size, int stranding);
/* The smallest stranded conductor of at least so many circular mils, or NULL. */
const struct sl_conductor_row *sl_conductor_above(double cmil);
struct sl_ampacity_row {
  const char *material, *size;
  double amps[3];                              /* by enum sl_terminal */
  const char *name[3], *cite;
  enum sl_basis basis;
};
const struct sl_ampacity_row *sl_ampacity_row(int material, const char *size);
struct sl_insulation_row {
  const char *type;
  double wet_c, dry_c;                         /* wet_c NAN: not for wet places */
  double volts;
  const char *family, *wet_name, *dry_name, *cite;
  enum sl_basis family_basis, basis;
};
const struct sl_insulation_row *sl_insulation_row(const char *type);

/* The standard rating at or above amps; NAN above the last one kept. */
struct sl_entry sl_next_rating(double amps, int device, int edition);

/* 1 - SL_CLOSE of a limit is within it: binary noise must not flip a verdict. */
#define SL_CLOSE 1e-9

#define NO_ROW(sh, member, text, cite) sl_sheet_fault(sh, SL_NO_ROW, member, text, cite, NAN, NAN, SL_NUMBER)

#endif
