/* SPDX-License-Identifier: MIT
 * The most that posts and members of stations have: by strength and as the ground gives way, worked by hand; leaning
 * against the exact column; laws. */
#include "side_frames_check.h"

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
      /* Of wind alone: in proportion, but for what leaning under the most of all adds where braces hold the frame. */
      assert_near(n->up, 1.4 * w->up, 1e-7 + (a.in.nbraces > 0 ? 3 * (windy.leaning - 1) : 0));
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
  static const struct CMUnitTest units[] = {
    cmocka_unit_test(strained_by_strength), cmocka_unit_test(leaning_of_one_post), cmocka_unit_test(drifts),
    cmocka_unit_test(more_is_more), cmocka_unit_test(dead_holds_down), cmocka_unit_test(half_built),
    cmocka_unit_test(scales),
  };
  struct CMUnitTest tests[64];
  size_t n = 0;
  for (size_t i = 0; i < COUNT(units); i++) tests[n++] = units[i];
  ADD_ROWS(tests, n, leans, lean_matches);
  return _cmocka_run_group_tests("side_most", tests, n, NULL, NULL);
}
