/* SPDX-License-Identifier: MIT
 * What passes between rafter and posts at their heads; see side_frames.h. */
#include <math.h>
#include "solve/side_heads.h"

const char *const sl_side_head_mosts[] = {
  [SL_HEAD_LIFTED] = "lifted", [SL_HEAD_PRESSED] = "pressed", [SL_HEAD_PUSHED] = "pushed sideways",
  [SL_HEAD_TORN] = "lifted and pushed", [SL_HEAD_CARRIED] = "all it carries", NULL,
};

struct force { double x, z; };

/* On the joint from this end of a member: its tension draws the joint along, its shear goes across; as frame.h has the
 * signs. */
static struct force of_end(const struct side_model *m, size_t member, bool at_to, const double *ends) {
  const struct sl_frame_node *from = &m->nodes[m->members[member].from], *to = &m->nodes[m->members[member].to];
  const double length = hypot(to->x - from->x, to->z - from->z);
  const double dx = (to->x - from->x) / length, dz = (to->z - from->z) / length, way = at_to ? 1 : -1;
  const double axial = ends[at_to ? 3 : 0], shear = ends[at_to ? 4 : 1];
  return (struct force){ way * (-axial * dx - shear * dz), way * (-axial * dz + shear * dx) };
}

/* What the rafter, or the leg under it, does to all that holds it there: the post, and braces that end at its head. */
static struct force at_head(const struct side_model *m, const struct side_effects *e, const double *sum, int head) {
  struct force f = { 0, 0 };
  for (size_t j = 0; j < e->nmembers; j++) {
    const size_t i = e->member[j];
    if (m->pieces[i].part == SL_PART_RAFTER || m->pieces[i].part == SL_PART_LEG) continue;
    if (m->members[i].from != head && m->members[i].to != head) continue;
    const struct force of = of_end(m, i, m->members[i].to == head, &sum[e->of_feet + SIDE_OF_MEMBER * j]);
    f.x -= of.x;
    f.z -= of.z;
  }
  return f;
}

/* The larger of the rafter's shears beside a head. */
static double sheared(const struct side_model *m, const struct side_effects *e, const double *sum, int head) {
  double most = 0;
  for (size_t j = 0; j < e->nmembers; j++) {
    const size_t i = e->member[j];
    if (m->pieces[i].part != SL_PART_RAFTER || (m->members[i].from != head && m->members[i].to != head)) continue;
    most = fmax(most, fabs(sum[e->of_feet + SIDE_OF_MEMBER * j + (m->members[i].to == head ? 4 : 1)]));
  }
  return most;
}

/* By what the worst is told: of forces together the squares compare, too. */
static double amount(enum sl_side_head_most most, double up, double side) {
  switch (most) {
    case SL_HEAD_LIFTED: return up;
    case SL_HEAD_PRESSED: return -up;
    case SL_HEAD_PUSHED: return side;
    case SL_HEAD_TORN: return (up > 0 ? up * up : 0) + side * side;
    case SL_HEAD_CARRIED: return up * up + side * side;
  }
  return 0;
}

void sl_side_note_heads(const struct side_model *m, const struct side_effects *e, const double *sum,
                        const struct sl_combination *c, double wind_case, int station, int limit,
                        struct sl_side_head *rows) {
  for (size_t i = 0; i < m->nposts; i++) {
    const struct force f = at_head(m, e, sum, m->head[i]);
    const double up = f.z, side = fabs(f.x);
    struct sl_side_head *of = &rows[((size_t)m->posts[i].line - 1) * HEADS_OF_LINE + (size_t)c->duration * HEAD_MOSTS];
    for (int k = 0; k < HEAD_MOSTS; k++) {
      const double most = of[k].station > 0 ? amount((enum sl_side_head_most)k, of[k].lift, of[k].side) : 0;
      if (!(amount((enum sl_side_head_most)k, up, side) > most + 1e-12 * most + 1e-9)) continue;
      of[k] = (struct sl_side_head){ .line = m->posts[i].line, .station = station, .lift = up, .side = side,
          .shear = sheared(m, e, sum, m->head[i]), .wind_case = wind_case, .most = k, .duration = c->duration,
          .limit = limit };
      for (size_t n = 0; c->name[n] && n + 1 < SL_COMBINATION_NAME; n++) of[k].combination[n] = c->name[n];
    }
  }
}
