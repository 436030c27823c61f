/* SPDX-License-Identifier: MIT
 * Any bytes through the scanner and the reader of cells.  Built with -DSL_LIBFUZZER it is a libFuzzer target;
 * otherwise it replays the files that it is given. */
#include "../scan_laws.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static lua_State *L;
  if (!L && !(L = luaL_newstate())) abort();
  scan_laws(L, (const char *)data, size);
  return 0;
}

#ifndef SL_LIBFUZZER
int main(int argc, char **argv) {
  for (int i = 1; i < argc; i++) {
    FILE *file = fopen(argv[i], "rb");
    if (!file) return perror(argv[i]), 1;
    static uint8_t text[1 << 20];
    size_t n = fread(text, 1, sizeof text, file);
    fclose(file);
    LLVMFuzzerTestOneInput(text, n);
  }
  return 0;
}
#endif
