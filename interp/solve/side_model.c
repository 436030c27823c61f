/* SPDX-License-Identifier: MIT
 * Nodes and members of one station's frame, and the loads on them; see side_frames.h. */
#include <math.h>
#include <stdbool.h>
#include <string.h>
#include "side_model.h"

/* Footings that turn are as stiff as they need be to stand, all alike: far below a post, far above a rounding. */
static const double soft = 3e-2;
/* Concrete around a post, and a rafter of which nothing is said: stiff, and within what a double tells apart.  A short
 * piece is as many times stiffer from end to end as a post is: more would be lost in rounding. */
static const double stiff = 30;
static double how_stiff(double length, double post) { return stiff * fmin(1, length / post); }

#define EI(in, of) ((in)->of##_e * (in)->of##_inertia)
#define EA(in, of) ((in)->of##_e * (in)->of##_area)

/* Of one post: its own, or the rack's. */
static double own_ei(const struct sl_side_frames_in *in, const struct sl_side_post *p) {
  return p->e > 0 ? p->e * p->inertia : EI(in, post);
}
static double own_ea(const struct sl_side_frames_in *in, const struct sl_side_post *p) {
  return p->e > 0 ? p->e * p->area : EA(in, post);
}
/* The slightest of a station's: by that footings that turn are soft. */
static double least_ei(const struct sl_side_frames_in *in, const struct side_model *m) {
  double least = own_ei(in, &m->posts[0]);
  for (size_t i = 1; i < m->nposts; i++) least = fmin(least, own_ei(in, &m->posts[i]));
  return least;
}

static bool stands_alone(const struct sl_side_post *posts, size_t n, size_t i) {
  size_t shortest = n;
  for (size_t k = 0; k < n; k++)
    if (!(posts[k].hinged > 0) && (shortest == n || posts[k].height < posts[shortest].height)) shortest = k;
  return i == shortest;
}

bool sl_side_on_leg(const struct sl_side_post *post) { return post->leg_rise > 0; }
bool sl_side_any_leg(const struct sl_side_post *posts, size_t n) {
  for (size_t i = 0; i < n; i++) if (sl_side_on_leg(&posts[i])) return true;
  return false;
}

bool sl_side_has(const struct sl_side_post *posts, size_t n, int limit) {
  size_t held = 0;
  for (size_t i = 0; i < n; i++) held += !(posts[i].hinged > 0);
  return limit == SL_FIXED_AT_GRADE || (limit == SL_TURNING ? held > 0 : held > 1);
}

static int add_node(struct side_model *m, double x, double z) {
  m->nodes[m->nnodes] = (struct sl_frame_node){ .x = x, .z = z };
  return (int)m->nnodes++;
}
static int add_member(struct side_model *m, int from, int to, double ea, double ei, struct side_piece piece) {
  m->members[m->nmembers] = (struct sl_frame_member){ .from = from, .to = to, .ea = ea, .ei = ei };
  m->pieces[m->nmembers] = piece;
  return (int)m->nmembers++;
}

/* Bolts of braces on one post, as heights above grade, rising; those nearer than a millimetre are one. */
struct bolts { double at[2 * SIDE_BRACES]; size_t n; };
static bool same_place(double a, double b) { return fabs(a - b) < 1e-3; }
static void add_bolt(struct bolts *b, double at) {
  for (size_t i = 0; i < b->n; i++) if (same_place(b->at[i], at)) return;
  size_t i = b->n++;
  for (; i > 0 && b->at[i - 1] > at; i--) b->at[i] = b->at[i - 1];
  b->at[i] = at;
}
static struct bolts bolts_of(const struct sl_side_frames_in *in, const struct sl_side_post *post, int station) {
  struct bolts b = { .n = 0 };
  for (size_t i = 0; i < in->nbraces; i++) {
    const struct sl_side_brace *c = &in->braces[i];
    if ((int)c->station != station) continue;
    if ((int)c->foot_line == (int)post->line) add_bolt(&b, c->low);
    if ((int)c->head_line == (int)post->line) add_bolt(&b, post->height - c->high);
  }
  return b;
}

/* From its foot up to its head, which is pinned to the rafter or holds it; the node of each bolt. */
static void add_post(const struct sl_side_frames_in *in, struct side_model *m, size_t i, int station, double share,
                     int limit, double x, double head_z) {
  const struct sl_side_post *p = &m->posts[i];
  const struct side_piece piece = { SL_PART_POST, (int)p->line, (int)i, false };
  const double grade = head_z - p->height, ea = own_ea(in, p), ei = own_ei(in, p);
  const double spring = limit == SIDE_FREE ? 0 : soft * least_ei(in, m) / in->slope_length;
  const bool turning = limit == SL_TURNING || limit == SIDE_FREE;
  const bool hinged = p->hinged > 0 || (limit == SL_SHORTEST_ALONE && !stands_alone(m->posts, m->nposts, i));
  int last = add_node(m, x, grade);
  m->foot[i] = last;
  m->held[i] = !hinged;
  const double pivot = m->pivot[i] = share * p->depth;
  m->leans[i] = !m->held[i] ? 0 : !isnan(p->leans) ? p->leans :
      in->ground_motion > 0 && pivot > 1e-3 ? in->ground_motion / pivot * (p->height + pivot) : 0;
  if (limit == SL_TURNING && !hinged && pivot > 1e-3) {
    const int below = add_node(m, x, grade - pivot);
    m->nodes[below].kx = m->nodes[below].kz = INFINITY;
    m->nodes[below].kr = spring;
    const double more = how_stiff(pivot, p->height);
    add_member(m, below, last, more * ea, more * ei,
               (struct side_piece){ SL_PART_POST, 0, -1, false });
    m->foot[i] = below;
  } else {
    m->nodes[last].kx = m->nodes[last].kz = INFINITY;
    m->nodes[last].kr = hinged ? 0 : turning ? spring : INFINITY;
  }
  const struct bolts b = bolts_of(in, p, station);
  m->above[i] = (int)m->nmembers;
  for (size_t k = 0; k < b.n; k++) {
    if (same_place(b.at[k], 0) || same_place(b.at[k], p->height)) continue;
    const int node = add_node(m, x, grade + b.at[k]);
    add_member(m, last, node, ea, ei, piece);
    last = node;
  }
  add_member(m, last, m->head[i], ea, ei, piece);
  m->members[m->nmembers - 1].hinge_to = !(p->head > 0) && !sl_side_on_leg(p);
  m->pieces[m->above[i]].at_grade = true;
}

/* Between a post's head and where the rafter bears above it, pinned to both; as stiff as a post, so that it is no leg's
 * own buckling that is told of the frame. */
static void add_leg(const struct sl_side_frames_in *in, struct side_model *m, size_t i) {
  const struct sl_side_post *p = &m->posts[i];
  const int top = m->head[i];
  m->head[i] = add_node(m, m->nodes[top].x - (isnan(p->leg_run) ? 0 : p->leg_run), m->nodes[top].z - p->leg_rise);
  const int k = add_member(m, m->head[i], top, EA(in, leg), EI(in, post),
                           (struct side_piece){ SL_PART_LEG, 0, -1, false });
  m->members[k].hinge_from = m->members[k].hinge_to = 1;
}

/* The node of a post at that height. */
static int node_at(const struct side_model *m, size_t post, double z) {
  int best = m->head[post];
  for (int i = 0; i < (int)m->nnodes; i++)
    if (same_place(m->nodes[i].x, m->nodes[m->head[post]].x) && same_place(m->nodes[i].z, z)) best = i;
  return best;
}

static void add_brace(const struct sl_side_frames_in *in, struct side_model *m, const struct sl_side_brace *b) {
  size_t foot = m->nposts, head = m->nposts;
  for (size_t i = 0; i < m->nposts; i++) {
    if ((int)m->posts[i].line == (int)b->foot_line) foot = i;
    if ((int)m->posts[i].line == (int)b->head_line) head = i;
  }
  if (foot == m->nposts || head == m->nposts) return;            /* refused before */
  const double grade = m->nodes[m->head[foot]].z - m->posts[foot].height;
  const int from = node_at(m, foot, grade + b->low), to = node_at(m, head, m->nodes[m->head[head]].z - b->high);
  const int k = add_member(m, from, to, EA(in, brace), soft * EI(in, post),
                           (struct side_piece){ SL_PART_BRACE, 0, -1, false });
  m->members[k].hinge_from = m->members[k].hinge_to = 1;
  m->braced = true;
}

double sl_side_length(const struct side_model *m, size_t member) {
  const struct sl_frame_node *from = &m->nodes[m->members[member].from], *to = &m->nodes[m->members[member].to];
  return hypot(to->x - from->x, to->z - from->z);
}

static void load_member(struct side_model *m, int load, size_t member, double wx, double wz) {
  double *w = &m->member_loads[((size_t)load * m->nmembers + member) * 2];
  w[0] += wx;
  w[1] += wz;
}
/* What acts at (dx, dz) beside the rafter's line turns it, too: half at each end of the member. */
static void load_beside(struct side_model *m, int load, size_t member, double length, double wx, double wz, double dx,
                        double dz) {
  load_member(m, load, member, wx, wz);
  const double turn = (dx * wz - dz * wx) * length / 2;
  m->node_loads[((size_t)load * m->nnodes + (size_t)m->members[member].from) * 3 + 2] += turn;
  m->node_loads[((size_t)load * m->nnodes + (size_t)m->members[member].to) * 3 + 2] += turn;
}

static void load_rafter(const struct sl_side_frames_in *in, struct side_model *m, double w, double snowed) {
  const double s = sin(in->tilt), c = cos(in->tilt), middle = in->slope_length / 2;
  for (size_t i = 0; i < m->nmembers; i++) {
    if (m->pieces[i].part != SL_PART_RAFTER) continue;
    const struct sl_frame_node *a = &m->nodes[m->members[i].from], *b = &m->nodes[m->members[i].to];
    const double length = sl_side_length(m, i);
    const bool low = hypot((a->x + b->x) / 2, (a->z + b->z) / 2) < middle;
    const double dx = -in->stack * s, dz = in->stack * c;
    load_beside(m, SIDE_FRAME, i, length, 0, -in->dead_frame * w, dx / 2, dz / 2);
    load_beside(m, low ? SIDE_MODULES_LOW : SIDE_MODULES_HIGH, i, length, 0, -in->dead_modules * w, dx, dz);
    load_beside(m, SIDE_SNOW, i, length, 0, -in->snow * c * snowed, dx, dz);
    load_member(m, low ? SIDE_LOW : SIDE_HIGH, i, s * w, -c * w);   /* square to the rafter: no arm */
    load_beside(m, SIDE_LEAST, i, length, in->least * s * w, 0, dx, dz);
  }
}

void sl_side_build(const struct sl_side_frames_in *in, const struct sl_side_post *posts, size_t nposts, int station,
                   const struct sl_side_station *of, double pivot_share, int limit, struct side_model *m) {
  m->nnodes = m->nmembers = 0;
  m->braced = false;
  m->posts = posts;
  m->nposts = nposts;
  const double s = sin(in->tilt), c = cos(in->tilt), C = in->slope_length;
  /* The rafter's line begins at 0, 0.  Its nodes: ends, middle, heads. */
  double at[SIDE_POSTS + 3] = { 0, 0.5, 1 };
  size_t n = 3;
  for (size_t i = 0; i < nposts; i++) {
    bool there = false;
    for (size_t k = 0; k < n; k++) there = there || same_place(at[k] * C, posts[i].at * C);
    if (there) continue;
    size_t k = n++;
    for (; k > 0 && at[k - 1] > posts[i].at; k--) at[k] = at[k - 1];
    at[k] = posts[i].at;
  }
  if (posts[0].at * C < 1e-3) at[0] = 0;
  for (size_t k = 0; k < n; k++) {
    const int node = add_node(m, at[k] * C * c, at[k] * C * s);
    for (size_t i = 0; i < nposts; i++) if (same_place(at[k] * C, posts[i].at * C)) m->head[i] = node;
  }
  double tallest = 0;
  for (size_t i = 0; i < nposts; i++) tallest = fmax(tallest, posts[i].height);
  const bool known = !isnan(in->rafter_e);
  for (size_t k = 0; k + 1 < n; k++) {
    const double more = how_stiff((at[k + 1] - at[k]) * C, tallest);
    add_member(m, (int)k, (int)k + 1, known ? EA(in, rafter) : more * EA(in, post),
               known ? EI(in, rafter) : more * EI(in, post), (struct side_piece){ SL_PART_RAFTER, 0, -1, false });
  }
  for (size_t i = 0; i < nposts; i++) if (sl_side_on_leg(&posts[i])) add_leg(in, m, i);
  for (size_t i = 0; i < nposts; i++)
    add_post(in, m, i, station, pivot_share, limit, m->nodes[m->head[i]].x, m->nodes[m->head[i]].z);
  for (size_t i = 0; i < in->nbraces; i++)
    if ((int)in->braces[i].station == station) add_brace(in, m, &in->braces[i]);
  memset(m->node_loads, 0, SIDE_CASES * m->nnodes * 3 * sizeof *m->node_loads);
  memset(m->member_loads, 0, SIDE_CASES * m->nmembers * 2 * sizeof *m->member_loads);
  load_rafter(in, m, of->tributary, isnan(of->snow) ? of->tributary : of->snow);
  for (size_t i = 0; i < nposts; i++) m->node_loads[(SIDE_HEADS * m->nnodes + (size_t)m->head[i]) * 3] = 1;
}

struct sl_frame sl_side_frame(const struct side_model *m) {
  return (struct sl_frame){ .nodes = m->nodes, .nnodes = m->nnodes, .members = m->members, .nmembers = m->nmembers,
                            .ncases = SIDE_CASES, .node_loads = m->node_loads, .member_loads = m->member_loads };
}
