/* SPDX-License-Identifier: MIT
 * The room that a caller hands in (struct sl_space): how much is needed, and its parts. */
#ifndef SL_ROOM_H
#define SL_ROOM_H

#include <stdint.h>
#include "calc.h"

/* `so_far` bytes and n items of so many; SIZE_MAX where that is more than a size can hold. */
static inline size_t sl_need(size_t so_far, size_t n, size_t size) {
  const size_t step = sizeof(double);
  if (so_far > SIZE_MAX - step || n > (SIZE_MAX - step - so_far) / size) return SIZE_MAX;
  return so_far + (n * size + step - 1) / step * step;
}
#define NEED(so_far, type, n) sl_need(so_far, n, sizeof(type))

/* Room of no bytes may be at no address, to which nothing can be added. */
static inline void *sl_part(struct sl_space *space, size_t bytes) {
  unsigned char *at = space->at;
  if (bytes == 0) return at;
  space->at = at + bytes;
  space->size -= bytes;
  return at;
}
/* The next n items off the room at a pointer; only what ENOUGH looked at. */
#define PART(space, type, n) ((type *)sl_part(space, NEED(0, type, n)))

#define ENOUGH(sh, space, need) \
  do { \
    if ((space).size < (need)) \
      return sl_sheet_fault(sh, SL_BAD_INPUT, "space", "is less than these inputs need", "", (double)(space).size, \
                            (double)(need), SL_NUMBER); \
  } while (0)

#endif
