-- SPDX-License-Identifier: MIT
-- Clamps: how many of each, where they sit along a rail, and where the rails lie under the modules.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local measure = import "write.measure"
local marks = import "marks.marks"

local value = document.value
local function right(head, key) return { head, key = key, right = true } end

-- Where the rails lie up the slope, from one zero, the lower edge of the modules.
local function rails(d, r)
  local places, rows = {}, {}
  local list = r.rail_places.rails
  for i, rail in ipairs(list) do places[i] = rail.up end
  local running = measure.running(places)
  for i, rail in ipairs(list) do
    rows[i] = { "rail " .. i, value(running[i].at, measure.mark), i > 1 and value(running[i].bay, measure.mark) or "",
        "row " .. math.tointeger(rail.row), value(rail.from_corner, measure.mark), document.fill }
  end
  d:table({ "rail", right("up from the lower edge", "from zero"), right("from the one before", "bay"), "under",
      right("from the module's nearer corner", "from corner"), "measured" }, rows)
end

-- The clamps along a rail, from the rail's west end.
local function along(d, r)
  local list, places, rows = r.clamp_places.clamps, {}, {}
  for i, c in ipairs(list) do places[i] = c.along + r.end_allowance end
  local running = measure.running(places)
  for i, c in ipairs(list) do
    rows[i] = { value(i), marks.clamp_says(c), value(running[i].at, measure.mark),
        i > 1 and value(running[i].bay, measure.mark) or "", document.tick }
  end
  d:table({ right("no.", "number"), "clamp", right("from the west end of the rail", "from zero"),
      right("from the one before", "bay"), "torqued" }, rows)
end

-- Racks whose clamps sit alike: { { racks, ... }, ... }.
local function alike()
  local groups, by = {}, {}
  for _, r in ipairs(record.all "rack") do
    local parts = { r.mid_clamp.name, r.end_clamp.name, host.format(r.end_allowance) }
    local rails_of, why = graph.try(r, "rail_places")
    for _, rail in ipairs(rails_of and rails_of.rails or {}) do
      parts[#parts + 1] = (measure.mark(rail.up)) .. " " .. (measure.mark(rail.from_corner))
    end
    parts[#parts + 1] = why and host.message(why)
    local clamps_of, why_not = graph.try(r, "clamp_places")
    for _, c in ipairs(clamps_of and clamps_of.clamps or {}) do
      parts[#parts + 1] = (measure.mark(c.along + r.end_allowance)) .. " " .. marks.clamp_says(c)
    end
    parts[#parts + 1] = why_not and host.message(why_not)
    local key = table.concat(parts, "|")
    if not by[key] then
      by[key] = { racks = {} }
      groups[#groups + 1] = by[key]
    end
    table.insert(by[key].racks, r)
  end
  return groups
end

local function counted(d, r, n)
  local all = n > 1 and ", in all " .. n .. " racks " .. n * r.mid_clamps .. " and " .. n * r.end_clamps or ""
  d:para(r.mid_clamps .. " mid clamps " .. r.mid_clamp.name .. " and " .. r.end_clamps .. " end clamps " ..
      r.end_clamp.name .. ": " .. #r.clamp_places.clamps .. " on each of " .. r.rails.lines .. " rails" .. all .. ".")
end

local function whole(d)
  for _, group in ipairs(alike()) do
    local r, n = group.racks[1], #group.racks
    d:gap()
    d:subheading(marks.title(group))
    d:inside(function()
      d:guarded(counted, r, n)
      d:guarded(rails, r)
      d:gap()
      d:para("On each rail, to the middle of the gap between two modules, or to the module's edge at an end:")
      d:guarded(along, r)
    end)
  end
  d:gap()
  d:para("Bonding clips and all that threads on before a clamp goes on first. Each clamp is tightened to its " ..
      "maker's torque, with a wrench that shows it.")
end

return { name = "clamps", title = "Clamps", order = 74, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R16", "R19", "R20", "R21" }, whole = whole }
