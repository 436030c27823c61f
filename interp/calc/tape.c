/* SPDX-License-Identifier: MIT
 * Marks on a tape, rounded from one zero; see tape.h. */
#include "guard.h"
#include "room.h"
#include "stringline/tape.h"

#define PRACTICE "common practice: marks are pulled from one zero, never added up"

enum { MOST_PLACES = 1000000 };

size_t sl_running_need(const struct sl_running_in *in) {
  return in->nplaces >= 1 && in->nplaces <= MOST_PLACES ? NEED(0, struct sl_mark, in->nplaces) : 0;
}

enum sl_status sl_running(const struct sl_running_in *in, struct sl_running_out *out, struct sl_space space,
                          struct sl_sheet *sh) {
  if (in->nplaces < 1 || in->nplaces > MOST_PLACES)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "places", "must be 1 to 1000000", "", (double)in->nplaces, MOST_PLACES,
                          SL_NUMBER);
  for (size_t i = 0; i < in->nplaces; i++) {
    REQUIRE_ITEM(sh, in, places, i, > -INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ITEM(sh, in, places, i, < INFINITY, "must be a finite number", SL_LENGTH);
    if (i > 0) REQUIRE_ITEM(sh, in, places, i, >= in->places[i - 1], "lies before the place named before it",
                            SL_LENGTH);
  }
  POSITIVE(sh, in, mark, SL_LENGTH);
  ENOUGH(sh, space, sl_running_need(in));
  struct sl_mark *marks = PART(&space, struct sl_mark, in->nplaces);

  GIVEN(sh, SL_LENGTH, m, in->mark);
  double last = 0;
  LINES(sh, "marks from the zero");
  for (size_t k = 0; k < in->nplaces; k++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, x, in->places[k]);
    GIVEN(sh, SL_LENGTH, before, last);
    GIVEN(sh, SL_NUMBER, first, k == 0);
    STEP(sh, SL_NUMBER, n, floor(x / m + 0.5 + 1e-7), "a hair below the middle between two marks is the middle");
    STEP(sh, SL_LENGTH, at, n * m, PRACTICE);
    STEP(sh, SL_LENGTH, bay, first > 0 ? 0 : at - before, PRACTICE);
    GIVES_ROW(sh, marks, k, at, at);
    GIVES_ROW(sh, marks, k, bay, bay);
    last = at;
  }
  LINES_END(sh);
  *out = (struct sl_running_out){ .marks = marks, .nmarks = in->nplaces };
  return SL_OK;
}
