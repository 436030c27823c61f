/* SPDX-License-Identifier: MIT
 * Strings of modules, told to the script. */
#include "bind.h"
#include "stringline/strings.h"

#define S struct sl_cold_voltage_in
static const struct sl_field cold_voltage_in[] = {
  SL_REAL(S, voc, SL_VOLTAGE, "open-circuit voltage of one module, on its label"),
  SL_REAL(S, coefficient, SL_PER_WARMTH, "change of that voltage per degree, from the data sheet; negative"),
  SL_COUNT(S, series, "modules in series"),
  SL_REAL(S, coldest, SL_TEMPERATURE, "lowest air temperature to design for"),
  SL_REAL(S, limit, SL_VOLTAGE, "the least voltage that any part of the circuit bears"),
};
#undef S
#define S struct sl_cold_voltage_out
static const struct sl_field cold_voltage_out[] = {
  SL_REAL(S, module_voltage, SL_VOLTAGE, "of one module at its coldest"),
  SL_REAL(S, voltage, SL_VOLTAGE, "of the string at its coldest"),
  SL_REAL_OPT(S, flip, SL_TEMPERATURE, "colder than this the string is over the limit; none if no cold does that"),
  SL_COUNT(S, most, "modules in series that stay within the limit"),
  SL_REAL(S, margin_ratio, SL_RATIO, "share of the limit that is left; negative when broken"),
};
#undef S

#define S struct sl_cold_voltage_table_in
static const struct sl_field cold_voltage_table_in[] = {
  SL_REAL(S, voc, SL_VOLTAGE, "open-circuit voltage of one crystalline silicon module"),
  SL_COUNT(S, series, "modules in series"),
  SL_REAL(S, coldest, SL_TEMPERATURE, "lowest air temperature to design for, under 25 degC to -40 degC"),
  SL_REAL(S, limit, SL_VOLTAGE, "the least voltage that any part of the circuit bears"),
};
#undef S
#define S struct sl_cold_voltage_table_out
static const struct sl_field cold_voltage_table_out[] = {
  SL_REAL(S, factor, SL_NUMBER, "of the table's row"),
  SL_REAL(S, module_voltage, SL_VOLTAGE, "of one module at its coldest"),
  SL_REAL(S, voltage, SL_VOLTAGE, "of the string at its coldest"),
  SL_REAL_OPT(S, flip, SL_TEMPERATURE, "colder than this the table puts it over the limit; none if no row does that"),
  SL_COUNT(S, most, "modules in series that stay within the limit"),
  SL_REAL(S, margin_ratio, SL_RATIO, "share of the limit that is left; negative when broken"),
};
#undef S

#define S struct sl_hot_voltage_in
static const struct sl_field hot_voltage_in[] = {
  SL_REAL(S, vmp, SL_VOLTAGE, "operating voltage of one module, on its label"),
  SL_REAL(S, coefficient, SL_PER_WARMTH, "change of vmp (not of voc) per degree; negative"),
  SL_COUNT(S, series, "modules in series"),
  SL_REAL(S, hottest_air, SL_TEMPERATURE, "highest air temperature to design for"),
  SL_REAL(S, cell_rise, SL_WARMTH, "how much warmer the cells run than the air"),
};
#undef S
#define S struct sl_hot_voltage_out
static const struct sl_field hot_voltage_out[] = {
  SL_REAL(S, cell, SL_TEMPERATURE, "of the cells"),
  SL_REAL(S, voltage, SL_VOLTAGE, "operating voltage of the string at its hottest"),
};
#undef S

#define S struct sl_array_current_in
static const struct sl_field array_current_in[] = {
  SL_REAL(S, isc, SL_CURRENT, "short-circuit current of one module, on its label"),
  SL_REAL(S, imp, SL_CURRENT, "operating current of one module, on its label"),
  SL_COUNT(S, parallel, "strings in parallel"),
};
#undef S
#define S struct sl_array_current_out
static const struct sl_field array_current_out[] = {
  SL_REAL(S, maximum, SL_CURRENT, "maximum circuit current"),
  SL_REAL(S, required, SL_CURRENT, "what terminals and device must be rated for"),
  SL_REAL(S, operating, SL_CURRENT, "at the operating point: for voltage drop"),
};
#undef S

#define S struct sl_string_fuse_in
static const struct sl_field string_fuse_in[] = {
  SL_REAL(S, isc, SL_CURRENT, "short-circuit current of one module"),
  SL_COUNT(S, parallel, "strings in parallel"),
  SL_REAL(S, module_fuse, SL_CURRENT, "largest series fuse, on the module's label"),
  SL_REAL(S, other_sources, SL_CURRENT,
          "what a battery or inverter (0A if listed against it) and other strings on the input can feed back"),
  SL_CHOICE(S, edition, sl_editions, "edition of the electrical code"),
};
#undef S
#define S struct sl_string_fuse_out
static const struct sl_field string_fuse_out[] = {
  SL_REAL(S, backfeed, SL_CURRENT, "into one faulted string from everything else"),
  SL_FLAG(S, needed, "true if that exceeds the module's series fuse"),
  SL_REAL(S, least_fuse, SL_CURRENT, "next standard fuse for the string's own current"),
  SL_FLAG(S, fits, "true if the module may carry that fuse"),
};
#undef S

#define S struct sl_output_current_in
static const struct sl_field output_current_in[] = {
  SL_REAL(S, power, SL_POWER, "of the array"),
  SL_REAL(S, voltage, SL_VOLTAGE, "of the battery or bus"),
};
#undef S
#define S struct sl_output_current_out
static const struct sl_field output_current_out[] = {
  SL_REAL(S, current, SL_CURRENT, "that the power makes at that voltage"),
  SL_REAL(S, required, SL_CURRENT, "what a device in that circuit must be rated for"),
};
#undef S

#define S struct sl_building_voltage_in
static const struct sl_field building_voltage_in[] = {
  SL_CHOICE(S, building, sl_buildings, "for one or two families, or any other"),
};
#undef S
#define S struct sl_building_voltage_out
static const struct sl_field building_voltage_out[] = {
  SL_REAL(S, most, SL_VOLTAGE, "of direct current on or in that building"),
  SL_REAL(S, lowest, SL_VOLTAGE, "on or in any building at all"),
};
#undef S

SL_OP_CALL(cold_voltage)
SL_OP_CALL(cold_voltage_table)
SL_OP_CALL(hot_voltage)
SL_OP_CALL(array_current)
SL_OP_CALL(string_fuse)
SL_OP_CALL(output_current)
SL_OP_CALL(building_voltage)

SL_OPS(strings, 50) = {
  SL_OP(cold_voltage, "open-circuit voltage of a string on the coldest morning, by the maker's coefficient"),
  SL_OP(cold_voltage_table, "the same by the code's table, for modules without a coefficient"),
  SL_OP(hot_voltage, "operating voltage of a string on the hottest day"),
  SL_OP(array_current, "maximum, required and operating current of strings in parallel"),
  SL_OP(string_fuse, "whether each string needs a fuse, and which"),
  SL_OP(output_current, "current that a power makes at a voltage"),
  SL_OP(building_voltage, "highest voltage on or in a building"),
  { 0 },
};
