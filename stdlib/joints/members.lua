-- SPDX-License-Identifier: MIT
-- The members that a joint joins, as the rack has them: { name, species, breadth, depth, size, grade, word } each.
local record = import "model.record"
local memo = import "model.memo"
local feet = import "structure.feet"
local members = {}

local given = record.given

-- What is not worked out of joints of a sort, and whether that is why something is not known: a paper that covers
-- joints answers for those, and for nothing that tables or figures of the wind do not reach.
local before = "joints: "
function members.uncovered(text) host.raise { code = "C005", class = "range", text = before .. text } end
function members.is_uncovered(why)
  return host.class(why) == "range" and string.find(why.text, before, 1, true) == 1
end

local function lumber(name, size, species, grade)
  local d = calc.dressed { section = size }
  return { name = name, size = size, word = species, grade = grade, breadth = d.breadth, depth = d.depth,
      species = host.table_row("wood_specific_gravity", "word", species).species }
end

-- Many ask for the same: f is called once for a rack.
local function kept(rack, name, f) return memo.remember(record.inside[rack], "joined: " .. name, f) end

function members.rail(rack)
  local rails = rack.rails
  if import("rails.plan").part(rack) then
    members.uncovered("what joins rails of metal to rafters, as on " .. tostring(rack) .. ", is their maker's to say")
  end
  return kept(rack, "rail", function()
    local rail = lumber("rail", rails.size, rails.species, rails.grade)
    rail.flat = rails.face == "flat"
    return rail
  end)
end

function members.rafter(rack)
  return kept(rack, "rafter", function()
    return lumber("rafter", rack.rafter, rack.rafter_species, rack.rafter_grade)
  end)
end

function members.brace(rack, entry)
  return lumber("brace", rack.braces[entry].size, rack.rafter_species, rack.rafter_grade)
end

function members.post(rack)
  if given(rack, "unlike_posts") then
    members.uncovered("what joins rafters to lines of posts that are unlike, as on " .. tostring(rack) ..
        ", is not worked out here")
  end
  local pole = feet.pole(rack)
  if pole then
    members.uncovered("what joins wood to " .. pole.name .. ", as on " .. tostring(rack) .. ", is not kept here")
  end
  return kept(rack, "post", function()
    return lumber("post", rack.posts.size, rack.posts.species, rack.posts.grade)
  end)
end

local ALONG = "braces along the row"

-- Of lumber as the rafters; those that are pipes or profiles are not kept here.
function members.leg(rack)
  local legs = import("seasons.held").legs_of(rack)
  local part = given(legs, "part")
  if part then
    members.uncovered("pins in legs of " .. part.name .. ", as on " .. tostring(rack) .. ", are not worked out here")
  end
  return lumber("leg", legs.size, rack.rafter_species, rack.rafter_grade)
end

-- Whether a joint is of one of the rack's kinds of braces: between lines, or along the row.
function members.is_kind_of(joint, entry) return (given(entry, "along") or false) == (joint.of == ALONG) end

-- The braces of a joint on a rack by their kind: { entry, flat, steep = how they lean from level at least and at most,
-- count } each.
function members.braces(joint, rack)
  local along = joint.of == ALONG
  return memo.remember(record.inside[rack], "joined: braces" .. (along and " along the row" or ""), function()
    local list, by = {}, {}
    for b in record.each(rack.brace) do
      if (rack.post[b.foot].letter == rack.post[b.head].letter) == along then
        local lean, at = host.abs(b.angle), by[b.entry]
        if not at then
          at = { entry = b.entry, flat = lean, steep = lean, count = 0 }
          by[b.entry], list[#list + 1] = at, at
        end
        at.count = at.count + 1
        if lean < at.flat then at.flat = lean elseif lean > at.steep then at.steep = lean end
      end
    end
    return list
  end)
end

-- From the fasteners of a kind of braces to the nearest end of a post: its top, and where it stands on something, its
-- lower end.
function members.brace_to_end(rack, entry)
  local of = rack.braces[entry]
  local tied = #feet.blocks_of(rack) > 0 or #feet.screws_of(rack) > 0
  return tied and of.low < of.high and of.low or of.high
end

-- E of a member as it stands outdoors.
function members.modulus(m)
  return import("loads.stiffness").lumber(m.size, m.word, m.grade)("ten minutes", {}).stiffness
end

-- How a joint holds: by "plates" or brackets; "across": screws or bolts lie across both members, side by side;
-- "through": from the one that lies on top down into the other.
function members.way(joint, rack)
  if given(joint, "plate") then return "plates" end
  if joint.of == "rail splices" then return "across" end
  if joint.of == "rails on rafters" then return "through" end
  if joint.of == "rafters on posts" and given(rack, "rafter_on") ~= "side" then return "through" end
  return "across"
end

-- What a screw goes through before it reaches the wood that holds it, and its name.
function members.passed(joint, rack)
  local way = members.way(joint, rack)
  if way == "plates" then return joint.plate_thickness, "the plate" end
  if joint.of == "rail splices" then return calc.dressed { section = joint.boards }.breadth, "the board" end
  local function thick(size, side)
    local d = calc.dressed { section = size }
    return side and d.breadth or d.depth
  end
  if joint.of == "rails on rafters" then
    if import("rails.plan").part(rack) then return joint.length * 0, "the rail" end          -- told by the rule
    return thick(rack.rails.size, rack.rails.face == "flat"), "the rail"
  elseif joint.of == "rafters on posts" then
    local through = thick(rack.rafter, way == "across")
    return way == "through" and through + rack.saddle or through, "the rafter"
  end
  local most
  for i = 1, #rack.braces do
    local of = rack.braces[i]
    if members.is_kind_of(joint, of) then
      local b = thick(of.size, true)
      if not most or b > most then most = b end
    end
  end
  return most, "the brace"
end

return members
