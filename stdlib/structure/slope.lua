-- SPDX-License-Identifier: MIT
-- Rows that follow the ground along their length: the level rack, turned as a whole about the west end of its lower
-- edge. What is measured along its rails and rafters is as on the level rack; where posts stand and how high is not.
local record = import "model.record"
local slope = {}

local given = record.given
local level = host.literal "0in"

function slope.of(rack) return given(rack, "row_slope") end

-- Where a point comes to lie: { plan, up } from the west end of the lower edge.
function slope.point(rack, along, above)
  return calc.on_slope { slope = slope.of(rack), along = along, above = above }
end

-- The length of the row in plan.
function slope.plan_width(rack)
  return slope.of(rack) and slope.point(rack, rack.row_width, level).plan or rack.row_width
end

-- How far the upper edge lies farther west in plan than the lower; less than 0: farther east.
function slope.lean(rack) return -1 * slope.point(rack, level, rack.rise).plan end

-- How high the highest corner of the modules is above the west end of the lower edge.
function slope.highest(rack)
  local west, east = slope.point(rack, level, rack.rise).up, slope.point(rack, rack.row_width, rack.rise).up
  return east > west and east or west
end

function slope.middle(rack) return slope.point(rack, rack.row_width / 2, rack.rise / 2).up end

-- The ground at a post as the row sees it: what it has risen up to there is taken off.
function slope.ground(rack, post)
  local ground = post.ground
  return slope.of(rack) and ground - slope.point(rack, post.offset, level).up or ground
end

-- The top edge above the lowest ground beneath it: at each station, and at the row's ends above that of the end posts.
function slope.above_grade(rack)
  local low, first, last, most = {}, nil, nil, nil
  for p in record.each(rack.post) do
    local at, ground = p.offset, p.ground
    local here
    for _, s in ipairs(low) do if host.near(host.si(s.at), host.si(at)) then here = s end end
    if not here then
      here = { at = at, ground = ground }
      low[#low + 1] = here
    elseif ground < here.ground then here.ground = ground end
    if not first or at < first.at then first = here end
    if not last or at > last.at then last = here end
  end
  local function try(along, ground)
    local height = rack.edge_height + slope.point(rack, along, rack.rise).up - ground
    if not most or height > most then most = height end
  end
  for _, s in ipairs(low) do try(s.at, s.ground) end
  try(level, first.ground)
  try(rack.row_width, last.ground)
  return most
end

function slope.settle(rack, refuse)
  if given(rack, "braces") then
    refuse({ "row_slope" }, "braces of a row that slopes are not worked out here",
        "a level row, or racks that step from one to the next")
  end
end

return slope
