-- SPDX-License-Identifier: MIT
-- Wood that is pressed across its grain where members cross: rails on rafters, rafters on posts.
local memo = import "model.memo"
local record = import "model.record"
local feet = import "structure.feet"
local plan = import "rails.plan"
local members = import "loads.members"
local stiffness = import "loads.stiffness"
local tilted = import "structure.tilted"
local bearing = {}

local given = record.given

-- Why nothing of it is worked out here; nil where it is.
function bearing.none(rack)
  if given(rack, "stack") then return "its frame is a maker's kit" end
  if given(rack, "beam") then return "its rafters lie on beams: what bears there is not worked out here" end
  if given(rack, "rafter_on") == "side" and plan.part(rack) then
    return "its rafters hang on bolts, and its rails are of metal"
  end
  if given(rack.posts, "moment_head") and plan.part(rack) then
    return "moment heads hold its rafters, and its rails are of metal: what bears in a head is its maker's to say"
  end
end

-- How far a member is used across its grain; flat: it lies on its wide face.
local function pressed(section, species, grade, flat, force, length)
  return stiffness.lumber(section, species, grade)("permanent", { bearing = force, bearing_length = length,
      on_flat = flat }).used_bearing
end

-- The most that one rail lays on one rafter: the beam's largest reaction under what presses it, snow on some spans too.
local function of_rails(at)
  local rack = tilted.rack(at)
  local rails = rack.rails
  local rail, rafter = calc.dressed { section = rails.size }, calc.dressed { section = rack.rafter }
  local flat = rails.face == "flat"
  local force, by = members.rail_reaction(at)
  local face = flat and rail.depth or rail.breadth
  return { at = "of rails on rafters", force = force, by = by .. ", square to the modules",
      rails = pressed(rails.size, rails.species, rails.grade, flat, force, rafter.breadth),
      rafters = pressed(rack.rafter, rack.rafter_species, rack.rafter_grade, false, force, face) }
end

-- What presses a post comes through the rafter's lower edge, as long as the post is wide.
local function of_posts(at)
  local rack, width, most = tilted.rack(at), nil, nil
  for p in tilted.posts(at) do
    local wide = feet.section(rack, p.line)
    if not most or p.pressed / wide > most.pressed / width then most, width = p, wide end
  end
  return { at = "of the rafter on post " .. most.station, force = most.pressed, by = "what presses the post",
      rafters = pressed(rack.rafter, rack.rafter_species, rack.rafter_grade, false, most.pressed, width) }
end

-- Each crossing that is pressed of a rack, or of one of its positions: { at, force, by, rails, rafters }, how far
-- either is used; the worst first.
function bearing.of(at)
  return memo.remember(record.inside[at], "bearing across the grain", function()
    local rack, list = tilted.rack(at), {}
    if not plan.part(rack) then list[1] = of_rails(at) end
    if given(rack, "rafter_on") ~= "side" and not given(rack.posts, "moment_head") then
      list[#list + 1] = of_posts(at)
    end
    for _, x in ipairs(list) do
      x.member = x.rails and x.rails > x.rafters and "rail" or "rafter"
      x.used = x.member == "rail" and x.rails or x.rafters
    end
    if list[2] and list[2].used > list[1].used then list[1], list[2] = list[2], list[1] end
    return list
  end)
end

return bearing
