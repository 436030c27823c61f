#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Plants faults and sees which test notices each: tests/mutate/mutate.lua [OPTION ...], from the top folder of the
-- project. `make mutate` is the whole run, and writes docs/mutation.md.
--
--   --list [TEXT]    the faults of the groups whose name holds TEXT, or the groups
--   --check          looks at the draw only: every table, primitive, rule and result gives faults
--   --only TEXT      only groups whose name holds it
--   --sample N       N faults, spread over the groups
--   --all            of the groups, all faults and not their share
--   --workers N      trees side by side (2)
--   --seed N         another draw (1)
--   --folder NAME    for trees and what came (build/mutate)
--   --anew           forgets what came before
--
-- What came of each fault is kept in the folder: a run that was stopped goes on where it was, unless a source or test
-- has changed since.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local common = require "common"
local calc = require "calc"
local draw = require "draw"
local plan = require "plan"
local report = require "report"
local trial = require "trial"

local HERE = "tests/mutate/"
local LEAST, LEAST_OUTSIDE = 300, 0.85

local options = { seed = 1, workers = 2, folder = (os.getenv "BUILD" or "build") .. "/mutate" }
do
  local wants = { only = true, sample = true, workers = true, seed = true, folder = true, worker = true }
  local i = 1
  while arg[i] do
    local name = arg[i]:match "^%-%-(%l+)$"
    if not name then
      io.stderr:write("mutate: not understood: ", arg[i], "\n")
      os.exit(2)
    end
    if wants[name] or name == "list" and arg[i + 1] and not arg[i + 1]:find "^%-" then
      i = i + 1
      options[name] = math.tointeger(arg[i]) or arg[i]
    else options[name] = true
    end
    i = i + 1
  end
end

local complaints = {}
local groups, texts = draw.groups(options.seed)
do
  local by, entries = draw.equivalents(HERE .. "equivalent.txt")
  draw.mark(groups, by, entries, complaints)
end

-- ---- what is tried -------------------------------------------------------------------------------------------------

local function chosen()
  local list = {}
  for _, group in ipairs(groups) do
    if not options.only or group.name:find(options.only, 1, true) or group.path:find(options.only, 1, true) then
      if options.all then group.quota = #group.faults end
      list[#list + 1] = group
    end
  end
  if not options.sample then return list end
  local some, step = {}, #list / math.min(options.sample, #list)
  for n = 1, math.min(options.sample, #list) do
    local group = list[math.floor((n - 0.5) * step) + 1]
    group.quota = 1
    some[n] = group
  end
  return some
end

-- ---- results, kept -------------------------------------------------------------------------------------------------

-- A sum over all that a trial depends on.
local function stamp()
  return common.lines("find " .. plan.parts .. " -type f -not -path 'docs/*' -not -name equivalent.txt " ..
                      " | LC_ALL=C sort | xargs cksum | cksum")[1]
end

local function kept()
  local results = {}
  for _, line in ipairs(common.lines("cat " .. common.quoted(options.folder) .. "/results-* 2>/dev/null")) do
    local id, outcome, stage, test = line:match "^([^\t]*)\t([^\t]*)\t([^\t]*)\t(.*)$"
    if id then results[id] = { outcome = outcome, stage = stage, test = test } end
  end
  return results
end

-- Goes through a group's faults in their order until it has its share; `try` gives the result of one.
local function each_drawn(group, try)
  local have, refused = 0, 0
  for _, fault in ipairs(group.order) do
    if have >= group.quota or refused > 8 then return end
    local result = fault.equivalent and { outcome = "equivalent" } or try(fault)
    if not result then return end
    if result.outcome == "unbuilt" then refused = refused + 1
    elseif result.outcome ~= "equivalent" then have = have + 1 end
    if group.take then group.take(fault, result) end
  end
end

-- ---- the worker ----------------------------------------------------------------------------------------------------

local function say(...)
  io.stdout:write(...)
  io.stdout:flush()
end

local function work(number)
  local folder = options.folder .. "/" .. number
  local rows = plan.outside_rows(HERE .. "outside.txt")
  local one = trial.new(folder, plan.stages(rows), rows)
  local stage, test
  if number == 0 then
    one:touch()
    stage, test = one:meet()
    if stage then say("mutate: without a fault, but a comment more, the tests fail: ", stage, ": ", test, "\n") end
    os.exit(not stage)
  end
  local results = kept()
  local log = assert(io.open(options.folder .. "/results-" .. number, "a"))
  for n, group in ipairs(chosen()) do
    if os.execute("mkdir " .. common.quoted(options.folder .. "/claimed/" .. n) .. " 2>/dev/null") then
      each_drawn(group, function(fault)
        if results[fault.id] then return results[fault.id] end
        local began = os.time()
        one:plant(fault, texts[fault.path])
        stage, test = one:meet(fault)
        local result = { outcome = not stage and "survived" or stage == "unbuilt" and "unbuilt" or "noticed",
                         stage = stage or "", test = (test or ""):gsub("[\t\n]", " ") }
        log:write(fault.id, "\t", result.outcome, "\t", result.stage, "\t", result.test, "\n")
        log:flush()
        say(("%-9s %s, %s (%d s)\n    - %s\n    + %s\n    %s %s\n"):format(result.outcome:upper(), group.name,
            fault.kind, os.time() - began, fault.before, fault.after, result.stage, result.test))
        return result
      end)
    end
  end
  one:plant(nil)
  log:close()
end

-- ---- commands ------------------------------------------------------------------------------------------------------

local function list(text)
  for _, group in ipairs(groups) do
    if text == true then print(("%4d of %4d  %s"):format(group.quota, #group.faults, group.name))
    elseif group.name:find(text, 1, true) then
      for _, fault in ipairs(group.order) do
        print(("%s: %s\n- %s\n+ %s"):format(group.name, fault.kind, fault.before, fault.after))
      end
    end
  end
end

-- What the draw must reach; each complaint names one thing.
local function check()
  local count, of, total = {}, {}, 0
  for _, group in ipairs(groups) do
    local real = 0
    for _, fault in ipairs(group.faults) do
      if not fault.equivalent then real = real + 1 end
    end
    count[group.name] = real
    total = total + math.min(group.quota, real)
    of[group.path] = (of[group.path] or 0) + real
  end
  -- A look-up alone, a table of one row, a result that only hands its fields on or takes what a function beside it
  -- works out, a rule of what nobody can declare yet: there is less to get wrong.
  local fewer = { ["primitive ribbon"] = 0, ["table rapid_shutdown_690_12"] = 1, ["result run.burial"] = 0,
      ["result trench.marking"] = 0, ["result rack.heaviest_piece"] = 0, ["result rack.heaviest_name"] = 0,
      ["rule R06"] = 1, ["rule R70"] = 1, ["rule R82"] = 1, ["rule R30"] = 1, ["rule R31"] = 1, ["rule R91"] = 1,
      ["result rack.standing"] = 0,
      ["primitive row_bearing"] = 0 }
  for _, name in ipairs { "brace.size", "rack.points", "rack.place_east", "rack.place_north", "rack.row_line",
      "footing.block_weighs", "position.edge_ground_at", "rack.rafter_count", "rack.edge_ground_at", "rack.power",
      "rack.module_mass", "job.power", "job.module_mass", "rack.frame_weight",
      "rack.frame_weight_most", "post.foot", "rack.posts_used", "rack.rafters_used",
      "rack.braces_used", "rack.rails_used", "rack.rail_sag", "rack.end_area", "rack.end_push", "rack.slant_push",
      "post.shaft_used", "post.block_wind", "rack.sways", "rack.row_sways", "post.row_lifts", "post.row_presses",
      "post.uplift_resistance", "post_line.fraction", "post_line.stations", "bearing_line.fraction" } do
    fewer["result " .. name] = 0
  end
  local function wants(name, least)
    least = fewer[name] or least
    if (count[name] or 0) < least then
      complaints[#complaints + 1] = ("%s: %d faults can be drawn, %d are wanted"):format(name, count[name] or 0, least)
    end
  end
  for _, path in ipairs(common.lines "ls interp/data/*.csv") do wants("table " .. path:match "([^/]+)%.csv$", 2) end
  for _, name in ipairs(calc.primitives()) do wants("primitive " .. name, 2) end
  for _, path in ipairs(common.lines "ls stdlib/*/*.lua") do
    local text = common.read(path)
    for id in text:gmatch '%f[%w]add { id = "(%u%d+)"' do wants("rule " .. id, 2) end
    for kind, name in text:gmatch '\nresult { "([%w_]+)", "([%w_]+)"' do wants("result " .. kind .. "." .. name, 1) end
    for kind, name in text:gmatch '\nwork { "([%w_]+)", "([%w_]+)"' do wants("result " .. kind .. "." .. name, 1) end
  end
  if total < LEAST then
    complaints[#complaints + 1] = ("%d faults are drawn, at least %d are wanted"):format(total, LEAST)
  end
  for _, one in ipairs(complaints) do print("    " .. one) end
  print(("%d faults drawn in %d groups"):format(total, #groups))
  return #complaints == 0
end

local function run()
  local folder = common.quoted(options.folder)
  os.execute("mkdir -p " .. folder)
  local now = stamp() .. " " .. options.seed .. "\n"
  local file = io.open(options.folder .. "/stamp")
  local before = file and file:read "a"
  if file then file:close() end
  if before ~= now or options.anew then
    os.execute(("rm -f %s/results-*"):format(folder))
    common.write(options.folder .. "/stamp", now)
  end
  os.execute(("rm -rf %s/claimed && mkdir %s/claimed"):format(folder, folder))
  local own = {}
  for _, word in ipairs(arg) do own[#own + 1] = common.quoted(word) end
  local again = ("%s %s --worker "):format(arg[0], table.concat(own, " "))
  if not next(kept()) then
    say("without a fault\n")
    if not os.execute(again .. "0") then os.exit(1) end
  end
  local command = {}
  for n = 1, options.workers do
    command[n] = again .. n .. " &"
  end
  os.execute(table.concat(command, " ") .. " wait")
  local results, drawn, missing = kept(), {}, 0
  for _, group in ipairs(chosen()) do
    group.take = function(fault, result) drawn[#drawn + 1] = { fault, result } end
    each_drawn(group, function(fault)
      if not results[fault.id] then missing = missing + 1 end
      return results[fault.id]
    end)
  end
  if missing > 0 then
    say("mutate: stopped before the end; run it again to go on\n")
    os.exit(1)
  end
  local whole = not (options.only or options.sample or options.all)
  local page, total, numbers = report.page(drawn, options.seed, not whole)
  local to = whole and "docs/mutation.md" or options.folder .. "/report.md"
  common.write(to, page)
  say(("%d faults: %d noticed, %d by values from outside; written to %s\n"):format(total.drawn, total.noticed,
      total.outside, to))
  if whole and total.drawn < LEAST then say(("fewer than %d faults\n"):format(LEAST)) end
  return total.noticed == total.drawn and numbers.outside >= LEAST_OUTSIDE * numbers.drawn and
         (not whole or total.drawn >= LEAST)
end

if options.list then list(options.list)
elseif options.check then os.exit(check())
elseif options.worker then work(options.worker)
else os.exit(run())
end
