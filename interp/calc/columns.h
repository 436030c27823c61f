/* SPDX-License-Identifier: MIT
 * Columns of modules along a row whose rails are parted by joints: what is asked of them. */
#ifndef SL_COLUMNS_H
#define SL_COLUMNS_H

#include "guard.h"
#include "room.h"

enum { MOST_ROWS = 100, MOST_COLUMNS = 10000 };

/* For any struct with across, columns, column_gap, and joints, njoints, joint_gap. */
#define COLUMNS(sh, in) \
  do { \
    POSITIVE(sh, in, across, SL_LENGTH); \
    REQUIRE(sh, in, columns, >= 1 && (in)->columns <= MOST_COLUMNS, "must be 1 to 10000", SL_NUMBER); \
    NOT_NEGATIVE(sh, in, column_gap, SL_LENGTH); \
    NOT_NEGATIVE(sh, in, joint_gap, SL_LENGTH); \
  } while (0)
#define JOINTS(sh, in) \
  do { \
    for (size_t i_ = 0; i_ < (in)->njoints; i_++) { \
      const double joint_ = (in)->joints[i_]; \
      REQUIRE_ITEM(sh, in, joints, i_, >= 1 && joint_ < (in)->columns && floor(joint_) == joint_, \
                   "must be the number of a column before the last", SL_NUMBER); \
      REQUIRE_ITEM(sh, in, joints, i_, > (i_ > 0 ? (in)->joints[i_ - 1] : 0), \
                   "must be farther east than the one before", SL_NUMBER); \
    } \
  } while (0)

#define ROWS_UP(sh, in) \
  do { \
    POSITIVE(sh, in, side, SL_LENGTH); \
    REQUIRE(sh, in, rows, >= 1 && (in)->rows <= MOST_ROWS, "must be 1 to 100", SL_NUMBER); \
    NOT_NEGATIVE(sh, in, row_gap, SL_LENGTH); \
  } while (0)

#endif
