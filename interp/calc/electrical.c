/* SPDX-License-Identifier: MIT
 * The look-ups that more than one electrical primitive makes. */
#include "electrical.h"

const char *const sl_materials[] = { [SL_COPPER] = "copper", [SL_ALUMINUM] = "aluminum", NULL };
const char *const sl_strandings[] = { [SL_STRANDED] = "stranded", [SL_SOLID] = "solid", NULL };
const char *const sl_terminals[] = { [SL_60_C] = "60 C", [SL_75_C] = "75 C", [SL_90_C] = "90 C", NULL };
const char *const sl_devices[] = { [SL_BREAKER] = "breaker", [SL_FUSE] = "fuse", NULL };

FITS_COLUMN(conductor_properties_ch9_t8, size, struct sl_conductor_in, size)
FITS_COLUMN(conductor_properties_ch9_t8, size, struct sl_voltage_drop_in, size)
FITS_COLUMN(conductor_properties_ch9_t8, size, struct sl_grounding_enlarged_in, least_size)
FITS_COLUMN(conductor_properties_ch9_t8, size, struct sl_grounding_enlarged_in, size)
FITS_COLUMN(conductor_properties_ch9_t8, size, struct sl_grounding_enlarged_out, size)
FITS_COLUMN(ampacity_310_16, size, struct sl_ampacity_in, size)
FITS_COLUMN(ampacity_310_16, size, struct sl_overcurrent_in, size)
FITS_COLUMN(insulation_types, type, struct sl_insulation_in, type)
FITS_COLUMN(insulation_types, type, struct sl_ampacity_in, insulation)

const struct sl_table_conductor_properties_ch9_t8 *sl_conductor_row(const char *size, int stranding, int edition) {
  FIND(row, conductor_properties_ch9_t8, STANDS(row, edition) && sl_same_text(row->size, size) &&
       sl_same_text(row->stranding, sl_strandings[stranding]));
  return row;
}

const struct sl_table_conductor_properties_ch9_t8 *sl_conductor_above(double metal, int edition) {
  FIND(row, conductor_properties_ch9_t8, STANDS(row, edition) && row->metal >= metal * (1 - SL_CLOSE) &&
       sl_same_text(row->stranding, sl_strandings[SL_STRANDED]));   /* the table grows downwards */
  return row;
}

const struct sl_table_ampacity_310_16 *sl_ampacity_row(int material, const char *size, int edition) {
  FIND(row, ampacity_310_16, STANDS(row, edition) && sl_same_text(row->size, size) &&
       sl_same_text(row->material, sl_materials[material]));
  return row;
}

const struct sl_table_insulation_types *sl_insulation_row(const char *type, int edition) {
  FIND(row, insulation_types, STANDS(row, edition) && sl_same_text(row->type, type));
  return row;
}

const struct sl_table_ocpd_240_6 *sl_next_rating(double current, int device, int edition) {
  FIND(row, ocpd_240_6, STANDS(row, edition) && row->amps >= current * (1 - SL_CLOSE) &&
       (device == SL_FUSE || !sl_same_text(row->kind, sl_devices[SL_FUSE])));
  return row;
}
