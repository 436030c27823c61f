-- SPDX-License-Identifier: MIT
-- The commands: each takes the options and gives an exit status and a document, which a writer turns into text.
--
-- A document is a table; until a command has one of blocks, it gives its text alone, and a verdict has { outcomes,
-- status, text = function, json = function }.
local run = {}

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

-- ---- jobs ----------------------------------------------------------------------------------------------------------

-- Declares the job of a script with all that the options change.
local function declared(o)
  local boot = import "model.boot"
  local options = { script = o.script, plan = {} }
  if o.alternate then
    boot.declare(options)
    local plan = boot.alternate_plan(o.alternate)
    host.fresh()
    boot = import "model.boot"
    options.plan = plan
  end
  for _, s in ipairs(o.set) do options.plan[#options.plan + 1] = boot.setting(s) end
  if o.on then options.plan[#options.plan + 1] = { path = "job.on", value = o.on, from = "--on" } end
  options.alternate = o.alternate
  boot.declare(options)
  return boot
end

-- 0 all stop and caution rules hold or are waived; 1 one is broken or unknown. At stage "quote" unknown ones are a list
-- to do.
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

local function of_verdict(o, what)
  local boot, outcomes, status = judged(o)
  return status, {
    outcomes = outcomes, status = status,
    text = function() return import("write.text")[what](boot, outcomes, status, o) end,
    json = function() return import("write.json")[what](boot, outcomes, status, o) end,
  }
end

function run.run(o) return of_verdict(o, "report") end
function run.check(o) return of_verdict(o, "check") end

function run.sheet(o)
  local boot, outcomes, status = judged(o)
  return status, import("write.text").sheet(boot, outcomes, o.words[2], o)
end

-- The code of a message stands in no script, so that the options of a job say nothing about it.
local function explain_code(o, code)
  if string.find(code, "[./]") then
    wrong("U001", "explain needs what to explain, too: a rule or a path", "as in: stringline explain " .. code .. " R41")
  end
  local given = #o.set > 0 and "set" or o.alternate and "alternate" or o.on and "on"
  if given then
    wrong("U006", "explain of a code takes no --" .. given, "as in: stringline explain job.sline R41 --" .. given ..
        " ..., or stringline explain " .. code)
  end
  return 0, import("write.codes").explain(code)
end

function run.explain(o)
  local what = o.words[2]
  if not what then return explain_code(o, o.words[1]) end
  local boot = declared(o)
  boot.graph.start_noting()
  return 0, import("write.explain").explain(boot, what, o)
end

-- ---- without a job -------------------------------------------------------------------------------------------------

function run.describe(o)
  import "model.boot"
  return 0, import("write.describe").describe(o.words[1])
end

function run.form()
  import "model.boot"
  return 0, import("write.describe").form()
end

function run.units() return 0, import("write.describe").units() end

function run.help(o) return 0, import("command.usage")(o.words[1], o) end

local parts = {
  markdown = function() return import("write.describe").reference() end,
  man = function() return import "command.manpage"() end,
  bash = function() return import("command.complete").bash() end,
  zsh = function() return import("command.complete").zsh() end,
  fish = function() return import("command.complete").fish() end,
}

function run.reference(o)
  local name = o.words[1] or "markdown"
  local row, names = nil, {}
  for i, p in ipairs(host.command_line().parts) do
    names[i] = p.name
    if p.name == name then row = p end
  end
  if not row then
    local near = host.nearest(name, names)
    wrong("U005", "the reference has no part '" .. name .. "'", near and "did you mean '" .. near .. "'?" or
        "it has " .. table.concat(names, ", "))
  end
  if parts[name] then
    if name == "markdown" then import "model.boot" end
    return 0, parts[name]()
  end
  return 0, table.concat(import("command.names")[name](), "\n") .. "\n"
end

-- ---- writing -------------------------------------------------------------------------------------------------------

local function written(document, o)
  if type(document) == "string" then
    local text = document
    document = { text = function() return text end }
  end
  if o.format == "text" then
    local text = document.text()
    return o.several and string.find(text, "\n\n", 1, true) and text .. "\n" or text       -- room before the next script
  end
  if o.format == "json" and document.json then
    return o.several and string.gsub(document.json(), "\n$", "") or document.json()
  end
  if o.format == "json" then
    local json = import "write.json"
    return json.encode(json.object { { "stringline", 1 }, { "command", o.command }, { "text", document.text() } })
  end
  return import(o.writer)(document, o)
end

return function(o)
  local status, document = run[o.command](o)
  return status, written(document, o)
end
