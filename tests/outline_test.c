/* SPDX-License-Identifier: MIT
 * Outlines: all square tubes of the steel shapes table, closed forms, laws and refusals. */
#include "op_check.h"
#include "us.h"
#include "stringline/outline.h"

static const struct sl_outline_in tube = { SL_RECTANGLE, 3 * IN, NAN, 0.174 * IN, 0.348 * IN },
                                  pipe = { SL_ROUND, 4 * IN, NAN, 0.25 * IN, NAN },
                                  plank = { SL_RECTANGLE, 1.5 * IN, 7.25 * IN, NAN, NAN };

static struct sl_outline_out of(const struct sl_outline_in *in) {
  struct sl_outline_out out;
  assert_int_equal(sl_outline(in, &out, NULL), SL_OK);
  return out;
}

/* The steel shapes table as reprinted (area in2, I in4, S and Z in3, r in): three figures, outside radius twice the
 * wall.  A half in the last figure is to 0.6 % of the smallest. */
static const struct printed {
  const char *name;
  double side, wall, area, inertia, modulus, plastic, radius;
} table[] = {
  { "square tube 2 x 1/8", 2, 0.116, 0.84, 0.486, 0.486, 0.584, 0.761 },
  { "square tube 2 x 3/16", 2, 0.174, 1.19, 0.641, 0.641, 0.797, 0.733 },
  { "square tube 2 x 1/4", 2, 0.233, 1.51, 0.747, 0.747, 0.964, 0.704 },
  { "square tube 2-1/2 x 1/8", 2.5, 0.116, 1.07, 0.998, 0.799, 0.947, 0.965 },
  { "square tube 3 x 3/16", 3, 0.174, 1.89, 2.46, 1.64, 1.97, 1.14 },
  { "square tube 3 x 1/4", 3, 0.233, 2.44, 3.02, 2.01, 2.48, 1.11 },
  { "square tube 4 x 1/8", 4, 0.116, 1.77, 4.4, 2.2, 2.56, 1.58 },
  { "square tube 4 x 1/4", 4, 0.233, 3.37, 7.8, 3.9, 4.69, 1.52 },
};
static void as_printed(void **state) {
  const struct printed *r = *state;
  const struct sl_outline_in in = { SL_RECTANGLE, r->side * IN, NAN, r->wall * IN, 2 * r->wall * IN };
  const struct sl_outline_out out = of(&in);
  assert_near(out.area / (IN * IN), r->area, 0.004);
  assert_near(out.inertia / (IN * IN * IN * IN), r->inertia, 0.004);
  assert_near(out.modulus / (IN * IN * IN), r->modulus, 0.004);
  assert_near(out.plastic / (IN * IN * IN), r->plastic, 0.003);
  assert_near(out.radius / IN, r->radius, 0.003);
}

/* By hand.  A plank 1-1/2 x 7-1/4 in: 10.875 in2, 1.5 x 381.078/12 = 47.635 in4, S 13.141 in3 as the tables of dressed
 * sizes print, Z 1.5 x 52.5625/4 = 19.711 in3, r 7.25/sqrt 12 = 2.0929 in.  A pipe 4 in, wall 1/4: pi/4 (16 - 12.25) =
 * 2.9452 in2, pi/64 (256 - 150.0625) = 5.2002 in4, (64 - 42.875)/6 = 3.5208 in3, r sqrt(16 + 12.25)/4 = 1.32878 in. */
static void by_hand(void **state) {
  (void)state;
  struct sl_outline_out out = of(&plank);
  assert_near(out.area / (IN * IN), 10.875, 1e-9);
  assert_near(out.inertia / (IN * IN * IN * IN), 47.635, 1e-5);
  assert_near(out.modulus / (IN * IN * IN), 13.141, 5e-5);
  assert_near(out.plastic / (IN * IN * IN), 19.711, 5e-5);
  assert_near(out.radius / IN, 2.0929, 5e-5);
  out = of(&pipe);
  assert_near(out.area / (IN * IN), 2.9452, 5e-5);
  assert_near(out.inertia / (IN * IN * IN * IN), 5.2002, 5e-5);
  assert_near(out.modulus / (IN * IN * IN), 2.6001, 5e-5);
  assert_near(out.plastic / (IN * IN * IN), 3.5208, 5e-5);
  assert_near(out.radius / IN, 1.32878, 5e-5);
}

/* A square whose corners are as round as can be is a circle, and hollow the same. */
static void all_corner_is_round(void **state) {
  (void)state;
  for (int hollow = 0; hollow <= 1; hollow++) {
    const double wall = hollow ? 0.3 : NAN;
    const struct sl_outline_in square = { SL_RECTANGLE, 2, NAN, wall, 1 }, circle = { SL_ROUND, 2, NAN, wall, NAN };
    const struct sl_outline_out a = of(&square), b = of(&circle);
    assert_near(a.area, b.area, 1e-12);
    assert_near(a.inertia, b.inertia, 1e-12);
    assert_near(a.modulus, b.modulus, 1e-12);
    assert_near(a.plastic, b.plastic, 1e-12);
    assert_near(a.radius, b.radius, 1e-12);
  }
}

static const struct refusal { const char *name, *member; struct sl_outline_in in; } refusals[] = {
  { "refused: a wall of half the width", "wall", { SL_ROUND, 2, NAN, 1, NAN } },
  { "refused: a wall of half the depth", "wall", { SL_RECTANGLE, 4, 2, 1, NAN } },
  { "refused: a round with a depth", "depth", { SL_ROUND, 2, 2, NAN, NAN } },
  { "refused: a round with corners", "corner", { SL_ROUND, 2, NAN, NAN, 0.1 } },
  { "refused: a corner of more than half the depth", "corner", { SL_RECTANGLE, 4, 2, NAN, 1.01 } },
};
static void refusal_names_the_input(void **state) {
  const struct refusal *r = *state;
  struct sl_outline_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_outline(&r->in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, r->member);
}

static const struct op_case ops[] = { { "outline", &tube }, { "outline", &pipe }, { "outline", &plank } };

int main(void) {
  struct CMUnitTest tests[32];
  size_t n = 0;
  ADD_ROWS(tests, n, table, as_printed);
  ADD_ROWS(tests, n, refusals, refusal_names_the_input);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = { cmocka_unit_test(by_hand), cmocka_unit_test(all_corner_is_round) };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("outline", tests, n, NULL, NULL);
}
