/* SPDX-License-Identifier: MIT
 * Did you mean. */
#include "check.h"
#include "host/nearest.h"

#define DIGITS50 "12345678901234567890123456789012345678901234567890"

static const struct nearest { const char *name, *word, *names[4], *want; } nearest[] = {
  { "nearest: neighbours swapped is one edit", "heigth", {"width", "height"}, "height" },
  { "nearest: case alone comes first", "Ground", {"groun", "ground"}, "ground" },
  { "nearest: capitals alone", "AWG", {"awg"}, "awg" },
  { "nearest: letter missing", "modle", {"module"}, "module" },
  { "nearest: letter too many", "rackk", {"rack", "row"}, "rack" },
  { "nearest: letter wrong", "clemps", {"clamps"}, "clamps" },
  { "nearest: smaller distance wins", "railz", {"rack", "rails", "trails"}, "rails" },
  { "nearest: first of equals", "rocw", {"rock", "row"}, "rock" },
  { "nearest: two edits in three letters are too many", "abd", {"xyd"}, NULL },
  { "nearest: two edits in six letters are allowed", "trnech", {"trench"}, "trench" },
  { "nearest: two wrong in five are too many", "trxnx", {"trunk"}, NULL },
  { "nearest: two wrong in six are allowed", "trxnxh", {"trench"}, "trench" },
  { "nearest: three wrong in nine are allowed", "xlternxtx", {"alternate"}, "alternate" },
  { "nearest: four wrong in nine are too many", "xltxrnxtx", {"alternate"}, NULL },
  /* Damerau-Levenshtein of "ca" and "abc" is 2 (swap, then put b between); the restricted kind gives 3 */
  { "nearest: a letter between two that were swapped", "smartca", {"smartabc"}, "smartabc" },
  { "nearest: nothing in common", "x", {"y"}, NULL },
  { "nearest: one letter of two", "fr", {"ft"}, "ft" },
  { "nearest: the empty word", "", {"a"}, NULL },
  { "nearest: no names", "abc", {NULL}, NULL },
  { "nearest: a word too long to compare", DIGITS50 DIGITS50, {DIGITS50 DIGITS50 "1"}, NULL },
};

static void nearest_is(void **state) {
  const struct nearest *r = *state;
  size_t n = 0;
  while (n < sizeof r->names / sizeof *r->names && r->names[n]) n++;
  const char *got = sl_nearest(r->word, r->names, n);
  if (r->want) {
    assert_non_null(got);
    assert_string_equal(got, r->want);
  } else {
    assert_null(got);
  }
}

int main(void) {
  static struct CMUnitTest tests[sizeof nearest / sizeof *nearest];
  size_t n = 0;
  ADD_ROWS(tests, n, nearest, nearest_is);
  return cmocka_run_group_tests_name("nearest", tests, NULL, NULL);
}
