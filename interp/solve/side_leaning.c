/* SPDX-License-Identifier: MIT
 * How far a station's frame leans, and what that adds where braces hold it; see side_leaning.h. */
#include <math.h>
#include <string.h>
#include "solve/side_leaning.h"

void sl_side_shares(const struct sl_side_frames_in *in, double dead, double snow, double wind, size_t wind_case,
                    int half, double share[SIDE_LOADS]) {
  const double low = half == 2 ? 0 : 1, high = half == 1 ? 0 : 1;
  for (size_t k = 0; k < SIDE_LOADS; k++) share[k] = 0;
  /* Combinations that count the weight whole or more are those that it presses in. */
  share[SIDE_FRAME] = dead >= 1 && in->frame_most > in->dead_frame ? dead * (in->frame_most / in->dead_frame) : dead;
  share[SIDE_MODULES_LOW] = dead * low;
  share[SIDE_MODULES_HIGH] = dead * high;
  share[SIDE_SNOW] = snow;
  if (wind_case == 0) return;
  if (wind_case <= in->nwinds) {
    share[SIDE_LOW] = wind * low * in->winds[wind_case - 1].low;
    share[SIDE_HIGH] = wind * high * in->winds[wind_case - 1].high;
  } else share[SIDE_LEAST] = wind_case == in->nwinds + 1 ? wind : -wind;
}
size_t sl_side_cases(const struct sl_side_frames_in *in) { return in->nwinds + (in->least > 0 ? 2 : 0); }

/* The most that presses all posts together, and the shares of the loads that do. */
static double most_weight(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                          size_t nposts, const struct side_effects *e, double heavy[SIDE_LOADS]) {
  double heaviest = 0, share[SIDE_LOADS], effects[SIDE_EFFECTS];
  for (size_t r = 0; r < nrows; r++)
    for (size_t k = 0; k <= (rows[r].wind != 0 ? sl_side_cases(in) : 0); k++) {
      sl_side_shares(in, rows[r].dead, rows[r].snow, rows[r].wind, k, 0, share);
      sl_side_add(e, share, sl_side_nothing, e->of_feet, effects);
      double down = 0;
      for (size_t i = 0; i < nposts; i++) down += effects[SIDE_OF_POST * i + SIDE_UP];
      if (down <= heaviest) continue;
      heaviest = down;
      memcpy(heavy, share, SIDE_LOADS * sizeof *heavy);
    }
  return heaviest;
}

/* A footing that turns is pressed as its post is.  Returns what presses the feet. */
static double press_feet(struct side_model *m) {
  double down = 0;
  for (size_t i = 0; i < m->nposts; i++) {
    const size_t above = (size_t)m->above[i];
    down += m->pressed[above];
    if (above > 0 && m->members[above - 1].from == m->foot[i]) m->pressed[above - 1] = m->pressed[above];
  }
  return down;
}

/* Whether a brace buckles is for whoever judges its thrust. */
double sl_side_press(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                     struct side_model *m, const struct side_effects *e) {
  double heavy[SIDE_LOADS] = { 0 }, effects[SIDE_EFFECTS];
  memset(m->pressed, 0, sizeof m->pressed);
  const double heaviest = most_weight(in, rows, nrows, m->nposts, e, heavy);
  if (!(heaviest > 0)) return 0;
  sl_side_add(e, heavy, sl_side_nothing, e->n, effects);
  for (size_t j = 0; j < e->nmembers; j++) {
    const size_t i = e->member[j];
    const double thrust = -effects[e->of_feet + SIDE_OF_MEMBER * j + 3];
    if (m->pieces[i].part != SL_PART_BRACE && thrust > 0) m->pressed[i] = thrust;
  }
  press_feet(m);
  return heaviest;
}

double sl_side_press_each(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                          struct side_model *m, const struct side_effects *e) {
  double share[SIDE_LOADS], effects[SIDE_EFFECTS], wind[SIDE_MEMBERS] = { 0 };
  for (size_t k = 1; k <= sl_side_cases(in); k++) {
    sl_side_shares(in, 0, 0, 1, k, 0, share);
    sl_side_add(e, share, sl_side_nothing, e->n, effects);
    for (size_t j = 0; j < e->nmembers; j++)
      wind[j] = fmax(wind[j], -effects[e->of_feet + SIDE_OF_MEMBER * j + 3]);
  }
  memset(m->pressed, 0, sizeof m->pressed);
  for (size_t r = 0; r < nrows; r++) {
    sl_side_shares(in, rows[r].dead, rows[r].snow, 0, 0, 0, share);
    sl_side_add(e, share, sl_side_nothing, e->n, effects);
    for (size_t j = 0; j < e->nmembers; j++) {
      const size_t i = e->member[j];
      if (m->pieces[i].part == SL_PART_BRACE) continue;
      m->pressed[i] = fmax(m->pressed[i], -effects[e->of_feet + SIDE_OF_MEMBER * j + 3] + rows[r].wind * wind[j]);
    }
  }
  return press_feet(m);
}

/* How stiff the ground is nobody says: what it gives way at most is counted apart. */
enum sl_status sl_side_leaning(struct side_model *m, const struct sl_frame_answer *answer, double pressed,
                               struct side_lean *lean, struct sl_space space) {
  const double *const alone = &answer->moved[SIDE_HEADS * m->nnodes * 3];
  *lean = (struct side_lean){ .grows = 1 };
  size_t braces = 0;
  for (size_t i = 0; i < m->nmembers; i++)
    if (m->pieces[i].part == SL_PART_BRACE)        /* under as many newtons as there are heads */
      lean->thrust[braces++] = fabs(answer->ends[(SIDE_HEADS * m->nmembers + i) * 6]) / (double)m->nposts;
  if (!(pressed > 0)) return SL_OK;
  struct sl_frame frame = sl_side_frame(m);
  frame.ncases = 1;
  frame.node_loads = &m->node_loads[SIDE_HEADS * m->nnodes * 3];
  frame.member_loads = NULL;
  frame.pressed = m->pressed;
  frame.stands = 1;
  struct sl_frame_answer leaning = { 0 };
  const enum sl_status status = sl_frame_solve(&frame, &leaning, space, NULL);
  if (status != SL_OK) return status;
  /* Heads that a rafter ties move alike; those of legs move by themselves. */
  for (size_t i = 0; i < (sl_side_any_leg(m->posts, m->nposts) ? m->nposts : 1); i++) {
    const size_t head = (size_t)m->head[i] * 3;
    if (alone[head] != 0) lean->grows = fmax(lean->grows, leaning.moved[head] / alone[head]);
  }
  return SL_OK;
}

/* What relieves is not counted, unless it turns lift into thrust, or that into lift. */
static double with_more(double force, double more) {
  return force * more < 0 && fabs(more) < fabs(force) ? force : force + more;
}

/* What pushes heads that stand out of plumb as the ground gives way: braces keep them together, so each goes as far as
 * that which goes farthest. */
static double pushes_out(const struct side_model *m, const double *effects) {
  double way = 0, push = 0;
  for (size_t i = 0; i < m->nposts; i++) way = fmax(way, m->leans[i]);
  for (size_t i = 0; i < m->nposts; i++)
    push += fmax(0, effects[SIDE_OF_POST * i + SIDE_UP]) * way / m->posts[i].height;
  return push;
}

/* A frame that braces hold answers its lean by a couple of its outer posts: what the push at the heads, which stand at
 * most so high, does more than it did.  It presses the post that the push goes to, and lifts the other. */
static void add_couple(const struct side_model *m, const struct side_effects *e, double grows, double out,
                       bool only_feet, double *sum) {
  const size_t last = m->nposts - 1;
  double push = 0, high = 0;
  for (size_t i = 0; i <= last; i++) {
    push -= sum[SIDE_OF_POST * i + SIDE_PUSH];
    high = fmax(high, m->nodes[m->head[i]].z - m->nodes[m->foot[i]].z);
  }
  const double apart = m->nodes[m->head[last]].x - m->nodes[m->head[0]].x;
  const double couple = ((grows - 1) * push + grows * copysign(out, push)) * high / apart;
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

void sl_side_lean(const struct side_model *m, const struct side_effects *e, const struct side_lean *lean,
                  bool only_feet, double *sum) {
  if (!m->braced) return;
  const double grows = lean->grows, out = lean->gives ? pushes_out(m, sum) : 0;
  if (!(grows > 1) && !(out > 0)) return;
  if (m->nposts > 1) add_couple(m, e, grows, out, only_feet, sum);
  size_t braces = 0;
  for (size_t j = 0; !only_feet && j < e->nmembers; j++) {
    if (m->pieces[e->member[j]].part != SL_PART_BRACE) continue;
    double *const of = &sum[e->of_feet + SIDE_OF_MEMBER * j];
    const double more = copysign(out * lean->thrust[braces++], of[0]);
    of[0] = grows * (of[0] + more);
    of[3] = grows * (of[3] + more);
  }
}
