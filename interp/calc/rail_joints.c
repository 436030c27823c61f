/* SPDX-License-Identifier: MIT
 * Splices of a rail: where they may be, the fewest pieces out of the stock, and the shortest stock that would do.
 *
 * A splice further on leaves less to go, so of two ways with as many pieces, to the same bay, the one that is neither
 * shorter nor dearer is enough: of each bay a few such ways are kept. */
#include "guard.h"
#include "room.h"
#include "stringline/rail.h"
#include <string.h>

#define SEARCH "rail splices, all ways tried"
#define BEST_FOUND "rail splices, best of those tried"
#define RANGE "range of a rail: at most 1000 supports, 100 between its ends, 100 stock lengths, 32 pieces"
#define GEOMETRY "plane geometry"

enum { MOST_SUPPORTS = 1000, MOST_HELD = 100, MOST_STOCK = 100, MOST_PIECES = 32, WAYS = 8 };

static const double slack = 1e-9;   /* m: lengths that differ by less are equal */

/* A rail cut so far: where its last splice is, in which bay, after which way (an index), what its sticks cost. */
struct way { double at, cost; int bay, before; };

struct rail {
  double from, to, zone_from, zone_to;
  bool end_bays, left_out;
  double held[MOST_HELD];
  int nheld;
  bool taken[MOST_HELD];              /* bays that may have no splice */
  const double *stock, *prices;       /* prices NULL: what is cheap is what is short */
  size_t nstock;
  struct way *ways;                   /* [piece][bay][WAYS] in a row; `n` of each piece and bay */
  int *n;
  size_t work;
};

static int bays(const struct rail *r) { return r->nheld > 1 ? r->nheld - 1 : 0; }

static bool is_end_bay(const struct rail *r, int bay) { return bay == 0 || bay == r->nheld - 2; }

/* The last place of a bay, not beyond x, where a splice may be; NAN where there is none. */
static double last_place(const struct rail *r, int bay, double x) {
  if (r->taken[bay] || (is_end_bay(r, bay) && !r->end_bays)) return NAN;
  const double a = r->held[bay], b = r->held[bay + 1], near = r->zone_from * (b - a), far = r->zone_to * (b - a);
  if (x >= b - far - slack) return fmax(b - far, fmin(x, b - near));
  if (x >= a + near - slack) return fmax(a + near, fmin(x, a + far));
  return NAN;
}

static double cost_of(const struct rail *r, size_t stock) { return r->prices ? r->prices[stock] : r->stock[stock]; }

static struct way *ways_of(const struct rail *r, int piece, int bay) {
  return r->ways + ((size_t)piece * (size_t)bays(r) + (size_t)bay) * WAYS;
}

/* One more way to a bay: kept unless another is as far and as cheap.  Where there are too many, the dearest but the
 * farthest goes. */
static void keep(struct rail *r, int piece, const struct way *way) {
  struct way *list = ways_of(r, piece, way->bay);
  int *n = &r->n[piece * bays(r) + way->bay], kept = 0;
  for (int i = 0; i < *n; i++)
    if (list[i].at >= way->at - slack && list[i].cost <= way->cost) return;
  for (int i = 0; i < *n; i++)
    if (!(way->at >= list[i].at - slack && way->cost <= list[i].cost)) list[kept++] = list[i];
  if (kept == WAYS) {                           /* by rising cost and rising reach: the last goes farthest */
    r->left_out = true;
    if (way->at < list[kept - 1].at) return;
    kept--;
  }
  int at = kept;
  for (; at > 0 && list[at - 1].cost > way->cost; at--) list[at] = list[at - 1];
  list[at] = *way;
  *n = kept + 1;
}

static void go_on(struct rail *r, int piece, const struct way *way, int index) {
  for (size_t k = 0; k < r->nstock; k++)
    for (int bay = way->bay + 1; bay < bays(r); bay++) {
      r->work++;
      const double at = last_place(r, bay, way->at + r->stock[k]);
      if (!(at > way->at + slack)) {
        if (r->held[bay] > way->at + r->stock[k]) break;
        continue;
      }
      const struct way next = { .at = at, .cost = way->cost + cost_of(r, k), .bay = bay, .before = index };
      keep(r, piece, &next);
    }
}

/* What the cheapest stick for the last piece costs; INFINITY where none is long enough. */
static double last_cost(const struct rail *r, double at) {
  double least = INFINITY;
  for (size_t k = 0; k < r->nstock; k++)
    if (r->to - at <= r->stock[k] + slack) least = fmin(least, cost_of(r, k));
  return least;
}

/* Fewest pieces, then least cost: their number, the splices west to east into `places` and their bays; 0: there is no
 * way with so few pieces. */
static int spliced(struct rail *r, double *places, int *in_bay, int most) {
  if (isfinite(last_cost(r, r->from))) return 1;
  const int nbays = bays(r);
  if (nbays) memset(r->n, 0, (size_t)(MOST_PIECES * nbays) * sizeof *r->n);
  const struct way start = { .at = r->from, .cost = 0, .bay = -1, .before = -1 };
  if (nbays) go_on(r, 0, &start, -1);
  for (int piece = 0; piece + 2 <= most && nbays; piece++) {
    double best = INFINITY;
    int best_index = -1;
    for (int bay = 0; bay < nbays; bay++)
      for (int i = 0; i < r->n[piece * nbays + bay]; i++) {
        const struct way *way = ways_of(r, piece, bay) + i;
        const double cost = way->cost + last_cost(r, way->at);
        if (cost < best || (cost <= best && isfinite(cost) && best_index >= 0 &&
                            way->at > r->ways[best_index].at)) {
          best = cost;
          best_index = (int)(way - r->ways);
        }
      }
    if (best_index >= 0) {
      for (int k = piece, i = best_index; k >= 0; i = r->ways[i].before, k--) {
        places[k] = r->ways[i].at;
        in_bay[k] = r->ways[i].bay;
      }
      return piece + 2;
    }
    if (piece + 3 > most) break;
    for (int bay = 0; bay < nbays; bay++)
      for (int i = 0; i < r->n[piece * nbays + bay]; i++) {
        const struct way way = ways_of(r, piece, bay)[i];
        go_on(r, piece + 1, &way, (int)(ways_of(r, piece, bay) + i - r->ways));
      }
  }
  return 0;
}

/* The same rail seen from its other side. */
static void turn(struct rail *r) {
  for (int i = 0; i < r->nheld; i++) r->held[i] = r->from + r->to - r->held[i];
  for (int i = 0; i < r->nheld / 2; i++) {
    const double h = r->held[i];
    r->held[i] = r->held[r->nheld - 1 - i];
    r->held[r->nheld - 1 - i] = h;
  }
}

/* ---- inputs ------------------------------------------------------------------------------------------------------ */

/* What all of them take. */
struct given { double from, to; const double *supports; size_t nsupports; double zone_from, zone_to; bool end_bays; };

static enum sl_status check(const struct given *in, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, from, SL_LENGTH);
  REQUIRE(sh, in, to, > in->from, "must be beyond the other end", SL_LENGTH);
  REQUIRE(sh, in, to, < INFINITY, "must be a finite number", SL_LENGTH);
  if (in->nsupports > MOST_SUPPORTS)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "supports", "are more than a rail is planned on", RANGE,
                          (double)in->nsupports, MOST_SUPPORTS, SL_NUMBER);
  for (size_t i = 0; i < in->nsupports; i++) {
    REQUIRE_ITEM(sh, in, supports, i, > (i ? in->supports[i - 1] : -INFINITY), "must rise from the west", SL_LENGTH);
    REQUIRE_ITEM(sh, in, supports, i, < INFINITY, "must be a finite number", SL_LENGTH);
  }
  REQUIRE(sh, in, zone_from, >= 0, "must be between 0 and 0.5", SL_RATIO);
  REQUIRE(sh, in, zone_to, >= in->zone_from, "must not be nearer to the support than where the zone begins", SL_RATIO);
  REQUIRE(sh, in, zone_to, <= 0.5, "must be between 0 and 0.5", SL_RATIO);
  return SL_OK;
}

static enum sl_status take(const struct given *in, struct rail *r, struct sl_sheet *sh) {
  *r = (struct rail){ .from = in->from, .to = in->to, .zone_from = in->zone_from, .zone_to = in->zone_to,
                      .end_bays = in->end_bays };
  for (size_t i = 0; i < in->nsupports; i++)
    if (in->supports[i] > in->from + slack && in->supports[i] < in->to - slack) {
      if (r->nheld == MOST_HELD)
        return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "supports", "are more than a rail is planned on", RANGE,
                              (double)in->nsupports, MOST_HELD, SL_NUMBER);
      r->held[r->nheld++] = in->supports[i];
    }
  return SL_OK;
}

/* Bays of a rail on so many supports, and the room for the ways there. */
static size_t ways_need(size_t nsupports) {
  const size_t held = nsupports < MOST_HELD ? nsupports : MOST_HELD, most = held > 1 ? held - 1 : 0;
  return NEED(NEED(0, struct way, MOST_PIECES * most * WAYS), int, MOST_PIECES * most);
}

static void room_for(struct rail *r, size_t nsupports, struct sl_space *space) {
  const size_t held = nsupports < MOST_HELD ? nsupports : MOST_HELD, most = held > 1 ? held - 1 : 0;
  r->ways = PART(space, struct way, MOST_PIECES * most * WAYS);
  r->n = PART(space, int, MOST_PIECES * most);
}

/* ---- the primitives ---------------------------------------------------------------------------------------------- */

static enum sl_status check_stock(const struct sl_rail_joints_in *in, struct sl_sheet *sh) {
  if (in->nstock == 0) return sl_sheet_fault(sh, SL_BAD_INPUT, "stock", "is empty", "", 0, NAN, SL_NUMBER);
  if (in->nstock > MOST_STOCK)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "stock", "holds more than a rail is planned from", RANGE,
                          (double)in->nstock, MOST_STOCK, SL_NUMBER);
  for (size_t i = 0; i < in->nstock; i++) {
    REQUIRE_ITEM(sh, in, stock, i, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ITEM(sh, in, stock, i, < INFINITY, "must be a finite number", SL_LENGTH);
  }
  if (in->nprices > 0 && in->nprices != in->nstock)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "prices", "must be as many as lengths of stock, or none", "",
                          (double)in->nprices, (double)in->nstock, SL_NUMBER);
  for (size_t i = 0; i < in->nprices; i++) {
    REQUIRE_ITEM(sh, in, prices, i, >= 0, "must not be negative", SL_MONEY);
    REQUIRE_ITEM(sh, in, prices, i, < INFINITY, "must be a finite number", SL_MONEY);
  }
  return SL_OK;
}

static bool shares_bay(const int *a, const int *b, int n) {
  for (int i = 0; i < n; i++)
    for (int k = 0; k < n; k++) if (a[i] == b[k]) return true;
  return false;
}

/* The second way: from the other end; where that shares a bay with the first, around its bays if as few pieces do. */
static void second_way(struct rail *r, const int *bays_1, int pieces, double *places, int *bays_2) {
  double from_east[MOST_PIECES];
  int bays_east[MOST_PIECES];
  turn(r);
  spliced(r, from_east, bays_east, pieces);
  turn(r);
  for (int i = 0; i < pieces - 1; i++) {
    places[i] = r->from + r->to - from_east[pieces - 2 - i];
    bays_2[i] = bays(r) - 1 - bays_east[pieces - 2 - i];
  }
  if (!shares_bay(bays_1, bays_2, pieces - 1)) return;
  for (int i = 0; i < pieces - 1; i++) r->taken[bays_1[i]] = true;
  double around[MOST_PIECES];
  int bays_around[MOST_PIECES];
  if (spliced(r, around, bays_around, pieces) == pieces) {
    memcpy(places, around, (size_t)(pieces - 1) * sizeof *places);
    memcpy(bays_2, bays_around, (size_t)(pieces - 1) * sizeof *bays_2);
  }
  memset(r->taken, 0, sizeof r->taken);
}

static double longest_piece(const struct rail *r, const double *places, int pieces) {
  double longest = 0;
  for (int i = 0; i < pieces; i++)
    longest = fmax(longest, (i < pieces - 1 ? places[i] : r->to) - (i ? places[i - 1] : r->from));
  return longest;
}

size_t sl_rail_joints_need(const struct sl_rail_joints_in *in) {
  return sl_need(ways_need(in->nsupports), 2 * MOST_PIECES, sizeof(struct sl_rail_joint));
}

enum sl_status sl_rail_joints(const struct sl_rail_joints_in *in, struct sl_rail_joints_out *out,
                              struct sl_space space, struct sl_sheet *sh) {
  const struct given given = { in->from, in->to, in->supports, in->nsupports, in->zone_from, in->zone_to,
                               in->end_bays };
  struct rail r;
  enum sl_status status = check(&given, sh);
  if (status == SL_OK) status = check_stock(in, sh);
  if (status == SL_OK) status = take(&given, &r, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_rail_joints_need(in));
  room_for(&r, in->nsupports, &space);
  r.stock = in->stock;
  r.nstock = in->nstock;
  r.prices = in->nprices ? in->prices : NULL;
  double places[2][MOST_PIECES] = { { 0 } };
  int in_bay[2][MOST_PIECES];
  const int pieces = spliced(&r, places[0], in_bay[0], MOST_PIECES);
  if (pieces > 1) second_way(&r, in_bay[0], pieces, places[1], in_bay[1]);
  WORKED(sh, r.work * 10);
  if (pieces == 0) {
    double longest = 0;
    for (size_t i = 0; i < in->nstock; i++) longest = fmax(longest, in->stock[i]);
    return sl_sheet_fault(sh, SL_NO_ANSWER, "stock", "is too short to reach from one place where a splice is "
                          "permitted to the next", SEARCH, longest, NAN, SL_LENGTH);
  }
  struct sl_rail_joint *joints = PART(&space, struct sl_rail_joint, (size_t)(2 * (pieces - 1)));
  const char *cite = r.left_out ? BEST_FOUND : SEARCH;
  GIVEN(sh, SL_LENGTH, from, in->from);
  GIVEN(sh, SL_LENGTH, to, in->to);
  GIVEN(sh, SL_RATIO, zone_from, in->zone_from);
  GIVEN(sh, SL_RATIO, zone_to, in->zone_to);
  (void)from, (void)to, (void)zone_from, (void)zone_to;
  LINES(sh, "splices");
  for (int i = 0; i < 2 * (pieces - 1); i++) {
    const int k = i / (pieces - 1);
    LINE(sh);
    LOOKUP(sh, SL_NUMBER, way, k + 1, "way 1 is for the first rail, way 2 for the next, in turns", cite, SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, at, places[k][i % (pieces - 1)], "place of the splice", cite, SL_DERIVED);
    GIVES_ROW(sh, joints, i, way, way);
    GIVES_ROW(sh, joints, i, at, at);
  }
  LINES_END(sh);
  LOOKUP(sh, SL_NUMBER, n, pieces, "pieces of a rail", cite, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, longest, fmax(longest_piece(&r, places[0], pieces), longest_piece(&r, places[1], pieces)),
         "longest piece", cite, SL_DERIVED);
  *out = (struct sl_rail_joints_out){
    .staggered = pieces == 1 || !shares_bay(in_bay[0], in_bay[1], pieces - 1), .proven = !r.left_out,
    .joints = joints, .njoints = (size_t)(2 * (pieces - 1)) };
  GIVES_COUNT(sh, out, pieces, n);
  GIVES(sh, out, longest, longest);
  return SL_OK;
}

size_t sl_rail_reach_need(const struct sl_rail_reach_in *in) { return ways_need(in->nsupports); }

enum sl_status sl_rail_reach(const struct sl_rail_reach_in *in, struct sl_rail_reach_out *out, struct sl_space space,
                             struct sl_sheet *sh) {
  const struct given given = { in->from, in->to, in->supports, in->nsupports, in->zone_from, in->zone_to,
                               in->end_bays };
  struct rail r;
  enum sl_status status = check(&given, sh);
  if (status == SL_OK) status = take(&given, &r, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_rail_reach_need(in));
  room_for(&r, in->nsupports, &space);
  double places[MOST_PIECES], low = 0, high = r.to - r.from, stock = 0;
  int in_bay[MOST_PIECES];
  r.stock = &stock;
  r.nstock = 1;
  for (int i = 0; i < 60 && high - low > slack; i++) {
    stock = (low + high) / 2;
    const int pieces = stock > 0 ? spliced(&r, places, in_bay, MOST_PIECES) : 0;
    if (pieces > 0) high = longest_piece(&r, places, pieces);
    else low = stock;
  }
  WORKED(sh, r.work * 10);
  GIVEN(sh, SL_LENGTH, from, in->from);
  GIVEN(sh, SL_LENGTH, to, in->to);
  GIVEN(sh, SL_RATIO, zone_from, in->zone_from);
  GIVEN(sh, SL_RATIO, zone_to, in->zone_to);
  (void)from, (void)to, (void)zone_from, (void)zone_to;
  LOOKUP(sh, SL_LENGTH, least, high, "shortest stock that reaches", SEARCH, SL_DERIVED);
  GIVES(sh, out, least, least);
  return SL_OK;
}

enum sl_status sl_splice(const struct sl_splice_in *in, struct sl_splice_out *out, struct sl_sheet *sh) {
  const struct given given = { in->from, in->to, in->supports, in->nsupports, 0, 0.5, true };
  struct rail r;
  enum sl_status status = check(&given, sh);
  if (status == SL_OK) status = take(&given, &r, sh);
  if (status != SL_OK) return status;
  REQUIRE(sh, in, at, > in->from, "must be between the ends of the rail", SL_LENGTH);
  REQUIRE(sh, in, at, < in->to, "must be between the ends of the rail", SL_LENGTH);
  int bay = -1;
  for (int i = 0; i < bays(&r) && bay < 0; i++)
    if (in->at >= r.held[i] - slack && in->at <= r.held[i + 1] + slack) bay = i;
  GIVEN(sh, SL_LENGTH, x, in->at);
  *out = (struct sl_splice_out){ .place = SL_IN_OVERHANG };
  if (bay < 0) {
    (void)x;
    return SL_OK;
  }
  LOOKUP(sh, SL_LENGTH, a, r.held[bay], "support on its west side", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, b, r.held[bay + 1], "support on its east side", GEOMETRY, SL_DERIVED);
  STEP(sh, SL_RATIO, share, fmax(0, fmin(x - a, b - x)) / (b - a), GEOMETRY);
  out->place = is_end_bay(&r, bay) ? SL_IN_END_BAY : SL_IN_BAY;
  while ((size_t)out->bay < in->nsupports && in->supports[out->bay] <= a) out->bay++;
  GIVES(sh, out, share, share);
  return SL_OK;
}
