#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What stands on sheets beside their numbers: tests/sheets.lua BINARY, from the top folder of the project.  The foot is
-- at most a third of a sheet, says of each source what it holds, where it stands and how it is known, and names no
-- symbol of the code; JSON has each citation.  Numbers to be worked out by hand come out as printed.
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
local SHEETS = { "posts", "loads", "strings", "wire", "cutting", "buying", "stake-out", "mark-out" }
local HEAD = "Numbers not read in the source itself"
local SHORT = { ["from memory"] = "from memory", ["read second-hand"] = "second-hand",
    ["read in another edition"] = "taken over" }

-- ---- the foot ------------------------------------------------------------------------------------------------------

-- The lines of the foot, those that were broken put together: { subject, place, known }.
local function sources(foot)
  local list = {}
  for line in (foot:gsub("\n    ", " ") .. "\n"):gmatch "\n  ([^\n]+)" do
    local subject, place, known = line:match "^(.-): (.*); ([%a -]+)$"
    list[#list + 1] = { line = line, subject = subject, place = place, known = known }
  end
  return list
end

local feet = 0
for _, job in ipairs(JOBS) do
  for _, sheet in ipairs(SHEETS) do
    local what = "sheet " .. sheet .. " of " .. job
    local words = "sheet " .. job .. "/job.sline " .. sheet .. " --set job.stage=build"
    local text = said(words)
    local from = text:find("\n" .. HEAD, 1, true)
    local rests = json.read(said(words .. " --format json")).rests_on or {}
    try(what .. " has a foot where it rests on something", (from ~= nil) == (#rests > 0), text)
    if from then
      feet = feet + 1
      local body, foot = text:sub(1, from), text:sub(from + 1)
      local _, above = body:gsub("\n", "")
      local _, below = foot:gsub("\n", "")
      try(what .. ": the foot is at most a third", 3 * below <= above + below, below .. " of " .. above + below)
      foot = foot:match "^(.-)\n\nMade from"
      local list = sources(foot)
      for _, l in ipairs(list) do
        try(what .. ": a source says what, where and how: " .. l.line, l.known and
            (l.known == "from memory" or l.known == "second-hand" or l.known == "taken over") and #l.subject > 3)
      end
      local flat = foot:gsub("%s+", " ")
      for _, r in ipairs(rests) do
        local section = (r.citation:match "^(.-):" or r.citation:match "^(.-), " or r.citation):gsub(" note.*", "")
        local last, there = section:match "[%d.]+[^ ]*$" or section, false
        for _, l in ipairs(list) do
          there = there or l.place and l.known == SHORT[r.known] and l.place:find(last, 1, true) ~= nil
        end
        try(what .. " tells " .. r.known .. ": " .. r.citation, there, foot)
        for _, symbol in ipairs(r.symbols) do
          if symbol:find "_" then try(what .. " names no " .. symbol, not flat:find(symbol, 1, true)) end
        end
      end
    end
  end
end
try("enough sheets have a foot", feet >= 20, tostring(feet))

-- ---- by hand -------------------------------------------------------------------------------------------------------

local LEAD = "%f[%w]By hand: post ([%w.]+) of [^\n]*\n(.-)\n\n"
local hands = 0
for _, job in ipairs(JOBS) do
  local text = said("sheet " .. job .. "/job.sline loads --set job.stage=build")
  local post, steps = text:match(LEAD)
  local names = {}
  for name, put, result in (steps or ""):gmatch "  ([^\n=]+) = [^\n]+\n    = ([^\n]+)\n    = ([^\n]+)" do
    local what = ("%s, by hand: %s"):format(job, name)
    local value = load("return " .. put:gsub("%f[%a]%a+3?/?%a*3?", ""))()          -- a pocket calculator has no units
    local printed = result:match "^[%d.]+"
    local shown = ("%." .. #printed:gsub("%.", ""):gsub("^0+", "") .. "g"):format(value)
    try(what .. " comes out as printed", tonumber(shown) == tonumber(printed), put .. " = " .. value .. ", " .. result)
    local row = "\n *" .. post:gsub("%p", "%%%0") .. " [^\n]* " .. result:gsub("%p", "%%%0")
    try(what .. " stands in the tables", text:find(row), result)
    hands, names[#names + 1] = hands + 1, name
  end
  try(job .. ": three numbers", table.concat(names, ", ") == "concrete, net, held by", text)
end

-- From hand: the hole of the egg farm, 18 in wide, 66 in deep with 6 in of gravel, less a post of 5-1/2 in:
-- (3.14159 / 4 x 18 x 18 - 5.5 x 5.5) x 60 / 1728 = 7.785 ft3; at 145 lb/ft3 1128.9 lb.
local egg = said "sheet examples/egg-farm/job.sline loads"
try("the concrete of the egg farm", egg:find("= 7.785 ft3 * 145 lb/ft3\n    = 1129 lbf", 1, true), egg)

print(("sheets: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and passed > 0)
