/* SPDX-License-Identifier: MIT
 * The sun at noon of the shortest day, and shadows of rows: right triangles, each sum shown; and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/sun.h"

/* 90 deg less the latitude less 23.44: 36.16 north 30.40, 45.25 south 21.31, the equator 66.56, a pole 23.44 below. */
static const struct noon { const char *name; double latitude, elevation, bearing; } noons[] = {
  { "noon where the egg farm lies", 36.16, 30.40, 180 }, { "noon of an orchard in the south", -45.25, 21.31, 0 },
  { "noon on the equator", 0, 66.56, 180 }, { "noon at a pole", 90, -23.44, 180 },
};

static void noon_matches(void **state) {
  const struct noon *r = *state;
  const struct sl_noon_sun_in in = { r->latitude * DEGREE };
  struct sl_noon_sun_out out;
  assert_int_equal(sl_noon_sun(&in, &out, NULL), SL_OK);
  assert_near(out.elevation / DEGREE - r->elevation, 0, 1e-9);
  assert_near(out.bearing / DEGREE - r->bearing, 0, 1e-9);
}

/* Light at 45 deg from an edge 3 m above the next: 3 m of shadow.  Of a gap of 1 m 2 m are left; up modules that stand
 * at 45 deg the light meets them square, so 2 sin 45.  Modules that lie flat are shaded for 2 m, up to their whole
 * length.  Off by 60 deg: tan of the angle is twice tan 45, and the shadow 1.5 m.  A row that stands higher throws none
 * down. */
static const struct shadow { const char *name; struct sl_row_shadow_in in; double tan, reach, clear, shaded; }
shadows[] = {
  { "light at 45 deg on modules at 45 deg", { 45, 180, 180, 3, 1, 45, 10 }, 1, 3, -2, 1.4142135623730951 },
  { "on modules that lie flat", { 45, 180, 180, 3, 1, 0, 10 }, 1, 3, -2, 2 },
  { "on all of short ones", { 45, 180, 180, 3, 1, 0, 1.5 }, 1, 3, -2, 1.5 },
  { "from the side", { 45, 180, 240, 3, 1, 0, 10 }, 2, 1.5, -0.5, 0.5 },
  { "across north", { 45, 350, 50, 3, 1, 0, 10 }, 2, 1.5, -0.5, 0.5 },
  { "a wide gap", { 45, 0, 0, 3, 5, 45, 10 }, 1, 3, 2, 0 },
  { "the row behind stands higher", { 45, 0, 0, -1, 5, 45, 10 }, 1, 0, 5, 0 },
};

static struct sl_row_shadow_in in_rad(struct sl_row_shadow_in in) {
  in.elevation *= DEGREE, in.bearing *= DEGREE, in.facing *= DEGREE, in.tilt *= DEGREE;
  return in;
}

static void shadow_matches(void **state) {
  const struct shadow *r = *state;
  const struct sl_row_shadow_in in = in_rad(r->in);
  struct sl_row_shadow_out out;
  assert_int_equal(sl_row_shadow(&in, &out, NULL), SL_OK);
  assert_near(tan(out.angle), r->tan, 1e-9);
  assert_near(out.reach - r->reach, 0, 1e-9);
  assert_near(out.clear - r->clear, 0, 1e-9);
  assert_near(out.shaded - r->shaded, 0, 1e-9);
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  const struct sl_noon_sun_in beyond = { 91 * DEGREE }, below = { -91 * DEGREE };
  struct sl_noon_sun_out noon;
  assert_int_equal(sl_noon_sun(&beyond, &noon, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "latitude");
  assert_int_equal(sl_noon_sun(&below, &noon, &sheet), SL_BAD_INPUT);
  static const struct { struct sl_row_shadow_in in; const char *member; } bad[] = {
    { { 0, 180, 180, 3, 1, 45, 10 }, "elevation" },   { { 90, 180, 180, 3, 1, 45, 10 }, "elevation" },
    { { 45, -1, 180, 3, 1, 45, 10 }, "bearing" },     { { 45, 361, 180, 3, 1, 45, 10 }, "bearing" },
    { { 45, 180, -1, 3, 1, 45, 10 }, "facing" },      { { 45, 180, 361, 3, 1, 45, 10 }, "facing" },
    { { 45, 180, 180, 3, -1, 45, 10 }, "gap" },       { { 45, 180, 180, 3, 1, -1, 10 }, "tilt" },
    { { 45, 180, 180, 3, 1, 91, 10 }, "tilt" },       { { 45, 180, 180, 3, 1, 45, 0 }, "slope_length" },
  };
  struct sl_row_shadow_out out;
  for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
    const struct sl_row_shadow_in in = in_rad(bad[i].in);
    assert_int_equal(sl_row_shadow(&in, &out, &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, bad[i].member);
  }
  const struct sl_row_shadow_in behind = in_rad((struct sl_row_shadow_in){ 45, 180, 0, 3, 1, 45, 10 });
  assert_int_equal(sl_row_shadow(&behind, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "facing");
}

static const struct sl_noon_sun_in good_noon = { 0.6 };
static const struct sl_row_shadow_in good_shadow = { 0.5, 3, 3.1, 2, 3, 0.6, 4 };
static const struct op_case ops[] = { { "noon_sun", &good_noon }, { "row_shadow", &good_shadow } };

int main(void) {
  struct CMUnitTest tests[32];
  size_t n = 0;
  ADD_ROWS(tests, n, noons, noon_matches);
  ADD_ROWS(tests, n, shadows, shadow_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(nonsense_is_refused);
  return _cmocka_run_group_tests("sun", tests, n, NULL, NULL);
}
