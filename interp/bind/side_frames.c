/* SPDX-License-Identifier: MIT
 * The frames of a rack's stations, as Lua sees them. */
#include "bind/bind.h"
#include "stringline/side_frames.h"

#define R struct sl_side_station
static const struct sl_field side_station[] = {
  SL_REAL(R, tributary, SL_LENGTH, "length of row that its rafter carries"),
  SL_REAL_OPT(R, snow, SL_LENGTH, "length of row whose snow it carries; without it as much"),
};
#undef R
#define R struct sl_side_post
static const struct sl_field side_post[] = {
  SL_REAL(R, station, SL_NUMBER, "from the west, from 1"),
  SL_REAL(R, line, SL_NUMBER, "from the lower edge, from 1"),
  SL_REAL(R, at, SL_RATIO, "its head, part of the slope from the lower edge"),
  SL_REAL(R, height, SL_LENGTH, "its head above its own ground"),
  SL_REAL(R, depth, SL_LENGTH, "of its footing in the ground, gravel not counted"),
  SL_REAL(R, hinged, SL_NUMBER, "1 where its foot is said to turn freely, else 0"),
  SL_REAL_OPT(R, leans, SL_LENGTH, "how far its head moves as the ground gives way; without it by ground_motion"),
  SL_REAL_OPT(R, head, SL_NUMBER, "1 where its head holds the rafter from turning on it, else a pin"),
  SL_REAL_OPT(R, e, SL_PRESSURE, "modulus of elasticity, where its line is unlike the others"),
  SL_REAL_OPT(R, area, SL_SECTION, "of such a post"),
  SL_REAL_OPT(R, inertia, SL_INERTIA, "of such a post"),
  SL_REAL_OPT(R, leg_rise, SL_LENGTH, "how far above its head the rafter bears, on a leg; without it on the head"),
  SL_REAL_OPT(R, leg_run, SL_LENGTH, "how far behind its head in plan; less than 0: before it"),
};
#undef R
#define R struct sl_side_brace
static const struct sl_field side_brace[] = {
  SL_REAL(R, station, SL_NUMBER, "from the west, from 1"),
  SL_REAL(R, foot_line, SL_NUMBER, "line of its foot's post"),
  SL_REAL(R, head_line, SL_NUMBER, "line of its head's post"),
  SL_REAL(R, low, SL_LENGTH, "bolt at its foot above the ground of that post"),
  SL_REAL(R, high, SL_LENGTH, "bolt at its head below the head of that post"),
};
#undef R
#define R struct sl_side_wind
static const struct sl_field side_wind[] = {
  SL_REAL(R, low, SL_PRESSURE, "net pressure on the lower half of the slope, strength level, + presses down"),
  SL_REAL(R, high, SL_PRESSURE, "the same on the upper half"),
};
#undef R
#define S struct sl_side_frames_in
static const struct sl_field side_frames_in[] = {
  SL_REAL(S, tilt, SL_ANGLE, "of the modules from level"),
  SL_REAL(S, slope_length, SL_LENGTH, "of the modules up the slope"),
  SL_REAL(S, stack, SL_LENGTH, "from the posts' heads to the modules, square to them"),
  SL_REAL(S, dead_modules, SL_PRESSURE, "weight of the modules for each area of slope"),
  SL_REAL(S, dead_frame, SL_PRESSURE, "weight of rails, rafters and all else for each area of slope"),
  SL_REAL_OPT(S, frame_most, SL_PRESSURE, "what these weigh at most, where weight presses; without it as much"),
  SL_REAL(S, snow, SL_PRESSURE, "for each area of plan"),
  SL_REAL(S, least, SL_PRESSURE, "least wind on what is seen from the front"),
  SL_REAL_OPT(S, ground_motion, SL_LENGTH, "most that feet that are held move at grade; leaning by it not counted "
                                           "without it"),
  SL_REAL(S, post_e, SL_PRESSURE, "modulus of elasticity of a post"),
  SL_REAL(S, post_area, SL_SECTION, "of a post"),
  SL_REAL(S, post_inertia, SL_INERTIA, "of a post"),
  SL_REAL_OPT(S, rafter_e, SL_PRESSURE, "modulus of elasticity of a rafter; without it a stiff one"),
  SL_REAL_OPT(S, rafter_area, SL_SECTION, "of a rafter"),
  SL_REAL_OPT(S, rafter_inertia, SL_INERTIA, "of a rafter"),
  SL_REAL_OPT(S, brace_e, SL_PRESSURE, "modulus of elasticity of a brace, where there is one"),
  SL_REAL_OPT(S, brace_area, SL_SECTION, "of a brace"),
  SL_REAL_OPT(S, leg_e, SL_PRESSURE, "modulus of elasticity of a leg, where there is one"),
  SL_REAL_OPT(S, leg_area, SL_SECTION, "of a leg"),
  SL_ROWS(S, stations, nstations, struct sl_side_station, side_station, "the stations, from the west"),
  SL_ROWS(S, posts, nposts, struct sl_side_post, side_post, "the posts, station by station, from the lower edge up"),
  SL_ROWS(S, braces, nbraces, struct sl_side_brace, side_brace, "the braces between lines of posts"),
  SL_ROWS(S, winds, nwinds, struct sl_side_wind, side_wind, "the cases of wind"),
  SL_FLAG_OPT(S, tell_heads, "whether what each line's heads carry is told"),
  SL_FLAG_OPT(S, strength, "whether members are strained by strength combinations, and not by allowable ones"),
  SL_TEXT(S, edition, "edition of the load standard: \"ASCE 7-16\""),
};
#undef S
#define R struct sl_side_foot
#define CASE(m) \
  SL_REAL(R, m, SL_NUMBER, "case that governs it; behind those given: the least wind up or down the slope")
#define LIMIT(m) SL_CHOICE(R, m, sl_frame_limits, "what was taken of the feet then")
#define NAMED(m) SL_TEXT(R, m, "the combination that governs it")
static const struct sl_field side_foot[] = {
  SL_REAL(R, station, SL_NUMBER, "from the west"),
  SL_REAL(R, line, SL_NUMBER, "from the lower edge"),
  SL_REAL(R, up, SL_FORCE, "most that the wind lifts, strength level"), CASE(up_case), LIMIT(up_limit),
  SL_REAL(R, down, SL_FORCE, "most that the wind presses down, strength level"), CASE(down_case),
  SL_REAL(R, side, SL_FORCE, "most that the wind pushes sideways at grade, strength level"), CASE(side_case),
  SL_REAL(R, dead, SL_FORCE, "least of the frame's weight on it"),
  SL_REAL(R, weight, SL_FORCE, "most that the frame's weight alone presses, as where weight presses"),
  SL_REAL(R, snow, SL_FORCE, "most that snow alone presses"),
  SL_REAL(R, net_up, SL_FORCE, "most that lifts, weight taken off, allowable"),
  SL_REAL(R, net_up_dead, SL_FORCE, "weight on it under the same limit"), CASE(net_up_case), LIMIT(net_up_limit),
  NAMED(net_up_combination),
  SL_REAL(R, pressed, SL_FORCE, "most that presses down, allowable"), CASE(pressed_case), LIMIT(pressed_limit),
  NAMED(pressed_combination),
  SL_REAL(R, push, SL_FORCE, "most that pushes sideways at grade, allowable"),
  SL_REAL(R, push_moment, SL_MOMENT, "moment at grade with it"), CASE(push_case), LIMIT(push_limit),
  NAMED(push_combination),
  SL_REAL(R, moment, SL_MOMENT, "largest moment at grade, allowable"),
  SL_REAL(R, moment_push, SL_FORCE, "push with it"),
  SL_REAL(R, strength_up, SL_FORCE, "most that lifts, by strength combinations"), NAMED(strength_up_combination),
  SL_REAL(R, strength_down, SL_FORCE, "most that presses down, by strength combinations"),
  NAMED(strength_down_combination),
  SL_REAL(R, half_built_up, SL_FORCE, "most that lifts while half of the modules are up, allowable"),
  SL_REAL(R, leans, SL_LENGTH, "how far its head moves sideways as the ground gives way"),
  SL_REAL(R, leaning_moment, SL_MOMENT, "most that this adds at grade, allowable; no other moment has it"),
};
#undef R
#define R struct sl_side_strain
static const struct sl_field side_strain[] = {
  SL_CHOICE(R, part, sl_frame_parts, "post, rafter, brace or leg"),
  SL_REAL(R, line, SL_NUMBER, "line of the post; 0 of others"),
  SL_CHOICE(R, duration, sl_lastings, "shortest load of the combination; of a strength one what leads it"),
  SL_REAL(R, station, SL_NUMBER, "from the west"),
  SL_REAL(R, moment, SL_MOMENT, "largest along it"),
  SL_REAL(R, axial, SL_FORCE, "along it, compression +"),
  SL_REAL(R, shear, SL_FORCE, "most across it"),
  SL_REAL(R, leaning, SL_MOMENT, "of posts, what is added as the ground gives way; no other moment has it"),
  CASE(wind_case), LIMIT(limit), NAMED(combination),
};
#undef R
#define R struct sl_side_head
static const struct sl_field side_head[] = {
  SL_REAL(R, line, SL_NUMBER, "from the lower edge"),
  SL_CHOICE(R, most, sl_side_head_mosts, "what is most of it"),
  SL_CHOICE(R, duration, sl_lastings, "shortest load of the combination"),
  SL_REAL(R, station, SL_NUMBER, "from the west"),
  SL_REAL(R, lift, SL_FORCE, "on the post from the rafter, allowable; less than 0: it presses"),
  SL_REAL(R, side, SL_FORCE, "sideways with it"),
  SL_REAL(R, shear, SL_FORCE, "of the rafter beside it, the larger of both sides, with it"),
  CASE(wind_case), LIMIT(limit), NAMED(combination),
};
#undef R
#define S struct sl_side_frames_out
static const struct sl_field side_frames_out[] = {
  SL_REAL(S, leaning, SL_NUMBER, "most by which leaning enlarges moments; they have it"),
  SL_REAL(S, drift, SL_LENGTH, "most that a head moves sideways, wind alone, strength level"),
  SL_REAL_OPT(S, sways, SL_NUMBER, "the same as leaning if no foot were kept from turning; not given where a station "
                                   "does not stand then"),
  SL_ROWS(S, feet, nfeet, struct sl_side_foot, side_foot, "what each post's foot carries, in the posts' order"),
  SL_ROWS(S, strains, nstrains, struct sl_side_strain, side_strain, "where each kind of member is strained most"),
  SL_ROWS(S, heads, nheads, struct sl_side_head, side_head, "what passes between rafter and posts, where it is asked"),
};
#undef S
SL_OP_CALL_ROOM(side_frames)

SL_OPS(side_frames, 21) = {
  SL_OP_ROOM(side_frames, "posts, rafter and braces of each station under all combinations of loads"),
  {0},
};
