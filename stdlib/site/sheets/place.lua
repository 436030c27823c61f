-- SPDX-License-Identifier: MIT
-- The head of a report: where it stands, and the weather that it must stand.
local record = import "model.record"
local words = import "write.words"
local caveats = import "write.caveats"

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

local function not_there(none)
  local facts = {}
  for f in record.each(none.facts) do facts[#facts + 1] = f end
  return table.concat(facts, ", ")
end

-- Facts of which a wrong number hurts somebody, the one that is forgotten most often first.
local dangerous = { "coldest", "wind", "snow", "frost", "soil", "snow_depth" }

-- Calls f with the facts of which nobody said the source.
local function unsourced(f, all)
  for _, kind in ipairs { "site", "nearest", "flood", "brush" } do
    local proxy = record.all(kind)[1]
    local facts = proxy and caveats.unsourced(proxy, kind == "site" and dangerous, all)
    if facts then f(facts) end
  end
end

-- What somebody walked the ground for and did not find; and what stands there without a source.
local function inputs(d)
  local none = record.only "none"
  if none then
    d:gap()
    d:para("Not there, says " .. none.walked_by .. " on " .. none.on .. ": " .. not_there(none) .. ".")
  end
  d:gap()
  unsourced(function(facts) d:para("Nobody said the source of: " .. facts .. ".") end, true)
end

-- What no rule asks for unless somebody says that it is there.
local function not_said(none)
  local said, list = {}, {}
  for f in record.each(none and none.facts or {}) do said[f] = true end
  for _, f in ipairs { "easement", "brush" } do
    if not said[f] and not record.all(f)[1] then list[#list + 1] = f end
  end
  return list[1] and table.concat(list, ", ") or nil
end

local function beside(row)
  local none = record.only "none"
  unsourced(function(facts) row("no source", facts) end)
  local unsaid = not_said(none)
  if unsaid then row("not said", "whether there is: " .. unsaid) end
  if none then row("only told", "no " .. not_there(none) .. ", says " .. none.walked_by .. ", " .. none.on) end
  local lines = record.only "private_lines"
  if lines then
    row("only told", "private lines " .. words.show(lines.found) .. ", says " .. lines.asked .. ", " .. lines.on)
  end
end

return { name = "place", order = 2, beside = beside, head = head, inputs = inputs }
