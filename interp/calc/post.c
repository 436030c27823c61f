/* SPDX-License-Identifier: MIT
 * Posts and what they stand in: legs, stock, foot plates, blocks, tolerances. */
#include "calc.h"
#include "guard.h"
#include "table.h"
#include "stringline/post.h"

#define GEOMETRY "plane geometry"
#define SQUARES  "root of the sum of squares, common practice"

static const double slack = 1e-9;

enum sl_status sl_leg(const struct sl_leg_in *in, struct sl_leg_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, needed, SL_LENGTH);
  NOT_NEGATIVE(sh, in, slide, SL_LENGTH);
  if (!in->nlengths) return sl_sheet_fault(sh, SL_BAD_INPUT, "lengths", "has no length", "", NAN, NAN, SL_LENGTH);
  size_t best = 0;
  for (size_t i = 0; i < in->nlengths; i++) {
    REQUIRE_ITEM(sh, in, lengths, i, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ITEM(sh, in, lengths, i, < INFINITY, "must be a finite number", SL_LENGTH);
    const double nearer = fabs(in->lengths[best] - in->needed) - fabs(in->lengths[i] - in->needed);
    const bool as_near = fabs(nearer) <= slack * in->needed;
    if (as_near ? in->lengths[i] < in->lengths[best] : nearer > 0) best = i;
  }
  WORKED(sh, in->nlengths);

  GIVEN(sh, SL_LENGTH, needed, in->needed);
  GIVEN(sh, SL_LENGTH, slide, in->slide);
  GIVEN(sh, SL_LENGTH, L, in->lengths[best]);
  STEP(sh, SL_LENGTH, off, fabs(L - needed), "the nearest length that is had");
  STEP(sh, SL_LENGTH, left, slide - off, GEOMETRY);
  GIVES(sh, out, length, L);
  GIVES(sh, out, off, off);
  GIVES(sh, out, left, left);
  return SL_OK;
}

enum sl_status sl_trim(const struct sl_trim_in *in, struct sl_trim_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, stock, SL_LENGTH);
  POSITIVE(sh, in, cut, SL_LENGTH);
  NOT_NEGATIVE(sh, in, reserve, SL_LENGTH);
  NOT_NEGATIVE(sh, in, embedment, SL_LENGTH);

  GIVEN(sh, SL_LENGTH, stock, in->stock);
  GIVEN(sh, SL_LENGTH, cut, in->cut);
  GIVEN(sh, SL_LENGTH, reserve, in->reserve);
  GIVEN(sh, SL_LENGTH, embedment, in->embedment);
  STEP(sh, SL_LENGTH, needed, cut + reserve, GEOMETRY);
  STEP(sh, SL_LENGTH, spare, stock - needed, GEOMETRY);
  STEP(sh, SL_LENGTH, embedment_left, embedment - fmax(0, cut - stock), "its top stays where it belongs");
  GIVES(sh, out, needed, needed);
  GIVES(sh, out, spare, spare);
  GIVES(sh, out, embedment_left, embedment_left);
  return SL_OK;
}

enum sl_status sl_plate(const struct sl_plate_in *in, struct sl_plate_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, width, SL_LENGTH);
  const bool lines = !isnan(in->screw_line), by_fastener = isnan(in->edge);
  if (lines) {
    NOT_NEGATIVE(sh, in, screw_line, SL_LENGTH);
    REQUIRE(sh, in, screw_line, <= in->width * (1 + slack), "must not be wider than the plate", SL_LENGTH);
  }
  if (by_fastener == isnan(in->fastener))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "edge", "or the fastener must be given, one of the two", "", NAN, NAN,
                          SL_LENGTH);
  if (by_fastener) { POSITIVE(sh, in, fastener, SL_LENGTH); }
  else { NOT_NEGATIVE(sh, in, edge, SL_LENGTH); }

  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, s, lines ? in->screw_line : in->width);
  if (sh && sh->cap) sl_sheet_is(sh, lines ? "in->screw_line" : "in->width");
  if (by_fastener) {
    EDITION(sh, in, edition, "NDS", edition);
    GIVEN(sh, SL_LENGTH, D, in->fastener);
    FACT(sh, SL_NUMBER, n, "edge_loaded", edition);
    STEP(sh, SL_LENGTH, edge, n * D, "@wood_edge");
    STEP(sh, SL_LENGTH, face, fmax(b, s + 2 * edge), GEOMETRY);
    GIVES(sh, out, edge, edge);
    GIVES(sh, out, least, face);
    return SL_OK;
  }
  GIVEN(sh, SL_LENGTH, edge, in->edge);
  STEP(sh, SL_LENGTH, face, fmax(b, s + 2 * edge), GEOMETRY);
  GIVES(sh, out, edge, edge);
  GIVES(sh, out, least, face);
  return SL_OK;
}

enum sl_status sl_tolerance_stack(const struct sl_tolerance_stack_in *in, struct sl_tolerance_stack_out *out,
                                  struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, layout, SL_LENGTH);
  NOT_NEGATIVE(sh, in, drift, SL_LENGTH);
  NOT_NEGATIVE(sh, in, plumb, SL_RATIO);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);

  GIVEN(sh, SL_LENGTH, layout, in->layout);
  GIVEN(sh, SL_LENGTH, drift, in->drift);
  GIVEN(sh, SL_RATIO, plumb, in->plumb);
  GIVEN(sh, SL_LENGTH, h, in->height);
  STEP(sh, SL_LENGTH, lean, plumb * h, GEOMETRY);
  STEP(sh, SL_LENGTH, error, sqrt(layout * layout + drift * drift + lean * lean), SQUARES);
  GIVES(sh, out, lean, lean);
  GIVES(sh, out, error, error);
  return SL_OK;
}

enum sl_status sl_block(const struct sl_block_in *in, struct sl_block_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, length, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, density, SL_DENSITY);

  GIVEN(sh, SL_LENGTH, l, in->length);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, h, in->height);
  GIVEN(sh, SL_DENSITY, rho, in->density);
  STEP(sh, SL_VOLUME, V, l * b * h, GEOMETRY);
  STEP(sh, SL_MASS, m, rho * V, GEOMETRY);
  GIVES(sh, out, volume, V);
  GIVES(sh, out, mass, m);
  return SL_OK;
}
