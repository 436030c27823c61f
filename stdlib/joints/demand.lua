-- SPDX-License-Identifier: MIT
-- What the joints of a rack carry, by allowable combinations: { duration, words, ... } each; words() says of what.
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

local function told(rack, row)
  return row.combination .. ", " .. cases.words(rack.wind_cases, row.wind_case) .. "; " .. row.limit
end

-- ---- heads of posts ------------------------------------------------------------------------------------------------

-- What an engineer's paper gives of posts stands instead of the frame's; the frame's weight is not taken off there.
local function by_paper(list, line, p, paper)
  local function words() return "by " .. import("model.given").title(paper) end
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
          words = function()
            return "post " .. line.letter .. " at station " .. math.tointeger(row.station) .. ": " .. told(rack, row)
          end }
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
          words = function() return "station " .. math.tointeger(row.station) .. ": " .. told(rack, row) end }
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

-- Those of a list of pulls and forces across that no other exceeds in both under loads that last as long: a screw is
-- never used more by less of either.
local function most(list, pull, across)
  local left = {}
  for i, a in ipairs(list) do
    local beaten = false
    for k, b in ipairs(list) do
      if k ~= i and a.duration == b.duration and b[pull] >= a[pull] and b[across] >= a[across] and
          (k < i or b[pull] > a[pull] or b[across] > a[across]) then beaten = true end
    end
    if not beaten then left[#left + 1] = a end
  end
  return left
end

-- What lifts heads and pushes them sideways, to be judged by pull and side force together.
function demand.pulled_heads(rack)
  local list = demand.heads(rack)
  for _, r in ipairs(list) do
    local lift = host.si(r.lift)
    r.up, r.push = lift > 0 and lift or 0, host.si(r.side)
  end
  return most(list, "up", "push")
end

-- One joint of a rail and a rafter under each combination and wind: square to the modules, and along the slope.
function demand.rails(rack)
  local height, row = loaded.rail_loads(rack).height, most_of_row(rack)
  local plan, tilt = host.si(rack.slope_length * rack.row_width), host.si(rack.tilt)
  local sin, cos = math.sin(tilt), math.cos(tilt)
  local light, heavy = host.si(rack.module_mass * pound) / plan, host.si(rack.frame_weight_most) / plan
  local lift, push, by = pressures(rack, height * row)
  local snow, up, down = host.si(rack.snow_load), host.si(lift), host.si(push)
  local least, area = host.si(host.fact("pressure_least", record.root.codes.loads)), host.si(height * row)
  local winds = { { -up, 0, by }, { down, 0, "wind that presses" },
      { least * sin * sin, -least * sin * cos, "least wind, up the slope" },
      { -least * sin * sin, least * sin * cos, "least wind, down the slope" } }
  local list = {}
  for _, c in ipairs(import "loads.combinations" ()) do
    for _, w in ipairs(c.wind > 0 and winds or { { 0, 0, "no wind" } }) do
      -- Rafters and braces hold down no rail; down the slope all of the weight counts.
      local dead = w[1] < 0 and light or heavy
      local pressed = c.dead * dead * cos + c.snow * snow * cos * cos + c.wind * w[1]
      local along = c.dead * heavy * sin + c.snow * snow * cos * sin + c.wind * w[2]
      list[#list + 1] = { duration = lasting[c.duration], up = -pressed > 0 and -pressed or 0, slides = math.abs(along),
          words = function() return c.name .. ", " .. w[3] end }
    end
  end
  list = most(list, "up", "slides")
  for _, r in ipairs(list) do
    r.lift, r.along = host.quantity(r.up * area, "force"), host.quantity(r.slides * area, "force")
  end
  return list
end

return demand
