/* SPDX-License-Identifier: MIT
 * Plane frames against closed forms of the strength of materials, each worked in the comment beside it; mechanisms and
 * buckling by name; what holds of every frame: balance, and that turning it changes no force in it. */
#include "check.h"
#include "room.h"
#include "stringline/frame.h"

#define COUNT(list) (sizeof list / sizeof *list)
#define FIXED INFINITY, INFINITY, INFINITY
#define PINNED INFINITY, INFINITY, 0
#define FREE 0, 0, 0
#define PI 3.14159265358979323846

enum { AXIAL, SHEAR, MOMENT, END = 3 };

static enum sl_status solved(const struct sl_frame *frame, struct sl_frame_answer *answer, struct sl_sheet *sh) {
  return sl_frame_solve(frame, answer, room_of(sl_frame_need(frame)), sh);
}
static struct sl_frame_answer answer_of(const struct sl_frame *frame) {
  struct sl_frame_answer answer;
  assert_int_equal(solved(frame, &answer, NULL), SL_OK);
  assert_int_equal(answer.free_node, -1);
  return answer;
}
#define FRAME(n, m) .nodes = n, .nnodes = COUNT(n), .members = m, .nmembers = COUNT(m), .ncases = 1

/* ---- single members -------------------------------------------------------------------------------------------- */

/* L = 3, EI = 2e4.  Tip load P = 500 down: M = P L = 1500 at the foot, v = P L3 / (3 EI) = 0.225, turn P L2 / (2 EI);
 * uniform w = 400 down: M = w L2 / 2 = 1800, v = w L4 / (8 EI) = 0.2025, turn w L3 / (6 EI). */
static void cantilever(void **state) {
  (void)state;
  const struct sl_frame_node nodes[] = { { 0, 0, FIXED }, { 3, 0, FREE } };
  const struct sl_frame_member members[] = { { 0, 1, 1e8, 2e4, 0, 0 } };
  const double points[] = { 0, 0, 0, 0, -500, 0, 0, 0, 0, 0, 0, 0 }, uniform[] = { 0, 0, 0, -400 };
  struct sl_frame frame = { FRAME(nodes, members), .node_loads = points, .member_loads = uniform };
  frame.ncases = 2;
  const struct sl_frame_answer a = answer_of(&frame);
  assert_near(a.moved[4], -0.225, 1e-9);
  assert_near(a.moved[5], -500 * 9 / 4e4, 1e-9);
  assert_near(a.ends[MOMENT], -1500, 1e-9);
  assert_near(a.ends[SHEAR], 500, 1e-9);
  assert_near(a.reactions[1], 500, 1e-9);
  assert_near(a.reactions[2], 1500, 1e-9);
  assert_near(a.moved[6 + 4], -0.2025, 1e-9);
  assert_near(a.moved[6 + 5], -400 * 27 / 12e4, 1e-9);
  assert_near(a.ends[6 + MOMENT], -1800, 1e-9);
  assert_near(a.reactions[6 + 1], 1200, 1e-9);
}

/* Held at the left, on a roller at the right: R = 3 w L / 8 on the roller, M = w L2 / 8 at the fixed end. The same
 * with a joint in the middle, which sinks by w L4 / (192 EI). */
static void propped(void **state) {
  (void)state;
  const struct sl_frame_node nodes[] = { { 4, 0, 0, INFINITY, 0 }, { 2, 0, FREE }, { 0, 0, FIXED } };
  const struct sl_frame_member members[] = { { 2, 1, 1e8, 3e4, 0, 0 }, { 1, 0, 1e8, 3e4, 0, 0 } };
  const double uniform[] = { 0, -1000, 0, -1000 };
  const struct sl_frame frame = { FRAME(nodes, members), .member_loads = uniform };
  const struct sl_frame_answer a = answer_of(&frame);
  assert_near(a.reactions[1], 1500, 1e-9);
  assert_near(a.ends[MOMENT], -2000, 1e-9);
  assert_near(a.moved[4], -1000 * 256 / (192 * 3e4), 1e-9);
  assert_near(a.ends[MOMENT + END], 1500 * 2 - 1000 * 2, 1e-9);   /* R a - w a2 / 2, a = 2 from the roller */
}

/* A hinge at the far end by the member instead of the joint: the same as above, one member. */
static void hinged_end(void **state) {
  (void)state;
  const struct sl_frame_node nodes[] = { { 0, 0, FIXED }, { 4, 0, PINNED } };
  for (int way = 0; way < 2; way++) {
    const struct sl_frame_member members[] = { { way, !way, 1e8, 3e4, way == 1, way == 0 } };
    const double uniform[] = { 0, -1000 };
    const struct sl_frame frame = { FRAME(nodes, members), .member_loads = uniform };
    const struct sl_frame_answer a = answer_of(&frame);
    assert_near(a.reactions[4], 1500, 1e-9);
    assert_near(a.reactions[2], 2000, 1e-9);
    /* Seen from the right the stretched side of the hogging end is on the right. */
    assert_near(a.ends[way ? MOMENT + END : MOMENT], way ? 2000 : -2000, 1e-9);
  }
}

/* Fixed at both ends: w L2 / 12, and w L4 / (384 EI) in the middle; springs: a foot of k sinks by w L / 2 / k. */
static void fixed_and_springs(void **state) {
  (void)state;
  const struct sl_frame_node nodes[] = { { 0, 0, INFINITY, 2e5, INFINITY }, { 3, 0, FREE },
                                         { 6, 0, 0, 2e5, INFINITY } };
  const struct sl_frame_member members[] = { { 0, 1, 1e8, 3e4, 0, 0 }, { 1, 2, 1e8, 3e4, 0, 0 } };
  const double uniform[] = { 0, -1000, 0, -1000 };
  const struct sl_frame frame = { FRAME(nodes, members), .member_loads = uniform };
  const struct sl_frame_answer a = answer_of(&frame);
  assert_near(a.ends[MOMENT], -3000, 1e-9);
  assert_near(a.moved[1], -3000 / 2e5, 1e-9);
  assert_near(a.moved[4], -3000 / 2e5 - 1000 * 1296 / (384 * 3e4), 1e-9);
  assert_near(a.reactions[7], 3000, 1e-9);
}

/* ---- frames ---------------------------------------------------------------------------------------------------- */

/* Two bars at 45 degrees under a load at their top: each P / sqrt 2 pressed; the top sinks by P L / (2 EA sin2). */
static void two_bars(void **state) {
  (void)state;
  const struct sl_frame_node nodes[] = { { 0, 0, PINNED }, { 2, 2, FREE }, { 4, 0, PINNED } };
  const struct sl_frame_member members[] = { { 0, 1, 1e6, 1, 1, 1 }, { 1, 2, 1e6, 1, 1, 1 } };
  const double points[] = { 0, 0, 0, 0, -1000, 0, 0, 0, 0 };
  const struct sl_frame frame = { FRAME(nodes, members), .node_loads = points };
  const struct sl_frame_answer a = answer_of(&frame);
  assert_near(a.ends[AXIAL], -1000 / sqrt(2), 1e-9);
  assert_near(a.ends[6 + AXIAL + END], -1000 / sqrt(2), 1e-9);
  assert_near(a.moved[4], -1000 * sqrt(8) / (2 * 1e6 * 0.5), 1e-9);
  assert_near(a.reactions[0], 500, 1e-9);
}

/* The portal with k = (I2 / h-side ratio) = Ibeam h / (Icolumn l), a handbook's formulas for frames (Kleinlogel), side
 * load P at the left top, l = 6, h = 4, Ibeam = 2 Icolumn: k = 4/3.  Fixed feet: foot P h / 2 (3k + 1) / (6k + 1), top
 * P h / 2 3k / (6k + 1).  Pinned feet: top P h / 2.  Columns' thrust: 2 Mtop / l.  Members are made stiff along
 * themselves, as the formulas take them. */
static void portal(void **state) {
  (void)state;
  const double k = 4.0 / 3, p = 900, h = 4, l = 6;
  for (int fixed = 0; fixed < 2; fixed++) {
    const double kr = fixed ? INFINITY : 0;
    const struct sl_frame_node nodes[] = { { 0, 0, INFINITY, INFINITY, kr }, { 0, h, FREE }, { l, h, FREE },
                                           { l, 0, INFINITY, INFINITY, kr } };
    const struct sl_frame_member members[] = { { 0, 1, 1e10, 5e4, 0, 0 }, { 1, 2, 1e10, 1e5, 0, 0 },
                                               { 2, 3, 1e10, 5e4, 0, 0 } };
    const double points[] = { 0, 0, 0, p, 0, 0, 0, 0, 0, 0, 0, 0 };
    const struct sl_frame frame = { FRAME(nodes, members), .node_loads = points };
    const struct sl_frame_answer a = answer_of(&frame);
    const double foot = fixed ? p * h / 2 * (3 * k + 1) / (6 * k + 1) : 0;
    const double top = fixed ? p * h / 2 * 3 * k / (6 * k + 1) : p * h / 2;
    assert_true(fabs(fabs(a.reactions[2]) - foot) < 1e-5 * p * h);
    assert_near(a.ends[6 + MOMENT], top, 1e-5);
    assert_near(a.ends[6 + MOMENT + END], -top, 1e-5);
    assert_near(a.reactions[0], -p / 2, 1e-5);
    assert_near(a.reactions[1], -2 * top / l, 1e-5);
    assert_near(a.reactions[10], 2 * top / l, 1e-5);
  }
}

/* Uniform w on the beam of the same portal.  Fixed feet: top w l2 / (6 (k + 2)), foot half of it; pinned feet: top
 * w l2 / (4 (2k + 3)), thrust Mtop / h. */
static void portal_beam(void **state) {
  (void)state;
  const double k = 4.0 / 3, w = 700, h = 4, l = 6;
  for (int fixed = 0; fixed < 2; fixed++) {
    const double kr = fixed ? INFINITY : 0;
    const struct sl_frame_node nodes[] = { { 0, 0, INFINITY, INFINITY, kr }, { 0, h, FREE }, { l, h, FREE },
                                           { l, 0, INFINITY, INFINITY, kr } };
    const struct sl_frame_member members[] = { { 0, 1, 1e10, 5e4, 0, 0 }, { 1, 2, 1e10, 1e5, 0, 0 },
                                               { 2, 3, 1e10, 5e4, 0, 0 } };
    const double uniform[] = { 0, 0, 0, -w, 0, 0 };
    const struct sl_frame frame = { FRAME(nodes, members), .member_loads = uniform };
    const struct sl_frame_answer a = answer_of(&frame);
    const double top = fixed ? w * l * l / (6 * (k + 2)) : w * l * l / (4 * (2 * k + 3));
    assert_near(a.ends[6 + MOMENT], -top, 1e-5);
    assert_near(a.ends[6 + MOMENT + END], -top, 1e-5);
    assert_near(a.reactions[0], fixed ? 1.5 * top / h : top / h, 1e-5);
    if (fixed) assert_near(fabs(a.reactions[2]), top / 2, 1e-5);
  }
}

/* Three-hinged roof, 8 m wide, 3 m high, w on the ground plan by wz = w cos on the slope: thrust w l2 / (8 h) by
 * the moment about the ridge, alone of statics. */
static void three_hinges(void **state) {
  (void)state;
  const double w = 600;
  const struct sl_frame_node nodes[] = { { 0, 0, PINNED }, { 4, 3, FREE }, { 8, 0, PINNED } };
  const struct sl_frame_member members[] = { { 0, 1, 1e8, 1e5, 0, 1 }, { 1, 2, 1e8, 1e5, 1, 0 } };
  const double uniform[] = { 0, -w * 0.8, 0, -w * 0.8 };
  const struct sl_frame frame = { FRAME(nodes, members), .member_loads = uniform };
  const struct sl_frame_answer a = answer_of(&frame);
  assert_near(a.reactions[0], w * 64 / (8 * 3), 1e-9);
  assert_near(a.reactions[1], w * 4, 1e-9);
  assert_near(a.moved[5] + 1, 1, 1e-12);   /* all ends are hinged: no turn of its own */
}

/* ---- pressure -------------------------------------------------------------------------------------------------- */

/* A cantilever in `n` members under P, pushed by H at its tip.  Exact: 3 (tan u - u) / u3 of the first-order sway, u =
 * sqrt(P L2 / EI); 1 / (1 - P / Pcr) is near it, Pcr = pi2 EI / (4 L2). */
enum { PARTS = 4 };
static double column_top(double p, int parts, enum sl_status *status, struct sl_frame_answer *answer,
                         struct sl_sheet *sheet) {
  struct sl_frame_node nodes[PARTS + 1] = { { 0, 0, FIXED } };
  struct sl_frame_member members[PARTS];
  double points[3 * (PARTS + 1)] = { 0 }, pressed[PARTS];
  for (int i = 0; i < parts; i++) {
    nodes[i + 1] = (struct sl_frame_node){ 0, 3.0 * (i + 1) / parts, FREE };
    members[i] = (struct sl_frame_member){ i, i + 1, 1e8, 2e4, 0, 0 };
    pressed[i] = p;
  }
  points[3 * parts] = 100;
  const struct sl_frame frame = { .nodes = nodes, .nnodes = (size_t)parts + 1, .members = members,
                                  .nmembers = (size_t)parts, .ncases = 1, .node_loads = points, .pressed = pressed };
  *status = solved(&frame, answer, sheet);
  return *status == SL_OK ? answer->moved[3 * parts] / (100 * 27 / 6e4) : NAN;
}
static void pressed_cantilever(void **state) {
  (void)state;
  const double critical = PI * PI * 2e4 / 36;
  struct sl_frame_answer answer;
  enum sl_status status;
  for (int parts = 1; parts <= PARTS; parts *= 2)
    for (double share = 0.1; share < 0.95; share += 0.1) {
      const double u = PI / 2 * sqrt(share), exact = 3 * (tan(u) - u) / (u * u * u);
      const double got = column_top(share * critical, parts, &status, &answer, NULL);
      if (parts > 1) assert_near(got, exact, 0.01);
      if (share < 0.35) assert_near(got, 1 / (1 - share), 0.01);
    }
  assert_true(column_top(-critical, PARTS, &status, &answer, NULL) < 0.6);      /* tension stiffens */
  struct sl_sheet sheet = { .cap = 0 };
  column_top(1.01 * critical, PARTS, &status, &answer, &sheet);
  assert_int_equal(status, SL_NO_ANSWER);
  assert_true(answer.free_node > 0);
  assert_non_null(strstr(sheet.fault.text, "buckles"));
}

/* A column on pins, pushed sideways by w: the middle goes by 12 (2 sec u - u2 - 2) / (5 u4) of 5 w L4 / (384 EI), u =
 * pi / 2 sqrt(P / Pcr), Pcr = pi2 EI / L2; 1 / (1 - P / Pcr) is within 1 % of it. */
static void pressed_pins(void **state) {
  (void)state;
  const struct sl_frame_node nodes[] = { { 0, 0, PINNED }, { 0, 1, FREE }, { 0, 2, FREE }, { 0, 3, FREE },
                                         { 0, 4, INFINITY, 0, 0 } };
  const struct sl_frame_member members[] = { { 0, 1, 1e8, 2e4, 0, 0 }, { 1, 2, 1e8, 2e4, 0, 0 },
                                             { 2, 3, 1e8, 2e4, 0, 0 }, { 3, 4, 1e8, 2e4, 0, 0 } };
  const double uniform[] = { 100, 0, 100, 0, 100, 0, 100, 0 }, critical = PI * PI * 2e4 / 16;
  for (int i = 1; i < 11; i++) {
    const double share = i < 10 ? 0.1 * i : 1.01, p = share * critical, pressed[] = { p, p, p, p };
    const struct sl_frame frame = { FRAME(nodes, members), .member_loads = uniform, .pressed = pressed };
    struct sl_frame_answer a;
    struct sl_sheet sheet = { .cap = 0 };
    assert_int_equal(solved(&frame, &a, &sheet), i < 10 ? SL_OK : SL_NO_ANSWER);
    if (i == 10) {
      assert_non_null(strstr(sheet.fault.text, "buckles"));
      continue;
    }
    const double u = PI / 2 * sqrt(share), first = 5 * 100 * 256 / (384 * 2e4);
    assert_near(a.moved[6] / first, 12 * (2 / cos(u) - u * u - 2) / (5 * u * u * u * u), 0.01);
    assert_near(a.moved[6] / first, 1 / (1 - share), 0.01);
  }
  /* One member hinged at both ends, by its own cubic: 12 EI / L2, as frame.h warns. */
  const struct sl_frame_node two[] = { { 0, 0, PINNED }, { 0, 4, INFINITY, 0, 0 } };
  const struct sl_frame_member one[] = { { 0, 1, 1e8, 2e4, 1, 1 } };
  for (int over = 0; over < 2; over++) {
    const double pressed[] = { (over ? 1.001 : 0.999) * 12 * 2e4 / 16 };
    const struct sl_frame frame = { FRAME(two, one), .pressed = pressed };
    struct sl_frame_answer a;
    struct sl_sheet sheet = { .cap = 0 };
    assert_int_equal(solved(&frame, &a, &sheet), over ? SL_NO_ANSWER : SL_OK);
    if (over) assert_string_equal(sheet.fault.member, "members");
  }
}

/* ---- mechanisms ------------------------------------------------------------------------------------------------ */

static void free_way(const struct sl_frame *frame, int node, int way, const char *text) {
  struct sl_frame_answer a;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(solved(frame, &a, &sheet), SL_NO_ANSWER);
  assert_int_equal(a.free_node, node);
  assert_int_equal(a.free_way, way);
  assert_string_equal(sheet.fault.member, "nodes");
  assert_int_equal(sheet.fault.item, node + 1);
  assert_non_null(strstr(sheet.fault.text, text));
}
static void mechanisms(void **state) {
  (void)state;
  const struct sl_frame_node line[] = { { 0, 0, PINNED }, { 2, 0, FREE }, { 4, 0, PINNED } };
  const struct sl_frame_member bars[] = { { 0, 1, 1e6, 10, 1, 1 }, { 1, 2, 1e6, 10, 1, 1 } };
  free_way(&(struct sl_frame){ FRAME(line, bars) }, 1, 1, "free to move along z");
  /* The same, leaning, so that no number of it is whole. */
  const struct sl_frame_node lean[] = { { 0, 0, PINNED }, { 2.1, 0.7, FREE }, { 6.3, 2.1, PINNED } };
  struct sl_frame_answer a;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(solved(&(struct sl_frame){ FRAME(lean, bars) }, &a, &sheet), SL_NO_ANSWER);
  assert_int_equal(a.free_node, 1);
  /* A beam on rollers alone moves along itself; a foot on one pin turns. */
  const struct sl_frame_node rollers[] = { { 0, 0, 0, INFINITY, 0 }, { 3, 0, 0, INFINITY, 0 } };
  const struct sl_frame_member beam[] = { { 0, 1, 1e6, 10, 0, 0 } };
  free_way(&(struct sl_frame){ FRAME(rollers, beam) }, 1, 0, "free to move along x");
  const struct sl_frame_node post[] = { { 0, 0, PINNED }, { 0, 3, FREE } };
  assert_int_equal(solved(&(struct sl_frame){ FRAME(post, beam) }, &a, &sheet), SL_NO_ANSWER);
  assert_non_null(strstr(sheet.fault.text, "a mechanism"));
  /* A joint to which nothing leads. */
  const struct sl_frame_node alone[] = { { 0, 0, FIXED }, { 3, 0, FREE }, { 5, 5, FREE } };
  free_way(&(struct sl_frame){ FRAME(alone, beam) }, 2, 0, "free to move along x");
  /* A moment where all ends are hinged. */
  const struct sl_frame_node roof[] = { { 0, 0, PINNED }, { 2, 2, FREE }, { 4, 0, PINNED } };
  const double moment[] = { 0, 0, 0, 0, 0, 5, 0, 0, 0 };
  free_way(&(struct sl_frame){ FRAME(roof, bars), .node_loads = moment }, 1, 2, "a moment acts");
  /* 301 joints in a row, held at one end, are none: v = P L3 / (3 EI). */
  static struct sl_frame_node many[301];
  static struct sl_frame_member chain[300];
  static double tip[903];
  for (int i = 0; i < 301; i++) many[i] = (struct sl_frame_node){ .x = i / 15.0 };
  for (int i = 0; i < 300; i++) chain[i] = (struct sl_frame_member){ i, i + 1, 1e7, 1e4, 0, 0 };
  many[0].kx = many[0].kz = many[0].kr = INFINITY;
  tip[901] = -1;
  const struct sl_frame_answer long_one = answer_of(&(struct sl_frame){ FRAME(many, chain), .node_loads = tip });
  assert_near(long_one.moved[901], -8000 / 3e4, 1e-5);
}

/* ---- what is refused ------------------------------------------------------------------------------------------- */

static void refused(void **state) {
  (void)state;
  const struct sl_frame_node good_nodes[] = { { 0, 0, FIXED }, { 3, 0, FREE } };
  const struct sl_frame_member good_members[] = { { 0, 1, 1e8, 2e4, 0, 0 } };
  const double bad_load[] = { 0, 0, 0, 0, NAN, 0 }, bad_uniform[] = { 0, INFINITY }, bad_pressed[] = { NAN };
  for (int i = 0; i < 16; i++) {
    struct sl_frame_node nodes[] = { good_nodes[0], good_nodes[1] };
    struct sl_frame_member members[] = { good_members[0] };
    struct sl_frame f = { FRAME(nodes, members) };
    static const char *const named[] = { "nodes[i].x", "nodes[i].z", "nodes[i].kx", "nodes[i].kr", "members[i].from",
      "members[i].to", "members[i].ea", "members[i].ei", "members[i].ei", "members[i].to", "nodes", "nodes", "ncases",
      "node_loads", "member_loads", "pressed" };
    static const size_t item[] = { 2, 1, 2, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 2, 1, 1 };
    switch (i) {
    case 0: nodes[1].x = NAN; break;
    case 1: nodes[0].z = INFINITY; break;
    case 2: nodes[1].kx = -1; break;
    case 3: nodes[0].kr = NAN; break;
    case 4: members[0].from = -1; break;
    case 5: members[0].to = 2; break;
    case 6: members[0].ea = 0; break;
    case 7: members[0].ei = -1; break;
    case 8: members[0].ei = NAN; break;
    case 9: nodes[1].x = 0; break;
    case 10: f.nnodes = 2001; break;
    case 11: f.nnodes = 0; break;
    case 12: f.ncases = 0; break;
    case 13: f.node_loads = bad_load; break;
    case 14: f.member_loads = bad_uniform; break;
    default: f.pressed = bad_pressed; break;
    }
    struct sl_frame_answer a;
    struct sl_sheet sheet = { .cap = 0 };
    assert_int_equal(solved(&f, &a, &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, named[i]);
    assert_int_equal(sheet.fault.item, item[i]);
  }
  const struct sl_frame good = { FRAME(good_nodes, good_members) };
  struct sl_frame_answer a;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_frame_solve(&good, &a, room_of(sl_frame_need(&good) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
}

/* ---- any frame ------------------------------------------------------------------------------------------------- */

static double drawn(uint64_t *seed) {     /* 0 to 1 */
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return (double)(*seed >> 33) / 2147483648.0;
}

enum { MOST = 12, MOST_BARS = 24 };
struct any {
  struct sl_frame_node nodes[MOST];
  struct sl_frame_member members[MOST_BARS];
  double points[3 * MOST], uniform[2 * MOST_BARS];
  struct sl_frame frame;
};

/* A tree of stiff members from a fixed first joint, so that it stands, and more between; some hinged or on springs. */
static void draw(uint64_t *seed, struct any *any) {
  const int n = 2 + (int)(drawn(seed) * (MOST - 2));
  int m = 0;
  for (int i = 0; i < n; i++)
    any->nodes[i] = (struct sl_frame_node){ drawn(seed) * 9, drawn(seed) * 9, FREE };
  any->nodes[0].kx = any->nodes[0].kz = any->nodes[0].kr = INFINITY;
  for (int i = 1; i < n; i++) {
    any->members[m++] = (struct sl_frame_member){ (int)(drawn(seed) * i), i, 1e7 + 1e8 * drawn(seed),
                                                  1e4 + 1e5 * drawn(seed), 0, 0 };
    if (drawn(seed) < 0.2) any->nodes[i].kz = 1e5 * drawn(seed);
    if (drawn(seed) < 0.1) any->nodes[i].kx = INFINITY;
  }
  for (int i = 0; i < n; i++) {
    const int from = (int)(drawn(seed) * n), to = (int)(drawn(seed) * n);
    if (from != to)
      any->members[m++] = (struct sl_frame_member){ from, to, 1e7, 1e4, drawn(seed) < 0.5, drawn(seed) < 0.5 };
  }
  for (int i = 0; i < 3 * n; i++) any->points[i] = 2000 * drawn(seed) - 1000;
  for (int i = 0; i < 2 * m; i++) any->uniform[i] = 400 * drawn(seed) - 200;
  any->frame = (struct sl_frame){ .nodes = any->nodes, .nnodes = (size_t)n, .members = any->members,
                                  .nmembers = (size_t)m, .ncases = 1, .node_loads = any->points,
                                  .member_loads = any->uniform };
}

/* Loads and reactions of the whole, and each member by itself: statics alone, nothing of the stiffness. */
static void in_balance(void **state) {
  (void)state;
  uint64_t seed = 20261129;
  for (int round = 0; round < 500; round++) {
    struct any any;
    draw(&seed, &any);
    const struct sl_frame *f = &any.frame;
    const struct sl_frame_answer a = answer_of(f);
    double sum[3] = { 0 }, most = 1;
    double at_joint[3 * MOST] = { 0 };
    for (size_t i = 0; i < f->nnodes; i++) {
      const double *p = &any.points[3 * i], *r = &a.reactions[3 * i];
      for (int k = 0; k < 3; k++) at_joint[3 * i + (size_t)k] = p[k] + r[k];
      sum[0] += p[0] + r[0];
      sum[1] += p[1] + r[1];
      sum[2] += p[2] + r[2] + (p[1] + r[1]) * f->nodes[i].x - (p[0] + r[0]) * f->nodes[i].z;
      most = fmax(most, fmax(fabs(r[0]) + fabs(r[1]), fabs(r[2])));
    }
    for (size_t m = 0; m < f->nmembers; m++) {
      const struct sl_frame_node *p = &f->nodes[f->members[m].from], *q = &f->nodes[f->members[m].to];
      const double l = hypot(q->x - p->x, q->z - p->z), c = (q->x - p->x) / l, s = (q->z - p->z) / l;
      const double wx = any.uniform[2 * m], wz = any.uniform[2 * m + 1], *e = &a.ends[6 * m];
      sum[0] += wx * l;
      sum[1] += wz * l;
      sum[2] += l * (wz * (p->x + q->x) / 2 - wx * (p->z + q->z) / 2);
      for (int k = 0; k < 6; k++) most = fmax(most, fabs(e[k]));
      const double across = wz * c - wx * s, along = wx * c + wz * s;
      assert_true(fabs(e[AXIAL + END] - e[AXIAL] + along * l) < 1e-9 * most);
      assert_true(fabs(e[SHEAR + END] - e[SHEAR] - across * l) < 1e-9 * most);
      assert_true(fabs(e[MOMENT + END] - e[MOMENT] - e[SHEAR] * l - across * l * l / 2) < 1e-9 * most * 10);
      const size_t from = 3 * (size_t)f->members[m].from, to = 3 * (size_t)f->members[m].to;
      at_joint[from] += e[AXIAL] * c + e[SHEAR] * s;          /* on the joint: against that on the member's end */
      at_joint[from + 1] += e[AXIAL] * s - e[SHEAR] * c;
      at_joint[from + 2] += e[MOMENT];
      at_joint[to] += -e[AXIAL + END] * c - e[SHEAR + END] * s;
      at_joint[to + 1] += -e[AXIAL + END] * s + e[SHEAR + END] * c;
      at_joint[to + 2] -= e[MOMENT + END];
      if (f->members[m].hinge_from) assert_true(fabs(e[MOMENT]) < 1e-9 * most);
      if (f->members[m].hinge_to) assert_true(fabs(e[MOMENT + END]) < 1e-9 * most);
    }
    for (int k = 0; k < 3; k++) assert_true(fabs(sum[k]) < 1e-9 * most * (k == 2 ? 100 : 10));
    for (size_t i = 0; i < 3 * f->nnodes; i++) assert_true(fabs(at_joint[i]) < 1e-9 * most * 10);
  }
}

/* The frame and its loads turned by 0.7, springs left out: forces in members stay, whatever their order. */
static void turned(void **state) {
  (void)state;
  uint64_t seed = 7;
  for (int round = 0; round < 100; round++) {
    struct any any, other;
    draw(&seed, &any);
    for (size_t i = 1; i < any.frame.nnodes; i++) any.nodes[i].kx = any.nodes[i].kz = 0;
    other = any;
    other.frame.nodes = other.nodes;
    other.frame.members = other.members;
    other.frame.node_loads = other.points;
    other.frame.member_loads = other.uniform;
    const double c = cos(0.7), s = sin(0.7);
    const int last = (int)any.frame.nnodes - 1;
    for (int i = 0; i <= last; i++) {        /* the last joint is now the first */
      const struct sl_frame_node *n = &any.nodes[i];
      struct sl_frame_node *to = &other.nodes[last - i];
      *to = *n;
      to->x = c * n->x - s * n->z;
      to->z = s * n->x + c * n->z;
      const double *p = &any.points[3 * i];
      double *q = &other.points[3 * (last - i)];
      q[0] = c * p[0] - s * p[1];
      q[1] = s * p[0] + c * p[1];
      q[2] = p[2];
    }
    for (size_t m = 0; m < any.frame.nmembers; m++) {
      other.members[m].from = last - any.members[m].from;
      other.members[m].to = last - any.members[m].to;
      other.uniform[2 * m] = c * any.uniform[2 * m] - s * any.uniform[2 * m + 1];
      other.uniform[2 * m + 1] = s * any.uniform[2 * m] + c * any.uniform[2 * m + 1];
    }
    const struct sl_frame_answer a = answer_of(&any.frame), b = answer_of(&other.frame);
    double most = 1;
    for (size_t i = 0; i < 6 * any.frame.nmembers; i++) most = fmax(most, fabs(a.ends[i]));
    for (size_t i = 0; i < 6 * any.frame.nmembers; i++) assert_true(fabs(a.ends[i] - b.ends[i]) < 1e-7 * most);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
    cmocka_unit_test(cantilever), cmocka_unit_test(propped), cmocka_unit_test(hinged_end),
    cmocka_unit_test(fixed_and_springs), cmocka_unit_test(two_bars), cmocka_unit_test(portal),
    cmocka_unit_test(portal_beam), cmocka_unit_test(three_hinges), cmocka_unit_test(pressed_cantilever),
    cmocka_unit_test(pressed_pins), cmocka_unit_test(mechanisms), cmocka_unit_test(refused),
    cmocka_unit_test(in_balance), cmocka_unit_test(turned),
  };
  return cmocka_run_group_tests_name("frame", tests, NULL, NULL);
}
