/* SPDX-License-Identifier: MIT
 * What an outline has of area and stiffness: rectangles and rounds, solid or hollow.  SI: m, m2, m3, m4.
 * A hollow lies in the middle and has the same wall all around; a rectangle may have round corners, inside of which the
 * wall goes on. */
#ifndef STRINGLINE_OUTLINE_H
#define STRINGLINE_OUTLINE_H

#include "stringline/sheet.h"

enum sl_outline_shape { SL_RECTANGLE, SL_ROUND };
extern const char *const sl_outline_shapes[];

struct sl_outline_in {
  int shape;             /* enum sl_outline_shape */
  double width;          /* across the way it is bent; of a round its diameter, > 0 */
  double depth;          /* of a rectangle, the way it is bent, > 0; NAN: as its width */
  double wall;           /* of a hollow one, > 0 and less than half of width and depth; NAN: solid */
  double corner;         /* outside radius of a rectangle's corners, >= 0, to half of width and depth; NAN: sharp */
};
struct sl_outline_out {
  double area, inertia, modulus, plastic;   /* bent in the plane of its depth */
  double radius;                            /* of gyration, in the same plane */
};
enum sl_status sl_outline(const struct sl_outline_in *in, struct sl_outline_out *out, struct sl_sheet *sh);

#endif
