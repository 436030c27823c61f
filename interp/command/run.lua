-- SPDX-License-Identifier: MIT
-- The commands: each takes the options and gives an exit status and a document (write.document), which the writer of
-- the format turns into text. What is made for another program (a manual page, names for a shell) is a text.
local judging = import "host.judging"
local run = {}

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

-- The others, which are loaded where one of them is called: given what they share.
setmetatable(run, { __index = function(_, name) return import "command.others"(declared, judged)[name] end })

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
