/* SPDX-License-Identifier: MIT
 * Area, second moment and moduli of rectangles and rounds; see outline.h. */
#include <stdbool.h>
#include "guard.h"
#include "stringline/outline.h"

#define MECHANICS "second moments of plane figures"
#define CORNERS   "the same, less what the round of four corners leaves out"

const char *const sl_outline_shapes[] = { [SL_RECTANGLE] = "rectangle", [SL_ROUND] = "round", NULL };

enum { PARTS = 2 };      /* outside; hollow */

/* The sums of what is outside, less what is hollow in it. */
struct sums { double area, inertia, plastic; };

static enum sl_status add_round(double diameter, double t, struct sums *to, struct sl_sheet *sh) {
  LINES(sh, "the outline, and less what is hollow in it");
  for (int k = 0; k < (t > 0 ? PARTS : 1); k++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, sign, k ? -1 : 1, k ? "hollow" : "outside", MECHANICS, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, d, k ? diameter - 2 * t : diameter, "diameter", MECHANICS, SL_DERIVED);
    STEP(sh, SL_SECTION, A_part, sign * acos(-1) / 4 * d * d, MECHANICS);
    STEP(sh, SL_INERTIA, I_part, sign * acos(-1) / 64 * d * d * d * d, MECHANICS);
    STEP(sh, SL_MODULUS, Z_part, sign * d * d * d / 6, MECHANICS);
    *to = (struct sums){ to->area + A_part, to->inertia + I_part, to->plastic + Z_part };
  }
  LINES_END(sh);
  return SL_OK;
}

/* A corner's square of side R, less its quarter of a circle, about a line through the circle's centre: area (1 - pi/4)
 * R2, first moment R3/6, second moment (1/3 - pi/16) R4.  That line is e off the middle. */
static enum sl_status add_rectangle(const struct sl_outline_in *in, double depth, double t, struct sums *to,
                                    struct sl_sheet *sh) {
  const double corner = isnan(in->corner) ? 0 : in->corner;
  LINES(sh, "the outline, and less what is hollow in it");
  for (int k = 0; k < (t > 0 ? PARTS : 1); k++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, sign, k ? -1 : 1, k ? "hollow" : "outside", MECHANICS, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, b, k ? in->width - 2 * t : in->width, "width", MECHANICS, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, d, k ? depth - 2 * t : depth, "depth", MECHANICS, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, R, k ? fmax(0, corner - t) : corner, "radius of its corners", MECHANICS, SL_DERIVED);
    STEP(sh, SL_SECTION, a, (1 - acos(-1) / 4) * R * R, "one corner");
    STEP(sh, SL_LENGTH, e, d / 2 - R, "off the middle");
    STEP(sh, SL_INERTIA, i, (1.0 / 3 - acos(-1) / 16) * R * R * R * R + e * R * R * R / 3 + a * e * e, "one corner");
    STEP(sh, SL_SECTION, A_part, sign * (b * d - 4 * a), CORNERS);
    STEP(sh, SL_INERTIA, I_part, sign * (b * d * d * d / 12 - 4 * i), CORNERS);
    STEP(sh, SL_MODULUS, Z_part, sign * (b * d * d / 4 - 4 * (R * R * R / 6 + a * e)), CORNERS);
    *to = (struct sums){ to->area + A_part, to->inertia + I_part, to->plastic + Z_part };
  }
  LINES_END(sh);
  return SL_OK;
}

enum sl_status sl_outline(const struct sl_outline_in *in, struct sl_outline_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, shape, SL_ROUND);
  POSITIVE(sh, in, width, SL_LENGTH);
  const bool round = in->shape == SL_ROUND, solid = isnan(in->wall);
  if (!isnan(in->depth)) {
    POSITIVE(sh, in, depth, SL_LENGTH);
    if (round) return sl_sheet_fault(sh, SL_BAD_INPUT, "depth", "is given of a round", "", in->depth, NAN, SL_LENGTH);
  }
  if (!isnan(in->corner)) {
    NOT_NEGATIVE(sh, in, corner, SL_LENGTH);
    if (round) return sl_sheet_fault(sh, SL_BAD_INPUT, "corner", "is given of a round", "", in->corner, NAN,
                                     SL_LENGTH);
  }
  const double depth = isnan(in->depth) ? in->width : in->depth, least = fmin(in->width, depth);
  if (!isnan(in->corner))
    REQUIRE(sh, in, corner, <= least / 2, "must be half of the width or depth at most", SL_LENGTH);
  if (!solid) POSITIVE(sh, in, wall, SL_LENGTH);
  if (!solid) REQUIRE(sh, in, wall, < least / 2, "must be less than half of the width or depth", SL_LENGTH);

  WORD_AS(sh, shape, in->shape, sl_outline_shapes[in->shape]);
  GIVEN(sh, SL_LENGTH, width, in->width);
  if (!isnan(in->depth)) { GIVEN(sh, SL_LENGTH, deep, in->depth); }
  if (!solid) { GIVEN(sh, SL_LENGTH, t, in->wall); }
  if (!isnan(in->corner)) { GIVEN(sh, SL_LENGTH, R_out, in->corner); }
  struct sums all = { 0, 0, 0 };
  const double wall = solid ? 0 : in->wall;
  const enum sl_status status = round ? add_round(width, wall, &all, sh) : add_rectangle(in, depth, wall, &all, sh);
  if (status != SL_OK) return status;
  SUM(sh, SL_SECTION, A, all.area, A_part, MECHANICS);
  SUM(sh, SL_INERTIA, I_x, all.inertia, I_part, MECHANICS);
  SUM(sh, SL_MODULUS, Z, all.plastic, Z_part, MECHANICS);
  LOOKUP(sh, SL_LENGTH, d_out, depth, "outside, the way it is bent", MECHANICS, SL_DERIVED);
  STEP(sh, SL_MODULUS, S, I_x / (d_out / 2), MECHANICS);
  STEP(sh, SL_LENGTH, r, sqrt(I_x / A), MECHANICS);
  GIVES(sh, out, area, A);
  GIVES(sh, out, inertia, I_x);
  GIVES(sh, out, modulus, S);
  GIVES(sh, out, plastic, Z);
  GIVES(sh, out, radius, r);
  return SL_OK;
}
