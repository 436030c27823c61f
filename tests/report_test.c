/* SPDX-License-Identifier: MIT
 * Reading a report back: the JSON reader against the grammar of RFC 8259, the text reader against wrapped lines, both
 * against any bytes. */
#include "job_run.h"
#include "host/language.h"

#define JSON(name, text, probe, want) \
  { name, NULL, NULL, "local v, why, at = import('write.json_reader').read([==[" text "]==]) " probe, want, NULL, 0 }
#define SHOWN "return type(v) .. ' ' .. tostring(v)"
#define REFUSED "return v == nil and why .. ' at ' .. at or 'taken'"

static const struct job_row json[] = {
  JSON("a number", " 12 ", SHOWN, "number 12"),
  JSON("with fraction and exponent", "-0.5e+2", SHOWN, "number -50.0"),
  JSON("true", "true", SHOWN, "boolean true"),
  JSON("null is not nothing", "null", "return tostring(v == import('write.json_reader').null)", "true"),
  JSON("an object", "{\"a\": {\"b\": [1, 2, {\"c\": \"d\"}]}}", "return v.a.b[3].c .. #v.a.b", "d3"),
  JSON("empty ones", "[{}, [], \"\"]", "return #v .. type(v[1]) .. type(v[2]) .. v[3]", "3tabletable"),
  JSON("escapes", "\"\\\"\\\\\\/\\b\\f\\n\\r\\t\"", "return (v:gsub('.', function(c) return c:byte() .. ' ' end))",
       "34 92 47 8 12 10 13 9 "),
  JSON("a code point", "\"\\u00e9\"", "return v", "\xC3\xA9"),
  JSON("a pair of them, as RFC 8259, section 7, has it", "\"\\uD834\\uDD1E\"", "return v", "\xF0\x9D\x84\x9E"),
  JSON("half a pair", "\"\\uD834x\"", REFUSED, "half of a pair at 4"),
  JSON("the other half", "\"\\uDD1E\"", REFUSED, "half of a pair at 4"),
  JSON("a key twice", "{\"a\": 1, \"a\": 2}", REFUSED, "a key twice at 13"),
  JSON("a comma at the end", "[1, ]", REFUSED, "no value at 5"),
  JSON("a comma too few", "[1 2]", REFUSED, "a comma or a ] is wanted at 4"),
  JSON("a nought in front", "01", REFUSED, "no value at 1"),
  JSON("a point without digits", "1.", REFUSED, "something stands behind the end at 2"),
  JSON("other words", "nil", REFUSED, "no value at 1"),
  JSON("nothing", "", REFUSED, "no value at 1"),
  JSON("a line end in a string", "\"a\nb\"", REFUSED, "a control character in a string at 3"),
  JSON("an open string", "\"abc", REFUSED, "the string is not closed at 2"),
  JSON("an unknown escape", "\"\\x41\"", REFUSED, "no such escape at 2"),
  { "nested too deep", NULL, NULL, "local _, why = import('write.json_reader').read(('['):rep(1e6)) return why",
    "nested too deep", NULL, 0 },
};

/* A block as a narrow page has it: what goes on stands further in, whether as a paragraph or as a cell. */
#define TEXT(name, block, probe, want) \
  { name, NULL, NULL, "local r = reports.read(\"" block "\") return " probe, want, NULL, 0 }

static const struct job_row texts[] = {
  TEXT("the verdict's lines are one", "", "r.line .. tostring(r.intact)", "t - quote: all hold.nil"),
  TEXT("a hash and a path", "script  0123456789AB  a.sline\\n", "r.facts[2].sha256 .. r.facts[2].path",
       "0123456789aba.sline"),
  TEXT("a path that is wrapped", "parts  0123456789ab  a b\\n                    c.csv\\nset     %x  x=1\\n",
       "r.facts[2].path .. '|' .. r.facts[3].value .. #r.facts", "a b c.csv|x=13"),
  TEXT("a path on a line of its own", "parts  0123456789ab\\n    a.csv\\n", "r.facts[2].path", "a.csv"),
  TEXT("a value that looks like a hash", "alternate  %x  0123456789ab six\\n", "r.facts[2].value",
       "0123456789ab six"),
  TEXT("a value that is another one", "set  0123456789ab  x=1\\n", "r.facts[2].value .. tostring(r.intact)",
       "x=1false"),
  TEXT("escapes", "parts  0123456789ab  a=\\\\x20b \\\\x5C\\n", "r.facts[2].path", "a= b \\"),
  TEXT("a row without its hash is no fact", "script  a.sline\\nparts  0123456789ab  a.csv\\n",
       "r.facts[2].what .. #r.facts", "parts2"),
  TEXT("what stands behind the block is none of it", "\\nset  %x  x=1\\n", "#r.facts", "1"),
  TEXT("the last block counts", "\\nMade from\\n----\\nstringline  0.2.0\\n", "r.facts[1].version", "0.2.0"),
};

static const struct job_row bytes[] = {
  { "values come back at every width", NULL, NULL, "return reports.back()", "all", NULL, 0 },
  { "any bytes", NULL, NULL, "return reports.mangled()", "truetrue", NULL, 0 },
  { "long runs take no long time", NULL, NULL, "return reports.long_runs()", "read", NULL, 0 },
  { "values that are none of ours", NULL, NULL, "return reports.strange_values()", "nil", NULL, 0 },
};

/* ---- the version of the language --------------------------------------------------------------------------------- */

static const struct named { const char *name, *text; long version; int line, col; } nameds[] = {
  { "at once", "language \"1\"", 1, 1, 1 },
  { "other quotes, brackets, blanks", "  language\t( '20' )", 20, 1, 3 },
  { "behind comments", "-- a\n--[[ b\n ]] --[=[ ]] ]=] language '3'", 3, 3, 18 },
  { "behind a first line with #", "#!/bin/x\nlanguage '3'", 3, 2, 1 },
  { "behind other line ends", "\r\n\r-- x\r\nlanguage '3'", 3, 4, 1 },
  { "a short comment that looks long", "--[ [ x\nlanguage '3'", 3, 2, 1 },
  { "nothing", "", -1, 0, 0 },
  { "an open comment", "--[[ language '3'", -1, 0, 0 },
  { "a comment that closes otherwise", "--[=[ ]] language '3'", -1, 0, 0 },
  { "another word", "languages '3'", -1, 0, 0 },
  { "behind another statement", "local x\nlanguage '3'", -1, 0, 0 },
  { "no text", "language(3)", -1, 0, 0 },
  { "no number", "language 'x'", -1, 0, 0 },
  { "no end", "language '3", -1, 0, 0 },
  { "mixed quotes", "language '3\"", -1, 0, 0 },
  { "no digits", "language ''", -1, 0, 0 },
  { "a number without an end", "language '99999999999999999999'", -1, 0, 0 },
};

static void version_is_read(void **state) {
  const struct named *r = *state;
  long version = -1;
  struct sl_span span = { 0, 0, 0 };
  size_t n = strlen(r->text);
  char *exact = malloc(n + 1);                 /* so that a sanitizer sees a step beyond the end */
  assert_non_null(exact);
  memcpy(exact, r->text, n);
  bool named = sl_language_named(exact, n, &version, &span);
  free(exact);
  assert_int_equal(named, r->version >= 0);
  if (!named) return;
  assert_int_equal(version, r->version);
  assert_int_equal(span.line, r->line);
  assert_int_equal(span.col, r->col);
}

int main(void) {
  static struct CMUnitTest tests[80];
  job_prelude = "tests/reports.lua";
  size_t n = 0;
  JOB_ROWS(tests, n, json);
  JOB_ROWS(tests, n, texts);
  JOB_ROWS(tests, n, bytes);
  for (size_t i = 0; i < sizeof nameds / sizeof *nameds; i++) {
    assert(n < sizeof tests / sizeof *tests);
    tests[n++] = (struct CMUnitTest){ nameds[i].name, version_is_read, NULL, NULL, (void *)(uintptr_t)&nameds[i] };
  }
  return _cmocka_run_group_tests("report", tests, n, job_setup, job_teardown);
}
