#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Every page of the examples and of jobs that tests have, as `stringline draw` writes it, judged by tests/draw_page.lua
-- and tests/draw_dxf.lua; what single views show; each check is seen to fail on a planted fault; files that are whole
-- or not there.
-- tests/draw.lua BINARY, from the top folder of the project.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
lanes.options("tests/draw.lua BINARY")
local page, dxf, laws = require "draw_page", require "draw_dxf", require "draw_laws"

local tried = require "tried"
local try, none, sh, stringline = tried.try, tried.none, tried.sh, tried.stringline

local work = lanes.folder
local quoted, read = lanes.quoted, lanes.read
local function there(path) return read(path) ~= nil end

local BIG = lanes.top .. "/tests/draw"

-- ---- every page of many jobs ---------------------------------------------------------------------------------------

local jobs = {
  -- name, script, options, pages that are drawn (not withheld)
  { "egg-farm", "examples/egg-farm/job.sline", "", 6 },
  { "broken-wheel", "examples/broken-wheel/job.sline", "--set job.stage=permit", 24 },
  { "broken-wheel-quote", "examples/broken-wheel/job.sline", "", 7 },          -- no plan to dig by at stage quote
  { "dairy", "examples/dairy/job.sline", "--set job.stage=permit", 7 },
  { "dairy-rows", "examples/dairy/job.sline", "--set job.stage=permit --alternate 'one behind the other'", 8 },
  { "dairy-turned", "examples/dairy/job.sline", "--set job.stage=permit --alternate 'one behind the other' " ..
      "--set \"rack_type['2x10'].azimuth=150deg\"", 8 },
  { "dairy-south", "examples/dairy/job.sline", "--set job.stage=permit --alternate 'one behind the other' " ..
      "--set \"rack_type['2x10'].azimuth=0deg\" --set 'site.latitude=47.68 S' --set rack.B.gap=4m", 8 },
  { "deep-frost", "examples/deep-frost/job.sline", "--set job.stage=permit", 11 },
  { "packhouse", "examples/packhouse/job.sline", "--set job.stage=permit", 6 }, -- the ground of rack two is not given
  { "well-and-shop", "examples/well-and-shop/job.sline", "--set job.stage=permit", 8 },
  { "wool-store", "examples/wool-store/job.sline", "--set job.stage=permit", 9 },
  { "north-pasture", "examples/north-pasture/job.sline", "", 6 },
  { "three-lines", "tests/results/jobs/three-lines/job.sline", "--set job.stage=permit", 7 },
  { "stone-fold", "tests/results/jobs/stone-fold/job.sline", "--set job.stage=permit", nil },
  { "anchor-field", "tests/results/jobs/anchor-field/job.sline", "--set job.stage=permit", nil },
  { "weir-meadow", "tests/pages/jobs/weir-meadow/job.sline", "", 3 },
  { "hay-barn", "tests/pages/jobs/hay-barn/job.sline", "", 10 },
  { "southern", "tests/pages/jobs/southern/job.sline", "", nil },
  { "longer", "tests/draw/longer.sline", "", nil },
  { "turned", "examples/egg-farm/job.sline", "--set rack.east.azimuth=150deg --set rack.east.north=true", 6 },
  { "northward", "examples/egg-farm/job.sline", "--set rack.east.azimuth=0deg --set rack.east.north=true", 6 },
  { "southward", "examples/egg-farm/job.sline", "--set rack.east.azimuth=180deg --set rack.east.north=true", 6 },
  -- on paper that is asked for
  { "egg-letter", "examples/egg-farm/job.sline", "--paper letter", 6 },
  { "egg-A4", "examples/egg-farm/job.sline", "--paper A4", 6 },
  { "egg-arch", "examples/egg-farm/job.sline", "--paper 'arch D'", 6 },
  { "wheel-letter", "examples/broken-wheel/job.sline", "--set job.stage=permit --paper letter", nil },
  { "wool-A4", "examples/wool-store/job.sline", "--set job.stage=permit --paper A4", 9 },
  { "dairy-A4", "examples/dairy/job.sline", "--paper A4 --set job.stage=permit --alternate 'one behind the other'",
      nil },
  { "deep-letter", "examples/deep-frost/job.sline", "--set job.stage=permit --paper letter", nil },
  { "barn-A4", "tests/pages/jobs/hay-barn/job.sline", "--paper A4", nil },
  { "long-letter", "tests/draw/long.sline", "--paper letter", nil },
}

local runs = {}
for i, job in ipairs(jobs) do
  runs[i] = { folder = lanes.top, join = true,
      command = "stringline draw " .. job[2] .. " " .. job[3] .. " -o " .. quoted(work .. "/" .. job[1]) }
end
lanes.run(runs)

local pages = {}                        -- "egg-farm/S-101-plan" -> the page
for i, job in ipairs(jobs) do
  local folder = work .. "/" .. job[1]
  local drawn = 0
  try(job[1] .. ": it ends as run does", runs[i].status == 0 or runs[i].status == 1, runs[i].out)
  for _, name in ipairs(lanes.files(folder, "%.svg$")) do
    local path = job[1] .. "/" .. name:gsub("%.svg$", "")
    local p = page.read(read(folder .. "/" .. name))
    pages[path] = p
    if p.ratio then drawn = drawn + 1 end
    for what, check in pairs(page.checks) do none(path .. ": " .. what, check(p)) end
    -- the same in the other form
    local complaints, d = dxf.read(read(folder .. "/" .. name:gsub("svg$", "dxf")))
    none(path .. ": DXF", complaints)
    local mine, theirs, of = {}, {}, { line = 0, circle = 0, path = 0, polyline = 0, polygon = 0 }
    for k, t in ipairs(p.texts) do mine[k] = t.text end
    table.move(d.texts, 1, #d.texts, 1, theirs)
    table.sort(mine)
    table.sort(theirs)
    try(path .. ": the same texts in SVG and DXF", table.concat(mine, "\n") == table.concat(theirs, "\n"))
    for _, e in ipairs(p.list) do if of[e.name] then of[e.name] = of[e.name] + 1 end end
    try(path .. ": as many lines, circles, arcs and polylines", of.line == (d.counts.LINE or 0) and
        of.circle == (d.counts.CIRCLE or 0) and of.path == (d.counts.ARC or 0) and
        of.polyline + of.polygon == (d.counts.POLYLINE or 0))
  end
  if job[4] then
    try(job[1] .. ": " .. job[4] .. " pages are drawn", drawn == job[4], drawn .. " are\n" .. runs[i].out)
  end
end

-- Lines that are not alike, unequal bays, a row that falls, three lines of posts: jobs whose ground is measured here.
for name, drawn in pairs { ["results/jobs/three-lines"] = 13, ["results/jobs/falling-row"] = 4,
    ["pages/jobs/weir-meadow"] = 9, ["results/jobs/stone-fold"] = 11 } do
  local folder = work .. "/unlike-" .. name:match "[^/]*$"
  os.execute("cp -R " .. quoted(lanes.top .. "/tests/" .. name) .. " " .. quoted(folder))
  local script = read(folder .. "/job.sline")
  lanes.write(folder .. "/job.sline", (script:gsub("elevation = (%b{})", 'elevation = measured(%1, "tape")', 1)))
  local said = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " --set job.stage=permit -o " ..
      quoted(folder .. "/drawn")))
  local n = 0
  for _, file in ipairs(lanes.files(folder .. "/drawn", "%.svg$")) do
    local p = page.read(read(folder .. "/drawn/" .. file))
    if p.ratio then n = n + 1 end
    pages[name:match "[^/]*$" .. " measured/" .. file:gsub("%.svg$", "")] = p
    for what, check in pairs(page.checks) do none(name .. " " .. file .. ": " .. what, check(p)) end
  end
  try(name .. ": " .. drawn .. " pages are drawn", n == drawn, n .. "\n" .. said)
end

-- ---- what they show ------------------------------------------------------------------------------------------------

local function has(p, text)
  for _, t in ipairs(p.texts) do if t.text:find(text, 1, true) then return t end end
end
local function is(p, text)
  for _, t in ipairs(p.texts) do if t.text == text then return t end end
  error("no text " .. text)
end
local function at_x(p, text) return (has(p, text) or error("no text " .. text)).box[1] end

-- The egg farm faces 184 degrees by a compass that points 4 degrees west of north: 180 true, its row due east.
try("north is up where a row runs east", math.abs(page.north(pages["egg-farm/S-101-plan"])) < 0.01)
-- Facing 150 the row runs at 60, which is to the right: north lies 30 degrees right of up.
try("north turns with the row", math.abs(page.north(pages["turned/S-101-plan"]) - 30) < 0.01,
    tostring(page.north(pages["turned/S-101-plan"])))
try("north is up in the southern hemisphere", math.abs(page.north(pages["northward/S-101-plan"])) < 0.01)

for _, name in ipairs { "egg-farm", "northward", "southward" } do
  local p = pages[name .. "/S-101-plan"]
  try(name .. ": W is on the left", is(p, "F1").box[1] < is(p, "F2").box[1] and
      is(p, "F2").box[1] < is(p, "F3").box[1])
end
-- Seen from the east the lower edge of what faces south is on the left, of what faces north on the right.
local south, north = pages["southward/S-201-side"], pages["northward/S-201-side"]
try("the lower edge on the left", at_x(south, "lower edge") < at_x(south, "top edge"))
try("the lower edge on the right", at_x(north, "lower edge") > at_x(north, "top edge"))
local function y_of(p, text) return is(p, text).box[2] end
try("front posts below on a plan that faces south", y_of(pages["southward/S-101-plan"], "F1") >
    y_of(pages["southward/S-101-plan"], "B1"))
try("and above where it faces north", y_of(pages["northward/S-101-plan"], "F1") <
    y_of(pages["northward/S-101-plan"], "B1"))
-- Mirrored, all of the rack: the places of its modules and posts along the page, from the middle of the modules.
local function places(p, way)
  local list, low, high = {}, math.huge, -math.huge
  for _, l in ipairs(p.lines) do
    if l.layer == "E-MODL" then
      low, high = math.min(low, l.x1, l.x2), math.max(high, l.x1, l.x2)
    end
  end
  for _, l in ipairs(p.lines) do
    if l.layer == "E-MODL" or l.layer == "S-FRAM" then
      list[#list + 1] = way * (l.x1 - (low + high) / 2) * p.ratio
    end
  end
  table.sort(list)
  return list
end
do
  local one, other = places(south, 1), places(north, -1)
  local most = 0
  for i, at in ipairs(one) do most = math.max(most, math.abs(at - (other[i] or math.huge))) end
  -- A file has thousandths of a mm on paper; the two pages may be of different scales.
  try("a mirrored job mirrors", #one == #other and #one > 20 and most < 0.001 * (south.ratio + north.ratio),
      most .. " mm")
end

-- Seen from the front, west is on the left of a rack that faces south and on the right of one that faces north.
try("the front from the south", is(pages["southward/S-202-front"], "F1").box[1] <
    is(pages["southward/S-202-front"], "F3").box[1])
try("the front from the north", is(pages["northward/S-202-front"], "F1").box[1] >
    is(pages["northward/S-202-front"], "F3").box[1])

try("diagonals of the egg farm", laws.diagonals(pages["egg-farm/S-101-plan"]))
try("clamps of the egg farm", laws.clamps(pages["egg-farm/S-102-array"]))
-- Seen square to the glass: of modules that face south the west is on the left, of those that face north on the right.
for path, sign in pairs { ["egg-farm/S-102-array"] = 1, ["wool-store/S-103-array"] = -1,
    ["packhouse/S-103-array.one"] = -1 } do
  local p = pages[path]
  try(path .. ": its west", sign * (at_x(p, "1-2") - at_x(p, "1-1")) > 0)
  try(path .. ": what it says of its west", has(p, sign > 0 and "West is on the left" or "West is on the right"))
end
try("modules of the egg farm", laws.modules(pages["egg-farm/S-102-array"]))

-- Splices and strings. The dairy's rails: 11,584 mm out of sticks of 6 m, one splice on each of four, worked by hand
-- (tests/results/dairy.case). One string has the twelve modules of a rack of the deep frost, so each of them says so;
-- on the egg farm nobody said which of the eight is in which, so each has a box for a pencil.
do
  local splices = page.boxes(pages["dairy/S-103-array"])
  try("splices of the dairy's rack", splices == 4, splices .. "")
  local own, named = work .. "/own.svg", 0
  sh(stringline("draw examples/deep-frost/job.sline array.west --set job.stage=permit -o " .. quoted(own)))
  for _, t in ipairs(page.read(read(own)).texts) do if t.text:match "^%d%-%d west$" then named = named + 1 end end
  try("modules of one string", named == 12, named .. "")
  -- The sheet that is typical of all three has numbers, and says whose strings they are.
  local p, plain = pages["deep-frost/S-104-array"], 0
  for _, t in ipairs(p.texts) do if t.text:match "^%d%-%d$" then plain = plain + 1 end end
  try("modules of three racks", plain == 12 and has(p, "All modules of a rack are in one"), plain .. "")
  local on_rails, pencil = page.boxes(pages["egg-farm/S-102-array"])
  try("boxes for strings", pencil == 8 and on_rails == 0, pencil .. " and " .. on_rails)
  -- 75 mm between the modules, each rail 32 mm beyond them: 75 - 64 = 11 mm (examples/packhouse).
  try("an expansion joint", has(pages["packhouse/S-103-array.one"],
      "expansion joint: 75 mm between modules, 11 mm between rails"))
end

try("a brace from bolt to bolt", laws.brace(pages["deep-frost/S-201-side.west"]))

-- ---- the low sun, the trench ---------------------------------------------------------------------------------------

try("the light on the ranch's rows", laws.light(pages["broken-wheel/S-212-rows.five"], 90 - 47.8 - 23.44, "right", 2))
try("and on its others", laws.light(pages["broken-wheel/S-211-rows.four"], 90 - 47.8 - 23.44, "right", 1))
try("on the dairy's rows", laws.light(pages["dairy-rows/S-205-rows"], 90 - 47.68 - 23.44, "right", 2))
try("on rows that are turned from the sun", laws.light(pages["dairy-turned/S-205-rows"], 21.55, "right", 2))
try("in the south from the right", laws.light(pages["dairy-south/S-205-rows"], 90 - 47.68 - 23.44, "left", 2))
try("a gap as it was declared", has(pages["dairy-rows/S-205-rows"], "6000 mm"))
-- Rise 1,987 mm, 5.81 m of shadow (worked by hand, invented job: "5.81 m at noon"), 190 mm of 6 m in the sun.
for _, want in ipairs { "5810 mm", "190 mm", "18.88 deg" } do
  try("the table says " .. want, has(pages["dairy-rows/S-205-rows"], want))
end

local IN = 25.4
try("the trench of the egg farm", laws.trench(pages["egg-farm/C-301-trench"], 18 * IN, 6 * IN, 1.029 * IN, 1))
try("two conduits in one", laws.trench(pages["well-and-shop/C-301-trench"], 18 * IN, 6 * IN, 1.36 * IN, 2))
try("a trench in millimetres", laws.trench(pages["packhouse/C-301-trench"], 600, 300, 1.59 * IN, 2))
do
  local folder = work .. "/bedded"
  local function made(name, from, find, by)
    os.execute("mkdir -p " .. quoted(folder) .. " && cp -R " .. quoted("examples/" .. from) .. " " ..
        quoted(folder .. "/" .. name))
    local script, n = read(folder .. "/" .. name .. "/job.sline"):gsub(find, by)
    assert(n == 1)
    lanes.write(folder .. "/" .. name .. "/job.sline", script)
    local file = folder .. "/" .. name .. ".svg"
    local said = sh(stringline("draw " .. quoted(folder .. "/" .. name .. "/job.sline") ..
        " trench --set job.stage=permit -o " .. quoted(file)))
    local p = page.read(assert(read(file), said))
    for what, check in pairs(page.checks) do none(name .. ", a bedded trench: " .. what, check(p)) end
    pages["bedded/" .. name] = p
    return p
  end
  local tape = "tape_above_conduit = 12in,"
  local p = made("egg", "egg-farm", tape, tape .. ' width = 8in, bedding = { of = "sand", below = 4in, above = 3in },')
  try("a trench with width and bedding", laws.dug(p, 8 * IN, (18 + 1.029 + 4) * IN, 15 * IN))
  for _, want in ipairs { "8 in", "4 in", "3 in" } do try("its section says " .. want, has(p, want)) end
  tape = "tape_above_conduit = 350mm,"
  p = made("store", "wool-store", tape, tape ..
      ' width = 300mm, bedding = { of = "sand", below = 50mm, above = 50mm },')
  try("one in millimetres", laws.dug(p, 300, 600 + 1.029 * IN + 50, 550))
  tape = "tape_above_conduit = 12in,"
  p = made("bed alone", "egg-farm", tape, tape .. ' bedding = { of = "sand", below = 4in },')
  try("bedding alone", laws.dug(p, nil, (18 + 1.029 + 4) * IN, 18 * IN))
  try("its width is a sign", has(p, "sides stand as a sign") or has(p, "stand as a sign"))
  p = made("width alone", "egg-farm", tape, tape .. " width = 6in,")
  try("a width alone", laws.dug(p, 6 * IN, nil, 18 * IN))
end
do
  local sheet = sh(stringline "sheet examples/egg-farm/job.sline trench --set job.stage=build"):gsub("%s+", " ")
  local said = {}
  for i, t in ipairs(pages["egg-farm/C-301-trench"].texts) do said[i] = t.text end
  local all = table.concat(said, " ")
  for _, want in ipairs { "warning tape 1 ft above the conduit, 6 in down", "top of the conduit 1 ft 6 in down",
      "dig deeper by the conduit's outside diameter and its bedding" } do
    try("sheet and section: " .. want, sheet:find(want, 1, true) and all:find(want, 1, true))
  end
  try("what a trench crosses", has(pages["north-pasture/C-301-trench"], "water to the stock tank"))
end

try("blocks on a plan", laws.blocks_on_plan(pages["stone-fold measured/S-103-plan.far"]))
-- Ground that is 60 mm higher at the back post: one block lies level. Posts that are driven about as deep as they stand
-- high: what is above the ground and what is below it stand apart, and no text on the line of the ground.
for name, change in pairs {
  uneven = { "west = (%b{})", "west = { F = mm{ 0, 0 }, B = mm{ 60, 60 } }" },
  driven = { 'footing "beam" (%b{})', 'footing "beam" { kind = "driven", driven_depth = 2350mm }' },
} do
  local folder = work .. "/" .. name
  os.execute("cp -R " .. quoted(lanes.top .. "/tests/results/jobs/stone-fold") .. " " .. quoted(folder))
  local script = read(folder .. "/job.sline"):gsub(change[1], change[2], 1)
  lanes.write(folder .. "/job.sline", (script:gsub("elevation = (%b{})", 'elevation = measured(%1, "tape")', 1)))
  local file = folder .. "/side.svg"
  local said = sh(stringline("draw " .. quoted(folder .. "/job.sline") ..
      " side.west.1 --paper A3 --set job.stage=permit -o " .. quoted(file)))
  local p = page.read(assert(read(file), said))
  for what, check in pairs(page.checks) do none(name .. " from the side: " .. what, check(p)) end
  pages[name] = p
end
do
  local folder = work .. "/rows-turned"
  os.execute("cp -R " .. quoted(lanes.top .. "/tests/results/jobs/stone-fold") .. " " .. quoted(folder))
  local script = read(folder .. "/job.sline"):gsub('rack "east" {', '%0 behind = "west", gap = 4m, ', 1):gsub(
      'rack "far"  {', '%0 behind = "east", gap = 4m, ', 1)
  lanes.write(folder .. "/job.sline", script .. '\ntilts "east" { rack = "east", pivot = "front", ' ..
      'positions = { { tilt = 40deg, from = "05-01" }, { tilt = 30deg, from = "09-01" } } }\n')
  local file = folder .. "/rows.svg"
  local said, all = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " rows -o " .. quoted(file))), {}
  local p = page.read(assert(read(file), said))
  for i, t in ipairs(p.texts) do all[i] = t.text end
  -- Deep, high and shaded by hand in tests/results/seasons-shadow.case.
  for _, want in ipairs { "as on the shortest day, at 40 deg, from 05-01", "3505 mm", "+3656 mm", "7065 mm" } do
    try("rows of racks that are turned: " .. want, table.concat(all, " "):find(want, 1, true))
  end
  for what, check in pairs(page.checks) do none("rows of racks that are turned: " .. what, check(p)) end
end
try("posts on a block that lies level", laws.stands_on_block(pages.uneven))
try("planted: a block that follows the ground", not laws.stands_on_block(pages.driven))
for _, want in ipairs { "2350 mm", "2425 mm" } do try("a driven post: " .. want, has(pages.driven, want)) end
for path, want in pairs { ["egg-farm/S-301-footing"] = "keyed to the concrete: two 1/2 in rods through the post",
    ["broken-wheel/S-302-footing.helical"] = "its top helix 10 in wide and 7 ft deep" } do
  local said = {}
  for i, t in ipairs(pages[path].texts) do said[i] = t.text end
  try("a footing's section says what holds: " .. want, table.concat(said, " "):find(want, 1, true))
end
try("rows of racks on paper for a printer at home", pages["dairy-A4/S-205-rows"].ratio)
try("a block from the side", laws.block_from_side(pages["stone-fold measured/S-203-side.far"]))

-- ---- parts ---------------------------------------------------------------------------------------------------------

-- The row of 138 m: 46 posts in each line, 120 columns of two modules, each on one part; match lines at both ends of a
-- part but the first and last; one scale for all.
do
  local function parts_of(view)
    local list = {}
    local sheet = ({ plan = 101, array = 102, front = 202 })[view]
    local function name(k) return ("longer/S-%d%s-%s"):format(sheet, k > 1 and "." .. k or "", view) end
    while pages[name(#list + 1)] do list[#list + 1] = pages[name(#list + 1)] end
    while list[#list] and not list[#list].ratio do list[#list] = nil end          -- notes go on behind them
    return list
  end
  local function once(view, want, pattern)
    local list, seen, n, lines = parts_of(view), {}, 0, 0
    local twice
    for _, p in ipairs(list) do
      try(view .. " in parts: one scale", p.ratio and p.ratio == list[1].ratio)
      local here = {}
      for _, t in ipairs(p.texts) do
        if t.text:match "^match line: part %d+ of %d+$" then lines = lines + 1 end
        if t.text:match(pattern) then here[t.text] = true end
      end
      for text in pairs(here) do
        twice, n = twice or seen[text], n + 1
        seen[text] = text
      end
    end
    try(view .. " in parts: each once", #list > 1 and n == want and not twice, #list .. " parts, " .. n .. ", twice " ..
        tostring(twice))
    try(view .. " in parts: match lines", lines == 2 * (#list - 1), lines .. " of " .. #list)
  end
  once("plan", 92, "^[FB]%d+$")
  once("front", 46, "^F%d+$")
  once("array", 240, "^[12]%-%d+$")
end

-- ---- the numbers of the sheets -------------------------------------------------------------------------------------

-- The post schedule: levels, cuts and heights of the last posts, and each row of the table, as the sheet prints them.
do
  local sheet = sh(stringline "sheet examples/egg-farm/job.sline posts")
  local side, plan = pages["egg-farm/S-201-side"], pages["egg-farm/S-101-plan"]
  local rows = 0
  for _, post in ipairs { "F3", "B3" } do
    local ground = sheet:match("\n  " .. post .. " +[%d/-]+ in +[%d/-]+ in +(%S+ in) ")
    local top, cut, above, below = sheet:match("\n  " .. post ..
        " +(%S+ in) +([%d/ft -]+ in) +%S+ +(%S+ in) +(%S+ in)")
    for _, want in ipairs { { "ground at " .. post .. " ", ground }, { "top of " .. post .. " ", top },
        { "", cut }, { "", above }, { "", below } } do
      rows = rows + 1
      try("side, " .. post .. ": " .. want[1] .. tostring(want[2]), want[2] and has(side, want[1] .. want[2]))
    end
  end
  try("five numbers of two posts", rows == 10)
  for post, x, y, ground in sheet:gmatch "\n  ([FB]%d) +([%d/-]+ in) +([%d/-]+ in) +(%S[%S ]-)  " do
    for _, t in ipairs { post, x, y, ground } do try("plan, " .. post .. ": " .. t, has(plan, t)) end
  end
end

-- ---- the same everywhere -------------------------------------------------------------------------------------------

do
  local job = "examples/egg-farm/job.sline side"
  for _, form in ipairs { "svg", "dxf", "pdf", "png" } do
    local one, other = work .. "/here." .. form, work .. "/there." .. form
    local said, status = sh(stringline("draw " .. job .. " -o " .. quoted(one)))
    try("a page as " .. form, status == "0" and said == "" and there(one), said)
    sh("LC_ALL=de_DE.UTF-8 LC_NUMERIC=de_DE.UTF-8 TZ=Asia/Tokyo " .. stringline("draw " .. job .. " -o " ..
        quoted(other)))
    try(form .. ": the same bytes in another place", there(one) and read(one) == read(other))
  end
  local pdf = read(work .. "/here.pdf") or ""
  for _, want in ipairs { "/Lang (en)", "/PrintScaling /None", "/ID [<", "/CreationDate (20261102", "/Outlines",
      "/PageLabels" } do
    try("PDF has " .. want, pdf:find(want, 1, true))
  end
  try("PNG is one", (read(work .. "/here.png") or ""):sub(1, 8) == "\137PNG\r\n\26\n")
  do
    local said, status = sh("qpdf --check " .. quoted(work .. "/here.pdf"))
    try("qpdf finds nothing", status == "0", said)
  end
  do
    local traced = sh("mutool trace " .. quoted(work .. "/here.pdf") .. " 1")
    local letters = {}
    for c in traced:gmatch 'unicode="(.-)"' do letters[#letters + 1] = c end
    local all = table.concat(letters):gsub("&quot;", '"'):gsub("&apos;", "'"):gsub("&lt;", "<"):gsub("&gt;", ">")
        :gsub("&amp;", "&"):gsub("&#(x?)(%x+);", function(x, n)
          return utf8.char(tonumber(n, x == "x" and 16 or 10))
        end)
    local side, missing = pages["egg-farm/S-201-side"], {}
    for _, t in ipairs(side.texts) do
      if not all:find(t.text, 1, true) and not all:gsub(" ", ""):find(t.text:gsub(" ", ""), 1, true) then
        missing[#missing + 1] = t.text
      end
    end
    none("the texts of the SVG stand in the PDF", missing)
    local widths = {}
    for w in traced:gmatch 'linewidth="([%d.]+)"' do widths[w] = true end
    local n = 0
    for w in pairs(widths) do
      n = n + 1
      local fits = false
      for _, pen in ipairs { 0.18, 0.25, 0.35, 0.5, 0.7 } do
        fits = fits or math.abs(tonumber(w) * 25.4 / 72 - pen) < 0.001
      end
      try("a pen of the PDF: " .. w, fits)
    end
    try("pens of the PDF", n >= 3, n .. "")
  end
end

-- ---- withheld, told ------------------------------------------------------------------------------------------------

do
  local p = pages["broken-wheel-quote/S-101-plan"]
  try("a plan at stage quote is withheld", has(p, "WITHHELD") and not has(p, "F1"))
  try("an elevation at stage quote says so", has(pages["broken-wheel-quote/S-201-side.one"], "QUOTE: not for a permit"))
  local waived = pages["broken-wheel/S-201-side.one"]
  try("a waiver stands on the page that it touches", has(waived, "WAIVED R05"))
  local said = sh(stringline "draw examples/egg-farm/job.sline --set ground.elevation.F1=0in")
  try("the list says what is withheld", said:find("withheld: the ground is not given as measured", 1, true), said)
  local guess = work .. "/guess"
  os.execute("cp -R examples/egg-farm " .. quoted(guess))
  local script = read(guess .. "/job.sline"):gsub('snow = looked_up%(10psf, "county handout"%)',
      'snow = guess(10psf, "the neighbour")')
  lanes.write(guess .. "/job.sline", script)
  sh(stringline("draw " .. quoted(guess .. "/job.sline") .. " side -o " .. quoted(work .. "/guess.svg")))
  try("a guess stands on the page", (read(work .. "/guess.svg") or ""):find("GUESS: site.snow", 1, true))
end

-- ---- names ---------------------------------------------------------------------------------------------------------

do
  local folder = work .. "/names"
  os.execute("cp -R examples/egg-farm " .. quoted(folder))
  local script = read(folder .. "/job.sline")
  local names = { ["A & B < C > \"D\" %%u 50% ^J \\U+0041 ü é"] = true, [("Wide meadow "):rep(25)] = true,
                  [("W"):rep(300)] = true, ["Corn \u{1F33D} \u{4E2D}\u{6587}"] = true }
  for name in pairs(names) do
    lanes.write(folder .. "/job.sline", (script:gsub('name = "Egg farm, eight modules"', function()
      return ("name = %q"):format(name)
    end)))
    local short = name:sub(1, 20)
    for _, form in ipairs { "svg", "dxf", "pdf", "png" } do
      local said, status = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " side -o " ..
          quoted(folder .. "/side." .. form)))
      try(short .. ": " .. form, status == "0", said)
    end
    local p = page.read(read(folder .. "/side.svg"))
    for what, check in pairs(page.checks) do none(short .. ": " .. what, check(p)) end
    local complaints, d = dxf.read(read(folder .. "/side.dxf"))
    none(short .. ": DXF", complaints)
    local in_svg, in_dxf = {}, {}
    for i, t in ipairs(p.texts) do in_svg[i] = t.text end
    table.move(d.texts, 1, #d.texts, 1, in_dxf)
    table.sort(in_svg)
    table.sort(in_dxf)
    try(short .. ": the same letters in both", table.concat(in_svg, "\n") == table.concat(in_dxf, "\n"))
    if name:find "Corn" then try("letters that the font has not are told", has(p, "Corn U+1F33D U+4E2DU+6587")) end
  end
  lanes.write(folder .. "/job.sline", (script:gsub("Egg farm, eight modules", "Egg\\nfarm")))
  local said, status = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " side -o " ..
      quoted(folder .. "/line.svg")))
  try("a name with a line end is refused", status == "2" and not there(folder .. "/line.svg"), said)
end

-- ---- files that are whole or not there -----------------------------------------------------------------------------

do
  local folder = work .. "/files"
  os.execute("mkdir -p " .. quoted(folder))
  local function refused(what, words, status, ...)
    local said, got = sh("cd " .. quoted(lanes.top) .. "; " .. words)
    local ok = got == status
    for _, want in ipairs { ... } do ok = ok and said:find(want, 1, true) end
    try(what, ok, said .. "exit " .. tostring(got))
  end
  local egg = "draw examples/egg-farm/job.sline "
  refused("no ending", stringline(egg .. "side -o " .. quoted(folder .. "/side")), "2", "U008", "ending")
  refused("another ending", stringline(egg .. "side -o " .. quoted(folder .. "/side.gif")), "2", "U008", "ending")
  refused("no file", stringline(egg .. "side"), "2", "U001", "-o side.pdf")
  refused("no such view", stringline(egg .. "sied -o " .. quoted(folder .. "/x.svg")), "2", "U004",
      "did you mean 'side'?")
  refused("several pages in one SVG", stringline("draw examples/wool-store/job.sline side -o " ..
      quoted(folder .. "/x.svg")), "2", "U008", "side.west")
  refused("no such paper", stringline(egg .. "side --paper leter -o " .. quoted(folder .. "/x.svg")), "2", "U008",
      "did you mean 'letter'?")
  refused("a paper in small letters", stringline(egg .. "--paper a4"), "2", "U008", "did you mean 'A4'?")
  refused("a paper like none", stringline(egg .. "--paper papyrus"), "2", "U008", "letter, tabloid, arch C, arch D")
  refused("paper of what is not drawn", stringline "run examples/egg-farm/job.sline --paper letter", "2", "U006",
      "draw takes it")
  refused("no rack", stringline("draw tests/pages/jobs/smallest/job.sline"), "2", "U004", "no rack")
  refused("another form of a page", stringline(egg .. "side --format json -o " .. quoted(folder .. "/x.svg")), "2",
      "U006", "ending")
  refused("a full disk", stringline(egg .. "side -o /dev/full"), "2", "ending")
  for _, form in ipairs { "svg", "pdf", "dxf", "png" } do
    refused("a file that may not grow: " .. form, "ulimit -f 4; " .. stringline(egg .. "side -o " ..
        quoted(folder .. "/side." .. form)), "3", "F040")
  end
  refused("a folder of files that may not grow", "ulimit -f 4; " .. stringline(egg .. "-o " .. quoted(folder .. "/in")),
      "3", "F040")
  refused("a folder that is a file", stringline(egg .. "-o README.md"), "3", "F040")
  local left = sh("find " .. quoted(folder) .. " -type f")
  try("nothing half written is left", left == "", left)
  -- The command away from its module, and from its font: what needs them is told, what does not is written.
  local alone = work .. "/alone"
  os.execute("mkdir -p " .. quoted(alone) .. " && cp " .. quoted(lanes.binary) .. " " .. quoted(alone .. "/stringline"))
  local binary = quoted(alone .. "/stringline") .. " " .. egg
  refused("without the module", binary .. "side -o " .. quoted(alone .. "/side.pdf"), "3", "F043",
      "stringline-paper.so")
  refused("without it, SVG", binary .. "side -o " .. quoted(alone .. "/side.svg"), "0")
  local built = lanes.binary:gsub("[^/]*$", "")
  os.execute("cp " .. quoted(built .. "stringline-paper.so") .. " " .. quoted(alone))
  refused("without the font", binary .. "side -o " .. quoted(alone .. "/side.png"), "3", "F043",
      "DejaVuSansCondensed.ttf")
  lanes.write(alone .. "/DejaVuSansCondensed.ttf", "no font")
  refused("with a broken font", binary .. "side -o " .. quoted(alone .. "/side.png"), "3", "F043", "cannot be read")
  lanes.write(alone .. "/stringline-paper.so", "no module")
  refused("with a broken module", binary .. "side -o " .. quoted(alone .. "/side.pdf"), "3", "F043",
      "cannot be opened")
  try("and nothing is left of them", not there(alone .. "/side.pdf") and not there(alone .. "/side.png"))
end

-- ---- large and small -----------------------------------------------------------------------------------------------

do
  local function of(columns, part)
    local said, status = sh(stringline("draw " .. quoted(BIG .. "/long.sline") .. " plan" .. (part or "") ..
        " --set rack.long.columns=" .. columns .. " -o " .. quoted(work .. "/long" .. columns .. ".svg")))
    local text = read(work .. "/long" .. columns .. ".svg")
    return text and page.read(text), said, status
  end
  -- What is unknown of it has no room beside it: it goes on behind it.
  local p, said = of(20, ".1")
  try("a long rack", p and p.ratio and p.width == 420 and has(p, "Notes go on: S-101.2.") and not p.cut, said)
  if p then for what, check in pairs(page.checks) do none("long: " .. what, check(p)) end end
  p, said = of(100)
  try("a longer one on larger paper", p and p.ratio and p.width > 594, said)
  if p then for what, check in pairs(page.checks) do none("longer: " .. what, check(p)) end end
  local status
  p, said, status = of(200)
  try("one that no sheet holds is several pages", not p and status == "2" and said:find("parts, and", 1, true), said)
  sh(stringline("draw " .. quoted(BIG .. "/longer.sline") .. " plan.2 -o " .. quoted(work .. "/second.svg")))
  p = page.read(read(work .. "/second.svg"))
  try("and one of them by its name", p.part == "2" and has(p, "match line: part 1 of"))
  said, status = sh(stringline("draw " .. quoted(BIG .. "/longer.sline") .. " plan.99 -o " .. quoted(work .. "/x.svg")))
  try("none of a number that there is not", status == "2" and said:find("U004", 1, true), said)
  said, status = sh(stringline("draw examples/egg-farm/job.sline plan.2 -o " .. quoted(work .. "/x.svg")))
  try("no part of a page that is whole", status == "2" and said:find("U004", 1, true), said)
end

require "draw_faults"(try, work, pages)

tried.leave "draw"
