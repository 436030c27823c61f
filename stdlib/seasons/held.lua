-- SPDX-License-Identifier: MIT
-- What holds modules that are turned off the tilt that their rack is built at: their rafters turn about the heads of
-- one line of posts, as with a hinge, and legs stand on the heads of the others, with a pin at both ends.  A single
-- line holds its rafters in its own heads, and needs no legs.
local record = import "model.record"
local lines = import "structure.lines"
local tilted = import "structure.tilted"
local stiffness = import "loads.stiffness"
local held = {}

local given = record.given
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

local function uncovered(text) host.raise { code = "C005", class = "range", text = text } end

-- The line on whose heads the modules turn, by its number; nil where they turn about none.
local function pivot_line(position, list)
  local tilts = record.parent(position)
  local name, at = given(tilts, "pivot"), given(tilts, "pivot_at")
  for i, line in ipairs(list) do
    if line.name == name or at and host.near(line.fraction, at) then return i end
  end
end

local function refuse_pivot(position)
  uncovered("what bears the modules of " .. tilted.title(position) .. ", where they turn, is not worked out here: " ..
      "that is at no line of its posts")
end

-- The legs that are declared for a rack whose modules are turned; raises that nobody says so.
local function legs_of(position)
  local tilts = record.parent(position)
  local legs = given(tilts, "legs")
  if legs then return legs end
  host.raise { code = "D010", class = "missing", path = tostring(tilts) .. ".legs", who = "designer",
      tool = "a drawing of the frame",
      text = "what stands between posts and rafters of " .. tilted.title(position) ..
          ", is not said: legs of which size",
      help = 'as in legs = { size = "4x4" }' }
end

function held.legs_of(rack) return legs_of(tilted.positions(rack)[1]) end

local function thickness(legs)
  local part = given(legs, "part")
  return part and part.width or calc.dressed { section = legs.size }.depth
end

-- The legs in a position, by the number of their line: its bearing_line; none at the tilt that the rack is built at,
-- where the rafters lie on the heads.
function held.legs(position)
  local rack, by = tilted.rack(position), {}
  if host.same(position.tilt, rack.tilt) then return by end
  local list = lines.of(rack)
  local pivot = pivot_line(position, list)
  if not pivot then refuse_pivot(position) end
  if #list == 1 then return by end
  if given(rack.posts, "moment_head") then
    uncovered("heads that hold the rafters of " .. tostring(rack) .. " from turning, and rafters that are turned on " ..
        "several lines of them, are not worked out here")
  end
  for i, line in ipairs(list) do
    if i ~= pivot then
      local of = position.bearing_line[line.letter]
      local rise = of.leg_rise
      if host.si(rise) <= 0 then
        uncovered("the rafters of " .. tilted.title(position) .. ", would lie " .. import("write.words").show(-rise) ..
            " below the heads of its " .. line.name .. " posts, which stand in their way; what is worked out here " ..
            "is legs that lift them off heads that carry them at the rack's own tilt, " .. host.format(rack.tilt))
      end
      by[i] = of
    end
  end
  local thick = thickness(legs_of(position))
  for _, of in host.sorted(by) do
    if of.leg < thick then
      local show = import("write.words").show
      uncovered("legs of " .. show(of.leg) .. " under the rafters of " .. tilted.title(position) .. ", from pin to " ..
          "pin, are shorter than their " .. show(thick) .. " of thickness: what holds the modules then is no leg, " ..
          "and not worked out here")
    end
  end
  return by
end

-- On the posts of which lines legs stand, by their letter, wherever its modules are turned.
function held.legged(rack)
  local position, list, by = tilted.positions(rack)[1], lines.of(rack), {}
  local pivot = pivot_line(position, list)
  if not pivot then refuse_pivot(position) end
  for i, line in ipairs(list) do by[line.letter] = i ~= pivot end
  return by
end

-- Whether legs are to hold the modules of a rack up in one of its positions.
function held.wants_legs(rack)
  if #lines.of(rack) < 2 then return false end
  for _, position in ipairs(tilted.positions(rack) or {}) do
    if not host.same(position.tilt, rack.tilt) then return true end
  end
  return false
end

-- What nobody tells of what the rafters of a position hang on, in words; nil where they lie on the heads as built.
function held.pins(position)
  local by, rack = held.legs(position), tilted.rack(position)
  if next(by) == nil then return nil end
  local list, pivot, others = lines.of(rack), nil, {}
  for i, line in ipairs(list) do
    if by[i] then others[#others + 1] = line.name else pivot = line.name end
  end
  return "the modules of " .. tilted.title(position) .. ", turn on pins in the heads of its " .. pivot ..
      " posts, and legs stand between pins on those of its " .. import("model.util").list(others) .. " posts: how " ..
      "thick these pins are, and how near to the ends of rafters, legs and posts, no joint of \"pins of turned " ..
      "rafters\" says"
end

-- Along the row a leg with pins holds nothing that is known.
function held.refuse_along(position)
  if next(held.legs(position)) then
    uncovered("legs hold the modules of " .. tilted.title(position) .. ", across the row: how what pushes " ..
        tostring(tilted.rack(position)) .. " along it comes down to its posts then is not worked out")
  end
end

-- Area, stiffness and section of one; and how it is judged: a function of a row of side_frames.
local function of_part(pole)
  local tube, wall = stiffness.tube(pole)
  return { e = host.table_row("metals", "name", stiffness.metal_of(pole) .. ", E").value, area = tube.area,
      bears = function(axial, length, _, method)
        return calc.metal { area = tube.area, plastic = tube.plastic, radius = tube.radius,
            width = wall and pole.width, wall = wall, round = pole.shape == "round",
            material = stiffness.metal_of(pole), moment = host.quantity(0.0, "moment"), axial = axial, length = length,
            method = method }
      end,
      weight = function(length) return pole.mass * length * pound end }
end
local function of_lumber(size, rack)
  local species, grade = rack.rafter_species, rack.rafter_grade
  local d, bears = calc.dressed { section = size }, stiffness.lumber(size, species, grade)
  return { area = calc.outline { shape = "rectangle", width = d.breadth, depth = d.depth }.area,
      e = bears("ten minutes", {}).stiffness,
      bears = function(axial, length, lasting, method)
        return bears(lasting, { axial = axial, length_strong = length, length_weak = length }, method)
      end,
      weight = function(length)
        return calc.lumber { section = size, length = length, species = species,
            edition = record.root.codes.wood }.weight_heavy
      end }
end
function held.leg(position)
  local legs = legs_of(position)
  local part = given(legs, "part")
  return part and of_part(part) or of_lumber(legs.size, tilted.rack(position))
end

-- The longest leg of a position.
function held.longest(position)
  local most
  for _, of in pairs(held.legs(position)) do if not most or of.leg > most then most = of.leg end end
  return most
end

-- What all legs of a position weigh at most; nil where it has none.
function held.weight(position)
  local sum, leg
  for _, of in host.sorted(held.legs(position)) do
    leg = leg or held.leg(position)
    local its = leg.weight(of.leg) * tilted.rack(position).stations
    sum = sum and sum + its or its
  end
  return sum
end

-- How far the legs of a position are used, as a function of a row of side_frames; lasting: how long loads of its
-- durations last, as the wood standard has it.
function held.bears(position, lasting)
  local leg, length, method = held.leg(position), held.longest(position), stiffness.method()
  return function(row) return leg.bears(row.axial, length, lasting[row.duration], method) end
end

return held
