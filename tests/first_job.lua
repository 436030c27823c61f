#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- The first hour of somebody who knows the trade and not the program: tests/first_job.lua BINARY, from the top folder.
-- examples/north-pasture was written from README and what `new --grid-tied` prints alone; what was said on the way is
-- provoked here again, by the same mistake.  A message is right if it names its place and the next step: what is
-- wanted of each was noted down by whoever met it.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
lanes.options("tests/first_job.lua BINARY")

local LINES, COLUMNS = 60, 120            -- by the issue: at most so many, of at most so many characters
local EXAMPLE = "examples/north-pasture"

local passed, failed = 0, 0
local function try(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more and "\n    " .. tostring(more):sub(1, 3000):gsub("\n", "\n    ") or ""))
end

-- Words in a row, however the lines are broken.
local function flat(text) return (text:gsub("%s+", " ")) end

-- ---- the job itself ------------------------------------------------------------------------------------------------

local script = lanes.read(EXAMPLE .. "/job.sline")
try("at most 60 lines", select(2, script:gsub("\n", "")) <= LINES)
for line in script:gmatch "[^\n]*" do try("at most 120 columns: " .. line, utf8.len(line) <= COLUMNS) end

-- What a person works out beside it, with the words of the page that must come to the same.
local SAYS = {
  -- 12 x 37.9 V x (1 + 0.26 % x (25 K + 35 K)) = 454.8 V x 1.156; -31 degF is -35 degC
  { "the coldest dawn", "525.7 V <= 600 V" },
  -- 150 ft in the trench, 2 x 3 ft up, 8 ft along the wall, 2 x 4 ft to connect
  { "the wire", "each cut 172 ft" },
  -- 8 holes of (pi/4 x 18 in x 18 in - 5.5 in x 5.5 in) x (88 - 6) in, and 10 %: 93.63 ft3, over 27
  { "the concrete", "3.5 yd3 >= 3.468 yd3" },
  -- (2 x 1722 + 20) mm x sin 35 deg = 78.22 in above the edge of 44 in, and the ground 2 in below the datum
  { "the top edge", "10 ft 4-1/4 in <= 12 ft" },
  -- 6 x 1134 mm + 5 x 20 mm + 2 x 1.25 in = 274.3 in
  { "the rails", "22 ft 10-5/16 in <= 24 ft" },
  -- 12 x 131 + 31 x 2.10 + 1000 x 0.41 + 17 x 7.80 + 4 x (31.50 + 18.90 + 58 + 84) + 3.5 x 185, in dollars
  { "the bill", "All that has a price: $3596.80." },
}

-- ---- what was met, in order ----------------------------------------------------------------------------------------

-- Each: the mistake, in which file what stood there, what was written instead; the exit status; what must be said.
-- A text to find that begins with ^ goes to the end of its line, all = true to the end of the file.
local T = "job.sline"
local MET = {
  -- the design, as it was first drawn
  { "holes for the frost alone", T, "hole_depth = 88in", "hole_depth = 72in", 1,
    "BROKEN R31", "5 ft 6 in <", "BROKEN R34",                                        -- 72 in - 6 in
    "flips at: footing.hole.hole_depth = 7 ft 1-15/16 in" },
  { "an edge for the mower alone", T, "lower_edge = 44in", "lower_edge = 36in", 1,
    "BROKEN R14", "flips at: rack.pasture.lower_edge = 3 ft 6 in, now 3 ft" },        -- 30 in and 12 in
  { "two people for the back posts", T, "crew = 3,", "", 1,
    "BROKEN R68", "holds with: 3 people lift it, job.crew = 3" },
  { "two strings on an input for one", T, "series = 12,  parallel = 1", "series = 6,  parallel = 2", 1,
    "BROKEN R44", "it can use 14 A", "NOT FOR THIS JOB:" },
  -- prices
  { "no price of the posts", "prices/yard.csv", "6x6 UC4B,12 ft,$58,Burr Oak Lumber,2026-10-12\n" ..
      "6x6 UC4B,16 ft,$84,Burr Oak Lumber,2026-10-12\n", "", 1,
    "UNKNOWN R29", "no price list has stock lengths of 6x6 UC4B", "ask: vendor; with a quote" },
  -- 150 ft, 2 x 3 ft up and 8 ft along the wall; the wire has 2 x 4 ft more to connect it
  { "what the vendor has to be asked", "prices/yard.csv", "10 AWG THWN-2 copper,500 ft,$0.41/ft,Halfmoon Supply," ..
      "2026-10-05\nPVC 40 1 in,10 ft,$7.80,Halfmoon Supply,2026-10-05\n", "", 1, command = "sheet", more = " buying",
    "3 x 10 AWG THWN-2 copper, the longest 172 ft: no price", "1 x PVC 40 1 in, 164 ft in all: no price" },
  { "ready-mix, and no truck", T, '^truck {', "", 1,
    "UNKNOWN R40", 'has concrete ready-mix; declare the truck that brings it: truck { volume = ..., vendor = ' ..
      '"Split Rock Ready Mix" }' },
  { "ready-mix by the load", "prices/yard.csv", "$185/yd3", "$185", 0, command = "run",
    "no price of a volume, such as $/yd3 or $/m3, from the vendor of the truck" },
  { "a price without its currency", "prices/yard.csv", ",$131,", ",131,", 2,
    "[D003]", "help: write the currency, as in $46 or $1.05/ft or $172/yd3" },
  { "a price with its thousands apart", "prices/yard.csv", ",$131,", ',"$1,131.00",', 2,
    "[F032]", "help: digits are not grouped: write $1131" },
  { "a day as it is said", "prices/yard.csv", "PVC 40 1 in,10 ft,$7.80,Halfmoon Supply,2026-10-05",
    "PVC 40 1 in,10 ft,$7.80,Halfmoon Supply,10/5/2026", 2,
    "[D003]", "help: write year, month and day, as in 2026-11-02" },
  -- papers
  { "no papers yet", T, "^-- Each paper says", "", 1, all = true,
    "UNKNOWN R74", "ask: engineer; with a paper that covers it", "ask: electrician; with a paper that covers it" },
  { "a drawing that does not say for what", T, "made_for = { site = { coldest = -40degF", "", 1, all = " }",
    "UNKNOWN R74", "Marit Quillon's paper E1 and E2 does not say what it was made for",
    "ask: Marit Quillon; with what it was made for: made_for = { rack = { modules = ..., rows = ..., columns = ..., " ..
      "orientation = ... }, site = { coldest = ..., hottest_air = ... }, strings = { series = ..., parallel = ..., " ..
      "combined_at = ... }, inverter = { max_voltage = ..., backfeed = ... } }" },
  { "a paper that leaves facts out", T, ', soil = { class = "sand" } },', " },", 1,
    "UNKNOWN R74", "does not say for which site.soil.class it was made",
    "ask: Bastian Froe; with these facts, for made_for: site = { soil = { class = ... } }" },
  -- the starter's files, filled in here and not there
  { "parts that are still notes", "parts/modules.csv", "\nLP-415", "\n#  LP-415", 2,
    "[D014]", "help: parts/modules.csv has no row yet: write one there" },
  { "a first line that is still a comment", T, 'trench "main"', '--trench "main"', 2,
    "[Q124]", "is the line that opens it a comment?" },
  { "a last line that is still a comment", T, "\n}\nplace", "\n--}\nplace", 2,
    "[Q123]", "help: put '}' where it ends" },
  { "a rack before its footing", T, 'footing "hole" { hole_diameter = 18in, hole_depth = 88in, gravel = 6in, ' ..
    'keyed = "two 1/2 in rods through the post",\n  fill = "concrete", frost_grip = "sleeve", ' ..
    'frost_grip_by = "the crew: two layers of greased sheet down to 48 in" }', "", 2,
    "[D014]", "help: none is declared above this line" },
  -- what is written on a pad
  { "inches as a mark", T, "looked_up(48in,", 'looked_up(48",', 2, "[Q113]", "help: write 48in" },
  { "feet and inches as marks", T, "= 44in,", "= 3'8\",", 2, "[Q113]", "help: write 3ft8in" },
  { "a unit behind a blank", T, "tilt = 35deg,  az", "tilt = 35 deg,  az", 0, "56 of 56 rules hold" },
  { "a unit spelt out", T, "usable_current = 14A", "usable_current = 14 amps", 2, "[Q102]", "help: did you mean 'A'?" },
  { "no unit", T, "looked_up(48in,", "looked_up(48,", 2, "[D003]", "help: write the unit, as in 18in" },
  { "a unit in quotes", T, "looked_up(48in,", 'looked_up("48 in",', 2, "[D003]", "help: it is written without quotes" },
  { "degrees of whom", T, "looked_up(-31degF,", "looked_up(-31F,", 2,
    "[Q103]", "help: farad or Fahrenheit? write degF" },
  { "pounds on a square foot", T, "looked_up(40psf,", "looked_up(40lb/ft2,", 2, "[D003]", "write psf" },
  { "a bearing in words", T, "azimuth = 180deg", 'azimuth = "south"', 2, "[D003]", "needs an angle (like 184deg)" },
  { "a latitude as a number", T, '"46.70 N"', "46.70", 2, "[D003]", 'needs a latitude (like "36.16 N")' },
  { "a size of wire as a number", T, 'wire = "10 AWG"', "wire = 10", 2, "[D003]", "help: write 10 AWG" },
  { "a part's number without quotes", T, 'modules = "LP-415",  mid', "modules = LP-415,  mid", 2,
    "[E001]", "help: the number of a part stands in quotes" },
  { "a day as it is written", T, '"2026-10-19"', '"10/19/2026"', 2, "[D003]",
    "help: write year, month and day, as in 2026-11-02" },
  { "the office's other edition", T, 'told("NEC 2023",', 'told("NEC 2014",', 2,
    "[D003]", 'no_data("NEC 2014")', lacks = "did you mean" },
  { "the office's other book", T, 'told("IBC 2018",', 'told("IRC 2018",', 2,
    "[D003]", 'no_data("IRC 2018")', lacks = "did you mean" },
  { "a code in small letters", T, 'told("ASCE 7-16",', 'told("asce 7-16",', 2, "[D003]", 'did you mean "ASCE 7-16"?' },
  { "soil as the owner calls it", T, 'measured("sand",', 'measured("sandy loam",', 2,
    "[D003]", "is one of bedrock, sedimentary rock, sandy gravel, sand, clay" },
  { "the box by another name", T, 'into = "shed"', 'into = "inverter"', 2, "[D014]", "help: there are shed" },
  { "a limit without where it stands", "place.sline", 'setback = { 30ft, cite = "zoning handout, page 3" }',
    "setback = 30ft", 2, "[D003]", 'needs a limit (like { 20ft, cite = "..." })' },
  { "a share as a number", "house.sline", "{ 2%,", "{ 2,", 2, "[D004]", "must be at most 100 %, got 200 %" },
  { "a limit by another name", "house.sline", "shed_pile", "snow_pile", 2, "[D001]", "did you mean 'shed_pile'?" },
  { "a permit by another name", "place.sline", 'permits { "', 'permits { "land use", "', 2, "[D003]",
    'one of electrical, building, zoning, health' },
  { "the flood plain", T, 'none { "flood zone",', 'none { "flood plain",', 2, "[D003]", "flood zone" },
  -- spreadsheets
  { "no price of the rails", "prices/yard.csv", "2x6,24 ft,", "2x10,24 ft,", 1, "UNKNOWN R16",
    "no price list has stock lengths of 2x6",
    "ask: vendor; with a quote" },
  { "clamps under another name", "prices/yard.csv", "GM-30,,", "mid clamp 30,,", 1, "UNKNOWN R64",
    "no price list has GM-30", "ask: vendor; with a quote" },
  { "a range in one cell", "parts/clamps.csv", "mid,28 mm,", "mid,28-32 mm,", 2, "parts/clamps.csv:3:", "[F032]" },
  { "a voltage without its unit", "parts/modules.csv", "37.9 V,", "37.9,", 2, "parts/modules.csv:3:", "[D003]",
    "help: write the unit, as in 39.2 V" },
  -- on the command line
  { "the ending forgotten", T, "", "", 3, path = "job", "[F021]", "the folder has 'job.sline'" },
  { "the place's file by itself", T, "", "", 2, path = "place.sline",
    "[D010]", "it reads as a place file, which is judged with a job that names it" },
  { "a stage as an option", T, "", "", 2, more = " --stage build", "[U005]", "there is no option '--stage'" },
  { "on to the next stage", T, "", "", 1, more = " --set job.stage=build",
    "UNKNOWN R09", "UNKNOWN R77", "UNKNOWN R78", "WITHHELD stake-out", "help: declare it: locate { ... }" },
}

-- The files of the example with one of them changed; the text to find stands there once.
local function changed(case, text)
  local from, to = case[3], case[4]
  if from == "" then return text end
  local plain = from:gsub("^%^", "")
  local at, stop = text:find(plain, 1, true)
  if not at or text:find(plain, stop + 1, true) then return nil end
  if case.all == true then stop = #text
  elseif case.all then stop = #text - #case.all - 1                -- what closes the table around it stays
  elseif plain ~= from then stop = text:find("\n", at, true) end
  return text:sub(1, at - 1) .. to .. text:sub(stop + 1)
end

local start = { folder = lanes.folder,
    command = "stringline new --grid-tied start && stringline check start/job.sline" }
local whole = { command = "stringline run " .. EXAMPLE .. "/job.sline", folder = lanes.top }
local jobs, folders = { start, whole }, {}
for i in ipairs(MET) do folders[i] = lanes.folder .. "/met" .. i end
lanes.make_folders(folders)
for i, case in ipairs(MET) do
  lanes.copy({ EXAMPLE .. "/." }, folders[i])
  local path = folders[i] .. "/" .. case[2]
  local text = changed(case, lanes.read(path))
  try(case[1] .. ": stands there once", text, case[3])
  if text then lanes.write(path, text) end
  jobs[#jobs + 1] = { folder = folders[i], join = true,
      command = "stringline " .. (case.command or "check") .. " " .. (case.path or "job.sline") .. (case.more or "") }
end
lanes.run(jobs)

-- The starter runs at once, and asks; the finished job holds, and no message of the declarations came with it.
try("the starter runs", start.status == 0 and start.err == "", start.err)
try("the starter asks", start.out:find "Still to find out: what, from whom, with which tool")
try("the job holds", whole.status == 0 and whole.err == "", whole.err)
local page = flat(whole.out)
try("no rule is broken or unknown", not page:find "BROKEN" and not page:find "UNKNOWN" and not page:find "NOT READY")
try("nothing is guessed", not page:find "is a guess")
for _, s in ipairs(SAYS) do try(s[1] .. ": " .. s[2], page:find(s[2], 1, true)) end

for i, case in ipairs(MET) do
  local job, out = jobs[i + 2], flat(jobs[i + 2].out)
  try(case[1] .. ": status " .. case[5], job.status == case[5], job.status .. "\n" .. job.out)
  for k = 6, #case do try(case[1] .. ": says " .. case[k], out:find(case[k], 1, true), job.out) end
  if case.lacks then try(case[1] .. ": does not say " .. case.lacks, not out:find(case.lacks, 1, true), job.out) end
end

print(("first-job: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
