/* SPDX-License-Identifier: MIT
 * What a stranger's process writes, passed on: nothing that a terminal obeys, whatever pieces it comes in.  The
 * sequences are those of ECMA-48 (terminals), RFC 3629 (UTF-8) and Unicode annex 9 (marks that turn the text). */
#include "check.h"
#include "confine/child.h"
#include "confine/strain.h"
#include "host/text.h"
#include <unistd.h>

static const struct row { const char *name, *given, *shown; } rows[] = {
  { "plain lines", "two lines\nof text\n", "two lines\nof text\n" },
  { "a tab", "a\tb", "a\tb" },
  { "lines of CSV", "a,b\r\nc,d\r\n", "a,b\r\nc,d\r\n" },
  { "characters of two, three and four bytes", "5 °C × 3 – \xF0\x9F\x9C\x81", "5 °C × 3 – \xF0\x9F\x9C\x81" },
  { "a colour", "\033[31mred\033[0m", "\\x1B[31mred\\x1B[0m" },
  { "a title of the window", "\033]0;owned\a", "\\x1B]0;owned\\x07" },
  { "a colour in one byte", "\x9B" "31m", "\\x9B31m" },
  { "the same as a character", "\xC2\x9B" "31m", "\\xC2\\x9B31m" },
  { "a line written over", "good\rbad", "good\\x0Dbad" },
  { "two returns before a line's end", "x\r\r\n", "x\\x0D\r\n" },
  { "letters taken back", "no\b\bok\x7F", "no\\x08\\x08ok\\x7F" },
  { "a page, a bell, nothing", "\f\a\v", "\\x0C\\x07\\x0B" },
  { "text turned round", "a\xE2\x80\xAE" "b", "a\\xE2\\x80\\xAE" "b" },
  { "a line end of Unicode", "a\xE2\x80\xA8" "b", "a\\xE2\\x80\\xA8" "b" },
  { "no UTF-8", "a\xFF\xC0\x80" "b", "a\\xFF\\xC0\\x80" "b" },
  { "half a surrogate pair", "\xED\xA0\x80", "\\xED\\xA0\\x80" },
  { "the beginning of a character", "a\xE2\x80", "a\\xE2\\x80" },
  { "one that another interrupts", "\xE2\x80\xC2\xB0", "\\xE2\\x80\xC2\xB0" },
  { "a return at the end", "a\r", "a\\x0D" },
};

/* The text in pieces of `piece` bytes, as they are read. */
static void strain_in(const char *text, size_t n, size_t piece, char *to) {
  char waiting[SL_STRAIN_WAITS + 64];
  size_t waits = 0, used = 0, taken;
  for (size_t at = 0; at < n; at += piece) {
    const size_t part = n - at < piece ? n - at : piece;
    memcpy(waiting + waits, text + at, part);
    waits += part;
    used += sl_strain(to + used, waiting, waits, false, &taken);
    assert_true(taken <= waits && waits - taken <= SL_STRAIN_WAITS);
    waits -= taken;
    memmove(waiting, waiting + taken, waits);
  }
  used += sl_strain(to + used, waiting, waits, true, &taken);
  assert_int_equal(taken, waits);
  to[used] = '\0';
}

static void is_shown(void **state) {
  const struct row *r = *state;
  char shown[400];
  for (size_t piece = 1; piece <= 60; piece++) {
    strain_in(r->given, strlen(r->given), piece, shown);
    assert_string_equal(shown, r->shown);
  }
}

/* Of all strings of three bytes of these: what comes holds nothing that is obeyed, and comes again as it is. */
static void what_comes_is_safe(void **state) {
  (void)state;
  static const unsigned char bytes[] = { 0, '\n', '\r', '\t', 0x1B, '[', 'm', 0x7F, 0x80, 0x9B, 0xAE, 0xC2, 0xE2, 0xED,
                                         0xF0, 0xF4, 0xFF };
  enum { N = sizeof bytes };
  for (size_t i = 0; i < N * N * N; i++) {
    const char text[3] = { (char)bytes[i % N], (char)bytes[i / N % N], (char)bytes[i / N / N] };
    char shown[64], again[260], pieces[64];
    size_t taken, n = sl_strain(shown, text, sizeof text, true, &taken);
    assert_int_equal(taken, sizeof text);
    assert_true(n <= 4 * sizeof text);
    for (size_t at = 0; at < n; at++) {
      at += sl_unsafe(shown + at, n - at);
      assert_true(at == n || shown[at] == '\n' || shown[at] == '\t' || (shown[at] == '\r' && shown[at + 1] == '\n'));
    }
    assert_int_equal(sl_strain(again, shown, n, true, &taken), n);
    assert_memory_equal(again, shown, n);
    shown[n] = '\0';
    strain_in(text, sizeof text, 1, pieces);
    assert_string_equal(pieces, shown);
  }
}

/* ---- through the process ----------------------------------------------------------------------------------------- */

static int write_raw(void *arg) {
  const char *text = arg;
  for (size_t i = 0; text[i]; i++)
    if (write(1 + (int)(i & 1), text + i, 1) != 1) return 1;
  return 0;
}

/* Both channels, byte by byte, so that characters come in pieces. */
static void a_child_is_strained(void **state) {
  (void)state;
  static char text[] = "\033\033[[33""11\xC2\xC2\xB0\xB0\xE2\xE2\x80\x80\xAE\xAE\n\n\xC2\xC2";
  char got[2][100];
  FILE *to[2];
  int saved[2];
  for (int i = 0; i < 2; i++) {
    fflush(i ? stderr : stdout);
    to[i] = tmpfile();
    saved[i] = dup(i + 1);
    assert_true(to[i] && saved[i] >= 0 && dup2(fileno(to[i]), i + 1) >= 0);
  }
  const struct sl_child_end end = sl_child_run(write_raw, text, NULL);
  for (int i = 0; i < 2; i++) {
    dup2(saved[i], i + 1);
    close(saved[i]);
    rewind(to[i]);
    got[i][fread(got[i], 1, sizeof got[i] - 1, to[i])] = '\0';
    fclose(to[i]);
  }
  assert_int_equal(end.how, SL_CHILD_RAN);
  assert_int_equal(end.status, 0);
  assert_string_equal(got[0], "\\x1B[31\xC2\xB0\\xE2\\x80\\xAE\n\\xC2");
  assert_string_equal(got[1], "\\x1B[31\xC2\xB0\\xE2\\x80\\xAE\n\\xC2\n");     /* where what we say begins */
}

int main(void) {
  struct CMUnitTest tests[sizeof rows / sizeof *rows + 2];
  size_t n = 0;
  for (; n < sizeof rows / sizeof *rows; n++)
    tests[n] = (struct CMUnitTest){ rows[n].name, is_shown, NULL, NULL, (void *)(uintptr_t)&rows[n] };
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(what_comes_is_safe);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(a_child_is_strained);
  return _cmocka_run_group_tests("strain", tests, n, NULL, NULL);
}
