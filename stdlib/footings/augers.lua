-- SPDX-License-Identifier: MIT
-- Which holes can be dug: the augers that the house has, or else those that are commonly had.
local record = import "model.record"
local augers = {}

local function own()
  local habits = record.only "habits"
  return habits and record.given(habits, "augers")
end

-- Augers are called by one unit, as they are sold.
function augers.shown(diameter) return host.format(diameter, record.root.units == "SI" and "mm" or "in") end

-- Diameters, the narrowest first; second: whether the house names them.
function augers.had()
  local named = own()
  if not named then return calc.augers {}.diameters, false end
  local list = {}
  for i = 1, #named do list[i] = named[i] end
  table.sort(list, function(a, b) return a < b end)
  return list, true
end

-- Whether a hole so wide is dug by none of them; false where nobody names any.
function augers.lacks(diameter)
  local list, named = augers.had()
  for _, d in ipairs(list) do if host.near(host.si(d), host.si(diameter)) then return false end end
  return named
end

-- Holes of the job that none of them digs, in words, for whoever reads page one.
function augers.told()
  local list, seen = {}, {}
  if not own() then return list end
  local feet = import "structure.feet"
  local had = {}
  for i, d in ipairs(augers.had()) do had[i] = augers.shown(d) end
  for _, r in ipairs(record.all "rack") do
    for _, f in ipairs(feet.holes(r)) do
      if not seen[f] and augers.lacks(f.hole_diameter) then
        list[#list + 1] = "no auger of " .. augers.shown(f.hole_diameter) .. " is had for " .. feet.title(f) ..
            ", but " .. import("model.util").list(had)
      end
      seen[f] = true
    end
  end
  return list
end

return augers
