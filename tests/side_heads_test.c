/* SPDX-License-Identifier: MIT
 * What passes between rafter and posts at their heads: the farm's frame and a truss, by statics. */
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

int main(void) {
  static const struct CMUnitTest units[] = {
    cmocka_unit_test(farm_heads),
  };
  struct CMUnitTest tests[64];
  size_t n = 0;
  for (size_t i = 0; i < COUNT(units); i++) tests[n++] = units[i];
  ADD_ROWS(tests, n, bolts_at, truss_heads);
  return _cmocka_run_group_tests("side_heads", tests, n, NULL, NULL);
}
