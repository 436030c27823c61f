/* SPDX-License-Identifier: MIT
 * The frame of one station as nodes and members, under unit loads.  Private to interp/solve. */
#ifndef SL_SIDE_MODEL_H
#define SL_SIDE_MODEL_H

#include <stdbool.h>
#include "stringline/frame.h"
#include "stringline/side_frames.h"

/* Loads that all others are made of: weight of the frame, of the modules below and above the middle of the slope, snow,
 * a pressure of 1 Pa on either half, and the least wind up the slope.  Beside them 1 N sideways at each head, by which
 * it is seen how stiff the frame is. */
enum side_load { SIDE_FRAME, SIDE_MODULES_LOW, SIDE_MODULES_HIGH, SIDE_SNOW, SIDE_LOW, SIDE_HIGH, SIDE_LEAST,
                 SIDE_LOADS, SIDE_HEADS = SIDE_LOADS, SIDE_CASES };
enum { SIDE_POSTS = 10, SIDE_BRACES = 10,
       SIDE_NODES = 4 * SIDE_POSTS + 2 * SIDE_BRACES + 3, SIDE_MEMBERS = SIDE_NODES + SIDE_BRACES };

struct side_piece { int part, line, post; bool at_grade; };      /* of each member; post from 0, -1 of none */
struct side_model {
  struct sl_frame_node nodes[SIDE_NODES];
  struct sl_frame_member members[SIDE_MEMBERS];
  struct side_piece pieces[SIDE_MEMBERS];
  double node_loads[SIDE_CASES * SIDE_NODES * 3], member_loads[SIDE_CASES * SIDE_MEMBERS * 2];
  double pressed[SIDE_MEMBERS];
  int head[SIDE_POSTS], foot[SIDE_POSTS], above[SIDE_POSTS];  /* nodes; `above` the member that stands on grade */
  bool held[SIDE_POSTS];                                      /* its foot keeps it from turning, under this limit */
  double pivot[SIDE_POSTS];                                   /* depth about which its footing turns */
  double leans[SIDE_POSTS];                                   /* how far its head moves as the ground gives way; 0: not
                                                               * told, or no way */
  bool braced;
  size_t nnodes, nmembers, nposts;
  const struct sl_side_post *posts;
};

/* Beside the limits that are told: footings that turn, with nothing that keeps them from it; the ground holds posts at
 * grade, but for as far as it gives way. */
enum { SIDE_FREE = SL_SHORTEST_ALONE + 1 };

/* Whether the rafter bears on a leg that stands on a post, and not on its head. */
bool sl_side_on_leg(const struct sl_side_post *post);
bool sl_side_any_leg(const struct sl_side_post *posts, size_t n);
/* Whether the station has what this limit is about. */
bool sl_side_has(const struct sl_side_post *posts, size_t nposts, int limit);
void sl_side_build(const struct sl_side_frames_in *in, const struct sl_side_post *posts, size_t nposts, int station,
                   const struct sl_side_station *of, double pivot_share, int limit, struct side_model *model);
double sl_side_length(const struct side_model *model, size_t member);
struct sl_frame sl_side_frame(const struct side_model *model);

#endif
