/* SPDX-License-Identifier: MIT
 * What is cut from sticks that are there: lengths in feet, worked by hand. */
#include "job_run.h"

#define FIT "local fit, list = import 'buying.fit', table.concat "

static const struct job_row rows[] = {
  { "each piece into the stick in which least is left", NULL, NULL,
    FIT "local p = fit.best({ 3, 7 }, { 12, 7, 4 }, 0) return list(p.stick_of, ' ') .. ' left ' .. list(p.room, ' ')",
    "3 2 left 12 0 1", NULL, 0 },
  { "a piece that fits nowhere keeps the others from nothing", NULL, NULL,
    FIT "local p = fit.best({ 3, 13, 7 }, { 12, 4 }, 0) return list(p.left, ' ') .. ' of 3, ' .. p.count", "2 of 3, 2",
    NULL, 0 },
  { "a cut between two pieces, none behind the last", NULL, NULL,
    FIT "return tostring(fit.all({ 5, 5 }, { 10.25 }, 0.25)) .. tostring(fit.all({ 5, 5 }, { 10.2 }, 0.25))",
    "truefalse", NULL, 0 },
  /* longest first: 4 + 4 leave 2, 3 + 3 + 3 leave 1, and one 3 is over; 4 + 3 + 3 twice */
  { "every way is tried where the first plan leaves a piece over", NULL, NULL,
    FIT "local pieces, sticks = { 4, 4, 3, 3, 3, 3 }, { 10, 10 } "
    "return fit.best(pieces, sticks, 0).count .. ' ' .. tostring(fit.all(pieces, sticks, 0))", "5 true", NULL, 0 },
  { "enough in all is not enough piece by piece", NULL, NULL,
    FIT "return tostring(fit.all({ 6, 6, 6 }, { 9, 9, 5 }, 0))", "false", NULL, 0 },
  /* two of 3.34 out of each 10: 24 out of twelve sticks, of which there is enough for 35 in all */
  { "many alike are soon told", NULL, NULL,
    FIT "local function n(count, x) local t = {} for i = 1, count do t[i] = x end return t end "
    "return tostring(fit.all(n(24, 3.34), n(12, 10), 0)) .. tostring(fit.all(n(25, 3.34), n(12, 10), 0))",
    "truefalse", NULL, 0 },
  /* thirty lengths without a common measure, two sticks without a hair to spare */
  { "too many ways are not found out", NULL, NULL,
    FIT "local pieces, sum = {}, 0 for i = 1, 30 do pieces[i] = 10 + math.sin(i) sum = sum + pieces[i] end "
    "return tostring(fit.all(pieces, { sum / 2, sum / 2 }, 0))",
    "nil", NULL, 0 },
  { "nothing is cut from nothing", NULL, NULL,
    FIT "return tostring(fit.all({}, {}, 0)) .. tostring(fit.all({ 1 }, {}, 0))", "truefalse", NULL, 0 },
};

int main(void) {
  static struct CMUnitTest tests[sizeof rows / sizeof *rows];
  size_t n = 0;
  JOB_ROWS(tests, n, rows);
  return cmocka_run_group_tests(tests, job_setup, job_teardown);
}
