-- SPDX-License-Identifier: MIT
-- Rules about modules that are turned.
local rule = import "model.rule"
local record = import "model.record"

rule.add { id = "R105", severity = "stop", each = "position", may_waive = "engineer",
  says = "legs that hold turned modules up bear thrust and pull",
  cite = "{wood_column}; of steel AISC 360; statics", caution = "a leg that gives way drops the modules",
  nearest = function() return "thicker legs, or stations nearer to each other" end,
  applies = function(p)
    if not record.given(record.parent(p), "legs") then return false, "no legs are declared" end
    local rack = import("seasons.positions").rack(p)
    if host.same(p.tilt, rack.tilt) then return false, "its rafters lie on the posts' heads: the rack's own tilt" end
    return #import("structure.lines").of(rack) > 1, "one line of posts holds its rafters in its heads"
  end,
  check = function(p)
    return import("loads.judged").or_paper(import("seasons.positions").rack(p), function()
      return import("loads.judged").used(p, "leg")
    end)
  end }
