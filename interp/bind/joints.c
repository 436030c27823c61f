/* SPDX-License-Identifier: MIT
 * What holds in a joint besides its fasteners, as Lua sees it. */
#include "bind/bind.h"
#include "stringline/joints.h"

#define WOOD(s) SL_TEXT(s, edition, "edition of the wood standard: \"NDS 2018\"")
#define KIND(s) SL_CHOICE(s, kind, sl_fasteners, "of fastener")
#define SIZE(s) SL_TEXT(s, size, "of the fastener: 3/8, No. 10")

#define S struct sl_head_pull_in
static const struct sl_field head_pull_in[] = {
  SL_TEXT_OPT(S, species, "of the wood under the head; or its gravity"),
  SL_REAL_OPT(S, gravity, SL_NUMBER, "oven-dry specific gravity of that wood; or its species"),
  SL_REAL(S, head, SL_LENGTH, "diameter of the head, or of a round washer under it"),
  SL_REAL(S, thickness, SL_LENGTH, "of the wood under it"),
  SL_CHOICE(S, duration, sl_durations, "of the shortest load of the combination"),
  SL_CHOICE_OPT(S, moisture, sl_moistures, "wet: above 19 % in service; dried: refused"),
  WOOD(S),
};
#undef S
static const struct sl_field head_pull_out[] = {
  SL_REAL(struct sl_head_pull_out, reference, SL_FORCE, "reference value, WH"),
  SL_REAL(struct sl_head_pull_out, adjusted, SL_FORCE, "what it holds with all factors"),
};
SL_OP_CALL(head_pull)

#define S struct sl_washer_press_in
static const struct sl_field washer_press_in[] = {
  SL_TEXT(S, size, "of the bolt: 3/8"),
  SL_REAL(S, washer, SL_LENGTH, "diameter of its round washer"),
  SL_REAL(S, width, SL_LENGTH, "of the wood under it"),
  SL_REAL(S, stress, SL_STRESS, "Fc_perp' of the wood, with all its factors"),
  SL_REAL(S, force, SL_FORCE, "along the bolt"),
  WOOD(S),
};
#undef S
static const struct sl_field washer_press_out[] = {
  SL_REAL(struct sl_washer_press_out, area, SL_SECTION, "on which it presses, without the hole"),
  SL_REAL(struct sl_washer_press_out, allowed, SL_FORCE, "that may press it"),
  SL_REAL(struct sl_washer_press_out, used, SL_NUMBER, "how far that is used; holds at 1 or less"),
};
SL_OP_CALL(washer_press)

#define S struct sl_net_section_in
static const struct sl_field net_section_in[] = {
  KIND(S),
  SIZE(S),
  SL_REAL(S, width, SL_LENGTH, "of the member, square to the way it is bent"),
  SL_REAL(S, depth, SL_LENGTH, "of the member, the way it is bent"),
  SL_FLAG_OPT(S, upright, "holes through the depth, side by side; else through the width, one above the other"),
  SL_COUNT(S, count, "holes in one section"),
  SL_REAL(S, to_edge, SL_LENGTH, "from the nearest edge to the first"),
  SL_REAL_OPT(S, spacing, SL_LENGTH, "from one to the next above it; none of one, or of upright ones"),
  WOOD(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_net_section_out, m, dim, help)
static const struct sl_field net_section_out[] = {
  OUT(hole, SL_LENGTH, "diameter of a hole"),
  OUT(area, SL_SECTION, "of what is left"),
  OUT(modulus, SL_MODULUS, "of what is left"),
  OUT(area_share, SL_NUMBER, "of the whole section"),
  OUT(modulus_share, SL_NUMBER, "of that of the whole section"),
};
#undef OUT
SL_OP_CALL(net_section)

#define S struct sl_plate_steel_in
static const struct sl_field plate_steel_in[] = {
  SL_TEXT(S, plate, "steel of the plates: A36, A653 Grade 33"),
  SL_REAL(S, width, SL_LENGTH, "of each, across the pull"),
  SL_REAL(S, thickness, SL_LENGTH, "of each"),
  SL_COUNT(S, plates, "1, or 2 at both sides"),
  KIND(S),
  SIZE(S),
  SL_COUNT(S, holes, "in one section across the plate"),
  SL_REAL_OPT(S, spacing, SL_LENGTH, "of these; none of one"),
  SL_REAL(S, pull, SL_FORCE, "at all plates together"),
  SL_REAL(S, shear, SL_FORCE, "across all plates together"),
  SL_REAL(S, moment, SL_MOMENT, "that bends all of them on edge"),
  SL_REAL_OPT(S, free, SL_LENGTH, "between fasteners, over which they are bent; none where they are not"),
  SL_REAL(S, bears, SL_FORCE, "of the fastener that presses hardest, on all plates"),
  WOOD(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_plate_steel_out, m, dim, help)
static const struct sl_field plate_steel_out[] = {
  OUT(pull_allowed, SL_FORCE, "by yield of the whole and rupture of the net section"),
  OUT(shear_allowed, SL_FORCE, "the same across them"),
  OUT(moment_allowed, SL_MOMENT, "on edge, elastic"),
  OUT(bears_allowed, SL_FORCE, "under one fastener, all plates"),
  OUT(used, SL_NUMBER, "how far they are used; holds at 1 or less"),
};
#undef OUT
SL_OP_CALL(plate_steel)

#define S struct sl_joint_force_in
static const struct sl_field joint_force_in[] = {
  SL_REAL(S, along, SL_FORCE, "along the grain of a member, either way"),
  SL_REAL(S, across, SL_FORCE, "across it, at the same time"),
  SL_REAL_OPT(S, lean, SL_ANGLE, "of the other member's grain off that of the first; none where it is not asked"),
};
#undef S
#define S struct sl_joint_force_out
static const struct sl_field joint_force_out[] = {
  SL_REAL(S, force, SL_FORCE, "both together"),
  SL_REAL(S, angle, SL_ANGLE, "of it to the grain of that member"),
  SL_REAL_OPT(S, leaning_angle, SL_ANGLE, "to that of the other, whichever way the part across goes"),
};
#undef S
SL_OP_CALL(joint_force)

#define S struct sl_grain_parts_in
static const struct sl_field grain_parts_in[] = {
  SL_REAL(S, force, SL_FORCE, "the first"),
  SL_REAL(S, beside, SL_FORCE, "at once, square to it; less than 0 away from the edge that is asked about"),
  SL_REAL(S, angle, SL_ANGLE, "of the first to the grain of the member"),
};
#undef S
static const struct sl_field grain_parts_out[] = {
  SL_REAL(struct sl_grain_parts_out, along, SL_FORCE, "along the grain"),
  SL_REAL(struct sl_grain_parts_out, across, SL_FORCE, "across it, towards that edge"),
};
SL_OP_CALL(grain_parts)

#define R struct sl_beam_reaction
static const struct sl_field beam_reaction[] = {
  SL_REAL(R, at, SL_LENGTH, "from the left end"),
  SL_REAL(R, reaction, SL_FORCE, "on the beam, upward"),
};
#undef R
#define S struct sl_beam_place_in
static const struct sl_field beam_place_in[] = {
  SL_REAL(S, load, SL_LINE_LOAD, "over the whole length, downward"),
  SL_REAL(S, at, SL_LENGTH, "the place, from the left end"),
  SL_ROWS(S, supports, nsupports, struct sl_beam_reaction, beam_reaction, "the supports of the whole beam"),
};
#undef S
static const struct sl_field beam_place_out[] = {
  SL_REAL(struct sl_beam_place_out, moment, SL_MOMENT, "of the beam there, above 0 where it sags"),
  SL_REAL(struct sl_beam_place_out, shear, SL_FORCE, "the larger of both sides, either way"),
};
SL_OP_CALL(beam_place)

#define S struct sl_splice_group_in
static const struct sl_field splice_group_in[] = {
  SL_COUNT(S, count, "fasteners in each row, on one side of the splice"),
  SL_COUNT(S, rows, "rows along the member"),
  SL_REAL_OPT(S, spacing, SL_LENGTH, "in a row; none of one"),
  SL_REAL_OPT(S, row_spacing, SL_LENGTH, "from row to row; none of one row"),
  SL_REAL(S, to_end, SL_LENGTH, "from the member's end to the first"),
  SL_REAL(S, moment, SL_MOMENT, "of the member at the splice"),
  SL_REAL(S, shear, SL_FORCE, "of the member at the splice"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_splice_group_out, m, dim, help)
static const struct sl_field splice_group_out[] = {
  OUT(arm, SL_LENGTH, "from the splice to the middle of the group"),
  OUT(turning, SL_MOMENT, "moment about that middle"),
  OUT(first, SL_MOMENT, "of what lies over the splice, at the first of them"),
  OUT(across, SL_FORCE, "of the fastener that bears most, square to the member"),
  OUT(along, SL_FORCE, "of it, along the member"),
  OUT(force, SL_FORCE, "of it, both together"),
  OUT(angle, SL_ANGLE, "of that force to the member's grain"),
};
#undef OUT
SL_OP_CALL(splice_group)

#define S struct sl_foot_tie_in
static const struct sl_field foot_tie_in[] = {
  SL_REAL(S, lift, SL_FORCE, "that lifts the foot, the frame's weight taken off"),
  SL_REAL(S, side, SL_FORCE, "that pushes it, at the same time"),
  SL_REAL(S, moment, SL_MOMENT, "that turns it, at the same time"),
  SL_REAL(S, lift_allowed, SL_FORCE, "allowable, as declared"),
  SL_REAL(S, side_allowed, SL_FORCE, "allowable, as declared"),
  SL_REAL_OPT(S, moment_allowed, SL_MOMENT, "allowable, as declared; none of a foot that turns freely"),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_foot_tie_out, m, dim, help)
static const struct sl_field foot_tie_out[] = {
  OUT(of_lift, SL_NUMBER, "lift over what is allowed"),
  OUT(of_side, SL_NUMBER, "push over what is allowed"),
  OUT(of_moment, SL_NUMBER, "moment over what is allowed"),
  OUT(used, SL_NUMBER, "all at once; holds at 1 or less"),
};
#undef OUT
SL_OP_CALL(foot_tie)

SL_OPS(joints, 48) = {
  SL_OP(head_pull, "head of a screw, or a washer, pulled through wood"),
  SL_OP(washer_press, "washer of a bolt pressed on wood"),
  SL_OP(net_section, "what fasteners leave of a member's section"),
  SL_OP(plate_steel, "plates of steel at a joint: pulled, sheared, bent on edge, and under their fasteners"),
  SL_OP(joint_force, "two forces on a joint at once: how much, and at which angle to the grain"),
  SL_OP(grain_parts, "two forces on a member at once: along its grain, and across it"),
  SL_OP(beam_place, "moment and shear of a beam at a place"),
  SL_OP(splice_group, "fasteners on one side of a splice: what the hardest of them bears"),
  SL_OP(foot_tie, "what ties a post to a block or a screw, by declared strengths"),
  {0},
};
