/* SPDX-License-Identifier: MIT
 * Members of sawn lumber as Lua sees them. */
#include "bind/bind.h"
#include "stringline/timber.h"

#define WOOD(s) SL_TEXT(s, edition, "edition of the wood standard: \"NDS 2018\"")

#define S struct sl_column_stability_in
static const struct sl_field column_stability_in[] = {
  SL_REAL(S, crushing, SL_STRESS, "along the grain, with all factors but that of stability"),
  SL_REAL(S, stiffness, SL_STRESS, "Emin with its factors"),
  SL_REAL(S, slenderness, SL_NUMBER, "effective length over the side that buckles"),
  WOOD(S),
};
#undef S
static const struct sl_field column_stability_out[] = {
  SL_REAL(struct sl_column_stability_out, buckling, SL_STRESS, "at which it buckles, FcE"),
  SL_REAL(struct sl_column_stability_out, factor, SL_NUMBER, "of column stability CP"),
};
SL_OP_CALL(column_stability)

#define S struct sl_timber_in
static const struct sl_field timber_in[] = {
  SL_TEXT(S, section, "nominal size, such as 6x6"),
  SL_TEXT(S, species, "of wood, such as Southern Pine"),
  SL_TEXT(S, grade, "such as No.2"),
  WOOD(S),
  SL_CHOICE(S, duration, sl_durations, "of the shortest load of the combination: ten minutes wind, two months snow"),
  SL_CHOICE_OPT(S, method, sl_methods, "allowable stresses, or strength against factored loads; without it allowable"),
  SL_FLAG_OPT(S, wet, "moisture above 19 % in service, as posts in the ground"),
  SL_FLAG_OPT(S, incised, "for treatment: refused, no factor of it is held"),
  SL_FLAG_OPT(S, on_flat, "bent about the weak axis"),
  SL_FLAG_OPT(S, repetitive, "dimension lumber, one of three or more that share their load"),
  SL_REAL(S, moment, SL_MOMENT, "bending moment, at the level of the method"),
  SL_REAL_OPT(S, moment_weak, SL_MOMENT, "about the weak axis besides; none if not said"),
  SL_REAL(S, shear, SL_FORCE, "shear force, at that level"),
  SL_REAL(S, axial, SL_FORCE, "at that level; compression above 0, tension below"),
  SL_REAL_OPT(S, unbraced, SL_LENGTH, "effective length against rolling over; held all along if not said"),
  SL_REAL_OPT(S, length_strong, SL_LENGTH, "effective length of buckling about the strong axis"),
  SL_REAL_OPT(S, length_weak, SL_LENGTH, "effective length of buckling about the weak axis"),
  SL_REAL_OPT(S, bearing, SL_FORCE, "force across the grain at a support"),
  SL_REAL_OPT(S, bearing_length, SL_LENGTH, "that it rests on, along the member"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_timber_out, m, dim, help)
#define OPT(m, dim, help) SL_REAL_OPT(struct sl_timber_out, m, dim, help)
static const struct sl_field timber_out[] = {
  OUT(bending, SL_STRESS, "allowed, Fb'"),
  OUT(compression, SL_STRESS, "allowed along the grain, Fc'; of a stub if no length is said"),
  OUT(tension, SL_STRESS, "allowed along the grain, Ft'"),
  OUT(shear, SL_STRESS, "allowed, Fv'"),
  OUT(bearing, SL_STRESS, "allowed across the grain, Fc perp'"),
  OUT(stiffness, SL_STRESS, "modulus of elasticity E'"),
  OUT(beam_stability, SL_NUMBER, "factor CL"),
  OPT(column_stability, SL_NUMBER, "factor CP"),
  OUT(used_bending, SL_NUMBER, "stress of bending over what is allowed"),
  OUT(used_axial, SL_NUMBER, "stress of compression or tension over what is allowed"),
  OUT(used_combined, SL_NUMBER, "bending together with compression or tension"),
  OUT(used_shear, SL_NUMBER, "stress of shear over what is allowed"),
  OPT(used_bearing, SL_NUMBER, "stress across the grain over what is allowed"),
  OUT(worst, SL_NUMBER, "the largest of these; holds at 1 or less"),
  SL_TEXT(struct sl_timber_out, governs, "which that is"),
};
#undef OUT
#undef OPT
SL_OP_CALL(timber)

SL_OPS(timber, 44) = {
  SL_OP(column_stability, "what a slender column of sawn lumber keeps of its strength"),
  SL_OP(timber, "member of sawn lumber: allowed stresses, and how far it is used"),
  {0},
};
