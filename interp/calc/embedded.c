/* SPDX-License-Identifier: MIT
 * Moments of a post that stands in soil; see embedded.h. */
#include "guard.h"
#include "post_numbers.h"
#include "table.h"
#include "stringline/embedded.h"

#define UNCONSTRAINED "@post_unconstrained"
#define CONSTRAINED   "@post_constrained"
#define ON_TOP        "soil that does not count, on top"
#define RIGID         "statics of a stiff post that turns in soil which grows stiffer with depth"
#define WHOLE         "statics, soil used whole from the top on"

enum sl_status sl_embed_moment(const struct sl_embed_moment_in *in, struct sl_embed_moment_out *out,
                               struct sl_sheet *sh) {
  POSITIVE(sh, in, depth, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, bearing, SL_SOIL);
  NOT_NEGATIVE(sh, in, neglect, SL_LENGTH);
  REQUIRE(sh, in, depth, > in->neglect, "must be more than the soil that does not count", SL_LENGTH);
  EDITION(sh, in, edition, "IBC", edition);
  struct post_numbers numbers = { .edition = edition };
  const struct post_numbers *const found = &numbers;
  const enum sl_status status = find_post_numbers(&numbers, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_LENGTH, depth, in->depth);
  GIVEN(sh, SL_LENGTH, w, in->width);
  GIVEN(sh, SL_NUMBER, square, in->square);
  GIVEN(sh, SL_SOIL, s, in->bearing);
  GIVEN(sh, SL_NUMBER, isolated, in->isolated);
  GIVEN(sh, SL_LENGTH, n, in->neglect);
  GIVEN(sh, SL_NUMBER, from_grade, in->from_grade);
  POST_NUMBER_ROW(sh, SL_NUMBER, twice, found, isolated);
  POST_NUMBER_ROW(sh, SL_LENGTH, d_max, found, deepest);
  STEP(sh, SL_NUMBER, f, isolated > 0 ? twice : 1, "@soil_isolated");
  STEP(sh, SL_LENGTH, b, square > 0 ? sqrt(2) * w : w, "diagonal of a square post");
  STEP(sh, SL_LENGTH, z, from_grade > 0 ? n : 0, "pressure grows from grade, or from where soil counts");
  STEP(sh, SL_LENGTH, d_c, depth - n, ON_TOP);
  if (in->held) {
    POST_NUMBER_ROW(sh, SL_NUMBER, c_h, found, held);
    STEP(sh, SL_PRESSURE, S3, f * s * fmin(z + d_c, d_max), CONSTRAINED);
    STEP(sh, SL_MOMENT, M, S3 * b * d_c * d_c / c_h, CONSTRAINED);
    STEP(sh, SL_LENGTH, arm, 0, "what holds it at grade takes the push");
    GIVES(sh, out, alone, M);
    GIVES(sh, out, arm, arm);
    GIVES(sh, out, pressure, S3);
    return SL_OK;
  }
  POST_NUMBER_ROW(sh, SL_NUMBER, n_S, found, share);
  POST_NUMBER_ROW(sh, SL_NUMBER, c_A, found, a);
  POST_NUMBER_ROW(sh, SL_NUMBER, c_h, found, lever);
  STEP(sh, SL_PRESSURE, S1, f * s * fmin(z + d_c / n_S, d_max), UNCONSTRAINED);
  STEP(sh, SL_MOMENT, M, 4 / c_h * S1 * b * d_c * d_c / c_A, UNCONSTRAINED);
  STEP(sh, SL_LENGTH, arm, 4 / c_h * d_c + n, UNCONSTRAINED);
  GIVES(sh, out, alone, M);
  GIVES(sh, out, arm, arm);
  GIVES(sh, out, pressure, S1);
  return SL_OK;
}

/* The bearing by which the code's formula gives the depth for the tested load: S1 turned, a third of the depth down. */
static enum sl_status by_test(const struct sl_buried_moment_in *in, int edition, double counted, double *bearing,
                              struct sl_sheet *sh) {
  POSITIVE(sh, in, tested, SL_FORCE);
  if (!isnan(in->tested_at)) NOT_NEGATIVE(sh, in, tested_at, SL_LENGTH);
  struct post_numbers numbers = { .edition = edition };
  const struct post_numbers *const found = &numbers;
  const enum sl_status status = find_post_numbers(&numbers, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_FORCE, P_t, in->tested);
  GIVEN(sh, SL_LENGTH, h_t, isnan(in->tested_at) ? 0 : in->tested_at);
  if (!isnan(in->tested_at) && sh && sh->cap) sl_sheet_is(sh, "in->tested_at");
  GIVEN(sh, SL_LENGTH, n, in->neglect);
  GIVEN(sh, SL_LENGTH, w, in->width);
  LOOKUP(sh, SL_LENGTH, d_c, counted, "of the depth what is in soil that counts", WHOLE, SL_DERIVED);
  POST_NUMBER_ROW(sh, SL_NUMBER, n_S, found, share);
  POST_NUMBER_ROW(sh, SL_NUMBER, c_A, found, a);
  POST_NUMBER_ROW(sh, SL_NUMBER, c_h, found, lever);
  STEP(sh, SL_SOIL, s_t, n_S * c_A * P_t * (d_c + c_h / 4 * (h_t + n)) / (w * d_c * d_c * d_c), UNCONSTRAINED);
  *bearing = s_t;
  return SL_OK;
}

enum sl_status sl_buried_moment(const struct sl_buried_moment_in *in, struct sl_buried_moment_out *out,
                                struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, lateral, SL_FORCE);
  NOT_NEGATIVE(sh, in, moment, SL_MOMENT);
  POSITIVE(sh, in, depth, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  NOT_NEGATIVE(sh, in, neglect, SL_LENGTH);
  REQUIRE(sh, in, depth, > in->neglect, "must be more than the soil that does not count", SL_LENGTH);
  const bool known = !isnan(in->bearing), tested = !isnan(in->tested);
  if (!known && !tested)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "bearing", "of the soil or a tested load must be given", "", NAN, NAN,
                          SL_SOIL);
  if (known) POSITIVE(sh, in, bearing, SL_SOIL);
  if (!tested && !isnan(in->tested_at))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "tested_at", "is given without the tested load", "", in->tested_at, NAN,
                          SL_LENGTH);
  EDITION(sh, in, edition, "IBC", edition);
  double by_soil = known ? in->bearing : 0, by_load = 0;
  if (tested) {
    const enum sl_status status = by_test(in, edition, in->depth - in->neglect, &by_load, sh);
    if (status != SL_OK) return status;
  }
  GIVEN(sh, SL_FORCE, P, in->lateral);
  GIVEN(sh, SL_MOMENT, M_grade, in->moment);
  GIVEN(sh, SL_LENGTH, depth, in->depth);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, top, in->neglect);
  STEP(sh, SL_LENGTH, d, depth - top, ON_TOP);
  STEP(sh, SL_MOMENT, M, M_grade + P * top, ON_TOP);

  HEADING(sh, "stiff, turning in the ground");
  STEP(sh, SL_FORCE, Q, 8 * P + 12 * M / d, RIGID);
  STEP(sh, SL_NUMBER, t, P > 0 ? (P + sqrt(P * P + 4 * P * Q)) / (2 * Q) : 0, RIGID);
  STEP(sh, SL_LENGTH, z_1, t * d, RIGID);
  STEP(sh, SL_MOMENT, M_1, M + P * z_1 - (3 * P * d + 4 * M) * t * t * t + (2 * P * d + 3 * M) * t * t * t * t, RIGID);

  HEADING(sh, "soil used whole");
  if (known) { GIVEN(sh, SL_SOIL, s, in->bearing); by_soil = s; }
  LOOKUP(sh, SL_SOIL, s_c, fmax(by_soil, by_load), "bearing of the soil, or as the test tells it, if that is more",
         WHOLE, SL_DERIVED);
  STEP(sh, SL_LENGTH, z_2, sqrt(2 * P / (s_c * b)), WHOLE);
  WITHIN(sh, "lateral", z_2, <=, d, "is not brought to rest by the soil within the depth that counts, by its allowable "
         "bearing: what bends the post most is not known", WHOLE, SL_LENGTH);
  STEP(sh, SL_MOMENT, M_2, M + P * z_2 * 2 / 3, WHOLE);

  STEP(sh, SL_MOMENT, M_most, fmax(M_1, M_2), "the larger of the two");
  STEP(sh, SL_LENGTH, z_most, top + (M_2 >= M_1 ? z_2 : z_1), "the larger of the two");
  GIVES(sh, out, moment, M_most);
  GIVES(sh, out, at, z_most);
  GIVES(sh, out, bearing, s_c);
  return SL_OK;
}
