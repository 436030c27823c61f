/* SPDX-License-Identifier: MIT
 * The most of all combinations, cases and limits that posts and members of a station have; see side_most.h. */
#include <string.h>
#include "guard.h"
#include "solve/side_most.h"

/* What a post bears out of plumb at grade as the ground gives way: what presses it over the way of its head, and what
 * presses posts that no foot holds, which push its head as they lean with it. */
static double out_of_plumb(const struct side_model *m, size_t post, const double *effects) {
  const double way = m->leans[post];
  if (!(way > 0)) return 0;
  const double arm = m->posts[post].height + m->pivot[post];
  double moment = 0;
  for (size_t k = 0; k < m->nposts; k++) {
    const double pressed = fmax(0, effects[SIDE_OF_POST * k + SIDE_UP]);
    if (k == post) moment += pressed * way;
    else if (!m->held[k]) moment += pressed * way / m->posts[k].height * arm;
  }
  return moment;
}

/* Weight and push on a post's foot, and the moment at grade, enlarged as the posts bend; apart from that, what it is
 * more as the ground gives way. */
struct at_grade { double up, push, moment, leaning; };
static struct at_grade at_grade(const struct side_solved *s, size_t post, const double *effects) {
  const double *of = &effects[SIDE_OF_POST * post];
  const double more = out_of_plumb(s->model, post, effects) * s->bending;
  return (struct at_grade){ .up = -of[SIDE_UP], .push = fabs(of[SIDE_PUSH]),
                            .moment = fabs(of[SIDE_MOMENT]) * s->leaning.grows, .leaning = more };
}

static double larger(double a, double b) { return b > a ? b : a; }

/* How much of a post's height stands above a joint of it. */
static double share_above(const struct side_model *m, int post, int node) {
  return (m->nodes[m->head[post]].z - m->nodes[node].z) / m->posts[post].height;
}

/* Largest moment, compression, tension and shear of a member; a rafter's load may bend it most between its ends, and
 * what of it goes along the rafter presses one end more than the other. */
struct strain { double moment, axial, tension, shear, leaning; };
static struct strain strain_of(const struct side_solved *s, size_t j, const double *effects) {
  const double *of = &effects[s->effects->of_feet + SIDE_OF_MEMBER * j];
  const size_t i = s->effects->member[j];
  const double v = of[1], a = of[2], b = of[5], q = of[SIDE_ACROSS];
  struct strain most = { .moment = larger(fabs(a), fabs(b)), .axial = larger(-of[0], -of[3]),
                         .tension = larger(of[0], of[3]), .shear = larger(fabs(v), fabs(of[4])) };
  const struct side_piece *piece = &s->model->pieces[i];
  if (piece->part == SL_PART_POST)                 /* most at its lower end: nothing at the head */
    most.leaning = out_of_plumb(s->model, (size_t)piece->post, effects) * s->strained_bending *
        share_above(s->model, piece->post, s->model->members[i].from);
  const double x = piece->part == SL_PART_RAFTER && q != 0 ? -v / q : -1;
  if (x > 0 && x < s->effects->length[j]) most.moment = larger(most.moment, fabs(a + v * x + q * x * x / 2));
  most.moment *= s->strained.grows;
  return most;
}

static void name_combination(char to[SL_COMBINATION_NAME], const char *name) {
  memset(to, 0, SL_COMBINATION_NAME);
  for (size_t i = 0; name[i] && i + 1 < SL_COMBINATION_NAME; i++) to[i] = name[i];
}

static bool beyond(double value, double most) { return value > most + 1e-12 * fabs(most) + 1e-9; }

/* Pushes that statics alone share come out alike under each limit, but for rounding in the frame. */
#define ALIKE 1e-7
static bool pushes_more(double push, double most) { return push > most * (1 + ALIKE) + 1e-9; }

static void note_wind(const struct at_grade *g, size_t k, int limit, struct sl_side_foot *foot) {
  if (beyond(g->up, foot->up)) {
    foot->up = g->up;
    foot->up_case = (double)k;
    foot->up_limit = limit;
  }
  if (beyond(-g->up, foot->down)) {
    foot->down = -g->up;
    foot->down_case = (double)k;
  }
  if (beyond(g->push, foot->side)) {
    foot->side = g->push;
    foot->side_case = (double)k;
  }
}

static void note_foot(struct at_grade g, const struct sl_combination *c, size_t k, int limit, double dead,
                      struct sl_side_foot *foot) {
  if (beyond(g.up, foot->net_up)) {
    foot->net_up = g.up;
    foot->net_up_dead = dead;
    foot->net_up_case = (double)k;
    foot->net_up_limit = limit;
    name_combination(foot->net_up_combination, c->name);
  }
  if (beyond(-g.up, foot->pressed)) {
    foot->pressed = -g.up;
    foot->pressed_case = (double)k;
    foot->pressed_limit = limit;
    name_combination(foot->pressed_combination, c->name);
  }
  const bool as_much = !pushes_more(foot->push, g.push);
  if (pushes_more(g.push, foot->push) || (as_much && beyond(g.moment, foot->push_moment))) {
    foot->push = g.push;
    foot->push_moment = g.moment;
    foot->push_case = (double)k;
    foot->push_limit = limit;
    name_combination(foot->push_combination, c->name);
  }
  foot->leaning_moment = larger(foot->leaning_moment, g.leaning);
  if (beyond(g.moment, foot->moment)) {
    foot->moment = g.moment;
    foot->moment_push = g.push;
  }
}

/* Which of the rows of strains a member's are: three for each kind and duration. */
static size_t row_of(const struct side_most *most, const struct side_piece *piece, int duration) {
  const size_t kind = piece->part == SL_PART_POST ? (size_t)piece->line - 1 :
      most->kinds - SIDE_OTHERS + (size_t)(piece->part - SL_PART_RAFTER);
  return (kind * SIDE_DURATIONS + (size_t)duration) * SIDE_STRAINS;
}

/* What leads a strength combination, by which wood is told how long it lasts: what counts whole or more. */
static int leads(const struct sl_combination *c) {
  const double whole = 1 - 1e-9;
  return c->wind >= whole ? SL_LASTS_AS_WIND : c->snow >= whole ? SL_LASTS_AS_SNOW : SL_LASTS_AS_DEAD;
}

static void note_strains(const struct side_solved *s, const struct sl_combination *c, int lasts, size_t k, int station,
                         int limit, const double *effects, struct side_most *most) {
  for (size_t j = 0; j < s->effects->nmembers; j++) {
    const struct side_piece *piece = &s->model->pieces[s->effects->member[j]];
    const struct strain n = strain_of(s, j, effects);
    struct sl_side_strain *rows = &most->strains[row_of(most, piece, lasts)];
    const double value[SIDE_STRAINS] = { n.moment + n.leaning, n.axial, n.tension };
    for (size_t r = 0; r < SIDE_STRAINS; r++) {
      const double has = r == 0 ? rows[r].moment + rows[r].leaning : r == 1 ? rows[r].axial : -rows[r].axial;
      rows[r].shear = larger(rows[r].shear, n.shear);
      if (!beyond(value[r], rows[r].station > 0 ? has : 0)) continue;
      const double shear = rows[r].shear;
      rows[r] = (struct sl_side_strain){ .line = piece->line, .station = station, .moment = n.moment,
          .axial = r == 2 ? -n.tension : n.axial, .shear = shear, .leaning = n.leaning,
          .wind_case = (double)k, .part = piece->part,
          .duration = lasts, .limit = limit };
      name_combination(rows[r].combination, c->name);
    }
  }
}

static void note_strength(const struct sl_combination *c, double up, struct sl_side_foot *foot) {
  if (beyond(up, foot->strength_up)) {
    foot->strength_up = up;
    name_combination(foot->strength_up_combination, c->name);
  }
  if (beyond(-up, foot->strength_down)) {
    foot->strength_down = -up;
    name_combination(foot->strength_down_combination, c->name);
  }
}

void sl_side_note_all(const struct sl_side_frames_in *in, int edition, const struct side_solved *s, int station,
                      int limit, struct side_most *most, struct sl_side_foot *feet, struct sl_sheet *sh) {
  struct sl_combination rows[SL_COMBINATIONS];
  const size_t nposts = s->model->nposts, of_feet = s->effects->of_feet, cases = sl_side_cases(in);
  double share[SIDE_LOADS], dead[SIDE_POSTS];
  double weight[SIDE_EFFECTS], halves[3][SIDE_EFFECTS], effects[SIDE_EFFECTS];
  sl_side_shares(in, 0, 1, 0, 0, 0, share);
  sl_side_add(s->effects, share, sl_side_nothing, of_feet, effects);
  for (size_t i = 0; i < nposts; i++) feet[i].snow = larger(feet[i].snow, -at_grade(s, i, effects).up);
  sl_side_shares(in, 1, 0, 0, 0, 0, share);
  sl_side_add(s->effects, share, sl_side_nothing, of_feet, effects);
  for (size_t i = 0; i < nposts; i++) feet[i].weight = larger(feet[i].weight, -at_grade(s, i, effects).up);
  share[SIDE_FRAME] = 1;                                    /* the least of it */
  sl_side_add(s->effects, share, sl_side_nothing, of_feet, effects);
  for (size_t i = 0; i < nposts; i++) {
    dead[i] = -at_grade(s, i, effects).up;
    if (limit == SL_FIXED_AT_GRADE || dead[i] < feet[i].dead) feet[i].dead = dead[i];
    feet[i].leans = larger(feet[i].leans, s->model->leans[i]);
  }
  for (size_t k = 1; k <= cases; k++) {
    sl_side_shares(in, 0, 0, 1, k, 0, share);
    sl_side_add(s->effects, share, sl_side_nothing, of_feet, effects);
    sl_side_lean(s->model, s->effects, &s->leaning, true, effects);
    for (size_t i = 0; i < nposts; i++) {
      const struct at_grade g = at_grade(s, i, effects);
      note_wind(&g, k, limit, &feet[i]);
    }
    for (size_t i = 0; i < (sl_side_any_leg(s->model->posts, nposts) ? nposts : 1); i++) {
      double moved = 0;
      for (size_t load = 0; load < SIDE_LOADS; load++)
        moved += share[load] * s->answer->moved[(load * s->model->nnodes + (size_t)s->model->head[i]) * 3];
      if (limit == SL_FIXED_AT_GRADE) most->drift = larger(most->drift, fabs(moved) * s->leaning.grows);
    }
  }
  size_t n = sl_combinations_of(edition, SL_ALLOWABLE, rows);
  for (size_t r = 0; r < n; r++) {
    const size_t first = rows[r].wind != 0 ? 1 : 0, last = rows[r].wind != 0 ? cases : 0;
    WORKED(sh, (last - first + 1) * (s->model->nmembers * 60 + 200));
    sl_side_shares(in, rows[r].dead, rows[r].snow, 0, 0, 0, share);
    sl_side_add(s->effects, share, sl_side_nothing, s->effects->n, weight);
    for (int half = 1; half <= 2; half++) {
      sl_side_shares(in, rows[r].dead, 0, 0, 0, half, share);
      sl_side_add(s->effects, share, sl_side_nothing, of_feet, halves[half]);
    }
    for (size_t k = first; k <= last; k++) {
      sl_side_shares(in, 0, 0, rows[r].wind, k, 0, share);
      sl_side_add(s->effects, share, weight, s->effects->n, effects);
      if (most->heads)
        sl_side_note_heads(s->model, s->effects, effects, &rows[r], (double)k, station, limit, most->heads);
      sl_side_lean(s->model, s->effects, &s->leaning, false, effects);
      for (size_t i = 0; i < nposts; i++)
        note_foot(at_grade(s, i, effects), &rows[r], k, limit, dead[i], &feet[i]);
      if (!in->strength) note_strains(s, &rows[r], rows[r].duration, k, station, limit, effects, most);
      for (int half = 1; half <= 2 && k > 0 && rows[r].snow == 0; half++) {
        sl_side_shares(in, 0, 0, rows[r].wind, k, half, share);
        sl_side_add(s->effects, share, halves[half], of_feet, effects);
        sl_side_lean(s->model, s->effects, &s->leaning, true, effects);
        for (size_t i = 0; i < nposts; i++)
          feet[i].half_built_up = larger(feet[i].half_built_up, at_grade(s, i, effects).up);
      }
    }
  }
  n = sl_combinations_of(edition, SL_STRENGTH, rows);
  for (size_t r = 0; r < n; r++) {
    const size_t asked = in->strength ? s->effects->n : of_feet;
    if (in->strength) WORKED(sh, (cases + 1) * s->model->nmembers * 60);
    sl_side_shares(in, rows[r].dead, rows[r].snow, 0, 0, 0, share);
    sl_side_add(s->effects, share, sl_side_nothing, asked, weight);
    /* Loads that do not act count too: the most snow stands beside a share of wind, which may lift or be none. */
    for (size_t k = 0; k <= (rows[r].wind != 0 ? cases : 0); k++) {
      sl_side_shares(in, 0, 0, rows[r].wind, k, 0, share);
      sl_side_add(s->effects, share, weight, asked, effects);
      sl_side_lean(s->model, s->effects, &s->strained, !in->strength, effects);
      if (in->strength) note_strains(s, &rows[r], leads(&rows[r]), k, station, limit, effects, most);
      for (size_t i = 0; i < nposts; i++) note_strength(&rows[r], at_grade(s, i, effects).up, &feet[i]);
    }
  }
}
