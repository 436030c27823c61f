/* SPDX-License-Identifier: MIT
 * The frames of a row along itself, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/row_frame.h"

#define R struct sl_row_line
static const struct sl_field row_line[] = {
  SL_REAL(R, part, SL_NUMBER, "of the row between its expansion joints, from 1"),
  SL_REAL(R, share, SL_RATIO, "of the part's push that lies over it"),
};
#undef R
#define R struct sl_row_post
static const struct sl_field row_post[] = {
  SL_REAL(R, line, SL_NUMBER, "of the lines, from 1"),
  SL_REAL(R, at, SL_LENGTH, "its place along the row"),
  SL_REAL(R, top, SL_LENGTH, "its head above any level"),
  SL_REAL(R, height, SL_LENGTH, "its head above its own ground"),
  SL_REAL(R, depth, SL_LENGTH, "of its footing in the ground, gravel not counted"),
  SL_REAL(R, hinged, SL_NUMBER, "1 where its foot is said to turn freely, else 0"),
  SL_REAL(R, pressed, SL_FORCE, "what presses it down, allowable"),
  SL_REAL_OPT(R, e, SL_PRESSURE, "modulus of elasticity, where its line is unlike the others"),
  SL_REAL_OPT(R, area, SL_SECTION, "of such a post"),
  SL_REAL_OPT(R, inertia, SL_INERTIA, "of such a post, bent along the row"),
};
#undef R
#define R struct sl_row_brace
static const struct sl_field row_brace[] = {
  SL_REAL(R, line, SL_NUMBER, "of the lines, from 1"),
  SL_REAL(R, foot, SL_NUMBER, "the post of its foot, in its line from 1"),
  SL_REAL(R, head, SL_NUMBER, "the post of its head, which stands beside that"),
  SL_REAL(R, low, SL_LENGTH, "bolt at its foot above the ground of that post"),
  SL_REAL(R, high, SL_LENGTH, "bolt at its head below the head of that post"),
};
#undef R
#define S struct sl_row_frame_in
static const struct sl_field row_frame_in[] = {
  SL_REAL(S, push, SL_FORCE, "along the row at the heads of each part, allowable"),
  SL_REAL(S, post_e, SL_PRESSURE, "modulus of elasticity of a post"),
  SL_REAL(S, post_area, SL_SECTION, "of a post"),
  SL_REAL(S, post_inertia, SL_INERTIA, "of a post, bent along the row"),
  SL_REAL_OPT(S, brace_e, SL_PRESSURE, "modulus of elasticity of a brace, where there is one"),
  SL_REAL_OPT(S, brace_area, SL_SECTION, "of a brace"),
  SL_ROWS(S, lines, nlines, struct sl_row_line, row_line, "the lines of posts, part by part"),
  SL_ROWS(S, posts, nposts, struct sl_row_post, row_post, "the posts, line by line, from the west"),
  SL_ROWS(S, braces, nbraces, struct sl_row_brace, row_brace, "the braces along the row, line by line"),
};
#undef S
#define R struct sl_row_foot
static const struct sl_field row_foot[] = {
  SL_REAL(R, line, SL_NUMBER, "of the lines"),
  SL_REAL(R, number, SL_NUMBER, "in its line, from the west"),
  SL_REAL(R, push, SL_FORCE, "most that pushes along the row at grade, allowable"),
  SL_REAL(R, push_moment, SL_MOMENT, "moment at grade with it"),
  SL_REAL(R, moment, SL_MOMENT, "largest moment at grade, allowable"),
  SL_REAL(R, moment_push, SL_FORCE, "push with it"),
  SL_REAL(R, bending, SL_MOMENT, "largest moment along the post"),
  SL_REAL(R, shear, SL_FORCE, "most across it"),
  SL_REAL(R, lifts, SL_FORCE, "most that braces lift it, or press it"),
};
#undef R
#define R struct sl_row_strut
static const struct sl_field row_strut[] = {
  SL_REAL(R, line, SL_NUMBER, "of the lines"),
  SL_REAL(R, foot, SL_NUMBER, "the post of its foot"),
  SL_REAL(R, head, SL_NUMBER, "the post of its head"),
  SL_REAL(R, force, SL_FORCE, "most that pulls or presses it, allowable"),
};
#undef R
#define S struct sl_row_frame_out
static const struct sl_field row_frame_out[] = {
  SL_REAL(S, leaning, SL_NUMBER, "most by which leaning enlarges moments; they have it"),
  SL_REAL(S, drift, SL_LENGTH, "most that heads move along the row, posts fixed at grade"),
  SL_REAL_OPT(S, sways, SL_NUMBER, "the same as leaning if no foot were kept from turning; not given where braces "
                                   "alone do not keep each line upright"),
  SL_ROWS(S, feet, nfeet, struct sl_row_foot, row_foot, "what each post's foot carries, in the posts' order"),
  SL_ROWS(S, struts, nstruts, struct sl_row_strut, row_strut, "what each brace carries, in their order"),
};
#undef S
SL_OP_CALL_ROOM(row_frame)

SL_OPS(row_frame, 22) = {
  SL_OP_ROOM(row_frame, "posts and braces of a row that is pushed along itself"),
  {0},
};
