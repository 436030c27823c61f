/* SPDX-License-Identifier: MIT
 * Rules: what a comparison keeps, the four outcomes, the tightest limit, waivers, flips and remedies. */
#include "job_run.h"

#define ROOM "room { width = 4ft } shelf 'a' { depth = 3ft }\n"
/* Quantities of the host's Lua, and a rule in few words. */
#define Q "local function q(text) return host.literal(text) end " \
          "local function add(id, check, more) local d = { id = id, severity = 'stop', each = 'shelf', says = 's', " \
          "cite = 'c', caution = 'd', check = check } " \
          "for k, v in pairs(more or {}) do d[k] = v end rule.add(d) end " \
          "local function outcomes() local t = {} for _, o in ipairs(judge.all()) do t[#t + 1] = o.rule.id .. ' ' " \
          ".. tostring(o.subject) .. ' ' .. o.outcome " \
          ".. (o.waiver and ' waived' or '') end return table.concat(t, '; ') end "
#define GIVES(name, script, probe, want)        { name, NULL, script, Q probe, want, NULL, 0 }
#define FAILS(name, script, probe, code, part)  { name, NULL, script, Q probe, part, code, 0 }
#define REFUSES(name, script, code, part, line) { name, NULL, script, "judge.all()", part, code, line }
#define OK(f)                                   "return tostring((" f ").ok)"

/* A function that raises a missing fact. */
#define MISSING "local function lost(path) return function() host.raise { code = 'D010', class = 'missing', " \
                "text = path .. ' is not given', path = path } end end "

static const struct job_row comparisons[] = {
  GIVES("at most, below", "", OK("rule.at_most(q '3ft', q '4ft')"), "true"),
  GIVES("at most, equal", "", OK("rule.at_most(q '4ft', q '48in')"), "true"),
  GIVES("at most, a hair above is equal", "", OK("rule.at_most(q '4ft' * (1 + 5e-10), q '4ft')"), "true"),
  GIVES("at most, above", "", OK("rule.at_most(q '4.0001ft', q '4ft')"), "false"),
  GIVES("at least, above", "", OK("rule.at_least(q '5ft', q '4ft')"), "true"),
  GIVES("at least, a hair below is equal", "", OK("rule.at_least(q '4ft' * (1 - 5e-10), q '4ft')"), "true"),
  GIVES("at least, below", "", OK("rule.at_least(q '3.9999ft', q '4ft')"), "false"),
  GIVES("numbers too", "", OK("rule.at_most(0.1 + 0.2, 0.3)"), "true"),
  GIVES("temperatures, as points", "", OK("rule.at_least(q '-10degC', q '0degF')"), "true"),
  GIVES("margin and ratio, at most", "", "local f = rule.at_most(q '3ft', q '4ft') return host.format(f.margin, "
        "'ft') .. ' ' .. f.ratio", "1 ft 0.25"),
  GIVES("margin and ratio, at least", "", "local f = rule.at_least(q '3ft', q '4ft') return host.format(f.margin, "
        "'ft') .. ' ' .. f.ratio", "-1 ft -0.25"),
  GIVES("the tightest of several, at most", "", "local f = rule.at_most(q '3ft', rule.bound(q '5ft', 'county'), "
        "rule.bound(q '4ft', 'house'), rule.bound(q '6ft', 'code')) "
        "return f.whose .. #f.others", "house2"),
  GIVES("the tightest of several, at least", "", "local f = rule.at_least(q '3ft', rule.bound(q '5ft', 'county'), "
        "rule.bound(q '8ft', 'house', 'p. 3')) return f.whose .. f.cite .. tostring(f.ok)",
        "housep. 3false"),
  GIVES("of equal ones the first", "", "return rule.at_most(q '3ft', rule.bound(q '48in', 'county'), rule.bound(q "
        "'4ft', 'house')).whose", "county"),
  GIVES("broken by the tightest alone", "", OK("rule.at_most(q '4.5ft', q '5ft', q '4ft')"), "false"),
  GIVES("between", "", OK("rule.between(q '4ft', q '3ft', q '5ft')"), "true"),
  GIVES("between, too low", "", "local f = rule.between(q '2ft', q '3ft', q '5ft') return tostring(f.ok) .. f.op .. "
        "host.format(f.low) .. host.format(f.high)", "falseat_least3 ft5 ft"),
  GIVES("between, too high", "", "local f = rule.between(q '6ft', q '3ft', q '5ft') return tostring(f.ok) .. f.op",
        "falseat_most"),
  GIVES("between tells the nearer end", "", "return rule.between(q '4.9ft', q '3ft', q '5ft').op", "at_most"),
  GIVES("equal within", "", OK("rule.equal_within(q '4ft', q '4.2ft', q '3in')"), "true"),
  GIVES("not equal within", "", "local f = rule.equal_within(q '4ft', q '4.2ft', q '2in') return tostring(f.ok) .. "
        "host.format(f.want) .. host.format(f.got)", "false4 ft 2-3/8 in4 ft"),
  GIVES("present", "", "local f = rule.present('x', 'the drawing') return tostring(f.ok) .. f.words",
        "truethe drawing is given"),
  GIVES("nothing is not present", "", "local f = rule.present(nil, 'the drawing') return tostring(f.ok) .. f.words",
        "falsethe drawing is not given"),
  GIVES("blanks are not present", "", OK("rule.present('  ')"), "false"),
  GIVES("false is not present", "", OK("rule.present(false)"), "false"),
  GIVES("an empty list is not present", "shelf 'a' { marks = {} }", OK("rule.present(record.root.shelf.a.marks)"),
        "false"),
  GIVES("a list is present", "shelf 'a' { marks = { 1ft } }", OK("rule.present(record.root.shelf.a.marks)"), "true"),
  GIVES("states", "", OK("rule.states(1 > 2, 'w')"), "false"),
  GIVES("a limit may be a function", "", "local f = rule.at_most(q '3ft', function() return rule.bound(q '4ft', "
        "'county') end) return f.whose .. tostring(f.ok) .. tostring(f.unknowns)", "countytruenil"),
  GIVES("one that gives nothing is left out", "", "local f = rule.at_most(q '3ft', function() end, q '4ft') "
        "return host.format(f.limit) .. tostring(f.unknowns)", "4 ftnil"),
  GIVES("an unknown limit beside one that is passed", "", MISSING "local f = rule.at_most(q '5ft', lost 'a', q '4ft') "
        "return tostring(f.ok) .. #f.unknowns", "false1"),
  GIVES("beside one that holds", "", MISSING "local f = rule.at_most(q '3ft', q '4ft', lost 'a') "
        "return tostring(f.ok) .. #f.unknowns", "true1"),
  GIVES("no limit is known", "", MISSING "local f = rule.at_most(q '3ft', lost 'a', lost 'b') "
        "return tostring(f.ok) .. #f.unknowns .. tostring(f.limit)", "true2nil"),
  GIVES("each reason once, in order", "", MISSING "local f = rule.every { rule.at_most(q '3ft', lost 'b', lost 'a'), "
        "lost 'a', rule.states(true, 'w') } local t = {} for i, w in ipairs(f.unknowns) do t[i] = w.path end "
        "return table.concat(t, ' ')", "b a"),
  GIVES("every, with functions", "", "local f = rule.every { function() return rule.at_most(q '5ft', q '4ft') end, "
        "function() end, rule.states(true, 'w') } return tostring(f.ok) .. tostring(f.unknowns)", "falsenil"),
  GIVES("every, of unknown ones alone", "", MISSING "local f = rule.every { lost 'a', lost 'b' } "
        "return tostring(f.ok) .. #f.unknowns", "true2"),
  FAILS("a fault in a function is no missing fact", "", "return rule.every { function() return rule.at_most(q '5ft') "
        "end }", "R001", "at_most needs a value and a limit"),
  GIVES("what a finding is worth", "", "return rule.at_most(1, 2).by .. ' ' .. rule.states(true, 'w').by .. ' ' .. "
        "rule.constructed(rule.at_most(1, 2)).by", "limit statement construction"),
  GIVES("of every, the most", "", "return rule.every { rule.constructed(rule.at_most(1, 2)), rule.states(true, 'w') }"
        ".by .. rule.every { rule.states(true, 'w'), rule.at_most(1, 2) }.by", "statementlimit"),
  GIVES("every: the broken one is told", "", "return rule.every { rule.at_most(q '3ft', q '4ft'), rule.at_most(q "
        "'5ft', q '4ft'), rule.at_most(q '1ft', q '4ft') }.ratio", "-0.25"),
  GIVES("every: the least margin is told", "", "return rule.every { rule.at_most(q '1ft', q '4ft'), rule.at_most(q "
        "'3ft', q '4ft') }.ratio", "0.25"),
  GIVES("every: of two broken the worse", "", "return rule.every { rule.at_most(q '5ft', q '4ft'), rule.at_most(q "
        "'8ft', q '4ft') }.ratio", "-1.0"),
  FAILS("what is no number never passes, at most", "", "return rule.at_most(0 / 0, 5)", "R002",
        "at_most: the value is no number"),
  FAILS("nor at least, of quantities", "", "return rule.at_least(q '5ft', q '5ft' * (0 / 0))", "R002",
        "at_least: the limit is no number"),
  FAILS("nor between", "", "return rule.between(0 / 0, 1, 2)", "R002", "is no number"),
  FAILS("nor the difference of two without end", "", "return rule.equal_within(1 / 0, 1 / 0, 1)", "R002",
        "is no number"),
  FAILS("nor is it broken by what has no end", "", "return rule.at_most(1 / 0, 5)", "R002",
        "at_most: the value is no number"),
  FAILS("of quantities neither", "", "return rule.at_most(q '5ft' * (1 / 0), q '5ft')", "R002",
        "at_most: the value is no number"),
  FAILS("present: what is no number is not given", "", "return rule.present(0 / 0, 'the height')", "R002",
        "present: the height is no number: was something divided by 0?"),
  FAILS("present, without words", "", "return rule.present(q '5ft' / 0)", "R002", "present: it is no number"),
  FAILS("two kinds that should be equal", "", "return rule.equal_within('a', 'b', 1)", "R002",
        "equal_within: cannot compare the text \"a\" with the text \"b\""),
  FAILS("a bound of nothing", "", "return import('model.compare').words.bound()", "R001",
        "bound needs an amount, got nothing"),
  FAILS("a bound of a table", "", "return import('model.compare').words.bound(5, {})", "R001",
        "whose it is is a text, got a table"),
  FAILS("states without words", "", "return rule.states(true)", "R001", "states needs the words for it"),
  FAILS("two kinds", "", "return rule.at_most(q '3ft', q '4lbf')", "R002",
        "at_most: cannot compare 3 ft (length) with 4 lbf (force)"),
  FAILS("a length with a number", "", "return rule.at_most(q '3ft', 4)", "R002", "cannot compare 3 ft (length) with 4"),
  FAILS("a point with a difference", "", "return rule.at_most(q '3degC', q '4K')", "R002", "cannot compare"),
  FAILS("a second limit of another kind", "", "return rule.at_most(q '3ft', q '4ft', q '4lb')", "R002",
        "cannot compare"),
  FAILS("no limit", "", "return rule.at_least(q '3ft')", "R001", "at_least needs a value and a limit"),
  FAILS("no value", "", "return rule.at_least(nil, q '3ft')", "R001", "at_least needs a value and a limit"),
  FAILS("every of nothing", "", "return rule.every {}", "R001", "every needs a list of comparisons"),
};

/* On each bolt of each peg of each shelf: tests/shelf.lua. */
#define PEGS "shelf 'a' { marks = { 1ft } } "
#define BOLTS "add('R1', function(b) return rule.at_most(b.torque, q '1.5ft') end, { each = 'bolt', may_waive = " \
              "'house', flips = function(b) return tostring(b) .. '.torque' end }) "
static const struct job_row judging[] = {
  GIVES("holds, broken, unknown, not applicable", ROOM,
        "add('R1', function(s) return rule.at_most(s.depth, q '4ft') end) add('R2', function(s) return "
              "rule.at_most(s.depth, q '2ft') end) "
        "add('R3', function(s) return rule.at_most(s.brackets.gap, q '2ft') end) add('R4', function() end, { "
              "applies = function() return false end }) return outcomes()",
        "R1 shelf.a holds; R2 shelf.a broken; R3 shelf.a unknown; R4 shelf.a not applicable"),
  GIVES("broken beats unknown", ROOM, MISSING "add('R1', function(s) return rule.at_most(s.depth, lost 'a', q '2ft') "
        "end) local o = judge.all()[1] return o.outcome .. #o.whys .. tostring(o.why)", "broken1nil"),
  GIVES("unknown beats holds", ROOM, MISSING "add('R1', function(s) return rule.every { lost 'a', "
        "rule.at_most(s.depth, q '4ft'), lost 'b' } end) local o = judge.all()[1] "
        "return o.outcome .. #o.whys .. o.why.path .. tostring(o.finding)", "unknown2anil"),
  GIVES("a script's functions", ROOM "rule { id = 'J1', each = 'shelf', severity = 'note', says = 's', cite = 'c', "
        "caution = 'd', check = function(s) return every { function() return at_most(s.depth, 2ft) end, "
        "function() return at_most(s.depth, function() return 4ft end) end } end }",
        "local o = judge.all()[1] return o.outcome .. host.format(o.finding.limit)", "broken2 ft"),
  GIVES("no subject at all", ROOM, "add('R1', function() return rule.states(true, 'w') end, { each = 'hook' }) "
        "return outcomes()", "R1 nil not applicable"),
  GIVES("the job is the subject where none is named", ROOM,
        "rule.add { id = 'R1', severity = 'stop', says = 's', cite = 'c', caution = 'd', check = function(j) return "
        "rule.states(j.stage == 'permit', 'w') end } return outcomes()",
        "R1 job holds"),
  GIVES("each subject on its own", ROOM "shelf 'b' { depth = 1ft }",
        "add('R1', function(s) return rule.at_most(s.depth, q '2ft') end) return outcomes()",
        "R1 shelf.a broken; R1 shelf.b holds"),
  GIVES("derived subjects", "shelf 'a' { marks = { 1ft, 3ft } }",
        "add('R1', function(p) return rule.at_most(p.place, q '2ft') end, { each = 'peg' }) return outcomes()",
        "R1 shelf.a.peg.P1 holds; R1 shelf.a.peg.P2 broken"),
  GIVES("subjects two levels down", PEGS, BOLTS "return outcomes()", "R1 shelf.a.peg.P1.bolt['1'] holds; "
        "R1 shelf.a.peg.P1.bolt['2'] broken"),
  GIVES("a stop rule of a script on them that can never hold", PEGS "rule { id = 'J1', severity = 'stop', each = "
        "'bolt', says = 's', cite = 'c', caution = 'd', check = function(b) return at_most(b.torque, 0ft) end }",
        "return outcomes()", "J1 shelf.a.peg.P1.bolt['1'] broken; J1 shelf.a.peg.P1.bolt['2'] broken"),
  GIVES("one of them is waived, whatever the quotes of its path", PEGS "waive { 'R1', subject = 'shelf.a.peg.P1.bolt"
        "[\"2\"]', reason = 'r', by = 'n', as = 'house', on = '2026-11-01' }", BOLTS "return outcomes()",
        "R1 shelf.a.peg.P1.bolt['1'] holds; R1 shelf.a.peg.P1.bolt['2'] broken waived"),
  GIVES("and flips", PEGS, BOLTS "local o = judge.all()[2] local f = whatif.flip(o.rule, o.proxy) return f.path .. ' ' "
        ".. host.format(f.value, 'ft', 6)", "shelf.a.peg.P1.bolt['2'].torque 1 ft 6 in"),
  GIVES("subjects that cannot be derived are unknown, not absent", ROOM, BOLTS "local o = judge.all()[1] return "
        "o.outcome .. ' ' .. o.why.path", "unknown shelf.a.marks"),
  GIVES("and do not pass", ROOM, BOLTS "return whatif.passes({}, { 'R1' })", "false"),
  GIVES("by number, then the house's", ROOM "for _, id in ipairs { 'H2', 'J1', 'H1' } do rule { id = id, severity = "
        "'note', says = 's', cite = 'c', caution = 'd', check = function() return states(true, 'w') end } end",
        "for _, id in ipairs { 'R10', 'R2', 'R1' } do add(id, function() return rule.states(true, 'w') end) end "
              "local t = {} for _, o in ipairs(judge.all()) do t[#t + 1] = o.rule.id end return table.concat(t, ' ')",
        "R1 R2 R10 H1 H2 J1"),
  GIVES("an unknown keeps its reason", ROOM, "add('R1', function(s) return rule.at_most(s.brackets.gap, q '2ft') "
        "end) local o = judge.all()[1] return o.why.path .. tostring(o.finding)", "shelf.a.bracketsnil"),
  GIVES("unknown applicability is unknown", ROOM, "add('R1', function() return rule.states(true, 'w') end, { "
        "applies = function(s) return s.brackets.gap > q '1ft' end }) return outcomes()", "R1 shelf.a unknown"),
  GIVES("an unknown input spoils every, though the rest holds", ROOM,
        "add('R1', function(s) return rule.every { rule.at_most(s.depth, q '4ft'), rule.at_most(s.brackets.gap, q "
              "'2ft') } end) return outcomes()", "R1 shelf.a unknown"),
  GIVES("a primitive out of its range leaves the rule unknown", ROOM,
        "function calc.diagonal() host.raise { code = 'C005', class = 'range', text = 'far' } end add('R1', "
              "function(s) return rule.at_most(s.diagonal, q '9ft') end) return outcomes()", "R1 shelf.a unknown"),
  GIVES("the finding is kept", ROOM, "add('R1', function(s) return rule.at_most(s.depth, rule.bound(q '2ft', "
        "'house', 'p. 3')) end) local f = judge.all()[1].finding return host.format(f.value) .. "
        "host.format(f.limit) .. f.whose .. f.cite",
        "3 ft2 fthousep. 3"),
  GIVES("passes: not broken, not unknown", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') end) "
        "return tostring(whatif.passes({}, { 'R1' })) .. tostring(whatif.passes({ ['shelf.a.depth'] = q '1ft' "
        "}, { 'R1' "
              "}))", "falsetrue"),
  GIVES("an unknown does not pass", ROOM, "add('R1', function(s) return rule.at_most(s.brackets.gap, q '2ft') end) "
        "return tostring(whatif.passes({}, { 'R1' }))", "false"),
  FAILS("a check that gives something else", ROOM, "add('R1', function() return true end) judge.all()", "R005",
        "rule R1: check gave true instead of a comparison"),
  FAILS("a mistake in a check is no outcome", ROOM, "add('R1', function(s) return rule.at_most(s.depth + 1, q "
        "'2ft') end) judge.all()", "Q003", "cannot add"),
  FAILS("the same id twice", ROOM, "add('R1', print) add('R1', print)", "R003", "rule R1 is declared twice"),
  REFUSES("a script's check that gives nothing", ROOM "rule { id = 'J1', severity = 'stop', says = 's', cite = 'c', "
        "caution = 'd',\n check = function() end }", "R005", "check gave nothing instead of a comparison", 2),
  REFUSES("a script's check with a mistake", ROOM "rule { id = 'J1', severity = 'stop', each = 'shelf', says = 's', "
        "cite = 'c', caution = 'd', check = function(s)\n  return at_most(s.depth + 1, 2ft) end }", "Q003",
        "cannot add", 3),
  REFUSES("a rule for each of nothing", "\nrule { id = 'J1', severity = 'stop', each = 'shelv', says = 's', cite = "
        "'c', caution = 'd', check = function() end }", "R007", "each names no kind of declaration: 'shelv'", 2),
  REFUSES("a rule without its caution", "\nrule { id = 'J1', severity = 'stop', says = 's', cite = 'c', check = "
        "function() end }", "D002", "rule J1: 'caution' is missing", 2),
  REFUSES("two rules of one id", "rule { id = 'J1', severity = 'stop', says = 's', cite = 'c', caution = 'd', check "
        "= function() end }\nrule { id = 'J1', severity = 'stop', says = 's', cite = 'c', caution = 'd', check = "
        "function() end }",
          "R003", "rule J1 is declared twice", 2),
};

/* A rule of the script's on the job, its check in one line. */
#define J(check) "rule { id = 'J1', severity = 'stop', says = 's', cite = 'c', caution = 'd', check = function(job)\n" \
                 check " end }"
static const struct job_row hands[] = {
  REFUSES("a comparison made by hand", J("return { ok = true }"), "R005", "gave a table instead of a comparison", 0),
  REFUSES("or by hand, out of a metatable", J("return setmetatable({}, { __index = function() return true end })"),
        "R005", "gave a table instead of a comparison", 0),
  REFUSES("a limit for a comparison", J("return bound(5ft)"), "R005", "gave a limit instead of a comparison", 0),
  REFUSES("a comparison changed", J("local f = at_most(2, 1) f.ok = true return f"), "D008",
        "a comparison cannot be changed", 2),
  REFUSES("a limit changed", J("local l = bound(5ft) l.value = 9ft"), "D008", "a limit cannot be changed", 2),
  REFUSES("every with a hole", J("return every { at_most(1, 2), nil, at_most(3, 2) }"), "R001",
        "every needs comparisons; item 2 is nothing", 1),
  REFUSES("every of numbers", J("return every { 1 }"), "R001", "item 1 is 1 (a bare number)", 1),
  REFUSES("a limit among comparisons", J("return every { bound(5ft) }"), "R001", "item 1 is a limit", 1),
  REFUSES("something declared while judging", J("shelf 'late' { depth = 1ft }"), "E002",
        "shelf declares something, but the script is over", 2),
  REFUSES("through a head that was kept", "local late = shelf 'a' late { depth = 1ft }\n" J("late { depth = 2ft }"),
        "E002", "the script is over", 3),
  REFUSES("a rule set aside while judging",
        J("waive { 'J1', reason = 'r', by = 'n', as = 'house', on = '2026-11-01' }"),
        "E002", "waive declares something", 2),
  REFUSES("limits while judging", J("limits { height = { 9ft, cite = 'c' } }"), "E002", "limits declares something", 2),
  REFUSES("a file while judging", J("house 'other'"), "E002", "house declares something", 2),
  REFUSES("a rule for each of what is no record", "\nrule { id = 'J1', severity = 'stop', each = 'limits', says = 's', "
        "cite = 'c', caution = 'd', check = function() end }", "R007", "names no kind of declaration: 'limits'", 2),
  REFUSES("a flip that is no amount", ROOM "\nrule { id = 'J1', severity = 'stop', each = 'shelf', says = 's', cite = "
        "'c', caution = 'd', flips = 'shelf.a.label', check = function(s) return at_most(s.depth, 1ft) end }", "D019",
        "flips names no amount that is declared: shelf.a.label", 3),
  REFUSES("a flip that is a result", ROOM "\nrule { id = 'J1', severity = 'stop', each = 'shelf', says = 's', cite = "
        "'c', caution = 'd', flips = 'shelf.a.area', check = function(s) return at_most(s.depth, 1ft) end }", "D019",
        "flips names no amount that is declared: shelf.a.area", 3),
  GIVES("a comparison is read", J("local f = at_most(3ft, bound(2ft, 'house')) print(tostring(f.ok) .. f.whose .. "
        "tostring(f.others)) return f"), "judge.all() return out[1]", "falsehousenil"),
  GIVES("every of every", J("return every { every { at_most(1, 2) }, every { at_most(3, 2) } }"),
        "return judge.all()[1].outcome", "broken"),
  GIVES("a caught reason is a copy", ROOM J("local _, e = pcall(function() return job.shelf.a.needs end) e.class = nil "
        "e.text = {} return states(true, 'w')"),
        "judge.all() local _, why = graph.try(record.root.shelf.a, 'needs') return why.class .. ' ' .. why.text",
        "missing shelf.a.brackets is not given: what holds it"),
  GIVES("raised again with nonsense in it, it is clean", ROOM J("local _, e = pcall(function() return "
        "job.shelf.a.needs end) e.text, e.path, e.who, e.labels = {}, {}, print, { 1, 2 } error(e)"),
        "local o = judge.all()[1] return o.outcome .. tostring(o.why.text) .. tostring(o.why.path) .. "
        "tostring(o.why.who) .. #o.why.labels", "unknownnilnilnil0"),
};

/* What is no number is unknown in a rule, whichever comparison it comes to: never a pass.  None of these is decided by
 * arithmetic: 0/0 is neither below nor above anything, and 1/0 is no amount that anybody has. */
#define UNKNOWN(name, check) \
  GIVES(name, ROOM J("return " check), "local o = judge.all()[1] return o.outcome .. ' ' .. o.why.class", \
        "unknown range")
static const struct job_row no_numbers[] = {
  UNKNOWN("the greater of 1 and none", "at_most(max(1, 0/0), 2)"),
  UNKNOWN("the lesser of none and 1", "at_least(min(0/0, 1), 0)"),
  UNKNOWN("by Lua's name for it", "at_most(math.max(1, 0/0), 2)"),
  UNKNOWN("the lesser, by Lua's name for it", "at_least(math.min(1, 0/0), 0)"),
  UNKNOWN("a step of none", "at_most(floor(0/0), 2)"),
  UNKNOWN("a root of none", "at_most(sqrt(0/0), 2)"),
  UNKNOWN("an arc of none", "at_most(asin(0/0), 2deg)"),
  UNKNOWN("a value", "at_most(0/0, 2)"),
  UNKNOWN("a length", "at_least(3ft * (0/0), 2ft)"),
  UNKNOWN("a value without end is at least anything", "at_least(1/0, 2)"),
  UNKNOWN("a length without end", "at_least(3ft / 0, 2ft)"),
  UNKNOWN("a value without end below", "at_most(-1/0, 2)"),
  UNKNOWN("a limit without end", "at_most(5, 1/0)"),
  UNKNOWN("a limit without end below", "at_least(5, -1/0)"),
  UNKNOWN("a bound without end", "at_most(5ft, bound(5ft / 0, 'house'))"),
  UNKNOWN("a second limit that is none", "at_most(5, 9, 0/0)"),
  UNKNOWN("a second limit without end", "at_most(5, 9, 1/0)"),
  UNKNOWN("two numbers too far apart", "at_most(-1.5e308, 1.5e308)"),
  UNKNOWN("between, the value", "between(0/0, 1, 2)"),
  UNKNOWN("between, the value without end", "between(1/0, 1, 2)"),
  UNKNOWN("between, the lower", "between(1.5, 0/0, 2)"),
  UNKNOWN("between, no lower", "between(1.5, -1/0, 2)"),
  UNKNOWN("between, the upper", "between(1.5, 1, 0/0)"),
  UNKNOWN("between, no upper", "between(1.5ft, 1ft, 1ft / 0)"),
  UNKNOWN("equal, the value", "equal_within(0/0, 1, 2)"),
  UNKNOWN("equal, what it should be", "equal_within(1, 0/0, 2)"),
  UNKNOWN("equal, any tolerance", "equal_within(1, 500, 1/0)"),
  UNKNOWN("equal, no tolerance", "equal_within(1ft, 1ft, 1ft * (0/0))"),
  UNKNOWN("present", "present(0/0)"),
  UNKNOWN("present, a length", "present(3ft * (0/0), 'the height')"),
  UNKNOWN("present, without end", "present(3ft / 0)"),
  UNKNOWN("every, one of them", "every { at_most(1, 2), at_most(0/0, 2), at_most(1, 2) }"),
  UNKNOWN("every, the last", "every { at_most(1, 2), present(0/0) }"),
  UNKNOWN("every, beside a broken one", "every { at_most(3, 2), at_most(5, 1/0) }"),
  GIVES("a ratio that overflows is left out, the verdict is not", ROOM J("return at_most(1, 5e-324)"),
        "local o = judge.all()[1] return o.outcome .. ' ' .. tostring(o.finding.ratio)", "broken nil"),
  /* in plain code there is no rule to leave unknown: the line is told */
  REFUSES("in plain code the comparison is told", "\nlocal x = at_most(0/0, 2)", "R002",
        "at_most: the value is no number: was something divided by 0?", 2),
  REFUSES("and so is the greatest", "\nlocal x = max(1ft, 3ft * (0/0))", "Q009", "max: value 2 is no number", 2),
};

#define WAIVE(what) ROOM "shelf 'b' { depth = 3ft }\nwaive { " what ", reason = 'r', by = 'n', on = '2026-11-01' }\n"
#define R1(who) "add('R1', function(s) return rule.at_most(s.depth, q '2ft') end, { may_waive = '" who "' }) "
static const struct job_row waivers[] = {
  GIVES("set aside", WAIVE("'R1', as = 'house'"), R1("house") "return outcomes()",
        "R1 shelf.a broken waived; R1 shelf.b broken waived"),
  GIVES("for one subject alone", WAIVE("'R1', as = 'house', subject = 'shelf.b'"), R1("house") "return outcomes()",
        "R1 shelf.a broken; R1 shelf.b broken waived"),
  GIVES("an unknown may be set aside too", WAIVE("'R1', as = 'house'"),
        "add('R1', function(s) return rule.at_most(s.brackets.gap, q '2ft') end, { may_waive = 'house', severity = "
        "'caution' }) return outcomes()",
        "R1 shelf.a unknown waived; R1 shelf.b unknown waived"),
  GIVES("but none of a stop rule", WAIVE("'R1', as = 'house'"),
        "add('R1', function(s) return rule.at_most(s.brackets.gap, q '2ft') end, { may_waive = 'house' }) return "
        "outcomes() .. judge.all()[1].refused.by", "R1 shelf.a unknown; R1 shelf.b unknownn"),
  GIVES("nor what is broken while something of it is unknown", WAIVE("'R1', as = 'house'"), MISSING
        "add('R1', function(s) return rule.at_most(s.depth, lost 'a', q '2ft') end, { may_waive = 'house' }) return "
        "outcomes()", "R1 shelf.a broken; R1 shelf.b broken"),
  GIVES("what holds is not waived", WAIVE("'R1', as = 'house'"),
        "add('R1', function(s) return rule.at_most(s.depth, q '4ft') end, { may_waive = 'house' }) return "
        "outcomes()", "R1 shelf.a holds; R1 shelf.b holds"),
  GIVES("with its reason, name and day", WAIVE("'R1', as = 'house'"),
        R1("house") "local w = judge.all()[1].waiver return w.reason .. w.by .. w.on", "rn2026-11-01"),
  FAILS("nobody may", WAIVE("'R1', as = 'house'"), R1("nobody") "judge.all()", "R006",
        "rule R1 may be waived by nobody"),
  FAILS("nobody may where it does not say", WAIVE("'R1', as = 'house'"),
        "add('R1', function(s) return rule.at_most(s.depth, q '2ft') end) judge.all()", "R006",
        "rule R1 may be waived by nobody"),
  FAILS("somebody else may", WAIVE("'R1', as = 'house'"), R1("engineer") "judge.all()", "R006",
        "rule R1 may be waived by the engineer, not by the house"),
  REFUSES("a rule that is none", WAIVE("'R9', as = 'house'"), "R006", "waive: there is no rule R9", 3),
  REFUSES("no rule named", WAIVE("as = 'house'"), "D002", "waive names no rule", 3),
  REFUSES("no reason", "\nwaive { 'R1', by = 'n', as = 'house', on = '2026-11-01' }", "D002", "'reason' is missing", 2),
  REFUSES("no such day", "\nwaive { 'R1', reason = 'r', by = 'n', as = 'house', on = '2026-02-29' }", "D003",
        "'on' needs a date", 2),
};

#define PLACE "local p = { source = 0, line = 0, col = 0, len = 0 } "
#define LIMIT(role, whose, value) "import('model.in_force').add { name = 'height', value = q '" value "', role = " \
    "'" role "', whose = '" whose "', file = '" whose "', cite = 'c', place = p } "
static const struct job_row limits[] = {
  GIVES("one of the place, one of the house: the tighter", "", PLACE LIMIT("place", "county", "20ft") LIMIT("house",
        "ours", "15ft") "return rule.at_most(q '16ft', rule.limit 'height').whose", "ours"),
  GIVES("whichever order", "", PLACE LIMIT("house", "ours", "15ft") LIMIT("place", "county",
        "20ft") "return rule.at_most(q '16ft', rule.limit 'height').whose", "ours"),
  GIVES("two places that agree", "", PLACE LIMIT("place", "county", "20ft") LIMIT("place", "town",
        "240in") "return rule.at_most(q '16ft', rule.limit 'height').whose", "county"),
  GIVES("two places that do not: the tighter, and whose the other is", "", PLACE LIMIT("place", "county", "20ft")
        LIMIT("place", "town", "19ft") "local f = rule.at_most(q '16ft', rule.limit 'height') "
        "return f.whose .. ' ' .. f.others[1].whose", "town county"),
  FAILS("one place that gives two", "", PLACE LIMIT("place", "county", "20ft") LIMIT("place", "county", "19ft"), "R004",
        "county gives height twice: 19 ft here, 20 ft before"),
  FAILS("two house files that do not", "", PLACE LIMIT("house", "a", "20ft") LIMIT("house", "b", "19ft"), "R004",
        "two house files disagree on height"),
  FAILS("what a script is given of a limit cannot be changed", "", PLACE LIMIT("place", "county",
        "20ft") "local l = rule.limit 'height' l.value = q '900ft'", "D008", "a limit cannot be changed"),
  GIVES("nor can it be mistaken for another", "", PLACE LIMIT("place", "county", "20ft") "return "
        "tostring(rule.limit('height') == rule.limit('height')) .. host.format(rule.limit('height').value)",
        "true20 ft"),
  FAILS("a limit that nobody gave", "", "return rule.limit 'height'", "D010",
        "no limit 'height' is given by place or house"),
  GIVES("a rule on it is unknown then", ROOM, "add('R1', function(s) return rule.at_most(s.depth, rule.limit "
        "'height') end) return outcomes()", "R1 shelf.a unknown"),
  GIVES("one of the job itself, the tighter", "limits { height = { 12ft, cite = 'c' } }", PLACE LIMIT("place", "county",
        "20ft") "return rule.at_most(q '16ft', rule.limit 'height').whose", "this job"),
};

static const struct job_row flips[] = {
  FAILS("of what no designer can change", ROOM, "schema.kinds.shelf.by.depth.design = false "
        "add('R1', function(s) return rule.at_most(s.depth, q '5ft') end, { flips = 'shelf.a.depth' }) "
        "whatif.flip(rule.find 'R1', record.root.shelf.a)", "G004", "which no designer can change"),

  GIVES("where a broken rule begins to hold", ROOM, "add('R1', function(s) return rule.at_most(s.depth * 2, q "
        "'5ft') end, { flips = 'shelf.a.depth' }) "
        "local f = whatif.flip(rule.find 'R1', record.root.shelf.a) return f.path .. ' ' .. "
        "host.format(f.value, 'ft', 6)",
              "shelf.a.depth 2 ft 6 in"),
  GIVES("where one that holds breaks", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '5ft') end, { "
        "flips = function(s) return tostring(s) .. '.depth' end }) "
        "return host.format(whatif.flip(rule.find 'R1', record.root.shelf.a).value, 'ft', 6)", "5 ft"),
  /* 3 ft x 2.667 ft */
  GIVES("through a result", ROOM, "add('R1', function(s) return rule.at_most(s.area, q '8ft2') end, { flips = "
        "'room.width' }) "
        "return host.format(whatif.flip(rule.find 'R1', record.root.shelf.a).value, 'ft', 6, true)", "2.66667 ft"),
  GIVES("of a temperature", "room { width = 4ft, warm = 20degC } shelf 'a' {}",
        "add('R1', function(_, job) return rule.at_least(job.room.warm, q '-3.4degC') end, { flips = 'room.warm' }) "
        "return host.format(whatif.flip(rule.find 'R1', record.root.shelf.a).value, 'degC', 6)", "-3.4 degC"),
  GIVES("none where the input does not matter", ROOM, "add('R1', function() return rule.at_most(q '3ft', q '2ft') "
        "end, { flips = 'shelf.a.depth' }) return tostring(whatif.flip(rule.find 'R1', record.root.shelf.a))", "nil"),
  GIVES("none where it is not given", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') end, { "
        "flips = 'room.warm' }) return tostring(whatif.flip(rule.find 'R1', record.root.shelf.a))", "nil"),
  GIVES("the only one's name may be left out", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') "
        "end, { flips = 'job.shelf.depth' }) local f = whatif.flip(rule.find 'R1', record.root.shelf.a) return "
        "f.path .. ' ' "
        ".. host.format(f.value)", "shelf.a.depth 2 ft"),
  GIVES("none in a kind that nobody declared", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') "
        "end, { flips = 'hook.at' }) return tostring(whatif.flip(rule.find 'R1', record.root.shelf.a))", "nil"),
  GIVES("a value that a calculation refuses does not pass", ROOM, "add('R1', function(s) return "
        "rule.at_most(s.diagonal, q '9ft') end) return tostring(whatif.passes({ ['shelf.a.depth'] = q '1ft' * -1 }, { "
        "'R1' }))", "false"),
  GIVES("a corner that a calculation refuses is unknown, and the run goes on",
        "room { width = 4ft } shelf 'a' { depth = 1ft, brackets = { gap = 1ft+-3ft } }",
        "add('R1', function(s) return rule.at_most(calc.diagonal { along = s.brackets.gap, "
        "across = s.depth }.diagonal, q '9ft') end) local found = whatif.corners(judge.all()) "
        "return #found .. ' ' .. found[1].broken[1].outcome",
        "1 unknown"),
  GIVES("a corner at which a rule does not apply breaks nothing",
        "room { width = 4ft } shelf 'a' { depth = 1ft+-3in }",
        "add('R1', function(s) return rule.at_most(s.depth, q '9ft') end, { applies = function(s) return s.depth >= "
        "q '1ft' end }) return #whatif.corners(judge.all())", "0"),
  GIVES("the input is as it was afterwards", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') "
        "end, { flips = 'shelf.a.depth' }) whatif.flip(rule.find 'R1', record.root.shelf.a) return "
        "host.format(record.root.shelf.a.depth)", "3 ft"),
  GIVES("a remedy: both, once", ROOM, "asked = 0 add('R1', function(s) return rule.at_most(s.depth, q '2ft') end, { "
        "flips = 'shelf.a.depth', nearest = function(s, job, passes) asked = asked + 1 "
        "return passes({ ['shelf.a.depth'] = q '2ft' }, { 'R1' }) and '2 ft' end }) local o = judge.all()[1] "
              "whatif.remedy(o) whatif.remedy(o) return o.nearest .. ' ' .. host.format(o.flip.value) .. ' ' .. asked",
              "2 ft 2 ft 1"),
  GIVES("a suggestion names what is broken with it", ROOM "shelf 'b' { depth = 1ft }", "add('R1', function(s) return "
        "rule.at_most(s.depth, q '2ft') end, { nearest = function(s) return { { changes = { ['shelf.a.depth'] = q "
        "'1ft' }, words = 'one foot' }, { changes = { ['shelf.a.depth'] = q '2ft' }, words = 'two feet' } } end }) "
        "add('R2', function(s) return rule.at_least(s.depth, q '1.5ft') end) "
        "add('R3', function(_, job) return rule.equal_within(job.shelf.a.depth, q '3ft', q '6in') end, "
        "{ each = 'room' }) whatif.remedy(judge.all()[1]) local o = judge.all()[1] whatif.remedy(o) return o.nearest",
        "one foot, but then R2 and R3 are broken; two feet, but then R3 is broken"),
  GIVES("those that break nothing stand first", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') "
        "end, { nearest = function(s) return { { changes = { ['shelf.a.depth'] = q '1ft' }, words = 'one foot' }, "
        "{ changes = { ['shelf.a.depth'] = q '2ft' }, words = 'two feet' } } end }) "
        "add('R2', function(s) return rule.at_least(s.depth, q '1.5ft') end) local o = judge.all()[1] whatif.remedy(o) "
        "return o.nearest", "two feet; one foot, but then R2 is broken"),
  GIVES("what is broken already, and not touched, is not named", ROOM "shelf 'b' { depth = 1ft }", "add('R1', "
        "function(s) return rule.at_most(s.depth, q '2ft') end, { nearest = function(s) return { { changes = { "
        "['shelf.a.depth'] = q '2ft' }, words = 'two feet' } } end }) "
        "add('R2', function(s) return rule.at_least(s.depth, q '1.5ft') end) local o = judge.all()[1] whatif.remedy(o) "
        "return o.nearest", "two feet"),
  GIVES("a remedy that is unknown is left out", ROOM, "add('R1', function(s) return rule.at_most(s.depth, q '2ft') "
        "end, { nearest = function(s) return s.brackets.size end }) "
        "local o = judge.all()[1] whatif.remedy(o) return tostring(o.nearest)", "nil"),
};

int main(void) {
  static struct CMUnitTest tests[256];
  size_t n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, comparisons);
  JOB_ROWS(tests, n, judging);
  JOB_ROWS(tests, n, hands);
  JOB_ROWS(tests, n, no_numbers);
  JOB_ROWS(tests, n, waivers);
  JOB_ROWS(tests, n, limits);
  JOB_ROWS(tests, n, flips);
  return _cmocka_run_group_tests("rule", tests, n, job_setup, job_teardown);
}
