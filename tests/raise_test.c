/* SPDX-License-Identifier: MIT
 * Errors as values: their place to the column, the labels on the literals that met, Lua's own messages in plain words,
 * and how they are read back. */
#include "job_run.h"
#include "host/state.h"

struct place {
  const char *name, *script, *code;
  int line, col, len;              /* of the caret, in the script */
  const char *labels;              /* "col: text; ..." in order; NULL: not checked */
  const char *help;                /* part of it; NULL: not checked */
};

static const struct place places[] = {
  { "an operator, and both literals", "local t = 20ft + 1200lbf", "Q003", 1, 16, 1,
        "11: a length, 20 ft; 18: a force, 1200 lbf; ", NULL },
  { "an operator between names: the literals are elsewhere", "local a = 20ft\nlocal b = 3lbf\nlocal t = a + b",
        "Q003", 3, 13, 1,
    "11: a length, 20 ft; 11: a force, 3 lbf; ", NULL },
  { "the same operator twice: the whole statement", "local t = 20ft + 1ft + 3lbf", "Q003", 1, 1, 27, NULL, NULL },
  { "a comment does not count", "local t = 20ft + 3lbf -- + more", "Q003", 1, 16, 1, NULL, NULL },
  { "within blanks", "   local t = 3ft < 4lbf  ", "Q003", 1, 18, 1, NULL, NULL },
  { "a bare number", "local t = 3ft + 4", "Q003", 1, 15, 1, "11: a length, 3 ft; ", "a bare number has no unit" },
  { "a mass and a force", "local t = 3lb + 4lbf", "Q003", 1, 15, 1, NULL, "lb is a mass, lbf is a force" },
  { "two temperatures", "local t = 20degC + 4degC", "Q005", 1, 18, 1, NULL, "add a difference" },
  { "a name that nobody declared", "local x = 5 +\n  nobody", "E001", 2, 3, 6, NULL, NULL },
  { "a name twice on the line: the statement", "  local x = nobody or nobody", "E001", 1, 3, 26, NULL, NULL },
  { "a field of nothing", "local t = {}\nlocal y = t.depth.value", "L002", 2, 13, 5, NULL, "check how it is spelt" },
  { "a call of nothing", "local t = {}\n  t.go(5)", "L002", 2, 5, 2, NULL, "check how it is spelt" },
  { "a field of a declaration", "footing 'a' {\n  hole_diameter = 14in, hole_depth = 3lbf,\n  gravel = 6in, fill = "
        "'concrete' }", "D003", 2, 38, 4, NULL, NULL },
  { "a value from elsewhere is shown where it was written",
        "local d = 3lbf\nfooting 'a' { hole_diameter = 14in, hole_depth = d, gravel = 6in, fill = 'concrete' }",
    "D003", 1, 11, 4, NULL, NULL },
  { "a key that is misspelt", "footing 'a' { hole_diameter = 14in,\n  hole_dept = 3ft }", "D001", 2, 3, 9, NULL,
        "did you mean 'hole_depth'?" },
  { "a missing field: the head", "local x = 1\n  footing 'a' { }", "D002", 2, 3, 7, NULL, NULL },
  { "inside a function, where it is called from does not matter",
        "local function f(x)\n  return x + 3lbf\nend\nf(2ft)", "Q003", 2, 12, 1, NULL, NULL },
  { "inside a primitive: the call", "local x = 1\nlocal y = calc.pier{ gravel = 3lb }", "C001", 2, 16, 4, NULL,
        NULL },
  { "the compiler", "local x = 1\nlocal y = = 2", "L001", 2, 0, 0, NULL, NULL },
};

/* The place in the file: JOB is its first line. */
static void stands_there(void **state) {
  const struct place *p = *state;
  const struct job_row row = { p->name, NULL, p->script, NULL, "", NULL, 0 };
  job_write("job.sline", JOB, p->script);
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  assert_int_not_equal(sl_host_call(L, 1, 1), LUA_OK);
  struct sl_message m;
  sl_error_message(L, -1, &m);
  char labels[400] = "";
  size_t n = 0;
  for (size_t i = 0; i < m.nlabel; i++) n += (size_t)snprintf(labels + n, sizeof labels - n, "%d: %s; ",
        m.label[i].span.col, m.label[i].text);
  bool right = strcmp(m.code, p->code) == 0 && m.source > 0 && m.span.line == p->line + 1 && (!p->col ||
        (m.span.col == p->col && m.span.len == p->len)) &&
               (!p->labels || strcmp(labels, p->labels) == 0) && (!p->help || (m.help && strstr(m.help, p->help)));
  if (!right) fail_msg("[%s] %d:%d+%d: %s (%s) labels: %s", m.code, m.span.line - 1, m.span.col, m.span.len, m.text,
        m.help ? m.help : "-", labels);
  assert_string_equal(sl_source_name(&sl_state_of(L)->sources, m.source), job_path);
  sl_host_close(L);
}

static int keep_error(lua_State *L) {
  luaL_checktype(L, 1, LUA_TSTRING);
  return sl_raise(L, "T001", "a help", "the text %s", lua_tostring(L, 1));
}

static void an_error_is_read_back(void **state) {
  (void)state;
  lua_State *L = sl_host_new(&job_host, NULL);
  lua_pushcfunction(L, keep_error);
  lua_pushliteral(L, "x");
  assert_int_not_equal(sl_host_call(L, 1, 0), LUA_OK);
  assert_true(sl_is_error(L, -1));
  for (int i = 1; i <= SL_MESSAGE_LABELS + 2; i++) sl_error_label(L, (struct sl_span){ i, i, 1 }, "label");
  sl_error_place(L, 3, (struct sl_span){ 4, 5, 6 });
  struct sl_message m;
  sl_error_message(L, -1, &m);
  assert_string_equal(m.code, "T001");
  assert_string_equal(m.text, "the text x");
  assert_string_equal(m.help, "a help");
  assert_int_equal(m.nlabel, SL_MESSAGE_LABELS);                    /* more than a message holds are left out */
  assert_int_equal(m.label[1].span.line, 2);
  assert_int_equal(m.source, 3);
  assert_int_equal(m.span.line * 100 + m.span.col * 10 + m.span.len, 456);
  luaL_tolstring(L, -1, NULL);
  assert_string_equal(lua_tostring(L, -1), "the text x");
  sl_host_close(L);
}

/* A script can catch an error and put anything into it. */
static void a_spoilt_error_is_made_clean(void **state) {
  (void)state;
  lua_State *L = sl_host_new(&job_host, NULL);
  lua_pushcfunction(L, keep_error);
  lua_pushliteral(L, "x");
  assert_int_not_equal(sl_host_call(L, 1, 0), LUA_OK);
  static const char *const names[] = { "code", "help", "class", "line", "labels", "notes", "more", "own" };
  for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
    lua_pushvalue(L, -1);                                           /* every field is the error itself */
    lua_setfield(L, -2, names[i]);
  }
  lua_pushinteger(L, -5);
  lua_setfield(L, -2, "col");
  char longest[5001];
  memset(longest, 'y', sizeof longest - 1);
  longest[sizeof longest - 1] = 0;
  lua_pushstring(L, longest);
  lua_setfield(L, -2, "path");
  lua_pushvalue(L, -1);
  sl_error_clean(L);
  assert_true(sl_is_error(L, -1));
  assert_false(lua_rawequal(L, -1, -2));
  struct sl_message m;
  sl_error_message(L, -1, &m);
  assert_string_equal(m.text, "the text x");
  assert_string_equal(m.code, "L002");
  assert_null(m.help);
  assert_int_equal(m.nlabel + m.nnote, 0);
  assert_int_equal(m.span.line * 10 + m.span.col, 0);
  assert_int_equal(lua_getfield(L, -1, "own"), LUA_TNIL);
  lua_getfield(L, -2, "path");
  assert_int_equal(lua_rawlen(L, -1), 4003);                        /* cut, and it shows */
  lua_pop(L, 2);
  lua_pushinteger(L, 7);                                            /* is no text, though Lua would make it one */
  lua_setfield(L, -2, "text");
  sl_error_message(L, -1, &m);
  assert_string_equal(m.text, "the script failed");
  sl_host_close(L);
}

static void what_is_no_error_of_ours(void **state) {
  (void)state;
  lua_State *L = sl_host_new(&job_host, NULL);
  struct sl_message m;
  lua_pushliteral(L, "plain text");
  assert_false(sl_is_error(L, -1));
  sl_error_message(L, -1, &m);
  assert_string_equal(m.text, "plain text");
  lua_newtable(L);
  assert_false(sl_is_error(L, -1));
  sl_error_message(L, -1, &m);
  assert_string_equal(m.text, "the script failed");
  lua_pushnil(L);
  sl_error_message(L, -1, &m);
  assert_string_equal(m.text, "the script failed");
  sl_host_close(L);
}

static void words_are_found(void **state) {
  (void)state;
  const char text[] = "one two two_ one2 three\nx <= y\n";
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  int source = sl_source_add(&sl_state_of(L)->sources, "words", text, sizeof text - 1);
  struct sl_span s = sl_find_word(L, source, 1, "two");
  assert_int_equal(s.col * 100 + s.len, 503);                       /* not the one in two_ */
  s = sl_find_word(L, source, 1, "one");
  assert_int_equal(s.col * 100 + s.len, 103);
  s = sl_find_word(L, source, 1, "four");                              /* not there: the statement */
  assert_int_equal(s.col * 100 + s.len, 123);
  s = sl_find_word(L, source, 2, "<=");
  assert_int_equal(s.col * 100 + s.len, 302);
  s = sl_find_word(L, source, 9, "x");                                 /* no such line */
  assert_int_equal(s.line * 100 + s.len, 900);
  sl_host_close(L);
}

int main(void) {
  static struct CMUnitTest tests[40];
  size_t n = 0;
  for (size_t i = 0; i < sizeof places / sizeof *places; i++)
    tests[n++] = (struct CMUnitTest){ places[i].name, stands_there, NULL, NULL, (void *)(uintptr_t)&places[i] };
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(an_error_is_read_back);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(a_spoilt_error_is_made_clean);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(what_is_no_error_of_ours);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(words_are_found);
  return _cmocka_run_group_tests("raise", tests, n, job_setup, job_teardown);
}
