/* SPDX-License-Identifier: MIT
 * Results that scripts declare: read as the library's, worked out once, of their run alone, and the same under other
 * values as in a job declared anew. */
#include "job_run.h"

#define V "local job, variants, anew = record.root, import 'model.variants', import 'model.anew' " \
          "local function q(text) return host.literal(text) end "
#define GIVES(name, script, probe, want) { name, NULL, script, V probe, want, NULL, 0 }
#define FAILS(name, script, probe, code, line, want) { name, NULL, script, V probe, want, code, line }
#define OF(kind, name, is, how) "result { of = '" kind "', name = '" name "', is = '" is "', means = 'm', " how " }\n"
#define LUA(body) "work = function(s, job) " body " end"
#define TEXT(formula) "formula = '" formula "'"
#define NOTE(id, check) "rule { id = '" id "', severity = 'note', each = 'shelf', says = 's', cite = 'c', " \
                        "caution = 'd', check = function(s) " check " end }\n"
#define ROOM "room { width = 4ft }\n"
#define TWO ROOM "shelf 'a' { depth = 1ft, marks = { 1ft, 2ft } } shelf 'b' { depth = 2ft, boards = 3 }\n"
#define SHOW(value) "return host.format(" value ")"

/* from hand: shelf a is 1 ft deep with 2 boards (the default), b 2 ft with 3, the room 4 ft wide */
static const struct job_row values[] = {
  GIVES("by a function", TWO OF("shelf", "thrice", "length", LUA("return s.depth * 3")), SHOW("job.shelf.b.thrice"),
        "6 ft"),
  GIVES("by a formula", TWO OF("shelf", "all", "length", TEXT("depth * boards")), SHOW("job.shelf.b.all"), "6 ft"),
  GIVES("of the job", TWO OF("job", "wide", "length", TEXT("2 * room.width")), SHOW("job.wide"), "8 ft"),
  GIVES("of what hangs on another", TWO OF("peg", "out", "length", TEXT("place + parent.depth + job.room.width")),
        SHOW("job.shelf.a.peg.P2.out"), "7 ft"),
  GIVES("of the second level", TWO OF("bolt", "in_all", "length", TEXT("torque + parent.place")),
        SHOW("job.shelf.a.peg.P2.bolt['1'].in_all"), "4 ft"),
  GIVES("of a kind without a name", TWO "hook { on = 'a', at = 6in }\n"
        OF("hook", "twice_at", "length", TEXT("2 * at")), SHOW("job.hook.twice_at"), "1 ft"),
  GIVES("one reads another, of the library too", TWO OF("shelf", "one", "length", LUA("return s.depth"))
        OF("shelf", "two", "area", TEXT("one * one + area")), SHOW("job.shelf.a.two"), "5 ft2"),
  GIVES("a count", TWO OF("shelf", "n", "count", LUA("return #s.marks * 1.0")),
        "return tostring(job.shelf.a.n) .. math.type(job.shelf.a.n)", "2integer"),
  GIVES("a share", TWO OF("shelf", "share", "ratio", TEXT("depth / job.room.width")),
        "local words = import 'write.words' return words.of(job.shelf.a, 'share')", "25 %"),
  GIVES("in its unit", TWO "result { of = 'shelf', name = 'deep', is = 'length', means = 'm', show = 'mm', "
        "formula = 'depth' }", "local words = import 'write.words' return words.of(job.shelf.a, 'deep')", "304.8 mm"),
  GIVES("a text", TWO OF("shelf", "word", "text", LUA("return s.depth > 1ft and 'deep' or 'flat'")),
        "return job.shelf.a.word .. job.shelf.b.word", "flatdeep"),
  GIVES("whether it is so", TWO OF("shelf", "deep", "true or false", TEXT("depth > 18 * job.shelf.a.depth / 12")),
        "return tostring(job.shelf.a.deep) .. tostring(job.shelf.b.deep)", "falsetrue"),
  GIVES("a rule reads it", TWO OF("shelf", "thrice", "length", LUA("return s.depth * 3"))
        NOTE("H1", "return at_most(s.thrice, 5ft)"),
        "local t = {} for i, o in ipairs(judge.all()) do t[i] = o.outcome end return table.concat(t, ' ')",
        "holds broken"),
  GIVES("the script reads it while it declares", TWO OF("shelf", "thrice", "length", LUA("return s.depth * 3"))
        "shelf 'c' { depth = 1ft, marks = { shelf 'd' { depth = 1ft }.thrice } }", SHOW("job.shelf.c.marks[1]"),
        "3 ft"),
  GIVES("once", TWO "n = 0\n" OF("shelf", "one", "length", LUA("n = n + 1 return s.depth * n")),
        "local _ = job.shelf.a.one, job.shelf.a.one " SHOW("job.shelf.a.one"), "1 ft"),
  GIVES("what nobody gave makes it unknown", TWO OF("shelf", "gap", "length", TEXT("brackets.gap"))
        OF("shelf", "wide_gap", "length", LUA("return s.gap * 2")),
        "local v, why = graph.try(job.shelf.a, 'wide_gap') return tostring(v) .. why.class .. why.path",
        "nilmissingshelf.a.brackets"),
  GIVES("nil is unknown, too", TWO OF("shelf", "none", "length", LUA("return given(s, 'brackets')")),
        "local v, why = graph.try(job.shelf.a, 'none') return tostring(v) .. why.class .. why.path",
        "nilmissingshelf.a.none"),
  GIVES("declared names", TWO OF("shelf", "thrice", "length", LUA("return s.depth * 3")),
        "local list = schema.results(schema.kinds.shelf) return list[#list].name .. ' ' .. list[#list].says",
        "thrice m"),
};

static const struct job_row runs[] = {
  GIVES("the next run has none of it", TWO OF("shelf", "thrice", "length", LUA("return s.depth * 3")),
        "local _ = job.shelf.a.thrice run.new() local def = schema.kinds.shelf "
        "return tostring(schema.result(def, 'thrice')) .. #schema.results(def) - #def.listed .. #run.results", "nil00"),
  GIVES("a run beside has its own", TWO OF("shelf", "thrice", "length", LUA("return s.depth * 3")),
        "local there = anew.with({ ['shelf.a.depth'] = q '2ft' }, function() return record.root.shelf.a.thrice end) "
        "return host.format(there) .. ' ' .. host.format(job.shelf.a.thrice) .. #run.results", "6 ft 3 ft1"),
};

/* a in a level of the engine, declared anew, and as it was */
#define LEVEL(depth) "variants.with({ ['shelf.a.depth'] = q '" depth "' }, function() " \
                     "return host.format(record.root.shelf.a.x) end)"
#define THERE(depth) "host.format(anew.with({ ['shelf.a.depth'] = q '" depth "' }, function() " \
                     "return record.root.shelf.a.x end))"
#define THREE "return table.concat({ " LEVEL("2ft") ", " THERE("2ft") ", host.format(job.shelf.a.x) }, ' ')"

/* from hand: x of a depth of 2 ft, twice, and of 1 ft */
static const struct job_row levels[] = {
  GIVES("a function in a level", TWO OF("shelf", "x", "length", LUA("return s.depth * 3")), THREE, "6 ft 6 ft 3 ft"),
  GIVES("a formula in a level", TWO OF("shelf", "x", "length", TEXT("depth * 3")), THREE, "6 ft 6 ft 3 ft"),
  GIVES("one that reads one", TWO OF("shelf", "w", "length", LUA("return s.depth * 3"))
        OF("shelf", "x", "length", TEXT("w + depth")), THREE, "8 ft 8 ft 4 ft"),
  GIVES("of a record around it", TWO "local a = job and nil\nlocal first = shelf 'c' { depth = 5ft }\n"
        OF("shelf", "x", "length", LUA("return s.depth + first.depth")), THREE, "7 ft 7 ft 6 ft"),
  GIVES("of a table around it", TWO "local t = { 3 }\n" OF("shelf", "x", "length", LUA("return s.depth * t[1]")), THREE,
        "6 ft 6 ft 3 ft"),
  GIVES("it is reached", TWO OF("shelf", "x", "length", LUA("return s.depth * 3"))
        NOTE("H1", "return at_most(s.x, 5ft)"),
        "local keys = variants.reached 'shelf.a.depth' "
        "return tostring(keys['H1 shelf.a']) .. tostring(keys['H1 shelf.b'])",
        "truenil"),
  GIVES("what does not reach it keeps it", TWO "n = {}\n" OF("shelf", "x", "length", LUA("return s.depth * 3"))
        NOTE("H1", "return at_most(s.x, 5ft)"),
        "variants.base() local f = run.results[1].script local n = 0 "
        "run.results[1].script = function(...) n = n + 1 return f(...) end "
        "local _ = variants.judge { ['shelf.b.depth'] = q '1ft' } return tostring(n)", "1"),
  GIVES("one that keeps something is asked in a run of its own",
        "local seen = {}\n" TWO OF("shelf", "x", "count", LUA("seen[#seen + 1] = s.depth return #seen"))
        NOTE("H1", "return at_most(s.x, 9)"),
        "judge.all() local t = {} for i = 1, 2 do "
        "for _, o in ipairs(variants.judge { ['shelf.a.depth'] = q '3ft' }) do "
        "t[#t + 1] = host.format(o.finding.value) end end return table.concat(t, ' ') .. tostring(anew.keeps())",
        "1 2 1 2true"),
  GIVES("one that keeps nothing is not", TWO OF("shelf", "x", "length", LUA("return s.depth"))
        NOTE("H1", "return at_most(s.x, 9ft)"), "return tostring(anew.keeps())", "false"),
  GIVES("where no rule is, too", "local n = 0\n" TWO OF("shelf", "x", "count", LUA("n = n + 1 return n")),
        "return tostring(anew.keeps())", "true"),
  GIVES("a flip is found through it", TWO OF("shelf", "x", "length", TEXT("depth * 3"))
        "rule { id = 'H1', severity = 'note', each = 'shelf', says = 's', cite = 'c', caution = 'd', "
        "flips = 'shelf.b.depth', check = function(s) return at_most(s.x, 9ft) end }",
        "local f = whatif.flip(rule.find 'H1', job.shelf.b) return host.format(f.value, 'ft')", "3 ft"),
};

#define NEEDED(probe) "local _ = " probe " return 'no error'"
static const struct job_row refused[] = {
  FAILS("another kind of value", TWO OF("shelf", "x", "length", LUA("return s.depth * s.depth")),
        NEEDED("job.shelf.a.x"), "G002", 3, "shelf.a.x should be a length (like 6ft), got"),
  FAILS("a half count", TWO OF("shelf", "x", "count", LUA("return 1.5")), NEEDED("job.shelf.a.x"), "G002", 3,
        "shelf.a.x should be a whole number (like 4), got 1.5"),
  FAILS("no return", TWO OF("shelf", "x", "length", LUA("s = nil")), NEEDED("job.shelf.a.x"), "G003", 3,
        "its function gave nothing"),
  FAILS("no number", TWO OF("shelf", "x", "ratio", TEXT("boards / (boards - boards)")), NEEDED("job.shelf.a.x"), "D004",
        3, "shelf.a.x is no number"),
  FAILS("an error of its function", TWO OF("shelf", "x", "length", 
        "work = function(s)\n  local t = {}\n  return t.a.b end"), NEEDED("job.shelf.a.x"), "L002", 5,
        "cannot look into 'a'"),
  FAILS("an error beside any rule", TWO OF("shelf", "x", "length", LUA("return s.depth + 1")),
        "import('model.own_results').all()", "Q003", 3, "cannot add"),
  FAILS("a circle", TWO OF("shelf", "x", "length", LUA("return s.y")) OF("shelf", "y", "length", TEXT("x")),
        NEEDED("job.shelf.a.x"), "G001", 3, "shelf.a.x -> shelf.a.y -> shelf.a.x"),
  FAILS("a record that is not there", TWO OF("shelf", "x", "length", TEXT("job.shelf.c.depth")),
        NEEDED("job.shelf.a.x"), "D009", 3, "no shelf is named 'c'"),
  FAILS("a record of its name behind it", TWO OF("shelf", "x", "length", TEXT("depth")) "shelf 'x' { depth = 1ft }",
        NEEDED("job.shelf.a.x"), "D017", 4, "cannot be named 'x'"),
};

static int shown;

static void count(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to, (void)sources, (void)line;
  shown++;
}

static const char judged_again[] =
  "import 'model.boot' "
  "local boot, variants = import 'model.boot', import 'model.variants' "
  "boot.declare { script = ... } boot.judge() "
  "for i = 1, 8 do local _ = variants.judge { ['site.frost'] = host.literal(i .. 'in') } end "
  "import('model.own_results').all() "
  "import('write.trace').rule(import('model.rule').find 'J1', import('model.record').root)";

static void it_prints_once(void **state) {
  (void)state;
  job_write("job.sline", JOB, "site { frost = 9in }\n" OF("job", "x", "length", LUA("print(job) return job.site.frost"))
            "rule { id = 'J1', severity = 'note', says = 's', cite = 'c', caution = 'd', "
            "check = function(job) return at_most(job.x, 9ft) end }\n");
  const struct sl_host host = { .folder = job_folder, .format = SL_GNU, .print = count };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  shown = 0;
  assert_int_equal(luaL_loadstring(L, judged_again), LUA_OK);
  lua_pushstring(L, job_path);
  const int status = sl_host_call(L, 1, 0);
  if (status) sl_host_report(L);
  assert_int_equal(status, LUA_OK);
  assert_int_equal(shown, 1);                            /* from hand: worked out once for a page, the rest is asked */
  sl_host_close(L);
}

int main(void) {
  static struct CMUnitTest tests[60];
  size_t n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, values);
  JOB_ROWS(tests, n, runs);
  JOB_ROWS(tests, n, levels);
  JOB_ROWS(tests, n, refused);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(it_prints_once);
  return _cmocka_run_group_tests("own results", tests, n, job_setup, job_teardown);
}
