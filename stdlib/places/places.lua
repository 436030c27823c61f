-- SPDX-License-Identifier: MIT
-- Which rack is placed from which, and so where each stands.
--
-- A rack is placed by a corner of its own, beside or behind another one, or by the row that it stands in. What another
-- declaration that it is like says of its place gives way to what it says itself. One rack of a job need not be
-- placed: then its own corner is the zero from which the others are placed.
local memo = import "model.memo"
local record = import "model.record"
local run = import "model.run"
local like = import "model.like"
local places = {}

local given, inside = record.given, record.inside
local zero = host.quantity(0.0, "length")

local ways = { "corner", "beside", "behind" }

-- Those of these fields that a rack says nearest to itself.
local function said(rack)
  local list = {}
  for _, name in ipairs(ways) do if given(rack, name) ~= nil then list[#list + 1] = name end end
  for i = #list, 1, -1 do
    for k = 1, #list do
      if i ~= k and like.nearer(inside[rack], { list[k] }, { list[i] }) then
        table.remove(list, i)
        break
      end
    end
  end
  return list
end

-- By the data of each rack that stands in a row: { row, index }.
local function rows()
  return memo.remember(inside[record.root], "racks in rows", function()
    local by = {}
    for _, row in ipairs(record.all "row") do
      for i = 1, #row.racks do by[inside[row.racks[i]]] = { row, i } end
    end
    return by
  end)
end
local none = {}
local function row_of(rack)
  local found = #record.all "row" > 0 and rows()[inside[rack]] or none
  return found[1], found[2]
end
places.row_of = row_of

-- How far the i-th rack of a row, after the first, steps back from the one before.
local function step_of(row, i)
  local steps = given(row, "steps")
  if not steps or #steps == 0 then return zero end
  return steps[#steps == #row.racks and i or i - 1]
end

-- How a rack is placed: "corner" and where that stands, "beside" or "behind" and the other one; nil where nobody said.
-- Behind it the declaration that says so.
local function way_of(rack)
  local name = said(rack)[1]
  if name then return name, rack[name], rack end
  local row, i = row_of(rack)
  if not row then return nil end
  if i > 1 then return "beside", row.racks[i - 1], row, i end
  local corner = given(row, "corner")
  if corner then return "corner", corner, row end
end
places.way_of = way_of

-- ---- where each stands ---------------------------------------------------------------------------------------------

-- How far a rack reaches west of its corner, in plan, and from there east. Of a row that slopes the upper edge leans
-- over the end of the lower.
local function reach(rack)
  if given(rack, "row_slope") == nil then return zero, rack.row_width end
  local slope = import "structure.slope"
  local lean, wide = slope.lean(rack), slope.plan_width(rack)
  if lean > zero then return lean, wide + lean end
  return zero, wide - lean
end

local function next_to(rack, at)
  local name, other, by, i = way_of(rack)
  if name == "corner" then return { east = other[1], north = other[2] } end
  local input = { east = at.east, north = at.north, facing = other.true_azimuth }
  if name == "behind" then
    input.plan_depth, input.gap = other.plan_depth, by.gap
    return calc.place_behind(input)
  end
  local west, wide = reach(other)
  input.row_width, input.aisle, input.step = wide - west, by.aisle + reach(rack), i and step_of(by, i) or zero
  return calc.place_beside(input)
end

-- Where the outline of a rack begins, east and north, and how long it is along the row.
function places.outer_corner(rack)
  local west, wide = reach(rack)
  if west == zero then return rack.place_east, rack.place_north, wide end
  local at = calc.place { east = rack.place_east, north = rack.place_north, facing = rack.true_azimuth,
      along = -1 * west, behind = zero }
  return at.east, at.north, wide
end

-- The racks that one is placed from, the one that stands by itself first.
local function chain_of(rack)
  local list = { rack }
  while true do
    local name, other = way_of(list[#list])
    if name ~= "beside" and name ~= "behind" then break end
    list[#list + 1] = other
  end
  for i = 1, #list // 2 do list[i], list[#list + 1 - i] = list[#list + 1 - i], list[i] end
  return list, way_of(list[1])
end

-- The racks that stand by themselves without a corner, and whether any has one.
local function free()
  return memo.remember(inside[record.root], "racks without a place", function()
    local list, fixed = {}, false
    for _, rack in ipairs(record.all "rack") do
      local name = way_of(rack)
      if not name then list[#list + 1] = rack end
      fixed = fixed or name == "corner"
    end
    return { list = list, fixed = fixed }
  end)
end

-- Whether a rack's own corner is the zero of the coordinates, since nobody said where another is.
function places.is_zero(rack)
  local all = free()
  return not all.fixed and #all.list == 1 and chain_of(rack)[1] == all.list[1]
end

local function not_placed(rack)
  local all = free()
  if not all.fixed and #all.list == 1 then return { east = zero, north = zero } end
  host.raise { code = "D010", class = "missing", path = tostring(rack) .. ".corner", who = "designer", tool = "a tape",
      text = "where rack " .. rack.name .. " stands beside the others is not given",
      help = "corner = ft{ 0, 0 }, or beside = and aisle =, or behind = and gap =" }
end

-- By the data of each rack: where it stands, or why that is not known. In the order in which one is placed from the
-- other, so that no chain of racks is too long.
local function all()
  return memo.remember(inside[record.root], "places of the racks", function()
    local at, why = {}, {}
    for _, rack in ipairs(record.all "rack") do
      local before
      for _, r in ipairs(chain_of(rack)) do
        local data = inside[r]
        if not at[data] and not why[data] then
          if before and why[before] then why[data] = why[before]
          else
            local ok, found = pcall(function()
              return (before or way_of(r)) and next_to(r, before and at[before]) or not_placed(r)
            end)
            if ok then at[data] = found
            elseif host.class(found) then why[data] = found
            else error(found, 0) end
          end
        end
        before = data
      end
    end
    return { at = at, why = why }
  end)
end

-- Where a rack's west corner stands: { east, north }. Where somebody wants to know how, only what it rests on is worked
-- out.
function places.at(rack)
  if run.noting then
    local at
    for _, r in ipairs(chain_of(rack)) do at = (at or way_of(r)) and next_to(r, at) or not_placed(r) end
    return at
  end
  local found = all()
  local data = inside[rack]
  if found.why[data] then error(found.why[data], 0) end
  return found.at[data]
end

-- ---- what is refused -----------------------------------------------------------------------------------------------

local belongs = { aisle = "beside", gap = "behind" }

-- A place that is found by going round in a circle.
local function refuse_circle(rack, refuse)
  local met, r, names = {}, rack, {}
  while r and not met[inside[r]] do
    met[inside[r]] = true
    names[#names + 1] = r.name
    local name, other = way_of(r)
    r = name ~= "corner" and other or nil
  end
  if r == rack then
    local name, _, by = way_of(rack)
    names[#names + 1] = rack.name
    refuse(by == rack and { name } or {}, "the racks are placed in a circle: " .. table.concat(names, ", from "),
        "one of them has a corner of its own")
  end
end

function places.settle(rack, refuse)
  local list = said(rack)
  if #list > 1 then
    refuse({ list[2] }, "it has two places: " .. list[1] .. " and " .. list[2], "keep one of the two")
  end
  local way = list[1]
  for _, field in ipairs { "aisle", "gap" } do
    local own = given(rack, field) ~= nil
    if own and not given(rack, belongs[field]) then
      refuse({ field }, "'" .. field .. "' goes with '" .. belongs[field] .. "', which is not there",
          "as in " .. (field == "aisle" and 'beside = "west", aisle = 10ft' or 'behind = "west", gap = 12ft'))
    end
    if way == belongs[field] and not own then
      refuse({ way }, "how far it stands " .. way .. " rack " .. rack[way].name .. " is not said",
          "add " .. field .. " = " .. (field == "aisle" and "10ft" or "12ft"))
    end
  end
  if way and way ~= "corner" then
    if rack[way] == rack then refuse({ way }, "it cannot stand " .. way .. " itself", "name another rack") end
    refuse_circle(rack, refuse)
  end
end

function places.settle_row(row, refuse)
  local n = #row.racks
  local mine = false
  local steps = given(row, "steps")
  for i = 1, n do
    local rack = row.racks[i]
    for k = 1, i - 1 do
      if row.racks[k] == rack then
        refuse({ "racks", i }, "rack " .. rack.name .. " stands in it twice", "name it once")
      end
    end
    for _, other in ipairs(record.all "row") do
      if other == row then break end
      for k = 1, #other.racks do
        if other.racks[k] == rack then
          refuse({ "racks", i }, "rack " .. rack.name .. " stands in row " .. other.name .. " already",
              "a rack stands in one row")
        end
      end
    end
    local own = said(rack)[1]
    if own and i > 1 then
      refuse({ "racks", i }, "rack " .. rack.name .. " says itself where it stands, by its own '" .. own .. "'",
          "leave that out, or take the rack out of the row")
    end
    mine = mine or own ~= nil
    local first = row.racks[1]
    if rack.north ~= first.north or not host.same(rack.azimuth, first.azimuth) then
      refuse({ "racks", i }, "rack " .. rack.name .. " faces " .. host.format(rack.azimuth) .. " " .. rack.north ..
          ", and rack " .. first.name .. " " .. host.format(first.azimuth) .. " " .. first.north,
          "racks in a row face alike; beside = places one that is turned")
    end
  end
  if given(row, "corner") and mine then
    refuse({ "corner" }, "the first rack has two places: the row's corner and its own", "keep one of the two")
  end
  if steps and #steps > 0 and #steps ~= n - 1 and #steps ~= n then
    refuse({ "steps" }, #steps .. (#steps == 1 and " step" or " steps") .. " for " .. n .. " racks",
        "one for each rack after the first")
  end
  if steps and #steps == n and host.si(steps[1]) ~= 0 then
    refuse({ "steps", 1 }, "the first rack has none before it, and steps by " .. host.format(steps[1]),
        "leave the first out, or write 0")
  end
end

return places
