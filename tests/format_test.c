/* SPDX-License-Identifier: MIT
 * How values print: significant digits, units, money, feet and inches.  Expected texts are written by hand after NIST
 * SP 811 (2008) section 7.2 (a space between number and unit) and 7.9 (rounding), from memory. */
#include "check.h"
#include "value/format.h"

#define IN 0.0254
#define FT 0.3048

struct number { const char *name; double value; int digits; const char *want; };
static const struct number numbers[] = {
  { "four digits where none are asked for", 180.9055, 0, "180.9" },
  { "four digits", 1.23456, 4, "1.235" },
  { "a trailing nought is dropped", 1.2000, 4, "1.2" },
  { "whole", 3, 4, "3" },
  { "rounding adds a digit", 9.99996, 4, "10" },
  { "rounding adds a digit below one", 0.99999, 4, "1" },
  { "all digits before the point are kept", 123456, 4, "123456" },
  { "and rounded there", 123456.7, 4, "123457" },
  { "noughts before the point are kept", 1200, 4, "1200" },
  { "small", 0.00161, 4, "0.00161" },
  { "just above the exponent", 1.234e-6, 4, "0.000001234" },
  { "with an exponent", 1.234e-7, 4, "1.234e-07" },
  { "large", 123456789012345.0, 4, "123456789012345" },
  { "larger", 1.5e15, 4, "1.500e+15" },
  { "nothing", 0, 4, "0" },
  { "minus nothing", -0.0, 4, "0" },
  { "below zero", -16.04, 3, "-16" },
  { "six digits", 2.0408163, 6, "2.04082" },
  { "not a number", NAN, 4, "nan" },
  { "without end", -INFINITY, 4, "-inf" },
};
static void number_prints(void **state) {
  const struct number *r = *state;
  char text[64];
  size_t n = sl_format_number(text, sizeof text, r->value, r->digits);
  assert_string_equal(text, r->want);
  assert_int_equal(n, strlen(r->want));
}

struct amount { const char *name; double si; enum sl_dim dim; const char *hint; struct sl_style style;
    const char *want; };
#define US { .us = true }
#define WRITTEN { .us = true, .written = "" }      /* the unit of the row */
#define IN_FRACTIONS { .us = true, .fraction = 16, .written = "" }
static const struct amount amounts[] = {
  { "length, US", 180.9055 * IN, SL_LENGTH, "", US, "180.9 in" },
  { "length, SI", 4.595, SL_LENGTH, "", { .us = false }, "4595 mm" },
  { "length as written", 175 * FT, SL_LENGTH, "ft", WRITTEN, "175 ft" },
  { "length written, but not asked for", 175 * FT, SL_LENGTH, "ft", US, "2100 in" },
  { "force", 4.4482216152605 * 172.94, SL_FORCE, "", US, "172.9 lbf" },
  { "pressure", 47.88025898033584 * 30, SL_PRESSURE, "", US, "30 psf" },
  { "soil", 47.88025898033584 * 150 / FT, SL_SOIL, "", US, "150 psf/ft" },
  { "temperature", 257.15, SL_TEMPERATURE, "", US, "-16 degC" },
  { "temperature as written", 257.15, SL_TEMPERATURE, "degF", WRITTEN, "3.2 degF" },
  { "difference", 30, SL_WARMTH, "", US, "30 K" },
  { "change per degree", -0.0025, SL_PER_WARMTH, "", US, "-0.25 %/K" },
  { "angle", 0.017453292519943295 * 35, SL_ANGLE, "", US, "35 deg" },
  { "compound unit as written", 4.1 * 3600000 / 86400.0, SL_IRRADIANCE, "kWh/m2/d", WRITTEN, "4.1 kWh/m2/d" },
  { "feet and inches", 106.875 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "8 ft 10-7/8 in" },
  { "inches only", 106.875 * IN, SL_LENGTH, "", { .us = true, .fraction = 8, .inches_only = true }, "106-7/8 in" },
  { "no inches beside feet", 96 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "8 ft" },
  { "no feet", 7 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "7 in" },
  { "fraction alone", 0.375 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "3/8 in" },
  { "feet and a fraction", 12.375 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "1 ft 3/8 in" },
  { "a fraction is cancelled", 3.5 * IN, SL_LENGTH, "", { .us = true, .fraction = 16 }, "3-1/2 in" },
  { "rounded up to a foot", 11.99 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "1 ft" },
  { "half a part goes up", 1.0625 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "1-1/8 in" },
  { "below zero", -14.5 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "-1 ft 2-1/2 in" },
  { "less than a part", 0.01 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "0 in" },
  { "minus less than a part", -0.01 * IN, SL_LENGTH, "", { .us = true, .fraction = 8 }, "0 in" },
  { "written in feet, in a job with fractions", 5.12 * FT, SL_LENGTH, "ft", IN_FRACTIONS, "5 ft 1-7/16 in" },
  { "written in inches, in such a job", 30 * IN, SL_LENGTH, "in", IN_FRACTIONS, "2 ft 6 in" },
  { "written in millimetres: no fractions", 0.03, SL_LENGTH, "mm", IN_FRACTIONS, "30 mm" },
  { "written in miles: no fractions", 1609.344, SL_LENGTH, "mi", IN_FRACTIONS, "1 mi" },
  { "written in feet and inches", 150.5 * IN, SL_LENGTH, "ft-in", WRITTEN, "12 ft 6-1/2 in" },
  { "too long for fractions", 1e300, SL_LENGTH, "", { .us = true, .fraction = 8 }, "3.281e+300 ft" },
  { "fraction asked for, but no length", 1, SL_MASS, "", { .us = false, .fraction = 8 }, "1 kg" },
};
/* Decimals as snprintf of the C library prints them, halves too, whose last digit hangs on the exact value: 0.125 is
 * one, 0.135 lies beside it. */
static void number_is_rounded_as_printf_does(void **state) {
  (void)state;
  static const double halves[] = { 0.125, 0.135, 2.5, 3.5, 1.00005, 1.00015, 8388608.5, 99999.5, 0.5, 0.0000005 };
  uint64_t seed = 1;
  for (int i = 0; i < 200000; i++) {
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    const double random = (double)(seed >> 11) / 9007199254740992.0, scale = pow(10, (double)(seed % 16) - 6);
    const double value = (seed & 64 ? -1 : 1) * (i % 3 ? random * scale : halves[i % 10] * (double)(1 + i / 30 % 40));
    const int digits = 1 + (int)(seed >> 40) % 9;
    char text[64], want[64];
    sl_format_number(text, sizeof text, value, digits);
    if (fabs(value) < 1e-6) continue;
    const int decimals = digits - 1 - (int)floor(log10(fabs(value)));
    int n = snprintf(want, sizeof want, "%.*f", decimals < 0 ? 0 : decimals, value);
    while (strchr(want, '.') && want[n - 1] == '0') want[--n] = 0;
    if (want[n - 1] == '.') want[--n] = 0;
    assert_string_equal(text, strcmp(want, "-0") == 0 ? "0" : want);
  }
}

static void amount_prints(void **state) {
  const struct amount *r = *state;
  const struct sl_quantity q = { .si = r->si, .dims = sl_dim_dims(r->dim), .point = r->dim == SL_TEMPERATURE };
  struct sl_style style = r->style;
  if (style.written) style.written = r->hint;
  char text[128];
  size_t n = sl_format(text, sizeof text, &q, &style);
  assert_string_equal(text, r->want);
  assert_int_equal(n, strlen(r->want));
}

/* Exponents without a name, doubled: m kg s A K rad money each; and money beside other units.  The units of each are
 * multiplied by hand; all of these are read again, which the laws of literal_laws.h hold for any. */
static void composed_units_print(void **state) {
  (void)state;
  static const struct { double si; union sl_dims dims; uint8_t currency; const char *written, *want; } rows[] = {
    { 2, { .x = { 10 } }, 0, "", "2 m4*m" },
    { 1.5, { .x = { 0, 2, -6, 0, -2 } }, 0, "", "1.5 kg/s3/K" },
    { 3, { .x = { 0, 0, -4, 0, -2 } }, 0, "", "3 s^-2/K" },
    { 2, { .x = { 12 } }, 0, "", "2 m4*m2" },
    { 5, { .x = { 1 } }, 0, "", "5 m0.5" },                       /* nobody can write that */
    { 3500 * FT, { .x = { 2, 0, 0, 0, 0, 0, 2 } }, 1, "USD*ft", "3500 USD*ft" },
    { 2, { .x = { 0, 2, -4, 0, 0, 0, -2 } }, 5, "", "2 kg/s2/GBP" },
    { 0.4, { .x = { 0, 0, 0, 0, 0, 0, -2 } }, 2, "1/EUR", "0.4 1/EUR" },
    { 3 * FT, { .x = { 2, 0, 0, 0, -2, 0, 2 } }, 1, "$/K*ft", "3 USD/K*ft" },  /* no price is read with that */
    { 12 / FT, { .x = { -2, 0, 0, 0, 0, 0, 2 } }, 3, "NZD/ft", "12 NZD/ft" },
    { 1e306, { .x = { 2 } }, 0, "mm", "1.000e+306 m" },           /* more millimetres than there are numbers */
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    const struct sl_quantity q = { .si = rows[i].si, .dims = rows[i].dims, .currency = rows[i].currency };
    char text[128];
    sl_format(text, sizeof text, &q, &(struct sl_style){ .us = true, .written = rows[i].written });
    assert_string_equal(text, rows[i].want);
  }
}

/* The standard case of the house: 3.004 against 3 must not print as 3 against 3. */
static void digits_tell_two_values_apart(void **state) {
  (void)state;
  static const struct { double a, b; int digits; } rows[] = {
    { 3.004, 3, 4 }, { 3.0004, 3, 5 }, { 250.001, 250, 6 }, { 259.3, 250, 4 }, { 1, 1, 4 }, { 1 + 1e-12, 1, 4 }, {
          0.02041, 0.02, 4 },
    { 1.00000001, 1, 9 }, { -3.0004, -3, 5 }, { 0, 1e-9, 4 },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) assert_int_equal(sl_digits_apart(rows[i].a, rows[i].b, 1,
        0), rows[i].digits);
  /* in the unit that they print in: 3.0004 in against 3 in */
  assert_int_equal(sl_digits_apart(3.0004 * IN, 3 * IN, IN, 0), 5);
}

/* At the digits told, unlike values print unlike. */
static void digits_are_enough(void **state) {
  (void)state;
  for (int e = 1; e <= 8; e++) {
    const double a = 7, b = 7 + pow(10, -e);
    char s[64], t[64];
    const int digits = sl_digits_apart(a, b, 1, 0);
    sl_format_number(s, sizeof s, a, digits);
    sl_format_number(t, sizeof t, b, digits);
    assert_string_not_equal(s, t);
  }
}

static void a_short_buffer_is_ended(void **state) {
  (void)state;
  const struct sl_quantity q = { .si = 106.875 * IN, .dims = sl_dim_dims(SL_LENGTH) };
  char text[9];
  memset(text, '#', sizeof text);
  sl_format(text, 8, &q, &(struct sl_style){ .us = true, .fraction = 8 });
  assert_string_equal(text, "8 ft 10");
  assert_int_equal(text[8], '#');
}

static void equal_is_relative(void **state) {
  (void)state;
  assert_true(sl_equal(1e9, 1e9 + 0.5));
  assert_false(sl_equal(1e9, 1e9 + 2));
  assert_false(sl_equal(0, 1e-300));
  assert_true(sl_equal(0, 0));
  assert_false(sl_equal(NAN, NAN));
  assert_true(sl_equal(-2, -2 * (1 + 9e-10)));
  assert_false(sl_equal(-2, 2));
}

#define ADD(rows, function) \
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) \
    tests[n++] = (struct CMUnitTest){ rows[i].name, function, NULL, NULL, (void *)(uintptr_t)&rows[i] }

int main(void) {
  static struct CMUnitTest tests[80];
  size_t n = 0;
  ADD(numbers, number_prints);
  ADD(amounts, amount_prints);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(number_is_rounded_as_printf_does);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(composed_units_print);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(digits_tell_two_values_apart);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(digits_are_enough);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(a_short_buffer_is_ended);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(equal_is_relative);
  return _cmocka_run_group_tests("format", tests, n, NULL, NULL);
}
