/* SPDX-License-Identifier: MIT
 * The look-ups that more than one electrical primitive makes.  Private to interp/calc. */
#ifndef SL_ELECTRICAL_H
#define SL_ELECTRICAL_H

#include "guard.h"
#include "stringline/strings.h"
#include "stringline/wire.h"
#include "table.h"

/* The row that stands in the edition, or NULL. */
const struct sl_table_conductor_properties_ch9_t8 *sl_conductor_row(const char *size, int stranding, int edition);
const struct sl_table_ampacity_310_16 *sl_ampacity_row(int material, const char *size, int edition);
const struct sl_table_insulation_types *sl_insulation_row(const char *type, int edition);
/* The smallest stranded conductor of at least so much metal (m2), and the standard rating at or above a current. */
const struct sl_table_conductor_properties_ch9_t8 *sl_conductor_above(double metal, int edition);
const struct sl_table_ocpd_240_6 *sl_next_rating(double current, int device, int edition);

/* 1 - SL_CLOSE of a limit is within it: binary noise must not flip a verdict. */
#define SL_CLOSE 1e-9

/* The edition of the electrical code that the inputs name. */
#define NEC(sh, in) EDITION(sh, in, edition, "NEC", edition)

#endif
