-- SPDX-License-Identifier: MIT
-- What the fasteners of a joint bear: each across its axis by how wood and fastener yield, pulled by its thread, with
-- the factors of their distances and of several in a row.
--
-- A part is a member as a fastener goes through it: { of = member, thick = along the fastener, wide = across it,
-- angle = of the load to its grain, edge = field of the joint that has the distance to its edge, to_end = to its end,
-- away = the load goes away from that end, in_line = it presses no edge, whatever its angle, since it lies in the plane
-- of the fastener's axis and the grain, worst = it is loaded in whichever way }.
--
-- What hangs on the declaration and a few words alone is kept in `kept`, a table of whoever judges one joint.
local record = import "model.record"
local members = import "joints.members"
local fastener = import "joints.fastener"
local bears = {}

local given = record.given
local WET = "wet"                          -- all of it stands outdoors

local function wood() return record.root.codes.wood end

local wants = fastener.wants

local function in_row(joint)
  local rows = given(joint, "rows") or 1
  return -(-joint.count // rows), rows
end

local ACROSS = "across the grain"
local PULLED = "in withdrawal"

local function edge_unsaid(part)
  return "how near to the edge of the " .. part.of.name .. " its fasteners are is not said"
end

-- Each way in which fasteners may stand behind each other the way a load goes, and beside each other: { in a row, from
-- row to row } each.  Their rows lie along the grain of a part or across it, as is said, or as fits between its edges.
local function lined_up(joint, part, load)
  local n, rows = in_row(joint)
  local spacing = n > 1 and wants(joint, "spacing", "how far apart its fasteners stand in a row is not said") or nil
  local beside = rows > 1 and
      wants(joint, "row_spacing", "how far apart its rows of fasteners stand is not said") or nil
  if load == PULLED or part.end_grain or joint.count == 1 then return { { spacing, beside } } end
  local said, list = given(joint, "row_in_" .. part.of.name), {}
  local edge = wants(joint, part.edge, edge_unsaid(part))
  for _, lies in ipairs { "along", "across" } do
    local behind, side = spacing, beside
    if (lies == "across") ~= (load == ACROSS) then behind, side = beside, spacing end
    local apart, several = lies == "across" and spacing or beside, lies == "across" and n or rows
    local fits = several == 1 or not (2 * edge + (several - 1) * apart > part.wide * (1 + 1e-9))
    if said == lies or not said and fits then list[#list + 1] = { behind, side } end
  end
  return list[1] and list or { { spacing, beside } }
end

-- What one distance tells: the factor, and which is too small for any load to stand; and what was asked.  Of several
-- ways the least.
local function spacing_of(joint, part, load, main, side)
  local least, of
  for _, way in ipairs(lined_up(joint, part, load)) do
    local asked = { kind = joint.fastener, size = joint.size, load = load,
        main_bearing = main, side_bearing = side, to_end = part.to_end, spacing = way[1],
        to_edge = wants(joint, part.edge, edge_unsaid(part)), row_spacing = way[2], edition = wood() }
    local at = calc.dowel_spacing(asked)
    if not least or at.factor < least.factor then least, of = at, asked end
  end
  return least, of
end

-- What distances leave in one part; nil and words where they are less than the least.
local function placed(joint, part, loads, main, side)
  local least, pitch = 1, nil
  for _, load in ipairs(loads) do
    local s, asked = spacing_of(joint, part, load, main, side)
    if s.factor <= 0 then return nil, import("joints.near").words(part.of.name, asked, s) end
    if s.factor < least then least = s.factor end
    if not pitch or s.spacing_least > pitch then pitch = s.spacing_least end
  end
  return least, pitch
end

local level, square = fastener.along, fastener.across

-- Towards the end asks for more than away from it.
local function loads_on(part)
  local list, worst = {}, part.worst
  if worst or part.angle > level and not part.in_line then list[1] = ACROSS end
  if worst or part.angle < square then list[#list + 1] = part.away and "away from the end" or "towards the end" end
  return list
end

-- Several in a row: sections as small as a load across the grain leaves them.
local function grouped(joint, main, side, pitch)
  local n, rows = in_row(joint)
  if n < 2 then return nil end
  local spacing = joint.spacing
  local function area(part)
    local group = rows > 1 and (rows - 1) * joint.row_spacing or pitch
    return part.thick * (group < part.wide and group or part.wide)
  end
  local plate = given(joint, "plate")
  return calc.group_action { kind = joint.fastener, size = joint.size, count = n, spacing = spacing,
      main_area = area(main), main_modulus = members.modulus(main.of),
      side_area = plate and joint.plate_thickness * wants(joint, "plate_width", "how wide its plate is is not said") *
          (given(joint, "planes") or 1) or area(side),
      side_modulus = not plate and members.modulus(side.of) or nil, edition = wood() }.factor
end

-- Distances, and several in a row, together; nil and words where no load stands.  Thin screws have neither.
local function worked_factors(joint, main, side)
  local main_long, side_long = main.thick, side and side.thick
  local geometry, pitch = placed(joint, main, loads_on(main), main_long, side_long)
  if not geometry then return { near = pitch } end
  if side then
    local own, other = placed(joint, side, loads_on(side), main_long, side_long)
    if not own then return { near = other } end
    geometry, pitch = own < geometry and own or geometry, other > pitch and other or pitch
  end
  return { geometry = geometry, group = grouped(joint, main, side, pitch) }
end

local none = {}

local function factors(joint, main, side, kept)
  if fastener.is_thin(joint) then return none end
  local key = main.of.name .. table.concat(loads_on(main), ",") .. (side and table.concat(loads_on(side), ",") or "")
  kept[key] = kept[key] or worked_factors(joint, main, side)
  return kept[key]
end

-- A screw that reaches too little into the wood is no question of what is worked out here: it fails.
local function found(f, input)
  local ok, answer = pcall(f, input)
  if ok then return answer end
  if host.class(answer) == "range" and answer.code == "C005" then
    for _, words in ipairs { "reaches less deep", "leaves no thread" } do
      if string.find(answer.text, words, 1, true) then return nil, host.message(answer) end
    end
  end
  error(answer, 0)
end

-- What lies under the head besides the member.
local function under(joint, beneath)
  local washer = given(joint, "washer")
  return beneath and washer and washer + beneath or beneath or washer
end

local function worked_across(joint, main, side, duration, beneath, kept)
  local f = factors(joint, main, side, kept)
  if f.near then return { why = f.near } end
  local plate, screw = given(joint, "plate"), not fastener.is_bolt(joint)
  local z, why = found(calc.dowel_yield, { kind = joint.fastener, size = joint.size,
      two_planes = given(joint, "planes") == 2, main_species = main.of.species, main_thickness = main.thick,
      main_angle = main.angle, end_grain = main.end_grain,
      side_thickness = plate and joint.plate_thickness or side.thick,
      side_species = not plate and side.of.species or nil, side_angle = not plate and side.angle or nil,
      plate = plate, length = screw and joint.length or nil, washer = screw and under(joint, beneath) or nil,
      duration = duration, moisture = WET, geometry = f.geometry, group = f.group, edition = wood() })
  return { z and z.adjusted, why = why }
end

-- What one fastener bears across its axis; nil and why it bears none.  side: nil where a plate lies at the side.
-- beneath: what lies between head and member besides.  Of thin screws the angle to the grain is nothing.
function bears.across(joint, main, side, duration, kept, beneath)
  if not fastener.is_thin(joint) then
    local at = worked_across(joint, main, side, duration, beneath, kept)
    return at[1], at.why
  end
  local key = "across " .. main.of.name .. duration
  kept[key] = kept[key] or worked_across(joint, main, side, duration, beneath, kept)
  return kept[key][1], kept[key].why
end

local function worked_pulled(joint, part, through, duration, beneath)
  if not fastener.is_thin(joint) then
    local ok, near = placed(joint, part, { PULLED })
    if not ok then return { why = near } end
  end
  local w, why = found(calc.screw_withdrawal, { kind = joint.fastener, size = joint.size, species = part.of.species,
      length = joint.length, side = through, washer = under(joint, beneath),
      depth = not part.end_grain and part.thick or nil, duration = duration, moisture = WET,
      end_grain = part.end_grain, edition = wood() })
  return { w and w.adjusted, why = why }
end

-- What one screw bears that is pulled out of a part; nil and why it bears nothing.  through: what it passes before.
function bears.pulled(joint, part, through, duration, kept, beneath)
  local key = "pulled " .. duration
  kept[key] = kept[key] or worked_pulled(joint, part, through, duration, beneath)
  return kept[key][1], kept[key].why
end

-- How far one screw is used by a pull, a load across it, and both: the most of the three.  Both together are never more
-- than their sum: where that is no more than `before`, it is not asked.
function bears.used(pull, across, pulls, holds, before)
  local most, how = host.si(across) > 0 and across / holds or 0, "side force"
  if host.si(pull) > 0 then
    local out, beside = pull / pulls, most
    if out > most then most, how = out, "pull" end
    if host.si(across) > 0 and out + beside > before then
      local both = calc.screw_combined { lateral_allowed = holds, withdrawal_allowed = pulls, lateral = across,
          withdrawal = pull, edition = wood() }.used
      if both > most then most, how = both, "pull and side force" end
    end
  end
  return most, how
end

return bears
