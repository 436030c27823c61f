/* SPDX-License-Identifier: MIT
 * Rows pushed along themselves: cantilevers, shares by stiffness, braces by statics, leaning against the exact column;
 * laws and refusals.  A hand calculation is statics written down a second time, in the comment beside it. */
#include "op_check.h"
#include "stringline/row_frame.h"

#define COUNT(list) (sizeof list / sizeof *list)
#define PIVOT 0.68                     /* of the depth, as interp/data/frame_facts.csv has it */
#define LIST(member, list) .member = list, .n##member = COUNT(list)
#define POSTS .post_e = 9e9, .post_area = 0.0196, .post_inertia = 3.2e-5
#define NO_BRACE .brace_e = NAN, .brace_area = NAN
#define BRACE .brace_e = 9e9, .brace_area = 3.4e-3
static const double EI = 9e9 * 3.2e-5;
static const struct sl_row_line one_line[] = { { 1, 1 } };

static void run(const struct sl_row_frame_in *in, struct sl_row_frame_out *out) {
  struct sl_sheet sheet = { .cap = 0 };
  const enum sl_status status = sl_row_frame(in, out, room_of(sl_row_frame_need(in)), &sheet);
  if (status != SL_OK) fail_msg("%s %s", sheet.fault.member, sheet.fault.text);
}

/* Three cantilevers of 2 m under 900 N: 300 N and 600 N m each; heads go P h3 / (3 x 3 EI). */
static void cantilevers(void **state) {
  (void)state;
  static const struct sl_row_post posts[] = { { 1, 0, 2, 2, 1, 0, 0, 0, 0, 0 }, { 1, 2, 2, 2, 1, 0, 0, 0, 0, 0 },
                                              { 1, 4, 2, 2, 1, 0, 0, 0, 0, 0 } };
  const struct sl_row_frame_in in = { .push = 900, POSTS, NO_BRACE, LIST(lines, one_line), LIST(posts, posts) };
  struct sl_row_frame_out out;
  run(&in, &out);
  assert_near(out.leaning, 1, 1e-12);
  for (size_t i = 0; i < 3; i++) {
    assert_near(out.feet[i].number, (double)i + 1, 1e-12);
    assert_near(out.feet[i].push, 300, 2e-3);              /* ties stretch by a share of 1/1000 of the heads' way */
    assert_near(out.feet[i].moment, 600, 2e-3);
    assert_near(out.feet[i].bending, 600, 2e-3);
    assert_near(out.feet[i].shear, 300, 2e-3);
    assert_true(out.feet[i].lifts < 1e-6);
  }
}

/* Unlike heights.  Fixed: shares go as 1/h3: 1 and 1/8 of 1 m and 2 m, 8/9 of the push on the short one.  Turning: as
 * 1/(h + 0.68 d)2: 1.68 and 2.68 m: 0.7179 and 0.2821; the tall one has its most there.  Moments at grade: push x h. */
static void unlike_heights(void **state) {
  (void)state;
  static const struct sl_row_post posts[] = { { 1, 0, 1, 1, 1, 0, 0, 0, 0, 0 }, { 1, 3, 1, 2, 1, 0, 0, 0, 0, 0 } };
  const struct sl_row_frame_in in = { .push = 900, POSTS, NO_BRACE, LIST(lines, one_line), LIST(posts, posts) };
  struct sl_row_frame_out out;
  run(&in, &out);
  assert_near(out.feet[0].push, 800, 5e-3);
  assert_near(out.feet[0].push_moment, 800, 5e-3);
  const double a = 1 + PIVOT, b = 2 + PIVOT, tall = 900 / (1 + b * b / (a * a));
  assert_near(out.feet[1].push, tall, 1e-2);                /* posts bend a little beside that */
  assert_near(out.feet[1].moment, tall * 2, 1e-2);
}

/* Two lines of one post, 1 m and 2 m: by stiffness 8/9 on the short line, by what lies over them half each: the short
 * one 8/9, the tall one half (turning, 0.2821 of it, is less).  Each part of two takes the whole push. */
static void lines_and_parts(void **state) {
  (void)state;
  static const struct sl_row_line lines[] = { { 1, 0.5 }, { 1, 0.5 }, { 2, 0.5 }, { 2, 0.5 } };
  static const struct sl_row_post posts[] = { { 1, 0, 1, 1, 1, 0, 0, 0, 0, 0 }, { 2, 0, 2, 2, 1, 0, 0, 0, 0, 0 },
                                              { 3, 9, 1, 1, 1, 0, 0, 0, 0, 0 }, { 4, 9, 2, 2, 1, 0, 0, 0, 0, 0 } };
  const struct sl_row_frame_in in = { .push = 900, POSTS, NO_BRACE, LIST(lines, lines), LIST(posts, posts) };
  struct sl_row_frame_out out;
  run(&in, &out);
  for (size_t i = 0; i < 4; i += 2) {
    assert_near(out.feet[i].push, 800, 1e-6);
    assert_near(out.feet[i + 1].push, 450, 1e-6);
    assert_near(out.feet[i + 1].moment, 900, 1e-6);
  }
  /* The tall line alone has half of the push: 450 x 2^3 / (3 EI) is more than the short one's 800 x 1 / (3 EI). */
  assert_near(out.drift, 450 * 8 / (3 * EI), 1e-6);
}

/* The tall line of eight times the stiffness is as stiff as the short one: half each. */
static void unlike_lines(void **state) {
  (void)state;
  static const struct sl_row_line lines[] = { { 1, 0.5 }, { 1, 0.5 } };
  static const struct sl_row_post posts[] = { { 1, 0, 1, 1, 0, 0, 0, 0, 0, 0 },
                                              { 2, 0, 2, 2, 0, 0, 0, 9e9, 0.05, 8 * 3.2e-5 } };
  const struct sl_row_frame_in in = { .push = 900, POSTS, NO_BRACE, LIST(lines, lines), LIST(posts, posts) };
  struct sl_row_frame_out out;
  run(&in, &out);
  assert_near(out.drift, 450 / (3 * EI), 1e-6);
  assert_near(out.feet[1].moment, 900, 1e-6);
}

/* Hinged feet, 2 m tall, 3 m apart, a brace from foot to head: it has P / cos a, cos a = 3 / sqrt(13); its foot the
 * whole push, both feet P tan a = P x 2/3 of lift or thrust.  Posts do not bend. */
static void braced(void **state) {
  (void)state;
  static const struct sl_row_post posts[] = { { 1, 0, 2, 2, 1, 1, 0, 0, 0, 0 }, { 1, 3, 2, 2, 1, 1, 0, 0, 0, 0 } };
  static const struct sl_row_brace foot_to_head[] = { { 1, 1, 2, 0, 0 } }, bolted[] = { { 1, 1, 2, 0.2, 0.15 } };
  struct sl_row_frame_in in = { .push = 900, POSTS, BRACE, LIST(lines, one_line), LIST(posts, posts),
                                LIST(braces, foot_to_head) };
  struct sl_row_frame_out out;
  run(&in, &out);
  assert_int_equal(out.nstruts, 1);
  assert_near(out.struts[0].force, 900 * sqrt(13) / 3, 1e-6);
  assert_near(out.feet[0].push, 900, 1e-6);
  assert_near(out.feet[0].lifts, 600, 1e-6);
  assert_near(out.feet[1].lifts, 600, 1e-6);
  assert_true(out.feet[1].push < 1e-3 && out.feet[0].bending < 1e-3);
  /* Bolts off the joints, by moments of each post about its foot: H (1.85 - 0.2) = P x 2; the head's post bends by H
   * 1.85/2 x 0.15, the foot's by H x 0.2 x 1.8/2. */
  in.braces = bolted;
  run(&in, &out);
  const double H = 900 * 2 / (1.85 - 0.2);
  assert_near(out.struts[0].force, H * hypot(3, 1.65) / 3, 1e-6);
  assert_near(out.feet[1].bending, H * 1.85 / 2 * 0.15, 1e-6);
  assert_near(out.feet[0].bending, H * 0.2 * 1.8 / 2, 1e-6);
  assert_near(out.feet[0].lifts, H * 1.65 / 3, 1e-6);
}

/* The exact column: a cantilever that N presses moves 3 (tan u - u) / u3 times as far, u2 = N h2 / EI; one cubic piece
 * is near that.  N 30 kN on 2 m: u 0.6455, 1.2002. */
static void leaning(void **state) {
  (void)state;
  static const struct sl_row_post posts[] = { { 1, 0, 2, 2, 1, 0, 30000, 0, 0, 0 } };
  const struct sl_row_frame_in in = { .push = 900, POSTS, NO_BRACE, LIST(lines, one_line), LIST(posts, posts) };
  struct sl_row_frame_out out;
  run(&in, &out);
  const double u = sqrt(30000 * 4 / EI);
  assert_near(out.leaning, 3 * (tan(u) - u) / (u * u * u), 2e-3);
  assert_near(out.feet[0].moment, 1800 * out.leaning, 1e-9);
  assert_near(out.feet[0].push, 900, 1e-9);
}

/* By hand, the row above on hinged feet, 300 kN on each post: the brace gives by L/(EA cos2 a) = 3.6056/(3.06e7 x
 * 0.69231) = 1.7020e-7 m/N, the head's post by tan2 a h/EA = 0.44444 x 2/1.764e8 = 0.0504e-7: 5.706e6 N/m.  What
 * presses it pushes the heads by 600 kN/2 m for each m of lean: 1/(1 - 0.3/5.706) = 1.0555, in brace and feet alike.
 * Posts whose feet are held lean as much if these turn freely; a line without a brace tells no such number. */
static void leans_on_its_brace(void **state) {
  (void)state;
  struct sl_row_post posts[] = { { 1, 0, 2, 2, 0, 1, 3e5, 0, 0, 0 }, { 1, 3, 2, 2, 0, 1, 3e5, 0, 0, 0 } };
  static const struct sl_row_brace foot_to_head[] = { { 1, 1, 2, 0, 0 } };
  struct sl_row_frame_in in = { .push = 900, POSTS, BRACE, LIST(lines, one_line), LIST(posts, posts),
                                LIST(braces, foot_to_head) };
  struct sl_row_frame_out out;
  run(&in, &out);
  assert_near(out.leaning, 1.0555, 1e-3);
  assert_near(out.sways, 1.0555, 1e-3);
  assert_near(out.struts[0].force, 900 * sqrt(13) / 3 * 1.0555, 1e-3);
  assert_near(out.feet[0].lifts, 600 * 1.0555, 1e-3);
  posts[0].hinged = posts[1].hinged = 0;
  run(&in, &out);
  assert_near(out.sways, 1.0555, 1e-3);
  in.nbraces = 0;
  posts[0].pressed = posts[1].pressed = 1e4;
  run(&in, &out);
  assert_true(isnan(out.sways));
}

/* Braces from foot to head leave less on a post, more push more of all in step, and the feet take the whole push
 * between them. */
static void laws(void **state) {
  (void)state;
  static const struct sl_row_post posts[] = { { 1, 0, 1.2, 1.2, 1, 0, 500, 0, 0, 0 },
                                              { 1, 2, 1.2, 1.4, 1, 0, 900, 0, 0, 0 },
                                              { 1, 4, 1.2, 1.1, 1.2, 0, 500, 0, 0, 0 } };
  static const struct sl_row_brace braces[] = { { 1, 1, 2, 0, 0 }, { 1, 3, 2, 0, 0 } };
  struct sl_row_frame_in in = { .push = 700, POSTS, BRACE, LIST(lines, one_line), LIST(posts, posts) };
  struct sl_row_frame_out bare, held;
  run(&in, &bare);
  const double most = bare.feet[0].bending, sum = bare.feet[0].push + bare.feet[1].push + bare.feet[2].push;
  assert_true(sum >= 700 * (1 - 1e-9));
  in.push = 1400;
  run(&in, &bare);
  assert_near(bare.feet[0].bending, 2 * most, 1e-9);
  in.push = 700;
  in.braces = braces, in.nbraces = COUNT(braces);
  run(&in, &held);
  assert_true(held.feet[0].bending < most && held.struts[0].force > 0 && held.drift < bare.drift / 2);
}

static void refusals(void **state) {
  (void)state;
  static const struct sl_row_line lines[] = { { 1, 0.5 }, { 1, 0.5 } }, short_of_one[] = { { 1, 0.5 }, { 1, 0.4 } };
  struct sl_row_post posts[] = { { 1, 0, 2, 2, 1, 0, 0, 0, 0, 0 }, { 2, 0, 2, 2, 1, 1, 0, 0, 0, 0 } };
  struct sl_row_brace braces[] = { { 1, 1, 1, 0, 0 } };
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_row_frame_in in = { .push = 1, POSTS, NO_BRACE, LIST(lines, lines), LIST(posts, posts) };
  struct sl_row_frame_out out;
#define REFUSED(status, name, at) \
  assert_int_equal(sl_row_frame(&in, &out, room_of(sl_row_frame_need(&in)), &sheet), status); \
  assert_string_equal(sheet.fault.member, name); \
  assert_int_equal(sheet.fault.item, at)
  REFUSED(SL_NO_ANSWER, "lines", 2);                       /* its only post is hinged */
  assert_non_null(strstr(sheet.fault.text, "is held by nothing along the row"));
  posts[1].hinged = 0;
  posts[1].pressed = 1e9;
  REFUSED(SL_NO_ANSWER, "lines", 2);
  assert_non_null(strstr(sheet.fault.text, "buckles"));
  posts[1].pressed = 0;
  in.lines = short_of_one;
  REFUSED(SL_BAD_INPUT, "lines[i].share", 2);
  in.lines = lines;
  posts[1].line = 3;
  REFUSED(SL_BAD_INPUT, "posts[i].line", 2);
  posts[1].line = 1;
  REFUSED(SL_BAD_INPUT, "posts[i].at", 2);
  posts[1].line = 2;
  posts[1].height = 0;
  REFUSED(SL_BAD_INPUT, "posts[i].height", 2);
  posts[1].height = 2;
  in.braces = braces, in.nbraces = 1;
  assert_int_equal(sl_row_frame(&in, &out, room_of(sl_row_frame_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "brace_e");
  in.brace_e = 1e9, in.brace_area = 1e-3;
  REFUSED(SL_BAD_INPUT, "braces[i].head", 1);
  braces[0].line = 3;
  REFUSED(SL_BAD_INPUT, "braces[i].line", 1);
  in.nbraces = 0;
  assert_int_equal(sl_row_frame(&in, &out, room_of(sl_row_frame_need(&in) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
}

static const struct sl_row_line two_lines[] = { { 1, 0.5 }, { 1, 0.5 } };
static const struct sl_row_post four_posts[] = {
  { 1, 0, 1, 1, 1, 0, 1000, 0, 0, 0 }, { 1, 2, 1, 1.1, 1, 0, 1000, 0, 0, 0 }, { 2, 0, 2, 2, 1, 0, 1000, 0, 0, 0 },
  { 2, 2, 2, 2.1, 1, 0, 1000, 0, 0, 0 } };
static const struct sl_row_brace two_braces[] = { { 1, 1, 2, 0.1, 0.1 }, { 2, 2, 1, 0.1, 0.1 } };
static const struct sl_row_frame_in any = {
  .push = 900, POSTS, BRACE, LIST(lines, two_lines), LIST(posts, four_posts), LIST(braces, two_braces) };
static const struct op_case ops[] = { { "row_frame", &any } };

int main(void) {
  static struct CMUnitTest tests[16];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest others[] = {
    cmocka_unit_test(cantilevers), cmocka_unit_test(unlike_heights), cmocka_unit_test(lines_and_parts),
    cmocka_unit_test(unlike_lines),
    cmocka_unit_test(braced), cmocka_unit_test(leaning), cmocka_unit_test(leans_on_its_brace), cmocka_unit_test(laws),
    cmocka_unit_test(refusals),
  };
  for (size_t i = 0; i < COUNT(others); i++) tests[n++] = others[i];
  return _cmocka_run_group_tests("row frame", tests, n, NULL, NULL);
}
