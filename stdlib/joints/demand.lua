-- SPDX-License-Identifier: MIT
-- What the joints of a rack carry, by allowable combinations: { duration, words, ... } each.
--
-- A head: lift and side, on its post.  A rail on a rafter: lift square to the modules, less than 0 where it presses,
-- and along, down or up the slope.  A brace: axial, compression +.
local record = import "model.record"
local graph = import "model.graph"
local cases = import "loads.cases"
local loaded = import "loads.members"
local lines = import "structure.lines"
local members = import "joints.members"
local demand = {}

local given = record.given
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass
local lasting = { dead = "permanent", snow = "two months", wind = "ten minutes" }
local none = host.quantity(0.0, "force")

-- ---- heads of posts ------------------------------------------------------------------------------------------------

-- What an engineer's paper gives of posts stands instead of the frame's; the frame's weight is not taken off there.
local function by_paper(list, line, p, paper)
  local words = "by " .. import("model.given").title(paper)
  local function put(lift)
    list[#list + 1] = { duration = "ten minutes", line = line.letter, lift = lift, side = p.lateral, words = words }
  end
  put(calc.allowable_wind { wind = p.wind_uplift, edition = record.root.codes.loads }.force)
  put(none - p.pressed)
end

function demand.heads(rack)
  local list, seen, ours = {}, {}, {}
  for i, line in ipairs(lines.of(rack)) do
    for p in record.each(rack.post) do
      if p.letter == line.letter then
        local paper = graph.paper(p, "loads.side") or graph.paper(p, "loads.up")
        if paper then by_paper(list, line, p, paper) else ours[i] = line end
      end
    end
  end
  if next(ours) == nil then return list end
  for _, row in ipairs(rack.frames.heads) do
    local line = ours[math.tointeger(row.line)]
    local key = line and line.letter .. " " .. row.duration .. " " .. host.si(row.lift) .. " " .. host.si(row.side)
    if line and not seen[key] then
      seen[key] = true
      list[#list + 1] = { duration = lasting[row.duration], line = line.letter, lift = row.lift, side = row.side,
          words = "post " .. line.letter .. " at station " .. math.tointeger(row.station) .. ": " .. row.combination ..
              ", " .. cases.words(rack.wind_cases, row.wind_case) .. "; " .. row.limit }
    end
  end
  return list
end

-- ---- braces --------------------------------------------------------------------------------------------------------

function demand.braces(rack)
  local list = {}
  for _, row in ipairs(rack.frames.strains) do
    if row.part == "brace" then
      list[#list + 1] = { duration = lasting[row.duration], axial = row.axial,
          words = "station " .. math.tointeger(row.station) .. ": " .. row.combination .. ", " ..
              cases.words(rack.wind_cases, row.wind_case) .. "; " .. row.limit }
    end
  end
  return list
end

-- ---- rails on rafters ----------------------------------------------------------------------------------------------

-- The most of the row that one rafter carries: of rails that run through, and as if they were cut over it.
local function most_of_row(rack)
  local own, most = given(rack, "rafters"), nil
  local function put(length) if length and (not most or length > most) then most = length end end
  if own and given(own, "count") then
    local places = {}
    for i, s in ipairs(rack.rafter_places.stations) do
      places[i] = s.offset
      put(s.tributary)
    end
    for _, length in pairs(import "loads.carried" (rack, places)) do put(length) end
  else
    for _, s in ipairs(rack.shares) do put(s.taken) end
  end
  return most
end

-- The most of all wind square to the modules: the frames' pressures, or that of corners and edges on so small an area.
local function pressures(rack, area)
  local zones = loaded.zones(rack, area)
  local lift, push, by = zones.lift, zones.push, "corners and edges"
  for i, c in ipairs(rack.wind_cases) do
    for _, p in ipairs { c.low, c.high } do
      if -1 * p > lift then lift, by = -1 * p, cases.words(rack.wind_cases, i) end
      if p > push then push = p end
    end
  end
  return lift, push, by
end

-- One joint of a rail and a rafter under each combination and wind: square to the modules, and along the slope.
function demand.rails(rack)
  local height, row = loaded.rail_loads(rack).height, most_of_row(rack)
  local area, tilt = rack.slope_length * rack.row_width, host.si(rack.tilt)
  local sin, cos = math.sin(tilt), math.cos(tilt)
  local light, heavy, snow = rack.module_mass * pound / area, rack.frame_weight_most / area, rack.snow_load
  local lift, push, by = pressures(rack, height * row)
  local least = host.fact("pressure_least", record.root.codes.loads)
  local still = 0 * lift
  local winds = { { -1 * lift, still, by }, { push, still, "wind that presses" },
      { least * (sin * sin), -1 * least * (sin * cos), "least wind, up the slope" },
      { -1 * least * (sin * sin), least * (sin * cos), "least wind, down the slope" } }
  local list = {}
  for _, c in ipairs(loaded.combinations()) do
    for _, w in ipairs(c.wind > 0 and winds or { { still, still, "no wind" } }) do
      -- Rafters and braces hold down no rail; down the slope all of the weight counts.
      local dead = host.si(w[1]) < 0 and light or heavy
      local down = c.dead * dead * cos + c.snow * snow * (cos * cos) + c.wind * w[1]
      local along = c.dead * heavy * sin + c.snow * snow * (cos * sin) + c.wind * w[2]
      list[#list + 1] = { duration = lasting[c.duration], lift = -1 * down * (height * row),
          along = host.abs(along * (height * row)), words = c.name .. ", " .. w[3] }
    end
  end
  return list
end

-- Those of a list of pulls and forces across that no other exceeds in both under loads that last as long.
function demand.most(list, pull, across)
  local left = {}
  for i, a in ipairs(list) do
    local beaten = false
    for k, b in ipairs(list) do
      if k ~= i and a.duration == b.duration and not (pull(b) < pull(a)) and not (across(b) < across(a)) and
          (k < i or pull(b) > pull(a) or across(b) > across(a)) then beaten = true end
    end
    if not beaten then left[#left + 1] = a end
  end
  return left
end

return demand
