/* SPDX-License-Identifier: MIT
 * A conductor's resistance, and the voltage that a direct-current run loses. */
#include "electrical.h"

#define NOTE_2 "@table_8_note"
#define CIRCUIT "circuit law, both wires"

typedef struct sl_table_conductor_properties_ch9_t8 conductor;

static const conductor *row_of(const char *size, int stranding, int edition, struct sl_sheet *sh) {
  const conductor *row = sl_conductor_row(size, stranding, edition);
  if (!row)
    NO_ROW(sh, "size",
           stranding == SL_SOLID ? "has no solid conductor in the table: solid goes from 18 to 8 AWG"
                                 : "has no row in the table: 18 AWG to 4/0, then 250, 300, 350, 400, 500 kcmil",
           "@table_8");
  return row;
}

static double resistance(const conductor *row, int material) {
  return material == SL_COPPER ? row->copper : row->aluminum;
}
static const char *name(const conductor *row, int material) {
  return material == SL_COPPER ? row->name_copper : row->name_aluminum;
}

enum sl_status sl_conductor(const struct sl_conductor_in *in, struct sl_conductor_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, material, SL_ALUMINUM);
  ONE_OF(sh, in, stranding, SL_SOLID);
  NEC(sh, in);
  const conductor *row = row_of(in->size, in->stranding, edition, sh);
  if (!row) return SL_NO_ROW;
  LOOKUP(sh, SL_OHM_LENGTH, R, resistance(row, in->material), name(row, in->material), row->cite,
         sl_known_as(row->known, edition));
  FROM(sh, SL_LENGTH, D, row, od, row->name_bare, edition);
  FROM(sh, SL_SECTION, A, row, metal, name(row, in->material), edition);
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
  NEC(sh, in);
  if (!isnan(in->conductor_temperature)) {
    POSITIVE(sh, in, conductor_temperature, SL_TEMPERATURE);
    WITHIN(sh, "conductor_temperature", in->conductor_temperature, <=,
           sl_table_ampacity_columns[SL_ROWS_OF_ampacity_columns - 1].temperature + SL_CLOSE,
           "is above the hottest that these conductors may run", "@ampacity", SL_TEMPERATURE);
  }
  const conductor *row = row_of(in->size, in->stranding, edition, sh);
  if (!row) return SL_NO_ROW;
  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_CURRENT, I, in->current);
  GIVEN(sh, SL_VOLTAGE, V, in->voltage);
  FACT(sh, SL_TEMPERATURE, T_75, "table8_temperature", edition);
  GIVEN(sh, SL_TEMPERATURE, T, isnan(in->conductor_temperature) ? T_75 : in->conductor_temperature);
  if (sh && sh->cap && !isnan(in->conductor_temperature)) sl_sheet_is(sh, "in->conductor_temperature");
  LOOKUP(sh, SL_OHM_LENGTH, R_75, resistance(row, in->material), name(row, in->material), row->cite,
         sl_known_as(row->known, edition));
  FACT_OF(sh, SL_PER_WARMTH, alpha, in->material == SL_COPPER ? "alpha_copper" : "alpha_aluminum", edition);
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
