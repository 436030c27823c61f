/* SPDX-License-Identifier: MIT
 * Overcurrent devices and equipment grounding conductors: rules of 240.4 and 240.6, rows of Table 250.122. */
#include <assert.h>
#include "op_check.h"
#include "stringline/strings.h"
#include "stringline/wire.h"

static const struct sl_overcurrent_in farm = { .required = 43.4375, .ampacity = 65, .material = SL_COPPER, .size = "6",
                                               .device = SL_BREAKER, .edition = "NEC 2023" };
static const struct sl_grounding_conductor_in fifty = { .device = 50, .material = SL_COPPER, .edition = "NEC 2023" };
static const struct sl_grounding_enlarged_in enlarged = { .device = 300, .material = SL_COPPER, .edition = "NEC 2023",
    .least_size = "250",
                                                          .size = "350" };

/* NEC 240.6(A) ratings, 240.4(B) next size up, 240.4(D) caps, read in transcriptions of 2020 and 2023; the 40 A
 * device on 10 AWG is a plan that an inspector turned back (caption in an inspectors' magazine, Sep 2020). */
static const struct device {
  const char *name;
  double required, ampacity;
  int material;
  const char *size;
  int device;
  const char *edition;
  double least, allowed;
} devices[] = {
  { "6 AWG copper: 45 A wanted, 70 A allowed", 43.4375, 65, SL_COPPER, "6", SL_BREAKER, "NEC 2023", 45, 70 },
  { "ampacity equal to a rating goes no further", 40, 50, SL_COPPER, "8", SL_BREAKER, "NEC 2023", 40, 50 },
  { "just above a rating is the next", 40.01, 50.01, SL_COPPER, "8", SL_BREAKER, "NEC 2023", 45, 60 },
  { "10 AWG copper is capped at 30 A, not 40", 32, 40, SL_COPPER, "10", SL_BREAKER, "NEC 2020", 35, 30 },
  { "12 AWG copper is capped at 20 A", 15, 25, SL_COPPER, "12", SL_FUSE, "NEC 2020", 15, 20 },
  { "14 AWG copper is capped at 15 A", 13.75, 20, SL_COPPER, "14", SL_FUSE, "NEC 2023", 15, 15 },
  { "12 AWG aluminum is capped at 15 A", 10, 20, SL_ALUMINUM, "12", SL_BREAKER, "NEC 2023", 10, 15 },
  { "10 AWG aluminum is capped at 25 A", 20, 30, SL_ALUMINUM, "10", SL_BREAKER, "NEC 2023", 20, 25 },
  { "a low ampacity binds before the cap", 10, 14, SL_COPPER, "10", SL_BREAKER, "NEC 2023", 10, 15 },
  { "2020: 10 A is no breaker rating", 8, 65, SL_COPPER, "6", SL_BREAKER, "NEC 2020", 15, 70 },
  { "2023: 10 A is a breaker rating", 8, 65, SL_COPPER, "6", SL_BREAKER, "NEC 2023", 10, 70 },
  { "2020: 10 A is a fuse rating", 8, 65, SL_COPPER, "6", SL_FUSE, "NEC 2020", 10, 70 },
  { "a fuse of 6 A", 5, 65, SL_COPPER, "6", SL_FUSE, "NEC 2023", 6, 70 },
  { "up to 800 A", 750, 800, SL_COPPER, "500", SL_BREAKER, "NEC 2023", 800, 800 },
};

static void device_matches(void **state) {
  const struct device *r = *state;
  struct sl_overcurrent_in in = { .required = r->required, .ampacity = r->ampacity, .material = r->material,
                                  .device = r->device };
  struct sl_overcurrent_out out;
  strcpy(in.edition, r->edition);
  strcpy(in.size, r->size);
  assert_int_equal(sl_overcurrent(&in, &out, NULL), SL_OK);
  assert_near(out.least, r->least, 1e-12);
  assert_near(out.allowed, r->allowed, 1e-12);
}

/* NEC Table 250.122, read in transcriptions of 2017, 2020 and 2023. */
static const struct ground { const char *name; double device; const char *copper, *aluminum; double row; } grounds[] = {
  { "250.122 15 A", 15, "14", "12", 15 },
  { "250.122 16 A", 16, "12", "10", 20 },
  { "250.122 50 A", 50, "10", "8", 60 },
  { "250.122 60 A", 60, "10", "8", 60 },
  { "250.122 61 A", 61, "8", "6", 100 },
  { "250.122 100 A", 100, "8", "6", 100 },
  { "250.122 200 A", 200, "6", "4", 200 },
  { "250.122 300 A", 300, "4", "2", 300 },
  { "250.122 400 A", 400, "3", "1", 400 },
  { "250.122 800 A", 800, "1/0", "3/0", 800 },
};

static void ground_matches(void **state) {
  const struct ground *r = *state;
  for (int material = SL_COPPER; material <= SL_ALUMINUM; material++) {
    struct sl_grounding_conductor_in in = { .device = r->device, .material = material, .edition = "NEC 2023" };
    struct sl_grounding_conductor_out out;
    struct sl_row rows[8];
    struct sl_sheet sheet = SL_SHEET(rows);
    assert_int_equal(sl_grounding_conductor(&in, &out, &sheet), SL_OK);
    assert_string_equal(out.size, material == SL_COPPER ? r->copper : r->aluminum);
    assert_near(out.row, r->row, 1e-12);
    char named[40];                                     /* the sheet says which wire of the row it is */
    snprintf(named, sizeof named, "%s AWG %s", out.size, sl_materials[material]);
    assert_string_equal(rows[sheet.n - 1].text, named);
  }
}

static void above_800_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_grounding_conductor_in in = { .device = 801, .material = SL_COPPER, .edition = "NEC 2023" };
  struct sl_grounding_conductor_out out;
  assert_int_equal(sl_grounding_conductor(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_non_null(strstr(sheet.fault.cite, "250.122"));
  struct sl_overcurrent_in wide = farm;
  struct sl_overcurrent_out device;
  wide.ampacity = 801;
  assert_int_equal(sl_overcurrent(&wide, &device, &sheet), SL_OUT_OF_RANGE);
  assert_non_null(strstr(sheet.fault.cite, "240.4(B)"));
  wide = farm;
  wide.required = 801;
  assert_int_equal(sl_overcurrent(&wide, &device, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "required");
}

static void unknown_size_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_overcurrent_in in = farm;
  struct sl_overcurrent_out out;
  strcpy(in.size, "7");
  assert_int_equal(sl_overcurrent(&in, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "size");
  struct sl_grounding_enlarged_in big = enlarged;
  struct sl_grounding_enlarged_out ground;
  strcpy(big.size, "5");
  assert_int_equal(sl_grounding_enlarged(&big, &ground, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "size");
  strcpy(big.size, "4/0");
  assert_int_equal(sl_grounding_enlarged(&big, &ground, &sheet), SL_BAD_INPUT);
}

/* NEC 250.122(A), by hand.  A 15 A circuit in 10 AWG instead of 14: 4110 x 10380/4110 cmil, that is 10 AWG itself.
 * 60 A in 6 AWG instead of 10: 10380 x 26240/10380, that is 6 AWG itself; never larger than the circuit's own. */
static void never_larger_than_the_circuit(void **state) {
  (void)state;
  struct sl_grounding_enlarged_in in = { .device = 15, .material = SL_COPPER, .edition = "NEC 2023",
    .least_size = "14", .size = "10" };
  struct sl_grounding_enlarged_out out;
  assert_int_equal(sl_grounding_enlarged(&in, &out, NULL), SL_OK);
  assert_string_equal(out.size, "10");
  in = (struct sl_grounding_enlarged_in){ .device = 60, .material = SL_COPPER, .edition = "NEC 2023",
    .least_size = "10", .size = "6" };
  assert_int_equal(sl_grounding_enlarged(&in, &out, NULL), SL_OK);
  assert_string_equal(out.size, "6");
  in = (struct sl_grounding_enlarged_in){ .device = 100, .material = SL_COPPER, .edition = "NEC 2023",
    .least_size = "12", .size = "6" };
  assert_int_equal(sl_grounding_enlarged(&in, &out, NULL), SL_OK);   /* 16510 x 4.02 = 66344 cmil, above 6 AWG */
  assert_string_equal(out.size, "6");
  in = (struct sl_grounding_enlarged_in){ .device = 60, .material = SL_COPPER, .edition = "NEC 2023",
    .least_size = "6", .size = "6" };
  assert_int_equal(sl_grounding_enlarged(&in, &out, NULL), SL_OK);
  assert_string_equal(out.size, "10");
  assert_near(out.ratio, 1, 1e-12);
}

static void more_current_never_a_smaller_device(void **state) {
  (void)state;
  double least = 0, allowed = 0;
  for (double amps = 0.5; amps < 800; amps += 0.5) {
    struct sl_overcurrent_in in = farm;
    struct sl_overcurrent_out out;
    in.required = in.ampacity = amps;
    assert_int_equal(sl_overcurrent(&in, &out, NULL), SL_OK);
    assert_true(out.least >= least && out.allowed >= allowed && out.least >= amps);
    least = out.least;
    allowed = out.allowed;
  }
}

static const struct op_case ops[] = {
  { "overcurrent", &farm },
  { "grounding_conductor", &fifty },
  { "grounding_enlarged", &enlarged },
};

int main(void) {
  static struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, devices, device_matches);
  ADD_ROWS(tests, n, grounds, ground_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(above_800_is_refused), cmocka_unit_test(unknown_size_is_refused),
    cmocka_unit_test(never_larger_than_the_circuit), cmocka_unit_test(more_current_never_a_smaller_device),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("protect", tests, n, NULL, NULL);
}
