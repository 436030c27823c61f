-- SPDX-License-Identifier: MIT
-- What a sweep finds, on planted rows whose answers are worked out here by hand, and on whole jobs.  Run by
-- tests/sweep_answer_test.c, which gives `in_host`.
package.path = "tests/?.lua;" .. package.path
local json = require "json"
local schema = require "schema"
local RUN, FARM = "tests/sweep_answer_run.lua", "examples/egg-farm"
local passed, failed = 0, 0

local function check(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more ~= nil and ": " .. tostring(more) or ""))
end

local function equal(what, got, wanted) check(what, got == wanted, tostring(got) .. " against " .. tostring(wanted)) end
local function list(t) return table.concat(t or {}, " ") end
local function has(what, text, part)
  text = (text or ""):gsub("%s+", " ")
  check(what, text:find(part, 1, true), "'" .. part .. "' is not in: " .. text:sub(1, 1500))
end
local function lacks(what, text, part) check(what, not text:gsub("%s+", " "):find(part, 1, true), part) end

local function ask(folder, input)
  input.script, input.store = folder .. "/job.sline", os.tmpname()
  os.remove(input.store)
  local got, why = in_host(folder, RUN, input)
  os.remove(input.store)
  if got then return got end
  check("it runs", false, why and why.code .. " " .. why.text)
  return setmetatable({ text = "", sentence = "" }, { __index = function() return {} end })
end

-- ---- a grid of 3 x 4, two goals -------------------------------------------------------------------------------------

local TILT, EDGE = "rack.east.tilt=30deg, 40deg", "rack.east.lower_edge=20in, 22in, 28in"

local function farm(input)
  input.vary = input.vary or { TILT, EDGE }
  input.least, input.most = input.least or { "job.total" }, input.most or { "rack.east.lower_edge" }
  return ask(FARM, input)
end

-- number, status, broken, unknown, cautions, why, job.total, lower edge in metres
local GRID = {
  { 0, "holds", false, false, 0, false, 100.0, 5.0 },
  { 1, "broken", "R12", false, 0, false, 95.0, 6.0 },
  { 2, "broken", "R12 R31", false, 0, false, 80.0, 7.0 },
  { 3, "unknown", false, "R74", 0, false, 85.0, 4.0 },
  { 4, "holds", false, false, 1, false, 95.0, 4.0 },
  { 5, "holds", false, false, 1, false, 95.0, 4.0 },
  { 6, "broken", "R12", false, 0, false, 70.0, 9.0 },
  { 7, "holds", false, false, 0, false, 110.0, 9.0 },
  { 8, "refused", false, false, 0, '=1+1 is, "so to say", no tilt', false, false },
  { 9, "crash", false, false, 0, "signal 11", false, false },
  { 10, "holds", false, false, 2, false, 120.0, 8.0 },
  { 11, "broken", "R31", "R74", 1, false, 60.0, 1.0 },
}
local function rows(first, last) return table.move(GRID, first + 1, last + 1, 1, {}) end

local got = farm { rows = GRID, formats = true }
-- from hand: all that follows can be counted in the table above
equal("it is complete", got.complete, true)
equal("those that hold", got.counts.holds, 5)
equal("those that are broken", got.counts.broken, 4)
equal("the first", got.winner, 4)
equal("how many more are as good", got.ties, 1)
equal("the rank of the declared one", got.base_rank, 3)
local order = {}
for i, b in ipairs(got.best) do order[i] = b.number .. ":" .. b.rank end
equal("the best, with their ranks, and 5 as 4", list(order), "4:1 0:3 7:4 10:5")
equal("the best are kept", list(got.kept_best), "4 0 7 10")
equal("one more came out as the first", got.best[1].alike, 1)
equal("none as the next", got.best[2].alike, 0)
-- from hand: (95, 4) twice, (100, 5), (110, 9); (120, 8) is dearer and lower than (110, 9)
equal("the Pareto set in the order of the first goal", list(got.pareto), "4 5 0 7")
equal("it is kept", list(got.kept_pareto), "0 4 5 7")
has("it is drawn", got.html, "Pareto set: 4")
-- from hand: R12 in 1, 2, 6, alone in 1 and 6; R31 in 2 and 11, never alone; R74 in 3 and 11, alone in 3
equal("rules, those first that stop most alone", list(got.rules), "R12 R74 R31")
equal("R12 breaks", got.rules.R12.broken, 3)
equal("R12 alone", got.rules.R12.alone, 2)
equal("R31 breaks", got.rules.R31.broken, 2)
equal("R31 alone", got.rules.R31.alone, 0)
equal("R74 is unknown", got.rules.R74.unknown, 2)
equal("R74 alone", got.rules.R74.open_alone, 1)
equal("R74 breaks nothing", got.rules.R74.broken, 0)
equal("a refused one", got.ended.refused.n .. " " .. got.ended.refused.example, "1 8")
equal("a crash, with its reason", got.ended.crash.example .. " " .. got.ended.crash.why, "9 signal 11")
-- from hand: below 95: 80 (R12 and R31), 85 (R74), 70 (R12), 60 (R31 and R74); 1 costs as much as the first
equal("better by price and stopped", got.stopped_better.n, 4)
equal("of these R12 alone", got.stopped_better.alone[1].id .. " " .. got.stopped_better.alone[1].n, "R12 1")
equal("alike", got.alike .. " in " .. got.lots, "2 in 1")
equal("both axes have an effect", tostring(got.effects[1]) .. " " .. tostring(got.effects[2]), "true true")
-- from hand: variant 3 has its edge at 28 in, 4 in up, and the tallest post then is above the 80 in that the engineer's
-- paper was made for (79.5 in as declared)
equal("one waits for a signature", got.waiting and got.waiting.n .. " " .. got.waiting.best, "1 3")
has("its price", got.text, "is variant 3, $85.00")
-- 4 m = 157.48 in = 13 ft 1-1/2 in to a sixteenth; 5 m = 196.85 in = 16 ft 4-7/8 in
has("the sentence", got.sentence, "Variant 4 comes first of the 5 that hold, by the least job.total, then the most " ..
    "rack.east.lower_edge: $95.00 and 13 ft 1-1/2 in against $100.00 and 16 ft 4-7/8 in as declared; ")
has("the tie is told", got.sentence, "1 variant more is as good, and came out alike in all that is kept.")
has("cautions are counted", got.text, "3 of the 5 that hold have a caution rule")
has("the count of variants", got.text, "12: 5 hold; 4 have a stop rule broken; 1 has a stop rule unknown and none " ..
    "broken; 1 cannot be declared so; 1 crashed")
has("R12 is told", got.text, "R12 2 3")
-- planted rows are not what the job gives
has("rows that are not as judged now", got.text, "does not come out as it was kept")

-- Along the tilt, by its amounts: 30, 35 as declared, 40 degrees.  from hand: at 30 one of four is broken by R12, at 35
-- two of four; at 40 two were judged, of which R31 breaks one.
local along = got.along[1]
equal("steps in their order", table.concat(along.steps, " "), "30deg 35deg 40deg")
equal("the declared one", along.declared, 2)
equal("how many were judged", list(along.tried), "4 4 2")
local function share(id, key)
  for _, r in ipairs(along.rules) do if r.id == id then return list(r[key]) end end
end
equal("R12 along it", share("R12", "broken"), "0.25 0.5 0.0")
equal("R31 along it", share("R31", "broken"), "0.0 0.25 0.5")
equal("R74 unknown along it", share("R74", "unknown"), "0.0 0.25 0.5")

-- 801 steps, the declared one among them: from hand, of the 800 others three stand together, (801 - 2) // 399 + 1.
local fine = farm { vary = { "rack.east.tilt=20deg to 60deg by 0.05deg" }, rows = {
  { 0, "holds", false, false, 0, false, 100.0, 5.0 }, { 1, "broken", "R12", false, 0, false, 90.0, 5.0 },
  { 3, "holds", false, false, 0, false, 90.0, 5.0 }, { 4, "holds", false, false, 0, false, 90.0, 5.0 } } }
along = fine.along[1]
equal("three together", along.steps[1] .. "; " .. along.steps[2], "20deg to 20.1deg; 20.15deg to 20.25deg")
equal("tried there", along.tried[1] .. " " .. along.tried[2], "2 1")
equal("the declared one alone", along.steps[along.declared] .. " " .. along.tried[along.declared], "35deg 1")
equal("R12 in one of two", along.rules[1].id .. " " .. along.rules[1].broken[1] .. " " .. along.rules[1].broken[2],
    "R12 0.5 0.0")

-- ---- what others read -----------------------------------------------------------------------------------------------

local lines = {}
for line in got.csv:gmatch "(.-)\r\n" do lines[#lines + 1] = line end
equal("a line for each variant, and the heading", #lines, 13)
equal("the heading", lines[1], "number,status,rack.east.tilt,rack.east.tilt as a number [rad],rack.east.lower_edge," ..
    "rack.east.lower_edge as a number [m],broken,unknown,cautions,why,job.total [USD],rack.east.lower_edge [m]," ..
    "job.total leaves out")
-- from hand: 20 in = 0.508 m; number 2 is tilt 0, edge 2
equal("a row", lines[4]:gsub("^(2,broken,35deg,)[%d.]+", "%1*"), "2,broken,35deg,*,22in,0.5588,R12 R31,,0,,80,7,")
has("what a spreadsheet would take for a formula", lines[10], [[,,,0,"'=1+1 is, ""so to say"", no tilt",,]])

local rules = json.read(got.schema)
local value = json.read(got.json)
local wrong = schema(rules, value)
equal("JSON as its schema has it", table.concat(wrong, "\n"), "")
equal("the winner in JSON", value.winner, 4)
equal("a price in JSON", value.best[1].kept[1].value.si, 95)
equal("all variants in JSON", #value.variants, 12)
equal("columns of them", #value.columns, #value.variants[1])
equal("a row of them", value.variants[3][2] .. value.variants[3][5] .. value.variants[3][10], "brokenR12 R317")
-- ...
has("the picture in the page", got.html, "<svg")
lacks("no raw text of a script in the page", got.html, '"so to say"')

-- ---- less than that -------------------------------------------------------------------------------------------------

got = farm { rows = rows(0, 7) }
equal("not complete", got.complete, false)
equal("how many are missing", got.missing, 4)
equal("no winner", got.winner, nil)
has("so far", got.sentence, "So far 8 of 12 variants are judged; 4 are missing. 4 hold; the best of them so far is " ..
    "variant 4, $95.00")
has("what is missing may be better", got.sentence, "What is missing may be better.")
lacks("nothing comes first", got.text, "comes first")
has("how it goes on", got.text, "is judged by the same command again")

-- Shard 1 of 3 has numbers 1, 4, 7, 10.
got = farm { rows = { GRID[2], GRID[5], GRID[8], GRID[11] }, shard = "1/3" }
equal("a whole shard misses nothing", got.missing, 0)
equal("and is not complete", got.complete, false)
has("a shard alone", got.sentence, "So far 4 of 4 variants are judged, and these are shard 1/3 alone, of 12 in all")
equal("no winner of a shard", got.winner, nil)
-- from hand: 7 can be held against 4, which has the same tilt; of no two of them only the tilt differs
equal("an effect that two rows show", got.effects[2], true)
equal("an effect is not told where no two can be compared", got.effects[1], "not known")
has("the declared one is there all the same", got.text, "as declared")

-- At stage quote what is unknown stops nothing, and is told of the first all the more.  from hand: the paper was made
-- for the 24 in that are declared; 1 is dearer than 2 and lower; 3 is stopped by R31 alone, since R74 stops nothing
got = farm { set = { "job.stage=quote" }, vary = { "rack.east.lower_edge=26in, 28in, 30in" }, rows = {
  { 0, "holds", false, false, 0, false, 120.0, 1.0 }, { 1, "holds", false, false, 0, false, 110.0, 1.0 },
  { 2, "holds", false, "R74", 0, false, 100.0, 2.0 }, { 3, "broken", "R31", "R74", 0, false, 90.0, 2.0 } } }
has("what the first is", got.text, "Variant 2: rack.east.lower_edge=28in; all else as declared.")
has("what it means to hold at stage quote", got.text, "To hold means here that no stop rule is broken; what is " ..
    "unknown stops nothing at stage quote. R74 is unknown in variant 2, though not as declared, and stops it from " ..
    "stage permit on")
lacks("it is not said to be known", got.text, "no stop rule is broken or unknown")
has("what stops a better one", got.text, "One variant would be better than the first by job.total, and is stopped, " ..
    "1 by R31 alone.")

-- Nothing is sought at stage quote: what it means to hold is said all the same.  from hand: one of the two has R74 open
got = farm { set = { "job.stage=quote" }, vary = { "rack.east.lower_edge=28in" }, least = {}, most = {}, rows = {
  { 0, "holds", false, false, 0, false, 120.0 }, { 1, "holds", false, "R74", 0, false, 100.0 } },
  keep = { "job.total" } }
has("of which a rule is open", got.text, "2: 2 hold (of 1 a stop rule is unknown yet)")
has("to hold, without a first", got.text, "a stop rule is unknown in 1 of the 2 that hold.")
lacks("no way on where there is none", got.text, "How to go on")

-- A heading is as short as tells it from the others, and what all have alike stands once beneath.  from hand: all that
-- are told but the declared one have the 20 deg, and all the same voltage drop
got = farm { vary = { "rack.east.tilt=20deg", "rack.east.lower_edge=22in", "footing.deep.hole_depth=60in" },
  keep = { "run['array to shed'].voltage_drop" }, most = {}, rows = {
    { 0, "holds", false, false, 0, false, 0.02, 120.0 }, { 1, "broken", "R31", false, 0, false, 0.02, 120.0 },
    { 2, "broken", "R31", false, 0, false, 0.02, 120.0 }, { 3, "broken", "R31", false, 0, false, 0.02, 120.0 },
    { 4, "holds", false, false, 0, false, 0.02, 110.0 }, { 5, "holds", false, false, 0, false, 0.02, 100.0 },
    { 6, "holds", false, false, 0, false, 0.02, 90.0 }, { 7, "broken", "R31", false, 0, false, 0.02, 90.0 } } }
has("short headings", got.text, "variant rank job.total lower edge hole depth limited by")
has("a step that is other, and a blank one", got.text, " 6 1 $90.00 22in R")
has("the declared steps", got.text, " 0 4 $120.00 24in 66in R")
has("what is alike", got.text, "A blank step is as declared. In all of them run['array to shed'].voltage_drop 2 %. " ..
    "All but the job as declared have rack.east.tilt=20deg.")

-- None holds.  from hand: 2 has none broken, 3 and 1 have one, of which 3 is cheaper, 0 has two
got = farm { vary = { "rack.east.lower_edge=20in, 22in, 28in" }, rows = {
  { 0, "broken", "R12 R31", false, 0, false, 60.0, 1.0 }, { 1, "broken", "R12", false, 0, false, 80.0, 1.0 },
  { 2, "unknown", false, "R74", 0, false, 90.0, 1.0 }, { 3, "broken", "R12", false, 0, false, 70.0, 1.0 } } }
equal("the nearest", list(got.nearest), "2 3 1 0")
has("none holds", got.sentence, "None of the 4 variants holds. R12 alone stops 2.")
has("the nearest is told", got.sentence, "Variant 2 comes nearest: R74 is unknown; $90.00")
equal("none is best", #got.best, 0)
equal("no Pareto set", list(got.pareto), "")
lacks("nothing is said to come first", got.text, "comes first")

-- All crash.
got = farm { vary = { "rack.east.lower_edge=20in" }, rows = {
  { 0, "crash", false, false, 0, "signal 11", false, false }, { 1, "time", false, false, 0, "60 s", false, false } } }
has("nothing could be judged", got.sentence, "None of 2 variants could be judged")
equal("no axis without effect is found in crashes", got.effects[1], true)

got = farm { vary = { "rack.east.lower_edge=20in, 22in" }, rows = {
  { 0, "crash", false, false, 0, "signal 11", false, false }, { 1, "crash", false, false, 0, "signal 11", false,
      false },
  { 2, "crash", false, false, 0, "signal 11", false, false } } }
equal("nor where all crash alike", got.effects[1], "not known")
equal("nor duplicates", got.alike, 0)

-- One variant.
got = farm { vary = { "rack.east.lower_edge=24in" }, rows = { GRID[1] } }
has("one variant", got.sentence, "The job as declared comes first, the only one that holds, by the least job.total, " ..
    "then " ..
    "the most rack.east.lower_edge: $100.00")

-- Nothing is sought; what is sought is not known.
got = farm { rows = GRID, least = {}, most = {}, keep = { "job.total", "rack.east.lower_edge" } }
has("nothing sought", got.sentence, '5 of 12 variants hold. Nothing is sought, so that none comes first: write seek ' ..
    '{ ' ..
    'least = "job.total" }, or --least job.total.')
got = farm { vary = { "rack.east.lower_edge=20in" }, rows = { { 0, "holds", false, false, 0, false, false, 1.0 },
  { 1, "holds", false, false, 0, false, false, 1.0 } } }
has("what is sought is unknown", got.sentence, "2 of 2 variants hold, and of none is known what is sought")

-- One goal.
got = farm { rows = GRID, most = {}, keep = { "job.total", "rack.east.lower_edge" } }
has("one goal", got.sentence, "Variant 4 is the least job.total of the 5 that hold: $95.00 against $100.00 as declared")
has("no Pareto set of one goal", got.text, "No Pareto set")
equal("none is kept", list(got.kept_pareto), "")

-- ---- ties, effects, many --------------------------------------------------------------------------------------------

-- 0.1 + 0.2 is not 0.3 to the last bit, and no reason to come first.
got = farm { vary = { "rack.east.lower_edge=20in, 22in" }, rows = { { 0, "holds", false, false, 0, false, 0.3, 1.0 },
  { 1, "holds", false, false, 0, false, 0.1 + 0.2, 2.0 }, { 2, "holds", false, false, 0, false, 0.1 + 0.2, 1.0 } } }
order = {}
for i, b in ipairs(got.best) do order[i] = b.number .. ":" .. b.rank end
equal("ties within rounding go by the next goal", list(order), "1:1 0:2 2:2")
equal("and in the Pareto set", list(got.pareto), "1")
equal("the declared one has its rank", got.base_rank, 2)

-- Rows that rest on the tilt alone: 12 variants, the edge does nothing.
local of_tilt = {}
for n = 0, 11 do of_tilt[n + 1] = { n, "holds", false, false, 0, false, 100.0 + n // 4, 1.0 } end
got = farm { rows = of_tilt }
equal("an axis without effect", tostring(got.effects[1]) .. " " .. tostring(got.effects[2]), "true false")
has("it is told", got.text, "No effect: rack.east.lower_edge.")
equal("all have their like", got.alike .. " in " .. got.lots, "12 in 3")
of_tilt[12][8] = 1.0 + 2 ^ -52
equal("one bit is an effect", farm { rows = of_tilt }.effects[2], true)

-- Rows that rest on the edge alone, which changes fastest.
local of_edge = {}
for n = 0, 11 do of_edge[n + 1] = { n, "broken", "R12", n % 4 == 1 and "R74", 0, false, 100.0, 1.0 } end
got = farm { rows = of_edge }
equal("nor has the first axis, and a rule that is unknown is an effect", tostring(got.effects[1]) .. " " ..
    tostring(got.effects[2]), "false true")

-- A step whose text has a comma is one cell.
got = farm { vary = { 'job.client="Pruitt, O."' }, formats = true,
  rows = { GRID[1], { 1, "holds", false, false, 0, false, 95.0, 4.0 } } }
check("a comma in a step", got.csv:find('\r\n1,holds,"', 1, true), got.csv)

-- Three goals and many rows against a search that compares each with each.  The numbers are made as the other file
-- says.
local many, points = 2000, {}
for n = 0, many - 1 do
  local x, y = n * 7919 % 1009, (n * 104729 + 13) % 997
  if x % 3 ~= 0 then points[#points + 1] = { n = n, x = x, y = y, z = -((x * y) % 11) } end
end
local function beats(b, a)
  return b.x <= a.x and b.y <= a.y and b.z <= a.z and (b.x < a.x or b.y < a.y or b.z < a.z)
end
local front = {}
for _, a in ipairs(points) do
  local beaten = false
  for _, b in ipairs(points) do beaten = beaten or beats(b, a) end
  if not beaten then front[#front + 1] = a.n end
end
table.sort(points, function(a, b)
  if a.x ~= b.x then return a.x < b.x end
  if a.y ~= b.y then return a.y < b.y end
  if a.z ~= b.z then return a.z < b.z end
  return a.n < b.n
end)
got = farm { vary = { "rack.east.lower_edge=20in to 40in by 0.01in" }, grow = many,
  least = { "job.total", "rack.east.lower_edge" }, most = { "rack.east.top_edge" } }
equal("the Pareto set of three goals", list(got.kept_pareto), list(front))
local ten = {}
for i = 1, 10 do ten[i] = points[i].n end
equal("the ten best of many", list(got.kept_best), list(ten))
check("at most eight are shown, with both ends", #got.shown == 8 and got.shown[1] == got.pareto[1] and
    got.shown[8] == got.pareto[#got.pareto], list(got.shown))
equal("rows of the declared rule", got.rules.R12.alone, many - #points)

-- ---- whole jobs -----------------------------------------------------------------------------------------------------

got = farm { vary = { "footing.deep.hole_depth=60in, 72in", EDGE } }
equal("rows that are as judged now", got.unlike, nil)
lacks("no warning then", got.text, "does not come out")
-- from hand: the least clearance is the shed pile of 12 in and 8 in of snow: 20 in
has("what limits an edge at 20 in", got.text, "R14 rack east: 1 ft 8 in >= 1 ft 8 in above the ground at F1 (0 %)")
-- from the shopping list of the job: 162 bags for six holes of 66 in, 24 in wide; a hole that is 6 in less deep takes
-- 2.931 ft2 x 0.5 ft = 1.466 ft3 less, at 0.6 ft3 a bag and a tenth for waste 2.7 bags: 25 for 27 in each
has("bags go by the hole", got.text, "concrete 80 lb each but the declared one 150 as declared 162")
-- from the shopping list: three posts out of 8 ft, three out of 12 ft.  At 72 in B3 is 6 in longer than its 11 ft
-- 6-1/16 in, and none of that length is sold.
-- So that variants 5, 6, ... of 72 in leave that post out of their price, and stand behind none that does not.
has("what is not to be compared", got.text, " leaves out what has no price, and more than as declared.")
has("and what that is", got.text, " without 6x6 UC4B; parts of joint brackets; parts of joint saddles. Ask for a " ..
    "price of that before they are compared.")
lacks("no such price is among the best", got.text, "144-1/8 in")
has("as a patch", got.text, "hole_depth = 60in")
has("how it is judged alone", got.text, "--only 4")

-- Drawn by lot: 171 E and 172 E change nothing that is judged.  Five drawn of two steps besides the declared one: by
-- pigeonhole at least four of the six have their like.
got = ask("tests/pages/jobs/southern", { vary = { "rack.lower_edge=900mm, 1000mm", "site.longitude=171 E, 172 E" },
  sample = 5, seed = 2, least = { "job.total" } })
equal("of drawn ones by what rests on them", tostring(got.effects[1]) .. " " .. tostring(got.effects[2]), "true false")
has("as declared, it says", got.text, "Of the job as declared nothing that is judged or kept rests on it.")
got = ask("tests/pages/jobs/southern", { vary = { "rack.lower_edge=900mm, 1000mm" }, sample = 5, seed = 2,
  least = { "job.total" } })
check("drawn twice", got.drawn_twice >= 4 and got.drawn_twice <= 6, got.drawn_twice)
has("that is told", got.text, "were drawn with the same steps as another")

-- A price that leaves something out in all of them.  from the price lists of that job: concrete has none by volume
got = ask("tests/pages/jobs/southern", { vary = { "rack.lower_edge=900mm, 1000mm" }, least = { "job.total" } })
has("what its price leaves out", got.text, "! job.total leaves out concrete ready-mix, without a price: " ..
    "how much of it a variant takes counts for nothing in this answer.")

-- The trench is as deep as the code wants, with nothing to go, in both that are told, and deeper in the others: that
-- holds neither back against the other.  from NEC Table 300.5(A): 18 in over PVC
got = farm { vary = { "trench.main.cover=24in", "footing.deep.hole_depth=60in" }, most = {}, rows = {
  { 0, "holds", false, false, 0, false, 100.0 }, { 1, "holds", false, false, 0, false, 90.0 },
  { 2, "broken", "R31", false, 0, false, 90.0 }, { 3, "broken", "R31", false, 0, false, 90.0 } } }
equal("two are told", #got.best, 2)
lacks("what is the same in all limits none", got.text, ": 1 ft 6 in >= 1 ft 6 in")
has("another limits the first", got.text, "R98 on rack east post F2 limits it, 2.97 % to go")

-- Two racks by a template; prices that leave something out in some variants: 6 AWG is in no price list there.
got = ask("tests/pages/jobs/hay-barn", { vary = { "run['west to barn'].wire + run['east to barn'].wire=8 AWG, 6 AWG" },
  least = { "job.total" } })
has("two inputs that move together", got.text, "run['west to barn'].wire + run['east to barn'].wire: 10 AWG as " ..
    "declared; " ..
    "8 AWG; 6 AWG")

print(("[  PASSED  ] %d test(s)."):format(passed))
if failed > 0 then print(("[  FAILED  ] %d test(s)."):format(failed)) end
return failed == 0 and 0 or 1
