#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Sheets: tests/sheets.lua BINARY, from the top folder of the project.  The foot of them is at most a third of a sheet,
-- says of each source what it holds, where it stands and how it is known, and names no symbol of the code; JSON has
-- each citation.  What a crew sets out, cuts and drills by is held to numbers worked by hand, in every form.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local json = require "json"
local binary = arg[1]
if not binary then
  io.stderr:write("usage: tests/sheets.lua BINARY, from the top folder of the project\n")
  os.exit(2)
end
local passed, failed = 0, 0
local function try(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more and "\n    " .. more:gsub("\n", "\n    ") or ""))
end
local function said(words)
  local p <close> = io.popen("NO_COLOR=1 " .. binary .. " " .. words .. " 2>&1")
  return p:read "a"
end

local JOBS = { "examples/egg-farm", "examples/wool-store", "tests/pages/jobs/southern", "tests/pages/jobs/hay-barn",
    "tests/pages/jobs/large" }
local SHEETS = { "posts", "loads", "strings", "wire", "cutting", "buying", "stake-out", "mark-out",
    "pour", "marks", "drill", "clamps", "modules" }
local HEAD = "Numbers that were not read in the standard itself"

-- What the foot tells of each way in which numbers were come by, its lines put together.
local function told(foot)
  local by, how = {}, nil
  for line in (foot:gsub("\n    ", " ") .. "\n"):gmatch "\n  ([^\n]+)" do
    how = line:match "^([%a -]+): "
    if how then by[how] = line:sub(#how + 3):gsub("%s+", " ") end
  end
  return by
end

local feet = 0
for _, job in ipairs(JOBS) do
  for _, sheet in ipairs(SHEETS) do
    local what = "sheet " .. sheet .. " of " .. job
    local words = "sheet " .. job .. "/job.sline " .. sheet .. " --set job.stage=build"
    local text = said(words)
    local from = text:find("\n" .. HEAD, 1, true)
    local rests = json.read(said(words .. " --format json")).sources or {}
    try(what .. " has a foot where it rests on something", (from ~= nil) == (#rests > 0), text)
    if from then
      feet = feet + 1
      local body, foot = text:sub(1, from), text:sub(from + 1)
      local _, above = body:gsub("\n", "")
      local _, below = foot:gsub("\n", "")
      try(what .. ": the foot is at most a third", 3 * below <= above + below, below .. " of " .. above + below)
      foot = foot:match "^(.-)\n\nMade from"
      if sheet == "wire" or sheet == "strings" then
        try(what .. ": no number of it rests on lumber or concrete", not foot:find "PS 20" and not foot:find "concrete",
            foot)
      end
      local by, flat = told(foot), foot:gsub("%s+", " ")
      for _, r in ipairs(rests) do
        local section = r.cite:match "^(.-): " or r.cite:match "^(.-), %a" or r.cite
        local last = section:match "(%d[^ ]*)[%a ]*$" or section
        try(what .. " tells " .. r.known .. ": " .. r.cite, by[r.known] and by[r.known]:find(last, 1, true) and
            (not r.says or by[r.known]:find(r.says, 1, true)), foot)
        for _, symbol in ipairs(r.symbols) do
          if symbol:find "_" then try(what .. " names no " .. symbol, not flat:find(symbol, 1, true)) end
        end
      end
    end
  end
end
try("enough sheets have a foot", feet >= 20, tostring(feet))

-- ---- what a crew works by ------------------------------------------------------------------------------------------

-- The cells of a sheet: a row (its first cell) and a column (its key) -> text, the first of that name.
local function cells(words)
  local by = {}
  for _, b in ipairs(json.read(said(words .. " --format json")).blocks) do
    for _, row in ipairs(b.rows or {}) do
      for i, c in ipairs(b.columns) do
        local key = row[1].text .. ": " .. c.key
        by[key] = by[key] or row[i].text
      end
    end
  end
  return by
end

local FARM = "sheet examples/egg-farm/job.sline "
local BUILD = " --set job.stage=build"
-- By hand (the job's brief): a row of 180.945 in, posts 72.5 in apart and centred, so the first stands 17.972 in from
-- the modules' west end and 1.25 in more from the rail's; slope 136.378 in; lines 28.65 and 95.68 in behind the edge;
-- holes of 14.66 ft3 (60 in of 24 in wide around 5.5 x 5.5 in), with a tenth more 26.9 bags of 0.6 ft3.
local HAND = {
  { "posts", "F2: x", "72-1/2 in", "72-1/2 in (6 ft 1/2 in)" },
  { "posts", "B3: x", "145 in", "145 in (12 ft 1 in)" },
  { "posts", "B1: y", "67 in", "67 in (5 ft 7 in)" },
  { "posts", "F3: cut", "7 ft 7-5/8 in", "91-5/8 in (7 ft 7-5/8 in)" },
  { "posts", "B3: cut", "11 ft 6-1/8 in", "138-1/8 in (11 ft 6-1/8 in)" },
  { "posts", "F1: hole", "5 ft 6 in", "66 in (5 ft 6 in)" },
  { "posts", "F1: pad", "6 in", "6 in" },
  { "posts", "F1: trim", "5-1/4 in", "5-1/4 in" },              -- 96 - 1/8 - 90-5/8
  { "stake-out", "F3: from zero", "145 in", "145 in (12 ft 1 in)" },
  { "stake-out", "F3: bay", "72-1/2 in", "72-1/2 in (6 ft 1/2 in)" },
  { "stake-out", "F3: from zero to post", "159-3/4 in", "159-3/4 in (13 ft 3-3/4 in)" },
  { "stake-out", "back, B1 to B3: from zero", "67 in", "67 in (5 ft 7 in)" },
  { "stake-out", "back, B1 to B3: string", "+77-5/8 in", "+77-5/8 in (6 ft 5-5/8 in)" },
  { "pour", "B3: bags running", "162", "162" },                 -- 6 x 27
  { "pour", "B3: concrete", "14.66 ft3", "14.66 ft3" },
  { "marks", "rafter 2: from zero", "91-3/4 in", "91-3/4 in (7 ft 7-3/4 in)" },
  { "marks", "east end: from zero", "183-1/2 in", "183-1/2 in (15 ft 3-1/2 in)" },
  { "marks", "back posts: from zero", "109-1/8 in", "109-1/8 in (9 ft 1-1/8 in)" },
  { "drill", "3 rafters, lower end: from the marked end", "14-3/4 in", "14-3/4 in (1 ft 2-3/4 in)" },
  -- A row of 4 x 1134 mm and 3 gaps of 20: the middle of the second gap lies at 2 x 1134 + 30 = 2298 mm, 90.472 in, and
  -- 1.25 in more from the rail's end; rails in the middle of 300 to 450 mm: 375 mm from each corner, 14.764 in.
  { "clamps", "3: from zero", "91-3/4 in", "91-3/4 in (7 ft 7-3/4 in)" },
  { "clamps", "rail 1: from zero", "14-3/4 in", "14-3/4 in (1 ft 2-3/4 in)" },
  { "clamps", "rail 4: from zero", "121-5/8 in", "121-5/8 in (10 ft 1-5/8 in)" },       -- 3464 - 375 = 3089 mm
  { "clamps", "rail 4: from corner", "14-3/4 in", "14-3/4 in (1 ft 2-3/4 in)" },
  { "marks", "mid clamp, columns 2 and 3: from zero", "91-3/4 in", "91-3/4 in (7 ft 7-3/4 in)" },
  { "marks", "rail 2: from zero", "53 in", "53 in (4 ft 5 in)" },                       -- 1722 - 375 = 1347 mm
  { "modules", "2-4: column", "4", "4" },
}
local sheets = {}
for _, h in ipairs(HAND) do
  for i, whom in ipairs { "", " --for crew" } do
    local words = FARM .. h[1] .. BUILD .. whom
    sheets[words] = sheets[words] or cells(words)
    local want = h[2 + i]
    try(h[1] .. whom .. ", " .. h[2], sheets[words][h[2]] == want, "wanted " .. want .. ", got " ..
        tostring(sheets[words][h[2]]))
  end
end

-- By hand (the job's brief): stations 2.6 m apart, lines 2,103 mm; heads of the ground screws above the ground 1220 to
-- 1632 mm in front and 2850 to 3277 mm at the back; the last clamp lies 32 + 10 x 1134 + 8 x 20 + 75 mm from
-- the rail's end, since one gap is an expansion joint; the third of five supports lies under that.
local LEGS = "sheet examples/packhouse/job.sline "
for _, h in ipairs { { "posts", "F5: x", "10400 mm" }, { "posts", "B1: y", "2103 mm" },
    { "posts", "F5: above ground", "1632 mm" }, { "posts", "B5: above ground", "3277 mm" },
    { "posts", "F1: wide", "76 mm" }, { "clamps", "12: from zero", "11607 mm" },
    { "clamps", "rail 1: from corner", "480 mm" }, { "modules", "2-10: column", "10" } } do
  local words = LEGS .. h[1] .. " --set job.stage=permit --for crew"
  sheets[words] = sheets[words] or cells(words)
  try(h[1] .. " of legs that slide, " .. h[2], sheets[words][h[2]] == h[3], "wanted " .. h[3] .. ", got " ..
      tostring(sheets[words][h[2]]))
end
local joint = said(LEGS .. "marks --set job.stage=permit"):gsub("%s+", " ")
try("a support under no rail is told", joint:find("support 3 lies under no piece of a rail", 1, true), joint)
local poured = said(LEGS .. "pour --set job.stage=permit")
try("nothing is poured around screws", poured:find("nothing is poured", 1, true) and not poured:find "bags", poured)

-- Each in every form, for a crew too; what an office has is not for a crew.
for _, sheet in ipairs { "posts", "pour", "stake-out", "mark-out", "marks", "drill", "clamps", "modules", "cutting" } do
  local words = FARM .. sheet .. BUILD .. " --for crew --format "
  try(sheet .. " for a crew as CSV", said(words .. "csv"):find "\r\n" ~= nil)
  try(sheet .. " for a crew as HTML", said(words .. "html"):find("<table", 1, true) ~= nil)
  try(sheet .. " for a crew as Markdown", said(words .. "markdown"):find "\n| " ~= nil)
  local metric = said(FARM .. sheet .. BUILD .. " --for crew --set job.units=SI")
  local body = (metric:match "\n\n(.-)\nMade from" or metric):gsub("two%s+1/2%s+in%s+rods", "rods")     -- its own words
  try(sheet .. " for a crew in metres has no inches", not body:find "%d in[ \n(]", body)
end

local dug = said(FARM .. "trench" .. BUILD .. " --for crew"):gsub("%s+", " ")
try("a trench for a crew", dug:find("warning tape 12 in (1 ft) above the conduit, 6 in down", 1, true) and
    dug:find("66 in (5 ft 6 in) deep from the ground", 1, true), dug)

print(("sheets: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and passed > 0)
