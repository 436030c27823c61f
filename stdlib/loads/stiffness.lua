-- SPDX-License-Identifier: MIT
-- What the members of a frame are of: section and stiffness, of lumber and of poles.
local record = import "model.record"
local memo = import "model.memo"
local feet = import "structure.feet"
local stiffness = {}

local given = record.given

local no_moment, no_force = host.quantity(0.0, "moment"), host.quantity(0.0, "force")

-- By which method members are judged that the frames tell of.
function stiffness.by_strength() return record.root.design == "LRFD" end
function stiffness.method() return stiffness.by_strength() and "strength" or "allowable" end

-- What a member of such lumber is judged by, as a function of how long its load lasts and of what it bears, a table of
-- its own, and by which method, if not by allowable stresses; all of it stands outdoors and is counted as wet.
function stiffness.lumber(section, species, grade)
  local called, edition = host.table_row("wood_specific_gravity", "word", species).species, record.root.codes.wood
  return function(duration, input, method)
    input.method = method
    input.section, input.species, input.grade, input.edition = section, called, grade, edition
    input.duration, input.wet = duration, true
    input.moment, input.axial = input.moment or no_moment, input.axial or no_force
    input.shear = input.shear or no_force
    return calc.timber(input)
  end
end

local function sawn(section, species, grade)
  local d = calc.dressed { section = section }
  local of = calc.outline { shape = "rectangle", width = d.breadth, depth = d.depth }
  return { e = stiffness.lumber(section, species, grade)("ten minutes", {}).stiffness, area = of.area,
      inertia = of.inertia, width = d.breadth, depth = d.depth }
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

-- Mills roll pipe and welded tube thinner than they name it: of steels that these are made of a part of the wall
-- counts.
function stiffness.counted_wall(wall, grade)
  local part = grade and host.table_row("metals", "name", grade .. ", Fy").wall
  return part and wall * part or wall
end

-- Area and moduli of a pole, and the wall that they go by; a square tube is counted with corners as round as in the
-- table of steel shapes.
function stiffness.tube(pole)
  local wall = given(pole, "wall")
  if not wall and pole.material ~= "timber" then
    missing(tostring(pole) .. ".wall", "how thick the wall of " .. pole.name .. " is, is not given", "mill sheet",
        "the mill sheet")
  end
  if wall then wall = given(pole, "design_wall") or stiffness.counted_wall(wall, given(pole, "grade")) end
  local round = pole.shape == "round"
  return calc.outline { shape = round and "round" or "rectangle", width = pole.width, wall = wall,
      corner = not round and wall and wall * host.fact "tube_corner" or nil }, wall
end

-- Posts that are all alike share what comes by their heights alone, however stiff they are, where no brace helps them.
local alike = host.quantity(1e10, "pressure")

local function of_poles(pole)
  local tube = stiffness.tube(pole)
  return { e = host.table_row("metals", "name", stiffness.metal_of(pole) .. ", E").value, area = tube.area,
      inertia = tube.inertia }
end

local function known(f, rack)
  local ok, found = pcall(f)
  if ok then return found end
  if not host.class(found) or given(rack, "braces") then error(found, 0) end
end

-- As it is said of them, or what is missing for that: of lines that stand alone it matters how stiff they are.
function stiffness.own_post(rack, line)
  local its = feet.own(rack, line) and line or nil
  return memo.remember(record.inside[rack], "stiffness of posts" .. (its and ", " .. its or ""), function()
    local made = feet.made(rack, its)
    local pole = given(made, "part")
    if pole then return of_poles(pole) end
    return sawn(made.size, made.species, made.grade)
  end)
end

-- Where lines are unlike it matters how stiff each is.
function stiffness.post(rack)
  if given(rack, "unlike_posts") then return stiffness.own_post(rack) end
  local found = known(function() return stiffness.own_post(rack) end, rack)
  if found then return found end
  local width = feet.section(rack)
  local of = calc.outline { shape = "rectangle", width = width }
  return { e = alike, area = of.area, inertia = of.inertia }
end

-- Nil where nothing is said of it: then it counts as stiff.
function stiffness.rafter(rack)
  if not given(rack, "rafter") then
    local of = given(rack, "rafter_section")
    return of and { e = host.table_row("metals", "name", of.grade .. ", E").value, area = of.area,
        inertia = of.inertia }
  end
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
