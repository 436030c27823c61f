/* SPDX-License-Identifier: MIT
 * Whatever the program prints can be pasted back: into a script, in a field, a list and a call, and into a cell or
 * `--set`.  The value is the same to the digits printed: half a last digit, or half a mark of the tape, from the value
 * that was printed. */
#include "check.h"
#include "scan/scanner.h"
#include "value/format.h"

/* Reads a text that holds one literal, in front of and behind other things; its value. */
static double in_script(const char *before, const char *text, const char *behind, union sl_dims dims) {
  char script[240];
  snprintf(script, sizeof script, "%s%s%s", before, text, behind);
  struct sl_scan s;
  assert_true(sl_scan(script, strlen(script), &s));
  if (s.nbad) fail_msg("%s: %s: %s (%s)", script, s.bad->code, s.bad->text, s.bad->help);
  if (s.nk != 1) fail_msg("%s: %zu literals", script, s.nk);
  if (s.k->unit.dims.w != dims.w) fail_msg("%s: another kind", script);
  const double si = s.k->si;
  const bool minus = strstr(s.text, "-_K[1]") != NULL;         /* a temperature's is within the literal */
  sl_scan_free(&s);
  return minus ? -si : si;
}

static double in_cell(const char *text, union sl_dims dims) {
  struct sl_const k;
  struct sl_complaint bad;
  if (!sl_scan_literal(text, strlen(text), &k, &bad)) fail_msg("%s: %s (%s)", text, bad.text, bad.help);
  if (k.unit.dims.w != dims.w) fail_msg("%s: another kind in a cell", text);
  return k.si;
}

/* near: how far the value read may be from the value printed. */
static void goes_back(const char *text, double si, double near, union sl_dims dims) {
  static const char *const around[][2] = {
    { "x = ", "" }, { "local x = ", "\nlocal y = 2" }, { "x = { a = ", ", b = 2 }" }, { "x = { ", " }" },
    { "x = { 'a', ", ", 'b' }" }, { "f(", ")" }, { "f(2, ", ", 3)" }, { "return ", "" },
    { "if x < ", " then end" },
  };
  for (size_t i = 0; i < sizeof around / sizeof *around; i++) {
    const double got = in_script(around[i][0], text, around[i][1], dims);
    if (!(fabs(got - si) <= near)) fail_msg("%s%s%s is %.17g, not %.17g", around[i][0], text, around[i][1], got, si);
  }
  const double got = in_cell(text, dims);
  if (!(fabs(got - si) <= near)) fail_msg("%s in a cell is %.17g, not %.17g", text, got, si);
}

static const double numbers[] = { 0, 1, -1, 2.5, 0.375, -0.1701, 180.9055, 7.0625, 123456.7, 1184, 3.2e-8, -4.4e16 };
enum { NUMBERS = sizeof numbers / sizeof *numbers };

/* Half a digit of the last place at four digits, in SI. */
static double half_digit(double number, double factor) {
  const double least = 0.5000001 * pow(10, number == 0 ? -9 : fmin(floor(log10(fabs(number))) - 3, 0));
  return factor * (fabs(number) >= 1e15 ? fabs(number) * 1e-3 : least) + 1e-14 * fabs(number * factor);
}

static void round_trip(const char *unit, union sl_dims dims, const struct sl_style *style, uint8_t currency) {
  struct sl_unit u = { .factor = 1 };
  struct sl_unit_error err;
  if (*unit && !sl_unit_parse(unit, strlen(unit), &u, &err)) fail_msg("unit %s: %s", unit, err.text);
  for (int i = 0; i < NUMBERS; i++) {
    const double si = (numbers[i] + u.offset) * u.factor;
    if (u.point && si < 0) continue;
    char text[160];
    const struct sl_quantity q = { .si = si, .dims = dims, .point = u.point, .currency = currency };
    sl_format(text, sizeof text, &q, style);
    const double near = currency && dims.w == sl_dim_dims(SL_MONEY).w ? 0.005001 : half_digit(numbers[i], u.factor);
    goes_back(text, si, near, dims);
  }
}

/* As it was written: every unit of the table, alone, with a power and with tails. */
static void every_unit_as_written(void **state) {
  (void)state;
  const struct sl_unit_row *rows;
  const size_t n = sl_unit_rows(&rows);
  static const char *const tails[] = { "", "2", "3", "/ft", "/m2/d", "/K", "*ft", "^2", "²", "^-1" };
  size_t tried = 0;
  for (size_t i = 0; i < n; i++) {
    if (*rows[i].refused || strcmp(rows[i].symbol, "AWG") == 0) continue;
    for (size_t t = 0; t < sizeof tails / sizeof *tails; t++) {
      char unit[40];
      struct sl_unit u;
      struct sl_unit_error err;
      snprintf(unit, sizeof unit, "%s%s", rows[i].symbol, tails[t]);
      if (!sl_unit_parse(unit, strlen(unit), &u, &err)) fail_msg("%s: %s", unit, err.text);
      if (u.currency && (strlen(tails[t]) > 4 || (*tails[t] && *tails[t] != '/'))) continue;      /* no such price */
      if (*rows[i].symbol == '%' && *tails[t] && *tails[t] != '/') continue;
      round_trip(unit, u.dims, &(struct sl_style){ .us = true, .written = unit }, u.currency);
      tried++;
    }
  }
  assert_true(tried > 500);
}

/* Another spelling of a unit prints as it was spelt: °C, Ω, sqft. */
static void every_alias_as_written(void **state) {
  (void)state;
  const struct sl_unit_row *rows;
  const size_t n = sl_unit_rows(&rows);
  for (size_t i = 0; i < n; i++) {
    char alias[40];
    for (const char *p = rows[i].aliases; *p && !*rows[i].refused; p += strspn(p, " ")) {
      const size_t len = strcspn(p, " ");
      struct sl_unit u;
      struct sl_unit_error err;
      snprintf(alias, sizeof alias, "%.*s", (int)len, p);
      p += len;
      assert_true(sl_unit_parse(alias, strlen(alias), &u, &err));
      round_trip(alias, u.dims, &(struct sl_style){ .us = true, .written = alias }, u.currency);
    }
  }
}

/* What was computed: every dimension in the units of a US and a metric job. */
static void every_dimension(void **state) {
  (void)state;
  for (int d = 0; d < SL_DIM_COUNT; d++)
    for (int us = 0; us < 2; us++) {
      const struct sl_style style = { .us = us };
      const char *unit = sl_dim_unit((enum sl_dim)d, us);
      const union sl_dims dims = sl_dim_dims((enum sl_dim)d);
      if (dims.w == 0) continue;                           /* bare numbers, and shares: below */
      char text[80];
      if (!dims.x[6]) {
        const char *first = unit;
        for (int e = 0; e < d; e++)                        /* of two with the same exponents the first names it */
          if (e != SL_TEMPERATURE && sl_dim_dims((enum sl_dim)e).w == dims.w && d != SL_TEMPERATURE) {
            first = sl_dim_unit((enum sl_dim)e, us);
            break;
          }
        round_trip(first, dims, &style, 0);
        continue;
      }
      for (uint8_t c = 1; *sl_currency_code(c); c++) {
        snprintf(text, sizeof text, "%s%s", sl_currency_code(c), unit);
        round_trip(text, dims, &style, c);
      }
    }
}

static void shares(void **state) {
  (void)state;
  for (int i = 0; i < NUMBERS; i++) {
    char text[80];
    sl_format_in(text, sizeof text, numbers[i] / 100, "%", 4);
    goes_back(text, numbers[i] / 100, half_digit(numbers[i], 0.01), (union sl_dims){ .w = 0 });
  }
}

/* Every mark of the tape up to 9 ft, on both sides of nothing, and what lies between two marks. */
static void every_mark_of_a_tape(void **state) {
  (void)state;
  static const int over[] = { 1, 2, 8, 16, 64 };
  for (size_t k = 0; k < sizeof over / sizeof *over; k++)
    for (int inches_only = 0; inches_only < 2; inches_only++)
      for (int n = -9 * 12 * over[k]; n <= 9 * 12 * over[k]; n += over[k] == 64 ? 7 : 1) {
        const struct sl_style style = { .us = true, .fraction = over[k], .inches_only = inches_only };
        const struct sl_quantity q = { .si = (n + 0.3) / over[k] * 0.0254, .dims = sl_dim_dims(SL_LENGTH) };
        char text[96];
        sl_format(text, sizeof text, &q, &style);
        goes_back(text, q.si, 0.500001 / over[k] * 0.0254, q.dims);
      }
}

static void sizes_of_wire(void **state) {
  (void)state;
  static const char *const sizes[] = { "40 AWG", "10 AWG", "1 AWG", "1/0 AWG", "4/0 AWG" };
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    char script[60];
    struct sl_scan s;
    struct sl_const k;
    struct sl_complaint bad;
    snprintf(script, sizeof script, "x = { wire = %s, n = 2 } y = %s", sizes[i], sizes[i]);
    assert_true(sl_scan(script, strlen(script), &s));
    if (s.nbad) fail_msg("%s: %s", script, s.bad->text);
    assert_int_equal(s.nk, 2);
    assert_true(sl_scan_literal(sizes[i], strlen(sizes[i]), &k, &bad));
    for (int j = 0; j < 2; j++) {
      assert_int_equal(s.k[j].kind, SL_CONST_WIRE);
      assert_int_equal(strncmp(s.k[j].wire.size, sizes[i], strlen(s.k[j].wire.size)), 0);
      assert_string_equal(s.k[j].wire.size, k.wire.size);
    }
    sl_scan_free(&s);
  }
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(every_unit_as_written), cmocka_unit_test(every_alias_as_written),
    cmocka_unit_test(every_dimension), cmocka_unit_test(shares), cmocka_unit_test(every_mark_of_a_tape),
    cmocka_unit_test(sizes_of_wire),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
