/* SPDX-License-Identifier: MIT
 * Modules on their rails: where rails cross them, where clamps sit, in which order they are mounted; see modules.h. */
#include <stdbool.h>
#include "columns.h"
#include "stringline/modules.h"

#define GEOMETRY "plane geometry"

/* Slack for sums of lengths that should meet exactly: far below what anyone can measure. */
static const double slack = 1e-9;

size_t sl_rail_places_need(const struct sl_rail_places_in *in) {
  return in->rows >= 1 && in->rows <= MOST_ROWS ? NEED(0, double, 2 * (size_t)in->rows) : 0;
}

enum sl_status sl_rail_places(const struct sl_rail_places_in *in, struct sl_rail_places_out *out,
                              struct sl_space space, struct sl_sheet *sh) {
  ROWS_UP(sh, in);
  NOT_NEGATIVE(sh, in, zone_least, SL_LENGTH);
  POSITIVE(sh, in, zone_most, SL_LENGTH);
  REQUIRE(sh, in, zone_most, >= in->zone_least, "must not be less than zone_least", SL_LENGTH);
  REQUIRE(sh, in, zone_most, <= in->side / 2 + slack, "must not reach beyond the middle of the module", SL_LENGTH);
  ENOUGH(sh, space, sl_rail_places_need(in));
  const size_t n = 2 * (size_t)in->rows;
  double *at = PART(&space, double, n);

  GIVEN(sh, SL_LENGTH, l, in->side);
  GIVEN(sh, SL_NUMBER, m, in->rows);
  GIVEN(sh, SL_LENGTH, gap_m, in->row_gap);
  GIVEN(sh, SL_LENGTH, z_least, in->zone_least);
  GIVEN(sh, SL_LENGTH, z_most, in->zone_most);
  STEP(sh, SL_LENGTH, z, (z_least + z_most) / 2, "middle of the zone");
  STEP(sh, SL_NUMBER, rails, 2 * m, "two for each row");
  LINES(sh, "rails from below");
  for (size_t i = 0; i < n; i++) {
    LINE(sh);
    GIVEN(sh, SL_NUMBER, k, (double)(i / 2 + 1));
    GIVEN(sh, SL_NUMBER, upper, (double)(i % 2));
    STEP(sh, SL_LENGTH, up, (k - 1) * (l + gap_m) + (upper > 0 ? fmax(z, l - z) : z), GEOMETRY);
    at[i] = up;
    if (sh && sh->cap) sl_sheet_gives(sh, "up", "at[i]");
  }
  LINES_END(sh);
  *out = (struct sl_rail_places_out){ .at = at, .nat = n };
  return SL_OK;
}

size_t sl_rail_crossings_need(const struct sl_rail_crossings_in *in) {
  return NEED(0, struct sl_crossing, in->nat);
}

enum sl_status sl_rail_crossings(const struct sl_rail_crossings_in *in, struct sl_rail_crossings_out *out,
                                 struct sl_space space, struct sl_sheet *sh) {
  ROWS_UP(sh, in);
  if (in->nat < 1) return sl_sheet_fault(sh, SL_BAD_INPUT, "at", "has no rail", "", NAN, NAN, SL_NUMBER);
  const double step = in->side + in->row_gap, slope = in->rows * step - in->row_gap;
  for (size_t i = 0; i < in->nat; i++) {
    REQUIRE_ITEM(sh, in, at, i, >= 0 && in->at[i] <= slope + slack, "lies beyond the modules", SL_LENGTH);
    REQUIRE_ITEM(sh, in, at, i, > (i > 0 ? in->at[i - 1] : -1), "must be farther up than the one before", SL_LENGTH);
    const double k = fmin(floor((in->at[i] + slack) / step), in->rows - 1);
    REQUIRE_ITEM(sh, in, at, i, - k * step <= in->side + slack, "lies in the gap between two rows of modules",
                 SL_LENGTH);
  }
  ENOUGH(sh, space, sl_rail_crossings_need(in));
  struct sl_crossing *rails = PART(&space, struct sl_crossing, in->nat);

  GIVEN(sh, SL_LENGTH, l, in->side);
  GIVEN(sh, SL_NUMBER, m, in->rows);
  GIVEN(sh, SL_LENGTH, gap_m, in->row_gap);
  LINES(sh, "rails from below");
  for (size_t i = 0; i < in->nat; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, up, in->at[i]);
    STEP(sh, SL_NUMBER, row, fmin(floor((up + 1e-9) / (l + gap_m)), m - 1) + 1, "a hair below a module is on it");
    STEP(sh, SL_LENGTH, below, fmin(fmax(0, up - (row - 1) * (l + gap_m)), l), GEOMETRY);
    STEP(sh, SL_LENGTH, corner, fmin(below, l - below), "from the nearer corner");
    GIVES_ROW(sh, rails, i, up, up);
    GIVES_ROW(sh, rails, i, row, row);
    GIVES_ROW(sh, rails, i, from_below, below);
    GIVES_ROW(sh, rails, i, from_corner, corner);
  }
  LINES_END(sh);
  WORKED(sh, 10 * in->nat);
  *out = (struct sl_rail_crossings_out){ .rails = rails, .nrails = in->nat };
  return SL_OK;
}

/* One more than the columns, and one more for each joint. */
static size_t clamp_count(const struct sl_clamps_in *in) { return (size_t)in->columns + 1 + in->njoints; }

size_t sl_clamps_need(const struct sl_clamps_in *in) {
  const bool fits = in->columns >= 1 && in->columns <= MOST_COLUMNS && in->njoints < (size_t)in->columns;
  return fits ? NEED(0, struct sl_clamp, clamp_count(in)) : 0;
}

enum sl_status sl_clamps(const struct sl_clamps_in *in, struct sl_clamps_out *out, struct sl_space space,
                         struct sl_sheet *sh) {
  COLUMNS(sh, in);
  JOINTS(sh, in);
  ENOUGH(sh, space, sl_clamps_need(in));
  struct sl_clamp *clamps = PART(&space, struct sl_clamp, clamp_count(in));

  GIVEN(sh, SL_LENGTH, a, in->across);
  GIVEN(sh, SL_NUMBER, n, in->columns);
  GIVEN(sh, SL_LENGTH, gap_n, in->column_gap);
  GIVEN(sh, SL_LENGTH, gap_j, in->joint_gap);
  GIVEN(sh, SL_NUMBER, J, (double)in->njoints);
  STEP(sh, SL_NUMBER, mid, n - 1 - J, "one in each gap without a joint");
  STEP(sh, SL_NUMBER, end, 2 * (1 + J), "two for each part of the row");
  LINES(sh, "clamps from the west");
  size_t at = 0, passed = 0;
  for (int k = 0; k <= in->columns; k++) {
    const bool parted = passed < in->njoints && in->joints[passed] == k;
    for (int side = 0; side < (parted ? 2 : 1); side++, at++) {
      LINE(sh);
      const bool last = k == in->columns || (parted && side == 0), first = k == 0 || (parted && side == 1);
      GIVEN(sh, SL_NUMBER, west, first ? 0 : k);
      GIVEN(sh, SL_NUMBER, east, last ? 0 : k + 1);
      GIVEN(sh, SL_NUMBER, j, (double)(passed + (first && k > 0 ? 1 : 0)));
      GIVEN(sh, SL_NUMBER, both, !first && !last);
      STEP(sh, SL_NUMBER, modules, west > 0 ? west : east - 1, "west of it");
      STEP(sh, SL_NUMBER, gaps, west > 0 ? west - 1 - j : east - 1 - j, "west of it, without joints");
      STEP(sh, SL_LENGTH, x, modules * a + gaps * gap_n + j * gap_j + both * gap_n / 2, GEOMETRY);
      GIVES_ROW(sh, clamps, at, along, x);
      GIVES_ROW(sh, clamps, at, west, west);
      GIVES_ROW(sh, clamps, at, east, east);
    }
    if (parted) passed++;
  }
  LINES_END(sh);
  WORKED(sh, 10 * at);
  *out = (struct sl_clamps_out){ .clamps = clamps, .nclamps = at };
  GIVES_COUNT(sh, out, mids, mid);
  GIVES_COUNT(sh, out, ends, end);
  return SL_OK;
}

size_t sl_mounting_need(const struct sl_mounting_in *in) {
  return in->columns >= 1 && in->columns <= MOST_COLUMNS ? NEED(0, struct sl_turn, (size_t)in->columns) : 0;
}

enum sl_status sl_mounting(const struct sl_mounting_in *in, struct sl_mounting_out *out, struct sl_space space,
                           struct sl_sheet *sh) {
  COLUMNS(sh, in);
  NOT_NEGATIVE(sh, in, width_tolerance, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gap_tolerance, SL_LENGTH);
  NOT_NEGATIVE(sh, in, end_allowance, SL_LENGTH);
  JOINTS(sh, in);
  ENOUGH(sh, space, sl_mounting_need(in));
  struct sl_turn *turns = PART(&space, struct sl_turn, (size_t)in->columns);

  GIVEN(sh, SL_LENGTH, a, in->across);
  GIVEN(sh, SL_NUMBER, n, in->columns);
  GIVEN(sh, SL_LENGTH, gap_n, in->column_gap);
  GIVEN(sh, SL_LENGTH, gap_j, in->joint_gap);
  GIVEN(sh, SL_LENGTH, d_w, in->width_tolerance);
  GIVEN(sh, SL_LENGTH, d_gap, in->gap_tolerance);
  GIVEN(sh, SL_LENGTH, e, in->end_allowance);
  LINES(sh, "modules in their order");
  int at = 0, most = 0;
  for (size_t part = 0; part <= in->njoints; part++) {
    const int before = part > 0 ? (int)in->joints[part - 1] : 0;
    const int count = (part < in->njoints ? (int)in->joints[part] : in->columns) - before;
    if (count > most) most = count;
    for (int turn = 0; turn < count; turn++, at++) {
      LINE(sh);
      /* The middle one, or the one west of the middle; then its neighbours, east and west by turns. */
      const int away = (turn + 1) / 2;
      const int in_part = (count + 1) / 2 + (turn % 2 ? away : -away);
      GIVEN(sh, SL_NUMBER, column, before + in_part);
      GIVEN(sh, SL_NUMBER, first, before + 1);
      GIVEN(sh, SL_NUMBER, p, count);
      GIVEN(sh, SL_NUMBER, j, (double)part);
      STEP(sh, SL_LENGTH, x, (column - 1) * a + (column - 1 - j) * gap_n + j * gap_j, GEOMETRY);
      STEP(sh, SL_NUMBER, c, fabs(column - first - (p - 1) / 2), "modules from the middle");
      STEP(sh, SL_LENGTH, drift, (c + 0.5) * d_w + c * d_gap, "row drift, counted from the middle");
      GIVES_ROW(sh, turns, at, column, column);
      GIVES_ROW(sh, turns, at, along, x);
      GIVES_ROW(sh, turns, at, drift, drift);
    }
  }
  LINES_END(sh);
  GIVEN(sh, SL_NUMBER, longest, most);
  STEP(sh, SL_LENGTH, one_way, longest * d_w + (longest - 1) * d_gap, "row drift");
  STEP(sh, SL_LENGTH, each_way, one_way / 2, "from the middle outward");
  STEP(sh, SL_LENGTH, left, e - each_way, "of the end allowance");
  WORKED(sh, 10 * in->columns);
  *out = (struct sl_mounting_out){ .turns = turns, .nturns = (size_t)in->columns };
  GIVES(sh, out, drift, each_way);
  GIVES(sh, out, one_way, one_way);
  GIVES(sh, out, left, left);
  return SL_OK;
}
