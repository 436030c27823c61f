-- SPDX-License-Identifier: MIT
-- Rules about modules that are turned.
local rule = import "model.rule"
local record = import "model.record"

local rack_of = import("seasons.positions").rack

-- The positions in which legs hold the rafters up: off the rack's own tilt, over several lines of posts.
local function on_legs(tilts)
  local list = {}
  for p in record.each(tilts.position) do
    local rack = rack_of(p)
    if not host.same(p.tilt, rack.tilt) and #import("structure.lines").of(rack) > 1 then list[#list + 1] = p end
  end
  return list
end

rule.add { id = "R105", severity = "stop", each = "tilts", may_waive = "engineer",
  says = "legs that hold turned modules up bear thrust and pull",
  cite = "{wood_column}; of steel AISC 360; statics", caution = "a leg that gives way drops the modules",
  nearest = function() return "thicker legs, or stations nearer to each other" end,
  applies = function(tilts)
    if not record.given(tilts, "legs") then return false, "no legs are declared" end
    return #on_legs(tilts) > 0, "its rafters lie on the posts' heads in each position: the rack's own tilt"
  end,
  check = function(tilts)
    local judged, list = import "loads.judged", {}
    local several = record.given(tilts, "racks") ~= nil
    for i, p in ipairs(on_legs(tilts)) do
      local rack = rack_of(p)
      list[i] = function()
        local f = judged.or_paper(rack, function() return judged.used(p, "leg") end)
        f.words = f.words .. (several and ", " .. tostring(rack) or "") .. ", " ..
            import("seasons.positions").words(p)
        return f
      end
    end
    return rule.every(list)
  end }
