-- SPDX-License-Identifier: MIT
-- R71: the ways between racks, and their holes.
local memo = import "model.memo"
local record = import "model.record"
local rule = import "model.rule"
local words = import "write.words"
local places = import "places.places"
local feet = import "structure.feet"
local between = {}

local inside = record.inside
local nothing = host.quantity(0.0, "length")
local no_aisle = "racks stand clear of each other, and no aisle is asked for"

-- Of each rack whose place is known, by its data: { rack = the nearest, gap }; of each other one why its place is not
-- known, and the first of these reasons.
local function ways()
  return memo.remember(inside[record.root], "ways between racks", function()
    local list, outlines, unknown, first = {}, {}, {}, nil
    for _, r in ipairs(record.all "rack") do
      local ok, outline = pcall(function()
        local east, north, wide = places.outer_corner(r)
        return { east = east, north = north, facing = r.true_azimuth, along = wide, across = r.plan_depth }
      end)
      if ok then list[#list + 1], outlines[#outlines + 1] = r, outline
      elseif host.class(outline) then
        first = first or outline
        unknown[inside[r]] = outline
      else error(outline, 0) end
    end
    local by = {}
    if #list > 1 then
      for i, way in ipairs(calc.apart { outlines = outlines }.ways) do
        by[inside[list[i]]] = { rack = list[way.nearest], gap = way.gap }
      end
    end
    return { by = by, unknown = unknown, first = first }
  end)
end

-- ---- holes ---------------------------------------------------------------------------------------------------------

-- What a post's hole is wide, or the screw or the post that is driven; nil of what stands on a block.
local function width(footing, r)
  if feet.kind(footing) ~= "ballast" then return feet.width(footing, r) end
end

-- How far the holes of a rack may reach beyond its outline, and to the holes of another; nil where it has none.
local function reach(r)
  local wide = width(r.posts.footing, r)
  if #record.all "at" > 0 then
    for _, g in ipairs(feet.of_rack(r)) do
      local own = width(g.footing, r)
      if own and (not wide or own > wide) then wide = own end
    end
  end
  if not wide then return nil end
  local beyond = nothing
  for line in record.each(r.post_line) do
    local out = line.setback - r.plan_depth
    if out > beyond then beyond = out end
  end
  return wide + beyond
end

local function holes_of(r, number, list, posts)
  for p in record.each(r.post) do
    local wide = width(feet.footing(p), r)
    if wide then
      list[#list + 1] = { east = p.place_east, north = p.place_north, diameter = wide, rack = number }
      posts[#posts + 1] = p
    end
  end
end

-- The two nearest holes of different racks; false where no two racks stand so near that theirs could meet.
local function nearest_holes()
  return memo.remember(inside[record.root], "nearest holes of racks", function()
    local found, most = ways(), nothing
    for _, r in ipairs(record.all "rack") do
      local out = found.by[inside[r]] and reach(r)
      if out and out > most then most = out end
    end
    local list, posts, racks = {}, {}, 0
    for i, r in ipairs(record.all "rack") do
      local way = found.by[inside[r]]
      if way and way.gap < 2 * most then
        local before = #list
        holes_of(r, i, list, posts)
        if #list > before then racks = racks + 1 end
      end
    end
    if racks < 2 then return false end
    local two = calc.holes_apart { holes = list }
    return { a = posts[two.first], b = posts[two.second], clear = two.clear }
  end)
end

-- The farthest that a hole of any rack lies outside of it.
local function farthest_reach()
  return memo.remember(inside[record.root], "farthest reach", function()
    local most = nothing
    for _, r in ipairs(record.all "rack") do
      local out = reach(r)
      if out and out > most then most = out end
    end
    return most
  end)
end

-- Whether a hole of another rack could be so near to one of this rack's, middle to middle.
function between.may_be_near(rack, distance)
  local found = ways()
  local why = found.unknown[inside[rack]] or found.first
  if why then error(why, 0) end
  local way = found.by[inside[rack]]
  return way ~= nil and way.gap < distance + 2 * farthest_reach()
end

local function post_name(p) return record.parent(p).name .. "." .. p.station end

local function holes(r)
  local two = nearest_holes()
  if not two or record.parent(two.a) ~= r and record.parent(two.b) ~= r then return nil end
  local f = rule.at_least(two.clear, rule.bound(nothing, "holes side by side"))
  f.words = "between the holes of " .. post_name(two.a) .. " and " .. post_name(two.b)
  return f
end

-- ---- judging -------------------------------------------------------------------------------------------------------

local function way(r, found)
  local f
  if rule.has_limit "aisle" then f = rule.at_least(found.gap, rule.limit "aisle")
  else f = rule.at_least(found.gap, rule.bound(nothing, no_aisle)) end
  f.words = host.si(found.gap) < 0 and "it stands in rack " .. found.rack.name or "to rack " .. found.rack.name
  return f
end

function between.check(r)
  local all = ways()
  local mine = all.by[inside[r]]
  local list = {}
  if mine then
    list[1] = way(r, mine)
    if list[1].ok then list[2] = function() return holes(r) end end
  end
  local why = all.unknown[inside[r]] or all.first       -- what nobody placed may stand in any way
  if why then list[#list + 1] = function() error(why, 0) end end
  return rule.every(list)
end

-- ---- what to change ------------------------------------------------------------------------------------------------

-- The input that says how far one rack stands from the other; nil where that is two corners.
local function distance_path(a, b)
  for _, two in ipairs { { a, b }, { b, a } } do
    local name, other, by = places.way_of(two[1])
    if other == two[2] and name ~= "corner" then
      return tostring(by) .. (name == "behind" and ".gap" or ".aisle")
    end
  end
end

local function neighbour(r)
  local mine = ways().by[inside[r]]
  return mine and mine.rack, mine
end

function between.flips(r)
  local other = neighbour(r)
  return other and distance_path(r, other) or nil
end

function between.nearest(r)
  local other, mine = neighbour(r)
  if not other or distance_path(r, other) then return {} end
  local wanted = nothing
  if rule.has_limit "aisle" then
    for _, l in ipairs(table.pack(rule.limit "aisle")) do if l.value > wanted then wanted = l.value end end
  end
  if mine.gap >= wanted then return "move one of the two racks whose holes meet" end
  return "move it, or rack " .. other.name .. ": " .. words.show(wanted - mine.gap) .. " are missing between them"
end

return between
