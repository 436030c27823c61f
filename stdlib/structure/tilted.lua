-- SPDX-License-Identifier: MIT
-- Racks whose tilt is changed with the seasons, as rules and results of all racks see them.
local record = import "model.record"
local tilted = {}

-- The positions of a rack's modules, in the order declared; nil where they have one tilt for good.
function tilted.positions(rack)
  if not record.all "tilts"[1] then return nil end
  return import("seasons.positions").of(rack)
end

-- Whose loads are asked: the rack, or each of its positions where it has some.  All that wind, snow and weight do is a
-- result of either.
function tilted.stands(rack) return tilted.positions(rack) or { rack } end

-- The rack that stands so.
function tilted.rack(at)
  if record.inside[at].def.name ~= "position" then return at end
  return import("seasons.positions").rack(at)
end

-- "rack.east", "rack.east at 55 deg, from 09-15"
function tilted.title(at)
  local rack = tilted.rack(at)
  if rack == at then return tostring(rack) end
  return tostring(rack) .. " " .. import("seasons.positions").words(at)
end

-- How it stands, behind other words: "" of a rack that keeps its tilt; ", at 55 deg, from 09-15".
function tilted.behind(at)
  return tilted.rack(at) == at and "" or ", " .. import("seasons.positions").words(at)
end

-- f(rack), a finding; or the worst of f(position), with the position in its words.
function tilted.worst(rack, f)
  local positions = tilted.positions(rack)
  if not positions then return f(rack) end
  return import("seasons.positions").worst(positions, f)
end

return tilted
