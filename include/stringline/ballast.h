/* SPDX-License-Identifier: MIT
 * What holds a post down by 0.6D + 0.6W, with no further factor: a pier with its soil.  Wind goes in at strength level,
 * everything else as it is.  SI: m, m3, N, Pa. */
#ifndef STRINGLINE_BALLAST_H
#define STRINGLINE_BALLAST_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* Uplift on a post against all that holds it: weights, less the water that they displace, and friction of the soil or
 * the cone above a bell, which are two ways to look at one thing.  Concrete and what clings to it hold only a post that
 * cannot be drawn out of them. */
struct sl_ground_uplift_in {
  double wind_uplift;    /* strength level, >= 0 */
  double dead;           /* structure that the post carries, >= 0 */
  double post;           /* its own weight, >= 0 */
  double post_volume;    /* of it below grade, >= 0 */
  double concrete;       /* volume around it, net of it, >= 0 */
  double length;         /* of post and concrete below grade, > 0 */
  bool keyed;            /* the post cannot be drawn out of its concrete */
  double dry_to;         /* depth of the highest water, >= 0; NAN: none */
  double friction, cone; /* allowable force of sl_friction_hold, weight of sl_bell_hold: >= 0, NAN: none, one of them */
  double bell;           /* volume of that concrete in a bell, beyond the shaft; counts as all in water where its base
                          * is.  >= 0 and <= concrete, NAN: none */
  char edition[SL_EDITION_NAME];   /* "ASCE 7-16" */
};
struct sl_ground_uplift_out { double weight, demand, resistance, ratio; };   /* what is counted of weights before 0.6 */
enum sl_status sl_ground_uplift(const struct sl_ground_uplift_in *in, struct sl_ground_uplift_out *out,
                                struct sl_sheet *sh);

#endif
