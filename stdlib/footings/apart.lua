-- SPDX-License-Identifier: MIT
-- R91: how far apart piers stand that do not share their soil.
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
  local width = feet.section(rack)
  for p in record.each(rack.post) do
    local f = feet.footing(p)
    if feet.kind(f) == "hole" then
      local row = { diameter = wide(f), post_width = width, rack = number }
      if of_all then row.east, row.north = p.place_east, p.place_north
      else row.east, row.north = p.plan_offset, lines.setback(rack, p.line, p.letter) end
      rows[#rows + 1], posts[#posts + 1] = row, p
    end
  end
end

-- The widest that any two piers of the job must stand apart.
local function widest()
  local most
  for _, r in ipairs(record.all "rack") do
    local post = feet.section(r)
    for _, f in ipairs(feet.holes(r)) do
      local least = calc.pier_spacing { diameter = wide(f), post_width = post }.least
      if not most or least > most then most = least end
    end
  end
  return most
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
      local near = import("places.between").within(rack, widest())
      if #near == 0 then return nil end
      local all, whose = {}, {}
      put(rack, 1, true, all, whose)
      for i, r in ipairs(near) do put(r, i + 1, true, all, whose) end
      return #all > 1 and judged(all, whose, 1) or nil
    end
  end
  return rule.every(list)
end

return apart
