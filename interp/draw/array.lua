-- SPDX-License-Identifier: MIT
-- The array plan: the modules of a rack by number, square to them, with rails, rafters and clamps.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local marks = import "marks.marks"
local told = import "draw.told"
local seen = import "draw.seen"
local rail_marks = import "draw.rail_marks"
local parts = import "draw.parts"

local given, si = record.given, host.si
local nothing = host.literal "0in"

-- ---- what is drawn -------------------------------------------------------------------------------------------------

-- How far a point lies along the row and up the slope, in the plane of the modules: from their lower west corner, in
-- the directions of the lower edge and of the west end.
local function plane_of(points)
  local function at(p) return { si(p.along), si(p.uphill), si(p.up) } end
  local zero, east, up
  for _, c in ipairs(points.corners) do
    local corner = math.tointeger(c.corner)
    if corner == 1 and not zero then zero = at(c) end
    if corner == 2 and c.row == 1 then east = at(c) end
    if corner == 4 and c.column == 1 then up = at(c) end
  end
  local function way(to)
    local v, n = {}, 0
    for i = 1, 3 do
      v[i] = to[i] - zero[i]
      n = n + v[i] ^ 2
    end
    for i = 1, 3 do v[i] = v[i] / math.sqrt(n) end
    return v
  end
  local x, y = way(east), way(up)
  return function(p)
    local v, along, uphill = at(p), 0, 0
    for i = 1, 3 do
      along = along + (v[i] - zero[i]) * x[i]
      uphill = uphill + (v[i] - zero[i]) * y[i]
    end
    return along, uphill
  end
end

-- The corners of each module: { row, column, left, low, right, high } in metres along the row and up the slope.
local function modules_of(points, at)
  local list, by = {}, {}
  for _, c in ipairs(points.corners) do
    local row, column = math.tointeger(c.row), math.tointeger(c.column)
    local key = row .. "-" .. column
    local m = by[key]
    if not m then
      m = { row = row, column = column, name = key, left = math.huge, low = math.huge, right = -math.huge,
          high = -math.huge }
      by[key], list[#list + 1] = m, m
    end
    local x, y = at(c)
    m.left, m.right, m.low, m.high = math.min(m.left, x), math.max(m.right, x), math.min(m.low, y), math.max(m.high, y)
  end
  return list, by
end

-- Pairs of ends: { x1, y1, x2, y2, of = the first } of rails by line and run, and of what lies under them.
local function lines_of(ends, key, at)
  local list, by = {}, {}
  for _, e in ipairs(ends) do
    local k = key(e)
    if by[k] then
      local l = by[k]
      l[3], l[4] = at(e)
    else
      by[k] = { at(e) }
      by[k].of = e
      list[#list + 1] = by[k]
    end
  end
  return list
end

-- Where so much has room in a module, crossed by no rail and no rafter; nil where it has none.
local function place_of(d, m, wide, rails, supports)
  local high = d:paper "text"
  local clear = 0.25 * high
  for _, y in ipairs { (m.low + m.high - high) / 2, m.low + 0.8 * high, m.high - 1.8 * high } do
    for _, share in ipairs { 0.5, 0.25, 0.75, 0.2, 0.8, 0.35, 0.65 } do
      local x = m.left + share * (m.right - m.left) - wide / 2
      local free = x - clear > m.left and x + wide + clear < m.right and y - clear > m.low and y + high + clear < m.high
      for _, r in ipairs(rails) do free = free and (r[2] < y - clear or r[2] > y + high + clear) end
      for _, s in ipairs(supports) do free = free and (s[1] < x - clear or s[1] > x + wide + clear) end
      if free then return x, y end
    end
  end
end

-- Numbers of modules, each with its string where that is known, else with a box to write it in where all have room; on
-- a page that stands for several racks alone.
local function draw_numbers(d, rack, modules, rails, supports, alike)
  local string, high, places = not alike and marks.string_of(rack) or nil, d:paper "text", {}
  local function find(more)
    for i, m in ipairs(modules) do
      local x, y = place_of(d, m, more(m), rails, supports)
      if not x then return false end
      places[i] = { x, y }
    end
    return true
  end
  local function name_of(m) return string and m.name .. " " .. string or m.name end
  local boxed = not string and not alike and find(function(m) return d:wide(m.name) + 2.4 * high end)
  if not boxed then
    if string and not find(function(m) return d:wide(name_of(m)) end) then string = nil end
    if not string then find(function(m) return d:wide(m.name) end) end
  end
  d:layer "G-ANNO-TEXT"
  d:pen "thin"
  for i, m in ipairs(modules) do
    local at, name = places[i], name_of(m)
    if not at then at = { (m.left + m.right - d:wide(name)) / 2, (m.low + m.high - high) / 2 } end
    d:text(at[1], at[2], name)
    if boxed then
      local x, y = at[1] + d:wide(name) + 0.4 * high, at[2] - 0.25 * high
      d:polyline({ x, y, x + 2 * high, y, x + 2 * high, y + 1.5 * high, x, y + 1.5 * high }, true)
    end
  end
end

-- Places of clamps on each rail: between modules beside each other, and where a run of them ends. Nothing where these
-- are not as many as are bought.
local function clamps_of(rack, by, rails)
  local list, ends, parted = {}, 0, {}
  for k = 1, #rack.rail_runs - 1 do parted[math.tointeger(rack.rail_runs[k].last_column)] = true end
  local function put(x, y, at_end)
    list[#list + 1] = { x, y, ends = at_end }
    if at_end then ends = ends + 1 end
  end
  local seen = {}                                           -- a rail of several runs is one line
  for _, r in ipairs(rails) do
    for row = 1, rack.rows do
      local first = by[row .. "-1"]
      local line = row .. string.format(" %.6f", r[2])
      if first.low <= r[2] and r[2] <= first.high and not seen[line] then
        seen[line] = true
        local last = by[row .. "-" .. rack.columns]
        for column = 1, rack.columns - 1 do
          local a, b = by[row .. "-" .. column], by[row .. "-" .. column + 1]
          if parted[column] then
            put(a.right, r[2], true)
            put(b.left, r[2], true)
          else put((a.right + b.left) / 2, r[2], false) end
        end
        put(first.left, r[2], true)
        put(last.right, r[2], true)
      end
    end
  end
  if ends ~= graph.try(rack, "end_clamps") or #list - ends ~= graph.try(rack, "mid_clamps") then return nil end
  return list
end

-- Whoever looks square at modules that face north has the west on his right: all that was worked out along the row from
-- the west runs to the left.
local function turn_round(modules, rails, supports, clamps)
  for _, m in ipairs(modules) do m.left, m.right = -m.right, -m.left end
  for _, list in ipairs { rails, supports } do
    for _, l in ipairs(list) do l[1], l[3] = -l[1], -l[3] end
  end
  for _, c in ipairs(clamps) do c[1] = -c[1] end
end

local function draw(d, rack, stretch, alike)
  local points = rack.points
  local at_plane = plane_of(points)
  local modules, by = modules_of(points, at_plane)
  local rails = lines_of(points.rail_ends, function(e) return e.line .. " " .. e.run end, at_plane)
  for _, r in ipairs(rails) do r.line = math.tointeger(r.of.line) end
  local supports = lines_of(points.support_ends, function(e) return e.support end, at_plane)
  local clamps, way = clamps_of(rack, by, rails) or {}, seen.of(rack).way
  if way < 0 then turn_round(modules, rails, supports, clamps) end
  d:layer "S-FRAM"
  d:pen "centre"
  for _, s in ipairs(supports) do d:line(s[1], s[2], s[3], s[4]) end
  d:pen "hidden"
  for _, r in ipairs(rails) do d:line(r[1], r[2], r[3], r[4]) end
  d:layer "E-MODL"
  d:pen "medium"
  for _, m in ipairs(modules) do
    d:polyline({ m.left, m.low, m.right, m.low, m.right, m.high, m.left, m.high }, true)
  end
  -- A clamp is a mark of a size on paper: an open ring between modules, a full one at an end.
  d:pen "thin"
  local ring = 0.3 * d:paper "text"
  for _, c in ipairs(clamps) do d:circle(c[1], c[2], ring, c.ends) end
  draw_numbers(d, rack, modules, rails, supports, alike)
  parts.cut(d, stretch)
  -- West edges of the columns, from the modules' west end; rails and the upper edge, from the lower one.
  local places, at, texts = {}, {}, {}
  local west, east = "left", "right"
  if way < 0 then west, east = east, west end
  for column = 1, rack.columns do at[column] = by["1-" .. column][west] end
  at[#at + 1] = by["1-" .. rack.columns][east]
  for i, x in ipairs(at) do places[i] = host.quantity(way * x, "length") end
  local here = {}
  for i, m in ipairs(measure.running(places)) do
    if parts.has(stretch, at[i]) then
      rail_marks.put(here, texts, way, at[i], i == 1 and "0" or (measure.mark(m.at)))
    end
  end
  local left, low, _, high = d:box()
  d:layer "G-ANNO-DIMS"
  d:running { from = low, line = low - d:paper "first", at = here, texts = texts, zero = at[1] }
  places, at, texts = { nothing }, { 0 }, { "0" }
  for _, rail in ipairs(rack.rail_places.rails) do
    places[#places + 1], at[#at + 1] = rail.up, si(rail.up)
  end
  places[#places + 1], at[#at + 1] = rack.slope_length, si(rack.slope_length)
  for i, m in ipairs(measure.running(places)) do texts[i] = i == 1 and "0" or (measure.mark(m.at)) end
  d:running { upright = true, from = left, line = left - d:paper "first", at = at, texts = texts, zero = 0 }
  rail_marks.draw(d, rack, { rails = rails, high = high, way = way }, stretch)
end

-- In parts, cut between columns.
local function in_parts(rack, alike)
  return function(n)
    local points, cuts, way = rack.points, {}, seen.of(rack).way
    local _, by = modules_of(points, plane_of(points))
    for column = 1, rack.columns - 1 do
      cuts[column] = way * (by["1-" .. column].right + by["1-" .. column + 1].left) / 2
    end
    table.sort(cuts)
    local last = way * by["1-" .. rack.columns].right
    return parts.along(cuts, math.min(0, last), math.max(0, last), function(d, stretch)
      draw(d, rack, stretch, alike)
    end)(n)
  end
end

-- ---- the view ------------------------------------------------------------------------------------------------------

local function strings_on(rack)
  local list = {}
  for _, s in ipairs(record.all "strings") do
    if s.on == rack then
      local name = record.inside[s].name
      list[#list + 1] = (name and name .. ", " or "") .. s.parallel .. " of " .. s.series .. " in series"
    end
  end
  if #list == 0 then return "No strings are declared on it." end
  local one = marks.string_of(rack)
  if one then return "All of its modules are in one string, " .. one .. "." end
  return "Strings: " .. table.concat(list, "; ") .. ". Which module is in which nobody declared: the crew writes it " ..
      "into the boxes, where they have room, and on the module map."
end

-- The same on a page that stands for several racks, whose strings have names of their own.  racks: those, or true.
local function strings_on_each(rack, racks)
  local each, names, own = {}, {}, true
  for _, s in ipairs(record.all "strings") do
    if s.on == rack then each[#each + 1] = s.parallel .. " of " .. s.series .. " in series" end
  end
  if #each == 0 then return "No strings are declared on them." end
  if not marks.string_of(rack) then
    return "Strings of each rack: " .. table.concat(each, "; ") .. ". Which module is in which nobody declared: the " ..
        "crew writes it on the module map."
  end
  for i, one in ipairs(racks ~= true and racks or {}) do
    local name, string = record.inside[one].name, marks.string_of(one)
    own = own and name == string
    names[i] = "of " .. name .. " " .. string
  end
  return "All modules of a rack are in one string" .. (own and ", which has the rack's name." or ": " ..
      table.concat(names, ", ") .. ".")
end

local function clamps_told(rack)
  local points, told_none = graph.try(rack, "points"), "Its clamps are not drawn: they stand on the sheet of clamps."
  if not points then return told_none end
  local at = plane_of(points)
  local _, by = modules_of(points, at)
  local list = clamps_of(rack, by, lines_of(points.rail_ends, function(e) return e.line .. " " .. e.run end, at))
  if not list then return told_none end
  return "Open rings: clamps between modules, " .. rack.mid_clamps .. "; full ones: at ends, " .. rack.end_clamps .. "."
end

return function(rack, on)
  local sheet, why = told.sheet("modules", on.groups)
  if why then return nil, why end
  local _, foot = told.printed(sheet, on)
  local notes = { "A module's number is its row from below and its column from the west. West is on the " ..
      (seen.of(rack).way > 0 and "left" or "right") .. "; the lower edge is below.",
      "Marks run from the west end of the modules and from their lower edge; they lie on the slope, not level.",
      "Rails are dashed, rafters are centre lines. " .. clamps_told(rack),
      on.alike and strings_on_each(rack, on.alike) or strings_on(rack) }
  rail_marks.told(rack, notes)
  local width, length = graph.try(rack, "row_width"), graph.try(rack, "slope_length")
  return { seen = "seen square to the modules", rough = words.metric() and 200 or 192,
      wide = width and si(width) or 0, tall = length and si(length) or 0,
      notes = told.notes(sheet, on, notes, foot, told.racks(on, rack)),
      draw = function(d) draw(d, rack, nil, on.alike) end,
      parts = in_parts(rack, on.alike) }
end
