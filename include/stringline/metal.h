/* SPDX-License-Identifier: MIT
 * Members of steel and aluminum by allowable strength, of steel by strength design (load and resistance factors) too,
 * and the properties of steel sections.  SI: m, N, N m, Pa.
 *
 * Forces are at the level of the method and of second order: no moment is amplified here.  Steel: pipe, compact square
 * tube, or own properties of a compact closed section alike about both axes, whose wall is looked at if it is given.
 * Aluminum, own properties, not welded: tension by yield and rupture; its buckling, of column, beam and wall, is not
 * held, and compression and bending are refused.
 * Not held: shear, net sections at holes, bending and compression of strut, which is open and twists. */
#ifndef STRINGLINE_METAL_H
#define STRINGLINE_METAL_H

#include <stdbool.h>
#include "stringline/combine.h"

struct sl_metal_section_in { char section[24]; };                 /* "pipe 2 std", "HSS 3x3x3/16" */
struct sl_metal_section_out {
  double width, wall, mass, area, inertia, modulus, radius;       /* outside; mass per length */
  double plastic;                                                 /* NAN: not held */
};
enum sl_status sl_metal_section(const struct sl_metal_section_in *in, struct sl_metal_section_out *out,
                                struct sl_sheet *sh);

struct sl_metal_in {
  char section[24];      /* of the table, or "" with own properties */
  double area, plastic, radius;   /* own, > 0, or NAN */
  double width, wall;    /* of an own tube, for whether its wall is compact: > 0, both or none (NAN) */
  bool round;            /* that tube; else it is square */
  char material[16];     /* "A53 Gr B" */
  double moment;         /* >= 0 */
  double axial;          /* compression above 0, tension below */
  double length;         /* effective, of buckling, > 0; NAN: not pressed */
  int method;            /* enum sl_method; of aluminum allowable alone */
};
struct sl_metal_out {
  double allowed_moment, allowed_axial;
  double used_bending, used_axial, used_combined;
  double worst;          /* the largest; holds to 1 */
  char governs[16];      /* "bending", "compression", "tension", "combined", "none" */
};
enum sl_status sl_metal(const struct sl_metal_in *in, struct sl_metal_out *out, struct sl_sheet *sh);

#endif
