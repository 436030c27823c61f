-- SPDX-License-Identifier: MIT
-- Live parts and flood water: what R07 asks where the site lies in a flood zone.
local record = import "model.record"
local rule = import "model.rule"
local at_least, every, bound = rule.at_least, rule.every, rule.bound

local none = host.quantity(0, "length")

-- Above the water by as much as the place wants. Where that is not known, below the water is too low all the same.
local function above(flood, elevation, what)
  local height = elevation - flood.base_elevation
  local f
  if rule.has_limit "freeboard" then f = at_least(height, rule.limit "freeboard")
  else f = at_least(height, bound(none, "the base flood elevation", "the flood map")) end
  f.words = "for " .. what .. " at " .. host.format(elevation) .. ", the base flood at " ..
      host.format(flood.base_elevation) .. ", zone " .. flood.zone
  return f
end

-- The lower edge of each rack, on whose modules live parts begin, and the lowest box.
return function(flood)
  local list = {}
  for i, name in ipairs { "base_elevation", "datum_elevation", "lowest_box" } do
    list[i] = function() local _ = flood[name] end          -- what is missing is told one by one
  end
  for _, rack in ipairs(record.all "rack") do
    list[#list + 1] = function()
      return above(flood, flood.datum_elevation + rack.edge_height,
          "the lower edge of rack " .. record.inside[rack].name)
    end
  end
  list[#list + 1] = function() return above(flood, flood.lowest_box, "the lowest box") end
  list[#list + 1] = function()
    if not rule.no_limit "freeboard" then rule.limit "freeboard" end
  end
  list[#list + 1] = function()
    if flood.zone:find "^[Vv]" then
      host.raise { code = "D010", class = "missing", path = "flood.zone", who = "engineer",
          text = "zone " .. flood.zone .. " has waves, which no rule here judges" }
    end
  end
  return every(list)
end
