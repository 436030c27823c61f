-- SPDX-License-Identifier: MIT
-- What is wrong with what a footing says of its screw, or of its driven post.
-- The table names a pipe by its size: one that is thicker holds less for its torque.
local function another_shaft(v)
  local of, size = string.match(v.shaft_kind, "^pipe (%a+) (.+) in$")
  if not of then return false end
  local named = host.literal(size .. "in")
  if of == "below" then return v.shaft >= named end
  local function whole(x) return string.format("%.0f", host.number_in(x, "mm")) end         -- as makers round it
  return whole(v.shaft) ~= whole(named)
end

local function is_solid(v)
  return v.shaft_kind ~= nil and host.table_row("screw_torque", "shaft", v.shaft_kind).hollow == 0
end

return function(v)
  if v.shaft_kind and v.shaft and another_shaft(v) then
    return "the shaft is " .. host.format(v.shaft) .. ", and no " .. v.shaft_kind,
        "shaft = 2.875in of a pipe of 2.875 in", "shaft_kind"
  elseif v.helix and v.shaft and v.helix <= v.shaft then
    return "the helix is no wider than the shaft that carries it", "helix = 10in on a shaft of 2-7/8in", "helix"
  elseif v.helix_depth and v.screw_length and v.helix_depth > v.screw_length - (v.head or 0 * v.screw_length) then
    return "the top helix would be below the tip of the screw",
        "helix_depth = 84in of a screw of 10ft whose head is 6in above the ground", "helix_depth"
  elseif v.sideways and not v.sideways_by then
    return "who says what it holds sideways is not told", 'sideways_by = "maker\'s table 4, sand"', "sideways"
  elseif v.shaft_wall and not v.shaft_grade then
    return "of which steel a shaft with that wall is, is not said", 'shaft_grade = "A53 Gr B"', "shaft_wall"
  elseif v.shaft_wall and is_solid(v) then
    return "a square bar is solid", "leave it out", "shaft_wall"
  elseif v.shaft_grade and not v.shaft_wall and not is_solid(v) then
    return "what the shaft is of stands there, and not how thick its wall is", "shaft_wall = 0.203in", "shaft_grade"
  elseif v.shaft_wall and v.shaft and v.shaft_wall * 2 >= v.shaft then
    return "the wall is half the shaft or more", "shaft_wall = 0.203in", "shaft_wall"
  elseif v.sideways_moved and not v.sideways_at then
    return "at which height it moved so far is that of the load across it, which is not given", "sideways_at = 36in",
        "sideways_moved"
  elseif not v.sideways and (v.sideways_by or v.sideways_at or v.sideways_depth) then
    local at = v.sideways_by and "sideways_by" or v.sideways_at and "sideways_at" or "sideways_depth"
    return "'" .. at .. "' is of a load across it, and none is given", "sideways = 300lbf", at
  end
end
