-- SPDX-License-Identifier: MIT
-- The commands: each takes the options and gives an exit status and a document (write.document), which the writer of
-- the format turns into text. What is made for another program (a manual page, names for a shell) is a text.
local judging = import "host.judging"
local run = {}

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

-- ---- jobs ----------------------------------------------------------------------------------------------------------

-- Declares the job of a script with all that the options change.
local function declared(o)
  local boot, set = import "model.boot", {}
  for i, text in ipairs(o.set) do set[i] = boot.setting(text) end
  return judging.declare(o, set)
end

local function judged(o) return judging.judge(declared(o)) end

function run.run(o)
  local outcomes, status = judged(o)
  return status, import("write.report").report(outcomes, status, o)
end

function run.check(o)
  local outcomes, status = judged(o)
  return status, import("write.report").check(outcomes, status, o)
end

function run.rules(o)
  local outcomes, status = judged(o)
  return status, import("write.rules")(outcomes, status, o)
end

function run.sheet(o)
  local outcomes, status = judged(o)
  return status, import "write.sheet"(outcomes, status, o.words[2], o)
end

-- The options of a job say nothing about what is asked without one.
local function no_job(o, what, help)
  local given = #o.set > 0 and "set" or o.alternate and "alternate" or o.on and "on"
  if given then wrong("U006", what .. " takes no --" .. given, help(given)) end
end

-- The code of a message stands in no script.
local function explain_code(o, code)
  if string.find(code, "[./]") then
    wrong("U001", "explain needs what to explain, too: a rule or a path",
        "as in: stringline explain " .. code .. " R41")
  end
  no_job(o, "explain of a code", function(option)
    return "as in: stringline explain job.sline R41 --" .. option .. " ..., or stringline explain " .. code
  end)
  return 0, import("write.codes").explain(code)
end

function run.explain(o)
  local what = o.words[2]
  if not what then return explain_code(o, o.words[1]) end
  local boot = declared(o)
  import("model.noting").start()
  return 0, import("write.explain").explain(boot, what)
end

function run.form(o)
  if #o.words > 0 then return 0, import "write.form"((judged(o))) end
  no_job(o, "a form without a script", function(option)
    return "as in: stringline form job.sline --" .. option .. " ..."
  end)
  import "model.boot"
  return 0, import "write.form"()
end

function run.margins(o)
  local outcomes, status = judged(o)
  return status, import("write.margins")(outcomes, status, o)
end

function run.test(o) return import "command.test"(o) end

function run.verify(o)
  return import("write.verify")(o, judged)
end

function run.sweep(o) return import "command.sweep"(o) end

function run.merge(o) return import "sweep.merge"(o) end

function run.compare(o) return import "write.compare"(o) end

-- ---- without a job -------------------------------------------------------------------------------------------------

function run.describe(o)
  import "model.boot"
  return 0, import("write.describe").describe(o.words[1])
end

function run.new(o) return 0, import "new.folder"(o) end

function run.units() return 0, import("write.describe").units() end

function run.help(o) return 0, import("command.usage")(o.words[1]) end

local parts = {
  markdown = function() return import("write.describe").reference() end,
  schema = function() return import("write.schema_json")() end,
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
    if name == "markdown" or name == "schema" then import "model.boot" end
    return 0, parts[name]()
  end
  return 0, table.concat(import("command.names")[name](), "\n") .. "\n"
end

-- ---- writing -------------------------------------------------------------------------------------------------------

local function written(d, o)
  if type(d) == "string" then
    if o.part then return d end
    if o.format == "text" or o.format == "markdown" then return d end
    local text = d
    local name = o.command .. " " .. o.words[1]
    d = import("write.document").new(name, name)
    d:code(text)
  end
  local text = d.whole and d.whole[o.format] or import(o.writer)(d, o)
  if d.sealed then text = import("write.identity").seal(d, text, o.format) end
  if not o.several then return text end
  -- Something stands between this script and the next: its own line end in JSON, some air in a text.
  if o.format == "json" then return (string.gsub(text, "\n$", "")) end
  return o.format == "text" and string.find(text, "\n\n", 1, true) and text .. "\n" or text
end

-- (options, failure or nil): see command.unjudged.
return function(o, failure)
  local what = o.part and import "command.jobs" or failure and import "command.unjudged" or run[o.command]
  local status, d = what(o, failure)
  return status, written(d, o)
end
