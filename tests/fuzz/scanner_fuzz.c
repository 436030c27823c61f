/* SPDX-License-Identifier: MIT
 * Any bytes through the scanner and the reader of cells: the laws of scan_laws.h. */
#include "fuzz.h"
#include "../arena.h"
#include "../scan_laws.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static struct arena arena;
  scan_laws(arena_state(&arena), (const char *)data, size);
  return 0;
}
