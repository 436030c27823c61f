/* SPDX-License-Identifier: MIT
 * Overcurrent devices and equipment grounding conductors. */
#include "electrical.h"

#define RATINGS "@ratings"
#define TABLE_8 "@table_8"
#define ENLARGED "@grounding_enlarged"
#define NOT_LARGER "@grounding_no_larger"

FITS_COLUMN(egc_250_122, copper, struct sl_grounding_conductor_out, size)
FITS_COLUMN(egc_250_122, aluminum, struct sl_grounding_conductor_out, size)
FITS_COLUMN(small_conductor_240_4d, size, struct sl_overcurrent_in, size)

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
  NEC(sh, in);
  FIND(cap, small_conductor_240_4d, STANDS(cap, edition) && sl_same_text(cap->size, in->size) &&
       sl_same_text(cap->material, sl_materials[in->material]));
  if (!cap && !sl_ampacity_row(in->material, in->size, edition))
    return NO_ROW(sh, "size", "is no conductor of this material in the tables kept here", "@ampacity");
  FACT(sh, SL_CURRENT, I_top, "next_up", edition);
  const double top = I_top * (1 + SL_CLOSE);
  WITHIN(sh, "required", in->required, <=, top, "is above the ratings kept here", RATINGS, SL_CURRENT);
  WITHIN(sh, "ampacity", in->ampacity, <=, top, "is above what the next size up is allowed for", "@next_up",
         SL_CURRENT);
  GIVEN(sh, SL_CURRENT, I_required, in->required);
  GIVEN(sh, SL_CURRENT, I_ampacity, in->ampacity);
  const struct sl_table_ocpd_240_6 *least = sl_next_rating(I_required, in->device, edition),
                                   *next = sl_next_rating(I_ampacity, in->device, edition);
  if (!least || !next) return NO_ROW(sh, "required", "is above the ratings kept here", RATINGS);
  FROM(sh, SL_CURRENT, I_least, least, amps, "next standard rating", edition);
  FROM(sh, SL_CURRENT, I_next, next, amps, "next standard rating", edition);
  GIVES(sh, out, least, I_least);
  GIVES(sh, out, allowed, I_next);
  if (cap) {
    FROM(sh, SL_CURRENT, I_cap, cap, amps, cap->name, edition);
    STEP(sh, SL_CURRENT, I_allowed, fmin(I_next, I_cap), "@small_conductor");
    GIVES(sh, out, allowed, I_allowed);
  }
  return SL_OK;
}

enum sl_status sl_grounding_conductor(const struct sl_grounding_conductor_in *in,
                                      struct sl_grounding_conductor_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, device, SL_CURRENT);
  ONE_OF(sh, in, material, SL_ALUMINUM);
  NEC(sh, in);
  GIVEN(sh, SL_CURRENT, I_device, in->device);
  FIND(row, egc_250_122, STANDS(row, edition) && I_device <= row->amps * (1 + SL_CLOSE));
  if (!row) return above_grounds(I_device, sh);
  FROM(sh, SL_CURRENT, I_row, row, amps, ground_name(row, in->material), edition);
  GIVES(sh, out, row, I_row);
  strcpy(out->size, ground_size(row, in->material));
  return SL_OK;
}

static const char *metal_name(const struct sl_table_conductor_properties_ch9_t8 *row, int material) {
  return material == SL_COPPER ? row->name_copper : row->name_aluminum;
}

enum sl_status sl_grounding_enlarged(const struct sl_grounding_enlarged_in *in, struct sl_grounding_enlarged_out *out,
                                     struct sl_sheet *sh) {
  POSITIVE(sh, in, device, SL_CURRENT);
  ONE_OF(sh, in, material, SL_ALUMINUM);
  NEC(sh, in);
  GIVEN(sh, SL_CURRENT, I_device, in->device);
  FIND(row, egc_250_122, STANDS(row, edition) && I_device <= row->amps * (1 + SL_CLOSE));
  if (!row) return above_grounds(I_device, sh);
  const struct sl_table_conductor_properties_ch9_t8
    *least = sl_conductor_row(in->least_size, SL_STRANDED, edition),
    *installed = sl_conductor_row(in->size, SL_STRANDED, edition),
    *table = sl_conductor_row(ground_size(row, in->material), SL_STRANDED, edition);
  if (!least || !table) return NO_ROW(sh, "least_size", "is no conductor of the table", TABLE_8);
  if (!installed) return NO_ROW(sh, "size", "is no conductor of the table", TABLE_8);
  if (installed->metal < least->metal)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "size", "is smaller than least_size: nothing was enlarged", "", NAN, NAN,
                          SL_NUMBER);
  const int m = in->material;
  FROM(sh, SL_SECTION, A_least, least, metal, metal_name(least, m), edition);
  FROM(sh, SL_SECTION, A_installed, installed, metal, metal_name(installed, m), edition);
  FROM(sh, SL_CURRENT, I_row, row, amps, ground_name(row, m), edition);
  FROM(sh, SL_SECTION, A_table, table, metal, metal_name(table, m), edition);
  (void)I_row;   /* stands on the sheet only, as does A_chosen */
  STEP(sh, SL_NUMBER, q, A_installed / A_least, ENLARGED);
  STEP(sh, SL_SECTION, A_wanted, q * A_table, ENLARGED);
  STEP(sh, SL_SECTION, A_ground, fmin(A_wanted, A_installed), NOT_LARGER);
  const struct sl_table_conductor_properties_ch9_t8 *chosen = sl_conductor_above(A_ground, edition);
  if (!chosen) return NO_ROW(sh, "size", "needs a grounding conductor above the table's last row", TABLE_8);
  FROM(sh, SL_SECTION, A_chosen, chosen, metal, metal_name(chosen, m), edition);
  (void)A_chosen;
  GIVES(sh, out, ratio, q);
  GIVES(sh, out, area, A_wanted);
  strcpy(out->size, chosen->size);
  return SL_OK;
}
