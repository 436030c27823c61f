/* SPDX-License-Identifier: MIT
 * Messages: their shape in three formats, and whether colour is wanted.
 * The frame is the one that message.h shows; the pictures here are drawn by hand. */
#define _XOPEN_SOURCE 700   /* a pseudo terminal */
#include "check.h"
#include <fcntl.h>
#include <unistd.h>
#include "host/message.h"
#include "host/source.h"
#include "host/text.h"

/* ---- windows ----------------------------------------------------------------------------------------------------- */

#define BLANKS10 "          "
#define DIGITS50 "12345678901234567890123456789012345678901234567890"
#define DIGITS200 DIGITS50 DIGITS50 DIGITS50 DIGITS50
#define TILDES50 "~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~"
#define NOTHING {{{0}, 0}}, 0, {0}, 0, NULL, NULL      /* no label, no note, no help */

/* In `want` the first line stands up to its words: the code of the message is put at its end by hand in the rows whose
 * name says so, and by the test in all others. */
static const struct shown {
  const char *name, *text;
  struct sl_message message;         /* source is filled in where it is 1 */
  enum sl_format format; bool colour;
  const char *want;
} shown[] = {
  /* 12345678901234567890123456789012345678901234567890123456789012345678901234567890 */
  { "first line, whole: the code ends at column 80", "a",
    { SL_ERROR, "Q003", "no", 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: no                                                  [Q003]\n    a\n    ^\n" },
  { "first line, whole: two blanks are left", "a",
    { SL_ERROR, "Q003", "12345678901234567890123456789012345678901234567890", 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: 12345678901234567890123456789012345678901234567890  [Q003]\n    a\n    ^\n" },
  { "first line, whole: one more, and it reaches past column 80", "a",
    { SL_ERROR, "Q003", "123456789012345678901234567890123456789012345678901", 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: 123456789012345678901234567890123456789012345678901  [Q003]\n    a\n    ^\n" },
  { "first line, whole: letters of two bytes, and of two columns", "a",
    { SL_ERROR, "Q003", "\xC3\xA9\xC3\xA9 \xE5\xB1\x8B", 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: \xC3\xA9\xC3\xA9 \xE5\xB1\x8B                                               [Q003]\n"
    "    a\n    ^\n" },
  { "first line, whole: what is shown as \\xNN takes four columns", "a",
    { SL_ERROR, "Q003", "a\nb", 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: a\\x0Ab                                              [Q003]\n    a\n    ^\n" },
  { "first line, whole: no place", "a", { SL_ERROR, "U001", "no job given", 0, {0, 0, 0}, NOTHING }, SL_HUMAN, false,
    "stringline: error: no job given                                           [U001]\n" },
  { "first line, whole: however long, it is one", "a",
    { SL_ERROR, "D001", DIGITS200, 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: " DIGITS200 "  [D001]\n    a\n    ^\n" },
  { "human: the picture in message.h", "\n\n    local t = span + load\nlocal pull = 1200lbf\n",
    { SL_ERROR, "Q003", "cannot add a length to a force", 1, {3, 20, 1},
      { {{3, 22, 4}, "force, 1200 lbf"}, {{3, 15, 4}, "length, 20 ft"}, {{4, 14, 7}, "written here"} }, 3,
      { "both come from the script" }, 1, "a moment is `span * load`", NULL }, SL_HUMAN, false,
    "job.sline:3:20: error: cannot add a length to a force\n"
    "    local t = span + load\n"
    "              ^~~~ length, 20 ft\n"
    "                     ^~~~ force, 1200 lbf\n"
    "    line 4: local pull = 1200lbf\n"
    "                         ^~~~~~~ written here\n"
    "    note: both come from the script\n"
    "    help: a moment is `span * load`\n" },
  { "human: two labels at one place, the wider too", "abc = 4",
    { SL_ERROR, "Q001", "no", 1, {1, 7, 1}, { {{1, 1, 3}, "one"}, {{1, 1, 1}, "two"} }, 2, {0}, 0, NULL, NULL },
    SL_HUMAN, false,
    "job.sline:1:7: error: no\n    abc = 4\n    ^~~ one\n    ^ two\n" },
  { "human: a label at the place of the message gives it words", "height = 900",
    { SL_ERROR, "D001", "a length is wanted", 1, {1, 10, 3}, { {{1, 10, 3}, "a bare number"} }, 1, {0}, 0, NULL, NULL },
    SL_HUMAN, false,
    "job.sline:1:10: error: a length is wanted\n    height = 900\n             ^~~ a bare number\n" },
  { "human: marks without words each have a row, where none has words", "a b",
    { SL_ERROR, "D001", "no", 1, {1, 3, 1}, { {{1, 1, 1}, NULL} }, 1, {0}, 0, NULL, NULL }, SL_HUMAN, false,
    "job.sline:1:3: error: no\n    a b\n    ^\n      ^\n" },
  { "human: the line of the message comes first, another one says its number", "module 'x'\n\n\n  module 'x'\n",
    { SL_ERROR, "D004", "declared twice", 1, {4, 3, 6}, { {{1, 1, 6}, "first here"} }, 1, {0}, 0, NULL, NULL },
    SL_HUMAN, false,
    "job.sline:4:3: error: declared twice\n"
    "    module 'x'\n"
    "    ^~~~~~\n"
    "    line 1: module 'x'\n"
    "            ^~~~~~ first here\n" },
  { "human: other lines in their order", "one\ntwo\nthree",
    { SL_ERROR, "D004", "no", 1, {2, 1, 3}, { {{3, 2, 1}, "c"}, {{1, 2, 1}, "a"} }, 2, {0}, 0, NULL, NULL },
    SL_HUMAN, false,
    "job.sline:2:1: error: no\n    two\n    ^~~\n    line 1: one\n             ^ a\n"
    "    line 3: three\n             ^ c\n" },
  { "human: blanks and tabs in front are left out, within a line a tab is one", "\t x\t= 4 +",
    { SL_ERROR, "D004", "no", 1, {1, 9, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:9: error: no\n    x = 4 +\n          ^\n" },
  { "human: not those that are marked", "    x",
    { SL_ERROR, "D004", "no", 1, {1, 3, 2}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:3: error: no\n      x\n    ^~\n" },
  { "human: two-byte letters are one column", "p\xC3\xA9\xC3\xA9 = 4",
    { SL_ERROR, "D004", "no", 1, {1, 9, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:9: error: no\n    p\xC3\xA9\xC3\xA9 = 4\n          ^\n" },
  { "human: wide letters are two columns", "\xE5\xB1\x8B = \xE5\xB1\x8B",
    { SL_ERROR, "D004", "no", 1, {1, 7, 3}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:7: error: no\n    \xE5\xB1\x8B = \xE5\xB1\x8B\n         ^~\n" },
  { "human: a combining accent is no column", "pe\xCC\x81 = 4",
    { SL_ERROR, "D004", "no", 1, {1, 8, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:8: error: no\n    pe\xCC\x81 = 4\n         ^\n" },
  { "human: a byte that is not UTF-8 is shown", "x\xE9y = 4",
    { SL_ERROR, "F011", "no", 1, {1, 2, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:2: error: no\n    x\\xE9y = 4\n     ^~~~\n" },
  { "human: an escape sequence in a script does nothing", "x = '\033[2J'",
    { SL_ERROR, "D004", "no", 1, {1, 1, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: no\n    x = '\\x1B[2J'\n    ^\n" },
  { "human: a mark that turns the text round is shown", "a\xE2\x80\xAE" "b",
    { SL_ERROR, "D004", "no", 1, {1, 5, 1}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:5: error: no\n    a\\xE2\\x80\\xAEb\n                 ^\n" },
  { "human: nor do those in label, note, help and code", "x",
    { SL_ERROR, "D0\n4", "no", 1, {1, 1, 1}, { {{1, 1, 1}, "a\r"} }, 1, {"b\n    help: c"}, 1, "no\007", NULL },
    SL_HUMAN, false,
    "job.sline:1:1: error: no                                               [D0\\x0A4]\n    x\n    ^ a\\x0D\n"
    "    note: b\\x0A    help: c\n    help: no\\x07\n" },
  { "human: behind the end of the line", "x = ",
    { SL_ERROR, "D004", "no", 1, {1, 5, 0}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:5: error: no\n    x =\n        ^\n" },
  { "human: a span too long stops at the end of its line", "abc\ndef",
    { SL_ERROR, "D004", "no", 1, {1, 2, 99}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:2: error: no\n    abc\n     ^~\n" },
  { "human: a line alone has no mark", "x = 1\ny = nil + 1",
    { SL_ERROR, "S002", "no", 1, {2, 0, 0}, NOTHING }, SL_HUMAN, false,
    "job.sline:2: error: no\n    y = nil + 1\n" },
  { "human: a line that is not there", "x",
    { SL_ERROR, "S002", "no", 1, {7, 2, 1}, { {{8, 1, 1}, "it"} }, 1, {0}, 0, NULL, NULL }, SL_HUMAN, false,
    "job.sline:7:2: error: no\n    note: it (line 8)\n" },
  { "human: the file alone", "x",
    { SL_ERROR, "F001", "the file is empty", 1, {0, 0, 0}, {{{0}, 0}}, 0, {0}, 0, "name the columns", NULL },
    SL_HUMAN, false,
    "job.sline: error: the file is empty\n    help: name the columns\n" },
  { "human: a warning without a code", "x",
    { SL_WARNING, NULL, "no job given", 0, {0, 0, 0}, {{{0}, 0}}, 0, {"one", "two"}, 2, NULL, NULL }, SL_HUMAN, false,
    "stringline: warning: no job given\n    note: one\n    note: two\n" },
  { "human: a note", "x",
    { SL_NOTE_LEVEL, "N001", "so", 0, {0, 0, 0}, NOTHING }, SL_HUMAN, false, "stringline: note: so\n" },
  { "human: colour, whole", "a + b",
    { SL_ERROR, "Q001", "no", 1, {1, 3, 1}, { {{1, 3, 1}, "it"}, {{1, 1, 1}, "left"} }, 2, {"so"}, 1, "do", NULL },
    SL_HUMAN, true,
    "job.sline:1:3: \033[1;31merror\033[0m: \033[1mno\033[0m" BLANKS10 BLANKS10 BLANKS10 BLANKS10 BLANKS10
    "\033[1;34m[Q001]\033[0m\n"
    "    a + b\n"
    "    \033[1;34m^ left\033[0m\n"
    "      \033[1;31m^ it\033[0m\n"
    "    \033[1mnote\033[0m: so\n"
    "    \033[1;36mhelp\033[0m: do\n" },
  { "human: a line of 100 columns is shown whole", DIGITS50 DIGITS50,
    { SL_ERROR, "L001", "no", 1, {1, 3, 2}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:3: error: no\n    " DIGITS50 DIGITS50 "\n      ^~\n" },
  { "human: a long line is cut on the right", DIGITS200,
    { SL_ERROR, "L001", "no", 1, {1, 3, 2}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:3: error: no\n    " DIGITS50 DIGITS50 "\b\b…\n      ^~\n" },
  { "human: a long line is cut on both sides", DIGITS200,
    { SL_ERROR, "L001", "no", 1, {1, 131, 2}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:131: error: no\n    …" DIGITS50 DIGITS50 "\b\b…\n"
    "    " " " BLANKS10 BLANKS10 BLANKS10 "^~\n" },
  { "human: marks that do not fit one window get two", DIGITS200,
    { SL_ERROR, "L001", "no", 1, {1, 131, 1}, { {{1, 1, 1}, "far away"} }, 1, {0}, 0, NULL, NULL }, SL_HUMAN, false,
    "job.sline:1:131: error: no\n    …" DIGITS50 DIGITS50 "\b\b…\n"
    "    " " " BLANKS10 BLANKS10 BLANKS10 "^\n"
    "    " DIGITS50 DIGITS50 "\b\b…\n"
    "    ^ far away\n" },
  { "human: marks near each other share one window", DIGITS200,
    { SL_ERROR, "L001", "no", 1, {1, 133, 1}, { {{1, 131, 1}, "near"}, {{1, 133, 1}, "it"} }, 2, {0}, 0, NULL, NULL },
    SL_HUMAN, false,
    "job.sline:1:133: error: no\n    …" DIGITS50 DIGITS50 "\b\b…\n"
    "    " " " BLANKS10 BLANKS10 BLANKS10 "^ near\n"
    "    " " " BLANKS10 BLANKS10 BLANKS10 "  ^ it\n" },
  { "human: a span over the end of the window is cut with it", DIGITS200,
    { SL_ERROR, "L001", "no", 1, {1, 1, 200}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:1: error: no\n    " DIGITS50 DIGITS50 "\b\b…\n    ^" TILDES50 TILDES50 "\b\b\b\n" },
  { "human: behind the end of a long line", DIGITS200,
    { SL_ERROR, "L001", "no", 1, {1, 201, 0}, NOTHING }, SL_HUMAN, false,
    "job.sline:1:201: error: no\n    …123456789012345678901234567890\n"
    "     " BLANKS10 BLANKS10 BLANKS10 "^\n" },
  /* GNU Coding Standards, "Formatting Error Messages": FILE:LINE:COLUMN: MESSAGE and PROGRAM: MESSAGE */
  { "gnu: place, code, label, note and help", "a + b",
    { SL_ERROR, "Q003", "cannot add", 1, {1, 3, 1}, { {{1, 5, 1}, "force\n"} }, 1, {"a\nnote"}, 1, "help me", NULL },
    SL_GNU, true,
    "job.sline:1:3: error: cannot add\n"
    "job.sline:1:5: note: force\\x0A\n"
    "job.sline:1:3: note: a\\x0Anote\n"
    "job.sline:1:3: note: help me\n" },
  { "human: lines to write, below the help", "a",
    { SL_ERROR, "D002", "two are missing", 1, {1, 1, 1}, {{{0}, 0}}, 0, {0}, 0, "write:", "b = 1,\nc = \"\x1B\"," },
    SL_HUMAN, false,
    "job.sline:1:1: error: two are missing                                     [D002]\n    a\n    ^\n"
    "    help: write:\n        b = 1,\n        c = \"\\x1B\",\n" },
  { "gnu: lines to write", "a",
    { SL_ERROR, NULL, "no", 1, {1, 1, 1}, {{{0}, 0}}, 0, {0}, 0, "write:", "b = 1,\nc = 2," }, SL_GNU, false,
    "job.sline:1:1: error: no\njob.sline:1:1: note: write:\njob.sline:1:1: note: b = 1,\n"
    "job.sline:1:1: note: c = 2,\n" },
  { "json: lines to write", "a",
    { SL_ERROR, NULL, "no", 0, {0, 0, 0}, {{{0}, 0}}, 0, {0}, 0, "write:", "b = 1,\nc = 2," }, SL_JSON, false,
    "{\"severity\":\"error\",\"code\":null,\"message\":\"no\",\"file\":null,\"line\":null,\"column\":null,"
    "\"length\":null,\"labels\":[],\"notes\":[],\"help\":\"write:\",\"write\":\"b = 1,\\nc = 2,\"}\n" },
  { "gnu: the file alone", "a", { SL_WARNING, "F001", "empty", 1, {0, 0, 0}, NOTHING }, SL_GNU, false,
    "job.sline: warning: empty\n" },
  { "gnu: the line alone", "a", { SL_NOTE_LEVEL, NULL, "so", 1, {1, 0, 0}, NOTHING }, SL_GNU, false,
    "job.sline:1: note: so\n" },
  { "gnu: no place", "a", { SL_ERROR, NULL, "no job given", 0, {0, 0, 0}, NOTHING }, SL_GNU, false,
    "stringline: error: no job given\n" },
  { "gnu: what a script prints", "a", { SL_PRINT, NULL, "so", 1, {1, 0, 0}, NOTHING }, SL_GNU, false,
    "job.sline:1: print: so\n" },
  { "gnu: an empty line printed ends without a blank", "a",
    { SL_PRINT, NULL, "", 1, {1, 0, 0}, NOTHING }, SL_GNU, false,
    "job.sline:1: print:\n" },
  { "json: everything", "a + b",
    { SL_ERROR, "Q003", "cannot \"add\"", 1, {1, 3, 1}, { {{1, 5, 1}, "force"}, {{1, 1, 1}, NULL} }, 2, {"a", "b"},
    2, "h", NULL },
    SL_JSON, true,
    "{\"severity\":\"error\",\"code\":\"Q003\",\"message\":\"cannot \\\"add\\\"\",\"file\":\"job.sline\",\"line\":1,"
    "\"column\":3,\"length\":1,\"labels\":[{\"line\":1,\"column\":5,\"length\":1,\"text\":\"force\"},"
    "{\"line\":1,\"column\":1,\"length\":1,\"text\":\"\"}],\"notes\":[\"a\",\"b\"],\"help\":\"h\"}\n" },
  { "json: no place", "a",
    { SL_WARNING, NULL, "x", 0, {3, 3, 3}, {{{0}, 0}}, 0, {0}, 0, NULL, NULL }, SL_JSON, false,
    "{\"severity\":\"warning\",\"code\":null,\"message\":\"x\",\"file\":null,\"line\":null,\"column\":null,"
    "\"length\":null,\"labels\":[],\"notes\":[],\"help\":null}\n" },
  { "json: the line alone", "a",
    { SL_NOTE_LEVEL, NULL, "x", 1, {1, 0, 0}, {{{0}, 0}}, 0, {0}, 0, NULL, NULL }, SL_JSON, false,
    "{\"severity\":\"note\",\"code\":null,\"message\":\"x\",\"file\":\"job.sline\",\"line\":1,\"column\":null,"
    "\"length\":null,\"labels\":[],\"notes\":[],\"help\":null}\n" },
};

/* Where a row does not say it by hand: the code with blanks before it, so that the line has 80 columns. */
static void put_code(char *to, size_t size, const struct shown *r) {
  const size_t first = strcspn(r->want, "\n");
  const char *code = r->message.code;
  if (r->format == SL_JSON || !code || memchr(r->want, '[', first)) snprintf(to, size, "%s", r->want);
  else snprintf(to, size, "%.*s%*s[%s]%s", (int)first, r->want, 80 - (int)first - (int)strlen(code) - 2, "", code,
                r->want + first);
}

/* \b in a picture takes the column before it back, as on paper. */
static void take_back(char *text) {
  char *to = text;
  for (const char *p = text; *p; p++) {
    if (*p == '\b') to--;
    else *to++ = *p;
  }
  *to = '\0';
}

static void message_looks_like(void **state) {
  const struct shown *r = *state;
  struct sl_message m = r->message;
  char *got = NULL, want[2000];
  size_t len = 0;
  FILE *to = open_memstream(&got, &len);
  assert_non_null(to);
  struct sl_sources sources = { 0 };
  if (m.source) m.source = sl_source_add(&sources, "job.sline", r->text, strlen(r->text));
  sl_message_print(to, &sources, &m, r->format, r->colour);
  fclose(to);
  sl_sources_free(&sources);
  put_code(want, sizeof want, r);
  take_back(want);
  assert_string_equal(got, want);
  free(got);
}

/* ---- whatever the bytes ------------------------------------------------------------------------------------------ */

static uint32_t dice(uint32_t *seed) { return *seed = *seed * 1664525u + 1013904223u; }   /* the same on every run */

/* Bytes without NUL; what a terminal obeys, and what looks like a message, more often than chance has it. */
static void fill(char *text, size_t size, uint32_t *seed) {
  static const char *const spice[] = {
    "\n", "\r\n", "\033[31m", "\xE2\x80\xAE", "\xE9", "\xC2\x9B", "    help: ", ": error: " };
  size_t n = 0;
  for (uint32_t wanted = dice(seed) >> 29; wanted > 0; wanted--) {
    const uint32_t d = dice(seed) >> 8;
    const char *s = spice[d % (sizeof spice / sizeof *spice)];
    if (d & 64 && n + strlen(s) + 1 < size) n += (size_t)snprintf(text + n, size - n, "%s", s);
    else if (n + 1 < size) text[n++] = (char)(1 + d % 255);
  }
  text[n] = '\0';
}

/* How many lines; nothing in them is obeyed. */
static size_t lines_of(const char *got, uint32_t round) {
  size_t lines = 0;
  for (const unsigned char *p = (const unsigned char *)got; *p; p++) {
    if (*p == '\n') lines++;
    else if (*p < 0x20 || *p == 0x7F || (p[0] == 0xC2 && p[1] < 0xA0) || (p[0] == 0xE2 && p[1] == 0x80 && p[2] == 0xAE))
      fail_msg("round %u: byte %02X comes out in: %s", round, *p, got);
  }
  uint32_t point;
  for (size_t at = 0, n = strlen(got), step; at < n; at += step)
    assert_true((step = sl_utf8(got + at, n - at, &point)) > 0);
  return lines;
}

/* A message whose texts hold any bytes has the lines of the same message with plain ones. */
static void whatever_the_bytes(void **state) {
  (void)state;
  for (uint32_t round = 1; round <= 3000; round++) {
    uint32_t seed = round;
    char name[40], line[80], text[4][60], *got = NULL;
    fill(name, sizeof name, &seed);
    if (!*name) continue;
    fill(line, sizeof line, &seed);
    for (size_t i = 0; i < 4; i++) fill(text[i], sizeof text[i], &seed);
    struct sl_sources sources = { 0 };
    const struct sl_message m = { SL_ERROR, text[0], text[1], sl_source_add(&sources, name, line, strlen(line)),
      { 1, 1 + (int)(dice(&seed) >> 27), (int)(dice(&seed) >> 29) }, {{{0}, 0}}, 0, { text[2] }, 1, text[3], NULL };
    for (enum sl_format format = SL_HUMAN; format <= SL_JSON; format++) {
      size_t len = 0;
      FILE *to = open_memstream(&got, &len);
      assert_non_null(to);
      sl_message_print(to, &sources, &m, format, false);
      fclose(to);
      const size_t lines = lines_of(got, round), notes = (size_t)(format == SL_HUMAN || *text[2]) + (*text[3] != 0);
      assert_int_equal(lines, format == SL_HUMAN ? 3 + notes : format == SL_GNU ? 1 + notes : 1);
      assert_int_equal(strlen(got), len);
      free(got);
    }
    sl_sources_free(&sources);
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

int main(void) {
  static struct CMUnitTest tests[100];
  size_t n = 0;
  ADD_ROWS(tests, n, shown, message_looks_like);
  ADD_ROWS(tests, n, colours, colour_is);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(whatever_the_bytes);
  return cmocka_run_group_tests_name("message", tests, NULL, NULL);
}
