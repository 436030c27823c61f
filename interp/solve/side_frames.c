/* SPDX-License-Identifier: MIT
 * The frame of each station under all combinations, cases and limits; see side_frames.h. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "solve/side_heads.h"
#include "solve/side_leaning.h"

#define STIFFNESS "plane frame by direct stiffness"
#define GROUND "motion at grade, and the post turns about its point in the ground"

const char *const sl_frame_limits[] = {
  [SL_FIXED_AT_GRADE] = "posts fixed at grade", [SL_TURNING] = "footings that turn in the ground",
  [SL_SHORTEST_ALONE] = "the shortest line alone", NULL,
};
const char *const sl_frame_parts[] = { [SL_PART_POST] = "post", [SL_PART_RAFTER] = "rafter", [SL_PART_BRACE] = "brace",
                                       NULL };
enum { LIMITS = 3, DURATIONS = 3, STRAINS = 3, MOST_STATIONS = 1000 };

/* ---- what is asked ----------------------------------------------------------------------------------------------- */

/* Of numbers that nobody has looked at yet: a cast might not hold them. */
static bool same(double a, double b) { return a <= b && a >= b; }

static size_t kinds_of(const struct sl_side_frames_in *in) {       /* of members: each line's posts, rafters, braces */
  double lines = 0;
  for (size_t i = 0; i < in->nposts; i++) if (in->posts[i].line > lines) lines = in->posts[i].line;
  return (lines < SIDE_POSTS ? (size_t)lines : SIDE_POSTS) + 2;
}

static size_t heads_of(const struct sl_side_frames_in *in) {
  return in->tell_heads ? (kinds_of(in) - 2) * HEADS_OF_LINE : 0;
}

static enum sl_status check_posts(const struct sl_side_frames_in *in, struct sl_sheet *sh) {
  double station = 1, line = 0, at = -1;
  for (size_t i = 0; i < in->nposts; i++) {
    const struct sl_side_post *p = &in->posts[i];
    REQUIRE_ROW(sh, in, posts, i, station, >= station && (p->station <= station + 1 && p->station == floor(p->station)),
                "must rise by one, from 1 on", SL_NUMBER);
    REQUIRE_ROW(sh, in, posts, i, station, <= (double)in->nstations, "is no station", SL_NUMBER);
    if (p->station > station) {
      REQUIRE_ROW(sh, in, posts, i, station, > 0 && i > 0, "leaves a station without posts", SL_NUMBER);
      station = p->station;
      line = 0;
      at = -1;
    }
    const double before = line, lower = at;
    REQUIRE_ROW(sh, in, posts, i, line, > before && p->line <= SIDE_POSTS && p->line == floor(p->line),
                "must rise in whole numbers, 1 to 10", SL_NUMBER);
    REQUIRE_ROW(sh, in, posts, i, at, > lower + 1e-3 / in->slope_length && p->at >= 0 && p->at <= 1,
                "must rise up the slope, a millimetre at least, from 0 to 1", SL_RATIO);
    REQUIRE_ROW(sh, in, posts, i, height, > 2e-3 && p->height < 1000, "must be more than 2 mm and less than 1 km",
                SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, depth, >= 0 && p->depth < 1000, "must be 0 or more and less than 1 km", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, hinged, >= 0 && (same(p->hinged, 0) || same(p->hinged, 1)), "must be 0 or 1",
                SL_NUMBER);
    if (!isnan(p->leans))
      REQUIRE_ROW(sh, in, posts, i, leans, >= 0 && p->leans < 1000, "must be 0 or more and less than 1 km", SL_LENGTH);
    if (!isnan(p->head))
      REQUIRE_ROW(sh, in, posts, i, head, >= 0 && (same(p->head, 0) || same(p->head, 1)), "must be 0 or 1", SL_NUMBER);
    if (p->e > 0 || p->area > 0 || p->inertia > 0) {
      REQUIRE_ROW(sh, in, posts, i, e, > 0 && p->e < INFINITY, "must be greater than 0", SL_PRESSURE);
      REQUIRE_ROW(sh, in, posts, i, area, > 0 && p->area < INFINITY, "must be greater than 0", SL_SECTION);
      REQUIRE_ROW(sh, in, posts, i, inertia, > 0 && p->inertia < INFINITY, "must be greater than 0", SL_INERTIA);
    }
    line = p->line;
    at = p->at;
  }
  if (in->nposts < 1 || station < (double)in->nstations)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "posts", "do not stand at all stations", "", station,
                          (double)in->nstations, SL_NUMBER);
  return SL_OK;
}

static const struct sl_side_post *post_of(const struct sl_side_frames_in *in, double station, double line) {
  for (size_t i = 0; i < in->nposts; i++)
    if (same(in->posts[i].station, station) && same(in->posts[i].line, line)) return &in->posts[i];
  return NULL;
}

static enum sl_status check_braces(const struct sl_side_frames_in *in, struct sl_sheet *sh) {
  if (in->nbraces > 0) POSITIVE(sh, in, brace_e, SL_PRESSURE);
  if (in->nbraces > 0) POSITIVE(sh, in, brace_area, SL_SECTION);
  for (size_t i = 0; i < in->nbraces; i++) {
    const struct sl_side_brace *b = &in->braces[i];
    REQUIRE_ROW(sh, in, braces, i, station, >= 1 && b->station <= (double)in->nstations &&
                same(b->station, floor(b->station)), "is no station", SL_NUMBER);
    size_t same_station = 0;
    for (size_t k = 0; k < i; k++) same_station += same(in->braces[k].station, b->station);
    REQUIRE_ROW(sh, in, braces, i, station, > 0 && same_station < SIDE_BRACES, "has more than 10 braces", SL_NUMBER);
    const struct sl_side_post *foot = b->foot_line >= 1 && b->foot_line <= SIDE_POSTS ?
        post_of(in, b->station, b->foot_line) : NULL;
    const struct sl_side_post *head = b->head_line >= 1 && b->head_line <= SIDE_POSTS ?
        post_of(in, b->station, b->head_line) : NULL;
    REQUIRE_ROW(sh, in, braces, i, foot_line, > 0 && foot, "is no line of that station", SL_NUMBER);
    REQUIRE_ROW(sh, in, braces, i, head_line, > 0 && head && head != foot, "is no other line of that station",
                SL_NUMBER);
    const double stands = foot->height, hangs = head->height;
    REQUIRE_ROW(sh, in, braces, i, low, >= 0 && b->low <= stands + 1e-9, "is not between ground and head of its post",
                SL_LENGTH);
    REQUIRE_ROW(sh, in, braces, i, high, >= 0 && b->high <= hangs + 1e-9, "is not between head and ground of its post",
                SL_LENGTH);
  }
  return SL_OK;
}

static enum sl_status check(const struct sl_side_frames_in *in, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  REQUIRE(sh, in, tilt, < acos(0) - 1e-3, "must be less than 90 deg", SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  REQUIRE(sh, in, slope_length, > 0.02 && in->slope_length < 1000, "must be more than 2 cm and less than 1 km",
          SL_LENGTH);
  NOT_NEGATIVE(sh, in, stack, SL_LENGTH);
  NOT_NEGATIVE(sh, in, dead_modules, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, dead_frame, SL_PRESSURE);
  if (!isnan(in->frame_most))
    REQUIRE(sh, in, frame_most, >= in->dead_frame && (in->dead_frame > 0 || in->frame_most <= 0),
            "must be dead_frame or more, and 0 where that is", SL_PRESSURE);
  NOT_NEGATIVE(sh, in, snow, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, least, SL_PRESSURE);
  if (!isnan(in->ground_motion)) NOT_NEGATIVE(sh, in, ground_motion, SL_LENGTH);
  POSITIVE(sh, in, post_e, SL_PRESSURE);
  POSITIVE(sh, in, post_area, SL_SECTION);
  POSITIVE(sh, in, post_inertia, SL_INERTIA);
  const bool known = !isnan(in->rafter_e);
  if (!known && (!isnan(in->rafter_area) || !isnan(in->rafter_inertia)))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "rafter_e", "is wanted where the rafter's area or inertia is given", "",
                          NAN, NAN, SL_PRESSURE);
  if (known) POSITIVE(sh, in, rafter_e, SL_PRESSURE);
  if (known) POSITIVE(sh, in, rafter_area, SL_SECTION);
  if (known) POSITIVE(sh, in, rafter_inertia, SL_INERTIA);
  if (in->nstations < 1 || in->nstations > MOST_STATIONS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "stations", "must be 1 to 1000", "", (double)in->nstations, NAN,
                          SL_NUMBER);
  for (size_t i = 0; i < in->nstations; i++) {
    REQUIRE_ROW(sh, in, stations, i, tributary, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ROW(sh, in, stations, i, tributary, < 1e6, "must be less than 1000 km", SL_LENGTH);
    if (isnan(in->stations[i].snow)) continue;
    REQUIRE_ROW(sh, in, stations, i, snow, > 0 && in->stations[i].snow < 1e6,
                "must be greater than 0 and less than 1000 km", SL_LENGTH);
  }
  if (in->nwinds > 100)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "winds", "must be 100 at most", "", (double)in->nwinds, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->nwinds; i++) {
    REQUIRE_ROW(sh, in, winds, i, low, > -INFINITY && in->winds[i].low < INFINITY, "must be a finite number",
                SL_PRESSURE);
    REQUIRE_ROW(sh, in, winds, i, high, > -INFINITY && in->winds[i].high < INFINITY, "must be a finite number",
                SL_PRESSURE);
  }
  const enum sl_status status = check_posts(in, sh);
  return status == SL_OK ? check_braces(in, sh) : status;
}

/* ---- one station under one limit --------------------------------------------------------------------------------- */

struct solved {
  const struct side_model *model;
  const struct sl_frame_answer *answer;
  const struct side_effects *effects;
  double leaning;                       /* what moments and braces' forces grow by: as posts bend that are fixed at
                                         * grade, and of footings that turn as if nothing kept them from it */
  double bending;                       /* the same of posts that are fixed at grade, under whatever limit */
  double strained, strained_bending;    /* both under the loads by which members are told */
};

/* How much of each load a combination with a case has.  half: 0 all modules are up, 1 the lower half, 2 the upper. */
static void shares(const struct sl_side_frames_in *in, double dead, double snow, double wind, size_t wind_case,
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
static size_t cases_of(const struct sl_side_frames_in *in) { return in->nwinds + (in->least > 0 ? 2 : 0); }

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
static struct at_grade at_grade(const struct solved *s, size_t post, const double *effects) {
  const double *of = &effects[SIDE_OF_POST * post];
  const double more = out_of_plumb(s->model, post, effects) * s->bending;
  return (struct at_grade){ .up = -of[SIDE_UP], .push = fabs(of[SIDE_PUSH]),
                            .moment = fabs(of[SIDE_MOMENT]) * s->leaning, .leaning = more };
}

static double larger(double a, double b) { return b > a ? b : a; }

/* How much of a post's height stands above a joint of it. */
static double share_above(const struct side_model *m, int post, int node) {
  return (m->nodes[m->head[post]].z - m->nodes[node].z) / m->posts[post].height;
}

/* Largest moment, compression, tension and shear of a member; a rafter's load may bend it most between its ends, and
 * what of it goes along the rafter presses one end more than the other. */
struct strain { double moment, axial, tension, shear, leaning; };
static struct strain strain_of(const struct solved *s, size_t j, const double *effects) {
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
  most.moment *= s->strained;
  return most;
}

/* What gives way is a joint of the frame, which nobody has named: the item told is the station. */
static enum sl_status tell_buckling(int station, double heaviest, enum sl_status status, struct sl_sheet *sh) {
  if (status != SL_NO_ANSWER) return status;
  return sl_sheet_at(sh, (size_t)station - 1,
                     sl_sheet_fault(sh, SL_NO_ANSWER, "stations", "buckle: the posts are too slender for what presses "
                                    "them down", STIFFNESS, heaviest, NAN, SL_FORCE));
}

/* How much larger moments grow as the frame leans under its greatest weight: the sideways move of its heads under one
 * force, with that weight and without.  How stiff the ground is nobody says: what it gives way at most is counted
 * apart (out_of_plumb). */
static enum sl_status find_leaning(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                                   int station, struct side_model *m, const struct solved *s, double *grows,
                                   struct sl_space space, struct sl_sheet *sh) {
  double heaviest = 0, share[SIDE_LOADS], heavy[SIDE_LOADS] = { 0 }, effects[SIDE_EFFECTS];
  for (size_t r = 0; r < nrows; r++)
    for (size_t k = 0; k <= (rows[r].wind != 0 ? cases_of(in) : 0); k++) {
      shares(in, rows[r].dead, rows[r].snow, rows[r].wind, k, 0, share);
      sl_side_add(s->effects, share, sl_side_nothing, s->effects->of_feet, effects);
      double down = 0;
      for (size_t i = 0; i < m->nposts; i++) down += effects[SIDE_OF_POST * i + SIDE_UP];
      if (down > heaviest) {
        heaviest = down;
        memcpy(heavy, share, sizeof heavy);
      }
    }
  *grows = 1;
  if (!(heaviest > 0)) return SL_OK;
  sl_side_add(s->effects, heavy, sl_side_nothing, s->effects->n, effects);
  memset(m->pressed, 0, sizeof m->pressed);
  for (size_t j = 0; j < s->effects->nmembers; j++) {
    const size_t i = s->effects->member[j];        /* whether a brace buckles is for whoever judges its thrust */
    const double thrust = -effects[s->effects->of_feet + SIDE_OF_MEMBER * j + 3];
    if (m->pieces[i].part != SL_PART_BRACE && thrust > 0) m->pressed[i] = thrust;
  }
  for (size_t i = 0; i < m->nposts; i++) {         /* a footing that turns is pressed as its post is */
    const size_t above = (size_t)m->above[i];
    if (above > 0 && m->members[above - 1].from == m->foot[i]) m->pressed[above - 1] = m->pressed[above];
  }
  const double moved = s->answer->moved[(SIDE_HEADS * m->nnodes + (size_t)m->head[0]) * 3];
  struct sl_frame frame = sl_side_frame(m);
  frame.ncases = 1;
  frame.node_loads = &m->node_loads[SIDE_HEADS * m->nnodes * 3];
  frame.member_loads = NULL;
  frame.pressed = m->pressed;
  frame.stands = 1;
  struct sl_frame_answer leaning = { 0 };
  const enum sl_status status = sl_frame_solve(&frame, &leaning, space, sh);
  if (status != SL_OK) return tell_buckling(station, heaviest, status, sh);
  *grows = moved != 0 ? fmax(1, leaning.moved[(size_t)m->head[0] * 3] / moved) : 1;
  return SL_OK;
}

/* ---- the most of all --------------------------------------------------------------------------------------------- */

struct most {
  struct sl_side_foot *feet;
  struct sl_side_strain *strains;
  struct sl_side_head *heads;                  /* NULL: nobody wants them told */
  size_t kinds;
  double leaning, drift;
  double sways;                         /* the most that stations lean by with free feet; NAN once one does not stand */
};

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
static size_t row_of(const struct most *most, const struct side_piece *piece, int duration) {
  const size_t kind = piece->part == SL_PART_POST ? (size_t)piece->line - 1 :
      most->kinds - (piece->part == SL_PART_RAFTER ? 2 : 1);
  return (kind * DURATIONS + (size_t)duration) * STRAINS;
}

/* What leads a strength combination, by which wood is told how long it lasts: what counts whole or more. */
static int leads(const struct sl_combination *c) {
  const double whole = 1 - 1e-9;
  return c->wind >= whole ? SL_LASTS_AS_WIND : c->snow >= whole ? SL_LASTS_AS_SNOW : SL_LASTS_AS_DEAD;
}

static void note_strains(const struct solved *s, const struct sl_combination *c, int lasts, size_t k, int station,
                         int limit, const double *effects, struct most *most) {
  for (size_t j = 0; j < s->effects->nmembers; j++) {
    const struct side_piece *piece = &s->model->pieces[s->effects->member[j]];
    const struct strain n = strain_of(s, j, effects);
    struct sl_side_strain *rows = &most->strains[row_of(most, piece, lasts)];
    const double value[STRAINS] = { n.moment + n.leaning, n.axial, n.tension };
    for (size_t r = 0; r < STRAINS; r++) {
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

static void note_all(const struct sl_side_frames_in *in, int edition, const struct solved *s, int station, int limit,
                     struct most *most, struct sl_side_foot *feet, struct sl_sheet *sh) {
  struct sl_combination rows[SL_COMBINATIONS];
  const size_t nposts = s->model->nposts, of_feet = s->effects->of_feet, cases = cases_of(in);
  double share[SIDE_LOADS], dead[SIDE_POSTS];
  double weight[SIDE_EFFECTS], halves[3][SIDE_EFFECTS], effects[SIDE_EFFECTS];
  shares(in, 0, 1, 0, 0, 0, share);
  sl_side_add(s->effects, share, sl_side_nothing, of_feet, effects);
  for (size_t i = 0; i < nposts; i++) feet[i].snow = larger(feet[i].snow, -at_grade(s, i, effects).up);
  shares(in, 1, 0, 0, 0, 0, share);
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
    shares(in, 0, 0, 1, k, 0, share);
    sl_side_add(s->effects, share, sl_side_nothing, of_feet, effects);
    sl_side_lean(s->model, s->effects, s->leaning, true, effects);
    for (size_t i = 0; i < nposts; i++) {
      const struct at_grade g = at_grade(s, i, effects);
      note_wind(&g, k, limit, &feet[i]);
    }
    double moved = 0;
    for (size_t load = 0; load < SIDE_LOADS; load++)
      moved += share[load] * s->answer->moved[(load * s->model->nnodes + (size_t)s->model->head[0]) * 3];
    if (limit == SL_FIXED_AT_GRADE) most->drift = larger(most->drift, fabs(moved) * s->leaning);
  }
  size_t n = sl_combinations_of(edition, SL_ALLOWABLE, rows);
  for (size_t r = 0; r < n; r++) {
    const size_t first = rows[r].wind != 0 ? 1 : 0, last = rows[r].wind != 0 ? cases : 0;
    WORKED(sh, (last - first + 1) * (s->model->nmembers * 60 + 200));
    shares(in, rows[r].dead, rows[r].snow, 0, 0, 0, share);
    sl_side_add(s->effects, share, sl_side_nothing, s->effects->n, weight);
    for (int half = 1; half <= 2; half++) {
      shares(in, rows[r].dead, 0, 0, 0, half, share);
      sl_side_add(s->effects, share, sl_side_nothing, of_feet, halves[half]);
    }
    for (size_t k = first; k <= last; k++) {
      shares(in, 0, 0, rows[r].wind, k, 0, share);
      sl_side_add(s->effects, share, weight, s->effects->n, effects);
      if (most->heads)
        sl_side_note_heads(s->model, s->effects, effects, &rows[r], (double)k, station, limit, most->heads);
      sl_side_lean(s->model, s->effects, s->leaning, false, effects);
      for (size_t i = 0; i < nposts; i++)
        note_foot(at_grade(s, i, effects), &rows[r], k, limit, dead[i], &feet[i]);
      if (!in->strength) note_strains(s, &rows[r], rows[r].duration, k, station, limit, effects, most);
      for (int half = 1; half <= 2 && k > 0 && rows[r].snow == 0; half++) {
        shares(in, 0, 0, rows[r].wind, k, half, share);
        sl_side_add(s->effects, share, halves[half], of_feet, effects);
        sl_side_lean(s->model, s->effects, s->leaning, true, effects);
        for (size_t i = 0; i < nposts; i++)
          feet[i].half_built_up = larger(feet[i].half_built_up, at_grade(s, i, effects).up);
      }
    }
  }
  n = sl_combinations_of(edition, SL_STRENGTH, rows);
  for (size_t r = 0; r < n; r++) {
    const size_t asked = in->strength ? s->effects->n : of_feet;
    if (in->strength) WORKED(sh, (cases + 1) * s->model->nmembers * 60);
    shares(in, rows[r].dead, rows[r].snow, 0, 0, 0, share);
    sl_side_add(s->effects, share, sl_side_nothing, asked, weight);
    /* Loads that do not act count too: the most snow stands beside a share of wind, which may lift or be none. */
    for (size_t k = 0; k <= (rows[r].wind != 0 ? cases : 0); k++) {
      shares(in, 0, 0, rows[r].wind, k, 0, share);
      sl_side_add(s->effects, share, weight, asked, effects);
      sl_side_lean(s->model, s->effects, s->strained, !in->strength, effects);
      if (in->strength) note_strains(s, &rows[r], leads(&rows[r]), k, station, limit, effects, most);
      for (size_t i = 0; i < nposts; i++) note_strength(&rows[r], at_grade(s, i, effects).up, &feet[i]);
    }
  }
}

/* ---- the primitive ----------------------------------------------------------------------------------------------- */

/* Room for the frame of any station: that of as many joints, the last of which is tied to the first. */
static size_t frame_room(const struct sl_side_frames_in *in) {
  size_t posts = 0, braces = 0, run = 0;
  for (size_t i = 0; i < in->nposts; i++) {
    run = i > 0 && in->posts[i].station <= in->posts[i - 1].station ? run + 1 : 1;
    if (run > posts) posts = run;
  }
  for (size_t i = 0; i < in->nbraces; i++) {
    size_t here = 0;
    for (size_t k = 0; k < in->nbraces; k++) here += same(in->braces[k].station, in->braces[i].station);
    if (here > braces) braces = here;
  }
  if (posts > SIDE_POSTS) posts = SIDE_POSTS;
  if (braces > SIDE_BRACES) braces = SIDE_BRACES;
  static const struct sl_frame_node nodes[SIDE_NODES];
  struct sl_frame_member members[SIDE_MEMBERS];
  const size_t n = 3 * posts + 2 * braces + 3;
  for (size_t i = 0; i < n + braces; i++) members[i] = (struct sl_frame_member){ .from = 0, .to = (int)n - 1 };
  const struct sl_frame frame = { .nodes = nodes, .nnodes = n, .members = members, .nmembers = n + braces,
                                  .ncases = SIDE_CASES };
  return sl_frame_need(&frame);
}

size_t sl_side_frames_need(const struct sl_side_frames_in *in) {
  if (in->nposts < 1 || in->nposts > (size_t)MOST_STATIONS * SIDE_POSTS || in->nbraces > in->nposts * SIDE_BRACES)
    return 0;
  size_t need = NEED(0, struct sl_side_foot, in->nposts);
  need = NEED(need, struct sl_side_strain, kinds_of(in) * DURATIONS * STRAINS);
  need = NEED(need, struct sl_side_head, heads_of(in));
  need = NEED(need, struct side_model, 1);
  need = NEED(need, struct side_effects, 1);
  const size_t room = frame_room(in);
  need = NEED(need, unsigned char, room);
  return NEED(need, unsigned char, room);
}

/* A mechanism is told by the joint that is free; the item is the station. */
static enum sl_status tell(const struct side_model *m, int station, const struct sl_frame_answer *answer,
                           enum sl_status status, struct sl_sheet *sh) {
  if (status != SL_NO_ANSWER) return status;
  const char *const text = answer->free_node < 0 ?
      "have heads, bolts or the middle of the slope so near each other that their forces are lost in rounding" :
      answer->free_way == 2 && m->nposts == 1 ?
      "leave the frame a mechanism: the rafter turns freely about the head of its only post" :
      answer->free_way == 0 ? "leave the frame a mechanism: the posts' heads move sideways freely, since nothing but "
      "hinged feet holds them; a brace between the lines, or a foot that is held, stops that" :
      "leave the frame a mechanism: a joint of it is free";
  return sl_sheet_at(sh, (size_t)station - 1,
                     sl_sheet_fault(sh, SL_NO_ANSWER, "stations", text, STIFFNESS, NAN, NAN, SL_NUMBER));
}

/* Room is used anew for each station. */
struct work { struct side_model *model; struct side_effects *effects; struct sl_space first, second; };

/* What leaning makes of a station's moments with feet that nothing keeps from turning, by either kind of combinations:
 * however stiff the ground is, a frame that its braces, or heads that hold the rafter, keep upright leans no more than
 * that.  NAN: they do not, which is no fault where its feet do. */
struct freely { double allowable, strength; };
static struct freely freely_of(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                               const struct sl_combination *strong, size_t nstrong, double pivot_share,
                               const struct sl_side_post *posts, size_t nposts, int station, struct work *work) {
  bool tied = false;
  for (size_t i = 0; i < in->nbraces; i++) tied = tied || (int)in->braces[i].station == station;
  for (size_t i = 0; i < nposts; i++) tied = tied || posts[i].head > 0;
  struct freely f = { NAN, NAN };
  if (!tied) return f;
  sl_side_build(in, posts, nposts, station, &in->stations[station - 1], pivot_share, SIDE_FREE, work->model);
  const struct sl_frame frame = sl_side_frame(work->model);
  struct sl_frame_answer answer = { 0 };
  if (sl_frame_solve(&frame, &answer, work->first, NULL) != SL_OK) return f;
  const struct solved s = { .model = work->model, .answer = &answer, .effects = work->effects };
  double grows = 1;
  sl_side_effects(work->model, &answer, work->effects);
  if (find_leaning(in, rows, nrows, station, work->model, &s, &grows, work->second, NULL) == SL_OK) f.allowable = grows;
  f.strength = f.allowable;
  if (nstrong > 0 && find_leaning(in, strong, nstrong, station, work->model, &s, &grows, work->second, NULL) == SL_OK)
    f.strength = grows;
  return f;
}

static enum sl_status solve_station(const struct sl_side_frames_in *in, int edition, double pivot_share,
                                    const struct sl_side_post *posts, size_t nposts, int station, struct work *work,
                                    struct most *most, struct sl_side_foot *feet, struct sl_sheet *sh) {
  struct sl_combination rows[SL_COMBINATIONS], strong[SL_COMBINATIONS];
  const size_t nrows = sl_combinations_of(edition, SL_ALLOWABLE, rows);
  const size_t nstrong = in->strength ? sl_combinations_of(edition, SL_STRENGTH, strong) : 0;
  const struct freely freely = freely_of(in, rows, nrows, strong, nstrong, pivot_share, posts, nposts, station, work);
  most->sways = isnan(freely.allowable) || isnan(most->sways) ? NAN : fmax(most->sways, freely.allowable);
  double bending = 1, strained_bending = 1;
  for (int limit = 0; limit < LIMITS; limit++) {
    if (!sl_side_has(posts, nposts, limit)) continue;
    sl_side_build(in, posts, nposts, station, &in->stations[station - 1], pivot_share, limit, work->model);
    struct sl_frame frame = sl_side_frame(work->model);
    if (limit == SL_TURNING) frame.ncases = SIDE_LOADS;               /* of that nobody asks how stiff it is */
    struct sl_frame_answer answer = { 0 };
    enum sl_status status = sl_frame_solve(&frame, &answer, work->first, sh);
    if (status != SL_OK) return tell(work->model, station, &answer, status, sh);
    struct solved s = { .model = work->model, .answer = &answer, .effects = work->effects, .leaning = 1 };
    sl_side_effects(work->model, &answer, work->effects);
    if (limit != SL_TURNING)
      status = find_leaning(in, rows, nrows, station, work->model, &s, &s.leaning, work->second, sh);
    s.strained = s.leaning;
    if (status == SL_OK && limit != SL_TURNING && nstrong > 0)
      status = find_leaning(in, strong, nstrong, station, work->model, &s, &s.strained, work->second, sh);
    if (status != SL_OK) return status;
    if (limit == SL_FIXED_AT_GRADE) bending = s.leaning, strained_bending = s.strained;
    s.bending = fmax(bending, s.leaning);
    s.strained_bending = fmax(strained_bending, s.strained);
    if (limit == SL_TURNING && !isnan(freely.allowable)) s.leaning = freely.allowable;
    if (limit == SL_TURNING && !isnan(freely.strength)) s.strained = freely.strength;
    most->leaning = fmax(most->leaning, s.leaning);
    note_all(in, edition, &s, station, limit, most, feet, sh);
  }
  return SL_OK;
}

/* Inputs far beyond any rack may add up to more than a double holds. */
static bool are_numbers(const struct most *most, size_t nfeet, size_t nstrains, size_t nheads) {
  double sum = most->leaning + most->drift;
  for (size_t i = 0; i < nfeet; i++) {
    const struct sl_side_foot *f = &most->feet[i];
    const double all[] = { f->up, f->down, f->side, f->dead, f->weight, f->snow, f->net_up, f->net_up_dead, f->pressed,
        f->push, f->push_moment, f->moment, f->moment_push, f->strength_up, f->strength_down, f->half_built_up,
        f->leans, f->leaning_moment };
    for (size_t k = 0; k < sizeof all / sizeof *all; k++) sum += all[k] * 0;
  }
  for (size_t i = 0; i < nstrains; i++)
    sum += (most->strains[i].moment + most->strains[i].axial + most->strains[i].shear) * 0;
  for (size_t i = 0; i < nheads; i++) sum += (most->heads[i].lift + most->heads[i].side) * 0;
  return isfinite(sum);
}

static void show_feet(const struct sl_side_foot *feet, size_t n, struct sl_sheet *sh) {
  LINES(sh, "what each foot carries: the most of all cases, combinations and limits");
  for (size_t i = 0; i < n; i++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, station, feet[i].station, "station from the west", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, line, feet[i].line, "line from the lower edge", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, up, feet[i].up, "lift of the wind, strength", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, down, feet[i].down, "push of the wind down, strength", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, net_up, feet[i].net_up, "net lift, allowable", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, pressed, feet[i].pressed, "pressed, allowable", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, push, feet[i].push, "sideways at grade, allowable", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, moment, feet[i].push_moment, "moment at grade with it", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, leans, feet[i].leans, "way of its head as the ground gives way", GROUND, SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, leaning_moment, feet[i].leaning_moment, "most that this adds at grade", GROUND, SL_DERIVED);
  }
  LINES_END(sh);
}

static void show_strains(const struct sl_side_strain *rows, size_t n, bool strength, struct sl_sheet *sh) {
  LINES(sh, strength ? "where members are strained most, strength level" :
        "where members are strained most, allowable");
  for (size_t i = 0; i < n; i++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, of_line, rows[i].line, "line of posts; 0 rafters or braces", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, M, rows[i].moment, "moment", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, N, rows[i].axial, "along it, compression +", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, V, rows[i].shear, "most across it", STIFFNESS, SL_DERIVED);
  }
  LINES_END(sh);
}

static void show_heads(const struct sl_side_head *rows, size_t n, struct sl_sheet *sh) {
  if (n == 0) return;
  LINES(sh, "what passes between rafter and posts at the heads, allowable");
  for (size_t i = 0; i < n; i++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, head_line, rows[i].line, "line from the lower edge", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, lift, rows[i].lift, "on the post, + lifts", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, sideways, rows[i].side, "sideways with it", STIFFNESS, SL_DERIVED);
  }
  LINES_END(sh);
}

enum sl_status sl_side_frames(const struct sl_side_frames_in *in, struct sl_side_frames_out *out,
                              struct sl_space space, struct sl_sheet *sh) {
  enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_side_frames_need(in));
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, C, in->slope_length);
  GIVEN(sh, SL_LENGTH, stack, in->stack);
  GIVEN(sh, SL_PRESSURE, D_modules, in->dead_modules);
  GIVEN(sh, SL_PRESSURE, D_frame, in->dead_frame);
  if (!isnan(in->frame_most)) { GIVEN(sh, SL_PRESSURE, D_most, in->frame_most); }
  GIVEN(sh, SL_PRESSURE, S, in->snow);
  GIVEN(sh, SL_PRESSURE, W_least, in->least);
  if (!isnan(in->ground_motion)) { GIVEN(sh, SL_LENGTH, y, in->ground_motion); }
  FACT(sh, SL_RATIO, pivot_share, "pivot_share", SL_NO_EDITION);

  const size_t kinds = kinds_of(in), nstrains = kinds * DURATIONS * STRAINS;
  struct sl_side_foot *feet = PART(&space, struct sl_side_foot, in->nposts);
  struct sl_side_strain *strains = PART(&space, struct sl_side_strain, nstrains);
  const size_t all_heads = heads_of(in);
  struct sl_side_head *heads = all_heads > 0 ? PART(&space, struct sl_side_head, all_heads) : NULL;
  struct work work = { .model = PART(&space, struct side_model, 1) };
  work.effects = PART(&space, struct side_effects, 1);
  const size_t room = frame_room(in);
  work.first = (struct sl_space){ PART(&space, unsigned char, room), room };
  work.second = (struct sl_space){ PART(&space, unsigned char, room), room };
  memset(feet, 0, in->nposts * sizeof *feet);
  memset(strains, 0, nstrains * sizeof *strains);
  if (heads) memset(heads, 0, all_heads * sizeof *heads);
  struct most most = { .feet = feet, .strains = strains, .heads = heads, .kinds = kinds, .leaning = 1, .sways = 1 };

  for (size_t first = 0; first < in->nposts;) {
    size_t n = 1;
    while (first + n < in->nposts && in->posts[first + n].station <= in->posts[first].station) n++;
    for (size_t i = first; i < first + n; i++) {
      feet[i].station = in->posts[i].station;
      feet[i].line = in->posts[i].line;
    }
    status = solve_station(in, edition, pivot_share, &in->posts[first], n, (int)in->posts[first].station, &work,
                           &most, &feet[first], sh);
    if (status != SL_OK) return status;
    first += n;
  }
  size_t kept = 0, nheads = 0;
  for (size_t i = 0; i < nstrains; i++) if (strains[i].station > 0) strains[kept++] = strains[i];
  for (size_t i = 0; i < all_heads; i++) if (heads[i].station > 0) heads[nheads++] = heads[i];
  if (!are_numbers(&most, in->nposts, kept, nheads))
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "winds", SL_NO_NUMBER, STIFFNESS, NAN, NAN, SL_PRESSURE);
  show_feet(feet, in->nposts, sh);
  show_strains(strains, kept, in->strength, sh);
  show_heads(heads, nheads, sh);
  *out = (struct sl_side_frames_out){ .feet = feet, .nfeet = in->nposts, .strains = strains, .nstrains = kept,
                                      .heads = heads, .nheads = nheads };
  LOOKUP(sh, SL_NUMBER, leaning, most.leaning, "what leaning makes of moments, the most of all frames", STIFFNESS,
         SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, drift, most.drift, "most that a head moves sideways, posts fixed at grade, wind alone",
         STIFFNESS, SL_DERIVED);
  GIVES(sh, out, leaning, leaning);
  GIVES(sh, out, drift, drift);
  out->sways = NAN;
  if (isnan(most.sways)) return SL_OK;
  LOOKUP(sh, SL_NUMBER, sways, most.sways, "what leaning would make of it if no foot were kept from turning", STIFFNESS,
         SL_DERIVED);
  GIVES(sh, out, sways, sways);
  return SL_OK;
}
