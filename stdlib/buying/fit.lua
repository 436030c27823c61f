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

-- The first place in an ordered list whose entry is past what is looked for, as past(entry) says.
local function place(list, past)
  local low, high = 1, #list + 1
  while low < high do
    local mid = (low + high) // 2
    if past(list[mid]) then high = mid else low = mid + 1 end
  end
  return low
end

-- Sticks by the room that is left in them.
local function by_room(plan)
  local rooms, sticks = {}, {}                 -- the rooms that there are, the least first; room -> its sticks in order
  local by = {}
  function by.put(k, room)
    plan.room[k] = room
    local list = sticks[room]
    if not list then
      list = {}
      sticks[room] = list
      table.insert(rooms, place(rooms, function(r) return r > room end), room)
    end
    table.insert(list, place(list, function(other) return other > k end), k)
  end
  -- Takes out the first stick of those in which least is left, and yet enough; nil where there is none.
  function by.take(need)
    local i = place(rooms, function(r) return need <= r + hair end)
    local room = rooms[i]
    if not room then return nil end
    local k = table.remove(sticks[room], 1)
    if not sticks[room][1] then
      sticks[room] = nil
      table.remove(rooms, i)
    end
    return k, room
  end
  return by
end

-- Each piece, the longest first, into the stick in which least is left.  pieces, sticks: numbers; a cut takes kerf.
-- Gives stick_of[piece], room[stick], and the pieces that are left.
function fit.best(pieces, sticks, kerf)
  local plan = { stick_of = {}, room = {}, left = {}, count = 0 }
  local rooms = by_room(plan)
  for k, length in ipairs(sticks) do rooms.put(k, length + kerf) end
  for _, i in ipairs(by_size(pieces)) do
    local need = pieces[i] + kerf
    local k, room = rooms.take(need)
    plan.stick_of[i] = k
    if k then
      rooms.put(k, room - need)
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
