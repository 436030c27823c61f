/* SPDX-License-Identifier: MIT
 * Buying: pieces out of stock lengths, cuts out of spools, one line of a bill. */
#ifndef STRINGLINE_COST_H
#define STRINGLINE_COST_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* The cheapest stock that yields all pieces.  Exact for small jobs; a large one stops at a fixed number of steps with
 * the best plan so far and proven = false; beyond 10 000 pieces or 1000 stock lengths it is refused.  The same input
 * always gives the same plan, longest piece first. */
struct sl_cut_stock_in {
  const double *pieces; size_t npieces;     /* m, each 0.001 to 1e5; at least one */
  const double *lengths; size_t nlengths;   /* m, each 0.001 to 1e5; at least one; any number of each is bought */
  const double *prices; size_t nprices;     /* money a stick, each 0 to 1e9; as many as lengths */
  double kerf;                              /* m, 0 to 1, lost at each cut */
};
struct sl_cut_stock_out {
  double total;                                          /* money */
  const double *bought; size_t nbought;                  /* sticks of each length, in the caller's order */
  int sticks;                                            /* sticks in all */
  const double *stick; size_t nstick;                    /* piece by piece, caller's order: on which stick, from 1 */
  const double *stock_of_stick; size_t nstock_of_stick;  /* stick by stick: which of `lengths`, from 1 */
  const double *offcuts; size_t noffcuts;                /* m, stick by stick: what is left after the last cut */
  double offcut;                                         /* m, in all */
  bool proven;                                           /* no cheaper plan exists */
};
size_t sl_cut_stock_need(const struct sl_cut_stock_in *in);
enum sl_status sl_cut_stock(const struct sl_cut_stock_in *in, struct sl_cut_stock_out *out, struct sl_space space,
                            struct sl_sheet *sh);

/* The cheapest spools: each cut comes whole from one spool, nothing is lost at a cut. */
struct sl_spools_in {
  const double *cuts; size_t ncuts;         /* m, each 0.001 to 1e5; at least one */
  const double *lengths; size_t nlengths;   /* m of a full spool, each 0.001 to 1e5; at least one */
  const double *prices; size_t nprices;     /* money/m on a spool of that length; 0 to 1e9 a spool */
};
struct sl_spools_out {
  double total;
  const double *bought; size_t nbought;
  int spools;
  const double *spool_of_cut; size_t nspool_of_cut;       /* from 1 */
  const double *stock_of_spool; size_t nstock_of_spool;   /* from 1 */
  double left;                                            /* m on all spools together */
  bool proven;
};
size_t sl_spools_need(const struct sl_spools_in *in);
enum sl_status sl_spools(const struct sl_spools_in *in, struct sl_spools_out *out, struct sl_space space,
                         struct sl_sheet *sh);

/* One line of a bill: price times quantity, half a cent up; at most 1e12. */
struct sl_extended_in { double price, quantity; };   /* money, >= 0; >= 0 */
struct sl_extended_out { double line; };             /* money */
enum sl_status sl_extended(const struct sl_extended_in *in, struct sl_extended_out *out, struct sl_sheet *sh);

#endif
