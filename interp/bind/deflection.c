/* SPDX-License-Identifier: MIT
 * Deflection limits as Lua sees them. */
#include "bind/bind.h"
#include "stringline/deflection.h"

static const struct sl_field deflection_limit_in[] = {
  SL_TEXT(struct sl_deflection_limit_in, member, "roof, farm building, greenhouse or metal siding"),
  SL_TEXT(struct sl_deflection_limit_in, load, "live, snow, wind, or dead and live"),
  SL_TEXT(struct sl_deflection_limit_in, edition, "edition of the building code: \"IBC 2021\""),
};
static const struct sl_field deflection_limit_out[] = {
  SL_REAL(struct sl_deflection_limit_out, ratio, SL_NUMBER, "span over deflection, at least"),
};
SL_OP_CALL(deflection_limit)

SL_OPS(deflection, 46) = {
  SL_OP(deflection_limit, "how far a member may bend"),
  {0},
};
