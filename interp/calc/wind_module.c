/* SPDX-License-Identifier: MIT
 * Wind on components of a free roof: what a module, its clamps or a rail's end carry, by zone. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/wind_faces.h"

#define FIGURE "@wind_components"
#define BETWEEN "@wind_components_notes"

enum { ZONES = 3 };

typedef struct sl_table_wind_cn_components component;
struct between { const component *low, *high; };
static struct between find_rows(int edition, double tilt, int area, const char *flow) {
  struct between found = { NULL, NULL };
  for (size_t i = 0; i < SL_ROWS_OF_wind_cn_components; i++) {
    const component *r = &sl_table_wind_cn_components[i];
    if (r->area != area || !STANDS(r, edition) || !sl_same_text(r->flow, flow)) continue;
    if (r->theta <= tilt + 1e-9) found.low = r;               /* rows rise in tilt */
    else if (!found.high) found.high = r;
  }
  if (!found.high) found.high = found.low;
  return found;
}
static double push_of(const component *r, int zone) {
  return zone == 3 ? r->push3 : zone == 2 ? r->push2 : r->push1;
}
static double lift_of(const component *r, int zone) {
  return zone == 3 ? r->lift3 : zone == 2 ? r->lift2 : r->lift1;
}

size_t sl_module_wind_need(const struct sl_module_wind_in *in) {
  (void)in;
  return NEED(0, struct sl_wind_zone, ZONES);
}

#define COLUMN(sym, of, row) \
  LOOKUP(sh, SL_NUMBER, sym, of(row, number), (row)->name, (row)->cite, sl_known_as((row)->known, edition))

enum sl_status sl_module_wind(const struct sl_module_wind_in *in, struct sl_module_wind_out *out,
                              struct sl_space space, struct sl_sheet *sh) {
  POSITIVE(sh, in, velocity_pressure, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  POSITIVE(sh, in, row_width, SL_LENGTH);
  NOT_NEGATIVE(sh, in, mean_height, SL_LENGTH);
  POSITIVE(sh, in, area, SL_AREA);
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_module_wind_need(in));

  GIVEN(sh, SL_PRESSURE, q, in->velocity_pressure);
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, C, in->slope_length);
  GIVEN(sh, SL_LENGTH, B, in->row_width);
  GIVEN(sh, SL_LENGTH, h, in->mean_height);
  GIVEN(sh, SL_AREA, A, in->area);
  FACT(sh, SL_ANGLE, theta_max, "tilt_most", edition);
  FACT(sh, SL_NUMBER, hL_min, "ratio_least", edition);
  FACT(sh, SL_NUMBER, hL_max, "ratio_most", edition);
  WITHIN(sh, "tilt", theta - 1e-9, <=, theta_max, "is steeper than the figure goes", FIGURE, SL_ANGLE);
  STEP(sh, SL_LENGTH, L, C * cos(theta), "plane geometry: plan depth of the slope");
  STEP(sh, SL_NUMBER, h_over_L, h / L, "@wind_ratio");
  WITHIN(sh, "mean_height", h_over_L + 1e-9, >=, hL_min,
         "is too low for the figure: mean height over plan depth (h/L)", FIGURE, SL_NUMBER);
  WITHIN(sh, "mean_height", h_over_L - 1e-9, <=, hL_max,
         "is too high for the figure: mean height over plan depth (h/L)", FIGURE, SL_NUMBER);
  FACT(sh, SL_NUMBER, k, "zone_share", edition);
  FACT(sh, SL_NUMBER, k_h, "zone_height", edition);
  FACT(sh, SL_NUMBER, k_min, "zone_least_share", edition);
  FACT(sh, SL_LENGTH, a_min, "zone_least", edition);
  STEP(sh, SL_LENGTH, a, fmax(fmin(k * fmin(L, B), k_h * h), fmax(k_min * fmin(L, B), a_min)), FIGURE);
  STEP(sh, SL_NUMBER, class, A <= a * a ? 1 : A <= 4 * a * a ? 2 : 3, FIGURE);
  const struct between clear = find_rows(edition, theta, (int)class, sl_flows[SL_FLOW_CLEAR]),
                       blocked = find_rows(edition, theta, (int)class, sl_flows[SL_FLOW_OBSTRUCTED]);
  if (!clear.low || !blocked.low) return NO_ROW(sh, "edition", "has no row of the figure", FIGURE);
  FROM(sh, SL_ANGLE, theta_a, clear.low, theta, "row at or below the tilt", edition);
  FROM(sh, SL_ANGLE, theta_b, clear.high, theta, "row above it, or the same", edition);
  STEP(sh, SL_NUMBER, f, theta_b > theta_a ? (theta - theta_a) / (theta_b - theta_a) : 0, BETWEEN);
  FACT(sh, SL_NUMBER, Kd, "Kd", edition);
  FACT(sh, SL_NUMBER, G, "G", edition);
  STEP(sh, SL_PRESSURE, q_d, q * Kd * G, "@wind_factored");

  struct sl_wind_zone *zones = PART(&space, struct sl_wind_zone, ZONES);
  LINES(sh, "zones: 3 corners, 2 edges, 1 field");
  for (size_t i = 0; i < ZONES; i++) {
    const int number = ZONES - (int)i;
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, zone, number, "of the figure", FIGURE, SL_DERIVED);
    COLUMN(CNa_push_clear, push_of, clear.low);
    COLUMN(CNb_push_clear, push_of, clear.high);
    COLUMN(CNa_push_obstructed, push_of, blocked.low);
    COLUMN(CNb_push_obstructed, push_of, blocked.high);
    COLUMN(CNa_lift_clear, lift_of, clear.low);
    COLUMN(CNb_lift_clear, lift_of, clear.high);
    COLUMN(CNa_lift_obstructed, lift_of, blocked.low);
    COLUMN(CNb_lift_obstructed, lift_of, blocked.high);
    STEP(sh, SL_NUMBER, CN_push, fmax(CNa_push_clear + f * (CNb_push_clear - CNa_push_clear),
         CNa_push_obstructed + f * (CNb_push_obstructed - CNa_push_obstructed)), BETWEEN);
    STEP(sh, SL_NUMBER, CN_lift, fmin(CNa_lift_clear + f * (CNb_lift_clear - CNa_lift_clear),
         CNa_lift_obstructed + f * (CNb_lift_obstructed - CNa_lift_obstructed)), BETWEEN);
    STEP(sh, SL_PRESSURE, push, q_d * CN_push, FIGURE);
    STEP(sh, SL_PRESSURE, lift, -q_d * CN_lift, FIGURE);
    GIVES_ROW(sh, zones, i, zone, zone);
    GIVES_ROW(sh, zones, i, lift, lift);
    GIVES_ROW(sh, zones, i, push, push);
  }
  LINES_END(sh);
  *out = (struct sl_module_wind_out){ .zones = zones, .nzones = ZONES };
  GIVES(sh, out, width, a);
  return SL_OK;
}
