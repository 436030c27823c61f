-- SPDX-License-Identifier: MIT
-- The head of a report: where it stands, and the weather that it must stand.
local record = import "model.record"
local words = import "write.words"
local caveats = import "write.caveats"

local given = record.given

-- 36.16 N
local function side(v, plus, minus)
  return words.show(host.abs(v)):gsub(" deg", "") .. " " .. (host.si(v) < 0 and minus or plus)
end

local function head(row)
  local site = record.only "site"
  if not site then return end
  local latitude, longitude = given(site, "latitude"), given(site, "longitude")
  local south = latitude and host.si(latitude) < 0
  row("place", latitude and side(latitude, "N", "S") .. (longitude and ", " .. side(longitude, "E", "W") or "") ..
      ", " .. (south and "southern" or "northern") .. " hemisphere: the sun stands in the " ..
      (south and "north" or "south") or "latitude not given: hemisphere unknown")
  local function fact(name)
    local v = given(site, name)
    return v ~= nil and words.show(v) or "not given"
  end
  row("weather", "wind " .. fact "wind" .. ", ground snow " .. fact "snow" .. ", coldest " .. fact "coldest" ..
      ", hottest air " .. fact "hottest_air" .. ", frost " .. fact "frost")
end

local function not_there(none)
  local facts = {}
  for f in record.each(none.facts) do facts[#facts + 1] = f end
  return table.concat(facts, ", ")
end

-- What somebody walked the ground for and did not find.
local function inputs(d)
  local none = record.only "none"
  if not none then return end
  d:gap()
  d:para("Not there, says " .. none.walked_by .. " on " .. none.on .. ": " .. not_there(none) .. ".")
end

-- Facts that a wrong number of hurts somebody, the one that is missed most often first.
local dangerous = { "coldest", "wind", "snow", "frost", "soil", "snow_depth" }

local function beside(row)
  local none = record.only "none"
  for _, kind in ipairs { "site", "nearest" } do
    local list = record.only(kind) and caveats.unsourced(record.only(kind), kind == "site" and dangerous)
    if list and #list > 0 then row("no source said", kind .. ": " .. table.concat(list, ", ")) end
  end
  if none then row("hearsay", "no " .. not_there(none) .. ", says " .. none.walked_by .. ", " .. none.on) end
end

return { name = "place", order = 2, beside = beside, head = head, inputs = inputs }
