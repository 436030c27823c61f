/* SPDX-License-Identifier: MIT
 * Deflection limits of the building code. */
#include "guard.h"
#include "table.h"
#include "stringline/deflection.h"

FITS_COLUMN(deflection_limits, member, struct sl_deflection_limit_in, member)
FITS_COLUMN(deflection_limits, load, struct sl_deflection_limit_in, load)

enum sl_status sl_deflection_limit(const struct sl_deflection_limit_in *in, struct sl_deflection_limit_out *out,
                                   struct sl_sheet *sh) {
  EDITION(sh, in, edition, "IBC", edition);
  FIND(any, deflection_limits, STANDS(any, edition) && sl_same_text(any->member, in->member));
  if (!any) return NO_ROW(sh, "member", "has no limit here; there are roof, farm building, greenhouse and metal "
                          "siding", "@deflection_limits");
  FIND(row, deflection_limits, STANDS(row, edition) && sl_same_text(row->member, in->member) &&
       sl_same_text(row->load, in->load));
  if (!row) return NO_ROW(sh, "load", "has no limit here for such a member", "@deflection_limits");
  FROM(sh, SL_NUMBER, L_over, row, ratio, row->name, edition);
  GIVES(sh, out, ratio, L_over);
  return SL_OK;
}
