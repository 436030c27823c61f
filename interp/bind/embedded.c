/* SPDX-License-Identifier: MIT
 * Moments of posts that stand in soil, as Lua sees them. */
#include "bind/soil.h"
#include "stringline/embedded.h"

#define S struct sl_embed_moment_in
static const struct sl_field embed_moment_in[] = {
  SL_REAL(S, depth, SL_LENGTH, "of its foot below grade"),
  EMBEDDED(S),
  BUILDING(S),
};
#undef S
static const struct sl_field embed_moment_out[] = {
  SL_REAL(struct sl_embed_moment_out, alone, SL_MOMENT, "at grade, that it takes without a push"),
  SL_REAL(struct sl_embed_moment_out, arm, SL_LENGTH, "what a push takes off that, for each of its force"),
  SL_REAL(struct sl_embed_moment_out, pressure, SL_PRESSURE, "S1 at that depth, S3 of a post that is held"),
};
SL_OP_CALL(embed_moment)

#define S struct sl_buried_moment_in
static const struct sl_field buried_moment_in[] = {
  SL_REAL(S, lateral, SL_FORCE, "push at grade, allowable level"),
  SL_REAL(S, moment, SL_MOMENT, "at grade, the same way round"),
  SL_REAL(S, depth, SL_LENGTH, "of its foot below grade"),
  SL_REAL(S, width, SL_LENGTH, "of the post or shaft in the soil: diameter or side"),
  SL_REAL_OPT(S, bearing, SL_SOIL, "allowable lateral bearing of the soil per depth, not doubled"),
  SL_REAL_OPT(S, tested, SL_FORCE, "load across such a post that a test or its maker's table allows"),
  SL_REAL_OPT(S, tested_at, SL_LENGTH, "of that load above grade; without it at grade"),
  SL_REAL(S, neglect, SL_LENGTH, "depth of the soil on top that does not count: what freezes"),
  BUILDING(S),
};
#undef S
static const struct sl_field buried_moment_out[] = {
  SL_REAL(struct sl_buried_moment_out, moment, SL_MOMENT, "largest in the post, at grade or below"),
  SL_REAL(struct sl_buried_moment_out, at, SL_LENGTH, "its depth below grade"),
  SL_REAL(struct sl_buried_moment_out, bearing, SL_SOIL, "of the soil as it was counted"),
};
SL_OP_CALL(buried_moment)

SL_OPS(embedded, 41) = {
  SL_OP(embed_moment, "what moment at the ground an embedment takes beside a push"),
  SL_OP(buried_moment, "what bends a post most that stands in soil, below the ground"),
  {0},
};
