/* SPDX-License-Identifier: MIT
 * What acts square to a slope, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/slope_loads.h"

#define S struct sl_slope_loads_in
static const struct sl_field slope_loads_in[] = {
  SL_REAL(S, tilt, SL_ANGLE, "of the slope from level"),
  SL_REAL(S, area, SL_AREA, "of slope that the weights are of"),
  SL_REAL(S, weight, SL_FORCE, "of all that presses there"),
  SL_REAL(S, weight_least, SL_FORCE, "what of it holds down against lift"),
  SL_REAL(S, snow, SL_PRESSURE, "for each area of plan"),
  SL_REAL(S, push, SL_PRESSURE, "most that the wind presses there, strength level"),
  SL_REAL(S, lift, SL_PRESSURE, "most that it lifts, strength level"),
  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\""),
};
#undef S
#define R struct sl_slope_load
static const struct sl_field slope_load[] = {
  SL_CHOICE(R, duration, sl_lastings, "shortest load of the combination"),
  SL_REAL(R, load, SL_PRESSURE, "the most of either way, allowable; above 0 it presses"),
  SL_TEXT(R, combination, "that governs it"),
};
#undef R
#define R struct sl_slope_snowed
static const struct sl_field slope_snowed[] = {
  SL_CHOICE(R, duration, sl_lastings, "shortest load of the combination"),
  SL_REAL(R, others, SL_PRESSURE, "weight and wind together, allowable; above 0 they press"),
  SL_REAL(R, snow, SL_PRESSURE, "the snow beside them, where it lies whole"),
  SL_TEXT(R, combination, "which it is"),
};
#undef R
#define S struct sl_slope_loads_out
static const struct sl_field slope_loads_out[] = {
  SL_REAL(S, press, SL_PRESSURE, "most that presses, allowable"),
  SL_TEXT(S, press_combination, "the combination that governs it"),
  SL_REAL(S, lift, SL_PRESSURE, "most that lifts, allowable; below 0 nothing lifts"),
  SL_TEXT(S, lift_combination, "the combination that governs it"),
  SL_ROWS(S, lasting, nlasting, struct sl_slope_load, slope_load, "the most of each duration, the longest first"),
  SL_ROWS(S, snowed, nsnowed, struct sl_slope_snowed, slope_snowed, "combinations with snow, the wind pressing"),
};
#undef S
SL_OP_CALL_ROOM(slope_loads)

#define S struct sl_crossing_loads_in
static const struct sl_field crossing_loads_in[] = {
  SL_REAL(S, tilt, SL_ANGLE, "of the slope from level"),
  SL_REAL(S, area, SL_AREA, "of slope that the weights are of"),
  SL_REAL(S, weight, SL_FORCE, "of all that presses there, and slides down the slope"),
  SL_REAL(S, weight_least, SL_FORCE, "what of it holds down against lift"),
  SL_REAL(S, snow, SL_PRESSURE, "for each area of plan"),
  SL_REAL(S, push, SL_PRESSURE, "most that the wind presses there, strength level"),
  SL_REAL(S, lift, SL_PRESSURE, "most that it lifts, strength level"),
  SL_REAL(S, least, SL_PRESSURE, "least wind on what is seen of the slope from the front, strength level"),
  SL_REAL(S, carried, SL_AREA, "of slope that the crossing carries"),
  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\""),
};
#undef S
#define R struct sl_crossing_load
static const struct sl_field crossing_load[] = {
  SL_CHOICE(R, duration, sl_lastings, "shortest load of the combination"),
  SL_CHOICE(R, wind, sl_crossing_winds, "which wind is in it"),
  SL_REAL(R, lift, SL_FORCE, "square to the slope, allowable; below 0 it presses"),
  SL_REAL(R, along, SL_FORCE, "along the slope, allowable; above 0 down it"),
  SL_TEXT(R, combination, "which it is"),
};
#undef R
static const struct sl_field crossing_loads_out[] = {
  SL_ROWS(struct sl_crossing_loads_out, rows, nrows, struct sl_crossing_load, crossing_load,
          "each combination with each wind"),
};
SL_OP_CALL_ROOM(crossing_loads)

#define R struct sl_slant_case
static const struct sl_field slant_case[] = {
  SL_REAL(R, low, SL_PRESSURE, "at the lower edge; above 0 it presses"),
  SL_REAL(R, high, SL_PRESSURE, "at the upper edge"),
};
#undef R
#define S struct sl_slant_wind_in
static const struct sl_field slant_wind_in[] = {
  SL_ROWS(S, winds, nwinds, struct sl_slant_case, slant_case, "cases of wind square to the modules"),
  SL_REAL(S, slope_length, SL_LENGTH, "of the modules up the slope"),
  SL_REAL(S, length, SL_LENGTH, "of the modules along the row"),
  SL_REAL(S, rise, SL_RATIO, "of the row for its length in plan, either way"),
  SL_REAL(S, tilt, SL_ANGLE, "of the modules from level"),
};
#undef S
static const struct sl_field slant_wind_out[] = {
  SL_REAL(struct sl_slant_wind_out, square, SL_FORCE, "on all of the modules, square to them"),
  SL_REAL(struct sl_slant_wind_out, along, SL_FORCE, "of it along the row"),
};
SL_OP_CALL(slant_wind)

#define S struct sl_rail_share_in
static const struct sl_field rail_share_in[] = {
  SL_REAL(S, side, SL_LENGTH, "of a module up the slope"),
  SL_COUNT(S, rows, "of modules, one above the other"),
  SL_REAL(S, row_gap, SL_LENGTH, "between rows"),
  SL_LIST(S, rails, nrails, SL_LENGTH, "places of the rails up the slope, from the lower edge"),
};
#undef S
static const struct sl_field rail_share_out[] = {
  SL_REAL(struct sl_rail_share_out, height, SL_LENGTH, "of slope that the most loaded rail carries"),
};
SL_OP_CALL(rail_share)

SL_OPS(slope_loads, 36) = {
  SL_OP_ROOM(slope_loads, "what presses and lifts square to the modules, by all allowable combinations"),
  SL_OP_ROOM(crossing_loads, "what lifts at a crossing of rail and rafter, and what slides along, by all combinations"),
  SL_OP(slant_wind, "what the wind on the modules of a row that slopes pushes along it"),
  SL_OP(rail_share, "how much of the slope the most loaded rail carries"),
  {0},
};
