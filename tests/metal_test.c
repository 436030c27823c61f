/* SPDX-License-Identifier: MIT
 * Steel and aluminum: hand calculation from the printed properties, laws and refusals. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/deflection.h"
#include "stringline/metal.h"

#define LBF_IN (LBF * IN)

static const struct sl_metal_in pipe = {
  .section = "pipe 2 std", .area = NAN, .plastic = NAN, .radius = NAN, .width = NAN,
  .wall = NAN, .material = "A53 Gr B",
  .moment = 5000 * LBF_IN, .axial = 2000 * LBF, .length = 79.1 * IN,
};
static const struct sl_metal_section_in section = { "HSS 3x3x3/16" };
static const struct sl_deflection_limit_in limit = { "roof", "wind", "IBC 2021" };

static struct sl_metal_out use_of(const struct sl_metal_in *in) {
  struct sl_metal_out out;
  assert_int_equal(sl_metal(in, &out, NULL), SL_OK);
  return out;
}

/* By hand, from the table (Z 0.713 in3, A 1.02 in2, r 0.791 in): M 35000 x 0.713/1.67 = 14943 lb-in; L/r = 100, Fe =
 * 9.8696 x 29e6/10000 = 28622 psi, Fy/Fe = 1.22284, 0.658^1.22284 = exp(1.22284 x -0.418550) = 0.59942, Fcr 20980, P =
 * 20980 x 1.02/1.67 = 12814 lb; used 0.33461 and 0.15608, below 0.2: 0.07804 + 0.33461 = 0.41265. */
static void pipe_by_hand(void **state) {
  (void)state;
  const struct sl_metal_out out = use_of(&pipe);
  assert_near(out.allowed_moment, 35000 * 0.713 / 1.67 * LBF_IN, 1e-9);
  assert_near(out.allowed_axial, 12814 * LBF, 2e-4);
  assert_near(out.used_combined, 0.41265, 2e-4);
  assert_string_equal(out.governs, "combined");
}

/* Twice as long it buckles elastically, 0.877 of Euler: 0.877 x 7155.5 x 1.02/1.67 = 3832.8 lb; 2000/3832.8 = 0.52181,
 * from 0.2 on: 0.52181 + 8/9 x 0.33461 = 0.81924. */
static void slender_pipe_by_hand(void **state) {
  (void)state;
  struct sl_metal_in in = pipe;
  in.length *= 2;
  const struct sl_metal_out out = use_of(&in);
  assert_near(out.allowed_axial, 3832.8 * LBF, 2e-4);
  assert_near(out.used_combined, 0.81924, 2e-4);
}

/* The same pipe by strength, factors of 0.9: M 0.9 x 35000 x 0.713 = 22459.5 lb-in, P 0.9 x 20980 x 1.02 = 19260 lb;
 * used 0.22262 and 0.10384: 0.05192 + 0.22262 = 0.27454.  Pulled: 0.9 x 35000 x 1.02 = 32130 lb. */
static void pipe_by_strength(void **state) {
  (void)state;
  struct sl_metal_in in = pipe;
  in.method = SL_STRENGTH;
  struct sl_metal_out out = use_of(&in);
  assert_near(out.allowed_moment, 22459.5 * LBF_IN, 1e-9);
  assert_near(out.allowed_axial, 19260 * LBF, 2e-4);
  assert_near(out.used_combined, 0.27454, 2e-4);
  in.axial = -2000 * LBF;
  assert_near(use_of(&in).allowed_axial, 32130 * LBF, 1e-9);
}

/* Walls of own tubes by the limits that are remembered: of 35 ksi round tubes are compact to 0.07 x 29000/35 = 58 times
 * the wall, bear pressed to 0.11 x 29000/35 = 91.1 times; of 46 ksi square ones to 1.12 sqrt(29000/46) = 28.12 and
 * 35.15 walls of flat width, which is three walls less than the side. */
static void walls_of_own_tubes(void **state) {
  (void)state;
  struct sl_metal_in in = pipe;
  struct sl_metal_out out;
  *in.section = 0;
  in.area = 1e-3, in.plastic = 1e-5, in.radius = 0.02, in.wall = 1e-3;
  const struct { bool round, bent; double walls; bool good; } tubes[] = {
    { true, true, 57.9, true }, { true, true, 58.1, false }, { true, false, 91, true }, { true, false, 91.3, false },
    { false, true, 31.1, true }, { false, true, 31.2, false }, { false, false, 38.1, true },
    { false, false, 38.2, false },
  };
  for (size_t i = 0; i < sizeof tubes / sizeof *tubes; i++) {
    in.round = tubes[i].round;
    strcpy(in.material, in.round ? "A53 Gr B" : "A500 Gr B");
    in.width = tubes[i].walls * in.wall;
    in.moment = tubes[i].bent ? 100 : 0;
    assert_int_equal(sl_metal(&in, &out, NULL), tubes[i].good ? SL_OK : SL_OUT_OF_RANGE);
  }
  in.wall = NAN;
  assert_int_equal(sl_metal(&in, &out, NULL), SL_BAD_INPUT);
}

/* Tension of 6061-T6: min(35/1.65, 38/1.95) = 19.5 ksi, as a handbook of the trade has it; 1 in2. */
static void aluminum_by_hand(void **state) {
  (void)state;
  struct sl_metal_in in = pipe;
  *in.section = 0;
  strcpy(in.material, "6061-T6");
  in.area = IN * IN;
  in.moment = 0;
  in.axial = -1950 * LBF;
  const struct sl_metal_out out = use_of(&in);
  assert_near(out.allowed_axial, 19500 * LBF, 0.001);
  assert_near(out.used_axial, 0.1, 0.001);
  assert_near(out.worst, 0.1, 0.001);
}

static void laws_hold(void **state) {
  (void)state;
  struct sl_metal_in in = pipe;
  const struct sl_metal_out one = use_of(&in);
  in.moment *= 1.1;
  assert_true(use_of(&in).worst > one.worst);
  in = pipe;
  in.axial *= 1.1;
  assert_true(use_of(&in).worst > one.worst);
  in = pipe;
  strcpy(in.section, "pipe 3 std");
  assert_true(use_of(&in).worst < one.worst);
}

static const struct refusal { const char *name, *section, *material, *member; double axial, area; int method; }
    refusals[] = {
  { "refused: fence tube", "fence tube", "A53 Gr B", "section", 0, NAN, SL_ALLOWABLE },
  { "refused: aluminum pressed", "", "6061-T6", "axial", 1, 1e-3, SL_ALLOWABLE },
  { "refused: aluminum bent", "", "6061-T6", "moment", -1, 1e-3, SL_ALLOWABLE },
  { "refused: a pipe of square tube", "pipe 2 std", "A500 Gr B", "material", 0, NAN, SL_ALLOWABLE },
  { "refused: strut bent", "strut 1-5/8 x 1-5/8", "A653 Gr 33", "section", 0, NAN, SL_ALLOWABLE },
  /* (4 - 3 x 0.116)/0.116 = 31.5 above 1.12 sqrt(29000/46) = 28.1 */
  { "refused: a wall too thin to be compact", "HSS 4x4x1/8", "A500 Gr B", "section", 0, NAN, SL_ALLOWABLE },
  { "refused: own area beside a section", "pipe 2 std", "A53 Gr B", "area", 0, 1e-3, SL_ALLOWABLE },
  { "refused: no such metal", "pipe 2 std", "A999", "material", 0, NAN, SL_ALLOWABLE },
  { "refused: strength of aluminum", "", "6061-T6", "method", -1, 1e-3, SL_STRENGTH },
  { "refused: no such method", "pipe 2 std", "A53 Gr B", "method", 0, NAN, 2 },
};

static void refusal_names_the_input(void **state) {
  const struct refusal *r = *state;
  struct sl_metal_in in = pipe;
  struct sl_metal_out out;
  struct sl_sheet sheet = { .cap = 0 };
  strcpy(in.section, r->section);
  strcpy(in.material, r->material);
  in.axial = r->axial;
  in.area = r->area;
  in.method = r->method;
  assert_int_not_equal(sl_metal(&in, &out, &sheet), SL_OK);
  assert_string_equal(sheet.fault.member, r->member);
}

/* IBC Table 1604.3 as a public code site has it: L/180 for wind, L/120 for dead and live on a roof without ceiling. */
static void limits_as_printed(void **state) {
  (void)state;
  struct sl_deflection_limit_in in = limit;
  struct sl_deflection_limit_out out;
  assert_int_equal(sl_deflection_limit(&in, &out, NULL), SL_OK);
  assert_near(out.ratio, 180, 1e-12);
  strcpy(in.load, "dead and live");
  assert_int_equal(sl_deflection_limit(&in, &out, NULL), SL_OK);
  assert_near(out.ratio, 120, 1e-12);
  strcpy(in.member, "fence");
  assert_int_equal(sl_deflection_limit(&in, &out, NULL), SL_NO_ROW);
}

static const struct op_case ops[] = {
  { "metal", &pipe }, { "metal_section", &section }, { "deflection_limit", &limit },
};

int main(void) {
  struct CMUnitTest tests[24];
  size_t n = 0;
  ADD_ROWS(tests, n, refusals, refusal_names_the_input);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(pipe_by_hand), cmocka_unit_test(slender_pipe_by_hand), cmocka_unit_test(aluminum_by_hand),
    cmocka_unit_test(pipe_by_strength), cmocka_unit_test(walls_of_own_tubes),
    cmocka_unit_test(laws_hold), cmocka_unit_test(limits_as_printed),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("metal", tests, n, NULL, NULL);
}
