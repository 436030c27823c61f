/* SPDX-License-Identifier: MIT
 * Fields that primitives about posts in soil share. */
#ifndef SL_BIND_SOIL_H
#define SL_BIND_SOIL_H

#include "bind/bind.h"

#define BUILDING(s) SL_TEXT(s, edition, "edition of the building code: \"IBC 2021\"")

/* A post or pier as the code's post formula has it. */
#define EMBEDDED(s) \
  SL_REAL(s, width, SL_LENGTH, "diameter of the concrete or post; side of a square one"), \
  SL_FLAG_OPT(s, square, "it is square and stands in the soil as it is: its diagonal counts"), \
  SL_REAL(s, bearing, SL_SOIL, "allowable lateral bearing of the soil per depth"), \
  SL_FLAG_OPT(s, isolated, "stands alone, and 1/2 in of movement at the ground does no harm: bearing is doubled"), \
  SL_FLAG_OPT(s, held, "at grade by a rigid slab or pavement"), \
  SL_REAL(s, neglect, SL_LENGTH, "depth of the soil on top that does not count: what freezes"), \
  SL_FLAG_OPT(s, from_grade, "pressure grows from grade; else from where the soil counts")

#endif
