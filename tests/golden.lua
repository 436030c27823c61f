#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Reports compared byte for byte: tests/golden.lua BINARY [--update] [NAME ...], from the top folder of the project.
--
-- tests/golden/NAME.txt reads as a terminal does: `$ stringline ARGS`, what comes out, `exit: N`. A golden pins our own
-- text; it is no check of a number from outside. --update writes what comes out now: read it before you keep it.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local update, chosen = lanes.options("tests/golden.lua BINARY [--update] [NAME ...]")

-- What every new rule changes, the number of rules, the list of those that hold and where they stand, is whole in these
-- alone; the others know their own rules of the list, and look past one that came later.
local WHOLE = { ["egg-run"] = true, ["egg-json"] = true, ["two-run"] = true }

local function known_rows(section, wanted)
  local out, keep = {}, true
  for line in section:gmatch("[^\n]*\n") do
    local id = line:match("^(%u%d+)%s")
    if id then keep = wanted == nil or wanted:find("\n" .. id .. " ", 1, true) ~= nil
    elseif not line:find("^ ") then keep = true end
    if keep then out[#out + 1] = line end
  end
  return table.concat(out)
end

local function without_rules(text, wanted)
  text = text:gsub("%d+(%s+of%s+)%d+(%s+rules?%s+holds?)", "(n)%1(n)%2"):gsub('"rules": %d+', '"rules": "(n)"')
  for _, how in ipairs { "against%s+a%s+limit", "as%s+the%s+script%s+states", "by%s+construction" } do
    text = text:gsub("%d+(%s+" .. how .. ")", "(n)%1")
  end
  text = text:gsub('("[%l_]+": )%d+(,?\n%s+"[%l_]+": )%d+(,?\n%s+"by_construction": )%d+', "%1(n)%2(n)%3(n)")
  return (text:gsub("(\nRules that hold\n)(.-)(\nSources of these limits: ).-(\nWhich table)", function(a, rows, b, c)
    return a .. known_rows(rows .. "\n", wanted):gsub("\n$", "") .. b .. "(as in egg-run and two-run)" .. c
  end))
end

-- Hashes of the program's own sources, and the seal over a report that has them, change with every line of the
-- library: a golden shows where they stand. tests/identity.sh checks what they are.
local function masked(text)
  for _, what in ipairs { "tables", "rules" } do
    text = text:gsub("(%s" .. what .. "%s)%x%x%x%x%x%x%x%x%x%x%x%x,", "%1(hash),")
    text = text:gsub("\n(" .. what .. " +)%x+\n", "\n%1(hash)\n")
    text = text:gsub('("text": "' .. what .. '"%s*},%s*{%s*"text": ")%x+"', '%1(hash)"')
    text = text:gsub('("what": "' .. what .. '",\n *"sha256": ")%x+"', '%1(hash)"')
  end
  text = text:gsub('("snapshot": ){[^\n]*}', "%1(the job)")         -- one line; what is in it stands around it
  text = text:gsub("\nThis report: sha256 %x+\n", "\nThis report: sha256 (hash)\n")
  return (text:gsub('"seal": "%x+"', '"seal": "(hash)"'))
end

local cases = {}
for _, file in ipairs(lanes.files("tests/golden", "%.txt$")) do
  local name = file:gsub("%.txt$", "")
  if not chosen or chosen[name] then
    local text = lanes.read("tests/golden/" .. file)
    local command = text:match("^%$ (stringline[^\n]*)\n")
    if not command then
      io.stderr:write("tests/golden/", file, ": the first line is not `$ stringline ...`\n")
      lanes.leave(2)
    end
    cases[#cases + 1] = { name = name, path = "tests/golden/" .. file, wanted = text,
                          command = command, folder = lanes.top, join = true }
  end
end
lanes.run(cases)

local passed, failed = 0, 0
for _, case in ipairs(cases) do
  local out = masked(case.out)
  if not WHOLE[case.name] then out = without_rules(out, not update and case.wanted or nil) end
  local got = ("$ %s\n%s%sexit: %d\n"):format(case.command, out,
                case.out:find("[^\n]$") and "\n(no end of line)\n" or "", case.status)
  if update and got ~= case.wanted then
    lanes.write(case.path, got)
    print("written anew: " .. case.name)
  elseif got ~= case.wanted then
    failed = failed + 1
    print("not ok " .. case.name)
    io.write(lanes.difference(case.wanted, got))
  end
  if update or got == case.wanted then passed = passed + 1 end
end
print(("golden: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
