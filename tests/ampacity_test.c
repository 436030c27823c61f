/* SPDX-License-Identifier: MIT
 * Ampacity: cells of Table 310.16, the code's own equation for heat, factors for many conductors, laws, refusals. */
#include <assert.h>
#include "op_check.h"
#include "stringline/wire.h"

#define C(t) ((t) + 273.15)

/* The egg farm's run: 4 conductors would be two strings; joined at the array it is 2. */
static const struct sl_ampacity_in farm = { .edition = "NEC 2023", .material = SL_COPPER, .size = "6",
                                            .insulation = "THWN-2",
                                            .terminal = SL_75_C,
                                            .ambient = C(30), .conductors = 2, .maximum = 34.75, .required = 43.4375 };
static const struct sl_insulation_in thwn2 = { .edition = "NEC 2023", .type = "THWN-2" };

/* NEC Table 310.16 as read in transcriptions of 2017, 2020 and 2023; the 90 C column through XHHW-2. */
static const struct cell { const char *name; int material; const char *size; double a60, a75, a90; } cells[] = {
  { "310.16 14 AWG copper", SL_COPPER, "14", 15, 20, 25 },
  { "310.16 10 AWG copper", SL_COPPER, "10", 30, 35, 40 },
  { "310.16 6 AWG copper", SL_COPPER, "6", 55, 65, 75 },
  { "310.16 3 AWG copper", SL_COPPER, "3", 85, 100, 115 },
  { "310.16 1 AWG copper", SL_COPPER, "1", 110, 130, 145 },
  { "310.16 4/0 copper", SL_COPPER, "4/0", 195, 230, 260 },
  { "310.16 500 kcmil copper", SL_COPPER, "500", 320, 380, 430 },
  { "310.16 8 AWG aluminum", SL_ALUMINUM, "8", 35, 40, 45 },
  { "310.16 2 AWG aluminum", SL_ALUMINUM, "2", 75, 90, 100 },
  { "310.16 4/0 aluminum", SL_ALUMINUM, "4/0", 150, 180, 205 },
};

static void cell_matches(void **state) {
  const struct cell *r = *state;
  const double columns[] = { r->a60, r->a75, r->a90 };
  for (int terminal = SL_60_C; terminal <= SL_90_C; terminal++) {
    struct sl_ampacity_in in = { .edition = "NEC 2023", .material = r->material, .insulation = "XHHW-2",
                                 .terminal = terminal,
                                 .ambient = C(30),
                                 .conductors = 3, .maximum = 1, .required = 1 };
    struct sl_ampacity_out out;
    strcpy(in.size, r->size);
    struct sl_row rows[20];
    struct sl_sheet sheet = SL_SHEET(rows);
    assert_int_equal(sl_ampacity(&in, &out, &sheet), SL_OK);
    const char *named = "";                             /* the sheet says from which column */
    for (size_t i = 0; i < sheet.n; i++)
      if (strcmp(rows[i].symbol, "I_terminal") == 0) named = rows[i].text;
    assert_non_null(strstr(named, sl_terminals[terminal]));
    assert_near(out.terminal_ampacity, columns[terminal], 1e-12);
    assert_near(out.base, r->a90, 1e-12);
    assert_near(out.usable, columns[terminal], 1e-12);
  }
}

/* NEC 310.15(B), equation: sqrt((Tc - Ta) / (Tc - 30)); the table rounds it to two places at the hot end of a band. */
static const struct heat { const char *name, *insulation; double rating; int hottest; } heats[] = {
  { "310.15(B) equation, 60 C", "TW", 60, 55 },
  { "310.15(B) equation, 75 C", "THWN", 75, 70 },
  { "310.15(B) equation, 90 C", "THWN-2", 90, 85 },
};

static void heat_matches(void **state) {
  const struct heat *r = *state;
  for (int t = 10; t <= r->hottest; t += 5) {
    struct sl_ampacity_in in = farm;
    struct sl_ampacity_out out;
    strcpy(in.insulation, r->insulation);
    in.ambient = C(t);
    assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
    assert_true(fabs(out.ambient_factor - sqrt((r->rating - t) / (r->rating - 30))) <= 0.006);
  }
}

/* NEC Table 310.15(B)(1), 90 C; a fraction of a degree takes the hotter band. */
static const struct band { const char *name; double celsius, factor; } bands[] = {
  { "ambient -20 C: 10 C or less", -20, 1.15 },
  { "ambient 30 C", 30, 1.00 },
  { "ambient 30.5 C", 30.5, 0.96 },
  { "ambient 35 C", 35, 0.96 },
  { "ambient 35.5 C", 35.5, 0.91 },
  { "ambient 36 C", 36, 0.91 },
  { "ambient 60 C", 60, 0.71 },
  { "ambient 85 C: last row", 85, 0.29 },
};

static void band_matches(void **state) {
  const struct band *r = *state;
  struct sl_ampacity_in in = farm;
  struct sl_ampacity_out out;
  in.ambient = C(r->celsius);
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_near(out.ambient_factor, r->factor, 1e-12);
}

/* NEC Table 310.15(C)(1), read in transcriptions of 2020 and 2023. */
static const struct crowd { const char *name; int n; double factor; } crowds[] = {
  { "3 conductors", 3, 1.0 },
  { "4 conductors", 4, 0.80 },
  { "6 conductors", 6, 0.80 },
  { "7 conductors", 7, 0.70 },
  { "9 conductors", 9, 0.70 },
  { "10 conductors", 10, 0.50 },
  { "20 conductors", 20, 0.50 },
  { "21 conductors", 21, 0.45 },
  { "31 conductors", 31, 0.40 },
  { "41 conductors", 41, 0.35 },
  { "200 conductors", 200, 0.35 },
};

static void crowd_matches(void **state) {
  const struct crowd *r = *state;
  struct sl_ampacity_in in = farm;
  struct sl_ampacity_out out;
  in.conductors = r->n;
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_near(out.count_factor, r->factor, 1e-12);
  assert_near(out.corrected, 75 * r->factor, 1e-12);
  assert_near(out.usable, fmin(75 * r->factor, 65), 1e-12);
}

/* NEC Table 310.4(1) of 2023, read second-hand; PV wire from memory.  wet 0: not for wet places. */
static const struct type { const char *name; double wet, dry; } types[] = {
  { "THHN", 0, 90 },   { "THWN", 75, 75 },   { "THWN-2", 90, 90 }, { "XHHW", 75, 90 }, { "XHHW-2", 90, 90 },
  { "USE-2", 90, 90 }, { "RHW-2", 90, 90 },  { "THHW", 75, 90 },   { "TW", 60, 60 },   { "PV wire", 90, 90 },
};

static void type_matches(void **state) {
  const struct type *r = *state;
  struct sl_insulation_in in = { .edition = "NEC 2023" };
  struct sl_insulation_out out;
  strcpy(in.type, r->name);
  assert_int_equal(sl_insulation(&in, &out, NULL), SL_OK);
  assert_int_equal(out.wet, r->wet > 0);
  assert_near(out.rating, C(r->wet > 0 ? r->wet : r->dry), 1e-12);
  assert_near(out.dry_rating, C(r->dry), 1e-12);
}

static const struct bad {
  const char *name;
  int material;
  const char *size, *type;
  double celsius;
  enum sl_status status;
  const char *member, *cite;
} bads[] = {
  { "plain THHN in a wet raceway", SL_COPPER, "6", "THHN", 30, SL_NO_ROW, "insulation", "310.4" },
  { "an unknown type", SL_COPPER, "6", "thwn-2", 30, SL_NO_ROW, "insulation", "310.4" },
  { "14 AWG aluminum has no row", SL_ALUMINUM, "14", "THWN-2", 30, SL_NO_ROW, "size", "310.16" },
  { "5 AWG has no row", SL_COPPER, "5", "THWN-2", 30, SL_NO_ROW, "size", "310.16" },
  { "600 kcmil has no row here", SL_COPPER, "600", "THWN-2", 30, SL_NO_ROW, "size", "310.16" },
  { "86 C is above the table", SL_COPPER, "6", "THWN-2", 86, SL_OUT_OF_RANGE, "ambient", "310.15(B)(1)" },
  { "56 C leaves 60 C wire nothing", SL_COPPER, "6", "TW", 56, SL_OUT_OF_RANGE, "ambient", "310.15(B)(1)" },
  { "71 C leaves 75 C wire nothing", SL_COPPER, "6", "THWN", 71, SL_OUT_OF_RANGE, "ambient", "310.15(B)(1)" },
};

static void refuses(void **state) {
  const struct bad *r = *state;
  struct sl_ampacity_in in = farm;
  struct sl_ampacity_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.material = r->material;
  strcpy(in.size, r->size);
  strcpy(in.insulation, r->type);
  in.ambient = C(r->celsius);
  assert_int_equal(sl_ampacity(&in, &out, &sheet), r->status);
  assert_string_equal(sheet.fault.member, r->member);
  assert_non_null(strstr(sheet.fault.cite, r->cite));
}

static void thhn_serves_in_dry_places(void **state) {
  (void)state;
  struct sl_ampacity_in in = farm;
  struct sl_ampacity_out out;
  strcpy(in.insulation, "THHN");
  in.dry = true;
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_near(out.base, 75, 1e-12);
  strcpy(in.insulation, "XHHW");   /* 90 C dry, 75 C wet */
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_near(out.base, 75, 1e-12);
  in.dry = false;
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_near(out.base, 65, 1e-12);
}

/* A terminal of 75 C does not lift a conductor of 60 C: NEC 110.14(C). */
static void terminal_never_lifts_the_insulation(void **state) {
  (void)state;
  struct sl_ampacity_in in = farm;
  struct sl_ampacity_out out;
  strcpy(in.insulation, "TW");
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_near(out.terminal_ampacity, 55, 1e-12);
}

/* Both tests of 690.8(B), each at its own edge. */
static void both_tests_have_their_edge(void **state) {
  (void)state;
  struct sl_ampacity_in in = farm;
  struct sl_ampacity_out out;
  in.conductors = 10;   /* 75 x 0.5 = 37.5 A after, 65 A before */
  in.maximum = 37.5;
  in.required = 65;
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_true(out.holds_before && out.holds_after);
  in.required = 65.001;
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_true(!out.holds_before && out.holds_after);
  in.required = 65;
  in.maximum = 37.501;
  assert_int_equal(sl_ampacity(&in, &out, NULL), SL_OK);
  assert_true(out.holds_before && !out.holds_after);
}

static void larger_carries_more_hotter_less(void **state) {
  (void)state;
  static const char *const sizes[] = { "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0",
                                       "250", "300", "350", "400", "500" };
  double before = 0;
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    struct sl_ampacity_in in = farm;
    struct sl_ampacity_out copper, hot, aluminum;
    strcpy(in.size, sizes[i]);
    assert_int_equal(sl_ampacity(&in, &copper, NULL), SL_OK);
    assert_true(copper.usable > before);
    before = copper.usable;
    in.ambient = C(46);
    assert_int_equal(sl_ampacity(&in, &hot, NULL), SL_OK);
    assert_true(hot.corrected < copper.corrected);
    in.material = SL_ALUMINUM;
    if (i == 0) continue;
    assert_int_equal(sl_ampacity(&in, &aluminum, NULL), SL_OK);
    assert_true(aluminum.corrected < hot.corrected);
  }
}

/* Table 310.4(1), heading: rated 600 volts. */
static void insulation_has_its_voltage(void **state) {
  (void)state;
  struct sl_insulation_out out;
  assert_int_equal(sl_insulation(&thwn2, &out, NULL), SL_OK);
  assert_near(out.voltage, 600, 1e-12);
}

static const struct op_case ops[] = { { "ampacity", &farm }, { "insulation", &thwn2 } };

int main(void) {
  static struct CMUnitTest tests[96];
  size_t n = 0;
  ADD_ROWS(tests, n, cells, cell_matches);
  ADD_ROWS(tests, n, heats, heat_matches);
  ADD_ROWS(tests, n, bands, band_matches);
  ADD_ROWS(tests, n, crowds, crowd_matches);
  ADD_ROWS(tests, n, types, type_matches);
  ADD_ROWS(tests, n, bads, refuses);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(thhn_serves_in_dry_places), cmocka_unit_test(terminal_never_lifts_the_insulation),
    cmocka_unit_test(both_tests_have_their_edge), cmocka_unit_test(larger_carries_more_hotter_less),
    cmocka_unit_test(insulation_has_its_voltage),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("ampacity", tests, n, NULL, NULL);
}
