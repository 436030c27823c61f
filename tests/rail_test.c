/* SPDX-License-Identifier: MIT
 * Rails: published expansion, runs and splices worked by hand, and all ways tried on a grid of inches. */
#include <stdbool.h>
#include "op_check.h"
#include "us.h"
#include "stringline/rail.h"

#define COUNT(list) (sizeof list / sizeof *list)

/* An article on expansion joints in rails: 30 ft and 100 degF, 0.468 in.  The others by hand: 6.5e-6 x 360 in x 100,
 * 23e-6 x 11,000 mm x 60 K. */
static const struct warm { const char *name; struct sl_expansion_in in; double want, half; } warms[] = {
  { "expansion, published: 30 ft of aluminium, 100 degF", { SL_ALUMINIUM, NAN, 30 * FT, 100 / 1.8 }, 0.468 * IN,
    0.0005 * IN },
  { "expansion, 30 ft of steel, 100 degF", { SL_STEEL, NAN, 30 * FT, 100 / 1.8 }, 0.234 * IN, 0.0005 * IN },
  { "expansion, packhouse: 11 m by the maker's own number, 60 K", { SL_ALUMINIUM, 23e-6, 11, 60 }, 15.18 * MM,
    0.005 * MM },
};

static void warm_matches(void **state) {
  const struct warm *r = *state;
  struct sl_expansion_out out;
  assert_int_equal(sl_expansion(&r->in, &out, NULL), SL_OK);
  assert_near(out.movement, r->want, r->half / r->want);
}

/* By hand: a run of n is n x 1134 mm, n - 1 gaps and two ends. */
static const double three_seven[] = { 3, 7 };
static const struct row {
  const char *name;
  struct sl_rail_runs_in in;
  int joints, last[3];
  double row_width, longest;             /* mm */
} rows[] = {
  { "runs, packhouse: 11.58 m on a limit of 11 m", { 1134 * MM, 10, 20 * MM, 20 * MM, 32 * MM, 11, NULL, 0 },
    1, { 5, 10 }, 11520, 5814 },
  { "runs, packhouse: the joint 84 mm wide", { 1134 * MM, 10, 20 * MM, 84 * MM, 32 * MM, 11, NULL, 0 },
    1, { 5, 10 }, 11584, 5814 },
  { "runs, ranch: 45 ft on a limit of 36 ft", { 1134 * MM, 12, 20 * MM, 20 * MM, 1.25 * IN, 36 * FT, NULL, 0 },
    1, { 6, 12 }, 13828, 6967.5 },
  { "runs, ten columns on rails for four", { 1134 * MM, 10, 20 * MM, 20 * MM, 32 * MM, 4.7, NULL, 0 },
    2, { 4, 7, 10 }, 11520, 4660 },
  { "runs, the limit is the rail to a hair", { 1134 * MM, 4, 20 * MM, 20 * MM, 32 * MM, 4.66, NULL, 0 },
    0, { 4 }, 4596, 4660 },
  { "runs, declared after 3 and 7", { 1134 * MM, 10, 20 * MM, 50 * MM, 30 * MM, NAN, three_seven, 2 },
    2, { 3, 7, 10 }, 11580, 4656 },
  { "runs, one column", { 1134 * MM, 1, 20 * MM, 20 * MM, 30 * MM, NAN, NULL, 0 }, 0, { 1 }, 1134, 1194 },
};

static void row_matches(void **state) {
  const struct row *r = *state;
  struct sl_rail_runs_out out;
  assert_int_equal(sl_rail_runs(&r->in, &out, room_of(sl_rail_runs_need(&r->in)), NULL), SL_OK);
  assert_int_equal(out.joints, r->joints);
  assert_int_equal(out.nruns, r->joints + 1);
  assert_near(out.row_width / MM, r->row_width, 1e-9);
  assert_near(out.longest / MM, r->longest, 1e-9);
  double first = 1, all = 0;
  for (size_t k = 0; k < out.nruns; k++) {
    assert_near(out.runs[k].first_column, first, 1e-12);
    assert_near(out.runs[k].last_column, r->last[k], 1e-12);
    assert_near(out.runs[k].to - out.runs[k].from, out.runs[k].length, 1e-12);
    first = r->last[k] + 1;
    all += out.runs[k].length;
  }
  assert_near(out.rail, all, 1e-12);
  /* From the first rail's end to the last's: the row and its two ends. */
  assert_near(out.runs[out.nruns - 1].to, out.row_width + 2 * r->in.end_allowance, 1e-12);
}

/* ---- splices ----------------------------------------------------------------------------------------------------- */

/* The well and shop: 274.3 in of rail, four posts 80 in apart, or five 60 in apart; sticks of 132, 168, 204 in. */
static const double four_posts[] = { 17.15 * IN, 97.15 * IN, 177.15 * IN, 257.15 * IN },
                    five_posts[] = { 17.15 * IN, 77.15 * IN, 137.15 * IN, 197.15 * IN, 257.15 * IN },
                    seven_posts[] = { 20 * IN, 60 * IN, 100 * IN, 140 * IN, 180 * IN, 220 * IN, 260 * IN },
                    shop[] = { 132 * IN, 168 * IN, 204 * IN }, shop_prices[] = { 31, 38, 47 },
                    short_stock[] = { 96 * IN };
#define SHOP(posts, from, to) \
  { 0, 274.3 * IN, posts, COUNT(posts), from, to, false, shop, COUNT(shop), shop_prices, COUNT(shop_prices) }

static const struct splice_case {
  const char *name;
  struct sl_rail_joints_in in;
  int pieces;
  bool staggered;
  double at[4];                          /* in: way 1, then way 2 */
} splices[] = {
  { "splices, well and shop: 168 and 132 are the cheapest", SHOP(four_posts, 0, 0.5), 2, false, { 168, 106.3 } },
  { "splices, five posts: every second rail in the other bay", SHOP(five_posts, 0, 0.5), 2, true, { 168, 106.3 } },
  /* 15 to 25 % of 60 in: 9 to 15 in from a post; 152.15 is the farthest that 168 reaches. */
  { "splices, 15 to 25 % of the bay", SHOP(five_posts, 0.15, 0.25), 2, true, { 152.15, 122.15 } },
  { "splices, three pieces of 96", { 0, 280 * IN, seven_posts, 7, 0, 0.5, false, short_stock, 1, NULL, 0 }, 3, false,
    { 96, 192, 88, 184 } },
  { "splices, one piece where it is long enough", { 0, 200 * IN, four_posts, 4, 0.2, 0.3, false, shop, 3, NULL, 0 }, 1,
    true, { 0 } },
};

static void splice_matches(void **state) {
  const struct splice_case *r = *state;
  struct sl_rail_joints_out out;
  assert_int_equal(sl_rail_joints(&r->in, &out, room_of(sl_rail_joints_need(&r->in)), NULL), SL_OK);
  assert_int_equal(out.pieces, r->pieces);
  assert_int_equal(out.staggered, r->staggered);
  assert_true(out.proven);
  assert_int_equal(out.njoints, 2 * (r->pieces - 1));
  for (size_t i = 0; i < out.njoints; i++) assert_near(out.joints[i].at / IN, r->at[i], 1e-9);
}

/* By hand: one splice between 97.15 and 177.15 in best halves the rail; 20 to 30 % of 80 in from a post leaves 121.15
 * and 153.15. */
static const struct reach { const char *name; double from, to; bool end_bays; double want; } reaches[] = {
  { "reach, anywhere in the middle bay", 0, 0.5, false, 137.15 },
  { "reach, 20 to 30 % of the middle bay", 0.2, 0.3, false, 153.15 },
  /* 20 in from a post, the end bays too: 77.15, 157.15 and 197.15 leave 77.15, 80, 40 and 77.1. */
  { "reach, at a quarter of every bay", 0.25, 0.25, true, 80 },
};

static void reach_matches(void **state) {
  const struct reach *r = *state;
  const struct sl_rail_reach_in in = { 0, 274.3 * IN, four_posts, 4, r->from, r->to, r->end_bays };
  struct sl_rail_reach_out out;
  assert_int_equal(sl_rail_reach(&in, &out, room_of(sl_rail_reach_need(&in)), NULL), SL_OK);
  assert_near(out.least / IN, r->want, 1e-7);
}

static const struct spot { const char *name; double at; int place, bay; double share; } spots[] = {
  { "splice, in the middle bay", 168, SL_IN_BAY, 2, 9.15 / 80 },
  { "splice, in the first bay", 50, SL_IN_END_BAY, 1, 32.85 / 80 },
  { "splice, in the last bay", 250, SL_IN_END_BAY, 3, 7.15 / 80 },
  { "splice, in the overhang", 10, SL_IN_OVERHANG, 0, 0 },
};

static void spot_matches(void **state) {
  const struct spot *r = *state;
  const struct sl_splice_in in = { 0, 274.3 * IN, four_posts, 4, r->at * IN };
  struct sl_splice_out out;
  assert_int_equal(sl_splice(&in, &out, NULL), SL_OK);
  assert_int_equal(out.place, r->place);
  assert_int_equal(out.bay, r->bay);
  assert_near(out.share - r->share, 0, 1e-12);
}

/* Bays are counted over the whole row, also those of the runs before. */
static void bays_are_counted_over_the_row(void **state) {
  (void)state;
  const struct sl_splice_in in = { 100 * IN, 274.3 * IN, five_posts, 5, 170 * IN };
  struct sl_splice_out out;
  assert_int_equal(sl_splice(&in, &out, NULL), SL_OK);
  assert_int_equal(out.place, SL_IN_END_BAY);            /* of this run: 137.15 to 197.15, then 257.15 */
  assert_int_equal(out.bay, 3);
}

/* ---- all ways on a grid ------------------------------------------------------------------------------------------ */

enum { LONGEST = 300, STOCKS = 3, NONE = 1000000 };

/* Whole inches: then the best splices are whole inches, too. */
struct grid { int length, held[12], nheld, near, far, stock[STOCKS], price[STOCKS]; bool end_bays; };

static int bay_of(const struct grid *g, int at, int bay) {
  const int a = g->held[bay], b = g->held[bay + 1], d = at - a < b - at ? at - a : b - at;
  const bool end = bay == 0 || bay == g->nheld - 2;
  return at >= a && at <= b && d * 10 >= g->near * (b - a) && d * 10 <= g->far * (b - a) && (g->end_bays || !end);
}

static int cheapest(const struct grid *g, int piece) {
  int best = NONE;
  for (int k = 0; k < STOCKS; k++)
    if (piece <= g->stock[k] && g->price[k] < best) best = g->price[k];
  return best;
}

/* Least cost of the fewest pieces, all splices tried; *pieces is 0 where there is none. */
static int all_tried(const struct grid *g, int *pieces) {
  static int cost[2][LONGEST + 1][12];
  for (int at = 0; at <= LONGEST; at++) for (int b = 0; b < 12; b++) cost[0][at][b] = NONE;
  cost[0][0][0] = 0;                                    /* [at][1 + last bay] */
  for (int n = 1; n <= 12; n++) {
    int best = NONE;
    for (int at = 0; at < g->length; at++)
      for (int b = 0; b < 12; b++)
        if (cost[(n - 1) % 2][at][b] + cheapest(g, g->length - at) < best)
          best = cost[(n - 1) % 2][at][b] + cheapest(g, g->length - at);
    if (best < NONE) {
      *pieces = n;
      return best;
    }
    for (int at = 0; at <= LONGEST; at++) for (int b = 0; b < 12; b++) cost[n % 2][at][b] = NONE;
    for (int at = 0; at < g->length; at++)
      for (int b = 0; b < 12; b++)
        for (int next = at + 1; cost[(n - 1) % 2][at][b] < NONE && next < g->length; next++)
          for (int bay = b; bay < g->nheld - 1; bay++)
            if (bay_of(g, next, bay)) {
              const int c = cost[(n - 1) % 2][at][b] + cheapest(g, next - at);
              if (c < cost[n % 2][next][bay + 1]) cost[n % 2][next][bay + 1] = c;
            }
  }
  *pieces = 0;
  return NONE;
}

static unsigned drawn(unsigned *seed, unsigned most) {
  *seed = *seed * 1664525u + 1013904223u;
  return (*seed >> 8) % (most + 1);
}

static void plans_are_the_best_of_all(void **state) {
  (void)state;
  unsigned seed = 7;
  int planned = 0, refused = 0, many = 0;
  for (int turn = 0; turn < 400; turn++) {
    struct grid g = { .near = (int)drawn(&seed, 2), .end_bays = drawn(&seed, 1) };
    g.far = g.near + (int)drawn(&seed, 3);
    g.held[g.nheld++] = 1 + (int)drawn(&seed, 9);
    const int posts = 2 + (int)drawn(&seed, 7);
    while (g.nheld < posts) {                           /* bays of whole tens, so that zones end on inches */
      g.held[g.nheld] = g.held[g.nheld - 1] + 10 * (1 + (int)drawn(&seed, 2));
      g.nheld++;
    }
    g.length = g.held[g.nheld - 1] + 1 + (int)drawn(&seed, 9);
    for (int k = 0; k < STOCKS; k++) {
      g.stock[k] = 12 + (int)drawn(&seed, 70);
      g.price[k] = 10 + (int)drawn(&seed, 40);
    }
    double held[12], stock[STOCKS], prices[STOCKS];
    for (int i = 0; i < g.nheld; i++) held[i] = g.held[i];
    for (int k = 0; k < STOCKS; k++) stock[k] = g.stock[k], prices[k] = g.price[k];
    const struct sl_rail_joints_in in = { 0, g.length, held, (size_t)g.nheld, g.near / 10., g.far / 10., g.end_bays,
                                          stock, STOCKS, prices, STOCKS };
    struct sl_rail_joints_out out;
    int pieces;
    const int best = all_tried(&g, &pieces);
    const enum sl_status status = sl_rail_joints(&in, &out, room_of(sl_rail_joints_need(&in)), NULL);
    const struct sl_rail_reach_in reach = { 0, g.length, held, (size_t)g.nheld, g.near / 10., g.far / 10., g.end_bays };
    struct sl_rail_reach_out least;
    assert_int_equal(sl_rail_reach(&reach, &least, room_of(sl_rail_reach_need(&reach)), NULL), SL_OK);
    const double longest_stock = fmax(stock[0], fmax(stock[1], stock[2]));
    assert_int_equal(least.least <= longest_stock + 1e-6, pieces > 0);
    if (pieces == 0) {
      assert_int_equal(status, SL_NO_ANSWER);
      refused++;
      continue;
    }
    assert_int_equal(status, SL_OK);
    assert_int_equal(out.pieces, pieces);
    assert_true(out.proven);
    planned++;
    many += pieces > 2;
    int cost = 0;
    for (int way = 0; way < 2; way++) {
      int last = -1;
      double at = 0;
      for (int i = 0; i < pieces; i++) {
        const double end = i < pieces - 1 ? out.joints[way * (pieces - 1) + i].at : g.length;
        const int whole = (int)floor(end + 0.5);
        assert_near(end, whole, 1e-9);
        if (way == 0) cost += cheapest(&g, whole - (int)floor(at + 0.5));
        assert_true(end - at <= longest_stock + 1e-9);
        if (i < pieces - 1) {
          int bay = last + 1;
          while (bay < g.nheld - 1 && !bay_of(&g, whole, bay)) bay++;
          assert_true(bay < g.nheld - 1);
          last = bay;
        }
        at = end;
      }
    }
    assert_int_equal(cost, best);
  }
  assert_true(planned > 100 && refused > 5 && many > 50);
}

/* Turned end for end, a rail is spliced at the mirrored places. */
static void mirrored_posts_mirror_the_splices(void **state) {
  (void)state;
  const double west[] = { 10, 60, 130, 180, 260 }, east[] = { 20, 100, 150, 220, 270 }, stock[] = { 200 };
  const struct sl_rail_joints_in in = { 0, 280, west, 5, 0.1, 0.4, true, stock, 1, NULL, 0 };
  struct sl_rail_joints_in turned = in;
  turned.supports = east;
  struct sl_rail_joints_out a, b;
  assert_int_equal(sl_rail_joints(&in, &a, room_of(sl_rail_joints_need(&in)), NULL), SL_OK);
  assert_int_equal(sl_rail_joints(&turned, &b, room_of(sl_rail_joints_need(&turned)), NULL), SL_OK);
  assert_int_equal(a.pieces, 2);
  assert_true(a.staggered);
  assert_near(a.joints[0].at, 200, 1e-12);
  assert_near(a.joints[1].at, 80, 1e-12);
  for (size_t i = 0; i < 2; i++) assert_near(a.joints[1 - i].at, 280 - b.joints[i].at, 1e-12);
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_rail_runs_out runs;
  const double turned[] = { 7, 3 }, last[] = { 10 }, half[] = { 2.5 };
  static const struct { int columns; double limit; size_t n; const char *member; } wrong[] = {
    { 0, NAN, 0, "columns" }, { 100000, NAN, 0, "columns" }, { 10, 11, 1, "joints" }, { 10, 1.1, 0, "limit" },
    { 10, 0, 0, "limit" },
  };
  for (size_t i = 0; i < COUNT(wrong); i++) {
    const struct sl_rail_runs_in in = { 1134 * MM, wrong[i].columns, 20 * MM, 20 * MM, 32 * MM, wrong[i].limit, half,
                                        wrong[i].n };
    assert_true(sl_rail_runs(&in, &runs, room_of(sl_rail_runs_need(&in)), &sheet) != SL_OK);
    assert_string_equal(sheet.fault.member, wrong[i].member);
  }
  const struct { const double *list; size_t n, item; } lists[] = { { turned, 2, 2 }, { last, 1, 1 }, { half, 1, 1 } };
  for (size_t i = 0; i < COUNT(lists); i++) {
    const struct sl_rail_runs_in in = { 1134 * MM, 10, 20 * MM, 20 * MM, 32 * MM, NAN, lists[i].list, lists[i].n };
    assert_int_equal(sl_rail_runs(&in, &runs, room_of(sl_rail_runs_need(&in)), &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, "joints");
    assert_int_equal(sheet.fault.item, lists[i].item);
  }
  struct sl_rail_joints_out out;
  struct sl_rail_joints_in in = { 0, 274.3 * IN, four_posts, 4, 0.2, 0.3, false, shop, 1, NULL, 0 };
  assert_int_equal(sl_rail_joints(&in, &out, room_of(sl_rail_joints_need(&in)), &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "stock");
  assert_near(sheet.fault.value / IN, 132, 1e-12);
  in.zone_to = 0.1;
  assert_int_equal(sl_rail_joints(&in, &out, room_of(sl_rail_joints_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "zone_to");
  in.zone_to = 0.6;
  assert_int_equal(sl_rail_joints(&in, &out, room_of(sl_rail_joints_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "zone_to");
  in.zone_to = 0.3;
  in.nprices = 2, in.prices = shop_prices;
  assert_int_equal(sl_rail_joints(&in, &out, room_of(sl_rail_joints_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "prices");
  in.nprices = 0, in.nstock = 0;
  assert_int_equal(sl_rail_joints(&in, &out, room_of(sl_rail_joints_need(&in)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "stock");
  struct sl_splice_out spot;
  const struct sl_splice_in beyond = { 0, 100, four_posts, 4, 101 };
  assert_int_equal(sl_splice(&beyond, &spot, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "at");
}

static const struct sl_rail_reach_in good_reach = { 0, 274.3 * IN, four_posts, 4, 0.2, 0.3, true };
static const struct sl_splice_in good_splice = { 0, 274.3 * IN, four_posts, 4, 168 * IN };
static const struct op_case ops[] = {
  { "expansion", &warms[2].in }, { "rail_runs", &rows[0].in }, { "rail_runs", &rows[5].in },
  { "rail_joints", &splices[2].in }, { "rail_reach", &good_reach }, { "splice", &good_splice },
};

int main(void) {
  struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, warms, warm_matches);
  ADD_ROWS(tests, n, rows, row_matches);
  ADD_ROWS(tests, n, splices, splice_matches);
  ADD_ROWS(tests, n, reaches, reach_matches);
  ADD_ROWS(tests, n, spots, spot_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(plans_are_the_best_of_all), cmocka_unit_test(mirrored_posts_mirror_the_splices),
    cmocka_unit_test(nonsense_is_refused),
    cmocka_unit_test(bays_are_counted_over_the_row),
  };
  for (size_t i = 0; i < COUNT(laws); i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("rail", tests, n, NULL, NULL);
}
