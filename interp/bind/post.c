/* SPDX-License-Identifier: MIT
 * Primitives of posts as Lua sees them. */
#include "bind/bind.h"
#include "stringline/post.h"

#define S struct sl_leg_in
static const struct sl_field leg_in[] = {
  SL_REAL(S, needed, SL_LENGTH, "from where the leg stands to where it carries"),
  SL_REAL(S, slide, SL_LENGTH, "of its head, up or down"),
  SL_LIST(S, lengths, nlengths, SL_LENGTH, "that are had, and are not cut"),
};
#undef S
static const struct sl_field leg_out[] = {
  SL_REAL(struct sl_leg_out, length, SL_LENGTH, "of the leg that comes nearest"),
  SL_REAL(struct sl_leg_out, off, SL_LENGTH, "that its head slides"),
  SL_REAL(struct sl_leg_out, left, SL_LENGTH, "of the slide; below 0 the leg does not reach"),
};
SL_OP_CALL(leg)

#define IN(m, help)  SL_REAL(struct sl_trim_in, m, SL_LENGTH, help)
#define OUT(m, help) SL_REAL(struct sl_trim_out, m, SL_LENGTH, help)
static const struct sl_field trim_in[] = {
  IN(stock, "length of the stick"),
  IN(cut, "length of the post"),
  IN(reserve, "wanted beyond the cut, to be trimmed off"),
  IN(embedment, "of the post as it is needed"),
};
static const struct sl_field trim_out[] = {
  OUT(needed, "length of the stick at least"),
  OUT(spare, "beyond that; below 0 the stick is short by so much"),
  OUT(embedment_left, "of a post of that stick with its top where it belongs"),
};
#undef IN
#undef OUT
SL_OP_CALL(trim)

#define S struct sl_plate_in
static const struct sl_field plate_in[] = {
  SL_REAL(S, width, SL_LENGTH, "of the plate, across the face"),
  SL_REAL_OPT(S, screw_line, SL_LENGTH, "between its outer lines of screws; without it the plate's width"),
  SL_REAL_OPT(S, edge, SL_LENGTH, "least from a screw to the edge of the face; without it by the fastener"),
  SL_REAL_OPT(S, fastener, SL_LENGTH, "diameter of the screws, for the edge"),
  SL_TEXT_OPT(S, edition, "edition of the wood standard, for the edge of a fastener: \"NDS 2018\""),
};
#undef S
static const struct sl_field plate_out[] = {
  SL_REAL(struct sl_plate_out, edge, SL_LENGTH, "from a screw to the edge of the face"),
  SL_REAL(struct sl_plate_out, least, SL_LENGTH, "width of the face"),
};
SL_OP_CALL(plate)

#define S struct sl_tolerance_stack_in
static const struct sl_field tolerance_stack_in[] = {
  SL_REAL(S, layout, SL_LENGTH, "of the mark from where it is drawn"),
  SL_REAL(S, drift, SL_LENGTH, "of the hole or the screw from its mark"),
  SL_REAL(S, plumb, SL_RATIO, "out of plumb, per height"),
  SL_REAL(S, height, SL_LENGTH, "of the top above the ground"),
};
#undef S
static const struct sl_field tolerance_stack_out[] = {
  SL_REAL(struct sl_tolerance_stack_out, lean, SL_LENGTH, "of the top, out of plumb"),
  SL_REAL(struct sl_tolerance_stack_out, error, SL_LENGTH, "of the top from where it is drawn"),
};
SL_OP_CALL(tolerance_stack)

#define S struct sl_block_in
static const struct sl_field block_in[] = {
  SL_REAL(S, length, SL_LENGTH, "of the block"),
  SL_REAL(S, width, SL_LENGTH, "of the block"),
  SL_REAL(S, height, SL_LENGTH, "of the block"),
  SL_REAL(S, density, SL_DENSITY, "of its material"),
};
#undef S
static const struct sl_field block_out[] = {
  SL_REAL(struct sl_block_out, volume, SL_VOLUME, "of the block"),
  SL_REAL(struct sl_block_out, mass, SL_MASS, "of the block"),
};
SL_OP_CALL(block)

SL_OPS(post, 45) = {
  SL_OP(leg, "the nearest of the lengths that are had, and what its head slides"),
  SL_OP(trim, "a stick against a post that is set long and trimmed"),
  SL_OP(plate, "narrowest face that takes a plate and its screws"),
  SL_OP(tolerance_stack, "how far the top of a post may be off"),
  SL_OP(block, "volume and mass of a block"),
  {0},
};
