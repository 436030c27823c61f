-- SPDX-License-Identifier: MIT
-- What tests/reuse.lua asks, in the host's Lua: rows of a sweep.
--
-- input: { script, set, vary, sample, seed, keep = "all" or a list, apart, numbers, most } gives { total, numbers,
-- kept, rows = { [number] = text ... } }: the variants of these numbers in this order, or so many in the walk's own
-- order, a piece here and a piece there; in the text each number is written as its bits.  kept: how many results.
-- made: of these numbers how many tables of what steps put in are there at the end.
local input = ...
local boot = import "model.boot"
local record = import "model.record"
local schema = import "model.schema"
local step = import("model.path").step
local goals = import "sweep.goals"

local plan = {}
for i, text in ipairs(input.set or {}) do plan[i] = boot.setting(text) end
boot.declare { script = input.script, plan = plan }
local space = import("sweep.space").new(import("sweep.axes").of(input), input)

-- All results that are an amount or a text; what is none is no result to keep.
local function all_results()
  local list = {}
  record.each_record(function(proxy)
    local d = record.inside[proxy]
    for _, r in ipairs(schema.results(d.def)) do
      local path = step(d.path or "job", r.name)
      if pcall(goals.of, { keep = { path } }) then list[#list + 1] = path end
    end
  end)
  return list
end
local kept = goals.of { keep = input.keep == "all" and all_results() or input.keep }.kept

local made = setmetatable({}, { __mode = "k" })
for _, axis in ipairs(input.made and space.axes or {}) do
  local puts = axis.puts
  function axis.puts(i)
    local list = puts(i)
    made[list] = true
    return list
  end
end

local walk = import("sweep.walk").new(space, kept, { apart = input.apart })
local rows, numbers = {}, {}

local function bits(v)
  if math.type(v) == "float" then return ("%a"):format(v) end
  return tostring(v)
end
local function row(number, ...)
  assert(not rows[number], "variant " .. number .. " comes twice")
  local list = table.pack(...)
  for i = 1, list.n do list[i] = bits(list[i]) end
  rows[number] = table.concat(list, " | ")
  numbers[#numbers + 1] = number
end

if input.numbers then
  walk.work(input.numbers, row)
else
  local all, pieces = {}, 6
  for block in walk.next do table.move(block, 1, #block, #all + 1, all) end
  local length = math.max(1, math.min(input.most, #all) // pieces)
  for i = 0, pieces - 1 do
    local from = i * (#all - length) // (pieces - 1) + 1
    walk.work(table.move(all, from, from + length - 1, 1, {}), row)
  end
end
local there = 0
collectgarbage()
for _ in next, made do there = there + 1 end
return { total = space.total, made = there, numbers = numbers, rows = rows, kept = #kept }
