-- SPDX-License-Identifier: MIT
-- A job as tests/properties.lua asks about it, in the host's Lua, without what would mend it and how its broken rules
-- were worked out: of random jobs, which break many, that is most of the work, and no property is about it.
--
-- input: { script, set = { text ... } } and one of
--   command, format: gives the text of `run` or `check`;
--   facts = true: gives what `run --format json` says of rules and results, { rules = { { id, subject, outcome, value }
--     ... }, results = { { path, value } ... } }, where a value is { si, unit, text }, { unknown }, a flag or a text;
--   values = { name ... }, of = { path ... }: gives the numbers in SI of these results of the records at these paths,
--     by their own paths, of what is known;
--   sheets = { { name, whom = "crew" or nil, format } ... }: gives { name, status, text } of each, and without a list
--     of each that there is; all from the job judged once.
local input = ...
import("model.remedies").of = function() return { suggestions = {}, own = {} } end
import("write.explain").work_lines = function() return {} end

local function options(command, format, words, whom)
  return { command = command, script = input.script, words = { input.script, table.unpack(words or {}) },
           set = input.set, format = format, writer = "write." .. format, whom = whom, width = 80, number = 1 }
end

local command = import "command.run"
if input.command then
  local _, text = command(options(input.command, input.format))
  return text
end

local judging = import "host.judging"
local boot, set = import "model.boot", {}
for i, text in ipairs(input.set) do set[i] = boot.setting(text) end
local declared = judging.declare({ script = input.script }, set)

if input.values then
  local record, graph, found = import "model.record", import "model.graph", {}
  for _, path in ipairs(input.of) do
    local proxy = record.locate(path)
    for _, name in ipairs(input.values) do
      local v = graph.try(proxy, name)
      if v ~= nil then found[path .. "." .. name] = host.is_quantity(v) and host.si(v) or v end
    end
  end
  return found
end

local outcomes, status = judging.judge(declared)

-- An object as a map of its keys; of a list what it is.
local function plain(pairs_of)
  local map = {}
  for _, p in ipairs(pairs_of) do map[p[1]] = p[2] end
  return map
end

if input.facts then
  local words = import "write.words"
  local as = { object = function(list) return list end, array = function(list) return list end,
               done = function(v) return v end }
  function as.value(v, unit, digits)
    if v == nil or type(v) == "boolean" then return v end
    local text = words.show(v, unit, digits)
    if host.is_quantity(v) then return { { "si", host.si(v) }, { "text", text } } end
    return type(v) == "number" and { { "si", v }, { "text", text } } or text
  end
  local told = plain(import("write.facts").judged({ name = "report", outcomes = outcomes, status = status,
                                                    options = options("run", "json") }, as))
  local function value(v) return type(v) == "table" and plain(v) or v end
  for i, r in ipairs(told.rules) do
    local x = plain(r)
    told.rules[i] = { id = x.id, subject = x.subject, outcome = x.outcome, value = value(x.value) }
  end
  for i, r in ipairs(told.results) do told.results[i] = { r[1], value(r[2]) } end
  return { rules = told.rules, results = told.results }
end

function judging.declare() return declared end
function judging.judge() return outcomes, status end
local list = {}
local function sheet(name, whom, format)
  local ended, text = command(options("sheet", format, { name }, whom))
  list[#list + 1] = { name = name, status = ended, text = text }
end
for _, s in ipairs(input.sheets) do sheet(s.name, s.whom, s.format) end
if #input.sheets == 0 then
  for _, s in ipairs(import("write.sheets").state(outcomes)) do sheet(s.sheet.name, nil, "text") end
end
return list
