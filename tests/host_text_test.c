/* SPDX-License-Identifier: MIT
 * Texts for the host's Lua, and what a script prints: marked, line by line, on standard error. */
#include "job_run.h"
#include <fcntl.h>

#define PUT(indent, columns, rows) \
  "local l = {} " \
  "host.put(l, " indent ", " columns ", " rows ", function(t, at) return t:sub(at, at + 2) == ' ft' end) " \
  "return table.concat(l, '/')"
#define HOST(name, probe, want) { name, NULL, NULL, probe, want, NULL, 0 }

static const struct job_row rows[] = {
  HOST("safe: plain text is given back", "return host.safe 'rack \"east\"'", "rack \"east\""),
  HOST("safe: with a NUL", "return host.safe 'a\\0b\\n'", "a\\x00b\\x0A"),
  HOST("safe: twice is once", "return host.safe(host.safe '\\27')", "\\x1B"),
  HOST("safe: long", "return #host.safe(('\\n'):rep(5000))", "20000"),
  HOST("shown: a block, its rows and cells",
       "local b = { kind = 'table', title = 'a\\n', rows = { { 'b\\r', { text = 'c\\t', value = 3 }, '\\27' } } } "
       "host.shown(b) "
       "return b.title .. b.rows[1][1] .. b.rows[1][2].text .. b.rows[1][3]", "a\\x0Ab\\x0Dc\\x09\\x1B"),
  HOST("shown: headings, choices, heads of a form, a step's result",
       "local b = { kind = 'table', columns = { { 'a\\n', key = 'b\\r', right = true } }, choices = { 'c\\t', 'd' }, "
       "heads = { { 'e\\27', 'f' } }, result = { text = 'g\\n' } } host.shown(b) "
       "return b.columns[1][1] .. b.columns[1].key .. b.choices[1] .. b.heads[1][1] .. b.result.text",
       "a\\x0Ab\\x0Dc\\x09e\\x1Bg\\x0A"),
  HOST("shown: code keeps its lines, and nothing else",
       "local b = { kind = 'code', text = 'a\\n\\n\\tb\\n' } host.shown(b) return b.text", "a\n\n\\x09b\n"),
  HOST("unsafe: nothing", "return tostring(host.unsafe 'plain')", "nil"),
  HOST("unsafe: words and help", "local a, b = host.unsafe 'a\\tb' return a .. '; ' .. b",
       "a tab: \"a\\x09b\"; write a blank in its place"),
  HOST("json: quotes, ends, and bytes that are none",
       "return host.json 'a\"\\n\\xE9\\u{202E}'", "\"a\\\"\\n\\\\xE9\\u202e\""),
#define WRITER "local o, a, r = {}, {}, {} local written, compact = host.json_writer(o, a, r) " \
  "local list = setmetatable({ 1, 2.5, 'x\"', setmetatable({ 'raw' }, r), 0/0, -0.0, true }, a) " \
  "local v = setmetatable({ { 'k', list }, { 'gone', nil }, { 'e', setmetatable({}, a) } }, o) "
  HOST("json_writer: on one line", WRITER "return compact(v)", "{\"k\":[1,2.5,\"x\\\"\",raw,null,0,true],\"e\":[]}"),
  HOST("json_writer: so many blanks deep", WRITER "return written(v, 2, '!')", "{\n    \"k\": [\n      1,\n      2.5,\n"
       "      \"x\\\"\",\n      raw,\n      null,\n      0,\n      true\n    ],\n    \"e\": []\n  }!"),
  HOST("json_writer: beyond its first room", WRITER "return #compact(('\\1'):rep(5000))", "30002"),
  HOST("path_parts: names, quotes, numbers", "return table.concat(host.path_parts "
       "[=[rack['a b'].posts[2][\"c\"][''].d]=], '|')", "rack|a b|posts|2|c||d"),
  HOST("path_parts: where it is none", "local _, at = host.path_parts 'rack.east..x' return tostring(at)", "10"),
  HOST("path_parts: no kind", "local _, at = host.path_parts '.x' return tostring(at)", "1"),
  HOST("path_parts: a number beyond any", "local _, at = host.path_parts 'a[99999999999999999999]' "
       "return tostring(at)", "2"),
  HOST("json: long", "return #host.json(('\\1'):rep(5000))", "30002"),
  HOST("bones: small letters, what stands between, and what looks like a digit",
       "return host.bones 'ec-30 oIl/Q!' .. ' ' .. host.bones 'é\\0' .. ' ' .. host.bones ''", "EC30011Q é "),
  HOST("is a unit: bare, composed, of a wire, and of no number",
       "local said = {} for i, w in ipairs { 'ft', 'kN*m', 'psf/ft', 'AWG', '%', 'to', 'AW', 'Volt' } do "
       "said[i] = tostring(host.is_unit(w)) end return table.concat(said, ' ')",
       "true true true true true false false false"),
  HOST("columns: wide, combining, and escaped",
       "return host.columns '屋' .. host.columns 'e\\u{301}' .. host.columns '\\n'", "214"),
  HOST("the longest word: by columns, between the blanks of C",
       "return host.longest_word 'ab\\tabc \\u{301}屋屋é\\n' .. host.longest_word ''", "50"),
  HOST("cells: texts of all kinds, and the widest of each column",
       "local t, w = host.cells({ { 'ab', { text = '屋屋' }, 'left out' }, { nil, 'c' } }, 2) "
       "return table.concat(t[1], '/') .. ' ' .. table.concat(t[2], '/') .. ' ' .. table.concat(w, ' ')",
       "ab/屋屋 /c 2 4"),
  HOST("put: behind, and in front",
       PUT("'> '", "{ { at = 1, width = 3 }, { at = 3, width = 4, right = true }, { at = 2, width = 5 } }",
           "{ { 'é', 'abc', '屋' } }"), "> é      屋  abc"),
  HOST("put: nothing behind the last that says something, and no blanks",
       PUT("''", "{ { at = 1, width = 3 }, { at = 2, width = 4 }, { at = 3, width = 5 } }", "{ { 'ab', 'c ', '' } }"),
       "ab   c"),
  HOST("put: a cell that fills its column, one that is wider, and one beside it; another row",
       PUT("''", "{ { at = 1, width = 2 }, { at = 2, width = 3 } }",
           "{ { '屋', 'abc' }, { '屋屋', 'b' }, { '', 'c' } }"),
       "屋  abc/屋  b/屋/    c"),
  HOST("put: an empty row, and a number with its unit",
       PUT("' '", "{ { at = 1, width = 4 } }", "{ { '' }, { 'a 2 ft' } }"), "/ a/ 2 ft"),
  HOST("wrap: at blanks", "return table.concat(host.wrap('one two three', 7), '/')", "one two/three"),
  HOST("wrap: wide letters do not reach over", "return table.concat(host.wrap('屋屋屋', 5), '/')", "屋屋/屋"),
  HOST("wrap: a line holds one letter at the least", "return table.concat(host.wrap('屋屋', 1), '/')", "屋/屋"),
  HOST("wrap: an accent stays with its letter",
       "return table.concat(host.wrap('abe\\u{301}de', 3), '/')", "abe\xCC\x81/de"),
  HOST("wrap: nothing is one line", "return #host.wrap('', 3) .. host.wrap('', 3)[1]", "1"),
  HOST("step: a name, the first of all, a number, no name, and one with the end of its quotes",
       "local s = host.step return s('rack', 'tilt_2') .. s('', 'rack') .. s('a', 12) .. s('a', '2x') .. s('a', '') .. "
       "s('', 'b c') .. s('a', \"x']y\")",
       "rack.tilt_2racka[12]a['2x']a['']['b c']a[\"x']y\"]"),
  HOST("ends of lines: plain, a blank, at the begin, a tab, a return",
       "local t = '' for _, s in ipairs { 'a b\\n\\nc ', 'a \\n', ' \\na', 'a\\tb', 'a\\r\\n', '' } do "
       "t = t .. (host.plain_ends(s) and 1 or 0) end return t", "100001"),
  HOST("nearest", "return host.nearest('tlit', { 'tilt', 'rise' })", "tilt"),
};

/* What a script writes to standard error; its job's folder in front of file names is left out. */
static void run_printing(const char *script, enum sl_format format, char *got, size_t size) {
  const struct sl_host host = { .folder = job_folder, .format = format };
  const struct job_row row = { "print", NULL, script, NULL, "", NULL, 0 };
  FILE *to = tmpfile();
  assert_non_null(to);
  job_write("job.sline", JOB, script);
  fflush(stderr);
  const int kept = dup(STDERR_FILENO);
  assert_true(kept >= 0 && dup2(fileno(to), STDERR_FILENO) >= 0);
  lua_State *L = sl_host_new(&host, NULL);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  const int status = sl_host_call(L, 1, 1);
  if (status) sl_host_report(L);
  sl_host_close(L);
  fflush(stderr);
  assert_true(dup2(kept, STDERR_FILENO) >= 0);
  close(kept);
  rewind(to);
  size_t n = fread(got, 1, size - 1, to);
  fclose(to);
  got[n] = '\0';
  const size_t folder = strlen(job_folder) + 1;
  for (char *p; (p = strstr(got, job_folder));) memmove(p, p + folder, strlen(p + folder) + 1);
}

static const struct printed { const char *name, *script; enum sl_format format; const char *want; } prints[] = {
  { "print: values, quantities as the job prints them", "print(1, 'a', 3ft, true, nil)", SL_HUMAN,
    "job.sline:2: print: 1 a 3 ft true nil\n" },
  { "print: the place of the call", "local function f()\n  print 'x'\nend\nf()", SL_HUMAN, "job.sline:3: print: x\n" },
  { "print: each line is marked", "print 'a\\n\\nb\\n'", SL_GNU,
    "job.sline:2: print: a\njob.sline:2: print:\njob.sline:2: print: b\n" },
  { "print: nothing", "print()", SL_HUMAN, "job.sline:2: print:\n" },
  { "print: what a terminal would obey, and a NUL", "print '\\27[2J\\0\\r'", SL_HUMAN,
    "job.sline:2: print: \\x1B[2J\\x00\\x0D\n" },
  { "print: an object for programs", "print 'a'", SL_JSON,
    "{\"severity\":\"print\",\"code\":null,\"message\":\"a\",\"file\":\"job.sline\",\"line\":2,\"column\":null,"
    "\"length\":null,\"labels\":[],\"notes\":[],\"help\":null}\n" },
  { "raise: nothing of a text behind a NUL is lost", "error('a\\0b')", SL_GNU,
    "job.sline:2:1: error: a\\x00b                                              [L002]\n" },
};

static void prints_so(void **state) {
  const struct printed *r = *state;
  char got[2000];
  run_printing(r->script, r->format, got, sizeof got);
  if (strncmp(r->name, "raise", 5) == 0) {     /* the folder's name moved the code */
    char *end = strchr(got, '[');
    assert_non_null(end);
    while (end > got && end[-1] == ' ') end--;
    assert_memory_equal(got, r->want, (size_t)(end - got));
    assert_true(strncmp(end, "  ", 2) == 0 && strstr(end, "[L002]\n"));
  } else assert_string_equal(got, r->want);
}

int main(void) {
  static struct CMUnitTest tests[60];
  size_t n = 0;
  JOB_ROWS(tests, n, rows);
  ADD_ROWS(tests, n, prints, prints_so);
  return cmocka_run_group_tests_name("host text", tests, job_setup, job_teardown);
}
