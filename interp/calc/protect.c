/* SPDX-License-Identifier: MIT
 * Overcurrent devices and equipment grounding conductors. */
#include "electrical.h"
#include "table.h"

#define RATINGS "NEC 240.6(A)"
#define NEXT_UP "NEC 240.4(B)"
#define SMALL "NEC 240.4(D)"
#define TABLE_8 "NEC Chapter 9 Table 8"
#define ENLARGED "@grounding_enlarged"
#define NOT_LARGER "@grounding_no_larger"

static const struct small { const char *material, *size; struct sl_entry cap; } smalls[] = {
#define ROW(material, size, label, amps, edition, section, basis, source) \
  { material, size, { amps, label " " material, "NEC " edition " " section, basis } },
#include "small_conductor_240_4d.inc"
#undef ROW
};
#define ROW(material, size_, ...) FITS(size_, struct sl_overcurrent_in, size)
#include "small_conductor_240_4d.inc"
#undef ROW

FITS_COLUMN(egc_250_122, copper, struct sl_grounding_conductor_out, size)
FITS_COLUMN(egc_250_122, aluminum, struct sl_grounding_conductor_out, size)

static const struct sl_entry *small_cap(int material, const char *size) {
  for (size_t i = 0; i < sizeof smalls / sizeof *smalls; i++)
    if (strcmp(smalls[i].material, sl_materials[material]) == 0 && strcmp(smalls[i].size, size) == 0)
      return &smalls[i].cap;
  return NULL;
}

static const char *ground_size(const struct sl_table_egc_250_122 *row, int material) {
  return material == SL_COPPER ? row->copper : row->aluminum;
}
static const char *ground_name(const struct sl_table_egc_250_122 *row, int material) {
  return material == SL_COPPER ? row->copper_name : row->aluminum_name;
}

static enum sl_status above_grounds(double device, struct sl_sheet *sh) {
  const struct sl_table_egc_250_122 *last = &sl_table_egc_250_122[SL_ROWS_OF_egc_250_122 - 1];
  return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "device", "is above the rows kept here", last->cite, device, last->amps,
                        SL_CURRENT);
}

enum sl_status sl_overcurrent(const struct sl_overcurrent_in *in, struct sl_overcurrent_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, required, SL_CURRENT);
  POSITIVE(sh, in, ampacity, SL_CURRENT);
  ONE_OF(sh, in, material, SL_ALUMINUM);
  ONE_OF(sh, in, device, SL_FUSE);
  ONE_OF(sh, in, edition, SL_NEC_2023);
  const struct sl_entry *cap = small_cap(in->material, in->size);
  if (!cap && !sl_ampacity_row(in->material, in->size))
    return NO_ROW(sh, "size", "is no conductor of this material in the tables kept here", "NEC 240.4(D), Table 310.16");
  const struct sl_entry most = sl_fact("next_up");
  const double top = most.value * (1 + SL_CLOSE);
  WITHIN(sh, "required", in->required, <=, top, "is above the ratings kept here", RATINGS, SL_CURRENT);
  WITHIN(sh, "ampacity", in->ampacity, <=, top, "is above what the next size up is allowed for", NEXT_UP, SL_CURRENT);
  GIVEN(sh, SL_CURRENT, I_required, in->required);
  GIVEN(sh, SL_CURRENT, I_ampacity, in->ampacity);
  ENTRY(sh, SL_CURRENT, I_least, sl_next_rating(I_required, in->device, in->edition));
  ENTRY(sh, SL_CURRENT, I_next, sl_next_rating(I_ampacity, in->device, in->edition));
  GIVES(sh, out, least, I_least);
  GIVES(sh, out, allowed, I_next);
  if (cap) {
    ENTRY(sh, SL_CURRENT, I_cap, *cap);
    STEP(sh, SL_CURRENT, I_allowed, fmin(I_next, I_cap), SMALL);
    GIVES(sh, out, allowed, I_allowed);
  }
  return SL_OK;
}

enum sl_status sl_grounding_conductor(const struct sl_grounding_conductor_in *in,
                                      struct sl_grounding_conductor_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, device, SL_CURRENT);
  ONE_OF(sh, in, material, SL_ALUMINUM);
  EDITION(sh, in, edition, "NEC", edition);
  GIVEN(sh, SL_CURRENT, I_device, in->device);
  FIND(row, egc_250_122, STANDS(row, edition) && I_device <= row->amps * (1 + SL_CLOSE));
  if (!row) return above_grounds(I_device, sh);
  FROM(sh, SL_CURRENT, I_row, row, amps, ground_name(row, in->material), edition);
  GIVES(sh, out, row, I_row);
  strcpy(out->size, ground_size(row, in->material));
  return SL_OK;
}

/* A conductor's metal in m2.  A circular mil is the area of a circle of one thousandth of an inch. */
static double metal(double cmil) { return cmil * acos(-1) / 4 * (0.0254e-3 * 0.0254e-3); }

enum sl_status sl_grounding_enlarged(const struct sl_grounding_enlarged_in *in, struct sl_grounding_enlarged_out *out,
                                     struct sl_sheet *sh) {
  POSITIVE(sh, in, device, SL_CURRENT);
  ONE_OF(sh, in, material, SL_ALUMINUM);
  EDITION(sh, in, edition, "NEC", edition);
  GIVEN(sh, SL_CURRENT, I_device, in->device);
  FIND(row, egc_250_122, STANDS(row, edition) && I_device <= row->amps * (1 + SL_CLOSE));
  if (!row) return above_grounds(I_device, sh);
  const struct sl_conductor_row *least = sl_conductor_row(in->least_size, SL_STRANDED);
  const struct sl_conductor_row *installed = sl_conductor_row(in->size, SL_STRANDED);
  const struct sl_conductor_row *table = sl_conductor_row(ground_size(row, in->material), SL_STRANDED);
  if (!least || !table) return NO_ROW(sh, "least_size", "is no conductor of the table", TABLE_8);
  if (!installed) return NO_ROW(sh, "size", "is no conductor of the table", TABLE_8);
  if (installed->cmil < least->cmil)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "size", "is smaller than least_size: nothing was enlarged", "", NAN, NAN,
                          SL_NUMBER);
  const int m = in->material;
  LOOKUP(sh, SL_SECTION, A_least, metal(least->cmil), least->name[m], least->cite, least->basis);
  LOOKUP(sh, SL_SECTION, A_installed, metal(installed->cmil), installed->name[m], installed->cite, installed->basis);
  FROM(sh, SL_CURRENT, I_row, row, amps, ground_name(row, m), edition);
  LOOKUP(sh, SL_SECTION, A_table, metal(table->cmil), table->name[m], table->cite, table->basis);
  (void)I_row;   /* stands on the sheet only, as does A_chosen */
  STEP(sh, SL_NUMBER, q, A_installed / A_least, ENLARGED);
  STEP(sh, SL_SECTION, A_wanted, q * A_table, ENLARGED);
  STEP(sh, SL_SECTION, A_ground, fmin(A_wanted, A_installed), NOT_LARGER);
  const struct sl_conductor_row *chosen = sl_conductor_above(A_ground / metal(1));
  if (!chosen) return NO_ROW(sh, "size", "needs a grounding conductor above the table's last row", TABLE_8);
  LOOKUP(sh, SL_SECTION, A_chosen, metal(chosen->cmil), chosen->name[m], chosen->cite, chosen->basis);
  (void)A_chosen;
  GIVES(sh, out, ratio, q);
  GIVES(sh, out, area, A_wanted);
  strcpy(out->size, chosen->size);
  return SL_OK;
}
