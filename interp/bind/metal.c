/* SPDX-License-Identifier: MIT
 * Members of steel and aluminum as Lua sees them. */
#include "bind/bind.h"
#include "stringline/metal.h"

#define OUT(m, dim, help) SL_REAL(struct sl_metal_section_out, m, dim, help)
static const struct sl_field metal_section_in[] = {
  SL_TEXT(struct sl_metal_section_in, section, "pipe, square tube or strut, such as pipe 2 std"),
};
static const struct sl_field metal_section_out[] = {
  OUT(width, SL_LENGTH, "outer diameter or side"),
  OUT(wall, SL_LENGTH, "nominal of a pipe, of design of a tube"),
  OUT(mass, SL_MASS_LENGTH, "per length"),
  OUT(area, SL_SECTION, "of the section"),
  OUT(inertia, SL_INERTIA, "second moment of the area"),
  OUT(modulus, SL_MODULUS, "elastic section modulus"),
  OUT(radius, SL_LENGTH, "of gyration"),
  SL_REAL_OPT(struct sl_metal_section_out, plastic, SL_MODULUS, "plastic section modulus"),
};
#undef OUT
SL_OP_CALL(metal_section)

#define S struct sl_metal_in
static const struct sl_field metal_in[] = {
  SL_TEXT_OPT(S, section, "pipe, square tube or strut, such as pipe 2 std; without it the properties below"),
  SL_REAL_OPT(S, area, SL_SECTION, "of an own section"),
  SL_REAL_OPT(S, plastic, SL_MODULUS, "plastic section modulus of an own section, compact, for steel that is bent"),
  SL_REAL_OPT(S, radius, SL_LENGTH, "least radius of gyration of an own section, for steel that is pressed"),
  SL_REAL_OPT(S, width, SL_LENGTH, "outside, of an own tube of steel: with its wall, for whether that is compact"),
  SL_REAL_OPT(S, wall, SL_LENGTH, "of that tube"),
  SL_FLAG_OPT(S, round, "that tube is round; else square"),
  SL_TEXT(S, material, "such as A53 Gr B, A500 Gr B, 6061-T6; not welded"),
  SL_REAL(S, moment, SL_MOMENT, "bending moment, at the level of the method"),
  SL_REAL(S, axial, SL_FORCE, "at that level; compression above 0, tension below"),
  SL_REAL_OPT(S, length, SL_LENGTH, "effective length of buckling"),
  SL_CHOICE_OPT(S, method, sl_methods, "allowable strength, or strength against factored loads; without it allowable"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_metal_out, m, dim, help)
static const struct sl_field metal_out[] = {
  SL_REAL_OPT(struct sl_metal_out, allowed_moment, SL_MOMENT, "that it may bear"),
  OUT(allowed_axial, SL_FORCE, "compression or tension that it may bear"),
  OUT(used_bending, SL_NUMBER, "moment over what is allowed"),
  OUT(used_axial, SL_NUMBER, "force over what is allowed"),
  OUT(used_combined, SL_NUMBER, "both together"),
  OUT(worst, SL_NUMBER, "the largest of these; holds at 1 or less"),
  SL_TEXT(struct sl_metal_out, governs, "which that is"),
};
#undef OUT
SL_OP_CALL(metal)

SL_OPS(metal, 45) = {
  SL_OP(metal_section, "properties of a steel pipe, square tube or strut"),
  SL_OP(metal, "member of steel or aluminum: what it may bear, and how far it is used"),
  {0},
};
