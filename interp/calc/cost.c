/* SPDX-License-Identifier: MIT
 * Buying: the cheapest stock for a list of pieces, spools for cuts, a line of a bill.
 *
 * Stock is laid out stick by stick.  Each stick takes the longest piece left, then as many more as fit; every way to
 * do that is tried, the cheapest kept.  Nothing is lost by it: a plan whose stick has room for a piece of a later
 * stick may move it, and equal plans differ only in the order of their sticks, so one order is enough. */
#include "guard.h"
#include "room.h"
#include "stringline/cost.h"
#include <stdbool.h>
#include <string.h>

#define SEARCH "cutting plan, all ways tried"
#define BEST_FOUND "cutting plan, best of those tried"
#define BILL "price times quantity"
#define RANGE "range of a cutting plan: at most 10000 pieces and 1000 stock lengths of 1 mm to 100 km, " \
              "cuts of 1 m at most, sticks at 1e9 of money at most"

#define TOO_LITTLE "goes below what a plan is made for"
#define TOO_MUCH "goes beyond what a plan is made for"
#define TOO_MANY "holds more than a plan is made for"

/* MOST_WORK ends the search of a plan with many different lengths, whose steps are long: what is cheaper is found early
 * or hardly at all.  A first plan that took MOST_PLANNED looks for no better stock any more. */
enum { MOST_STEPS = 400000, MOST_WORK = 8000000, MOST_PLANNED = 200000000, DUALS = 6, MOST_PIECES = 10000,
       MOST_STOCKS = 1000 };
static const double HAIR = 1e-7;   /* m: sums of lengths that differ by less are equal */
/* Within these a double tells every piece from the stick that it is cut from, and a sum of MOST_PIECES of them on a
 * stick is off by less than a hair; no rate and no total overflows. */
static const double SHORTEST = 1e-3, LONGEST = 1e5, WIDEST_CUT = 1, DEAREST = 1e9, MOST_BILL = 1e12;

/* Pieces of one length. `need` is the length with its cut; left of all are not on a stick yet. */
struct size { double need; int all, left; };

/* So many pieces of a size on a stick.  Those of a stick stand by size, the longest first. */
struct take { int size, n; };

/* Sticks laid out: stick k is of stock[k], an index into the order of stocks, and has the takes first[k] to
 * first[k + 1] - 1.  A stick has a piece and a take has one, so that as many as there are pieces are enough. */
struct sticks {
  int n;
  int *stock, *first;
  struct take *takes;
};

struct search {
  int nsizes, nstocks, steps, work;
  size_t planned;                             /* operations before the search */
  struct size *sizes;
  double *room, *price;                       /* room is the stick and one cut: the last piece needs none at the end */
  int *order;                                 /* stocks, cheapest per length first */
  double *share[DUALS];                       /* see least_cost */
  double step_price;                          /* every total is a multiple of it, or 0 */
  double best;
  struct sticks now, kept;
  double *spent;                              /* [stick of now]: before it is bought */
  double *owed;                               /* [DUALS of each stick of now]: shares of what was left before it */
  double *before;                             /* [take of now]: room on its stick before it */
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

/* The least that what is left costs, behind the sticks of now: what it was before the last of them, less what lies on
 * that one. */
static double least_cost(const struct search *s) {
  const int n = s->now.n;
  double *owed = s->owed + (size_t)n * DUALS, least = 0;
  for (int k = 0; k < DUALS; k++) {
    double sum = 0;
    if (n == 0)
      for (int i = 0; i < s->nsizes; i++) sum += s->sizes[i].left * s->share[k][i];
    else {
      sum = owed[k - DUALS];
      for (int t = s->now.first[n - 1]; t < s->now.first[n]; t++)
        sum -= s->now.takes[t].n * s->share[k][s->now.takes[t].size];
    }
    owed[k] = sum;
    if (sum > least) least = sum;
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

static int takes_of(const struct sticks *sticks) { return sticks->first[sticks->n]; }

static void keep(struct search *s, double spent) {
  if (spent >= s->best * (1 - 1e-12)) return;
  s->best = spent;
  s->kept.n = s->now.n;
  memcpy(s->kept.stock, s->now.stock, (size_t)s->now.n * sizeof *s->now.stock);
  memcpy(s->kept.first, s->now.first, (size_t)(s->now.n + 1) * sizeof *s->now.first);
  memcpy(s->kept.takes, s->now.takes, (size_t)takes_of(&s->now) * sizeof *s->now.takes);
}

/* Of those that are not longer than size `from`. */
static int longest_left(const struct search *s, int from) {
  for (int i = from; i < s->nsizes; i++)
    if (s->sizes[i].left > 0) return i;
  return -1;
}

/* What a stick of now leads with; nothing longer is left behind it. */
static int lead_of(const struct search *s, int stick) {
  return stick < 0 ? 0 : s->now.takes[s->now.first[stick]].size;
}

/* The longest size from `from` on that fits the room, left or not. */
static int longest_in(const struct search *s, int from, double room) {
  int low = from, high = s->nsizes;
  while (low < high) {
    const int mid = low + (high - low) / 2;
    if (s->sizes[mid].need > room + HAIR) low = mid + 1;
    else high = mid;
  }
  return low;
}

/* More of the longest pieces first: above 0 if a stick's takes come before another's. */
static int compared(const struct take *a, const struct take *a_end, const struct take *b, const struct take *b_end) {
  for (; a < a_end && b < b_end; a++, b++) {
    if (a->size != b->size) return b->size - a->size;
    if (a->n != b->n) return a->n - b->n;
  }
  return (a < a_end) - (b < b_end);
}

/* A stick that leads with the same length as the one before comes after it: equal plans once. */
static bool in_order(const struct sticks *now, int stick) {
  if (stick == 0) return true;
  const struct take *last = now->takes + now->first[stick - 1], *mine = now->takes + now->first[stick];
  if (last->size != mine->size) return true;
  if (now->stock[stick] != now->stock[stick - 1]) return now->stock[stick] > now->stock[stick - 1];
  return compared(mine, now->takes + takes_of(now), last, mine) <= 0;
}

/* Would a cheaper stick hold what lies on this one? */
static bool overpaid(const struct search *s, int stick, double left_over) {
  const int mine = s->order[s->now.stock[stick]];
  const double used = s->room[mine] - left_over;
  for (int o = 0; o < s->nstocks; o++) {
    const int j = s->order[o];
    const bool cheaper = s->price[j] < s->price[mine] || (!(s->price[mine] < s->price[j]) && o < s->now.stock[stick]);
    if (cheaper && used <= s->room[j] + HAIR) return true;
  }
  return false;
}

/* The last stick takes n of a size. */
static void put(struct search *s, int size, int n, double room) {
  const int at = s->now.first[s->now.n]++;
  s->now.takes[at] = (struct take){ size, n };
  s->before[at] = room;
  s->sizes[size].left -= n;
}

/* A stick more, nothing on it: true.  False where all is laid out, which is kept, or where it cannot get cheaper. */
static bool open_stick(struct search *s, double spent) {
  if (longest_left(s, lead_of(s, s->now.n - 1)) < 0) {
    keep(s, spent);
    return false;
  }
  s->work += s->nsizes;
  if (hopeless(s, spent)) return false;
  s->now.stock[s->now.n] = -1;
  s->spent[s->now.n] = spent;
  s->now.n++;
  s->now.first[s->now.n] = s->now.first[s->now.n - 1];
  return true;
}

/* The next stock that holds the longest piece left is the last stick's; false: there is none. */
static bool next_stock(struct search *s, int lead) {
  int *o = &s->now.stock[s->now.n - 1];
  while (++*o < s->nstocks)
    if (s->sizes[lead].need <= s->room[s->order[*o]] + HAIR) return true;
  return false;
}

/* Is the last stick worth keeping as it is: full, in order, of the cheapest stock? */
static bool whole(const struct search *s, double room) {
  const int stick = s->now.n - 1;
  if (longest_left(s, longest_in(s, lead_of(s, stick), room)) >= 0) return false;     /* another piece fits: not full */
  return in_order(&s->now, stick) && !overpaid(s, stick, room);
}

/* One piece less of the last take of the last stick; false where that stick has none any more, or would lose its lead.
 * Then *i is the size to go on with, *room what there is for it. */
static bool take_back(struct search *s, int *i, double *room) {
  const int stick = s->now.n - 1, first = s->now.first[stick], at = s->now.first[s->now.n] - 1;
  if (at < first) return false;
  struct take *last = &s->now.takes[at];
  const bool leads = at == first;
  s->sizes[last->size].left++;
  last->n--;
  *i = last->size + 1;
  *room = s->before[at] - last->n * s->sizes[last->size].need;
  if (last->n == 0) s->now.first[s->now.n]--;
  return last->n > 0 || !leads;
}

/* Every way to lay the pieces out, each stick filled with most of each size first.  The sticks and takes of `now` are
 * its way back: it calls nothing again that is not done. */
static void try_all(struct search *s) {
  enum { STOCK, FILL, BACK } next = STOCK;
  int i = 0;
  double room = 0;
  if (!open_stick(s, 0)) return;
  while (s->now.n > 0) {
    const int stick = s->now.n - 1;
    if (next == STOCK) {
      const int lead = longest_left(s, lead_of(s, stick - 1));
      next = FILL;
      i = lead;
      if (next_stock(s, lead)) room = s->room[s->order[s->now.stock[stick]]];
      else {
        s->now.n--;
        next = BACK;
      }
    } else if (next == FILL) {
      i = longest_in(s, i, room);
      while (i < s->nsizes && s->sizes[i].left == 0) i++;
      s->work += s->nsizes;
      if (s->steps++ >= MOST_STEPS || s->work > MOST_WORK) return;
      if (i < s->nsizes) {
        const int n = (int)floor(fmin((room + HAIR) / s->sizes[i].need, s->sizes[i].left));
        put(s, i, n, room);
        room -= n * s->sizes[i++].need;
      } else {
        const double price = s->price[s->order[s->now.stock[stick]]];
        next = whole(s, room) && open_stick(s, s->spent[stick] + price) ? STOCK : BACK;
      }
    } else next = take_back(s, &i, &room) ? FILL : STOCK;
  }
}

/* Fills a stick of the stock j with the longest first, `put` or not; gives the room that is left. */
static double greedy(struct search *s, int lead, int j, bool putting) {
  double room = s->room[j];
  s->planned += (size_t)(s->nsizes - lead);
  for (int i = lead; i < s->nsizes; i++) {
    int n = 0;
    const double before = room;
    for (; n < s->sizes[i].left && s->sizes[i].need <= room + HAIR; n++) room -= s->sizes[i].need;
    s->planned += (size_t)n;
    if (n && putting) put(s, i, n, before);
  }
  return room;
}

/* A first plan, so that the search has something to beat: each stick filled longest first, the stock that wastes least
 * money per length laid out.  False: a piece fits no stock. */
static bool first_plan(struct search *s) {
  double spent = 0;
  for (int lead = 0; (lead = longest_left(s, lead)) >= 0;) {
    double best_rate = INFINITY;
    int best_stock = -1;
    for (int o = 0; o < s->nstocks; o++) {
      const int j = s->order[o];
      if (s->sizes[lead].need > s->room[j] + HAIR) continue;
      if (best_stock >= 0 && s->planned > MOST_PLANNED) break;
      const double rate = s->price[j] / (s->room[j] - greedy(s, lead, j, false));
      if (!(rate < best_rate)) continue;
      best_rate = rate;
      best_stock = o;
    }
    if (best_stock < 0) return false;
    s->now.stock[s->now.n++] = best_stock;
    s->now.first[s->now.n] = s->now.first[s->now.n - 1];
    greedy(s, lead, s->order[best_stock], true);
    spent += s->price[s->order[best_stock]];
  }
  keep(s, spent);
  s->now.n = 0;
  for (int i = 0; i < s->nsizes; i++) s->sizes[i].left = s->sizes[i].all;
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

/* Longest first; of equal pieces the caller's order.  Gives how many places pieces were moved. */
static size_t sort_pieces(const struct job *job, size_t *by_length) {
  size_t moved = 0;
  for (size_t i = 0; i < job->npieces; i++) {
    size_t at = i;
    for (; at > 0 && job->pieces[by_length[at - 1]] < job->pieces[i] - HAIR; at--) by_length[at] = by_length[at - 1];
    by_length[at] = i;
    moved += i - at;
  }
  return moved;
}

static void prepare(struct search *s, const struct job *job, const size_t *by_length) {
  s->nstocks = (int)job->nlengths;
  for (size_t i = 0; i < job->npieces; i++) {
    const double need = job->pieces[by_length[i]] + job->kerf;
    if (s->nsizes == 0 || !alike(need, s->sizes[s->nsizes - 1].need))
      s->sizes[s->nsizes++] = (struct size){ .need = need };
    s->sizes[s->nsizes - 1].all = ++s->sizes[s->nsizes - 1].left;
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
  s->planned += (size_t)s->nstocks * (size_t)(s->nstocks + DUALS * 4 * s->nsizes);
}

/* Writes the best plan piece by piece.  A cut that would end beyond the stick's end is not made: nothing is left. */
static void lay_out(const struct search *s, const struct job *job, const size_t *by_length, struct sl_space *space,
                    struct sl_cut_stock_out *out) {
  const size_t sticks = (size_t)s->kept.n;
  double *bought = PART(space, double, job->nlengths), *stick_of = PART(space, double, job->npieces),
         *stock_of = PART(space, double, job->npieces), *offcuts = PART(space, double, job->npieces);
  int *next = PART(space, int, job->npieces);      /* [size]: its next piece, of those by length */
  for (int i = 0, at = 0; i < s->nsizes; at += s->sizes[i++].all) next[i] = at;
  for (size_t j = 0; j < job->nlengths; j++) bought[j] = 0;
  *out = (struct sl_cut_stock_out){
    .total = s->best, .sticks = s->kept.n, .bought = bought, .nbought = job->nlengths, .stick = stick_of,
    .nstick = job->npieces, .stock_of_stick = stock_of, .nstock_of_stick = sticks, .offcuts = offcuts,
    .noffcuts = sticks, .proven = s->steps <= MOST_STEPS && s->work <= MOST_WORK };
  for (size_t k = 0; k < sticks; k++) {
    const int stock = s->order[s->kept.stock[k]];
    double left = job->lengths[stock];
    for (int t = s->kept.first[k]; t < s->kept.first[k + 1]; t++)
      for (int n = 0; n < s->kept.takes[t].n; n++) {
        const size_t piece = by_length[next[s->kept.takes[t].size]++];
        stick_of[piece] = (double)k + 1;
        left -= job->pieces[piece] + job->kerf;
      }
    bought[stock] += 1;
    stock_of[k] = stock + 1;
    offcuts[k] = left > HAIR ? left : 0;
    out->offcut += offcuts[k];
  }
}

static size_t sticks_need(size_t so_far, size_t n) {
  return NEED(NEED(NEED(so_far, int, n), int, n + 1), struct take, n);
}

static struct sticks sticks_in(struct sl_space *space, size_t n) {
  struct sticks sticks = { .n = 0 };
  sticks.stock = PART(space, int, n);
  sticks.first = PART(space, int, n + 1);
  sticks.takes = PART(space, struct take, n);
  sticks.first[0] = 0;
  return sticks;
}

/* For a plan and the search for it; 0 where there is nothing to plan or more than a plan is made for. */
static size_t plan_need(size_t npieces, size_t nlengths) {
  if (npieces == 0 || npieces > MOST_PIECES || nlengths == 0 || nlengths > MOST_STOCKS) return 0;
  size_t need = NEED(NEED(0, size_t, npieces), struct size, npieces);
  for (int k = 0; k < DUALS; k++) need = NEED(need, double, npieces);
  need = NEED(NEED(NEED(need, double, nlengths), double, nlengths), int, nlengths);
  need = sticks_need(sticks_need(need, npieces), npieces);
  need = NEED(NEED(NEED(need, double, npieces), double, npieces * DUALS), double, npieces);
  need = NEED(NEED(NEED(need, double, npieces), double, npieces), double, npieces);
  return NEED(NEED(need, double, nlengths), int, npieces);
}

static enum sl_status plan(const char *pieces_name, const struct job *job, struct sl_cut_stock_out *out,
                           struct sl_space space, struct sl_sheet *sh) {
  const size_t n = job->npieces;
  size_t *by_length = PART(&space, size_t, n);
  struct search s = { .best = INFINITY, .sizes = PART(&space, struct size, n) };
  for (int k = 0; k < DUALS; k++) s.share[k] = PART(&space, double, n);
  s.room = PART(&space, double, job->nlengths);
  s.price = PART(&space, double, job->nlengths);
  s.order = PART(&space, int, job->nlengths);
  s.now = sticks_in(&space, n);
  s.kept = sticks_in(&space, n);
  s.spent = PART(&space, double, n);
  s.owed = PART(&space, double, n * DUALS);
  s.before = PART(&space, double, n);
  s.planned = sort_pieces(job, by_length);
  prepare(&s, job, by_length);
  const bool planned = first_plan(&s);
  if (planned) try_all(&s);
  WORKED(sh, s.planned + 4 * (size_t)s.work + (size_t)s.steps * job->nlengths);
  if (!planned)
    return sl_sheet_fault(sh, SL_NO_ANSWER, pieces_name, "cannot be cut from these stock lengths", RANGE, NAN, NAN,
                          SL_LENGTH);
  lay_out(&s, job, by_length, &space, out);
  return SL_OK;
}

/* ---- the primitives ---------------------------------------------------------------------------------------------- */

/* Checks one list of a job, by the caller's name for it: every item within the range of a plan. */
static enum sl_status check_list(const char *name, const double *list, size_t n, size_t most_items, double least,
                                 double most, enum sl_dim dim, struct sl_sheet *sh) {
  const bool may_be_0 = !(least > 0);
  if (n == 0) return sl_sheet_fault(sh, SL_BAD_INPUT, name, "is empty", "", 0, NAN, SL_NUMBER);
  if (n > most_items)
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, name, TOO_MANY, RANGE, (double)n, (double)most_items, SL_NUMBER);
  for (size_t i = 0; i < n; i++)
    if (!((list[i] > 0 || (may_be_0 && list[i] >= 0)) && isfinite(list[i])))
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, name, may_be_0 ? "must not be negative" : "must be "
                                               "greater than 0", "", list[i], NAN, dim));
  for (size_t i = 0; i < n; i++) {
    if (list[i] < least || list[i] > most)
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_OUT_OF_RANGE, name, list[i] < least ? TOO_LITTLE : TOO_MUCH,
                                               RANGE, list[i], list[i] < least ? least : most, dim));
  }
  return SL_OK;
}

static enum sl_status check_lengths(const char *pieces_name, const struct job *job, size_t nprices,
                                    struct sl_sheet *sh) {
  enum sl_status status = check_list(pieces_name, job->pieces, job->npieces, MOST_PIECES, SHORTEST, LONGEST, SL_LENGTH,
                                     sh);
  if (status == SL_OK)
    status = check_list("lengths", job->lengths, job->nlengths, MOST_STOCKS, SHORTEST, LONGEST, SL_LENGTH, sh);
  if (status != SL_OK) return status;
  if (nprices != job->nlengths)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "prices", "must be as many as lengths", "", (double)nprices,
                          (double)job->nlengths, SL_NUMBER);
  double longest = 0;
  for (size_t j = 0; j < job->nlengths; j++) longest = fmax(longest, job->lengths[j]);
  for (size_t i = 0; i < job->npieces; i++)     /* the sums that the search compares, rounded as they are there */
    if (job->pieces[i] + job->kerf > longest + job->kerf + HAIR)
      return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_NO_ANSWER, pieces_name, "is longer than every stock length", "",
                                               job->pieces[i], longest, SL_LENGTH));
  return SL_OK;
}

size_t sl_cut_stock_need(const struct sl_cut_stock_in *in) { return plan_need(in->npieces, in->nlengths); }

enum sl_status sl_cut_stock(const struct sl_cut_stock_in *in, struct sl_cut_stock_out *out, struct sl_space space,
                            struct sl_sheet *sh) {
  const struct job job = { in->pieces, in->npieces, in->lengths, in->nlengths, in->prices, in->kerf };
  NOT_NEGATIVE(sh, in, kerf, SL_LENGTH);
  WITHIN(sh, "kerf", in->kerf, <=, WIDEST_CUT, TOO_MUCH, RANGE, SL_LENGTH);
  enum sl_status status = check_lengths("pieces", &job, in->nprices, sh);
  if (status == SL_OK)
    status = check_list("prices", in->prices, in->nprices, MOST_STOCKS, 0, DEAREST, SL_MONEY, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_cut_stock_need(in));
  status = plan("pieces", &job, out, space, sh);
  if (status != SL_OK) return status;
  const char *cite = out->proven ? SEARCH : BEST_FOUND;
  double all = 0;
  LINES(sh, "stock");
  for (size_t j = 0; j < in->nlengths; j++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, length, in->lengths[j]);
    GIVEN(sh, SL_MONEY, price, in->prices[j]);
    LOOKUP(sh, SL_NUMBER, sticks, out->bought[j], "sticks of this price", cite, SL_DERIVED);
    STEP(sh, SL_MONEY, line, sticks * price, BILL);
    (void)length;
    all += line;
  }
  LINES_END(sh);
  SUM(sh, SL_MONEY, total, all, line, BILL);
  GIVES(sh, out, total, total);
  return SL_OK;
}

size_t sl_spools_need(const struct sl_spools_in *in) {
  const size_t need = plan_need(in->ncuts, in->nlengths);
  return need ? NEED(need, double, in->nlengths) : 0;
}

enum sl_status sl_spools(const struct sl_spools_in *in, struct sl_spools_out *out, struct sl_space space,
                         struct sl_sheet *sh) {
  const struct job lists = { in->cuts, in->ncuts, in->lengths, in->nlengths, in->prices, 0 };
  enum sl_status status = check_lengths("cuts", &lists, in->nprices, sh);
  if (status == SL_OK)
    status = check_list("prices", in->prices, in->nprices, MOST_STOCKS, 0, INFINITY, SL_PER_LENGTH, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_spools_need(in));
  double *whole_price = PART(&space, double, in->nlengths);   /* of a spool */
  for (size_t j = 0; j < in->nlengths; j++) whole_price[j] = in->prices[j] * in->lengths[j];
  for (size_t j = 0; j < in->nlengths; j++)
    WITHIN(sh, "prices", whole_price[j], <=, DEAREST, "times the length goes beyond what a plan is made for", RANGE,
           SL_MONEY);
  struct job job = lists;
  job.prices = whole_price;
  struct sl_cut_stock_out cut;
  status = plan("cuts", &job, &cut, space, sh);
  if (status != SL_OK) return status;
  *out = (struct sl_spools_out){
    .bought = cut.bought, .nbought = cut.nbought, .spools = cut.sticks, .spool_of_cut = cut.stick,
    .nspool_of_cut = cut.nstick, .stock_of_spool = cut.stock_of_stick, .nstock_of_spool = cut.nstock_of_stick,
    .left = cut.offcut, .proven = cut.proven };
  const char *cite = cut.proven ? SEARCH : BEST_FOUND;
  double all = 0;
  LINES(sh, "spools");
  for (size_t j = 0; j < in->nlengths; j++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, length, in->lengths[j]);
    GIVEN(sh, SL_PER_LENGTH, price, in->prices[j]);
    LOOKUP(sh, SL_NUMBER, spools, out->bought[j], "spools of this length", cite, SL_DERIVED);
    STEP(sh, SL_MONEY, line, spools * length * price, BILL);
    all += line;
  }
  LINES_END(sh);
  SUM(sh, SL_MONEY, total, all, line, BILL);
  GIVES(sh, out, total, total);
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
