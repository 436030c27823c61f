/* SPDX-License-Identifier: MIT
 * Messages: their shape in three formats, places in texts, UTF-8, and did-you-mean.
 * The window's shape is the one that diag.h draws; the pictures here are drawn by hand. */
#define _XOPEN_SOURCE 700   /* a pseudo terminal */
#include "check.h"
#include <fcntl.h>
#include <unistd.h>
#include "host/message.h"
#include "host/nearest.h"
#include "host/source.h"
#include "host/text.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ---- windows ----------------------------------------------------------------------------------------------------- */

#define BLANKS10 "          "
#define DIGITS50 "12345678901234567890123456789012345678901234567890"
#define DIGITS200 DIGITS50 DIGITS50 DIGITS50 DIGITS50

static const struct shown {
  const char *name, *text;
  struct sl_message message;         /* source is filled in where it is 1 */
  enum sl_format format; bool colour;
  const char *want;
} shown[] = {
  { "human: the picture in diag.h", "a\nb\nc\nd\ne\nf\ng\nh\ni\nj\n  local t = span + load\n",
    { SL_ERROR, "Q003", "cannot add a length to a force", 1, {11, 18, 1},
      { {{11, 13, 4}, "length, 20 ft"}, {{11, 20, 4}, "force, 1200 lbf (line 12)"} }, 2, {0}, 0,
      "a moment is `span * load`" }, SL_HUMAN, false,
    "error[Q003]: cannot add a length to a force\n"
    "  --> job.sline:11:18\n"
    "   |\n"
    "11 |   local t = span + load\n"
    "   |             ---- ^ ---- force, 1200 lbf (line 12)\n"
    "   |             |\n"
    "   |             length, 20 ft\n"
    "   = help: a moment is `span * load`\n" },
  { "human: labels in the other order, same picture", "  local t = span + load",
    { SL_ERROR, "Q003", "no", 1, {1, 18, 1}, { {{1, 20, 4}, "force"}, {{1, 13, 4}, "length"} }, 2, {0}, 0, NULL },
    SL_HUMAN, false,
    "error[Q003]: no\n --> job.sline:1:18\n  |\n"
    "1 |   local t = span + load\n"
    "  |             ---- ^ ---- force\n"
    "  |             |\n"
    "  |             length\n" },
  { "human: two labels hang, right one first", "a + b ^ c",
    { SL_ERROR, "Q1", "no", 1, {1, 9, 1}, { {{1, 1, 1}, "first"}, {{1, 5, 1}, "second"} }, 2, {0}, 0, NULL },
    SL_HUMAN, false,
    "error[Q1]: no\n --> job.sline:1:9\n  |\n"
    "1 | a + b ^ c\n"
    "  | -   -   ^\n"
    "  | |   |\n"
    "  | |   second\n"
    "  | first\n" },
  { "human: two labels at one place are stacked", "abc = 4",
    { SL_ERROR, "Q1", "no", 1, {1, 7, 1}, { {{1, 1, 3}, "one"}, {{1, 1, 1}, "two"} }, 2, {0}, 0, NULL },
    SL_HUMAN, false,
    "error[Q1]: no\n --> job.sline:1:7\n  |\n"
    "1 | abc = 4\n"
    "  | ---   ^\n"
    "  | |\n"
    "  | one\n"
    "  | two\n" },
  { "human: a label under the caret stands behind it", "height = 900",
    { SL_ERROR, "D1", "a length is wanted", 1, {1, 10, 3}, { {{1, 10, 3}, "a bare number"} }, 1, {0}, 0, NULL },
    SL_HUMAN, false,
    "error[D1]: a length is wanted\n --> job.sline:1:10\n  |\n"
    "1 | height = 900\n"
    "  |          ^^^ a bare number\n" },
  { "human: a label without words is dashes only", "a b",
    { SL_ERROR, "D1", "no", 1, {1, 3, 1}, { {{1, 1, 1}, NULL} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D1]: no\n --> job.sline:1:3\n  |\n1 | a b\n  | - ^\n" },
  { "human: another line, with ... between", "module 'x'\n\n\nmodule 'x'\n",
    { SL_ERROR, "D4", "declared twice", 1, {4, 1, 6}, { {{1, 1, 6}, "first here"} }, 1, {0}, 0, NULL },
    SL_HUMAN, false,
    "error[D4]: declared twice\n --> job.sline:4:1\n  |\n"
    "1 | module 'x'\n"
    "  | ------ first here\n"
    "...\n"
    "4 | module 'x'\n"
    "  | ^^^^^^\n" },
  { "human: neighbouring lines have no ... between", "one\ntwo",
    { SL_ERROR, "D4", "no", 1, {1, 1, 3}, { {{2, 1, 3}, "and here"} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:1\n  |\n1 | one\n  | ^^^\n2 | two\n  | --- and here\n" },
  { "human: the gutter is as wide as the last line shown", "1\n2\n3\n4\n5\n6\n7\n8\n9\n10\n",
    { SL_ERROR, "D4", "no", 1, {9, 1, 1}, { {{10, 1, 2}, "x"} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n  --> job.sline:9:1\n   |\n 9 | 9\n   | ^\n10 | 10\n   | -- x\n" },
  { "human: tabs are one column", "\tx\t= 4 +",
    { SL_ERROR, "D4", "no", 1, {1, 8, 1}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:8\n  |\n1 |  x = 4 +\n  |        ^\n" },
  { "human: two-byte letters are one column", "p\xC3\xA9\xC3\xA9 = 4",
    { SL_ERROR, "D4", "no", 1, {1, 9, 1}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:9\n  |\n1 | p\xC3\xA9\xC3\xA9 = 4\n  |       ^\n" },
  { "human: a combining accent is no column", "pe\xCC\x81 = 4",
    { SL_ERROR, "D4", "no", 1, {1, 8, 1}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:8\n  |\n1 | pe\xCC\x81 = 4\n  |      ^\n" },
  { "human: a byte that is not UTF-8 is shown", "x\xE9y = 4",
    { SL_ERROR, "F011", "no", 1, {1, 2, 1}, { {{1, 3, 1}, "y"} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[F011]: no\n --> job.sline:1:2\n  |\n1 | x\\xE9y = 4\n  |  ^^^^- y\n" },
  { "human: an escape sequence in a script does nothing", "x = '\033[2J'",
    { SL_ERROR, "D4", "no", 1, {1, 1, 1}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:1\n  |\n1 | x = '\\x1B[2J'\n  | ^\n" },
  { "human: a mark that turns the text round is shown", "a\xE2\x80\xAE" "b",
    { SL_ERROR, "D4", "no", 1, {1, 5, 1}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:5\n  |\n1 | a\\xE2\\x80\\xAEb\n  |              ^\n" },
  { "human: an escape sequence in the words does nothing", "x",
    { SL_ERROR, "D4", "no '\033[31m'", 1, {1, 1, 1}, {{{0}, 0}}, 0, {0}, 0, "no\007" }, SL_HUMAN, false,
    "error[D4]: no '\\x1B[31m'\n --> job.sline:1:1\n  |\n1 | x\n  | ^\n  = help: no\\x07\n" },
  { "human: behind the end of the line", "x = ",
    { SL_ERROR, "D4", "no", 1, {1, 5, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:5\n  |\n1 | x =\n  |     ^\n" },
  { "human: a span too long stops at the end of its line", "abc\ndef",
    { SL_ERROR, "D4", "no", 1, {1, 2, 99}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:2\n  |\n1 | abc\n  |  ^^\n" },
  { "human: an empty line has no trailing blank", "\n",
    { SL_ERROR, "D4", "no", 1, {1, 1, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[D4]: no\n --> job.sline:1:1\n  |\n1 |\n  | ^\n" },
  { "human: a line alone has no caret", "x = 1\ny = nil + 1",
    { SL_ERROR, "S2", "no", 1, {2, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[S2]: no\n --> job.sline:2\n  |\n2 | y = nil + 1\n" },
  { "human: a line that is not there", "x",
    { SL_ERROR, "S2", "no", 1, {7, 2, 1}, { {{8, 1, 1}, "it"} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[S2]: no\n --> job.sline:7:2\n  = note: it (line 8)\n" },
  { "human: the file alone", "x",
    { SL_ERROR, "F001", "the file is empty", 1, {0, 0, 0}, {{{0}, 0}}, 0, {0}, 0, "name the columns" }, SL_HUMAN, false,
    "error[F001]: the file is empty\n --> job.sline\n  = help: name the columns\n" },
  { "human: no place at all", "x",
    { SL_WARNING, NULL, "no job given", 0, {0, 0, 0}, {{{0}, 0}}, 0, {"one", "two\nlines"}, 2, NULL }, SL_HUMAN, false,
    "warning: no job given\n  = note: one\n  = note: two\n          lines\n" },
  { "human: a note", "x",
    { SL_NOTE_LEVEL, "N1", "so", 0, {0, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false, "note[N1]: so\n" },
  { "human: colour", "a + b",
    { SL_ERROR, "Q1", "no", 1, {1, 3, 1}, { {{1, 1, 1}, "left"} }, 1, {0}, 0, "do" }, SL_HUMAN, true,
    "\033[1;31merror[Q1]\033[0m\033[1m: no\033[0m\n"
    " \033[1;34m--> \033[0mjob.sline:1:3\n"
    "\033[1;34m  |\033[0m\n"
    "\033[1;34m1 |\033[0m a + b\n"
    "\033[1;34m  |\033[0m \033[1;34m-\033[0m \033[1;31m^\033[0m\n"
    "\033[1;34m  |\033[0m \033[1;34m|\033[0m\n"
    "\033[1;34m  |\033[0m \033[1;34mleft\033[0m\n"
    "  \033[1;34m=\033[1;36m help\033[0m: do\n" },
  { "human: a long line is cut on the right", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 3, 2}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:3\n  |\n1 | " DIGITS50 DIGITS50 "…\n  |   ^^\n" },
  { "human: a long line is cut on both sides", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 131, 2}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:131\n  |\n1 | …" DIGITS50 DIGITS50 "\n"
    "  | " " " BLANKS10 BLANKS10 BLANKS10 "^^\n" },
  { "human: marks that do not fit one window get two", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 131, 1}, { {{1, 1, 1}, "far away"} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:131\n  |\n1 | …" DIGITS50 DIGITS50 "\n"
    "  | " " " BLANKS10 BLANKS10 BLANKS10 "^\n"
    "...\n"
    "1 | " DIGITS50 DIGITS50 "…\n"
    "  | - far away\n" },
  { "human: marks near each other share one window", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 133, 1}, { {{1, 131, 1}, "near"} }, 1, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:133\n  |\n1 | …" DIGITS50 DIGITS50 "\n"
    "  | " " " BLANKS10 BLANKS10 BLANKS10 "- ^\n"
    "  | " " " BLANKS10 BLANKS10 BLANKS10 "|\n"
    "  | " " " BLANKS10 BLANKS10 BLANKS10 "near\n" },
  { "human: a span over the end of the window is cut with it", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 1, 200}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:1\n  |\n1 | " DIGITS50 DIGITS50 "…\n"

     "  | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^"
    "^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^\n" },
  { "human: an empty mark just behind the window", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 101, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:101\n  |\n"
    "1 | …12345678901234567890123456789" "0" DIGITS50 "12345678901234567890" "…\n"
    "  |  " BLANKS10 BLANKS10 BLANKS10 "^\n" },
  { "human: behind the end of a long line", DIGITS200,
    { SL_ERROR, "L", "no", 1, {1, 201, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_HUMAN, false,
    "error[L]: no\n --> job.sline:1:201\n  |\n1 | …123456789012345678901234567890\n"
    "  |  " BLANKS10 BLANKS10 BLANKS10 "^\n" },
  /* GNU Coding Standards, "Formatting Error Messages": FILE:LINE:COLUMN: MESSAGE and PROGRAM: MESSAGE */
  { "gnu: place, code, label, note and help", "a + b",
    { SL_ERROR, "Q003", "cannot add", 1, {1, 3, 1}, { {{1, 5, 1}, "force"} }, 1, {"a\nnote"}, 1, "help me" },
    SL_GNU, false,
    "job.sline:1:3: error: cannot add [Q003]\n"
    "job.sline:1:5: note: force\n"
    "job.sline:1:3: note: a note\n"
    "job.sline:1:3: note: help me\n" },
  { "gnu: the file alone", "a", { SL_WARNING, "F1", "empty", 1, {0, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_GNU, false,
    "job.sline: warning: empty [F1]\n" },
  { "gnu: the line alone", "a", { SL_NOTE_LEVEL, NULL, "so", 1, {1, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_GNU, false,
    "job.sline:1: note: so\n" },
  { "gnu: no place", "a", { SL_ERROR, NULL, "no job given", 0, {0, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_GNU, false,
    "stringline: error: no job given\n" },
  { "json: everything", "a + b",
    { SL_ERROR, "Q003", "cannot \"add\"", 1, {1, 3, 1}, { {{1, 5, 1}, "force"}, {{1, 1, 1}, NULL} }, 2, {"a", "b"},
    2, "h" },
    SL_JSON, true,
    "{\"severity\":\"error\",\"code\":\"Q003\",\"message\":\"cannot \\\"add\\\"\",\"file\":\"job.sline\",\"line\":1,"
    "\"column\":3,\"length\":1,\"labels\":[{\"line\":1,\"column\":5,\"length\":1,\"text\":\"force\"},"
    "{\"line\":1,\"column\":1,\"length\":1,\"text\":\"\"}],\"notes\":[\"a\",\"b\"],\"help\":\"h\"}\n" },
  { "json: no place", "a",
    { SL_WARNING, NULL, "x", 0, {3, 3, 3}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_JSON, false,
    "{\"severity\":\"warning\",\"code\":null,\"message\":\"x\",\"file\":null,\"line\":null,\"column\":null,"
    "\"length\":null,\"labels\":[],\"notes\":[],\"help\":null}\n" },
  { "json: the line alone", "a",
    { SL_NOTE_LEVEL, NULL, "x", 1, {1, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL }, SL_JSON, false,
    "{\"severity\":\"note\",\"code\":null,\"message\":\"x\",\"file\":\"job.sline\",\"line\":1,\"column\":null,"
    "\"length\":null,\"labels\":[],\"notes\":[],\"help\":null}\n" },
};

static void message_looks_like(void **state) {
  const struct shown *r = *state;
  struct sl_message m = r->message;
  char *got = NULL;
  size_t len = 0;
  FILE *to = open_memstream(&got, &len);
  assert_non_null(to);
  struct sl_sources sources = { 0 };
  if (m.source) m.source = sl_source_add(&sources, "job.sline", r->text, strlen(r->text));
  sl_message_print(to, &sources, &m, r->format, r->colour);
  fclose(to);
  sl_sources_free(&sources);
  assert_string_equal(got, r->want);
  free(got);
}

/* ---- lines of a text --------------------------------------------------------------------------------------------- */

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
  { "columns: tab is one", "a\tb", 3 },
  { "columns: bad bytes are one each", "\xFF\xFE", 2 },
  { "columns: zero-width space is none", "a\xE2\x80\x8B" "b", 2 },
};

static void columns_are(void **state) {
  const struct columns *r = *state;
  assert_int_equal(sl_columns(r->text, strlen(r->text)), r->want);
}

/* ---- did you mean ------------------------------------------------------------------------------------------------ */

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
  while (n < COUNT(r->names) && r->names[n]) n++;
  const char *got = sl_nearest(r->word, r->names, n);
  if (r->want) {
    assert_non_null(got);
    assert_string_equal(got, r->want);
  } else {
    assert_null(got);
  }
}

/* ---- colour ------------------------------------------------------------------------------------------------------ */

/* NULL: not set.  no-color.org: set and not empty means none, whatever the value. */
static const struct colour { const char *name, *no_color, *term; bool terminal, off, want; } colours[] = {
  { "colour: a terminal", NULL, "xterm", true, false, true },
  { "colour: switched off", NULL, "xterm", true, true, false },
  { "colour: NO_COLOR=1", "1", "xterm", true, false, false },
  { "colour: NO_COLOR=0 is set too", "0", "xterm", true, false, false },
  { "colour: NO_COLOR empty is not set", "", "xterm", true, false, true },
  { "colour: TERM=dumb", NULL, "dumb", true, false, false },
  { "colour: a file", NULL, "xterm", false, false, false },
};

static void colour_is(void **state) {
  const struct colour *r = *state;
  FILE *to = tmpfile();
  int master = -1;
  assert_non_null(to);
  if (r->terminal) {
    fclose(to);
    master = posix_openpt(O_RDWR | O_NOCTTY);
    if (master < 0 || grantpt(master) != 0 || unlockpt(master) != 0) skip();
    to = fopen(ptsname(master), "w");
    assert_non_null(to);
  }
  if (r->no_color) setenv("NO_COLOR", r->no_color, 1); else unsetenv("NO_COLOR");
  setenv("TERM", r->term, 1);
  bool got = sl_colour_wanted(to, r->off);
  fclose(to);
  if (master >= 0) close(master);
  assert_int_equal(got, r->want);
}

#define ADD(rows, function) \
  for (size_t i = 0; i < COUNT(rows); i++) \
    tests[n++] = (struct CMUnitTest){ rows[i].name, function, NULL, NULL, (void *)(uintptr_t)&rows[i] }

int main(void) {
  static struct CMUnitTest tests[COUNT(shown) + COUNT(lines) + COUNT(utf8) + COUNT(columns) + COUNT(nearest) +
                                 COUNT(colours) + 1];
  size_t n = 0;
  ADD(shown, message_looks_like);
  ADD(lines, line_is);
  ADD(utf8, utf8_is);
  ADD(columns, columns_are);
  ADD(nearest, nearest_is);
  ADD(colours, colour_is);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sources_are_kept);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(scans_go_with_their_text);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sources_have_a_limit);
  return cmocka_run_group_tests_name("diag", tests, NULL, NULL);
}
