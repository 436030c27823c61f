-- SPDX-License-Identifier: MIT
-- A rack's slope as it is seen from the end of its row: places on it, and what lies along it.
local slope = {}

-- Places on the plane of the modules, so far up the slope, so far above it (square to it); the lower edge is at `from`,
-- so high. rack: it, or what has its tilt; way: 1 where the slope rises to the right, else -1.
function slope.plane(rack, from, edge, way)
  local tilt = host.si(rack.tilt)
  local c, s = math.cos(tilt), math.sin(tilt)
  return function(up, above) return way * (from + up * c - above * s), edge + up * s + above * c end
end

function slope.slab(d, at, from, to, low, high)
  local xy = {}
  xy[1], xy[2] = at(from, low)
  xy[3], xy[4] = at(to, low)
  xy[5], xy[6] = at(to, high)
  xy[7], xy[8] = at(from, high)
  d:polyline(xy, true)
end

return slope
