-- SPDX-License-Identifier: MIT
-- The variants of a space judged one after the other, in the order in which least is worked out again.
--
-- Axes that shape the declarations stand outermost: for each of their combinations the job is declared anew, once.
-- The others put values into its records, in levels of the engine that stand in each other: the axis that costs least
-- changes fastest, and what an outer level has worked out holds for all within it.  A row is a variant's alone: it does
-- not depend on which were judged before it.
local run = import "model.run"
local boot = import "model.boot"
local judge = import "model.judge"
local rule = import "model.rule"
local record = import "model.record"
local anew = import "model.anew"
local variants = import "model.variants"
local walk = {}

-- ---- the order -----------------------------------------------------------------------------------------------------

-- About what a step of an axis takes: how much of what was worked out of the job as declared rests on what it moves.
-- Nothing is judged for it: a variant without an end has to be a worker's, not that of who deals them out.
local function weight(axis)
  local n = 0
  for path in host.sorted(axis.puts(axis.size - 1)) do n = n + variants.resting(path) end
  return n
end

-- The axes as indices, outermost first: those that shape in the order declared, then those that put values.  Of two
-- neighbours of these the inner one changes n times as often, and costs its weight each time that it is not back at its
-- first step.
local function inwards(axes, apart)
  local shaping, plain, cost = {}, {}, {}
  for a, axis in ipairs(axes) do
    if apart or axis.shapes then shaping[#shaping + 1] = a
    else
      plain[#plain + 1] = a
      cost[a] = axis.size > 1 and weight(axis) / (1 - 1 / axis.size) or math.huge
    end
  end
  table.sort(plain, function(a, b)
    if cost[a] ~= cost[b] then return cost[a] > cost[b] end
    return a < b
  end)
  return shaping, plain
end

-- ---- a row ---------------------------------------------------------------------------------------------------------

local function add(list, met, id)
  if met[id] then return list end
  met[id] = true
  return list and list .. " " .. id or id
end

-- What outcomes say of a variant: status, ids of the stop rules that are broken, of those that are unknown, and of how
-- many caution rules one or the other.
local function told(outcomes, quote)
  local broken, unknown, cautions, met = nil, nil, 0, nil
  for i = 1, #outcomes do
    local o = outcomes[i]
    local is = o.outcome
    if is ~= "holds" and is ~= "not applicable" and not o.waiver then
      met = met or { broken = {}, unknown = {}, caution = {} }
      local def = o.rule
      if def.severity == "caution" then
        if not met.caution[def.id] then met.caution[def.id], cautions = true, cautions + 1 end
      elseif def.severity ~= "note" then
        if is == "broken" then broken = add(broken, met.broken, def.id)
        else unknown = add(unknown, met.unknown, def.id) end
      end
    end
  end
  return broken and "broken" or unknown and not quote and "unknown" or "holds", broken, unknown, cautions
end

-- ---- a worker ------------------------------------------------------------------------------------------------------

local worker = {}
worker.__index = worker

local kept_steps = 1024        -- of an axis, whose values are kept at a time

-- Leaves all levels but the outermost n.
function worker:close(n)
  for i = #self.open, n + 1, -1 do
    self.open[i] = nil
    variants.leave()
  end
end

-- The job declared with these steps of some axes; self.refused where it cannot be.
function worker:declare(steps, axes)
  self:close(0)
  self.rules, self.refused = nil, nil
  local plan = table.move(self.plan, 1, #self.plan, 1, {})
  for _, a in ipairs(axes) do
    local more = self.axes[a].plan(steps[a])
    table.move(more, 1, #more, #plan + 1, plan)
  end
  local ok, err = pcall(host.hushed, boot.declare, { script = self.script, plan = plan })
  if ok then return end
  if type(err) ~= "table" then error(err, 0) end
  self.refused = err
end

-- Whether the other axes, too, shape what was declared: it may read what the job as declared does not.
function worker:reads_others()
  for _, a in ipairs(self.plain) do
    for path in host.sorted(self:puts(a, 1)) do
      local ok, shapes = pcall(anew.shapes, path)
      if ok and shapes then return true end
    end
  end
  return false
end

-- The job declared with these steps of the axes that shape it, ready for variants to differ from it.
function worker:combine(steps, combination)
  self:declare(steps, self.shaping)
  self.combination = combination
  if not self.plain[1] then return end
  if self.refused then                   -- what the other axes put in may be just what it lacks
    self.apart[combination] = true
    return
  end
  local ok, err = pcall(host.hushed, self.first, self)
  if not ok and type(err) ~= "table" then error(err, 0) end
  if not ok then self.refused = err
  elseif self.apart[combination] == nil then self.apart[combination] = self:reads_others() end
end

-- What was declared, judged so that variants differ from it.  What refuses to be judged will refuse them, too.
function worker:first()
  rule.all()
  self.rules = rule.loaded()
  pcall(variants.first, self.rules)
end

-- What a step puts in, made once as long as not too many are kept: a sample may have a step for each variant.
function worker:puts(axis, step)
  local made = self.made[axis]
  if not made[step] then
    if made.n == kept_steps then
      made = { n = 0 }
      self.made[axis] = made
    end
    made[step], made.n = self.axes[axis].puts(step), made.n + 1
  end
  return made[step]
end

-- The steps that are not declared ones: { axis, step, axis, step, ... }, outermost first.
function worker:moved(steps)
  local list, n = {}, 0
  for _, a in ipairs(self.plain) do
    if steps[a] ~= 0 then list[n + 1], list[n + 2], n = a, steps[a], n + 2 end
  end
  return list
end

local function shared(a, b)
  local n = 0
  while a[2 * n + 1] and a[2 * n + 1] == b[2 * n + 1] and a[2 * n + 2] == b[2 * n + 2] do n = n + 1 end
  return n
end

-- Levels for these steps; what the variant that follows shares with them is judged, so that it need not.
function worker:enter(moved, following)
  local open, n = self.open, #moved // 2
  local same = 0
  while open[same + 1] and open[same + 1][1] == moved[2 * same + 1] and open[same + 1][2] == moved[2 * same + 2] do
    same = same + 1
  end
  self:close(same)
  local common = following and shared(moved, following) or 0
  for i = same + 1, n do
    local axis, step = moved[2 * i - 1], moved[2 * i]
    variants.enter(self:puts(axis, step))
    open[i] = { axis, step }
    if i <= common and i < n then pcall(judge.all, self.rules) end
  end
end

-- All that is put in, by path; nil where nothing is.
function worker:changes(moved)
  local changes
  for i = 1, #moved, 2 do
    changes = changes or {}
    for path, value in next, self:puts(moved[i], moved[i + 1]) do changes[path] = value end
  end
  return changes
end

local function kept_of(kept)
  local values = {}
  for i, k in ipairs(kept) do values[i] = k.get() end
  return values
end

function worker:judged(moved, following)
  self.rules = self.rules or rule.all() and rule.loaded()
  self:enter(moved, following)
  local changes = self:changes(moved)
  if changes then anew.refuse(changes) end
  return judge.all(self.rules), kept_of(self.kept)
end

function worker:combination_of(steps)
  local list = {}
  for i, a in ipairs(self.shaping) do list[i] = steps[a] end
  return table.concat(list, " ")
end

-- The status of an error: a class, or a code of what may not be declared, is the job's; anything else a script's.
local function status_of(err) return (err.class or string.find(err.code or "", "^[DR]")) and "refused" or "error" end

-- Why there is no outcome; of a script's error where it stands, too, wherever the script lies.
local function without_outcome(number, err, n)
  local status, why = status_of(err), host.message(err)
  if status == "error" and (err.source or 0) > 0 then why = host.place(err):gsub("^.*/", "") .. ": " .. why end
  return number, status, nil, nil, nil, why, table.unpack({}, 1, n)
end

-- The row of a variant: number, status, broken, unknown, cautions, why, and what is kept.
function worker:row(number, steps, following)
  local combination = self:combination_of(steps)
  if combination ~= self.combination and not self.apart[combination] then self:combine(steps, combination) end
  local apart = self.apart[combination]
  if apart then
    self:declare(steps, self.all)
    self.combination = nil
  end
  if self.refused then
    return without_outcome(number, self.refused, #self.kept)
  end
  if following and self:combination_of(following) ~= combination then following = nil end
  local ok, outcomes, values = pcall(host.hushed, self.judged, self, apart and {} or self:moved(steps),
      following and not apart and self:moved(following) or nil)
  if not apart and anew.kept_since() then
    self.apart[combination] = true
    return self:row(number, steps)
  end
  if not ok then
    if type(outcomes) ~= "table" then error(outcomes, 0) end
    return without_outcome(number, outcomes, #self.kept)
  end
  local status, broken, unknown, cautions = told(outcomes, record.root.stage == "quote")
  return number, status, broken, unknown, cautions, nil, table.unpack(values, 1, #self.kept)
end

-- ---- a walk --------------------------------------------------------------------------------------------------------

local most_in_block, blocks = 512, 64        -- there are at least so many, so that no worker is without one for long

-- Numbers of a grid in the order of the axes `inner`, outermost first.
local function in_order(space, inner)
  local axes, stride = space.axes, {}
  local n = 1
  for a = #axes, 1, -1 do stride[a], n = n, n * axes[a].size end
  local digits, number, started, ended = {}, 0, false, false
  for i = 1, #inner do digits[i] = 0 end
  return function()
    if ended then return nil end
    if not started then
      started = true
      return number
    end
    for i = #inner, 1, -1 do
      local a = inner[i]
      if digits[i] + 1 < axes[a].size then
        digits[i], number = digits[i] + 1, number + stride[a]
        return number
      end
      number = number - digits[i] * stride[a]
      digits[i] = 0
    end
    ended = true
  end
end

-- Numbers of samples, sorted by their steps in that order.
local function sorted_samples(space, inner)
  local step, list = space.step, {}
  for n = 0, space.total - 1 do list[n + 1] = n end
  table.sort(list, function(x, y)
    for _, axis in ipairs(inner) do
      local a, b = step(x, axis), step(y, axis)
      if a ~= b then return a < b end
    end
    return x < y
  end)
  local i = 0
  return function()
    i = i + 1
    return list[i]
  end
end

-- space: see sweep.space; kept: { { get } ... } of sweep.goals; options: { shard = { i, n }, apart = true where each
-- variant is to be declared anew }.
-- Gives next() -> the numbers of a block, in the order in which they are best judged, or nil; and work(numbers, row,
-- go_on), which judges them, and calls row with the values of each, as long as go_on(number) says so.
function walk.new(space, kept, options)
  options = options or {}
  rule.all()                             -- loads those that judge something here
  variants.base(rule.loaded())
  local shaping, plain = inwards(space.axes, options.apart)
  local inner = table.move(plain, 1, #plain, #shaping + 1, table.move(shaping, 1, #shaping, 1, {}))
  local following = space.sampled and sorted_samples(space, inner) or in_order(space, inner)
  local shard = options.shard or { 0, 1 }
  local most = math.max(1, math.min(most_in_block, space.total // (blocks * shard[2])))
  local self = setmetatable({ axes = space.axes, shaping = shaping, plain = plain, kept = kept, open = {}, made = {},
      all = {}, apart = {}, script = run.declared.script, plan = run.declared.plan }, worker)
  for a in ipairs(space.axes) do self.made[a], self.all[a] = { n = 0 }, a end
  self.combination = self:combination_of(space.steps(0))
  self.apart[self.combination] = false

  local function block()
    local list = {}
    while #list < most do
      local number = following()
      if not number then break end
      if number % shard[2] == shard[1] then list[#list + 1] = number end
    end
    return list[1] and list or nil
  end

  local function work(numbers, row, go_on)
    local steps = numbers[1] and space.steps(numbers[1])
    for i, number in ipairs(numbers) do
      local after = numbers[i + 1] and space.steps(numbers[i + 1])
      if go_on and not go_on(number) then break end
      row(self:row(number, steps, after))
      steps = after
    end
  end

  return { next = block, work = work, order = inner }
end

return walk
