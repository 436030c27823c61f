/* SPDX-License-Identifier: MIT
 * What passes between rafter and posts at their heads: the farm's frame and a truss, by statics; legs on them. */
#include "side_frames_check.h"

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
  /* The rafter's shear beside either: 0.3 of its load on the inner side, 0.2 on the outer. */
  assert_near(head_of(&out, 2, SL_HEAD_PRESSED)->shear, 0.6 * all * 0.3, 1e-6);
  assert_near(head_of(&out, 1, SL_HEAD_PUSHED)->shear, 0.6 * all * 0.3, 1e-6);
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

int main(void) {
  static const struct CMUnitTest units[] = {
    cmocka_unit_test(farm_heads), cmocka_unit_test(leg_by_hand), cmocka_unit_test(leg_is_told),
    cmocka_unit_test(leg_on_a_hinge),
  };
  struct CMUnitTest tests[64];
  size_t n = 0;
  for (size_t i = 0; i < COUNT(units); i++) tests[n++] = units[i];
  ADD_ROWS(tests, n, bolts_at, truss_heads);
  return _cmocka_run_group_tests("side_heads", tests, n, NULL, NULL);
}
