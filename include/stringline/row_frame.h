/* SPDX-License-Identifier: MIT
 * The frames of a row along itself, seen from the front: posts of each line, what ties their heads, and braces along
 * the row.  SI: m, N, Pa, m4.  Plane frames by direct stiffness (frame.h), first order; what leaning adds is counted in
 * moments, in braces and in what they lift and press: as the posts bend, where they are fixed at grade, and where
 * footings turn as if nothing kept them from it, if the line's braces keep it upright then.
 *
 * Rails tie the heads of a line, by pins.  Between two expansion joints the row is a part by itself, which takes the
 * whole push.  How its lines share that is enveloped: each by the share that lies over it, and all by how stiff they
 * are, as the plane of modules ties them.  So are the feet: fixed at grade, and footings that turn about a depth in the
 * ground; feet that are said to be hinged are so in both.  What is told is the most of all of these, whichever way the
 * row is pushed. */
#ifndef STRINGLINE_ROW_FRAME_H
#define STRINGLINE_ROW_FRAME_H

#include "stringline/sheet.h"

/* The lines, those of the first part first. */
struct sl_row_line {
  double part;                          /* from 1, rising */
  double share;                         /* of the part's push that lies over it, 0 to 1, of all its lines 1 */
};
struct sl_row_post {
  double line;                          /* of the list, from 1, rising */
  double at, top;                       /* along the row, rising in its line; its head above any level */
  double height;                        /* head above its own ground, > 0 */
  double depth;                         /* of the footing below that, gravel not counted, >= 0 */
  double hinged;                        /* 1: its foot is said to turn freely; else 0 */
  double pressed;                       /* what presses it down, allowable, >= 0 */
  double e, area, inertia;              /* its own, all three > 0, where its line is unlike; 0 or NAN: the rack's */
};
struct sl_row_brace {
  double line, foot, head;              /* two posts beside each other, counted in their line from 1 */
  double low, high;                     /* bolt above the ground of the foot's post; below the head of the other */
};
struct sl_row_frame_in {
  double push;                          /* along the row at the heads of each part, allowable, >= 0 */
  double post_e, post_area, post_inertia;                     /* of one post, bent along the row, > 0 */
  double brace_e, brace_area;           /* of one brace, > 0; NAN where there is none */
  const struct sl_row_line *lines; size_t nlines;             /* 1 to 1000 */
  const struct sl_row_post *posts; size_t nposts;             /* of each line 1 to 200 */
  const struct sl_row_brace *braces; size_t nbraces;          /* of each line to 400, of each post to 8 */
};
struct sl_row_foot {
  double line, number;                  /* of the list; in its line, from 1 */
  double push, push_moment;             /* most at grade, and the largest moment there with it */
  double moment, moment_push;           /* the largest moment at grade, and the push with it */
  double bending, shear;                /* the largest along the post */
  double lifts;                         /* most that braces lift it, or press it, as the row is pushed either way */
};
struct sl_row_strut { double line, foot, head, force; };      /* pulled or pressed */
struct sl_row_frame_out {
  double leaning;                       /* most by which leaning enlarges moments, >= 1; they have it */
  double drift;                         /* most that heads move along the row, posts fixed at grade */
  double sways;                         /* what leaning would make of moments with feet that nothing keeps from turning,
                                         * the most of all lines; NAN: braces alone do not keep each line upright */
  const struct sl_row_foot *feet; size_t nfeet;
  const struct sl_row_strut *struts; size_t nstruts;
};
size_t sl_row_frame_need(const struct sl_row_frame_in *in);
enum sl_status sl_row_frame(const struct sl_row_frame_in *in, struct sl_row_frame_out *out, struct sl_space space,
                            struct sl_sheet *sh);

#endif
