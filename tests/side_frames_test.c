/* SPDX-License-Identifier: MIT
 * Frames of stations seen from the side: a post's uplift worked by hand, closed forms of statics and of beams, balance
 * of generated stations with braces.  A hand calculation is no oracle: it is statics written down a second time, in the
 * comment beside it. */
#include "side_frames_check.h"

/* ---- one post by hand -------------------------------------------------------------------------------------------- */

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
    assert_near(out.feet[i].weight, 600, 1e-7);
    assert_near(out.feet[i].snow, 3200, 1e-7);
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
  /* As far as it leans the push bears on the back's foot, 2 m below its head, and the brace carries more; what that
   * takes off the front's foot is not counted. */
  const double couple = (out.leaning - 1) * h * 2 / width;
  const double back = back_head + bears + couple, front = front_head - bears;
  assert_near(out.feet[1].down, back, 1e-6);
  assert_near(out.feet[0].down, front, 1e-6);
  assert_near(most_of(&out, SL_PART_BRACE, 0, 1)->axial, 0.6 * h * hypot(width, rise) / width * out.leaning, 1e-6);
  assert_near(most_of(&out, SL_PART_POST, 2, 1)->axial, 0.6 * (back_head + couple), 1e-6);
  assert_near(out.feet[0].moment + out.feet[1].moment + 1, 1, 1e-5);
}

/* By hand, the exact lean of a truss: level, 2 m apart, 1.5 m tall, a brace of 2.5 m from foot to head, as slight as to
 * give way by itself: k = EA cos2 b/L = 2e5 x 0.64/2.5 = 51,200 N/m.  500 Pa on 8 m2 push its heads by 4000 N/1.5 m for
 * each m that they lean: 1/(1 - 2666.7/51,200) = 1.05495.  Feet that are held lean less, but footings that turn are
 * taken as free: both tell the same.  Without a brace nothing but the feet holds it, and no such number is told. */
static void sways_on_its_brace(void **state) {
  (void)state;
  static const struct sl_side_brace brace[] = { { 1, 1, 2, 0, 0 } };
  struct sl_side_post posts[] = { { 1, 1, 0.25, 1.5, 0, 1, PLAIN }, { 1, 2, 0.75, 1.5, 0, 1, PLAIN } };
  struct sl_side_frames_in in = { RACK, LIST(posts, posts), LIST(braces, brace), .dead_modules = 500 };
  in.brace_e = 200e9;
  in.brace_area = 1e-6;
  struct sl_side_frames_out out;
  run(&in, &out);
  assert_near(out.leaning, 1.05495, 2e-4);
  assert_near(out.sways, 1.05495, 2e-4);
  posts[0].hinged = posts[1].hinged = 0;
  run(&in, &out);
  assert_near(out.leaning, 1.05495, 2e-4);
  assert_near(out.sways, 1.05495, 2e-4);
  in.nbraces = 0;
  run(&in, &out);
  assert_true(isnan(out.sways) && out.leaning < 1.05);
}

int main(void) {
  static const struct CMUnitTest units[] = {
    cmocka_unit_test(farm_envelope), cmocka_unit_test(halves), cmocka_unit_test(level_halves),
    cmocka_unit_test(one_line), cmocka_unit_test(unlike_lines), cmocka_unit_test(front_alone),
    cmocka_unit_test(equals), cmocka_unit_test(rafter_bends), cmocka_unit_test(rafter_along),
    cmocka_unit_test(in_balance), cmocka_unit_test(legs_in_balance), cmocka_unit_test(brace_helps),
    cmocka_unit_test(stiffer_braces_take_no_less),
    cmocka_unit_test(truss), cmocka_unit_test(sways_on_its_brace),
  };
  struct CMUnitTest tests[64];
  size_t n = 0;
  for (size_t i = 0; i < COUNT(units); i++) tests[n++] = units[i];
  ADD_ROWS(tests, n, uplifts, uplift_matches);
  ADD_ROWS(tests, n, pairs, pair_shares);
  ADD_ROWS(tests, n, threes, three_matches);
  return _cmocka_run_group_tests("side_frames", tests, n, NULL, NULL);
}
