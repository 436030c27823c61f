/* SPDX-License-Identifier: MIT
 * Voltage drop and resistance: hand calculations, handbook values, laws, refusals.
 * The egg farm: 104 ft one way, 26.22 A, 131.2 V; Table 8 has 0.491 ohm/kft for 6 AWG. */
#include <assert.h>
#include "op_check.h"
#include "stringline/wire.h"
#include "us.h"

#define C(t) ((t) + 273.15)

static const struct sl_voltage_drop_in farm = { .edition = "NEC 2023", .length = 104 * FT, .current = 26.22,
                                                .voltage = 131.2,
                                                .material = SL_COPPER,
                                                .size = "6", .stranding = SL_STRANDED, .conductor_temperature = C(75) };
static const struct sl_conductor_in six = { .edition = "NEC 2023", .material = SL_COPPER, .size = "6",
                                            .stranding = SL_STRANDED };

/* By hand, 2 x 0.104 x R x 26.22 / 131.2 with R of Table 8.  8 AWG in a raceway is stranded (NEC 310.3(C)): 3.23 %. */
static const struct run { const char *name, *size; int stranding; const char *percent; } runs[] = {
  { "egg farm, 6 AWG: 2.04 %", "6", SL_STRANDED, "2.04" },
  { "egg farm, 8 AWG solid: 3.18 %", "8", SL_SOLID, "3.18" },
  { "egg farm, 8 AWG stranded: 3.23 %", "8", SL_STRANDED, "3.23" },
  { "egg farm, 4 AWG: 1.28 %", "4", SL_STRANDED, "1.28" },
};

static void run_matches(void **state) {
  const struct run *r = *state;
  struct sl_voltage_drop_in in = farm;
  struct sl_voltage_drop_out out;
  char text[16];
  strcpy(in.size, r->size);
  in.stranding = r->stranding;
  assert_int_equal(sl_voltage_drop(&in, &out, NULL), SL_OK);
  snprintf(text, sizeof text, "%.2f", 100 * out.ratio);
  assert_string_equal(text, r->percent);
  assert_near(out.loss, out.drop * 26.22, 1e-12);
}

/* Handbook resistance of solid annealed copper at 20 C, ohm per 1000 ft, from memory of the common wire table (NBS
 * Handbook 100): another origin than Table 8 at 75 C with its note 2.  Table 8 has three digits; its aluminum is of
 * 61 % IACS. */
static const struct handbook { const char *name; int material; const char *size; double ohm_kft; } handbooks[] = {
  { "14 AWG at 20 C, wire table", SL_COPPER, "14", 2.525 },
  { "12 AWG at 20 C, wire table", SL_COPPER, "12", 1.588 },
  { "10 AWG at 20 C, wire table", SL_COPPER, "10", 0.9989 },
  { "8 AWG at 20 C, wire table", SL_COPPER, "8", 0.6282 },
  { "10 AWG aluminum at 20 C: copper over 61 % IACS", SL_ALUMINUM, "10", 0.9989 / 0.61 },
  { "8 AWG aluminum at 20 C: copper over 61 % IACS", SL_ALUMINUM, "8", 0.6282 / 0.61 },
};

static void handbook_matches(void **state) {
  const struct handbook *r = *state;
  struct sl_voltage_drop_in in = { .edition = "NEC 2023", .length = 500 * FT, .current = 1, .voltage = 1000,
                                   .material = r->material,
                                   .stranding = SL_SOLID, .conductor_temperature = C(20) };
  struct sl_voltage_drop_out out;
  strcpy(in.size, r->size);
  assert_int_equal(sl_voltage_drop(&in, &out, NULL), SL_OK);   /* both ways: 1000 ft */
  assert_near(out.drop, r->ohm_kft, 6e-3);
}

/* Trade constants: ohm of one circular mil foot at 75 C, 12.9 copper and 21.2 aluminum (common practice, no source).
 * A slip of a digit in the table's copy would leave this band. */
static void every_row_has_the_metals_resistivity(void **state) {
  (void)state;
  static const char *const sizes[] = { "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0",
                                       "4/0",
                                       "250", "300", "350", "400", "500" };
  const double mil = 0.0254e-3, circular = acos(-1) / 4 * mil * mil;
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
    for (int material = SL_COPPER; material <= SL_ALUMINUM; material++) {
      struct sl_conductor_in in = { .edition = "NEC 2023", .material = material, .stranding = SL_STRANDED };
      struct sl_conductor_out out;
      strcpy(in.size, sizes[i]);
      assert_int_equal(sl_conductor(&in, &out, NULL), SL_OK);
      assert_near(out.resistance * FT * out.area / circular, material == SL_COPPER ? 12.9 : 21.2, 0.012);
      const double metal = out.area / (acos(-1) / 4 * out.diameter * out.diameter);   /* strands leave gaps */
      assert_true(metal > 0.72 && metal < 0.81);
    }
}

/* Table 8: 6 AWG, 26 240 circular mils, 0.184 in, 0.491 ohm/kft. */
static void conductor_is_the_row(void **state) {
  (void)state;
  struct sl_conductor_out out;
  assert_int_equal(sl_conductor(&six, &out, NULL), SL_OK);
  assert_near(out.resistance * 1000 * FT, 0.491, 1e-12);
  assert_near(out.diameter / IN, 0.184, 1e-12);
  assert_near(out.area * 1e6, 13.296, 1e-4);   /* 26.24 kcmil x 0.506707 mm2/kcmil */
}

static void longer_hotter_smaller_is_more_drop(void **state) {
  (void)state;
  struct sl_voltage_drop_out out, more;
  struct sl_voltage_drop_in in = farm;
  assert_int_equal(sl_voltage_drop(&farm, &out, NULL), SL_OK);
  in.length *= 2;
  assert_int_equal(sl_voltage_drop(&in, &more, NULL), SL_OK);
  assert_near(more.drop, 2 * out.drop, 1e-12);
  in = farm;
  in.conductor_temperature = C(90);
  assert_int_equal(sl_voltage_drop(&in, &more, NULL), SL_OK);
  assert_near(more.drop / out.drop, 1 + 0.00323 * 15, 1e-12);   /* Table 8 note 2 */
  in = farm;
  in.material = SL_ALUMINUM;
  assert_int_equal(sl_voltage_drop(&in, &more, NULL), SL_OK);
  assert_near(more.drop / out.drop, 0.808 / 0.491, 1e-12);
  in = farm;
  in.conductor_temperature = NAN;   /* the table's own, 75 C, as the farm's */
  assert_int_equal(sl_voltage_drop(&in, &more, NULL), SL_OK);
  assert_near(more.drop, out.drop, 1e-12);
  in = farm;
  in.current = 0;
  assert_int_equal(sl_voltage_drop(&in, &more, NULL), SL_OK);
  assert_near(more.drop, 0, 1e-12);
}

static const struct bad {
  const char *name, *size;
  int stranding;
  double celsius;
  enum sl_status status;
  const char *member;
} bads[] = {
  { "no solid 6 AWG", "6", SL_SOLID, 75, SL_NO_ROW, "size" },
  { "no 5 AWG", "5", SL_STRANDED, 75, SL_NO_ROW, "size" },
  { "a size with its unit", "6 AWG", SL_STRANDED, 75, SL_NO_ROW, "size" },
  { "a conductor of 91 C", "6", SL_STRANDED, 91, SL_OUT_OF_RANGE, "conductor_temperature" },
  { "below the end of the straight line", "6", SL_STRANDED, -240, SL_OUT_OF_RANGE, "conductor_temperature" },
};

static void refuses(void **state) {
  const struct bad *r = *state;
  struct sl_voltage_drop_in in = farm;
  struct sl_voltage_drop_out out;
  struct sl_sheet sheet = { .cap = 0 };
  strcpy(in.size, r->size);
  in.stranding = r->stranding;
  in.conductor_temperature = C(r->celsius);
  assert_int_equal(sl_voltage_drop(&in, &out, &sheet), r->status);
  assert_string_equal(sheet.fault.member, r->member);
  assert_true(*sheet.fault.cite);
}

static const struct op_case ops[] = { { "voltage_drop", &farm }, { "conductor", &six } };

int main(void) {
  static struct CMUnitTest tests[48];
  size_t n = 0;
  ADD_ROWS(tests, n, runs, run_matches);
  ADD_ROWS(tests, n, handbooks, handbook_matches);
  ADD_ROWS(tests, n, bads, refuses);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(every_row_has_the_metals_resistivity), cmocka_unit_test(conductor_is_the_row),
    cmocka_unit_test(longer_hotter_smaller_is_more_drop),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("drop", tests, n, NULL, NULL);
}
