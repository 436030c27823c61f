/* SPDX-License-Identifier: MIT
 * Strings of modules: what voltage and current they make, and whether each needs a fuse. */
#include "electrical.h"

#define COLD "NEC 690.7(A)(1)"
#define COLD_TABLE "NEC 690.7(A)(2)"
#define CURRENT "NEC 690.8(A)(1)(a)"
#define CONTINUOUS "NEC 690.8(B)(1)"
#define BACKFEED "NEC 690.9(A)(1); formula as in J. Wiles, Code Corner 125"
#define DEVICE "NEC 690.9(B)"
#define CIRCUIT "circuit law"

static const struct band { double coldest; struct sl_entry factor; } bands[] = {
#define ROW(t_lo, factor, band, edition, section, basis, source) \
  { t_lo, { factor, band, "NEC " edition " " section, basis } },
#include "voltage_690_7a.inc"
#undef ROW
};
enum { BANDS = sizeof bands / sizeof *bands };

/* More modules in a string than this is a wrong Voc, and keeps the count an int. */
#define MANY 10000
#define FEW(sh, n) \
  WITHIN(sh, "voc", n, <=, MANY, "is so low against the limit that no count of modules makes sense", CIRCUIT, SL_NUMBER)

enum sl_status sl_cold_voltage(const struct sl_cold_voltage_in *in, struct sl_cold_voltage_out *out,
                               struct sl_sheet *sh) {
  POSITIVE(sh, in, voc, SL_VOLTAGE);
  REQUIRE(sh, in, coefficient, < 0, "must be negative: cold raises the voltage", SL_PER_WARMTH);
  FINITE(sh, in, coefficient, SL_PER_WARMTH);
  REQUIRE(sh, in, series, >= 1, "must be at least 1", SL_NUMBER);
  POSITIVE(sh, in, coldest, SL_TEMPERATURE);
  POSITIVE(sh, in, limit, SL_VOLTAGE);
  GIVEN(sh, SL_VOLTAGE, V_oc, in->voc);
  GIVEN(sh, SL_PER_WARMTH, beta, in->coefficient);
  GIVEN(sh, SL_NUMBER, n, in->series);
  GIVEN(sh, SL_TEMPERATURE, T_min, in->coldest);
  GIVEN(sh, SL_VOLTAGE, V_limit, in->limit);
  ENTRY(sh, SL_TEMPERATURE, T_ref, sl_fact_kelvin("rating_temperature"));
  STEP(sh, SL_VOLTAGE, V_module, V_oc * (1 + beta * (T_min - T_ref)), COLD);
  WITHIN(sh, "coldest", V_module, >, 0, "is so warm that the straight line of the coefficient ends below 0 V", COLD,
         SL_VOLTAGE);
  STEP(sh, SL_VOLTAGE, V_string, n * V_module, COLD);
  STEP(sh, SL_NUMBER, n_max, floor(V_limit / V_module + 1e-9), CIRCUIT);   /* the slack is for binary noise */
  FEW(sh, n_max);
  STEP(sh, SL_RATIO, margin, (V_limit - V_string) / V_limit, CIRCUIT);
  out->flip = NAN;
  const double flip = T_ref + (V_limit / (n * V_oc) - 1) / beta;
  if (flip > 0 && isfinite(flip)) {
    STEP(sh, SL_TEMPERATURE, T_flip, T_ref + (V_limit / (n * V_oc) - 1) / beta, COLD);
    GIVES(sh, out, flip, T_flip);
  }
  GIVES(sh, out, module_voltage, V_module);
  GIVES(sh, out, voltage, V_string);
  GIVES_COUNT(sh, out, most, n_max);
  GIVES(sh, out, margin_ratio, margin);
  return SL_OK;
}

enum sl_status sl_cold_voltage_table(const struct sl_cold_voltage_table_in *in, struct sl_cold_voltage_table_out *out,
                                     struct sl_sheet *sh) {
  POSITIVE(sh, in, voc, SL_VOLTAGE);
  REQUIRE(sh, in, series, >= 1, "must be at least 1", SL_NUMBER);
  POSITIVE(sh, in, coldest, SL_TEMPERATURE);
  POSITIVE(sh, in, limit, SL_VOLTAGE);
  const double top = sl_fact_kelvin("rating_temperature").value;
  const double least = sl_kelvin(bands[BANDS - 1].coldest);
  WITHIN(sh, "coldest", in->coldest, <, top, "is above the table's first row: use the maker's coefficient",
         bands[0].factor.cite, SL_TEMPERATURE);
  WITHIN(sh, "coldest", in->coldest, >=, least - SL_CLOSE, "is below the table's last row: use the maker's coefficient",
         bands[0].factor.cite, SL_TEMPERATURE);
  GIVEN(sh, SL_VOLTAGE, V_oc, in->voc);
  GIVEN(sh, SL_NUMBER, n, in->series);
  GIVEN(sh, SL_TEMPERATURE, T_min, in->coldest);
  GIVEN(sh, SL_VOLTAGE, V_limit, in->limit);
  size_t at = 0;
  while (T_min < sl_kelvin(bands[at].coldest) - SL_CLOSE) at++;
  ENTRY(sh, SL_NUMBER, F, bands[at].factor);
  STEP(sh, SL_VOLTAGE, V_module, F * V_oc, COLD_TABLE);
  STEP(sh, SL_VOLTAGE, V_string, n * V_module, COLD_TABLE);
  STEP(sh, SL_NUMBER, n_max, floor(V_limit / V_module + 1e-9), CIRCUIT);   /* the slack is for binary noise */
  FEW(sh, n_max);
  STEP(sh, SL_RATIO, margin, (V_limit - V_string) / V_limit, CIRCUIT);
  size_t over = 0;
  while (over < BANDS && n * V_oc * bands[over].factor.value <= V_limit * (1 + SL_CLOSE)) over++;
  out->flip = NAN;
  if (over < BANDS) {
    LOOKUP(sh, SL_TEMPERATURE, T_flip, over ? sl_kelvin(bands[over - 1].coldest) : top,
           "warm edge of the first row over the limit", bands[0].factor.cite, bands[0].factor.basis);
    GIVES(sh, out, flip, T_flip);
  }
  GIVES(sh, out, factor, F);
  GIVES(sh, out, module_voltage, V_module);
  GIVES(sh, out, voltage, V_string);
  GIVES_COUNT(sh, out, most, n_max);
  GIVES(sh, out, margin_ratio, margin);
  return SL_OK;
}

enum sl_status sl_hot_voltage(const struct sl_hot_voltage_in *in, struct sl_hot_voltage_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, vmp, SL_VOLTAGE);
  REQUIRE(sh, in, coefficient, < 0, "must be negative: heat lowers the voltage", SL_PER_WARMTH);
  FINITE(sh, in, coefficient, SL_PER_WARMTH);
  REQUIRE(sh, in, series, >= 1, "must be at least 1", SL_NUMBER);
  POSITIVE(sh, in, hottest_air, SL_TEMPERATURE);
  NOT_NEGATIVE(sh, in, cell_rise, SL_WARMTH);
  GIVEN(sh, SL_VOLTAGE, V_mp, in->vmp);
  GIVEN(sh, SL_PER_WARMTH, gamma_V, in->coefficient);
  GIVEN(sh, SL_NUMBER, n, in->series);
  GIVEN(sh, SL_TEMPERATURE, T_air, in->hottest_air);
  GIVEN(sh, SL_WARMTH, rise, in->cell_rise);
  ENTRY(sh, SL_TEMPERATURE, T_ref, sl_fact_kelvin("rating_temperature"));
  STEP(sh, SL_TEMPERATURE, T_cell, T_air + rise, CIRCUIT);
  STEP(sh, SL_VOLTAGE, V_string, n * V_mp * (1 + gamma_V * (T_cell - T_ref)), "maker's coefficient of Vmp");
  WITHIN(sh, "hottest_air", V_string, >, 0, "is so warm that the straight line of the coefficient ends below 0 V",
         "maker's coefficient of Vmp", SL_VOLTAGE);
  GIVES(sh, out, cell, T_cell);
  GIVES(sh, out, voltage, V_string);
  return SL_OK;
}

enum sl_status sl_array_current(const struct sl_array_current_in *in, struct sl_array_current_out *out,
                                struct sl_sheet *sh) {
  POSITIVE(sh, in, isc, SL_CURRENT);
  POSITIVE(sh, in, imp, SL_CURRENT);
  REQUIRE(sh, in, imp, <= in->isc, "is above isc, which no module does: are the two swapped?", SL_CURRENT);
  REQUIRE(sh, in, parallel, >= 1, "must be at least 1", SL_NUMBER);
  GIVEN(sh, SL_CURRENT, I_sc, in->isc);
  GIVEN(sh, SL_CURRENT, I_mp, in->imp);
  GIVEN(sh, SL_NUMBER, N, in->parallel);
  ENTRY(sh, SL_NUMBER, f_sun, sl_fact("irradiance"));
  ENTRY(sh, SL_NUMBER, f_day, sl_fact("continuous"));
  STEP(sh, SL_CURRENT, I_max, f_sun * I_sc * N, CURRENT);
  STEP(sh, SL_CURRENT, I_required, f_day * I_max, CONTINUOUS);
  STEP(sh, SL_CURRENT, I_operating, I_mp * N, CIRCUIT);
  GIVES(sh, out, maximum, I_max);
  GIVES(sh, out, required, I_required);
  GIVES(sh, out, operating, I_operating);
  return SL_OK;
}

enum sl_status sl_string_fuse(const struct sl_string_fuse_in *in, struct sl_string_fuse_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, isc, SL_CURRENT);
  REQUIRE(sh, in, parallel, >= 1, "must be at least 1", SL_NUMBER);
  POSITIVE(sh, in, module_fuse, SL_CURRENT);
  NOT_NEGATIVE(sh, in, other_sources, SL_CURRENT);
  ONE_OF(sh, in, edition, SL_NEC_2023);
  GIVEN(sh, SL_CURRENT, I_sc, in->isc);
  GIVEN(sh, SL_NUMBER, N, in->parallel);
  GIVEN(sh, SL_CURRENT, I_series_fuse, in->module_fuse);
  GIVEN(sh, SL_CURRENT, I_other, in->other_sources);
  ENTRY(sh, SL_NUMBER, f_sun, sl_fact("irradiance"));
  ENTRY(sh, SL_NUMBER, f_device, sl_fact("device"));
  STEP(sh, SL_CURRENT, I_back, (N - 1) * f_sun * I_sc + I_other, BACKFEED);
  STEP(sh, SL_NUMBER, needed, I_back > I_series_fuse * (1 + 1e-9), BACKFEED);
  STEP(sh, SL_CURRENT, I_fuse_min, f_device * f_sun * I_sc, DEVICE);
  const struct sl_entry next = sl_next_rating(I_fuse_min, SL_FUSE, in->edition);
  if (isnan(next.value))
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "isc", "needs a fuse above the standard ratings kept here",
                          "NEC 240.6(A)", in->isc, NAN, SL_CURRENT);
  ENTRY(sh, SL_CURRENT, I_fuse, next);
  STEP(sh, SL_NUMBER, fits, I_fuse <= I_series_fuse * (1 + 1e-9), DEVICE);
  GIVES(sh, out, backfeed, I_back);
  GIVES_FLAG(sh, out, needed, needed);
  GIVES(sh, out, least_fuse, I_fuse);
  GIVES_FLAG(sh, out, fits, fits);
  return SL_OK;
}

enum sl_status sl_output_current(const struct sl_output_current_in *in, struct sl_output_current_out *out,
                                 struct sl_sheet *sh) {
  POSITIVE(sh, in, power, SL_POWER);
  POSITIVE(sh, in, voltage, SL_VOLTAGE);
  GIVEN(sh, SL_POWER, P, in->power);
  GIVEN(sh, SL_VOLTAGE, V, in->voltage);
  ENTRY(sh, SL_NUMBER, f_day, sl_fact("continuous"));
  STEP(sh, SL_CURRENT, I, P / V, CIRCUIT);
  STEP(sh, SL_CURRENT, I_required, f_day * I, CONTINUOUS);
  GIVES(sh, out, current, I);
  GIVES(sh, out, required, I_required);
  return SL_OK;
}

enum sl_status sl_building_voltage(const struct sl_building_voltage_in *in, struct sl_building_voltage_out *out,
                                   struct sl_sheet *sh) {
  ONE_OF(sh, in, building, SL_OTHER_BUILDING);
  ENTRY(sh, SL_VOLTAGE, V_dwelling, sl_fact("dwelling_voltage"));
  ENTRY(sh, SL_VOLTAGE, V_other, sl_fact("building_voltage"));
  out->most = in->building == SL_DWELLING ? V_dwelling : V_other;
  out->lowest = fmin(V_dwelling, V_other);
  return SL_OK;
}
