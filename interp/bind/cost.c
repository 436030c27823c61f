/* SPDX-License-Identifier: MIT
 * Buying, told to the script. */
#include "bind.h"
#include "stringline/cost.h"

#define S struct sl_cut_stock_in
static const struct sl_field cut_stock_in[] = {
  SL_LIST(S, pieces, npieces, SL_LENGTH, "lengths wanted"),
  SL_LIST(S, lengths, nlengths, SL_LENGTH, "stock lengths sold"),
  SL_LIST(S, prices, nprices, SL_MONEY, "of one stick of each length"),
  SL_REAL(S, kerf, SL_LENGTH, "lost at each cut"),
};
#undef S
#define S struct sl_cut_stock_out
static const struct sl_field cut_stock_out[] = {
  SL_REAL(S, total, SL_MONEY, "of all sticks"),
  SL_LIST(S, bought, nbought, SL_NUMBER, "sticks of each length"),
  SL_COUNT(S, sticks, "in all"),
  SL_LIST(S, stick, nstick, SL_NUMBER, "for each piece: the stick it is cut from, from 1"),
  SL_LIST(S, stock_of_stick, nstock_of_stick, SL_NUMBER, "for each stick: which of the lengths, from 1"),
  SL_LIST(S, offcuts, noffcuts, SL_LENGTH, "for each stick: what is left"),
  SL_REAL(S, offcut, SL_LENGTH, "left in all"),
  SL_FLAG(S, proven, "true if no cheaper plan exists"),
};
#undef S

#define S struct sl_spools_in
static const struct sl_field spools_in[] = {
  SL_LIST(S, cuts, ncuts, SL_LENGTH, "lengths wanted, each in one piece"),
  SL_LIST(S, lengths, nlengths, SL_LENGTH, "of the spools sold"),
  SL_LIST(S, prices, nprices, SL_PER_LENGTH, "of the wire on a spool of each length"),
};
#undef S
#define S struct sl_spools_out
static const struct sl_field spools_out[] = {
  SL_REAL(S, total, SL_MONEY, "of all spools"),
  SL_LIST(S, bought, nbought, SL_NUMBER, "spools of each length"),
  SL_COUNT(S, spools, "in all"),
  SL_LIST(S, spool_of_cut, nspool_of_cut, SL_NUMBER, "for each cut: the spool it comes from, from 1"),
  SL_LIST(S, stock_of_spool, nstock_of_spool, SL_NUMBER, "for each spool: which of the lengths, from 1"),
  SL_REAL(S, left, SL_LENGTH, "left on all spools together"),
  SL_FLAG(S, proven, "true if no cheaper choice exists"),
};
#undef S

#define S struct sl_extended_in
static const struct sl_field extended_in[] = {
  SL_REAL(S, price, SL_MONEY, "of one"),
  SL_REAL(S, quantity, SL_NUMBER, "how many"),
};
#undef S
#define S struct sl_extended_out
static const struct sl_field extended_out[] = {
  SL_REAL(S, line, SL_MONEY, "price times quantity, half a cent up"),
};
#undef S

SL_OP_CALL_ROOM(cut_stock)
SL_OP_CALL_ROOM(spools)
SL_OP_CALL(extended)

SL_OPS(cost, 70) = {
  SL_OP_ROOM(cut_stock, "the cheapest stock that yields all pieces"),
  SL_OP_ROOM(spools, "the cheapest spools that yield all cuts"),
  SL_OP(extended, "one line of a bill"),
  { 0 },
};
