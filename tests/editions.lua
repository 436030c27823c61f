#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- One job under each edition of the electrical code: tests/editions.lua BINARY [--update], from the top folder.
--
-- What differs between two editions is listed in tests/editions.txt, each with the row or the section that explains it;
-- a difference that is not listed, or is listed and gone, fails.  Nothing else that a report says may name an edition
-- that is not the job's.  The job: the egg farm with modules of 3 A, so that a device of 10 A would do, in EMT.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local json = require "json"
local binary, update = assert(arg[1], "which binary?"), arg[2] == "--update"
local editions = { "NEC 2017", "NEC 2020", "NEC 2023" }
local passed, failed = 0, 0

local function check(good, ...)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. table.concat({ ... }, "\n    "))
end

local function output(command)
  local pipe = assert(io.popen(command))
  local text = pipe:read "a"
  pipe:close()
  return text
end

local sets = { "run.conduit.kind=EMT", "run.wire=12 AWG", "strings.fuse=6A", "strings.fuse_voltage=1000V" }

local function report(edition)
  local folder = output "mktemp -d":gsub("\n", "")
  os.execute("cp -R examples/egg-farm/. " .. folder)
  local modules = folder .. "/parts/modules.csv"
  local file = assert(io.open(modules))
  local text = file:read "a"
  file:close()
  text = text:gsub("13%.90 A", "3.00 A"):gsub("13%.11 A", "2.80 A"):gsub("430 W", "92 W")
  file = assert(io.open(modules, "w"))
  file:write(text)
  file:close()
  local command = { binary, "run", folder .. "/job.sline", "--format", "json", "--set",
      "'job.codes.electrical=" .. edition .. "'" }
  for _, set in ipairs(sets) do command[#command + 1] = "--set '" .. set .. "'" end
  text = output(table.concat(command, " ") .. " 2>&1")
  os.execute("rm -rf " .. folder)
  return text, json.read(text)
end

-- Path -> text of every leaf of what was worked out and judged, the edition's own name taken out.
local function leaves(edition, whole)
  local out = {}
  for _, k in ipairs(whole.results[json.keys]) do 
    local v = whole.results[k]
    out[k] = (tostring(json.is_object(v) and (v.text or v.unknown and "unknown") or v):gsub(edition, "NEC"))
  end
  for _, r in ipairs(whole.rules) do
    for _, k in ipairs { "outcome", "cite", "words", "limit", "limit_of", "unknown" } do
      local v = r[k]
      if json.is_object(v) then v = v.text or v.why
      elseif type(v) == "table" then               -- all that is unknown
        local whys = {}
        for i, one in ipairs(v) do whys[i] = one.text end
        v = table.concat(whys, "; ")
      end
      out[r.id .. " " .. k] = (tostring(v):gsub(edition, "NEC"))
    end
  end
  return out
end

-- Sections, tables and editions of the code stand in interp/data, not in the rules and results.
local listing = io.popen "ls stdlib/electrical/*.lua stdlib/electrical/sheets/*.lua"
for path in listing:lines() do
  local number = 0
  for line in io.lines(path) do
    number = number + 1
    local bare = line:gsub("%-%-.*", "")
    local cell = bare:match "%f[%d]%d%d%d%.%d+%f[^%d]" or bare:match "NEC %d%d%d%d" or bare:match "Table %d+"
    if bare:find "example" then cell = nil end
    check(not cell, path .. ":" .. number .. ": a number of the code: " .. tostring(cell))
  end
end
listing:close()

local texts, found = {}, {}
for i, edition in ipairs(editions) do
  local text, whole = report(edition)
  texts[i] = leaves(edition, whole)
  for _, other in ipairs(editions) do
    -- the one text that may name another: the exception that the job's edition has not
    local bare = text:gsub("ends? there stands in [^,]*, not in", "")
    check(other == edition or not bare:find(other, 1, true), edition .. ": the report names " .. other)
  end
end

local function keys(a, b)
  local all = {}
  for k in pairs(a) do all[k] = true end
  for k in pairs(b) do all[k] = true end
  local list = {}
  for k in pairs(all) do list[#list + 1] = k end
  table.sort(list)
  return list
end
for i = 2, #editions do
  local a, b = texts[i - 1], texts[i]
  for _, k in ipairs(keys(a, b)) do
    if a[k] ~= b[k] then
      found[#found + 1] = editions[i] .. " | " .. k .. " | " .. tostring(a[k]) .. " | " .. tostring(b[k])
    end
  end
end

local why = {}
local listed = io.open "tests/editions.txt"
for line in listed and listed:lines() or function() end do
  local what, because = line:match "^(NEC .*) | because (.*)$"
  if what then why[what] = because end
end
if update then
  local file = assert(io.open("tests/editions.txt", "w"))
  file:write("# What differs in the same job from one edition to the next (tests/editions.lua): ",
      "edition | where | before | after | because\n")
  for _, what in ipairs(found) do file:write(what, " | because ", why[what] or "?", "\n") end
  file:close()
else
  for _, what in ipairs(found) do
    check(why[what] and why[what] ~= "?", "a difference without a row that explains it: " .. what)
    why[what] = nil
  end
  for what in pairs(why) do check(false, "listed, but no difference: " .. what) end
end
print(("editions: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0)
