/* SPDX-License-Identifier: MIT
 * A page as PDF is some thousand numbers, and printf takes a third of its time for them: it works with numbers of any
 * size.  Those of a page fit into 128 bits, exactly. */
#include "paper/fixed.h"
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#ifdef __SIZEOF_INT128__
__extension__ typedef unsigned __int128 wide;

enum { LARGEST = 40, FRACTION = 52, BIAS = 1023 };       /* bits; below 2^LARGEST a number and its decimals fit */

static const uint64_t fives[SL_FIXED_DECIMALS + 1] = {
  1, 5, 25, 125, 625, 3125, 15625, 78125, 390625, 1953125, 9765625, 48828125, 244140625, 1220703125, 6103515625,
  30517578125, 152587890625, 762939453125, 3814697265625 };

/* x * 2^-n as a whole number, a half to the even one, as IEEE 754 rounds and printf does. */
static wide halved(wide x, int n) {
  if (n > 8 * (int)sizeof x - 2) return 0;     /* it has 95 bits at most: less than a half */
  const wide half = (wide)1 << (n - 1), whole = x >> n, rest = x - (whole << n);
  return whole + (rest > half || (rest == half && (whole & 1)));
}

int sl_fixed(char *to, size_t size, double x, int decimals) {
  char back[SL_FIXED_ROOM];
  int n = 0, at = 0;
  uint64_t bits;
  memcpy(&bits, &x, sizeof bits);
  const int biased = (int)(bits >> FRACTION & 0x7ff);
  if (biased >= BIAS + LARGEST || decimals < 0 || decimals > SL_FIXED_DECIMALS || size < SL_FIXED_ROOM) return -1;
  /* |x| * 10^decimals = mantissa * 5^decimals * 2^-down */
  const uint64_t fraction = bits & ((UINT64_C(1) << FRACTION) - 1);
  const uint64_t mantissa = biased ? fraction | UINT64_C(1) << FRACTION : fraction;
  const int down = BIAS + FRACTION - (biased ? biased : 1) - decimals;
  const wide product = (wide)mantissa * fives[decimals], digits = down > 0 ? halved(product, down) : product << -down;
  const uint64_t one = fives[decimals] << decimals;
  const bool short_one = digits >> 64 == 0;
  uint64_t whole = short_one ? (uint64_t)digits / one : (uint64_t)(digits / one), rest = (uint64_t)digits - whole * one;
  for (; n < decimals; n++, rest /= 10) back[n] = (char)('0' + rest % 10);
  if (decimals > 0) back[n++] = '.';
  do back[n++] = (char)('0' + whole % 10), whole /= 10; while (whole > 0);
  if (bits >> 63) back[n++] = '-';
  while (n > 0) to[at++] = back[--n];
  to[at] = '\0';
  return at;
}
#else
int sl_fixed(char *to, size_t size, double x, int decimals) {
  (void)to, (void)size, (void)x, (void)decimals;
  return -1;
}
#endif
