/* SPDX-License-Identifier: MIT
 * Domains: the index says exactly what the files bring, and a job loads the domains whose words it uses, no other.
 * What each file brings is found here by running the files that stand in the folders. */
#include <glob.h>
#include "job_run.h"

/* Notes what is imported from here on; seen() is the domains of the modules, in order. */
#define SEEN "local real, had = import, {} function import(name) had[name] = true return real(name) end " \
             "local other = { model = true, index = true, write = true } " \
             "function seen() local list = {} for m in host.sorted(had) do local d = m:match('^(%a+)%.') " \
             "if not other[d] and list[#list] ~= d then list[#list + 1] = d end end " \
             "return table.concat(list, ' ') end "

/* Every verdict, all of the report. */
#define REPORTED "local o = { words = { 'job.sline' }, set = {} } local outcomes = boot.judge() " \
                 "import('write.text')(import('write.report').report(outcomes, 1, o), { width = 80 }) return seen()"

static const struct job_row loads[] = {
  { "a bare job loads what always stands", SEEN, "site { frost = 18in }", REPORTED, "buying job papers parts site",
    NULL, 0 },
  { "a job without a site, too", SEEN, "", REPORTED, "buying job papers parts site", NULL, 0 },
  { "a declaration loads its schema alone", SEEN, "footing 'deep' { hole_diameter = 18in, hole_depth = 66in, "
    "gravel = 6in, fill = 'concrete' }", "return seen()", "footings", NULL, 0 },
  { "a kind of another domain is no reason to load it", SEEN, "trench 'main' { length = 90ft, cover = 18in }",
    "return seen()", "electrical", NULL, 0 },
  { "its rules come with what they judge", SEEN, "trench 'main' { length = 90ft, cover = 18in }",
    "boot.judge() local has = {} for _, r in ipairs(rule.loaded()) do has[r.id] = true end "
    "return tostring(has.R58) .. tostring(has.R14)",
    "truenil", NULL, 0 },
  { "a rule that is not loaded is judged: it does not apply", SEEN, "",
    "for _, o in ipairs(boot.judge()) do if o.rule.id == 'R41' then return o.outcome .. ' ' .. o.reason .. ' ' .. "
    "o.rule.severity .. ' ' .. seen() end end", "not applicable no strings stop buying job papers parts site",
    NULL, 0 },
  { "what else it says is loaded for whoever asks", SEEN, "",
    "for _, o in ipairs(boot.judge()) do if o.rule.id == 'R41' then return o.rule.caution end end",
    "one cold morning destroys the equipment, and may start a fire", NULL, 0 },
  { "a result that a domain adds to another's kind is found by its name", SEEN, "",
    "local total = graph.try(record.root, 'total') return tostring(total) .. ' ' .. "
    "tostring(schema.kinds.job.results.total ~= nil)", "nil true", NULL, 0 },
  { "a waiver loads the rule that it names", NULL, "waive { 'R41', reason = 'r', by = 'b', as = 'house', "
    "on = '2026-11-02' }", "boot.judge()", "rule R41 may be waived by nobody", "R006", 0 },
  { "a rule of the script may not take a number that is not loaded", NULL, "\nrule { id = 'R41', severity = 'note', "
    "says = 's', cite = 'c', caution = 'c', check = function() return states(true, 'x') end }", "return 1",
    "rule R41 is one of the standard rules", "R003", 2 },
  { "a script that is deep in calls loads all the same", NULL, "local function deep(n) if n == 0 then trench ('main') "
    "{ length = 90ft, cover = 18in } else pcall(deep, n - 1) end end for n = 300, 1, -1 do pcall(deep, n) end",
    "return #record.all 'trench' .. ' ' .. tostring(record.root.trench.length)", "1 90 ft", NULL, 0 },
  { "a word that is not loaded cannot be set", NULL, "\nrack = 5", "return 1",
    "'rack' is a word of the language", "E004", 2 },
  { "a file word that is not loaded cannot be set", NULL, "\nprices = 5", "return 1",
    "'prices' is a word of the language", "E004", 2 },
  { "--set to a kind that is not loaded", "boot.setting 'x.y=1' job_plan = { boot.setting 'rak.east.tilt=30deg' }", "",
    "return 1", "nothing declared has the path rak.east.tilt", "D019", 0 },
  { "kinds stand in the library's order, whatever came first", NULL,
    "trench 'main' { length = 90ft, cover = 18in }\nsite { frost = 18in }",
    "local at = {} for i, k in ipairs(schema.loaded()) do at[k.name] = i end "
    "return at.site < at.ground and at.ground < at.strings and at.strings < at.trench", "true", NULL, 0 },
  { "a type has the fields that domains add to its kind", NULL, "",
    "local n = #schema.kinds.rack_type.fields local all = schema.all_fields(schema.kinds.rack_type) local corner "
    "for _, f in ipairs(all) do corner = corner or f.name == 'corner' end return tostring(corner) .. ' ' .. "
    "tostring(#all > n)", "true true", NULL, 0 },
  { "fields that domains add stand in one order, whatever came first", NULL, "",
    "local fields = schema.kinds.rack.fields import 'marks.schema' import 'places.schema' "
    "local at = {} for i, f in ipairs(fields) do at[f.name] = i end "
    "return tostring(at.posts < at.corner and at.corner < at.gap and at.gap < at.bolt_hole)", "true", NULL, 0 },
};

/* The index against the modules, both ways. */
static const char compared[] =
  "local modules = ...\n"
  "local schema, graph, rule = import 'model.schema', import 'model.graph', import 'model.rule'\n"
  "local declare = import 'model.declare'\n"
  "local running, found, n = {}, {}, 0\n"
  "local function note(what, name) n = n + 1 found[what .. ' ' .. name] = running[#running] end\n"
  "local real = import\n"
  "function import(name)\n"
  "  running[#running + 1] = name\n"
  "  local value = real(name)\n"
  "  running[#running] = nil\n"
  "  return value\n"
  "end\n"
  "local function noting(t, name, f)\n"
  "  local g = t[name]\n"
  "  t[name] = function(...) f(...) return g(...) end\n"
  "end\n"
  "noting(schema, 'kind', function(def) note('kind', def[1]) end)\n"
  "noting(graph, 'added', function(kind, def) note('result', kind .. '.' .. def.name) end)\n"
  "local function line(id, severity, each) return id .. ' ' .. severity .. ' ' .. tostring(each or false) end\n"
  "noting(rule, 'add', function(def) note('rule', line(def.id, def.severity, def.each)) end)\n"
  "noting(declare, 'file_word', function(word) note('word', word) end)\n"
  "for _, m in ipairs(modules) do\n"
  "  local value = import(m)\n"
  "  if m:find '%.sheets%.' then\n"
  "    running[1] = m\n"
  "    note('sheet', value.name .. ' ' .. tostring(value.title))\n"
  "    running[1] = nil\n"
  "  end\n"
  "end\n"
  "local said, wrong, m = {}, {}, 0\n"
  "local function says(what, module) m = m + 1 said[what] = module end\n"
  "local words = real 'index.words'\n"
  "for name, module in host.sorted(words.kinds) do says('kind ' .. name, module) end\n"
  "for name, module in host.sorted(words.file_words) do says('word ' .. name, module) end\n"
  "local names = 0\n"
  "for kind, by in host.sorted(real 'index.results') do\n"
  "  for name, module in host.sorted(by) do says('result ' .. kind .. '.' .. name, module) names = names + 1 end\n"
  "end\n"
  "for kind, list in host.sorted(real 'index.result_order') do\n"
  "  for _, name in ipairs(list) do names = names - 1 assert(said['result ' .. kind .. '.' .. name]) end\n"
  "end\n"
  "assert(names == 0)\n"
  "for _, row in ipairs(real 'index.rules') do\n"
  "  for i = 1, #row, 3 do says('rule ' .. line(row[i], row[i + 1], row[i + 2]), row.module) end\n"
  "end\n"
  "for _, s in ipairs(real 'index.sheets') do says('sheet ' .. s.name .. ' ' .. tostring(s.title), s.module) end\n"
  "for what, module in host.sorted(found) do\n"
  "  local here = said[what]\n"
  "  if here ~= module then wrong[#wrong + 1] = what .. ' is of ' .. module .. ', said ' .. tostring(here) end\n"
  "end\n"
  "for what in host.sorted(said) do if not found[what] then wrong[#wrong + 1] = what .. ' is not there' end end\n"
  "local kinds = schema.loaded()\n"
  "assert(#words.order == #kinds)\n"
  "for i, name in ipairs(words.order) do assert(words.place[name] == i and kinds[i].name == name, name) end\n"
  "return table.concat(wrong, '; '), m == n and n\n";

static void index_is_exact(void **state) {
  (void)state;
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  sl_host_import(L, "model.util");
  lua_settop(L, 0);
  assert_int_equal(luaL_loadstring(L, compared), LUA_OK);
  lua_newtable(L);
  glob_t files;
  assert_int_equal(glob("stdlib/*/*.lua", 0, NULL, &files), 0);
  assert_int_equal(glob("stdlib/*/sheets/*.lua", GLOB_APPEND, NULL, &files), 0);
  for (size_t i = 0; i < files.gl_pathc; i++) {
    const char *path = files.gl_pathv[i] + strlen("stdlib/");
    lua_pushlstring(L, path, strlen(path) - strlen(".lua"));
    luaL_gsub(L, lua_tostring(L, -1), "/", ".");
    lua_rawseti(L, 2, (lua_Integer)i + 1);
    lua_settop(L, 2);
  }
  globfree(&files);
  if (sl_host_call(L, 1, 2)) {
    sl_host_report(L);
    fail_msg("the modules did not run");
  }
  assert_string_equal(lua_tostring(L, -2), "");
  assert_true(lua_tointeger(L, -1) > 200);              /* kinds, results, rules, sheets of the library as it is */
  sl_host_close(L);
}

int main(void) {
  static struct CMUnitTest tests[1 + sizeof loads / sizeof *loads] = { cmocka_unit_test(index_is_exact) };
  size_t n = 1;
  JOB_ROWS(tests, n, loads);
  return cmocka_run_group_tests(tests, job_setup, job_teardown);
}
