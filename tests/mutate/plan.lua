-- SPDX-License-Identifier: MIT
-- The tests in the order in which a fault meets them: values from outside the project, then all other suites, then what
-- pins texts. A fault stops at its first failing test.
local common = require "common"
local plan = {}

-- Suites that take more than a second; of all suites they come last.
local SLOW = { job_test = 1, document_test = 2, report_test = 3, variants_test = 4, child_test = 5, cost_test = 6 }

-- Scripts that hold values from outside, and those that pin what is printed. What is copied from the sources by
-- `make docs` notices every change of them and says nothing about it: it is no test here.
local OUTSIDE = { { "outside-cases", "tests/outside.lua" }, { "result-cases", "tests/results.lua" },
                  { "transcriptions", "tests/transcriptions.lua" } }
local TEXTS = { { "golden", "tests/golden.lua" }, { "errors", "tests/errors.lua" },
                { "properties", "tests/properties.lua", "20" } }

-- Tests that compare hashes of the sources with kept ones: they notice every change, and say nothing about it. A run
-- begins with a change that changes nothing, so that none is forgotten here.
plan.hashed = { job_test = { reports_are_the_command_s = true } }

local function exists(path)
  local file = io.open(path)
  if file then file:close() end
  return file ~= nil
end

-- outside.txt: a suite, and behind it the beginning of the names of those of its tests whose values come from outside;
-- `*` alone for all of them.
function plan.outside_rows(path)
  local rows = {}
  for line in common.read(path):gmatch "[^\n]+" do
    local suite, name = line:match "^([%w_/]+)%s+(.-)%s*$"
    if suite then
      rows[suite] = rows[suite] or {}
      table.insert(rows[suite], { name = name })
    end
  end
  return rows
end

function plan.is_outside(rows, suite, name)
  for _, row in ipairs(rows[suite] or {}) do
    if row.name == "*" or name:sub(1, #row.name) == row.name then
      row.used = true
      return true
    end
  end
  return false
end

-- stages: { { name =, programs = { ... }, scripts = { { name, command } ... } } ... }; a suite that holds both kinds of
-- rows is run in the first stage, where only its rows from outside count, and what else failed counts in the second.
function plan.stages(rows)
  local outside, mixed, rest = {}, {}, {}
  for _, path in ipairs(common.lines "ls tests/*_test.c tests/outside/*_test.c 2>/dev/null | LC_ALL=C sort") do
    local suite = path:match "^tests/(.*)%.c$"
    if rows[suite] then table.insert(rows[suite][1].name == "*" and outside or mixed, suite)
    elseif suite:find "/" then outside[#outside + 1] = suite
    else rest[#rest + 1] = suite end
  end
  table.sort(rest, function(a, b)
    local x, y = SLOW[a] or 0, SLOW[b] or 0
    if x ~= y then return x < y end
    return a < b
  end)
  local function scripts(list)
    local found = {}
    for _, one in ipairs(list) do
      if exists(one[2]) then
        found[#found + 1] = { name = one[1], command = one[2] .. " build/stringline " .. (one[3] or "") }
      end
    end
    return found
  end
  for _, suite in ipairs(mixed) do outside[#outside + 1] = suite end
  return { { name = "outside", programs = outside, scripts = scripts(OUTSIDE) },
           { name = "suites", programs = rest, scripts = {} },
           { name = "texts", programs = {}, scripts = scripts(TEXTS) } }
end

-- How a tree is built: no optimisation, no complaint about what a fault leaves unused.
plan.make = "make -s -j1 BUILD=build CFLAGS=-O0 WARN=-std=c11"

-- What a tree consists of.
plan.parts = "README.md DEVELOPERS.md LICENSE Makefile interp stdlib include tests examples docs"

return plan
