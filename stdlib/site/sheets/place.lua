-- SPDX-License-Identifier: MIT
-- The head of a report: where it stands, and the weather that it must stand.
local record = import "model.record"
local words = import "write.words"

local given = record.given

local function head(row)
  local site = record.only "site"
  if not site then return end
  local latitude, longitude = given(site, "latitude"), given(site, "longitude")
  local south = latitude and host.si(latitude) < 0
  row("place", latitude and words.position(latitude, "latitude") .. (longitude and ", " ..
      words.position(longitude, "longitude") or "") ..
      ", " .. (south and "southern" or "northern") .. " hemisphere: the sun stands in the " ..
      (south and "north" or "south") or "latitude not given: hemisphere unknown")
  local function fact(name)
    local v = given(site, name)
    return v ~= nil and words.show(v) or "not given"
  end
  row("weather", "wind " .. fact "wind" .. ", ground snow " .. fact "snow" .. ", coldest " .. fact "coldest" ..
      ", hottest air " .. fact "hottest_air" .. ", frost " .. fact "frost")
end

-- What somebody walked the ground for and did not find.
local function inputs(d)
  local none = record.only "none"
  if not none then return end
  local facts = {}
  for f in record.each(none.facts) do facts[#facts + 1] = f end
  d:gap()
  d:para("Not there, says " .. none.walked_by .. " on " .. none.on .. ": " .. table.concat(facts, ", ") .. ".")
end

return { name = "place", order = 2, head = head, inputs = inputs }
