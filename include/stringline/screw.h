/* SPDX-License-Identifier: MIT
 * Ground screws: what one holds, by the torque that it was driven with or by a log of pulls; driven posts by pulls.
 * SI: m, N, N m. */
#ifndef STRINGLINE_SCREW_H
#define STRINGLINE_SCREW_H

#include "stringline/sheet.h"

/* Torque tells of push and pull along the screw and nothing of load sideways: that holds only by a test or a table of
 * its maker. */
struct sl_screw_anchor_in {
  double axial;          /* along it, allowable level, >= 0; NAN: what it holds alone is asked */
  double lateral;        /* across it, allowable level, >= 0; NAN: that is not asked */
  char shaft[24];        /* a row of the table screw_torque; "": by pulls */
  double torque;         /* as driven last, > 0; NAN: by pulls */
  const double *pulls; size_t npulls;   /* that screws of this job held in a test, > 0; none: by torque */
  double sideways;       /* allowable load across it by a test or a table, > 0; NAN: not known */
  double helix;          /* diameter of the top helix, > 0; NAN, with the next: by pulls, of what has none */
  double top_depth;      /* of that helix, > 0: five of its diameters and the frozen depth at least */
  double frost;          /* depth to which the ground freezes, >= 0 */
  char edition[SL_EDITION_NAME];        /* "IBC 2021" */
};
struct sl_screw_anchor_out {
  double ultimate, safety, allowable;
  double ratio;          /* axial over allowable; holds at <= 1; NAN where no load is given */
  double sideways_ratio; /* NAN where nothing is known of it, or no such load is given */
};
enum sl_status sl_screw_anchor(const struct sl_screw_anchor_in *in, struct sl_screw_anchor_out *out,
                               struct sl_sheet *sh);

#endif
