-- SPDX-License-Identifier: MIT
-- How far inputs can move before a verdict flips: the search on planted functions, whose roots are known, and whole
-- jobs against closed formulas.  Run by tests/margins_test.c, which gives `in_host` and `slow`.
local RUN = "tests/margins_run.lua"
local passed, failed = 0, 0

local function check(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more and ": " .. tostring(more) or ""))
end

local function ask(folder, input)
  local got, why = in_host(folder, RUN, input)
  if not got then check("it runs", false, why and why.code .. " " .. why.text) end
  return got or { flips = {}, left = {}, unused = {}, ends = {}, unlike = {}, up = { flips = {} },
      down = { flips = {} } }
end

-- ---- the search -----------------------------------------------------------------------------------------------------

local function planted(name) return ask(".", { along = name }) end

local function flip_of(side, key)
  for _, f in ipairs(side.flips) do if f.key == key then return f end end
end

-- A root lies between the last value that does not flip and the first that does, and those are close to each other.
local function meets(name, side, key, root)
  local f = flip_of(planted(name)[side], key)
  local good = f and math.abs(f.to - f.from) <= 1e-6 * math.max(1, math.abs(root)) and
      (f.from - root) * (f.to - root) <= 0
  check(name .. " " .. side .. " " .. key, good, f and f.from .. " to " .. f.to or "not found")
end

-- from hand: x^2 = 200 at 14.142...; the others stand in the planted functions themselves
meets("smooth", "up", "root", math.sqrt(200))
meets("steps", "up", "near", 12)
meets("steps", "up", "far", 12.5)
meets("steps", "down", "below", -3)
meets("steps", "down", "both", 9)
meets("steps", "up", "both", 90)
meets("wide", "up", "w", 10.4)
meets("refused", "up", "just", 19.9)
meets("zero", "up", "up", 2e-5)
meets("zero", "down", "down", -7)
meets("at_once", "up", "s", 10)
meets("at_once", "down", "s", 10)

local p = planted "smooth"
check("what does not flip on a side is not found there", #p.down.flips == 0)
check("a side goes to its end", p.down.edge == 0 and p.least == 0)
-- as the page says of itself: a window narrower than a step can be missed
check("a narrow window is missed, as is said", #planted("narrow").up.flips == 0)
p = planted "steps"
check("the nearest first", p.up.flips[1].key == "near" and p.up.flips[2].key == "far" and p.down.flips[1].key == "both")
p = planted "refused"
check("beyond what is refused nothing is found", not flip_of(p.up, "beyond"))
check("where it is refused", p.up.refused and p.up.refused.from <= 20 and p.up.refused.to > 20 and
    p.up.refused.to - p.up.refused.from < 1e-5 and p.up.refused.why == "too far")
check("it was moved as far as that", p.up.edge <= 20 and p.up.edge > 20 - 1e-5, p.up.edge)
p = planted "ends"
check("never beyond its ends", p.least == 10 and p.most == 11 and #p.up.flips == 0 and p.up.edge == 11 and
    p.down.edge == 10)
check("alike flips share their trials", planted("three").asked == planted("one").asked, planted("three").asked)

p = ask(".", { through = true })
check("through a list: the nearest on each side", p.up.flips[1].key == "vowel" and p.up.flips[1].at == 5 and
    p.down.flips[1].at == 1 and #p.down.flips == 2)
check("each entry but the declared one is tried", #p.entries == 5 and p.entries[5].refused == "not made")

-- ---- the egg farm, against closed formulas --------------------------------------------------------------------------

local FARM = "examples/egg-farm"
local function farm(input)
  input.script = FARM .. "/job.sline"
  return ask(FARM, input)
end

local function found(got, path, side, rule, subject)
  for _, f in ipairs(got.flips) do
    if f.path == path and f.side == side and f.rule == rule and (not subject or f.subject == subject) then return f end
  end
end

local function equals(what, got, wanted)          -- to four digits
  check(what, got and math.abs(got - wanted) <= 0.5e-4 * math.abs(wanted), tostring(got) .. " against " .. wanted)
end

-- R41.  from trade: T = 25 - (limit / (n Voc) - 1) / |beta| degC; n = 6 by the alternate, Voc = 39.2 V and
-- beta = -0.25 %/K by the module's row, 250 V by the controller's sheet.
local got = farm { alternate = "six in series", inputs = { "site.coldest" }, rules = { "R41" } }
local f = found(got, "site.coldest", "up", "R41")
equals("six in series hold above", f and f.si - 273.15, 25 - (250 / (6 * 39.2) - 1) / 0.0025)
check("they hold there, broken as declared", f and f.becomes == "holds")
-- As declared: 4 x 39.2 V x (1 + 0.0025 x 105) = 198 V at the -80 degC where the field ends, under 250 V.
got = farm { inputs = { "site.coldest" }, rules = { "R41" } }
check("four in series flip nowhere in the field", #got.flips == 0)
equals("as far as the field goes", got.ends["site.coldest"] and got.ends["site.coldest"].down, 193.15)

-- R48.  from trade: drop = 2 L I R / V; R = 0.491 ohm/kft, NEC chapter 9 table 8, 6 AWG copper stranded; I = 2 strings
-- of 13.11 A, V = 4 x 32.8 V by the module's row; 2.5 % by the house.  L has besides the trench two risers of 3 ft and
-- 8 ft along the wall.
local longest = 0.025 * (4 * 32.8) / (2 * (2 * 13.11) * 0.491 / 1000)
got = farm { inputs = { "trench.length" } }
f = found(got, "trench.main.length", "up", "R48")
equals("the trench at which the drop rule breaks", f and f.si / 0.3048, longest - 3 - 3 - 8)
check("it is broken there", f and f.becomes == "broken")
equals("how many percent that takes", f and f.percent, ((longest - 14) / 90 - 1) * 100)
-- R62, by hand: each conductor needs 2 x (90 + 8 + 3 + 3 + 3 + 3 ft) = 220 ft of a spool of 250 ft, off which both are
-- cut while 250 / 2 = 125 ft are enough for one; beyond it each wants a spool of its own, up to 250 ft = length + 20
-- ft.
f = found(got, "trench.main.length", "up", "R62")
equals("the trench whose wire no spool holds", f and f.si / 0.3048, 250 - 8 - 3 - 3 - 3 - 3)

-- R29.  from trade: cut = top - bottom of the hole - pad.  Top of a back post: lower edge + 80 % of the slope x sin 35
-- - the stack, 11 in square to the modules, x cos 35; slope 2 x 1722 + 20 mm; hole 66 in, gravel 6 in; longest stock 12
-- ft.
local slope, tilt = (2 * 1722 + 20) / 25.4, math.rad(35)
local top = 24 + 0.8 * slope * math.sin(tilt) - 11 * math.cos(tilt)
got = farm { inputs = { "ground.elevation.B1", "ground.elevation.B2", "ground.elevation.B3" }, rules = { "R29" } }
for _, post in ipairs { "B1", "B2", "B3" } do
  f = found(got, "ground.elevation." .. post, "down", "R29", "rack.east.post." .. post)
  equals("the reading at which post " .. post .. " outgrows its stock", f and f.si / 0.0254, top + 66 - 6 - 144)
end

-- Limits that stand beside the value, by the script: 18 in of cover where the code wants 18 in.
got = farm { inputs = { "trench.main.cover" }, rules = { "R57" } }
f = found(got, "trench.main.cover", "down", "R57")
check("nothing is left of a limit that is just met", f and f.percent < 1e-3 and not f.stated, f and f.percent)

-- A count: R41 of 5 in series holds, 5 x 39.2 V x 1.1025 = 216.1 V; of 6, 259.3 V, it does not.
got = farm { inputs = { "strings.series" }, rules = { "R41" } }
f = found(got, "strings.series", "up", "R41")
check("modules in series", f and f.si == 6)

-- Paper: made for 105 mph, and more wind is worse; less is not.
got = farm { inputs = { "site.wind" }, rules = { "R74" } }
f = found(got, "site.wind", "up", "R74")
check("a paper is for its wind", f and f.stated and f.becomes == "unknown")
check("less wind is none the worse", not found(got, "site.wind", "down", "R74"))

-- What two racks take from one line of their type moves in both: from hand, the posts of rack east are the longer ones.
got = ask("tests/pages/jobs/hay-barn", { script = "tests/pages/jobs/hay-barn/job.sline", inputs = { "rack.east.tilt" },
  rules = { "R29" } })
check("one line moves in all that it declares", found(got, "rack.west.tilt", "up", "R29", "rack.east.post.D4"))

-- ---- what is left out -----------------------------------------------------------------------------------------------

local one_of = slow() and 40 or 4
local jobs = { { FARM, one_of }, { "tests/pages/jobs/smallest", 1 }, { "tests/pages/jobs/southern", one_of * 4 } }
for _, job in ipairs(jobs) do
  got = ask(job[1], { script = job[1] .. "/job.sline", skip = job[2] })
  check(job[1] .. " with what the notes leave out and without", #got.unlike == 0, table.concat(got.unlike, "\n"))
  check(job[1] .. " was tried", got.tried and got.tried > 0)
end
check("there are inputs that no rule reads", got.unread and got.unread > 0)

-- from hand: no rule asks how far east the site is; the controller's fuse is read by R44
got = farm { inputs = { "site.longitude", "charge_controller.shed.fuse" } }
check("unused", #got.unused == 1 and got.unused[1] == "site.longitude", table.concat(got.unused, ", "))

-- from hand: bags go by the hole and what is spilled; neither the cold nor the place on the map is bought
got = farm { priced = { "footing.deep.hole_depth", "habits.concrete_waste", "site.coldest", "site.longitude" } }
check("what the prices rest on", got.priced and table.concat({ tostring(got.priced[1]), tostring(got.priced[2]),
    tostring(got.priced[3]), tostring(got.priced[4]) }, " ") == "true true false false")

-- Thirty racks are more than is moved: what is said once of all goes before what each has of its own.
if not slow() then
  got = ask("tests/pages/jobs/large", { script = "tests/pages/jobs/large/job.sline", most = 170000 })
  local left = {}
  for _, path in ipairs(got.left) do left[path] = true end
  check("the frost and the trenches before readings", not left["site.frost"] and
      not left["trench['block 1'].length"] and left["ground.elevation['B7.1']"], table.concat(got.left, " "))
end

got = farm { most = 100 }
check("it says where it gave up", #got.left > 50 and got.work >= 100 and got.work < 2000, #got.left)

print(("[  PASSED  ] %d test(s)."):format(passed))
if failed > 0 then print(("[  FAILED  ] %d test(s)."):format(failed)) end
return failed == 0 and 0 or 1
