-- SPDX-License-Identifier: MIT
-- The commands: each takes the options and gives an exit status and a text.
local command = {}

local function usage(text, help)
  host.raise { code = "U001", text = text, help = help }
end

local function script_of(o)
  if not o.words[1] then usage(o.command .. " needs a script", "as in: stringline " .. o.command .. " job.sline") end
  return o.words[1]
end

-- Declares the job of a script with all that the options change.
local function declared(o)
  local boot = import "model.boot"
  local options = { script = script_of(o), plan = {} }
  if o.alternate then
    boot.declare(options)
    local plan = boot.alternate_plan(o.alternate)
    options.plan = plan
  end
  for _, s in ipairs(o.set) do options.plan[#options.plan + 1] = boot.setting(s) end
  if o.on then options.plan[#options.plan + 1] = { path = "job.on", value = o.on, from = "--on" } end
  options.alternate = o.alternate
  boot.declare(options)
  return boot
end

-- 0 all stop and caution rules hold or are waived; 1 one is broken or unknown. At stage "quote" unknown ones are a list to do.
local function verdict(outcomes)
  local quote = import("model.record").root.stage == "quote"
  for _, x in ipairs(outcomes) do
    local counts = x.rule.severity ~= "note" and not x.waiver
    if counts and (x.outcome == "broken" or (x.outcome == "unknown" and not quote)) then return 1 end
  end
  return 0
end

local function judged(o)
  local boot = declared(o)
  local outcomes = boot.judge()
  return boot, outcomes, verdict(outcomes)
end

function command.run(o)
  local boot, outcomes, status = judged(o)
  return status, import("write.report").report(outcomes, status, o)
end

function command.check(o)
  local boot, outcomes, status = judged(o)
  return status, import("write.report").check(outcomes, status, o)
end

function command.sheet(o)
  local boot, outcomes, status = judged(o)
  return status, import("write.sheets").whole(outcomes, status, o.words[2], o)
end

function command.explain(o)
  local first = o.words[1] or usage("explain needs a code, or a script and what to explain", "as in: stringline explain job.sline R41; stringline explain Q003")
  if not o.words[2] and string.find(first, "[./]") then usage("explain needs what to explain, too: a rule or a path", "as in: stringline explain " .. first .. " R41") end
  if not o.words[2] then return 0, import("write.codes").explain(first) end
  local boot = declared(o)
  import("model.memo").start_noting()
  return 0, import("write.explain").explain(boot, o.words[2])
end

function command.describe(o)
  import "model.boot"
  return 0, import("write.describe").describe(o.words[1])
end

function command.form()
  import "model.boot"
  return 0, import("write.describe").form()
end

function command.reference()
  import "model.boot"
  return 0, import("write.describe").reference()
end

function command.units() return 0, import("write.describe").units() end

return function(o)
  local f = command[o.command]
  if not f then
    local names = {}
    for k in host.sorted(command) do names[#names + 1] = k end
    local near = host.nearest(o.command, names)
    usage("no command '" .. o.command .. "'", near and "did you mean '" .. near .. "'?" or "there are " .. table.concat(names, ", "))
  end
  local status, document = f(o)
  if type(document) == "string" then return status, document end
  local format = o.format == "human" and (o.command == "reference" and "markdown" or "text") or o.format
  return status, import("write." .. format)(document, o)
end
