/* SPDX-License-Identifier: MIT
 * A conductor's resistance, and the voltage that a direct-current run loses. */
#include "electrical.h"

#define TABLE_8 "NEC Chapter 9 Table 8"
#define NOTE_2 "NEC Chapter 9 Table 8 note 2"
#define CIRCUIT "circuit law, both wires"

static const double FEET_1000 = 304.8, INCH = 0.0254, MIL = 0.0254e-3;

static const struct sl_conductor_row *row_of(const char *size, int stranding, struct sl_sheet *sh) {
  const struct sl_conductor_row *row = sl_conductor_row(size, stranding);
  if (!row)
    NO_ROW(sh, "size",
           stranding == SL_SOLID ? "has no solid conductor in the table: solid goes from 18 to 8 AWG"
                                 : "has no row in the table: 18 AWG to 4/0, then 250, 300, 350, 400, 500 kcmil",
           TABLE_8);
  return row;
}

enum sl_status sl_conductor(const struct sl_conductor_in *in, struct sl_conductor_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, material, SL_ALUMINUM);
  ONE_OF(sh, in, stranding, SL_SOLID);
  const struct sl_conductor_row *row = row_of(in->size, in->stranding, sh);
  if (!row) return SL_NO_ROW;
  LOOKUP(sh, SL_OHM_LENGTH, R, row->ohm_kft[in->material] / FEET_1000, row->name[in->material], row->cite, row->basis);
  LOOKUP(sh, SL_LENGTH, D, row->od_in * INCH, row->bare, row->cite, row->basis);
  LOOKUP(sh, SL_LENGTH, d, sqrt(row->cmil) * MIL, "circle of the same metal", row->cite, row->basis);
  STEP(sh, SL_SECTION, A, acos(-1) / 4 * d * d, "definition of the circular mil");
  GIVES(sh, out, resistance, R);
  GIVES(sh, out, diameter, D);
  GIVES(sh, out, area, A);
  return SL_OK;
}

enum sl_status sl_voltage_drop(const struct sl_voltage_drop_in *in, struct sl_voltage_drop_out *out,
                               struct sl_sheet *sh) {
  POSITIVE(sh, in, length, SL_LENGTH);
  NOT_NEGATIVE(sh, in, current, SL_CURRENT);
  POSITIVE(sh, in, voltage, SL_VOLTAGE);
  ONE_OF(sh, in, material, SL_ALUMINUM);
  ONE_OF(sh, in, stranding, SL_SOLID);
  if (!isnan(in->conductor_temperature)) {
    POSITIVE(sh, in, conductor_temperature, SL_TEMPERATURE);
    WITHIN(sh, "conductor_temperature", in->conductor_temperature, <=, sl_kelvin(90) + SL_CLOSE,
           "is above the hottest that these conductors may run", "NEC Table 310.16, last column", SL_TEMPERATURE);
  }
  const struct sl_conductor_row *row = row_of(in->size, in->stranding, sh);
  if (!row) return SL_NO_ROW;
  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_CURRENT, I, in->current);
  GIVEN(sh, SL_VOLTAGE, V, in->voltage);
  const struct sl_entry table = sl_fact_kelvin("table8_temperature");
  GIVEN(sh, SL_TEMPERATURE, T, isnan(in->conductor_temperature) ? table.value : in->conductor_temperature);
  LOOKUP(sh, SL_OHM_LENGTH, R_75, row->ohm_kft[in->material] / FEET_1000, row->name[in->material], row->cite,
         row->basis);
  ENTRY(sh, SL_TEMPERATURE, T_75, table);
  ENTRY(sh, SL_PER_WARMTH, alpha, sl_fact(in->material == SL_COPPER ? "alpha_copper" : "alpha_aluminum"));
  STEP(sh, SL_OHM_LENGTH, R, R_75 * (1 + alpha * (T - T_75)), NOTE_2);
  WITHIN(sh, "conductor_temperature", R, >, 0, "is so cold that the straight line of the table's note ends below zero",
         NOTE_2, SL_OHM_LENGTH);
  STEP(sh, SL_VOLTAGE, V_drop, 2 * L * R * I, CIRCUIT);
  STEP(sh, SL_RATIO, ratio, V_drop / V, CIRCUIT);
  STEP(sh, SL_POWER, P_loss, V_drop * I, CIRCUIT);
  GIVES(sh, out, drop, V_drop);
  GIVES(sh, out, ratio, ratio);
  GIVES(sh, out, loss, P_loss);
  return SL_OK;
}
