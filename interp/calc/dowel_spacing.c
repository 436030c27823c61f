/* SPDX-License-Identifier: MIT
 * Distances of bolts and lag screws in wood and what nearer ones leave; several fasteners in a row. */
#include "fastener.h"

#define TABLES "@dowel_distances"
#define EDGES  "@dowel_edge"
#define FACTOR "@dowel_geometry"
#define GROUP  "@group_action"

const char *const sl_fastener_loads[] = {
  [SL_TOWARDS_END] = "towards the end", [SL_AWAY_FROM_END] = "away from the end",
  [SL_ACROSS_GRAIN] = "across the grain", [SL_IN_WITHDRAWAL] = "in withdrawal", NULL,
};

FITS_COLUMN(wood_fasteners, size, struct sl_dowel_spacing_in, size)
FITS_COLUMN(wood_fasteners, size, struct sl_group_action_in, size)

typedef struct sl_table_fastener_distances distance_row;

/* An input that may be left out is no negative number. */
#define GIVEN_OR_NOT(sh, in, member) do { if (!isnan((in)->member)) NOT_NEGATIVE(sh, in, member, SL_LENGTH); } while (0)

static enum sl_status check_spacing(const struct sl_dowel_spacing_in *in, struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  ONE_OF(sh, in, load, SL_IN_WITHDRAWAL);
  GIVEN_OR_NOT(sh, in, to_end);
  GIVEN_OR_NOT(sh, in, spacing);
  GIVEN_OR_NOT(sh, in, to_edge);
  GIVEN_OR_NOT(sh, in, to_other_edge);
  GIVEN_OR_NOT(sh, in, row_spacing);
  if (in->load == SL_IN_WITHDRAWAL) {
    if (!isnan(in->main_bearing))
      return sl_sheet_fault(sh, SL_BAD_INPUT, "main_bearing", "does not count in withdrawal: leave it out", "",
                            in->main_bearing, NAN, SL_LENGTH);
    if (!isnan(in->side_bearing))
      return sl_sheet_fault(sh, SL_BAD_INPUT, "side_bearing", "does not count in withdrawal: leave it out", "",
                            in->side_bearing, NAN, SL_LENGTH);
  } else {
    POSITIVE(sh, in, main_bearing, SL_LENGTH);
    if (!isnan(in->side_bearing)) POSITIVE(sh, in, side_bearing, SL_LENGTH);
  }
  if (in->load != SL_ACROSS_GRAIN && !isnan(in->to_other_edge))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "to_other_edge", "is for loads across the grain: say the nearest alone", "",
                          in->to_other_edge, NAN, SL_LENGTH);
  return SL_OK;
}

/* What each distance leaves of the value; 1 where it is not said. */
struct kept { double end, spacing, rows, edge, other; };

/* How slender the fastener is in wood: the shorter of its lengths over its diameter. */
static enum sl_status slenderness(const struct sl_dowel_spacing_in *in, double diameter, double *ratio,
                                  struct sl_sheet *sh) {
  const double D = diameter;
  GIVEN(sh, SL_LENGTH, l_main, in->main_bearing);
  if (isnan(in->side_bearing)) {
    STEP(sh, SL_NUMBER, slender, l_main / D, EDGES);
    *ratio = slender;
    return SL_OK;
  }
  GIVEN(sh, SL_LENGTH, l_side, in->side_bearing);
  STEP(sh, SL_NUMBER, slender, fmin(l_main, l_side) / D, EDGES);
  *ratio = slender;
  return SL_OK;
}

/* Ends and spacing in a row, which a factor makes good down to a least.  Binary noise is no shortfall. */
static enum sl_status ends(const struct sl_dowel_spacing_in *in, const distance_row *row, double diameter, int edition,
                           struct sl_dowel_spacing_out *out, struct kept *kept, struct sl_sheet *sh) {
  const double D = diameter;
  HEADING(sh, "ends, and spacing in a row");
  FROM(sh, SL_NUMBER, end_least_D, row, end_least, row->name, edition);
  FROM(sh, SL_NUMBER, end_full_D, row, end_full, row->name, edition);
  FROM(sh, SL_NUMBER, spacing_least_D, row, spacing_least, row->name, edition);
  FROM(sh, SL_NUMBER, spacing_full_D, row, spacing_full, row->name, edition);
  STEP(sh, SL_LENGTH, end_least, end_least_D * D, row->cite);
  STEP(sh, SL_LENGTH, end_full, end_full_D * D, row->cite);
  STEP(sh, SL_LENGTH, spacing_least, spacing_least_D * D, row->cite);
  STEP(sh, SL_LENGTH, spacing_full, spacing_full_D * D, row->cite);
  GIVES(sh, out, end_least, end_least);
  GIVES(sh, out, end_full, end_full);
  GIVES(sh, out, spacing_least, spacing_least);
  GIVES(sh, out, spacing_full, spacing_full);
  if (!isnan(in->to_end)) {
    GIVEN(sh, SL_LENGTH, end, in->to_end);
    STEP(sh, SL_NUMBER, C_end, end < end_least * (1 - 1e-9) ? 0 : fmin(1, end / end_full), FACTOR);
    kept->end = C_end;
  } else STANDS_AT(sh, SL_NUMBER, C_end, 1, "end not said", FACTOR);
  if (!isnan(in->spacing)) {
    GIVEN(sh, SL_LENGTH, spacing, in->spacing);
    STEP(sh, SL_NUMBER, C_spacing, spacing < spacing_least * (1 - 1e-9) ? 0 : fmin(1, spacing / spacing_full), FACTOR);
    kept->spacing = C_spacing;
  } else STANDS_AT(sh, SL_NUMBER, C_spacing, 1, "spacing in a row not said", FACTOR);
  return SL_OK;
}

/* Between rows: a least distance that no factor makes good. */
static enum sl_status between_rows(const struct sl_dowel_spacing_in *in, const distance_row *row, double diameter,
                                   double ratio, int edition, struct sl_dowel_spacing_out *out, struct kept *kept,
                                   struct sl_sheet *sh) {
  const double D = diameter, slender = ratio;
  double least;
  if (isnan(row->rows)) {
    STEP(sh, SL_LENGTH, rows_least, D * (slender <= 2 ? 2.5 : slender >= 6 ? 5 : (5 * slender + 10) / 8), TABLES);
    GIVES(sh, out, rows_least, rows_least);
    least = rows_least;
  } else {
    FROM(sh, SL_NUMBER, rows_D, row, rows, row->name, edition);
    STEP(sh, SL_LENGTH, rows_least, rows_D * D, row->cite);
    GIVES(sh, out, rows_least, rows_least);
    least = rows_least;
  }
  if (isnan(in->row_spacing)) {
    STANDS_AT(sh, SL_NUMBER, C_rows, 1, "spacing of rows not said", EDGES);
    return SL_OK;
  }
  const double rows_least = least;
  GIVEN(sh, SL_LENGTH, rows_apart, in->row_spacing);
  STEP(sh, SL_NUMBER, C_rows, rows_apart < rows_least * (1 - 1e-9) ? 0 : 1, EDGES);
  kept->rows = C_rows;
  return SL_OK;
}

/* The edge that is pressed where the load is across the grain, and the other one. */
static enum sl_status edges_across(const struct sl_dowel_spacing_in *in, double diameter, double free, int edition,
                                   struct sl_dowel_spacing_out *out, struct kept *kept, double *least,
                                   struct sl_sheet *sh) {
  const double D = diameter, edge_free = free;
  FACT(sh, SL_NUMBER, edge_pressed, "edge_loaded", edition);
  STEP(sh, SL_LENGTH, edge_least, edge_pressed * D, EDGES);
  GIVES(sh, out, unloaded_edge_least, edge_free);
  GIVES(sh, out, edge_least, edge_least);
  *least = edge_least;
  if (isnan(in->to_other_edge)) {
    STANDS_AT(sh, SL_NUMBER, C_other, 1, "unloaded edge not said", EDGES);
    return SL_OK;
  }
  GIVEN(sh, SL_LENGTH, edge_other, in->to_other_edge);
  STEP(sh, SL_NUMBER, C_other, edge_other < edge_free * (1 - 1e-9) ? 0 : 1, EDGES);
  kept->other = C_other;
  return SL_OK;
}

/* Edges: least distances that no factor makes good. */
static enum sl_status edges(const struct sl_dowel_spacing_in *in, const distance_row *row, double diameter,
                            double ratio, int edition, struct sl_dowel_spacing_out *out, struct kept *kept,
                            struct sl_sheet *sh) {
  const double D = diameter;
  double least = 0;
  out->unloaded_edge_least = NAN;
  FROM(sh, SL_NUMBER, edge_D, row, edge, row->name, edition);
  STEP(sh, SL_LENGTH, edge_free, edge_D * D, row->cite);
  if (in->load == SL_ACROSS_GRAIN) {
    const enum sl_status status = edges_across(in, diameter, edge_free, edition, out, kept, &least, sh);
    if (status != SL_OK) return status;
  } else {
    STANDS_AT(sh, SL_NUMBER, C_other, 1, "no edge is pressed", EDGES);
    if (in->load != SL_IN_WITHDRAWAL && ratio > 6 && !isnan(in->row_spacing)) {
      const double rows_apart = in->row_spacing;
      STEP(sh, SL_LENGTH, edge_least, fmax(edge_free, rows_apart / 2), TABLES);
      GIVES(sh, out, edge_least, edge_least);
      least = edge_least;
    } else {
      STEP(sh, SL_LENGTH, edge_least, edge_free, row->cite);
      GIVES(sh, out, edge_least, edge_least);
      least = edge_least;
    }
  }
  if (isnan(in->to_edge)) {
    STANDS_AT(sh, SL_NUMBER, C_edge, 1, "edge not said", EDGES);
    return SL_OK;
  }
  const double edge_least = least;
  GIVEN(sh, SL_LENGTH, edge, in->to_edge);
  STEP(sh, SL_NUMBER, C_edge, edge < edge_least * (1 - 1e-9) ? 0 : 1, EDGES);
  kept->edge = C_edge;
  return SL_OK;
}

enum sl_status sl_dowel_spacing(const struct sl_dowel_spacing_in *in, struct sl_dowel_spacing_out *out,
                                struct sl_sheet *sh) {
  enum sl_status status = check_spacing(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "NDS", edition);
  if (in->kind == SL_WOOD_SCREW)
    return NO_ROW(sh, "kind", "has no distances in the tables: it is thinner than 1/4 in, and only must not split the "
                  "wood", TABLES);
  if (in->load == SL_IN_WITHDRAWAL && in->kind != SL_LAG_SCREW)
    return NO_ROW(sh, "load", "is for lag screws", "@lag_distances");
  const sl_fastener_row *const size = sl_fastener_of(in->kind, in->size, edition);
  if (!size) return NO_SIZE(sh);
  FIND(row, fastener_distances, STANDS(row, edition) && sl_same_text(row->load, sl_fastener_loads[in->load]));
  if (!row) return NO_ROW(sh, "load", "has no distances here", TABLES);
  memset(out, 0, sizeof *out);
  struct kept kept = { 1, 1, 1, 1, 1 };
  double ratio = 0;
  WORD(sh, size, in->size);
  FROM(sh, SL_LENGTH, D, size, diameter, size->name, edition);
  if ((status = ends(in, row, D, edition, out, &kept, sh)) != SL_OK) return status;
  HEADING(sh, "rows and edges");
  if ((in->load != SL_IN_WITHDRAWAL && (status = slenderness(in, D, &ratio, sh)) != SL_OK) ||
      (status = between_rows(in, row, D, ratio, edition, out, &kept, sh)) != SL_OK ||
      (status = edges(in, row, D, ratio, edition, out, &kept, sh)) != SL_OK) return status;
  FACT(sh, SL_LENGTH, outermost, "outermost", edition);
  GIVES(sh, out, outermost_most, outermost);
  HEADING(sh, "what they leave");
  const double C_end = kept.end, C_spacing = kept.spacing, C_rows = kept.rows, C_edge = kept.edge, C_other = kept.other;
  STEP(sh, SL_NUMBER, C_delta, fmin(fmin(fmin(C_end, C_spacing), fmin(C_rows, C_edge)), C_other), FACTOR);
  GIVES(sh, out, factor, C_delta);
  static const char names[][sizeof out->governs] = { "none", "end", "spacing", "rows", "edge", "unloaded edge" };
  const double by[] = { 1, C_end, C_spacing, C_rows, C_edge, C_other };
  size_t which = 0;
  while (by[which] > C_delta) which++;
  memcpy(out->governs, names[which], sizeof names[which]);
  return SL_OK;
}

/* ---- in a row -------------------------------------------------------------------------------------------------- */

enum sl_status sl_group_action(const struct sl_group_action_in *in, struct sl_group_action_out *out,
                               struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  REQUIRE(sh, in, count, >= 1, "must be 1 or more", SL_NUMBER);
  REQUIRE(sh, in, count, <= 1000, "must be 1000 or fewer", SL_NUMBER);
  POSITIVE(sh, in, spacing, SL_LENGTH);
  POSITIVE(sh, in, main_area, SL_SECTION);
  POSITIVE(sh, in, side_area, SL_SECTION);
  POSITIVE(sh, in, main_modulus, SL_STRESS);
  if (!isnan(in->side_modulus)) POSITIVE(sh, in, side_modulus, SL_STRESS);
  EDITION(sh, in, edition, "NDS", edition);
  const sl_fastener_row *const row = sl_fastener_of(in->kind, in->size, edition);
  if (!row) return NO_SIZE(sh);
  const struct sl_fact *const steel = sl_fact_in("steel_side", edition);
  const struct sl_fact *const slips = sl_fact_in(isnan(in->side_modulus) ? "slip_steel" : "slip_wood", edition);
  if (!steel || !slips) return NO_ROW(sh, "edition", "has no load and slip of fasteners here", GROUP);
  WORD(sh, size, in->size);
  FROM(sh, SL_LENGTH, D, row, diameter, row->name, edition);
  FACT(sh, SL_LENGTH, inch, "fastener_inch", edition);
  FROM(sh, SL_LINE_LOAD, slip_1, slips, value, slips->name, edition);
  GIVEN(sh, SL_NUMBER, n, in->count);
  GIVEN(sh, SL_LENGTH, s, in->spacing);
  GIVEN(sh, SL_SECTION, Am, in->main_area);
  GIVEN(sh, SL_SECTION, As, in->side_area);
  GIVEN(sh, SL_STRESS, Em, in->main_modulus);
  double stiff;
  if (isnan(in->side_modulus)) {
    FROM(sh, SL_STRESS, Es, steel, value, steel->name, edition);
    stiff = Es;
  } else {
    GIVEN(sh, SL_STRESS, Es, in->side_modulus);
    stiff = Es;
  }
  const double Es = stiff;
  FACT(sh, SL_LENGTH, D_thick, "dowel_thick", edition);
  STEP(sh, SL_LINE_LOAD, gamma_1, slip_1 * pow(D / inch, 1.5), GROUP);
  STEP(sh, SL_NUMBER, REA, fmin(Es * As / (Em * Am), Em * Am / (Es * As)), GROUP);
  STEP(sh, SL_NUMBER, u_1, gamma_1 * s / 2 * (1 / (Em * Am) + 1 / (Es * As)), GROUP);
  /* m = u - sqrt(u^2 - 1) of the standard with u = 1 + u_1, and its sums worked out so that no digits are lost. */
  STEP(sh, SL_NUMBER, r, u_1 + sqrt(u_1 * (2 + u_1)), GROUP);
  STEP(sh, SL_NUMBER, m, 1 / (1 + r), GROUP);
  STEP(sh, SL_NUMBER, m_n, pow(m, n), GROUP);
  STEP(sh, SL_NUMBER, shared, n * (m + REA * m_n * (1 + m) + m_n * m_n), GROUP);
  STEP(sh, SL_NUMBER, C_row, r < 1e-7 ? 1 : (1 - m_n * m_n) / shared * (1 + REA) / r, GROUP);
  STEP(sh, SL_NUMBER, Cg, D < D_thick ? 1 : n <= 1 ? 1 : fmin(C_row, 1), GROUP);
  GIVES(sh, out, slip, gamma_1);
  GIVES(sh, out, factor, Cg);
  return SL_OK;
}
