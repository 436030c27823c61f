/* SPDX-License-Identifier: MIT
 * The steel of one bolt, pulled along its axis and sheared across it, by allowable strength or by strength design (load
 * and resistance factors).  SI: m, N, Pa.
 *
 * On the whole section: the nominal stresses have the thread in them.  Not held: prying, grips so long that the bolt
 * bends (in wood its yield modes have that: fasteners.h), fatigue, joints that hold by slip, screws in wood. */
#ifndef STRINGLINE_BOLTS_H
#define STRINGLINE_BOLTS_H

#include <stdbool.h>
#include "stringline/combine.h"

struct sl_bolt_steel_in {
  double diameter;       /* > 0 */
  char grade[24];        /* "A325"; "": the weakest that the table has of that diameter */
  int planes;            /* of shear, 1 or 2 */
  bool smooth;           /* no plane of shear meets the thread */
  double tension, shear; /* of one bolt at once, the shear of all planes together: >= 0, at the level of the method */
  int method;            /* enum sl_method */
};
struct sl_bolt_steel_out {
  double tension_stress, shear_stress;                 /* nominal */
  double tension_allowed, shear_allowed;               /* each alone; of all planes */
  double tension_beside;                               /* beside that shear */
  double used_tension, used_shear, used;               /* both together; holds at 1 or less */
  char grade[24];                                      /* that counts */
};
enum sl_status sl_bolt_steel(const struct sl_bolt_steel_in *in, struct sl_bolt_steel_out *out, struct sl_sheet *sh);

#endif
