/* SPDX-License-Identifier: MIT
 * Output of an untrusted process, made safe piece by piece. */
#include "confine/strain.h"
#include <string.h>
#include "host/text.h"

/* Whether more bytes could make these another thing than they are alone. */
static bool waits(const char *text, size_t n) {
  const unsigned char lead = (unsigned char)text[0];
  if (lead == '\r') return n == 1;
  const size_t need = lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
  if (n >= need) return false;
  for (size_t i = 1; i < n; i++)
    if (((unsigned char)text[i] & 0xC0) != 0x80) return false;
  return true;
}

static bool stays(const char *text, size_t n) {
  return *text == '\n' || *text == '\t' || (*text == '\r' && n > 1 && text[1] == '\n');
}

size_t sl_strain(char *to, const char *text, size_t n, bool last, size_t *taken) {
  size_t used = 0, at = 0;
  while (at < n) {
    const size_t run = sl_unsafe(text + at, n - at);
    memcpy(to + used, text + at, run);
    used += run;
    if ((at += run) == n || (!last && waits(text + at, n - at))) break;
    if (stays(text + at, n - at)) to[used++] = text[at++];
    else {
      const size_t bytes = sl_piece_at(text, n, at).bytes;
      used += sl_safe(to + used, 4 * bytes + 1, text + at, bytes);
      at += bytes;
    }
  }
  *taken = at;
  return used;
}
