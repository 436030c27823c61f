#include "../csv_laws.h"
#include "fuzz.h"
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  csv_laws((const char *)data, size);
  return 0;
}
