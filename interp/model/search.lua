-- SPDX-License-Identifier: MIT
-- Searching along one input.  Nothing here knows a job: what stands in the input is judged by a function.
--
--   search.along(start, field, test, reach)      the value nearest to start, at which test(value) is true
--   search.towards(start, field, judge, how)     the same with few judgings: judge(value) gives whether it holds, and a
--                                                number that grows on the way there, by which the next step is taken
--   search.entry(list, start, test)              the entry of a list nearest to the one that stands there
--   search.mark(value, start, unit)              the first value that can be built, from value on away from start
--
-- field: { min, max, above } in SI; a value is an amount or a bare number.  Each gives nil where it finds nothing. Steps
-- grow with the distance, so that what holds only between two of them is not found; what is found was tried.
local search = {}

local nearest_step, growth, first_steps = 0.05, 1.25, 4    -- a twentieth of the value, four times, then longer ones

-- So many first steps away from the value, in growing numbers: 1, 2, 3, 4, 5, 6.25 ... up to reach.
local function steps(reach)
  local list, n = {}, 0
  while n < reach do
    n = n < first_steps + 1 and n + 1 or n * growth
    list[#list + 1] = math.min(n, reach)
  end
  return list
end

-- Its number, how far the first step is, and a function from a number to a value that the field takes, or nil.
local function axis(start, field)
  local x0 = type(start) == "number" and start or host.si(start)
  local point = host.is(start, "temperature")
  local unit = point and 1 or x0 ~= 0 and math.abs(x0) * nearest_step or nil
  local function value(x)
    if field.above and x <= field.above or not point and x0 ~= 0 and x * x0 <= 0 then return nil end
    if field.min and x < field.min or field.max and x > field.max then return nil end
    return type(start) == "number" and x or host.like(start, x)
  end
  return x0, unit, value
end

-- Halves what lies between a number at which it is false and one at which it is true.
local function halved(from, to, within, at)
  for _ = 1, 40 do
    if math.abs(to - from) <= within(to) then break end
    local mid = (from + to) / 2
    if at(mid) then to = mid else from = mid end
  end
  return to
end

local function fine(x) return 1e-9 * math.max(1, math.abs(x)) end

-- reach: how many first steps it goes at most, on either side.
function search.along(start, field, test, reach)
  local x0, unit, value = axis(start, field)
  if not unit then return nil end
  local function at(x)
    local v = value(x)
    return v ~= nil and test(v)
  end
  local edges, before, beyond = { [1] = field.max, [-1] = field.min }, { [1] = x0, [-1] = x0 }, {}
  for _, n in ipairs(steps(reach)) do
    for _, side in ipairs { 1, -1 } do
      local x, edge = x0 + side * n * unit, edges[side]
      local last = edge and (x - edge) * side >= 0               -- the edge itself, once
      if last then x = edge end
      if not beyond[side] and at(x) then return value(halved(before[side], x, fine, at)) end
      before[side], beyond[side] = x, beyond[side] or last
    end
  end
end

local probes = 6             -- steps on the side where it gets better, each at least twice as far as the one before

-- how: { within = how near in SI, back, ahead = how far it may go, in first steps, down and up }.  now: what judge gives
-- of start.
function search.towards(start, field, judge, how, now)
  local x0, unit, value = axis(start, field)
  unit = unit or how.unit
  if not unit then return nil end
  local low = math.max(x0 - how.back * unit, field.min or -math.huge)
  local high = math.min(x0 + how.ahead * unit, field.max or math.huge)
  local function at(x)
    local v = value(x)
    if v == nil then return false end
    return judge(v)
  end
  local function within() return how.within end
  local best, from, gain = nil, nil, now
  for _, x in ipairs { math.min(x0 + unit, high), math.max(x0 - unit, low) } do
    if x ~= x0 then
      local holds, worth = at(x)
      if holds then return value(halved(x0, x, within, at)) end
      if worth and gain and worth > gain + 1e-12 then best, from, gain = x, x0, worth end
    end
  end
  if not best then return nil end
  local edge, before = best > x0 and high or low, now
  for _ = 1, probes do
    if best == edge then return nil end
    local slope = (gain - before) / (best - from)
    local x = best - gain / slope                                -- where a straight line would reach nought
    x = x + (x - best) * 0.02                                    -- and a little over
    local least = best + (best - x0)
    if math.abs(x - x0) < math.abs(best - x0) or (x - best) * (best - x0) <= 0 then x = least end
    if (x - edge) * (best - x0) > 0 then x = edge end
    local holds, worth = at(x)
    if holds then return value(halved(best, x, within, at)) end
    if not worth or worth <= gain then return nil end
    best, from, gain, before = x, best, worth, gain
  end
end

-- The entry nearest to the one that stands at `here`, one after the other on both sides; second: how many places off.
function search.entry(list, here, test)
  for k = 1, here and #list or 0 do
    for _, i in ipairs { here - k, here + k } do
      if list[i] ~= nil and test(list[i]) then return list[i], k end
    end
  end
end

-- ---- what can be built -----------------------------------------------------------------------------------------------

local inch = 0.0254

-- Marks that a length is laid out by, coarse ones first; from how long on.
local marks = {
  US = { { 12 * inch, 20 * 12 * inch }, { inch, 0 }, { inch / 4, 0 }, { inch / 16, 0 } },
  SI = { { 1, 10 }, { 0.01, 0 }, { 0.005, 0 }, { 0.001, 0 } },
}
local degree = math.pi / 180
local others = { angle = { { degree, 0 }, { degree / 2, 0 }, { degree / 10, 0 } },
    share = { { 0.01, 0 }, { 0.005, 0 }, { 0.001, 0 } } }

local function whole(x, step) return math.abs(x / step - math.floor(x / step + 0.5)) < 1e-6 end

-- The coarsest mark on which the value stands as it is; the finest where it stands on none.
function search.step(start, units)
  local list = type(start) == "number" and others.share or host.is(start, "angle") and others.angle
      or host.is(start, "length") and marks[units]
  if not list then return nil end
  local x = type(start) == "number" and start or host.si(start)
  for _, m in ipairs(list) do if math.abs(x) >= m[2] and whole(x, m[1]) then return m[1] end end
  return list[#list][1]
end

function search.mark(value, start, step)
  if not step then return value end
  local x0, x = type(start) == "number" and start or host.si(start), type(value) == "number" and value or host.si(value)
  local n = x > x0 and math.ceil(x / step - 1e-6) or math.floor(x / step + 1e-6)
  return type(value) == "number" and n * step or host.like(value, n * step)
end

return search
