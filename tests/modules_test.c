/* SPDX-License-Identifier: MIT
 * Modules on their rails: places worked by hand on the drawings of invented jobs, and laws: turning and moving a rack
 * changes no length, and the clamps are those of a drawing of its corners and rails. */
#include <assert.h>
#include <stdbool.h>
#include "op_check.h"
#include "us.h"
#include "stringline/modules.h"

/* Clamp zones are the makers' of invented modules: M430 300 to 450 mm, M580 400 to 560 mm from a corner. */
static const struct by_rule { const char *name; struct sl_rail_places_in in; double at[6]; } by_rules[] = {
  /* (300 + 450) / 2 = 375; 1722 - 375 = 1347; the next row begins 1742 higher. */
  { "rails, 2 rows of M430", { 1722 * MM, 2, 20 * MM, 300 * MM, 450 * MM }, { 375, 1347, 2117, 3089 } },
  /* (400 + 560) / 2 = 480; 2278 - 480 = 1798; 2298 + 480, 2298 + 1798. */
  { "rails, 2 rows of M580", { 2278 * MM, 2, 20 * MM, 400 * MM, 560 * MM }, { 480, 1798, 2778, 4096 } },
  /* Landscape: the short side of 1134, a zone of 200 to 300; 250, 884, and 1154, 2308 higher. */
  { "rails, 3 rows on their long side", { 1134 * MM, 3, 20 * MM, 200 * MM, 300 * MM },
    { 250, 884, 1404, 2038, 2558, 3192 } },
  { "rails, holes at one place", { 2000 * MM, 1, 0, 400 * MM, 400 * MM }, { 400, 1600 } },
};

static void rule_places_rails(void **state) {
  const struct by_rule *r = *state;
  struct sl_rail_places_out out;
  assert_int_equal(sl_rail_places(&r->in, &out, room_of(sl_rail_places_need(&r->in)), NULL), SL_OK);
  assert_int_equal(out.nat, 2 * r->in.rows);
  for (size_t i = 0; i < out.nat; i++) assert_near(out.at[i] / MM, r->at[i], 1e-12);
}

static const struct crossed {
  const char *name;
  double at[4]; size_t n;
  double row[4], below[4], corner[4];
} crossed[] = {
  { "crossings in the middle of the zones", { 375, 1347, 2117, 3089 }, 4, { 1, 1, 2, 2 }, { 375, 1347, 375, 1347 },
    { 375, 375, 375, 375 } },
  { "crossings off the middle", { 300, 1300, 2042, 3464 }, 4, { 1, 1, 2, 2 }, { 300, 1300, 300, 1722 },
    { 300, 422, 300, 0 } },
  { "a rail at the very end of a row", { 0, 1722, 1742 }, 3, { 1, 1, 2 }, { 0, 1722, 0 }, { 0, 0, 0 } },
};

static void rails_cross_modules(void **state) {
  const struct crossed *r = *state;
  double at[4];
  for (size_t i = 0; i < r->n; i++) at[i] = r->at[i] * MM;
  const struct sl_rail_crossings_in in = { 1722 * MM, 2, 20 * MM, at, r->n };
  struct sl_rail_crossings_out out;
  assert_int_equal(sl_rail_crossings(&in, &out, room_of(sl_rail_crossings_need(&in)), NULL), SL_OK);
  assert_int_equal(out.nrails, r->n);
  for (size_t i = 0; i < r->n; i++) {
    assert_near(out.rails[i].up, at[i], 1e-12);
    assert_near(out.rails[i].row, r->row[i], 1e-12);
    assert_near(out.rails[i].from_below / MM - r->below[i], 0, 1e-6);
    assert_near(out.rails[i].from_corner / MM - r->corner[i], 0, 1e-6);
  }
}

static const double after_2[] = { 2 }, after_1_3[] = { 1, 3 };
static const struct clamped {
  const char *name;
  struct sl_clamps_in in;
  int mids, ends;
  size_t n;
  struct { double along; int west, east; } clamp[9];     /* mm */
} clamped[] = {
  /* 1134 + 10; and 1154 farther each; 4 x 1134 + 3 x 20 = 4596. */
  { "clamps, 4 columns", { 1134 * MM, 4, 20 * MM, NULL, 0, 20 * MM }, 3, 2, 5,
    { { 0, 0, 1 }, { 1144, 1, 2 }, { 2298, 2, 3 }, { 3452, 3, 4 }, { 4596, 4, 0 } } },
  { "clamps, one module", { 1134 * MM, 1, 20 * MM, NULL, 0, 20 * MM }, 0, 2, 2, { { 0, 0, 1 }, { 1134, 1, 0 } } },
  /* 2 x 1134 + 20 = 2288; 100 of joint; 2388 + 1144 = 3532; 2388 + 2288 = 4676. */
  { "clamps, a joint in the middle", { 1134 * MM, 4, 20 * MM, after_2, 1, 100 * MM }, 2, 4, 6,
    { { 0, 0, 1 }, { 1144, 1, 2 }, { 2288, 2, 0 }, { 2388, 0, 3 }, { 3532, 3, 4 }, { 4676, 4, 0 } } },
  /* 1000; 1200; 1200 + 1000 + 5 = 2205; 3210; 3410; 4410. */
  { "clamps, two joints", { 1, 4, 10 * MM, after_1_3, 2, 200 * MM }, 1, 6, 7,
    { { 0, 0, 1 }, { 1000, 1, 0 }, { 1200, 0, 2 }, { 2205, 2, 3 }, { 3210, 3, 0 }, { 3410, 0, 4 }, { 4410, 4, 0 } } },
};

static void clamps_sit(void **state) {
  const struct clamped *r = *state;
  struct sl_clamps_out out;
  assert_int_equal(sl_clamps(&r->in, &out, room_of(sl_clamps_need(&r->in)), NULL), SL_OK);
  assert_int_equal(out.mids, r->mids);
  assert_int_equal(out.ends, r->ends);
  assert_int_equal(out.nclamps, r->n);
  for (size_t i = 0; i < r->n; i++) {
    assert_near(out.clamps[i].along / MM - r->clamp[i].along, 0, 1e-6);
    assert_near(out.clamps[i].west, r->clamp[i].west, 1e-12);
    assert_near(out.clamps[i].east, r->clamp[i].east, 1e-12);
  }
}

static const struct mounted {
  const char *name;
  struct sl_mounting_in in;
  int order[5];
  double along[5], drift[5], one_way, left;              /* mm */
} mounted[] = {
  /* n (w_real - w_nominal) + (n - 1) (gap_real - gap_nominal) = 4 x 2 + 3 x 1 = 11, half of it each way: 5.5; the
   * inner two 2 + 0.5; 32 - 5.5. */
  { "mounting, 4 columns", { 1134 * MM, 4, 20 * MM, NULL, 0, 20 * MM, 2 * MM, 1 * MM, 32 * MM }, { 2, 3, 1, 4 },
    { 1154, 2308, 0, 3462 }, { 2.5, 2.5, 5.5, 5.5 }, 11, 26.5 },
  /* 5 x 2 + 4 x 3 = 22; the middle one 1, its neighbours 3 + 3, the outer ones 5 + 6. */
  { "mounting, 5 columns", { 1, 5, 20 * MM, NULL, 0, 20 * MM, 2 * MM, 3 * MM, 10 * MM }, { 3, 4, 2, 5, 1 },
    { 2040, 3060, 1020, 4080, 0 }, { 1, 6, 6, 11, 11 }, 22, -1 },
  /* Behind 2 a joint of 100: parts of 2 and 3, the longer one 3 x 2 + 2 x 3 = 12. */
  { "mounting, a joint", { 1, 5, 20 * MM, after_2, 1, 100 * MM, 2 * MM, 3 * MM, 10 * MM }, { 1, 2, 4, 5, 3 },
    { 0, 1020, 3140, 4160, 2120 }, { 3.5, 3.5, 1, 6, 6 }, 12, 4 },
};

static void modules_are_mounted(void **state) {
  const struct mounted *r = *state;
  struct sl_mounting_out out;
  assert_int_equal(sl_mounting(&r->in, &out, room_of(sl_mounting_need(&r->in)), NULL), SL_OK);
  assert_int_equal(out.nturns, r->in.columns);
  for (size_t i = 0; i < out.nturns; i++) {
    assert_near(out.turns[i].column, r->order[i], 1e-12);
    assert_near(out.turns[i].along / MM - r->along[i], 0, 1e-6);
    assert_near(out.turns[i].drift / MM - r->drift[i], 0, 1e-6);
  }
  assert_near(out.one_way / MM, r->one_way, 1e-9);
  assert_near(out.drift / MM, r->one_way / 2, 1e-9);
  assert_near(out.left / MM, r->left, 1e-9);
}

/* sin 30 deg is 1/2, cos 30 deg 0.8660254; a rack of two modules 1 m x 2 m and 20 mm, its west corner at (3, 4),
 * looking due south: 2 m up the slope are 1.7320508 m north and 1 m up.  Looking due north they are south; looking east
 * they are west, and the row runs north. */
static const double two_rails[] = { 0.5, 1.5 }, middle[] = { 1.01 };
static const struct sl_run_ends whole_run[] = { { -0.05, 2.07 } };
static const struct sl_standing one_post[] = { { 1.01, 0.6, 0.9, -0.2 } };
static const struct placed {
  const char *name;
  double bearing, azimuth;
  double east[4], north[4];            /* of the corners of module 1-2 */
  double post_east, post_north;
} placed[] = {
  { "points, facing south", 90, 180, { 4.02, 5.02, 5.02, 4.02 }, { 4, 4, 5.7320508, 5.7320508 }, 4.01, 4.6 },
  { "points, facing north", 90, 0, { 4.02, 5.02, 5.02, 4.02 }, { 4, 4, 2.2679492, 2.2679492 }, 4.01, 3.4 },
  { "points, facing east", 0, 90, { 3, 3, 1.2679492, 1.2679492 }, { 5.02, 6.02, 6.02, 5.02 }, 2.4, 5.01 },
  { "points, facing west", 0, 270, { 3, 3, 4.7320508, 4.7320508 }, { 5.02, 6.02, 6.02, 5.02 }, 3.6, 5.01 },
};

static struct sl_frame_points_in two_modules(double azimuth) {
  return (struct sl_frame_points_in){ .corner_east = 3, .corner_north = 4, .azimuth = azimuth * DEGREE,
    .tilt = 30 * DEGREE, .edge_height = 0.6, .across = 1, .side = 2, .rows = 1, .columns = 2,
    .column_gap = 0.02, .row_gap = 0.02, .joint_gap = 0.02, .at = two_rails, .nat = 2, .runs = whole_run,
    .nruns = 1, .supports = middle, .nsupports = 1, .support_from = 0, .support_to = 2, .rail_depth = 0.1,
    .posts = one_post, .nposts = 1 };
}

static void points_lie(void **state) {
  const struct placed *r = *state;
  const struct sl_frame_points_in in = two_modules(r->azimuth);
  struct sl_frame_points_out out;
  assert_int_equal(sl_frame_points(&in, &out, room_of(sl_frame_points_need(&in)), NULL), SL_OK);
  assert_near(out.row_bearing - r->bearing * DEGREE, 0, 1e-12);
  assert_int_equal(out.ncorners, 8);
  for (size_t c = 0; c < 4; c++) {
    const struct sl_corner *p = &out.corners[4 + c];
    assert_near(p->column, 2, 1e-12);
    assert_near(p->corner, (double)(c + 1), 1e-12);
    assert_near(p->east, r->east[c], 1e-7);
    assert_near(p->north, r->north[c], 1e-7);
    assert_near(p->up, c < 2 ? 0.6 : 1.6, 1e-12);
    assert_near(p->uphill - (c < 2 ? 0 : 1.7320508), 0, 1e-7);
  }
  assert_int_equal(out.nrail_ends, 4);
  assert_near(out.rail_ends[0].along, -0.05, 1e-12);
  assert_near(out.rail_ends[3].along, 2.07, 1e-12);
  assert_near(out.rail_ends[3].line, 2, 1e-12);
  assert_near(out.rail_ends[3].up, 1.35, 1e-12);               /* 0.6 + 1.5 / 2 */
  /* 0.1 m of rail, square to the slope: 0.05 farther uphill, 0.0866025 lower. */
  assert_int_equal(out.nsupport_ends, 2);
  assert_near(out.support_ends[0].uphill, 0.05, 1e-9);
  assert_near(out.support_ends[0].up, 0.5133975, 1e-7);
  assert_near(out.support_ends[1].uphill, 1.7820508, 1e-7);
  assert_near(out.support_ends[1].up, 1.5133975, 1e-7);
  assert_int_equal(out.npost_ends, 2);
  assert_near(out.post_ends[0].up, -0.2, 1e-12);
  assert_near(out.post_ends[1].up, 0.9, 1e-12);
  assert_near(out.post_ends[1].east, r->post_east, 1e-9);
  assert_near(out.post_ends[1].north, r->post_north, 1e-9);
}

/* ---- laws over generated racks ---------------------------------------------------------------------------------- */

static unsigned lot_state;
static double lot(double from, double to) {
  lot_state = lot_state * 1103515245u + 12345u;
  return from + (to - from) * ((lot_state >> 8) & 0xffff) / 65536.0;
}

struct drawn { double at[2 * 3], joints[3], supports[4]; struct sl_run_ends runs[4]; struct sl_standing posts[8]; };

/* A rack by lot: 1 to 3 rows, 1 to 12 columns, up to 3 joints, rails by rule, runs from end to end of their modules. */
static struct sl_frame_points_in by_lot(struct drawn *d) {
  struct sl_frame_points_in in = { .corner_east = lot(-50, 50), .corner_north = lot(-50, 50), .tilt = lot(0.1, 1.4),
    .edge_height = lot(0.3, 2), .across = lot(0.8, 1.2), .side = lot(1.5, 2.4), .rows = (int)lot(1, 4),
    .columns = (int)lot(1, 13), .column_gap = lot(0.005, 0.03), .row_gap = lot(0.005, 0.03),
    .joint_gap = lot(0.05, 0.2), .support_from = 0, .support_to = 2, .rail_depth = 0.09, .joints = d->joints,
    .at = d->at, .runs = d->runs,
    .supports = d->supports, .nsupports = 4, .posts = d->posts, .nposts = 8 };
  in.azimuth = lot(0, 6.28);
  for (int k = 1; k < in.columns && in.njoints < 3; k++)
    if (lot(0, 4) < 1) d->joints[in.njoints++] = k;
  const struct sl_rail_places_in places = { in.side, in.rows, in.row_gap, 0.3, 0.5 };
  struct sl_rail_places_out rails;
  assert_int_equal(sl_rail_places(&places, &rails, room_of(sl_rail_places_need(&places)), NULL), SL_OK);
  in.nat = rails.nat;
  memcpy(d->at, rails.at, rails.nat * sizeof *rails.at);
  double west = 0;
  int before = 0;
  for (size_t i = 0; i <= in.njoints; i++) {
    const int last = i < in.njoints ? (int)d->joints[i] : in.columns;
    const double wide = (last - before) * in.across + (last - before - 1) * in.column_gap;
    d->runs[i] = (struct sl_run_ends){ west, west + wide };
    west += wide + in.joint_gap;
    before = last;
  }
  in.nruns = in.njoints + 1;
  for (int i = 0; i < 4; i++) d->supports[i] = lot(0, 10);
  for (int i = 0; i < 8; i++) d->posts[i] = (struct sl_standing){ lot(0, 10), lot(0, 3), lot(1, 3), lot(-1, 0.5) };
  return in;
}

static double apart(const struct sl_corner *a, const struct sl_corner *b, bool on_plan) {
  const double x = on_plan ? a->east - b->east : a->along - b->along;
  const double y = on_plan ? a->north - b->north : a->uphill - b->uphill;
  return hypot(hypot(x, y), a->up - b->up);
}

/* A row that follows the ground is the level rack, turned as a whole: no length of it is another, and its long edges
 * rise as the row does. */
static void a_row_that_slopes_keeps_its_lengths(void **state) {
  (void)state;
  struct drawn d;
  lot_state = 11;
  for (int job = 0; job < 300; job++) {
    struct sl_frame_points_in in = by_lot(&d);
    struct sl_frame_points_out a, b;
    assert_int_equal(sl_frame_points(&in, &a, room_of(sl_frame_points_need(&in)), NULL), SL_OK);
    in.slope = lot(-0.2, 0.2);
    assert_int_equal(sl_frame_points(&in, &b, room_of(sl_frame_points_need(&in)), NULL), SL_OK);
    assert_near(b.corners[0].along, 0, 1e-12);
    assert_near(b.corners[0].up, in.edge_height, 1e-12);
    assert_near(b.corners[1].up - b.corners[0].up, in.slope * (b.corners[1].along - b.corners[0].along), 1e-9);
    for (size_t i = 0; i < a.ncorners; i++) {
      const size_t far = (i * 7 + 3) % a.ncorners;
      assert_near(apart(&b.corners[i], &b.corners[far], true), apart(&a.corners[i], &a.corners[far], false), 1e-9);
    }
    for (size_t i = 0; i < a.nrail_ends; i++) {
      const struct sl_rail_end *r = &b.rail_ends[i], *level = &a.rail_ends[i];
      assert_near(hypot(hypot(r->along, r->uphill), r->up - in.edge_height),
                  hypot(hypot(level->along, level->uphill), level->up - in.edge_height), 1e-9);
    }
    for (size_t i = 0; i < a.npost_ends; i++) assert_near(b.post_ends[i].up, a.post_ends[i].up, 0);
  }
}

static void turning_and_moving_change_no_length(void **state) {
  (void)state;
  struct drawn d;
  lot_state = 7;
  for (int job = 0; job < 300; job++) {
    struct sl_frame_points_in in = by_lot(&d);
    struct sl_frame_points_out a, b;
    assert_int_equal(sl_frame_points(&in, &a, room_of(sl_frame_points_need(&in)), NULL), SL_OK);
    in.azimuth = lot(0, 6.28);
    in.corner_east += lot(-500, 500);
    in.corner_north += lot(-500, 500);
    assert_int_equal(sl_frame_points(&in, &b, room_of(sl_frame_points_need(&in)), NULL), SL_OK);
    for (size_t i = 0; i < a.ncorners; i++) {
      const struct sl_corner *far = &a.corners[(i * 7 + 3) % a.ncorners];
      const double own = apart(&a.corners[i], far, false);
      assert_near(apart(&a.corners[i], far, true), own, 1e-9);
      assert_near(apart(&b.corners[i], &b.corners[far - a.corners], true), own, 1e-9);
    }
    for (size_t i = 0; i < a.npost_ends; i += 2) {
      const struct sl_post_end *p = &b.post_ends[i], *q = &a.post_ends[i];
      assert_near(p[1].up - p[0].up, q[1].up - q[0].up, 1e-12);
      assert_near(hypot(p[1].east - p[0].east, p[1].north - p[0].north), 0, 1e-9);
    }
    /* What stands on the rails is a rail's depth below the modules, measured square to them. */
    for (size_t i = 0; i < a.nsupport_ends; i++) {
      const struct sl_support_end *s = &a.support_ends[i];
      assert_near(s->uphill * sin(in.tilt) - (s->up - in.edge_height) * cos(in.tilt), in.rail_depth, 1e-9);
    }
  }
}

/* The corners of the lowest row, west to east, are a drawing of where clamps belong: in each gap between modules that
 * one run of rail crosses, and where a run ends. */
static void clamps_are_those_of_the_drawing(void **state) {
  (void)state;
  struct drawn d;
  lot_state = 11;
  for (int job = 0; job < 300; job++) {
    const struct sl_frame_points_in in = by_lot(&d);
    struct sl_frame_points_out out;
    assert_int_equal(sl_frame_points(&in, &out, room_of(sl_frame_points_need(&in)), NULL), SL_OK);
    const struct sl_clamps_in asked = { in.across, in.columns, in.column_gap, in.joints, in.njoints, in.joint_gap };
    struct sl_clamps_out clamps;
    assert_int_equal(sl_clamps(&asked, &clamps, room_of(sl_clamps_need(&asked)), NULL), SL_OK);
    size_t at = 0;
    int mids = 0, ends = 0;
    for (int k = 0; k < in.columns; k++) {
      const struct sl_corner *m = &out.corners[4 * k];
      const double west = m[0].along, east = m[1].along;
      bool begins = false, stops = false;
      for (size_t r = 0; r < out.nrail_ends; r++) {
        begins = begins || fabs(out.rail_ends[r].along - west) < 1e-9;
        stops = stops || fabs(out.rail_ends[r].along - east) < 1e-9;
      }
      if (begins) assert_near(clamps.clamps[at++].along - west, 0, 1e-9);
      if (stops) assert_near(clamps.clamps[at++].along, east, 1e-9);
      else assert_near(clamps.clamps[at++].along, (east + m[4].along) / 2, 1e-9);
      ends += begins + stops;
      mids += !stops;
    }
    assert_int_equal(at, clamps.nclamps);
    assert_int_equal(mids, clamps.mids);
    assert_int_equal(ends, clamps.ends);
    /* Each rail lies on the modules of its row: between the heights of their lower and upper corners. */
    const struct sl_rail_crossings_in crossing = { in.side, in.rows, in.row_gap, in.at, in.nat };
    struct sl_rail_crossings_out crossings;
    assert_int_equal(sl_rail_crossings(&crossing, &crossings, room_of(sl_rail_crossings_need(&crossing)), NULL), SL_OK);
    for (size_t i = 0; i < in.nat; i++) {
      const struct sl_corner *m = &out.corners[4 * in.columns * ((int)crossings.rails[i].row - 1)];
      const struct sl_rail_end *e = &out.rail_ends[i * 2 * in.nruns];
      assert_near(e->line, (double)(i + 1), 1e-12);
      assert_true(e->up > m[0].up && e->up < m[3].up);
      assert_near(hypot(e->uphill - m[0].uphill, e->up - m[0].up), crossings.rails[i].from_below, 1e-9);
    }
  }
}

static void all_are_mounted_once(void **state) {
  (void)state;
  struct drawn d;
  lot_state = 13;
  for (int job = 0; job < 200; job++) {
    const struct sl_frame_points_in rack = by_lot(&d);
    const struct sl_mounting_in in = { rack.across, rack.columns, rack.column_gap, rack.joints, rack.njoints,
      rack.joint_gap, 0.002, 0.001, 0.03 };
    struct sl_mounting_out out;
    assert_int_equal(sl_mounting(&in, &out, room_of(sl_mounting_need(&in)), NULL), SL_OK);
    unsigned seen = 0;
    for (size_t i = 0; i < out.nturns; i++) {
      const unsigned bit = 1u << (int)out.turns[i].column;
      assert_false(seen & bit);
      seen |= bit;
      assert_true(out.turns[i].drift <= out.drift + 1e-12);
    }
    assert_int_equal(seen, (2u << rack.columns) - 2u);
  }
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_clamps_out clamps;
  struct sl_rail_places_out places;
  struct sl_rail_crossings_out crossings;
  struct sl_frame_points_out points;
  static const double late[] = { 4 }, half[] = { 1.5 }, twice[] = { 2, 2 }, gap[] = { 1.73 }, beyond[] = { 3.6 },
                      back[] = { 1, 0.5 };
  const struct { struct sl_clamps_in in; const char *member; size_t item; } wrong[] = {
    { { 1, 0, 0.02, NULL, 0, 0.02 }, "columns", 0 },         { { 1, 100000, 0.02, NULL, 0, 0.02 }, "columns", 0 },
    { { 1, 4, -0.02, NULL, 0, 0.02 }, "column_gap", 0 },     { { 1, 4, 0.02, NULL, 0, -0.02 }, "joint_gap", 0 },
    { { 1, 4, 0.02, late, 1, 0.02 }, "joints", 1 },          { { 1, 4, 0.02, half, 1, 0.02 }, "joints", 1 },
    { { 1, 4, 0.02, twice, 2, 0.02 }, "joints", 2 },
  };
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    assert_int_equal(sl_clamps(&wrong[i].in, &clamps, room_of(sl_clamps_need(&wrong[i].in)), &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, wrong[i].member);
    assert_int_equal(sheet.fault.item, wrong[i].item);
  }
  const struct sl_rail_places_in far = { 1.134, 2, 0.02, 0.3, 0.6 }, turned = { 1.722, 2, 0.02, 0.45, 0.3 };
  assert_int_equal(sl_rail_places(&far, &places, room_of(sl_rail_places_need(&far)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "zone_most");
  assert_int_equal(sl_rail_places(&turned, &places, room_of(sl_rail_places_need(&turned)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "zone_most");
  const struct { const double *at; size_t n, item; const char *text; } off[] = {
    { gap, 1, 1, "lies in the gap between two rows of modules" }, { beyond, 1, 1, "lies beyond the modules" },
    { back, 2, 2, "must be farther up than the one before" },
  };
  for (size_t i = 0; i < sizeof off / sizeof *off; i++) {
    const struct sl_rail_crossings_in in = { 1.722, 2, 0.02, off[i].at, off[i].n };
    assert_int_equal(sl_rail_crossings(&in, &crossings, room_of(sl_rail_crossings_need(&in)), &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.text, off[i].text);
    assert_int_equal(sheet.fault.item, off[i].item);
  }
  const struct sl_rail_crossings_in none = { 1.722, 2, 0.02, gap, 0 };
  assert_int_equal(sl_rail_crossings(&none, &crossings, room_of(sl_rail_crossings_need(&none)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.text, "has no rail");
  const struct sl_frame_points_in good = two_modules(180);
  assert_int_equal(sl_frame_points(&good, &points, room_of(sl_frame_points_need(&good) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
}

static struct sl_frame_points_in good_points;
static const struct sl_rail_crossings_in good_crossings = { 1.722, 2, 0.02, two_rails, 2 };
static const struct op_case ops[] = {
  { "rail_places", &by_rules[0].in }, { "rail_crossings", &good_crossings }, { "clamps", &clamped[3].in },
  { "mounting", &mounted[2].in },     { "frame_points", &good_points },
};

int main(void) {
  struct CMUnitTest tests[48];
  size_t n = 0;
  static const double after_1[] = { 1 };
  good_points = two_modules(180);
  good_points.joints = after_1;
  good_points.njoints = 1;
  ADD_ROWS(tests, n, by_rules, rule_places_rails);
  ADD_ROWS(tests, n, crossed, rails_cross_modules);
  ADD_ROWS(tests, n, clamped, clamps_sit);
  ADD_ROWS(tests, n, mounted, modules_are_mounted);
  ADD_ROWS(tests, n, placed, points_lie);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(a_row_that_slopes_keeps_its_lengths),
    cmocka_unit_test(turning_and_moving_change_no_length), cmocka_unit_test(clamps_are_those_of_the_drawing),
    cmocka_unit_test(all_are_mounted_once), cmocka_unit_test(nonsense_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("modules", tests, n, NULL, NULL);
}
