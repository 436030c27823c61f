/* SPDX-License-Identifier: MIT
 * The frame of each station under all combinations, cases and limits; see side_frames.h. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "solve/side_check.h"
#include "solve/side_most.h"

#define STIFFNESS "plane frame by direct stiffness"
#define GROUND "motion at grade, and the post turns about its point in the ground"

const char *const sl_frame_limits[] = {
  [SL_FIXED_AT_GRADE] = "posts fixed at grade", [SL_TURNING] = "footings that turn in the ground",
  [SL_SHORTEST_ALONE] = "the shortest line alone", NULL,
};
const char *const sl_frame_parts[] = { [SL_PART_POST] = "post", [SL_PART_RAFTER] = "rafter", [SL_PART_BRACE] = "brace",
                                       [SL_PART_LEG] = "leg", NULL };

static size_t kinds_of(const struct sl_side_frames_in *in) {       /* of members: each line's posts, and others */
  double lines = 0;
  for (size_t i = 0; i < in->nposts; i++) if (in->posts[i].line > lines) lines = in->posts[i].line;
  return (lines < SIDE_POSTS ? (size_t)lines : SIDE_POSTS) + SIDE_OTHERS;
}

static size_t heads_of(const struct sl_side_frames_in *in) {
  return in->tell_heads ? (kinds_of(in) - SIDE_OTHERS) * HEADS_OF_LINE : 0;
}

/* ---- one station ------------------------------------------------------------------------------------------------- */

/* What gives way is a joint of the frame, which nobody has named: the item told is the station. */
static enum sl_status tell_buckling(int station, double heaviest, enum sl_status status, struct sl_sheet *sh) {
  if (status != SL_NO_ANSWER) return status;
  return sl_sheet_at(sh, (size_t)station - 1,
                     sl_sheet_fault(sh, SL_NO_ANSWER, "stations", "buckle: the posts are too slender for what presses "
                                    "them down", STIFFNESS, heaviest, NAN, SL_FORCE));
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
  const size_t n = (sl_side_any_leg(in->posts, in->nposts) ? 4 : 3) * posts + 2 * braces + 3;
  for (size_t i = 0; i < n + braces; i++) members[i] = (struct sl_frame_member){ .from = 0, .to = (int)n - 1 };
  const struct sl_frame frame = { .nodes = nodes, .nnodes = n, .members = members, .nmembers = n + braces,
                                  .ncases = SIDE_CASES };
  return sl_frame_need(&frame);
}

size_t sl_side_frames_need(const struct sl_side_frames_in *in) {
  if (in->nposts < 1 || in->nposts > (size_t)SIDE_STATIONS * SIDE_POSTS || in->nbraces > in->nposts * SIDE_BRACES)
    return 0;
  size_t need = NEED(0, struct sl_side_foot, in->nposts);
  need = NEED(need, struct sl_side_strain, kinds_of(in) * SIDE_DURATIONS * SIDE_STRAINS);
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

/* Whether a brace is bolted to each post that bears a leg, in the upper quarter of it: then the shortest line may hold
 * the frame alone.  Without one the foot of such a post has to be held. */
static bool legs_are_braced(const struct sl_side_frames_in *in, const struct sl_side_post *posts, size_t nposts,
                            int station) {
  for (size_t i = 0; i < nposts; i++) {
    bool braced = !sl_side_on_leg(&posts[i]);
    for (size_t k = 0; k < in->nbraces; k++) {
      const struct sl_side_brace *b = &in->braces[k];
      if ((int)b->station != station) continue;
      braced = braced || (same(b->foot_line, posts[i].line) && 4 * b->low >= 3 * posts[i].height) ||
          (same(b->head_line, posts[i].line) && 4 * b->high <= posts[i].height);
    }
    if (!braced) return false;
  }
  return true;
}

/* Room is used anew for each station. */
struct work { struct side_model *model; struct side_effects *effects; struct sl_space first, second; };

/* What leaning makes of a station's moments with feet that nothing keeps from turning, by either kind of combinations:
 * however stiff the ground is, a frame that its braces, or heads that hold the rafter, keep upright leans no more than
 * that, and than the ground gives way.  Grows by NAN: they do not, which is no fault where its feet do. */
struct freely { struct side_lean allowable, strength; };
static struct side_lean lean_free(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                                  const struct sl_frame_answer *answer, struct work *work) {
  struct side_lean lean;
  const double pressed = sl_side_press_each(in, rows, nrows, work->model, work->effects);
  const enum sl_status status = sl_side_leaning(work->model, answer, pressed, &lean, work->second);
  if (status != SL_OK) lean.grows = NAN;
  lean.gives = true;
  return lean;
}
static struct freely freely_of(const struct sl_side_frames_in *in, const struct sl_combination *rows, size_t nrows,
                               const struct sl_combination *strong, size_t nstrong, double pivot_share,
                               const struct sl_side_post *posts, size_t nposts, int station, struct work *work) {
  bool tied = false;
  for (size_t i = 0; i < in->nbraces; i++) tied = tied || (int)in->braces[i].station == station;
  for (size_t i = 0; i < nposts; i++) tied = tied || posts[i].head > 0;
  struct freely f = { { .grows = NAN }, { .grows = NAN } };
  if (!tied) return f;
  sl_side_build(in, posts, nposts, station, &in->stations[station - 1], pivot_share, SIDE_FREE, work->model);
  const struct sl_frame frame = sl_side_frame(work->model);
  struct sl_frame_answer answer = { 0 };
  if (sl_frame_solve(&frame, &answer, work->first, NULL) != SL_OK) return f;
  sl_side_effects(work->model, &answer, work->effects);
  f.allowable = lean_free(in, rows, nrows, &answer, work);
  f.strength = nstrong > 0 ? lean_free(in, strong, nstrong, &answer, work) : f.allowable;
  return f;
}

static enum sl_status solve_station(const struct sl_side_frames_in *in, int edition, double pivot_share,
                                    const struct sl_side_post *posts, size_t nposts, int station, struct work *work,
                                    struct side_most *most, struct sl_side_foot *feet, struct sl_sheet *sh) {
  struct sl_combination rows[SL_COMBINATIONS], strong[SL_COMBINATIONS];
  const size_t nrows = sl_combinations_of(edition, SL_ALLOWABLE, rows);
  const size_t nstrong = in->strength ? sl_combinations_of(edition, SL_STRENGTH, strong) : 0;
  const struct freely freely = freely_of(in, rows, nrows, strong, nstrong, pivot_share, posts, nposts, station, work);
  const double sways = freely.allowable.grows;
  most->sways = isnan(sways) || isnan(most->sways) ? NAN : fmax(most->sways, sways);
  double bending = 1, strained_bending = 1;
  for (int limit = 0; limit < SIDE_LIMITS; limit++) {
    if (!sl_side_has(posts, nposts, limit)) continue;
    if (limit == SL_SHORTEST_ALONE && !legs_are_braced(in, posts, nposts, station)) continue;
    sl_side_build(in, posts, nposts, station, &in->stations[station - 1], pivot_share, limit, work->model);
    struct sl_frame frame = sl_side_frame(work->model);
    if (limit == SL_TURNING) frame.ncases = SIDE_LOADS;               /* of that nobody asks how stiff it is */
    struct sl_frame_answer answer = { 0 };
    enum sl_status status = sl_frame_solve(&frame, &answer, work->first, sh);
    if (status != SL_OK) return tell(work->model, station, &answer, status, sh);
    struct side_solved s = { .model = work->model, .answer = &answer, .effects = work->effects,
                             .leaning = { .grows = 1 } };
    sl_side_effects(work->model, &answer, work->effects);
    if (limit != SL_TURNING) {
      double pressed = sl_side_press(in, rows, nrows, work->model, work->effects);
      status = sl_side_leaning(work->model, &answer, pressed, &s.leaning, work->second);
      s.strained = s.leaning;
      if (status == SL_OK && nstrong > 0) {
        pressed = sl_side_press(in, strong, nstrong, work->model, work->effects);
        status = sl_side_leaning(work->model, &answer, pressed, &s.strained, work->second);
      }
      if (status != SL_OK) return tell_buckling(station, pressed, status, sh);
    } else s.strained = s.leaning;
    if (limit == SL_FIXED_AT_GRADE) bending = s.leaning.grows, strained_bending = s.strained.grows;
    s.bending = fmax(bending, s.leaning.grows);
    s.strained_bending = fmax(strained_bending, s.strained.grows);
    if (limit == SL_TURNING && !isnan(sways)) s.leaning = freely.allowable;
    if (limit == SL_TURNING && !isnan(freely.strength.grows)) s.strained = freely.strength;
    most->leaning = fmax(most->leaning, s.leaning.grows);
    sl_side_note_all(in, edition, &s, station, limit, most, feet, sh);
  }
  return SL_OK;
}

/* Inputs far beyond any rack may add up to more than a double holds. */
static bool are_numbers(const struct side_most *most, size_t nfeet, size_t nstrains, size_t nheads) {
  double sum = most->leaning + most->drift;
  for (size_t i = 0; i < nfeet; i++) {
    const struct sl_side_foot *f = &most->feet[i];
    const double all[] = { f->up, f->down, f->side, f->dead, f->weight, f->snow, f->net_up, f->net_up_dead, f->pressed,
        f->push,
        f->push_moment, f->moment, f->moment_push, f->strength_up, f->strength_down, f->half_built_up, f->leans,
        f->leaning_moment };
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
  enum sl_status status = sl_side_check(in, sh);
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

  const size_t kinds = kinds_of(in), nstrains = kinds * SIDE_DURATIONS * SIDE_STRAINS;
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
  struct side_most most = { .feet = feet, .strains = strains, .heads = heads, .kinds = kinds, .leaning = 1,
                            .sways = 1 };

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
