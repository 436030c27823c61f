-- SPDX-License-Identifier: MIT
-- Racks whose tilt is changed with the seasons, as rules and results of all racks see them.
local record = import "model.record"
local tilted = {}

-- The positions of a rack's modules, in the order declared; nil where they have one tilt for good.
function tilted.positions(rack)
  if not record.all "tilts"[1] then return nil end
  return import("seasons.positions").of(rack)
end

-- f(rack), a finding; or the worst of f(position), with the position in its words.
function tilted.worst(rack, f)
  local positions = tilted.positions(rack)
  if not positions then return f(rack) end
  return import("seasons.positions").worst(positions, f)
end

return tilted
