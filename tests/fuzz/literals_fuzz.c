/* SPDX-License-Identifier: MIT
 * Any bytes as a value that stands alone, as a unit and as a wire size: the laws of literal_laws.h. */
#include "fuzz.h"
#include "../literal_laws.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  char *text = malloc(size + 1);                             /* ended, as cells and values of --set are */
  if (!text) abort();
  if (size) memcpy(text, data, size);
  text[size] = '\0';
  literal_laws(text, size);
  free(text);
  return 0;
}
