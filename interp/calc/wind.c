/* SPDX-License-Identifier: MIT
 * Wind on an open rack: velocity pressure, and what four cases of the monoslope free roof do to a pair of posts. */
#include "guard.h"
#include "table.h"
#include "stringline/wind.h"

#define FIGURE  "@wind_figure"
#define LEAST   "@wind_least"
#define STATICS "statics: halves of the panel act at their middles"

const char *const sl_exposures[] = { [SL_EXPOSURE_B] = "B", [SL_EXPOSURE_C] = "C", [SL_EXPOSURE_D] = "D", NULL };
const char *const sl_flows[] = { [SL_FLOW_CLEAR] = "clear", [SL_FLOW_OBSTRUCTED] = "obstructed", NULL };

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

enum sl_status sl_velocity_pressure(const struct sl_velocity_pressure_in *in, struct sl_velocity_pressure_out *out,
                                    struct sl_sheet *sh) {
  POSITIVE(sh, in, speed, SL_SPEED);
  ONE_OF(sh, in, exposure, SL_EXPOSURE_D);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  FINITE(sh, in, elevation, SL_LENGTH);
  REQUIRE(sh, in, topographic, >= 1, "must be at least 1, its value on flat ground", SL_NUMBER);
  REQUIRE(sh, in, topographic, < INFINITY, "must be a finite number", SL_NUMBER);
  EDITION(sh, in, edition, "ASCE", edition);
  FIND(t, wind_terrain, STANDS(t, edition) && sl_same_text(t->exposure, sl_exposures[in->exposure]));
  if (!t) return NO_ROW(sh, "exposure", "has no row in this edition", "@wind_terrain");

  GIVEN(sh, SL_SPEED, V, in->speed);
  GIVEN(sh, SL_LENGTH, z, in->height);
  GIVEN(sh, SL_LENGTH, z_e, in->elevation);
  GIVEN(sh, SL_NUMBER, Kzt, in->topographic);
  FROM(sh, SL_NUMBER, k, t, k, t->name, edition);
  FROM(sh, SL_NUMBER, alpha, t, alpha, t->name, edition);
  FROM(sh, SL_LENGTH, zg, t, zg, t->name, edition);
  WITHIN(sh, "height", z, <=, zg, "is above the gradient height", t->cite, SL_LENGTH);
  FACT(sh, SL_LENGTH, z_min, "least_height", edition);
  FACT(sh, SL_DENSITY, c, "pressure_constant", edition);
  FACT(sh, SL_PER_HEIGHT, c_e, "Ke_height", edition);
  STEP(sh, SL_NUMBER, Kz, k * pow(fmax(z, z_min) / zg, 2 / alpha), "@wind_kz");
  STEP(sh, SL_NUMBER, Ke, exp(-c_e * z_e), "@wind_ke");
  STEP(sh, SL_PRESSURE, q, c * Kz * Kzt * Ke * V * V, "@wind_q");
  *out = (struct sl_velocity_pressure_out){ 0 };
  GIVES(sh, out, kz, Kz);
  GIVES(sh, out, ke, Ke);
  GIVES(sh, out, pressure, q);
  return SL_OK;
}

/* Names as long as the outputs that they are copied to, whole. */
enum { CASES = 4, NAME = sizeof ((struct sl_rack_wind_out *)0)->front_uplift_case };
static const char case_names[CASES][NAME] = { "A, high edge", "B, high edge", "A, low edge", "B, low edge" };
static const char no_case[NAME] = "none", least_wind[NAME] = "least wind";

/* Names the first case whose value is the governing one. */
static void name_case(char to[NAME], const double value[CASES], double governing) {
  const char *name = no_case;
  for (size_t i = CASES; i-- > 0;)
    if (value[i] >= governing && governing > 0) name = case_names[i];
  memcpy(to, name, NAME);
}

/* The same for a side force, which the least wind of the standard may govern. */
static void name_side(char to[NAME], const double value[CASES], double governing, double least) {
  if (governing > 0 && least > governing) memcpy(to, least_wind, NAME);
  else name_case(to, value, governing);
}

/* Rows of one case.  c: tail of its symbols; hi, lo: which half, W or L, is the high one and the low one. */
#define CASE(c, letter, gamma, hi, lo) \
  const struct between at_##c = find_roofs(edition, theta, theta_min, letter, gamma, flow); \
  FROM(sh, SL_NUMBER, CNWa_##c, at_##c.low, cnw, at_##c.low->name, edition); \
  FROM(sh, SL_NUMBER, CNWb_##c, at_##c.high, cnw, at_##c.high->name, edition); \
  FROM(sh, SL_NUMBER, CNLa_##c, at_##c.low, cnl, at_##c.low->name, edition); \
  FROM(sh, SL_NUMBER, CNLb_##c, at_##c.high, cnl, at_##c.high->name, edition); \
  STEP(sh, SL_NUMBER, CNW_##c, CNWa_##c + f * (CNWb_##c - CNWa_##c), FIGURE); \
  STEP(sh, SL_NUMBER, CNL_##c, CNLa_##c + f * (CNLb_##c - CNLa_##c), FIGURE); \
  STEP(sh, SL_PRESSURE, pW_##c, q * Kd * G * CNW_##c, "@wind_p"); \
  STEP(sh, SL_PRESSURE, pL_##c, q * Kd * G * CNL_##c, "@wind_p"); \
  STEP(sh, SL_FORCE, Nhi_##c, p##hi##_##c * C / 2 * w, STATICS); \
  STEP(sh, SL_FORCE, Nlo_##c, p##lo##_##c * C / 2 * w, STATICS); \
  STEP(sh, SL_FORCE, Rb_##c, (Nhi_##c * (0.75 - s_f) + Nlo_##c * (0.25 - s_f)) / (s_b - s_f), STATICS); \
  STEP(sh, SL_FORCE, Rf_##c, Nhi_##c + Nlo_##c - Rb_##c, STATICS)

enum sl_status sl_rack_wind(const struct sl_rack_wind_in *in, struct sl_rack_wind_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, velocity_pressure, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  NOT_NEGATIVE(sh, in, mean_height, SL_LENGTH);
  ONE_OF(sh, in, flow, SL_FLOW_OBSTRUCTED);
  REQUIRE(sh, in, front, >= 0, "must be between 0 and 1", SL_RATIO);
  REQUIRE(sh, in, back, <= 1, "must be between 0 and 1", SL_RATIO);
  REQUIRE(sh, in, back, > in->front, "must be further up the slope than the front line", SL_RATIO);
  POSITIVE(sh, in, tributary, SL_LENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  const char *const flow = sl_flows[in->flow];

  GIVEN(sh, SL_PRESSURE, q, in->velocity_pressure);
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, C, in->slope_length);
  GIVEN(sh, SL_LENGTH, h, in->mean_height);
  GIVEN(sh, SL_RATIO, s_f, in->front);
  GIVEN(sh, SL_RATIO, s_b, in->back);
  GIVEN(sh, SL_LENGTH, w, in->tributary);
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

  const struct between rows = find_roofs(edition, theta, theta_min, "A", 0, flow);
  if (!rows.low) return NO_ROW(sh, "edition", "has no row of the figure", FIGURE);
  FROM(sh, SL_ANGLE, theta_a, rows.low, theta, "row at or below the tilt", edition);
  FROM(sh, SL_ANGLE, theta_b, rows.high, theta, "row above it, or the same", edition);
  STEP(sh, SL_NUMBER, f, theta_b > theta_a ? (theta - theta_a) / (theta_b - theta_a) : 0, "@wind_figure_notes");

  /* p > 0 presses down on the rack, p < 0 lifts it; so do N and R. */
  HEADING(sh, "case A, wind at the high edge");
  CASE(A0, "A", 0, W, L);
  HEADING(sh, "case B, wind at the high edge");
  CASE(B0, "B", 0, W, L);
  HEADING(sh, "case A, wind at the low edge");
  CASE(A180, "A", 180, L, W);
  HEADING(sh, "case B, wind at the low edge");
  CASE(B180, "B", 180, L, W);

  HEADING(sh, "the cases together");
  FACT(sh, SL_PRESSURE, p_least, "pressure_least", edition);
  STEP(sh, SL_FORCE, Rb_least, p_least * C * w * (0.5 - s_f) / (s_b - s_f), LEAST);
  STEP(sh, SL_FORCE, Rf_least, p_least * C * w - Rb_least, LEAST);

  STEP(sh, SL_FORCE, Rf_min, fmin(fmin(Rf_A0, Rf_B0), fmin(Rf_A180, Rf_B180)), "least of four cases");
  STEP(sh, SL_FORCE, Rf_max, fmax(fmax(Rf_A0, Rf_B0), fmax(Rf_A180, Rf_B180)), "largest of four cases");
  STEP(sh, SL_FORCE, Rb_min, fmin(fmin(Rb_A0, Rb_B0), fmin(Rb_A180, Rb_B180)), "least of four cases");
  STEP(sh, SL_FORCE, Rb_max, fmax(fmax(Rb_A0, Rb_B0), fmax(Rb_A180, Rb_B180)), "largest of four cases");
  STEP(sh, SL_FORCE, front_uplift, fmax(0, -Rf_min * cos(theta)), STATICS);
  STEP(sh, SL_FORCE, front_down, fmax(0, Rf_max * cos(theta)), STATICS);
  STEP(sh, SL_FORCE, front_lateral, fmax(fmax(-Rf_min, Rf_max), Rf_least) * sin(theta), STATICS);
  STEP(sh, SL_FORCE, back_uplift, fmax(0, -Rb_min * cos(theta)), STATICS);
  STEP(sh, SL_FORCE, back_down, fmax(0, Rb_max * cos(theta)), STATICS);
  STEP(sh, SL_FORCE, back_lateral, fmax(fmax(-Rb_min, Rb_max), Rb_least) * sin(theta), STATICS);
  STEP(sh, SL_PRESSURE, p_up, fmax(0, -fmin(fmin(fmin(pW_A0, pL_A0), fmin(pW_B0, pL_B0)),
                                            fmin(fmin(pW_A180, pL_A180), fmin(pW_B180, pL_B180)))), "largest lift");
  STEP(sh, SL_PRESSURE, p_down, fmax(0, fmax(fmax(fmax(pW_A0, pL_A0), fmax(pW_B0, pL_B0)),
                                             fmax(fmax(pW_A180, pL_A180), fmax(pW_B180, pL_B180)))), "largest push");

  *out = (struct sl_rack_wind_out){ 0 };
  GIVES(sh, out, front_uplift, front_uplift);
  GIVES(sh, out, front_down, front_down);
  GIVES(sh, out, front_lateral, front_lateral);
  GIVES(sh, out, back_uplift, back_uplift);
  GIVES(sh, out, back_down, back_down);
  GIVES(sh, out, back_lateral, back_lateral);
  GIVES(sh, out, peak_uplift, p_up);
  GIVES(sh, out, peak_down, p_down);
  const double front[CASES] = { Rf_A0, Rf_B0, Rf_A180, Rf_B180 }, back[CASES] = { Rb_A0, Rb_B0, Rb_A180, Rb_B180 };
  const double first[CASES] = { pW_A0, pW_B0, pW_A180, pW_B180 }, second[CASES] = { pL_A0, pL_B0, pL_A180, pL_B180 };
  double lift_f[CASES], lift_b[CASES], side_f[CASES], side_b[CASES], suck[CASES], press[CASES];
  for (size_t i = 0; i < CASES; i++) {
    lift_f[i] = -front[i]; side_f[i] = fabs(front[i]);
    lift_b[i] = -back[i];  side_b[i] = fabs(back[i]);
    suck[i] = -fmin(first[i], second[i]);
    press[i] = fmax(first[i], second[i]);
  }
  name_case(out->front_uplift_case, lift_f, -Rf_min);
  name_case(out->front_down_case, front, Rf_max);
  name_side(out->front_lateral_case, side_f, front_lateral > 0 ? fmax(-Rf_min, Rf_max) : 0, Rf_least);
  name_case(out->back_uplift_case, lift_b, -Rb_min);
  name_case(out->back_down_case, back, Rb_max);
  name_side(out->back_lateral_case, side_b, back_lateral > 0 ? fmax(-Rb_min, Rb_max) : 0, Rb_least);
  name_case(out->peak_uplift_case, suck, p_up);
  name_case(out->peak_down_case, press, p_down);
  return SL_OK;
}
