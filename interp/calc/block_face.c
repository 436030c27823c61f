/* SPDX-License-Identifier: MIT
 * Wind on the face of a block that stands on the ground, beside what comes to it. */
#include "guard.h"
#include "room.h"
#include "uplift.h"

#define STATICS "statics"

enum { STRIPS_MOST = 40 };

size_t sl_wind_on_faces_need(const struct sl_wind_on_faces_in *in) {
  return NEED(0, struct sl_block_force, in->nforces <= SL_BLOCK_CASES ? in->nforces : 0);
}

static enum sl_status check(const struct sl_wind_on_faces_in *in, struct sl_sheet *sh) {
  CHECK_FORCES(sh, in);
  NOT_NEGATIVE(sh, in, pressure, SL_PRESSURE);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, height, SL_LENGTH);
  NOT_NEGATIVE(sh, in, raise, SL_LENGTH);
  if (in->nstrips > STRIPS_MOST)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "strips", "must be 40 at most", "", (double)in->nstrips, STRIPS_MOST,
                          SL_NUMBER);
  for (size_t i = 0; i < in->nstrips; i++) {
    NOT_NEGATIVE_ROW(sh, in, strips, i, from, SL_LENGTH);
    REQUIRE_ROW(sh, in, strips, i, to, >= in->strips[i].from, "must not end before it begins", SL_LENGTH);
    REQUIRE_ROW(sh, in, strips, i, to, <= in->width * (1 + 1e-9), "must end with the face", SL_LENGTH);
    NOT_NEGATIVE_ROW(sh, in, strips, i, pressure, SL_PRESSURE);
  }
  return SL_OK;
}

enum sl_status sl_wind_on_faces(const struct sl_wind_on_faces_in *in, struct sl_wind_on_faces_out *out,
                                struct sl_space space, struct sl_sheet *sh) {
  const enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_wind_on_faces_need(in));
  GIVEN(sh, SL_PRESSURE, p, in->pressure);
  GIVEN(sh, SL_LENGTH, B, in->width);
  GIVEN(sh, SL_LENGTH, s, in->height);
  GIVEN(sh, SL_LENGTH, raise, in->raise);
  double in_strips = 0;
  LINES(sh, "strips of the face");
  for (size_t i = 0; i < in->nstrips; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, from, in->strips[i].from);
    GIVEN(sh, SL_LENGTH, to, in->strips[i].to);
    GIVEN(sh, SL_PRESSURE, p_strip, in->strips[i].pressure);
    STEP(sh, SL_FORCE, F_strip, p_strip * (to - from) * s, STATICS);
    in_strips += F_strip;
  }
  LINES_END(sh);
  SUM(sh, SL_FORCE, F_strips, in_strips, F_strip, STATICS);
  STEP(sh, SL_FORCE, F, fmax(p * B * s, F_strips), "the more of both");
  STEP(sh, SL_LENGTH, a, s / 2 + raise, STATICS);
  struct sl_block_force *const forces = PART(&space, struct sl_block_force, in->nforces);
  LINES(sh, "cases");
  for (size_t i = 0; i < in->nforces; i++) {
    LINE(sh);
    FORCES_OF_CASE(sh, in, i);
    STEP(sh, SL_NUMBER, way, H < 0 ? -1 : H > 0 ? 1 : T < 0 ? -1 : 1, "the way that it pushes, or turns");
    STEP(sh, SL_FORCE, H_face, H + way * F, STATICS);
    STEP(sh, SL_MOMENT, T_face, T + way * F * a, STATICS);
    GIVES_ROW(sh, forces, i, up, U);
    GIVES_ROW(sh, forces, i, side, H_face);
    GIVES_ROW(sh, forces, i, turning, T_face);
  }
  LINES_END(sh);
  *out = (struct sl_wind_on_faces_out){ .forces = forces, .nforces = in->nforces };
  GIVES(sh, out, force, F);
  GIVES(sh, out, arm, a);
  return SL_OK;
}
