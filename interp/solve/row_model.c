/* SPDX-License-Identifier: MIT
 * Nodes and members of one line of posts along the row; see row_frame.h. */
#include <math.h>
#include <string.h>
#include "room.h"
#include "row_model.h"

/* As in side_model.c: footings that turn are as stiff as they need be to stand, all alike; concrete and ties are stiff,
 * and within what a double tells apart. */
static const double soft = 3e-2, stiff = 30;

static bool same_place(double a, double b) { return fabs(a - b) < 1e-3; }

static int add_node(struct row_model *m, double x, double z) {
  m->nodes[m->nnodes] = (struct sl_frame_node){ .x = x, .z = z };
  return (int)m->nnodes++;
}
static int add_member(struct row_model *m, int from, int to, double ea, double ei, struct row_piece piece) {
  m->members[m->nmembers] = (struct sl_frame_member){ .from = from, .to = to, .ea = ea, .ei = ei };
  m->pieces[m->nmembers] = piece;
  return (int)m->nmembers++;
}

/* Bolts of braces on one post, as heights above its ground, rising; those nearer than a millimetre are one. */
struct bolts { double at[ROW_POST_BRACES]; size_t n; };
static struct bolts bolts_of(const struct row_of *of, size_t post) {
  struct bolts b = { .n = 0 };
  for (size_t i = 0; i < of->nbraces; i++) {
    const struct sl_row_brace *c = &of->braces[i];
    const bool stands = (size_t)c->foot == post + 1;
    if (!stands && (size_t)c->head != post + 1) continue;
    const double at = stands ? c->low : of->posts[post].height - c->high;
    bool there = false;
    for (size_t k = 0; k < b.n; k++) there = there || same_place(b.at[k], at);
    if (there) continue;
    size_t k = b.n++;
    for (; k > 0 && b.at[k - 1] > at; k--) b.at[k] = b.at[k - 1];
    b.at[k] = at;
  }
  return b;
}

/* Of one post: its own, or the rack's. */
static double own_ei(const struct sl_row_frame_in *in, const struct sl_row_post *p) {
  return p->e > 0 ? p->e * p->inertia : in->post_e * in->post_inertia;
}
static double own_ea(const struct sl_row_frame_in *in, const struct sl_row_post *p) {
  return p->e > 0 ? p->e * p->area : in->post_e * in->post_area;
}

/* soft_ei: one for all lines, so that footings that turn share by how high and deep posts are. */
static void add_post(const struct sl_row_frame_in *in, const struct row_of *of, struct row_model *m, size_t i,
                     double share, enum row_feet feet, double soft_ei) {
  const struct sl_row_post *const p = &of->posts[i];
  const double ea = own_ea(in, p), ei = own_ei(in, p), grade = p->top - p->height;
  const double pivot = share * p->depth, spring = feet == ROW_FREE ? 0 : soft * soft_ei / in->posts[0].height;
  const bool hinged = p->hinged > 0, turning = feet != ROW_FIXED;
  int last = add_node(m, p->at, grade);
  m->foot[i] = last;
  if (turning && !hinged && pivot > 1e-3) {
    const int below = add_node(m, p->at, grade - pivot);
    m->nodes[below].kx = m->nodes[below].kz = INFINITY;
    m->nodes[below].kr = spring;
    const double more = stiff * fmin(1, pivot / p->height);
    add_member(m, below, last, more * ea, more * ei, (struct row_piece){ -1, -1 });
    m->foot[i] = below;
  } else {
    m->nodes[last].kx = m->nodes[last].kz = INFINITY;
    m->nodes[last].kr = hinged ? 0 : turning ? spring : INFINITY;
  }
  m->above[i] = (int)m->nmembers;
  const struct bolts b = bolts_of(of, i);
  for (size_t k = 0; k < b.n; k++) {
    if (same_place(b.at[k], 0) || same_place(b.at[k], p->height)) continue;
    const int node = add_node(m, p->at, grade + b.at[k]);
    add_member(m, last, node, ea, ei, (struct row_piece){ (int)i, -1 });
    last = node;
  }
  m->head[i] = add_node(m, p->at, p->top);
  const int top = add_member(m, last, m->head[i], ea, ei, (struct row_piece){ (int)i, -1 });
  m->members[top].hinge_to = 1;
}

/* The node of a post at that height. */
static int node_at(const struct row_model *m, size_t post, double z) {
  int best = m->head[post];
  for (int i = 0; i < (int)m->nnodes; i++)
    if (same_place(m->nodes[i].x, m->nodes[m->head[post]].x) && same_place(m->nodes[i].z, z)) best = i;
  return best;
}

void sl_row_build(const struct sl_row_frame_in *in, const struct row_of *of, double pivot_share, enum row_feet feet,
                  struct row_model *m) {
  m->nnodes = m->nmembers = 0;
  double least = own_ei(in, &in->posts[0]);
  for (size_t i = 1; i < in->nposts; i++) least = fmin(least, own_ei(in, &in->posts[i]));
  for (size_t i = 0; i < of->n; i++) add_post(in, of, m, i, pivot_share, feet, least);
  const double ea = own_ea(in, of->posts), ei = soft * least;
  for (size_t i = 0; i + 1 < of->n; i++) {
    const double more = stiff * fmin(1, (of->posts[i + 1].at - of->posts[i].at) / of->posts[i].height);
    const int tie = add_member(m, m->head[i], m->head[i + 1], more * ea, ei, (struct row_piece){ -1, -1 });
    m->members[tie].hinge_from = m->members[tie].hinge_to = 1;
  }
  for (size_t k = 0; k < of->nbraces; k++) {
    const struct sl_row_brace *const b = &of->braces[k];
    const size_t foot = (size_t)b->foot - 1, head = (size_t)b->head - 1;
    const struct sl_row_post *const low = &of->posts[foot], *const high = &of->posts[head];
    const int from = node_at(m, foot, low->top - low->height + b->low), to = node_at(m, head, high->top - b->high);
    const int brace = add_member(m, from, to, in->brace_e * in->brace_area, ei, (struct row_piece){ -1, (int)k });
    m->members[brace].hinge_from = m->members[brace].hinge_to = 1;
  }
  memset(m->node_loads, 0, 3 * m->nnodes * sizeof *m->node_loads);
  memset(m->pressed, 0, m->nmembers * sizeof *m->pressed);
  for (size_t i = 0; i < of->n; i++) m->node_loads[3 * m->head[i]] = 1 / (double)of->n;
  for (size_t k = 0; k < m->nmembers; k++)
    if (m->pieces[k].post >= 0) m->pressed[k] = of->posts[m->pieces[k].post].pressed;
  for (size_t i = 0; i < of->n; i++) {                 /* a footing that turns is pressed as its post is */
    const int above = m->above[i];
    if (above > 0 && m->members[above - 1].from == m->foot[i]) m->pressed[above - 1] = of->posts[i].pressed;
  }
}

struct sl_frame sl_row_model_frame(const struct row_model *m) {
  return (struct sl_frame){ .nodes = m->nodes, .nnodes = m->nnodes, .members = m->members, .nmembers = m->nmembers,
                            .ncases = 1, .node_loads = m->node_loads };
}

static size_t most_nodes(size_t nposts, size_t nbraces) { return 3 * nposts + 2 * nbraces; }
static size_t most_members(size_t nposts, size_t nbraces) { return 3 * nposts + 3 * nbraces; }

size_t sl_row_model_room(size_t nposts, size_t nbraces) {
  const size_t nodes = most_nodes(nposts, nbraces), members = most_members(nposts, nbraces);
  size_t need = NEED(0, struct sl_frame_node, nodes);
  need = NEED(need, struct sl_frame_member, members);
  need = NEED(need, struct row_piece, members);
  need = NEED(need, double, 3 * nodes);
  need = NEED(need, double, members);
  for (int i = 0; i < 3; i++) need = NEED(need, int, nposts);
  return need;
}

struct row_model sl_row_model_in(struct sl_space *space, size_t nposts, size_t nbraces) {
  const size_t nodes = most_nodes(nposts, nbraces), members = most_members(nposts, nbraces);
  struct row_model m = { .nodes = PART(space, struct sl_frame_node, nodes) };
  m.members = PART(space, struct sl_frame_member, members);
  m.pieces = PART(space, struct row_piece, members);
  m.node_loads = PART(space, double, 3 * nodes);
  m.pressed = PART(space, double, members);
  m.head = PART(space, int, nposts);
  m.foot = PART(space, int, nposts);
  m.above = PART(space, int, nposts);
  return m;
}

/* Nodes of a post lie beside each other, and members reach to the next post's: as far as such a frame's one member. */
size_t sl_row_room(size_t nposts, size_t nbraces) {
  static const struct sl_frame_node nodes[ROW_NODES];
  struct sl_frame_member members[ROW_MEMBERS];
  const size_t n = most_nodes(nposts, nbraces), of_post = 3 + (nbraces > 0 ? ROW_POST_BRACES : 0);
  const size_t far = 2 * of_post < n ? 2 * of_post : n - 1;
  for (size_t i = 0; i < n + nposts + nbraces && i < ROW_MEMBERS; i++)
    members[i] = (struct sl_frame_member){ .from = 0, .to = (int)far };
  const size_t nmembers = most_members(nposts, nbraces);
  return sl_frame_need(&(struct sl_frame){ .nodes = nodes, .nnodes = n, .members = members, .nmembers = nmembers,
                                           .ncases = 1 });
}
