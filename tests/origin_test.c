/* SPDX-License-Identifier: MIT
 * Where a number comes from: the input or result that it is, never one that is equal; inline primitives; formulas; what
 * rests on memory.  Kinds and results: tests/shelf.lua.  Whole jobs: tests/origins.lua. */
#include "job_run.h"
#include "box/safe.h"

/* Two equal lengths, two equal counts, two equal shares, two equal words. */
#define ROOM "room { width = 3ft } shelf 'a' { depth = 3ft, boards = 2, label = 'oil', finish = 'oil', " \
  "marks = { 3ft, 3ft }, heights = { left = 3ft, right = 3ft }, brackets = { size = 's', gap = 3ft } }\n"

/* result(name, work): one more of the shelf; came(name, member): what it is said to come from. */
#define MORE \
  "local function result(name, work) graph.result { 'shelf', name, says = 's', work = work } end " \
  "result('rows', function() return 2 end) result('share', function() return 0.5 end) " \
  "result('part', function() return 0.5 end) "
#define CAME \
  "local s, trace = record.root.shelf.a, import 'write.trace' " \
  "local function said(origin) local names, one = trace.names(origin) " \
  "return (one and '' or 'from ') .. table.concat(names, ' ') end " \
  "local function came(name, member) return said(trace.origins(trace.result(s, name)).members[member or 'value']) end "

#define ORIGIN(name, work, want) \
  { name, MORE "result('x', function(s, job) " work " end)", ROOM, CAME "return came 'x'", want, NULL, 0 }
#define GIVES(name, before, probe, want) { name, MORE before, ROOM, CAME probe, want, NULL, 0 }

static const struct job_row rows[] = {
  ORIGIN("of two equal lengths, the one that was read", "local _ = job.room.width return s.depth", "shelf.a.depth"),
  ORIGIN("and the other", "local _ = s.depth return job.room.width", "room.width"),
  ORIGIN("of two equal counts", "local _ = s.rows return s.boards", "shelf.a.boards"),
  ORIGIN("and the other result", "local _ = s.boards return s.rows", "shelf.a.rows"),
  ORIGIN("of two equal shares", "local _ = s.share return s.part", "shelf.a.part"),
  ORIGIN("of two equal words", "local _ = s.finish return s.label", "shelf.a.label"),
  ORIGIN("and the other word", "local _ = s.label return s.finish", "shelf.a.finish"),
  ORIGIN("an item of a list", "local _ = s.marks[1] return s.marks[2]", "shelf.a.marks[2]"),
  ORIGIN("an item of a map", "local _ = s.heights.left return s.heights.right", "shelf.a.heights.right"),
  ORIGIN("of a group", "local _ = s.depth return s.brackets.gap", "shelf.a.brackets.gap"),
  ORIGIN("one that is chosen by a word", "return s.finish == 'oil' and s.depth or job.room.width", "shelf.a.depth"),
  ORIGIN("the last of equal ones, where the code takes that", "local x for _, v in ipairs { s.depth, job.room.width } "
         "do if not x or v >= x then x = v end end return x", "room.width"),
  ORIGIN("a sum is made from both", "return s.depth + job.room.width", "from shelf.a.depth room.width"),
  ORIGIN("a product with 1 is none of the two", "return s.boards * (s.rows - 1)", "from shelf.a.boards shelf.a.rows"),
  ORIGIN("a count times 1 too", "return s.boards * #s.marks // 2 * (s.rows // 2)",
         "from shelf.a.boards shelf.a.rows"),
  ORIGIN("what makes no difference is not named", "return 0 * s.depth + job.room.width", "from room.width"),
  ORIGIN("what is rounded", "return math.floor(s.part * 9 + 0.2) + 0.0", "from shelf.a.part"),
  ORIGIN("what decides", "return s.finish == 'oil' and 1 or 2", "from shelf.a.finish"),
  ORIGIN("a constant comes from nowhere", "local _ = s.depth return 3", "from "),
  ORIGIN("a fault while another value stands in counts as made from", "if s.boards ~= 2 then return nil + 1 end "
         "return s.depth * s.rows", "from shelf.a.boards shelf.a.depth shelf.a.rows"),
  ORIGIN("so does what is then missing", "if s.boards ~= 2 then host.raise { code = 'D010', class = 'missing', text "
         "= 't' } end return 7", "from shelf.a.boards"),
  ORIGIN("an output of a primitive", "local _ = s.depth return s.square.diagonal", "shelf.a.diagonal"),
  ORIGIN("an output of an inline primitive", "return calc.diagonal { along = s.depth, across = s.depth }.diagonal",
         "diagonal of diagonal"),
  GIVES("members of a primitive's input that are equal", "", "return came('square', 'along') .. ' ' .. "
        "came('square', 'across')", "room.width shelf.a.depth"),
  GIVES("the inputs of an inline primitive", "result('x', function(s, job) return calc.diagonal { along = s.depth, "
        "across = job.room.width + s.brackets.gap }.diagonal end)",
        "local c = trace.origins(trace.result(s, 'x')).calls[1] return said(c.along) .. '; ' .. said(c.across)",
        "shelf.a.depth; from room.width shelf.a.brackets.gap"),
  GIVES("of two that are called alike", "result('x', function(s, job) local a = calc.diagonal { along = s.depth, "
        "across "
        "= s.depth } local b = calc.diagonal { along = job.room.width, across = job.room.width } return a.diagonal * 0 "
        "+ b.diagonal end)",
        "local o = trace.origins(trace.result(s, 'x')) return #o.members.value.from .. ' ' .. "
        "o.members.value.from[1].call.number", "1 2"),
  GIVES("the calls of a node in their order, with what they gave", "result('x', function(s) return calc.diagonal { "
        "along = s.depth, across = s.depth }.diagonal end)", "local n = trace.result(s, 'x') return #n.calls .. ' ' .. "
        "n.calls[1].op .. ' ' .. tostring(host.same(n.calls[1].worked.diagonal, n.value))", "1 diagonal true"),
  GIVES("where nobody notes, none is kept", "result('x', function(s) return calc.diagonal { along = s.depth, across = "
        "s.depth }.diagonal end)", "local _, _, n = graph.try(s, 'x') return tostring(n)",
        "nil"),
  GIVES("noting is switched off again", "result('x', function(s) return s.depth end)",
        "local before = calc trace.result(s, 'x') return tostring(calc == before) .. tostring(run.noting)",
              "truefalse"),
  GIVES("an error in what runs again leaves it as it was", "result('x', function(s) if s.boards ~= 2 then error "
        "'x' end "
        "return s.boards end)",
        "import('model.noting').start() local before, stack = calc, run.stack came 'x' return "
        "tostring(calc == before) .. tostring(run.stack == stack)", "truetrue"),
  /* A finding's two equal numbers. */
  GIVES("the numbers of a finding", "rule.add { id = 'T1', severity = 'note', each = 'shelf', says = 's', cite = 'c', "
        "caution = 'd', check = function(s, job) return rule.at_most(s.depth, rule.bound(job.room.width, 'w')) end }",
        "local o = trace.origins(trace.rule(rule.find 'T1', s)) return said(o.members.value) .. ' ' .. "
        "said(o.members.limit)", "shelf.a.depth room.width"),
  { "of a script's rule too", MORE, ROOM "rule { id = 'J1', severity = 'note', each = 'shelf', says = 's', cite = 'c', "
    "caution = 'd', check = function(x, job) return at_most(job.room.width, bound(x.depth, 'w')) end }",
    CAME "local o = trace.origins(trace.rule(rule.find 'J1', s)) return said(o.members.value) .. ' ' .. "
    "said(o.members.limit)", "room.width shelf.a.depth", NULL, 0 },
  /* Formulas: the record's names, derived ones, what hangs above, the job. */
  GIVES("a formula", "graph.result { 'shelf', 'x', says = 's', formula = 'depth + brackets.gap' }",
        "return host.format(s.x, 'ft') .. ' ' .. came 'x'", "6 ft from shelf.a.depth shelf.a.brackets.gap"),
  GIVES("seen from what hangs on a record", "graph.result { 'peg', 'x', says = 's', formula = "
        "'(place + parent.depth) / job.room.width' }", "return host.format(s.peg.P2.x)", "2"),
  GIVES("a formula that names one thing is that", "graph.result { 'shelf', 'x', says = 's', formula = 'rows' }",
        "return came 'x'", "shelf.a.rows"),
  { "what is missing in it is unknown", MORE "graph.result { 'shelf', 'x', says = 's', formula = 'depth + "
    "brackets.gap' }", "room { width = 3ft } shelf 'a' { depth = 3ft }", CAME "local v, why = graph.try(s, 'x') return "
    "tostring(v) .. ' ' .. why.class .. ' ' .. why.path", "nil missing shelf.a.brackets", NULL, 0 },
  { "a name that there is not", MORE "graph.result { 'shelf', 'x', says = 's', formula = 'depht * 2' }", ROOM,
    CAME "return s.x", "has no field or result 'depht'", "D007", 0 },
  { "kinds that do not add up, with the formula", MORE "graph.result { 'shelf', 'x', says = 's', formula = "
    "'depth + boards' }", ROOM, CAME "return s.x", "the formula of shelf.a.x, 'depth + boards': ", "Q003", 0 },
  { "a text that cannot be read", MORE "graph.result { 'shelf', 'x', says = 's', formula = 'depth +' }", ROOM,
    CAME "return s.x", "the formula ends where a value is wanted", "G004", 0 },
  { "of another dimension than it says", MORE "graph.result { 'shelf', 'x', says = 's', dim = 'force', formula = "
    "'depth' }", ROOM, CAME "return s.x", "shelf.a.x should be force", "G002", 0 },
};

/* ---- what rests on memory ---------------------------------------------------------------------------------------- */

/* The dressed sizes of lumber stand from memory, IBC's soils do not; a family of rules of its own. */
#define RULE(id, check) \
  "rule.add { id = '" id "', severity = 'stop', each = 'shelf', says = 's', cite = 'c', caution = 'd', check = " \
  "function(s, job) " check " end } "
#define LUMBER "calc.lumber { section = '6x6', length = s.depth, edition = 'NDS 2018' }"
#define MEMORY(name, rules, want) \
  { name, MORE rules, ROOM, \
    "local out = {} for _, o in ipairs(judge.all { rule.find 'T1', rule.find 'T2' }) do out[#out + 1] = o.rule.id .. " \
    "(#import('model.memo').cites(o.rests) > 0 and ' memory' or ' no') end return table.concat(out, ' ')", want, \
    NULL, 0 }

static const struct job_row memory[] = {
  MEMORY("an inline primitive of a check", RULE("T1", "return rule.at_most(" LUMBER ".breadth, s.depth)")
         RULE("T2", "return rule.at_most(s.depth, job.room.width)"), "T1 memory T2 no"),
  MEMORY("of a result that a check reads", "result('wood', function(s) return " LUMBER ".breadth end) "
         RULE("T1", "return rule.at_most(s.depth, job.room.width)") RULE("T2", "return rule.at_most(s.wood, s.depth)"),
         "T1 no T2 memory"),
  MEMORY("of one that was worked out before, for another rule", "result('wood', function(s) return " LUMBER
         ".breadth end) " RULE("T1", "return rule.at_most(s.wood, s.depth)")
         RULE("T2", "return rule.at_most(s.wood + s.wood, s.depth)"), "T1 memory T2 memory"),
  MEMORY("through results in between", "result('wood', function(s) return " LUMBER ".breadth end) result('more', "
         "function(s) return s.wood + s.depth end) " RULE("T1", "return rule.at_least(s.more, s.depth)")
         RULE("T2", "return rule.at_most(s.depth, job.room.width)"), "T1 memory T2 no"),
  { "more citations than there are bits share the last", MORE, ROOM, "local s = record.root.shelf.a "
    "for i = 1, 61 do resting.cites[i] = 'x' .. i end import('model.memo').engine.rests(0) local _ = " LUMBER
    " local list = "
    "import('model.memo').cites(import('model.memo').rests()) return #resting.cites .. ' ' .. #list .. ' ' .. "
    "list[#list]",
    "62 1 and others", NULL, 0 },
  MEMORY("not of what is read in a standard, or second-hand",
         RULE("T1", "local _ = calc.soil { soil_class = 'clay', edition = 'IBC 2021' }.lateral "
              "return rule.at_most(s.depth, s.depth)")
         RULE("T2", "return rule.at_least(s.diagonal, s.depth)"), "T1 no T2 no"),
};

/* ---- whole jobs -------------------------------------------------------------------------------------------------- */

#define EGG "'examples/egg-farm/job.sline'"
#define TWO "'tests/golden/jobs/two-racks/job.sline'"
#define GOAT "'tests/golden/jobs/goat-shed/job.sline'"
#define JOB_TEST(name, probe, want) \
  { name, NULL, NULL, "local origins = dofile 'tests/origins.lua' " \
    "local function has(text, part) if not text:find(part, 1, true) then error('no \"' .. part .. '\" in:\\n' .. " \
        "text, 0) " \
    "end return true end " probe, want, NULL, 0 }

static const struct job_row whole[] = {
  JOB_TEST("gravel as thick as the post is wide", "local t = origins.explained(" EGG ", "
        "'rack.east.post.F1.concrete', { "
           "['footing.deep.gravel'] = '5.5in' }) has(t, 'b = 5.5 in (breadth of dressed)') "
           "has(t, 'gravel = 5.5 in (footing.deep.gravel)') return tostring(t:find('b = 5.5 in (footing', 1, "
                 "true))", "nil"),
  JOB_TEST("two gaps of 20 mm", "local t = origins.explained(" EGG ", 'rack.east.rise') "
           "has(t, 'gap_n = 0.7874 in (rack.east.column_gap)') has(t, 'gap_m = 0.7874 in (rack.east.row_gap)') "
           "return 'both'", "both"),
  JOB_TEST("two counts of 4", "local t = origins.explained(" EGG ", 'rack.east.rise', { ['rack.east.rows'] = "
        "'4' }) "
           "has(t, 'm = 4 (rack.east.rows)') has(t, 'n = 4 (rack.east.columns)') return 'both'", "both"),
  JOB_TEST("lines of posts at one share", "local t = origins.explained(" TWO ", 'rack.west.post.W2.wind_uplift', {}) "
           "has(t, 'rack.west.post_lines.front = 20 %') has(t, 'rack.west.post_lines.back = 80 %') "
           "return 'both'", "both"),
  JOB_TEST("an inline primitive is a step of its own", "local t = origins.explained(" EGG ", 'rack.east.stack_depth') "
           "has(t, 'worked out in Lua from: rack.east.rails.face, depth of dressed, rack.east.saddle') "
           "has(t, 'worked out by dressed, for the result') has(t, 'section = 2x8 (rack.east.rafter)') "
           "has(t, 'from memory: b, d of PS 20 dressed sizes') "
           "t = origins.explained(" EGG ", 'rack.east.frame_weight') has(t, 'worked out by lumber, for the result') "
           "has(t, 'L = 136.4 in (rack.east.rafter_length)') return 'all'", "all"),
  JOB_TEST("a formula is shown like a step", "local t = origins.explained(" EGG ", 'rack.east.line_spacing') "
           "has(t, 'back_setback = 95.68 in (rack.east.back_setback)') has(t, 'line_spacing = back_setback - "
           "front_setback') has(t, '= 95.68 in - 28.65 in') return 'all'", "all"),
  JOB_TEST("what is only handed on says from where", "return tostring(has(origins.explained(" EGG
           ", \"run['array to shed'].device\"), \"taken from run['array to shed'].least_device\"))", "true"),
  JOB_TEST("the foot of the loads sheet names the lumber", "local feet = origins.foot_text(" EGG ", 'loads') "
           "has(feet, '2x4, 2x8 and 6x6 (PS 20 dressed sizes)') has(feet, 'density of wood (Supplement, 3.1.3)') "
           "return 'all'", "all"),
  JOB_TEST("the feet of the egg farm are whole", "local n, rows = origins.feet(" EGG ") return tostring(n >= 7 "
        "and rows "
           "> 100)", "true"),
  JOB_TEST("of another hole", "local n, rows = origins.feet(" EGG ", { ['footing.deep.hole_diameter'] = '14in', "
           "['run[\\'array to shed\\'].wire'] = '8 AWG' }) return tostring(n >= 7)", "true"),
  JOB_TEST("of two racks", "local n, rows = origins.feet(" TWO ") return tostring(n >= 7 and rows > 100)", "true"),
  JOB_TEST("of a job that lacks much", "local n = origins.feet(" GOAT ") return tostring(n >= 1)", "true"),
  JOB_TEST("formulas as built, and by the evaluator", "return tostring(origins.formulas(" EGG ") >= 10 and "
           "origins.formulas(" TWO ") >= 20)", "true"),
#if !SL_ADDRESS_SANITIZER      /* Lua by itself, and most of this suite's time: gcc's build has them */
  JOB_TEST("any two inputs made equal", "local n, members, f = origins.equal(" EGG ", 7, 12) "
           "return tostring(n == 12 and members > 4000 and f.all > 20)", "true"),
  JOB_TEST("of two racks too", "local n, members, f = origins.equal(" TWO ", 3, 5) "
           "return tostring(n == 5 and members > 3000 and f.all > 10)", "true"),
#endif
  JOB_TEST("what is not run again changes nothing", "local n, members, outputs = origins.spared(" EGG ") "
           "return tostring(n > 80 and members > 400 and outputs > 70)", "true"),
  JOB_TEST("nor where rules are broken", "local n, members, outputs = origins.spared(" TWO ", { ['rack.west.tilt'] = "
           "'60deg' }) return tostring(n > 100 and members > 250 and outputs > 70)", "true"),
  JOB_TEST("a list between two others", "local b = origins.between return table.concat({ "
           "tostring(b({ 'x', 'y' }, { 'x' }, { 'x', 'y', 'z' })), tostring(b({ 'x', 'y' }, { 'x' }, { 'x', 'z' })), "
           "tostring(b({ 'y' }, { 'x', 'y' }, { 'x', 'z' })) }, ' ')", "true false false"),
  /* Counted one by one, the stop rules of this job that hold: R03 R06 R07 R09 R30 R31 R34 R37 R39 R41 R45 R46 R47 R57
   * R72 R73 R74 R75 R82 R83 R85 R88 R90 R92 R93 R96 R97 R98 R99 R102 R104, and the house's H1: 32.  Of these, by the
   * column "basis" of the tables, from memory: the dressed sizes and weights of wood (R31 R34 R74 R82 R83 R85 R90
   * R92 R93 R96 R97 R98 R99 R102 R104), where wind acts on the modules and snow as a mass (the same but R74, and
   * R39). */
  JOB_TEST("the first screen counts what rests on memory apart", "local text, outcomes, json, html, tap = "
           "origins.first_screen(" EGG ") has(text, '16 of 32 stop rules hold only as far as values from memory') "
           "has(text, 'R31 R90 R98 R99 (ASCE 7-16 27.1.5') has(text, 'R85 (ASCE 7-16 27.1.5') "
           "has(html, 'PS 20 dressed sizes') "
           "has(json, '\"hold\": 32') has(json, '\"rule\": \"R34\"') has(tap, '# from memory: PS 20') return "
                 "'all'", "all"),
  JOB_TEST("and says nothing where none does", "local text = origins.first_screen(" GOAT ") "
           "return tostring(text:find('from memory', 1, true))", "nil"),
  /* In holes of 30 in R31, R34, R97 and R98 are broken; the electrician's paper was made for colder air, so R74 is
   * unknown: five fewer, all from memory. */
  JOB_TEST("a broken one is no rule that holds", "local text = origins.first_screen(" EGG ", { "
           "['footing.deep.hole_depth'] = '30in', ['site.hottest_air'] = '37degC' }) "
           "has(text, '11 of 27 stop rules hold only as far') "
           "return text:match 'from memory are%s+right: (%C+)'", "R39 R82 R83 R96 R85 R90 R99 R92 R93 R102 R104"),
};

int main(void) {
  static struct CMUnitTest tests[120];
  size_t n = 0;
  JOB_ROWS(tests, n, whole);
  const int failed = cmocka_run_group_tests_name("origins of jobs", tests, NULL, NULL);
  n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, rows);
  JOB_ROWS(tests, n, memory);
  return failed + cmocka_run_group_tests_name("origins", tests, job_setup, job_teardown);
}
