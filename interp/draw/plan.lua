-- SPDX-License-Identifier: MIT
-- The post plan: where the posts of a rack stand from one zero, and what each hole is.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local feet = import "structure.feet"
local lettering = import "draw.lettering"
local seen = import "draw.seen"
local told = import "draw.told"
local braces = import "draw.braces"
local parts = import "draw.parts"
local foot = import "draw.foot"
local own = import "draw.own"

local given, si = record.given, host.si

local function marked(v, before, behind)
  if si(v) == 0 then return "0" end
  return (measure.mark(host.abs(v))) .. (si(v) < 0 and before or behind)
end

-- ---- what is drawn -------------------------------------------------------------------------------------------------

-- Lines of posts with their places in metres: x along the row from the zero, y upward on the plan. What each stands in
-- or on reaches from low to high, half to each side; a block under the posts of a station is drawn by the first.
local function places_of(rack, lines, way)
  local front, from = si(lines[1].setback), si(lines[1].posts[1].plan_offset)
  local list, last = {}, si(lines[#lines].setback) - front
  for k, line in ipairs(lines) do
    local behind = si(line.setback) - front
    list[k] = { y = way * behind, posts = {} }
    for i, p in ipairs(line.posts) do
      local footing = feet.footing(p)
      local kind, half = feet.kind(footing), si(feet.width(footing, rack)) / 2
      local one = { post = p, x = si(p.plan_offset) - from, half = half, kind = kind, low = way * behind - half,
          high = way * behind + half, drawn = true }
      if kind == "ballast" then
        local all = footing.carries == "station"
        local a, b = foot.block(footing, all and 0 or behind, all and last or behind)
        one.low, one.high, one.drawn = math.min(way * a, way * b), math.max(way * a, way * b), not all or k == 1
      end
      list[k].posts[i] = one
    end
  end
  return list
end

local function draw_post(d, p, x, y, width, round)
  d:layer "S-FNDN"
  if p.kind == "hole" then
    d:pen "hidden"
    d:circle(x, y, p.half)
  elseif p.kind == "ballast" and p.drawn then
    d:pen "medium"
    d:polyline({ x - p.half, p.low, x + p.half, p.low, x + p.half, p.high, x - p.half, p.high }, true)
  elseif p.kind == "screw" then
    d:pen "medium"
    d:circle(x, y, p.half)
  end
  d:layer "S-POST"
  d:pen "wide"
  local half = width / 2
  if round then d:circle(x, y, half)
  else
    d:polyline({ x - half, y - half, x + half, y - half, x + half, y + half, x - half, y + half }, true)
    d:hatch("wood", { x - half, y - half, x + half, y - half, x + half, y + half, x - half, y + half })
  end
end

-- Names stand outside of the lines: of the nearest one to the reader below its posts, of the others above.
-- Where a name stands that the outline of the modules does not cross: { left, low, right, high } of that.
local function name_place(d, name, x, y, off, below, outline)
  local high, wide, clear = d:paper "text", d:wide(name), 0.5 * d:paper "text"
  local left, low = x + 0.4 * high, below and y - off - 1.5 * high or y + off + 0.5 * high
  if left - clear < outline[3] and left + wide + clear > outline[3] then left = x - 0.4 * high - wide end
  for _, edge in ipairs { outline[2], outline[4] } do
    if low - clear < edge and low + high + clear > edge then low = below and edge - 1.6 * high or edge + 0.6 * high end
  end
  return left, low
end

local function draw_posts(d, rack, places, outline)
  local lowest, highest = math.huge, -math.huge
  for _, line in ipairs(places) do lowest, highest = math.min(lowest, line.y), math.max(highest, line.y) end
  for _, line in ipairs(places) do
    local below, above = #places > 1 and line.y == lowest, line.y == highest
    for _, p in ipairs(line.posts) do
      local width, round = feet.section(rack, p.post.line)
      draw_post(d, p, p.x, line.y, si(width), round)
      -- Of a line between others a name stands on the block.
      local off = below and line.y - p.low or (above or p.kind ~= "ballast") and p.high - line.y or 0
      local name = own.name(rack, p.post)
      local x, y = name_place(d, name, p.x, line.y, math.max(off, si(width) / 2), below, outline)
      d:layer "G-ANNO-TEXT"
      d:pen "thin"
      d:text(x, y, name)
    end
  end
end

local function draw_modules(d, rack, lines, way)
  local front = si(lines[1].setback)
  local from = si(lines[1].posts[1].plan_offset)
  local width = given(rack, "row_slope") and import("structure.slope").plan_width(rack) or rack.row_width
  local left, right = -from, si(width) - from
  local near, far = -way * front, way * (si(rack.plan_depth) - front)
  d:layer "E-MODL"
  d:pen "phantom"
  d:polyline({ left, near, right, near, right, far, left, far }, true)
  return left, right, near, far
end

-- ---- dimensions ----------------------------------------------------------------------------------------------------

-- Along the row: the modules' ends and the posts of a group of lines that are alike, from the zero, which is marked
-- though none of them stands there.
local function draw_along(d, group, along, ends, from, line, stretch)
  local list = {}
  local function put(x, mark) list[#list + 1] = { x, mark } end
  put(ends[1], marked(along.west.at, " W", " E"))
  for i, p in ipairs(group.posts) do put(p.x, marked(along[i].at, " W", " E")) end
  put(ends[2], marked(along.east.at, " W", " E"))
  local zero = false
  for _, one in ipairs(list) do zero = zero or math.abs(one[1]) < 1e-9 end
  if not zero then put(0, "0") end
  table.sort(list, function(a, b) return a[1] < b[1] end)
  local at, texts = {}, {}
  for i, one in ipairs(parts.of(stretch, list, function(one) return one[1] end)) do at[i], texts[i] = one[1], one[2] end
  d:layer "G-ANNO-DIMS"
  d:running { from = from, line = line, at = at, texts = texts, zero = 0 }
end

-- Across it: the modules' lower edge and the lines, from the front line.
local function draw_across(d, lines, places, near, from, line)
  local across, list = set_out.across(lines), {}
  list[1] = { near, marked(across.edge.at, " out", " behind") }
  for k, at in ipairs(places) do list[#list + 1] = { at.y, marked(across[k].at, " out", " behind") } end
  table.sort(list, function(a, b) return a[1] < b[1] end)
  local at, texts = {}, {}
  for i, one in ipairs(list) do at[i], texts[i] = one[1], one[2] end
  d:layer "G-ANNO-DIMS"
  d:running { upright = true, from = from, line = line, at = at, texts = texts, zero = 0 }
end

local function draw_diagonals(d, places)
  local front, back = places[1], places[#places]
  if #places < 2 or #front.posts < 2 then return end
  d:layer "G-ANNO-DIMS"
  d:pen "centre"
  local f, b = front.posts, back.posts
  d:line(f[1].x, front.y, b[#b].x, back.y)
  d:line(f[#f].x, front.y, b[1].x, back.y)
end

-- How long the diagonals are, along each, left of where they cross: where there is room.
local function say_diagonals(d, rack, places)
  local length = graph.try(rack, "diagonal")
  if not length or #places < 2 then return end
  local front, back = places[1], places[#places]
  local f, b = front.posts, back.posts
  local text, high = measure.mark(length), d:paper "text"
  for _, one in ipairs { { f[1].x, front.y, b[#b].x, back.y }, { b[1].x, back.y, f[#f].x, front.y } } do
    local x, y = one[3] - one[1], one[4] - one[2]
    local long, turn = math.sqrt(x * x + y * y), math.atan(y, x)
    if math.abs(y) < 12 * high or long < 4 * d:wide(text) then return end
    local at = 0.3
    d:text(one[1] + at * x - 0.5 * high * math.sin(turn), one[2] + at * y + 0.5 * high * math.cos(turn), text, "text",
        turn, "middle")
  end
end

local function draw_lines(d, places)
  d:layer "S-POST"
  d:pen "centre"
  for _, line in ipairs(places) do
    local over = 0.02 * math.abs(line.posts[#line.posts].x) + 0.1
    d:line(line.posts[1].x - over, line.y, line.posts[#line.posts].x + over, line.y)
  end
end

local function draw_braces(d, rack, places)
  local at = {}
  for _, line in ipairs(places) do for _, p in ipairs(line.posts) do at[p.post.station] = { p.x, line.y } end end
  d:layer "S-FRAM"
  d:pen "hidden"
  for _, one in ipairs(braces.of(rack)) do
    local a, b = at[one.foot.station], at[one.head.station]
    d:line(a[1], a[2], b[1], b[2])
  end
end

-- ---- the view ------------------------------------------------------------------------------------------------------

-- The rows of the table of holes whose posts stand in a stretch.
local function rows_in(rack, stretch, hole_table, places)
  local at, names = {}, own.names(rack)
  for _, line in ipairs(places) do for _, p in ipairs(line.posts) do at[names[p.post.station]] = p.x end end
  return parts.of(stretch, hole_table.rows, function(row) return at[row[1]] end)
end

local function draw(d, rack, hole_table, stretch, narrow)
  local lines, at = set_out.lines(rack), seen.of(rack)
  local way = at.way
  local places = places_of(rack, lines, way)
  draw_lines(d, places)
  draw_diagonals(d, places)
  draw_braces(d, rack, places)
  local left, right, near, far = draw_modules(d, rack, lines, way)
  draw_posts(d, rack, places, { left, math.min(near, far), right, math.max(near, far) })
  if not stretch then
    d:layer "G-ANNO-TEXT"
    say_diagonals(d, rack, places)
  end
  parts.cut(d, stretch)
  local l, low = d:box()
  local first, ratio = d:paper "first", d:ratio()
  local groups, zero = set_out.groups(lines), lines[1].posts[1]
  for k, group in ipairs(groups) do
    local line, below = nil, k == 1
    for i, l in ipairs(lines) do if l == group[1] then line = places[i] end end
    local along = set_out.along(rack, group[1], zero)
    local from = below and low or select(4, d:box())
    draw_along(d, line, along, { left, right }, from, below and from - first or from + first, stretch)
  end
  draw_across(d, lines, places, near, l, l - first)
  local _, under, east, over = d:box()
  d:layer "G-ANNO-TEXT"
  d:north(east + 16e-3 * ratio, over - 16e-3 * ratio, 7e-3 * ratio, seen.north(rack), "true north")
  local x, top = d:box(), under - 8e-3 * ratio
  local rows = rows_in(rack, stretch, hole_table, places)
  lettering.tables(d, x, top, narrow, { columns = hole_table.columns, rows = rows })
end

-- In parts, cut between stations.
local function in_parts(rack, hole_table)
  local xs = {}
  for _, line in ipairs(places_of(rack, set_out.lines(rack), 1)) do
    for _, p in ipairs(line.posts) do xs[#xs + 1] = p.x end
  end
  -- The modules' ends count as stations do, where they reach far beyond the last.
  local first = set_out.lines(rack)[1].posts[1].plan_offset
  xs[#xs + 1], xs[#xs + 2] = -si(first), si(rack.row_width - first)
  local cuts = parts.between(xs)
  return parts.along(cuts, xs[1], xs[#xs], function(d, stretch, narrow)
    draw(d, rack, hole_table, stretch, narrow)
  end)
end

local function square(rack)
  local diagonal, lines = graph.try(rack, "diagonal"), set_out.lines(rack)
  if #lines == 1 or #lines[1].posts == 1 then
    return "No two lines of posts to square: it is set out by its bearing."
  end
  if not diagonal then return "Square check: see the stake-out sheet." end
  local f, b, names = lines[1].posts, lines[#lines].posts, own.names(rack)
  local function name(post) return names[post.station] end
  return "Square check: " .. name(f[1]) .. " to " .. name(b[#b]) .. " and " .. name(f[#f]) .. " to " .. name(b[1]) ..
      " both " .. measure.mark(diagonal) .. "."
end

return function(rack, on)
  local sheet, why = told.sheet("posts", on.groups)
  if why then return nil, why end
  local printed, foot = told.printed(sheet, on)
  local holes = told.tables(printed, rack)[1]
  if on.alike then holes = told.shared(holes, rack) end
  local zero = own.name(rack, set_out.lines(rack)[1].posts[1])
  local notes = { "Zero: the centre of " .. zero .. ". Pull every mark from it; " ..
      "never add bays up. All to post centres. E and W are along the row.", square(rack),
      "The row runs " .. words.show(rack.row_bearing, "deg") .. " from true north. " .. own.zero() }
  if record.given(rack, "braces") then notes[#notes + 1] = "Dashed between posts: braces." end
  if on.alike then notes[#notes + 1] = "What was dug is written on the post schedule, rack by rack." end
  local dig = import("site.digging").waits()
  if dig then notes[#notes + 1] = "! DO NOT DIG BY THIS: " .. dig .. "." end
  return { seen = "seen from above", rough = words.metric() and 200 or 192, wide = si(rack.row_width) * 0.9,
      tall = si(rack.plan_depth), notes = told.notes(sheet, on, notes, foot, told.racks(on, rack)),
      draw = function(d, narrow) draw(d, rack, holes, nil, narrow) end, parts = in_parts(rack, holes) }
end
