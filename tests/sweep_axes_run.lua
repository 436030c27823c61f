-- SPDX-License-Identifier: MIT
-- What tests/sweep_axes.lua asks, in the host's Lua: { script, set, alternate, vary, keep, least, most, sample, seed,
-- numbers = { variants to be told }, read = { paths to be read in each of them }, far = true for steps(number) alone,
-- files = true for what steps read }.  Gives { axes, total, variants, kept, goals }, in texts and numbers; these as %a.
local input = ...
local boot = import "model.boot"
local run = import "model.run"
local record = import "model.record"
local draw = import "sweep.draw"

-- { draws } asks the generator alone.
if input.draws then
  local lots, list = draw.lots(input.seed or 1, input.stream or 1), {}
  for i = 1, input.draws do list[i] = input.below and lots.below(input.below) or lots.share() end
  return { list = list }
end

local function declare(more, alternate)
  local set = {}
  for i, text in ipairs(input.set or {}) do set[i] = boot.setting(text) end
  table.move(more or {}, 1, #(more or {}), #set + 1, set)
  return import("host.judging").declare({ script = input.script, alternate = alternate or input.alternate }, set)
end

local function bits(value)
  if value == nil then return "nothing" end
  if type(value) == "number" or host.is_quantity(value) then return ("%a"):format(host.si(value)) end
  local d = record.inside[value]
  return d and (d.name or d.path) or host.wire(value) and host.format(value) or tostring(value)
end

local function read_all()
  local list = {}
  for i, path in ipairs(input.read or {}) do
    local ok, value = pcall(record.at, path)
    list[i] = ok and bits(value) or "no such"
  end
  return list
end

declare()
local axes = import("sweep.axes").of(input)
local space = import("sweep.space").new(axes, input)
local out = { axes = {}, total = space.total, sampled = space.sampled, variants = {}, kept = {}, goals = {} }

for a, axis in ipairs(space.axes) do
  local texts, si, puts = {}, {}, {}
  for i = 0, math.min(axis.size, input.most_steps or 200) - 1 do
    texts[i + 1] = axis.text(i)
    si[i + 1] = axis.si(i) and ("%a"):format(axis.si(i)) or "none"
    local put = {}
    for path, value in host.sorted(axis.puts and axis.puts(i) or {}) do put[#put + 1] = path .. " " .. bits(value) end
    puts[i + 1] = table.concat(put, ", ")
  end
  out.axes[a] = { name = axis.name, size = axis.size, shapes = axis.shapes, kind = axis.kind, unit = axis.unit,
      says = axis.says, notes = axis.notes, spec = axis.spec, texts = texts, si = si, puts = puts,
      place = axis.place and host.place(axis.place) or "nowhere", at = host.place(axis.at.span {}) }
  if input.files then
    local names = {}
    for i = 0, axis.size - 1 do
      local list = {}
      for k, f in ipairs(axis.files(i)) do list[k] = f.path:match "[^/]*$" .. " " .. #f.sha256 end
      names[i + 1] = table.concat(list, ", ")
    end
    out.axes[a].files = names
  end
end

if input.kept or input.keep or input.least or input.most then
  local goals = import("sweep.goals").of(input)
  for i, k in ipairs(goals.kept) do
    out.kept[i] = { name = k.name, value = bits(k.get()), unit = k.unit, goal = k.goal, number = k.number,
        text = k.text(k.get()), says = k.says }
  end
  for i, g in ipairs(goals.goals) do out.goals[i] = (g.most and "most " or "least ") .. g.name .. " " .. g.i end
  out.again = function() return goals end
end

for i, number in ipairs(input.numbers or {}) do
  local steps = space.steps(number)
  out.variants[i] = { steps = steps, label = space.label(number), number = space.number and space.number(steps) }
end
if input.far then return out end
local words = {}
for i, number in ipairs(input.numbers or {}) do
  local v, plan = out.variants[i], space.plan(number)
  local sets, alternate = space.words(number)
  v.sets, v.alternate = sets and table.concat(sets, "; ") or "no words", alternate
  words[i] = { plan = plan, sets = sets, alternate = alternate }
end
local goals = out.again and out.again()
out.again = nil
for i in ipairs(input.numbers or {}) do
  local v, w = out.variants[i], words[i]
  local ok, err = pcall(declare, w.plan)
  if ok then
    v.read, v.vendors, v.priced = read_all(), run.vendors and table.concat(run.vendors, " + "), run.prices and
        #run.prices.list
    v.off = {}
    for k, path in ipairs(input.read or {}) do v.off[k] = bits(run.tolerances[path]) end
    v.kept = {}
    for k, x in ipairs(goals and goals.kept or {}) do v.kept[k] = bits(x.get()) end
    v.named = {}
    for k, f in ipairs(run.role_files) do v.named[k] = f.role .. " " .. f.name end
  else v.refused = host.message(err) end
  if w.sets then
    local list = {}
    for k, text in ipairs(w.sets) do list[k] = boot.setting(text) end
    local said = pcall(declare, list, w.alternate)
    v.as_said = said and read_all() or nil
  end
end
return out
