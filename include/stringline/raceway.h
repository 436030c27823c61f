/* SPDX-License-Identifier: MIT
 * Raceways: fill, bends, depth of cover. */
#ifndef STRINGLINE_RACEWAY_H
#define STRINGLINE_RACEWAY_H

#include <stdbool.h>
#include "stringline/sheet.h"
#include "stringline/wire.h"

enum sl_raceway { SL_EMT, SL_RMC, SL_IMC, SL_PVC_40, SL_PVC_80, SL_FMC, SL_LFMC, SL_LFNC_B };
extern const char *const sl_raceways[];   /* "EMT", "RMC", "IMC", "PVC 40", ..., NULL */

/* Share of a raceway that its conductors fill: NEC Chapter 9, Tables 1, 4, 5, 8.  Every conductor counts, the grounding
 * conductors too; those that are alike are one group. */
struct sl_group {
  char size[8];
  int count;                               /* 1 to 1000 */
  char insulation[16];                     /* "" where it is bare */
  bool bare;
  int stranding;                           /* enum sl_stranding; of a bare one only */
};
struct sl_raceway_fill_in {
  int kind;                                /* enum sl_raceway */
  char trade_size[8];                      /* "1", "1-1/4" */
  const struct sl_group *conductors; size_t groups;   /* at least one */
  bool nipple;                             /* 24 in or less between boxes */
};
struct sl_raceway_fill_out {
  double conductors_area, raceway_area;    /* m2 */
  double ratio, limit_ratio;
  bool fits;                               /* ratio within the limit, or equal conductors and not more than `most` */
  int most;                                /* of the first group alone that the raceway takes, by the 0.8 rule */
  double jam, jam_bent;                    /* inside diameter over the first group's; times 1.05, as handbooks do */
  bool jams, jams_bent;                    /* exactly three equal conductors, and the ratio is in the jam range */
  char least_trade[8];                     /* smallest trade size of this kind that fits; "" if none does */
};
enum sl_status sl_raceway_fill(const struct sl_raceway_fill_in *in, struct sl_raceway_fill_out *out,
                               struct sl_sheet *sh);

/* Bends between two pull points. */
struct sl_bends_in { const double *angles; size_t bends; };      /* rad, each > 0 */
struct sl_bends_out { double total, limit; };                    /* rad */
enum sl_status sl_bends(const struct sl_bends_in *in, struct sl_bends_out *out, struct sl_sheet *sh);

/* Least cover over an underground circuit: NEC Table 300.5. */
enum sl_cover_method { SL_DIRECT_BURIED, SL_RIGID_METAL, SL_NONMETALLIC, SL_BURIED_EMT };
extern const char *const sl_cover_methods[];     /* "direct buried", "rigid metal", "PVC", "EMT" (2023 only), NULL */
extern const char *const sl_cover_locations[];   /* the table's rows in its order, short words, NULL */
struct sl_cover_in { int method, location, edition; };   /* location: index of sl_cover_locations */
struct sl_cover_out {
  double least;   /* m, top of the cable or raceway to finished grade */
  double tape;    /* m, least height of a warning ribbon above it; the code asks for one over service conductors only */
};
enum sl_status sl_cover(const struct sl_cover_in *in, struct sl_cover_out *out, struct sl_sheet *sh);

#endif
