/* SPDX-License-Identifier: MIT
 * What freezing ground pulls up with, by the plain sum. */
#include "guard.h"
#include "table.h"
#include "stringline/frost.h"

#define GEOMETRY "plane geometry"
#define AS_THEY_ARE "weights, as they are"

const char *const sl_frozen_faces[] = { "wood or concrete", "steel", NULL };

enum sl_status sl_frost_grip(const struct sl_frost_grip_in *in, struct sl_frost_grip_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, width, SL_LENGTH);
  NOT_NEGATIVE(sh, in, depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, frost, SL_LENGTH);
  ONE_OF(sh, in, face, SL_FROZEN_STEEL);
  NOT_NEGATIVE(sh, in, frame, SL_FORCE);
  NOT_NEGATIVE(sh, in, post, SL_FORCE);
  NOT_NEGATIVE(sh, in, concrete, SL_FORCE);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_NUMBER, square, in->square);
  GIVEN(sh, SL_LENGTH, depth, in->depth);
  GIVEN(sh, SL_LENGTH, frost, in->frost);
  GIVEN(sh, SL_FORCE, frame, in->frame);
  GIVEN(sh, SL_FORCE, post, in->post);
  GIVEN(sh, SL_FORCE, concrete, in->concrete);
  FACT_OF(sh, SL_PRESSURE, a, in->face == SL_FROZEN_STEEL ? "frost_steel" : "frost_wood", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_LENGTH, around, square > 0 ? 4 * b : pi * b, GEOMETRY);
  STEP(sh, SL_LENGTH, frozen, fmin(frost, depth), "soil that is frozen along it");
  STEP(sh, SL_FORCE, F, a * around * frozen, fact_a->cite);
  STEP(sh, SL_FORCE, W, frame + post + concrete, AS_THEY_ARE);
  GIVES(sh, out, frozen, frozen);
  GIVES(sh, out, force, F);
  GIVES(sh, out, weight, W);
  return SL_OK;
}
