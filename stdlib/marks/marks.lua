-- SPDX-License-Identifier: MIT
-- Marks on rails and rafters, each piece from an end of its own, as they are pulled before the pieces go up.
local record = import "model.record"
local graph = import "model.graph"
local plan = import "rails.plan"
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
  for i, m in ipairs(list) do                            -- two at one place may be a hair apart, either way
    local before, from = places[i], m.from
    if host.si(from) < host.si(before) then from = before end
    if host.si(from) > host.si(length) then from = length end
    places[i + 1] = from
  end
  places[#places + 1] = length
  local running = measure.running(places)
  for i, m in ipairs(list) do m.at, m.bay = running[i + 1].at, running[i + 1].bay end
  return { marks = list, length = running[#places].at, rest = running[#places].bay }
end

-- Two pieces with the same marks are one.
local function key_of(piece)
  local parts = { piece.kind, (measure.inches(piece.length)), piece.other }
  for _, m in ipairs(piece.marks) do
    parts[#parts + 1] = m.what .. " " .. tostring(m.drilled) .. " " .. (measure.inches(m.at))
  end
  return table.concat(parts, "|")
end

-- ---- rails ---------------------------------------------------------------------------------------------------------

-- The supports of the rails, from the west end of the modules, numbered from there, so that racks that are alike stay
-- so.
local function supports(r)
  local list, name = {}, given(r, "rafter") and "rafter " or "support "
  for i, on_rail in ipairs(plan.supports(r)) do list[i] = { along = on_rail - r.end_allowance, name = name .. i } end
  return list
end

-- The pieces of the rails, from the west end of their lines, named as where they are bought; where it cannot be said
-- how they are cut, as they lie between expansion joints, with the reason.
local function rail_pieces(r)
  if plan.plain(r) then                                              -- one stick a line: nothing of splices is loaded
    local list = {}
    for line = 1, r.rails.lines do
      list[line] = { label = "rail " .. line, from = 0 * r.rail_length, to = r.rail_length, other = "east end" }
    end
    return list
  end
  local pieces, why = graph.try(r, "rail_pieces")
  local list = {}
  if pieces then
    local labels = import("rails.bought").labels(r)
    for i, p in ipairs(pieces) do
      local on = pieces[i + 1]
      local spliced = on and on.line == p.line and on.run == p.run
      list[i] = { label = labels[i], from = p.from, to = p.to, other = spliced and "east end, splice" or "east end" }
    end
    return list
  end
  local runs = r.rail_runs
  for line = 1, r.rails.lines do
    for k, run in ipairs(runs) do
      list[#list + 1] = { label = "rail " .. line .. (#runs > 1 and " run " .. k or ""), from = run.from, to = run.to,
          other = "east end", uncut = why }
    end
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
  local list, slotted = {}, given(r.rails, "part") ~= nil        -- what slides in a slot wants no hole in the rail
  local function put(along, order, mark)
    local from = along + r.end_allowance - piece.from
    local si, length = host.si(from), host.si(piece.to - piece.from)
    if si < 0 and not host.near(si, 0) or si > length and not host.near(si, length) then return end
    mark.from, mark.order = from, order
    list[#list + 1] = mark
  end
  for _, s in ipairs(supports(r)) do
    put(s.along, 1, { what = s.name, face = "under", drilled = not slotted and "bolt" or nil })
  end
  local clamps, why = graph.try(r, "clamp_places")
  for _, c in ipairs(clamps and clamps.clamps or {}) do
    put(c.along, 2, { what = marks.clamp_says(c), face = "top",
        drilled = not slotted and c.west > 0 and c.east > 0 and r.mid_clamp or nil })
  end
  local out = pulled(list, piece.to - piece.from)
  out.kind, out.label, out.without = "rail", piece.label, why and { "clamps", why }
  out.hooked, out.other, out.uncut = "west end", piece.other, piece.uncut
  return out
end

-- ---- beams and rafters ----------------------------------------------------------------------------------------------

-- The beam over each line of posts, from the west end of the modules.
local function beams(r)
  local list = {}
  local over = given(r, "beam_on") == "side" and "side" or "under"
  for l in record.each(r.post_line) do
    local letter, on = record.inside[l].name, {}
    for p in record.each(r.post) do
      if p.letter == letter then
        on[#on + 1] = { from = p.offset, order = 1, what = "post " .. p.number, face = over, drilled = "bolt" }
      end
    end
    for _, s in ipairs(supports(r)) do
      on[#on + 1] = { from = s.along, order = 2, what = s.name, face = "top", drilled = "bolt" }
    end
    local out = pulled(on, r.row_width)
    out.kind, out.label, out.hooked, out.other = "beam", marks.line(l) .. " beam", "west end", "east end"
    list[#list + 1] = out
  end
  return list
end

-- "front", "middle M", "back"
function marks.line(l) return l.line == "middle" and "middle " .. record.inside[l].name or l.line end

-- The rafters of a rack, which are all alike; nil where a kit has none.
local function rafters(r)
  if not given(r, "rafter") then return nil end
  local list = {}
  local length = r.rafter_length
  local below = (length - r.slope_length) / 2                   -- it lies centred on the slope
  for l in record.each(r.post_line) do
    list[#list + 1] = { from = l.fraction * r.slope_length + below, order = 1, drilled = "bolt",
        face = given(r, "rafter_on") == "side" and "side" or "under",
        what = marks.line(l) .. (given(r, "beam") and " beam" or " posts") }
  end
  local rails, why = graph.try(r, "rail_places")
  for i, rail in ipairs(rails and rails.rails or {}) do
    list[#list + 1] = { from = rail.up + below, order = 2, drilled = "bolt", face = "top", what = "rail " .. i }
  end
  local out = pulled(list, length)
  out.kind, out.label, out.count, out.without = "rafter", "rafters", r.rafter_count, why and { "rails", why }
  out.hooked, out.other = "lower end", "upper end"
  return out
end

-- ---- braces, and what they ask of posts -----------------------------------------------------------------------------

local function bolt(from, what) return { from = from, order = 1, what = what, face = "side", drilled = "bolt" } end

local function braces(r)
  local list = {}
  for b in record.each(r.brace) do
    local past = (b.cut_length - b.bolt_spacing) / 2
    local bolts = { bolt(past, "post at its foot"), bolt(past + b.bolt_spacing, "post at its head") }
    local out = pulled(bolts, b.cut_length)
    out.kind, out.label, out.hooked, out.other = "brace", "brace " .. record.inside[b].name, "lower end", "upper end"
    list[#list + 1] = out
  end
  return list
end

-- Posts that braces are bolted to, from their tops: their feet are cut to the holes as dug.
local function braced_posts(r)
  local on, list = {}, {}
  local function put(post, from, name)
    on[post] = on[post] or {}
    table.insert(on[post], bolt(from, "brace " .. name))
  end
  for b in record.each(r.brace) do
    local name = record.inside[b].name
    put(b.foot, b.foot_below_top, name)
    put(b.head, r.braces[b.entry].high, name)
  end
  for p in record.each(r.post) do
    local bolts = on[record.inside[p].name]
    if bolts then
      local out = pulled(bolts, p.cut_length)
      out.kind, out.label, out.hooked, out.other = "post", "post " .. p.station, "top", "foot"
      list[#list + 1] = out
    end
  end
  return list
end

-- ---- modules -------------------------------------------------------------------------------------------------------

-- The string of every module of a rack, where there is one string and it has all of them; else the crew writes it in.
function marks.string_of(r)
  local of
  for _, s in ipairs(record.all "strings") do
    if s.on == r then
      if of then return nil end
      of = s
    end
  end
  if of and of.parallel == 1 and of.series == r.rows * r.columns then return record.inside[of].name or "the string" end
end

-- ---- all of a rack -------------------------------------------------------------------------------------------------

-- Pieces with the same marks together: { { kind, labels, count, marks, length, rest, key, hooked, other } ... }.
local function together(pieces)
  local groups, by = {}, {}
  for _, one in ipairs(pieces) do
    local key = key_of(one)
    if not by[key] then
      by[key] = one
      one.labels, one.key, one.count = {}, key, one.count or 0
      groups[#groups + 1] = one
      if one.count > 0 then one.labels[1] = one.label end
    end
    local found = by[key]
    if found.kind ~= "rafter" then
      found.count = found.count + 1
      found.labels[found.count] = one.label
    end
  end
  return groups
end

-- The supports that lie under no piece of a rail, by name: in the gap of an expansion joint.
local function between_rails(r, pieces)
  local under, list = {}, {}
  for _, p in ipairs(pieces) do for _, m in ipairs(p.marks) do under[m.what] = true end end
  for _, s in ipairs(supports(r)) do if not under[s.name] then list[#list + 1] = s.name end end
  return list
end

local function pieces_of(r)
  local list = {}
  local function put(more) table.move(more, 1, #more, #list + 1, list) end
  for _, piece in ipairs(rail_pieces(r)) do put { rail(r, piece) } end
  local between = between_rails(r, list)
  if given(r, "beam") then put(beams(r)) end
  put { rafters(r) }
  if given(r, "braces") then
    put(braces(r))
    put(braced_posts(r))
  end
  return together(list), between
end

-- "rails 1 to 4", "3 rafters", "brace F1-B1 and brace F2-B2".
function marks.names(piece)
  local labels = piece.labels
  if piece.kind == "rafter" then return piece.count .. " rafters" end
  local numbers = {}
  for i, l in ipairs(labels) do
    local n = tonumber(l:match "^rail (%d+)$")
    if not n or i > 1 and n ~= numbers[i - 1] + 1 then return util.list(labels) end
    numbers[i] = n
  end
  if #numbers < 3 then return util.list(labels) end
  return "rails " .. numbers[1] .. " to " .. numbers[#numbers]
end

-- Racks with the same pieces stand together: { { racks = { ... }, pieces, between = supports under none } ... }.
function marks.racks()
  local groups, by = {}, {}
  for _, r in ipairs(record.all "rack") do
    local pieces, between = pieces_of(r)
    local parts = {}
    for i, g in ipairs(pieces) do parts[i] = g.count .. " " .. table.concat(g.labels, ",") .. " " .. g.key end
    parts[#parts + 1] = host.format(given(r, "bolt_hole") or 0)
    local key = table.concat(parts, "\n")
    if not by[key] then
      by[key] = { racks = {}, pieces = pieces, between = between }
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
