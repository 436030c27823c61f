/* SPDX-License-Identifier: MIT
 * What all calculations of fasteners in wood ask: the row of a size, the wood's specific gravity, factors.  Private. */
#ifndef SL_FASTENER_H
#define SL_FASTENER_H

#include "guard.h"
#include "table.h"
#include "stringline/fasteners.h"

typedef struct sl_table_wood_fasteners sl_fastener_row;
typedef struct sl_table_wood_specific_gravity sl_gravity_row;

const sl_fastener_row *sl_fastener_of(int kind, const char *size, int edition);

/* Wood that is said by its species (`row` set) or by its specific gravity. */
struct sl_wood { const sl_gravity_row *row; double gravity; };
enum sl_status sl_wood_of(const char *species, double gravity, const char *species_member, const char *gravity_member,
                          int edition, struct sl_wood *wood, struct sl_sheet *sh);

/* Diameter of its hole in wood: of a bolt with the room that it may have. */
enum sl_status sl_fastener_hole(const sl_fastener_row *row, int kind, int edition, double *hole, struct sl_sheet *sh);

/* Thickness of the tip that does not count. */
enum sl_status sl_fastener_tip(const sl_fastener_row *row, double diameter, int edition, double *tip,
                               struct sl_sheet *sh);

/* Of the load's duration and of moisture; `fact`: the row of moisture, NULL where it is dry. */
enum sl_status sl_fastener_factors(int duration, const char *fact, int edition, double *of_duration,
                                   double *of_moisture, struct sl_sheet *sh);

/* What stands where nothing is said of it. */
#define STANDS_AT(sh, dim, sym, value, why, cite) \
  do { LOOKUP(sh, dim, sym, value, why, cite, SL_READ); (void)sym; } while (0)

#define NO_SIZE(sh) \
  NO_ROW(sh, "size", "has no row here: bolts are 1/4, 5/16, 3/8, 1/2, 5/8, 3/4, 7/8 and 1, lag screws 1/4 to 3/4 " \
         "with 7/16, wood screws No. 8, No. 9, No. 10, No. 12 and No. 14", "@fastener_sizes")

#endif
