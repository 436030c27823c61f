/* SPDX-License-Identifier: MIT
 * The literals of a text by their place: all of them once, then each by halving. */
#ifndef SL_SPOTS_H
#define SL_SPOTS_H

#include "scan/scanner.h"

/* A literal of the text.  A text in quotes that is what a name is called with (rack "east") is none. */
enum sl_spot_kind { SL_SPOT_CONST, SL_SPOT_NUMBER, SL_SPOT_TEXT, SL_SPOT_FLAG };
struct sl_spot {
  enum sl_spot_kind kind;
  struct sl_span span;
  size_t at, len;                            /* bytes of the text; of a constant without a minus that went into it */
  size_t k;                                  /* SL_SPOT_CONST: which */
};
struct sl_spots {
  struct sl_spot *list; size_t n;            /* as they stand in the text */
  struct sl_const *k; size_t nk;
  struct sl_box *box;                        /* whose memory that is */
};

/* False: no memory, and nothing is kept. */
bool sl_spots_find(struct sl_box *box, const char *text, size_t len, struct sl_spots *out);
void sl_spots_free(struct sl_spots *spots);

/* The literal at a place (`hit`), else the nearest one; NULL: the text has none. */
const struct sl_spot *sl_spots_near(const struct sl_spots *spots, int line, int col, bool *hit);

#endif
