/* SPDX-License-Identifier: MIT
 * Rails: what warmth does to their length, and the runs of a row between its expansion joints.  See rail.h. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/rail.h"

#define GEOMETRY "plane geometry"
#define WARMTH "linear expansion"
#define SHARED "as few runs as keep to the limit, columns shared as evenly as can be, the longer runs in the west"
#define RUNS "range of a row: 1 to 10000 columns"

enum { MOST_COLUMNS = 10000 };
enum sl_status sl_expansion(const struct sl_expansion_in *in, struct sl_expansion_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, material, SL_STEEL);
  const bool known = !isnan(in->coefficient);
  if (known) POSITIVE(sh, in, coefficient, SL_PER_WARMTH);
  POSITIVE(sh, in, length, SL_LENGTH);
  NOT_NEGATIVE(sh, in, range, SL_WARMTH);

  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_WARMTH, warmth, in->range);
  if (known) {
    GIVEN(sh, SL_PER_WARMTH, alpha, in->coefficient);
    STEP(sh, SL_LENGTH, movement, alpha * L * warmth, WARMTH);
    GIVES(sh, out, movement, movement);
    return SL_OK;
  }
  FACT_OF(sh, SL_PER_WARMTH, alpha, in->material == SL_STEEL ? "expansion_steel" : "expansion_aluminium",
          SL_NO_EDITION);
  STEP(sh, SL_LENGTH, movement, alpha * L * warmth, WARMTH);
  GIVES(sh, out, movement, movement);
  return SL_OK;
}

static bool by_limit(const struct sl_rail_runs_in *in) { return !isnan(in->limit); }

size_t sl_rail_runs_need(const struct sl_rail_runs_in *in) {
  if (in->columns < 1 || in->columns > MOST_COLUMNS) return 0;
  if (!by_limit(in)) return in->njoints < MOST_COLUMNS ? NEED(0, struct sl_rail_run, in->njoints + 1) : 0;
  return NEED(0, struct sl_rail_run, (size_t)in->columns);
}

static enum sl_status check_joints(const struct sl_rail_runs_in *in, struct sl_sheet *sh) {
  if (by_limit(in) && in->njoints > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "joints", "are declared, and a limit that places them is given, too", "",
                          (double)in->njoints, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->njoints; i++) {
    const double before = i ? in->joints[i - 1] : 0;
    REQUIRE_ITEM(sh, in, joints, i, > before, "must come after the one before it, from column 1 on", SL_NUMBER);
    REQUIRE_ITEM(sh, in, joints, i, < in->columns, "must come before the last column", SL_NUMBER);
    const double whole = floor(in->joints[i]);
    REQUIRE_ITEM(sh, in, joints, i, <= whole, "must be a whole number of columns", SL_NUMBER);
  }
  return SL_OK;
}

enum sl_status sl_rail_runs(const struct sl_rail_runs_in *in, struct sl_rail_runs_out *out, struct sl_space space,
                            struct sl_sheet *sh) {
  POSITIVE(sh, in, module, SL_LENGTH);
  REQUIRE(sh, in, columns, >= 1 && in->columns <= MOST_COLUMNS, "must be 1 to 10000", SL_NUMBER);
  NOT_NEGATIVE(sh, in, column_gap, SL_LENGTH);
  NOT_NEGATIVE(sh, in, joint_gap, SL_LENGTH);
  NOT_NEGATIVE(sh, in, end_allowance, SL_LENGTH);
  if (by_limit(in)) POSITIVE(sh, in, limit, SL_LENGTH);
  const enum sl_status status = check_joints(in, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_rail_runs_need(in));

  GIVEN(sh, SL_LENGTH, w, in->module);
  GIVEN(sh, SL_NUMBER, n, in->columns);
  GIVEN(sh, SL_LENGTH, gap, in->column_gap);
  GIVEN(sh, SL_LENGTH, gap_j, in->joint_gap);
  GIVEN(sh, SL_LENGTH, e, in->end_allowance);
  size_t nruns = in->njoints + 1;
  if (by_limit(in)) {
    GIVEN(sh, SL_LENGTH, limit, in->limit);
    STEP(sh, SL_NUMBER, n_most, floor((limit + 1e-9 - 2 * e + gap) / (w + gap)), "columns on the longest rail");
    if (!(n_most >= 1))
      return sl_sheet_fault(sh, SL_NO_ANSWER, "limit", "is shorter than one module with its rail ends", "", in->limit,
                            in->module + 2 * in->end_allowance, SL_LENGTH);
    STEP(sh, SL_NUMBER, n_runs, ceil(n / n_most), SHARED);
    nruns = (size_t)n_runs;
  }
  const size_t columns = (size_t)in->columns, share = columns / nruns, more = columns % nruns;
  struct sl_rail_run *runs = PART(&space, struct sl_rail_run, nruns);
  double longest = 0, all = 0, end = 0, west = 0;
  WORKED(sh, nruns * 10);
  LINES(sh, "runs from the west");
  for (size_t k = 0; k < nruns; k++) {
    const double declared = k < in->njoints ? in->joints[k] : n, even = (double)(share + (k < more));
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, first, end + 1, "first column", by_limit(in) ? SHARED : "as declared", SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, last, by_limit(in) ? end + even : declared, "last column",
           by_limit(in) ? SHARED : "as declared", SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, from, west, "west end of its rail", GEOMETRY, SL_DERIVED);
    STEP(sh, SL_LENGTH, length, (last - first + 1) * w + (last - first) * gap + 2 * e, GEOMETRY);
    STEP(sh, SL_LENGTH, to, from + length, GEOMETRY);
    GIVES_ROW(sh, runs, k, first_column, first);
    GIVES_ROW(sh, runs, k, last_column, last);
    GIVES_ROW(sh, runs, k, from, from);
    GIVES_ROW(sh, runs, k, to, to);
    GIVES_ROW(sh, runs, k, length, length);
    longest = fmax(longest, length);
    all += length;
    end = last;
    west = to - 2 * in->end_allowance + in->joint_gap;
    if (!(west > 0)) west = 0;
  }
  LINES_END(sh);
  SUM(sh, SL_LENGTH, rail, all, length, GEOMETRY);
  *out = (struct sl_rail_runs_out){ .runs = runs, .nruns = nruns, .longest = longest };
  LOOKUP(sh, SL_NUMBER, n_joints, (double)nruns - 1, "expansion joints", GEOMETRY, SL_DERIVED);
  STEP(sh, SL_LENGTH, W, n * w + (n - 1 - n_joints) * gap + n_joints * gap_j, GEOMETRY);
  GIVES_COUNT(sh, out, joints, n_joints);
  GIVES(sh, out, row_width, W);
  GIVES(sh, out, rail, rail);
  return SL_OK;
}
