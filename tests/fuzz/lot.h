/* SPDX-License-Identifier: MIT
 * Numbers drawn by lot: the same ones on every machine (splitmix64).  Runner and mutators draw from it. */
#ifndef SL_FUZZ_LOT_H
#define SL_FUZZ_LOT_H

#include <stddef.h>
#include <stdint.h>

struct lot { uint64_t state; };

static inline uint64_t lot_draw(struct lot *lot) {
  uint64_t x = lot->state += 0x9E3779B97F4A7C15;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EB;
  return x ^ (x >> 31);
}
/* 0 to n - 1; 0 where n is 0. */
static inline size_t lot_below(struct lot *lot, size_t n) { return n ? (size_t)(lot_draw(lot) % n) : 0; }
#endif
