/* SPDX-License-Identifier: MIT
 * What leaning adds in a station's frame that braces hold; see side_leaning.h. */
#include <math.h>
#include "solve/side_leaning.h"

/* What relieves is not counted, unless it turns lift into thrust, or that into lift. */
static double with_more(double force, double more) {
  return force * more < 0 && fabs(more) < fabs(force) ? force : force + more;
}

/* A frame that braces hold answers its lean by a couple of its outer posts: what the push at the heads, which stand at
 * most so high, does more than it did.  It presses the post that the push goes to, and lifts the other. */
static void add_couple(const struct side_model *m, const struct side_effects *e, double more, bool only_feet,
                       double *sum) {
  const size_t last = m->nposts - 1;
  double push = 0, high = 0;
  for (size_t i = 0; i <= last; i++) {
    push -= sum[SIDE_OF_POST * i + SIDE_PUSH];
    high = fmax(high, m->nodes[m->head[i]].z - m->nodes[m->foot[i]].z);
  }
  const double apart = m->nodes[m->head[last]].x - m->nodes[m->head[0]].x;
  const double couple = more * push * high / apart;
  sum[SIDE_UP] = with_more(sum[SIDE_UP], -couple);
  sum[SIDE_OF_POST * last + SIDE_UP] = with_more(sum[SIDE_OF_POST * last + SIDE_UP], couple);
  for (size_t j = 0; !only_feet && j < e->nmembers; j++) {
    const struct side_piece *piece = &m->pieces[e->member[j]];
    if (piece->part != SL_PART_POST || (piece->post != 0 && piece->post != (int)last)) continue;
    double *const of = &sum[e->of_feet + SIDE_OF_MEMBER * j];
    const double pull = piece->post == 0 ? couple : -couple;       /* tension is positive */
    of[0] = with_more(of[0], pull);
    of[3] = with_more(of[3], pull);
  }
}

void sl_side_lean(const struct side_model *m, const struct side_effects *e, double grows, bool only_feet,
                  double *sum) {
  if (!(grows > 1) || !m->braced) return;
  if (m->nposts > 1) add_couple(m, e, grows - 1, only_feet, sum);
  for (size_t j = 0; !only_feet && j < e->nmembers; j++) {
    if (m->pieces[e->member[j]].part != SL_PART_BRACE) continue;
    double *const of = &sum[e->of_feet + SIDE_OF_MEMBER * j];
    of[0] *= grows;
    of[3] *= grows;
  }
}
