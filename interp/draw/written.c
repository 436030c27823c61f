/* SPDX-License-Identifier: MIT
 * A text that grows, and numbers in it. */
#include "draw/written.h"
#include <math.h>
#include <string.h>

void sl_written_begin(struct sl_written *w, struct sl_grow grow) { *w = (struct sl_written){ .grow = grow }; }

void sl_written_end(struct sl_written *w) {
  if (w->at) w->grow.resize(w->grow.own, w->at, w->room, 0);
  sl_written_begin(w, w->grow);
}

void sl_put_bytes(struct sl_written *w, const char *text, size_t n) {
  if (w->starved || n == 0) return;
  if (w->n + n > w->room) {
    size_t want = w->room ? w->room : 4096;
    while (want < w->n + n) want *= 2;
    char *at = w->grow.resize(w->grow.own, w->at, w->room, want);
    if (!at) {
      w->starved = true;
      return;
    }
    w->at = at;
    w->room = want;
  }
  memcpy(w->at + w->n, text, n);
  w->n += n;
}

void sl_put(struct sl_written *w, const char *text) { sl_put_bytes(w, text, strlen(text)); }

/* At least so many digits. */
static void put_digits(struct sl_written *w, unsigned long long n, int least) {
  char digit[24];
  int at = sizeof digit;
  do digit[--at] = (char)('0' + n % 10), n /= 10, least--; while (n || least > 0);
  sl_put_bytes(w, digit + at, sizeof digit - (size_t)at);
}

void sl_put_whole(struct sl_written *w, long long n) {
  if (n < 0) sl_put(w, "-");
  put_digits(w, n < 0 ? 0ULL - (unsigned long long)n : (unsigned long long)n, 1);
}

void sl_put_number(struct sl_written *w, double v, int decimals) {
  unsigned long long power = 1;
  for (int i = 0; i < decimals; i++) power *= 10;
  const unsigned long long all = (unsigned long long)llround(fabs(v) * (double)power), whole = all / power;
  unsigned long long rest = all % power;
  if (v < 0 && all) sl_put(w, "-");
  put_digits(w, whole, 1);
  if (!rest) return;
  while (rest % 10 == 0) rest /= 10, decimals--;
  sl_put(w, ".");
  put_digits(w, rest, decimals);
}
