/* SPDX-License-Identifier: MIT
 * One chunk more, pHYs, behind the first, which is the head of the picture. */
#include "draw/png.h"
#include <math.h>
#include <string.h>

enum { HEAD = 33, CHUNK = 21, LARGEST = 1000000 };           /* signature and IHDR; pHYs with its length and its sum */

static void four(unsigned char *to, unsigned long n) {
  for (int i = 0; i < 4; i++) to[i] = (unsigned char)(n >> (24 - 8 * i) & 0xFF);
}

/* The sum of PNG (ISO 3309) over some bytes. */
static unsigned long sum_of(const unsigned char *s, size_t n) {
  unsigned long sum = 0xFFFFFFFF;
  for (size_t i = 0; i < n; i++) {
    sum ^= s[i];
    for (int bit = 0; bit < 8; bit++) sum = sum & 1 ? 0xEDB88320 ^ sum >> 1 : sum >> 1;
  }
  return sum ^ 0xFFFFFFFF;
}

bool sl_png_size(struct sl_written *w, double dot) {
  static const char room[CHUNK];
  unsigned char chunk[CHUNK] = "\0\0\0\11pHYs";
  const double per_metre = round(1 / dot);
  if (w->n < HEAD || memcmp(w->at + 12, "IHDR", 4) != 0 || !(per_metre > 0 && per_metre < LARGEST)) return false;
  four(chunk + 8, (unsigned long)per_metre), four(chunk + 12, (unsigned long)per_metre);
  chunk[16] = 1;                                             /* the unit is the metre */
  four(chunk + 17, sum_of(chunk + 4, 13));
  sl_put_bytes(w, room, CHUNK);
  if (w->starved) return true;
  memmove(w->at + HEAD + CHUNK, w->at + HEAD, w->n - CHUNK - HEAD);
  memcpy(w->at + HEAD, chunk, CHUNK);
  return true;
}
