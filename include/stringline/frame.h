/* SPDX-License-Identifier: MIT
 * Plane frames: straight members between joints, by the stiffness of slender beams (no shear deformation).
 *
 * SI: m, N, N m, rad.  x to the right, z up; turns and moments on joints go from x to z, against the clock.
 * Movements are small, and forces stand in the frame as it was built; with `pressed` also what the axial force of each
 * member does by its lean: the consistent geometric stiffness of a cubic.  A column that bends between its ends is
 * made of two members or more: one alone, hinged at both ends, would buckle a fifth too late, four 0.1 % too late.
 *
 * Joints are in balance to 1e-9 of the largest force, where members are not many thousand times stiffer than what moves
 * them; an answer out of balance by more than 1e-7 is refused. */
#ifndef STRINGLINE_FRAME_H
#define STRINGLINE_FRAME_H

#include "stringline/sheet.h"

/* Springs to the ground in N/m, N/m, N m/rad: 0 is free, INFINITY held. */
struct sl_frame_node { double x, z, kx, kz, kr; };
/* Axial stiffness N, bending stiffness N m2; nonzero: no moment at that end. */
struct sl_frame_member { int from, to; double ea, ei; int hinge_from, hinge_to; };

struct sl_frame {
  const struct sl_frame_node *nodes; size_t nnodes;          /* 1 to 2000 */
  const struct sl_frame_member *members; size_t nmembers;    /* at most 8000 */
  size_t ncases;                                             /* 1 to 1000 */
  const double *node_loads;    /* ncases x nnodes x 3: fx, fz (up +), m; NULL: none */
  const double *member_loads;  /* ncases x nmembers x 2: wx, wz, N for each m of the member's length; NULL: none */
  const double *pressed;       /* axial compression of each member (tension negative); NULL: its lean does nothing */
  int stands;                  /* nonzero: it was solved without pressure before, so that it is no mechanism */
};

struct sl_frame_answer {
  double *moved;               /* ncases x nnodes x 3: x, z, turn; 0 the turn of a joint at which all ends are hinged */
  double *ends;                /* ncases x nmembers x 6: axial, shear, moment at `from`, then at `to`.  Axial: tension
                                  is positive.  Seen along the member, from `from` to `to`: the moment is positive
                                  where the side on the right is stretched (in a beam from left to right it sags), the
                                  shear is what the moment grows by in each m (up on the left part's begin) */
  double *reactions;           /* ncases x nnodes x 3: on the frame from the ground */
  int free_node, free_way;     /* on a mechanism, or where it buckles: which joint, and 0 x, 1 z, 2 turn; else -1 */
};

/* The answer's arrays lie in the room. */
size_t sl_frame_need(const struct sl_frame *frame);
enum sl_status sl_frame_solve(const struct sl_frame *frame, struct sl_frame_answer *answer, struct sl_space space,
                              struct sl_sheet *sh);

#endif
