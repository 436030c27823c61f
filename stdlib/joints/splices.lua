-- SPDX-License-Identifier: MIT
-- Splices of rails of lumber: what shears and bends the rail there, against the fasteners on either side of it, against
-- what lies over it, and against the rail where its holes are.
--
-- All fasteners of one side are alike and the members stiff against them.  What is left to turn carries no moment, but
-- its fasteners still hold the shear off their middle.
local record = import "model.record"
local members = import "joints.members"
local fastener = import "joints.fastener"
local stiffness = import "loads.stiffness"
local loaded = import "loads.members"
local rail_beams = import "loads.rail_beams"
local splices = {}

local given = record.given
local WET = "wet"                          -- all of it stands outdoors
local lasting = { dead = "permanent", snow = "two months", wind = "ten minutes" }

local function wants(joint, name, why)
  local value = given(joint, name)
  if value == nil then
    host.raise { code = "D010", class = "missing", path = tostring(joint) .. "." .. name, who = "designer",
        tool = "the drawing of the splice", text = why }
  end
  return value
end

local function edition() return record.root.codes.wood end

-- A splice as it is built: how its fasteners stand, and what lies over it.
local function built(joint, rack)
  local rail, rows = members.rail(rack), given(joint, "rows") or 1
  if rail.flat then
    members.uncovered("the rails of " .. tostring(rack) .. " lie flat: what holds a splice of these is not kept here")
  end
  local n, boards = joint.count // rows, given(joint, "boards")
  local b = { rail = rail, rows = rows, n = n, sides = given(joint, "planes") == 2 and 2 or 1,
      to_end = wants(joint, "end_of_rail", "how near to the end of the rail its fasteners are is not said"),
      spacing = n > 1 and wants(joint, "spacing", "how far apart its fasteners stand in a row is not said") or nil,
      row_spacing = rows > 1 and
          wants(joint, "row_spacing", "how far apart its rows of fasteners stand is not said") or nil }
  b.reach = n > 1 and b.to_end + (n - 1) * b.spacing or b.to_end
  if not fastener.is_thin(joint) then
    b.edge = wants(joint, "edge_of_rail", "how near to the edge of the rail its fasteners are is not said")
  end
  if boards then
    local d = calc.dressed { section = boards }
    b.board = { name = "board", size = boards, breadth = d.breadth, depth = d.depth,
        edge = b.edge and b.edge + (d.depth - rail.depth) / 2 }
  end
  return b
end

-- ---- fasteners -----------------------------------------------------------------------------------------------------

-- What a distance along the load is to a row along the rail, where that is loaded square to itself.
local parted = { spacing = "rows", rows = "spacing" }

-- What distances leave of a fastener; nil and words where they are too small for any load.
local function spaced(joint, b)
  local side = b.board and b.sides * b.board.breadth or nil
  local least = 1
  for _, m in ipairs { b.rail, b.board } do
    -- Square to the rail what lies along it parts rows; along it the couple of two rows pulls both ways.
    local ways = { { load = "across the grain", spacing = b.row_spacing, row_spacing = b.spacing } }
    if b.rows > 1 then
      ways[2] = { load = "towards the end", spacing = b.spacing, row_spacing = b.row_spacing }
    end
    for i, way in ipairs(ways) do
      way.kind, way.size, way.edition = joint.fastener, joint.size, edition()
      way.main_bearing, way.side_bearing, way.to_end = b.rail.breadth, side, b.to_end
      way.to_edge = m == b.rail and b.edge or m.edge
      if host.si(way.to_edge) <= 0 then return nil, "its fasteners miss the boards, centred on the rail" end
      local s = calc.dowel_spacing(way)
      if s.factor <= 0 then
        return nil, "too near in the " .. m.name .. ", loaded " .. way.load .. ": " ..
            (i == 1 and parted[s.governs] or s.governs)
      end
      if s.factor < least then least = s.factor end
    end
  end
  return least
end

-- Those above each other share what is square to the rail.
local function shared(joint, b)
  if b.rows < 2 or fastener.is_thin(joint) then return nil end
  local wide = b.n > 1 and (b.n - 1) * b.spacing or b.row_spacing
  local plate = given(joint, "plate")
  return calc.group_action { kind = joint.fastener, size = joint.size, count = b.rows, spacing = b.row_spacing,
      main_area = b.rail.breadth * wide, main_modulus = members.modulus(b.rail),
      side_area = b.sides * (plate and joint.plate_thickness or b.board.breadth) * wide,
      side_modulus = not plate and members.modulus(b.rail) or nil, edition = edition() }.factor
end

local function strength(joint, b, duration, angle)
  local plate, screw = given(joint, "plate"), not fastener.is_bolt(joint)
  return calc.dowel_yield { kind = joint.fastener, size = joint.size, two_planes = b.sides == 2,
      main_species = b.rail.species, main_thickness = b.rail.breadth, main_angle = angle,
      side_thickness = plate and joint.plate_thickness or b.board.breadth,
      side_species = not plate and b.rail.species or nil, side_angle = not plate and angle or nil, plate = plate,
      length = screw and joint.length or nil, washer = screw and given(joint, "washer") or nil,
      duration = duration, moisture = WET, geometry = b.geometry, group = b.group,
      edition = edition() }.adjusted
end

-- ---- what lies over it, and the rail -------------------------------------------------------------------------------

local function left_of(joint, b, m, edge)
  if fastener.is_thin(joint) then return { area_share = 1, modulus_share = 1 } end
  return calc.net_section { kind = joint.fastener, size = joint.size, width = m.breadth, depth = m.depth,
      count = b.rows, to_edge = edge, spacing = b.row_spacing, edition = edition() }
end

local function wood(rail, size, duration, moment, shear, left, unbraced)
  return stiffness.lumber(size, rail.word, rail.grade)(duration, { moment = moment / left.modulus_share,
      shear = shear / left.area_share, unbraced = unbraced }).worst
end

local function over(joint, b, duration, at, force)
  local moment = at.moment + at.shear * b.to_end                        -- at the first fastener
  if b.board then
    return wood(b.rail, b.board.size, duration, moment / b.sides, at.shear / b.sides,
        left_of(joint, b, b.board, b.board.edge)), "the boards over it"
  end
  return calc.plate_steel { plate = joint.plate, thickness = joint.plate_thickness, plates = b.sides,
      width = wants(joint, "plate_width", "how wide the plates over the splice are is not said"),
      kind = joint.fastener, size = joint.size, holes = b.rows, spacing = b.row_spacing,
      pull = host.quantity(0.0, "force"), shear = at.shear, moment = moment, free = 2 * b.to_end, bears = force,
      edition = edition() }.used, "the plates over it"
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local function shown(v) return import("write.words").show(v) end

-- What is left to turn bears no moment, to the last digit.
local function of_one(joint, b, run, strains, at)
  local moment, shear = strains(at)
  if given(joint, "hinge") then moment = 0 * moment end
  local beyond, shears = 0 * moment, shear
  for _, place in ipairs { at - b.reach, at - b.to_end, at + b.to_end, at + b.reach } do
    if host.si(place) >= 0 and place <= run.length then
      local m, v = strains(place)
      if m > beyond then beyond = m end
      if v > shears then shears = v end
    end
  end
  return { place = run.from + at, moment = moment, shear = shear, beyond = beyond, shears = shears }
end

-- Calls f of each splice under each lasting load.
local function each(joint, rack, b, loads, f)
  for _, run in ipairs(rail_beams.runs(rack)) do
    local strains = rail_beams.strains(rack, run)
    for _, place in ipairs(run.splices) do
      local at = of_one(joint, b, run, strains, place)
      for lasts, load in host.sorted(loads.by) do f(at, lasts, load) end
    end
  end
end

local function group(b, at, load)
  local w = host.abs(load.load) / rail_beams.one
  return { count = b.n, rows = b.rows, spacing = b.spacing, row_spacing = b.row_spacing, to_end = b.to_end,
      moment = w * at.moment, shear = w * at.shear }, w
end

-- What comes to the group of fasteners of which one bears most, as splice_group takes it.
function splices.hardest(rack)
  local joint, most, input = import("joints.on").joint(rack, "rail splices"), nil, nil
  local b = built(joint, rack)
  each(joint, rack, b, loaded.rail_loads(rack), function(at, _, load)
    local now = group(b, at, load)
    local force = calc.splice_group(now).force
    if not most or force > most then most, input = force, now end
  end)
  return input
end

local function judge(joint, b, put, at, lasts, load)
  local duration, where = lasting[lasts], "splice " .. shown(at.place) .. " from the west end: "
  local function told(what) return what .. " of the " .. where .. load.combination .. ", square to the modules" end
  local now, w = group(b, at, load)
  local g = calc.splice_group(now)
  local angle = host.quantity(math.atan(host.si(g.across), host.si(g.along)), "angle")
  put(g.force / strength(joint, b, duration, angle), told "the hardest fastener")
  local used, what = over(joint, b, duration, now, g.force)
  put(used, told(what))
  put(wood(b.rail, b.rail.size, duration, w * at.beyond, w * at.shears, left_of(joint, b, b.rail, b.edge), b.unbraced),
      told "the rail at the holes")
end

function splices.judge(joint, rack, put)
  if rack.splices == 0 then return end                                  -- another rack of the joint has some
  local folds = rail_beams.folds(rack)
  if folds then return put(nil, nil, folds) end
  local b, loads = built(joint, rack), loaded.rail_loads(rack)
  if not fastener.is_thin(joint) then
    local geometry, near = spaced(joint, b)
    if not geometry then return put(nil, nil, near) end
    b.geometry, b.group = geometry, shared(joint, b)
  end
  b.unbraced = loads.span * host.fact("rolling", edition())
  each(joint, rack, b, loads, function(at, lasts, load) judge(joint, b, put, at, lasts, load) end)
end

return splices
