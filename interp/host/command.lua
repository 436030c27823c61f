-- SPDX-License-Identifier: MIT
-- The commands: each takes the options and gives an exit status and a text.
local judging = import "host.judging"
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
  local script, boot, set = script_of(o), import "model.boot", {}
  for i, text in ipairs(o.set) do set[i] = boot.setting(text) end
  return judging.declare({ script = script, alternate = o.alternate, on = o.on }, set)
end

local function judged(o)
  return judging.judge(declared(o))
end

function command.run(o)
  local outcomes, status = judged(o)
  return status, import("write.report").report(outcomes, status, o)
end

function command.check(o)
  local outcomes, status = judged(o)
  return status, import("write.report").check(outcomes, status, o)
end

function command.sheet(o)
  local outcomes, status = judged(o)
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
