-- SPDX-License-Identifier: MIT
-- R91: how far apart piers stand that do not share their soil.
local memo = import "model.memo"
local record = import "model.record"
local rule = import "model.rule"
local util = import "model.util"
local feet = import "structure.feet"
local lines = import "structure.lines"
local apart = {}

local given = record.given

local function wide(footing) return given(footing, "bell") or footing.hole_diameter end

function apart.asked(rack)
  local several = #record.all "rack" > 1
  if #feet.holes(rack) == 0 then return false, "none of its posts stands in a hole" end
  local n = 0
  for p in record.each(rack.post) do if feet.in_hole(p) then n = n + 1 end end
  return n > 1 or several, "it has one hole"
end

-- The piers of a rack, into a list of rows and one of their posts: in its own plan, or in that of all racks.
local function put(rack, number, of_all, rows, posts)
  for p in record.each(rack.post) do
    local f = feet.footing(p)
    if feet.kind(f) == "hole" then
      local row = { diameter = wide(f), post_width = (feet.section(rack, p.line)), rack = number }
      if of_all then row.east, row.north = p.place_east, p.place_north
      else row.east, row.north = p.plan_offset, lines.setback(rack, p.line, p.letter) end
      rows[#rows + 1], posts[#posts + 1] = row, p
    end
  end
end

-- The widest that any two piers of the job must stand apart: asked once, of as many racks as there are.
local function widest()
  return memo.remember(record.inside[record.root], "how far piers stand apart", function()
    local most
    for _, r in ipairs(record.all "rack") do
      local post = feet.widest(r)
      for _, f in ipairs(feet.holes(r)) do
        local least = calc.pier_spacing { diameter = wide(f), post_width = post }.least
        if not most or least > most then most = least end
      end
    end
    return most
  end)
end

-- The racks of which another may be near, each with how far its piers reach to the south, north, west and east.
local function crowded()
  return memo.remember(record.inside[record.root], "racks whose piers may be near", function()
    local between, list = import "places.between", {}
    for _, r in ipairs(record.all "rack") do
      if #feet.holes(r) > 0 and between.may_be_near(r, widest()) then
        local box = { rack = r }
        for p in record.each(r.post) do
          local east, north = host.si(p.place_east), host.si(p.place_north)
          if not box.west or east < box.west then box.west = east end
          if not box.east or east > box.east then box.east = east end
          if not box.south or north < box.south then box.south = north end
          if not box.north or north > box.north then box.north = north end
        end
        list[#list + 1] = box
      end
    end
    return list
  end)
end

-- The others of them whose piers may be as near to this rack's as piers may not stand.
local function near(rack)
  local list, own, far = {}, nil, host.si(widest())
  local all = crowded()
  for i = 1, #all do if all[i].rack == rack then own = all[i] end end
  if not own then return list end
  local west, east, south, north = own.west - far, own.east + far, own.south - far, own.north + far
  for i = 1, #all do
    local box = all[i]
    if box ~= own and box.east > west and box.west < east and box.north > south and box.south < north then
      list[#list + 1] = box.rack
    end
  end
  return list
end

local function judged(rows, posts, number)
  local two = calc.piers_apart { piers = rows, of = number }
  local a, b = posts[two.first], posts[two.second]
  local several = record.parent(a) ~= record.parent(b)
  local function name(p) return (several and record.parent(p).name .. "." or "") .. p.station end
  local finding = rule.at_least(two.spacing, rule.bound(two.least, "from which on piers are no group"))
  finding.words = "between the piers of " .. util.list { name(a), name(b) }
  return finding
end

function apart.check(rack)
  local rows, posts, list = {}, {}, {}
  put(rack, 1, false, rows, posts)
  list[1] = #rows > 1 and judged(rows, posts, 1) or rule.states(true, "it has one pier, and no other is near")
  if #record.all "rack" > 1 then
    list[#list + 1] = function()
      local others = near(rack)
      if #others == 0 then return nil end
      local all, whose = {}, {}
      put(rack, 1, true, all, whose)
      for i, r in ipairs(others) do put(r, i + 1, true, all, whose) end
      return #all > 1 and judged(all, whose, 1) or nil
    end
  end
  return rule.every(list)
end

return apart
