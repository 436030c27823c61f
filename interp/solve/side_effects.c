/* SPDX-License-Identifier: MIT
 * What each unit load does to one station's frame; see side_effects.h. */
#include <string.h>
#include "side_effects.h"

const double sl_side_nothing[SIDE_EFFECTS];

void sl_side_effects(const struct side_model *m, const struct sl_frame_answer *answer, struct side_effects *e) {
  e->nmembers = 0;
  for (size_t i = 0; i < m->nmembers; i++)
    if (m->pieces[i].part != SL_PART_POST || m->pieces[i].post >= 0) {
      e->length[e->nmembers] = sl_side_length(m, i);
      e->member[e->nmembers++] = i;
    }
  e->of_feet = SIDE_OF_POST * m->nposts;
  e->n = e->of_feet + SIDE_OF_MEMBER * e->nmembers;
  for (size_t k = 0; k < SIDE_LOADS; k++) {
    const double *ends = &answer->ends[k * m->nmembers * 6];
    double *to = e->of[k];
    for (size_t i = 0; i < m->nposts; i++, to += SIDE_OF_POST) {
      const double *foot = &answer->reactions[(k * m->nnodes + (size_t)m->foot[i]) * 3];
      to[SIDE_PUSH] = foot[0];
      to[SIDE_UP] = foot[1];
      to[SIDE_MOMENT] = ends[(size_t)m->above[i] * 6 + 2];
    }
    for (size_t j = 0; j < e->nmembers; j++, to += SIDE_OF_MEMBER) {
      const size_t i = e->member[j];
      const struct sl_frame_node *from = &m->nodes[m->members[i].from], *at = &m->nodes[m->members[i].to];
      const double *w = &m->member_loads[(k * m->nmembers + i) * 2];
      memcpy(to, &ends[i * 6], 6 * sizeof *to);
      to[SIDE_ACROSS] = (w[1] * (at->x - from->x) - w[0] * (at->z - from->z)) / e->length[j];
    }
  }
}

/* Four at a time, which a compiler makes two or one of. */
static void add(double part, const double *restrict of, size_t n, double *restrict sum) {
  size_t i = 0;
  for (; i + 4 <= n; i += 4) {
    sum[i] += part * of[i];
    sum[i + 1] += part * of[i + 1];
    sum[i + 2] += part * of[i + 2];
    sum[i + 3] += part * of[i + 3];
  }
  for (; i < n; i++) sum[i] += part * of[i];
}

void sl_side_add(const struct side_effects *e, const double share[SIDE_LOADS], const double *others, size_t n,
                 double *sum) {
  memcpy(sum, others, n * sizeof *sum);
  for (size_t k = 0; k < SIDE_LOADS; k++) if (share[k] != 0) add(share[k], e->of[k], n, sum);
}
