/* SPDX-License-Identifier: MIT
 * Beams as Lua sees them. */
#include "bind/bind.h"
#include "stringline/beam.h"

#define S struct sl_beam_in
static const struct sl_field beam_in[] = {
  SL_REAL(S, length, SL_LENGTH, "from end to end"),
  SL_REAL(S, ei, SL_BENDING, "stiffness of the beam in bending, the same all along"),
  SL_REAL(S, load, SL_LINE_LOAD, "over the whole length, downward"),
  SL_FLAG_OPT(S, held_first, "true if the first support keeps the beam from turning"),
  SL_FLAG_OPT(S, held_last, "true if the last support does"),
  SL_LIST(S, supports, nsupports, SL_LENGTH, "places of the supports, from the left end"),
  SL_LIST(S, hinges, nhinges, SL_LENGTH, "places of hinges, from there"),
  SL_LIST(S, patch_from, npatch_from, SL_LENGTH, "where more load on a part begins"),
  SL_LIST(S, patch_to, npatch_to, SL_LENGTH, "where it ends, of each part"),
  SL_LIST(S, patch_load, npatch_load, SL_LINE_LOAD, "what it is, of each part, downward"),
  SL_LIST(S, point_at, npoint_at, SL_LENGTH, "places of forces"),
  SL_LIST(S, point_load, npoint_load, SL_FORCE, "what each is, downward"),
};
#undef S
#define R struct sl_beam_support
static const struct sl_field beam_support[] = {
  SL_REAL(R, at, SL_LENGTH, "from the left end"),
  SL_REAL(R, reaction, SL_FORCE, "on the beam, upward"),
  SL_REAL(R, moment, SL_MOMENT, "of the beam over it, below 0 where it hogs"),
};
#undef R
#define R struct sl_beam_span
static const struct sl_field beam_span[] = {
  SL_REAL(R, from, SL_LENGTH, "where it begins, from the left end"),
  SL_REAL(R, to, SL_LENGTH, "where it ends"),
  SL_REAL(R, sagging, SL_MOMENT, "the largest"),
  SL_REAL(R, hogging, SL_MOMENT, "the largest"),
  SL_REAL(R, shear, SL_FORCE, "the largest, either way"),
  SL_REAL(R, deflection, SL_LENGTH, "the largest, either way"),
};
#undef R
#define S struct sl_beam_out
static const struct sl_field beam_out[] = {
  SL_REAL(S, sagging, SL_MOMENT, "the largest of all spans"),
  SL_REAL(S, hogging, SL_MOMENT, "the largest of all spans"),
  SL_REAL(S, shear, SL_FORCE, "the largest of all spans, either way"),
  SL_REAL(S, deflection, SL_LENGTH, "the largest of all spans, either way"),
  SL_ROWS(S, supports, nsupports, struct sl_beam_support, beam_support, "the supports, from the left"),
  SL_ROWS(S, spans, nspans, struct sl_beam_span, beam_span, "spans and overhangs, from the left"),
};
#undef S
SL_OP_CALL_ROOM(beam)

SL_OPS(beam, 16) = {
  SL_OP_ROOM(beam, "a beam on any supports: what they carry, moments, shear, deflection"),
  {0},
};
