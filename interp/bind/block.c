/* SPDX-License-Identifier: MIT
 * Blocks that stand on the ground, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/block.h"

#define R struct sl_block_force
static const struct sl_field block_force[] = {
  SL_REAL(R, up, SL_FORCE, "what lifts; less than 0 presses"),
  SL_REAL(R, side, SL_FORCE, "what pushes it; + to the back, the upper edge of the modules"),
  SL_REAL(R, turning, SL_MOMENT, "about the middle of the block on the ground, + over its back edge"),
};
#undef R
#define R struct sl_block_weight
static const struct sl_field block_weight[] = {
  SL_REAL(R, weight, SL_FORCE, "at least, as it holds down"),
  SL_REAL_OPT(R, most, SL_FORCE, "as it presses, where that is more"),
  SL_REAL(R, at, SL_LENGTH, "its place from the middle of the block, + to the back"),
};
#undef R
#define FORCES(S) SL_ROWS(S, forces, nforces, struct sl_block_force, block_force, "the cases, each by itself")
#define WEIGHTS(S) SL_ROWS(S, weights, nweights, struct sl_block_weight, block_weight, "of structure and block")

#define R struct sl_block_wind
static const struct sl_field block_wind[] = {
  SL_REAL(R, low, SL_PRESSURE, "net on the lower half of the slope, plus presses down"),
  SL_REAL(R, high, SL_PRESSURE, "net on the upper half"),
};
#undef R
#define S struct sl_wind_on_block_in
static const struct sl_field wind_on_block_in[] = {
  SL_REAL(S, tilt, SL_ANGLE, "of the modules"),
  SL_REAL(S, slope_length, SL_LENGTH, "of the modules up the slope"),
  SL_REAL(S, stack, SL_LENGTH, "from their plane to the rafters, square to them"),
  SL_REAL(S, lower_edge, SL_LENGTH, "above the ground below the block"),
  SL_REAL(S, middle, SL_LENGTH, "of the block behind the lower edge, in plan"),
  SL_REAL(S, tributary, SL_LENGTH, "length of row that the station carries"),
  SL_REAL(S, least, SL_PRESSURE, "least wind on the area seen from the front"),
  SL_ROWS(S, winds, nwinds, struct sl_block_wind, block_wind, "cases of wind, strength level"),
};
#undef S
#define S struct sl_wind_on_block_out
static const struct sl_field wind_on_block_out[] = {
  SL_REAL(S, modules_at, SL_LENGTH, "middle of the modules from that of the block, + to the back"),
  SL_REAL(S, frame_at, SL_LENGTH, "of rails and rafters"),
  SL_ROWS(S, forces, nforces, struct sl_block_force, block_force, "of the winds, then the least wind up and down"),
};
#undef S
SL_OP_CALL_ROOM(wind_on_block)

#define R struct sl_face_strip
static const struct sl_field face_strip[] = {
  SL_REAL(R, from, SL_LENGTH, "along the face"),
  SL_REAL(R, to, SL_LENGTH, "its end"),
  SL_REAL(R, pressure, SL_PRESSURE, "on it"),
};
#undef R
#define S struct sl_wind_on_faces_in
static const struct sl_field wind_on_faces_in[] = {
  FORCES(S),
  SL_REAL(S, pressure, SL_PRESSURE, "on all of the face"),
  SL_REAL(S, width, SL_LENGTH, "of the face"),
  SL_REAL(S, height, SL_LENGTH, "of the face"),
  SL_REAL(S, raise, SL_LENGTH, "of the force above its middle"),
  SL_ROWS(S, strips, nstrips, struct sl_face_strip, face_strip, "of the face, by which more may come to it"),
};
#undef S
#define S struct sl_wind_on_faces_out
static const struct sl_field wind_on_faces_out[] = {
  SL_REAL(S, force, SL_FORCE, "on the face"),
  SL_REAL(S, arm, SL_LENGTH, "of that force above the ground"),
  SL_ROWS(S, forces, nforces, struct sl_block_force, block_force, "the cases, each with it"),
};
#undef S
SL_OP_CALL_ROOM(wind_on_faces)

#define R struct sl_block_head
static const struct sl_field block_head[] = {
  SL_REAL(R, up, SL_FORCE, "what lifts the post; less than 0 presses it"),
  SL_REAL(R, side, SL_FORCE, "what pushes it, to the front or to the back"),
  SL_REAL(R, at, SL_LENGTH, "its place from the middle of the block, + to the back"),
  SL_REAL(R, height, SL_LENGTH, "of that push above the ground"),
  SL_REAL_OPT(R, moment, SL_MOMENT, "at the foot, besides, the same way round"),
};
#undef R
#define S struct sl_heads_on_block_in
static const struct sl_field heads_on_block_in[] = {
  SL_ROWS(S, heads, nheads, struct sl_block_head, block_head, "the posts on the block"),
};
#undef S
#define S struct sl_heads_on_block_out
static const struct sl_field heads_on_block_out[] = {
  SL_ROWS(S, forces, nforces, struct sl_block_force, block_force, "all at once, pushed to the back, to the front"),
};
#undef S
SL_OP_CALL_ROOM(heads_on_block)

#define S struct sl_ballast_in
static const struct sl_field ballast_in[] = {
  FORCES(S), WEIGHTS(S),
  SL_REAL(S, length, SL_LENGTH, "of the block the way it is pushed"),
  SL_REAL_OPT(S, friction, SL_NUMBER, "coefficient on the ground, by the table or a test"),
  SL_REAL_OPT(S, adhesion, SL_PRESSURE, "of clay, in place of friction"),
  SL_REAL_OPT(S, area, SL_AREA, "of contact, for adhesion"),
  SL_REAL_OPT(S, most, SL_NUMBER, "part of what presses that adhesion makes at most"),
  SL_REAL_OPT(S, weight_counts, SL_NUMBER, "part of the weight against forces of another level, taken as they are"),
  SL_TEXT_OPT(S, edition, "edition of the load standard: \"ASCE 7-16\"; by it forces are at strength level"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_ballast_out, m, dim, help)
static const struct sl_field ballast_out[] = {
  OUT(weight, SL_FORCE, "in all"),
  OUT(lift, SL_FORCE, "what lifts, of the case that lifts most"),
  OUT(lift_held, SL_FORCE, "what of the weight counts"),
  OUT(lift_ratio, SL_NUMBER, "the one over the other"),
  OUT(slide, SL_FORCE, "what pushes, of the case in which it slides soonest"),
  OUT(slide_held, SL_FORCE, "what the ground holds then"),
  OUT(pressing, SL_FORCE, "on the ground still, then"),
  SL_REAL_OPT(struct sl_ballast_out, slide_ratio, SL_NUMBER, "push over what is held; none where nothing presses"),
  OUT(turn, SL_MOMENT, "about the edge, of the case that turns it most"),
  OUT(turn_held, SL_MOMENT, "of the weight that counts"),
  OUT(turn_ratio, SL_NUMBER, "the one over the other"),
  SL_COUNT(struct sl_ballast_out, lift_case, "which case that is, from 1"),
  SL_COUNT(struct sl_ballast_out, slide_case, "which case that is"),
  SL_COUNT(struct sl_ballast_out, turn_case, "which case that is"),
  SL_FLAG(struct sl_ballast_out, over_back, "it turns over its back edge; else over its front edge"),
};
#undef OUT
SL_OP_CALL(ballast)

#define S struct sl_block_bearing_in
static const struct sl_field block_bearing_in[] = {
  FORCES(S), WEIGHTS(S),
  SL_REAL(S, snow, SL_FORCE, "on the modules that the block carries"),
  SL_REAL(S, snow_at, SL_LENGTH, "its place from the middle of the block, + to the back"),
  SL_REAL(S, length, SL_LENGTH, "of the block, up the slope"),
  SL_REAL(S, width, SL_LENGTH, "of the block, along the row"),
  SL_REAL(S, allowable, SL_PRESSURE, "vertical bearing of the soil"),
  SL_FLAG_OPT(S, as_given, "the forces have all in them, at allowable level"),
  SL_TEXT_OPT(S, edition, "edition of the load standard, whose combinations are run: \"ASCE 7-16\""),
};
#undef S
#define S struct sl_block_bearing_out
static const struct sl_field block_bearing_out[] = {
  SL_REAL(S, pressure, SL_PRESSURE, "most below an edge"),
  SL_REAL(S, ratio, SL_NUMBER, "that over what is allowable"),
  SL_COUNT(S, of_case, "case in which it presses most, from 1"),
  SL_TEXT(S, combination, "the combination that governs it"),
};
#undef S
SL_OP_CALL(block_bearing)

SL_OPS(block, 43) = {
  SL_OP_ROOM(wind_on_block, "what wind on a station does to the block under all its posts"),
  SL_OP_ROOM(heads_on_block, "what posts do to the block under them"),
  SL_OP_ROOM(wind_on_faces, "wind on the face of a block, beside what comes to it"),
  SL_OP(ballast, "a block on the ground: lifted, pushed, turned over"),
  SL_OP(block_bearing, "how a block on the ground presses below its edges"),
  {0},
};
