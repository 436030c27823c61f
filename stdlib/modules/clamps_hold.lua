-- SPDX-License-Identifier: MIT
-- What tears at one clamp of a rack, and what it holds by its maker's table.
local record = import "model.record"
local models = import "modules.models"
local tilted = import "structure.tilted"
local clamps = {}

local given = record.given
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

-- What a clamp holds, allowable.
function clamps.holds(clamp)
  local hold, level = given(clamp, "hold"), given(clamp, "hold_level")
  local function missing(field, text)
    host.raise { code = "D010", class = "missing", path = tostring(clamp) .. "." .. field, text = text,
        who = "maker of the clamps", tool = "the maker's table of clamps" }
  end
  if not hold then missing("hold", "what clamp " .. clamp.name .. " holds is not given") end
  if not level then
    missing("hold_level", "whether what clamp " .. clamp.name .. " holds is an allowable or an ultimate force is " ..
        "not said")
  end
  if level == "ultimate" then
    missing("hold", "what clamp " .. clamp.name .. " holds is known at its ultimate alone, and by how much that is " ..
        "to be divided is its maker's to say: the allowable force is wanted")
  end
  return hold
end

-- The widest module along the row, and the lightest for its area.
local function widest(r)
  local along, light
  for _, of in ipairs(models.of(r)) do
    local m = of.module
    local side, weight = models.along_the_row(r, m), m.mass * pound / (m.length * m.width)
    if not along or side > along then along = side end
    if not light or weight < light then light = weight end
  end
  return along, light
end

-- The most that lifts one clamp of a role of a rack, or of one of its positions, allowable: what its rail carries of
-- two half modules, or of one at an end.
function clamps.lifted(at, role)
  local members, r = import "loads.members", tilted.rack(at)
  local along, light = widest(r)
  local wide = role == "mid" and along + r.column_gap or along / 2
  local area = members.rail_loads(at).height * wide
  local weight = light * area
  local square = members.square(at, area, weight, weight, members.zones(at, area))
  return square.lift * area, square.lift_combination
end

-- How far its clamps are used, the worse of both roles.
function clamps.used(r)
  local most = 0
  for role, clamp in host.sorted { mid = r.mid_clamp, ["end"] = r.end_clamp } do
    for _, at in ipairs(tilted.stands(r)) do
      local used = clamps.lifted(at, role) / clamps.holds(clamp)
      if used > most then most = used end
    end
  end
  return most
end

return clamps
