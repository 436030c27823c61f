/* SPDX-License-Identifier: MIT
 * Footing primitives as Lua sees them. */
#include "bind/soil.h"
#include "stringline/footing.h"

#define LOADS(s) SL_TEXT(s, edition, "edition of the load standard: \"ASCE 7-16\"")

static const struct sl_field allowable_wind_in[] = {
  SL_REAL(struct sl_allowable_wind_in, wind, SL_FORCE, "strength-level force of the wind"),
  LOADS(struct sl_allowable_wind_in),
};
static const struct sl_field allowable_wind_out[] = {
  SL_REAL(struct sl_allowable_wind_out, force, SL_FORCE, "allowable-level force"),
  SL_REAL(struct sl_allowable_wind_out, factor, SL_NUMBER, "on the wind in 0.6D + 0.6W"),
  SL_REAL(struct sl_allowable_wind_out, dead, SL_NUMBER, "on a weight that holds against it"),
};
SL_OP_CALL(allowable_wind)

#define IN(m, dim, help)  SL_REAL(struct sl_pier_in, m, dim, help)
#define OUT(m, dim, help) SL_REAL(struct sl_pier_out, m, dim, help)
static const struct sl_field pier_in[] = {
  IN(hole_diameter, SL_LENGTH, "of the hole"),
  IN(hole_depth, SL_LENGTH, "of the hole"),
  IN(gravel, SL_LENGTH, "under the post, no concrete in it"),
  IN(post_width, SL_LENGTH, "side of the square post, outer diameter of a round one"),
  IN(waste, SL_RATIO, "concrete ordered beyond what the hole takes"),
  SL_FLAG_OPT(struct sl_pier_in, round, "the post is round; a pipe counts as full"),
  SL_REAL_OPT(struct sl_pier_in, bell_concrete, SL_VOLUME, "of a bell, beyond the shaft; without it there is none"),
  SL_REAL_OPT(struct sl_pier_in, bell_earth, SL_VOLUME, "out of a bell, beyond the shaft"),
};
static const struct sl_field pier_out[] = {
  OUT(concrete, SL_VOLUME, "in the hole, post displaced"),
  OUT(ordered, SL_VOLUME, "with waste"),
  OUT(post_volume, SL_VOLUME, "of the post in the concrete"),
  OUT(earth, SL_VOLUME, "out of the hole"),
  OUT(weight_light, SL_FORCE, "of the concrete in the hole, what may be counted against uplift"),
  OUT(weight_heavy, SL_FORCE, "of the concrete in the hole, what may press on the soil"),
};
#undef IN
#undef OUT
SL_OP_CALL(pier)

static const struct sl_field bell_in[] = {
  SL_REAL(struct sl_bell_in, hole_diameter, SL_LENGTH, "of the hole above it"),
  SL_REAL(struct sl_bell_in, bell, SL_LENGTH, "diameter at its base"),
  SL_REAL(struct sl_bell_in, hole_depth, SL_LENGTH, "of the hole"),
  SL_REAL(struct sl_bell_in, gravel, SL_LENGTH, "under the concrete, as wide as the base"),
};
static const struct sl_field bell_out[] = {
  SL_REAL(struct sl_bell_out, height, SL_LENGTH, "from its base to where it is as wide as the hole"),
  SL_REAL(struct sl_bell_out, concrete, SL_VOLUME, "in it, beyond the shaft"),
  SL_REAL(struct sl_bell_out, earth, SL_VOLUME, "out of it and of the gravel under it, beyond the shaft"),
};
SL_OP_CALL(bell)

static const struct sl_field bag_yield_in[] = {
  SL_REAL(struct sl_bag_yield_in, bag_mass, SL_MASS, "of a bag of mix"),
};
static const struct sl_field bag_yield_out[] = {
  SL_REAL(struct sl_bag_yield_out, yield, SL_VOLUME, "that one bag fills"),
};
SL_OP_CALL(bag_yield)

static const struct sl_field bags_in[] = {
  SL_REAL(struct sl_bags_in, concrete, SL_VOLUME, "of the hole, with waste"),
  SL_REAL(struct sl_bags_in, yield, SL_VOLUME, "that one bag fills"),
};
static const struct sl_field bags_out[] = {
  SL_REAL(struct sl_bags_out, bags_exact, SL_NUMBER, "bags before rounding"),
  SL_COUNT(struct sl_bags_out, bags, "whole bags"),
};
SL_OP_CALL(bags)

static const struct sl_field hole_in[] = {
  SL_REAL(struct sl_hole_in, post_width, SL_LENGTH, "side of the square post, outer diameter of a round one"),
  SL_FLAG_OPT(struct sl_hole_in, round, "the post is round"),
};
static const struct sl_field hole_out[] = {
  SL_REAL(struct sl_hole_out, least, SL_LENGTH, "diameter in which it is plumbed, with room for concrete"),
};
SL_OP_CALL(hole)

static const struct sl_field dressed_in[] = {
  SL_TEXT(struct sl_dressed_in, section, "nominal size, such as 6x6"),
};
static const struct sl_field dressed_out[] = {
  SL_REAL(struct sl_dressed_out, breadth, SL_LENGTH, "dressed"),
  SL_REAL(struct sl_dressed_out, depth, SL_LENGTH, "dressed"),
};
SL_OP_CALL(dressed)

static const struct sl_field lumber_in[] = {
  SL_TEXT(struct sl_lumber_in, section, "nominal size, such as 6x6"),
  SL_REAL(struct sl_lumber_in, length, SL_LENGTH, "of the piece"),
  SL_TEXT_OPT(struct sl_lumber_in, species, "of softwood; Southern Pine if not said"),
  SL_TEXT(struct sl_lumber_in, edition, "edition of the wood standard: \"NDS 2018\""),
};
static const struct sl_field lumber_out[] = {
  SL_REAL(struct sl_lumber_out, breadth, SL_LENGTH, "dressed"),
  SL_REAL(struct sl_lumber_out, depth, SL_LENGTH, "dressed"),
  SL_REAL(struct sl_lumber_out, volume, SL_VOLUME, "of the piece"),
  SL_REAL(struct sl_lumber_out, weight_light, SL_FORCE, "oven-dry, what may be counted against uplift"),
  SL_REAL(struct sl_lumber_out, weight_heavy, SL_FORCE, "fresh from treatment, what must be lifted"),
};
SL_OP_CALL(lumber)

static const struct sl_field soil_in[] = {
  SL_TEXT(struct sl_soil_in, soil_class, "the soil, in a word of the table or of a job"),
  BUILDING(struct sl_soil_in),
};
static const struct sl_field soil_out[] = {
  SL_REAL(struct sl_soil_out, lateral, SL_SOIL, "presumptive lateral bearing per depth"),
  SL_REAL(struct sl_soil_out, vertical, SL_PRESSURE, "presumptive vertical bearing"),
};
SL_OP_CALL(soil)

static const struct sl_field augers_in[] = {
  SL_REAL_OPT(struct sl_augers_in, least, SL_LENGTH, "diameter wanted at least"),
};
static const struct sl_field augers_out[] = {
  SL_LIST(struct sl_augers_out, diameters, count, SL_LENGTH, "that are commonly had, smallest first"),
};
SL_OP_CALL_ROOM(augers)

SL_OPS(footing, 40) = {
  SL_OP(allowable_wind, "allowable-level part of a strength-level wind force"),
  SL_OP(pier, "concrete around a post, in volume and weight"),
  SL_OP(bell, "a hole that widens at its foot"),
  SL_OP(bag_yield, "what a bag of concrete mix fills"),
  SL_OP(bags, "bags of concrete mix for a hole"),
  SL_OP(hole, "narrowest hole for a post"),
  SL_OP(dressed, "dressed size of lumber"),
  SL_OP(lumber, "dressed size and weight of a piece of lumber"),
  SL_OP(soil, "presumptive bearing of a class of soil"),
  SL_OP_ROOM(augers, "diameters of augers"),
  {0},
};
