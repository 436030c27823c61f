/* SPDX-License-Identifier: MIT
 * Footings: concrete counted by hand, bags, weights, tables, uplift by hand, and the laws of embedment.
 * Published embedments are in outside/ground.case. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/footing.h"

/* Volumes and bags worked by hand: (pi D^2/4 - 5.5^2) times depth over 1728; common practice, no source. */
static const struct hole {
  const char *name;
  double diameter, depth, gravel, post, waste, bag;   /* in, ratio, lb */
  double concrete, half; int bags;                    /* ft3 */
} holes[] = {
  { "pier, egg farm as first drawn: 14 x 36 in", 14, 36, 6, 5.5, 0.10, 80, 0, 0, 4 },
  { "pier, 12 x 48 in around a 6x6", 12, 48, 0, 5.5, 0.10, 80, 2.30, 0.00501, 5 },
  { "pier, 16 x 48 in around a 6x6", 16, 48, 0, 5.5, 0.10, 80, 4.74, 0.00501, 9 },
  { "pier, 18 x 66 in around a 6x6", 18, 66, 0, 5.5, 0.10, 80, 8.56, 0.00501, 16 },
  { "pier, off-grid: 16 x 66 in, 6 in pad", 16, 66, 6, 5.5, 0.10, 80, 5.93, 0.00501, 11 },
  /* A cyclist's farm page on augers: 24 in x 58 in is 15.2 ft3, 26 bags; no post. */
  { "pier, 24 x 58 in without a post", 24, 58, 0, 0, 0, 80, 15.2, 0.0501, 26 },
  { "pier, 60 lb bags", 12, 48, 0, 5.5, 0.10, 60, 2.30, 0.00501, 6 },
};

static void hole_matches(void **state) {
  const struct hole *r = *state;
  const struct sl_pier_in in = { r->diameter * IN, r->depth * IN, r->gravel * IN, r->post * IN, r->waste, false,
                                 NAN, NAN };
  struct sl_pier_out out;
  assert_int_equal(sl_pier(&in, &out, NULL), SL_OK);
  const struct sl_bag_yield_in bag = { r->bag * LB };
  struct sl_bag_yield_out fills;
  assert_int_equal(sl_bag_yield(&bag, &fills, NULL), SL_OK);
  const struct sl_bags_in poured = { out.ordered, fills.yield };
  struct sl_bags_out opened;
  assert_int_equal(sl_bags(&poured, &opened, NULL), SL_OK);
  assert_int_equal(opened.bags, r->bags);
  assert_true(opened.bags >= opened.bags_exact - 1e-9 && opened.bags < opened.bags_exact + 1);
  if (r->half > 0) assert_near(out.concrete / FT3, r->concrete, r->half / r->concrete);
  assert_near(out.ordered, out.concrete * (1 + r->waste), 1e-12);
  assert_near(out.weight_light / LBF, 145 * out.concrete / FT3, 1e-9); /* plain, 145 pcf */
  assert_near(out.weight_heavy / LBF, 150 * out.concrete / FT3, 1e-9); /* normal weight, 150 pcf */
}

/* A hole of exactly n bags takes n, whatever the last bit says. */
static void exact_bags_stay(void **state) {
  (void)state;
  for (int inches = 6; inches <= 24; inches++)
    for (int n = 1; n <= 40; n++) {
      const double diameter = inches * IN, volume = n * 0.6 * FT3;
      const struct sl_pier_in in = { diameter, volume / (acos(-1) / 4 * diameter * diameter), 0, 0, 0, false, NAN,
                                     NAN };
      struct sl_pier_out out;
      assert_int_equal(sl_pier(&in, &out, NULL), SL_OK);
      const struct sl_bags_in poured = { out.ordered, 0.6 * FT3 };
      struct sl_bags_out opened;
      assert_int_equal(sl_bags(&poured, &opened, NULL), SL_OK);
      assert_int_equal(opened.bags, n);
    }
}

static void unlisted_bag_is_refused(void **state) {
  (void)state;
  const struct sl_bag_yield_in in = { 25 };      /* kg */
  struct sl_bag_yield_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_bag_yield(&in, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "bag_mass");
}

static void nobody_counts_a_million_bags(void **state) {
  (void)state;
  const struct sl_bags_in in = { 1, 1e-7 };      /* 1 m3 out of a tenth of a millilitre each */
  struct sl_bags_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_bags(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "concrete");
}

static void post_must_fit_the_hole(void **state) {
  (void)state;
  const struct sl_pier_in in = { 7.7 * IN, 36 * IN, 6 * IN, 5.5 * IN, 0.1, false, NAN, NAN };  /* diagonal 7.78 in */
  struct sl_pier_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_pier(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "post_width");
}

/* A textbook of construction estimating: shaft 18 in, bell 42 in, sides at 60 deg: 1.732 ft high, 8.96 ft3 (shaft and
 * all).  The rest by hand: less pi/4 x 1.5^2 x 1.732 = 3.061 is 5.895 ft3; half a foot of gravel below is wider by
 * pi/4 x (3.5^2 - 1.5^2) x 0.5 = 3.927 ft3.  In a pier of 5 ft on half a foot of gravel the shaft has 7.952 ft3 of
 * concrete, pi/4 x 1.5^2 x 4.5, and 8.836 of earth. */
static void a_bell_by_a_textbook(void **state) {
  (void)state;
  const struct sl_bell_in in = { 18 * IN, 42 * IN, 5 * FT, 0.5 * FT };
  struct sl_bell_out bell;
  assert_int_equal(sl_bell(&in, &bell, NULL), SL_OK);
  assert_near(bell.height / FT, 1.732, 0.0005 / 1.732);
  assert_near(bell.concrete / FT3 + acos(-1) / 4 * 2.25 * bell.height / FT, 8.96, 0.005 / 8.96);
  assert_near(bell.concrete / FT3, 5.895, 0.001);
  assert_near(bell.earth / FT3, 9.822, 0.001);
  const struct sl_pier_in pier = { 18 * IN, 5 * FT, 0.5 * FT, 0, 0, false, bell.concrete, bell.earth };
  struct sl_pier_out out;
  assert_int_equal(sl_pier(&pier, &out, NULL), SL_OK);
  assert_near(out.concrete / FT3, 13.847, 0.001);
  assert_near(out.earth / FT3, 18.658, 0.001);
  assert_near(out.weight_heavy / LBF, 150 * 13.847, 0.001);
}

/* 12 in of shaft and 36 in of bell: 12 tan 60 = 20.78 in high, in 20 in of concrete not, in 21 in it is. */
static void a_bell_must_fit(void **state) {
  (void)state;
  struct sl_bell_in in = { 12 * IN, 36 * IN, 26 * IN, 6 * IN };
  struct sl_bell_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_bell(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "bell");
  in.hole_depth = 27 * IN;
  assert_int_equal(sl_bell(&in, &out, &sheet), SL_OK);
  in.bell = 12 * IN;
  assert_int_equal(sl_bell(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "bell");
}

static void wind_at_allowable_level(void **state) {
  (void)state;
  const struct sl_allowable_wind_in in = { 750 * LBF, "ASCE 7-22" };
  struct sl_allowable_wind_out out;
  assert_int_equal(sl_allowable_wind(&in, &out, NULL), SL_OK);
  assert_near(out.force / LBF, 450, 1e-9);
  assert_near(out.factor, 0.6, 1e-12);
  assert_near(out.dead, 0.6, 1e-12);                                  /* ASCE 7 2.4.1: 0.6D + 0.6W */
}

/* Dressed sizes and areas from memory of NDS Supplement Table 1B; 139 and 37 lb are fresh pieces at 55 pcf. */
static const struct piece { const char *name; struct sl_lumber_in in; double area, light, heavy; } pieces[] = {
  { "lumber 6x6, 12 ft", { "6x6", 12 * FT, "", "NDS 2018" }, 30.25, 62.4 * 0.55 * 30.25 / 144 * 12, 139 },
  { "lumber 4x4, 8 ft", { "4x4", 8 * FT, "Southern Pine", "NDS 2018" }, 12.25, 62.4 * 0.55 * 12.25 / 144 * 8, 37 },
  { "lumber 2x8, 1 ft, cedar", { "2x8", 1 * FT, "Western Cedars", "NDS 2018" }, 10.875, 62.4 * 0.36 * 10.875 / 144, 0 },
};

static void piece_matches(void **state) {
  const struct piece *r = *state;
  struct sl_lumber_out out;
  assert_int_equal(sl_lumber(&r->in, &out, NULL), SL_OK);
  assert_near(out.breadth * out.depth / (IN * IN), r->area, 1e-9);
  struct sl_dressed_in size = { "" };
  struct sl_dressed_out dressed;
  strcpy(size.section, r->in.section);
  assert_int_equal(sl_dressed(&size, &dressed, NULL), SL_OK);
  assert_near(dressed.breadth * dressed.depth / (IN * IN), r->area, 1e-9);
  assert_near(out.volume, out.breadth * out.depth * r->in.length, 1e-12);
  assert_near(out.weight_light / LBF, r->light, 1e-9);
  if (r->heavy > 0) assert_near(out.weight_heavy / LBF, r->heavy, 0.5 / r->heavy);
  assert_true(out.weight_light < out.weight_heavy);
}

static void unknown_lumber_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_lumber_out out;
  const struct sl_lumber_in size = { "5x7", 1, "", "NDS 2018" }, species = { "6x6", 1, "Balsa", "NDS 2018" };
  assert_int_equal(sl_lumber(&size, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "section");
  assert_int_equal(sl_lumber(&species, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "species");
}

/* A job says "sandy gravel" and "bedrock", the table "gravel" and "crystalline bedrock"; peat has no value. */
static void soils_have_two_words(void **state) {
  (void)state;
  static const char *const same[][2] = { { "sandy gravel", "gravel" }, { "bedrock", "crystalline bedrock" } };
  struct sl_soil_in in = { .edition = "IBC 2018" };
  struct sl_soil_out one, other;
  for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
    strcpy(in.soil_class, same[i][0]);
    assert_int_equal(sl_soil(&in, &one, NULL), SL_OK);
    strcpy(in.soil_class, same[i][1]);
    assert_int_equal(sl_soil(&in, &other, NULL), SL_OK);
    assert_near(one.lateral, other.lateral, 1e-15);
  }
  struct sl_sheet sheet = { .cap = 0 };
  strcpy(in.soil_class, "peat");
  assert_int_equal(sl_soil(&in, &one, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "soil_class");
}

static void augers_rise_and_start_where_asked(void **state) {
  (void)state;
  struct sl_augers_in in = { NAN };
  struct sl_augers_out all, wide;
  assert_int_equal(sl_augers(&in, &all, room_of(sl_augers_need(&in)), NULL), SL_OK);
  assert_true(all.count > 1);
  for (size_t i = 1; i < all.count; i++) assert_true(all.diameters[i] > all.diameters[i - 1]);
  in.least = 12 * IN;
  assert_int_equal(sl_augers(&in, &wide, room_of(sl_augers_need(&in)), NULL), SL_OK);
  assert_true(wide.count < all.count);
  assert_near(wide.diameters[0] / IN, 12, 1e-12);
  in.least = 10 * FT;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_augers(&in, &wide, room_of(sl_augers_need(&in)), &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "least");
}

/* Common practice, no source: the diagonal of the post, 5.5 x 1.41421 = 7.7782 in, and 4 in. */
static void hole_takes_the_diagonal_and_room(void **state) {
  (void)state;
  const struct sl_hole_in in = { 5.5 * IN, false };
  struct sl_hole_out out;
  assert_int_equal(sl_hole(&in, &out, NULL), SL_OK);
  assert_near(out.least / IN, 11.7782, 1e-5);
}

static const struct sl_hole_in good_hole = { 3.5 * IN, false };
static const struct sl_allowable_wind_in good_wind = { 750 * LBF, "ASCE 7-16" };
static const struct sl_pier_in good_pier = { 14 * IN, 36 * IN, 6 * IN, 5.5 * IN, 0.1, false, NAN, NAN };
static const struct sl_bag_yield_in good_bag = { 80 * LB };
static const struct sl_bags_in good_bags = { 2.3621 * FT3, 0.6 * FT3 };
static const struct sl_bell_in good_bell = { 14 * IN, 30 * IN, 48 * IN, 6 * IN };
static const struct sl_soil_in good_soil = { "sand", "IBC 2021" };
static const struct sl_augers_in good_augers = { NAN };
static const struct sl_dressed_in good_dressed = { "4x4" };
static const struct op_case ops[] = {
  { "dressed", &good_dressed },
  { "allowable_wind", &good_wind },
  { "pier", &good_pier }, { "bag_yield", &good_bag }, { "bags", &good_bags }, { "bell", &good_bell },
  { "lumber", &pieces[0].in }, { "soil", &good_soil },
  { "augers", &good_augers }, { "hole", &good_hole },
};

int main(void) {
  struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, holes, hole_matches);
  ADD_ROWS(tests, n, pieces, piece_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(exact_bags_stay), cmocka_unit_test(unlisted_bag_is_refused),
    cmocka_unit_test(nobody_counts_a_million_bags),
    cmocka_unit_test(post_must_fit_the_hole), cmocka_unit_test(hole_takes_the_diagonal_and_room),
    cmocka_unit_test(a_bell_by_a_textbook), cmocka_unit_test(a_bell_must_fit),
    cmocka_unit_test(wind_at_allowable_level), cmocka_unit_test(unknown_lumber_is_refused),
    cmocka_unit_test(soils_have_two_words), cmocka_unit_test(augers_rise_and_start_where_asked),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("footing", tests, n, NULL, NULL);
}
