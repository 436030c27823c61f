/* SPDX-License-Identifier: MIT
 * Rules of scripts under other values: what they keep from one judging to the next, what they print, and what they ask
 * for that is not there, is as in a run of its own. */
#include "job_run.h"

#define V "local variants, anew = import 'model.variants', import 'model.anew' "
#define GIVES(name, script, probe, want) { name, NULL, script, V probe, want, NULL, 0 }
#define RULE(id, check) "rule { id = '" id "', severity = 'note', each = 'shelf', says = 's', cite = 'c', " \
                        "caution = 'd', check = function(s) " check " end }\n"
#define TWO "shelf 'a' { depth = 1ft, marks = { 1ft } } shelf 'b' { depth = 2ft }\n"
/* The values that rules of the script compare, judged with the depth of shelf a so, one after the other. */
#define JUDGED(depth) "told(variants.judge { ['shelf.a.depth'] = host.literal '" depth "' })"
#define TOLD "local function told(list) local words = {} for _, o in ipairs(list) do local f = o.finding " \
             "if o.rule.scripted then words[#words + 1] = o.subject:sub(-1) .. ' ' .. " \
             "(f and host.format(f.value) or o.outcome) end end return table.concat(words, ', ') end judge.all() "

static const struct job_row kept[] = {
  /* from hand: a run of its own judges shelf a with the new depth, then b with 2 ft, each once */
  GIVES("a table that a rule fills", "local first = {}\n" TWO RULE("J1", "first[s.name] = first[s.name] or s.depth "
        "return at_most(first[s.name], 9ft)"),
        TOLD "return " JUDGED("3ft") " .. '; ' .. " JUDGED("4ft"), "a 3 ft, b 2 ft; a 4 ft, b 2 ft"),
  GIVES("a counter", "local n = 0\n" TWO RULE("J1", "n = n + 1 return at_most(n, 9)"),
        TOLD "return " JUDGED("3ft") " .. '; ' .. " JUDGED("4ft"), "a 1, b 2; a 1, b 2"),
  GIVES("a name of the file", "n = 0\n" TWO RULE("J1", "n = n + 1 return at_most(n, 9)"),
        TOLD "return " JUDGED("3ft"), "a 1, b 2"),
  GIVES("a table behind tables and functions", "local t = { { {} } } local function more() local x = t[1][1] "
        "x.n = (x.n or 0) + 1 return x.n end\n" TWO RULE("J1", "return at_most(more(), 9)"),
        TOLD "return " JUDGED("3ft"), "a 1, b 2"),
  GIVES("behind a metatable", "local t = setmetatable({}, { __index = { n = { 0 } } })\n" TWO
        RULE("J1", "t.n[1] = t.n[1] + 1 return at_most(t.n[1], 9)"), TOLD "return " JUDGED("3ft"), "a 1, b 2"),
  GIVES("in what asks whether it applies", "local n = 0\n" TWO "rule { id = 'J1', severity = 'note', each = 'shelf', "
        "says = 's', cite = 'c', caution = 'd', applies = function() n = n + 1 return true end, "
        "check = function() return at_most(n, 9) end }", TOLD "return " JUDGED("3ft"), "a 1, b 2"),
  GIVES("one rule asks what another kept", "local deepest = 0ft\n" TWO
        RULE("J1", "deepest = math.max(deepest, s.depth) return at_most(s.depth, 9ft)")
        RULE("J2", "return at_most(deepest, 9ft)"),
        TOLD "local _ = " JUDGED("3ft") " return told(variants.judge({ ['shelf.a.depth'] = host.literal '0.5ft' }, "
        "{ rule.find 'J2' }))", "a 2 ft, b 2 ft"),
  GIVES("random numbers", TWO RULE("J1", "return at_most(math.random(1000000), 1000000)"),
        TOLD "local a, b = " JUDGED("3ft") ", " JUDGED("3ft") " return tostring(a == b and a == told(variants.base()))",
        "true"),
  GIVES("so is the job as declared", "local n = 0\n" TWO RULE("J1", "n = n + 1 return at_most(n, 9)"),
        TOLD "local _ = " JUDGED("3ft") " return told(variants.base())", "a 1, b 2"),
  GIVES("who keeps nothing is not declared anew", "local most = { 9ft }\nfunction limit_of() return most[1] end\n" TWO
        RULE("J1", "local t = {} t[1] = s.depth return at_most(t[1], limit_of())"),
        TOLD "return " JUDGED("3ft") " .. tostring(anew.shapes 'shelf.a.depth')", "a 3 ft, b 2 ftfalse"),
  GIVES("what an outcome of nothing stands for", "local n = 0\n" "room { width = 9ft }\n" RULE("J1", "n = n + 1 "
        "return at_most(n, 9)"), "local o = variants.judge({ ['job.name'] = 'x' }, { rule.find 'J1' })[1] "
        "return o.outcome .. tostring(o.subject) .. tostring(o.proxy)", "not applicablenilnil"),
};

static const struct job_row odd[] = {
  GIVES("an item of nothing, or of what is no number", TWO RULE("J1", "return present(s.name == 'b' or "
        "s.marks[nil] == nil and s.marks[0 / 0] == nil and s.marks[{}] == nil, 'none')"),
        "judge.all() local list, why = variants.judge { ['shelf.a.depth'] = host.literal '3ft' } "
        "return list and list[1].outcome or why.text", "holds"),
};

static int shown;

static void count(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to, (void)sources, (void)line;
  shown++;
}

/* Judged as declared; with eight values, and two at once; and what the rule rests on traced. */
static const char judged_again[] =
  "import 'model.boot' "
  "local boot, judge, variants = import 'model.boot', import 'model.judge', import 'model.variants' "
  "boot.declare { script = ... } judge.all() "
  "for i = 1, 8 do "
  "  local changes = { ['site.frost'] = host.literal(i .. 'in') } "
  "  assert(#variants.judge(changes) > 0) "
  "  variants.with(changes, variants.with, { ['site.snow_depth'] = host.literal '1in' }, judge.all) "
  "end "
  "variants.base()";

static void a_rule_prints_as_often_as_it_is_judged_for_somebody(void **state) {
  (void)state;
  job_write("job.sline", JOB, "site { frost = 9in, snow_depth = 2in }\n"
            "rule { id = 'J1', severity = 'note', says = 's', cite = 'c', caution = 'd', "
            "check = function(job) print(job.site.frost) return at_most(job.site.frost, 9ft) end }\n");
  const struct sl_host host = { .folder = job_folder, .format = SL_GNU, .print = count };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  shown = 0;
  assert_int_equal(luaL_loadstring(L, judged_again), LUA_OK);
  lua_pushstring(L, job_path);
  const int status = sl_host_call(L, 1, 0);
  if (status) sl_host_report(L);
  assert_int_equal(status, LUA_OK);
  assert_int_equal(shown, 1);                            /* from hand: judged once for a page, the rest is asked */
  sl_host_close(L);
}

int main(void) {
  static struct CMUnitTest tests[20];
  size_t n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, kept);
  JOB_ROWS(tests, n, odd);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(a_rule_prints_as_often_as_it_is_judged_for_somebody);
  return _cmocka_run_group_tests("scripted", tests, n, job_setup, job_teardown);
}
