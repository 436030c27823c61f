-- SPDX-License-Identifier: MIT
-- Searching along one input.  Nothing here knows a job: what stands in the input is judged by a function.
--
--   search.along(start, field, judge, reach, now)  the value nearest to start that will do
--   search.towards(start, field, judge, how, now)  the same with few judgings, on the side where it gets better
--   search.entry(list, here, judge, most)          the entry of a list that will do, nearest to the one that is there
--   search.ordered(list, here, judge, most, now)   the same of one that goes from small to large: towards the better
--   search.mark(value, start, step)                the first value that can be built, from value on away from start
--
-- judge(value) gives whether it will do, and a number that is 0 where that turns, or nil; now is that number of start.
-- field: { min, max, above } in SI; a value is an amount or a bare number.  Each gives nil where it finds nothing.
-- Steps grow with the distance, so that what will do only between two of them is not found; what is found was tried.
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

-- Narrows what lies between a number that will not do and one that will: where the straight line between their worths
-- crosses 0, a worth that stays twice counted half; by halves every third time, or where that line says nothing.
local function narrowed(from, to, within, at, worth_from, worth_to)
  local a, b, stayed = worth_from, worth_to, nil
  for n = 1, 60 do
    local width = to - from
    if math.abs(width) <= within(to) then break end
    local share = n % 3 ~= 0 and a and b and a * b < 0 and a / (a - b) or 0.5
    local least = within(to) / math.abs(width) / 2                       -- never just where it stands
    local x = from + width * math.min(math.max(share, least), 1 - least)
    local will, worth = at(x)
    if will then
      to, b = x, worth
      if stayed == "from" and a then a = a / 2 end
      stayed = "from"
    else
      from, a = x, worth
      if stayed == "to" and b then b = b / 2 end
      stayed = "to"
    end
  end
  return to
end

local function fine(x) return 1e-9 * math.max(1, math.abs(x)) end

-- reach: how many first steps it goes at most, on either side.
function search.along(start, field, judge, reach, now)
  local x0, unit, value = axis(start, field)
  if not unit then return nil end
  local function at(x)
    local v = value(x)
    if v == nil then return false end
    return judge(v)
  end
  local edges, before, beyond = { [1] = field.max, [-1] = field.min }, { [1] = x0, [-1] = x0 }, {}
  local worths = { [1] = now, [-1] = now }
  for _, n in ipairs(steps(reach)) do
    for _, side in ipairs { 1, -1 } do
      local x, edge = x0 + side * n * unit, edges[side]
      local last = edge and (x - edge) * side >= 0               -- the edge itself, once
      if last then x = edge end
      if not beyond[side] then
        local will, worth = at(x)
        if will then return value(narrowed(before[side], x, fine, at, worths[side], worth)) end
        before[side], beyond[side], worths[side] = x, last, worth
      end
    end
  end
end

local probes = 7             -- steps on the side where it gets better, each at least twice as far as the one before
local hopeless = 2           -- so many times as far as it may go: where a straight line says that it would turn there

-- how: { within = how near in SI, back, ahead = how far it may go, in first steps, down and up, unit = the first step
-- from 0 }.  One step is tried, and where a straight line through it would cross 0; from there on as need be.
function search.towards(start, field, judge, how, now)
  local x0, unit, value = axis(start, field)
  unit = unit or how.unit
  if not unit or not now then return nil end
  local low = math.max(x0 - how.back * unit, field.min or -math.huge)
  local high = math.min(x0 + how.ahead * unit, field.max or math.huge)
  local function at(x)
    local v = value(x)
    if v == nil then return false end
    return judge(v)
  end
  local function within() return how.within or fine(x0) end
  local best, gain
  for _, x in ipairs { math.min(x0 + unit, high), math.max(x0 - unit, low) } do
    if not gain and x ~= x0 then
      local will, worth = at(x)
      if will then return value(narrowed(x0, x, within, at, now, worth)) end
      best, gain = x, worth
    end
  end
  if not gain or math.abs(gain - now) <= 1e-9 then return nil end
  local from, before = x0, now
  if (gain > now) ~= (now < 0) then best, gain, from, before = x0, now, best, gain end       -- better on the other side
  local side
  for n = 1, probes do
    local slope = (gain - before) / (best - from)
    local x = best - gain / slope
    x = x + (x - best) * 0.02                                    -- a little over where a straight line crosses 0
    side = side or (x > x0 and 1 or -1)
    local edge = side > 0 and high or low
    if n == 1 and math.abs(x - x0) > hopeless * math.abs(edge - x0) then return nil end
    local least = x0 + 2 * (best - x0)
    if n > 1 and (x - least) * side < 0 then x = least end
    if (x - edge) * side > 0 then x = edge end
    if x == best then return nil end
    local will, worth = at(x)
    if will then return value(narrowed(best, x, within, at, gain, worth)) end
    if not worth or math.abs(worth) >= math.abs(gain) or x == edge then return nil end
    best, from, gain, before = x, best, worth, gain
  end
end

-- The entry nearest to the one that stands at `here`, one after the other on both sides; second: how many places off.
function search.entry(list, here, judge, most)
  for k = 1, here and math.min(#list, most or #list) or 0 do
    for _, i in ipairs { here - k, here + k } do
      if list[i] ~= nil and judge(list[i]) then return list[i], k end
    end
  end
end

function search.ordered(list, here, judge, most, now)
  local worths = { [-1] = now, [1] = now }
  for k = 1, most do
    for _, side in ipairs { -1, 1 } do
      local v = worths[side] and list[here + side * k]
      if v ~= nil then
        local will, worth = judge(v)
        if will then return v, k end
        worths[side] = worth and worth > worths[side] + 1e-12 and worth or nil
      end
    end
  end
end

-- ---- what can be built ----------------------------------------------------------------------------------------------

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
