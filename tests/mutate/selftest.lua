#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Looks at the program that plants faults: that it finds the faults of small files, which were counted by hand, that
-- each of a few ends as it must in a tree of its own, and that the draw from the real sources is whole.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local common = require "common"
local calc = require "calc"
local draw = require "draw"
local plan = require "plan"
local report = require "report"
local stdlib = require "stdlib"
local tables = require "tables"
local trial = require "trial"

local FIXTURE = "tests/mutate/fixture/"
local passed, failed = 0, 0
local function check(what, good, told)
  if good then passed = passed + 1
  else
    failed = failed + 1
    print("not ok " .. what)
    if told then print("    " .. tostring(told):gsub("\n", "\n    ")) end
  end
end

-- ---- finding -------------------------------------------------------------------------------------------------------

local texts = {}
local function faults(path, find, names)
  texts[path] = common.read(FIXTURE .. path)
  local list = find(path, texts[path], names)
  for _, fault in ipairs(list) do fault.before, fault.after = common.diff(texts[path], fault) end
  return list
end

-- The faults of a group as lines "kind: after".
local function shown(list, group)
  local lines = {}
  for _, fault in ipairs(list) do
    if fault.group == group then lines[#lines + 1] = fault.kind .. ": " .. fault.after end
  end
  table.sort(lines)
  return table.concat(lines, "\n")
end

local function same(what, got, want)
  local lines = {}
  for line in want:gmatch "[^\n]+" do lines[#lines + 1] = line:match "^%s*(.*)$" end
  table.sort(lines)
  local text = table.concat(lines, "\n")
  check(what, got == text, "wanted\n" .. text .. "\ngot\n" .. got)
end

local cells = faults("interp/data/weights.csv", tables.faults)
same("the faults of a table", shown(cells, "table weights"), [[
  digit: 1,79.2,READ,a page
  digit: 1,80.8,READ,a page
  digit: 0,80.0,READ,a page
  digit: 2,80.0,READ,a page
  digit: 2,153.9,READ,a page
  digit: 2,157.1,READ,a page
  digit: 1,155.5,READ,a page
  digit: 3,155.5,READ,a page
  exchanged: 155.5,2,READ,a page
  exchanged: 80.0,1,READ,a page
  known: 1,80.0,MEMORY,a page
  known: 2,155.5,MEMORY,a page
  neighbour: 1,155.5,READ,a page
  neighbour: 1,155.5,READ,a page
  neighbour: 2,80.0,READ,a page
  neighbour: 2,80.0,READ,a page
  row: 
  row: ]])

local formulas = faults("interp/calc/load.c", calc.faults)
same("the faults of a function", shown(formulas, "function unasked of load.c"), [[
  constant: static int unasked(int a) { return a * 4; }
  factor: static int unasked(int a) { return a; }
  operator: static int unasked(int a) { return a / 3; }]])
same("the faults of a STEP: an operator, a factor, a constant; no symbol before its own step",
     shown(formulas, "function sl_load of load.c"), [[
  turned: if (rows[i].people != people) weight = rows[i].weight;
  swapped: if (rows[i].weight == people) weight = rows[i].weight;
  swapped: if (rows[i].people == people) weight = rows[i].people;
  constant: double weight = 1;
  operator: STEP(sh, SL_MASS, both, weight - extra, "");
  term: STEP(sh, SL_MASS, both, weight, "");
  constant: STEP(sh, SL_MASS, twice, 3 * both, "");
  operator: STEP(sh, SL_MASS, twice, 2 / both, "");
  factor: STEP(sh, SL_MASS, twice, 2, "");
  swapped: return both;]])

local names = stdlib.names { FIXTURE .. "stdlib/barn/schema.lua", FIXTURE .. "stdlib/barn/results.lua" }
same("the faults of a result", shown(faults("stdlib/barn/results.lua", stdlib.faults, names), "result barn.rim"), [[
  constant: result { "barn", "rim", dim = "length", formula = "3 * (length + width)" }
  operator: result { "barn", "rim", dim = "length", formula = "2 / (length + width)" }
  factor: result { "barn", "rim", dim = "length", formula = "2" }
  operator: result { "barn", "rim", dim = "length", formula = "2 * (length - width)" }
  term: result { "barn", "rim", dim = "length", formula = "2 * (length)" }
  swapped: result { "barn", "rim", dim = "length", formula = "2 * (width + width)" }
  swapped: result { "barn", "rim", dim = "length", formula = "2 * (width + width)" }
  swapped: result { "barn", "rim", dim = "length", formula = "2 * (length + length)" }
  swapped: result { "barn", "rim", dim = "length", formula = "2 * (length + length)" }
  swapped: result { "barn", "rim", dim = "length", formula = "2 * (length + rim)" }
  swapped: result { "barn", "rim", dim = "length", formula = "2 * (rim + width)" }]])
same("the faults of a rule", shown(faults("stdlib/barn/rules.lua", stdlib.faults, names), "rule R98"), [[
  turned: add { id = "R98", check = function(b) return at_least(b.width, limit "barn_width") and b.area > 2 end }
  logic: add { id = "R98", check = function(b) return at_most(b.width, limit "barn_width") or b.area > 2 end }
  turned: add { id = "R98", check = function(b) return at_most(b.width, limit "barn_width") and b.area < 2 end }
  strict: add { id = "R98", check = function(b) return at_most(b.width, limit "barn_width") and b.area >= 2 end }
  constant: add { id = "R98", check = function(b) return at_most(b.width, limit "barn_width") and b.area > 3 end }]] ..
  '\nalways true: add { id = "R98", check = function(b) do return import("model.rule").states(true, "always") end ' ..
  'return at_most(b.width, limit "barn_width") and b.area > 2 end }' ..
  ('\nswapped: add { id = "R98", check = function(b) return at_most(b.length, limit "barn_width") and b.area > 2 end }')
  :rep(2) ..
  '\nlimit: add { id = "R98", check = function(b) return at_most(b.width, limit "barn_length") and b.area > 2 end }' ..
  '\nswapped: add { id = "R98", check = function(b) return at_most(b.rim, limit "barn_width") and b.area > 2 end }')
same("the faults of a kind", shown(faults("stdlib/barn/schema.lua", stdlib.faults, names), "kind barn"), [[
  range: { "length", "quantity", dim = "length", min = 1, max = 30, required = true, says = "inside" },
  range: { "length", "quantity", dim = "length", min = 0, max = 60, required = true, says = "inside" },
  exchanged: { "length", "quantity", dim = "length", max = 0, min = 30, required = true, says = "inside" },
  required: { "length", "quantity", dim = "length", min = 0, max = 30, required = false, says = "inside" },
  range: { "width", "quantity", dim = "length", above = 1, says = "inside" },]])

-- ---- trying --------------------------------------------------------------------------------------------------------

local folder = os.tmpname()
os.remove(folder)
os.execute("mkdir -p " .. common.quoted(folder))
local rows = { rest_test = { { name = "one person" } } }
local one = trial.new(folder, {
  { name = "outside", programs = { "outside/load_test", "rest_test" }, scripts = {} },
  { name = "suites", programs = {}, scripts = {} },
  { name = "texts", programs = {}, scripts = { { name = "text", command = "grep -q page interp/data/weights.csv" } } },
}, rows, { make = "make -s", parts = FIXTURE .. ".", seconds = 2 })

local function meets(what, list, after, stage, test)
  local fault
  for _, each in ipairs(list) do
    if each.after == after then fault = each end
  end
  if not fault then return check(what, false, "there is no such fault: " .. after) end
  one:plant(fault, texts[fault.path])
  local got_stage, got_test = one:meet(fault)
  check(what, got_stage == stage and (not test or got_test:find(test, 1, true)),
        tostring(got_stage) .. ": " .. tostring(got_test))
  return { fault, { outcome = not stage and "survived" or stage == "unbuilt" and stage or "noticed",
                    stage = stage or "", test = got_test or "" } }
end

check("without a fault nothing fails", one:meet() == nil)
local drawn = {
  meets("a cell is noticed by the value from outside", cells, "2,157.1,READ,a page", "outside",
        "outside/load_test: two people"),
  meets("a cell is noticed by a row from outside of another suite", cells, "1,80.8,READ,a page", "outside",
        "rest_test: one person"),
  meets("a term is noticed by a row that is not from outside", formulas, "STEP(sh, SL_MASS, both, weight, \"\");",
        "outside", "rest_test: one person with a bag"),
  meets("what nothing calls survives", formulas, "static int unasked(int a) { return a / 3; }", nil),
  meets("what does not build is told apart", formulas, "_Static_assert(1 - 1 == 2, \"sum\");", "unbuilt"),
  meets("what does not end is noticed", formulas, "while (a < 5) a = a;", "outside", "does not end"),
}
one:plant(nil)
check("what was planted is taken away", one:meet() == nil)
os.execute("rm -rf " .. common.quoted(folder))

-- ---- drawing, telling ----------------------------------------------------------------------------------------------

local group = { name = "table weights", faults = cells }
for i, fault in ipairs(cells) do fault.rank = i end
local kinds = {}
for i, fault in ipairs(draw.order(1, group)) do
  if i <= 5 then kinds[fault.kind] = (kinds[fault.kind] or 0) + 1 end
end
check("the kinds of faults take turns", kinds.row == 1 and kinds.digit == 1 and kinds.known == 1)

local list = os.tmpname()
common.write(list, "# why\ninterp/data/weights.csv\n- 1,80.0,READ,a page\n+ 1,80.8,READ,a page\n  nobody\n  asks\n\n" ..
                   "interp/data/weights.csv\n- 1,80.0,READ,a page\n+ 1,99.9,READ,a page\n  gone\n")
local by, entries = draw.equivalents(list)
os.remove(list)
local complaints = {}
draw.mark({ group }, by, entries, complaints)
local marked = 0
for _, fault in ipairs(cells) do
  if fault.equivalent then
    marked = marked + 1
    check("an equivalent has its reason", fault.equivalent == "nobody asks", fault.equivalent)
  end
end
check("a fault that changes nothing is known", marked == 1)
check("an entry that no fault is, is told", #complaints == 1 and complaints[1]:find("99.9", 1, true), complaints[1])

local page, total = report.page(drawn, 1)
check("the page counts", total.drawn == #drawn - 1 and total.noticed == total.drawn - 1 and
      total.outside == 4 and page:find("- static int unasked(int a) { return a * 3; }", 1, true), page)

check("the draw from the sources is whole", os.execute "tests/mutate/mutate.lua --check >/dev/null")
check("a suite from outside that is not there is told", #plan.unknown { nowhere_test = { {} } } == 1 and
      #plan.unknown(plan.outside_rows "tests/mutate/outside.txt") == 0,
      table.concat(plan.unknown(plan.outside_rows "tests/mutate/outside.txt"), " "))

print(("mutate: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and passed > 0)
