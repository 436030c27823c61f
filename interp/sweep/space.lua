-- SPDX-License-Identifier: MIT
-- The variants of a sweep, by number.  Of a grid: the mixed-radix number of its steps, the first axis most significant,
-- so that the last one changes fastest.  Of a sample: 0 is the job as declared, then come the draws.
local util = import "model.util"
local draw = import "sweep.draw"
local space = {}

local limit = 1 << 53          -- whole numbers that every reader of the store has exactly
local most_drawn = 5000000     -- steps in all: their lists lie in memory, beside what the job needs

local function refuse(code, text, help) host.raise { code = code, text = text, help = help } end

local function names(axes)
  local list = {}
  for i, axis in ipairs(axes) do list[i] = axis.name .. " (" .. axis.size .. ")" end
  return util.list(list)
end

local function count(axes)
  local total = 1
  for _, axis in ipairs(axes) do
    if axis.kind == "between" then
      axis.at.refuse(axis.at.range.from, "W002", axis.name .. " goes from one end to the other without steps",
          "say step = ..., or draw from it: --sample 1000")
    end
  end
  local many, product = false, 1.0
  for _, axis in ipairs(axes) do
    product = product * axis.size
    if many or total > limit // axis.size then many = true else total = total * axis.size end
  end
  if many then
    refuse("W001", #axes .. (#axes == 1 and " axis gives" or " axes give") .. string.format(" %.3g", product) ..
        " variants, more than 2^53: " .. names(axes), "leave some out, or draw from them: --sample 10000")
  end
  return total
end

local function grid(axes)
  local s = { axes = axes, sampled = false, total = count(axes) }
  local strides, n = {}, 1
  for a = #axes, 1, -1 do
    strides[a] = n
    axes[a].stride = n
    n = n * axes[a].size
  end
  function s.steps(number)
    local steps = {}
    for a, axis in ipairs(axes) do steps[a] = number // strides[a] % axis.size end
    return steps
  end
  function s.number(steps)
    local number = 0
    for a = 1, #axes do number = number + steps[a] * strides[a] end
    return number
  end
  return s
end

local function sample(axes, n, seed)
  local most = most_drawn // math.max(1, #axes)
  if n > most then
    refuse("W001", "a sample of " .. n .. " is more than are drawn at once", "of " .. #axes ..
        (#axes == 1 and " axis" or " axes") .. " at most " .. most .. ": another --seed draws others")
  end
  local drawn, steps_of = {}, {}
  for a, axis in ipairs(axes) do
    local lots = draw.lots(seed, a)
    if axis.kind == "between" then
      local order, places = draw.parts(n, lots)
      drawn[a], steps_of[a] = axis.drawn(n, function(i) return places[i] end), order
    else drawn[a], steps_of[a] = axis, draw.steps(axis.size, n, lots) end
  end
  local s = { axes = drawn, sampled = true, total = n + 1 }
  function s.step(number, a) return number == 0 and 0 or steps_of[a][number] end
  function s.steps(number)
    local steps = {}
    for a = 1, #axes do steps[a] = s.step(number, a) end
    return steps
  end
  return s
end

-- axes: as sweep.axes has them; options: { sample, seed }. Gives { axes, total, sampled, steps(number), number(steps)
-- of a grid, step(number, axis) of a sample, label(number), plan(number), words(number) }.
function space.new(axes, options)
  local s = options.sample and sample(axes, options.sample, options.seed or 1) or grid(axes)
  function s.label(number)
    local parts = {}
    for a, step in ipairs(s.steps(number)) do
      local axis = s.axes[a]
      if step > 0 then
        parts[#parts + 1] = axis.kind == "rows" and axis.text(step) or axis.name .. "=" .. axis.text(step)
      end
    end
    return parts[1] and table.concat(parts, ", ") or "as declared"
  end
  function s.plan(number)
    local plan = {}
    for a, step in ipairs(s.steps(number)) do
      local more = s.axes[a].plan(step)
      table.move(more, 1, #more, #plan + 1, plan)
    end
    return plan
  end
  -- The same as words behind --set and the name of an alternate, so that `run` gives that variant; nil where an axis
  -- has a value that no text says.
  function s.words(number)
    local sets, alternate = {}, nil
    for a, step in ipairs(s.steps(number)) do
      local more = s.axes[a].sets(step)
      if not more then return nil end
      table.move(more, 1, #more, #sets + 1, sets)
      alternate = alternate or s.axes[a].alternate(step)
    end
    return sets, alternate
  end
  return s
end

return space
