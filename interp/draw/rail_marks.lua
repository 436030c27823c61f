-- SPDX-License-Identifier: MIT
-- On an array plan: where rails are spliced, and where they and the modules part at an expansion joint.
local record = import "model.record"
local graph = import "model.graph"
local measure = import "write.measure"
local plan = import "rails.plan"
local parts = import "draw.parts"
local marks = {}

local given, si = record.given, host.si

-- Splices by line: { { line, at = along from the west end of the modules } ... }; or nil and why they are not planned.
local function splices_of(rack)
  if plan.plain(rack) then return {} end
  local pieces, why = graph.try(rack, "rail_pieces")
  if not pieces then return nil, why end
  local list = {}
  for i, p in ipairs(pieces) do
    local next = pieces[i + 1]
    if next and next.line == p.line and next.run == p.run then
      list[#list + 1] = { line = math.tointeger(p.line), at = p.to - rack.end_allowance }
    end
  end
  return list
end

-- The gap of each expansion joint: { west, east = the modules' edges along the row, rails = between the rails }.
local function joints_of(rack)
  local list, runs = {}, rack.rail_runs
  for k = 1, #runs - 1 do
    local west, east = runs[k].to - rack.end_allowance, runs[k + 1].from - rack.end_allowance
    list[k] = { west = west - rack.end_allowance, east = east + rack.end_allowance, rails = east - west }
  end
  return list
end

-- A place along the row and its text into lists that run from the left; places come from the west end on.
function marks.put(places, texts, way, x, text)
  table.insert(places, way > 0 and #places + 1 or 1, x)
  table.insert(texts, way > 0 and #texts + 1 or 1, text)
end

-- on: { rails = { x1, y1, x2, y2, line } of each, in metres, high = above them, way = -1 where west is on the right }.
-- A splice is a mark of a size on paper: a box across the rail.
function marks.draw(d, rack, on, stretch)
  local rails, high, way = on.rails, on.high, on.way
  local splices, text = splices_of(rack), d:paper "text"
  d:layer "S-FRAM"
  d:pen "medium"
  local at, by = {}, {}
  for _, s in ipairs(parts.of(stretch, splices or {}, function(one) return way * si(one.at) end)) do
    local x = way * si(s.at)
    for _, r in ipairs(rails) do
      if r.line == s.line and math.min(r[1], r[3]) <= x and x <= math.max(r[1], r[3]) then
        local wide, tall = 0.45 * text, 0.25 * text
        d:polyline({ x - wide, r[2] - tall, x + wide, r[2] - tall, x + wide, r[2] + tall, x - wide, r[2] + tall }, true)
      end
    end
    local key = string.format("%.6f", x)
    if not by[key] then by[key], at[#at + 1] = true, s.at end
  end
  local top = high
  if #at > 0 then
    local zero = host.literal "0in"
    table.sort(at, function(a, b) return a < b end)
    table.insert(at, 1, zero)
    local places, texts = {}, {}
    for i, m in ipairs(measure.running(at)) do
      local x = way * si(at[i])
      if parts.has(stretch, x) then marks.put(places, texts, way, x, i == 1 and "0" or (measure.mark(m.at))) end
    end
    d:layer "G-ANNO-DIMS"
    d:running { from = high, line = high + d:paper "first", at = places, texts = texts, zero = 0 }
    top = select(4, d:box())
  end
  d:layer "G-ANNO-TEXT"
  d:pen "thin"
  for _, joint in ipairs(parts.of(stretch, joints_of(rack), function(j) return way * si(j.west + j.east) / 2 end)) do
    local x = way * si(joint.west + joint.east) / 2
    d:line(x, high + 0.3 * text, x, top + 1.2 * text)
    local apart = si(joint.rails) < 0 and "rails would overlap by " .. measure.inches(-joint.rails) or
        measure.inches(joint.rails) .. " between rails"
    d:text(x, top + 1.7 * text, "expansion joint: " .. measure.inches(joint.east - joint.west) ..
        " between modules, " .. apart, "text", 0, "middle")
  end
end

-- What the marks mean, for the notes.
function marks.told(rack, list)
  local splices, why = splices_of(rack)
  if not splices then
    list[#list + 1] = "Splices of rails are not drawn: " .. host.message(why) ..
        (why.who and "; ask " .. why.who or "") .. "."
  elseif #splices == 0 then list[#list + 1] = "Its rails have no splices."
  else
    list[#list + 1] = "Boxes on rails: splices, " .. #splices .. "; their marks stand above, from the west end of " ..
        "the modules" .. (given(rack.rails, "joints") and "." or ", as the pieces are planned here.")
  end
  if #rack.rail_runs > 1 then list[#list + 1] = "Rails end at their expansion joints." end
end

return marks
