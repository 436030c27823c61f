-- SPDX-License-Identifier: MIT
-- Modules whose tilt somebody changes with the seasons.
local schema = import "model.schema"
local record = import "model.record"
local kind = schema.kind

-- A day of each year, month and day; of a leap year, too.
local function is_day(text) return schema.is_day("2000-" .. text) and schema.is_date("2000-" .. text) end

local function refuse_day(v)
  if not is_day(v.from) then
    return "'" .. v.from .. "' is no day of the year", 'write month and day, as in from = "09-15"', "from"
  end
end

local function of_part(v) return v.part ~= nil end
local function refuse_legs(v)
  if v.part and v.size then return "'part' and 'size' are both given", "a part of a parts file has its own", "size" end
end

local function check(v)
  if (v.rack == nil) == (v.racks == nil) then
    return v.rack and "it names one rack and a list of them" or "it does not say which rack's modules are turned",
        'rack = "east", or racks = { "west", "east" }', v.rack and "racks" or nil
  end
  if (v.pivot == nil) == (v.pivot_at == nil) then
    return v.pivot and "it names the line that the modules turn about, and a place on the slope"
        or "it does not say what the modules turn about", 'pivot = "front", or pivot_at = 50%',
        v.pivot and "pivot_at" or nil
  end
  if #v.positions == 1 then
    return "one position is no change of the tilt", 'as in positions = { { tilt = 55deg, from = "09-15" }, ' ..
        '{ tilt = 35deg, from = "04-01" } }', "positions"
  end
  local seen = {}
  for i = 1, #v.positions do
    local day = v.positions[i].from
    if seen[day] then
      return "two positions begin on " .. day, "one of the two holds from another day", "positions"
    end
    seen[day] = true
  end
end

-- Its racks, whether it names one or several.
local function racks(tilts)
  local one = record.given(tilts, "rack")
  if one then return { one } end
  local list = {}
  for r in record.each(tilts.racks) do list[#list + 1] = r end
  return list
end

-- The modules turn about one line, which the rack has.
local function refuse_pivot(rack, name, refuse)
  local lines, named = {}, 0
  for i, line in ipairs(import("structure.lines").of(rack)) do
    lines[i] = line.name
    if line.name == name then named = named + 1 end
  end
  if name and named ~= 1 then
    refuse({ "pivot" }, "the rack " .. rack.name .. " has " .. (named == 0 and "no line '" .. name .. "'" or
        named .. " lines in the middle"), named == 0 and 'as in pivot = "' .. lines[1] .. '"' or
        "say where on the slope: pivot_at = 50%")
  end
end

-- Legs that nothing stands on, or that nobody knows the wood of.
local function refuse_legs_of(tilts, refuse)
  local legs, several = record.given(tilts, "legs"), false
  if not legs then return end
  for _, rack in ipairs(racks(tilts)) do
    several = several or #import("structure.lines").of(rack) > 1
    if record.given(legs, "size") and record.given(rack, "stack") and not record.given(rack, "rafter_species") then
      refuse({ "legs", "size" }, "legs of lumber are of the rafters' species, and those of the rack " .. rack.name ..
          " are a kit's", "legs = { part = ... } of a parts file, or the rack's rafter_species")
    end
  end
  if not several then
    refuse({ "legs" }, "its modules turn on the heads of one line of posts, and there is none beside it",
        "leave them out")
  end
end

local function settle(tilts, refuse)
  local mine = {}
  for i, rack in ipairs(racks(tilts)) do
    local at = record.given(tilts, "rack") and { "rack" } or { "racks", i }
    if mine[rack] then refuse(at, "the rack " .. rack.name .. " is named twice", "name each rack once") end
    mine[rack] = true
    if record.given(rack, "row_slope") then
      refuse(at, "the row of rack " .. rack.name .. " slopes: turning its modules is not worked out here",
          "a level row, or one tilt")
    end
    refuse_pivot(rack, record.given(tilts, "pivot"), refuse)
  end
  refuse_legs_of(tilts, refuse)
  for other in record.each_of "tilts" do
    if other == tilts then break end
    for _, rack in ipairs(racks(other)) do
      if mine[rack] then
        refuse({}, "the modules of rack " .. rack.name .. " are turned by " .. tostring(other) .. " already",
            "all positions of a rack stand in one declaration")
      end
    end
  end
end

kind { "tilts", named = true, design = true,
  says = "modules whose tilt is changed with the seasons: about which line they turn, to which tilt, and when",
  fields = {
    { "rack", "ref", of = { "rack" }, says = "the rack whose modules are turned" },
    { "racks", "list", least = 1, item = { "rack", "ref", type = "ref", of = { "rack" } }, example = '"west", "east"',
      says = "the racks, where there are several" },
    { "pivot", "choice", choices = { "front", "middle", "back" },
      says = "the line of posts that they turn about: its bearing points stay where the rack's own tilt has them" },
    { "pivot_at", "ratio", min = 0, max = 1, example = "50%",
      says = "where on the slope they turn, from the lower edge, where that is at no line of posts" },
    { "legs", "group", example = 'size = "4x4"', check = refuse_legs,
      says = "what holds the rafters up where they are turned, on the heads of the posts about which they do not turn: "
          .. "a leg for each, with a pin at both ends, as long as the position wants; a single line of posts needs "
          .. "none. Posts that the rafters would have to come down past are not worked out, and no order has the legs",
      fields = {
        { "size", "choice", choices_from = "wood_sections.section", required = true, unless = of_part,
          says = "nominal size, of the rafters' species and grade" },
        { "part", "part", of = "pole", spare = true,
          says = "pipes or profiles of a parts file, in place of size" },
      } },
    { "positions", "list", least = 1, required = true, example = 'tilt = 55deg, from = "09-15"',
      says = "the positions, in any order",
      item = { "position", "group", type = "group", example = 'tilt = 55deg, from = "09-15"', check = refuse_day,
        says = "one position",
        fields = {
          { "tilt", "quantity", dim = "angle", min = 0, max = math.rad(90), required = true, example = "55deg",
            says = "slope of the modules" },
          { "from", "text", required = true, example = "09-15", says = "from which day of the year on, month and day" },
        } } },
  },
  check = check, settle = settle }

kind { "position", parent = "tilts", says = "one rack's modules in one of their positions",
  fields = {
    { "of", "text", says = "the rack" },
    { "tilt", "quantity", dim = "angle", says = "slope of the modules" },
    { "from", "text", says = "from which day of the year on" },
  },
  derive = function(tilts)
    local list, all = {}, racks(tilts)
    for _, rack in ipairs(all) do
      for p in record.each(tilts.positions) do
        list[#list + 1] = { name = (#all > 1 and rack.name .. " " or "") .. p.from, of = rack.name, tilt = p.tilt,
            from = p.from }
      end
    end
    return list
  end }

kind { "bearing_line", parent = "position", says = "one line of bearing points under the rafters, in this position",
  fields = {},
  derive = function(position)
    local list = {}
    for i, line in ipairs(import("structure.lines").of(import("seasons.positions").rack(position))) do
      list[i] = { name = line.letter }
    end
    return list
  end }
