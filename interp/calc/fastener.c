/* SPDX-License-Identifier: MIT
 * What all calculations of fasteners in wood ask: the row of a size, the wood's specific gravity, factors. */
#include "fastener.h"

const char *const sl_fasteners[] = {
  [SL_BOLT] = "bolt", [SL_LAG_SCREW] = "lag screw", [SL_WOOD_SCREW] = "wood screw", NULL,
};
const char *const sl_moistures[] = { [SL_DRY] = "dry", [SL_WET] = "wet", [SL_DRIED] = "dried", NULL };

FITS_COLUMN(wood_fasteners, size, struct sl_screw_withdrawal_in, size)
FITS_COLUMN(wood_specific_gravity, species, struct sl_screw_withdrawal_in, species)
FITS_COLUMN(wood_specific_gravity, species, struct sl_dowel_yield_in, main_species)
FITS_COLUMN(wood_specific_gravity, species, struct sl_dowel_yield_in, side_species)

const sl_fastener_row *sl_fastener_of(int kind, const char *size, int edition) {
  FIND(row, wood_fasteners, STANDS(row, edition) && sl_same_text(row->kind, sl_fasteners[kind]) &&
       sl_same_text(row->size, size));
  return row;
}

enum sl_status sl_wood_of(const char *species, double gravity, const char *species_member, const char *gravity_member,
                          int edition, struct sl_wood *wood, struct sl_sheet *sh) {
  if ((*species != 0) == !isnan(gravity))
    return sl_sheet_fault(sh, SL_BAD_INPUT, gravity_member, "or the species: one of them must be said, and one alone",
                          "", gravity, NAN, SL_NUMBER);
  const struct sl_fact *const least = sl_fact_in("fastener_gravity_least", edition);
  const struct sl_fact *const most = sl_fact_in("fastener_gravity_most", edition);
  if (!least || !most) return NO_ROW(sh, "edition", "has no range of specific gravities here", "@dowel_bearing");
  if (*species) {
    FIND(row, wood_specific_gravity, STANDS(row, edition) && sl_same_text(row->species, species));
    if (!row)
      return NO_ROW(sh, species_member, "has no specific gravity here; say the gravity instead", "@wood_gravity");
    *wood = (struct sl_wood){ row, row->g };
    return SL_OK;
  }
  if (!(gravity > 0 && gravity < INFINITY))
    return sl_sheet_fault(sh, SL_BAD_INPUT, gravity_member, "must be a finite number above 0", "", gravity, NAN,
                          SL_NUMBER);
  WITHIN(sh, gravity_member, gravity, >=, least->value, "is lighter than the wood of the tables", "@dowel_bearing",
         SL_NUMBER);
  WITHIN(sh, gravity_member, gravity, <=, most->value, "is heavier than the wood of the tables", "@dowel_bearing",
         SL_NUMBER);
  *wood = (struct sl_wood){ NULL, gravity };
  return SL_OK;
}

enum sl_status sl_fastener_hole(const sl_fastener_row *row, int kind, int edition, double *hole, struct sl_sheet *sh) {
  double more = 0;
  FROM(sh, SL_LENGTH, D, row, diameter, row->name, edition);
  if (kind == SL_BOLT) {
    FACT(sh, SL_LENGTH, room_D, "bolt_room", edition);
    more = room_D;
  } else STANDS_AT(sh, SL_LENGTH, room_D, 0, "a screw's hole is no wider than its shank", "@fastener_sizes");
  const double room_D = more;
  STEP(sh, SL_LENGTH, d_h, D + room_D, "@bolt_hole");
  *hole = d_h;
  return SL_OK;
}

enum sl_status sl_fastener_tip(const sl_fastener_row *row, double diameter, int edition, double *tip,
                               struct sl_sheet *sh) {
  if (!isnan(row->tip)) {
    FROM(sh, SL_LENGTH, E, row, tip, row->name, edition);
    *tip = E;
    return SL_OK;
  }
  const double D = diameter;
  FACT(sh, SL_NUMBER, tip_share, "screw_tip", edition);
  STEP(sh, SL_LENGTH, E, tip_share * D, "@dowel_length");
  *tip = E;
  return SL_OK;
}

enum sl_status sl_fastener_factors(int duration, const char *fact, int edition, double *of_duration,
                                   double *of_moisture, struct sl_sheet *sh) {
  FIND(lasts, wood_duration, STANDS(lasts, edition) && sl_same_text(lasts->duration, sl_durations[duration]));
  if (!lasts) return NO_ROW(sh, "duration", "has no factor here", "@wood_duration");
  FROM(sh, SL_NUMBER, CD, lasts, factor, lasts->name, edition);
  *of_duration = CD;
  if (!fact) {
    LOOKUP(sh, SL_NUMBER, CM, 1, "CM, dry", "@fastener_wet", SL_READ);
    *of_moisture = CM;
    return SL_OK;
  }
  FACT_OF(sh, SL_NUMBER, CM, fact, edition);
  *of_moisture = CM;
  return SL_OK;
}
