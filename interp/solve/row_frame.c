/* SPDX-License-Identifier: MIT
 * The frames of a row along itself, all lines and both limits of their feet; see row_frame.h. */
#include <string.h>
#include "guard.h"
#include "room.h"
#include "table.h"
#include "solve/row_model.h"

#define STIFFNESS "plane frame by direct stiffness"
#define SHARED "as stiff lines share what ties them"
enum { MOST_LINES = 1000 };

/* ---- what is asked ----------------------------------------------------------------------------------------------- */

/* Of numbers that nobody has looked at yet. */
static bool same(double a, double b) { return a <= b && a >= b; }
static bool whole(double a) { return same(a, floor(a)); }

/* Posts and braces of one line at most; of braces, not sorted. */
static size_t most_posts(const struct sl_row_frame_in *in) {
  size_t most = 0, run = 0;
  for (size_t i = 0; i < in->nposts; i++) {
    run = i > 0 && same(in->posts[i].line, in->posts[i - 1].line) ? run + 1 : 1;
    if (run > most) most = run;
  }
  return most;
}

static enum sl_status check_lines(const struct sl_row_frame_in *in, struct sl_sheet *sh) {
  if (in->nlines < 1 || in->nlines > MOST_LINES)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "lines", "must be 1 to 1000", "", (double)in->nlines, NAN, SL_NUMBER);
  double part = 1, sum = 0;
  for (size_t i = 0; i < in->nlines; i++) {
    const struct sl_row_line *const l = &in->lines[i];
    REQUIRE_ROW(sh, in, lines, i, part, >= part && l->part <= part + (i > 0) && whole(l->part),
                "must rise by one, from 1 on", SL_NUMBER);
    REQUIRE_ROW(sh, in, lines, i, share, >= 0 && l->share <= 1, "must be 0 to 1", SL_RATIO);
    sum = l->part > part ? l->share : sum + l->share;
    part = l->part;
    const bool last = i + 1 == in->nlines || in->lines[i + 1].part > part;
    if (last && !(fabs(sum - 1) < 1e-6))
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "lines[i].share", "and those of the part's other "
                                               "lines must be 1 together", "", sum, 1, SL_RATIO));
  }
  return SL_OK;
}

static enum sl_status check_posts(const struct sl_row_frame_in *in, struct sl_sheet *sh) {
  double line = 1, at = -INFINITY;
  for (size_t i = 0; i < in->nposts; i++) {
    const struct sl_row_post *const p = &in->posts[i];
    REQUIRE_ROW(sh, in, posts, i, line, >= line && p->line <= line + (i > 0) && whole(p->line),
                "must rise by one, from 1 on", SL_NUMBER);
    if (p->line > line) at = -INFINITY;
    line = p->line;
    const double before = at;
    REQUIRE_ROW(sh, in, posts, i, at, > before + 1e-2 && p->at < 1e6, "must rise along the row, a centimetre at least",
                SL_LENGTH);
    at = p->at;
    REQUIRE_ROW(sh, in, posts, i, at, > -1e6, "must be a length", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, top, > -1e6 && p->top < 1e6, "must be a length", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, height, > 2e-3 && p->height < 1000, "must be more than 2 mm and less than 1 km",
                SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, depth, >= 0 && p->depth < 1000, "must be 0 or more and less than 1 km", SL_LENGTH);
    REQUIRE_ROW(sh, in, posts, i, hinged, >= 0 && (same(p->hinged, 0) || same(p->hinged, 1)), "must be 0 or 1",
                SL_NUMBER);
    NOT_NEGATIVE_ROW(sh, in, posts, i, pressed, SL_FORCE);
    if (!(p->e > 0 || p->area > 0 || p->inertia > 0)) continue;
    REQUIRE_ROW(sh, in, posts, i, e, > 0 && p->e < INFINITY, "must be greater than 0", SL_PRESSURE);
    REQUIRE_ROW(sh, in, posts, i, area, > 0 && p->area < INFINITY, "must be greater than 0", SL_SECTION);
    REQUIRE_ROW(sh, in, posts, i, inertia, > 0 && p->inertia < INFINITY, "must be greater than 0", SL_INERTIA);
  }
  if (in->nposts < 1 || !same(line, (double)in->nlines))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "posts", "do not stand in all lines", "", line, (double)in->nlines,
                          SL_NUMBER);
  const size_t most = most_posts(in);
  if (most > ROW_POSTS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "posts", "must be 200 at most in a line", "", (double)most, ROW_POSTS,
                          SL_NUMBER);
  return SL_OK;
}

/* A number that was not looked at yet may be none. */
static bool is_on(double own, size_t line) { return own >= (double)line && own <= (double)line; }

static struct row_of line_of(const struct sl_row_frame_in *in, size_t line) {
  struct row_of of = { .posts = in->posts, .braces = in->braces };
  while (of.posts->line < (double)line) of.posts++;
  while (of.posts + of.n < in->posts + in->nposts && is_on(of.posts[of.n].line, line)) of.n++;
  size_t first = 0;                    /* of no braces there is no place */
  while (first < in->nbraces && in->braces[first].line < (double)line) first++;
  while (first + of.nbraces < in->nbraces && is_on(in->braces[first + of.nbraces].line, line)) of.nbraces++;
  if (first > 0) of.braces += first;
  return of;
}

static enum sl_status check_braces(const struct sl_row_frame_in *in, struct sl_sheet *sh) {
  if (in->nbraces > 0) POSITIVE(sh, in, brace_e, SL_PRESSURE);
  if (in->nbraces > 0) POSITIVE(sh, in, brace_area, SL_SECTION);
  double line = 1;
  for (size_t i = 0; i < in->nbraces; i++) {
    const struct sl_row_brace *const b = &in->braces[i];
    REQUIRE_ROW(sh, in, braces, i, line, >= line && b->line <= (double)in->nlines && whole(b->line),
                "must be one of the lines, rising", SL_NUMBER);
    line = b->line;
    const struct row_of of = line_of(in, (size_t)line);
    REQUIRE_ROW(sh, in, braces, i, foot, >= 1 && b->foot <= (double)of.n && whole(b->foot), "is no post of that line",
                SL_NUMBER);
    REQUIRE_ROW(sh, in, braces, i, head, >= 1 && b->head <= (double)of.n && whole(b->head), "is no post of that line",
                SL_NUMBER);
    REQUIRE_ROW(sh, in, braces, i, head, > 0 && same(fabs(b->head - b->foot), 1), "stands not beside the foot's post",
                SL_NUMBER);
    const double stands = of.posts[(size_t)b->foot - 1].height, hangs = of.posts[(size_t)b->head - 1].height;
    REQUIRE_ROW(sh, in, braces, i, low, >= 0 && b->low <= stands + 1e-9, "is not between ground and head of its post",
                SL_LENGTH);
    REQUIRE_ROW(sh, in, braces, i, high, >= 0 && b->high <= hangs + 1e-9, "is not between head and ground of its post",
                SL_LENGTH);
    size_t of_foot = 0, of_head = 0;
    for (size_t k = 0; k <= i; k++) {
      const struct sl_row_brace *const c = &in->braces[k];
      if (!same(c->line, line)) continue;
      of_foot += same(c->foot, b->foot) || same(c->head, b->foot);
      of_head += same(c->foot, b->head) || same(c->head, b->head);
    }
    REQUIRE_ROW(sh, in, braces, i, foot, > 0 && of_foot <= ROW_POST_BRACES, "has more than 8 braces", SL_NUMBER);
    REQUIRE_ROW(sh, in, braces, i, head, > 0 && of_head <= ROW_POST_BRACES, "has more than 8 braces", SL_NUMBER);
    REQUIRE_ROW(sh, in, braces, i, line, > 0 && of.nbraces <= ROW_BRACES, "has more than 400 braces", SL_NUMBER);
  }
  return SL_OK;
}

static enum sl_status check(const struct sl_row_frame_in *in, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, push, SL_FORCE);
  POSITIVE(sh, in, post_e, SL_PRESSURE);
  POSITIVE(sh, in, post_area, SL_SECTION);
  POSITIVE(sh, in, post_inertia, SL_INERTIA);
  enum sl_status status = check_lines(in, sh);
  if (status == SL_OK) status = check_posts(in, sh);
  return status == SL_OK ? check_braces(in, sh) : status;
}

/* What a foot and its post carry under 1 N on their line, all as sizes. */
struct unit_foot { double side, up, turn, bending, shear; };

/* ---- room -------------------------------------------------------------------------------------------------------- */

static size_t most_braces(const struct sl_row_frame_in *in) {
  return in->nbraces < ROW_BRACES ? in->nbraces : ROW_BRACES;
}

size_t sl_row_frame_need(const struct sl_row_frame_in *in) {
  const size_t posts = most_posts(in);
  if (posts < 1 || posts > ROW_POSTS || in->nposts > MOST_LINES * ROW_POSTS) return 0;
  if (in->nlines > MOST_LINES || in->nbraces > MOST_LINES * ROW_BRACES) return 0;
  size_t need = NEED(0, struct sl_row_foot, in->nposts);
  need = NEED(need, struct sl_row_strut, in->nbraces);
  need = NEED(need, struct unit_foot, in->nposts);
  need = NEED(need, double, in->nbraces);
  need = NEED(need, double, in->nlines);
  need = NEED(need, double, in->nlines);
  need = NEED(need, unsigned char, sl_row_model_room(posts, most_braces(in)));
  const size_t room = sl_row_room(posts, most_braces(in));
  need = NEED(need, unsigned char, room);
  return NEED(need, unsigned char, room);
}

/* ---- one line under one limit ------------------------------------------------------------------------------------ */

struct work {
  struct row_model *model;
  struct sl_row_foot *feet;
  struct sl_row_strut *struts;
  struct unit_foot *one;                /* of each post */
  double *pulled;                       /* of each brace under 1 N on its line */
  double *sway, *leans;                 /* of each line under 1 N; what its moments grow by */
  struct sl_space first, second;
  double leaning, drift;
  double sways;                         /* the most that lines lean by with free feet; NAN once one does not stand */
};

static enum sl_status tell(size_t line, const char *text, enum sl_status status, struct sl_sheet *sh) {
  if (status != SL_NO_ANSWER) return status;
  return sl_sheet_at(sh, line - 1, sl_sheet_fault(sh, SL_NO_ANSWER, "lines", text, STIFFNESS, NAN, NAN, SL_NUMBER));
}

/* What leaning makes of how far a line's heads move, as it was solved last; 1 where nothing presses it. */
static enum sl_status lean(const struct row_of *of, const struct sl_frame_answer *answer, struct work *w,
                           double *leaning, struct sl_sheet *sh) {
  struct row_model *const m = w->model;
  double pressed = 0;
  *leaning = 1;
  for (size_t i = 0; i < of->n; i++) pressed += of->posts[i].pressed;
  if (!(pressed > 0)) return SL_OK;
  struct sl_frame frame = sl_row_model_frame(m);
  frame.pressed = m->pressed;
  frame.stands = 1;
  struct sl_frame_answer leant = { 0 };
  const enum sl_status status = sl_frame_solve(&frame, &leant, w->second, sh);
  if (status != SL_OK) return status;
  const double moved = answer->moved[3 * m->head[0]];
  if (moved != 0) *leaning = fmax(1, leant.moved[3 * m->head[0]] / moved);
  return SL_OK;
}

/* The same with feet that nothing keeps from turning: however stiff the ground is, it leans no more than that.  NAN:
 * its braces alone do not keep it upright, which is no fault where its feet do. */
static double lean_free(const struct sl_row_frame_in *in, const struct row_of *of, double pivot_share,
                        struct work *w) {
  if (of->nbraces == 0) return NAN;
  struct sl_frame_answer answer = { 0 };
  double leaning = 1;
  sl_row_build(in, of, pivot_share, ROW_FREE, w->model);
  const struct sl_frame frame = sl_row_model_frame(w->model);
  if (sl_frame_solve(&frame, &answer, w->first, NULL) != SL_OK) return NAN;
  return lean(of, &answer, w, &leaning, NULL) == SL_OK ? leaning : NAN;
}

/* How a line moves under 1 N; leaning: what its moments and what its braces carry grow by. */
static enum sl_status solve(const struct sl_row_frame_in *in, size_t line, double pivot_share, bool turning,
                            struct work *w, struct sl_frame_answer *answer, double *leaning, struct sl_sheet *sh) {
  const struct row_of of = line_of(in, line);
  const double freely = turning ? lean_free(in, &of, pivot_share, w) : NAN;
  sl_row_build(in, &of, pivot_share, turning ? ROW_TURNING : ROW_FIXED, w->model);
  const struct sl_frame frame = sl_row_model_frame(w->model);
  enum sl_status status = sl_frame_solve(&frame, answer, w->first, sh);
  if (status != SL_OK) return tell(line, "is held by nothing along the row: hinged feet, and no brace", status, sh);
  if (turning) {                        /* without braces how stiff the ground is would be all, and nobody knows */
    *leaning = isnan(freely) ? 1 : freely;
    w->sways = isnan(freely) || isnan(w->sways) ? NAN : fmax(w->sways, freely);
    return SL_OK;
  }
  status = lean(&of, answer, w, leaning, sh);
  return status == SL_OK ? status : tell(line, "buckles along the row: its posts are too slender for what presses "
                                         "them down", status, sh);
}

static bool beyond(double value, double most) { return value > most + 1e-12 * fabs(most) + 1e-9; }

/* What a line has under 1 N: its feet and struts, where they stand, and how far it leans and its heads move. */
static void note_one(const struct row_of *of, const struct sl_frame_answer *answer, double leaning, struct work *w,
                     const struct sl_row_frame_in *in, size_t line) {
  const struct row_model *const m = w->model;
  struct unit_foot *const feet = &w->one[of->posts - in->posts];
  for (size_t i = 0; i < of->n; i++) {
    const double *const reaction = &answer->reactions[3 * m->foot[i]];
    feet[i] = (struct unit_foot){ .side = fabs(reaction[0]), .up = fabs(reaction[1]),
                                  .turn = fabs(answer->ends[6 * m->above[i] + 2]) };
    for (size_t k = (size_t)m->above[i]; k < m->nmembers && m->pieces[k].post == (int)i; k++) {
      const double *const ends = &answer->ends[6 * k];
      feet[i].bending = fmax(feet[i].bending, fmax(fabs(ends[2]), fabs(ends[5])));
      feet[i].shear = fmax(feet[i].shear, fmax(fabs(ends[1]), fabs(ends[4])));
    }
  }
  for (size_t k = 0; k < m->nmembers; k++)
    if (m->pieces[k].brace >= 0)
      w->pulled[of->braces - in->braces + m->pieces[k].brace] = fabs(answer->ends[6 * k]);
  w->sway[line - 1] = fabs(answer->moved[3 * m->head[0]]);
  w->leans[line - 1] = leaning;
}

static void note_foot(const struct unit_foot *one, double push, double leaning, struct sl_row_foot *foot) {
  const double side = push * one->side, moment = push * leaning * one->turn;
  foot->lifts = fmax(foot->lifts, push * leaning * one->up);
  if (beyond(side, foot->push) || (!beyond(foot->push, side) && beyond(moment, foot->push_moment))) {
    foot->push = side;
    foot->push_moment = moment;
  }
  if (beyond(moment, foot->moment)) {
    foot->moment = moment;
    foot->moment_push = side;
  }
  foot->bending = fmax(foot->bending, push * leaning * one->bending);
  foot->shear = fmax(foot->shear, push * one->shear);
}

/* The same under its own push. */
static void note(const struct sl_row_frame_in *in, size_t line, double push, bool turning, struct work *w) {
  const struct row_of of = line_of(in, line);
  const size_t first = (size_t)(of.posts - in->posts), brace = (size_t)(of.braces - in->braces);
  const double leaning = w->leans[line - 1];
  for (size_t i = first; i < first + of.n; i++) note_foot(&w->one[i], push, leaning, &w->feet[i]);
  for (size_t k = brace; k < brace + of.nbraces; k++)
    w->struts[k].force = fmax(w->struts[k].force, push * leaning * w->pulled[k]);
  w->leaning = fmax(w->leaning, leaning);
  if (!turning) w->drift = fmax(w->drift, push * leaning * w->sway[line - 1]);
}

/* The lines of a part share as they are stiff: each has the same way. */
static double stiff_share(const struct sl_row_frame_in *in, const struct work *w, size_t line) {
  double sum = 0;
  for (size_t i = 0; i < in->nlines; i++)
    if (same(in->lines[i].part, in->lines[line - 1].part)) sum += 1 / w->sway[i];
  return 1 / w->sway[line - 1] / sum;
}

static enum sl_status solve_all(const struct sl_row_frame_in *in, double P, double pivot_share, struct work *w,
                                struct sl_sheet *sh) {
  struct sl_frame_answer answer;
  double grown = 1;
  for (int turning = 0; turning < 2; turning++) {
    for (size_t line = 1; line <= in->nlines; line++) {
      const enum sl_status status = solve(in, line, pivot_share, turning > 0, w, &answer, &grown, sh);
      if (status != SL_OK) return status;
      const struct row_of of = line_of(in, line);
      note_one(&of, &answer, grown, w, in, line);
    }
    LINES(sh, turning ? "lines, footings that turn in the ground" : "lines, posts fixed at grade");
    for (size_t line = 1; line <= in->nlines; line++) {
      LINE(sh);
      LOOKUP(sh, SL_RATIO, over, in->lines[line - 1].share, "share of the push that lies over it", STIFFNESS,
             SL_DERIVED);
      LOOKUP(sh, SL_RATIO, tied, stiff_share(in, w, line), "share by stiffness", STIFFNESS, SL_DERIVED);
      STEP(sh, SL_FORCE, P_line, P * fmax(over, tied), SHARED);
      note(in, line, P_line, turning > 0, w);
    }
    LINES_END(sh);
  }
  return SL_OK;
}

static enum sl_status show(const struct sl_row_frame_in *in, const struct work *w, struct sl_sheet *sh) {
  const struct sl_row_foot *const feet = w->feet;
  LINES(sh, "what each foot carries");
  double sum = 0;
  for (size_t i = 0; i < in->nposts; i++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, of_line, feet[i].line, "line", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, number, feet[i].number, "post from the west", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, V, feet[i].push, "along the row at grade, allowable", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, M, feet[i].moment, "largest moment at grade", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, M_post, feet[i].bending, "largest along the post", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, V_post, feet[i].shear, "largest across it", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, N, feet[i].lifts, "lift or thrust of braces", STIFFNESS, SL_DERIVED);
    sum += V + M + M_post + V_post + N;
  }
  LINES_END(sh);
  if (in->nbraces) LINES(sh, "braces");
  for (size_t i = 0; i < in->nbraces; i++) {
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, its_line, w->struts[i].line, "line", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_NUMBER, its_foot, w->struts[i].foot, "post of its foot", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, F, w->struts[i].force, "pull or thrust, allowable", STIFFNESS, SL_DERIVED);
    sum += F;
  }
  if (in->nbraces) LINES_END(sh);
  if (isfinite(sum)) return SL_OK;
  return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "push", SL_NO_NUMBER, STIFFNESS, NAN, NAN, SL_FORCE);
}

enum sl_status sl_row_frame(const struct sl_row_frame_in *in, struct sl_row_frame_out *out, struct sl_space space,
                            struct sl_sheet *sh) {
  enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_row_frame_need(in));
  struct work w = { .feet = PART(&space, struct sl_row_foot, in->nposts), .leaning = 1, .sways = 1 };
  w.struts = PART(&space, struct sl_row_strut, in->nbraces);
  w.one = PART(&space, struct unit_foot, in->nposts);
  w.pulled = PART(&space, double, in->nbraces);
  w.sway = PART(&space, double, in->nlines);
  w.leans = PART(&space, double, in->nlines);
  struct row_model model = sl_row_model_in(&space, most_posts(in), most_braces(in));
  w.model = &model;
  const size_t room = sl_row_room(most_posts(in), most_braces(in));
  w.first = (struct sl_space){ PART(&space, unsigned char, room), room };
  w.second = (struct sl_space){ PART(&space, unsigned char, room), room };
  double number = 0;
  for (size_t i = 0; i < in->nposts; i++) {
    number = i > 0 && in->posts[i].line <= in->posts[i - 1].line ? number + 1 : 1;
    w.feet[i] = (struct sl_row_foot){ .line = in->posts[i].line, .number = number };
  }
  for (size_t i = 0; i < in->nbraces; i++)
    w.struts[i] = (struct sl_row_strut){ in->braces[i].line, in->braces[i].foot, in->braces[i].head, 0 };

  GIVEN(sh, SL_FORCE, P, in->push);
  GIVEN(sh, SL_PRESSURE, E, in->post_e);
  GIVEN(sh, SL_INERTIA, I, in->post_inertia);
  (void)E, (void)I;
  FACT(sh, SL_RATIO, pivot_share, "pivot_share", SL_NO_EDITION);
  status = solve_all(in, P, pivot_share, &w, sh);
  if (status == SL_OK) status = show(in, &w, sh);
  if (status != SL_OK) return status;
  *out = (struct sl_row_frame_out){ .feet = w.feet, .nfeet = in->nposts, .struts = w.struts, .nstruts = in->nbraces };
  LOOKUP(sh, SL_NUMBER, leaning, w.leaning, "what leaning makes of moments, the most of all lines", STIFFNESS,
         SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, drift, w.drift, "most that heads move along the row", STIFFNESS, SL_DERIVED);
  GIVES(sh, out, leaning, leaning);
  GIVES(sh, out, drift, drift);
  out->sways = NAN;
  if (isnan(w.sways)) return SL_OK;
  LOOKUP(sh, SL_NUMBER, sways, w.sways, "what leaning would make of it if no foot were kept from turning", STIFFNESS,
         SL_DERIVED);
  GIVES(sh, out, sways, sways);
  return SL_OK;
}
