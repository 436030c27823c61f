/* SPDX-License-Identifier: MIT
 * Buying: pieces out of stock lengths, cuts out of spools, one line of a bill. */
#ifndef STRINGLINE_COST_H
#define STRINGLINE_COST_H

#include <stdbool.h>
#include "stringline/sheet.h"

enum { SL_PIECES = 200, SL_STOCKS = 12 };

/* The cheapest stock that yields all pieces.  Exact for small jobs; a large one stops at a fixed number of steps with
 * the best plan so far and proven = false.  The same input always gives the same plan, longest piece first. */
struct sl_cut_stock_in {
  double pieces[SL_PIECES]; size_t npieces;     /* m, each 0.001 to 1e5; at least one */
  double lengths[SL_STOCKS]; size_t nlengths;   /* m, each 0.001 to 1e5; at least one; any number of each is bought */
  double prices[SL_STOCKS]; size_t nprices;     /* money a stick, each 0 to 1e9; as many as lengths */
  double kerf;                                  /* m, 0 to 1, lost at each cut */
};
struct sl_cut_stock_out {
  double total;                                             /* money */
  double bought[SL_STOCKS]; size_t nbought;                 /* sticks of each length, in the caller's order */
  int sticks;                                               /* sticks in all */
  double stick[SL_PIECES]; size_t nstick;                   /* piece by piece, caller's order: on which stick, from 1 */
  double stock_of_stick[SL_PIECES]; size_t nstock_of_stick; /* stick by stick: which of `lengths`, from 1 */
  double offcuts[SL_PIECES]; size_t noffcuts;               /* m, stick by stick: what is left after the last cut */
  double offcut;                                            /* m, in all */
  bool proven;                                              /* no cheaper plan exists */
};
enum sl_status sl_cut_stock(const struct sl_cut_stock_in *in, struct sl_cut_stock_out *out, struct sl_sheet *sh);

/* The cheapest spools: each cut comes whole from one spool, nothing is lost at a cut. */
struct sl_spools_in {
  double cuts[SL_PIECES]; size_t ncuts;         /* m, each 0.001 to 1e5; at least one */
  double lengths[SL_STOCKS]; size_t nlengths;   /* m of a full spool, each 0.001 to 1e5; at least one */
  double prices[SL_STOCKS]; size_t nprices;     /* money/m on a spool of that length; 0 to 1e9 a spool */
};
struct sl_spools_out {
  double total;
  double bought[SL_STOCKS]; size_t nbought;
  int spools;
  double spool_of_cut[SL_PIECES]; size_t nspool_of_cut;         /* from 1 */
  double stock_of_spool[SL_PIECES]; size_t nstock_of_spool;     /* from 1 */
  double left;                                                  /* m on all spools together */
  bool proven;
};
enum sl_status sl_spools(const struct sl_spools_in *in, struct sl_spools_out *out, struct sl_sheet *sh);

/* One line of a bill: price times quantity, half a cent up; at most 1e12. */
struct sl_extended_in { double price, quantity; };   /* money, >= 0; >= 0 */
struct sl_extended_out { double line; };             /* money */
enum sl_status sl_extended(const struct sl_extended_in *in, struct sl_extended_out *out, struct sl_sheet *sh);

#endif
