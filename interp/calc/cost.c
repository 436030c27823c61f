/* SPDX-License-Identifier: MIT
 * Buying: the cheapest stock for a list of pieces, spools for cuts, a line of a bill.
 *
 * Stock is laid out stick by stick.  Each stick takes the longest piece left, then as many more as fit; every way to
 * do that is tried, the cheapest kept.  Nothing is lost by it: a plan whose stick has room for a piece of a later
 * stick may move it, and equal plans differ only in the order of their sticks, so one order is enough. */
#include "guard.h"
#include "stringline/cost.h"
#include <limits.h>
#include <stdbool.h>
#include <string.h>

#define SEARCH "cutting plan, all ways tried"
#define BEST_FOUND "cutting plan, best of those tried"
#define BILL "price times quantity"
#define RANGE "range of a cutting plan: lengths of 1 mm to 100 km, cuts of 1 m at most, sticks at 1e9 of money at most"

#define TOO_LITTLE "goes below what a plan is made for"
#define TOO_MUCH "goes beyond what a plan is made for"

enum { MOST_STEPS = 400000, DUALS = 6 };
static const double HAIR = 1e-7;   /* m: sums of lengths that differ by less are equal */
/* Within these a double tells every piece from the stick that it is cut from, and a sum of SL_PIECES of them is off by
 * less than a hair; no rate and no total overflows. */
static const double SHORTEST = 1e-3, LONGEST = 1e5, WIDEST_CUT = 1, DEAREST = 1e9, MOST_BILL = 1e12;

_Static_assert(SL_PIECES <= UCHAR_MAX, "a stick's count of a size is an unsigned char");

/* Pieces of one length. `need` is the length with its cut. */
struct size { double need; int left; };

/* Sticks laid out; what lies behind the last of them says nothing.  Large, so that nobody clears or copies it whole. */
struct sticks {
  int stock[SL_PIECES];                       /* [stick], an index into the order of stocks */
  unsigned char take[SL_PIECES][SL_PIECES];   /* [stick][size]; a stick takes a piece, so SL_PIECES are enough */
};

struct search {
  int nsizes, nstocks, nsticks, steps;
  struct size sizes[SL_PIECES];
  double room[SL_STOCKS], price[SL_STOCKS];   /* room is the stick and one cut: the last piece needs none at the end */
  int order[SL_STOCKS];                       /* stocks, cheapest per length first */
  double share[DUALS][SL_PIECES];             /* see least_cost */
  double step_price;                          /* every total is a multiple of it, or 0 */
  double best;
  int best_nsticks;
  struct sticks *now, *kept;                  /* nsticks and best_nsticks of them */
};

/* ---- what must be paid at least ---------------------------------------------------------------------------------- */

/* A function f on [0, 1] is fair if shares x that add up to at most 1 have f(x) that add up to at most 1.  k = 0 is
 * f(x) = x; the others round to steps of 1/k, keeping multiples of 1/(k + 1): Fekete and Schepers, "New classes of fast
 * lower bounds for bin packing problems", 2001. */
static double fair(int k, double x) {
  if (k == 0) return x;
  const double steps = (k + 1) * x, whole = floor(steps + 1e-9);
  return fabs(steps - whole) <= 1e-9 ? x : whole / k;
}

/* share[k][i]: the least of a stick's price that a piece of size i stands for, whatever stick it lies on. */
static void set_shares(struct search *s) {
  for (int k = 0; k < DUALS; k++)
    for (int i = 0; i < s->nsizes; i++) {
      s->share[k][i] = INFINITY;
      for (int j = 0; j < s->nstocks; j++)
        if (s->sizes[i].need <= s->room[j] + HAIR) {
          const double x = fmin(1, s->sizes[i].need / (s->room[j] + HAIR));
          s->share[k][i] = fmin(s->share[k][i], s->price[j] * fair(k, x));
        }
    }
}

static double least_cost(const struct search *s) {
  double least = 0;
  for (int k = 0; k < DUALS; k++) {
    double sum = 0;
    for (int i = 0; i < s->nsizes; i++) sum += s->sizes[i].left * s->share[k][i];
    least = fmax(least, sum);
  }
  return least;
}

/* Largest amount in whole hundredths that divides every price; 0 if a price has thousandths. */
static double common_step(const double *price, int n) {
  long long step = 0;
  for (int j = 0; j < n; j++) {
    if (!(price[j] < 1e12)) return 0;
    const double cents = price[j] * 100;
    if (fabs(cents - floor(cents + 0.5)) > 1e-6) return 0;
    long long a = (long long)floor(cents + 0.5), b = step;
    while (b) {
      const long long rest = a % b;
      a = b;
      b = rest;
    }
    step = a;
  }
  return (double)step / 100;
}

static bool hopeless(const struct search *s, double spent) {
  double total = spent + least_cost(s);
  if (s->step_price > 0) total = ceil(total / s->step_price - 1e-6) * s->step_price;
  return total >= s->best * (1 - 1e-12);
}

/* ---- the search -------------------------------------------------------------------------------------------------- */

static void keep(struct search *s, double spent) {
  if (spent >= s->best * (1 - 1e-12)) return;
  s->best = spent;
  s->best_nsticks = s->nsticks;
  memcpy(s->kept->stock, s->now->stock, (size_t)s->nsticks * sizeof *s->now->stock);
  memcpy(s->kept->take, s->now->take, (size_t)s->nsticks * sizeof *s->now->take);
}

static int longest_left(const struct search *s) {
  for (int i = 0; i < s->nsizes; i++)
    if (s->sizes[i].left > 0) return i;
  return -1;
}

/* A stick that leads with the same length as the one before comes after it: equal plans once. */
static bool in_order(const struct search *s, int stick, int lead) {
  if (stick == 0 || s->now->take[stick - 1][lead] == 0) return true;
  for (int i = 0; i < lead; i++)
    if (s->now->take[stick - 1][i]) return true;
  if (s->now->stock[stick] != s->now->stock[stick - 1]) return s->now->stock[stick] > s->now->stock[stick - 1];
  return memcmp(s->now->take[stick], s->now->take[stick - 1], sizeof *s->now->take) <= 0;
}

/* Would a cheaper stick hold what lies on this one? */
static bool overpaid(const struct search *s, int stick, double left_over) {
  const int mine = s->order[s->now->stock[stick]];
  const double used = s->room[mine] - left_over;
  for (int o = 0; o < s->nstocks; o++) {
    const int j = s->order[o];
    const bool cheaper = s->price[j] < s->price[mine] || (!(s->price[mine] < s->price[j]) && o < s->now->stock[stick]);
    if (cheaper && used <= s->room[j] + HAIR) return true;
  }
  return false;
}

static void next_stick(struct search *s, double spent);

/* Fills the stick with sizes from `i` on, most of each first. */
static void fill(struct search *s, int lead, int i, double room, double spent) {
  const int stick = s->nsticks;
  while (i < s->nsizes && (s->sizes[i].left == 0 || s->sizes[i].need > room + HAIR)) i++;
  if (s->steps++ >= MOST_STEPS) return;
  if (i < s->nsizes) {
    struct size *size = &s->sizes[i];
    const int fit = (int)floor(fmin((room + HAIR) / size->need, SL_PIECES));
    const int most = fit < size->left ? fit : size->left;
    for (int n = most; n >= (i == lead); n--) {
      s->now->take[stick][i] = (unsigned char)n;
      size->left -= n;
      fill(s, lead, i + 1, room - n * size->need, spent);
      size->left += n;
    }
    s->now->take[stick][i] = 0;
    return;
  }
  for (int k = lead; k < s->nsizes; k++)
    if (s->sizes[k].left > 0 && s->sizes[k].need <= room + HAIR) return;   /* another piece fits: not full */
  if (!in_order(s, stick, lead) || overpaid(s, stick, room)) return;
  s->nsticks++;
  next_stick(s, spent + s->price[s->order[s->now->stock[stick]]]);
  s->nsticks--;
}

static void next_stick(struct search *s, double spent) {
  const int lead = longest_left(s);
  if (lead < 0) {
    keep(s, spent);
    return;
  }
  if (s->nsticks == SL_PIECES || hopeless(s, spent)) return;
  memset(s->now->take[s->nsticks], 0, sizeof *s->now->take);
  for (int o = 0; o < s->nstocks; o++) {
    const double room = s->room[s->order[o]];
    if (s->sizes[lead].need > room + HAIR) continue;
    s->now->stock[s->nsticks] = o;
    fill(s, lead, lead, room, spent);
  }
}

/* A first plan, so that the search has something to beat: each stick filled longest first, the stock that wastes least
 * money per length laid out.  False: a piece fits no stock. */
static bool first_plan(struct search *s) {
  struct size start[SL_PIECES];
  memcpy(start, s->sizes, sizeof start);
  double spent = 0;
  for (int lead; (lead = longest_left(s)) >= 0; s->nsticks++) {
    double best_rate = INFINITY;
    int best_stock = 0;
    unsigned char best_take[SL_PIECES] = { 0 };
    for (int o = 0; o < s->nstocks; o++) {
      const int j = s->order[o];
      unsigned char take[SL_PIECES] = { 0 };
      double room = s->room[j];
      if (s->sizes[lead].need > room + HAIR) continue;
      for (int i = lead; i < s->nsizes; i++)
        for (; take[i] < s->sizes[i].left && s->sizes[i].need <= room + HAIR; take[i]++) room -= s->sizes[i].need;
      const double rate = s->price[j] / (s->room[j] - room);
      if (!(rate < best_rate)) continue;
      best_rate = rate;
      best_stock = o;
      memcpy(best_take, take, sizeof take);
    }
    if (s->nsticks == SL_PIECES || best_take[lead] == 0) return false;
    memcpy(s->now->take[s->nsticks], best_take, sizeof best_take);
    for (int i = 0; i < s->nsizes; i++) s->sizes[i].left -= best_take[i];
    s->now->stock[s->nsticks] = best_stock;
    spent += s->price[s->order[best_stock]];
  }
  keep(s, spent);
  s->nsticks = 0;
  memcpy(s->sizes, start, sizeof start);
  return true;
}

/* ---- the caller's view ------------------------------------------------------------------------------------------- */

struct job {
  const double *pieces; size_t npieces;
  const double *lengths; size_t nlengths;
  const double *prices;                       /* a stick */
  double kerf;
};

static bool alike(double a, double b) { return fabs(a - b) <= HAIR; }

/* Longest first; of equal pieces the caller's order. */
static void sort_pieces(const struct job *job, size_t *by_length) {
  for (size_t i = 0; i < job->npieces; i++) {
    size_t at = i;
    for (; at > 0 && job->pieces[by_length[at - 1]] < job->pieces[i] - HAIR; at--) by_length[at] = by_length[at - 1];
    by_length[at] = i;
  }
}

static void prepare(struct search *s, const struct job *job, const size_t *by_length) {
  s->nstocks = (int)job->nlengths;
  for (size_t i = 0; i < job->npieces; i++) {
    const double need = job->pieces[by_length[i]] + job->kerf;
    if (s->nsizes == 0 || !alike(need, s->sizes[s->nsizes - 1].need)) s->sizes[s->nsizes++].need = need;
    s->sizes[s->nsizes - 1].left++;
  }
  for (int j = 0; j < s->nstocks; j++) {
    s->room[j] = job->lengths[j] + job->kerf;
    s->price[j] = job->prices[j];
    int at = j;
    for (; at > 0; at--) {
      const int before = s->order[at - 1];
      const double mine = s->price[j] * s->room[before], theirs = s->price[before] * s->room[j];
      if (mine > theirs || (!(mine < theirs) && s->room[j] <= s->room[before])) break;
      s->order[at] = before;
    }
    s->order[at] = j;
  }
  s->step_price = common_step(s->price, s->nstocks);
  set_shares(s);
}

/* Writes the best plan piece by piece.  A cut that would end beyond the stick's end is not made: nothing is left. */
static void lay_out(const struct search *s, const struct job *job, const size_t *by_length,
                    struct sl_cut_stock_out *out) {
  size_t next[SL_PIECES], at = 0;
  for (int i = 0; i < s->nsizes; i++) {
    next[i] = at;
    at += (size_t)s->sizes[i].left;
  }
  *out = (struct sl_cut_stock_out){ .total = s->best, .sticks = s->best_nsticks, .nbought = job->nlengths,
    .nstick = job->npieces, .nstock_of_stick = (size_t)s->best_nsticks, .noffcuts = (size_t)s->best_nsticks,
    .proven = s->steps <= MOST_STEPS };
  for (int stick = 0; stick < s->best_nsticks; stick++) {
    const int stock = s->order[s->kept->stock[stick]];
    double left = job->lengths[stock];
    for (int i = 0; i < s->nsizes; i++)
      for (int n = 0; n < s->kept->take[stick][i]; n++) {
        const size_t piece = by_length[next[i]++];
        out->stick[piece] = stick + 1;
        left -= job->pieces[piece] + job->kerf;
      }
    out->bought[stock] += 1;
    out->stock_of_stick[stick] = stock + 1;
    out->offcuts[stick] = left > HAIR ? left : 0;
    out->offcut += out->offcuts[stick];
  }
}

static enum sl_status plan(const char *pieces_name, const struct job *job, struct sl_cut_stock_out *out,
                           struct sl_sheet *sh) {
  struct sticks now, kept;
  struct search s = { .best = INFINITY, .now = &now, .kept = &kept };
  size_t by_length[SL_PIECES];
  sort_pieces(job, by_length);
  prepare(&s, job, by_length);
  if (!first_plan(&s))
    return sl_sheet_fault(sh, SL_NO_ANSWER, pieces_name, "cannot be cut from these stock lengths", RANGE, NAN, NAN,
                          SL_LENGTH);
  next_stick(&s, 0);
  lay_out(&s, job, by_length, out);
  return SL_OK;
}

/* ---- the primitives ---------------------------------------------------------------------------------------------- */

/* Checks one list of a job, by the caller's name for it: how many, every one within the range of a plan. */
static enum sl_status check_list(const char *name, const double *list, size_t n, size_t most_items, double least,
                                 double most, enum sl_dim dim, struct sl_sheet *sh) {
  const bool may_be_0 = !(least > 0);
  if (n == 0 || n > most_items)
    return sl_sheet_fault(sh, SL_BAD_INPUT, name, n ? "holds too many items" : "is empty", "", (double)n,
                          (double)most_items, SL_NUMBER);
  for (size_t i = 0; i < n; i++)
    if (!((list[i] > 0 || (may_be_0 && list[i] >= 0)) && isfinite(list[i])))
      return sl_sheet_fault(sh, SL_BAD_INPUT, name, may_be_0 ? "must none be negative" : "must all be positive", "",
                            list[i], NAN, dim);
  for (size_t i = 0; i < n; i++) {
    if (list[i] < least) return sl_sheet_fault(sh, SL_OUT_OF_RANGE, name, TOO_LITTLE, RANGE, list[i], least, dim);
    if (list[i] > most) return sl_sheet_fault(sh, SL_OUT_OF_RANGE, name, TOO_MUCH, RANGE, list[i], most, dim);
  }
  return SL_OK;
}

static enum sl_status check_lengths(const char *pieces_name, const struct job *job, size_t nprices,
                                    struct sl_sheet *sh) {
  enum sl_status status = check_list(pieces_name, job->pieces, job->npieces, SL_PIECES, SHORTEST, LONGEST, SL_LENGTH,
                                     sh);
  if (status == SL_OK)
    status = check_list("lengths", job->lengths, job->nlengths, SL_STOCKS, SHORTEST, LONGEST, SL_LENGTH, sh);
  if (status != SL_OK) return status;
  if (nprices != job->nlengths)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "prices", "must be as many as lengths", "", (double)nprices,
                          (double)job->nlengths, SL_NUMBER);
  double longest = 0;
  for (size_t j = 0; j < job->nlengths; j++) longest = fmax(longest, job->lengths[j]);
  for (size_t i = 0; i < job->npieces; i++)     /* the sums that the search compares, rounded as they are there */
    if (job->pieces[i] + job->kerf > longest + job->kerf + HAIR)
      return sl_sheet_fault(sh, SL_NO_ANSWER, pieces_name, "holds one that is longer than every stock length", "",
                            job->pieces[i], longest, SL_LENGTH);
  return SL_OK;
}

enum sl_status sl_cut_stock(const struct sl_cut_stock_in *in, struct sl_cut_stock_out *out, struct sl_sheet *sh) {
  const struct job job = { in->pieces, in->npieces, in->lengths, in->nlengths, in->prices, in->kerf };
  NOT_NEGATIVE(sh, in, kerf, SL_LENGTH);
  WITHIN(sh, "kerf", in->kerf, <=, WIDEST_CUT, TOO_MUCH, RANGE, SL_LENGTH);
  enum sl_status status = check_lengths("pieces", &job, in->nprices, sh);
  if (status == SL_OK)
    status = check_list("prices", in->prices, in->nprices, SL_STOCKS, 0, DEAREST, SL_MONEY, sh);
  if (status == SL_OK) status = plan("pieces", &job, out, sh);
  if (status != SL_OK) return status;
  const char *cite = out->proven ? SEARCH : BEST_FOUND;
  double so_far = 0;
  for (size_t j = 0; j < in->nlengths; j++) {
    if (!(out->bought[j] > 0)) continue;
    GIVEN(sh, SL_MONEY, spent, so_far);
    GIVEN(sh, SL_MONEY, price, in->prices[j]);
    LOOKUP(sh, SL_NUMBER, sticks, out->bought[j], "sticks of this price", cite, SL_DERIVED);
    STEP(sh, SL_MONEY, total, spent + sticks * price, BILL);
    so_far = total;
  }
  GIVES(sh, out, total, so_far);
  return SL_OK;
}

enum sl_status sl_spools(const struct sl_spools_in *in, struct sl_spools_out *out, struct sl_sheet *sh) {
  double whole[SL_STOCKS];   /* price of a spool */
  const struct job lists = { in->cuts, in->ncuts, in->lengths, in->nlengths, in->prices, 0 };
  enum sl_status status = check_lengths("cuts", &lists, in->nprices, sh);
  if (status == SL_OK)
    status = check_list("prices", in->prices, in->nprices, SL_STOCKS, 0, INFINITY, SL_PER_LENGTH, sh);
  if (status != SL_OK) return status;
  for (size_t j = 0; j < in->nlengths; j++) whole[j] = in->prices[j] * in->lengths[j];
  for (size_t j = 0; j < in->nlengths; j++)
    WITHIN(sh, "prices", whole[j], <=, DEAREST, "times the length goes beyond what a plan is made for", RANGE,
           SL_MONEY);
  struct job job = lists;
  job.prices = whole;
  struct sl_cut_stock_out cut;
  status = plan("cuts", &job, &cut, sh);
  if (status != SL_OK) return status;
  *out = (struct sl_spools_out){ .nbought = cut.nbought, .spools = cut.sticks, .nspool_of_cut = cut.nstick,
                                 .nstock_of_spool = cut.nstock_of_stick, .left = cut.offcut, .proven = cut.proven };
  memcpy(out->bought, cut.bought, sizeof out->bought);
  memcpy(out->spool_of_cut, cut.stick, sizeof out->spool_of_cut);
  memcpy(out->stock_of_spool, cut.stock_of_stick, sizeof out->stock_of_spool);
  const char *cite = cut.proven ? SEARCH : BEST_FOUND;
  for (size_t j = 0; j < in->nlengths; j++) {
    if (!(out->bought[j] > 0)) continue;
    GIVEN(sh, SL_MONEY, spent, out->total);
    GIVEN(sh, SL_LENGTH, length, in->lengths[j]);
    GIVEN(sh, SL_PER_LENGTH, price, in->prices[j]);
    LOOKUP(sh, SL_NUMBER, spools, out->bought[j], "spools of this length", cite, SL_DERIVED);
    STEP(sh, SL_MONEY, total, spent + spools * length * price, BILL);
    GIVES(sh, out, total, total);
  }
  return SL_OK;
}

enum sl_status sl_extended(const struct sl_extended_in *in, struct sl_extended_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, price, SL_MONEY);
  NOT_NEGATIVE(sh, in, quantity, SL_NUMBER);
  WITHIN(sh, "price", in->price * in->quantity, <=, MOST_BILL, "times quantity is a sum that is not kept to the cent",
         "a bill of at most 1e12 of money", SL_MONEY);
  GIVEN(sh, SL_MONEY, p, in->price);
  GIVEN(sh, SL_NUMBER, q, in->quantity);
  STEP(sh, SL_MONEY, line, floor(p * q * 100 + 0.5 + 1e-6) / 100, "half a cent up; a millionth is for binary noise");
  GIVES(sh, out, line, line);
  return SL_OK;
}
