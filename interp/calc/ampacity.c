/* SPDX-License-Identifier: MIT
 * What current a conductor may carry, and what its insulation may be used for. */
#include "electrical.h"

#define TYPES "@insulation_types"

static const char *const no_type = "is not an insulation type of the table kept here";

/* The cell of a column of the table of ampacity, and what it is called. */
static double amps(const struct sl_table_ampacity_310_16 *row, int column) {
  return column == SL_60_C ? row->a60 : column == SL_75_C ? row->a75 : row->a90;
}
static const char *name(const struct sl_table_ampacity_310_16 *row, int column) {
  return column == SL_60_C ? row->name60 : column == SL_75_C ? row->name75 : row->name90;
}
static double ambient_factor(const struct sl_table_ambient_310_15_b1 *row, int column) {
  return column == SL_60_C ? row->f60 : column == SL_75_C ? row->f75 : row->f90;
}

/* The column of the table that a conductor temperature may use: never one above it. */
_Static_assert((int)SL_ROWS_OF_ampacity_columns == SL_90_C + 1, "a column of ampacities is a terminal's");
static int column_of(double rating) {
  int c = SL_60_C;
  while (c < SL_90_C && sl_table_ampacity_columns[c + 1].temperature <= rating + SL_CLOSE) c++;
  return c;
}

enum sl_status sl_insulation(const struct sl_insulation_in *in, struct sl_insulation_out *out, struct sl_sheet *sh) {
  NEC(sh, in);
  const struct sl_table_insulation_types *row = sl_insulation_row(in->type, edition);
  if (!row) return NO_ROW(sh, "type", no_type, TYPES);
  const bool wet = !isnan(row->wet);
  FROM(sh, SL_TEMPERATURE, T_dry, row, dry, row->dry_name, edition);
  FROM(sh, SL_VOLTAGE, V_type, row, voltage, row->type, edition);
  GIVES(sh, out, wet, wet);
  GIVES(sh, out, voltage, V_type);
  out->rating = out->dry_rating = T_dry;
  if (wet) {
    FROM(sh, SL_TEMPERATURE, T_wet, row, wet, row->wet_name, edition);
    GIVES(sh, out, rating, T_wet);
  }
  return SL_OK;
}

enum sl_status sl_ampacity(const struct sl_ampacity_in *in, struct sl_ampacity_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, material, SL_ALUMINUM);
  ONE_OF(sh, in, terminal, SL_90_C);
  POSITIVE(sh, in, ambient, SL_TEMPERATURE);
  REQUIRE(sh, in, conductors, >= 1, "must be at least 1", SL_NUMBER);
  NOT_NEGATIVE(sh, in, maximum, SL_CURRENT);
  REQUIRE(sh, in, required, >= in->maximum && isfinite(in->required), "must not be below maximum", SL_CURRENT);
  NEC(sh, in);
  const struct sl_table_insulation_types *type = sl_insulation_row(in->insulation, edition);
  if (!type) return NO_ROW(sh, "insulation", no_type, TYPES);
  if (!in->dry && isnan(type->wet))
    return NO_ROW(sh, "insulation", "is not for wet places, and a raceway underground or outdoors is one", TYPES);
  const struct sl_table_ampacity_310_16 *row = sl_ampacity_row(in->material, in->size, edition);
  if (!row)
    return NO_ROW(sh, "size", "has no row for this material: copper from 14 AWG, aluminum from 12, both to 500 kcmil",
                  "@ampacity");
  FIND(hot, ambient_310_15_b1, STANDS(hot, edition) && in->ambient <= hot->to + SL_CLOSE);
  if (!hot)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "ambient", "is above the table's last row", "@ambient_factor",
                          in->ambient, sl_table_ambient_310_15_b1[SL_ROWS_OF_ambient_310_15_b1 - 1].to, SL_TEMPERATURE);

  GIVEN(sh, SL_TEMPERATURE, T_a, in->ambient);
  GIVEN(sh, SL_NUMBER, N, in->conductors);
  GIVEN(sh, SL_CURRENT, I_max, in->maximum);
  GIVEN(sh, SL_CURRENT, I_required, in->required);
  LOOKUP(sh, SL_TEMPERATURE, T_insulation, in->dry ? type->dry : type->wet, in->dry ? type->dry_name : type->wet_name,
         type->cite, sl_known_as(type->known, edition));
  const int insulated = column_of(T_insulation), terminated = in->terminal < insulated ? in->terminal : insulated;
  const enum sl_basis known = sl_known_as(row->known, edition);
  LOOKUP(sh, SL_CURRENT, I_terminal, amps(row, terminated), name(row, terminated), row->cite, known);
  LOOKUP(sh, SL_CURRENT, I_base, amps(row, insulated), name(row, insulated), row->cite, known);
  if (isnan(ambient_factor(hot, insulated)))
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "ambient", "leaves this insulation no ampacity", hot->cite, T_a, NAN,
                          SL_TEMPERATURE);
  LOOKUP(sh, SL_NUMBER, F_ambient, ambient_factor(hot, insulated), hot->name, hot->cite,
         sl_known_as(hot->known, edition));
  FIND(crowd, adjust_310_15_c1, STANDS(crowd, edition) && (crowd->to < 0 || in->conductors <= crowd->to));
  if (!crowd) return NO_ROW(sh, "conductors", "is above the table's last row", "@count_factor");
  FROM(sh, SL_NUMBER, F_count, crowd, factor, crowd->name, edition);
  (void)N;       /* stands on the sheet only */
  STEP(sh, SL_CURRENT, I_corrected, I_base * F_ambient * F_count, "@corrected");
  STEP(sh, SL_CURRENT, I_usable, fmin(I_corrected, I_terminal), "@terminals");
  STEP(sh, SL_NUMBER, before, I_required <= I_terminal * (1 + 1e-9), "@before_factors");
  STEP(sh, SL_NUMBER, after, I_max <= I_usable * (1 + 1e-9), "@after_factors");
  GIVES(sh, out, terminal_ampacity, I_terminal);
  GIVES(sh, out, base, I_base);
  GIVES(sh, out, ambient_factor, F_ambient);
  GIVES(sh, out, count_factor, F_count);
  GIVES(sh, out, corrected, I_corrected);
  GIVES(sh, out, usable, I_usable);
  GIVES_FLAG(sh, out, holds_before, before);
  GIVES_FLAG(sh, out, holds_after, after);
  return SL_OK;
}
