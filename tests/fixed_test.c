/* SPDX-License-Identifier: MIT
 * Numbers with so many decimals: the C library's printf is the reference, digit for digit. */
#include "check.h"
#include <float.h>
#include "paper/fixed.h"

/* By hand: what is in the middle goes to the even digit; 1.005 and 2.675 are below it as they are stored. */
static const struct row { const char *name; double x; int decimals; const char *text; } rows[] = {
  { "nothing", 0, 6, "0.000000" }, { "nothing from below", -0.0, 2, "-0.00" },
  { "no decimals", 3, 0, "3" }, { "a half to the even one below", 2.5, 0, "2" },
  { "a half to the even one above", 3.5, 0, "4" }, { "a half of the last decimal", 0.125, 2, "0.12" },
  { "stored below the middle", 1.005, 2, "1.00" }, { "that, too", 2.675, 2, "2.67" },
  { "all nines", 0.9999999, 6, "1.000000" }, { "a quarter", -0.25, 1, "-0.2" },
  { "a point in millimetres", 72 / 25.4 / 1000, 9, "0.002834646" },
  { "small", 1e-18, 18, "0.000000000000000001" }, { "too small for its decimals", 1e-30, 18, "0.000000000000000000" },
  { "the smallest of all", DBL_TRUE_MIN, 18, "0.000000000000000000" },
  { "the largest that it does", 1099511627775.5, 3, "1099511627775.500" },
};

static void row_matches(void **state) {
  const struct row *r = *state;
  char got[SL_FIXED_ROOM], want[100];
  assert_int_equal(sl_fixed(got, sizeof got, r->x, r->decimals), (int)strlen(r->text));
  assert_string_equal(got, r->text);
  snprintf(want, sizeof want, "%.*f", r->decimals, r->x);
  assert_string_equal(want, r->text);
}

static void left_to_printf(void **state) {
  (void)state;
  char to[SL_FIXED_ROOM];
  assert_int_equal(sl_fixed(to, sizeof to, 1099511627776.0, 3), -1);
  assert_int_equal(sl_fixed(to, sizeof to, -DBL_MAX, 3), -1);
  assert_int_equal(sl_fixed(to, sizeof to, (double)INFINITY, 3), -1);
  assert_int_equal(sl_fixed(to, sizeof to, (double)NAN, 3), -1);
  assert_int_equal(sl_fixed(to, sizeof to, 1, SL_FIXED_DECIMALS + 1), -1);
  assert_int_equal(sl_fixed(to, sizeof to, 1, -1), -1);
  assert_int_equal(sl_fixed(to, sizeof to - 1, 1, 3), -1);
}

static uint64_t next(uint64_t *seed) {
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  return *seed ^= *seed << 17;
}

/* Any bits, of the sizes that it does; and numbers that lie in the middle of two, or near it. */
static void as_printf(void **state) {
  enum { TRIES = 300000, SMALLEST = 1023 - 70, SIZES = 110 };
  uint64_t seed = 88172645463325252;
  (void)state;
  for (int i = 0; i < TRIES; i++) {
    const uint64_t drawn = next(&seed), exponent = SMALLEST + next(&seed) % SIZES;
    const uint64_t bits = (drawn & ~(UINT64_C(0x7ff) << 52)) | exponent << 52;
    const int decimals = (int)(next(&seed) % (SL_FIXED_DECIMALS + 1));
    double x;
    char got[SL_FIXED_ROOM], want[100];
    if (i % 2) memcpy(&x, &bits, sizeof x);
    else x = (double)(int64_t)(drawn >> 44) / (double)(1 << drawn % 21);
    const int n = snprintf(want, sizeof want, "%.*f", decimals, x);
    assert_int_equal(sl_fixed(got, sizeof got, x, decimals), n);
    assert_string_equal(got, want);
  }
}

int main(void) {
  struct CMUnitTest tests[40] = { 0 };
  size_t n = 0;
  ADD_ROWS(tests, n, rows, row_matches);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(left_to_printf);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(as_printf);
  return _cmocka_run_group_tests("fixed", tests, n, NULL, NULL);
}
