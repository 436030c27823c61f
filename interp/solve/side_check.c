/* SPDX-License-Identifier: MIT
 * What side_frames is asked: whether it is frames; see side_check.h. */
#include "guard.h"
#include "solve/side_check.h"

#define STIFFNESS "plane frame by direct stiffness"

static bool is_said(double leg) { return !isnan(leg) && !same(leg, 0); }

static enum sl_status check_leg(const struct sl_side_frames_in *in, size_t i, struct sl_sheet *sh) {
  const struct sl_side_post *p = &in->posts[i];
  if (!is_said(p->leg_rise) && !is_said(p->leg_run)) return SL_OK;
  REQUIRE_ROW(sh, in, posts, i, leg_rise, > 2e-3 && p->leg_rise < 1000, "must be more than 2 mm and less than 1 km",
              SL_LENGTH);
  if (is_said(p->leg_run))
    REQUIRE_ROW(sh, in, posts, i, leg_run, > -1000 && p->leg_run < 1000, "must be less than 1 km", SL_LENGTH);
  if (is_said(p->head))
    REQUIRE_ROW(sh, in, posts, i, head, < 1, "must be 0 where the rafter stands on a leg, with a pin at its head",
                SL_NUMBER);
  POSITIVE(sh, in, leg_e, SL_PRESSURE);
  POSITIVE(sh, in, leg_area, SL_SECTION);
  return SL_OK;
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
    const enum sl_status status = check_leg(in, i, sh);
    if (status != SL_OK) return status;
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

enum sl_status sl_side_check(const struct sl_side_frames_in *in, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  if (!(in->tilt < acos(0) - 1e-3))
    return sl_sheet_fault(sh, in->tilt <= acos(0) + 1e-9 ? SL_OUT_OF_RANGE : SL_BAD_INPUT, "tilt",
                          "must be less than 90 deg: posts would stand behind each other", STIFFNESS, in->tilt, NAN,
                          SL_ANGLE);
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
  if (in->nstations < 1 || in->nstations > SIDE_STATIONS)
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
