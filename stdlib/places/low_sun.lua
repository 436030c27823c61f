-- SPDX-License-Identifier: MIT
-- Racks as they stand on the shortest day of the year, at whose noon their shadows are judged: those whose modules are
-- turned with the seasons, in the position of that day.
local record = import "model.record"
local tilted = import "structure.tilted"
local low_sun = {}

local si = host.si

-- As a calendar has it in most years; nil where nobody said on which half of the earth it is.
function low_sun.day()
  local site = record.only "site"
  local latitude = site and record.given(site, "latitude")
  return latitude and (si(latitude) < 0 and "06-21" or "12-21")
end

-- A rack at its own tilt.
function low_sun.untouched(rack)
  return { rack = rack, tilt = rack.tilt, edge = rack.edge_height, top = rack.top_edge, depth = rack.plan_depth,
      moved = 0 * rack.plan_depth }
end

-- As a rack stands then: { rack, tilt, edge, top, depth, at = the position, moved = how far its lower edge is behind
-- where its own tilt has it }.
function low_sun.stands(rack)
  local positions, day = tilted.positions(rack), low_sun.day()
  local at = positions and day and import("seasons.positions").on(positions, day)
  if not at then return low_sun.untouched(rack) end
  return { rack = rack, tilt = at.tilt, edge = at.lower_edge, top = at.top_edge, depth = at.plan_depth,
      moved = at.edge_moved, at = at }
end

-- The gap between two that stand so, of which the racks' own tilts have one of `gap`; less than 0: they overlap.
function low_sun.gap(front, behind, gap)
  return gap + behind.moved - (front.moved + front.depth - front.rack.plan_depth)
end

return low_sun
