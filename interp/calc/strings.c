/* SPDX-License-Identifier: MIT
 * Strings of modules: what voltage and current they make, and whether each needs a fuse. */
#include "electrical.h"

#define COLD "@cold_coefficient"
#define COLD_TABLE "@cold_by_table"
#define BACKFEED "@backfeed"
#define DEVICE "@device"
#define CONTINUOUS "@continuous"
#define CIRCUIT "circuit law"

FITS_COLUMN(building_voltage_690_7, building, struct sl_building_voltage_in, building)

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
  NEC(sh, in);
  GIVEN(sh, SL_VOLTAGE, V_oc, in->voc);
  GIVEN(sh, SL_PER_WARMTH, beta, in->coefficient);
  GIVEN(sh, SL_NUMBER, n, in->series);
  GIVEN(sh, SL_TEMPERATURE, T_min, in->coldest);
  GIVEN(sh, SL_VOLTAGE, V_limit, in->limit);
  FACT(sh, SL_TEMPERATURE, T_ref, "rating_temperature", edition);
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
  NEC(sh, in);
  FACT(sh, SL_TEMPERATURE, T_top, "rating_temperature", edition);
  WITHIN(sh, "coldest", in->coldest, <, T_top, "is above the table's first row: use the maker's coefficient",
         "@cold_table", SL_TEMPERATURE);
  FIND(band, voltage_690_7a, STANDS(band, edition) && in->coldest >= band->coldest - SL_CLOSE);
  if (!band)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "coldest", "is below the table's last row: use the maker's coefficient",
                          "@cold_table", in->coldest, sl_table_voltage_690_7a[SL_ROWS_OF_voltage_690_7a - 1].coldest,
                          SL_TEMPERATURE);
  GIVEN(sh, SL_VOLTAGE, V_oc, in->voc);
  GIVEN(sh, SL_NUMBER, n, in->series);
  GIVEN(sh, SL_TEMPERATURE, T_min, in->coldest);
  GIVEN(sh, SL_VOLTAGE, V_limit, in->limit);
  (void)T_min;   /* stands on the sheet only */
  FROM(sh, SL_NUMBER, F, band, factor, band->band, edition);
  STEP(sh, SL_VOLTAGE, V_module, F * V_oc, COLD_TABLE);
  STEP(sh, SL_VOLTAGE, V_string, n * V_module, COLD_TABLE);
  STEP(sh, SL_NUMBER, n_max, floor(V_limit / V_module + 1e-9), CIRCUIT);   /* the slack is for binary noise */
  FEW(sh, n_max);
  STEP(sh, SL_RATIO, margin, (V_limit - V_string) / V_limit, CIRCUIT);
  double edge = T_top;    /* the warm edge of the row looked at */
  FIND(over, voltage_690_7a, STANDS(over, edition) &&
       (n * V_oc * over->factor > V_limit * (1 + SL_CLOSE) || (edge = over->coldest, false)));
  out->flip = NAN;
  if (over) {
    LOOKUP(sh, SL_TEMPERATURE, T_flip, edge, "warm edge of the first row over the limit", over->cite,
           sl_known_as(over->known, edition));
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
  FACT(sh, SL_TEMPERATURE, T_ref, "rating_temperature", SL_NO_EDITION);
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
  NEC(sh, in);
  GIVEN(sh, SL_CURRENT, I_sc, in->isc);
  GIVEN(sh, SL_CURRENT, I_mp, in->imp);
  GIVEN(sh, SL_NUMBER, N, in->parallel);
  FACT(sh, SL_NUMBER, f_sun, "irradiance", edition);
  FACT(sh, SL_NUMBER, f_day, "continuous", edition);
  STEP(sh, SL_CURRENT, I_max, f_sun * I_sc * N, "@max_current");
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
  NEC(sh, in);
  GIVEN(sh, SL_CURRENT, I_sc, in->isc);
  GIVEN(sh, SL_NUMBER, N, in->parallel);
  GIVEN(sh, SL_CURRENT, I_series_fuse, in->module_fuse);
  GIVEN(sh, SL_CURRENT, I_other, in->other_sources);
  FACT(sh, SL_NUMBER, f_sun, "irradiance", edition);
  FACT(sh, SL_NUMBER, f_device, "device", edition);
  STEP(sh, SL_CURRENT, I_back, (N - 1) * f_sun * I_sc + I_other, BACKFEED);
  STEP(sh, SL_NUMBER, needed, I_back > I_series_fuse * (1 + 1e-9), BACKFEED);
  STEP(sh, SL_CURRENT, I_fuse_min, f_device * f_sun * I_sc, DEVICE);
  const struct sl_table_ocpd_240_6 *next = sl_next_rating(I_fuse_min, SL_FUSE, edition);
  if (!next)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "isc", "needs a fuse above the standard ratings kept here",
                          "@ratings", in->isc, NAN, SL_CURRENT);
  FROM(sh, SL_CURRENT, I_fuse, next, amps, "next standard rating", edition);
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
  NEC(sh, in);
  GIVEN(sh, SL_POWER, P, in->power);
  GIVEN(sh, SL_VOLTAGE, V, in->voltage);
  FACT(sh, SL_NUMBER, f_day, "continuous", edition);
  STEP(sh, SL_CURRENT, I, P / V, CIRCUIT);
  STEP(sh, SL_CURRENT, I_required, f_day * I, CONTINUOUS);
  GIVES(sh, out, current, I);
  GIVES(sh, out, required, I_required);
  return SL_OK;
}

enum sl_status sl_building_voltage(const struct sl_building_voltage_in *in, struct sl_building_voltage_out *out,
                                   struct sl_sheet *sh) {
  NEC(sh, in);
  FIND(row, building_voltage_690_7, STANDS(row, edition) && sl_same_text(row->building, in->building));
  if (*in->building && !row)
    return NO_ROW(sh, "building", "is no building that a limit is kept of", "@building_voltage");
  for (size_t i = 0; !*in->building && i < SL_ROWS_OF_building_voltage_690_7; i++) {
    const struct sl_table_building_voltage_690_7 *other = &sl_table_building_voltage_690_7[i];
    if (STANDS(other, edition) && (!row || other->voltage < row->voltage)) row = other;
  }
  if (!row) return NO_ROW(sh, "edition", "has no limit kept here", "@building_voltage");
  FROM(sh, SL_VOLTAGE, V_building, row, voltage, row->words, edition);
  GIVES(sh, out, most, V_building);
  return SL_OK;
}
