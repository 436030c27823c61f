/* SPDX-License-Identifier: MIT
 * Whether a part of a rack that stands in the ground turns over one of its edges, the line of its front or of its back
 * posts at grade: by 0.6D + 0.6W, all cases.  SI: m, N, N m.  Places and turning as in block.h, but about a point of
 * the caller's, such as the foot of the front posts.
 *
 * Against the wind stand: weights, at their arms; what holds each post down beside those weights, at its distance from
 * the edge; and what the ground takes in bending at each post that it holds, less what that post's share of the push
 * takes off (sl_embed_moment).  Such posts share the push alike.  Any sharing that no post fails by is one by which the
 * rack stands, so that this is on the safe side; whether each post bears its own is asked elsewhere. */
#ifndef STRINGLINE_OVERTURNING_H
#define STRINGLINE_OVERTURNING_H

#include <stdbool.h>
#include "stringline/block.h"

enum { SL_OVERTURNING_ITEMS = 1000 };

struct sl_overturning_weight {
  double weight;         /* least, >= 0 */
  double at;             /* beyond an edge it helps to turn over that */
};
struct sl_overturning_post {
  double at;             /* front to back */
  double holds;          /* what holds it down beside those weights, allowable, >= 0 */
  double bends;          /* moment that the ground takes there without a push, allowable, >= 0; 0: none */
  double arm;            /* what a push takes off that, for each of its force, >= 0 */
  double bears;          /* moment that the post itself bears there, allowable, >= 0; NAN: not said, and no end to it */
};
struct sl_overturning_in {
  const struct sl_block_force *forces; size_t nforces;           /* of the wind, strength level, 1 to 100 */
  const struct sl_overturning_weight *weights; size_t nweights;  /* 0 to 1000 */
  const struct sl_overturning_post *posts; size_t nposts;        /* 1 to 1000 */
  double front, back;    /* places of the edges, front <= back */
  double front_above, back_above;                /* the ground there above the point */
  char edition[SL_EDITION_NAME];   /* "ASCE 7-16" */
};
struct sl_overturning_out {
  double turn;           /* of the case and edge that come nearest to turning over, allowable; 0: none turns it */
  double held;           /* against that, in all; holds at turn <= held */
  double by_weight, by_posts, by_ground;         /* the parts of it */
  bool over_back;        /* the edge; else the front */
  int of_case;           /* from 1 */
};
enum sl_status sl_overturning(const struct sl_overturning_in *in, struct sl_overturning_out *out, struct sl_sheet *sh);

#endif
