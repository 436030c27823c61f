/* SPDX-License-Identifier: MIT
 * Room for a primitive, as large as it asks for and no byte more, filled with what no answer may be made of; the
 * sanitizers watch its end. */
#ifndef SL_ROOM_FOR_TESTS_H
#define SL_ROOM_FOR_TESTS_H

#include <stdlib.h>
#include <string.h>
#include "stringline/sheet.h"

static inline struct sl_space room_filled(void *at, size_t bytes) {
  if (!at) abort();
  memset(at, 0xa5, bytes ? bytes : 1);
  return (struct sl_space){ at, bytes };
}

/* Stands until so many more were asked for. */
static inline struct sl_space room_of(size_t bytes) {
  static void *lent[8];
  static size_t next;
  void **at = &lent[next++ % (sizeof lent / sizeof *lent)];
  free(*at);
  *at = malloc(bytes ? bytes : 1);
  return room_filled(*at, bytes);
}

/* Stands until the next is asked for, which is the same one where it is as large: for a primitive that is called a
 * hundred thousand times. */
static inline struct sl_space room_again(size_t bytes) {
  static void *lent;
  static size_t size;
  if (!lent || size != bytes) {
    free(lent);
    lent = malloc(bytes ? bytes : 1);
    size = bytes;
  }
  return room_filled(lent, bytes);
}

#endif
