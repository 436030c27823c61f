/* SPDX-License-Identifier: MIT
 * Ground screws as Lua sees them. */
#include "bind/bind.h"
#include "stringline/screw.h"

#define S struct sl_screw_anchor_in
static const struct sl_field screw_anchor_in[] = {
  SL_REAL_OPT(S, axial, SL_FORCE, "along the screw, push or pull, allowable level; without it what it holds alone"),
  SL_REAL_OPT(S, lateral, SL_FORCE, "across the screw, allowable level"),
  SL_TEXT_OPT(S, shaft, "of the screw, as the table of torque correlation has it"),
  SL_REAL_OPT(S, torque, SL_MOMENT, "that it was driven with last"),
  SL_LIST(S, pulls, npulls, SL_FORCE, "that screws of this job held in a test, in place of torque"),
  SL_REAL_OPT(S, sideways, SL_FORCE, "allowable load across it, by a test or a table"),
  SL_REAL_OPT(S, helix, SL_LENGTH, "diameter of the top helix; by pulls one may have none"),
  SL_REAL_OPT(S, top_depth, SL_LENGTH, "of the top helix below grade"),
  SL_REAL(S, frost, SL_LENGTH, "depth to which the ground freezes"),
  SL_TEXT(S, edition, "edition of the building code: \"IBC 2021\""),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_screw_anchor_out, m, dim, help)
static const struct sl_field screw_anchor_out[] = {
  OUT(ultimate, SL_FORCE, "axial strength, or the least pull of the log"),
  OUT(safety, SL_NUMBER, "what that is divided by"),
  OUT(allowable, SL_FORCE, "along the screw"),
  SL_REAL_OPT(struct sl_screw_anchor_out, ratio, SL_NUMBER, "axial load over what is allowable; none without a load"),
  SL_REAL_OPT(struct sl_screw_anchor_out, sideways_ratio, SL_NUMBER, "load across it over what is allowable; none "
              "where that is not known"),
};
#undef OUT
SL_OP_CALL(screw_anchor)

SL_OPS(screw, 43) = {
  SL_OP(screw_anchor, "what a ground screw holds, by torque or by pulls"),
  {0},
};
