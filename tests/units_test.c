/* SPDX-License-Identifier: MIT
 * Units against what others publish.
 *   SP 811: NIST Special Publication 811, Appendix B, as a public transcription has it (R package NISTunits).
 *   UCUM: Unified Code for Units of Measure 2.2, 2024-06-17, ucum-essence.xml.
 *   NEC: NFPA 70-2017, chapter 9 table 8, as a public transcription has it. */
#include "check.h"
#include "value/units.h"

/* ---- factors ----------------------------------------------------------------------------------------------------- */

static const struct row {
  const char *name, *unit; double factor, rel; enum sl_dim dim;
} rows[] = {
  { "inch, SP 811", "in", 0.0254, 1e-15, SL_LENGTH },
  { "foot, Federal Register 2020-21902", "ft", 0.3048, 1e-15, SL_LENGTH },
  { "yard, SP 811", "yd", 0.9144, 1e-15, SL_LENGTH },
  { "mile, SP 811", "mi", 1609.344, 1e-15, SL_LENGTH },
  { "mil, SP 811", "mil", 2.54e-5, 1e-15, SL_LENGTH },
  { "kilofoot, a thousand feet", "kft", 304.8, 1e-15, SL_LENGTH },
  { "hectare, UCUM: 100 ar of 100 m2", "ha", 10000, 1e-15, SL_AREA },
  { "acre: 43560 square feet", "acre", 4046.8564224, 1e-14, SL_AREA },
  { "acre, SP 811 has the survey acre", "acre", 4046.873, 5e-6, SL_AREA },
  { "gallon, SP 811", "gal", 0.003785412, 3e-7, SL_VOLUME },
  { "gallon, UCUM: 231 cubic inches", "gal", 231 * 0.0254 * 0.0254 * 0.0254, 1e-14, SL_VOLUME },
  { "cubic yard, SP 811", "cuyd", 0.7645549, 1e-7, SL_VOLUME },
  { "cubic yard as yd3, SP 811", "yd3", 0.7645549, 1e-7, SL_VOLUME },
  { "square foot, UCUM", "sqft", 0.3048 * 0.3048, 1e-15, SL_AREA },
  { "pound, SP 811", "lb", 0.4535924, 1e-7, SL_MASS },
  { "pound, UCUM: 7000 grains of 64.79891 mg", "lb", 7000 * 64.79891e-6, 1e-15, SL_MASS },
  { "pound-force, SP 811", "lbf", 4.448222, 1e-7, SL_FORCE },
  { "kip, SP 811", "kip", 4448.222, 1e-7, SL_FORCE },
  { "psi, SP 811", "psi", 6894.757, 1e-7, SL_PRESSURE },
  { "ksi, SP 811", "ksi", 6894757, 1e-7, SL_PRESSURE },
  { "psf, SP 811", "psf", 47.88026, 1e-7, SL_PRESSURE },
  { "plf, SP 811", "plf", 14.5939, 1e-6, SL_LINE_LOAD },
  { "lb/ft3, SP 811", "lb/ft3", 16.01846, 4e-7, SL_DENSITY },
  { "mile per hour, SP 811", "mph", 0.44704, 1e-15, SL_SPEED },
  { "day, SP 811", "d", 86400, 1e-15, SL_TIME },
  { "watt hour, SP 811", "Wh", 3600, 1e-15, SL_ENERGY },
  { "kilowatt hour, SP 811", "kWh", 3.6e6, 1e-15, SL_ENERGY },
  { "circular mil, SP 811", "cmil", 5.067075e-10, 1e-7, SL_AREA },
  { "kcmil is 0.5067 mm2, SP 811", "kcmil", 5.067075e-7, 1e-7, SL_AREA },
  { "degree of arc, UCUM: 2 pi rad/360", "deg", 6.283185307179586 / 360, 1e-15, SL_ANGLE },
  { "per cent, UCUM", "%", 0.01, 1e-15, SL_RATIO },
  { "ppm, UCUM", "ppm", 1e-6, 1e-15, SL_RATIO },
  { "Celsius, UCUM: offset 273.15", "degC", 1, 1e-15, SL_TEMPERATURE },
  { "Fahrenheit, SP 811: (t + 459.67)/1.8", "degF", 1 / 1.8, 1e-15, SL_TEMPERATURE },
  { "lbf*ft, SP 811", "lbf*ft", 1.355818, 1e-6, SL_MOMENT },
  { "kN*m, SI", "kN*m", 1000, 1e-15, SL_MOMENT },
  { "kN·m with a raised dot", "kN·m", 1000, 1e-15, SL_MOMENT },
  { "psf/ft", "psf/ft", 47.88026 / 0.3048, 1e-7, SL_SOIL },
  { "kWh/m2/d, two tails", "kWh/m2/d", 3.6e6 / 86400, 1e-14, SL_IRRADIANCE },
  { "W/m2, SI", "W/m2", 1, 1e-15, SL_IRRADIANCE },
  { "W/m^2", "W/m^2", 1, 1e-15, SL_IRRADIANCE },
  { "W/m²", "W/m²", 1, 1e-15, SL_IRRADIANCE },
  { "W*m^-2", "W*m^-2", 1, 1e-15, SL_IRRADIANCE },
  { "ohm/kft", "ohm/kft", 1 / 304.8, 1e-15, SL_OHM_LENGTH },
  { "mohm/m", "mohm/m", 1e-3, 1e-15, SL_OHM_LENGTH },
  { "kΩ", "kΩ", 1e3, 1e-15, SL_RESISTANCE },
  { "MΩ", "MΩ", 1e6, 1e-15, SL_RESISTANCE },
  { "Ω", "Ω", 1, 1e-15, SL_RESISTANCE },
  { "% per kelvin", "%/K", 0.01, 1e-15, SL_PER_WARMTH },
  { "% per degree Celsius is per kelvin", "%/degC", 0.01, 1e-15, SL_PER_WARMTH },
  { "per kelvin", "1/K", 1, 1e-15, SL_PER_WARMTH },
  { "money per length", "$/ft", 1 / 0.3048, 1e-15, SL_PER_LENGTH },
  { "money per power", "USD/W", 1, 1e-15, SL_PER_POWER },
  { "thou is mil", "thou", 2.54e-5, 1e-15, SL_LENGTH },
  { "lbm is lb", "lbm", 0.45359237, 1e-15, SL_MASS },
  { "MCM is kcmil", "MCM", 5.067075e-7, 1e-7, SL_AREA },
  { "pct is %", "pct", 0.01, 1e-15, SL_RATIO },
  { "° is deg", "°", 6.283185307179586 / 360, 1e-15, SL_ANGLE },
  { "deltaF is 5/9 K", "deltaF", 5.0 / 9, 1e-15, SL_WARMTH },
};

static void factor_matches(void **state) {
  const struct row *r = *state;
  struct sl_unit u;
  struct sl_unit_error err;
  assert_true(sl_unit_parse(r->unit, strlen(r->unit), &u, &err));
  assert_near(u.factor, r->factor, r->rel);
  assert_true(u.dims.w == sl_dim_dims(r->dim).w);
  assert_int_equal(u.point, r->dim == SL_TEMPERATURE);
}

/* ---- refusals ---------------------------------------------------------------------------------------------------- */

static const struct refusal {
  const char *name, *unit, *text, *help; size_t at, len; bool refused;
} refusals[] = {
  { "hp: mechanical or electric", "hp", "'hp' is not taken as a unit", "tag's amps", 0, 2, true },
  { "yr: three lengths", "ft/yr", "'yr' is not taken as a unit", "per_year(", 3, 2, true },
  { "ton: four tons", "ton", "'ton' is not taken", "kip", 0, 3, true },
  { "BTU: two definitions", "BTU", "'BTU' is not taken", "International Table", 0, 3, true },
  { "C: coulomb or Celsius", "C", "'C' is not taken", "degC", 0, 1, true },
  { "F: farad or Fahrenheit", "F", "'F' is not taken", "degF", 0, 1, true },
  { "mW: a slip for MW", "mW", "'mW' is not taken", "MW or kW", 0, 2, true },
  { "k: kip or kilo", "k", "'k' is not taken", "kip", 0, 1, true },
  { "ga: depends on the metal", "ga", "'ga' is not taken", "thickness", 0, 2, true },
  { "AWG: a label", "ohm/AWG", "'AWG' is not taken", "awg\"4/0\"", 4, 3, true },
  { "HP in capitals gets hp's help", "HP", "'HP' is not taken", "tag's amps", 0, 2, true },
  { "horsepower gets hp's help", "horsepower", "'horsepower' is not taken", "tag's amps", 0, 10, true },
  { "feet", "feet", "unknown unit 'feet'", "did you mean 'ft'?", 0, 4, false },
  { "inches", "inches", "unknown unit 'inches'", "did you mean 'in'?", 0, 6, false },
  { "Amps", "Amps", "unknown unit 'Amps'", "did you mean 'A'?", 0, 4, false },
  { "KWH: another case", "KWH", "unknown unit 'KWH'", "did you mean 'kWh'?", 0, 3, false },
  { "kcmill: one letter more", "kcmill", "unknown unit 'kcmill'", "did you mean 'kcmil'?", 0, 6, false },
  { "q: nothing is surely meant", "q", "unknown unit 'q'", "", 0, 1, false },
  { "the second unit of a tail", "kN*foo", "unknown unit 'foo'", "", 3, 3, false },
  { "nothing", "", "a unit is missing", "", 0, 0, false },
  { "nothing behind the slash", "m/", "a unit is missing here", "kN*m", 2, 0, false },
  { "a power that is too high", "m5", "cannot go on", "kN*m", 1, 1, false },
  { "UCUM's dot", "kN.m", "cannot go on", "kN*m", 2, 1, false },
  { "dollars and euros", "$*€", "two currencies", "", 2, 3, false },
  { "more powers than fit", "km4*km4*km4*km4*km4*km4*km4*km4", "too high", "", 28, 3, false },
};

static void refuses(void **state) {
  const struct refusal *r = *state;
  struct sl_unit u;
  struct sl_unit_error err;
  assert_false(sl_unit_parse(r->unit, strlen(r->unit), &u, &err));
  assert_non_null(strstr(err.text, r->text));
  if (*r->help) assert_non_null(strstr(err.help, r->help));
  else assert_string_equal(err.help, "");
  assert_int_equal(err.at, r->at);
  assert_int_equal(err.len, r->len);
  assert_int_equal(err.refused, r->refused);
}

/* ---- wire sizes -------------------------------------------------------------------------------------------------- */

#define MM2 1e-6
#define IN2 (0.0254 * 0.0254)
#define CMIL 5.067075e-10                                        /* SP 811 */
#define QUARTER_PI 0.785398163397448310
static const struct wire { const char *name, *text, *size; double area, rel; bool metric; } wires[] = {
  { "18 AWG, NEC 1620 cmil", "18 AWG", "18", 1620 * CMIL, 5e-3, false },
  { "14 AWG, NEC 4110 cmil", "14 AWG", "14", 4110 * CMIL, 2e-3, false },
  { "10 AWG, NEC 10380 cmil", "10 AWG", "10", 10380 * CMIL, 1e-3, false },
  { "8 AWG glued, NEC 16510 cmil", "8AWG", "8", 16510 * CMIL, 1e-3, false },
  { "6 alone, NEC 26240 cmil", "6", "6", 26240 * CMIL, 1e-3, false },
  { "1/0 AWG, NEC 105600 cmil", "1/0 AWG", "1/0", 105600 * CMIL, 1e-3, false },
  { "4/0 alone, NEC 211600 cmil", "4/0", "4/0", 211600 * CMIL, 1e-3, false },
  { "4/0 is 0.46 in: the gauge's definition", "4/0 AWG", "4/0", QUARTER_PI * 0.46 * 0.46 * IN2, 1e-9, false },
  { "36 AWG is 0.005 in: the gauge's definition", "36 AWG", "36", QUARTER_PI * 25e-6 * IN2, 1e-12, false },
  { "250 kcmil", "250 kcmil", "250", 250000 * CMIL, 1e-6, false },
  { "500 MCM", "500 MCM", "500", 500000 * CMIL, 1e-6, false },
  { "300 alone is kcmil", "300", "300", 300000 * CMIL, 1e-6, false },
  { "6 mm2", "6 mm2", "6", 6 * MM2, 1e-15, true },
  { "2.5mm²", "2.5mm²", "2.5", 2.5 * MM2, 1e-15, true },
  { "#6 is 6 AWG, NEC 26240 cmil", "#6", "6", 26240 * CMIL, 1e-3, false },
  { "#6 AWG is 6 AWG", "#6 AWG", "6", 26240 * CMIL, 1e-3, false },
  { "#2/0 is 2/0 AWG, NEC 133100 cmil", "#2/0", "2/0", 133100 * CMIL, 1e-3, false },
  { "blanks around", "  10  AWG ", "10", 10380 * CMIL, 1e-3, false },
};

static void wire_area(void **state) {
  const struct wire *r = *state;
  struct sl_wire w;
  assert_true(sl_wire_parse(r->text, strlen(r->text), &w));
  assert_string_equal(w.size, r->size);
  assert_int_equal(w.metric, r->metric);
  assert_near(w.area, r->area, r->rel);
}

static void wire_refused(void **state) {
  (void)state;
  static const char *const not[] = {
    "", "AWG", "0", "0 AWG", "5/0", "4/0 kcmil", "41 AWG", "100", "249 kcmil", "2001 kcmil", "6.5 AWG", "-6", "06",
    "6 AWGs", "six", "4/0 mm2", "6 mm", "1/2", "0 mm2", "1.2.3 mm2", "12345678", ". mm2",
    "#", "#6 mm2", "#250", "##6", "# 6",
  };
  for (size_t i = 0; i < sizeof not / sizeof *not; i++) {
    struct sl_wire w;
    if (sl_wire_parse(not[i], strlen(not[i]), &w)) fail_msg("'%s' was taken as %s", not[i], w.size);
  }
}

static void wire_text_need_not_end(void **state) {
  (void)state;
  struct sl_wire w;
  assert_true(sl_wire_parse("6 AWGxyz", 5, &w));
  assert_true(sl_wire_parse("10/0", 2, &w));
  assert_string_equal(w.size, "10");
}

/* ---- the table --------------------------------------------------------------------------------------------------- */

/* The column `definition` gives each unit by others ("lbf/in2"): it must come to the column `factor`. */
static void definitions_agree(void **state) {
  (void)state;
  const struct sl_unit_row *row;
  size_t n = sl_unit_rows(&row), checked = 0;
  for (size_t i = 0; i < n; i++) {
    char text[80], *unit;
    snprintf(text, sizeof text, "%s", row[i].definition);
    double number = strtod(text, &unit);
    if (unit == text) number = 1;
    while (*unit == ' ') unit++;
    for (char *p = unit; *p; p++) if (*p == ' ') *p = '*';
    struct sl_unit by, self;
    struct sl_unit_error err;
    if (!sl_unit_parse(unit, strlen(unit), &by, &err)) continue;
    if (!sl_unit_parse(row[i].symbol, strlen(row[i].symbol), &self, &err)) continue;
    if (by.dims.w != self.dims.w) fail_msg("%s: '%s' has other dimensions", row[i].symbol, row[i].definition);
    if (fabs(number * by.factor - self.factor) > 1e-14 * self.factor)
      fail_msg("%s: '%s' is %.17g, the table has %.17g", row[i].symbol, row[i].definition, number * by.factor,
               self.factor);
    checked++;
  }
  assert_true(checked >= 45);
}

static void every_row_is_complete(void **state) {
  (void)state;
  const struct sl_unit_row *row;
  size_t n = sl_unit_rows(&row);
  assert_true(n >= 85);
  for (size_t i = 0; i < n; i++) {
    struct sl_unit u;
    struct sl_unit_error err;
    bool taken = sl_unit_parse(row[i].symbol, strlen(row[i].symbol), &u, &err);
    if (taken != !*row[i].refused || taken != (row[i].factor > 0)) fail_msg("row %zu, %s", i, row[i].symbol);
    if (!*row[i].source || !*row[i].name || *row[i].symbol == 'x') fail_msg("row %zu, %s", i, row[i].symbol);
    if (taken != sl_unit_known(row[i].symbol, strlen(row[i].symbol))) fail_msg("%s known?", row[i].symbol);
    if (taken == sl_unit_refused(row[i].symbol, strlen(row[i].symbol))) fail_msg("%s refused?", row[i].symbol);
    bool bare = strcmp(row[i].dimension, "1") == 0;
    if (taken && bare != (u.dims.w == 0)) fail_msg("%s: dimension '%s' was not read", row[i].symbol, row[i].dimension);
  }
}

static void no_symbol_twice(void **state) {
  (void)state;
  const struct sl_unit_row *row;
  size_t n = sl_unit_rows(&row), words = 0;
  const char *seen[400];
  char text[400][24];
  for (size_t i = 0; i < n; i++) {
    char all[120], *save = NULL;
    snprintf(all, sizeof all, "%s %s", row[i].symbol, row[i].aliases);
    for (char *w = strtok_r(all, " ", &save); w; w = strtok_r(NULL, " ", &save)) {
      for (size_t k = 0; k < words; k++)
        if (strcmp(seen[k], w) == 0) fail_msg("'%s' stands twice", w);
      snprintf(text[words], sizeof text[words], "%s", w);
      seen[words] = text[words];
      words++;
    }
  }
  assert_true(words > n);
}

static void every_dimension_prints(void **state) {
  (void)state;
  for (int d = 0; d < SL_DIM_COUNT; d++)
    for (int us = 0; us < 2; us++) {
      const char *unit = sl_dim_unit((enum sl_dim)d, us);
      struct sl_unit u;
      struct sl_unit_error err;
      if (!*unit) continue;
      if (!sl_unit_parse(unit, strlen(unit), &u, &err)) fail_msg("'%s': %s", unit, err.text);
      union sl_dims want = sl_dim_dims((enum sl_dim)d);
      if (*unit == '/') want.x[6] = 0;               /* the sign of the currency stands in front */
      if (u.dims.w != want.w) fail_msg("'%s' is not a unit of its dimension", unit);
    }
}

static void dimensions_have_names(void **state) {
  (void)state;
  char buffer[64];
  assert_string_equal(sl_dims_name(sl_dim_dims(SL_LENGTH), false, buffer, sizeof buffer), "length");
  assert_string_equal(sl_dims_name(sl_dim_dims(SL_FORCE), false, buffer, sizeof buffer), "force");
  assert_string_equal(sl_dims_name(sl_dim_dims(SL_NUMBER), false, buffer, sizeof buffer), "number");
  assert_string_equal(sl_dims_name(sl_dim_dims(SL_ENERGY), false, buffer, sizeof buffer), "moment or energy");
  assert_string_equal(sl_dims_name(sl_dim_dims(SL_WARMTH), false, buffer, sizeof buffer), "temperature difference");
  assert_string_equal(sl_dims_name(sl_dim_dims(SL_WARMTH), true, buffer, sizeof buffer), "temperature");
  union sl_dims odd = { .x = { 4, 2, -5, 0, 0, 0, 0, 0 } };
  assert_string_equal(sl_dims_name(odd, false, buffer, sizeof buffer), "m2.kg.s-2.5");
  sl_dims_name(odd, false, buffer, 5);                 /* cut, not overrun */
  assert_true(strlen(buffer) < 5);
}

static void points_only_alone(void **state) {
  (void)state;
  static const char *const differences[] = { "degC/m", "W/degC", "1/degC", "degC*m", "degC2", "K", "dC", "dF",
  "degC^-1" };
  struct sl_unit u;
  struct sl_unit_error err;
  for (size_t i = 0; i < sizeof differences / sizeof *differences; i++) {
    assert_true(sl_unit_parse(differences[i], strlen(differences[i]), &u, &err));
    assert_false(u.point);
    assert_true(u.offset == 0);
  }
  assert_true(sl_unit_parse("°F", strlen("°F"), &u, &err));
  assert_true(u.point);
  assert_near((32 + u.offset) * u.factor, 273.15, 1e-15);          /* SP 811: 32 degF */
}

static void names_are_interned(void **state) {
  (void)state;
  struct sl_unit_names names = { 0 }, others = { 0 };
  uint16_t a = sl_unit_intern(&names, "psf/ft", 6), b = sl_unit_intern(&names, "psf", 3);
  assert_true(a != 0 && b != 0 && a != b);
  assert_int_equal(sl_unit_intern(&names, "psf/ftxx", 6), a);
  assert_string_equal(sl_unit_text(&names, a), "psf/ft");
  assert_int_equal(sl_unit_intern(&names, "", 0), 0);
  assert_string_equal(sl_unit_text(&names, 0), "");
  assert_string_equal(sl_unit_text(&names, 65535), "");
  assert_string_equal(sl_unit_text(&others, a), "");                 /* each run its own */
  assert_int_equal(sl_unit_intern(&others, "psf", 3), a);
  sl_unit_names_free(&names);
  sl_unit_names_free(&others);
  assert_string_equal(sl_unit_text(&names, a), "");
}

/* Far more than a job has: each keeps its own number and text, and when none is left the answer is 0. */
static void names_run_out(void **state) {
  (void)state;
  struct sl_unit_names names = { 0 };
  char text[16];
  for (int i = 1; i <= 70000; i++) {
    size_t n = (size_t)snprintf(text, sizeof text, "u%d", i);
    assert_int_equal(sl_unit_intern(&names, text, n), i <= 65535 ? i : 0);
  }
  assert_string_equal(sl_unit_text(&names, 1), "u1");
  assert_string_equal(sl_unit_text(&names, 65535), "u65535");
  assert_int_equal(sl_unit_intern(&names, "u40000", 6), 40000);
  sl_unit_names_free(&names);
}

static void currencies(void **state) {
  (void)state;
  static const struct { const char *unit, *code, *sign; } c[] = {   /* codes: ISO 4217, from memory */
    { "$", "USD", "$" }, { "USD", "USD", "$" }, { "€", "EUR", "€" }, { "EUR/W", "EUR", "€" }, { "NZD", "NZD",
      "" },
    { "AUD", "AUD", "" }, { "£", "GBP", "£" }, { "CAD/m", "CAD", "" },
  };
  for (size_t i = 0; i < sizeof c / sizeof *c; i++) {
    struct sl_unit u;
    struct sl_unit_error err;
    assert_true(sl_unit_parse(c[i].unit, strlen(c[i].unit), &u, &err));
    assert_string_equal(sl_currency_code(u.currency), c[i].code);
    assert_string_equal(sl_currency_sign(u.currency), c[i].sign);
    assert_int_equal(u.dims.x[6], 2);
  }
  assert_string_equal(sl_currency_code(200), "");
}

static void nearest_needs_evidence(void **state) {
  (void)state;
  assert_string_equal(sl_unit_nearest("FT", 2), "ft");
  assert_string_equal(sl_unit_nearest("volts", 5), "V");
  assert_string_equal(sl_unit_nearest("degc", 4), "degC");
  assert_null(sl_unit_nearest("zz", 2));
  assert_null(sl_unit_nearest("horsepower", 10));         /* a refused unit is no suggestion */
  assert_null(sl_unit_nearest("", 0));
}

/* One test for each row of a table. */
#define COUNT(table) (sizeof table / sizeof *table)
#define EACH(table, function) \
  for (size_t i = 0; i < COUNT(table); i++) \
    tests[n++] = (struct CMUnitTest){ table[i].name, function, NULL, NULL, (void *)(uintptr_t)&table[i] }

int main(void) {
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(wire_refused), cmocka_unit_test(wire_text_need_not_end), cmocka_unit_test(definitions_agree),
    cmocka_unit_test(every_row_is_complete), cmocka_unit_test(no_symbol_twice),
    cmocka_unit_test(every_dimension_prints),
    cmocka_unit_test(dimensions_have_names), cmocka_unit_test(points_only_alone), cmocka_unit_test(names_are_interned),
    cmocka_unit_test(names_run_out),
    cmocka_unit_test(currencies), cmocka_unit_test(nearest_needs_evidence),
  };
  struct CMUnitTest tests[COUNT(rows) + COUNT(refusals) + COUNT(wires) + COUNT(laws)];
  size_t n = 0;
  EACH(rows, factor_matches);
  EACH(refusals, refuses);
  EACH(wires, wire_area);
  for (size_t i = 0; i < COUNT(laws); i++) tests[n++] = laws[i];
  return cmocka_run_group_tests(tests, NULL, NULL);
}
