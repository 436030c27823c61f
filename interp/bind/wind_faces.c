/* SPDX-License-Identifier: MIT
 * Wind on the faces of a rack, and over hills, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/wind_faces.h"

#define EDITION(S)  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\"")
#define PRESSED(S)  SL_REAL(S, velocity_pressure, SL_PRESSURE, "q of velocity_pressure, without Kd")
#define TILT(S)     SL_REAL(S, tilt, SL_ANGLE, "of the modules from level")
#define SLOPE(S)    SL_REAL(S, slope_length, SL_LENGTH, "of the modules up the slope")
#define MEAN(S)     SL_REAL(S, mean_height, SL_LENGTH, "of the modules above the ground")
#define WIDTH(S)    SL_REAL(S, row_width, SL_LENGTH, "of the modules along the row")

#define S struct sl_topographic_in
static const struct sl_field topographic_in[] = {
  SL_CHOICE(S, shape, sl_hills, "of the ground"),
  SL_REAL(S, height, SL_LENGTH, "of the hill above the ground upwind of it"),
  SL_REAL(S, half_length, SL_LENGTH, "level distance from the crest upwind to where the hill is half as high"),
  SL_REAL(S, distance, SL_LENGTH, "level, from the crest to the rack"),
  SL_FLAG(S, downwind, "true if the rack stands downwind of the crest"),
  SL_REAL(S, above_ground, SL_LENGTH, "height at which the wind is wanted"),
  EDITION(S),
};
#undef S
#define S struct sl_topographic_out
static const struct sl_field topographic_out[] = {
  SL_REAL(S, kzt, SL_NUMBER, "topographic factor Kzt"),
  SL_REAL(S, k1, SL_NUMBER, "K1, of shape and height"),
  SL_REAL(S, k2, SL_NUMBER, "K2, of the distance from the crest"),
  SL_REAL(S, k3, SL_NUMBER, "K3, of the height above the ground"),
};
#undef S
SL_OP_CALL(topographic)

#define S struct sl_roof_wind_in
static const struct sl_field roof_wind_in[] = { PRESSED(S), TILT(S), SLOPE(S), MEAN(S), EDITION(S) };
#undef S
#define R struct sl_roof_case
static const struct sl_field roof_case[] = {
  SL_REAL(R, letter, SL_NUMBER, "1 case A, 2 case B"),
  SL_REAL(R, to_wind, SL_NUMBER, "edge to the wind: 1 the high one, 2 the low one"),
  SL_REAL(R, flow, SL_NUMBER, "1 clear, 2 obstructed"),
  SL_REAL(R, low, SL_PRESSURE, "net on the lower half of the slope, plus pushes down"),
  SL_REAL(R, high, SL_PRESSURE, "net on the upper half"),
};
#undef R
#define S struct sl_roof_wind_out
static const struct sl_field roof_wind_out[] = {
  SL_REAL(S, peak_up, SL_PRESSURE, "largest net lift on half of the modules"),
  SL_REAL(S, peak_down, SL_PRESSURE, "largest net pressure on half of the modules"),
  SL_REAL(S, least, SL_PRESSURE, "least wind, on the area seen from the front"),
  SL_ROWS(S, cases, ncases, struct sl_roof_case, roof_case, "clear, then obstructed: A high, B high, A low, B low"),
};
#undef S
SL_OP_CALL_ROOM(roof_wind)

#define S struct sl_along_wind_in
static const struct sl_field along_wind_in[] = {
  PRESSED(S), TILT(S), MEAN(S), SL_REAL(S, length, SL_LENGTH, "of the row, along the wind"), EDITION(S),
};
#undef S
#define R struct sl_along_zone
static const struct sl_field along_zone[] = {
  SL_REAL(R, letter, SL_NUMBER, "1 case A, 2 case B"),
  SL_REAL(R, flow, SL_NUMBER, "1 clear, 2 obstructed"),
  SL_REAL(R, from, SL_LENGTH, "from the windward end"),
  SL_REAL(R, to, SL_LENGTH, "from there"),
  SL_REAL(R, pressure, SL_PRESSURE, "net, plus pushes down"),
};
#undef R
#define S struct sl_along_wind_out
static const struct sl_field along_wind_out[] = {
  SL_REAL(S, peak_up, SL_PRESSURE, "largest net lift"),
  SL_REAL(S, peak_down, SL_PRESSURE, "largest net pressure"),
  SL_ROWS(S, zones, nzones, struct sl_along_zone, along_zone, "clear A, B, then obstructed A, B, from the wind"),
};
#undef S
SL_OP_CALL_ROOM(along_wind)

#define S struct sl_sign_wind_in
static const struct sl_field sign_wind_in[] = {
  PRESSED(S), TILT(S), SLOPE(S), WIDTH(S), SL_REAL(S, top, SL_LENGTH, "of the upper edge above the ground"), EDITION(S),
};
#undef S
#define R struct sl_sign_strip
static const struct sl_field sign_strip[] = {
  SL_REAL(R, from, SL_LENGTH, "from the windward end"),
  SL_REAL(R, to, SL_LENGTH, "from there"),
  SL_REAL(R, pressure, SL_PRESSURE, "square to the face, either way"),
};
#undef R
#define S struct sl_sign_wind_out
static const struct sl_field sign_wind_out[] = {
  SL_REAL(S, cf, SL_NUMBER, "force coefficient Cf of cases A and B"),
  SL_REAL(S, pressure, SL_PRESSURE, "mean, square to the face, either way: cases A and B"),
  SL_REAL(S, offset, SL_LENGTH, "of the force from the middle of the row, to either side: case B"),
  SL_REAL(S, raise, SL_LENGTH, "of the force above the middle of a face that reaches the ground"),
  SL_ROWS(S, strips, nstrips, struct sl_sign_strip, sign_strip, "case C, of a face at least twice as wide as high"),
};
#undef S
SL_OP_CALL_ROOM(sign_wind)

#define S struct sl_module_wind_in
static const struct sl_field module_wind_in[] = {
  PRESSED(S), TILT(S), SLOPE(S), WIDTH(S), MEAN(S),
  SL_REAL(S, area, SL_AREA, "effective, that the module or the clamp carries"), EDITION(S),
};
#undef S
#define R struct sl_wind_zone
static const struct sl_field wind_zone[] = {
  SL_REAL(R, zone, SL_NUMBER, "3 corners, 2 edges, 1 field"),
  SL_REAL(R, lift, SL_PRESSURE, "largest net lift, strength level"),
  SL_REAL(R, push, SL_PRESSURE, "largest net pressure, strength level"),
};
#undef R
#define S struct sl_module_wind_out
static const struct sl_field module_wind_out[] = {
  SL_REAL(S, width, SL_LENGTH, "of a zone"),
  SL_ROWS(S, zones, nzones, struct sl_wind_zone, wind_zone, "corners, edges, field"),
};
#undef S
SL_OP_CALL_ROOM(module_wind)

SL_OPS(wind_faces, 21) = {
  SL_OP(topographic, "what a hill does to the wind"),
  SL_OP_ROOM(roof_wind, "net wind pressures on an open rack, case by case"),
  SL_OP_ROOM(along_wind, "net wind pressures with the wind along the row"),
  SL_OP_ROOM(sign_wind, "wind on a face steeper than 45 deg, as on a solid sign"),
  SL_OP_ROOM(module_wind, "wind on single modules and clamps, by zone; coefficients of one reprint"),
  {0},
};
