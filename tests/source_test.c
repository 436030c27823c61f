/* SPDX-License-Identifier: MIT
 * The texts that messages point into: their lines, and that they are kept. */
#include "check.h"
#include "host/source.h"

static const struct line { const char *name, *text; int line; const char *want; } lines[] = {
  { "line: LF", "a\nbb\nc", 2, "bb" },
  { "line: CRLF is one end", "a\r\nbb\r\nc", 2, "bb" },
  { "line: lone CR", "a\rbb\rc", 3, "c" },
  { "line: LFCR is one end, as Lua counts", "a\n\rbb", 2, "bb" },
  { "line: two LF are two", "a\n\nc", 3, "c" },
  { "line: after the last end there is an empty one", "a\n", 2, "" },
  { "line: past the end", "a\n", 3, NULL },
  { "line: 0 is none", "a", 0, NULL },
  { "line: an empty text has one", "", 1, "" },
  { "line: a byte order mark is none of it", "\xEF\xBB\xBF" "a", 1, "a" },
};

static void line_is(void **state) {
  const struct line *r = *state;
  int id = sl_source_add("lines", r->text, strlen(r->text));
  size_t len = 99;
  const char *got = sl_source_line(id, r->line, &len);
  if (!r->want) { assert_null(got); return; }
  assert_non_null(got);
  assert_int_equal(len, strlen(r->want));
  assert_memory_equal(got, r->want, len);
}

static void sources_are_kept(void **state) {
  (void)state;
  char text[] = "one";
  int one = sl_source_add("one.sline", text, 3), two = sl_source_add("two.sline", "two", 3);
  size_t len = 0;
  text[0] = 'X';   /* copied, not pointed to */
  assert_true(one > 0 && two > 0 && one != two);
  assert_string_equal(sl_source_text(one, &len), "one");
  assert_int_equal(len, 3);
  assert_int_equal(sl_source_find("two.sline"), two);
  assert_int_equal(sl_source_find("three.sline"), 0);
  assert_string_equal(sl_source_name(two), "two.sline");
  assert_null(sl_source_name(0));
  assert_null(sl_source_name(two + 1000));
  assert_null(sl_source_text(-1, &len));
  assert_int_equal(sl_source_add("one.sline", "newer", 5), one);
  assert_string_equal(sl_source_text(one, &len), "newer");
}

int main(void) {
  static struct CMUnitTest tests[sizeof lines / sizeof *lines + 1];
  size_t n = 0;
  ADD_ROWS(tests, n, lines, line_is);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sources_are_kept);
  return cmocka_run_group_tests_name("source", tests, NULL, NULL);
}
