/* SPDX-License-Identifier: MIT
 * Frames of stations seen from the side: a post's uplift worked by hand, closed forms of statics and of beams, balance
 * of generated stations with braces, leaning against the exact column; laws.  A hand calculation is no oracle: it is
 * statics written down a second time, in the comment beside it. */
#include <stdint.h>
#include "check.h"
#include "room.h"
#include "us.h"
#include "solve/side_model.h"

#define COUNT(list) (sizeof list / sizeof *list)
#define PIVOT 0.68                     /* of the depth, as interp/data/frame_facts.csv has it */

/* A post that leans as the ground has it, with a pin for a head, like all others of the rack. */
#define PLAIN NAN, 0, 0, 0, 0, 0, 0

/* Any steel post: a pipe of 3 in; its size moves nothing but leaning and drift. */
static const struct sl_side_station one_station[] = { { 2, NAN } };
static const struct sl_side_post level_posts[] = { { 1, 1, 0.25, 1.5, 1, 0, PLAIN }, { 1, 2, 0.75, 1.5, 1, 0, PLAIN } };
#define STEEL .post_e = 200e9, .post_area = 1.44e-3, .post_inertia = 1.257e-6
#define SOFT_RAFTER .rafter_e = NAN, .rafter_area = NAN, .rafter_inertia = NAN
#define NO_BRACE .brace_e = NAN, .brace_area = NAN
#define LIST(member, list) .member = list, .n##member = COUNT(list)
#define RACK .slope_length = 4, .frame_most = NAN, STEEL, SOFT_RAFTER, NO_BRACE, \
  LIST(stations, one_station), .edition = "ASCE 7-16"

/* ---- helpers ----------------------------------------------------------------------------------------------------- */

struct foot { double x, z, turn, moment; };       /* on the frame from the ground; moment in the post at grade */
struct one { struct side_model model; struct sl_frame_answer answer; };

static void solve(const struct sl_side_frames_in *in, int limit, struct one *one) {
  sl_side_build(in, in->posts, in->nposts, 1, &in->stations[0], PIVOT, limit, &one->model);
  const struct sl_frame frame = sl_side_frame(&one->model);
  struct sl_sheet sheet = { .cap = 0 };
  if (sl_frame_solve(&frame, &one->answer, room_of(sl_frame_need(&frame)), &sheet) != SL_OK)
    fail_msg("limit %d: %s: %s", limit, sheet.fault.member, sheet.fault.text);
}
static struct foot foot_of(const struct one *one, size_t post, const double share[SIDE_LOADS]) {
  const struct side_model *m = &one->model;
  struct foot f = { 0 };
  for (size_t k = 0; k < SIDE_LOADS; k++) {
    const double *r = &one->answer.reactions[(k * m->nnodes + (size_t)m->foot[post]) * 3];
    f.x += share[k] * r[0];
    f.z += share[k] * r[1];
    f.turn += share[k] * r[2];
    f.moment += share[k] * one->answer.ends[(k * m->nmembers + (size_t)m->above[post]) * 6 + 2];
  }
  return f;
}
static void run(const struct sl_side_frames_in *in, struct sl_side_frames_out *out) {
  struct sl_sheet sheet = { .cap = 0 };
  const enum sl_status status = sl_side_frames(in, out, room_of(sl_side_frames_need(in)), &sheet);
  if (status != SL_OK) fail_msg("%s: %s", sheet.fault.member, sheet.fault.text);
}
static const struct sl_side_strain *most_of(const struct sl_side_frames_out *out, int part, double line, int what) {
  const struct sl_side_strain *best = NULL;
  for (size_t i = 0; i < out->nstrains; i++) {
    const struct sl_side_strain *s = &out->strains[i];
    if (s->part != part || fabs(s->line - line) > 0) continue;
    const double value = what == 0 ? s->moment : what == 1 ? s->axial : -s->axial;
    if (!best || value > (what == 0 ? best->moment : what == 1 ? best->axial : -best->axial)) best = s;
  }
  assert_non_null(best);
  return best;
}

/* By hand, the level station under 500 Pa of modules, 1000 Pa of snow and 800 Pa of wind that presses: 8 m2, half on
 * each post.  1.2D + 1.6S + 0.5W: 1.2 x 2000 + 1.6 x 4000 + 0.5 x 3200 = 10,400 N, led by snow; 1.2D + 1.0W + 0.5S:
 * 2400 + 3200 + 2000 = 7600, by wind; 1.2D + 0.5S: 4400, more than 1.4D, by weight.  Allowable ones are told where
 * strength is not asked: D + 0.75(0.6W) + 0.75S 2000 + 1440 + 3000. */
static void strained_by_strength(void **state) {
  (void)state;
  static const struct sl_side_wind presses[] = { { 800, 800 } };
  struct sl_side_frames_in in = { RACK, .dead_modules = 500, .snow = 1000, LIST(posts, level_posts),
                                  LIST(winds, presses), .strength = true };
  const double want[] = { [SL_LASTS_AS_DEAD] = 4400, [SL_LASTS_AS_SNOW] = 10400, [SL_LASTS_AS_WIND] = 7600 };
  struct sl_side_frames_out out;
  run(&in, &out);
  int seen = 0;
  for (size_t i = 0; i < out.nstrains; i++) {
    const struct sl_side_strain *s = &out.strains[i];
    if (s->part != SL_PART_POST || !(s->axial > 0) || fabs(s->axial - want[s->duration]) > 1) continue;
    seen |= 1 << s->duration;
  }
  assert_int_equal(seen, 7);
  in.strength = false;
  run(&in, &out);
  const struct sl_side_strain *most = most_of(&out, SL_PART_POST, 1, 1);
  assert_near(most->axial, 6440, 1e-6);
  assert_string_equal(most->combination, "D + 0.75(0.6W) + 0.75S");
}

/* By hand: 500 Pa of modules on 4 x 2 m, 2000 N on each post.  The first head goes 50 mm as its ground gives way: 100
 * N m; where it holds the row alone, the other leans with it, pushes by 2000 x 0.05/1.5 = 66.7 N at the head, 2.18 m
 * above the point in the ground: 145.3 more.  The second by itself: 2000 x 0.02.  As posts bend it is more: buckling at
 * pi2 EI/(4 x 1.5 x 1.5) = 275.7 kN, 2000/275,700 = 0.00725; alone with 2000/1.5 of 3 EI/1.5^3 = 223.4 kN/m, 0.00597,
 * besides: 1/(1 - 0.01322) = 1.0134; 1.0073. */
static void leaning_of_one_post(void **state) {
  (void)state;
  const struct sl_side_post posts[] = { { 1, 1, 0.25, 1.5, 1, 0, 0.05, 0, 0, 0, 0, 0, 0 },
                                        { 1, 2, 0.75, 1.5, 1, 0, 0.02, 0, 0, 0, 0, 0, 0 } };
  const struct sl_side_frames_in in = { RACK, .dead_modules = 500, LIST(posts, posts) };
  struct sl_side_frames_out out;
  run(&in, &out);
  assert_near(out.feet[0].leans, 0.05, 1e-12);
  assert_near(out.feet[0].leaning_moment, 245.3 * 1.0134, 5e-4);
  assert_near(out.feet[1].leans, 0.02, 1e-12);
  assert_near(out.feet[1].leaning_moment, 40 * 1.0073, 5e-4);
}

/* ---- one post by hand -------------------------------------------------------------------------------------------- */

/* Hand calculation, not an oracle.  35 deg, slope 136.4 in, lines at 20 and 80 %, heads 31.125 and 77.3125 in above
 * ground, footings 60 in deep, 72.5 in of row; q Kd G = 23.04 x 0.7225 = 16.646 psf, CN of case B with the high edge to
 * the wind -2.4333 on the upper half and -0.5667 on the lower.  Half a slope has 34.34 sq ft: 1391 and 323.9 lbf lift
 * square to it, (323.9 x 6.82 + 1391 x 75.02)/81.84 = 1302 lbf of that at the back head, and 983.6 lbf push down the
 * slope.  The vertical force at the back is (1302 - 0.5736 Hb)/0.8192, Hb its share of the push:
 *   fixed      1/h3: Hb = 0.0613 x 983.6 = 60 lbf   -> 1547, x 0.6 = 928 lbf
 *   turning    1/(h + 0.68 d)2: 0.2705 x 983.6 = 266 -> 1403, x 0.6 = 842 lbf
 *   front alone  Hb = 0                              -> 1589, x 0.6 = 954 lbf */
static const struct sl_side_station farm_stations[] = { { 72.5 * IN, NAN } };
static const struct sl_side_post farm_posts[] = {
  { 1, 1, 0.2, 31.125 * IN, 60 * IN, 0, PLAIN }, { 1, 2, 0.8, 77.3125 * IN, 60 * IN, 0, PLAIN } };
static const struct sl_side_wind farm_winds[] = {
  { -0.5667 * 23.04 * 0.7225 * PSF, -2.4333 * 23.04 * 0.7225 * PSF } };
static const struct sl_side_frames_in farm = {
  .tilt = 35 * DEGREE, .slope_length = 136.4 * IN, .edition = "ASCE 7-16", STEEL, SOFT_RAFTER, NO_BRACE,
  LIST(stations, farm_stations), LIST(posts, farm_posts), LIST(winds, farm_winds),
};

static const struct uplift { const char *name; int limit; double pounds; } uplifts[] = {
  { "farm, back post: fixed at grade", SL_FIXED_AT_GRADE, 928 },
  { "farm, back post: footings turn", SL_TURNING, 842 },
  { "farm, back post: front line alone", SL_SHORTEST_ALONE, 954 },
};
static void uplift_matches(void **state) {
  const struct uplift *r = *state;
  const double share[SIDE_LOADS] = { [SIDE_LOW] = 0.6 * farm_winds[0].low, [SIDE_HIGH] = 0.6 * farm_winds[0].high };
  struct one one;
  solve(&farm, r->limit, &one);
  assert_near(-foot_of(&one, 1, share).z / LBF, r->pounds, 0.005);
}
/* The most of the three limits: the front line alone. */
static void farm_envelope(void **state) {
  (void)state;
  struct sl_side_frames_out out;
  run(&farm, &out);
  assert_int_equal(out.nfeet, 2);
  assert_near(out.feet[1].net_up / LBF, 954, 0.005);
  assert_near(out.feet[1].up / LBF, 1589, 0.005);
  assert_int_equal(out.feet[1].net_up_limit, SL_SHORTEST_ALONE);
  assert_int_equal(out.feet[1].up_limit, SL_SHORTEST_ALONE);
  assert_near(out.feet[1].net_up_case, 1, 1e-12);
  /* All 983.6 lbf on the front foot then, x 0.6, and at 31.125 in. */
  assert_near(out.feet[0].push / LBF, 590.2, 0.005);
  assert_near(out.feet[0].push_moment / LBF / IN, 590.2 * 31.125, 0.005);
  assert_near(out.feet[0].side / LBF, 983.6, 0.005);
}

/* ---- closed forms ------------------------------------------------------------------------------------------------ */

/* Level and symmetrical: (50 + 100) Pa x 4 m x 2 m = 1200 N, half on each foot; D + S with 800 Pa of snow 3800 N. */
static void halves(void **state) {
  (void)state;
  const struct sl_side_frames_in in = { RACK, LIST(posts, level_posts), .stack = 0.2, .dead_frame = 50,
                                        .dead_modules = 100, .snow = 800 };
  struct sl_side_frames_out out;
  run(&in, &out);
  for (size_t i = 0; i < 2; i++) {
    assert_near(out.feet[i].dead, 600, 1e-7);
    assert_near(out.feet[i].pressed, 3800, 1e-7);
    assert_string_equal(out.feet[i].pressed_combination, "D + S");
    assert_near(out.feet[i].strength_down, 1.2 * 600 + 1.6 * 3200, 1e-7);        /* 1.2D + 1.6S + 0.5W has no wind */
    assert_near(out.feet[i].up + out.feet[i].net_up + out.feet[i].push, 0, 1e-6);
  }
  /* The snow of 2.5 m of the row, of which it carries 2 m of all else: 800 x 4 x 2.5 / 2 + 600. */
  static const struct sl_side_station partial[] = { { 2, 2.5 } };
  struct sl_side_frames_in more = in;
  more.stations = partial;
  run(&more, &out);
  for (size_t i = 0; i < 2; i++) {
    assert_near(out.feet[i].dead, 600, 1e-7);
    assert_near(out.feet[i].pressed, 4600, 1e-7);
  }
}

/* Level posts under the middles of the halves: each has the wind of its half, 4 m2, and none pushes it. */
static void level_halves(void **state) {
  (void)state;
  static const struct sl_side_wind winds[] = { { 300, -100 }, { -722.5, 200 } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, level_posts), LIST(winds, winds), .least = 800 };
  struct sl_side_frames_out out;
  run(&in, &out);
  assert_near(out.feet[0].up, 722.5 * 4, 1e-7);
  assert_near(out.feet[0].down, 300 * 4, 1e-7);
  assert_near(out.feet[1].up, 100 * 4, 1e-7);
  assert_near(out.feet[1].down, 200 * 4, 1e-7);
  assert_near(out.feet[0].up_case, 2, 1e-12);
  assert_near(out.feet[1].up_case, 1, 1e-12);
  assert_near(out.feet[0].side + 1, 1, 1e-6);
  assert_near(out.feet[1].side + 1, 1, 1e-6);
}

/* One line of posts, whose heads hold the rafter: the moment there is C [N_high (0.75 - s) + N_low (0.25 - s)], N of
 * the halves; at grade the push has its height on top.  4 m of slope at 30 deg, s 0.4, 2 m of row, posts of 1.5 m.
 * 300 and -500 Pa: N 1200 and -2000 N, 4 (-700 - 180) = -3520 N m; -800 N square to the slope push 400 N sideways, the
 * same way round: 4120 N m at grade.  -750 and 250 Pa: 4 (350 + 450) = 3200 N m, 1000 N the other way round: 1700.
 * The wind's 0.6 of all.  Weight that is 0.1 of the slope above the head: 800 N x 0.4 m x cos 30, and no push. */
static void one_line(void **state) {
  (void)state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.4, 1.5, 1, 0, NAN, 1, 0, 0, 0, 0, 0 } };
  static const struct sl_side_wind first[] = { { 300, -500 } }, other[] = { { -750, 250 } };
  struct sl_side_frames_in in = { RACK, LIST(posts, posts), LIST(winds, first), .tilt = 30 * DEGREE };
  struct sl_side_frames_out out;
  run(&in, &out);
  assert_near(out.feet[0].up, 800 * cos(30 * DEGREE), 1e-7);
  assert_near(out.feet[0].push, 240, 1e-7);
  assert_near(out.feet[0].moment, 0.6 * 4120, 1e-7);
  assert_near(most_of(&out, SL_PART_POST, 1, 0)->moment, 0.6 * 4120, 1e-7);
  in.winds = other;
  run(&in, &out);
  assert_near(out.feet[0].moment, 0.6 * 1700, 1e-7);
  assert_near(most_of(&out, SL_PART_POST, 1, 0)->moment, 0.6 * 3200, 1e-7);
  in.nwinds = 0;
  in.dead_modules = 100;
  run(&in, &out);
  assert_near(out.feet[0].moment, 800 * 0.4 * cos(30 * DEGREE), 1e-2);      /* leaning has a little of it */
  assert_near(out.feet[0].dead, 800, 1e-7);
  assert_true(out.feet[0].push < 1e-6);
  /* A pin instead is a mechanism. */
  static const struct sl_side_post pin[] = { { 1, 1, 0.4, 1.5, 1, 0, NAN, NAN, 0, 0, 0, 0, 0 } };
  in.posts = pin;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_NO_ANSWER);
  assert_non_null(strstr(sheet.fault.text, "the rafter turns freely about the head of its only post"));
}

/* Unlike lines: a back post of twice the height and eight times the stiffness is as stiff sideways, 3 EI / h3: fixed at
 * grade each has half of the push.  Footings that turn share by height and depth alone, 1/(h + 0.68 d)2. */
static void unlike_lines(void **state) {
  (void)state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.2, 1, 1, 0, PLAIN },
                                               { 1, 2, 0.8, 2, 1, 0, NAN, 0, 200e9, 5e-3, 8 * 1.257e-6, 0, 0 } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, posts), .tilt = 30 * DEGREE };
  const double share[SIDE_LOADS] = { [SIDE_LOW] = 400, [SIDE_HIGH] = 400 }, push = 400 * 8 * 0.5;
  struct one one;
  solve(&in, SL_FIXED_AT_GRADE, &one);
  assert_near(fabs(foot_of(&one, 0, share).x), push / 2, 5e-3);
  assert_near(fabs(foot_of(&one, 1, share).x), push / 2, 5e-3);
  solve(&in, SL_TURNING, &one);
  assert_near(fabs(foot_of(&one, 1, share).x), push / (1 + 2.68 * 2.68 / (1.68 * 1.68)), 1e-2);
}

/* The front alone: only the back's head turns the rafter, square to it by p C (0.5 - a)/(b - a), and its post stands
 * upright: over cos t.  500 Pa down on all of it. */
static void front_alone(void **state) {
  (void)state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.2, 1, 1, 0, PLAIN }, { 1, 2, 0.9, 2, 1, 0, PLAIN } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, posts), .tilt = 25 * DEGREE };
  const double share[SIDE_LOADS] = { [SIDE_LOW] = 500, [SIDE_HIGH] = 500 }, all = 500 * 4 * 2;
  struct one one;
  solve(&in, SL_SHORTEST_ALONE, &one);
  const struct foot front = foot_of(&one, 0, share), back = foot_of(&one, 1, share);
  assert_near(back.z, all * 0.3 / 0.7 / cos(25 * DEGREE), 1e-7);
  assert_near(back.x + 1, 1, 1e-6);
  assert_near(front.x, -all * sin(25 * DEGREE), 1e-7);
  assert_near(front.z, all * cos(25 * DEGREE) - back.z, 1e-7);
}

/* Two posts of one height on a slope share a push equally, fixed or turning. */
static void equals(void **state) {
  (void)state;
  const struct sl_side_frames_in in = { RACK, LIST(posts, level_posts), .tilt = 20 * DEGREE, .least = 800 };
  const double share[SIDE_LOADS] = { [SIDE_LEAST] = 1 }, half = 800 * sin(20 * DEGREE) * 4 * 2 / 2;
  for (int limit = SL_FIXED_AT_GRADE; limit <= SL_TURNING; limit++) {
    struct one one;
    solve(&in, limit, &one);
    for (size_t i = 0; i < 2; i++) assert_near(foot_of(&one, i, share).x, -half, 0.005);
  }
}

/* Sharing between unlike posts: a cantilever's head gives way by h3/(3 EI), the head over a footing that turns by (h +
 * 0.68 d)2 / spring; the footings' springs are alike. */
static const struct pair { const char *name; double h1, d1, h2, d2; } pairs[] = {
  { "share: 0.8 and 2 m, footings alike", 0.8, 1.5, 2, 1.5 },
  { "share: 1 and 1.6 m, the back deeper", 1, 1, 1.6, 2 },
  { "share: 0.7 and 2.4 m, on no depth", 0.7, 0, 2.4, 0 },
};
static void pair_shares(void **state) {
  const struct pair *r = *state;
  const struct sl_side_post posts[] = { { 1, 1, 0.2, r->h1, r->d1, 0, PLAIN }, { 1, 2, 0.8, r->h2, r->d2, 0, PLAIN } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, posts), .tilt = 30 * DEGREE, .least = 700 };
  const double share[SIDE_LOADS] = { [SIDE_LEAST] = 1 }, all = 700 * 0.5 * 4 * 2;
  const double fixed1 = pow(r->h1, -3), fixed2 = pow(r->h2, -3);
  const double turn1 = pow(r->h1 + PIVOT * r->d1, -2), turn2 = pow(r->h2 + PIVOT * r->d2, -2);
  struct one one;
  solve(&in, SL_FIXED_AT_GRADE, &one);
  struct foot front = foot_of(&one, 0, share), back = foot_of(&one, 1, share);
  assert_near(-front.x, all * fixed1 / (fixed1 + fixed2), 0.02);
  assert_near(-back.x, all * fixed2 / (fixed1 + fixed2), 0.02);
  /* Where no brace is, the moment at grade is the push by the height. */
  assert_near(fabs(front.moment), fabs(front.x) * r->h1, 1e-7);
  assert_near(fabs(back.moment), fabs(back.x) * r->h2, 1e-7);
  assert_near(fabs(front.turn), fabs(front.x) * r->h1, 1e-7);
  solve(&in, SL_TURNING, &one);
  front = foot_of(&one, 0, share);
  back = foot_of(&one, 1, share);
  assert_near(-front.x, all * turn1 / (turn1 + turn2), 0.02);
  assert_near(-back.x, all * turn2 / (turn1 + turn2), 0.02);
  assert_near(fabs(back.moment), fabs(back.x) * r->h2, 1e-7);
}

/* Three lines, level: a beam w on three springs k = EA/h, spans L and overhangs c.  Without the middle it sinks there
 * by 5 w (2L)4/(384 EI) - w c2/2 (2L)2/(8 EI) and (W/2)/k; the middle takes what brings it back to R/k:
 * R ((2L)3/(48 EI) + 3/(2k)) = that.  Stiff the rafter: W/3; stiff the posts: the beam on three supports. */
static const struct three { const char *name; double rafter_inertia, post_area, near, within; } threes[] = {
  { "three lines, rafter of 2e-6 m4", 2e-6, 1.44e-3, NAN, 1e-6 },
  { "three lines, slender posts", 2e-6, 1e-5, NAN, 1e-6 },
  { "three lines, a very stiff rafter: thirds", 2e-3, 1e-4, 1. / 3, 0.01 },
  /* W = 8/3 L w at c = L/3: R = w L (1 + 1/4 - 1/(2 x 9) - ... ) = w L 1.25 - 1.5 w c2/L = 1.08333 w L = 0.40625 W */
  { "three lines, very stiff posts: beam on supports", 2e-7, 0.1, 0.40625, 0.001 },
};
static void three_matches(void **state) {
  const struct three *r = *state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.125, 1.5, 1, 0, PLAIN }, { 1, 2, 0.5, 1.5, 1, 0, PLAIN },
                                               { 1, 3, 0.875, 1.5, 1, 0, PLAIN } };
  struct sl_side_frames_in in = { RACK, LIST(posts, posts) };
  in.post_area = r->post_area;
  in.rafter_e = 200e9;
  in.rafter_area = 1e-3;
  in.rafter_inertia = r->rafter_inertia;
  const double share[SIDE_LOADS] = { [SIDE_LOW] = 500, [SIDE_HIGH] = 500 };
  const double w = 500 * 2, c = 0.5, two = 3, all = w * 4, ei = 200e9 * r->rafter_inertia;
  const double k = 200e9 * r->post_area / 1.5;
  const double sinks = 5 * w * pow(two, 4) / (384 * ei) - w * c * c / 2 * two * two / (8 * ei) + all / 2 / k;
  const double middle = sinks / (pow(two, 3) / (48 * ei) + 1.5 / k);
  struct one one;
  solve(&in, SL_FIXED_AT_GRADE, &one);
  assert_near(foot_of(&one, 1, share).z, middle, 1e-6);
  assert_near(foot_of(&one, 0, share).z, (all - middle) / 2, 1e-6);
  assert_near(foot_of(&one, 2, share).z, (all - middle) / 2, 1e-6);
  if (!isnan(r->near)) assert_near(middle / all, r->near, r->within);
}

/* ---- the rafter -------------------------------------------------------------------------------------------------- */

/* Level, 10 and 85 %, w = (D + S) 2 m: R1 = 0.35/0.75 w C, no shear at x = 0.46667 C, and there
 * M = w C2 (0.46667 (0.46667 - 0.1) - 0.46667^2/2) = 0.062222 w C2: between the nodes, at 50 % it is 0.061667. */
static void rafter_bends(void **state) {
  (void)state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.1, 1.5, 1, 0, PLAIN }, { 1, 2, 0.85, 1.5, 1, 0, PLAIN } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, posts), .dead_frame = 100, .snow = 900 };
  struct sl_side_frames_out out;
  run(&in, &out);
  const double w = 1000 * 2, x = 0.35 / 0.75;
  const struct sl_side_strain *s = most_of(&out, SL_PART_RAFTER, 0, 0);
  assert_near(s->moment / out.leaning, w * 16 * (x * (x - 0.1) - x * x / 2), 1e-6);
  assert_near(s->shear, w * 4 * (0.4 / 0.75 - 0.15), 1e-6);        /* just below the upper head: R2 less the overhang */
  assert_int_equal(s->duration, SL_LASTS_AS_SNOW);
}

/* Weight alone, the front held and the back hinged, so that the posts push upwards only: at 10 and 80 % the back
 * has 0.4/0.7 W.  Along the rafter, x sin t: above the back 0.2 W press, below it 0.2 - 0.5714 = -0.3714, above the
 * front 0.9 - 0.5714 = 0.3286, below it -0.1. */
static void rafter_along(void **state) {
  (void)state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.1, 0.8, 1, 0, PLAIN }, { 1, 2, 0.8, 2, 1, 1, PLAIN } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, posts), .tilt = 30 * DEGREE, .dead_frame = 100 };
  struct sl_side_frames_out out;
  run(&in, &out);
  const double along = 100 * 4 * 2 * 0.5;
  assert_near(most_of(&out, SL_PART_RAFTER, 0, 1)->axial, along * (0.9 - 0.4 / 0.7), 1e-6);
  assert_near(-most_of(&out, SL_PART_RAFTER, 0, 2)->axial, along * (0.4 / 0.7 - 0.2), 1e-6);
  assert_near(most_of(&out, SL_PART_POST, 2, 1)->axial, 800 * 0.4 / 0.7, 1e-6);
}

/* ---- balance ----------------------------------------------------------------------------------------------------- */

static double drawn(uint64_t *seed, double low, double high) {
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return low + (high - low) * (double)(*seed >> 11) / 9007199254740992.0;
}

/* No two joints within a hand's breadth: those of millimetres are as stiff as rounding has digits, and are told so. */
struct any { struct sl_side_frames_in in; struct sl_side_station station[1]; struct sl_side_post posts[5];
             struct sl_side_brace braces[3]; struct sl_side_wind winds[4]; };
static void draw(uint64_t *seed, struct any *a) {
  *a = (struct any){ .in = { RACK } };
  struct sl_side_frames_in *in = &a->in;
  const size_t n = 2 + (size_t)drawn(seed, 0, 3.99);
  in->tilt = drawn(seed, 0, 50) * DEGREE;
  in->slope_length = drawn(seed, 2, 6);
  in->stack = drawn(seed, 0, 0.4);
  in->dead_modules = drawn(seed, 80, 200);
  in->post_inertia = 2e-5;                    /* so stout that none buckles */
  in->post_area = 4e-3;
  in->dead_frame = drawn(seed, 30, 120);
  in->snow = drawn(seed, 0, 2000);
  in->least = drawn(seed, 0, 800);
  if (drawn(seed, 0, 1) < 0.5) {
    in->rafter_e = 70e9;
    in->rafter_area = drawn(seed, 5e-4, 2e-3);
    in->rafter_inertia = drawn(seed, 3e-7, 3e-6);
  }
  in->brace_e = 200e9;
  in->brace_area = drawn(seed, 2e-4, 1e-3);
  a->station[0] = (struct sl_side_station){ drawn(seed, 1, 4), NAN };
  in->stations = a->station;
  const double low = drawn(seed, 0, 0.3), high = drawn(seed, 0.6, 1), first = drawn(seed, 0.5, 1.2);
  for (size_t i = 0; i < n; i++) {
    double at = low + (high - low) * (double)i / (double)(n - 1);
    if (fabs(at - 0.5) * in->slope_length < 0.1) at = 0.5;
    a->posts[i] = (struct sl_side_post){ 1, (double)i + 1, at, first + (at - low) * in->slope_length * sin(in->tilt) +
        drawn(seed, 0, 0.3), drawn(seed, 0.3, 2), i > 0 && drawn(seed, 0, 1) < 0.2 ? 1 : 0, PLAIN };
  }
  in->posts = a->posts;
  in->nposts = n;
  in->nbraces = (size_t)drawn(seed, 0, 3.99);
  for (size_t i = 0; i < in->nbraces; i++) {
    const size_t foot = (size_t)drawn(seed, 0, (double)n - 0.01), head = (foot + 1 + i) % n == foot ? (foot + 1) % n :
        (foot + 1 + i) % n;
    a->braces[i] = (struct sl_side_brace){ 1, (double)foot + 1, (double)head + 1,
        a->posts[foot].height * 0.15 * (double)i, a->posts[head].height * 0.15 * (double)(2 - i) };
  }
  in->braces = a->braces;
  in->nwinds = 4;
  for (size_t i = 0; i < 4; i++)
    a->winds[i] = (struct sl_side_wind){ drawn(seed, -1500, 1500), drawn(seed, -1500, 1500) };
  in->winds = a->winds;
}

/* What acts by the header's words, as one force at one place: `along` the slope from its lower edge and `over` it. */
struct acts { double x, z, along, over; };
static struct acts acting(const struct sl_side_frames_in *in, size_t load) {
  const double C = in->slope_length, w = in->stations[0].tributary, s = sin(in->tilt), c = cos(in->tilt);
  switch (load) {
  case SIDE_FRAME:        return (struct acts){ 0, -in->dead_frame * C * w, C / 2, in->stack / 2 };
  case SIDE_MODULES_LOW:  return (struct acts){ 0, -in->dead_modules * C / 2 * w, C / 4, in->stack };
  case SIDE_MODULES_HIGH: return (struct acts){ 0, -in->dead_modules * C / 2 * w, 3 * C / 4, in->stack };
  case SIDE_SNOW:         return (struct acts){ 0, -in->snow * C * c * w, C / 2, in->stack };
  case SIDE_LOW:          return (struct acts){ s * C / 2 * w, -c * C / 2 * w, C / 4, in->stack };
  case SIDE_HIGH:         return (struct acts){ s * C / 2 * w, -c * C / 2 * w, 3 * C / 4, in->stack };
  default:                return (struct acts){ in->least * C * s * w, 0, C / 2, in->stack };
  }
}

/* Joints and ground are in balance with what acts, under each load. */
static void balances(const struct sl_side_frames_in *in, int limit, int round) {
  struct one one;
  solve(in, limit, &one);
  const struct side_model *m = &one.model;
  for (size_t k = 0; k < SIDE_LOADS; k++) {
    const struct acts f = acting(in, k);
    const double s = sin(in->tilt), c = cos(in->tilt);
    const double x = f.along * c - f.over * s, z = f.along * s + f.over * c;
    double sum[3] = { f.x, f.z, x * f.z - z * f.x }, most = hypot(f.x, f.z), turn = fabs(sum[2]);
    for (size_t i = 0; i < m->nnodes; i++) {
      const double *r = &one.answer.reactions[(k * m->nnodes + i) * 3];
      sum[0] += r[0];
      sum[1] += r[1];
      sum[2] += r[2] + m->nodes[i].x * r[1] - m->nodes[i].z * r[0];
      most = fmax(most, hypot(r[0], r[1]));
      turn = fmax(turn, fabs(r[2]) + hypot(m->nodes[i].x, m->nodes[i].z) * hypot(r[0], r[1]));
    }
    /* Footings that turn give way by thousands of times what bends: fewer digits are left (frame.h). */
    const double left = limit == SL_TURNING ? 2e-8 : 1e-9;
    if (fabs(sum[0]) > left * most || fabs(sum[1]) > left * most || fabs(sum[2]) > left * turn)
      fail_msg("round %d, limit %d, load %zu: %g %g of %g N, %g of %g N m left", round, limit, k, sum[0], sum[1],
               most, sum[2], turn);
  }
}

static void in_balance(void **state) {
  (void)state;
  uint64_t seed = 1307;
  int had[3] = { 0 };
  for (int round = 0; round < 200; round++) {
    struct any a;
    draw(&seed, &a);
    for (int limit = 0; limit < 3; limit++) {
      if (!sl_side_has(a.posts, a.in.nposts, limit)) continue;
      had[limit]++;
      balances(&a.in, limit, round);
    }
  }
  assert_true(had[0] == 200 && had[1] > 150 && had[2] > 100);
}

/* The same of rafters that were turned about the first line, on legs wherever the post under one is held. */
static void legs_in_balance(void **state) {
  (void)state;
  uint64_t seed = 2207;
  int had = 0;
  for (int round = 0; round < 100; round++) {
    struct any a;
    draw(&seed, &a);
    a.in.leg_e = 200e9;
    a.in.leg_area = drawn(&seed, 2e-4, 1e-3);
    a.in.tilt += 15 * DEGREE;
    const double built = a.in.tilt - drawn(&seed, 5, 15) * DEGREE;
    for (size_t i = 1; i < a.in.nposts; i++) {
      if (a.posts[i].hinged > 0) continue;
      const double behind = (a.posts[i].at - a.posts[0].at) * a.in.slope_length;
      a.posts[i].leg_rise = behind * (sin(a.in.tilt) - sin(built));
      a.posts[i].leg_run = behind * (cos(a.in.tilt) - cos(built));
      had++;
    }
    for (int limit = SL_FIXED_AT_GRADE; limit <= SL_TURNING; limit++) balances(&a.in, limit, round);
  }
  assert_true(had > 100);
}

/* ---- braces ------------------------------------------------------------------------------------------------------ */

static const struct sl_side_brace foot_to_head[] = { { 1, 2, 1, 0, 0 } };

/* A brace from the back's foot to the front's head takes the moment at grade off both. */
static void brace_helps(void **state) {
  (void)state;
  struct sl_side_frames_in in = farm;
  const double share[SIDE_LOADS] = { [SIDE_LOW] = farm_winds[0].low, [SIDE_HIGH] = farm_winds[0].high };
  double was[2];
  struct one one;
  solve(&in, SL_FIXED_AT_GRADE, &one);
  for (size_t i = 0; i < 2; i++) was[i] = foot_of(&one, i, share).moment;
  struct sl_side_frames_out bare, braced;
  run(&in, &bare);
  in.braces = foot_to_head;
  in.nbraces = 1;
  in.brace_e = 200e9;
  in.brace_area = 6e-4;
  solve(&in, SL_FIXED_AT_GRADE, &one);
  for (size_t i = 0; i < 2; i++) assert_true(fabs(foot_of(&one, i, share).moment) < 0.5 * fabs(was[i]));
  run(&in, &braced);
  /* Not the back's, where footings turn: the brace pushes it at grade, above what it turns about. */
  assert_true(braced.feet[0].moment < 0.5 * bare.feet[0].moment);
  assert_true(braced.drift < 0.5 * bare.drift);
  assert_true(fabs(most_of(&braced, SL_PART_BRACE, 0, 1)->axial) > 0);
}

/* A brace, and a stiffer one, never makes the largest moment at grade of a station larger than it is without: what it
 * takes goes down by thrust and pull.  Footings that turn are left out: there a brace may push above what they turn
 * about.  And so are the flattest: hardly pushed, they have no moment but what their shortening under weight brings. */
static void stiffer_braces_take_no_less(void **state) {
  (void)state;
  uint64_t seed = 77;
  int tried = 0;
  for (int round = 0; round < 200; round++) {
    struct any a;
    draw(&seed, &a);
    struct sl_side_frames_in *in = &a.in;
    if (in->tilt < 10 * DEGREE) continue;
    const struct sl_side_brace brace = { 1, (double)in->nposts, 1, 0, 0 };
    in->nbraces = 0;
    double largest = INFINITY;
    for (int stiff = 0; stiff < 4; stiff++) {
      struct one one;
      solve(in, SL_FIXED_AT_GRADE, &one);
      double most = 0;
      for (size_t k = 0; k < in->nwinds; k++) {
        const double share[SIDE_LOADS] = { [SIDE_LOW] = a.winds[k].low, [SIDE_HIGH] = a.winds[k].high };
        for (size_t i = 0; i < in->nposts; i++) most = fmax(most, fabs(foot_of(&one, i, share).moment));
      }
      if (most > largest * (1 + 1e-6))
        fail_msg("round %d: %g N m at grade, %g with softer braces or none", round, most, largest);
      largest = most;
      tried += stiff > 0;
      in->braces = &brace;
      in->nbraces = 1;
      in->brace_area = stiff == 0 ? 1e-6 : in->brace_area * 30;
    }
  }
  assert_true(tried > 400);
}

/* All feet hinged: a truss.  Posts carry along themselves only, so the brace has all of the push H: H/cos b along it,
 * b its slope: 4 m x 0.6 cos 30 = 2.0785 m wide, from the back's ground (head 2 m below its head at 0.8, which is 1.2 m
 * above the front's) 0.8 m up to the front's head.  The back's head: square to the rafter p C (0.5 - 0.2)/0.6, over
 * cos t as its post stands upright.  300 Pa down: H = 1200 N, brace's part upwards H x 0.8/2.0785. */
static void truss(void **state) {
  (void)state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.2, 0.9, 1, 1, PLAIN }, { 1, 2, 0.8, 2, 1, 1, PLAIN } };
  static const struct sl_side_wind winds[] = { { 300, 300 } };
  struct sl_side_frames_in in = { RACK, LIST(posts, posts), LIST(winds, winds), LIST(braces, foot_to_head),
                                  .tilt = 30 * DEGREE };
  in.brace_e = 200e9;
  in.brace_area = 5e-4;
  struct sl_side_frames_out out;
  run(&in, &out);
  const double all = 300 * 4 * 2, h = all / 2, width = 2.4 * sqrt(3) / 2, rise = 0.8;
  /* The push is to the back, and the brace comes from there up to the front's head: pressed by H/cos b; it lifts that
   * head and bears on the back's foot. */
  const double back_head = all * 0.5 / (sqrt(3) / 2), front_head = all * sqrt(3) / 2 - back_head;
  const double bears = h * rise / width;
  assert_near(out.feet[1].side, h, 1e-6);
  assert_true(out.feet[0].side < 1e-5);
  const double back = back_head + bears, front = front_head - bears;
  assert_near(out.feet[1].down, back, 1e-6);
  assert_near(out.feet[0].down, front, 1e-6);
  assert_near(most_of(&out, SL_PART_BRACE, 0, 1)->axial, 0.6 * h * hypot(width, rise) / width, 1e-6);
  assert_near(most_of(&out, SL_PART_POST, 2, 1)->axial, 0.6 * back_head, 1e-6);
  assert_near(out.feet[0].moment + out.feet[1].moment + 1, 1, 1e-5);
}

/* ---- heads ------------------------------------------------------------------------------------------------------- */

static const struct sl_side_head *head_of(const struct sl_side_frames_out *out, double line, int most) {
  for (size_t i = 0; i < out->nheads; i++)
    if (out->heads[i].most == most && out->heads[i].duration == SL_LASTS_AS_WIND &&
        !(fabs(out->heads[i].line - line) > 0)) return &out->heads[i];
  fail_msg("no head of line %g, %d", line, most);
  return NULL;
}

/* Without braces a head carries what its foot does: by the hand calculation above, 954 lbf lift the back's head while
 * the front line alone stands (no side force there then), and 983.6 x 0.6 = 590.2 lbf push the front's. */
static void farm_heads(void **state) {
  (void)state;
  struct sl_side_frames_in in = farm;
  struct sl_side_frames_out out;
  run(&in, &out);
  assert_int_equal(out.nheads, 0);
  in.tell_heads = true;
  run(&in, &out);
  const struct sl_side_head *up = head_of(&out, 2, SL_HEAD_LIFTED), *push = head_of(&out, 1, SL_HEAD_PUSHED);
  assert_near(up->lift / LBF, 954, 0.005);
  assert_near(up->side / LBF + 1, 1, 0.005);
  assert_int_equal(up->limit, SL_SHORTEST_ALONE);
  assert_near(push->side / LBF, 590.2, 0.005);
  assert_int_equal(push->limit, SL_SHORTEST_ALONE);
  /* The most side force of the back's is where footings turn: 266 x 0.6 with 842 lbf up; of both it is the 954. */
  const struct sl_side_head *torn = head_of(&out, 2, SL_HEAD_TORN);
  assert_near(hypot(torn->lift, torn->side) / LBF, 954, 0.005);
  const struct sl_side_head *side = head_of(&out, 2, SL_HEAD_PUSHED);
  assert_near(side->side / LBF, 266 * 0.6, 0.01);
  assert_near(side->lift / LBF, 842, 0.005);
}

/* The truss above, its feet hinged: the rafter alone says what its heads carry, wherever the brace is bolted to the
 * front post: all of the push H there and none at the back, p C x 0.5/cos t down on the back's, the rest on the
 * front's; 0.6 of each.  A brace at the very head is part of the post there. */
static const struct bolted { const char *name; double high; } bolts_at[] = {
  { "heads of a truss, brace at the very head", 0 }, { "heads of a truss, brace 0.3 m below it", 0.3 },
};
static void truss_heads(void **state) {
  const struct bolted *r = *state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.2, 0.9, 1, 1, PLAIN }, { 1, 2, 0.8, 2, 1, 1, PLAIN } };
  static const struct sl_side_wind winds[] = { { 300, 300 } };
  const struct sl_side_brace brace[] = { { 1, 2, 1, 0, r->high } };
  struct sl_side_frames_in in = { RACK, LIST(posts, posts), LIST(winds, winds), LIST(braces, brace),
                                  .tilt = 30 * DEGREE, .tell_heads = true };
  in.brace_e = 200e9;
  in.brace_area = 5e-4;
  struct sl_side_frames_out out;
  run(&in, &out);
  const double all = 300 * 4 * 2, back = all * 0.5 / (sqrt(3) / 2), front = all * sqrt(3) / 2 - back;
  assert_near(head_of(&out, 1, SL_HEAD_PUSHED)->side, 0.6 * all / 2, 1e-6);
  assert_near(-head_of(&out, 1, SL_HEAD_PRESSED)->lift, 0.6 * front, 1e-6);
  assert_near(-head_of(&out, 2, SL_HEAD_PRESSED)->lift, 0.6 * back, 1e-6);
  assert_near(head_of(&out, 2, SL_HEAD_PRESSED)->side + 1, 1, 1e-6);
  const struct sl_side_head *whole = head_of(&out, 1, SL_HEAD_CARRIED);
  assert_near(hypot(whole->lift, whole->side), 0.6 * hypot(front, all / 2), 1e-6);
  for (size_t i = 0; i < out.nheads; i++) assert_true(out.heads[i].most != SL_HEAD_LIFTED);
}

/* ---- legs -------------------------------------------------------------------------------------------------------- */

/* Built at 30 deg with heads 2 m apart along 4 m of slope, turned about the front one to 60: the back's leg goes from
 * (2 cos 30, 2 sin 30) to (2 cos 60, 2 sin 60), 0.7321 m up and as much forward, at 45 deg.  400 Pa on 8 m2, 3200 N
 * square to the slope and 1 m behind the pivot; the leg's arm about that is 2 cos 15 = 1.9319 m: 3200/1.9319 = 1656.4 N
 * in it, 1171.3 N down and as much to the back on its post's head, which has it for itself.  The front has the rest:
 * 3200 sin 60 = 2771.3 N to the back, and 3200 cos 60 = 1600 N down, less 1171.3 of each.  Posts of 1 and 2 m: moments
 * at grade 1600.0 x 1 and 1171.3 x 2. */
static const struct sl_side_post turned_posts[] = {
  { 1, 1, 0.25, 1, 1, 0, PLAIN }, { 1, 2, 0.75, 2, 1, 0, NAN, 0, 0, 0, 0, 0.7320508, -0.7320508 } };
#define LEG .leg_e = 200e9, .leg_area = 1e-3
static void leg_by_hand(void **state) {
  (void)state;
  const struct sl_side_frames_in in = { RACK, LIST(posts, turned_posts), LEG, .tilt = 60 * DEGREE };
  const double share[SIDE_LOADS] = { [SIDE_LOW] = 400, [SIDE_HIGH] = 400 };
  for (int limit = SL_FIXED_AT_GRADE; limit <= SL_TURNING; limit++) {
    struct one one;
    solve(&in, limit, &one);
    const struct foot front = foot_of(&one, 0, share), back = foot_of(&one, 1, share);
    assert_near(back.z, 1171.3, 0.05);
    assert_near(fabs(back.x), 1171.3, 0.05);
    assert_near(front.z, 428.7, 0.05);
    assert_near(fabs(front.x), 1600.0, 0.05);
    assert_near(fabs(front.moment), 1600.0, 0.05);
    assert_near(fabs(back.moment), 2342.6, 0.1);
    assert_near(front.x + back.x, -3200 * sin(60 * DEGREE), 1e-6);
  }
}

/* The same by all combinations, 0.6 of it: the leg's thrust, its pull where the wind lifts as much, and what passes at
 * the back's head. */
static void leg_is_told(void **state) {
  (void)state;
  static const struct sl_side_wind winds[] = { { 400, 400 }, { -400, -400 } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, turned_posts), LIST(winds, winds), LEG,
                                        .tilt = 60 * DEGREE, .tell_heads = true };
  struct sl_side_frames_out out;
  run(&in, &out);
  assert_near(most_of(&out, SL_PART_LEG, 0, 1)->axial, 0.6 * 1656.4, 0.1);
  assert_near(-most_of(&out, SL_PART_LEG, 0, 2)->axial, 0.6 * 1656.4, 0.1);
  assert_near(most_of(&out, SL_PART_LEG, 0, 0)->moment + 1, 1, 1e-6);
  assert_near(out.feet[1].up, 1171.3, 0.05);
  assert_near(head_of(&out, 2, SL_HEAD_PUSHED)->side, 0.6 * 1171.3, 0.05);
  assert_near(head_of(&out, 2, SL_HEAD_LIFTED)->lift, 0.6 * 1171.3, 0.05);
  for (size_t i = 0; i < out.nstrains; i++) assert_true(out.strains[i].limit != SL_SHORTEST_ALONE);
}

/* A leg on a post that turns freely at its foot, too, holds nothing: 1 m of rafter behind the pivot is free.  With a
 * brace to the front's foot it does, and the shortest line alone is a limit again, in which that post is not bent at
 * grade.  By hand: its head has 1171.3 N across, 2 m up; the brace, 0.2 m below it, has 1171.3 x 2/1.8 = 1301.5 N. */
static void leg_on_a_hinge(void **state) {
  (void)state;
  static const struct sl_side_wind winds[] = { { 400, 400 } };
  static const struct sl_side_brace brace[] = { { 1, 1, 2, 0.2, 0.2 } };
  struct sl_side_post posts[] = { turned_posts[0], turned_posts[1] };
  posts[1].hinged = 1;
  struct sl_side_frames_in in = { RACK, LIST(posts, posts), LIST(winds, winds), LEG, .tilt = 60 * DEGREE };
  struct sl_side_frames_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "stations");
  posts[1].hinged = 0;
  in.braces = brace;
  in.nbraces = 1;
  in.brace_e = 200e9;
  in.brace_area = 5e-4;
  run(&in, &out);
  const double share[SIDE_LOADS] = { [SIDE_LOW] = 400, [SIDE_HIGH] = 400 };
  struct one one;
  solve(&in, SL_SHORTEST_ALONE, &one);
  const struct foot back = foot_of(&one, 1, share);
  assert_near(back.moment + 1, 1, 1e-6);
  assert_near(fabs(back.x), 1301.5 - 1171.3, 0.1);
  assert_near(foot_of(&one, 0, share).x + back.x, -3200 * sin(60 * DEGREE), 1e-6);
  /* It has the front post, alone, take all of the push at the height of its head and of the brace's foot, 0.2 m up:
   * 1600 x 1 and, of the brace's 1301.5 N across, 1301.5 x 0.2.  A brace low on the back is none that would: of its
   * foot. */
  assert_near(most_of(&out, SL_PART_POST, 1, 0)->moment, 0.6 * (1600 + 260.3), 1.5);
  static const struct sl_side_brace low[] = { { 1, 2, 1, 0.2, 0.2 } };
  in.braces = low;
  run(&in, &out);
  for (size_t i = 0; i < out.nstrains; i++) assert_true(out.strains[i].limit != SL_SHORTEST_ALONE);
}

/* ---- leaning ----------------------------------------------------------------------------------------------------- */

/* A post held at grade beside a hinged one of the same height, each under P: exact stiffness of the first's head
 * against a push P/(h (tan u/u - 1)), u2 = P h2/EI; the other leans on it and takes P/h off.  What pushes are made
 * larger by is 3 EI/h3 over that; the frame gives way where tan u = 2 u: P = 1.3586 EI/h2. */
static const struct lean { const char *name; double of; bool stands; } leans[] = {
  { "leaning: P = 0.1 EI/h2", 0.1, true }, { "leaning: P = 0.5 EI/h2", 0.5, true },
  { "leaning: P = 0.9 EI/h2", 0.9, true }, { "leaning: just stands", 1.33, true },
  { "leaning: buckles", 1.39, false }, { "leaning: far too slender", 30, false },
};
static void lean_matches(void **state) {
  const struct lean *r = *state;
  static const struct sl_side_post posts[] = { { 1, 1, 0.25, 1.5, 1, 0, PLAIN }, { 1, 2, 0.75, 1.5, 1, 1, PLAIN } };
  struct sl_side_frames_in in = { RACK, LIST(posts, posts) };
  struct sl_side_frames_out out;
  struct sl_sheet sheet = { .cap = 0 };
  const double ei = in.post_e * in.post_inertia, h = 1.5, p = r->of * ei / (h * h), u = sqrt(r->of);
  in.snow = 2 * p / (4 * 2);
  const enum sl_status status = sl_side_frames(&in, &out, room_of(sl_side_frames_need(&in)), &sheet);
  assert_int_equal(status, r->stands ? SL_OK : SL_NO_ANSWER);
  if (!r->stands) {
    assert_string_equal(sheet.fault.member, "stations");
    assert_int_equal(sheet.fault.item, 1);
    assert_non_null(strstr(sheet.fault.text, "buckle"));
  } else if (r->of < 1) {
    const double exact = 3 * ei / (h * h * h) / (p / h * (1 / (tan(u) / u - 1) - 1));
    assert_near(out.leaning, exact, 0.01);
  } else assert_true(out.leaning > 10);
}

/* Drift of the wind alone: both posts' heads by H h3/(3 EI) over two, no weight on them, none pressed. */
static void drifts(void **state) {
  (void)state;
  static const struct sl_side_wind winds[] = { { -900, -900 } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, level_posts), LIST(winds, winds), .tilt = 20 * DEGREE };
  struct sl_side_frames_out out;
  run(&in, &out);
  const double push = 900 * 4 * 2 * sin(20 * DEGREE), h = 1.5;
  assert_near(out.leaning, 1, 1e-12);
  assert_near(out.drift, push / 2 * h * h * h / (3 * in.post_e * in.post_inertia), 0.01);
}

/* ---- laws -------------------------------------------------------------------------------------------------------- */

enum { FEET = 5 };
struct kept { struct sl_side_foot feet[FEET]; size_t n; double leaning, drift; };
static struct kept kept_of(const struct sl_side_frames_in *in) {
  struct sl_side_frames_out out;
  struct kept k = { .n = in->nposts };
  run(in, &out);
  memcpy(k.feet, out.feet, out.nfeet * sizeof *out.feet);
  k.leaning = out.leaning;
  k.drift = out.drift;
  return k;
}
static bool less(double now, double before) { return now < before - 1e-7 * (fabs(before) + 1); }

/* What a foot carries is the most of sums in which D and D + S are without wind, and so grows with each load. */
static void more_is_more(void **state) {
  (void)state;
  uint64_t seed = 20;
  for (int round = 0; round < 60; round++) {
    struct any a;
    draw(&seed, &a);
    const struct kept was = kept_of(&a.in);
    for (int i = 0; i < 4; i++) {
      a.winds[i].low *= 1.4;
      a.winds[i].high *= 1.4;
    }
    a.in.least *= 1.4;
    const struct kept windy = kept_of(&a.in);
    a.in.snow = a.in.snow * 1.3 + 50;
    const struct kept snowy = kept_of(&a.in);
    for (size_t i = 0; i < was.n; i++) {
      const struct sl_side_foot *w = &was.feet[i], *n = &windy.feet[i], *s = &snowy.feet[i];
      assert_false(less(n->up, w->up) || less(n->net_up, w->net_up) || less(n->pressed, w->pressed));
      assert_false(less(n->push, w->push) || less(n->strength_up, w->strength_up));
      assert_false(less(n->moment / windy.leaning, w->moment / was.leaning) && less(n->moment, w->moment));
      assert_false(less(s->pressed, n->pressed) || less(s->strength_down, n->strength_down));
      assert_near(n->up, 1.4 * w->up, 1e-7);       /* of wind alone: in proportion */
      assert_near(n->side, 1.4 * w->side, 1e-7);
      assert_near(n->dead, w->dead, 1e-9);
    }
    assert_false(less(snowy.leaning, 1));
  }
}

static void dead_holds_down(void **state) {
  (void)state;
  static const struct sl_side_wind winds[] = { { -900, -1400 }, { 300, -1000 } };
  struct sl_side_frames_in in = { RACK, LIST(posts, level_posts), LIST(winds, winds) };
  double before[2] = { INFINITY, INFINITY };
  for (in.dead_frame = 0; in.dead_frame < 900; in.dead_frame += 60) {
    const struct kept k = kept_of(&in);
    for (int i = 0; i < 2; i++) {
      assert_true(k.feet[i].net_up <= before[i]);
      /* By hand, case 1, lever about the other line (quarters): halves are over the posts: their own 900, 1400 Pa. */
      const double net = 0.6 * (i ? 1400 : 900) * 4 - 0.6 * in.dead_frame * 4;
      assert_near(k.feet[i].net_up + 1, fmax(net, 0) + 1, 1e-6);
      if (net > 1 && in.dead_frame > 0) assert_string_equal(k.feet[i].net_up_combination, "0.6D + 0.6W");
      before[i] = k.feet[i].net_up;
    }
  }
}

/* The lower half up only, level, posts under the halves' middles: its foot lifts by 0.6 x 900 x 4 less 0.6 of frame
 * and of its modules; the upper only: its own. */
static void half_built(void **state) {
  (void)state;
  static const struct sl_side_wind winds[] = { { -900, -1400 } };
  const struct sl_side_frames_in in = { RACK, LIST(posts, level_posts), LIST(winds, winds), .dead_frame = 40,
                                        .dead_modules = 110 };
  const struct kept k = kept_of(&in);
  assert_near(k.feet[0].half_built_up, 0.6 * 4 * (900 - 150), 1e-6);
  assert_near(k.feet[1].half_built_up, 0.6 * 4 * (1400 - 150), 1e-6);
}

/* Forces go with loads and moduli; with lengths to the second power, moments to the third, movements to the first. */
static void scales(void **state) {
  (void)state;
  uint64_t seed = 77;
  for (int round = 0; round < 40; round++) {
    struct any a, b;
    draw(&seed, &a);
    const struct kept was = kept_of(&a.in);
    const double f = 1.7, l = 1.3;
    b = a;
    b.in.stations = b.station;
    b.in.posts = b.posts;
    b.in.braces = b.braces;
    b.in.winds = b.winds;
    double *const loads[] = { &b.in.dead_modules, &b.in.dead_frame, &b.in.snow, &b.in.least, &b.in.post_e,
                              &b.in.rafter_e, &b.in.brace_e };
    for (size_t i = 0; i < COUNT(loads); i++) *loads[i] *= f;
    for (size_t i = 0; i < 4; i++) b.winds[i] = (struct sl_side_wind){ f * a.winds[i].low, f * a.winds[i].high };
    b.in.slope_length *= l;
    b.in.stack *= l;
    b.in.post_area *= l * l;
    b.in.rafter_area *= l * l;
    b.in.brace_area *= l * l;
    b.in.post_inertia *= l * l * l * l;
    b.in.rafter_inertia *= l * l * l * l;
    b.station[0].tributary *= l;
    for (size_t i = 0; i < b.in.nposts; i++) {
      b.posts[i].height *= l;
      b.posts[i].depth *= l;
    }
    for (size_t i = 0; i < b.in.nbraces; i++) {
      b.braces[i].low *= l;
      b.braces[i].high *= l;
    }
    const struct kept now = kept_of(&b.in);
    assert_near(now.leaning, was.leaning, 1e-6);
    assert_near(now.drift, was.drift * l, 1e-6);
    for (size_t i = 0; i < was.n; i++) {
      const struct sl_side_foot *w = &was.feet[i], *n = &now.feet[i];
      const double by = f * l * l;
      assert_near(n->up + 1, w->up * by + 1, 1e-6);
      assert_near(n->pressed, w->pressed * by, 1e-6);
      assert_near(n->push, w->push * by, 1e-6);
      assert_near(n->moment + 1, w->moment * by * l + 1, 1e-6);
    }
  }
}

int main(void) {
  struct CMUnitTest tests[64] = {
    cmocka_unit_test(farm_envelope), cmocka_unit_test(halves), cmocka_unit_test(level_halves),
    cmocka_unit_test(one_line), cmocka_unit_test(unlike_lines), cmocka_unit_test(front_alone), cmocka_unit_test(equals),
    cmocka_unit_test(rafter_bends), cmocka_unit_test(rafter_along), cmocka_unit_test(in_balance),
    cmocka_unit_test(brace_helps), cmocka_unit_test(stiffer_braces_take_no_less), cmocka_unit_test(truss),
    cmocka_unit_test(drifts), cmocka_unit_test(leaning_of_one_post),
    cmocka_unit_test(strained_by_strength),
    cmocka_unit_test(more_is_more), cmocka_unit_test(dead_holds_down), cmocka_unit_test(half_built),
    cmocka_unit_test(scales), cmocka_unit_test(farm_heads), cmocka_unit_test(leg_by_hand),
    cmocka_unit_test(leg_is_told), cmocka_unit_test(leg_on_a_hinge), cmocka_unit_test(legs_in_balance),
  };
  size_t n = 25;
  ADD_ROWS(tests, n, bolts_at, truss_heads);
  ADD_ROWS(tests, n, uplifts, uplift_matches);
  ADD_ROWS(tests, n, pairs, pair_shares);
  ADD_ROWS(tests, n, threes, three_matches);
  ADD_ROWS(tests, n, leans, lean_matches);
  return _cmocka_run_group_tests("side_frames", tests, n, NULL, NULL);
}
