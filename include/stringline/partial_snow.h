/* SPDX-License-Identifier: MIT
 * A straight beam under snow that lies whole on some of its spans and half on the others: ASCE 7, 7.5.1.
 * SI: m, N/m, N m2.  Loads are positive downward, moments of sagging and hogging >= 0, reactions upward.
 *
 * Snow on all spans; the whole on one outer span and half on the rest; half on one outer span and the whole on the
 * rest; the whole on any two spans beside each other and half on the rest.  An overhang is a span, an outer one.
 * Hinges part no span: the snow of a span lies on both sides of them alike.  What is told of each place is the most of
 * all of these. */
#ifndef STRINGLINE_PARTIAL_SNOW_H
#define STRINGLINE_PARTIAL_SNOW_H

#include "stringline/beam.h"

enum sl_snow_pattern { SL_SNOW_EVERYWHERE, SL_SNOW_ON_ONE_END, SL_SNOW_HALF_ON_ONE_END, SL_SNOW_ON_TWO };
extern const char *const sl_snow_patterns[];

struct sl_partial_snow_in {
  double length, ei;                                   /* > 0 */
  double load;                                         /* of all else, over the whole length; less than 0 lifts */
  double snow;                                         /* balanced, where it lies whole, >= 0 */
  const double *supports; size_t nsupports;            /* 2 to 100, rising, 0 to the length */
  const double *hinges; size_t nhinges;                /* at most 100, rising, between the ends */
  const double *places; size_t nplaces;                /* of which strains are told: at most 1000, 0 to the length */
  char edition[SL_EDITION_NAME];
};
struct sl_partial_support {
  double at;
  double reaction, least;                              /* the most and the least of all patterns */
  double balanced;                                     /* with snow on all spans */
};
struct sl_partial_strain {                             /* of a place, under one pattern */
  int pattern, span;                                   /* which that is, as below */
  double at, moment, shear;                            /* sagging +; the larger of both sides, >= 0 */
};
struct sl_partial_snow_out {
  double sagging, hogging, shear, deflection;          /* the largest of all spans and patterns */
  int pattern;                                         /* enum sl_snow_pattern: that of the largest moment */
  int span;                                            /* which one that is about, the first of two; from 1 */
  const struct sl_partial_support *supports; size_t nsupports;
  const struct sl_beam_span *spans; size_t nspans;     /* overhangs, too, from the left */
  const struct sl_partial_strain *strains; size_t nstrains;   /* pattern by pattern, of each all places */
};
size_t sl_partial_snow_need(const struct sl_partial_snow_in *in);
enum sl_status sl_partial_snow(const struct sl_partial_snow_in *in, struct sl_partial_snow_out *out,
                               struct sl_space space, struct sl_sheet *sh);

#endif
