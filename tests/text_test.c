/* SPDX-License-Identifier: MIT
 * UTF-8 and its columns; what is not shown as itself, in every form in which text leaves the program. */
#include "check.h"
#include "host/text.h"

/* ---- UTF-8 ------------------------------------------------------------------------------------------------------- */

/* RFC 3629, sections 3, 4 and 7; the rows marked (10) follow its section 10 on what a decoder must refuse. */
static const struct utf8 { const char *name, *text; size_t want; uint32_t point; } utf8[] = {
  { "utf8: A", "A", 1, 0x41 },
  { "utf8: NOT IDENTICAL TO (RFC 3629 sec. 7)", "\xE2\x89\xA2", 3, 0x2262 },
  { "utf8: first Hangul syllable (RFC 3629 sec. 7)", "\xED\x95\x9C", 3, 0xD55C },
  { "utf8: U+233B4 (RFC 3629 sec. 7)", "\xF0\xA3\x8E\xB4", 4, 0x233B4 },
  { "utf8: last of two bytes", "\xDF\xBF", 2, 0x7FF },
  { "utf8: last code point", "\xF4\x8F\xBF\xBF", 4, 0x10FFFF },
  { "utf8: beyond the last", "\xF4\x90\x80\x80", 0, 0 },
  { "utf8: overlong NUL (10)", "\xC0\x80", 0, 0 },
  { "utf8: overlong slash in three bytes (10)", "\xE0\x80\xAF", 0, 0 },
  { "utf8: overlong in four bytes", "\xF0\x8F\xBF\xBF", 0, 0 },
  { "utf8: surrogate", "\xED\xA0\x80", 0, 0 },
  { "utf8: lone continuation", "\x80", 0, 0 },
  { "utf8: cut short", "\xE2\x89", 0, 0 },
  { "utf8: continuation missing", "\xE2\x28\xA1", 0, 0 },
  { "utf8: FE never occurs", "\xFE", 0, 0 },
  { "utf8: nothing", "", 0, 0 },
};

static void utf8_is(void **state) {
  const struct utf8 *r = *state;
  uint32_t point = 0;
  assert_int_equal(sl_utf8(r->text, strlen(r->text), &point), r->want);
  if (r->want) assert_int_equal(point, r->point);
}

static const struct columns { const char *name, *text; int want; } columns[] = {
  { "columns: ascii", "6 AWG", 5 },
  { "columns: degree sign is one", "5 \xC2\xB0" "C", 4 },
  { "columns: combining accent is none", "e\xCC\x81", 1 },
  { "columns: tab is shown as \\x09", "a\tb", 6 },
  { "columns: a byte that is no UTF-8 is shown as \\xFF", "\xFF\xFE", 8 },
  /* Unicode annex 11: U+5C4B is W (wide), U+FF21 is F (fullwidth), U+FF71 is H (halfwidth); U+1F411 is W */
  { "columns: wide", "\xE5\xB1\x8B", 2 },
  { "columns: fullwidth", "\xEF\xBC\xA1", 2 },
  { "columns: halfwidth", "\xEF\xBD\xB1", 1 },
  { "columns: a sheep", "\xF0\x9F\x90\x91", 2 },
  { "columns: zero-width space is none", "a\xE2\x80\x8B" "b", 2 },
};

static void columns_are(void **state) {
  const struct columns *r = *state;
  assert_int_equal(sl_columns(r->text, strlen(r->text)), r->want);
}

/* ---- made safe --------------------------------------------------------------------------------------------------- */

/* Bytes written out by hand from the code points: UAX 9 lists the marks that turn the direction of text. */
static const struct safe { const char *name, *text, *want, *json, *kind; } safe[] = {
  { "safe: plain text stays",
    "rack \"east\" 3/8 \\ ~", "rack \"east\" 3/8 \\ ~", "rack \\\"east\\\" 3/8 \\\\ ~", NULL },
  { "safe: letters of other scripts stay",
    "p\xC3\xA9 \xE5\xB1\x8B", "p\xC3\xA9 \xE5\xB1\x8B", "p\xC3\xA9 \xE5\xB1\x8B", NULL },
  { "safe: a joiner is a part of words", "\xE2\x80\x8D", "\xE2\x80\x8D", "\xE2\x80\x8D", NULL },
  { "safe: a line end", "a\nb", "a\\x0Ab", "a\\nb", "a line end: \"a\\x0Ab\"" },
  { "safe: a carriage return", "a\rb", "a\\x0Db", "a\\rb", "a line end: \"a\\x0Db\"" },
  { "safe: a tab", "a\tb", "a\\x09b", "a\\tb", "a tab: \"a\\x09b\"" },
  { "safe: an escape", "\033[31m", "\\x1B[31m", "\\u001b[31m", "a control byte: \"\\x1B[31m\"" },
  { "safe: delete", "\x7F", "\\x7F", "\\u007f", "a control byte: \"\\x7F\"" },
  { "safe: a control of the upper half, U+009B", "\xC2\x9B" "1m", "\\xC2\\x9B1m", "\\u009b1m",
    "a control byte: \"\\xC2\\x9B1m\"" },
  { "safe: next line, U+0085", "\xC2\x85", "\\xC2\\x85", "\\u0085", "a line end: \"\\xC2\\x85\"" },
  { "safe: line separator, U+2028", "\xE2\x80\xA8", "\\xE2\\x80\\xA8", "\\u2028", "a line end: \"\\xE2\\x80\\xA8\"" },
  { "safe: right to left override, U+202E", "\xE2\x80\xAE", "\\xE2\\x80\\xAE", "\\u202e",
    "a mark that turns the direction of text: \"\\xE2\\x80\\xAE\"" },
  { "safe: right to left mark, U+200F", "\xE2\x80\x8F", "\\xE2\\x80\\x8F", "\\u200f",
    "a mark that turns the direction of text: \"\\xE2\\x80\\x8F\"" },
  { "safe: Arabic letter mark, U+061C", "\xD8\x9C", "\\xD8\\x9C", "\\u061c",
    "a mark that turns the direction of text: \"\\xD8\\x9C\"" },
  { "safe: an isolate, U+2067", "\xE2\x81\xA7", "\\xE2\\x81\\xA7", "\\u2067",
    "a mark that turns the direction of text: \"\\xE2\\x81\\xA7\"" },
  { "safe: Latin-1", "caf\xE9", "caf\\xE9", "caf\\\\xE9", "a byte that is no UTF-8: \"caf\\xE9\"" },
  { "safe: a character cut short", "5 \xC2", "5 \\xC2", "5 \\\\xC2", "a byte that is no UTF-8: \"5 \\xC2\"" },
  { "safe: overlong line end", "\xC0\x8A", "\\xC0\\x8A", "\\\\xC0\\\\x8A", "a byte that is no UTF-8: \"\\xC0\\x8A\"" },
};

static void written(char *to, size_t size, const char *text, size_t n, bool json) {
  FILE *f = fmemopen(to, size, "w");
  assert_non_null(f);
  if (json) sl_json_string(f, text, n);
  else assert_int_equal(sl_show(f, text, n), sl_columns(text, n));
  assert_int_equal(fclose(f), 0);
}

static void safe_is(void **state) {
  const struct safe *r = *state;
  const size_t n = strlen(r->text);
  char got[400], json[400];
  assert_int_equal(sl_safe(got, sizeof got, r->text, n), strlen(r->want));
  assert_string_equal(got, r->want);
  assert_int_equal(sl_unsafe(got, strlen(got)), strlen(got));           /* safe again is the same */
  written(got, sizeof got, r->text, n, false);
  assert_string_equal(got, r->want);
  snprintf(json, sizeof json, "\"%s\"", r->json);
  written(got, sizeof got, r->text, n, true);
  assert_string_equal(got, json);
  got[sl_json_put(got, r->text, n)] = '\0';
  assert_string_equal(got, json);
  const char *help = sl_unsafe_words(got, sizeof got, r->text, n);
  assert_int_equal(help != NULL, r->kind != NULL);
  if (r->kind) assert_string_equal(got, r->kind);
}

/* What is shown of a long text is around the place: 40 bytes before, 40 from there on. */
static void words_show_the_place(void **state) {
  (void)state;
  char text[200], got[400];
  memset(text, 'x', sizeof text);
  text[100] = '\n';
  assert_string_equal(sl_unsafe_words(got, sizeof got, text, sizeof text), "write it on one line");
  assert_string_equal(got, "a line end: \"...xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx\\x0A"
                           "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...\"");
  memcpy(text + 59, "\xC3\xA9", 2);                                     /* its second byte is the first of 40 */
  sl_unsafe_words(got, sizeof got, text, sizeof text);
  assert_memory_equal(got, "a line end: \"...xxx", 19);
}

/* ---- cut at whole characters ------------------------------------------------------------------------------------- */

static const struct cut { const char *name, *text; size_t room; const char *want; } cuts[] = {
  { "cut: it fits", "abc", 4, "abc" },
  { "cut: by one", "abcd", 4, "abc" },
  { "cut: two bytes do not fit", "ab\xC3\xA9", 4, "ab" },
  { "cut: two bytes fit", "a\xC3\xA9z", 4, "a\xC3\xA9" },
  { "cut: of four bytes three", "\xF0\x9F\x90\x91", 4, "" },
  { "cut: bytes that are none stay", "\x80\x80\x80\x80\x80\x80", 6, "\x80\x80\x80\x80\x80" },
  { "cut: nothing fits", "abc", 1, "" },
};

static void cut_is(void **state) {
  const struct cut *r = *state;
  char got[16];
  assert_int_equal(sl_say(got, r->room, "%s", r->text), strlen(r->want));
  assert_string_equal(got, r->want);
  assert_int_equal(sl_whole(r->text, strlen(r->text), r->room - 1), strlen(r->want));
}

static void safe_cuts_whole_pieces(void **state) {
  (void)state;
  char got[8];
  assert_int_equal(sl_safe(got, sizeof got, "abcd\n", 5), 4);           /* \x0A takes four, and there are three */
  assert_string_equal(got, "abcd");
  assert_int_equal(sl_safe(got, 1, "a", 1), 0);
  assert_string_equal(got, "");
}

static void articles(void **state) {
  (void)state;
  static const char *const an[] = { "angle", "inverter", "easement", "interconnection", "area", "hour", "AWG", "MPPT",
                                    "8", "11", "18 AWG", "80", "8 AWG", "uninsulated", "underground", "index", "NEC" };
  static const char *const a[] = { "length", "unit", "use", "utility", "usual", "European", "one", "UL", "PV", "10",
                                   "180 AWG", "", "house", "horizontal", "rack", "Celsius" };
  for (size_t i = 0; i < sizeof an / sizeof *an; i++) assert_string_equal(sl_article(an[i]), "an");
  for (size_t i = 0; i < sizeof a / sizeof *a; i++) assert_string_equal(sl_article(a[i]), "a");
}

/* ---- whatever the bytes ------------------------------------------------------------------------------------------ */

/* Numerical Recipes' linear congruence: the same bytes on every run. */
static uint32_t dice(uint32_t *seed) { return *seed = *seed * 1664525u + 1013904223u; }

/* Bytes that may leave the program: printing ASCII, and UTF-8 without C1 controls (C2 80 to C2 9F). */
static void nothing_is_obeyed(const char *got, uint32_t seed) {
  for (const unsigned char *p = (const unsigned char *)got; *p; p++) {
    const bool marks = p[1] == 0x80 && ((p[2] >= 0xA8 && p[2] <= 0xAE) || p[2] == 0x8E || p[2] == 0x8F);
    const bool bidi = p[0] == 0xE2 && (marks || (p[1] == 0x81 && p[2] >= 0xA6 && p[2] <= 0xAF));
    const bool c1 = p[0] == 0xC2 && p[1] < 0xA0, arabic = p[0] == 0xD8 && p[1] == 0x9C;
    if (*p < 0x20 || *p == 0x7F || bidi || c1 || arabic) fail_msg("seed %u: byte %02X comes out in: %s", seed, *p, got);
  }
}

static void whatever_the_bytes(void **state) {
  (void)state;
  static const char *const spice[] = {
    "\n", "\033[2J", "\xE2\x80\xAE", "\xE2\x80\x8F", "\xD8\x9C", "\xC2\x9B", "\xE2\x81\xA6", "\xE2\x80" };
  for (uint32_t round = 1; round <= 4000; round++) {
    uint32_t seed = round;
    char text[64], got[64 * 8], again[64 * 8];
    size_t n = 0;
    const size_t wanted = dice(&seed) >> 27;
    while (n < wanted) {
      const uint32_t d = dice(&seed) >> 8;
      if (d % 3 == 0) text[n++] = (char)(d >> 3);
      else if (d % 3 == 1) text[n++] = (char)('a' + d % 26);
      else {
        const char *s = spice[d / 3 % (sizeof spice / sizeof *spice)];
        memcpy(text + n, s, strlen(s));
        n += strlen(s);
      }
    }
    const size_t k = sl_safe(got, sizeof got, text, n);
    nothing_is_obeyed(got, round);
    uint32_t point;
    for (size_t at = 0, step; at < k; at += step) assert_true((step = sl_utf8(got + at, k - at, &point)) > 0);
    assert_int_equal(sl_columns(got, k), sl_columns(text, n));
    assert_int_equal(sl_safe(again, sizeof again, got, k), k);
    assert_string_equal(again, got);
    written(again, sizeof again, text, n, false);
    assert_string_equal(again, got);
    written(again, sizeof again, text, n, true);
    nothing_is_obeyed(again, round);
  }
}

int main(void) {
  static struct CMUnitTest tests[100];
  size_t n = 0;
  ADD_ROWS(tests, n, utf8, utf8_is);
  ADD_ROWS(tests, n, columns, columns_are);
  ADD_ROWS(tests, n, safe, safe_is);
  ADD_ROWS(tests, n, cuts, cut_is);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(words_show_the_place);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(safe_cuts_whole_pieces);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(articles);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(whatever_the_bytes);
  return cmocka_run_group_tests_name("text", tests, NULL, NULL);
}
