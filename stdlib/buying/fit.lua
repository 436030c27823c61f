-- SPDX-License-Identifier: MIT
-- Whether pieces can be cut from sticks that are there, each stick once; spools and lengths of pipe are sticks, too.
local fit = {}

local most_steps = 20000
local hair = 1e-9

-- Indexes of a list by its numbers, the largest first; of equal ones in the order of the list.
local function by_size(list)
  local order = {}
  for i = 1, #list do order[i] = i end
  table.sort(order, function(a, b)
    if list[a] ~= list[b] then return list[a] > list[b] end
    return a < b
  end)
  return order
end

-- Each piece, the longest first, into the stick in which least is left.  pieces, sticks: numbers; a cut takes kerf.
-- Gives stick_of[piece], room[stick], and the pieces that are left.
function fit.best(pieces, sticks, kerf)
  local plan = { stick_of = {}, room = {}, left = {}, count = 0 }
  for k, length in ipairs(sticks) do plan.room[k] = length + kerf end
  for _, i in ipairs(by_size(pieces)) do
    local need, best = pieces[i] + kerf, nil
    for k, room in ipairs(plan.room) do
      if need <= room + hair and (not best or room < plan.room[best]) then best = k end
    end
    plan.stick_of[i] = best
    if best then
      plan.room[best] = plan.room[best] - need
      plan.count = plan.count + 1
    end
  end
  for i = 1, #pieces do if not plan.stick_of[i] then plan.left[#plan.left + 1] = i end end
  return plan
end

local function sum(list)
  local total = 0
  for _, x in ipairs(list) do total = total + x end
  return total
end

-- Rooms that are alike, in whatever order, leave the same pieces to lay out.
local function state_of(n, room)
  local list = table.move(room, 1, #room, 1, {})
  table.sort(list)
  for k, x in ipairs(list) do list[k] = string.format("%.7f", x) end
  return n .. " " .. table.concat(list, " ")
end

-- Whether all fit: where the plan above leaves a piece over, every way is tried; nil where that are too many.
function fit.all(pieces, sticks, kerf)
  if fit.best(pieces, sticks, kerf).count == #pieces then return true end
  if sum(pieces) > sum(sticks) + hair then return false end
  local order, room, steps, hopeless = by_size(pieces), {}, 0, {}
  for k, length in ipairs(sticks) do room[k] = length + kerf end
  local function place(n)
    if n > #order then return true end
    local state = state_of(n, room)
    if hopeless[state] then return false end
    local need, tried = pieces[order[n]] + kerf, {}
    for k = 1, #room do
      local before = room[k]
      if need <= before + hair and not tried[before] then
        steps = steps + 1
        if steps > most_steps then return nil end
        tried[before] = true
        room[k] = before - need
        local found = place(n + 1)
        if found ~= false then return found end
        room[k] = before
      end
    end
    hopeless[state] = true
    return false
  end
  return place(1)
end

return fit
