/* SPDX-License-Identifier: MIT
 * What the ground does for posts and piers, as Lua sees it. */
#include "bind/soil.h"
#include "stringline/ground.h"

#define SOIL(s) \
  SL_TEXT_OPT(s, soil_class, "the soil, in a word of the table or of a job"), \
  SL_REAL_OPT(s, vertical, SL_PRESSURE, "allowable vertical bearing of a report, in place of the class")

#define S struct sl_embed_neglecting_in
static const struct sl_field embed_neglecting_in[] = {
  SL_REAL(S, lateral, SL_FORCE, "horizontal force on the post, allowable level"),
  SL_REAL(S, height, SL_LENGTH, "of that force above grade"),
  EMBEDDED(S),
  SL_REAL_OPT(S, provided, SL_LENGTH, "depth at which the pressure is taken; without it at the depth found"),
  BUILDING(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_embed_neglecting_out, m, dim, help)
static const struct sl_field embed_neglecting_out[] = {
  OUT(depth, SL_LENGTH, "least embedment below grade"),
  OUT(counted, SL_LENGTH, "of it in soil that counts"),
  OUT(pressure, SL_PRESSURE, "S1 at that depth, S3 of a post that is held"),
  OUT(strict, SL_LENGTH, "least embedment by the older reading of the greatest depth for pressure"),
  SL_REAL_OPT(struct sl_embed_neglecting_out, a, SL_LENGTH, "A of the formula; of a post that is held there is none"),
};
#undef OUT
SL_OP_CALL(embed_neglecting)

#define S struct sl_soil_bearing_in
static const struct sl_field soil_bearing_in[] = {
  SL_REAL(S, pressed, SL_FORCE, "by the post, allowable level"),
  SL_REAL(S, weight, SL_FORCE, "of post and concrete below grade"),
  SL_REAL(S, width, SL_LENGTH, "of the base: diameter, or side of a square one"),
  SL_FLAG_OPT(S, square, "the base is square"),
  SOIL(S),
  BUILDING(S),
};
#undef S
#define OUT(m, dim, help) SL_REAL(struct sl_soil_bearing_out, m, dim, help)
static const struct sl_field soil_bearing_out[] = {
  OUT(area, SL_AREA, "of the base"),
  OUT(pressure, SL_PRESSURE, "on the soil below"),
  OUT(allowable, SL_PRESSURE, "of that soil"),
  OUT(capacity, SL_FORCE, "allowable force on the base"),
  OUT(ratio, SL_NUMBER, "pressure over what is allowable"),
};
#undef OUT
SL_OP_CALL(soil_bearing)

#define S struct sl_friction_hold_in
static const struct sl_field friction_hold_in[] = {
  SL_REAL(S, width, SL_LENGTH, "diameter of the concrete or post; side of a square one"),
  SL_FLAG_OPT(S, square, "it is square"),
  SL_REAL(S, depth, SL_LENGTH, "of its foot below grade"),
  SL_REAL(S, neglect, SL_LENGTH, "depth of the soil on top that does not count: what freezes"),
  SOIL(S),
  BUILDING(S),
};
#undef S
static const struct sl_field friction_hold_out[] = {
  SL_REAL(struct sl_friction_hold_out, friction, SL_PRESSURE, "allowable, along it"),
  SL_REAL(struct sl_friction_hold_out, force, SL_FORCE, "allowable, in all"),
};
SL_OP_CALL(friction_hold)

#define S struct sl_bell_hold_in
static const struct sl_field bell_hold_in[] = {
  SL_REAL(S, width, SL_LENGTH, "diameter of the bell at its base"),
  SL_REAL(S, depth, SL_LENGTH, "of that base below grade"),
  SL_REAL(S, neglect, SL_LENGTH, "depth of the soil on top that does not count: what freezes"),
  SL_REAL(S, angle, SL_ANGLE, "of the cone off plumb"),
  SL_CHOICE(S, firmness, sl_firmnesses, "of the soil; below water it is wet whatever this says"),
  SL_REAL_OPT(S, dry_to, SL_LENGTH, "depth of the highest water; without it there is none"),
};
#undef S
static const struct sl_field bell_hold_out[] = {
  SL_REAL(struct sl_bell_hold_out, volume, SL_VOLUME, "of the cone, less the cylinder of the base"),
  SL_REAL(struct sl_bell_hold_out, weight, SL_FORCE, "of it, less the water that it displaces"),
};
SL_OP_CALL(bell_hold)

static const struct sl_field soil_sliding_in[] = {
  SL_TEXT(struct sl_soil_sliding_in, soil_class, "the soil, in a word of the table or of a job"),
  BUILDING(struct sl_soil_sliding_in),
};
static const struct sl_field soil_sliding_out[] = {
  SL_REAL_OPT(struct sl_soil_sliding_out, friction, SL_NUMBER, "coefficient; clay has none, but adhesion"),
  SL_REAL_OPT(struct sl_soil_sliding_out, adhesion, SL_PRESSURE, "of the area of contact; clay alone has it"),
  SL_REAL_OPT(struct sl_soil_sliding_out, most, SL_NUMBER, "part of the dead load that adhesion makes at most"),
};
SL_OP_CALL(soil_sliding)

static const struct sl_field pier_spacing_in[] = {
  SL_REAL(struct sl_pier_spacing_in, diameter, SL_LENGTH, "of the pier, its bell or collar"),
  SL_REAL_OPT(struct sl_pier_spacing_in, post_width, SL_LENGTH, "of the post in it"),
  SL_REAL_OPT(struct sl_pier_spacing_in, spacing, SL_LENGTH, "that there is, middle to middle: nearer than the least "
              "is refused"),
};
static const struct sl_field pier_spacing_out[] = {
  SL_REAL(struct sl_pier_spacing_out, least, SL_LENGTH, "middle to middle, from which on piers are no group"),
};
SL_OP_CALL(pier_spacing)

static const struct sl_field pier_at[] = {
  SL_REAL(struct sl_pier_at, east, SL_LENGTH, "of its middle"),
  SL_REAL(struct sl_pier_at, north, SL_LENGTH, "of its middle"),
  SL_REAL(struct sl_pier_at, diameter, SL_LENGTH, "of the pier, its bell or collar"),
  SL_REAL(struct sl_pier_at, post_width, SL_LENGTH, "of the post in it"),
  SL_COUNT(struct sl_pier_at, rack, "whose it is: a number of its own for each rack"),
};
static const struct sl_field piers_apart_in[] = {
  SL_ROWS(struct sl_piers_apart_in, piers, n, struct sl_pier_at, pier_at, "two or more"),
  SL_COUNT(struct sl_piers_apart_in, of, "the rack that is asked: one of the two is of it"),
};
static const struct sl_field piers_apart_out[] = {
  SL_COUNT(struct sl_piers_apart_out, first, "of the two that are nearest for their widths: which, counted from 1"),
  SL_COUNT(struct sl_piers_apart_out, second, "which is the other one"),
  SL_REAL(struct sl_piers_apart_out, spacing, SL_LENGTH, "between the two, middle to middle"),
  SL_REAL(struct sl_piers_apart_out, least, SL_LENGTH, "between them, from which on they are no group"),
};
SL_OP_CALL(piers_apart)

SL_OPS(ground, 41) = {
  SL_OP(embed_neglecting, "embedment where soil on top does not count"),
  SL_OP(soil_bearing, "what presses on the soil below a pier"),
  SL_OP(friction_hold, "what the friction of the soil along a pier holds"),
  SL_OP(bell_hold, "weight of the cone of soil above a bell"),
  SL_OP(soil_sliding, "what a class of soil resists sliding with"),
  SL_OP(pier_spacing, "how far apart piers are no group"),
  SL_OP(piers_apart, "the two piers that are nearest to being a group"),
  {0},
};
