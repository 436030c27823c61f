-- SPDX-License-Identifier: MIT
-- A script declared and judged with what is changed in it: for the command and for programs in C.
local judging = {}

-- What an alternate of a script changes, as a plan.
local function plan_of(boot, script, alternate)
  boot.declare { script = script }
  return boot.alternate_plan(alternate)
end

-- What is no script, by the end of its name: would be read as Lua and refused somewhere within.
local function refuse_other_files(path)
  local ending = path:lower():match "%.(%w+)$"
  if ending == "lua" then
    host.raise { code = "U012", text = path .. ": a job's script ends in .sline; what ends in .lua is plain Lua, " ..
        "without units", help = "rename it: " .. path:gsub("%.%w+$", "") .. ".sline" }
  elseif ending == "csv" then
    host.raise { code = "U012", text = path .. " is a file of rows; a job's script is wanted, which ends in .sline",
        help = 'a job names such files, as in parts "modules.csv" and prices "yard.csv"' }
  end
end

-- options: { script, alternate, on }; set: what is put in, as boot.setting gives it.
function judging.declare(options, set)
  refuse_other_files(options.script)
  local boot = import "model.boot"
  local plan = options.alternate and import("model.run").aside(plan_of, boot, options.script, options.alternate) or {}
  table.move(set, 1, #set, #plan + 1, plan)
  if options.on then plan[#plan + 1] = { path = "job.on", value = options.on, from = "--on" } end
  boot.declare { script = options.script, plan = plan, gathers = true }
  return boot
end

-- From stage "build" on somebody works from the sheets: those that are withheld, { name, why } ...
local function withheld(outcomes)
  local list = {}
  if not import("model.rule").reached "build" then return list end
  for _, s in ipairs(import("write.sheets").state(outcomes)) do
    if s.withheld and not s.sheet.idle then list[#list + 1] = { name = s.sheet.name, why = s.withheld } end
  end
  return list
end

-- To judge a small job once more for what would mend it costs less than to load what does; of one with many records
-- what is read is noted from the start, so that it need not be judged twice.
local many_records = 40

local function outcomes_of(boot)
  if #import("model.run").records <= many_records then return boot.judge() end
  return import("model.variants").first(import("model.rule").all())
end

-- The outcomes, with withheld = sheets, and 0: all stop and caution rules hold or are waived, and no sheet
-- that is worked from is withheld; 1: one is broken or unknown.  At stage "quote" unknown ones are a list to do.
function judging.judge(boot)
  local outcomes = outcomes_of(boot)
  local quote = import("model.record").root.stage == "quote"
  outcomes.withheld = withheld(outcomes)
  if import("model.run").results[1] then import("model.own_results").all() end
  for i = 1, #outcomes do
    local x = outcomes[i]
    local counts = x.rule.severity ~= "note" and not x.waiver
    if counts and (x.outcome == "broken" or (x.outcome == "unknown" and not quote)) then return outcomes, 1 end
  end
  return outcomes, #outcomes.withheld > 0 and 1 or 0
end

return judging
