/* SPDX-License-Identifier: MIT
 * Any bytes through the scanner and the reader of cells: the laws of scan_laws.h. */
#include "fuzz.h"
#include "../scan_laws.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static lua_State *L;
  if (!L && !(L = luaL_newstate())) abort();
  scan_laws(L, (const char *)data, size);
  return 0;
}
