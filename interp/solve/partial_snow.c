/* SPDX-License-Identifier: MIT
 * Snow on some spans of a beam: each span loaded by itself, and all patterns made of these; see partial_snow.h. */
#include <string.h>
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/frame.h"
#include "stringline/partial_snow.h"
#include "solve/beam_piece.h"

#define STATICS   "statics"
#define STIFFNESS "direct stiffness method, slender beam"
enum { MOST = 100, MOST_PLACES = 1000 };
#define NEAR 1e-5                      /* of the length: no distance */

const char *const sl_snow_patterns[] = {
  [SL_SNOW_EVERYWHERE] = "snow on all spans", [SL_SNOW_ON_ONE_END] = "all the snow on one outer span, half elsewhere",
  [SL_SNOW_HALF_ON_ONE_END] = "half the snow on one outer span, all of it elsewhere",
  [SL_SNOW_ON_TWO] = "all the snow on two spans beside each other, half elsewhere", NULL,
};

struct work {
  struct sl_frame_node *nodes;
  struct sl_frame_member *members;
  double *unit, *load;                 /* member loads of 1 N/m on each span in its turn; on the spans, of a pattern */
  double *ends, *moved, *up;           /* of a pattern: of members, nodes, supports */
  struct sl_partial_support *supports;
  struct sl_partial_strain *strains;
  struct sl_beam_span *spans;
  size_t *span_of, *support;           /* the span of each member, the node of each support */
  size_t nnodes, nmembers, nspans;
};

static size_t most_spans(const struct sl_partial_snow_in *in) { return in->nsupports + 1; }
static size_t most_members(const struct sl_partial_snow_in *in) { return most_spans(in) + in->nhinges; }
static size_t most_strains(const struct sl_partial_snow_in *in) { return (most_spans(in) + 4) * in->nplaces; }

static size_t own_need(const struct sl_partial_snow_in *in) {
  const size_t spans = most_spans(in), members = most_members(in);
  size_t need = NEED(0, struct sl_partial_support, in->nsupports);
  need = NEED(need, struct sl_partial_strain, most_strains(in));
  need = NEED(need, struct sl_beam_span, spans);
  need = NEED(need, struct sl_frame_node, members + 1);
  need = NEED(need, struct sl_frame_member, members);
  need = NEED(need, double, 2 * spans * members);
  need = NEED(need, double, spans);
  need = NEED(need, double, 6 * members);
  need = NEED(need, double, 3 * (members + 1));
  need = NEED(need, double, in->nsupports);
  need = NEED(need, size_t, members);
  return NEED(need, size_t, in->nsupports);
}

/* A chain takes the same room wherever its joints are. */
static size_t frame_need(size_t spans, size_t links) {
  struct sl_frame_node nodes[2 * MOST + 2];
  struct sl_frame_member members[2 * MOST + 1];
  for (size_t i = 0; i <= links; i++) nodes[i] = (struct sl_frame_node){ .x = (double)i };
  for (size_t i = 0; i < links; i++) members[i] = (struct sl_frame_member){ .from = (int)i, .to = (int)i + 1 };
  return sl_frame_need(&(struct sl_frame){ .nodes = nodes, .nnodes = links + 1, .members = members,
                                           .nmembers = links, .ncases = spans });
}

size_t sl_partial_snow_need(const struct sl_partial_snow_in *in) {
  if (in->nsupports < 1 || in->nsupports > MOST || in->nhinges > MOST || in->nplaces > MOST_PLACES) return 0;
  return sl_need(own_need(in), 1, frame_need(most_spans(in), most_members(in)));
}

static enum sl_status check(const struct sl_partial_snow_in *in, struct sl_sheet *sh) {
  POSITIVE(sh, in, length, SL_LENGTH);
  POSITIVE(sh, in, ei, SL_BENDING);
  REQUIRE(sh, in, ei, > 1e-9, "must be more than a billionth of a N m2", SL_BENDING);
  FINITE(sh, in, load, SL_LINE_LOAD);
  NOT_NEGATIVE(sh, in, snow, SL_LINE_LOAD);
  if (in->nsupports < 2 || in->nsupports > MOST)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "supports", "must be 2 to 100", "", (double)in->nsupports, NAN, SL_NUMBER);
  REQUIRE_ITEM(sh, in, supports, 0, >= 0, "is not on the beam", SL_LENGTH);
  for (size_t i = 1; i < in->nsupports; i++)
    REQUIRE_ITEM(sh, in, supports, i, > in->supports[i - 1] + 2 * NEAR * in->length,
                 "must come after the one before it", SL_LENGTH);
  for (size_t i = 0; i < in->nsupports; i++)
    REQUIRE_ITEM(sh, in, supports, i, <= in->length, "is not on the beam", SL_LENGTH);
  if (in->nhinges > MOST)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "hinges", "must be at most 100", "", (double)in->nhinges, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->nhinges; i++) {
    const double before = i ? in->hinges[i - 1] : 0;
    REQUIRE_ITEM(sh, in, hinges, i, > before + 2 * NEAR * in->length, "must come after the one before it", SL_LENGTH);
    REQUIRE_ITEM(sh, in, hinges, i, < in->length * (1 - 2 * NEAR), "must come before the end", SL_LENGTH);
  }
  if (in->nplaces > MOST_PLACES)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "places", "must be at most 1000", "", (double)in->nplaces, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->nplaces; i++) {
    REQUIRE_ITEM(sh, in, places, i, >= 0, "is not on the beam", SL_LENGTH);
    REQUIRE_ITEM(sh, in, places, i, <= in->length, "is not on the beam", SL_LENGTH);
  }
  return SL_OK;
}

/* A node, where the one before it is not as near as none; which it is. */
static size_t node_at(struct work *w, double x, double near) {
  if (w->nnodes > 0 && x - w->nodes[w->nnodes - 1].x <= near) return w->nnodes - 1;
  w->nodes[w->nnodes] = (struct sl_frame_node){ .x = x + 0.0 };          /* a negative zero is told as 0 */
  return w->nnodes++;
}

/* A hinge is at the right end of the member before it.  One near a support is at it: the support's place counts. */
static void set_nodes(struct work *w, const struct sl_partial_snow_in *in) {
  const double near = NEAR * in->length;
  size_t h = 0;
  w->nnodes = 0;
  for (size_t m = 0; m < most_members(in); m++) w->members[m] = (struct sl_frame_member){ .hinge_to = 0 };
  if (in->supports[0] > near) node_at(w, 0, near);
  for (size_t i = 0; i <= in->nsupports; i++) {
    const bool end = i == in->nsupports;
    const double at = end ? in->length : in->supports[i];
    for (; h < in->nhinges && in->hinges[h] < at - near; h++)
      w->members[node_at(w, in->hinges[h], near) - 1].hinge_to = 1;
    const size_t n = node_at(w, at, near);
    if (end) break;
    w->support[i] = n;
    w->nodes[n].kz = INFINITY;
    if (h < in->nhinges && in->hinges[h] <= at + near) w->members[n - 1].hinge_to = 1, h++;
  }
  w->nodes[0].kx = INFINITY;
  w->nmembers = w->nnodes - 1;
}

static void set_beam(struct work *w, const struct sl_partial_snow_in *in) {
  set_nodes(w, in);
  w->nspans = 0;
  memset(w->unit, 0, 2 * most_spans(in) * w->nmembers * sizeof *w->unit);
  for (size_t m = 0; m < w->nmembers; m++) {
    struct sl_frame_member *const member = &w->members[m];
    member->from = (int)m, member->to = (int)m + 1;
    member->ei = in->ei, member->ea = in->ei / (in->length * in->length);
    if (m == 0 || isinf(w->nodes[m].kz)) w->spans[w->nspans++] = (struct sl_beam_span){ .from = w->nodes[m].x };
    w->span_of[m] = w->nspans - 1;
    w->spans[w->nspans - 1].to = w->nodes[m + 1].x;
    w->unit[(w->span_of[m] * w->nmembers + m) * 2 + 1] = -1;
  }
}

/* What the load of each span makes together. */
static void add_up(struct work *w, const struct sl_partial_snow_in *in, const struct sl_frame_answer *answer) {
  const size_t n = w->nmembers;
  memset(w->ends, 0, 6 * n * sizeof *w->ends);
  memset(w->moved, 0, 3 * w->nnodes * sizeof *w->moved);
  memset(w->up, 0, in->nsupports * sizeof *w->up);
  for (size_t k = 0; k < w->nspans; k++) {
    for (size_t i = 0; i < 6 * n; i++) w->ends[i] += w->load[k] * answer->ends[k * n * 6 + i];
    for (size_t i = 0; i < 3 * w->nnodes; i++) w->moved[i] += w->load[k] * answer->moved[k * w->nnodes * 3 + i];
    for (size_t i = 0; i < in->nsupports; i++)
      w->up[i] += w->load[k] * answer->reactions[(k * w->nnodes + w->support[i]) * 3 + 1];
  }
}

struct most { double moment; int pattern, span; };

/* One pattern: adds what it does to what all do; the largest moment of it. */
static double look_at(struct work *w, const struct sl_partial_snow_in *in, const struct sl_frame_answer *answer,
                      int pattern, int span, struct most *most) {
  double moment = 0;
  add_up(w, in, answer);
  for (size_t m = 0; m < w->nmembers; m++) {
    const double *ends = &w->ends[6 * m], *moved = &w->moved[3 * m];
    const struct beam_piece piece = { .length = w->nodes[m + 1].x - w->nodes[m].x, .v = ends[1], .m = ends[2],
                                      .w = w->load[w->span_of[m]], .ei = in->ei, .down = -moved[1], .turn = moved[2] };
    struct sl_beam_span here = { .from = 0 }, *const all = &w->spans[w->span_of[m]];
    sl_beam_look(&piece, &here);
    all->sagging = fmax(all->sagging, here.sagging);
    all->hogging = fmax(all->hogging, here.hogging);
    all->shear = fmax(all->shear, here.shear);
    all->deflection = fmax(all->deflection, here.deflection);
    moment = fmax(moment, fmax(here.sagging, here.hogging));
  }
  for (size_t i = 0; i < in->nsupports; i++) {
    struct sl_partial_support *const s = &w->supports[i];
    if (pattern == SL_SNOW_EVERYWHERE) s->balanced = s->reaction = s->least = w->up[i];
    s->reaction = fmax(s->reaction, w->up[i]);
    s->least = fmin(s->least, w->up[i]);
  }
  if (pattern == SL_SNOW_EVERYWHERE || moment > most->moment * (1 + 1e-9))
    *most = (struct most){ moment, pattern, span };
  return moment;
}

/* The snow of a pattern is another on spans first to last, from 0, than elsewhere. */
struct laid { int pattern; size_t first, last; };

static size_t patterns_of(size_t nspans, struct laid list[MOST + 5]) {
  size_t n = 0;
  list[n++] = (struct laid){ SL_SNOW_EVERYWHERE, 0, nspans - 1 };
  if (nspans < 2) return n;
  for (int pattern = SL_SNOW_ON_ONE_END; pattern <= SL_SNOW_HALF_ON_ONE_END; pattern++) {
    list[n++] = (struct laid){ pattern, 0, 0 };
    list[n++] = (struct laid){ pattern, nspans - 1, nspans - 1 };
  }
  for (size_t k = 0; k + 1 < nspans; k++) list[n++] = (struct laid){ SL_SNOW_ON_TWO, k, k + 1 };
  return n;
}

static void lay(struct work *w, const struct laid *p, double whole, double part) {
  const bool fewer = p->pattern == SL_SNOW_HALF_ON_ONE_END;
  for (size_t k = 0; k < w->nspans; k++) w->load[k] = (k >= p->first && k <= p->last) != fewer ? whole : part;
}

/* What strains a place under the pattern that lies there: by the members that end and begin there, or the one that goes
 * through. */
static enum sl_status strain_at(const struct work *w, const struct laid *p, double x_in, double near,
                                struct sl_partial_strain *strains, size_t i, struct sl_sheet *sh) {
  size_t west = 0;
  while (west + 1 < w->nmembers && w->nodes[west + 1].x < x_in - near) west++;
  const size_t east = west + 1 < w->nmembers && w->nodes[west + 1].x <= x_in + near ? west + 1 : west;
  strains[i] = (struct sl_partial_strain){ .pattern = p->pattern, .span = (int)p->first + 1 };
  LINE(sh);
  LOOKUP(sh, SL_NUMBER, of_span, (double)p->first + 1, sl_snow_patterns[p->pattern], "@snow_partial", SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, x, x_in, "the place", "as given", SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, x_w, w->nodes[west].x, "where the piece west of it begins", "as given", SL_DERIVED);
  LOOKUP(sh, SL_LINE_LOAD, q_w, w->load[w->span_of[west]], "load on it", "@snow_partial", SL_DERIVED);
  LOOKUP(sh, SL_FORCE, V_0w, w->ends[6 * west + 1], "shear where it begins", STIFFNESS, SL_DERIVED);
  LOOKUP(sh, SL_MOMENT, M_0w, w->ends[6 * west + 2], "moment there", STIFFNESS, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, x_e, w->nodes[east].x, "where the piece east of the place begins, or the same", "as given",
         SL_DERIVED);
  LOOKUP(sh, SL_LINE_LOAD, q_e, w->load[w->span_of[east]], "load on that", "@snow_partial", SL_DERIVED);
  LOOKUP(sh, SL_FORCE, V_0e, w->ends[6 * east + 1], "shear where that begins", STIFFNESS, SL_DERIVED);
  STEP(sh, SL_MOMENT, M_x, M_0w + V_0w * (x - x_w) - q_w * pow(x - x_w, 2) / 2, STATICS);
  STEP(sh, SL_FORCE, V_x, fmax(fabs(V_0w - q_w * (x - x_w)), fabs(V_0e - q_e * (x - x_e))), STATICS);
  GIVES_ROW(sh, strains, i, at, x);
  GIVES_ROW(sh, strains, i, moment, M_x);
  GIVES_ROW(sh, strains, i, shear, V_x);
  return SL_OK;
}

static enum sl_status all_patterns(struct work *w, const struct sl_partial_snow_in *in, double half,
                                   const struct sl_frame_answer *answer, struct most *most,
                                   struct sl_partial_snow_out *out, struct sl_sheet *sh) {
  struct laid list[MOST + 5];
  const size_t n = patterns_of(w->nspans, list);
  GIVEN(sh, SL_LINE_LOAD, load, in->load);
  GIVEN(sh, SL_LINE_LOAD, snow, in->snow);
  STEP(sh, SL_LINE_LOAD, whole, load + snow, "@snow_partial");
  STEP(sh, SL_LINE_LOAD, part, load + half * snow, "@snow_partial");
  WORKED(sh, (w->nspans + 4) * w->nmembers * (10 * w->nspans + 200));
  LINES(sh, "patterns");
  for (size_t k = 0; k < n; k++) {
    lay(w, &list[k], whole, part);
    const int span = (int)list[k].first + 1;
    const double moment = look_at(w, in, answer, list[k].pattern, span, most);
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, of_span, span, sl_snow_patterns[list[k].pattern], "@snow_partial", SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, M, moment, "largest moment", STIFFNESS, SL_DERIVED);
  }
  LINES_END(sh);
  if (in->nplaces == 0) return SL_OK;
  WORKED(sh, n * (in->nplaces * (w->nmembers + 20) + w->nmembers * 10 * w->nspans));
  LINES(sh, "places, under each pattern");
  for (size_t k = 0; k < n; k++) {
    lay(w, &list[k], whole, part);
    add_up(w, in, answer);
    for (size_t i = 0; i < in->nplaces; i++) {
      const enum sl_status status =
          strain_at(w, &list[k], in->places[i] + 0.0, NEAR * in->length, w->strains, out->nstrains++, sh);
      if (status != SL_OK) return status;
    }
  }
  LINES_END(sh);
  out->strains = w->strains;
  return SL_OK;
}

static void give_supports(const struct work *w, const struct sl_partial_snow_in *in, struct sl_sheet *sh) {
  struct sl_partial_support *const supports = w->supports;
  LINES(sh, "supports");
  for (size_t i = 0; i < in->nsupports; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, at, in->supports[i]);
    LOOKUP(sh, SL_FORCE, R, supports[i].reaction, "most of all patterns", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, R_least, supports[i].least, "least of all", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_FORCE, R_all, supports[i].balanced, "with snow on all spans", STIFFNESS, SL_DERIVED);
    GIVES_ROW(sh, supports, i, at, at);
    GIVES_ROW(sh, supports, i, reaction, R);
    GIVES_ROW(sh, supports, i, least, R_least);
    GIVES_ROW(sh, supports, i, balanced, R_all);
  }
  LINES_END(sh);
}

enum sl_status sl_partial_snow(const struct sl_partial_snow_in *in, struct sl_partial_snow_out *out,
                               struct sl_space space, struct sl_sheet *sh) {
  enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_partial_snow_need(in));
  const size_t spans = most_spans(in), members = most_members(in);
  struct work work = { .supports = PART(&space, struct sl_partial_support, in->nsupports) }, *const w = &work;
  w->strains = PART(&space, struct sl_partial_strain, most_strains(in));
  w->spans = PART(&space, struct sl_beam_span, spans);
  w->nodes = PART(&space, struct sl_frame_node, members + 1);
  w->members = PART(&space, struct sl_frame_member, members);
  w->unit = PART(&space, double, 2 * spans * members);
  w->load = PART(&space, double, spans);
  w->ends = PART(&space, double, 6 * members);
  w->moved = PART(&space, double, 3 * (members + 1));
  w->up = PART(&space, double, in->nsupports);
  w->span_of = PART(&space, size_t, members);
  w->support = PART(&space, size_t, in->nsupports);
  set_beam(w, in);
  const struct sl_frame frame = { .nodes = w->nodes, .nnodes = w->nnodes, .members = w->members,
                                  .nmembers = w->nmembers, .ncases = w->nspans, .member_loads = w->unit };
  struct sl_frame_answer answer;
  status = sl_frame_solve(&frame, &answer, space, sh);
  if (status == SL_NO_ANSWER && answer.free_node >= 0)
    return sl_sheet_fault(sh, status, "supports", "and hinges leave the beam free to move: a mechanism; the joint that "
                          "moves is at", "", w->nodes[answer.free_node].x, NAN, SL_LENGTH);
  if (status == SL_NO_ANSWER)
    return sl_sheet_fault(sh, status, "supports", "and hinges lie so near each other on so long a beam that its forces "
                          "are lost in rounding", "", in->length, NAN, SL_LENGTH);
  if (status != SL_OK) return status;

  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_BENDING, EI, in->ei);
  (void)L, (void)EI;
  if (in->nhinges) LINES(sh, "hinges");
  for (size_t i = 0; i < in->nhinges; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, hinge, in->hinges[i]);
    (void)hinge;
  }
  if (in->nhinges) LINES_END(sh);
  FACT(sh, SL_RATIO, half, "partial_snow", edition);
  if (w->nspans > in->nsupports - 1) {                 /* that it does is from memory: told where there is one */
    FACT(sh, SL_NUMBER, overhang_counts, "partial_overhang", edition);
    (void)overhang_counts;
  }
  struct most most = { 0, SL_SNOW_EVERYWHERE, 1 };
  *out = (struct sl_partial_snow_out){ .supports = w->supports, .nsupports = in->nsupports, .spans = w->spans,
                                       .nspans = w->nspans };
  status = all_patterns(w, in, half, &answer, &most, out, sh);
  if (status != SL_OK) return status;
  out->pattern = most.pattern;
  out->span = most.span;
  give_supports(w, in, sh);
  struct sl_beam_span top = { .from = 0 };
  for (size_t i = 0; i < w->nspans; i++) {
    top.sagging = fmax(top.sagging, w->spans[i].sagging);
    top.hogging = fmax(top.hogging, w->spans[i].hogging);
    top.shear = fmax(top.shear, w->spans[i].shear);
    top.deflection = fmax(top.deflection, w->spans[i].deflection);
  }
  if (!isfinite(top.sagging + top.hogging + top.shear + top.deflection))
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "snow", SL_NO_NUMBER, STIFFNESS, NAN, NAN, SL_LINE_LOAD);
  LOOKUP(sh, SL_MOMENT, M_sag, top.sagging, "largest sagging moment", STIFFNESS, SL_DERIVED);
  LOOKUP(sh, SL_MOMENT, M_hog, top.hogging, "largest hogging moment", STIFFNESS, SL_DERIVED);
  LOOKUP(sh, SL_FORCE, V, top.shear, "largest shear", STIFFNESS, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, v, top.deflection, "largest deflection", STIFFNESS, SL_DERIVED);
  GIVES(sh, out, sagging, M_sag);
  GIVES(sh, out, hogging, M_hog);
  GIVES(sh, out, shear, V);
  GIVES(sh, out, deflection, v);
  return SL_OK;
}
