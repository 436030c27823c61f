/* SPDX-License-Identifier: MIT
 * Frames of stations: what is refused, by member and row; mechanisms, by station; room and counts; what holds of every
 * primitive. */
#include "op_check.h"
#include "us.h"
#include "stringline/side_frames.h"

#define COUNT(list) (sizeof list / sizeof *list)
#define PLAIN NAN, 0, 0, 0, 0, 0, 0         /* leans as the ground has it, a pin for a head, like all others */
#define STEEL .post_e = 200e9, .post_area = 1.44e-3, .post_inertia = 1.257e-6      /* any post */
#define LIST(member, list) .member = list, .n##member = COUNT(list)

static const struct sl_side_station two_stations[] = { { 2, NAN }, { 2, NAN } };
static const struct sl_side_post good_posts[] = { { 1, 1, 0.2, 1, 1, 0, PLAIN }, { 1, 2, 0.8, 2, 1, 0, PLAIN },
                                                  { 2, 1, 0.2, 1, 1, 0, PLAIN }, { 2, 2, 0.8, 2, 1, 1, PLAIN } };
static const struct sl_side_brace good_braces[] = { { 1, 2, 1, 0.1, 0.1 }, { 2, 1, 2, 0, 0.2 } };
static const struct sl_side_wind good_winds[] = { { -500, -900 }, { 400, 700 } };
static const struct sl_side_frames_in good = {
  .tilt = 30 * DEGREE, .slope_length = 4, .stack = 0.15, .dead_modules = 120, .dead_frame = 60,
  .frame_most = NAN, .snow = 700,
  .least = 480, STEEL, .rafter_e = 70e9, .rafter_area = 1e-3, .rafter_inertia = 1e-6, .brace_e = 200e9,
  .brace_area = 4e-4, LIST(stations, two_stations), LIST(posts, good_posts), LIST(braces, good_braces),
  LIST(winds, good_winds), .edition = "ASCE 7-16",
};

#define IN_(m) offsetof(struct sl_side_frames_in, m)
#define POST(i, m) ((i) * sizeof(struct sl_side_post) + offsetof(struct sl_side_post, m))
#define BRACE(i, m) ((i) * sizeof(struct sl_side_brace) + offsetof(struct sl_side_brace, m))
enum where { OF_IN, OF_STATIONS, OF_POSTS, OF_BRACES };
static const struct wrong { const char *name; enum where where; size_t at; double value; const char *member;
                            size_t item; } wrongs[] = {
  { "beyond upright", OF_IN, IN_(tilt), 91 * DEGREE, "tilt", 0 },
  { "leaning back", OF_IN, IN_(tilt), -1e-3, "tilt", 0 },
  { "no slope", OF_IN, IN_(slope_length), 0, "slope_length", 0 },
  { "stack below", OF_IN, IN_(stack), -0.1, "stack", 0 },
  { "snow that lifts", OF_IN, IN_(snow), -1, "snow", 0 },
  { "least wind below 0", OF_IN, IN_(least), -1, "least", 0 },
  { "post without area", OF_IN, IN_(post_area), 0, "post_area", 0 },
  { "rafter known by half", OF_IN, IN_(rafter_inertia), NAN, "rafter_inertia", 0 },
  { "braces of nothing", OF_IN, IN_(brace_area), NAN, "brace_area", 0 },
  { "second station without row", OF_STATIONS, sizeof(struct sl_side_station), 0, "stations[i].tributary", 2 },
  { "first post at station 2", OF_POSTS, POST(0, station), 2, "posts[i].station", 1 },
  { "a station that is not there", OF_POSTS, POST(3, station), 3, "posts[i].station", 4 },
  { "half a station", OF_POSTS, POST(3, station), 1.5, "posts[i].station", 4 },
  { "lines mirrored", OF_POSTS, POST(1, at), 0.1, "posts[i].at", 2 },
  { "two heads at one place", OF_POSTS, POST(3, at), 0.2, "posts[i].at", 4 },
  { "head beyond the slope", OF_POSTS, POST(1, at), 1.01, "posts[i].at", 2 },
  { "a line twice", OF_POSTS, POST(3, line), 1, "posts[i].line", 4 },
  { "line 11", OF_POSTS, POST(3, line), 11, "posts[i].line", 4 },
  { "line past any count", OF_POSTS, POST(3, line), 1e300, "posts[i].line", 4 },
  { "no height", OF_POSTS, POST(2, height), 0, "posts[i].height", 3 },
  { "depth above ground", OF_POSTS, POST(1, depth), -0.1, "posts[i].depth", 2 },
  { "half hinged", OF_POSTS, POST(1, hinged), 0.5, "posts[i].hinged", 2 },
  { "leaning back the other way", OF_POSTS, POST(1, leans), -0.01, "posts[i].leans", 2 },
  { "leg to the side", OF_POSTS, POST(1, leg_run), 0.5, "posts[i].leg_rise", 2 },
  { "leg below the head", OF_POSTS, POST(3, leg_rise), -0.5, "posts[i].leg_rise", 4 },
  { "leg of nothing", OF_POSTS, POST(3, leg_rise), 0.5, "leg_e", 0 },
  { "brace at station 3", OF_BRACES, BRACE(1, station), 3, "braces[i].station", 2 },
  { "brace between stations", OF_BRACES, BRACE(0, station), 1.5, "braces[i].station", 1 },
  { "brace at a station past any count", OF_BRACES, BRACE(0, station), 1e300, "braces[i].station", 1 },
  { "brace from no line", OF_BRACES, BRACE(1, foot_line), 3, "braces[i].foot_line", 2 },
  { "brace from between lines", OF_BRACES, BRACE(1, foot_line), 1.5, "braces[i].foot_line", 2 },
  { "brace to its own post", OF_BRACES, BRACE(0, head_line), 2, "braces[i].head_line", 1 },
  { "bolt in the ground", OF_BRACES, BRACE(0, low), -0.01, "braces[i].low", 1 },
  { "bolt over the head", OF_BRACES, BRACE(1, low), 1.1, "braces[i].low", 2 },
  { "bolt below the ground", OF_BRACES, BRACE(1, high), 2.1, "braces[i].high", 2 },
};
static void wrong_refused(void **state) {
  const struct wrong *r = *state;
  struct sl_side_frames_in in = good;
  struct sl_side_station stations[2];
  struct sl_side_post posts[4];
  struct sl_side_brace braces[2];
  memcpy(stations, two_stations, sizeof stations);
  memcpy(posts, good_posts, sizeof posts);
  memcpy(braces, good_braces, sizeof braces);
  in.stations = stations;
  in.posts = posts;
  in.braces = braces;
  void *const starts[] = { &in, stations, posts, braces };
  memcpy((char *)starts[r->where] + r->at, &r->value, sizeof r->value);
  struct sl_side_frames_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, r->member);
  assert_int_equal(sheet.fault.item, r->item);
}

static void counts_refused(void **state) {
  (void)state;
  struct sl_side_frames_out out;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_side_frames_in in = good;
  in.nposts = 2;                                          /* none at the second station */
  in.nbraces = 1;
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "posts");
  in = good;
  in.nstations = 0;
  assert_int_equal(sl_side_frames(&in, &out, room_of(0), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "stations");
  in = good;
  in.nwinds = 101;
  assert_int_equal(sl_side_frames(&in, &out, room_of(0), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "winds");
  in = good;
  struct sl_side_brace eleven[11];
  for (int i = 0; i < 11; i++) eleven[i] = good_braces[0];
  in.braces = eleven;
  in.nbraces = 11;
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "braces[i].station");
  assert_int_equal(sheet.fault.item, 11);
  in.nbraces = 10;
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_OK);
  const size_t need = sl_side_frames_need(&good);
  assert_int_equal(sl_side_frames(&good, &out, room_of(need - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
  in = good;
  strcpy(in.edition, "ASCE 7-05");
  assert_int_not_equal(sl_side_frames(&in, &out, room_of(need), &sheet), SL_OK);
  assert_string_equal(sheet.fault.member, "edition");
}

/* Modules may stand upright; their frame is none that is worked out here. */
static void upright(void **state) {
  (void)state;
  struct sl_side_frames_in in = good;
  in.tilt = 90 * DEGREE;
  struct sl_side_frames_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "tilt");
}

/* All feet hinged and no brace cannot stand: told by the station, here the second of two. */
static void mechanism(void **state) {
  (void)state;
  static const struct sl_side_brace foot_to_head[] = { { 1, 2, 1, 0, 0 } };     /* of the first only */
  static const struct sl_side_post posts[] = { { 1, 1, 0.2, 0.9, 1, 1, PLAIN }, { 1, 2, 0.8, 2, 1, 1, PLAIN },
                                               { 2, 1, 0.2, 0.9, 1, 1, PLAIN }, { 2, 2, 0.8, 2, 1, 1, PLAIN } };
  struct sl_side_frames_in in = good;
  in.posts = posts;
  in.braces = foot_to_head;
  in.nbraces = 1;
  struct sl_side_frames_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "stations");
  assert_int_equal(sheet.fault.item, 2);
  assert_non_null(strstr(sheet.fault.text, "heads move sideways"));
  /* One post alone: the rafter turns about its head. */
  static const struct sl_side_post single[] = { { 1, 1, 0.5, 1.5, 1, 0, PLAIN } };
  struct sl_side_frames_in alone = good;
  alone.nstations = alone.nposts = 1;
  alone.posts = single;
  alone.nbraces = 0;
  assert_int_equal(sl_side_frames(&alone, &out, room_of(sl_side_frames_need(&alone)), &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "stations");
  assert_int_equal(sheet.fault.item, 1);
  assert_non_null(strstr(sheet.fault.text, "only post"));
}

static const struct op_case ops[] = { { "side_frames", &good } };

int main(void) {
  struct CMUnitTest tests[64] = { cmocka_unit_test(counts_refused), cmocka_unit_test(mechanism),
                                  cmocka_unit_test(upright) };
  size_t n = 3;
  ADD_ROWS(tests, n, wrongs, wrong_refused);
  ADD_ROWS(tests, n, ops, op_behaves);
  return _cmocka_run_group_tests("side_refused", tests, n, NULL, NULL);
}
