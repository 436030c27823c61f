/* SPDX-License-Identifier: MIT
 * One line of posts along the row as nodes and members, under a push of 1 N.  Private to interp/solve. */
#ifndef SL_ROW_MODEL_H
#define SL_ROW_MODEL_H

#include <stdbool.h>
#include "stringline/frame.h"
#include "stringline/row_frame.h"

enum { ROW_POSTS = 200, ROW_BRACES = 400, ROW_POST_BRACES = 8,
       ROW_NODES = 3 * ROW_POSTS + 2 * ROW_BRACES, ROW_MEMBERS = 3 * ROW_POSTS + 3 * ROW_BRACES };

/* What a member is of: a post, from 0 in its line, or a brace of it; the rest are ties and footings. */
struct row_piece { int post, brace; };
struct row_model {
  struct sl_frame_node *nodes;
  struct sl_frame_member *members;
  struct row_piece *pieces;
  double *node_loads, *pressed;                /* three of each node; one of each member */
  int *head, *foot, *above;                    /* nodes of each post; `above` the member that stands on grade */
  size_t nnodes, nmembers;
};

/* Those of one line, which are checked. */
struct row_of { const struct sl_row_post *posts; size_t n; const struct sl_row_brace *braces; size_t nbraces; };

/* What is taken of the feet: posts fixed at grade; footings that turn about their depth in the ground, as stiff as they
 * need be to stand; the same with nothing that keeps them from turning. */
enum row_feet { ROW_FIXED, ROW_TURNING, ROW_FREE };
void sl_row_build(const struct sl_row_frame_in *in, const struct row_of *of, double pivot_share, enum row_feet feet,
                  struct row_model *model);
struct sl_frame sl_row_model_frame(const struct row_model *model);
/* Room for the model of a line of so many posts and braces, which is taken from the space, and for its frame. */
size_t sl_row_model_room(size_t nposts, size_t nbraces);
struct row_model sl_row_model_in(struct sl_space *space, size_t nposts, size_t nbraces);
size_t sl_row_room(size_t nposts, size_t nbraces);

#endif
