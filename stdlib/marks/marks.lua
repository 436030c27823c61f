-- SPDX-License-Identifier: MIT
-- Marks on rails and rafters, each piece from an end of its own, as they are pulled before the pieces go up.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local util = import "model.util"
local measure = import "write.measure"
local marks = {}

local given = record.given

-- Marks of a piece by where they lie, with the end at which the tape is hooked in front and the other end behind:
-- { { what, face, drilled, at, bay } ... }.  drilled: "bolt", a clamp's part, or nil where nothing is drilled.
local function pulled(list, length)
  table.sort(list, function(a, b)
    local x, y = host.si(a.from), host.si(b.from)
    return x < y and not host.near(x, y) or host.near(x, y) and a.order < b.order
  end)
  local places = { 0 * length }
  for i, m in ipairs(list) do             -- two at one place may lie a rounding before each other
    places[i + 1] = host.si(m.from) < host.si(places[i]) and places[i] or m.from
  end
  places[#places + 1] = length
  local running = measure.running(places)
  for i, m in ipairs(list) do m.at, m.bay = running[i + 1].at, running[i + 1].bay end
  return { marks = list, length = running[#places].at, rest = running[#places].bay }
end

-- Two pieces with the same marks are one.
local function key_of(piece)
  local parts = { piece.kind, (measure.inches(piece.length)), piece.ends or "" }
  for _, m in ipairs(piece.marks) do
    parts[#parts + 1] = m.what .. " " .. tostring(m.drilled) .. " " .. (measure.inches(m.at))
  end
  return table.concat(parts, "|")
end

-- ---- rails ---------------------------------------------------------------------------------------------------------

-- The supports of the rails, from the west end of the modules: a rafter at each station of the posts, or where a beam
-- carries them at places of their own.
local function supports(r)
  local list = {}
  local own = given(r, "rafters")
  if own and given(own, "count") then
    for i, place in ipairs(r.rafter_places.stations) do list[i] = { along = place.offset, name = tostring(i) } end
    return list
  end
  for p in record.each(r.post) do
    if p.letter == "F" then list[#list + 1] = { along = p.offset, name = p.station } end
  end
  return list
end

local function rail_pieces(r)
  local list = {}
  for line = 1, r.rails.lines do
    list[line] = { label = "rail " .. line, line = line, from = 0 * r.rail_length, to = r.rail_length }
  end
  return list
end

-- "mid clamp, columns 3 and 4"; "end clamp, edge of column 1"
function marks.clamp_says(c)
  local west, east = math.tointeger(c.west), math.tointeger(c.east)
  if west > 0 and east > 0 then return "mid clamp, columns " .. west .. " and " .. east end
  return "end clamp, edge of column " .. (west > 0 and west or east)
end

local function rail(r, piece)
  local list = {}
  local function put(along, order, mark)
    local from = along + r.end_allowance - piece.from
    local si, length = host.si(from), host.si(piece.to - piece.from)
    if si < 0 and not host.near(si, 0) or si > length and not host.near(si, length) then return end
    mark.from, mark.order = from, order
    list[#list + 1] = mark
  end
  for _, s in ipairs(supports(r)) do
    put(s.along, 1, { what = "rafter at " .. s.name, face = "underside", drilled = "bolt" })
  end
  local clamps, why = graph.try(r, "clamp_places")
  for _, c in ipairs(clamps and clamps.clamps or {}) do
    put(c.along, 2, { what = marks.clamp_says(c), face = "top",
        drilled = c.west > 0 and c.east > 0 and r.mid_clamp or nil })
  end
  local out = pulled(list, piece.to - piece.from)
  out.kind, out.label, out.without = "rail", piece.label, why and { "clamps", why }
  return out
end

-- ---- beams and rafters ----------------------------------------------------------------------------------------------

-- The beam over each line of posts, from the west end of the modules.
local function beams(r)
  local list = {}
  local over = given(r, "beam_on") == "side" and "side" or "underside"
  for l in record.each(r.post_line) do
    local letter, on = record.inside[l].name, {}
    for p in record.each(r.post) do
      if p.letter == letter then
        on[#on + 1] = { from = p.offset, order = 1, what = "post " .. p.station, face = over, drilled = "bolt" }
      end
    end
    for _, s in ipairs(supports(r)) do
      on[#on + 1] = { from = s.along, order = 2, what = "rafter at " .. s.name, face = "top", drilled = "bolt" }
    end
    local out = pulled(on, r.row_width)
    out.kind, out.label = "beam", marks.line(l) .. " beam"
    list[#list + 1] = out
  end
  return list
end

-- "front", "middle M", "back"
function marks.line(l) return l.line == "middle" and "middle " .. record.inside[l].name or l.line end

-- ---- all of a rack -------------------------------------------------------------------------------------------------

-- Pieces with the same marks together: { { kind, labels, marks, length, rest, key } ... }.
local function together(pieces)
  local groups, by = {}, {}
  for _, one in ipairs(pieces) do
    local key = key_of(one)
    if not by[key] then
      by[key] = one
      one.labels, one.key = {}, key
      groups[#groups + 1] = one
    end
    table.insert(by[key].labels, one.label)
  end
  return groups
end

local function along_the_row(r)
  local list = {}
  for i, piece in ipairs(rail_pieces(r)) do list[i] = rail(r, piece) end
  for _, one in ipairs(given(r, "beam") and beams(r) or {}) do list[#list + 1] = one end
  return together(list)
end

-- The rafters of a rack, which are all alike, from the lower end; nil where a kit has none.
local function rafters(r)
  if not given(r, "rafter") then return nil end
  local list = {}
  local length = r.rafter_length
  local below = (length - r.slope_length) / 2                   -- it lies centred on the slope
  for l in record.each(r.post_line) do
    list[#list + 1] = { from = l.fraction * r.slope_length + below, order = 1, drilled = "bolt",
        face = given(r, "rafter_on") == "side" and "side" or "underside",
        what = marks.line(l) .. (given(r, "beam") and " beam" or " posts") }
  end
  local rails, why = graph.try(r, "rail_places")
  for i, rail in ipairs(rails and rails.rails or {}) do
    list[#list + 1] = { from = rail.up + below, order = 2, drilled = "bolt", face = "top", what = "rail " .. i }
  end
  local out = pulled(list, length)
  out.kind, out.labels, out.count, out.without = "rafter", { "rafters" }, r.rafter_count, why and { "rails", why }
  out.key = key_of(out)
  return out
end

-- Names that count on: rail 1 to 4; others one by one.
function marks.names(labels)
  local numbers = {}
  for i, l in ipairs(labels) do
    local n = tonumber(l:match "^rail (%d+)$")
    if not n or i > 1 and n ~= numbers[i - 1] + 1 then return util.list(labels) end
    numbers[i] = n
  end
  if #numbers < 3 then return util.list(labels) end
  return "rails " .. numbers[1] .. " to " .. numbers[#numbers]
end

-- Racks with the same pieces stand together: { { racks = { ... }, rails = those along the row, rafter } ... }.
function marks.racks()
  local groups, by = {}, {}
  for _, r in ipairs(record.all "rack") do
    local rails, rafter = along_the_row(r), rafters(r)
    local parts = { rafter and rafter.count .. " " .. rafter.key or "" }
    for _, g in ipairs(rails) do parts[#parts + 1] = table.concat(g.labels, ",") .. " " .. g.key end
    parts[#parts + 1] = host.format(given(r, "bolt_hole") or 0)
    local key = table.concat(parts, "\n")
    if not by[key] then
      by[key] = { racks = {}, rails = rails, rafter = rafter }
      groups[#groups + 1] = by[key]
    end
    table.insert(by[key].racks, r)
  end
  return groups
end

-- "rack west and rack east, each"
function marks.title(group)
  local names = {}
  for i, r in ipairs(group.racks) do names[i] = words.title(r) end
  return util.list(names) .. (#names > 1 and ", each" or "")
end

return marks
