/* SPDX-License-Identifier: MIT
 * Net wind pressures on a free roof: the cases of the monoslope by half of the slope, and zones along the row. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/wind_faces.h"

#define FIGURE "@wind_figure"
#define ALONG  "@wind_along"
#define FACTORED "@wind_factored"

enum { CASES = 8, ZONES = 3, LETTERS = 2, FLOWS = 2 };
const char *const sl_flows[] = { [SL_FLOW_CLEAR] = "clear", [SL_FLOW_OBSTRUCTED] = "obstructed", NULL };
static const char *const letters[LETTERS] = { "A", "B" };

/* The figure's rows on both sides of a tilt: one and the same below the least tilt of interpolation and at the end. */
typedef struct sl_table_wind_cn_monoslope roof;
struct between { const roof *low, *high; };
static struct between find_roofs(int edition, double tilt, double least, const char *letter, int gamma,
                                 const char *flow) {
  struct between found = { NULL, NULL };
  for (size_t i = 0; i < SL_ROWS_OF_wind_cn_monoslope; i++) {
    const roof *r = &sl_table_wind_cn_monoslope[i];
    if (r->gamma != gamma || !STANDS(r, edition) || !sl_same_text(r->letter, letter) || !sl_same_text(r->flow, flow))
      continue;
    if (r->theta <= tilt + 1e-9) found.low = r;               /* rows rise in tilt */
    else if (!found.high) found.high = r;
  }
  if (tilt < least - 1e-9 || !found.high) found.high = found.low;
  return found;
}

size_t sl_roof_wind_need(const struct sl_roof_wind_in *in) {
  (void)in;                                                   /* whatever the rack, the cases are as many */
  return NEED(0, struct sl_roof_case, CASES);
}

enum sl_status sl_roof_wind(const struct sl_roof_wind_in *in, struct sl_roof_wind_out *out, struct sl_space space,
                            struct sl_sheet *sh) {
  POSITIVE(sh, in, velocity_pressure, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  NOT_NEGATIVE(sh, in, mean_height, SL_LENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_roof_wind_need(in));

  GIVEN(sh, SL_PRESSURE, q, in->velocity_pressure);
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, C, in->slope_length);
  GIVEN(sh, SL_LENGTH, h, in->mean_height);
  FACT(sh, SL_ANGLE, theta_max, "tilt_most", edition);
  FACT(sh, SL_ANGLE, theta_min, "tilt_least", edition);
  FACT(sh, SL_NUMBER, hL_min, "ratio_least", edition);
  FACT(sh, SL_NUMBER, hL_max, "ratio_most", edition);
  WITHIN(sh, "tilt", theta - 1e-9, <=, theta_max, "is steeper than the figure goes", FIGURE, SL_ANGLE);
  STEP(sh, SL_NUMBER, h_over_L, h / (C * cos(theta)), "@wind_ratio");
  WITHIN(sh, "mean_height", h_over_L + 1e-9, >=, hL_min,
         "is too low for the figure: mean height over plan depth (h/L)", FIGURE, SL_NUMBER);
  WITHIN(sh, "mean_height", h_over_L - 1e-9, <=, hL_max,
         "is too high for the figure: mean height over plan depth (h/L)", FIGURE, SL_NUMBER);
  FACT(sh, SL_NUMBER, Kd, "Kd", edition);
  FACT(sh, SL_NUMBER, G, "G", edition);
  STEP(sh, SL_PRESSURE, q_d, q * Kd * G, FACTORED);

  struct sl_roof_case *cases = PART(&space, struct sl_roof_case, CASES);
  double up = 0, down = 0;
  LINES(sh, "cases of the figure");
  for (size_t i = 0; i < CASES; i++) {
    const size_t at_letter = i % 2, at_edge = i / 2 % 2, at_flow = i / 4;
    const struct between rows = find_roofs(edition, theta, theta_min, letters[at_letter], at_edge ? 180 : 0,
                                           sl_flows[at_flow]);
    if (!rows.low) return NO_ROW(sh, "edition", "has no row of the figure", FIGURE);
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, flow, (double)at_flow + 1, "1 clear, 2 obstructed", FIGURE, SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, edge, (double)at_edge + 1, "to the wind: 1 the high edge, 2 the low edge", FIGURE,
           SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, letter, (double)at_letter + 1, "1 case A, 2 case B", FIGURE, SL_DERIVED);
    FROM(sh, SL_ANGLE, theta_a, rows.low, theta, "row at or below the tilt", edition);
    FROM(sh, SL_ANGLE, theta_b, rows.high, theta, "row above it, or the same", edition);
    STEP(sh, SL_NUMBER, f, theta_b > theta_a ? (theta - theta_a) / (theta_b - theta_a) : 0, "@wind_figure_notes");
    FROM(sh, SL_NUMBER, CNWa, rows.low, cnw, rows.low->name, edition);
    FROM(sh, SL_NUMBER, CNWb, rows.high, cnw, rows.high->name, edition);
    FROM(sh, SL_NUMBER, CNLa, rows.low, cnl, rows.low->name, edition);
    FROM(sh, SL_NUMBER, CNLb, rows.high, cnl, rows.high->name, edition);
    STEP(sh, SL_PRESSURE, pW, q_d * (CNWa + f * (CNWb - CNWa)), "@wind_p");
    STEP(sh, SL_PRESSURE, pL, q_d * (CNLa + f * (CNLb - CNLa)), "@wind_p");
    STEP(sh, SL_PRESSURE, p_low, edge > 1 ? pW : pL, "the half at the edge to the wind is the windward one");
    STEP(sh, SL_PRESSURE, p_high, edge > 1 ? pL : pW, "the half at the edge to the wind is the windward one");
    GIVES_ROW(sh, cases, i, letter, letter);
    GIVES_ROW(sh, cases, i, to_wind, edge);
    GIVES_ROW(sh, cases, i, flow, flow);
    GIVES_ROW(sh, cases, i, low, p_low);
    GIVES_ROW(sh, cases, i, high, p_high);
    up = fmax(up, -fmin(p_low, p_high));
    down = fmax(down, fmax(p_low, p_high));
  }
  LINES_END(sh);
  *out = (struct sl_roof_wind_out){ .cases = cases, .ncases = CASES };
  LOOKUP(sh, SL_PRESSURE, p_up, up, "largest lift of the cases", FIGURE, SL_DERIVED);
  LOOKUP(sh, SL_PRESSURE, p_down, down, "largest push of the cases", FIGURE, SL_DERIVED);
  FACT(sh, SL_PRESSURE, p_least, "pressure_least", edition);
  GIVES(sh, out, peak_up, p_up);
  GIVES(sh, out, peak_down, p_down);
  GIVES(sh, out, least, p_least);
  return SL_OK;
}

size_t sl_along_wind_need(const struct sl_along_wind_in *in) {
  (void)in;
  return NEED(0, struct sl_along_zone, ZONES * LETTERS * FLOWS);
}

enum sl_status sl_along_wind(const struct sl_along_wind_in *in, struct sl_along_wind_out *out, struct sl_space space,
                             struct sl_sheet *sh) {
  POSITIVE(sh, in, velocity_pressure, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  POSITIVE(sh, in, mean_height, SL_LENGTH);
  POSITIVE(sh, in, length, SL_LENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_along_wind_need(in));

  GIVEN(sh, SL_PRESSURE, q, in->velocity_pressure);
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, h, in->mean_height);
  GIVEN(sh, SL_LENGTH, L, in->length);
  FACT(sh, SL_ANGLE, theta_max, "tilt_most", edition);
  WITHIN(sh, "tilt", theta - 1e-9, <=, theta_max, "is steeper than the figure goes", ALONG, SL_ANGLE);
  FACT(sh, SL_NUMBER, Kd, "Kd", edition);
  FACT(sh, SL_NUMBER, G, "G", edition);
  STEP(sh, SL_PRESSURE, q_d, q * Kd * G, FACTORED);

  struct sl_along_zone *zones = PART(&space, struct sl_along_zone, ZONES * LETTERS * FLOWS);
  double up = 0, down = 0;
  size_t n = 0;
  LINES(sh, "zones from the windward end");
  for (size_t i = 0; i < ZONES * LETTERS * FLOWS; i++) {
    const size_t at_zone = i % ZONES, at_letter = i / ZONES % LETTERS, at_flow = i / ZONES / LETTERS;
    if (at_zone > 0 && !((double)at_zone * h < L)) continue;   /* the row ends before */
    FIND(row, wind_cn_along, STANDS(row, edition) && row->zone == (int)at_zone + 1 &&
                             sl_same_text(row->letter, letters[at_letter]) &&
                             sl_same_text(row->flow, sl_flows[at_flow]));
    if (!row) return NO_ROW(sh, "edition", "has no row of the figure", ALONG);
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, flow, (double)at_flow + 1, "1 clear, 2 obstructed", ALONG, SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, letter, (double)at_letter + 1, "1 case A, 2 case B", ALONG, SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, zone, (double)at_zone + 1, "of three", ALONG, SL_DERIVED);
    FROM(sh, SL_NUMBER, CN, row, cn, row->name, edition);
    STEP(sh, SL_LENGTH, from, (zone - 1) * h, ALONG);
    STEP(sh, SL_LENGTH, to, zone > 2 ? L : fmin(zone * h, L), ALONG);
    STEP(sh, SL_PRESSURE, p, q_d * CN, "@wind_p");
    GIVES_ROW(sh, zones, n, letter, letter);
    GIVES_ROW(sh, zones, n, flow, flow);
    GIVES_ROW(sh, zones, n, from, from);
    GIVES_ROW(sh, zones, n, to, to);
    GIVES_ROW(sh, zones, n, pressure, p);
    up = fmax(up, -p);
    down = fmax(down, p);
    n++;
  }
  LINES_END(sh);
  *out = (struct sl_along_wind_out){ .zones = zones, .nzones = n };
  LOOKUP(sh, SL_PRESSURE, p_up, up, "largest lift of the zones", ALONG, SL_DERIVED);
  LOOKUP(sh, SL_PRESSURE, p_down, down, "largest push of the zones", ALONG, SL_DERIVED);
  GIVES(sh, out, peak_up, p_up);
  GIVES(sh, out, peak_down, p_down);
  return SL_OK;
}
