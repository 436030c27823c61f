/* SPDX-License-Identifier: MIT
 * Layout: six jobs drawn and worked by hand (common practice, no source), right triangles, and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/layout.h"

/* A figure as printed: within half of its last digit. */
#define assert_printed(got, want, unit, half) assert_near((got) / (unit), want, (half) / fabs(want))

static const struct outline {
  const char *name;
  struct sl_layout_in in;
  double unit, half, row_width, slope_length, rise, top_edge;   /* 0: not printed in that job */
} outlines[] = {
  { "outline, egg farm: 2 portrait x 4 at 35 deg",
    { 1722 * MM, 1134 * MM, SL_PORTRAIT, 2, 4, 20 * MM, 20 * MM, 35 * DEGREE, 24 * IN, 0, NAN },
    IN, 0.05001, 180.9, 136.4, 78.2, 102.2 },
  { "outline, egg farm in millimetres",
    { 1722 * MM, 1134 * MM, SL_PORTRAIT, 2, 4, 20 * MM, 20 * MM, 35 * DEGREE, 24 * IN, 0, NAN },
    MM, 0.5, 4596, 3464, 0, 0 },
  { "outline, well and shop: 2 portrait x 6 at 30 deg",
    { 1722 * MM, 1134 * MM, SL_PORTRAIT, 2, 6, 20 * MM, 20 * MM, 30 * DEGREE, 600 * MM, 0, NAN },
    IN, 0.05001, 271.8, 0, 68.2, 0 },
  { "outline, off-grid: 3 landscape x 4 at 55 deg",
    { 1722 * MM, 1134 * MM, SL_LANDSCAPE, 3, 4, 20 * MM, 20 * MM, 55 * DEGREE, 48 * IN, 0, NAN },
    IN, 0.05001, 273.5, 135.5, 111.0, 159.0 },
  { "outline, packhouse: 2 portrait x 10 at 40 deg",
    { 2278 * MM, 1134 * MM, SL_PORTRAIT, 2, 10, 20 * MM, 20 * MM, 40 * DEGREE, 800 * MM, 0, NAN },
    MM, 0.5, 11520, 4576, 2941, 3741 },
  /* 10 x 1134 + 8 x 20 + 84 mm */
  { "outline, packhouse: with an expansion joint of 84 mm",
    { 2278 * MM, 1134 * MM, SL_PORTRAIT, 2, 10, 20 * MM, 20 * MM, 40 * DEGREE, 800 * MM, 1, 84 * MM },
    MM, 0.5, 11584, 4576, 2941, 3741 },
  { "outline, dairy: 2 portrait x 10 at 35 deg",
    { 1722 * MM, 1134 * MM, SL_PORTRAIT, 2, 10, 20 * MM, 20 * MM, 35 * DEGREE, 1100 * MM, 0, NAN },
    MM, 0.5, 11520, 0, 1987, 3087 },
  { "outline, ranch: 2 portrait x 12 at 45 deg",
    { 2278 * MM, 1134 * MM, SL_PORTRAIT, 2, 12, 20 * MM, 20 * MM, 45 * DEGREE, 1000 * MM, 0, NAN },
    IN, 0.05001, 544.4, 0, 127.4, 166.8 },
  { "outline, ranch, old modules",
    { 1956 * MM, 992 * MM, SL_PORTRAIT, 2, 12, 20 * MM, 20 * MM, 45 * DEGREE, 1000 * MM, 0, NAN },
    IN, 0.05001, 477.3, 0, 109.5, 148.8 },
};

static void outline_matches(void **state) {
  const struct outline *r = *state;
  struct sl_layout_out out;
  assert_int_equal(sl_layout(&r->in, &out, NULL), SL_OK);
  if (r->row_width > 0) assert_printed(out.row_width, r->row_width, r->unit, r->half);
  if (r->slope_length > 0) assert_printed(out.slope_length, r->slope_length, r->unit, r->half);
  if (r->rise > 0) assert_printed(out.rise, r->rise, r->unit, r->half);
  if (r->top_edge > 0) assert_printed(out.top_edge, r->top_edge, r->unit, r->half);
}

static const struct support {
  const char *name;
  struct sl_bearing_in in;
  double unit, half, back, height;
} supports[] = {
  { "bearing, egg farm, front", { 3464 * MM, 35 * DEGREE, 24 * IN, 0.2, 11 * IN, NAN }, IN, 0.00501, 28.65, 30.63 },
  { "bearing, egg farm, back", { 3464 * MM, 35 * DEGREE, 24 * IN, 0.8, 11 * IN, NAN }, IN, 0.00501, 95.68, 77.57 },
  { "bearing, off-grid, front", { 3442 * MM, 55 * DEGREE, 48 * IN, 0.2, 260 * MM, NAN }, IN, 0.00501, 0, 64.33 },
  { "bearing, off-grid, back", { 3442 * MM, 55 * DEGREE, 48 * IN, 0.8, 260 * MM, NAN }, IN, 0.00501, 0, 130.93 },
  { "bearing, packhouse, front", { 4576 * MM, 40 * DEGREE, 800 * MM, 0.2, 220 * MM, NAN }, MM, 0.5, 842, 1220 },
  { "bearing, packhouse, back", { 4576 * MM, 40 * DEGREE, 800 * MM, 0.8, 220 * MM, NAN }, MM, 0.501, 2946, 2985 },
  { "bearing, dairy, front", { 3464 * MM, 35 * DEGREE, 1100 * MM, 0.2, 240 * MM, NAN }, MM, 0.5, 705, 1301 },
  { "bearing, dairy, back", { 3464 * MM, 35 * DEGREE, 1100 * MM, 0.8, 240 * MM, NAN }, MM, 0.5, 2408, 2493 },
  { "bearing, ranch, front", { 4576 * MM, 45 * DEGREE, 1000 * MM, 0.2, 200 * MM, NAN }, IN, 0.00501, 0, 59.28 },
  { "bearing, ranch, back", { 4576 * MM, 45 * DEGREE, 1000 * MM, 0.8, 200 * MM, NAN }, IN, 0.00501, 0, 135.71 },
  /* Level modules: the support stands under its point, the stack below the edge. */
  { "bearing, level", { 4, 0, 2, 0.25, 0.5, NAN }, 1, 1e-12, 1, 1.5 },
  /* A beam lies plumb under the stack: it lowers the post and moves nothing. */
  { "bearing, beam", { 4, 0, 2, 0.25, 0.5, 0.25 }, 1, 1e-12, 1, 1.25 },
};

static void support_matches(void **state) {
  const struct support *r = *state;
  struct sl_bearing_out out;
  assert_int_equal(sl_bearing(&r->in, &out, NULL), SL_OK);
  if (r->back > 0) assert_printed(out.back, r->back, r->unit, r->half);
  assert_printed(out.height, r->height, r->unit, r->half);
}

/* Printed to the eighth of an inch. */
static const struct cut { const char *name; double bearing, ground, depth, gravel, inches; } cuts[] = {
  { "cut, egg farm F1", 30.63, 0, 36, 6, 60 + 5. / 8 },
  { "cut, egg farm F2", 30.63, -0.5, 36, 6, 61 + 1. / 8 },
  { "cut, egg farm F3", 30.63, -1.0, 36, 6, 61 + 5. / 8 },
  { "cut, egg farm B1", 77.57, 0.75, 36, 6, 106 + 7. / 8 },
  { "cut, egg farm B2", 77.57, 0.25, 36, 6, 107 + 3. / 8 },
  { "cut, egg farm B3", 77.57, -0.5, 36, 6, 108 + 1. / 8 },
  { "cut, off-grid, first back post", 130.93, 12 * (4.62 - 4.31), 66, 6, 187 + 1. / 4 },
  { "cut, off-grid, second back post", 130.93, 12 * (4.62 - 4.40), 66, 6, 188 + 1. / 4 },
  { "cut, off-grid, third back post", 130.93, 12 * (4.62 - 4.66), 66, 6, 191 + 3. / 8 },
  { "cut, off-grid, fourth back post", 130.93, 12 * (4.62 - 4.83), 66, 6, 193 + 1. / 2 },
};

static void cut_matches(void **state) {
  const struct cut *r = *state;
  const struct sl_post_cut_in in = { r->bearing * IN, r->ground * IN, r->depth * IN, r->gravel * IN, false, 0 };
  struct sl_post_cut_out out;
  assert_int_equal(sl_post_cut(&in, &out, NULL), SL_OK);
  assert_near(out.cut_length / IN, r->inches, 0.0626 / r->inches);
  assert_near(out.embedment / IN, r->depth - r->gravel, 1e-12);
  assert_near(out.above_ground + out.embedment, out.cut_length, 1e-12);
}

static const struct triangle { const char *name; double along, across, want, half; } triangles[] = {
  { "diagonal 3-4-5", 3, 4, 5, 1e-12 },
  { "diagonal 5-12-13", 5, 12, 13, 1e-12 },
  { "diagonal, egg farm, to 1/4 in", 145 * IN, 67.03 * IN, 159.75 * IN, 0.125 * IN },
  { "diagonal, off-grid", 240 * IN, 46.64 * IN, 244.49 * IN, 0.00501 * IN },
  { "diagonal, packhouse", 10400 * MM, 0.6 * 4576 * 0.7660444 * MM, 10611 * MM, 0.501 * MM },
  /* A post-frame maker's layout page: 50 ft x 84 ft is 97 ft 9-1/16 in. */
  { "diagonal, 50 ft x 84 ft building", 50 * FT, 84 * FT, 97 * FT + (9 + 1. / 16) * IN, 1. / 32 * IN },
};

static void triangle_matches(void **state) {
  const struct triangle *r = *state;
  const struct sl_diagonal_in in = { r->along, r->across };
  struct sl_diagonal_out out;
  assert_int_equal(sl_diagonal(&in, &out, NULL), SL_OK);
  assert_near(out.diagonal, r->want, r->half / r->want);
}

static const struct place {
  const char *name;
  struct sl_stations_in in;
  int post;                              /* counted from the west */
  double offset, overhang, tributary;    /* in */
} places[] = {
  { "station, off-grid, west end", { 6948 * MM, 4, 80 * IN }, 1, 16.77, 16.77, 56.77 },
  { "station, off-grid, second", { 6948 * MM, 4, 80 * IN }, 2, 96.77, 16.77, 80 },
  { "station, off-grid, third", { 6948 * MM, 4, 80 * IN }, 3, 176.77, 16.77, 80 },
  { "station, off-grid, east end", { 6948 * MM, 4, 80 * IN }, 4, 256.77, 16.77, 56.77 },
  { "station, ranch, west end", { 544.4 * IN, 7, 84 * IN }, 1, 20.2, 20.2, 62.2 },
  { "station, ranch, east end", { 544.4 * IN, 7, 84 * IN }, 7, 524.2, 20.2, 62.2 },
  { "station, one post in the middle", { 100 * IN, 1, 72 * IN }, 1, 50, 50, 100 },
  { "station, posts at the very ends", { 240 * IN, 3, 120 * IN }, 3, 240, 0, 60 },
};

static void place_matches(void **state) {
  const struct place *r = *state;
  struct sl_stations_out out;
  assert_int_equal(sl_stations(&r->in, &out, room_of(sl_stations_need(&r->in)), NULL), SL_OK);
  assert_int_equal(out.nstations, r->in.posts);
  const struct sl_station *post = &out.stations[r->post - 1];
  assert_near(post->offset, r->offset * IN, 0.00501 / r->offset);
  assert_near(out.overhang / IN - r->overhang, 0, 0.00501);
  assert_near(post->tributary, r->tributary * IN, 0.00501 / r->tributary);
}

/* East is least, west is best: the navigator's rule (from memory). */
static const struct heading { const char *name; double compass, declination, want; } headings[] = {
  { "true bearing, egg farm: 184 with 4 west", 184, -4, 180 },
  { "true bearing, east adds", 170, 8.5, 178.5 },
  { "true bearing, past north eastward", 350, 24.6, 14.6 },
  { "true bearing, past north westward", 2, -4, 358 },
  { "true bearing, north itself", 4, -4, 0 },
  { "true bearing, 360 is north", 360, 0, 0 },
};

static void heading_matches(void **state) {
  const struct heading *r = *state;
  const struct sl_true_bearing_in in = { r->compass * DEGREE, r->declination * DEGREE };
  struct sl_true_bearing_out out;
  assert_int_equal(sl_true_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.bearing / DEGREE, r->want, 1e-9);
  assert_true(out.bearing >= 0 && out.bearing < 360 * DEGREE);
}

static void areas_and_means(void **state) {
  (void)state;
  struct sl_layout_out out;
  assert_int_equal(sl_layout(&outlines[0].in, &out, NULL), SL_OK);
  assert_near(out.area, 4.596 * 3.464, 1e-12);
  assert_near(out.module_area, 8 * 1.722 * 1.134, 1e-12);
  assert_near(out.mean_height, (24 * IN + out.top_edge) / 2, 1e-12);
  assert_near(hypot(out.rise, out.run), out.slope_length, 1e-12);
}

static void steeper_is_higher_and_shallower(void **state) {
  (void)state;
  struct sl_layout_in in = outlines[0].in;
  struct sl_layout_out flat, steep;
  in.tilt = 20 * DEGREE;
  assert_int_equal(sl_layout(&in, &flat, NULL), SL_OK);
  in.tilt = 50 * DEGREE;
  assert_int_equal(sl_layout(&in, &steep, NULL), SL_OK);
  assert_true(steep.top_edge > flat.top_edge && steep.run < flat.run);
}

static void rail_has_both_ends(void **state) {
  (void)state;
  const struct sl_rail_length_in in = { 180.9 * IN, 1.25 * IN };
  struct sl_rail_length_out out;
  assert_int_equal(sl_rail_length(&in, &out, NULL), SL_OK);
  assert_near(out.length / IN, 183.4, 1e-9);
}

static void tributaries_add_up_to_the_row(void **state) {
  (void)state;
  const struct sl_stations_in in = { 180.9 * IN, 3, 72.5 * IN };
  struct sl_stations_out out;
  assert_int_equal(sl_stations(&in, &out, room_of(sl_stations_need(&in)), NULL), SL_OK);
  double sum = 0;
  for (size_t i = 0; i < out.nstations; i++) sum += out.stations[i].tributary;
  assert_near(sum / IN, 180.9, 1e-9);
}

/* Posts from end to end of their row: 3 x 0.1 m is 0.30000000000000004 in binary, and the row 0.3. */
static void posts_from_end_to_end_stand_in_their_row(void **state) {
  (void)state;
  const struct sl_stations_in in = { 0.3, 4, 0.1 };
  assert_true(in.spacing * 3 > in.row_width);
  struct sl_stations_out out;
  assert_int_equal(sl_stations(&in, &out, room_of(sl_stations_need(&in)), NULL), SL_OK);
  assert_near(out.stations[3].offset, 0.3, 1e-9);
  assert_near(out.overhang, 0, 1e-9);
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_stations_out stations;
  const struct sl_stations_in wide = { 100 * IN, 3, 60 * IN }, none = { 100 * IN, 0, 60 * IN },
                              many = { 1e9, 1000001, 1e-9 }, few = { 100 * IN, 2, 60 * IN };
  assert_int_equal(sl_stations(&wide, &stations, room_of(sl_stations_need(&wide)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "spacing");
  assert_int_equal(sl_stations_need(&none), 0);
  assert_int_equal(sl_stations(&none, &stations, room_of(0), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "posts");
  assert_int_equal(sl_stations_need(&many), 0);
  assert_int_equal(sl_stations(&many, &stations, room_of(0), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "posts");
  assert_int_equal(sl_stations(&few, &stations, room_of(sl_stations_need(&few) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
  struct sl_post_cut_out cut;
  const struct sl_post_cut_in buried = { 10 * IN, 12 * IN, 36 * IN, 6 * IN, false, 0 };
  assert_int_equal(sl_post_cut(&buried, &cut, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "bearing_height");
  const struct sl_post_cut_in gravelly = { 30 * IN, 0, 36 * IN, 36 * IN, false, 0 };
  assert_int_equal(sl_post_cut(&gravelly, &cut, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "gravel");
  struct sl_layout_in turned = outlines[0].in;
  turned.module_length = 1134 * MM;
  turned.module_width = 1722 * MM;
  struct sl_layout_out out;
  assert_int_equal(sl_layout(&turned, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "module_length");
  struct sl_layout_in flat = outlines[0].in;
  flat.module_length = 0;
  assert_int_equal(sl_layout(&flat, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "module_length");
  assert_string_equal(sheet.fault.text, "must be greater than 0");
  struct sl_layout_in endless = outlines[0].in;
  endless.module_length = INFINITY;
  assert_int_equal(sl_layout(&endless, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "module_length");
  struct sl_layout_in nothing = outlines[0].in;
  nothing.columns = 0;
  assert_int_equal(sl_layout(&nothing, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "columns");
}

/* The check on sheets can fail: a name that comes from nowhere, and one that comes too late. */
static void an_unexplained_name_is_found(void **state) {
  (void)state;
  struct sl_row rows[] = {
    { .kind = SL_ROW_GIVEN, .symbol = "a", .text = "", .cite = "", .value = 1 },
    { .kind = SL_ROW_STEP, .symbol = "b", .text = "fmax(a, 1e-9) + 2.5 * c", .cite = "x", .value = 3 },
    { .kind = SL_ROW_GIVEN, .symbol = "c", .text = "", .cite = "", .value = 1 },
  };
  struct sl_sheet sheet = { .row = rows, .n = 3, .cap = 3 };
  size_t len;
  const char *word = sheet_unexplained(&sheet, 1, &len);
  assert_non_null(word);
  assert_int_equal(len, 1);
  assert_int_equal(*word, 'c');
  sheet.row[1].text = "fmax(a, 1e-9) + 0x10 + .5 * a";
  assert_null(sheet_unexplained(&sheet, 1, &len));
}

/* By hand. */
static const struct facing { const char *name; double bearing, latitude, off; } facings[] = {
  { "south in the north", 180, 36, 0 },          { "20 deg west of south", 200, 36, 20 },
  { "north in the north", 0, 36, 180 },          { "due east in the north", 90, 36, 90 },
  { "10 deg west of north in the south", 350, -36, 10 }, { "10 deg east of north in the south", 10, -36, 10 },
  { "full turn is north", 360, -36, 0 },         { "south on the equator", 180, 0, 0 },
  { "north on the equator", 0, 0, 0 },           { "30 deg west of north on the equator", 330, 0, 30 },
  { "a hair south of it", 180, -0.001, 180 },
};

static void facing_matches(void **state) {
  const struct facing *r = *state;
  const struct sl_facing_in in = { r->bearing * DEGREE, r->latitude * DEGREE };
  struct sl_facing_out out;
  assert_int_equal(sl_facing(&in, &out, NULL), SL_OK);
  assert_near(out.off / DEGREE - r->off, 0, 1e-9);
  assert_near(out.most / DEGREE, 20, 1e-12);     /* common practice, no source */
}

/* 29 CFR 1926.1408 Table A, read second-hand: 10 ft to 50 kV. */
static void a_line_is_kept_clear_of(void **state) {
  (void)state;
  const struct sl_overhead_in in = { 12 * FT };
  struct sl_overhead_out out;
  assert_int_equal(sl_overhead(&in, &out, NULL), SL_OK);
  assert_near(out.least / FT, 22, 1e-12);
}

static const struct sl_facing_in good_facing = { 3, 0.6 };
static const struct sl_overhead_in good_overhead = { 3 };
static const struct sl_rail_length_in good_rail = { 4, 0.03 };
static const struct sl_diagonal_in good_diagonal = { 3, 4 };
static const struct sl_post_cut_in good_cut = { 1, 0.1, 1, 0.1, false, 0 };
static const struct sl_true_bearing_in good_heading = { 1, 0.1 };
static const struct op_case ops[] = {
  { "layout", &outlines[0].in }, { "bearing", &supports[0].in },
  { "post_cut", &good_cut }, { "diagonal", &good_diagonal },
  { "rail_length", &good_rail }, { "stations", &places[0].in },
  { "true_bearing", &good_heading }, { "facing", &good_facing },
  { "overhead", &good_overhead },
};

int main(void) {
  struct CMUnitTest tests[96];
  size_t n = 0;
  ADD_ROWS(tests, n, outlines, outline_matches);
  ADD_ROWS(tests, n, supports, support_matches);
  ADD_ROWS(tests, n, cuts, cut_matches);
  ADD_ROWS(tests, n, triangles, triangle_matches);
  ADD_ROWS(tests, n, places, place_matches);
  ADD_ROWS(tests, n, headings, heading_matches);
  ADD_ROWS(tests, n, facings, facing_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(areas_and_means), cmocka_unit_test(steeper_is_higher_and_shallower),
    cmocka_unit_test(a_line_is_kept_clear_of), cmocka_unit_test(rail_has_both_ends),
    cmocka_unit_test(tributaries_add_up_to_the_row),
    cmocka_unit_test(posts_from_end_to_end_stand_in_their_row),
    cmocka_unit_test(nonsense_is_refused), cmocka_unit_test(an_unexplained_name_is_found),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("layout", tests, n, NULL, NULL);
}
