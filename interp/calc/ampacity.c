/* SPDX-License-Identifier: MIT
 * What current a conductor may carry, and what its insulation may be used for. */
#include "electrical.h"

#define TYPES "NEC 2023 Table 310.4(1)"
#define TABLE "NEC Table 310.16"
#define CORRECTED "NEC 310.15(B)(1), 310.15(C)(1)"
#define TERMINALS "NEC 110.14(C)"
#define BEFORE "NEC 690.8(B)(1)"
#define AFTER "NEC 690.8(B)(2)"

static const struct ambient {
  double hottest;
  double factor[3];                            /* by enum sl_terminal; NAN: none at that temperature */
  const char *band, *cite;
  enum sl_basis basis;
} ambients[] = {
#define ROW(t_hi, f60, f75, f90, band, edition, section, basis, source) \
  { t_hi, { f60, f75, f90 }, "ambient " band, "NEC " edition " " section, basis },
#include "ambient_310_15_b1.inc"
#undef ROW
};
enum { AMBIENTS = sizeof ambients / sizeof *ambients };

static const struct crowd { int least; struct sl_entry factor; } crowds[] = {
#define ROW(n_lo, factor, name, edition, section, basis, source) \
  { n_lo, { factor, name, "NEC " edition " " section, basis } },
#include "adjust_310_15_c1.inc"
#undef ROW
};

static const double columns_c[] = { [SL_60_C] = 60, [SL_75_C] = 75, [SL_90_C] = 90 };

/* The column of the table that a conductor temperature may use: never one above it. */
static int column(double rating) {
  int c = SL_60_C;
  while (c < SL_90_C && sl_kelvin(columns_c[c + 1]) <= rating + SL_CLOSE) c++;
  return c;
}

static struct sl_entry crowd_factor(int conductors) {
  size_t i = sizeof crowds / sizeof *crowds - 1;
  while (i > 0 && crowds[i].least > conductors) i--;
  return crowds[i].factor;
}

enum sl_status sl_insulation(const struct sl_insulation_in *in, struct sl_insulation_out *out, struct sl_sheet *sh) {
  const struct sl_insulation_row *row = sl_insulation_row(in->type);
  if (!row) return NO_ROW(sh, "type", "is not an insulation type of the table kept here", TYPES);
  const bool wet = !isnan(row->wet_c);
  LOOKUP(sh, SL_TEMPERATURE, T_dry, sl_kelvin(row->dry_c), row->dry_name, row->cite, row->basis);
  LOOKUP(sh, SL_VOLTAGE, V_type, row->volts, row->type, row->cite, row->basis);
  GIVES(sh, out, wet, wet);
  GIVES(sh, out, voltage, V_type);
  out->rating = out->dry_rating = T_dry;
  if (wet) {
    LOOKUP(sh, SL_TEMPERATURE, T_wet, sl_kelvin(row->wet_c), row->wet_name, row->cite, row->basis);
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
  const struct sl_insulation_row *type = sl_insulation_row(in->insulation);
  if (!type) return NO_ROW(sh, "insulation", "is not an insulation type of the table kept here", TYPES);
  const double rating_c = in->dry ? type->dry_c : type->wet_c;
  if (isnan(rating_c))
    return NO_ROW(sh, "insulation", "is not for wet places, and a raceway underground or outdoors is one", TYPES);
  const struct sl_ampacity_row *row = sl_ampacity_row(in->material, in->size);
  if (!row)
    return NO_ROW(sh, "size", "has no row for this material: copper from 14 AWG, aluminum from 12, both to 500 kcmil",
                  TABLE);
  WITHIN(sh, "ambient", in->ambient, <=, sl_kelvin(ambients[AMBIENTS - 1].hottest) + SL_CLOSE,
         "is above the table's last row", ambients[0].cite, SL_TEMPERATURE);

  GIVEN(sh, SL_TEMPERATURE, T_a, in->ambient);
  GIVEN(sh, SL_NUMBER, N, in->conductors);
  GIVEN(sh, SL_CURRENT, I_max, in->maximum);
  GIVEN(sh, SL_CURRENT, I_required, in->required);
  LOOKUP(sh, SL_TEMPERATURE, T_insulation, sl_kelvin(rating_c), in->dry ? type->dry_name : type->wet_name, type->cite,
         type->basis);
  const int insulated = column(T_insulation), terminated = in->terminal < insulated ? in->terminal : insulated;
  LOOKUP(sh, SL_CURRENT, I_terminal, row->amps[terminated], row->name[terminated], row->cite, row->basis);
  LOOKUP(sh, SL_CURRENT, I_base, row->amps[insulated], row->name[insulated], row->cite, row->basis);
  const struct ambient *hot = ambients;
  while (T_a > sl_kelvin(hot->hottest) + SL_CLOSE) hot++;
  if (isnan(hot->factor[insulated]))
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "ambient", "leaves this insulation no ampacity", hot->cite, T_a, NAN,
                          SL_TEMPERATURE);
  LOOKUP(sh, SL_NUMBER, F_ambient, hot->factor[insulated], hot->band, hot->cite, hot->basis);
  ENTRY(sh, SL_NUMBER, F_count, crowd_factor((int)N));
  STEP(sh, SL_CURRENT, I_corrected, I_base * F_ambient * F_count, CORRECTED);
  STEP(sh, SL_CURRENT, I_usable, fmin(I_corrected, I_terminal), TERMINALS);
  STEP(sh, SL_NUMBER, before, I_required <= I_terminal * (1 + 1e-9), BEFORE);
  STEP(sh, SL_NUMBER, after, I_max <= I_usable * (1 + 1e-9), AFTER);
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
