/* SPDX-License-Identifier: MIT
 * What tests of side_frames share: racks, one station under one limit, all of it; racks drawn by lot. */
#ifndef SIDE_FRAMES_CHECK_H
#define SIDE_FRAMES_CHECK_H

#include <stdint.h>
#include "check.h"
#include "room.h"
#include "us.h"
#include "solve/side_model.h"

#define COUNT(list) (sizeof list / sizeof *list)
#define PIVOT 0.68                     /* of the depth, as interp/data/frame_facts.csv has it */

/* A post that leans as the ground has it, with a pin for a head, like all others of the rack. */
#define PLAIN NAN, 0, 0, 0, 0, 0, 0

/* Any steel post: a pipe of 3 in; its size moves nothing but leaning and drift. */
static const struct sl_side_station one_station[] = { { 2, NAN } };
static const struct sl_side_post level_posts[] = { { 1, 1, 0.25, 1.5, 1, 0, PLAIN }, { 1, 2, 0.75, 1.5, 1, 0, PLAIN } };
#define STEEL .post_e = 200e9, .post_area = 1.44e-3, .post_inertia = 1.257e-6
#define SOFT_RAFTER .rafter_e = NAN, .rafter_area = NAN, .rafter_inertia = NAN
#define NO_BRACE .brace_e = NAN, .brace_area = NAN
#define LIST(member, list) .member = list, .n##member = COUNT(list)
#define RACK .slope_length = 4, .frame_most = NAN, STEEL, SOFT_RAFTER, NO_BRACE, \
  LIST(stations, one_station), .edition = "ASCE 7-16"

/* Hand calculation, not an oracle.  35 deg, slope 136.4 in, lines at 20 and 80 %, heads 31.125 and 77.3125 in above
 * ground, footings 60 in deep, 72.5 in of row; q Kd G = 23.04 x 0.7225 = 16.646 psf, CN of case B with the high edge to
 * the wind -2.4333 on the upper half and -0.5667 on the lower.  Half a slope has 34.34 sq ft: 1391 and 323.9 lbf lift
 * square to it, (323.9 x 6.82 + 1391 x 75.02)/81.84 = 1302 lbf of that at the back head, and 983.6 lbf push down the
 * slope.  The vertical force at the back is (1302 - 0.5736 Hb)/0.8192, Hb its share of the push:
 *   fixed      1/h3: Hb = 0.0613 x 983.6 = 60 lbf   -> 1547, x 0.6 = 928 lbf
 *   turning    1/(h + 0.68 d)2: 0.2705 x 983.6 = 266 -> 1403, x 0.6 = 842 lbf
 *   front alone  Hb = 0                              -> 1589, x 0.6 = 954 lbf */
static const struct sl_side_station farm_stations[] = { { 72.5 * IN, NAN } };
static const struct sl_side_post farm_posts[] = {
  { 1, 1, 0.2, 31.125 * IN, 60 * IN, 0, PLAIN }, { 1, 2, 0.8, 77.3125 * IN, 60 * IN, 0, PLAIN } };
static const struct sl_side_wind farm_winds[] = {
  { -0.5667 * 23.04 * 0.7225 * PSF, -2.4333 * 23.04 * 0.7225 * PSF } };
static const struct sl_side_frames_in farm = {
  .tilt = 35 * DEGREE, .slope_length = 136.4 * IN, .edition = "ASCE 7-16", STEEL, SOFT_RAFTER, NO_BRACE,
  LIST(stations, farm_stations), LIST(posts, farm_posts), LIST(winds, farm_winds),
};

/* ---- helpers ----------------------------------------------------------------------------------------------------- */

struct foot { double x, z, turn, moment; };       /* on the frame from the ground; moment in the post at grade */
struct one { struct side_model model; struct sl_frame_answer answer; };

static inline void solve(const struct sl_side_frames_in *in, int limit, struct one *one) {
  sl_side_build(in, in->posts, in->nposts, 1, &in->stations[0], PIVOT, limit, &one->model);
  const struct sl_frame frame = sl_side_frame(&one->model);
  struct sl_sheet sheet = { .cap = 0 };
  if (sl_frame_solve(&frame, &one->answer, room_of(sl_frame_need(&frame)), &sheet) != SL_OK)
    fail_msg("limit %d: %s: %s", limit, sheet.fault.member, sheet.fault.text);
}
static inline struct foot foot_of(const struct one *one, size_t post, const double share[SIDE_LOADS]) {
  const struct side_model *m = &one->model;
  struct foot f = { 0 };
  for (size_t k = 0; k < SIDE_LOADS; k++) {
    const double *r = &one->answer.reactions[(k * m->nnodes + (size_t)m->foot[post]) * 3];
    f.x += share[k] * r[0];
    f.z += share[k] * r[1];
    f.turn += share[k] * r[2];
    f.moment += share[k] * one->answer.ends[(k * m->nmembers + (size_t)m->above[post]) * 6 + 2];
  }
  return f;
}
static inline void run(const struct sl_side_frames_in *in, struct sl_side_frames_out *out) {
  struct sl_sheet sheet = { .cap = 0 };
  const enum sl_status status = sl_side_frames(in, out, room_of(sl_side_frames_need(in)), &sheet);
  if (status != SL_OK) fail_msg("%s: %s", sheet.fault.member, sheet.fault.text);
}
static inline const struct sl_side_strain *most_of(const struct sl_side_frames_out *out, int part, double line,
                                                   int what) {
  const struct sl_side_strain *best = NULL;
  for (size_t i = 0; i < out->nstrains; i++) {
    const struct sl_side_strain *s = &out->strains[i];
    if (s->part != part || fabs(s->line - line) > 0) continue;
    const double value = what == 0 ? s->moment : what == 1 ? s->axial : -s->axial;
    if (!best || value > (what == 0 ? best->moment : what == 1 ? best->axial : -best->axial)) best = s;
  }
  assert_non_null(best);
  return best;
}

/* ---- racks by lot ------------------------------------------------------------------------------------------------ */

static inline double drawn(uint64_t *seed, double low, double high) {
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return low + (high - low) * (double)(*seed >> 11) / 9007199254740992.0;
}

/* No two joints within a hand's breadth: those of millimetres are as stiff as rounding has digits, and are told so. */
struct any { struct sl_side_frames_in in; struct sl_side_station station[1]; struct sl_side_post posts[5];
             struct sl_side_brace braces[3]; struct sl_side_wind winds[4]; };
static inline void draw(uint64_t *seed, struct any *a) {
  *a = (struct any){ .in = { RACK } };
  struct sl_side_frames_in *in = &a->in;
  const size_t n = 2 + (size_t)drawn(seed, 0, 3.99);
  in->tilt = drawn(seed, 0, 50) * DEGREE;
  in->slope_length = drawn(seed, 2, 6);
  in->stack = drawn(seed, 0, 0.4);
  in->dead_modules = drawn(seed, 80, 200);
  in->post_inertia = 2e-5;                    /* so stout that none buckles */
  in->post_area = 4e-3;
  in->dead_frame = drawn(seed, 30, 120);
  in->snow = drawn(seed, 0, 2000);
  in->least = drawn(seed, 0, 800);
  if (drawn(seed, 0, 1) < 0.5) {
    in->rafter_e = 70e9;
    in->rafter_area = drawn(seed, 5e-4, 2e-3);
    in->rafter_inertia = drawn(seed, 3e-7, 3e-6);
  }
  in->brace_e = 200e9;
  in->brace_area = drawn(seed, 2e-4, 1e-3);
  a->station[0] = (struct sl_side_station){ drawn(seed, 1, 4), NAN };
  in->stations = a->station;
  const double low = drawn(seed, 0, 0.3), high = drawn(seed, 0.6, 1), first = drawn(seed, 0.5, 1.2);
  for (size_t i = 0; i < n; i++) {
    double at = low + (high - low) * (double)i / (double)(n - 1);
    if (fabs(at - 0.5) * in->slope_length < 0.1) at = 0.5;
    a->posts[i] = (struct sl_side_post){ 1, (double)i + 1, at, first + (at - low) * in->slope_length * sin(in->tilt) +
        drawn(seed, 0, 0.3), drawn(seed, 0.3, 2), i > 0 && drawn(seed, 0, 1) < 0.2 ? 1 : 0, PLAIN };
  }
  in->posts = a->posts;
  in->nposts = n;
  in->nbraces = (size_t)drawn(seed, 0, 3.99);
  for (size_t i = 0; i < in->nbraces; i++) {
    const size_t foot = (size_t)drawn(seed, 0, (double)n - 0.01), head = (foot + 1 + i) % n == foot ? (foot + 1) % n :
        (foot + 1 + i) % n;
    a->braces[i] = (struct sl_side_brace){ 1, (double)foot + 1, (double)head + 1,
        a->posts[foot].height * 0.15 * (double)i, a->posts[head].height * 0.15 * (double)(2 - i) };
  }
  in->braces = a->braces;
  in->nwinds = 4;
  for (size_t i = 0; i < 4; i++)
    a->winds[i] = (struct sl_side_wind){ drawn(seed, -1500, 1500), drawn(seed, -1500, 1500) };
  in->winds = a->winds;
}

#endif
