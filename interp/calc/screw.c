/* SPDX-License-Identifier: MIT
 * Ground screws by torque or by pull tests. */
#include "guard.h"
#include "table.h"
#include "stringline/screw.h"

FITS_COLUMN(screw_torque, shaft, struct sl_screw_anchor_in, shaft)

#define DIVIDED "strength divided by its factor"

/* The ultimate strength and what it is divided by. */
struct strength { double ultimate, safety; };

static enum sl_status by_torque(const struct sl_screw_anchor_in *in, struct strength *to, struct sl_sheet *sh) {
  POSITIVE(sh, in, torque, SL_MOMENT);
  FIND(row, screw_torque, sl_same_text(row->shaft, in->shaft));
  if (!row) return NO_ROW(sh, "shaft", "is not in the table of torque correlation", sl_table_screw_torque->cite);
  GIVEN(sh, SL_MOMENT, T, in->torque);
  FROM(sh, SL_PER_HEIGHT, K_t, row, kt, row->name, SL_NO_EDITION);
  FACT(sh, SL_NUMBER, safety, "torque_safety", SL_NO_EDITION);
  STEP(sh, SL_FORCE, Q, K_t * T, row->cite);
  *to = (struct strength){ Q, safety };
  return SL_OK;
}

static enum sl_status by_pulls(const struct sl_screw_anchor_in *in, int edition, struct strength *to,
                               struct sl_sheet *sh) {
  size_t least = 0;
  for (size_t i = 0; i < in->npulls; i++) {
    REQUIRE_ITEM(sh, in, pulls, i, > 0, "must be greater than 0", SL_FORCE);
    REQUIRE_ITEM(sh, in, pulls, i, < INFINITY, "must be a finite number", SL_FORCE);
    if (in->pulls[i] < in->pulls[least]) least = i;
  }
  WORKED(sh, in->npulls);
  GIVEN(sh, SL_FORCE, pulled, in->pulls[least]);
  FACT(sh, SL_NUMBER, safety, "pull_safety", edition);
  STEP(sh, SL_FORCE, Q, pulled, "the least of the log");
  *to = (struct strength){ Q, safety };
  return SL_OK;
}

/* Of one that has a helix: it lies deep enough. */
static enum sl_status helix_below(const struct sl_screw_anchor_in *in, struct sl_sheet *sh) {
  POSITIVE(sh, in, helix, SL_LENGTH);
  POSITIVE(sh, in, top_depth, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, D, in->helix);
  GIVEN(sh, SL_LENGTH, top, in->top_depth);
  GIVEN(sh, SL_LENGTH, frost, in->frost);
  FACT(sh, SL_NUMBER, n_D, "helix_depth", SL_NO_EDITION);
  STEP(sh, SL_LENGTH, least, fmax(n_D * D, frost), "deep enough, and below what freezes");
  WITHIN(sh, "top_depth", top, >=, least * (1 - 1e-9), "is less than a top helix needs", fact_n_D->cite, SL_LENGTH);
  return SL_OK;
}

enum sl_status sl_screw_anchor(const struct sl_screw_anchor_in *in, struct sl_screw_anchor_out *out,
                               struct sl_sheet *sh) {
  const bool torque = !isnan(in->torque), sideways = !isnan(in->sideways), along = !isnan(in->axial);
  const bool across = !isnan(in->lateral), plain = in->npulls > 0 && isnan(in->helix) && isnan(in->top_depth);
  if (along) NOT_NEGATIVE(sh, in, axial, SL_FORCE);
  if (across) NOT_NEGATIVE(sh, in, lateral, SL_FORCE);
  NOT_NEGATIVE(sh, in, frost, SL_LENGTH);
  if (torque == (in->npulls > 0))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "torque", "or a log of pulls must be given, one of the two: nothing else "
                          "tells what a screw holds", "", in->torque, NAN, SL_MOMENT);
  if (sideways) POSITIVE(sh, in, sideways, SL_FORCE);
  else if (across && in->lateral > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "sideways", "must be given, by a test or a table: neither torque nor a "
                          "pull tells what a screw holds sideways", "", in->sideways, NAN, SL_FORCE);
  EDITION(sh, in, edition, "IBC", edition);
  struct strength strength = { 0, 0 };
  enum sl_status status = torque ? by_torque(in, &strength, sh) : by_pulls(in, edition, &strength, sh);
  if (status == SL_OK && !plain) status = helix_below(in, sh);
  if (status != SL_OK) return status;
  const double Q = strength.ultimate, safety = strength.safety;

  STEP(sh, SL_FORCE, allowable, Q / safety, DIVIDED);
  *out = (struct sl_screw_anchor_out){ .ratio = NAN, .sideways_ratio = NAN };
  GIVES(sh, out, ultimate, Q);
  GIVES(sh, out, safety, safety);
  GIVES(sh, out, allowable, allowable);
  if (along) {
    GIVEN(sh, SL_FORCE, P, in->axial);
    STEP(sh, SL_NUMBER, ratio, P / allowable, "holds at 1 or less");
    GIVES(sh, out, ratio, ratio);
  }
  if (across && sideways) {
    GIVEN(sh, SL_FORCE, H, in->lateral);
    GIVEN(sh, SL_FORCE, H_all, in->sideways);
    STEP(sh, SL_NUMBER, slides, H / H_all, "holds at 1 or less");
    GIVES(sh, out, sideways_ratio, slides);
  }
  return SL_OK;
}
