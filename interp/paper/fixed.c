/* SPDX-License-Identifier: MIT
 * A page as PDF is some thousand numbers, and printf takes a third of its time for them: it works with numbers of any
 * size.  Those of a page fit into 128 bits, exactly. */
#include "paper/fixed.h"
#include <math.h>
#include <stdbool.h>
#include <stdint.h>

#ifdef __SIZEOF_INT128__
__extension__ typedef unsigned __int128 wide;

enum { MANTISSA = 53, LARGEST = 40 };          /* bits; below 2^LARGEST a number and its decimals fit */

static uint64_t power(unsigned of, int n) {
  uint64_t p = 1;
  while (n-- > 0) p *= of;
  return p;
}

/* x * 2^-n as a whole number, a half to the even one, as IEEE 754 rounds and printf does. */
static wide halved(wide x, int n) {
  if (n > 8 * (int)sizeof x - 2) return 0;     /* it has 95 bits at most: less than a half */
  const wide half = (wide)1 << (n - 1), whole = x >> n, rest = x - (whole << n);
  return whole + (rest > half || (rest == half && (whole & 1)));
}

int sl_fixed(char *to, size_t size, double x, int decimals) {
  char back[SL_FIXED_ROOM];
  int exponent, n = 0, at = 0;
  if (!(fabs(x) < ldexp(1, LARGEST)) || decimals < 0 || decimals > SL_FIXED_DECIMALS || size < SL_FIXED_ROOM) return -1;
  const double part = frexp(fabs(x), &exponent);
  /* |x| * 10^decimals = mantissa * 5^decimals * 2^(exponent - MANTISSA + decimals) */
  const wide product = (wide)(uint64_t)ldexp(part, MANTISSA) * power(5, decimals);
  const int down = MANTISSA - exponent - decimals;
  const wide digits = down > 0 ? halved(product, down) : product << -down;
  const uint64_t one = power(10, decimals);
  uint64_t whole = (uint64_t)(digits / one), rest = (uint64_t)(digits % one);
  for (; n < decimals; n++, rest /= 10) back[n] = (char)('0' + rest % 10);
  if (decimals > 0) back[n++] = '.';
  do back[n++] = (char)('0' + whole % 10), whole /= 10; while (whole > 0);
  if (signbit(x)) back[n++] = '-';
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
