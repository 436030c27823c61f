-- SPDX-License-Identifier: MIT
-- What the holes of a joint leave of its members, and of its plates.
--
-- What strains a member most anywhere counts as if it did so at the holes, but for posts at their heads and feet, where
-- they are not bent.  Where nobody says how the fasteners of a row lie in a member: one above the other, where that
-- leaves less and fits between its edges, or along it.  A plate is pulled with all that the joint carries.
local record = import "model.record"
local tilted = import "structure.tilted"
local members = import "joints.members"
local fastener = import "joints.fastener"
local loaded = import "loads.members"
local holes = {}

local given = record.given
local none = host.quantity(0.0, "force")

function holes.asked(joint)
  if joint.of == "rail splices" then return false, "R101 judges what its holes leave" end
  if not given(joint, "fastener") then return false, "of what holds these feet its maker's paper tells" end
  if fastener.is_thin(joint) then
    return false, "wood screws leave whole what they go through, and brackets for them are their maker's"
  end
  return true
end

local wants = fastener.wants

-- ---- wood ----------------------------------------------------------------------------------------------------------

local function net(joint, m, count, spacing)
  local to_edge = wants(joint, m.edge, "how near to the edge of the " .. m.name .. " its fasteners are is not said")
  if not (host.si(to_edge) > 0) then
    members.uncovered("what is left of a " .. m.name .. " at fasteners in its very edge is not worked out here")
  end
  return calc.net_section { kind = joint.fastener, size = joint.size, width = m.wide, depth = m.deep,
      upright = m.upright, count = count, to_edge = to_edge,
      spacing = count > 1 and not m.upright and spacing or nil, edition = record.root.codes.wood }
end

-- The least that may be left; one above the other where so many fit, unless it is said how a row lies.
local function left_of(joint, m)
  local rows = given(joint, "rows") or 1
  local n = -(-joint.count // rows)
  local said = joint.count > 1 and given(joint, "row_in_" .. m.name) or nil
  local least = net(joint, m, m.upright and (said == "across" and n or rows) or 1)
  if m.upright then return least end
  for _, row in ipairs { { n, "spacing", "along" }, { rows, "row_spacing", "across" } } do
    if row[1] > 1 and said ~= row[3] then
      local ok, other = pcall(net, joint, m, row[1], wants(joint, row[2], "how far apart its fasteners stand is not " ..
          "said"))
      if ok and other.modulus < least.modulus then least = other
      elseif not ok and (host.class(other) ~= "range" or not string.find(other.text, "do not fit", 1, true)) then
        error(other, 0)
      end
    end
  end
  return least
end

-- A member as the fasteners go through it: across its breadth, or from its upper edge down.
local function bored(m, edge, upright)
  return { name = m.name, wide = m.breadth, deep = m.depth, edge = edge, upright = upright }
end

local function of_frame(part)
  return function(at, left) return loaded.at_holes(at, part, left.area_share, left.modulus_share) end
end
local function of_ends(at, left) return loaded.at_ends(at, left.area_share) end
local function along() return import "loads.along" end
local function of_rails(at, left) return loaded.rails_at_holes(at, left.area_share, left.modulus_share) end

local function bored_rail(joint, rack)
  local rail = members.rail(rack)
  local m = bored(rail, "edge_of_rail", members.way(joint, rack) == "through")
  if rail.flat then m.wide, m.deep = rail.depth, rail.breadth end
  return m
end

-- Those of each sort of joint: { member, what strains it } each.
local bored_of = {
  ["rafters on posts"] = function(joint, rack)
    local through = members.way(joint, rack) == "through"
    local list = { { bored(members.rafter(rack), "edge_of_rafter", through), of_frame "rafter" } }
    if not through then list[2] = { bored(members.post(rack), "edge_of_post"), of_ends } end
    return list
  end,
  ["rails on rafters"] = function(joint, rack)
    return { { bored_rail(joint, rack), of_rails },
        { bored(members.rafter(rack), "edge_of_rafter", members.way(joint, rack) == "through"), of_frame "rafter" } }
  end,
  braces = function(joint, rack)
    local list = { { bored(members.post(rack), "edge_of_post"), of_frame "post" } }
    for i = 1, #rack.braces do
      if members.is_kind_of(joint, rack.braces[i]) then
        list[#list + 1] = { bored(members.brace(rack, i), "edge_of_brace"), of_frame "brace" }
      end
    end
    return list
  end,
  ["pins of turned rafters"] = function(_, rack)
    return { { bored(members.post(rack), "edge_of_post"), of_ends },
        { bored(members.rafter(rack), "edge_of_rafter"), of_frame "rafter" },
        { bored(members.leg(rack), "edge_of_leg"), of_frame "leg" } }
  end,
  -- Holes through the post from its front leave it narrower as it is bent across the row, and less deep along it.
  ["braces along the row"] = function(joint, rack)
    local post = members.post(rack)
    local narrower = bored(post, "edge_of_post", true)
    local list = { { narrower, of_frame "post" }, { bored(post, "edge_of_post"), function(at, left)
      return along().posts_at_holes(at, left.area_share, left_of(joint, narrower).modulus_share, left.modulus_share)
    end, ", the row pushed along" } }
    for i = 1, #rack.braces do
      if members.is_kind_of(joint, rack.braces[i]) then
        list[#list + 1] = { bored(members.brace(rack, i), "edge_of_brace"), function(at, left)
          return along().braces_at_holes(at, left.area_share)
        end }
      end
    end
    return list
  end,
  ["posts on footings"] = function(_, rack)
    return { { bored(members.post(rack), "edge_of_post"), of_ends } }
  end,
}

-- ---- plates --------------------------------------------------------------------------------------------------------

local function of_plates(joint, at)
  local pull = import("joints.carried")(joint, at)
  local rows = given(joint, "rows") or 1
  return calc.plate_steel { plate = joint.plate, thickness = joint.plate_thickness,
      width = wants(joint, "plate_width", "how wide its plate is is not said"),
      plates = given(joint, "planes") == 2 and 2 or 1,
      kind = joint.fastener, size = joint.size, holes = rows,
      spacing = rows > 1 and
          wants(joint, "row_spacing", "how far apart its rows of fasteners stand is not said") or nil,
      pull = pull, shear = none, moment = host.quantity(0.0, "moment"), bears = pull / joint.count,
      edition = record.root.codes.wood }.used
end

-- Each of its members and its plates, as a rack stands: { words, used = function() }.
function holes.of(joint, at)
  local list = {}
  if joint.of == "rafters on posts" then import("joints.demand").refuse_pins(at)
  elseif joint.of == "braces along the row" then import("joints.demand").refuse_row(at) end
  for _, x in ipairs(bored_of[joint.of](joint, tilted.rack(at))) do
    local words = "the " .. x[1].name .. ", as if strained most at its holes" .. (x[3] or "")
    list[#list + 1] = { words = words, used = function()
      local left = left_of(joint, x[1])
      return x[2](at, left)
    end }
  end
  if given(joint, "plate") then
    list[#list + 1] = { words = "the plate, pulled with all that the joint carries", used = function()
      return of_plates(joint, at)
    end }
  end
  return list
end

return holes
