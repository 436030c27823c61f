/* SPDX-License-Identifier: MIT
 * Posts and what they stand in: legs of fixed length, stock and what is trimmed off it, foot plates, blocks, and how
 * far the top of a post is from where it is drawn.  Lengths in m.  Plane geometry; edge distances are of the wood
 * standard. */
#ifndef STRINGLINE_POST_H
#define STRINGLINE_POST_H

#include "stringline/sheet.h"

/* Of lengths that are had and not cut, the one that comes nearest; what it is off, its head slides. */
struct sl_leg_in {
  double needed;                        /* > 0 */
  double slide;                         /* up or down, >= 0 */
  const double *lengths; size_t nlengths;   /* each > 0, at least one */
};
struct sl_leg_out {
  double length;                        /* the nearest; of two as near the shorter, whose head is pulled out */
  double off;                           /* >= 0 */
  double left;                          /* of the slide; below 0: the leg does not reach */
};
enum sl_status sl_leg(const struct sl_leg_in *in, struct sl_leg_out *out, struct sl_sheet *sh);

/* What a stick leaves of a post that is set long and trimmed, and what of it is in the ground if it is too short. */
struct sl_trim_in {
  double stock;                         /* > 0 */
  double cut;                           /* > 0 */
  double reserve;                       /* wanted beyond the cut, >= 0 */
  double embedment;                     /* with the cut that is needed, >= 0 */
};
struct sl_trim_out {
  double needed;                        /* cut and reserve */
  double spare;                         /* of the stock; below 0: it is short by so much */
  double embedment_left;                /* with its top where it belongs; below 0: it does not reach the ground */
};
enum sl_status sl_trim(const struct sl_trim_in *in, struct sl_trim_out *out, struct sl_sheet *sh);

/* How wide the face of a post is at least that takes a plate and its screws. */
struct sl_plate_in {
  double width;                         /* of the plate, > 0 */
  double screw_line;                    /* between the outer lines of screws, 0 to width; NAN: as wide as the plate */
  double edge;                          /* from a screw to the edge of the face, >= 0; NAN: by the fastener */
  double fastener;                      /* its diameter, > 0; NAN where the edge is given */
  char edition[SL_EDITION_NAME];        /* "NDS 2018", for the edge of a fastener */
};
struct sl_plate_out { double edge, least; };
enum sl_status sl_plate(const struct sl_plate_in *in, struct sl_plate_out *out, struct sl_sheet *sh);

/* How far the top of a post may be off, all of it by chance: the root of the sum of squares. */
struct sl_tolerance_stack_in {
  double layout, drift;                 /* of the mark; of the hole or the screw from its mark; >= 0 */
  double plumb;                         /* out of plumb per height, >= 0 */
  double height;                        /* of the top above the ground, >= 0 */
};
struct sl_tolerance_stack_out { double lean, error; };
enum sl_status sl_tolerance_stack(const struct sl_tolerance_stack_in *in, struct sl_tolerance_stack_out *out,
                                  struct sl_sheet *sh);

/* A block of one material. */
struct sl_block_in { double length, width, height, density; };   /* > 0 */
struct sl_block_out { double volume, mass; };
enum sl_status sl_block(const struct sl_block_in *in, struct sl_block_out *out, struct sl_sheet *sh);

#endif
