/* SPDX-License-Identifier: MIT
 * The texts that messages point into: their lines, their scans, and that they are kept. */
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
  struct sl_sources sources = { 0 };
  int id = sl_source_add(&sources, "lines", r->text, strlen(r->text));
  size_t len = 99;
  const char *got = sl_source_line(&sources, id, r->line, &len);
  if (!r->want) assert_null(got);
  else {
    assert_non_null(got);
    assert_int_equal(len, strlen(r->want));
    assert_memory_equal(got, r->want, len);
  }
  sl_sources_free(&sources);
}

static void sources_are_kept(void **state) {
  (void)state;
  struct sl_sources sources = { 0 };
  char text[] = "one";
  int one = sl_source_add(&sources, "one.sline", text, 3), two = sl_source_add(&sources, "two.sline", "two", 3);
  size_t len = 0;
  text[0] = 'X';   /* copied, not pointed to */
  assert_true(one > 0 && two > 0 && one != two);
  assert_string_equal(sl_source_text(&sources, one, &len), "one");
  assert_int_equal(len, 3);
  assert_int_equal(sl_source_find(&sources, "two.sline"), two);
  assert_int_equal(sl_source_find(&sources, "three.sline"), 0);
  assert_string_equal(sl_source_name(&sources, two), "two.sline");
  assert_null(sl_source_name(&sources, 0));
  assert_null(sl_source_name(&sources, two + 1000));
  assert_null(sl_source_text(&sources, -1, &len));
  assert_int_equal(sl_source_add(&sources, "one.sline", "newer", 5), one);
  assert_string_equal(sl_source_text(&sources, one, &len), "newer");
  sl_sources_free(&sources);
  assert_null(sl_source_name(&sources, one));
}

/* What the scanner found goes with the text that it was found in. */
static void scans_go_with_their_text(void **state) {
  (void)state;
  struct sl_sources sources = { 0 };
  struct sl_scan scan;
  int id = sl_source_add(&sources, "a", "x = 3ft", 7);
  assert_true(sl_scan("x = 3ft", 7, &scan));
  sl_source_scanned(&sources, id, &scan);
  assert_int_equal(sl_source_scan(&sources, id)->nk, 1);
  assert_int_equal(sl_source_add(&sources, "a", "x = 3", 5), id);
  assert_int_equal(sl_source_scan(&sources, id)->nk, 0);
  assert_true(sl_scan("y = 4ft", 7, &scan));
  sl_source_scanned(&sources, 99, &scan);          /* no such text: dropped */
  assert_null(sl_source_scan(&sources, 99));
  sl_sources_free(&sources);
}

static void sources_have_a_limit(void **state) {
  (void)state;
  struct sl_sources sources = { 0 };
  char name[8];
  for (int i = 1; i <= SL_SOURCES; i++) {
    snprintf(name, sizeof name, "%d", i);
    assert_int_equal(sl_source_add(&sources, name, "", 0), i);
  }
  assert_int_equal(sl_source_add(&sources, "one too many", "", 0), -1);
  assert_int_equal(sl_source_add(&sources, "7", "new", 3), 7);
  sl_sources_free(&sources);
}

int main(void) {
  static struct CMUnitTest tests[sizeof lines / sizeof *lines + 3];
  size_t n = 0;
  ADD_ROWS(tests, n, lines, line_is);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sources_are_kept);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(scans_go_with_their_text);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sources_have_a_limit);
  return cmocka_run_group_tests_name("source", tests, NULL, NULL);
}
