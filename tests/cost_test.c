/* SPDX-License-Identifier: MIT
 * Buying: plans found by hand, every small job against a plain search that tries all splits, laws, refusals. */
#include <assert.h>
#include "op_check.h"
#include "room.h"
#include "stringline/cost.h"
#include "us.h"

#define POSTS 60.625 * IN, 61.125 * IN, 61.625 * IN, 106.875 * IN, 107.375 * IN, 108.125 * IN

/* Lists in place, for rows of tests. */
enum { PIECES = 200, STOCKS = 12 };
struct cuts {
  double pieces[PIECES]; size_t npieces;
  double lengths[STOCKS]; size_t nlengths;
  double prices[STOCKS]; size_t nprices;
  double kerf;
};

static struct sl_cut_stock_in cut_in(const struct cuts *c) {
  return (struct sl_cut_stock_in){ c->pieces, c->npieces, c->lengths, c->nlengths, c->prices, c->nprices, c->kerf };
}

static enum sl_status cut(const struct cuts *c, struct sl_cut_stock_out *out, struct sl_sheet *sheet) {
  const struct sl_cut_stock_in in = cut_in(c);
  return sl_cut_stock(&in, out, room_of(sl_cut_stock_need(&in)), sheet);
}

static enum sl_status wind(const struct cuts *c, struct sl_spools_out *out, struct sl_sheet *sheet) {
  const struct sl_spools_in in = { c->pieces, c->npieces, c->lengths, c->nlengths, c->prices, c->nprices };
  return sl_spools(&in, out, room_of(sl_spools_need(&in)), sheet);
}

/* The egg farm's posts as first drawn, kerf 1/8 in; 6x6 at 8 ft $28, 10 ft $36, 12 ft $46. */
static const struct cuts farm = { { POSTS }, 6, { 8 * FT, 10 * FT, 12 * FT }, 3, { 28, 36, 46 }, 3, 0.125 * IN };
static const struct cuts pull = { { 114 * FT, 114 * FT, 114 * FT }, 3, { 125 * FT, 250 * FT, 500 * FT }, 3,
                                  { 1.05 / FT, 1.05 / FT, 1.05 / FT }, 3, 0 };
static const struct sl_cut_stock_in good_cut = { farm.pieces, 6, farm.lengths, 3, farm.prices, 3, 0.125 * IN };
static const struct sl_spools_in good_spools = { pull.pieces, 3, pull.lengths, 3, pull.prices, 3 };
static const struct sl_extended_in line = { .price = 6.40, .quantity = 24 };

/* The job's plan must be whole: each piece on one stick, each stick long enough, the bill the sum of its sticks. */
static void plan_holds(const struct cuts *in, const struct sl_cut_stock_out *out) {
  double used[PIECES] = { 0 }, count[STOCKS] = { 0 }, total = 0, offcut = 0;
  assert_int_equal(out->nstick, in->npieces);
  assert_int_equal(out->nstock_of_stick, out->sticks);
  assert_int_equal(out->nbought, in->nlengths);
  for (size_t i = 0; i < in->npieces; i++) {
    assert_true(out->stick[i] >= 1 && out->stick[i] <= out->sticks);
    used[(int)out->stick[i] - 1] += in->pieces[i] + in->kerf;
  }
  for (int s = 0; s < out->sticks; s++) {
    const int stock = (int)out->stock_of_stick[s] - 1;
    assert_true(stock >= 0 && stock < (int)in->nlengths);
    assert_true(used[s] > 0 && used[s] <= in->lengths[stock] + in->kerf + 1e-6);
    assert_true(fabs(out->offcuts[s] - fmax(0, in->lengths[stock] - used[s])) < 1e-6);
    offcut += out->offcuts[s];
    count[stock]++;
    total += in->prices[stock];
  }
  for (size_t j = 0; j < in->nlengths; j++) assert_near(out->bought[j], count[j], 1e-12);
  assert_near(out->total, total, 1e-12);
  assert_near(out->offcut, offcut, 1e-9);
}

/* Plans by hand.  First posts: each back post takes a 10 ft (3 x $36); two front posts share a 12 ft ($46 against 2 x
 * $28), the third takes an 8 ft: $182.  Posts 30 in longer: three 8 ft and three 12 ft, $222. */
static const struct hand { const char *name; struct cuts in; double total; } hands[] = {
  { "egg farm posts as first drawn: $182",
    { { POSTS }, 6, { 8 * FT, 10 * FT, 12 * FT }, 3, { 28, 36, 46 }, 3, 0.125 * IN }, 182 },
  { "egg farm posts, 30 in longer: $222",
    { { 90.625 * IN, 91.125 * IN, 91.625 * IN, 136.875 * IN, 137.375 * IN, 138.125 * IN }, 6,
      { 8 * FT, 10 * FT, 12 * FT }, 3, { 28, 36, 46 }, 3, 0.125 * IN }, 222 },
  { "longest first would need 3 sticks", { { 5, 4, 4, 3, 2, 2 }, 6, { 10 }, 1, { 7.25 }, 1, 0 }, 14.50 },
  { "halves of 8 ft with a kerf need two", { { 4 * FT, 4 * FT }, 2, { 8 * FT }, 1, { 28 }, 1, 0.125 * IN }, 56 },
  { "halves of 8 ft without a kerf need one", { { 4 * FT, 4 * FT }, 2, { 8 * FT }, 1, { 28 }, 1, 0 }, 28 },
  { "a last piece that ends with the stick needs no cut",
    { { 47.9375 * IN, 47.9375 * IN }, 2, { 8 * FT }, 1, { 28 }, 1, 0.125 * IN }, 28 },
  { "a piece as long as the stick", { { 8 * FT }, 1, { 8 * FT }, 1, { 28 }, 1, 0.125 * IN }, 28 },
  { "a dear short stick is not bought", { { 2 }, 1, { 2, 4 }, 2, { 30, 20 }, 2, 0 }, 20 },
  { "five of 3 m from 6 m and 9 m", { { 3, 3, 3, 3, 3 }, 5, { 6, 9 }, 2, { 10, 14 }, 2, 0 }, 24 },
  { "a kerf wider than the stick is long, one piece to each",
    { { 0.02, 0.02, 0.02 }, 3, { 0.05 }, 1, { 4 }, 1, 0.3 }, 12 },
  { "equal prices: the longer stick, twice", { { 2, 2, 2, 2 }, 4, { 3, 4 }, 2, { 9, 9 }, 2, 0 }, 18 },
  { "what is at hand for nothing is taken first", { { 2, 2 }, 2, { 2, 4 }, 2, { 0, 9 }, 2, 0 }, 0 },
  { "but only where it is long enough", { { 2, 3 }, 2, { 2, 4 }, 2, { 0, 9 }, 2, 0 }, 9 },
  { "the least price that a double can tell", { { 2, 2 }, 2, { 4 }, 1, { 5e-324 }, 1, 0 }, 0 },
  { "a millimetre is cut", { { 0.001 }, 1, { 100e3 }, 1, { 5 }, 1, 0 }, 5 },
  { "feet that do not add up in binary: 10 x 0.1",
    { { .1, .1, .1, .1, .1, .1, .1, .1, .1, .1 }, 10, { 1 }, 1, { 5 }, 1, 0 }, 5 },
};

static void hand_matches(void **state) {
  const struct hand *r = *state;
  struct sl_cut_stock_out out;
  SHEET(sheet);
  assert_int_equal(cut(&r->in, &out, &sheet), SL_OK);
  check_sheet(&sheet);
  plan_holds(&r->in, &out);
  assert_near(out.total, r->total, 1e-9);
  assert_int_equal(out.proven, 1);
}

/* Every way to split the pieces into sticks, each stick of the cheapest stock that holds it. */
static double split_all(const struct cuts *in, size_t piece, double *used, int sticks, double best) {
  if (piece == in->npieces) {
    double total = 0;
    for (int s = 0; s < sticks; s++) {
      double price = INFINITY;
      for (size_t j = 0; j < in->nlengths; j++)
        if (used[s] <= in->lengths[j] + in->kerf + 1e-9) price = fmin(price, in->prices[j]);
      total += price;
    }
    return fmin(best, total);
  }
  for (int s = 0; s <= sticks; s++) {
    const double before = s == sticks ? 0 : used[s];
    used[s] = before + in->pieces[piece] + in->kerf;
    best = split_all(in, piece + 1, used, sticks + (s == sticks), best);
    used[s] = before;
  }
  return best;
}

static unsigned draw(unsigned *seed, unsigned below) {
  *seed = *seed * 1664525u + 1013904223u;
  return (*seed >> 16) % below;
}

static void small_jobs_match_a_plain_search(void **state) {
  (void)state;
  unsigned seed = 7;
  for (int job = 0; job < 400; job++) {
    struct cuts in = { .npieces = 1 + draw(&seed, 7), .nlengths = 1 + draw(&seed, 3),
                                  .kerf = 0.003 * draw(&seed, 3) };
    in.nprices = in.nlengths;
    for (size_t j = 0; j < in.nlengths; j++) {
      in.lengths[j] = 2 + 0.5 * draw(&seed, 9);
      in.prices[j] = 5 + 0.01 * draw(&seed, 3000);
    }
    in.lengths[0] = 6;
    for (size_t i = 0; i < in.npieces; i++) in.pieces[i] = 0.5 + 0.25 * draw(&seed, 22);
    double used[PIECES + 1] = { 0 };
    struct sl_cut_stock_out out;
    assert_int_equal(cut(&in, &out, NULL), SL_OK);
    plan_holds(&in, &out);
    assert_int_equal(out.proven, 1);
    assert_near(out.total, split_all(&in, 0, used, 0, INFINITY), 1e-9);
  }
}

/* Few sizes, many of each: sticks that lead with the same size are many, and in whatever order they are tried none may
 * be lost. */
static void few_sizes_match_a_plain_search(void **state) {
  (void)state;
  unsigned seed = 14;
  for (int job = 0; job < 150; job++) {
    struct cuts in = { .npieces = 4 + draw(&seed, 6), .nlengths = 1 + draw(&seed, 2) };
    in.nprices = in.nlengths;
    in.lengths[0] = 2 + 0.25 * draw(&seed, 9);
    in.lengths[1] = 1.5 + 0.25 * draw(&seed, 7);
    for (size_t j = 0; j < in.nlengths; j++) in.prices[j] = 5 + 0.5 * draw(&seed, 16);
    for (size_t i = 0; i < in.npieces; i++) in.pieces[i] = 0.25 * (1 + draw(&seed, 5));
    double used[PIECES + 1] = { 0 };
    struct sl_cut_stock_out out;
    assert_int_equal(cut(&in, &out, NULL), SL_OK);
    plan_holds(&in, &out);
    assert_near(out.total, split_all(&in, 0, used, 0, INFINITY), 1e-9);
  }
}

/* Large jobs end, hold, come out the same twice, and cost no less than their length does. */
static void large_jobs_end(void **state) {
  (void)state;
  unsigned seed = 11;
  for (int job = 0; job < 6; job++) {
    struct cuts in = { .npieces = PIECES, .lengths = { 2.4, 3.0, 3.6, 4.8, 6.1 }, .nlengths = 5,
                                  .prices = { 11.2, 13.9, 17, 22.8, 29.9 }, .nprices = 5, .kerf = 0.003 };
    double sum = 0;
    for (size_t i = 0; i < in.npieces; i++) {
      in.pieces[i] = 0.4 + 0.001 * draw(&seed, 3000);
      sum += in.pieces[i];
    }
    struct sl_cut_stock_out out, again;
    assert_int_equal(cut(&in, &out, NULL), SL_OK);
    assert_int_equal(cut(&in, &again, NULL), SL_OK);
    assert_near(out.total, again.total, 1e-15);
    assert_int_equal(out.sticks, again.sticks);
    assert_memory_equal(out.stick, again.stick, out.nstick * sizeof *out.stick);
    assert_memory_equal(out.stock_of_stick, again.stock_of_stick, out.nstock_of_stick * sizeof *out.stock_of_stick);
    assert_memory_equal(out.offcuts, again.offcuts, out.noffcuts * sizeof *out.offcuts);
    plan_holds(&in, &out);
    assert_true(out.total >= sum * 13.9 / 3.0);
    assert_true(out.total <= 1.15 * sum * 29.9 / 6.1);
  }
}

/* 28 rails of 4.596 m: one to each 6.1 m stick, which the bound sees at once; with 1.4 m braces the offcuts serve. */
static void many_equal_pieces_are_proven(void **state) {
  (void)state;
  struct cuts in = { .npieces = 56, .lengths = { 6.1 }, .nlengths = 1, .prices = { 41 }, .nprices = 1,
                                .kerf = 0.003 };
  for (size_t i = 0; i < 56; i++) in.pieces[i] = i < 28 ? 4.596 : 1.4;
  struct sl_cut_stock_out out;
  assert_int_equal(cut(&in, &out, NULL), SL_OK);
  assert_near(out.total, 28 * 41, 1e-12);
  assert_int_equal(out.proven, 1);
}

/* Equal pieces, four to a stick: 64 take 16 sticks, 65 take 17; as long as the stick, 200 take 200.  By hand. */
static void counts_at_the_edge(void **state) {
  (void)state;
  static const struct { size_t n; double piece; int sticks; } edges[] = {
    { 64, 1, 16 }, { 65, 1, 17 }, { PIECES, 1, 50 }, { PIECES, 4, PIECES }, { PIECES, 0.01, 1 },
  };
  for (size_t e = 0; e < sizeof edges / sizeof *edges; e++) {
    struct cuts in = { .npieces = edges[e].n, .lengths = { 4 }, .nlengths = 1, .prices = { 7 },
                                  .nprices = 1 };
    for (size_t i = 0; i < in.npieces; i++) in.pieces[i] = edges[e].piece;
    struct sl_cut_stock_out out;
    assert_int_equal(cut(&in, &out, NULL), SL_OK);
    plan_holds(&in, &out);
    assert_int_equal(out.sticks, edges[e].sticks);
    assert_near(out.total, 7 * edges[e].sticks, 1e-12);
  }
}

/* Beyond what a plan is made for: each is refused with its name and the limit, and nothing is overrun (the sanitizers
 * watch).  With a stick of 1e17 m a piece takes nothing off it that a double can tell. */
static const struct beyond {
  const char *name, *member;
  struct cuts in;
  enum sl_status status;
  double limit;
} beyonds[] = {
  { "a stick of 1e17 m", "lengths", { { 2, 3 }, 2, { 1e17 }, 1, { 20 }, 1, 0 }, SL_OUT_OF_RANGE, 1e5 },
  { "one such stick among others", "lengths", { { 2, 3 }, 2, { 4, 1e17 }, 2, { 20, 1 }, 2, 0 }, SL_OUT_OF_RANGE, 1e5 },
  { "a stick as long as a double goes", "lengths",
    { { 2, 3 }, 2, { 1.7e308 }, 1, { 20 }, 1, 0 }, SL_OUT_OF_RANGE, 1e5 },
  { "a stick without end", "lengths", { { 2, 3 }, 2, { INFINITY }, 1, { 20 }, 1, 0 }, SL_BAD_INPUT, NAN },
  { "a price of 1e307", "prices", { { 2, 2, 2 }, 3, { 2 }, 1, { 1e307 }, 1, 0 }, SL_OUT_OF_RANGE, 1e9 },
  { "a kerf of 1e17 m", "kerf", { { 2, 3 }, 2, { 4 }, 1, { 20 }, 1, 1e17 }, SL_OUT_OF_RANGE, 1 },
  { "a kerf without end", "kerf", { { 2, 3 }, 2, { 4 }, 1, { 20 }, 1, INFINITY }, SL_BAD_INPUT, NAN },
  { "a piece of no length", "pieces", { { 2, 0 }, 2, { 4 }, 1, { 20 }, 1, 0 }, SL_BAD_INPUT, NAN },
  { "the least piece that a double can tell", "pieces",
    { { 5e-324 }, 1, { 4 }, 1, { 20 }, 1, 0 }, SL_OUT_OF_RANGE, 1e-3 },
  { "the least stick that a double can tell", "pieces", { { 5e-324 }, 1, { 5e-324 }, 1, { 20 }, 1, 0 }, SL_OUT_OF_RANGE,
    1e-3 },
  { "a stick shorter than what is cut", "lengths", { { 2 }, 1, { 4, 5e-324 }, 2, { 20, 20 }, 2, 0 }, SL_OUT_OF_RANGE,
    1e-3 },
  { "a price below nothing", "prices", { { 2 }, 1, { 4 }, 1, { -5e-324 }, 1, 0 }, SL_BAD_INPUT, NAN },
  { "a price that is none", "prices", { { 2 }, 1, { 4 }, 1, { NAN }, 1, 0 }, SL_BAD_INPUT, NAN },
};

static void beyond_is_refused(void **state) {
  const struct beyond *r = *state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_cut_stock_out out;
  assert_int_equal(cut(&r->in, &out, &sheet), r->status);
  assert_string_equal(sheet.fault.member, r->member);
  assert_true(*sheet.fault.text);
  if (isnan(r->limit)) assert_true(isnan(sheet.fault.limit));
  else assert_near(sheet.fault.limit, r->limit, 1e-12);
  if (r->status == SL_OUT_OF_RANGE) assert_true(*sheet.fault.cite);
}

/* A piece that is the stick and the hair that a sum may be off by: with its kerf it may round to more than the stick
 * with a kerf.  Either way there is an answer. */
static void a_piece_at_the_end_of_its_stick(void **state) {
  (void)state;
  unsigned seed = 5;
  int refused = 0, done = 0;
  for (int i = 0; i < 4000; i++) {
    struct cuts in = { .npieces = 1, .lengths = { 1 + 0.001 * draw(&seed, 9000) }, .nlengths = 1,
                                  .prices = { 10 }, .nprices = 1, .kerf = 0.0001 * draw(&seed, 60) };
    in.pieces[0] = in.lengths[0] + 1e-7;
    for (int k = (int)draw(&seed, 5) - 2; k; k += k < 0 ? 1 : -1)
      in.pieces[0] = nextafter(in.pieces[0], k < 0 ? 0 : 99);
    struct sl_cut_stock_out out;
    const enum sl_status status = cut(&in, &out, NULL);
    if (status == SL_OK) {
      plan_holds(&in, &out);
      done++;
    } else {
      assert_int_equal(status, SL_NO_ANSWER);
      refused++;
    }
  }
  assert_true(refused > 100 && done > 100);
}

/* Lengths, prices and kerfs of any size that a double has: a whole plan or a refusal with a name. */
static double any_size(unsigned *seed, unsigned wild) {
  return draw(seed, 100) < wild ? ldexp(1 + 0.001 * draw(seed, 1000), (int)draw(seed, 2098) - 1074)
                                : 0.001 * (1 + draw(seed, 9000));
}

static void any_size_ends(void **state) {
  (void)state;
  unsigned seed = 3;
  int plans = 0;
  for (int job = 0; job < 4000; job++) {
    const unsigned wild = job % 2 ? 30 : 3;
    struct cuts in = { .npieces = 1 + draw(&seed, 8), .nlengths = 1 + draw(&seed, 3),
                                  .kerf = any_size(&seed, wild) / 10 };
    in.nprices = in.nlengths;
    for (size_t j = 0; j < in.nlengths; j++) in.lengths[j] = any_size(&seed, wild);
    for (size_t j = 0; j < in.nlengths; j++) in.prices[j] = any_size(&seed, wild);
    for (size_t i = 0; i < in.npieces; i++) in.pieces[i] = any_size(&seed, wild) / 4;
    struct sl_sheet sheet = { .cap = 0 };
    struct sl_cut_stock_out out;
    if (cut(&in, &out, &sheet) == SL_OK) {
      plan_holds(&in, &out);
      plans++;
    } else assert_true(*sheet.fault.member && *sheet.fault.text);
  }
  assert_true(plans > 200);
}

static void another_piece_never_costs_less(void **state) {
  (void)state;
  struct cuts in = farm;
  double before = 0;
  for (size_t n = 1; n <= 6; n++) {
    struct sl_cut_stock_out out;
    in.npieces = n;
    assert_int_equal(cut(&in, &out, NULL), SL_OK);
    assert_true(out.total >= before);
    before = out.total;
  }
}

static void cut_stock_refuses(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_cut_stock_out out;
  struct cuts in = farm;
  in.pieces[4] = 145 * IN;
  assert_int_equal(cut(&in, &out, &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "pieces");
  assert_near(sheet.fault.value, 145 * IN, 1e-12);
  assert_near(sheet.fault.limit, 144 * IN, 1e-12);
  in = farm;
  in.pieces[2] = NAN;
  assert_int_equal(cut(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "pieces");
  in = farm;
  in.nprices = 2;
  assert_int_equal(cut(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "prices");
  in = farm;
  in.prices[1] = -1;
  assert_int_equal(cut(&in, &out, &sheet), SL_BAD_INPUT);
  in = farm;
  in.npieces = 0;
  assert_int_equal(cut(&in, &out, &sheet), SL_BAD_INPUT);
}

/* 10 000 pieces at most, in the words of the range; the room that the rest ask for is linear in their number. */
static void a_plan_has_an_end(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_cut_stock_out out;
  double *pieces = malloc(10001 * sizeof *pieces);
  const double length = 4, price = 7;
  assert_non_null(pieces);
  for (size_t i = 0; i < 10001; i++) pieces[i] = 1 + 1e-5 * (double)(i % 5000);
  struct sl_cut_stock_in in = { pieces, 10001, &length, 1, &price, 1, 0 };
  assert_int_equal(sl_cut_stock_need(&in), 0);
  assert_int_equal(sl_cut_stock(&in, &out, room_of(0), &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "pieces");
  assert_near(sheet.fault.limit, 10000, 1e-12);
  assert_non_null(strstr(sheet.fault.cite, "at most 10000 pieces"));
  /* Pieces of 1 m to 1.05 m: three to a stick of 4 m, 3334 sticks at least; by hand. */
  in.npieces = 10000;
  assert_true(sl_cut_stock_need(&in) < 4 << 20);
  assert_int_equal(sl_cut_stock(&in, &out, room_of(sl_cut_stock_need(&in)), &sheet), SL_OK);
  assert_int_equal(out.sticks, 3334);
  assert_near(out.total, 3334 * 7, 1e-12);
  free(pieces);
}

/* Room that is a byte short is refused before anything is written to it. */
static void less_room_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_cut_stock_out out;
  struct sl_spools_out spools;
  const size_t need = sl_cut_stock_need(&good_cut), wound = sl_spools_need(&good_spools);
  assert_int_equal(sl_cut_stock(&good_cut, &out, room_of(need), &sheet), SL_OK);
  assert_int_equal(sl_cut_stock(&good_cut, &out, room_of(need - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
  assert_near(sheet.fault.limit, (double)need, 1e-12);
  assert_int_equal(sl_spools(&good_spools, &spools, room_of(wound - 1), &sheet), SL_BAD_INPUT);
  assert_int_equal(sl_spools(&good_spools, &spools, (struct sl_space){ NULL, 0 }, &sheet), SL_BAD_INPUT);
}

/* Three cuts of 114 ft at $1.05/ft: 125 + 250 ft or three of 125, 375 ft either way, $393.75; 500 ft is $525.  By
 * hand. */
static void spools_by_hand(void **state) {
  (void)state;
  struct sl_spools_out out;
  assert_int_equal(wind(&pull, &out, NULL), SL_OK);
  assert_near(out.total, 393.75, 1e-9);
  assert_near(out.left / FT, 375 - 342, 1e-9);
  assert_int_equal(out.proven, 1);
  struct cuts in = pull;   /* the long spool cheaper a foot: 500 x 0.70 = $350 */
  in.prices[2] = 0.70 / FT;
  assert_int_equal(wind(&in, &out, NULL), SL_OK);
  assert_near(out.total, 350, 1e-9);
  assert_near(out.bought[2], 1, 1e-12);
  assert_int_equal(out.spools, 1);
  in = pull;   /* four cuts of 251 ft: no joint, so each takes a 500 ft spool of its own */
  for (size_t i = 0; i < 4; i++) in.pieces[i] = 251 * FT;
  in.npieces = 4;
  assert_int_equal(wind(&in, &out, NULL), SL_OK);
  assert_near(out.bought[2], 4, 1e-12);
  struct sl_sheet sheet = { .cap = 0 };
  in.pieces[3] = 501 * FT;
  assert_int_equal(wind(&in, &out, &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "cuts");
}

/* $1e307/ft: dear beyond any bill on a foot, and without end on a spool. */
static void spools_refuse(void **state) {
  (void)state;
  struct sl_spools_out out;
  struct sl_sheet sheet = { .cap = 0 };
  for (int k = 0; k < 3; k++) {
    struct cuts in = pull;
    for (int j = 0; j < 3; j++) in.prices[j] = (double[]){ 1e307 / FT, 5e307, 1e12 }[k];
    assert_int_equal(wind(&in, &out, &sheet), SL_OUT_OF_RANGE);
    assert_string_equal(sheet.fault.member, "prices");
    assert_true(*sheet.fault.cite);
  }
  struct cuts in = pull;
  in.lengths[1] = 1e17;
  assert_int_equal(wind(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "lengths");
}

static void a_bill_beyond_counting_is_refused(void **state) {
  (void)state;
  struct sl_extended_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_extended(&(struct sl_extended_in){ 1e200, 1e200 }, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "price");
  assert_int_equal(sl_extended(&(struct sl_extended_in){ 1e13, 1 }, &out, &sheet), SL_OUT_OF_RANGE);
  assert_int_equal(sl_extended(&(struct sl_extended_in){ 1e9, 1e3 }, &out, &sheet), SL_OK);
  assert_near(out.line, 1e12, 1e-12);
}

/* Half a cent up: exact decimal arithmetic by hand; 1.005 and 2.675 lie below their half cent in binary. */
static const struct bill { const char *name; double price, quantity, line; } bills[] = {
  { "1.005 is 1.01", 1.005, 1, 1.01 },
  { "2.675 is 2.68", 2.675, 1, 2.68 },
  { "1.0049 is 1.00", 1.0049, 1, 1.00 },
  { "24 bags of 6.40", 6.40, 24, 153.60 },
  { "1.05 x 342", 1.05, 342, 359.10 },
  { "0.125 is 0.13", 0.125, 1, 0.13 },
  { "nothing", 12, 0, 0 },
};

static void bill_matches(void **state) {
  const struct bill *r = *state;
  struct sl_extended_in in = { r->price, r->quantity };
  struct sl_extended_out out;
  assert_int_equal(sl_extended(&in, &out, NULL), SL_OK);
  assert_near(out.line, r->line, 1e-12);
}

static const struct op_case ops[] = {
  { "cut_stock", &good_cut }, { "spools", &good_spools }, { "extended", &line },
};

int main(void) {
  static struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, hands, hand_matches);
  ADD_ROWS(tests, n, bills, bill_matches);
  ADD_ROWS(tests, n, beyonds, beyond_is_refused);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(small_jobs_match_a_plain_search), cmocka_unit_test(few_sizes_match_a_plain_search),
    cmocka_unit_test(large_jobs_end),
    cmocka_unit_test(many_equal_pieces_are_proven),    cmocka_unit_test(another_piece_never_costs_less),
    cmocka_unit_test(cut_stock_refuses),               cmocka_unit_test(spools_by_hand),
    cmocka_unit_test(counts_at_the_edge),              cmocka_unit_test(a_piece_at_the_end_of_its_stick),
    cmocka_unit_test(any_size_ends),                   cmocka_unit_test(spools_refuse),
    cmocka_unit_test(a_bill_beyond_counting_is_refused), cmocka_unit_test(a_plan_has_an_end),
    cmocka_unit_test(less_room_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("cost", tests, n, NULL, NULL);
}
