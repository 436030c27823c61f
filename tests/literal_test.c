/* SPDX-License-Identifier: MIT
 * What each literal is worth, in a script and in a cell.  Checked against exact definitions (inch 0.0254 m, foot
 * 0.3048 m, pound-force 0.45359237 x 9.80665 N, kelvin = degree Celsius + 273.15: SI Brochure, UCUM 2.2), worked by
 * hand, and the laws of scan_laws.h and literal_laws.h. */
#include "check.h"
#include "scan/scanner.h"
#include "literal_laws.h"
#include "scan_laws.h"

#define FOOT 0.3048
#define INCH 0.0254
#define LBF (0.45359237 * 9.80665)

/* ---- values ------------------------------------------------------------------------------------------------------ */

static const struct value {
  const char *name, *text; double si; enum sl_dim dim; const char *hint; double tolerance;
} values[] = {
  { "feet", "175ft", 175 * FOOT, SL_LENGTH, "ft", 0 },
  { "a number with a point", "1.25in", 1.25 * INCH, SL_LENGTH, "in", 0 },
  { "a number that begins with its point", ".5ft", 0.5 * FOOT, SL_LENGTH, "ft", 0 },
  { "a number that ends with its point", "5.ft", 5 * FOOT, SL_LENGTH, "ft", 0 },
  { "an exponent", "1e3m", 1000, SL_LENGTH, "m", 0 },
  { "an exponent with a sign", "2.5e-3m", 0.0025, SL_LENGTH, "m", 0 },
  { "each begins with an e", "2each", 2, SL_EACH, "each", 0 },
  { "d and A are also hexadecimal digits", "60d", 60 * 86400.0, SL_TIME, "d", 0 },
  { "5A", "5A", 5, SL_CURRENT, "A", 0 },
  { "mixed fraction 2-3/8in", "2-3/8in", 2.375 * INCH, SL_LENGTH, "ft-in", 0 },
  { "mixed fraction 6-1/2in", "6-1/2in", 6.5 * INCH, SL_LENGTH, "ft-in", 0 },
  { "mixed fraction 1-3/8in", "1-3/8in", 1.375 * INCH, SL_LENGTH, "ft-in", 0 },
  { "64ths", "7-63/64in", (7 + 63.0 / 64) * INCH, SL_LENGTH, "ft-in", 0 },
  { "plain fraction 3/8in", "3/8in", 0.375 * INCH, SL_LENGTH, "ft-in", 0 },
  { "plain fraction 5/16in", "5/16in", 0.3125 * INCH, SL_LENGTH, "ft-in", 0 },
  { "feet and inches 12ft6in", "12ft6in", 150 * INCH, SL_LENGTH, "ft-in", 0 },
  { "feet and inches 8ft2in: no square feet", "8ft2in", 98 * INCH, SL_LENGTH, "ft-in", 0 },
  { "feet and a fraction 8ft11-3/8in", "8ft11-3/8in", 107.375 * INCH, SL_LENGTH, "ft-in", 0 },
  { "feet and less than an inch 5ft3/4in", "5ft3/4in", 60.75 * INCH, SL_LENGTH, "ft-in", 0 },
  { "feet and decimal inches", "12ft6.5in", 150.5 * INCH, SL_LENGTH, "ft-in", 0 },
  { "a slope in inches a foot", "1/4in/ft", 0.25 / 12, SL_NUMBER, "in/ft", 0 },
  { "square feet ft2", "40ft2", 40 * FOOT * FOOT, SL_AREA, "ft2", 0 },
  { "square feet ft^2", "40ft^2", 40 * FOOT * FOOT, SL_AREA, "ft^2", 0 },
  { "square metres m²", "5m²", 5, SL_AREA, "m²", 0 },
  { "a power belongs to the unit: 2m^2", "2m^2", 2, SL_AREA, "m^2", 0 },
  { "a negative power", "4m^-1", 4, SL_NUMBER, "m^-1", 0 },
  { "one tail psf/ft", "150psf/ft", 150 * LBF / (FOOT * FOOT * FOOT), SL_SOIL, "psf/ft", 0 },
  { "two tails kWh/m2/d", "4.1kWh/m2/d", 4.1 * 3.6e6 / 86400, SL_IRRADIANCE, "kWh/m2/d", 0 },
  { "in is a keyword, but not in a tail", "3lbf/in", 3 * LBF / INCH, SL_LINE_LOAD, "lbf/in", 0 },
  { "a unit in brackets", "5[kN*m]", 5000, SL_MOMENT, "kN*m", 0 },
  { "a unit in brackets with two tails", "0.13[W/ft2/K]", 0.13 / (FOOT * FOOT), SL_NUMBER, "W/ft2/K", 0 },
  { "an expansion coefficient", "23e-6[1/K]", 23e-6, SL_PER_WARMTH, "1/K", 0 },
  { "moment in lbf*ft", "3500[lbf*ft]", 3500 * LBF * FOOT, SL_MOMENT, "lbf*ft", 0 },
  { "per cent", "2%", 0.02, SL_RATIO, "%", 0 },
  { "per cent as pct", "2pct", 0.02, SL_RATIO, "pct", 0 },
  { "per cent with a tail", "0.27%/K", 0.0027, SL_PER_WARMTH, "%/K", 0 },
  { "a per degree tail is a difference", "0.27%/degC", 0.0027, SL_PER_WARMTH, "%/degC", 0 },
  { "a temperature point", "35degC", 308.15, SL_TEMPERATURE, "degC", 0 },
  { "a temperature point in °C", "35°C", 308.15, SL_TEMPERATURE, "°C", 0 },
  { "a Fahrenheit point: 212 is 373.15 K", "212degF", 373.15, SL_TEMPERATURE, "degF", 0 },
  { "a folded minus", "-10degC", 263.15, SL_TEMPERATURE, "degC", 0 },
  { "a folded minus: -40 is -40", "-40degF", 233.15, SL_TEMPERATURE, "degF", 0 },
  { "kelvin is a difference", "30K", 30, SL_WARMTH, "K", 0 },
  { "°: degrees of arc", "90°", 1.5707963267948966, SL_ANGLE, "°", 0 },
  { "Ω", "5Ω", 5, SL_RESISTANCE, "Ω", 0 },
  { "kΩ", "2kΩ", 2000, SL_RESISTANCE, "kΩ", 0 },
  { "kcmil is an honest area", "250kcmil", 250 * 5.067074790974978e-7, SL_AREA, "kcmil", 0 },
  { "dollars", "$450", 450, SL_MONEY, "$", 0 },
  { "dollars a foot", "$1.35/ft", 1.35 / FOOT, SL_PER_LENGTH, "$/ft", 0 },
  { "dollars a cubic yard", "$172/yd3", 172 / (0.9144 * 0.9144 * 0.9144), SL_PER_VOLUME, "$/yd3", 0 },
  { "cents", "$.50", 0.5, SL_MONEY, "$", 0 },
  { "euros", "€5", 5, SL_MONEY, "€", 0 },
  { "pounds sterling", "£6.50/m", 6.5, SL_PER_LENGTH, "£/m", 0 },
  { "a currency by its code", "450USD", 450, SL_MONEY, "USD", 0 },
  { "a price per watt", "0.35USD/W", 0.35, SL_PER_POWER, "USD/W", 0 },
  { "a tolerance", "175ft+-3ft", 175 * FOOT, SL_LENGTH, "ft", 3 * FOOT },
  { "a tolerance with ±", "175ft±3ft", 175 * FOOT, SL_LENGTH, "ft", 3 * FOOT },
  { "a tolerance in another unit", "2ft+-6in", 2 * FOOT, SL_LENGTH, "ft", 6 * INCH },
  { "a tolerance that is a fraction", "12ft6in+-1/2in", 150 * INCH, SL_LENGTH, "ft-in", INCH / 2 },
  { "the tolerance of a per cent", "5%+-1%", 0.05, SL_RATIO, "%", 0.01 },
  { "the tolerance of a point is a difference", "20degC+-2degC", 293.15, SL_TEMPERATURE, "degC", 2 },
  { "the tolerance of a point in kelvin", "-20degC+-2K", 253.15, SL_TEMPERATURE, "degC", 2 },
  { "the tolerance of a price", "$5+-$1", 5, SL_MONEY, "$", 1 },
  { "blank: feet", "2 ft", 2 * FOOT, SL_LENGTH, "ft", 0 },
  { "blank: feet and decimal inches", "6ft 8.5in", 80.5 * INCH, SL_LENGTH, "ft-in", 0 },
  { "blank: feet and inches as printed", "6 ft 8-1/2 in", 80.5 * INCH, SL_LENGTH, "ft-in", 0 },
  { "blank: feet and a fraction", "1 ft 3/8 in", 12.375 * INCH, SL_LENGTH, "ft-in", 0 },
  { "blank: a whole and its fraction", "72 1/2in", 72.5 * INCH, SL_LENGTH, "ft-in", 0 },
  { "blank: a fraction with a dash", "159-3/4 in", 159.75 * INCH, SL_LENGTH, "ft-in", 0 },
  { "blank: a fraction alone", "3/8 in", 0.375 * INCH, SL_LENGTH, "ft-in", 0 },
  { "blank: a slope", "1/4 in/ft", 0.25 / 12, SL_NUMBER, "in/ft", 0 },
  { "blank: soil", "150 psf/ft", 150 * LBF / (FOOT * FOOT * FOOT), SL_SOIL, "psf/ft", 0 },
  { "blank: two tails", "4.1 kWh/m2/d", 4.1 * 3.6e6 / 86400, SL_IRRADIANCE, "kWh/m2/d", 0 },
  { "blank: a moment", "3500 lbf*ft", 3500 * LBF * FOOT, SL_MOMENT, "lbf*ft", 0 },
  { "blank: per degree", "0.000023 1/K", 23e-6, SL_PER_WARMTH, "1/K", 0 },
  { "blank: square metres", "5 m²", 5, SL_AREA, "m²", 0 },
  { "blank: a temperature below zero", "-16 degC", 257.15, SL_TEMPERATURE, "degC", 0 },
  { "blank: per cent", "2.5 %", 0.025, SL_RATIO, "%", 0 },
  { "blank: a price by its code", "1.05 NZD/m", 1.05, SL_PER_LENGTH, "NZD/m", 0 },
  { "blank: tabs before the unit", "24 \tin", 24 * INCH, SL_LENGTH, "in", 0 },
  { "blank: a tolerance", "14 ft +- 3 in", 14 * FOOT, SL_LENGTH, "ft", 3 * INCH },
  { "blank: the tolerance of a per cent", "5% +- 1%", 0.05, SL_RATIO, "%", 0.01 },
};

static void value_is(void **state) {
  const struct value *r = *state;
  char text[64];
  snprintf(text, sizeof text, "x = %s", r->text);
  struct sl_scan s;
  assert_true(sl_scan(text, strlen(text), &s));
  if (s.nbad) fail_msg("%s: %s", s.bad->code, s.bad->text);
  assert_int_equal(s.nk, 1);
  assert_int_equal(s.k->kind, SL_CONST_QUANTITY);
  assert_near(s.k->si, r->si, 1e-14);
  assert_near(s.k->tolerance, r->tolerance, 1e-14);
  if (r->dim != SL_NUMBER) assert_true(s.k->unit.dims.w == sl_dim_dims(r->dim).w);
  assert_int_equal(s.k->unit.point, r->dim == SL_TEMPERATURE);
  assert_string_equal(s.k->written, r->hint);
  assert_string_equal(s.text, *r->text == '-' ? "x =  _K[1]" : "x = _K[1]");
  assert_int_equal(s.k->span.line, 1);
  assert_int_equal(s.k->span.col, 5);
  assert_int_equal(s.k->span.len, strlen(r->text));
  sl_scan_free(&s);
}

/* ---- cells and lengths ------------------------------------------------------------------------------------------- */

static const struct cell { const char *name, *text; double si; enum sl_dim dim; const char *hint; } cells[] = {
  { "cell: a bare number", "1722", 1722, SL_NUMBER, "" },
  { "cell: a bare negative number", "-0.25", -0.25, SL_NUMBER, "" },
  { "cell: a unit behind a blank", "1722 mm", 1.722, SL_LENGTH, "mm" },
  { "cell: a unit glued on", "1722mm", 1.722, SL_LENGTH, "mm" },
  { "cell: watts", "430 W", 430, SL_POWER, "W" },
  { "cell: a coefficient", "-0.25 %/K", -0.0025, SL_PER_WARMTH, "%/K" },
  { "cell: a coefficient with U+2212", "−0.25 %/°C", -0.0025, SL_PER_WARMTH, "%/°C" },
  { "cell: per cent", "2.5 %", 0.025, SL_RATIO, "%" },
  { "cell: a price", "$28", 28, SL_MONEY, "$" },
  { "cell: a price with a blank", "$ 1.05/ft", 1.05 / FOOT, SL_PER_LENGTH, "$/ft" },
  { "cell: a price below nothing", "-$5.00", -5, SL_MONEY, "$" },
  { "cell: a currency code", "0.35 USD/W", 0.35, SL_PER_POWER, "USD/W" },
  { "cell: a temperature", "-16 degC", 257.15, SL_TEMPERATURE, "degC" },
  { "cell: a temperature in °F", "-40 °F", 233.15, SL_TEMPERATURE, "°F" },
  { "cell: an exponent as printed", "1.8e+04 in", 18000 * INCH, SL_LENGTH, "in" },
  { "cell: a composed unit", "3500 lbf*ft", 3500 * LBF * FOOT, SL_MOMENT, "lbf*ft" },
  { "cell: a unit in brackets", "5 [kN*m]", 5000, SL_MOMENT, "kN*m" },
  { "cell: inches and a fraction", "3 1/2 in", 3.5 * INCH, SL_LENGTH, "ft-in" },
  { "cell: inches and a fraction with a dash", "159-3/4 in", 159.75 * INCH, SL_LENGTH, "ft-in" },
  { "cell: a fraction", "3/8 in", 0.375 * INCH, SL_LENGTH, "ft-in" },
  { "cell: feet and inches", "8 ft 11-3/8 in", 107.375 * INCH, SL_LENGTH, "ft-in" },
  { "cell: feet, a dash, inches", "12 ft - 6 in", 150 * INCH, SL_LENGTH, "ft-in" },
  { "cell: below zero", "-8 ft 11-3/8 in", -107.375 * INCH, SL_LENGTH, "ft-in" },
  { "cell: marks", "12' 6-1/2\"", 150.5 * INCH, SL_LENGTH, "ft-in" },
  { "cell: marks with a dash", "12'-6 1/2\"", 150.5 * INCH, SL_LENGTH, "ft-in" },
  { "cell: typographic marks", "12′ 6″", 150 * INCH, SL_LENGTH, "ft-in" },
  { "cell: smart marks", "12’ 6”", 150 * INCH, SL_LENGTH, "ft-in" },
  { "cell: two single marks", "6''", 6 * INCH, SL_LENGTH, "ft-in" },
  { "cell: decimal feet with a mark", "5.5'", 5.5 * FOOT, SL_LENGTH, "ft-in" },
  { "cell: kcmil is an area", "250 kcmil", 250 * 5.067074790974978e-7, SL_AREA, "kcmil" },
  { "cell: blanks around", "  12.5 ft\t", 12.5 * FOOT, SL_LENGTH, "ft" },
  { "cell: a tolerance", "175 ft ± 3 ft", 175 * FOOT, SL_LENGTH, "ft" },
};

static void cell_is(void **state) {
  const struct cell *r = *state;
  struct sl_const k;
  struct sl_complaint bad;
  if (!sl_scan_literal(r->text, strlen(r->text), &k, &bad)) fail_msg("%s: %s", bad.code, bad.text);
  assert_near(k.si, r->si, 1e-14);
  assert_true(k.unit.dims.w == sl_dim_dims(r->dim).w);
  assert_string_equal(k.written, r->hint);
  double metres;
  bool length = sl_scan_length(r->text, strlen(r->text), &metres, &bad);
  assert_int_equal(length, r->dim == SL_LENGTH && k.tolerance <= 0);
  if (length) assert_near(metres, r->si, 1e-14);
}

static const struct bad_cell { const char *name, *text, *code; int col; const char *words; } bad_cells[] = {
  { "bad cell: nothing", "", "Q101", 1, "not a number" },
  { "bad cell: blanks", "   ", "Q101", 4, "not a number" },
  { "bad cell: words", "about two", "Q101", 1, "not a number" },
  { "bad cell: an unknown unit", "12 fot", "Q102", 4, "unknown unit 'fot'" },
  { "bad cell: a refused unit", "5 hp", "Q103", 3, "'hp' is not taken" },
  { "bad cell: money that cancels out", "5 GBP/m2/GBP", "Q102", 3, "cancels out" },
  { "bad cell: two values", "12 ft 6 lb", "Q101", 7, "does not belong" },
  { "bad cell: a decimal comma", "1,5 ft", "Q112", 1, "a comma inside" },
  { "bad cell: grouped digits", "$1,200.00", "Q101", 1, "malformed price" },
  { "bad cell: a unit alone", "ft", "Q101", 1, "not a number" },
  { "bad cell: 12 inches behind feet", "5 ft 14 in", "Q111", 1, "12 inches or more" },
  { "bad cell: an improper fraction", "2-9/8 in", "Q111", 1, "no part" },
  { "bad cell: too cold", "-300 degC", "Q110", 1, "absolute zero" },
  { "bad cell: too large", "1e999", "Q110", 1, "too large" },
  { "bad cell: a wire size below nothing", "-6 AWG", "Q107", 1, "no sign" },
  { "bad cell: a unit that goes on", "5 kN m", "Q101", 6, "does not belong" },
  { "bad cell: a zero byte would end it", "5 ft\1", "Q102", 5, "cannot go on" },
};

static void cell_is_refused(void **state) {
  const struct bad_cell *r = *state;
  struct sl_const k;
  struct sl_complaint bad;
  assert_false(sl_scan_literal(r->text, strlen(r->text), &k, &bad));
  assert_string_equal(bad.code, r->code);
  assert_int_equal(bad.span.line, 1);
  assert_int_equal(bad.span.col, r->col);
  assert_non_null(strstr(bad.text, r->words));
}

static void cells_of_wire(void **state) {
  (void)state;
  static const char *const sizes[][2] = { { "6 AWG", "6" }, { "4/0 AWG", "4/0" }, { "10AWG", "10" } };
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    struct sl_const k;
    struct sl_complaint bad;
    assert_true(sl_scan_literal(sizes[i][0], strlen(sizes[i][0]), &k, &bad));
    assert_int_equal(k.kind, SL_CONST_WIRE);
    assert_string_equal(k.wire.size, sizes[i][1]);
  }
  struct sl_scan s;
  assert_true(sl_scan("x = 4/0 AWG", 11, &s));
  assert_int_equal(s.nbad, 0);
  assert_string_equal(s.k->wire.size, "4/0");
  sl_scan_free(&s);
  assert_true(sl_scan("x = 10AWG", 9, &s));
  assert_int_equal(s.nbad, 0);
  assert_int_equal(s.k->kind, SL_CONST_WIRE);
  assert_near(s.k->wire.area, 5.261e-6, 2e-4);             /* NEC 2017 chapter 9 table 8: 10 AWG,
  10380 cmil = 5.26 mm2 */
  sl_scan_free(&s);
}

static void lengths_want_a_length(void **state) {
  (void)state;
  static const char *const not[] = { "12", "5 lb", "6 AWG", "5 ft ± 1 ft", "4 ft2", "20%" };
  for (size_t i = 0; i < sizeof not / sizeof *not; i++) {
    double metres;
    struct sl_complaint bad;
    if (sl_scan_length(not[i], strlen(not[i]), &metres, &bad)) fail_msg("'%s' was taken as a length", not[i]);
    assert_string_equal(bad.code, "Q111");
    assert_true(bad.span.len > 0);
  }
}

/* Every 64th of an inch up to 20 ft, in each way that a person writes it. */
static void each_fraction_reads_back(void **state) {
  (void)state;
  for (int n = 0; n < 20 * 12 * 64; n++) {
    int feet = n / 64 / 12, inches = n / 64 % 12, over = 64, top = n % 64;
    while (top && top % 2 == 0) top /= 2, over /= 2;
    char fraction[32], text[5][64];
    if (top) snprintf(fraction, sizeof fraction, "%d-%d/%d", inches, top, over);
    else snprintf(fraction, sizeof fraction, "%d", inches);
    snprintf(text[0], sizeof *text, "%d ft %s in", feet, fraction);
    snprintf(text[1], sizeof *text, "%d' %s\"", feet, fraction);
    snprintf(text[2], sizeof *text, "%d'-%s\"", feet, fraction);
    snprintf(text[3], sizeof *text, "%dft%sin", feet, fraction);
    snprintf(text[4], sizeof *text, "%.17g in", n / 64.0);
    for (int i = 0; i < 5; i++) {
      double metres = NAN;
      struct sl_complaint bad;
      if (!sl_scan_length(text[i], strlen(text[i]), &metres, &bad)) fail_msg("%s: %s", text[i], bad.text);
      if (!(fabs(metres - n / 64.0 * INCH) <= 1e-15 * metres)) fail_msg("%s is %.17g m", text[i], metres);
    }
  }
}

#define COUNT(table) (sizeof table / sizeof *table)
#define EACH(table, function) \
  for (size_t i = 0; i < COUNT(table); i++) \
    tests[n++] = (struct CMUnitTest){ table[i].name, function, NULL, NULL, (void *)(uintptr_t)&table[i] }

static void laws_hold_for_these_tables(void **state) {
  (void)state;
  lua_State *L = luaL_newstate();
  for (size_t i = 0; i < COUNT(values); i++) {
    char text[64];
    snprintf(text, sizeof text, "x = %s", values[i].text);
    scan_laws(L, text, strlen(text));
    literal_laws(values[i].text, strlen(values[i].text));
  }
  for (size_t i = 0; i < COUNT(cells); i++) {
    scan_laws(L, cells[i].text, strlen(cells[i].text));
    literal_laws(cells[i].text, strlen(cells[i].text));
  }
  for (size_t i = 0; i < COUNT(bad_cells); i++) {
    scan_laws(L, bad_cells[i].text, strlen(bad_cells[i].text));
    literal_laws(bad_cells[i].text, strlen(bad_cells[i].text));
  }
  lua_close(L);
}

int main(void) {
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(cells_of_wire), cmocka_unit_test(lengths_want_a_length),
    cmocka_unit_test(each_fraction_reads_back),
    cmocka_unit_test(laws_hold_for_these_tables),
  };
  static struct CMUnitTest tests[COUNT(values) + COUNT(cells) + COUNT(bad_cells) + COUNT(laws)];
  size_t n = 0;
  EACH(values, value_is);
  EACH(cells, cell_is);
  EACH(bad_cells, cell_is_refused);
  for (size_t i = 0; i < COUNT(laws); i++) tests[n++] = laws[i];
  return cmocka_run_group_tests(tests, NULL, NULL);
}
