/* SPDX-License-Identifier: MIT
 * What the library defines is checked: nothing is wrong in it, and each mistake is told with file, key and hint. */
#include "job_run.h"

#define ALL "local audit = import 'model.audit' local found = audit.library() "
/* One definition of a test's own; what is told of it. */
#define TOLD(name, call, want) { name, NULL, NULL, "local audit = import 'model.audit' audit." call \
                                 " return (audit.problems[1] or 'nothing'):gsub('^a test: ', '') .. ''", want, NULL, 0 }
#define FIELD(field) "kind { 'x', says = 's', fields = { " field " } }"
#define RULE(more) "rule { id = 'X1', severity = 'stop', says = 's', cite = 'c', caution = 'd', check = print, " more \
                   " }"
#define WORK(more) "work { 'x', 'y', says = 's', input = print, " more " }"

static const struct job_row rows[] = {
  TOLD("all is well", FIELD("{ 'a', 'quantity', dim = 'length', min = 0, max = 3, example = '1ft', says = 's' }"),
       "nothing"),
  TOLD("a misspelt key of a field", FIELD("{ 'a', 'count', mn = 0, says = 's' }"),
       "kind x, field a: there is no key 'mn'; did you mean 'min'?"),
  TOLD("a key of another type of field", FIELD("{ 'a', 'flag', min = 0, says = 's' }"),
       "kind x, field a: there is no key 'min'"),
  TOLD("a field that says nothing", FIELD("{ 'a', 'flag' }"), "kind x, field a: 'says' is missing"),
  TOLD("a type that is none", FIELD("{ 'a', 'quantty', says = 's' }"),
       "kind x, field a: there is no type 'quantty'; did you mean 'quantity'?"),
  TOLD("a dimension that is none", FIELD("{ 'a', 'quantity', dim = 'lenght', says = 's' }"),
       "kind x, field a: no dimension is called 'lenght'; did you mean 'length'?"),
  TOLD("an example of another dimension", FIELD("{ 'a', 'quantity', dim = 'length', example = '3lbf', says = 's' }"),
       "kind x, field a: the example '3lbf': it: 'a' needs a length (like 3lbf), got 3 lbf (force)"),
  TOLD("an example that cannot be read", FIELD("{ 'a', 'count', example = 'four', says = 's' }"),
       "kind x, field a: the example 'four': this is not a number with a unit"),
  TOLD("an example outside of its range", FIELD("{ 'a', 'count', max = 9, example = '10', says = 's' }"),
       "kind x, field a: the example '10': it: 'a' must be at most 9, got 10"),
  TOLD("an example of an item", FIELD("{ 'a', 'list', item = { 'b', 'count', type = 'count', max = 9 }, example = "
       "'1, 10', says = 's' }"), "kind x, field a: the example '10': it: 'b' must be at most 9, got 10"),
  TOLD("an example's field that is none", FIELD("{ 'a', 'group', fields = { { 'b', 'count', says = 's' } }, example = "
       "'c = 3', says = 's' }"), "kind x, field a: the example's 'c' is none of its fields"),
  TOLD("a field within", FIELD("{ 'a', 'group', fields = { { 'b', 'count', mx = 9, says = 's' } }, says = 's' }"),
       "kind x, field a, field b: there is no key 'mx'; did you mean 'max'?"),
  TOLD("a default outside of its range", FIELD("{ 'a', 'count', min = 1, default = 0, says = 's' }"),
       "kind x, field a: the default '0': it: 'a' must be at least 1, got 0"),
  TOLD("a default that is no choice", FIELD("{ 'a', 'choice', choices = { 'b' }, default = 'c', says = 's' }"),
       "kind x, field a: the default 'c': it: 'a' is one of b; got the text \"c\""),
  TOLD("a range without room", FIELD("{ 'a', 'count', min = 9, max = 1, says = 's' }"),
       "kind x, field a: nothing lies between 9 and 1"),
  TOLD("a text has no more and no less", FIELD("{ 'a', 'text', worse = 'more', says = 's' }"),
       "kind x, field a: text has no way to be worse that is called 'more'"),
  TOLD("a way to be worse that is none", FIELD("{ 'a', 'count', worse = 'mroe', says = 's' }"),
       "kind x, field a: count has no way to be worse that is called 'mroe'"),
  TOLD("a word of Lua's for a name", FIELD("{ 'end', 'flag', says = 's' }"),
       "kind x: field 1 has no name that can be written: end"),
  TOLD("more keys of a limit", FIELD("{ 'a', 'limit', dim = 'length', extra = { 'from' }, says = 's' }"),
       "kind x, field a: 'extra' names each more key with its choices; '1' has none"),
  TOLD("a kind that derives nothing", "kind { 'x', says = 's', parent = 'y' }",
       "kind x: 'parent' and 'derive' come together"),
  TOLD("a key of a kind", "kind { 'x', says = 's', nmed = true }",
       "kind x: there is no key 'nmed'; did you mean 'named'?"),
  TOLD("a key of a rule", RULE("nearst = print"), "rule X1: there is no key 'nearst'; did you mean 'nearest'?"),
  TOLD("a key of the wrong sort", RULE("applies = true"), "rule X1: 'applies' wants function, got boolean"),
  TOLD("who may waive", RULE("may_waive = 'nobdy'"), "rule X1: 'may_waive' is one of nobody, engineer, authority, "
       "house, line owner, not 'nobdy'"),
  TOLD("a primitive that is none", WORK("op = 'snow_laod', gives = {}"),
       "work x.y: there is no primitive 'snow_laod'; did you mean 'snow_load'?"),
  TOLD("an output that is none", WORK("op = 'diagonal', gives = { diagonl = { says = 's' } }"),
       "work x.y, diagonl: diagonal does not give 'diagonl'; did you mean 'diagonal'?"),
  TOLD("an output that is a list", WORK("op = 'stations', gives = { stations = { says = 's' } }"),
       "work x.y, stations: a list is no result: give a result that reads of it what it needs"),
  TOLD("an output that says nothing", WORK("op = 'diagonal', gives = { diagonal = { } }"),
       "work x.y, diagonal: 'says' is missing"),
  TOLD("a unit that is none", "result { 'x', 'y', says = 's', work = print, show = 'inn' }",
       "result x.y: no unit is written 'inn'"),
  TOLD("a key of a sheet", "sheet { name = 'x', order = 1, shrt = print }",
       "sheet x: there is no key 'shrt'; did you mean 'short'?"),
  { "the whole library", NULL, NULL, ALL "return table.concat(found, '\\n')", "", NULL, 0 },
  { "a kind under one that is none, told with its file", NULL, NULL, "local audit = import 'model.audit' local s = "
    "import 'model.schema' s.kind { 'bolt', says = 's', parent = 'psot', derive = print } return "
    "audit.library()[1]", "a test: kind bolt: 'parent' names no kind of record: 'psot'; did you mean 'post'?", NULL,
    0 },
  { "a result that no paper gives", NULL, NULL, "local audit = import 'model.audit' import('model.graph').result { "
    "'post', 'x', says = 's', given = 'loads.upp', work = print } return audit.library()[1]",
    "a test: post.x: no paper gives 'loads.upp'; did you mean 'loads.up'?", NULL, 0 },
  { "a result that a paper gives, where no paper can name it", NULL, NULL, "local audit = import 'model.audit' "
    "import('model.graph').result { 'footing', 'x', says = 's', given = 'loads.up', work = print } return "
    "audit.library()[1]", "stdlib/footings/schema.lua: kind footing: 'on_paper' is missing: a paper gives its x", NULL,
    0 },
  { "a paper with a word that no result takes, and a need that may not stand in made_for", NULL, NULL,
    "local audit = import 'model.audit' import('model.schema').kind { 'seer', says = 's', paper = true, fields = { { "
    "'omens', 'map', says = 's', needs = { 'site.longitude' }, item = { 'x', 'group', type = 'group', fields = { { "
    "'bird', 'count', says = 's' } } } } } } return table.concat(audit.library(), '; ')",
    "a test: kind seer, field omens: 'needs' names nothing for made_for: site.longitude; a test: kind seer: no result "
    "takes 'omens.bird'", NULL, 0 },
  { "a rule on each of what is none", NULL, NULL, "local audit = import 'model.audit' import('model.rule').add { id = "
    "'X1', severity = 'stop', each = 'rak', says = 's', cite = 'c', caution = 'd', check = print } return "
    "audit.library()[1]", "a test: rule X1: 'each' names no kind of record: 'rak'; did you mean 'rack'?", NULL, 0 },
  { "a subject of the register that wants what made_for cannot name", NULL, NULL, "local audit = import 'model.audit' "
    "table.insert(import('job.register')[1].needs, 'rack.tild') return audit.library()[1]",
    "stdlib/job/register.lua: subject rails: 'needs' names nothing for made_for: rack.tild", NULL, 0 },
  { "a subject that nothing breaks, and no word why", NULL, NULL, "local audit = import 'model.audit' "
    "import('job.register')[1].gross = nil return audit.library()[1]",
    "stdlib/job/register.lua: subject rails: it wants 'gross' or 'reach'", NULL, 0 },
  { "a subject that no input reaches, and inputs that its papers name", NULL, NULL, "local audit = import "
    "'model.audit' local s = import('job.register')[1] s.gross, s.reach = nil, 'why' return audit.library()[1]",
    "stdlib/job/register.lua: subject rails: what no input reaches needs none, all else does", NULL, 0 },
};

static void row_holds(void **state) {
  const struct job_row *r = *state;
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  assert_int_equal(luaL_loadstring(L, r->probe), LUA_OK);
  if (sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("%s: it stopped", r->name);
  }
  const char *got = lua_tostring(L, -1);
  if (!got || strcmp(got, r->want) != 0) fail_msg("got: %s\nwanted: %s", got ? got : "nothing", r->want);
  sl_host_close(L);
}

int main(void) {
  enum { ROWS = sizeof rows / sizeof *rows };
  struct CMUnitTest tests[ROWS];
  for (size_t i = 0; i < ROWS; i++)
    tests[i] = (struct CMUnitTest){ .name = rows[i].name, .test_func = row_holds,
                                    .initial_state = (void *)(uintptr_t)&rows[i] };
  return cmocka_run_group_tests_name("audit", tests, NULL, NULL);
}
