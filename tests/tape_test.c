/* SPDX-License-Identifier: MIT
 * Marks on a tape: examples worked by hand, and laws. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "stringline/tape.h"

enum { MOST = 6 };

/* Places, marks and bays in `unit`. */
static const struct chain {
  const char *name;
  double unit, mark;
  size_t n;
  double place[MOST], at[MOST], bay[MOST];
} chains[] = {
  /* By hand: 72.44 is nearest to 72-1/2, and three bays of that would come to 217-1/2, an eighth more than there is. */
  { "equal bays that are no whole eighths", IN, 0.125, 4, { 0, 72.44, 144.88, 217.32 }, { 0, 72.5, 144.875, 217.375 },
    { 0, 72.5, 72.375, 72.5 } },
  { "equal bays that are no whole millimetres", MM, 1, 4, { 0, 2600.4, 5200.8, 7801.2 }, { 0, 2600, 5201, 7801 },
    { 0, 2600, 2601, 2600 } },
  { "whole marks stay", IN, 0.125, 3, { 0, 72.5, 145 }, { 0, 72.5, 145 }, { 0, 72.5, 72.5 } },
  { "a zero among the places", IN, 0.125, 3, { -28.65, 0, 67.03 }, { -28.625, 0, 67 }, { 0, 28.625, 67 } },
  { "a place in the middle between two marks", MM, 1, 4, { -1.5, -0.5, 0.5, 1.5 }, { -1, 0, 1, 2 }, { 0, 1, 1, 1 } },
  { "two places at one mark", MM, 1, 3, { 10.1, 10.2, 10.3 }, { 10, 10, 10 }, { 0, 0, 0 } },
};

static struct sl_running_out run(const double *places, size_t n, double mark) {
  const struct sl_running_in in = { places, n, mark };
  struct sl_running_out out;
  assert_int_equal(sl_running(&in, &out, room_of(sl_running_need(&in)), NULL), SL_OK);
  assert_int_equal(out.nmarks, n);
  return out;
}

static void chain_matches(void **state) {
  const struct chain *c = *state;
  double places[MOST];
  for (size_t i = 0; i < c->n; i++) places[i] = c->place[i] * c->unit;
  const struct sl_running_out out = run(places, c->n, c->mark * c->unit);
  for (size_t i = 0; i < c->n; i++) {
    assert_near(out.marks[i].at / c->unit - c->at[i], 0, 1e-9);
    assert_near(out.marks[i].bay / c->unit - c->bay[i], 0, 1e-9);
  }
}

/* 0.1 m six times is 0.6000000000000001 or 0.6, as it is added up: both are one mark. */
static void noise_moves_no_mark(void **state) {
  (void)state;
  double sum = 0;
  for (int i = 0; i < 1805; i++) sum += 0.0001;          /* 180.5 mm, with noise */
  const double exact = 0.1805;
  assert_true(sum != exact);
  assert_near(run(&sum, 1, 0.001).marks[0].at, 0.181, 1e-12);
  assert_near(run(&exact, 1, 0.001).marks[0].at, 0.181, 1e-12);
}

/* Whatever the bays are, no mark is further off than half of one, and the bays add up to the last mark. */
static void bays_add_up(void **state) {
  (void)state;
  enum { N = 40 };
  const double marks[] = { 0.125 * IN, 1 * MM, 0.0625 * IN };
  unsigned seed = 1;
  for (int round = 0; round < 300; round++) {
    double places[N], at = 0;
    const double mark = marks[round % 3];
    for (size_t i = 0; i < N; i++) {
      places[i] = at;
      seed = seed * 1103515245u + 12345u;
      at += (seed >> 16) % 30000 * 1e-4;
    }
    const struct sl_running_out out = run(places, N, mark);
    double sum = 0;
    for (size_t i = 0; i < N; i++) {
      assert_true(fabs(out.marks[i].at - places[i]) <= mark * 0.5001);
      assert_true(out.marks[i].bay >= 0);
      sum += out.marks[i].bay;
      assert_near(sum - out.marks[i].at, 0, 1e-9);
    }
  }
}

static void nonsense_is_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_running_out out;
  const double back[] = { 0, 2, 1 }, good[] = { 0, 1 };
  const struct sl_running_in none = { good, 0, 0.001 }, crossing = { back, 3, 0.001 }, blank = { good, 2, 0 },
                             few = { good, 2, 0.001 };
  assert_int_equal(sl_running(&none, &out, room_of(0), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "places");
  assert_int_equal(sl_running(&crossing, &out, room_of(sl_running_need(&crossing)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "places");
  assert_string_equal(sheet.fault.text, "lies before the place named before it");
  assert_int_equal(sl_running(&blank, &out, room_of(sl_running_need(&blank)), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "mark");
  assert_int_equal(sl_running(&few, &out, room_of(sl_running_need(&few) - 1), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
}

static const double three[] = { -1, 0, 2.6004 };
static const struct sl_running_in good = { three, 3, 0.001 };
static const struct op_case ops[] = { { "running", &good } };

int main(void) {
  struct CMUnitTest tests[16];
  size_t n = 0;
  ADD_ROWS(tests, n, chains, chain_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(noise_moves_no_mark), cmocka_unit_test(bays_add_up), cmocka_unit_test(nonsense_is_refused),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("tape", tests, n, NULL, NULL);
}
