/* SPDX-License-Identifier: MIT
 * Snow on some spans of a beam, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/partial_snow.h"

#define S struct sl_partial_snow_in
static const struct sl_field partial_snow_in[] = {
  SL_REAL(S, length, SL_LENGTH, "from end to end"),
  SL_REAL(S, ei, SL_BENDING, "stiffness of the beam in bending, the same all along"),
  SL_REAL(S, load, SL_LINE_LOAD, "of all but snow, over the whole length, downward"),
  SL_REAL(S, snow, SL_LINE_LOAD, "where it lies whole"),
  SL_LIST(S, supports, nsupports, SL_LENGTH, "places of the supports, from the left end"),
  SL_LIST(S, hinges, nhinges, SL_LENGTH, "places of hinges, from there"),
  SL_LIST(S, places, nplaces, SL_LENGTH, "places at which strains are wanted, from there"),
  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\""),
};
#undef S
#define R struct sl_partial_support
static const struct sl_field partial_support[] = {
  SL_REAL(R, at, SL_LENGTH, "from the left end"),
  SL_REAL(R, reaction, SL_FORCE, "on the beam, upward: the most of all patterns"),
  SL_REAL(R, least, SL_FORCE, "the least of them"),
  SL_REAL(R, balanced, SL_FORCE, "with snow on all spans"),
};
#undef R
#define R struct sl_partial_strain
static const struct sl_field partial_strain[] = {
  SL_CHOICE(R, pattern, sl_snow_patterns, "how the snow lies"),
  SL_COUNT(R, span, "the span that this names, overhangs counted, or the first of two"),
  SL_REAL(R, at, SL_LENGTH, "the place, from the left end"),
  SL_REAL(R, moment, SL_MOMENT, "of the beam there, above 0 where it sags"),
  SL_REAL(R, shear, SL_FORCE, "the larger of both sides, either way"),
};
#undef R
#define R struct sl_beam_span
static const struct sl_field partial_span[] = {
  SL_REAL(R, from, SL_LENGTH, "where it begins, from the left end"),
  SL_REAL(R, to, SL_LENGTH, "where it ends"),
  SL_REAL(R, sagging, SL_MOMENT, "the largest of all patterns"),
  SL_REAL(R, hogging, SL_MOMENT, "the largest of all patterns"),
  SL_REAL(R, shear, SL_FORCE, "the largest of all patterns, either way"),
  SL_REAL(R, deflection, SL_LENGTH, "the largest of all patterns, either way"),
};
#undef R
#define S struct sl_partial_snow_out
static const struct sl_field partial_snow_out[] = {
  SL_REAL(S, sagging, SL_MOMENT, "the largest of all spans and patterns"),
  SL_REAL(S, hogging, SL_MOMENT, "the largest of all spans and patterns"),
  SL_REAL(S, shear, SL_FORCE, "the largest of all spans and patterns, either way"),
  SL_REAL(S, deflection, SL_LENGTH, "the largest of all spans and patterns, either way"),
  SL_CHOICE(S, pattern, sl_snow_patterns, "that of the largest moment"),
  SL_COUNT(S, span, "the span that it names, overhangs counted, or the first of two"),
  SL_ROWS(S, supports, nsupports, struct sl_partial_support, partial_support, "the supports, from the left"),
  SL_ROWS(S, spans, nspans, struct sl_beam_span, partial_span, "spans and overhangs, from the left"),
  SL_ROWS(S, strains, nstrains, struct sl_partial_strain, partial_strain, "those places under each pattern, in turn"),
};
#undef S
SL_OP_CALL_ROOM(partial_snow)

SL_OPS(partial_snow, 37) = {
  SL_OP_ROOM(partial_snow, "a beam on any supports under snow that lies whole on some spans and half on others"),
  {0},
};
