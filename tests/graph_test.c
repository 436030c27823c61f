/* SPDX-License-Identifier: MIT
 * Results: worked out on demand and once, in a circle refused, afresh under what-if, unknown where an input is. */
#include "job_run.h"

/* Kinds and results: tests/shelf.lua. */
#define ROOM "room { width = 4ft } shelf 'a' { depth = 3ft, marks = { 1ft, 2ft } }\n"
#define S "local s, root = record.root.shelf.a, record.root "
#define GIVES(name, script, probe, want)      { name, NULL, script, S probe, want, NULL, 0 }
#define FAILS(name, script, probe, code, part) { name, NULL, script, S probe, part, code, 0 }
#define WHAT_IF(path, value) \
  "import('model.variants').with({ ['" path "'] = host.literal '" value "' }, function() return "

static const struct job_row once[] = {
  GIVES("a result is read like a field", ROOM, "return host.format(s.area, 'ft2')", "12 ft2"),
  GIVES("nothing is worked out before it is read", ROOM, "return calls.area", "0"),
  GIVES("nor is what nobody reads", ROOM, "local x = s.area return calls.twice", "0"),
  GIVES("read often, worked out once", ROOM, "for _ = 1, 9 do local x = s.area end return calls.area", "1"),
  GIVES("by another result too", ROOM, "local x = s.twice, s.area, s.twice return calls.area .. calls.twice", "11"),
  GIVES("once for each record", ROOM "shelf 'b' { depth = 1ft }",
        "local x = s.area, root.shelf.b.area, s.area return calls.area", "2"),
  GIVES("each record has its own", ROOM "shelf 'b' { depth = 1ft }",
        "return host.format(s.area, 'ft2') .. host.format(root.shelf.b.area, 'ft2')", "12 ft24 ft2"),
  GIVES("what a script asked for too early is worked out again", "local s = shelf 'a' { depth = 3ft, marks = { 1ft } } "
        "local ok = pcall(function() return s.area end) print(ok) room { width = 4ft }",
        "return tostring(out[1]) .. host.format(s.area, 'ft2')", "false12 ft2"),
  GIVES("and what came of fewer records", "local r = room { width = 4ft } shelf 'a' { depth = 3ft } print(r.all) "
        "shelf 'b' { depth = 1ft }", "return host.format(out[1], 'ft2') .. host.format(root.room.all, 'ft2')",
        "12 ft216 ft2"),
  GIVES("derived records stay those that the script holds", "local s = shelf 'a' { depth = 3ft, marks = { 1ft } } "
        "print(s.peg.P1) room { width = 4ft }", "return tostring(out[1] == s.peg.P1)", "true"),
  GIVES("over all records", ROOM "shelf 'b' { depth = 1ft }", "return host.format(root.room.all, 'ft2')", "16 ft2"),
  GIVES("a primitive's output, by Pythagoras", ROOM, "return host.format(s.diagonal, 'ft')", "5 ft"),
  GIVES("a primitive is called once", ROOM, "for _ = 1, 9 do local x = s.diagonal, s.square.diagonal end return "
        "calls.diagonal .. calls.input", "11"),
  GIVES("its sheet is there without another call from Lua", ROOM,
        "local op, rows = worked_sheet(s.square) return op .. (#rows > 2 and 'whole' or 'short') .. "
        "calls.diagonal", "diagonalwhole1"),
  GIVES("a script reads them too", ROOM "rule { id = 'J1', severity = 'note', each = 'shelf', says = 's', cite = "
        "'c', caution = 'd', check = function(x) print(x.area) return at_most(x.area, 9ft2) end }",
        "judge.all() return host.format(out[1], 'ft2') .. calls.area", "12 ft21"),
};

static const struct job_row circles[] = {
  FAILS("three results in a circle", ROOM, "return s.first", "G001",
        "results go in a circle: shelf.a.first -> shelf.a.second -> shelf.a.third -> shelf.a.first"),
  FAILS("entered elsewhere", ROOM, "return s.third", "G001",
        "shelf.a.third -> shelf.a.first -> shelf.a.second -> shelf.a.third"),
  FAILS("one that needs itself", ROOM, "return s.own", "G001", "results go in a circle: shelf.a.own -> shelf.a.own"),
  FAILS("it cannot be caught", ROOM, "pcall(function() return s.first end) return host.format(s.area, 'ft2')", "G001",
        "shelf.a.first -> shelf.a.second"),
};

static const struct job_row unknowns[] = {
  GIVES("a missing input makes it unknown", ROOM, "local v, why = graph.try(s, 'needs') return tostring(v) .. "
        "why.code .. why.class .. why.path", "nilD010missingshelf.a.brackets"),
  GIVES("known values come without a reason", ROOM, "local v, why = graph.try(s, 'area') return host.format(v, "
        "'ft2') .. tostring(why)", "12 ft2nil"),
  GIVES("an unknown is remembered", ROOM, "for _ = 1, 5 do graph.try(s, 'needs') end return calls.needs", "1"),
  FAILS("reading it raises the reason", ROOM, "return s.needs", "D010", "shelf.a.brackets is not given"),
  FAILS("no result at all", ROOM, "return s.nothing", "G003", "shelf.a.nothing cannot be worked out"),
  FAILS("the wrong dimension", ROOM, "return s.heavy", "G002", "shelf.a.heavy should be force, got 3 ft (length)"),
  FAILS("a mistake in the work is no unknown", ROOM, "return graph.try(s, 'broken')", "Q003", "cannot add"),
  GIVES("a primitive out of its range is unknown, with whose range", ROOM,
        "calc.diagonal = function() host.raise { code = 'C005', class = 'range', text = 'far', cite = 'ABC 1' } end "
        "local v, why = graph.try(s, 'diagonal') return tostring(v) .. why.class .. why.cite", "nilrangeABC 1"),
  FAILS("a primitive given nonsense is no unknown", "room { width = 4ft } shelf 'a' { depth = 3ft }",
        "return " WHAT_IF("room.width", "-1ft") "graph.try(s, 'diagonal') end)", "C004", "diagonal: 'along'"),
  FAILS("no such result", ROOM, "return s.aera", "D007", "has no field or result 'aera'"),
};

#define BASE "import('model.variants').base() "
#define JUDGED_PEGS \
  "import('model.run').settled = true local judge, rule = import 'model.judge', import 'model.rule' local rules = { " \
  "{ id = 'T1', severity = 'stop', each = 'peg', says = 'not far', check = function(p) return rule.at_most(p.place, " \
  "host.literal '9ft') end } } local function second() return judge.all(rules)[2].finding.value end second() second() "
static const struct job_row what_ifs[] = {
  GIVES("another value", ROOM, "return host.format(" WHAT_IF("shelf.a.depth", "1ft") "s.area end), 'ft2')", "4 ft2"),
  GIVES("the result outside stays", ROOM, BASE "local x, n = s.area, calls.area " WHAT_IF("shelf.a.depth",
        "1ft") "s.area end) return host.format(s.area, 'ft2') .. calls.area - n", "12 ft21"),
  GIVES("and one that the change does not reach is not worked out again", ROOM, BASE "local x, n = s.area, calls.area "
        WHAT_IF("shelf.a.marks[2]", "5ft") "s.area end) return calls.area - n", "0"),
  GIVES("the input outside stays", ROOM, WHAT_IF("shelf.a.depth", "1ft") "s.area end) return host.format(s.depth)",
        "3 ft"),
  GIVES("not worked out before, not left behind", ROOM, WHAT_IF("shelf.a.depth",
        "1ft") "s.area end) return host.format(s.area, 'ft2')", "12 ft2"),
  GIVES("results behind results", ROOM, "local x = s.twice return host.format(" WHAT_IF("room.width",
        "1ft") "s.twice end), 'ft2')", "6 ft2"),
  GIVES("once inside too", ROOM, WHAT_IF("shelf.a.depth", "1ft") "s.twice, s.twice, s.area end) return calls.area",
        "1"),
  GIVES("one in another", ROOM, "return host.format(" WHAT_IF("shelf.a.depth", "1ft") WHAT_IF("room.width",
        "2ft") "s.area end) end), 'ft2')", "2 ft2"),
  GIVES("the outer one stands after the inner", ROOM, "return host.format(" WHAT_IF("shelf.a.depth",
        "1ft") WHAT_IF("shelf.a.depth", "2ft") "1 end) and s.area end), 'ft2')", "4 ft2"),
  GIVES("an item of a list", ROOM, "return host.format(" WHAT_IF("shelf.a.marks[2]", "5ft") "s.marks[2] end))", "5 ft"),
  GIVES("each item of a list", ROOM, "return host.format(" WHAT_IF("shelf.a.marks[2]", "5ft") "(function() local sum "
        "= host.literal '0ft' for m in record.each(s.marks) do sum = sum + m end return sum end)() end))", "6 ft"),
  GIVES("pairs of a list", ROOM, "return host.format(" WHAT_IF("shelf.a.marks[2]", "5ft") "(function() local last for "
        "_, m in pairs(s.marks) do last = m end return last end)() end))", "5 ft"),
  GIVES("pairs of a map", ROOM "shelf 'b' { heights = { x = 1ft, y = 2ft } }", "return host.format("
        WHAT_IF("shelf.b.heights.y", "5ft") "(function() local last for _, h in pairs(root.shelf.b.heights) do last = "
        "h end return last end)() end))", "5 ft"),
  GIVES("derived records see it too", ROOM, "return host.format(" WHAT_IF("shelf.a.marks[2]", "5ft") "s.peg.P2.place "
        "end))", "5 ft"),
  GIVES("the list of all that are derived is the variant's", ROOM, "local n = #record.all 'bolt' return host.format("
        WHAT_IF("shelf.a.marks[2]", "5ft") "record.all 'bolt'[4].torque + record.all 'peg'[2].place end)) .. n",
        "15 ft4"),
  GIVES("and the declared ones' afterwards", ROOM, "local x = " WHAT_IF("shelf.a.marks[2]",
        "5ft") "record.all 'bolt' end) return host.format(record.all 'bolt'[4].torque)", "4 ft"),
  GIVES("rules judge the variant's derived records", ROOM, JUDGED_PEGS "return host.format(" WHAT_IF("shelf.a.marks[2]",
        "5ft") "second() end)) .. host.format(second())", "5 ft2 ft"),
  GIVES("as where all is worked out again", ROOM, JUDGED_PEGS "import('model.variants').forced(true) return "
        "host.format(" WHAT_IF("shelf.a.marks[2]", "5ft") "second() end)) .. host.format(second())", "5 ft2 ft"),
  GIVES("a value that was not given", ROOM, "return tostring(" WHAT_IF("shelf.a.finish",
        "1ft") "record.given(s, 'finish') ~= nil end)) .. tostring(record.given(s, 'finish'))", "truenil"),
  GIVES("an error inside leaves nothing behind", ROOM, "pcall(function() " WHAT_IF("shelf.a.depth",
        "1ft") "error 'x' end) end) return host.format(s.depth) .. host.format(s.area, 'ft2')", "3 ft12 ft2"),
  FAILS("an error inside goes on up", ROOM, "return " WHAT_IF("shelf.a.depth", "1ft") "s.needs end)", "D010",
        "shelf.a.brackets is not given"),
  GIVES("derived records are derived again", ROOM, BASE "local x, n = s.peg.P1.place, derived " WHAT_IF(
        "shelf.a.marks[2]", "5ft") "s.peg.P1.place end) x = s.peg.P1.place return derived - n", "1"),
};

static const struct job_row noted[] = {
  GIVES("what a result reads, in order", ROOM, "import('model.noting').start() local _, _, n = graph.try(s, "
        "'area') local t = "
        "{} for i, r in ipairs(n.reads) do t[i] = r.path end return table.concat(t, ' ')",
        "shelf.a.depth room.width"),
  GIVES("a result that it reads is one input", ROOM, "import('model.noting').start() local _, _, n = "
        "graph.try(s, 'twice') "
        "local t = {} for i, r in ipairs(n.reads) do t[i] = r.path end return table.concat(t, ' ')",
        "shelf.a.area"),
  GIVES("with its value", ROOM, "import('model.noting').start() local _, _, n = graph.try(s, 'twice') return "
        "host.format(n.reads[1].value, 'ft2')", "12 ft2"),
  GIVES("switched off, nothing is kept", ROOM, "local _, _, n = graph.try(s, 'area') return tostring(n)", "nil"),
};

int main(void) {
  static struct CMUnitTest tests[80];
  size_t n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, once);
  JOB_ROWS(tests, n, circles);
  JOB_ROWS(tests, n, unknowns);
  JOB_ROWS(tests, n, what_ifs);
  JOB_ROWS(tests, n, noted);
  return _cmocka_run_group_tests("graph", tests, n, job_setup, job_teardown);
}
