/* SPDX-License-Identifier: MIT
 * Outlines of members as Lua sees them. */
#include "bind/bind.h"
#include "stringline/outline.h"

#define S struct sl_outline_in
static const struct sl_field outline_in[] = {
  SL_CHOICE(S, shape, sl_outline_shapes, "of its outside"),
  SL_REAL(S, width, SL_LENGTH, "across the way it is bent; of a round its diameter"),
  SL_REAL_OPT(S, depth, SL_LENGTH, "of a rectangle, the way it is bent; as its width if not said"),
  SL_REAL_OPT(S, wall, SL_LENGTH, "of a hollow one; solid if not said"),
  SL_REAL_OPT(S, corner, SL_LENGTH, "outside radius of a rectangle's corners; sharp if not said"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_outline_out, m, dim, help)
static const struct sl_field outline_out[] = {
  OUT(area, SL_SECTION, "of what is not hollow"),
  OUT(inertia, SL_INERTIA, "second moment of the area"),
  OUT(modulus, SL_MODULUS, "elastic section modulus"),
  OUT(plastic, SL_MODULUS, "plastic section modulus"),
  OUT(radius, SL_LENGTH, "of gyration"),
};
#undef OUT
SL_OP_CALL(outline)

SL_OPS(outline, 44) = {
  SL_OP(outline, "area, second moment and moduli of a rectangle or a round, solid or hollow"),
  {0},
};
