/* SPDX-License-Identifier: MIT
 * The steel of a bolt as Lua sees it. */
#include "bind/bind.h"
#include "stringline/bolts.h"

#define S struct sl_bolt_steel_in
static const struct sl_field bolt_steel_in[] = {
  SL_REAL(S, diameter, SL_LENGTH, "of the bolt"),
  SL_TEXT_OPT(S, grade, "of its steel: A307, A325, SAE grade 5; without it the weakest of the table counts"),
  SL_COUNT(S, planes, "of shear, 1 or 2"),
  SL_FLAG_OPT(S, smooth, "no plane of shear meets the thread"),
  SL_REAL(S, tension, SL_FORCE, "that pulls at one bolt, at the level of the method"),
  SL_REAL(S, shear, SL_FORCE, "that shears it at the same time, all planes together"),
  SL_CHOICE_OPT(S, method, sl_methods, "allowable strength, or strength against factored loads; without it allowable"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_bolt_steel_out, m, dim, help)
static const struct sl_field bolt_steel_out[] = {
  OUT(tension_stress, SL_STRESS, "nominal, on the whole section"),
  OUT(shear_stress, SL_STRESS, "nominal, on the whole section"),
  OUT(tension_allowed, SL_FORCE, "that it may bear alone"),
  OUT(shear_allowed, SL_FORCE, "that it may bear alone, all planes together"),
  OUT(tension_beside, SL_FORCE, "that it may bear beside that shear"),
  OUT(used_tension, SL_NUMBER, "tension over what is allowed"),
  OUT(used_shear, SL_NUMBER, "shear over what is allowed"),
  OUT(used, SL_NUMBER, "both together; holds at 1 or less"),
  SL_TEXT(struct sl_bolt_steel_out, grade, "that counts"),
};
#undef OUT
SL_OP_CALL(bolt_steel)

SL_OPS(bolts, 49) = {
  SL_OP(bolt_steel, "steel of a bolt: what it may bear pulled, sheared, and both at once"),
  {0},
};
