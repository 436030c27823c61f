/* SPDX-License-Identifier: MIT
 * Strings of modules: hand calculations, table rows, laws, refusals. The egg farm: 4 modules of Voc 39.2 V, -0.25
 * %/K, coldest -16 C: 39.2 x (1 + 0.0025 x 41) = 43.218 V each, by hand. */
#include <assert.h>
#include "op_check.h"
#include "stringline/strings.h"

static const struct sl_cold_voltage_in farm = { .edition = "NEC 2023", .voc = 39.2, .coefficient = -0.0025,
                                                .series = 4, .coldest = 257.15,
                                                .limit = 250 };
static const struct sl_cold_voltage_table_in by_table = { .edition = "NEC 2023", .voc = 37, .series = 13,
                                                          .coldest = 249.15, .limit = 600 };
static const struct sl_hot_voltage_in hot = { .vmp = 32.8, .coefficient = -0.003, .series = 4,
                                              .hottest_air = 309.15,
                                              .cell_rise = 30 };
static const struct sl_array_current_in pair = { .edition = "NEC 2023", .isc = 13.9, .imp = 13.11, .parallel = 2 };
static const struct sl_string_fuse_in three = { .isc = 13.9, .parallel = 3, .module_fuse = 25, .other_sources = 0,
                                                .edition = "NEC 2023" };
static const struct sl_output_current_in charge = { .edition = "NEC 2023", .power = 3440, .voltage = 51.2 };

/* Hand calculations; the last is a published warning told in C: 3 x 46.2 V on a 150 V controller flips at -3.4 C. */
static const struct cold {
  const char *name;
  double voc, beta;
  int series;
  double limit;
  const char *volts, *flip_c;
  int most;
} colds[] = {
  { "egg farm, 4 in series: 172.9 V", 39.2, -0.0025, 4, 250, "172.9", "-212.8", 5 },
  { "egg farm, 5 in series: 216.1 V", 39.2, -0.0025, 5, 250, "216.1", "-85.2", 5 },
  { "egg farm, 6 in series: 259.3 V", 39.2, -0.0025, 6, 250, "259.3", "-0.2", 5 },
  { "3 x 46.2 V flip a 150 V controller at -3.4 C", 46.2, -0.0029, 3, 150, "155.1", "-3.4", 2 },
};

static void cold_matches(void **state) {
  const struct cold *r = *state;
  struct sl_cold_voltage_in in = { r->voc, r->beta, r->series, 257.15, r->limit, "NEC 2023" };
  struct sl_cold_voltage_out out;
  char text[32];
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  snprintf(text, sizeof text, "%.1f", out.voltage);
  assert_string_equal(text, r->volts);
  snprintf(text, sizeof text, "%.1f", out.flip - 273.15);
  assert_string_equal(text, r->flip_c);
  assert_int_equal(out.most, r->most);
  assert_near(out.margin_ratio, 1 - out.voltage / r->limit, 1e-12);
}

/* NEC Table 690.7(A), rows read in transcriptions of 2017 and 2020; between whole degrees the colder row. */
static const struct row { const char *name; double celsius, factor; } rows[] = {
  { "690.7(A) 24.5 C: row 24 to 20", 24.5, 1.02 },   { "690.7(A) 20 C: row 24 to 20", 20, 1.02 },
  { "690.7(A) 19.5 C: colder row", 19.5, 1.04 },     { "690.7(A) 0 C", 0, 1.10 },
  { "690.7(A) -5 C", -5, 1.12 },                     { "690.7(A) -5.5 C: colder row", -5.5, 1.14 },
  { "690.7(A) -16 C", -16, 1.18 },                   { "690.7(A) -26 C", -26, 1.21 },
  { "690.7(A) -31 C", -31, 1.23 },                   { "690.7(A) -40 C: last row", -40, 1.25 },
};

static void factor_matches(void **state) {
  const struct row *r = *state;
  struct sl_cold_voltage_table_in in = by_table;
  struct sl_cold_voltage_table_out out;
  in.coldest = r->celsius + 273.15;
  assert_int_equal(sl_cold_voltage_table(&in, &out, NULL), SL_OK);
  assert_near(out.factor, r->factor, 1e-12);
  assert_near(out.voltage, 13 * 37 * r->factor, 1e-12);
}

static const struct off { const char *name; double celsius, limit_c; } offs[] = {
  { "690.7(A) refuses 25 C: starts below it", 25, 25 },
  { "690.7(A) refuses 40 C", 40, 25 },
  { "690.7(A) refuses -40.1 C: ends at -40 C", -40.1, -40 },
};

static void table_refuses(void **state) {
  const struct off *r = *state;
  struct sl_cold_voltage_table_in in = by_table;
  struct sl_cold_voltage_table_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.coldest = r->celsius + 273.15;
  assert_int_equal(sl_cold_voltage_table(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "coldest");
  assert_non_null(strstr(sheet.fault.cite, "690.7(A)"));
  assert_near(sheet.fault.limit - 273.15, r->limit_c, 1e-6);
}

/* 13 x 37 V = 481 V breaks 600 V from a factor of 1.2474 on: the row -36 to -40 C (1.25), so colder than -35 C. */
static void table_flips_at_a_row(void **state) {
  (void)state;
  struct sl_cold_voltage_table_in in = by_table;
  struct sl_cold_voltage_table_out out;
  assert_int_equal(sl_cold_voltage_table(&in, &out, NULL), SL_OK);
  assert_near(out.flip - 273.15, -35, 1e-9);
  in.series = 12;   /* 444 V x 1.25 = 555 V: at no row */
  assert_int_equal(sl_cold_voltage_table(&in, &out, NULL), SL_OK);
  assert_true(isnan(out.flip));
  in.series = 16;   /* 592 V x 1.02 > 600 V: at the first row */
  assert_int_equal(sl_cold_voltage_table(&in, &out, NULL), SL_OK);
  assert_near(out.flip - 273.15, 25, 1e-9);
}

static void flip_is_where_the_limit_is_met(void **state) {
  (void)state;
  struct sl_cold_voltage_in in = farm;
  struct sl_cold_voltage_out out;
  in.series = 6;
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  in.coldest = out.flip;
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  assert_near(out.voltage, in.limit, 1e-12);
  assert_near(out.margin_ratio, 0, 1e-12);
  in.limit = 1500;   /* 6 such modules never reach it */
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  assert_true(isnan(out.flip));
}

static void colder_or_longer_is_more_volts(void **state) {
  (void)state;
  double before = 0;
  for (double t = 298.15; t > 220; t -= 0.7) {
    struct sl_cold_voltage_in in = farm;
    struct sl_cold_voltage_out out;
    in.coldest = t;
    assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
    assert_true(out.voltage > before);
    before = out.voltage;
    const double at_most = out.most * out.module_voltage;
    assert_true(at_most <= in.limit * (1 + 1e-9) && at_most + out.module_voltage > in.limit);
  }
}

/* 12 modules of exactly 50 V fill 600 V: neither rounding nor noise may make it 11.  Floor on the exact value. */
static void count_is_exact_at_the_limit(void **state) {
  (void)state;
  struct sl_cold_voltage_in in = { .edition = "NEC 2023", .voc = 50 / 1.1, .coefficient = -0.0025, .series = 12,
                                   .coldest = 258.15,
                                   .limit = 600 };
  struct sl_cold_voltage_out out;
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  assert_int_equal(out.most, 12);
  in.voc *= 1 + 1e-6;
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  assert_int_equal(out.most, 11);
  for (int n = 1; n <= 60; n++)
    for (in.voc = 30; in.voc < 60; in.voc += 0.1) {
      in.limit = 600;
      assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
      in.limit = n * out.module_voltage;   /* binary noise puts many of these a hair below n */
      assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
      assert_int_equal(out.most, n);
    }
}

static const struct bad {
  const char *name;
  struct sl_cold_voltage_in in;
  const char *member;
  enum sl_status status;
} bads[] = {
  { "a positive coefficient", { 39.2, 0.0025, 4, 257.15, 250, "NEC 2023" }, "coefficient", SL_BAD_INPUT },
  { "no module", { 39.2, -0.0025, 0, 257.15, 250, "NEC 2023" }, "series", SL_BAD_INPUT },
  { "a Voc of microvolts", { 1e-6, -0.0025, 4, 257.15, 250, "NEC 2023" }, "voc", SL_OUT_OF_RANGE },
  { "so warm that the line ends", { 39.2, -0.0025, 4, 900, 250, "NEC 2023" }, "coldest", SL_OUT_OF_RANGE },
};

/* At the temperature that modules are rated at a module has its rated voltage: 0.1 V into 1000 V are 10 000, beyond
 * which a count makes no sense.  The current at full power may be the short-circuit current, as a bad cell has it. */
static void the_ends_of_what_makes_sense(void **state) {
  (void)state;
  struct sl_cold_voltage_in in = farm;
  struct sl_cold_voltage_out out;
  in.voc = 0.1;
  in.series = 1;
  in.coldest = 298.15;
  in.limit = 1000;
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OK);
  assert_int_equal(out.most, 10000);
  in.limit = 1000.15;
  assert_int_equal(sl_cold_voltage(&in, &out, NULL), SL_OUT_OF_RANGE);
  struct sl_array_current_in flat = pair;
  struct sl_array_current_out amps;
  flat.imp = flat.isc;
  assert_int_equal(sl_array_current(&flat, &amps, NULL), SL_OK);
}

static void cold_refuses(void **state) {
  const struct bad *r = *state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_cold_voltage_out out;
  assert_int_equal(sl_cold_voltage(&r->in, &out, &sheet), r->status);
  assert_string_equal(sheet.fault.member, r->member);
}

/* 36 C + 30 K = 66 C; 4 x 32.8 x (1 - 0.003 x 41) = 115.0624 V, by hand. */
static void hot_by_hand(void **state) {
  (void)state;
  struct sl_hot_voltage_out out;
  assert_int_equal(sl_hot_voltage(&hot, &out, NULL), SL_OK);
  assert_near(out.cell - 273.15, 66, 1e-9);
  assert_near(out.voltage, 115.0624, 1e-9);
  struct sl_hot_voltage_in in = hot;
  in.hottest_air += 5;
  struct sl_hot_voltage_out hotter;
  assert_int_equal(sl_hot_voltage(&in, &hotter, NULL), SL_OK);
  assert_true(hotter.voltage < out.voltage);
  in.coefficient = -0.1;
  assert_int_equal(sl_hot_voltage(&in, &hotter, NULL), SL_OUT_OF_RANGE);
}

/* 1.25 x 13.9 x 2 = 34.75; x 1.25 = 43.4375; 13.11 x 2 = 26.22, by hand. */
static void current_by_hand(void **state) {
  (void)state;
  struct sl_array_current_out out;
  assert_int_equal(sl_array_current(&pair, &out, NULL), SL_OK);
  assert_near(out.maximum, 34.75, 1e-12);
  assert_near(out.required, 43.4375, 1e-12);
  assert_near(out.operating, 26.22, 1e-12);
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_array_current_in swapped = { .edition = "NEC 2023", .isc = 13.11, .imp = 13.9, .parallel = 2 };
  assert_int_equal(sl_array_current(&swapped, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "imp");
}

/* Hand calculations of 690.9: (N - 1) x 1.25 x Isc + others against the label, then the next rating at 1.5625 x Isc. */
static const struct fuse {
  const char *name;
  double isc;
  int parallel;
  double label, others, back;
  int needed;
  double least;
  int fits;
} fuses[] = {
  { "one string feeds nothing back", 13.9, 1, 25, 0, 0, 0, 25, 1 },
  { "two strings of the egg farm: no fuse", 13.9, 2, 25, 0, 17.375, 0, 25, 1 },
  { "three strings: fuse of 25 A", 13.9, 3, 25, 0, 34.75, 1, 25, 1 },
  { "a battery behind a controller feeds back", 13.9, 2, 25, 30, 47.375, 1, 25, 1 },
  { "old module, 15 A label", 9.15, 3, 15, 0, 22.875, 1, 15, 1 },
  { "no fuse fits a label of 20 A", 13.9, 3, 20, 0, 34.75, 1, 25, 0 },
  { "equal to a rating is not rounded up: 9.6 A", 9.6, 3, 15, 0, 24, 1, 15, 1 },
  { "backfeed equal to the label needs none", 10, 3, 25, 0, 25, 0, 20, 1 },
  { "small module: 6 A fuse", 3.2, 4, 10, 0, 12, 1, 6, 1 },
};

static void fuse_matches(void **state) {
  const struct fuse *r = *state;
  static const char *const editions[] = { "NEC 2017", "NEC 2020", "NEC 2023" };
  for (size_t i = 0; i < sizeof editions / sizeof *editions; i++) {
    struct sl_string_fuse_in in = { .isc = r->isc, .parallel = r->parallel, .module_fuse = r->label,
                                    .other_sources = r->others };
    strcpy(in.edition, editions[i]);
    struct sl_string_fuse_out out;
    assert_int_equal(sl_string_fuse(&in, &out, NULL), SL_OK);
    assert_near(out.backfeed, r->back, 1e-12);
    assert_int_equal(out.needed, r->needed);
    assert_near(out.least_fuse, r->least, 1e-12);
    assert_int_equal(out.fits, r->fits);
  }
}

static void fuse_above_the_table(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_string_fuse_out out;
  struct sl_string_fuse_in in = three;
  in.isc = 600;
  assert_int_equal(sl_string_fuse(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_non_null(strstr(sheet.fault.cite, "240.6"));
}

/* 3440 W at 51.2 V: 67.2 A, by hand. */
static void output_by_hand(void **state) {
  (void)state;
  struct sl_output_current_out out;
  char text[16];
  assert_int_equal(sl_output_current(&charge, &out, NULL), SL_OK);
  snprintf(text, sizeof text, "%.1f", out.current);
  assert_string_equal(text, "67.2");
  assert_near(out.required, 1.25 * out.current, 1e-12);   /* NEC 690.8(B)(1) */
  struct sl_output_current_in low = charge;
  low.voltage = 44;
  struct sl_output_current_out more;
  assert_int_equal(sl_output_current(&low, &more, NULL), SL_OK);
  assert_true(more.current > out.current);
}

/* NEC 690.7: 600 V on or in dwellings for one or two families, 1000 V on or in other buildings. */
static void buildings_have_their_voltage(void **state) {
  (void)state;
  struct sl_building_voltage_in in = { "dwelling", "NEC 2023" };
  struct sl_building_voltage_out out;
  assert_int_equal(sl_building_voltage(&in, &out, NULL), SL_OK);
  assert_near(out.most, 600, 1e-12);
  strcpy(in.building, "other building");
  assert_int_equal(sl_building_voltage(&in, &out, NULL), SL_OK);
  assert_near(out.most, 1000, 1e-12);
  *in.building = 0;
  assert_int_equal(sl_building_voltage(&in, &out, NULL), SL_OK);
  assert_near(out.most, 600, 1e-12);                      /* the lowest, where no building is named */
}

static const struct sl_building_voltage_in house = { "dwelling", "NEC 2023" };
static const struct op_case ops[] = {
  { "cold_voltage", &farm }, { "cold_voltage_table", &by_table },
  { "hot_voltage", &hot },   { "array_current", &pair },
  { "string_fuse", &three }, { "output_current", &charge },
  { "building_voltage", &house },
};

int main(void) {
  static struct CMUnitTest tests[96];
  size_t n = 0;
  ADD_ROWS(tests, n, colds, cold_matches);
  ADD_ROWS(tests, n, rows, factor_matches);
  ADD_ROWS(tests, n, offs, table_refuses);
  ADD_ROWS(tests, n, bads, cold_refuses);
  ADD_ROWS(tests, n, fuses, fuse_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(table_flips_at_a_row),           cmocka_unit_test(flip_is_where_the_limit_is_met),
    cmocka_unit_test(colder_or_longer_is_more_volts), cmocka_unit_test(count_is_exact_at_the_limit),
    cmocka_unit_test(hot_by_hand),                    cmocka_unit_test(current_by_hand),
    cmocka_unit_test(the_ends_of_what_makes_sense),
    cmocka_unit_test(fuse_above_the_table),           cmocka_unit_test(output_by_hand),
    cmocka_unit_test(buildings_have_their_voltage),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("strings", tests, n, NULL, NULL);
}
