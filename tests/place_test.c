/* SPDX-License-Identifier: MIT
 * Places of racks: right triangles (3-4-5, 5-12-13) and racks drawn on squared paper, each sum shown; and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/place.h"

/* By hand: a row is square to where the modules face; of its two ways the one with an east part, or due north. */
static const struct row { const char *name; double facing, bearing; } rows[] = {
  { "faces south: its row runs east", 180, 90 },        { "faces north: its row runs east", 0, 90 },
  { "a full turn is north", 360, 90 },                  { "faces east: its row runs north", 90, 0 },
  { "faces west: its row runs north", 270, 0 },         { "faces 200: its row runs at 110", 200, 110 },
  { "faces 20: its row runs at 110", 20, 110 },         { "faces 160: its row runs at 70", 160, 70 },
  { "faces 340: its row runs at 70", 340, 70 },         { "faces 91: its row runs at 1", 91, 1 },
  { "faces 89: its row runs at 179", 89, 179 },         { "faces 271: its row runs at 1", 271, 1 },
};

static void row_matches(void **state) {
  const struct row *r = *state;
  const struct sl_row_bearing_in in = { r->facing * DEGREE };
  struct sl_row_bearing_out out;
  assert_int_equal(sl_row_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.bearing / DEGREE - r->bearing, 0, 1e-9);
  assert_true(out.bearing >= 0 && out.bearing < 180 * DEGREE);
}

/* A bearing whose sine is 3/5 and cosine 4/5, in degrees. */
static double steep(void) { return asin(0.6) / DEGREE; }

/* Corner 10 east, 20 north; 5 along and 10 behind.  By hand: facing south 10 + 5, 20 + 10; north 10 + 5, 20 - 10; east,
 * with the row to the north and west behind it, 10 - 10, 20 + 5; west 10 + 10, 20 + 5.  Facing 180 + the angle of the
 * triangle the row's way is (4/5, -3/5), behind (3/5, 4/5): 10 + 4 + 6, 20 - 3 + 8. */
static const struct point { const char *name; double facing, turn, east, north; } points[] = {
  { "point of a rack that faces south", 180, 0, 15, 30 },
  { "point of a rack that faces north", 0, 0, 15, 10 },
  { "point of a rack that faces east", 90, 0, 0, 25 },
  { "point of a rack that faces west", 270, 0, 20, 25 },
  { "point of a rack turned by a 3-4-5 triangle", 180, 1, 20, 25 },
};

static void point_matches(void **state) {
  const struct point *r = *state;
  const struct sl_place_in in = { 10, 20, (r->facing + r->turn * steep()) * DEGREE, 5, 10 };
  struct sl_place_out out;
  assert_int_equal(sl_place(&in, &out, NULL), SL_OK);
  assert_near(out.east - r->east, 0, 1e-9);
  assert_near(out.north - r->north, 0, 1e-9);
}

/* The kit rack of the hay barn in feet: 29.9 long, its west corner at -75, -150; 10 ft beside it the next one's is at
 * -75 + 29.9 + 10.  2 ft behind its line: to the north where it faces south. */
static void a_rack_beside_another(void **state) {
  (void)state;
  struct sl_place_beside_in in = { -75 * FT, -150 * FT, 180 * DEGREE, 29.9 * FT, 10 * FT, 2 * FT };
  struct sl_place_beside_out out;
  assert_int_equal(sl_place_beside(&in, &out, NULL), SL_OK);
  assert_near(out.east / FT, -35.1, 1e-9);
  assert_near(out.north / FT, -148, 1e-9);
  /* Turned by the triangle: 40 long, 10 to the aisle, 5 behind: 50 (4/5, -3/5) + 5 (3/5, 4/5). */
  in = (struct sl_place_beside_in){ 0, 0, (180 + steep()) * DEGREE, 40, 10, 5 };
  assert_int_equal(sl_place_beside(&in, &out, NULL), SL_OK);
  assert_near(out.east, 43, 1e-9);
  assert_near(out.north, -26, 1e-9);
}

static void a_rack_behind_another(void **state) {
  (void)state;
  struct sl_place_behind_in in = { 3, 7, 180 * DEGREE, 4, 6 };
  struct sl_place_behind_out out;
  assert_int_equal(sl_place_behind(&in, &out, NULL), SL_OK);
  assert_near(out.east, 3, 1e-9);
  assert_near(out.north, 17, 1e-9);
  in.facing = 0;                                        /* in the south, behind is south */
  assert_int_equal(sl_place_behind(&in, &out, NULL), SL_OK);
  assert_near(out.north, -3, 1e-9);
  in = (struct sl_place_behind_in){ 0, 0, (180 + steep()) * DEGREE, 6, 4 };
  assert_int_equal(sl_place_behind(&in, &out, NULL), SL_OK);
  assert_near(out.east, 6, 1e-9);
  assert_near(out.north, 8, 1e-9);
}

static void corners_in_their_order(void **state) {
  (void)state;
  const struct sl_rack_outline_in in = { 1, 2, (180 + steep()) * DEGREE, 10, 5 };
  static const double want[4][2] = { { 1, 2 }, { 9, -4 }, { 12, 0 }, { 4, 6 } };
  struct sl_rack_outline_out out;
  assert_int_equal(sl_rack_outline(&in, &out, room_of(sl_rack_outline_need(&in)), NULL), SL_OK);
  assert_int_equal(out.ncorners, 4);
  for (size_t i = 0; i < 4; i++) {
    assert_near(out.corners[i].east - want[i][0], 0, 1e-9);
    assert_near(out.corners[i].north - want[i][1], 0, 1e-9);
  }
  /* Its row runs 0.8 east and -0.6 north, behind is 0.6 east and 0.8 north: 1 x 0.8 - 2 x 0.6, 1 x 0.6 + 2 x 0.8. */
  assert_near(out.from, -0.4, 1e-9);
  assert_near(out.to, 9.6, 1e-9);
  assert_near(out.lower, 2.2, 1e-9);
  assert_near(out.upper, 7.2, 1e-9);
}

/* Two racks, as drawn: how far apart. */
static const struct pair { const char *name; struct sl_outline a, b; double gap; } pairs[] = {
  { "beside each other, 8 ft between", { 0, 0, 3.14159265358979312, 30, 10 }, { 38, 0, 3.14159265358979312, 30, 10 },
    8 },
  { "behind each other, 6 between", { 0, 0, 3.14159265358979312, 30, 10 }, { 4, 16, 3.14159265358979312, 30, 10 },
    6 },
  { "corner to corner, 3 east and 4 north", { 0, 0, 3.14159265358979312, 30, 10 },
    { 33, 14, 3.14159265358979312, 5, 5 }, 5 },
  { "they touch", { 0, 0, 3.14159265358979312, 30, 10 }, { 30, 0, 3.14159265358979312, 30, 10 }, 0 },
  { "one reaches 1 into the other", { 0, 0, 3.14159265358979312, 30, 10 }, { 29, 0, 3.14159265358979312, 30, 10 },
    -1 },
  /* 2 into its side and 5 into its back: 2 is the shorter way out. */
  { "over a corner", { 0, 0, 3.14159265358979312, 30, 10 }, { 28, 5, 3.14159265358979312, 30, 10 }, -2 },
  { "one upon the other", { 0, 0, 3.14159265358979312, 30, 10 }, { 0, 0, 3.14159265358979312, 30, 10 }, -10 },
  /* One that faces north stands with its back to the other's: 10 deep from 30 down to 20. */
  { "back to back", { 0, 0, 3.14159265358979312, 30, 10 }, { 0, 30, 0, 30, 10 }, 10 },
  /* A square of 10 on its point: facing 225, so that the row runs at 135.  Its west corner is its west point, and
   * 5 sqrt 2 above the south one; the flat side of the other lies 3 west of it. */
  { "a square on its point beside a side", { 0, -20, 3.14159265358979312, 30, 40 },
    { 33, 0, 3.92699081698724155, 10, 10 }, 3 },
  /* Rows of those that face due west or due east run north from their corner: 30 up, and 10 behind them. */
  { "north of one that faces due west", { 0, 0, 4.71238898038468985, 30, 10 }, { 4, 34, 3.14159265358979312, 5, 5 },
    4 },
  { "north of one that faces due east", { 0, 0, 1.57079632679489656, 30, 10 }, { -6, 33, 3.14159265358979312, 5, 5 },
    3 },
  { "a level line of no depth", { 0, 0, 3.14159265358979312, 30, 0 }, { 0, 4, 3.14159265358979312, 30, 0 }, 4 },
};

static struct sl_way way_of(struct sl_outline a, struct sl_outline b) {
  const struct sl_outline both[] = { a, b };
  const struct sl_apart_in in = { both, 2 };
  struct sl_apart_out out;
  assert_int_equal(sl_apart(&in, &out, room_of(sl_apart_need(&in)), NULL), SL_OK);
  assert_int_equal(out.nways, 2);
  assert_int_equal(out.ways[0].nearest, 2);
  assert_int_equal(out.ways[1].nearest, 1);
  assert_true(out.ways[0].gap == out.ways[1].gap);
  return out.ways[0];
}

static void pair_matches(void **state) {
  const struct pair *r = *state;
  assert_near(way_of(r->a, r->b).gap - r->gap, 0, 1e-9);
  assert_near(way_of(r->b, r->a).gap - r->gap, 0, 1e-9);
}

/* A site that is turned and moved as a whole has the same ways. */
static void turned_and_moved_it_is_the_same(void **state) {
  (void)state;
  for (size_t p = 0; p < sizeof pairs / sizeof *pairs; p++)
    for (int turn = 1; turn < 8; turn++) {
      struct sl_outline both[] = { pairs[p].a, pairs[p].b };
      for (int i = 0; i < 2; i++) {
        /* Clockwise by the turn; the row of a rack that comes to be counted from its other end starts there. */
        const double by = turn * 40 * DEGREE, e = both[i].east, n = both[i].north, full = 360 * DEGREE;
        const struct sl_row_bearing_in was = { both[i].facing };
        struct sl_row_bearing_out before, after;
        assert_int_equal(sl_row_bearing(&was, &before, NULL), SL_OK);
        both[i].east = 100 + e * cos(by) + n * sin(by);
        both[i].north = -7 - e * sin(by) + n * cos(by);
        both[i].facing = fmod(both[i].facing + by, full);
        const struct sl_row_bearing_in is = { both[i].facing };
        assert_int_equal(sl_row_bearing(&is, &after, NULL), SL_OK);
        if (cos(before.bearing + by - after.bearing) < 0) {
          both[i].east -= both[i].along * sin(after.bearing);
          both[i].north -= both[i].along * cos(after.bearing);
        }
      }
      assert_near(way_of(both[0], both[1]).gap - pairs[p].gap, 0, 1e-9);
    }
}

/* Five racks in a line with ways of 8, 3, 6, 5: each is nearest to the neighbour on its narrower side. */
static void each_has_its_nearest(void **state) {
  (void)state;
  static const double east[] = { 0, 18, 31, 47, 62 };
  static const int nearest[] = { 2, 3, 2, 5, 4 };
  static const double gap[] = { 8, 3, 3, 5, 5 };
  for (int turned = 0; turned < 2; turned++) {          /* and named from the east: the near ones come first */
    struct sl_outline racks[5];
    for (size_t i = 0; i < 5; i++) racks[turned ? 4 - i : i] = (struct sl_outline){ east[i], 0, 180 * DEGREE, 10, 4 };
    const struct sl_apart_in in = { racks, 5 };
    struct sl_apart_out out;
    assert_int_equal(sl_apart(&in, &out, room_of(sl_apart_need(&in)), NULL), SL_OK);
    for (size_t i = 0; i < 5; i++) {
      const struct sl_way *way = &out.ways[turned ? 4 - i : i];
      assert_near(way->gap, gap[i], 1e-9);
      assert_int_equal(turned ? 6 - way->nearest : way->nearest, nearest[i]);
    }
  }
}

/* A rectangle that lies across another without a corner of either in the other: 4 to leave it sideways. */
static void crossing_racks_overlap(void **state) {
  (void)state;
  const struct sl_outline flat = { 0, 0, 180 * DEGREE, 30, 4 }, upright = { 10, -13, 180 * DEGREE, 4, 30 };
  assert_near(way_of(flat, upright).gap, -14, 1e-9);    /* 14 to the east is the shortest: 17 to the south */
}

/* Holes of 2 across: 5 apart by a 3-4-5 triangle is 3 of ground; those of one rack do not count. */
static void nearest_holes_of_different_racks(void **state) {
  (void)state;
  const struct sl_hole holes[] = {
    { 0, 0, 2, 1 }, { 0.5, 0, 2, 1 }, { 3, 4, 2, 2 }, { 20, 0, 2, 2 }, { 21.5, 0, 3, 7 },
  };
  struct sl_holes_apart_in in = { holes, 3 };
  struct sl_holes_apart_out out;
  assert_int_equal(sl_holes_apart(&in, &out, NULL), SL_OK);
  assert_int_equal(out.first, 2);                       /* 2.5, 4: nearer than 3, 4 */
  assert_int_equal(out.second, 3);
  assert_near(out.clear, hypot(2.5, 4) - 2, 1e-9);
  in.n = 5;
  assert_int_equal(sl_holes_apart(&in, &out, NULL), SL_OK);
  assert_int_equal(out.first, 4);
  assert_int_equal(out.second, 5);
  assert_near(out.clear, -1, 1e-9);                     /* 1.5 from middle to middle, 1 and 1.5 of radius */
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  const struct sl_hole two[] = { { 0, 0, 1, 3 }, { 9, 0, 1, 3 } };
  const struct sl_holes_apart_in one_rack = { two, 2 }, one_hole = { two, 1 };
  struct sl_holes_apart_out holes;
  assert_int_equal(sl_holes_apart(&one_rack, &holes, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.text, "must be of two racks or more");
  assert_int_equal(sl_holes_apart(&one_hole, &holes, &sheet), SL_BAD_INPUT);
  struct sl_outline both[] = { pairs[0].a, pairs[0].b };
  const struct sl_apart_in in = { both, 2 }, alone = { both, 1 };
  struct sl_apart_out out;
  assert_int_equal(sl_apart_need(&alone), 0);
  assert_int_equal(sl_apart(&alone, &out, room_of(0), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "outlines");
  assert_int_equal(sl_apart(&in, &out, room_of(sl_apart_need(&in) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
  both[1].along = 0;
  assert_int_equal(sl_apart(&in, &out, room_of(sl_apart_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "outlines[i].along");
  assert_int_equal(sheet.fault.item, 2);
  struct sl_place_beside_in beside = { 0, 0, 3, 10, -1, 0 };
  struct sl_place_beside_out corner;
  assert_int_equal(sl_place_beside(&beside, &corner, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "aisle");
  struct sl_place_behind_in behind = { 0, 0, 3, 10, -1 };
  struct sl_place_behind_out back;
  assert_int_equal(sl_place_behind(&behind, &back, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "gap");
  const struct sl_row_bearing_in turned = { 400 * DEGREE };
  struct sl_row_bearing_out row;
  assert_int_equal(sl_row_bearing(&turned, &row, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "facing");
}

static const struct sl_row_bearing_in good_row = { 3 };
static const struct sl_place_in good_place = { 1, 2, 3, 4, 5 };
static const struct sl_rack_outline_in good_outline = { 1, 2, 3, 10, 5 };
static const struct sl_place_beside_in good_beside = { 1, 2, 3, 10, 2, -1 };
static const struct sl_place_behind_in good_behind = { 1, 2, 3, 10, 2 };
static const struct sl_outline good_outlines[] = { { 0, 0, 3, 10, 5 }, { 20, 0, 3.2, 10, 5 }, { 25, 2, 3, 10, 5 } };
static const struct sl_apart_in good_apart = { good_outlines, 3 };
static const struct sl_hole good_hole[] = { { 0, 0, 0.4, 1 }, { 3, 1, 0.4, 2 } };
static const struct sl_holes_apart_in good_holes = { good_hole, 2 };
static const struct op_case ops[] = {
  { "row_bearing", &good_row }, { "place", &good_place }, { "rack_outline", &good_outline },
  { "place_beside", &good_beside }, { "place_behind", &good_behind }, { "apart", &good_apart },
  { "holes_apart", &good_holes },
};

int main(void) {
  struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, rows, row_matches);
  ADD_ROWS(tests, n, points, point_matches);
  ADD_ROWS(tests, n, pairs, pair_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(a_rack_beside_another), cmocka_unit_test(a_rack_behind_another),
    cmocka_unit_test(corners_in_their_order), cmocka_unit_test(turned_and_moved_it_is_the_same),
    cmocka_unit_test(each_has_its_nearest), cmocka_unit_test(crossing_racks_overlap),
    cmocka_unit_test(nearest_holes_of_different_racks), cmocka_unit_test(nonsense_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("place", tests, n, NULL, NULL);
}
