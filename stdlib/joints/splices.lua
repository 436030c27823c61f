-- SPDX-License-Identifier: MIT
-- Splices of rails of lumber: what shears and bends the rail there, against the fasteners on either side of it, against
-- what lies over it, and against the rail where its holes are.
--
-- All fasteners of one side are alike and the members stiff against them.  What is left to turn carries no moment, but
-- its fasteners still hold the shear off their middle.
local record = import "model.record"
local tilted = import "structure.tilted"
local members = import "joints.members"
local fastener = import "joints.fastener"
local stiffness = import "loads.stiffness"
local loaded = import "loads.members"
local rail_beams = import "loads.rail_beams"
local splices = {}

local given = record.given
local WET = "wet"                          -- all of it stands outdoors
local lasting = { dead = "permanent", snow = "two months", wind = "ten minutes" }

local function wants(joint, name, why) return fastener.wants(joint, name, why, "the drawing of the splice") end

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
        return nil, import("joints.near").words(m.name, way, s, i == 1 and parted[s.governs])
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

local function over(joint, b, duration, at, g)
  local moment, force = g.first, g.force
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

-- The places of a run that count: of each splice its own, and its holes as far as they lie on the run.
local function places_of(b, run)
  local list, number = {}, {}
  for i, at in ipairs(run.splices) do
    number[i] = {}
    for k, place in ipairs { at, at - b.reach, at - b.to_end, at + b.to_end, at + b.reach } do
      if k == 1 or host.si(place) >= 0 and place <= run.length then
        list[#list + 1] = place
        number[i][#number[i] + 1] = #list
      end
    end
  end
  return list, number
end

-- What bends and shears those places under one load: { moments, shears, combination, lasting } each.  Snow may lie
-- whole on some spans and half on the others: each way in which it does is one.
local function strained(rack, run, places, loads)
  local list, partial, strains = {}, {}, rail_beams.strains(rack, run)
  for _, l in ipairs(loads.snowed) do partial[l.combination] = true end
  for lasts, l in host.sorted(loads.by) do
    if not partial[l.combination] then
      local one, w = { moments = {}, shears = {}, combination = l.combination, lasting = lasting[lasts] },
          host.abs(l.load) / rail_beams.one
      for i, at in ipairs(places) do
        local moment, shear = strains(at)
        one.moments[i], one.shears[i] = w * moment, w * shear
      end
      list[#list + 1] = one
    end
  end
  for _, l in ipairs(loads.snowed) do
    local one
    for i, row in ipairs(rail_beams.snowed(rack, run, l.load, l.snow, nil, places).strains) do
      local k = (i - 1) % #places + 1
      if k == 1 then
        one = { moments = {}, shears = {}, lasting = lasting[l.duration],
            combination = loaded.under_snow(l.combination, row.pattern) }
        list[#list + 1] = one
      end
      one.moments[k], one.shears[k] = host.abs(row.moment), row.shear
    end
  end
  return list
end

-- What is left to turn bears no moment, to the last digit.
local function of_one(joint, run, at, number, one)
  local moment, shear = one.moments[number[1]], one.shears[number[1]]
  if given(joint, "hinge") then moment = 0 * moment end
  local beyond, shears = 0 * moment, shear
  for k = 2, #number do
    local m, v = one.moments[number[k]], one.shears[number[k]]
    if m > beyond then beyond = m end
    if v > shears then shears = v end
  end
  return { place = run.from + at, moment = moment, shear = shear, beyond = beyond, shears = shears,
      lasting = one.lasting, combination = one.combination }
end

-- Each splice under each lasting load, as the rack stands.
local function all_of(joint, stands, b)
  local list, loads, rack = {}, loaded.rail_loads(stands), tilted.rack(stands)
  for _, run in ipairs(rail_beams.runs(rack)) do
    local places, number = places_of(b, run)
    local under = places[1] and strained(rack, run, places, loads) or {}
    for i, place in ipairs(run.splices) do
      for _, one in ipairs(under) do list[#list + 1] = of_one(joint, run, place, number[i], one) end
    end
  end
  return list
end

local strains_of = { "moment", "shear", "beyond", "shears" }

-- Whether one that lasts as long, no less in anything, was met before.
local function is_less(seen, at)
  for _, other in ipairs(seen) do
    local less = other.lasting == at.lasting
    for _, key in ipairs(strains_of) do less = less and at[key] <= other[key] end
    if less then return true end
  end
  seen[#seen + 1] = at
  return false
end

local function group(b, at)
  return { count = b.n, rows = b.rows, spacing = b.spacing, row_spacing = b.row_spacing, to_end = b.to_end,
      moment = at.moment, shear = at.shear }
end

-- What comes to the group of fasteners of which one bears most, as splice_group takes it, as a rack stands in one of
-- these ways.
local function hardest(rack, ways)
  local joint, most, input = import("joints.on").joint(rack, "rail splices"), nil, nil
  local b = built(joint, rack)
  for _, stands in ipairs(ways) do
    for _, at in ipairs(all_of(joint, stands, b)) do
      local now = group(b, at)
      local force = calc.splice_group(now).force
      if not most or force > most then most, input = force, now end
    end
  end
  return input
end
function splices.hardest(stands) return hardest(tilted.rack(stands), { stands }) end
function splices.hardest_anywhere(rack) return hardest(rack, tilted.stands(rack)) end

local function judge(joint, b, put, at)
  local where = " of the splice " .. shown(at.place) .. " from the west end: " .. at.combination ..
      ", square to the modules"
  local now = group(b, at)
  local g = calc.splice_group(now)
  put(g.force / strength(joint, b, at.lasting, g.angle), "the hardest fastener" .. where)
  local used, what = over(joint, b, at.lasting, now, g)
  put(used, what .. where)
  put(wood(b.rail, b.rail.size, at.lasting, at.beyond, at.shears, left_of(joint, b, b.rail, b.edge), b.unbraced),
      "the rail at the holes" .. where)
end

function splices.judge(joint, stands, put)
  local rack = tilted.rack(stands)
  if rack.splices == 0 then return end                                  -- another rack of the joint has some
  local folds = rail_beams.folds(rack)
  if folds then return put(nil, nil, folds) end
  local b = built(joint, rack)
  if not fastener.is_thin(joint) then
    local geometry, near = spaced(joint, b)
    if not geometry then return put(nil, nil, near) end
    b.geometry, b.group = geometry, shared(joint, b)
  end
  b.unbraced = loaded.rail_loads(stands).span * host.fact("rolling", edition())
  local seen = {}
  for _, at in ipairs(all_of(joint, stands, b)) do
    if not is_less(seen, at) then judge(joint, b, put, at) end
  end
end

return splices
