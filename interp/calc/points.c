/* SPDX-License-Identifier: MIT
 * Where everything of a rack is: corners of modules, ends of rails and supports, posts; see modules.h. */
#include "columns.h"
#include "stringline/modules.h"

#define GEOMETRY "plane geometry"

static const double slack = 1e-9;

enum { CORNERS = 4, ENDS = 2 };

size_t sl_frame_points_need(const struct sl_frame_points_in *in) {
  if (!(in->rows >= 1 && in->rows <= MOST_ROWS && in->columns >= 1 && in->columns <= MOST_COLUMNS)) return 0;
  if (in->nat > SIZE_MAX / ENDS || (in->nruns > 0 && ENDS * in->nat > SIZE_MAX / in->nruns) ||
      in->nsupports > SIZE_MAX / ENDS || in->nposts > SIZE_MAX / ENDS) return SIZE_MAX;
  size_t need = NEED(0, struct sl_corner, CORNERS * (size_t)in->rows * (size_t)in->columns);
  need = NEED(need, struct sl_rail_end, ENDS * in->nat * in->nruns);
  need = NEED(need, struct sl_support_end, ENDS * in->nsupports);
  return NEED(need, struct sl_post_end, ENDS * in->nposts);
}

static enum sl_status look_at(const struct sl_frame_points_in *in, struct sl_sheet *sh) {
  const double turn = 2 * acos(-1);
  FINITE(sh, in, corner_east, SL_LENGTH);
  FINITE(sh, in, corner_north, SL_LENGTH);
  FINITE(sh, in, edge_height, SL_LENGTH);
  FINITE(sh, in, support_from, SL_LENGTH);
  REQUIRE(sh, in, azimuth, >= 0 && in->azimuth <= turn + slack, "must be between 0 and 360 deg", SL_ANGLE);
  REQUIRE(sh, in, tilt, >= 0 && in->tilt <= turn / 4 + slack, "must be between 0 and 90 deg", SL_ANGLE);
  COLUMNS(sh, in);
  ROWS_UP(sh, in);
  REQUIRE(sh, in, support_to, > in->support_from && in->support_to < INFINITY, "must be farther up than support_from",
          SL_LENGTH);
  NOT_NEGATIVE(sh, in, rail_depth, SL_LENGTH);
  if (!isnan(in->slope)) FINITE(sh, in, slope, SL_RATIO);
  JOINTS(sh, in);
  for (size_t i = 0; i < in->nat; i++)
    REQUIRE_ITEM(sh, in, at, i, >= 0 && in->at[i] < INFINITY, "must not be negative", SL_LENGTH);
  for (size_t i = 0; i < in->nruns; i++) {
    const struct sl_run_ends *r = &in->runs[i];
    REQUIRE_ROW(sh, in, runs, i, from, > -INFINITY && r->from < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, in, runs, i, to, > r->from && r->to < INFINITY, "must be east of where it begins", SL_LENGTH);
  }
  for (size_t i = 0; i < in->nsupports; i++)
    REQUIRE_ITEM(sh, in, supports, i, > -INFINITY && in->supports[i] < INFINITY, "must be a finite number", SL_LENGTH);
  for (size_t i = 0; i < in->nposts; i++) {
    const struct sl_standing *p = &in->posts[i];
    REQUIRE_ROW(sh, in, posts, i, offset, > -INFINITY && p->offset < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, setback, > -INFINITY && p->setback < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, ground, > -INFINITY && p->ground < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, top, > p->ground && p->top < INFINITY, "must be above the ground at the post",
                SL_LENGTH);
  }
  return SL_OK;
}

/* A point of the table, x_table along the row and z_table above its lower edge, as it lies when the row slopes. */
#define TURNED(sh) \
  STEP(sh, SL_LENGTH, x, x_table * cos(gamma) - z_table * sin(gamma), GEOMETRY); \
  STEP(sh, SL_LENGTH, z, edge + x_table * sin(gamma) + z_table * cos(gamma), GEOMETRY)

/* A point x along the row, y horizontally uphill, z up, written to row i of a list. */
#define ON_PLAN(sh, list, i) \
  STEP(sh, SL_LENGTH, p_east, E + x * E_row + y * E_up, GEOMETRY); \
  STEP(sh, SL_LENGTH, p_north, N + x * N_row + y * N_up, GEOMETRY); \
  GIVES_ROW(sh, list, i, along, x); GIVES_ROW(sh, list, i, uphill, y); GIVES_ROW(sh, list, i, up, z); \
  GIVES_ROW(sh, list, i, east, p_east); GIVES_ROW(sh, list, i, north, p_north)

enum sl_status sl_frame_points(const struct sl_frame_points_in *in, struct sl_frame_points_out *out,
                               struct sl_space space, struct sl_sheet *sh) {
  const enum sl_status status = look_at(in, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_frame_points_need(in));
  *out = (struct sl_frame_points_out){ .ncorners = CORNERS * (size_t)in->rows * (size_t)in->columns,
    .nrail_ends = ENDS * in->nat * in->nruns, .nsupport_ends = ENDS * in->nsupports, .npost_ends = ENDS * in->nposts };
  struct sl_corner *corners = PART(&space, struct sl_corner, out->ncorners);
  struct sl_rail_end *rail_ends = PART(&space, struct sl_rail_end, out->nrail_ends);
  struct sl_support_end *support_ends = PART(&space, struct sl_support_end, out->nsupport_ends);
  struct sl_post_end *post_ends = PART(&space, struct sl_post_end, out->npost_ends);
  out->corners = corners;
  out->rail_ends = rail_ends;
  out->support_ends = support_ends;
  out->post_ends = post_ends;

  GIVEN(sh, SL_LENGTH, E, in->corner_east);
  GIVEN(sh, SL_LENGTH, N, in->corner_north);
  GIVEN(sh, SL_ANGLE, T, in->azimuth);
  GIVEN(sh, SL_ANGLE, beta, in->tilt);
  GIVEN(sh, SL_LENGTH, edge, in->edge_height);
  GIVEN(sh, SL_LENGTH, a, in->across);
  GIVEN(sh, SL_LENGTH, l, in->side);
  GIVEN(sh, SL_LENGTH, gap_n, in->column_gap);
  GIVEN(sh, SL_LENGTH, gap_m, in->row_gap);
  GIVEN(sh, SL_LENGTH, gap_j, in->joint_gap);
  GIVEN(sh, SL_LENGTH, s_from, in->support_from);
  GIVEN(sh, SL_LENGTH, s_to, in->support_to);
  GIVEN(sh, SL_LENGTH, rail, in->rail_depth);
  GIVEN(sh, SL_RATIO, g, isnan(in->slope) ? 0 : in->slope);
  STEP(sh, SL_ANGLE, gamma, atan(g), GEOMETRY);
  STEP(sh, SL_ANGLE, quarter, acos(0), GEOMETRY);
  STEP(sh, SL_NUMBER, easterly, -cos(T), "east, of the row with the modules' faces on its right");
  STEP(sh, SL_NUMBER, northerly, sin(T), "north, of the same");
  STEP(sh, SL_NUMBER, hand, fabs(easterly) > 1e-9 ? easterly : northerly, "rows run eastward, or due north");
  STEP(sh, SL_ANGLE, B, fmod(T + (hand < 0 ? quarter : 3 * quarter), 4 * quarter), "bearing of the row");
  STEP(sh, SL_NUMBER, E_row, sin(B), "along the row");
  STEP(sh, SL_NUMBER, N_row, cos(B), "along the row");
  STEP(sh, SL_NUMBER, E_up, -sin(T), "uphill is behind what the modules face");
  STEP(sh, SL_NUMBER, N_up, -cos(T), "uphill is behind what the modules face");

  LINES(sh, "corners of the modules, at the underside of their frames");
  size_t at = 0;
  for (int k = 1; k <= in->rows; k++) {
    size_t passed = 0;
    for (int i = 1; i <= in->columns; i++) {
      while (passed < in->njoints && in->joints[passed] < i) passed++;
      for (int c = 1; c <= CORNERS; c++, at++) {
        LINE(sh);
        GIVEN(sh, SL_NUMBER, row, k);
        GIVEN(sh, SL_NUMBER, column, i);
        GIVEN(sh, SL_NUMBER, corner, c);
        GIVEN(sh, SL_NUMBER, j, (double)passed);
        GIVEN(sh, SL_NUMBER, right, c == 2 || c == 3);
        GIVEN(sh, SL_NUMBER, upper, c >= 3);
        STEP(sh, SL_LENGTH, x_table, (column - 1 + right) * a + (column - 1 - j) * gap_n + j * gap_j, GEOMETRY);
        STEP(sh, SL_LENGTH, s, (row - 1 + upper) * l + (row - 1) * gap_m, GEOMETRY);
        STEP(sh, SL_LENGTH, y, s * cos(beta), GEOMETRY);
        STEP(sh, SL_LENGTH, z_table, s * sin(beta), GEOMETRY);
        TURNED(sh);
        GIVES_ROW(sh, corners, at, row, row);
        GIVES_ROW(sh, corners, at, column, column);
        GIVES_ROW(sh, corners, at, corner, corner);
        ON_PLAN(sh, corners, at);
      }
    }
  }
  LINES_END(sh);
  WORKED(sh, 20 * at);
  LINES(sh, "ends of the rails, at their top");
  for (size_t i = 0; i < out->nrail_ends; i++) {
    LINE(sh);
    const size_t rail_at = i / ENDS / in->nruns, run_at = i / ENDS % in->nruns;
    const double up_slope = in->at[rail_at];       /* lines of this table are not those of the list */
    GIVEN(sh, SL_NUMBER, line, (double)(rail_at + 1));
    GIVEN(sh, SL_NUMBER, run, (double)(run_at + 1));
    GIVEN(sh, SL_NUMBER, which, (double)(i % ENDS + 1));
    GIVEN(sh, SL_LENGTH, x_table, i % ENDS ? in->runs[run_at].to : in->runs[run_at].from);
    GIVEN(sh, SL_LENGTH, s, up_slope);
    STEP(sh, SL_LENGTH, y, s * cos(beta), GEOMETRY);
    STEP(sh, SL_LENGTH, z_table, s * sin(beta), GEOMETRY);
    TURNED(sh);
    GIVES_ROW(sh, rail_ends, i, line, line);
    GIVES_ROW(sh, rail_ends, i, run, run);
    GIVES_ROW(sh, rail_ends, i, which, which);
    ON_PLAN(sh, rail_ends, i);
  }
  LINES_END(sh);
  LINES(sh, "ends of the supports, at their top edge");
  for (size_t i = 0; i < out->nsupport_ends; i++) {
    LINE(sh);
    const double along = in->supports[i / ENDS];
    GIVEN(sh, SL_NUMBER, support, (double)(i / ENDS + 1));
    GIVEN(sh, SL_NUMBER, which, (double)(i % ENDS + 1));
    GIVEN(sh, SL_LENGTH, x_table, along);
    STEP(sh, SL_LENGTH, s, which > 1 ? s_to : s_from, GEOMETRY);
    STEP(sh, SL_LENGTH, y, s * cos(beta) + rail * sin(beta), GEOMETRY);
    STEP(sh, SL_LENGTH, z_table, s * sin(beta) - rail * cos(beta), GEOMETRY);
    TURNED(sh);
    GIVES_ROW(sh, support_ends, i, support, support);
    GIVES_ROW(sh, support_ends, i, which, which);
    ON_PLAN(sh, support_ends, i);
  }
  LINES_END(sh);
  LINES(sh, "posts");
  for (size_t i = 0; i < out->npost_ends; i++) {
    LINE(sh);
    const struct sl_standing *p = &in->posts[i / ENDS];
    GIVEN(sh, SL_NUMBER, post, (double)(i / ENDS + 1));
    GIVEN(sh, SL_NUMBER, which, (double)(i % ENDS + 1));
    GIVEN(sh, SL_LENGTH, x, p->offset);
    GIVEN(sh, SL_LENGTH, y, p->setback);
    GIVEN(sh, SL_LENGTH, z, i % ENDS ? p->top : p->ground);
    GIVES_ROW(sh, post_ends, i, post, post);
    GIVES_ROW(sh, post_ends, i, which, which);
    ON_PLAN(sh, post_ends, i);
  }
  LINES_END(sh);
  GIVES(sh, out, row_bearing, B);
  WORKED(sh, 20 * (out->nrail_ends + out->nsupport_ends + out->npost_ends));
  return SL_OK;
}
