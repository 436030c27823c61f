/* SPDX-License-Identifier: MIT
 * Beams: joints where anything changes, solved as a frame, and each piece looked at along its length.  See beam.h. */
#include <stdint.h>
#include "guard.h"
#include "room.h"
#include "stringline/frame.h"
#include "solve/beam_piece.h"

#define STIFFNESS "direct stiffness method, slender beam"
#define MOST_OF_A_LIST "at most 100 of them can be worked"
enum { MOST = 100, MOST_JOINTS = 2 + 5 * MOST };
#define NEAR 1e-5                      /* of the length: no distance */

struct work {
  double *at;                          /* of the joints, rising */
  struct sl_frame_node *nodes;
  struct sl_frame_member *members;
  double *points, *uniform;
  struct sl_beam_support *supports;
  struct sl_beam_span *spans;
  size_t njoints;
};

static size_t most_joints(const struct sl_beam_in *in) {
  return 2 + in->nsupports + in->nhinges + in->npatch_from + in->npatch_to + in->npoint_at;
}

static bool countable(const struct sl_beam_in *in) {
  return in->nsupports <= MOST && in->nhinges <= MOST && in->npatch_from <= MOST && in->npatch_to <= MOST &&
         in->npatch_load <= MOST && in->npoint_at <= MOST && in->npoint_load <= MOST;
}

static size_t own_need(const struct sl_beam_in *in) {
  const size_t n = most_joints(in);
  size_t need = NEED(0, struct sl_beam_support, in->nsupports);
  need = NEED(need, struct sl_beam_span, in->nsupports + 1);
  need = NEED(need, double, n);
  need = NEED(need, struct sl_frame_node, n);
  need = NEED(need, struct sl_frame_member, n);
  need = NEED(need, double, 3 * n);
  return NEED(need, double, 2 * n);
}

/* A chain of n joints takes the same room wherever they are. */
static size_t frame_need(size_t n) {
  struct sl_frame_node nodes[MOST_JOINTS];
  struct sl_frame_member members[MOST_JOINTS];
  for (size_t i = 0; i < n; i++) {
    nodes[i] = (struct sl_frame_node){ .x = (double)i };
    members[i] = (struct sl_frame_member){ .from = (int)i, .to = (int)i + 1 };
  }
  return sl_frame_need(&(struct sl_frame){ .nodes = nodes, .nnodes = n, .members = members, .nmembers = n - 1,
                                           .ncases = 1 });
}

size_t sl_beam_need(const struct sl_beam_in *in) {
  if (!countable(in)) return 0;
  return sl_need(own_need(in), 1, frame_need(most_joints(in)));
}

static enum sl_status check_list(const struct sl_beam_in *in, const char *name, const double *list, size_t n,
                                 size_t wanted, bool place, struct sl_sheet *sh) {
  if (n != wanted)
    return sl_sheet_fault(sh, SL_BAD_INPUT, name, "has not as many items as the list that belongs to it", "",
                          (double)n, (double)wanted, SL_NUMBER);
  for (size_t i = 0; i < n; i++) {
    const bool fine = place ? list[i] >= 0 && list[i] <= in->length : isfinite(list[i]) != 0;
    if (!fine)
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, name, place ? "is not on the beam" :
                                               "must be a finite number", "", list[i], place ? in->length : NAN,
                                               place ? SL_LENGTH : SL_NUMBER));
  }
  return SL_OK;
}

static enum sl_status check(const struct sl_beam_in *in, struct sl_sheet *sh) {
  POSITIVE(sh, in, length, SL_LENGTH);
  POSITIVE(sh, in, ei, SL_BENDING);
  REQUIRE(sh, in, ei, > 1e-9, "must be more than a billionth of a N m2", SL_BENDING);
  FINITE(sh, in, load, SL_LINE_LOAD);
  if (!countable(in))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "supports", "are too many, or another list is too long: "
                          MOST_OF_A_LIST, "", (double)in->nsupports, MOST, SL_NUMBER);
  if (in->nsupports < 1)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "supports", "must be 1 to 100", "", 0, NAN, SL_NUMBER);
  enum sl_status status = check_list(in, "supports", in->supports, in->nsupports, in->nsupports, true, sh);
  if (status != SL_OK) return status;
  for (size_t i = 1; i < in->nsupports; i++)
    REQUIRE_ITEM(sh, in, supports, i, > in->supports[i - 1] + 2 * NEAR * in->length,
                 "must come after the one before it", SL_LENGTH);
  for (size_t i = 0; i < in->nhinges; i++) {
    const double before = i ? in->hinges[i - 1] : 0;
    REQUIRE_ITEM(sh, in, hinges, i, > before + 2 * NEAR * in->length, "must come after the one before it", SL_LENGTH);
    REQUIRE_ITEM(sh, in, hinges, i, < in->length * (1 - 2 * NEAR), "must come before the end", SL_LENGTH);
  }
  status = check_list(in, "patch_from", in->patch_from, in->npatch_from, in->npatch_from, true, sh);
  if (status == SL_OK) status = check_list(in, "patch_to", in->patch_to, in->npatch_to, in->npatch_from, true, sh);
  if (status == SL_OK)
    status = check_list(in, "patch_load", in->patch_load, in->npatch_load, in->npatch_from, false, sh);
  if (status == SL_OK) status = check_list(in, "point_at", in->point_at, in->npoint_at, in->npoint_at, true, sh);
  if (status == SL_OK)
    status = check_list(in, "point_load", in->point_load, in->npoint_load, in->npoint_at, false, sh);
  for (size_t i = 0; status == SL_OK && i < in->npatch_to; i++)
    REQUIRE_ITEM(sh, in, patch_to, i, > in->patch_from[i], "must come after where the patch begins", SL_LENGTH);
  return status;
}

/* ---- joints and pieces ------------------------------------------------------------------------------------------- */

static void add(struct work *w, const struct sl_beam_in *in, const double *list, size_t n) {
  for (size_t k = 0; k < n; k++) {
    size_t place = w->njoints;
    bool there = false;
    for (size_t i = 0; i < w->njoints; i++) {
      if (fabs(w->at[i] - list[k]) <= NEAR * in->length) there = true;
      if (w->at[i] > list[k] && i < place) place = i;
    }
    if (there) continue;
    for (size_t i = w->njoints; i > place; i--) w->at[i] = w->at[i - 1];
    w->at[place] = list[k];
    w->njoints++;
  }
}

static size_t joint_at(const struct work *w, double at) {
  size_t best = 0;
  for (size_t i = 1; i < w->njoints; i++)
    if (fabs(w->at[i] - at) < fabs(w->at[best] - at)) best = i;
  return best;
}

/* Supports and hinges come first: what begins near them begins at them. */
static void set_joints(struct work *w, const struct sl_beam_in *in) {
  const double ends[] = { 0, in->length };
  add(w, in, in->supports, in->nsupports);
  add(w, in, in->hinges, in->nhinges);
  add(w, in, ends, 2);
  add(w, in, in->patch_from, in->npatch_from);
  add(w, in, in->patch_to, in->npatch_to);
  add(w, in, in->point_at, in->npoint_at);
  for (size_t i = 0; i < w->njoints; i++) {
    w->nodes[i] = (struct sl_frame_node){ .x = w->at[i], .kx = i ? 0 : INFINITY };
    w->points[3 * i] = w->points[3 * i + 1] = w->points[3 * i + 2] = 0;
  }
  for (size_t k = 0; k < in->nsupports; k++) {
    struct sl_frame_node *node = &w->nodes[joint_at(w, in->supports[k])];
    node->kz = INFINITY;
    if ((k == 0 && in->held_first) || (k + 1 == in->nsupports && in->held_last)) node->kr = INFINITY;
  }
  for (size_t k = 0; k < in->npoint_at; k++) w->points[3 * joint_at(w, in->point_at[k]) + 1] -= in->point_load[k];
  for (size_t m = 0; m + 1 < w->njoints; m++) {
    const double middle = (w->at[m] + w->at[m + 1]) / 2;
    w->members[m] = (struct sl_frame_member){ .from = (int)m, .to = (int)m + 1, .ei = in->ei,
                                              .ea = in->ei / (in->length * in->length) };
    w->uniform[2 * m] = 0;
    w->uniform[2 * m + 1] = -in->load;
    for (size_t k = 0; k < in->npatch_from; k++)
      if (in->patch_from[k] < middle && middle < in->patch_to[k]) w->uniform[2 * m + 1] -= in->patch_load[k];
  }
  for (size_t k = 0; k < in->nhinges; k++) w->members[joint_at(w, in->hinges[k]) - 1].hinge_to = 1;
}

static size_t set_spans(const struct work *w, const struct sl_beam_in *in, const struct sl_frame_answer *answer) {
  size_t n = 0;
  for (size_t m = 0; m + 1 < w->njoints; m++) {
    if (m == 0 || isinf(w->nodes[m].kz)) w->spans[n++] = (struct sl_beam_span){ .from = w->at[m] };
    const double *ends = &answer->ends[6 * m], *moved = &answer->moved[3 * m];
    const struct beam_piece piece = { .length = w->at[m + 1] - w->at[m], .v = ends[1], .m = ends[2],
                                 .w = -w->uniform[2 * m + 1], .ei = in->ei, .down = -moved[1], .turn = moved[2] };
    sl_beam_look(&piece, &w->spans[n - 1]);
    w->spans[n - 1].to = w->at[m + 1];
  }
  return n;
}

static enum sl_status given(const struct sl_beam_in *in, struct sl_sheet *sh) {
  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_BENDING, EI, in->ei);
  GIVEN(sh, SL_LINE_LOAD, w, in->load);
  GIVEN(sh, SL_NUMBER, fixed_first, in->held_first);
  GIVEN(sh, SL_NUMBER, fixed_last, in->held_last);
  (void)L, (void)EI, (void)w, (void)fixed_first, (void)fixed_last;
  if (in->nhinges) LINES(sh, "hinges");
  for (size_t i = 0; i < in->nhinges; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, hinge, in->hinges[i]);
    (void)hinge;
  }
  if (in->nhinges) LINES_END(sh);
  if (in->npatch_from) LINES(sh, "loads on parts");
  for (size_t i = 0; i < in->npatch_from; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, from, in->patch_from[i]);
    GIVEN(sh, SL_LENGTH, to, in->patch_to[i]);
    GIVEN(sh, SL_LINE_LOAD, more, in->patch_load[i]);
    (void)from, (void)to, (void)more;
  }
  if (in->npatch_from) LINES_END(sh);
  if (in->npoint_at) LINES(sh, "forces");
  for (size_t i = 0; i < in->npoint_at; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, at, in->point_at[i]);
    GIVEN(sh, SL_FORCE, P, in->point_load[i]);
    (void)at, (void)P;
  }
  if (in->npoint_at) LINES_END(sh);
  return SL_OK;
}

enum sl_status sl_beam(const struct sl_beam_in *in, struct sl_beam_out *out, struct sl_space space,
                       struct sl_sheet *sh) {
  enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_beam_need(in));
  const size_t most = most_joints(in);
  struct work work = { 0 }, *w = &work;
  w->supports = PART(&space, struct sl_beam_support, in->nsupports);
  w->spans = PART(&space, struct sl_beam_span, in->nsupports + 1);
  w->at = PART(&space, double, most);
  w->nodes = PART(&space, struct sl_frame_node, most);
  w->members = PART(&space, struct sl_frame_member, most);
  w->points = PART(&space, double, 3 * most);
  w->uniform = PART(&space, double, 2 * most);
  set_joints(w, in);
  const struct sl_frame frame = { .nodes = w->nodes, .nnodes = w->njoints, .members = w->members,
                                  .nmembers = w->njoints - 1, .ncases = 1, .node_loads = w->points,
                                  .member_loads = w->uniform };
  struct sl_frame_answer answer;
  status = sl_frame_solve(&frame, &answer, space, sh);
  if (status == SL_NO_ANSWER && answer.free_node >= 0)
    return sl_sheet_fault(sh, status, "supports", "and hinges leave the beam free to move: a mechanism; the joint that "
                          "moves is at", "", w->at[answer.free_node], NAN, SL_LENGTH);
  if (status != SL_OK) return status;

  given(in, sh);
  const size_t nspans = set_spans(w, in, &answer);
  struct sl_beam_support *supports = w->supports;
  struct sl_beam_span *spans = w->spans, top = { 0 };
  LINES(sh, "supports");
  for (size_t i = 0; i < in->nsupports; i++) {
    const size_t joint = joint_at(w, in->supports[i]), last = w->njoints - 1;
    const double left = joint > 0 ? answer.ends[6 * (joint - 1) + 5] : 0;
    const double right = joint < last ? answer.ends[6 * joint + 2] : 0;
    LINE(sh);
    GIVEN(sh, SL_LENGTH, at, in->supports[i]);
    LOOKUP(sh, SL_FORCE, R, answer.reactions[3 * joint + 1], "reaction", STIFFNESS, SL_DERIVED);
    LOOKUP(sh, SL_MOMENT, M, fabs(left) > fabs(right) ? left : right, "moment of the beam", STIFFNESS, SL_DERIVED);
    GIVES_ROW(sh, supports, i, at, at);
    GIVES_ROW(sh, supports, i, reaction, R);
    GIVES_ROW(sh, supports, i, moment, M);
  }
  LINES_END(sh);
  for (size_t i = 0; i < nspans; i++) {
    top.sagging = fmax(top.sagging, spans[i].sagging);
    top.hogging = fmax(top.hogging, spans[i].hogging);
    top.shear = fmax(top.shear, spans[i].shear);
    top.deflection = fmax(top.deflection, spans[i].deflection);
  }
  *out = (struct sl_beam_out){ .supports = supports, .nsupports = in->nsupports, .spans = spans, .nspans = nspans };
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
