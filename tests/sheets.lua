#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- The foot of sheets, of several jobs: tests/sheets.lua BINARY, from the top folder of the project.  It is at most a
-- third of a sheet, says of each source what it holds, where it stands and how it is known, and names no symbol of the
-- code; JSON has each citation.
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
    "pour" }
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

print(("sheets: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and passed > 0)
