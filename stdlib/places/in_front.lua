-- SPDX-License-Identifier: MIT
-- Which rack stands in front of which: racks that face alike, one behind the other, as far as their rows overlap.
local memo = import "model.memo"
local record = import "model.record"
local graph = import "model.graph"
local in_front = {}

local inside, given, si = record.inside, record.given, host.si
local LEAST = 1e-9                                        -- slack of what should meet exactly, in metres

-- Where a rack lies, seen along its row: { rack, west, east } along it, { edge, upper } towards the back, in metres.
local function lies(rack)
  local o = rack.outline
  return { rack = rack, west = si(o.from), east = si(o.to), edge = si(o.lower), upper = si(o.upper) }
end

-- Of racks that face alike, from the front: to each the nearest in front of it that its row overlaps. What is seen from
-- behind is kept as stretches of the row, west to east, each with the rack that stands there last.
local function of_one_way(list, found)
  table.sort(list, function(a, b) return a.edge < b.edge or a.edge == b.edge and a.west < b.west end)
  local seen, i = {}, 1
  local function first_at(west)                           -- the first stretch that ends east of there
    local low, high = 1, #seen + 1
    while low < high do
      local middle = (low + high) // 2
      if seen[middle].east > west + LEAST then high = middle else low = middle + 1 end
    end
    return low
  end
  local function look(one)
    local k, best = first_at(one.west), nil
    while seen[k] and seen[k].west < one.east - LEAST do
      local other = seen[k].of
      if not best or other.upper > best.upper then best = other end
      k = k + 1
    end
    if best then found[inside[one.rack]] = { rack = best.rack, gap = one.edge - best.upper } end
  end
  local function put(one)
    local k, rest = first_at(one.west), {}
    while seen[k] and seen[k].west < one.east - LEAST do
      local s = table.remove(seen, k)
      if s.west < one.west then rest[#rest + 1] = { west = s.west, east = one.west, of = s.of } end
      if s.east > one.east then rest[#rest + 1] = { west = one.east, east = s.east, of = s.of } end
    end
    rest[#rest + 1] = { west = one.west, east = one.east, of = one }
    table.sort(rest, function(a, b) return a.west < b.west end)
    for n, s in ipairs(rest) do table.insert(seen, k + n - 1, s) end
  end
  while list[i] do
    local last = i                                        -- those in one line look before any of them is put
    while list[last + 1] and list[last + 1].edge - list[i].edge < LEAST do last = last + 1 end
    for k = i, last do look(list[k]) end
    for k = i, last do put(list[k]) end
    i = last + 1
  end
end

local function all()
  return memo.remember(inside[record.root], "racks in front of racks", function()
    local ways, found, unknown = {}, {}, {}
    for _, rack in ipairs(record.all "rack") do
      local ok, one = pcall(lies, rack)
      if ok then
        local way = string.format("%.6f", si(rack.true_azimuth) % (2 * math.pi))
        ways[way] = ways[way] or {}
        table.insert(ways[way], one)
      elseif host.class(one) then unknown[inside[rack]] = one
      else error(one, 0) end
    end
    for _, list in host.sorted(ways) do of_one_way(list, found) end
    return { found = found, unknown = unknown }
  end)
end

-- The nearest rack that faces alike, stands in front of a rack and is overlapped by its row: { rack, gap in metres from
-- that one's upper edge to this one's lower }; nil where there is none. Raises why where its place is not known.
function in_front.of(rack)
  local known = all()
  local why = known.unknown[inside[rack]]
  if why then error(why, 0) end
  return known.found[inside[rack]]
end

-- The racks that have one in front and none behind them, each the last of a row of racks; of what has no place nothing.
function in_front.last()
  if #record.all "rack" < 2 then return {} end
  local known, list, followed = all(), {}, {}
  for _, rack in ipairs(record.all "rack") do
    local front = known.found[inside[rack]]
    if front then followed[inside[front.rack]] = true end
  end
  for _, rack in ipairs(record.all "rack") do
    if known.found[inside[rack]] and not followed[inside[rack]] then list[#list + 1] = rack end
  end
  return list
end

-- Why a rack has no gap in front of it; nil where it has, and where that is not known.
function in_front.no_gap(rack)
  if #record.all "rack" > 1 and all().unknown[inside[rack]] then return nil end
  local front = #record.all "rack" > 1 and in_front.of(rack)
  if not front then return "no rack that faces as it does stands in front of it" end
  if front.gap < -LEAST then return "rack " .. front.rack.name .. " overlaps it in plan" end
end

-- Why nothing is said of a shadow on it; nil where it is, and where that is not known.
function in_front.no_shadow(rack)
  local why, front = in_front.no_gap(rack), all().found[inside[rack]]
  if why or not front then return why end
  for _, one in ipairs { rack, front.rack } do
    if given(one, "row_slope") then return "the row of rack " .. one.name .. " slopes: its edges are not level" end
  end
  local site = record.only "site"
  local noon = site and graph.try(site, "noon_sun")
  if noon and si(noon) <= 0 then return "the sun does not rise there on the shortest day" end
  if record.all "tilts"[1] then
    local low_sun = import "places.low_sun"
    local known, gap = pcall(function()
      return low_sun.gap(low_sun.stands(front.rack), low_sun.stands(rack), rack.gap_in_front)
    end)
    if known and si(gap) < -LEAST then
      return "rack " .. front.rack.name .. " overlaps it in plan as both are turned on the shortest day"
    end
    if not known and not host.class(gap) then error(gap, 0) end
  end
end

return in_front
