/* SPDX-License-Identifier: MIT
 * Blocks on the ground: statics by hand; what is refused.  Factors of ASCE 7-16 2.4.1 in an open transcription. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/block.h"

static void *room[4096];
static struct sl_space all_room(void) { return (struct sl_space){ room, sizeof room }; }

/* By hand, 30 deg, 4 m of slope, 2 m of row, lower edge 1 m high, block's middle 1.6 m behind it: half the slope is 4
 * m2; 500 and 700 Pa lift: 1200 x 4 = 4800 N square to it, 4156.92 up and 2400 to the front.  Arms of the halves: 1.5 x
 * 0.5 + (0.8660254 - 1.6) 0.8660254 = 0.1143592 m, 2.5 x 0.5 + (2.5980762 - 1.6) 0.8660254 = 2.1143594 m: -4 (57.1796 +
 * 1480.0516) = -6148.92 N m, over the front edge.  Least wind 700 Pa x 4 x 0.5 x 2 = 2800 N at 2 m. */
static const struct sl_block_wind lifting[] = { { -500, -700 } };
static const struct sl_wind_on_block_in station = {
  .tilt = 30 * 3.14159265358979323846 / 180, .slope_length = 4, .stack = 0.2, .lower_edge = 1, .middle = 1.6,
  .tributary = 2, .least = 700, .winds = lifting, .nwinds = 1,
};
static void wind_by_hand(void **state) {
  (void)state;
  struct sl_wind_on_block_out out;
  assert_int_equal(sl_wind_on_block(&station, &out, all_room(), NULL), SL_OK);
  assert_int_equal(out.nforces, 3);
  assert_near(out.forces[0].up, 4156.92, 2e-6);
  assert_near(out.forces[0].side, -2400, 1e-12);
  assert_near(out.forces[0].turning, -6148.92, 2e-6);
  assert_near(out.forces[1].side, 2800, 1e-12);
  assert_near(out.forces[1].turning, 5600, 1e-12);
  assert_near(out.forces[2].side, -2800, 1e-12);
  assert_near(out.forces[2].turning, -5600, 1e-12);
  assert_near(out.modules_at, 0.1320508, 1e-6);
  assert_near(out.frame_at, 0.1820508, 1e-6);
}

/* By hand: 900 and 700 N up, 0.8 m before and behind the middle: (700 - 900) 0.8 = -160 N m of lift; pushes 500 x 1 +
 * 400 x 2 + 30 = 1330 N m. */
static void heads_by_hand(void **state) {
  (void)state;
  const struct sl_block_head posts[] = { { 900, 500, -0.8, 1, NAN }, { 700, 400, 0.8, 2, 30 } };
  const struct sl_heads_on_block_in in = { posts, 2 };
  struct sl_heads_on_block_out out;
  assert_int_equal(sl_heads_on_block(&in, &out, all_room(), NULL), SL_OK);
  assert_near(out.forces[0].up, 1600, 1e-12);
  assert_near(out.forces[0].side, 900, 1e-12);
  assert_near(out.forces[0].turning, 1330 + 160, 1e-12);
  assert_near(out.forces[1].side, -900, 1e-12);
  assert_near(out.forces[1].turning, -1330 + 160, 1e-12);
}

/* By hand: 800 Pa on 1.5 x 0.5 m is 600 N; strips of 1300 and 650 Pa, 0.5 and 1 m long, 325 + 325 = 650 N, 0.275 m
 * up: 178.75 N m, the way that each case pushes, or where none does the way it turns. */
static const struct sl_block_force three[] = { { 900, -500, -800 }, { -100, 400, 300 }, { 50, 0, -10 } };
static const struct sl_face_strip strips[] = { { 0, 0.5, 1300 }, { 0.5, 1.5, 650 } };
static const struct sl_wind_on_faces_in face = {
  .forces = three, .nforces = 3, .pressure = 800, .width = 1.5, .height = 0.5, .raise = 0.025, .strips = strips,
  .nstrips = 2,
};
static void faces_by_hand(void **state) {
  (void)state;
  struct sl_wind_on_faces_out out;
  assert_int_equal(sl_wind_on_faces(&face, &out, all_room(), NULL), SL_OK);
  assert_near(out.force, 650, 1e-12);
  assert_near(out.arm, 0.275, 1e-12);
  assert_near(out.forces[0].up, 900, 1e-12);
  assert_near(out.forces[0].side, -1150, 1e-12);
  assert_near(out.forces[0].turning, -978.75, 1e-12);
  assert_near(out.forces[1].side, 1050, 1e-12);
  assert_near(out.forces[1].turning, 478.75, 1e-12);
  assert_near(out.forces[2].side, -650, 1e-12);
  assert_near(out.forces[2].turning, -188.75, 1e-12);
  struct sl_wind_on_faces_in even = face;
  even.nstrips = 0;
  assert_int_equal(sl_wind_on_faces(&even, &out, all_room(), NULL), SL_OK);
  assert_near(out.force, 600, 1e-12);
}

/* By hand, the station above on a block of 3 m and 12 kN, modules 2 kN at 0.1320508 m: 0.6 x 4156.92 = 2494.15 of
 * 8400 N; 0.6 x (14,000 - 4156.92) = 5905.85 N press, x 0.35 = 2067.05 N against 1440; the least wind 1680 of 2940 N
 * is less. About the front edge 0.6 (4156.92 x 1.5 + 6148.92) = 7430.58 of 0.6 (2000 x 1.6320508 + 18,000) =
 * 12,758.46 N m. */
static const struct sl_block_weight weights[] = { { 2000, NAN, 0.1320508 }, { 12000, NAN, 0 } };
static struct sl_ballast_in on_block(const struct sl_block_force *forces, size_t n) {
  return (struct sl_ballast_in){ forces, n, weights, 2, 3, 0.35, NAN, NAN, NAN, NAN, "ASCE 7-16" };
}
static void ballast_by_hand(void **state) {
  (void)state;
  struct sl_wind_on_block_out wind;
  struct sl_ballast_out out;
  assert_int_equal(sl_wind_on_block(&station, &wind, all_room(), NULL), SL_OK);
  struct sl_ballast_in in = on_block(wind.forces, wind.nforces);
  assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
  assert_near(out.weight, 14000, 1e-12);
  assert_near(out.lift, 2494.15, 2e-6);
  assert_near(out.lift_held, 8400, 1e-12);
  assert_near(out.pressing, 5905.85, 2e-6);
  assert_near(out.slide, 1440, 1e-12);
  assert_near(out.slide_held, 2067.05, 2e-6);
  assert_near(out.slide_ratio, 0.69665, 1e-5);
  assert_near(out.turn, 7430.58, 2e-6);
  assert_near(out.turn_held, 12758.46, 2e-6);
  assert_true(out.lift_case == 1 && out.slide_case == 1 && out.turn_case == 1 && !out.over_back);
  /* Without the wind that lifts, the least wind: 1680 of 0.35 x 8400 = 2940 N; 0.6 x 5600 = 3360 over the back edge,
   * where 0.6 (2000 x 1.3679492 + 18,000) = 12,441.54 hold. */
  in.forces++, in.nforces--;
  assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
  assert_near(out.slide_held, 2940, 1e-12);
  assert_near(out.turn, 3360, 1e-12);
  assert_near(out.turn_held, 12441.54, 1e-6);
  assert_true(out.over_back && out.turn_case == 1);
  assert_near(out.lift + 1, 1, 0);
  /* A paper's forces as they are, against 0.9 of the weight: 1680 becomes 2800 of 0.35 x 12,600. */
  in.edition[0] = 0, in.weight_counts = 0.9;
  assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
  assert_near(out.slide, 2800, 1e-12);
  assert_near(out.slide_held, 4410, 1e-12);
}

/* Clay: 130 psf of 4 ft2 is 520 lbf, half of what presses, 660 lbf, less.  Two cases: which is worst is told of each.
 * */
static void clay_and_cases(void **state) {
  (void)state;
  const struct sl_block_force cases[] = { { 900 * LBF, 100 * LBF, 0 }, { 0, 500 * LBF, 550 * LBF * FT } };
  const struct sl_block_weight weight = { 2000 * LBF, NAN, 0 };
  struct sl_ballast_in in = { cases, 2, &weight, 1, 6 * FT, NAN, 130 * PSF, 4 * FT2, 0.5, NAN, "ASCE 7-16" };
  struct sl_ballast_out out;
  assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
  assert_int_equal(out.lift_case, 1);
  assert_int_equal(out.slide_case, 2);             /* 300 of 520; 60 of 330 */
  assert_near(out.slide_held / LBF, 520, 1e-9);
  assert_int_equal(out.turn_case, 1);              /* 0.6 x 2700 of 3600 either way; 330 of 3600 */
  in.nforces = 1;
  assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
  assert_near(out.slide_held / LBF, 330, 1e-9);
  const struct sl_block_force flies = { 2001 * LBF, 1, 0 };
  in.forces = &flies;
  assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
  assert_true(isnan(out.slide_ratio) && out.lift_ratio > 1);
  assert_near(out.pressing + 1, 1, 0);
}

/* By hand: 14,000 N of weight, 264.1016 N m to the back; snow 5000 N at the same place; wind 3000 N down, 4000 N
 * m. D + 0.75(0.6W) + 0.75S: 19,100 N, 264.1016 + 1800 + 495.1905 = 2559.292 N m, 0.1339944 m off the middle:
 * 19,100/2.4 (1 + 0.2679888) = 10,091.1 Pa.  With 10 kN down, 12 kN of block and 12 kN m: 22 kN 0.545455 m off,
 * beyond a sixth of 3 m: 2 x 22,000/(3 x 0.8 (1.5 - 0.545455)) = 19,206.3 Pa. */
static void bearing_by_hand(void **state) {
  (void)state;
  const struct sl_block_force wind = { -3000, 2000, 4000 }, posts = { -10000, 1000, 12000 };
  struct sl_block_bearing_in in = { &wind, 1, weights, 2, 5000, 0.1320508, 3, 0.8, 20000, false, "ASCE 7-16" };
  struct sl_block_bearing_out out;
  assert_int_equal(sl_block_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.pressure, 10091.1, 3e-6);
  assert_near(out.ratio, 0.504555, 3e-6);
  assert_string_equal(out.combination, "D + 0.75(0.6W) + 0.75S");
  in.forces = &posts, in.weights++, in.nweights = 1, in.snow = 0, in.as_given = true, in.edition[0] = 0;
  assert_int_equal(sl_block_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.pressure, 19206.3, 3e-6);
  const struct sl_block_force over = { -10000, 1000, 33001 };          /* 22 kN at 1.5 m: the edge */
  struct sl_sheet sheet = { .cap = 0 };
  in.forces = &over;
  assert_int_equal(sl_block_bearing(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "forces");
}

static void more_of_the_weight_presses(void **state) {
  (void)state;
  const struct sl_block_force none = { 0, 0, 0 };
  const struct sl_block_weight wet = { 1000, 1200, 0 };
  struct sl_block_bearing_in in = { &none, 1, &wet, 1, 0, 0, 2, 1, 20000, false, "ASCE 7-16" };
  struct sl_block_bearing_out out;
  assert_int_equal(sl_block_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.pressure, 600, 1e-12);           /* 1200 N on 2 m2 */
}

static void refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_ballast_out out;
  const struct sl_block_force force = { 100, 100, 10 };
  struct sl_ballast_in in = on_block(&force, 1);
  in.length = 0.26;                                /* the modules' weight lies beyond the edge */
  assert_int_equal(sl_ballast(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "weights[i].at");
  in = on_block(&force, 1), in.adhesion = 6000;    /* friction, too */
  assert_int_equal(sl_ballast(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "friction");
  in = on_block(&force, 1), in.weight_counts = 0.9;
  assert_int_equal(sl_ballast(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "weight_counts");
  in.edition[0] = 0, in.weight_counts = 1.1;
  assert_int_equal(sl_ballast(&in, &out, &sheet), SL_BAD_INPUT);
  in = on_block(&force, 0);
  assert_int_equal(sl_ballast(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "forces");
  in = on_block(&force, 1), in.friction = -0.3;
  assert_int_equal(sl_ballast(&in, &out, &sheet), SL_BAD_INPUT);
  for (int i = 0; i < 2; i++) {
    in = on_block(&force, 1), in.friction = NAN, in.adhesion = 6000, in.area = i ? 1 : NAN, in.most = i ? NAN : 1;
    assert_int_equal(sl_ballast(&in, &out, &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, i ? "most" : "area");
  }
}

/* A heavier block never slides, lifts or turns sooner; a longer one never turns sooner. */
static void laws_hold(void **state) {
  (void)state;
  const struct sl_block_force cases[] = { { 4000, 2000, 1500 }, { -1000, -1800, -2500 } };
  double before[3] = { INFINITY, INFINITY, INFINITY };
  for (double weight = 8000; weight < 40000; weight += 4000) {
    const struct sl_block_weight block = { weight, NAN, 0 };
    struct sl_ballast_in in = on_block(cases, 2);
    in.weights = &block, in.nweights = 1;
    struct sl_ballast_out out, longer;
    assert_int_equal(sl_ballast(&in, &out, NULL), SL_OK);
    assert_true(out.lift_ratio < before[0] && out.slide_ratio < before[1] && out.turn_ratio < before[2]);
    before[0] = out.lift_ratio, before[1] = out.slide_ratio, before[2] = out.turn_ratio;
    in.length = 3.5;
    assert_int_equal(sl_ballast(&in, &longer, NULL), SL_OK);
    assert_true(longer.turn_ratio < out.turn_ratio);
  }
}

static const struct sl_block_force good_force = { 4000, 2000, 1500 };
static const struct sl_ballast_in good_ballast = {
  &good_force, 1, weights, 2, 3, NAN, 6000, 0.4, 0.5, NAN, "ASCE 7-22",
};
static const struct sl_block_head good_head = { 900, 500, -0.8, 1, 20 };
static const struct sl_heads_on_block_in good_heads = { &good_head, 1 };
static const struct sl_block_bearing_in good_bearing = {
  &good_force, 1, weights, 2, 500, 0.1, 3, 0.8, 20000, false, "ASCE 7-22",
};
static const struct op_case ops[] = {
  { "wind_on_block", &station }, { "wind_on_faces", &face }, { "heads_on_block", &good_heads },
  { "ballast", &good_ballast },
  { "block_bearing", &good_bearing },
};

int main(void) {
  struct CMUnitTest tests[32];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(wind_by_hand), cmocka_unit_test(heads_by_hand), cmocka_unit_test(faces_by_hand),
    cmocka_unit_test(ballast_by_hand),
    cmocka_unit_test(clay_and_cases), cmocka_unit_test(bearing_by_hand), cmocka_unit_test(more_of_the_weight_presses),
    cmocka_unit_test(refused), cmocka_unit_test(laws_hold),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("block", tests, n, NULL, NULL);
}
