/* SPDX-License-Identifier: MIT
 * Wood around bolts and lag screws: rows and groups torn out along the grain, members split across it. */
#include "fastener.h"
#include "stringline/tearing.h"

#define ROWS  "@row_tear"
#define GROUP "@group_tear"
#define SPLIT "@wood_connection"
#define USED  "demand over what is allowed; holds at 1 or less"

FITS_COLUMN(wood_fasteners, size, struct sl_tear_out_in, size)

#define MOST 100
#define COUNTED(sh, in, member) \
  do { REQUIRE(sh, in, member, >= 1, "must be 1 at least", SL_NUMBER); \
       REQUIRE(sh, in, member, <= MOST, "are more than can be worked", SL_NUMBER); } while (0)
#define APART(sh, in, member, several) \
  do { \
    if ((several) > 1) POSITIVE(sh, in, member, SL_LENGTH); \
    else if (!isnan((in)->member)) \
      return sl_sheet_fault(sh, SL_BAD_INPUT, #member, "of one: leave it out", "", (in)->member, NAN, SL_LENGTH); \
  } while (0)

/* Each fastener shears the wood on two lines up to the next one, or to the end; that the stress along these is taken as
 * a triangle halves it: no factor is left. */
static enum sl_status rows_alone(const struct sl_tear_out_in *in, double *one_row, struct sl_tear_out_out *out,
                                 struct sl_sheet *sh) {
  GIVEN(sh, SL_STRESS, Fv_a, in->shear);
  GIVEN(sh, SL_LENGTH, t, in->thickness);
  GIVEN(sh, SL_NUMBER, n, in->count);
  GIVEN(sh, SL_NUMBER, n_rows, in->rows);
  GIVEN(sh, SL_LENGTH, end, in->to_end);
  double least = in->to_end;
  if (in->count > 1) {
    GIVEN(sh, SL_LENGTH, s, in->spacing);
    STEP(sh, SL_LENGTH, s_critical, fmin(end, s), ROWS);
    least = s_critical;
  } else {
    STEP(sh, SL_LENGTH, s_critical, end, ROWS);
    least = s_critical;
  }
  const double s_critical = least;
  STEP(sh, SL_FORCE, Z_row, n * Fv_a * t * s_critical, ROWS);
  STEP(sh, SL_FORCE, Z_RT, n_rows * Z_row, ROWS);
  GIVES(sh, out, row, Z_row);
  GIVES(sh, out, all_rows, Z_RT);
  *one_row = Z_row;
  return SL_OK;
}

/* Half of the outermost rows, which are alike, and the wood between the rows in tension. */
static enum sl_status in_one_piece(const struct sl_tear_out_in *in, const sl_fastener_row *row, double one_row,
                                   int edition, struct sl_tear_out_out *out, struct sl_sheet *sh) {
  const double t = in->thickness, n_rows = in->rows, Z_row = one_row;
  HEADING(sh, "all rows in one piece");
  WORD(sh, size, in->size);
  double d_h = 0;
  const enum sl_status status = sl_fastener_hole(row, in->kind, edition, &d_h, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_LENGTH, s_row, in->row_spacing);
  WITHIN(sh, "row_spacing", s_row, >, d_h, "leaves no wood between the holes of two rows", GROUP, SL_LENGTH);
  GIVEN(sh, SL_STRESS, Ft_a, in->tension);
  STEP(sh, SL_SECTION, A_group, t * (n_rows - 1) * (s_row - d_h), GROUP);
  STEP(sh, SL_FORCE, Z_GT, Z_row / 2 + Z_row / 2 + Ft_a * A_group, GROUP);
  GIVES(sh, out, group, Z_GT);
  return SL_OK;
}

enum sl_status sl_tear_out(const struct sl_tear_out_in *in, struct sl_tear_out_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  POSITIVE(sh, in, shear, SL_STRESS);
  POSITIVE(sh, in, tension, SL_STRESS);
  POSITIVE(sh, in, thickness, SL_LENGTH);
  COUNTED(sh, in, count);
  COUNTED(sh, in, rows);
  APART(sh, in, spacing, in->count);
  APART(sh, in, row_spacing, in->rows);
  POSITIVE(sh, in, to_end, SL_LENGTH);
  NOT_NEGATIVE(sh, in, pull, SL_FORCE);
  EDITION(sh, in, edition, "NDS", edition);
  const sl_fastener_row *const row = sl_fastener_of(in->kind, in->size, edition);
  if (!row) return NO_SIZE(sh);
  double one_row = 0;
  memset(out, 0, sizeof *out);
  out->group = NAN;
  enum sl_status status = rows_alone(in, &one_row, out, sh);
  if (status == SL_OK && in->rows > 1) status = in_one_piece(in, row, one_row, edition, out, sh);
  if (status != SL_OK) return status;
  HEADING(sh, "what they are pulled with");
  const bool together = out->group < out->all_rows;              /* no number of one row: then not */
  memcpy(out->governs, together ? "group" : "rows", together ? sizeof "group" : sizeof "rows");
  GIVEN(sh, SL_FORCE, P, in->pull);
  double least;
  if (in->rows > 1) {
    const double Z_RT = out->all_rows, Z_GT = out->group;
    STEP(sh, SL_FORCE, Z_tear, fmin(Z_RT, Z_GT), "the least");
    least = Z_tear;
  } else {
    const double Z_RT = out->all_rows;
    STEP(sh, SL_FORCE, Z_tear, Z_RT, "one row");
    least = Z_tear;
  }
  const double Z_tear = least;
  STEP(sh, SL_NUMBER, used, P / Z_tear, USED);
  GIVES(sh, out, allowed, Z_tear);
  GIVES(sh, out, used, used);
  return SL_OK;
}

enum sl_status sl_split_across(const struct sl_split_across_in *in, struct sl_split_across_out *out,
                               struct sl_sheet *sh) {
  POSITIVE(sh, in, stress, SL_STRESS);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, depth, SL_LENGTH);
  POSITIVE(sh, in, reach, SL_LENGTH);
  REQUIRE(sh, in, reach, <= in->depth * (1 + 1e-9), "must not be more than the depth", SL_LENGTH);
  NOT_NEGATIVE(sh, in, to_end, SL_LENGTH);
  NOT_NEGATIVE(sh, in, shear, SL_FORCE);
  EDITION(sh, in, edition, "NDS", edition);
  GIVEN(sh, SL_STRESS, Fv_a, in->stress);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, d, in->depth);
  GIVEN(sh, SL_LENGTH, d_e, in->reach);
  GIVEN(sh, SL_LENGTH, end, in->to_end);
  GIVEN(sh, SL_FORCE, V, in->shear);
  FACT(sh, SL_NUMBER, far_d, "connection_end", edition);
  STEP(sh, SL_LENGTH, far, far_d * d, SPLIT);
  STEP(sh, SL_FORCE, V_far, 2.0 / 3 * Fv_a * b * d_e, SPLIT);
  double allowed;
  if (end < far * (1 - 1e-9)) {
    FACT(sh, SL_NUMBER, power, "connection_power", edition);
    STEP(sh, SL_FORCE, V_r, V_far * pow(d_e / d, power), SPLIT);
    allowed = V_r;
  } else {
    STEP(sh, SL_FORCE, V_r, V_far, SPLIT);
    allowed = V_r;
  }
  const double V_r = allowed;
  STEP(sh, SL_NUMBER, used, V / V_r, USED);
  GIVES(sh, out, allowed, V_r);
  GIVES(sh, out, used, used);
  return SL_OK;
}
