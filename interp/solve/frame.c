/* SPDX-License-Identifier: MIT
 * Plane frames by the direct stiffness method.  See frame.h.
 *
 * Each joint has three ways to move; those held by the ground have no equation, nor has a turn that nothing resists
 * because all ends at the joint are hinged.  The equations go along x or along z, whichever keeps them closer. */
#include <stdbool.h>
#include <stdint.h>
#include "band.h"
#include "calc.h"
#include "room.h"
#include "stringline/frame.h"

enum { MOST_NODES = 2000, MOST_MEMBERS = 8000, MOST_CASES = 1000, MOST_SOLVES = 4 };
#define NO_EQUATION SIZE_MAX
/* A pivot as a share of the stiffness at its joint.  A mechanism leaves some 1e-16; a cantilever of n members leaves
 * 1 / (8 n3), and slender members, whose bending is soft beside their stretching, a share of that. */
#define LEAST_PIVOT 1e-13
/* Forces out of balance, as a share of the largest: the answer is worked again while it is above the first, and refused
 * above the second.  Stiff members that soft ones carry far are between: their movements have too few digits. */
#define BALANCE 1e-10
#define MOST_OUT 1e-7

/* A member in its own directions, hinges worked in; what a hinge hands on to each way of the member, of a moment. */
struct bar { double length, c, s, k[6][6], from[6], to[6]; };
struct work {
  const struct sl_frame *frame;
  size_t *equation;            /* of each way of each joint */
  size_t *order;               /* joints, as their equations go */
  unsigned char *turns;        /* of each joint: something resists its turn */
  double *scale;               /* of each equation: 1 / sqrt(stiffness at the joint) */
  double *rhs;
  double *out_of_balance;      /* of each way of each joint */
  struct bar *bars;            /* of each member */
  struct sl_band band;
};

/* ---- the order of the equations -------------------------------------------------------------------------------- */

static bool before(const struct sl_frame *f, bool upright, size_t a, size_t b) {
  const struct sl_frame_node *p = &f->nodes[a], *q = &f->nodes[b];
  const double p1 = upright ? p->z : p->x, q1 = upright ? q->z : q->x;
  const double p2 = upright ? p->x : p->z, q2 = upright ? q->x : q->z;
  if (p1 < q1) return true;
  if (p1 > q1) return false;
  return p2 < q2 || (!(p2 > q2) && a < b);
}

/* Steps from one end of a member to the other in that order, of the member where they are most. */
static size_t reach(const struct sl_frame *f, bool upright) {
  size_t most = 0;
  for (size_t m = 0; m < f->nmembers; m++) {
    size_t a = (size_t)f->members[m].from, b = (size_t)f->members[m].to, steps = 0;
    if (before(f, upright, b, a)) {
      const size_t swap = a;
      a = b;
      b = swap;
    }
    for (size_t i = 0; i < f->nnodes; i++) steps += !before(f, upright, i, a) && before(f, upright, i, b);
    if (steps > most) most = steps;
  }
  return most;
}

static bool goes_upright(const struct sl_frame *f, size_t *most) {
  const size_t along = reach(f, false), up = reach(f, true);
  *most = up < along ? up : along;
  return up < along;
}

static size_t width_of(const struct sl_frame *f, size_t most) {
  const size_t width = 3 * most + 2;
  return width < 3 * f->nnodes ? width : 3 * f->nnodes - 1;
}

/* ---- room ------------------------------------------------------------------------------------------------------ */

static bool in_range(const struct sl_frame *f) {
  if (f->nnodes < 1 || f->nnodes > MOST_NODES || f->nmembers > MOST_MEMBERS) return false;
  if (f->ncases < 1 || f->ncases > MOST_CASES) return false;
  for (size_t m = 0; m < f->nmembers; m++) {
    const struct sl_frame_member *member = &f->members[m];
    if (member->from < 0 || member->to < 0) return false;
    if ((size_t)member->from >= f->nnodes || (size_t)member->to >= f->nnodes) return false;
  }
  return true;
}

static size_t need_of(const struct sl_frame *f, size_t most) {
  const size_t ways = 3 * f->nnodes;
  size_t need = NEED(0, double, f->ncases * ways);
  need = NEED(need, double, f->ncases * f->nmembers * 6);
  need = NEED(need, double, f->ncases * ways);
  need = NEED(need, size_t, ways);
  need = NEED(need, size_t, f->nnodes);
  need = NEED(need, unsigned char, f->nnodes);
  need = NEED(need, double, ways);
  need = NEED(need, double, ways);
  need = NEED(need, double, ways);
  need = NEED(need, struct bar, f->nmembers);
  return NEED(need, double, ways * (width_of(f, most) + 1));
}

size_t sl_frame_need(const struct sl_frame *frame) {
  size_t most;
  if (!in_range(frame)) return 0;
  goes_upright(frame, &most);
  return need_of(frame, most);
}

/* ---- what is refused ------------------------------------------------------------------------------------------- */

static enum sl_status check_count(const char *name, size_t n, size_t least, size_t most, const char *text,
                                  struct sl_sheet *sh) {
  if (n >= least && n <= most) return SL_OK;
  return sl_sheet_fault(sh, SL_BAD_INPUT, name, text, "", (double)n, (double)most, SL_NUMBER);
}

static enum sl_status check_nodes(const struct sl_frame *f, struct sl_sheet *sh) {
  for (size_t i = 0; i < f->nnodes; i++) {
    REQUIRE_ROW(sh, f, nodes, i, x, > -INFINITY && f->nodes[i].x < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, f, nodes, i, z, > -INFINITY && f->nodes[i].z < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, f, nodes, i, kx, >= 0, "must not be negative", SL_LINE_LOAD);
    REQUIRE_ROW(sh, f, nodes, i, kz, >= 0, "must not be negative", SL_LINE_LOAD);
    REQUIRE_ROW(sh, f, nodes, i, kr, >= 0, "must not be negative", SL_MOMENT);
  }
  return SL_OK;
}

static double length_of(const struct sl_frame *f, const struct sl_frame_member *m) {
  const struct sl_frame_node *a = &f->nodes[m->from], *b = &f->nodes[m->to];
  return hypot(b->x - a->x, b->z - a->z);
}

static enum sl_status check_members(const struct sl_frame *f, struct sl_sheet *sh) {
  const int last = (int)f->nnodes - 1;
  for (size_t i = 0; i < f->nmembers; i++) {
    REQUIRE_ROW(sh, f, members, i, from, >= 0 && f->members[i].from <= last, "is no joint's number", SL_NUMBER);
    REQUIRE_ROW(sh, f, members, i, to, >= 0 && f->members[i].to <= last, "is no joint's number", SL_NUMBER);
    REQUIRE_ROW(sh, f, members, i, ea, > 0 && f->members[i].ea < INFINITY, "must be a finite number above 0", SL_FORCE);
    REQUIRE_ROW(sh, f, members, i, ei, > 0 && f->members[i].ei < INFINITY, "must be a finite number above 0",
                SL_NUMBER);
    const double length = length_of(f, &f->members[i]);
    if (!(length > 0 && length < INFINITY))
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "members[i].to", "is where the member begins", "",
                                               length, NAN, SL_LENGTH));
  }
  return SL_OK;
}

static enum sl_status check_list(const char *name, const double *list, size_t n, size_t each, enum sl_dim dim,
                                 struct sl_sheet *sh) {
  for (size_t i = 0; list && i < n; i++)
    if (!isfinite(list[i]))
      return sl_sheet_at(sh, i / each, sl_sheet_fault(sh, SL_BAD_INPUT, name, "must be a finite number", "", list[i],
                                                      NAN, dim));
  return SL_OK;
}

static enum sl_status check(const struct sl_frame *f, struct sl_sheet *sh) {
  enum sl_status status = check_count("nodes", f->nnodes, 1, MOST_NODES, "must be 1 to 2000", sh);
  if (status == SL_OK) status = check_count("members", f->nmembers, 0, MOST_MEMBERS, "must be at most 8000", sh);
  if (status == SL_OK) status = check_count("ncases", f->ncases, 1, MOST_CASES, "must be 1 to 1000", sh);
  if (status == SL_OK) status = check_nodes(f, sh);
  if (status == SL_OK) status = check_members(f, sh);
  if (status == SL_OK)
    status = check_list("node_loads", f->node_loads, f->ncases * f->nnodes * 3, 3, SL_FORCE, sh);
  if (status == SL_OK)
    status = check_list("member_loads", f->member_loads, f->ncases * f->nmembers * 2, 2, SL_LINE_LOAD, sh);
  if (status == SL_OK) status = check_list("pressed", f->pressed, f->nmembers, 1, SL_FORCE, sh);
  return status;
}

/* ---- one member ------------------------------------------------------------------------------------------------ */

/* Bending of a slender beam, less what the pressure takes from it: -P / (30 L) by the same cubic. */
static void set_stiffness(struct bar *bar, double ea, double ei, double pressed) {
  static const int at[4] = { 1, 2, 4, 5 };
  const double l = bar->length, b = ei / (l * l * l), g = -pressed / (30 * l);
  const double bend[4][4] = { { 12, 6 * l, -12, 6 * l }, { 6 * l, 4 * l * l, -6 * l, 2 * l * l },
                              { -12, -6 * l, 12, -6 * l }, { 6 * l, 2 * l * l, -6 * l, 4 * l * l } };
  const double lean[4][4] = { { 36, 3 * l, -36, 3 * l }, { 3 * l, 4 * l * l, -3 * l, -l * l },
                              { -36, -3 * l, 36, -3 * l }, { 3 * l, -l * l, -3 * l, 4 * l * l } };
  for (int i = 0; i < 6; i++)
    for (int j = 0; j < 6; j++) bar->k[i][j] = 0;
  for (int i = 0; i < 4; i++)
    for (int j = 0; j < 4; j++) bar->k[at[i]][at[j]] = b * bend[i][j] + g * lean[i][j];
  bar->k[0][0] = bar->k[3][3] = ea / l;
  bar->k[0][3] = bar->k[3][0] = -ea / l;
}

/* No moment at that end: its turn is worked out.  False where the pressure has left it no stiffness. */
static bool hinge(struct bar *bar, int turn, double ei, double *row) {
  const double pivot = bar->k[turn][turn];
  if (!(pivot > 1e-9 * ei / bar->length)) return false;
  for (int i = 0; i < 6; i++) row[i] = bar->k[turn][i] / pivot;
  for (int i = 0; i < 6; i++)
    for (int j = 0; j < 6; j++)
      if (i != turn && j != turn) bar->k[i][j] -= row[i] * row[j] * pivot;
  for (int i = 0; i < 6; i++) bar->k[turn][i] = bar->k[i][turn] = 0;
  return true;
}

static bool set_bar(const struct sl_frame *f, size_t m, bool leaning, struct bar *bar) {
  const struct sl_frame_member *member = &f->members[m];
  const struct sl_frame_node *a = &f->nodes[member->from], *b = &f->nodes[member->to];
  const double l = length_of(f, member);
  *bar = (struct bar){ .length = l, .c = (b->x - a->x) / l, .s = (b->z - a->z) / l };
  set_stiffness(bar, member->ea, member->ei, leaning ? f->pressed[m] : 0);
  return (!member->hinge_from || hinge(bar, 2, member->ei, bar->from)) &&
      (!member->hinge_to || hinge(bar, 5, member->ei, bar->to));
}

static void give_up_moment(const double *row, int turn, double *load) {
  for (int i = 0; i < 6; i++) if (i != turn) load[i] -= row[i] * load[turn];
  load[turn] = 0;
}

/* What stands at the ends of member m for its uniform load of case `of`. */
static void set_load(const struct sl_frame *f, size_t m, size_t of, const struct bar *bar, double load[6]) {
  const double *w = &f->member_loads[(of * f->nmembers + m) * 2], l = bar->length;
  const double along = w[0] * bar->c + w[1] * bar->s, across = w[1] * bar->c - w[0] * bar->s;
  load[0] = load[3] = along * l / 2;
  load[1] = load[4] = across * l / 2;
  load[2] = across * l * l / 12;
  load[5] = -load[2];
  if (f->members[m].hinge_from) give_up_moment(bar->from, 2, load);
  if (f->members[m].hinge_to) give_up_moment(bar->to, 5, load);
}

/* From x and z to along and across, and back. */
static void to_own(const struct bar *bar, const double *from, double *to) {
  to[0] = bar->c * from[0] + bar->s * from[1];
  to[1] = bar->c * from[1] - bar->s * from[0];
  to[2] = from[2];
}
static void to_common(const struct bar *bar, const double *from, double *to) {
  to[0] = bar->c * from[0] - bar->s * from[1];
  to[1] = bar->s * from[0] + bar->c * from[1];
  to[2] = from[2];
}

/* Row i of the member's stiffness in x and z is what its ends take for a movement of 1 in that way. */
static void common_column(const struct bar *bar, int way, double *column) {
  const int end = way / 3 * 3;
  double one[3] = { 0 }, own[3], force[6];
  one[way - end] = 1;
  to_own(bar, one, own);
  for (int i = 0; i < 6; i++)
    force[i] = bar->k[i][end] * own[0] + bar->k[i][end + 1] * own[1] + bar->k[i][end + 2] * own[2];
  to_common(bar, force, column);
  to_common(bar, force + 3, column + 3);
}

/* ---- all members ----------------------------------------------------------------------------------------------- */

static double spring(const struct sl_frame *f, size_t node, size_t way) {
  const struct sl_frame_node *n = &f->nodes[node];
  return way == 0 ? n->kx : way == 1 ? n->kz : n->kr;
}

static size_t way_of(const struct sl_frame_member *m, int i) {
  return 3 * (size_t)(i < 3 ? m->from : m->to) + (size_t)(i % 3);
}

static void number(struct work *w, bool upright) {
  const struct sl_frame *f = w->frame;
  for (size_t i = 0; i < f->nnodes; i++) w->turns[i] = f->nodes[i].kr > 0;
  for (size_t m = 0; m < f->nmembers; m++) {
    if (!f->members[m].hinge_from) w->turns[f->members[m].from] = 1;
    if (!f->members[m].hinge_to) w->turns[f->members[m].to] = 1;
  }
  for (size_t i = 0; i < f->nnodes; i++) {
    size_t place = 0;
    for (size_t k = 0; k < f->nnodes; k++) place += before(f, upright, k, i);
    w->order[place] = i;
  }
  size_t n = 0;
  for (size_t place = 0; place < f->nnodes; place++)
    for (size_t way = 0; way < 3; way++) {
      const size_t i = w->order[place];
      const bool has = isfinite(spring(f, i, way)) && (way < 2 || w->turns[i]);
      w->equation[3 * i + way] = has ? n++ : NO_EQUATION;
    }
  w->band.n = n;
}

/* All members as they are, or as they lean.  The first that buckles by itself, or NO_EQUATION. */
static size_t set_bars(struct work *w, bool leaning) {
  size_t weak = NO_EQUATION;
  for (size_t m = 0; m < w->frame->nmembers; m++)
    if (!set_bar(w->frame, m, leaning, &w->bars[m]) && weak == NO_EQUATION) weak = m;
  return weak;
}

/* The stiffness that a joint's members have together in x and z, whichever way they lean, and in turning. */
static void set_scale(struct work *w) {
  const struct sl_frame *f = w->frame;
  double *sum = w->out_of_balance;
  for (size_t i = 0; i < 3 * f->nnodes; i++) sum[i] = 0;
  for (size_t m = 0; m < f->nmembers; m++) {
    const struct bar *bar = &w->bars[m];
    for (int i = 0; i < 6; i++) {
      const int end = i / 3 * 3;
      const double k = i - end == 2 ? bar->k[i][i] : bar->k[end][end] + bar->k[end + 1][end + 1];
      sum[way_of(&f->members[m], i)] += k;
    }
  }
  for (size_t i = 0; i < 3 * f->nnodes; i++) {
    const size_t e = w->equation[i];
    if (e == NO_EQUATION) continue;
    const double k = sum[i] + spring(f, i / 3, i % 3);
    w->scale[e] = k > 0 ? 1 / sqrt(k) : 0;
  }
}

/* The equation that has no pivot, or NO_EQUATION. */
static size_t factor(struct work *w) {
  const struct sl_frame *f = w->frame;
  const size_t room = w->band.n * (w->band.width + 1);
  for (size_t i = 0; i < room; i++) w->band.at[i] = 0;
  for (size_t m = 0; m < f->nmembers; m++) {
    size_t at[6];
    for (int i = 0; i < 6; i++) at[i] = w->equation[way_of(&f->members[m], i)];
    for (int j = 0; j < 6; j++) {
      const size_t col = at[j];
      if (col == NO_EQUATION) continue;
      double column[6];
      common_column(&w->bars[m], j, column);
      for (int i = 0; i < 6; i++) {
        const size_t row = at[i];
        if (row == NO_EQUATION || row < col) continue;
        *sl_band_at(&w->band, row, col) += column[i] * w->scale[row] * w->scale[col];
      }
    }
  }
  for (size_t i = 0; i < 3 * f->nnodes; i++) {
    const size_t e = w->equation[i];
    if (e != NO_EQUATION) *sl_band_at(&w->band, e, e) += spring(f, i / 3, i % 3) * w->scale[e] * w->scale[e];
  }
  const size_t bad = sl_band_factor(&w->band, LEAST_PIVOT);
  return bad < w->band.n ? bad : NO_EQUATION;
}

/* ---- faults ---------------------------------------------------------------------------------------------------- */

static enum sl_status tell_free(const struct work *w, size_t e, bool buckles, struct sl_frame_answer *answer,
                                struct sl_sheet *sh) {
  static const char *const free_to[] = {
    "a mechanism: this joint is free to move along x", "a mechanism: this joint is free to move along z",
    "a mechanism: this joint is free to turn" };
  static const char *const pressed_to[] = {
    "the frame buckles under this pressure: this joint gives way along x",
    "the frame buckles under this pressure: this joint gives way along z",
    "the frame buckles under this pressure: this joint gives way by turning" };
  size_t i = 0;
  while (w->equation[i] != e) i++;
  answer->free_node = (int)(i / 3);
  answer->free_way = (int)(i % 3);
  return sl_sheet_at(sh, i / 3, sl_sheet_fault(sh, SL_NO_ANSWER, "nodes", (buckles ? pressed_to : free_to)[i % 3], "",
                                               NAN, NAN, SL_NUMBER));
}

static enum sl_status tell_weak(const struct sl_frame *f, size_t m, struct sl_frame_answer *answer,
                                struct sl_sheet *sh) {
  answer->free_node = f->members[m].from;
  answer->free_way = 2;
  return sl_sheet_at(sh, m, sl_sheet_fault(sh, SL_NO_ANSWER, "members", "buckles between its own ends under this "
                                           "pressure", "", f->pressed[m], NAN, SL_FORCE));
}

/* A moment on a joint that nothing keeps from turning. */
static enum sl_status check_moments(const struct work *w, struct sl_frame_answer *answer, struct sl_sheet *sh) {
  const struct sl_frame *f = w->frame;
  for (size_t i = 0; f->node_loads && i < f->ncases * f->nnodes; i++) {
    const size_t node = i % f->nnodes;
    if (w->turns[node] || f->node_loads[3 * i + 2] == 0) continue;
    answer->free_node = (int)node;
    answer->free_way = 2;
    return sl_sheet_at(sh, node, sl_sheet_fault(sh, SL_NO_ANSWER, "nodes", "a mechanism: a moment acts on this joint, "
                                                "at which all ends are hinged", "", f->node_loads[3 * i + 2], NAN,
                                                SL_MOMENT));
  }
  return SL_OK;
}

/* ---- one case -------------------------------------------------------------------------------------------------- */

static double larger(double a, double b) { return b > a ? b : a; }

/* The largest force and the largest moment that act, or a force at the longest member. */
struct size { double force, moment; };
static void grow(struct size *s, const double *three, double length) {
  s->force = larger(s->force, larger(fabs(three[0]), fabs(three[1])));
  s->moment = larger(s->moment, larger(fabs(three[2]), s->force * length));
}

/* What the ends of a member take as they have moved: along it and across it by themselves, on top of `force`. */
static void add_force(const struct bar *bar, const double own[6], double force[6]) {
  for (int i = 0; i < 6; i += 3) {
    const double *along = bar->k[i], *across = bar->k[i + 1], *turn = bar->k[i + 2];
    force[i] = force[i] + along[0] * own[0] + along[3] * own[3];
    force[i + 1] = force[i + 1] + across[1] * own[1] + across[2] * own[2] + across[4] * own[4] + across[5] * own[5];
    force[i + 2] = force[i + 2] + turn[1] * own[1] + turn[2] * own[2] + turn[4] * own[4] + turn[5] * own[5];
  }
}

/* What the members' ends take as the frame has moved; what that leaves out of balance. */
static struct size balance(const struct work *w, const struct sl_frame_answer *answer, size_t of) {
  const struct sl_frame *f = w->frame;
  const double *moved = &answer->moved[of * f->nnodes * 3];
  struct size size = { 0, 0 };
  for (size_t i = 0; i < 3 * f->nnodes; i++)
    w->out_of_balance[i] = f->node_loads ? f->node_loads[of * f->nnodes * 3 + i] : 0;
  for (size_t i = 0; i < f->nnodes; i++) grow(&size, &w->out_of_balance[3 * i], 0);
  for (size_t m = 0; m < f->nmembers; m++) {
    const struct sl_frame_member *member = &f->members[m];
    const struct bar *bar = &w->bars[m];
    double load[6] = { 0 }, own[6], force[6], common[6];
    if (f->member_loads) set_load(f, m, of, bar, load);
    to_own(bar, &moved[3 * member->from], own);
    to_own(bar, &moved[3 * member->to], own + 3);
    for (int i = 0; i < 6; i++) force[i] = -load[i];
    add_force(bar, own, force);
    to_common(bar, force, common);
    to_common(bar, force + 3, common + 3);
    double *const from = &w->out_of_balance[3 * member->from], *const to = &w->out_of_balance[3 * member->to];
    for (int i = 0; i < 3; i++) {
      from[i] -= common[i];
      to[i] -= common[3 + i];
    }
    grow(&size, force, bar->length);
    grow(&size, force + 3, bar->length);
    double *ends = &answer->ends[(of * f->nmembers + m) * 6];
    ends[0] = -force[0] + 0.0;
    ends[1] = force[1] + 0.0;
    ends[2] = -force[2] + 0.0;
    ends[3] = force[3] + 0.0;
    ends[4] = -force[4] + 0.0;
    ends[5] = force[5] + 0.0;
  }
  for (size_t i = 0; i < 3 * f->nnodes; i++) {
    const double k = spring(f, i / 3, i % 3);
    double *reaction = &answer->reactions[of * f->nnodes * 3 + i];
    *reaction = (isfinite(k) ? -k * moved[i] : -w->out_of_balance[i]) + 0.0;
    w->out_of_balance[i] += *reaction;
  }
  return size;
}

/* By how much it is out of balance, as a share. */
static double share_out(const struct work *w, struct size size) {
  double most = 0;
  for (size_t i = 0; i < 3 * w->frame->nnodes; i++) {
    const double of = i % 3 == 2 ? size.moment : size.force, off = fabs(w->out_of_balance[i]);
    if (!isfinite(off)) return INFINITY;
    if (off > 0) most = larger(most, of > 0 ? off / of : INFINITY);
  }
  return most;
}

/* Before anything has moved the loads are what is out of balance: whether any acts where it can move a joint. */
static bool acts(const struct work *w, size_t of) {
  const struct sl_frame *f = w->frame;
  double *const out = w->out_of_balance;
  for (size_t i = 0; i < 3 * f->nnodes; i++) out[i] = f->node_loads ? f->node_loads[of * f->nnodes * 3 + i] : 0;
  for (size_t m = 0; f->member_loads && m < f->nmembers; m++) {
    double load[6], common[6];
    set_load(f, m, of, &w->bars[m], load);
    to_common(&w->bars[m], load, common);
    to_common(&w->bars[m], load + 3, common + 3);
    for (int i = 0; i < 6; i++) out[way_of(&f->members[m], i)] += common[i];
  }
  bool any = false;
  for (size_t i = 0; i < 3 * f->nnodes; i++) any = any || (w->equation[i] != NO_EQUATION && fabs(out[i]) > 0);
  return any;
}

static enum sl_status solve_case(const struct work *w, const struct sl_frame_answer *answer, size_t of,
                                 struct sl_sheet *sh) {
  const size_t ways = 3 * w->frame->nnodes;
  double *moved = &answer->moved[of * ways];
  for (size_t i = 0; i < ways; i++) moved[i] = 0;
  double off = acts(w, of) ? INFINITY : share_out(w, balance(w, answer, of));
  for (int pass = 0; pass < MOST_SOLVES && off > BALANCE && off <= INFINITY; pass++) {
    for (size_t i = 0; i < ways; i++)
      if (w->equation[i] != NO_EQUATION) w->rhs[w->equation[i]] = w->out_of_balance[i] * w->scale[w->equation[i]];
    sl_band_solve(&w->band, w->rhs);
    for (size_t i = 0; i < ways; i++)
      if (w->equation[i] != NO_EQUATION) moved[i] += w->rhs[w->equation[i]] * w->scale[w->equation[i]];
    off = share_out(w, balance(w, answer, of));
  }
  if (off <= MOST_OUT) return SL_OK;
  return sl_sheet_fault(sh, SL_NO_ANSWER, "members", "differ so much in stiffness that forces cannot be brought into "
                        "balance", "", off, MOST_OUT, SL_NUMBER);
}

enum sl_status sl_frame_solve(const struct sl_frame *frame, struct sl_frame_answer *answer, struct sl_space space,
                              struct sl_sheet *sh) {
  answer->free_node = answer->free_way = -1;
  enum sl_status status = check(frame, sh);
  if (status != SL_OK) return status;
  size_t most;
  const bool upright = goes_upright(frame, &most);
  ENOUGH(sh, space, need_of(frame, most));

  const size_t ways = 3 * frame->nnodes, width = width_of(frame, most);
  answer->moved = PART(&space, double, frame->ncases * ways);
  answer->ends = PART(&space, double, frame->ncases * frame->nmembers * 6);
  answer->reactions = PART(&space, double, frame->ncases * ways);
  struct work w = { .frame = frame };
  w.equation = PART(&space, size_t, ways);
  w.order = PART(&space, size_t, frame->nnodes);
  w.turns = PART(&space, unsigned char, frame->nnodes);
  w.scale = PART(&space, double, ways);
  w.rhs = PART(&space, double, ways);
  w.out_of_balance = PART(&space, double, ways);
  w.bars = PART(&space, struct bar, frame->nmembers);
  w.band = (struct sl_band){ .at = PART(&space, double, ways * (width + 1)), .width = width };
  number(&w, upright);
  WORKED(sh, (2 * frame->nmembers + frame->nnodes) * frame->nnodes + w.band.n * (width + 1) * (width + 1) +
         frame->ncases * (w.band.n * width * 4 + frame->nmembers * 200));

  status = check_moments(&w, answer, sh);
  if (status != SL_OK) return status;
  size_t weak = set_bars(&w, false);
  set_scale(&w);
  size_t bad = weak != NO_EQUATION ? 0 : frame->pressed && frame->stands ? NO_EQUATION : factor(&w);
  if (bad != NO_EQUATION) return tell_free(&w, bad, false, answer, sh);
  if (frame->pressed) {
    weak = set_bars(&w, true);
    if (weak != NO_EQUATION) return tell_weak(frame, weak, answer, sh);
    bad = factor(&w);
  }
  if (bad != NO_EQUATION) return tell_free(&w, bad, true, answer, sh);
  for (size_t of = 0; of < frame->ncases && status == SL_OK; of++) status = solve_case(&w, answer, of, sh);
  return status;
}
