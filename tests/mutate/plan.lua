-- SPDX-License-Identifier: MIT
-- The tests in the order in which a fault meets them: values from outside the project, then all other suites, then what
-- pins texts. A fault stops at its first failing test.
local common = require "common"
local plan = {}

-- Suites that take more than a second; of all suites they come last.
local SLOW = { job_test = 1, document_test = 2, report_test = 3, variants_test = 4, child_test = 5, cost_test = 6 }

-- Scripts that pin what is printed. What is copied from the sources by
-- `make docs` notices every change of them and says nothing about it: it is no test here.
local TEXTS = { { "golden", "tests/golden.lua" }, { "errors", "tests/errors.lua" },
                { "properties", "tests/properties.lua", "20" } }
-- Ranges of fields stand in the reference, which people read after a change; no formula or table does.
local REFERENCE = { name = "reference", command = "sh -c 'build/stringline reference -o build/reference.md && " ..
                    "cmp build/reference.md docs/reference.md'" }
-- The published cases come before the suites of their stage.
local CASES = { name = "outside", command = "tests/outside.lua build/stringline" }

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
    local suite, name = line:match "^([%w_/]+)   +(.+)$"
    if suite then
      rows[suite] = rows[suite] or {}
      table.insert(rows[suite], { name = name })
    end
  end
  return rows
end

-- The suites of outside.txt that are not there.
function plan.unknown(rows)
  local list = {}
  for suite in pairs(rows) do
    if not exists("tests/" .. suite .. ".c") then list[#list + 1] = suite end
  end
  table.sort(list)
  return list
end

-- The name of the case at a line of a file of cases, and whether its source is no more than what the trade knows.
function plan.case_at(path, line)
  local name, trade, number = "?", false, 0
  for text in (common.read(path) .. "\n"):gmatch "([^\n]*)\n" do
    number = number + 1
    local case = text:match "^case (.+)$"
    if case and number > line then break end
    if case then name, trade = case, false end
    if text:find "^%s+from trade" or text:find "^%s+by trade" then trade = true end
  end
  return name, trade
end

-- How a row is known we say ourselves: what counts it guards against change only.
function plan.is_outside(rows, suite, name)
  if name:find "^how known: " then return false end
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
-- The transcriptions come last of their stage: what they alone notice of the outside is told apart.
function plan.stages(rows)
  local stages = { { name = "outside" }, { name = "suites" }, { name = "texts" } }
  local rank = { transcriptions_test = 8, cost_test = 7, results_test = 1 }
  for _, stage in ipairs(stages) do stage.programs, stage.scripts = {}, {} end
  for _, path in ipairs(common.lines "ls tests/*_test.c tests/outside/*_test.c 2>/dev/null | LC_ALL=C sort") do
    local suite = path:match "^tests/(.*)%.c$"
    local outside = rows[suite] or suite:find "/" or suite == "results_test"
    rank[suite] = rank[suite] or SLOW[suite] and 9 + SLOW[suite] or suite:find "/" and 0 or outside and 2 or 0
    table.insert(stages[outside and 1 or 2].programs, suite)
  end
  for _, stage in ipairs(stages) do
    table.sort(stage.programs, function(a, b)
      if rank[a] ~= rank[b] then return rank[a] < rank[b] end
      return a < b
    end)
  end
  for _, one in ipairs(TEXTS) do
    if exists(one[2]) then
      table.insert(stages[3].scripts, { name = one[1], command = one[2] .. " build/stringline " .. (one[3] or "") })
    end
  end
  table.insert(stages[3].scripts, REFERENCE)
  if exists "tests/outside.lua" then stages[1].before = { CASES } end
  return stages
end

-- A slow suite of the first stage is run there only for faults of what it tests; for others it comes last.
plan.about = { cost_test = { "interp/calc/cost.c", "stdlib/buying/" } }

function plan.is_about(suite, fault)
  if not plan.about[suite] then return true end
  for _, path in ipairs(fault and plan.about[suite] or {}) do
    if fault.path:sub(1, #path) == path then return true end
  end
  return false
end

-- How a tree is built: no optimisation, no complaint about what a fault leaves unused.
plan.make = "make -s -j1 BUILD=build CFLAGS=-O0 LTO= WARN=-std=c11"

-- What a tree consists of.
plan.parts = "README.md DEVELOPERS.md LICENSE Makefile interp stdlib include tests examples docs"

return plan
