-- SPDX-License-Identifier: MIT
-- What the members of a frame are of: section and stiffness, of lumber and of poles.
local record = import "model.record"
local feet = import "structure.feet"
local stiffness = {}

local given = record.given

local no_moment, no_force = host.quantity(0.0, "moment"), host.quantity(0.0, "force")

-- What a member of such lumber is judged by, as a function of how long its load lasts and of what it bears, a table of
-- its own; all of it stands outdoors and is counted as wet.
function stiffness.lumber(section, species, grade)
  local called, edition = host.table_row("wood_specific_gravity", "word", species).species, record.root.codes.wood
  return function(duration, input)
    input.section, input.species, input.grade, input.edition = section, called, grade, edition
    input.duration, input.wet = duration, true
    input.moment, input.axial = input.moment or no_moment, input.axial or no_force
    input.shear = input.shear or no_force
    return calc.timber(input)
  end
end

local function sawn(section, species, grade)
  local d = calc.dressed { section = section }
  local area = d.breadth * d.depth
  return { e = stiffness.lumber(section, species, grade)("ten minutes", {}).stiffness, area = area,
      inertia = area * d.depth * d.depth / 12, width = d.breadth, depth = d.depth }
end

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

-- What a pole is of, as the table of metals has it. Of timber it is in no table: a paper that covers the posts answers.
function stiffness.metal_of(pole)
  if pole.material == "timber" then
    host.raise { code = "C005", class = "range", text = "the strength of round poles, as " .. pole.name ..
        ", is not kept here; a paper that covers the posts answers for them" }
  end
  local grade = given(pole, "grade")
  if not grade then
    missing(tostring(pole) .. ".grade", "of which steel or aluminium " .. pole.name .. " is, is not given",
        "mill sheet", "the mill sheet")
  end
  return grade
end

-- Outline and hollow of a pole, as area, second moment, section modulus, plastic modulus and radius of gyration.
function stiffness.tube(pole)
  local outer, wall = pole.width, given(pole, "wall")
  if not wall and pole.material ~= "timber" then
    missing(tostring(pole) .. ".wall", "how thick the wall of " .. pole.name .. " is, is not given", "mill sheet",
        "the mill sheet")
  end
  local inner = wall and outer - 2 * wall or 0 * outer
  local round = pole.shape == "round"
  local function part(d)
    local square = d * d
    if round then return square * (math.pi / 4), square * square * (math.pi / 64), square * d / 6 end
    return square, square * square / 12, square * d / 4
  end
  local a, i, z = part(outer)
  local ah, ih, zh = part(inner)
  local area, inertia = a - ah, i - ih
  return { area = area, inertia = inertia, modulus = inertia / (outer / 2), plastic = z - zh,
      radius = host.quantity(math.sqrt(host.si(inertia) / host.si(area)), "length"), width = outer, depth = outer }
end

-- Posts that are all alike share what comes by their heights alone, however stiff they are, where no brace helps them.
local alike = host.quantity(1e10, "pressure")

local function of_poles(pole)
  local tube = stiffness.tube(pole)
  tube.e = host.table_row("metals", "name", stiffness.metal_of(pole) .. ", E").value
  return tube
end

local function known(f, rack)
  local ok, found = pcall(f)
  if ok then return found end
  if not host.class(found) or given(rack, "braces") then error(found, 0) end
end

function stiffness.post(rack)
  local pole = feet.pole(rack)
  local found = known(function()
    if pole then return of_poles(pole) end
    return sawn(rack.posts.size, rack.posts.species, rack.posts.grade)
  end, rack)
  if found then return found end
  local width = feet.section(rack)
  return { e = alike, area = width * width, inertia = width * width * width * width / 12 }
end

-- Nil where nothing is said of it: then it counts as stiff.
function stiffness.rafter(rack)
  if not given(rack, "rafter") then return nil end
  return known(function() return sawn(rack.rafter, rack.rafter_species, rack.rafter_grade) end, rack)
end

-- Of braces of unlike sizes the slightest.
function stiffness.brace(rack)
  if not given(rack, "braces") then return nil end
  local least
  for i = 1, #rack.braces do
    local b = sawn(rack.braces[i].size, rack.rafter_species, rack.rafter_grade)
    b.size = rack.braces[i].size
    if not least or b.area < least.area then least = b end
  end
  return least
end

return stiffness
