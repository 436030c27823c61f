/* SPDX-License-Identifier: MIT
 * A straight beam of one stiffness on supports that do not sink: any spans, overhangs at both ends, hinges.
 * SI: m, N, N/m, N m, N m2.  Places are counted from the left end; loads are positive downward, moments where the beam
 * sags, reactions upward.  A hundred-thousandth of the length is no distance: loads that begin so near to a support
 * begin at it. */
#ifndef STRINGLINE_BEAM_H
#define STRINGLINE_BEAM_H

#include <stdbool.h>
#include "stringline/sheet.h"

struct sl_beam_in {
  double length, ei;                                   /* > 0 */
  double load;                                         /* over the whole length */
  bool held_first, held_last;                          /* that support keeps the beam from turning */
  const double *supports; size_t nsupports;            /* 1 to 100, rising, 0 to the length */
  const double *hinges; size_t nhinges;                /* at most 100, rising, between the ends */
  const double *patch_from; size_t npatch_from;        /* more load on parts of it: at most 100 */
  const double *patch_to; size_t npatch_to;
  const double *patch_load; size_t npatch_load;
  const double *point_at; size_t npoint_at;            /* forces, at most 100 */
  const double *point_load; size_t npoint_load;
};
struct sl_beam_support { double at, reaction, moment; };
/* Between two supports, or an overhang: the largest of each, >= 0; the deflection either way. */
struct sl_beam_span { double from, to, sagging, hogging, shear, deflection; };
struct sl_beam_out {
  double sagging, hogging, shear, deflection;          /* the largest of all spans */
  const struct sl_beam_support *supports; size_t nsupports;
  const struct sl_beam_span *spans; size_t nspans;
};
size_t sl_beam_need(const struct sl_beam_in *in);
enum sl_status sl_beam(const struct sl_beam_in *in, struct sl_beam_out *out, struct sl_space space,
                       struct sl_sheet *sh);

#endif
