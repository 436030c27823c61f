-- SPDX-License-Identifier: MIT
-- The most that one joint of a rack carries, whichever way.
local record = import "model.record"

local of = {
  ["rafters on posts"] = function(rack) return rack.head_force end,
  ["rails on rafters"] = function(rack) return rack.rail_force end,
  braces = function(rack)
    local top = host.quantity(0.0, "force")
    for _, row in ipairs(import("joints.demand").braces(rack)) do
      local force = host.abs(row.axial)
      if force > top then top = force end
    end
    return top
  end,
  ["posts on footings"] = function(rack)
    local top, foot = host.quantity(0.0, "force"), import "joints.foot"
    for p in record.each(rack.post) do
      if foot.is_tied(p) and p.foot_force > top then top = p.foot_force end
    end
    return top
  end,
}

return function(joint, rack) return of[joint.of](rack) end
