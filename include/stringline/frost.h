/* SPDX-License-Identifier: MIT
 * How hard freezing ground pulls up on what stands in it, by the plain sum of a manual.  SI: m, N, Pa.
 *
 * The sum is shown and not judged: it breaks nearly every light rack, and not every light rack heaves. */
#ifndef STRINGLINE_FROST_H
#define STRINGLINE_FROST_H

#include <stdbool.h>
#include "stringline/sheet.h"

enum sl_frozen_face { SL_FROZEN_WOOD_OR_CONCRETE, SL_FROZEN_STEEL };
extern const char *const sl_frozen_faces[];

/* The soil grips along what of its face is frozen: down to frost depth, or to its foot where that is higher. */
struct sl_frost_grip_in {
  double width;          /* diameter, or side of a square one, > 0 */
  bool square;
  double depth;          /* of its foot, >= 0: 0 of what stands on the ground, which is not gripped beside */
  double frost;          /* frost depth, >= 0 */
  int face;              /* enum sl_frozen_face: what the frozen soil holds on to */
  double frame;          /* weight that it carries, >= 0; nothing is taken off it */
  double post;           /* weight of the post, >= 0 */
  double concrete;       /* weight of the concrete around it, >= 0 */
};
struct sl_frost_grip_out {
  double frozen;         /* length of its face that is frozen */
  double force;          /* upward */
  double weight;         /* that there is against it */
};
enum sl_status sl_frost_grip(const struct sl_frost_grip_in *in, struct sl_frost_grip_out *out, struct sl_sheet *sh);

#endif
