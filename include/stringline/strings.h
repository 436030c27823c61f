/* SPDX-License-Identifier: MIT
 * Strings of modules: cold and hot voltage, current, string fuses, the current that leaves a charge controller.
 * Limits are not judged here; every answer comes with what a rule needs to judge it. */
#ifndef STRINGLINE_STRINGS_H
#define STRINGLINE_STRINGS_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* Editions of the NEC, where a number differs between them. */
enum sl_edition { SL_NEC_2020, SL_NEC_2023 };
extern const char *const sl_editions[];   /* "NEC 2020", "NEC 2023", NULL */

/* Open-circuit voltage of a string on the coldest morning, by the maker's coefficient: NEC 690.7(A)(1). */
struct sl_cold_voltage_in {
  double voc;           /* V, > 0, at rating */
  double coefficient;   /* 1/K of voc, < 0 */
  int series;           /* modules, >= 1 */
  double coldest;       /* K, > 0, a point */
  double limit;         /* V, > 0: the least that any part of the circuit bears */
};
struct sl_cold_voltage_out {
  double module_voltage, voltage;   /* V, of one and of all */
  double flip;                      /* K: below this the string is over the limit; NAN: at no real temperature */
  int most;                         /* modules in series that stay within the limit */
  double margin_ratio;              /* (limit - voltage) / limit; negative when broken */
};
enum sl_status sl_cold_voltage(const struct sl_cold_voltage_in *in, struct sl_cold_voltage_out *out,
                               struct sl_sheet *sh);

/* The same by Table 690.7(A): crystalline silicon, from just under 25 C down to -40 C, no coefficient at hand.
 * Between its whole degrees the colder row.  flip is the edge of the first row that breaks the limit. */
struct sl_cold_voltage_table_in {
  double voc;       /* V, > 0 */
  int series;       /* >= 1 */
  double coldest;   /* K, 233.15 .. 298.15 */
  double limit;     /* V, > 0 */
};
struct sl_cold_voltage_table_out { double factor, module_voltage, voltage, flip; int most; double margin_ratio; };
enum sl_status sl_cold_voltage_table(const struct sl_cold_voltage_table_in *in, struct sl_cold_voltage_table_out *out,
                                     struct sl_sheet *sh);

/* Operating voltage on the hottest day: the cell runs warmer than the air. */
struct sl_hot_voltage_in {
  double vmp;           /* V, > 0 */
  double coefficient;   /* 1/K of vmp (not of voc), < 0 */
  int series;           /* >= 1 */
  double hottest_air;   /* K, > 0 */
  double cell_rise;     /* K, >= 0, a difference */
};
struct sl_hot_voltage_out { double cell, voltage; };   /* K, V */
enum sl_status sl_hot_voltage(const struct sl_hot_voltage_in *in, struct sl_hot_voltage_out *out, struct sl_sheet *sh);

/* Current of strings in parallel: NEC 690.8. */
struct sl_array_current_in { double isc, imp; int parallel; };   /* A, > 0; strings, >= 1 */
struct sl_array_current_out {
  double maximum;     /* A, 690.8(A): against the corrected ampacity */
  double required;    /* A, 690.8(B)(1): against the terminals' column, and for the device */
  double operating;   /* A: for voltage drop */
};
enum sl_status sl_array_current(const struct sl_array_current_in *in, struct sl_array_current_out *out,
                                struct sl_sheet *sh);

/* Does each string need a fuse, and does one exist that the module may carry?  NEC 690.9. */
struct sl_string_fuse_in {
  double isc;             /* A, > 0 */
  int parallel;           /* >= 1 */
  double module_fuse;     /* A, > 0: the largest series fuse on the module's label */
  double other_sources;   /* A, >= 0: a battery or inverter that can feed back, other strings on the same input */
  int edition;            /* enum sl_edition */
};
struct sl_string_fuse_out {
  double backfeed;     /* A into one faulted string from all the others */
  bool needed;         /* backfeed exceeds module_fuse */
  double least_fuse;   /* A, next standard fuse for the string's own current */
  bool fits;           /* least_fuse is not above module_fuse */
};
enum sl_status sl_string_fuse(const struct sl_string_fuse_in *in, struct sl_string_fuse_out *out, struct sl_sheet *sh);

/* Highest voltage of direct current on or in a building: NEC 690.7. */
enum sl_building { SL_DWELLING, SL_OTHER_BUILDING };      /* for one or two families; any other */
extern const char *const sl_buildings[];                  /* "dwelling", "other building", NULL */
struct sl_building_voltage_in { int building; };          /* enum sl_building */
struct sl_building_voltage_out {
  double most;     /* V */
  double lowest;   /* V: of all buildings; what is not above it needs no question */
};
enum sl_status sl_building_voltage(const struct sl_building_voltage_in *in, struct sl_building_voltage_out *out,
                                   struct sl_sheet *sh);

/* Current that power makes at a voltage. */
struct sl_output_current_in { double power, voltage; };   /* W, V, > 0 */
struct sl_output_current_out {
  double current;     /* A */
  double required;    /* A, 690.8(B)(1): what a device in that circuit must be rated for */
};
enum sl_status sl_output_current(const struct sl_output_current_in *in, struct sl_output_current_out *out,
                                 struct sl_sheet *sh);

#endif
