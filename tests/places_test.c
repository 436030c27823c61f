/* SPDX-License-Identifier: MIT
 * Heads, fields and items by what they are called: the same as going through all marks finds, in a few looks each. */
#include "check.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The file itself, whose looks at texts are counted. */
static long looks;
static int counted(const void *a, const void *b, size_t n) {
  looks++;
  return memcmp(a, b, n);
}
#define memcmp counted
#include "../interp/scan/places.c"
#undef memcmp

/* ---- going through all marks ------------------------------------------------------------------------------------- */

static bool is(const char *text, const struct sl_mark *m, const char *word) {
  return strlen(word) == (size_t)m->span.len && memcmp(text + m->word, word, (size_t)m->span.len) == 0;
}

static bool is_named(const char *text, const struct sl_mark *m, const char *name) {
  const size_t n = strlen(name);
  return m->value.line && m->to - m->from == n + 2 && (size_t)m->value.len == n + 2 &&
         memcmp(text + m->from + 1, name, n) == 0;
}

/* By kind and name on the line, by kind on it, by both above, by kind above; of several lines the last, the first on
 * it. */
static int head_of(const struct sl_scan *scan, const char *text, int line, const char *kind, const char *name) {
  int best = -1, score = -1;
  for (size_t i = 0; i < scan->nmark; i++) {
    const struct sl_mark *m = &scan->mark[i];
    if (m->kind != SL_MARK_HEAD || m->span.line > line || !is(text, m, kind)) continue;
    const int points = (m->span.line == line ? 2 : 0) + (name && is_named(text, m, name) ? 1 : 0);
    if (points < score || (points == score && m->span.line <= scan->mark[best].span.line)) continue;
    best = (int)i;
    score = points;
  }
  return best;
}

static int child_of(const struct sl_scan *scan, enum sl_mark_kind kind, int parent, const char *text, const char *word,
                    long long n) {
  for (size_t i = 0; i < scan->nmark; i++) {
    const struct sl_mark *m = &scan->mark[i];
    if (m->kind != kind || m->parent != parent || (word && !is(text, m, word))) continue;
    if (--n <= 0) return (int)i;
  }
  return -1;
}

/* ---- both -------------------------------------------------------------------------------------------------------- */

static unsigned seed = 1;
static int below(int n) {
  seed = seed * 1103515245u + 12345u;
  return (int)(seed >> 16) % n;
}

static const char *const kinds[] = { "rack", "run", "racks", "r" };
static const char *const heads[] = { "\"a\"", "\"b\"", "'a'", "\"ab\"", "[[a]]", "\"a\\n\"", "", "(x .. \"a\")",
                                     "(\"b\")", "\"a\\\n b\"" };
static const char *const fields[] = { "tilt = 5", "[\"tilt\"] = 6", "posts = { 1, 2, { tilt = 7 } }", "5", "rack { 1 }",
                                      "run = rack \"a\" { 2, 3 }", "['run'] = 1", "f(1)" };
enum { LINES = 40 };

static void write_text(char *to, size_t size) {
  size_t n = 0;
  for (int line = 0; line < LINES; line++) {
    for (int i = below(4); i >= 0; i--) {
      n += (size_t)snprintf(to + n, size - n, "%s %s { ", kinds[below(4)], heads[below(10)]);
      for (int k = below(4); k > 0; k--) n += (size_t)snprintf(to + n, size - n, "%s, ", fields[below(8)]);
      n += (size_t)snprintf(to + n, size - n, "} ");
    }
    n += (size_t)snprintf(to + n, size - n, "\n");
  }
}

static void finds_what_all_marks_say(void **state) {
  (void)state;
  static const char *const words[] = { "tilt", "posts", "run", "rack", "", "til", "tilts" };
  static const char *const names[] = { "a", "b", "ab", "", "a\\n", "nobody" };
  static char text[1 << 16];
  int found = 0;
  for (int round = 0; round < 30; round++) {
    struct sl_scan scan;
    write_text(text, sizeof text);
    assert_true(sl_scan(text, strlen(text), &scan));
    for (int line = 0; line <= 2 * LINES; line++)
      for (int k = 0; k < 4; k++)
        for (int i = -1; i < 6; i++) {
          const char *name = i < 0 ? NULL : names[i];
          const int head = head_of(&scan, text, line, kinds[k], name);
          found += head >= 0;
          assert_int_equal(sl_place_head(&scan, text, line, kinds[k], name), head);
        }
    for (int m = -1; m <= (int)scan.nmark; m++) {
      assert_int_equal(sl_place_open(&scan, m), child_of(&scan, SL_MARK_OPEN, m, text, NULL, 1));
      assert_int_equal(sl_place_close(&scan, m), child_of(&scan, SL_MARK_CLOSE, m, text, NULL, 1));
      for (int i = 0; i < 7; i++)
        assert_int_equal(sl_place_key(&scan, text, m, words[i]), child_of(&scan, SL_MARK_KEY, m, text, words[i], 1));
      assert_int_equal(sl_place_item(&scan, m, 0), -1);
      for (int i = 1; i < 6; i++)
        assert_int_equal(sl_place_item(&scan, m, i), child_of(&scan, SL_MARK_ITEM, m, text, NULL, i));
    }
    sl_scan_free(&scan);
  }
  assert_true(found > 1000);
}

/* The looks at texts for the head, a field and an item of each of n declarations, and for putting them in order. */
static long looks_for(int n) {
  const size_t size = (size_t)n * 80;
  char *text = malloc(size + 1), name[24];
  size_t at = 0;
  struct sl_scan scan;
  assert_non_null(text);
  for (int i = 0; i < n; i++)
    at += (size_t)snprintf(text + at, size - at, "rack \"r%d\" { tilt = 5, posts = { %d } }\n", i, i);
  looks = 0;
  assert_true(sl_scan(text, at, &scan));
  for (int i = 0; i < n; i++) {
    snprintf(name, sizeof name, "r%d", i);
    const int head = sl_place_head(&scan, text, i + 1, "rack", name), open = sl_place_open(&scan, head);
    assert_int_equal(scan.mark[head].span.line, i + 1);
    assert_true(sl_place_key(&scan, text, open, "tilt") > open);
    const int posts = sl_place_open(&scan, sl_place_key(&scan, text, open, "posts"));
    assert_true(sl_place_item(&scan, posts, 1) > posts);
  }
  sl_scan_free(&scan);
  free(text);
  return looks;
}

static void eight_times_as_many_take_ten_times_the_looks(void **state) {
  (void)state;
  const long few = looks_for(1000), many = looks_for(8000);
  assert_true(few > 1000);
  if (many > 11 * few) fail_msg("%ld looks for 1000, %ld for 8000", few, many);
}

int main(void) {
  const struct CMUnitTest tests[] = {
    cmocka_unit_test(finds_what_all_marks_say),
    cmocka_unit_test(eight_times_as_many_take_ten_times_the_looks),
  };
  return cmocka_run_group_tests_name("places", tests, NULL, NULL);
}
