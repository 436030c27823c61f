-- SPDX-License-Identifier: MIT
-- How a rack lies to whoever looks at a drawing of it: rows run to the right in a plan, as posts are numbered, and in
-- an elevation one looks along the row from its last post.
local seen = {}

local QUARTER = math.pi / 2
local words = { "north", "north-east", "east", "south-east", "south" }

-- The bearing of a row as its posts are counted, 0 to a half turn, and whether the lower edge lies on the near side in
-- a plan (below) and on the left in an elevation.
function seen.of(rack)
  local bearing, facing = host.si(rack.row_bearing), host.si(rack.true_azimuth)
  local turn = (facing - bearing) % (2 * math.pi)
  return { bearing = bearing, way = math.abs(turn - QUARTER) < 1e-6 and 1 or -1 }
end

-- From where an elevation is seen: "seen from the east".
function seen.from(rack)
  local at = seen.of(rack)
  return "seen from the " .. words[math.floor(at.bearing / (QUARTER / 2) + 0.5) + 1]
end

-- How far north is turned counter-clockwise from up in a plan.
function seen.north(rack) return seen.of(rack).bearing - QUARTER end

return seen
