-- SPDX-License-Identifier: MIT
-- The most that one joint of a rack carries, whichever way; of modules that are turned in one position of them.
local tilted = import "structure.tilted"

-- The rack's result, or that of one in a position.
local function force_of(name, hardest)
  return function(at)
    if tilted.rack(at) == at then return at[name] end
    return calc.joint_force(import("joints.demand")[hardest](at)).force
  end
end

local function of_braces(at, joint)
  local top = host.quantity(0.0, "force")
  for _, row in ipairs(import("joints.demand").braces(joint, at)) do
    local force = host.abs(row.axial)
    if force > top then top = force end
  end
  return top
end

local function of_pins(at)
  local top, demand = host.quantity(0.0, "force"), import "joints.demand"
  for _, x in ipairs(demand.pins(at)) do
    local force = calc.joint_force(demand.on_head(at, x)).force
    if force > top then top = force end
  end
  return top
end

local of = {
  ["pins of turned rafters"] = of_pins,
  ["rafters on posts"] = force_of("head_force", "hardest_head"),
  ["rails on rafters"] = force_of("rail_force", "hardest_rail"),
  braces = of_braces, ["braces along the row"] = of_braces,
  ["posts on footings"] = function(at)
    local top, foot = host.quantity(0.0, "force"), import "joints.foot"
    for p in tilted.posts(at) do
      if foot.is_tied(p) and p.foot_force > top then top = p.foot_force end
    end
    return top
  end,
}

return function(joint, at) return of[joint.of](at, joint) end
