-- SPDX-License-Identifier: MIT
-- The front elevation: a rack from where its modules face, with its front line of posts and the ground along it.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local feet = import "structure.feet"
local lettering = import "draw.lettering"
local seen = import "draw.seen"
local told = import "draw.told"
local foot = import "draw.foot"
local own = import "draw.own"
local braces = import "draw.braces"
local parts = import "draw.parts"

local si = host.si

-- West is on the left to whoever stands south of a rack that faces south, and on the right of one that faces north.
local function posts_of(rack, way)
  local list = {}
  local slope = record.given(rack, "row_slope") or 0
  for i, p in ipairs(set_out.lines(rack)[1].posts) do
    local width, round = feet.section(rack, p.line)
    list[i] = { post = p, x = way * si(p.plan_offset), ground = si(p.ground), top = si(p.top_height),
        behind = si(rack.edge_height) + slope * si(p.plan_offset), foot = si(p.top_height - p.cut_length),
        width = si(width), round = round, footing = feet.footing(p) }
  end
  return list
end

-- The corners of the modules; of a row that is level, where that is not known since nobody said where rails lie, those
-- of the module plane.
local function corners_of(rack)
  local points, why = graph.try(rack, "points")
  if points then return points.corners, true end
  if record.given(rack, "row_slope") then error(why, 0) end
  local list, nothing = {}, 0 * rack.row_width
  for i, at in ipairs { { nothing, rack.edge_height }, { rack.row_width, rack.edge_height },
      { rack.row_width, rack.top_edge }, { nothing, rack.top_edge } } do
    list[i] = { row = 1, column = 1, corner = i, along = at[1], up = at[2] }
  end
  return list, false
end

local function draw_modules(d, corners, way)
  local by, order = {}, {}
  for _, c in ipairs(corners) do
    local key = c.row .. "-" .. c.column
    if not by[key] then
      by[key] = {}
      order[#order + 1] = by[key]
    end
    local m, at = by[key], 2 * math.tointeger(c.corner)
    m[at - 1], m[at] = way * si(c.along), si(c.up)
  end
  d:layer "E-MODL"
  d:pen "medium"
  for _, m in ipairs(order) do d:polyline(m, true) end
end

local function draw_ground(d, posts, left, right)
  local line = {}
  for _, p in ipairs(posts) do line[#line + 1] = { p.x, p.ground } end
  table.sort(line, function(a, b) return a[1] < b[1] end)
  table.insert(line, 1, { left, line[1][2] })
  line[#line + 1] = { right, line[#line][2] }
  d:layer "C-GRAD"
  d:pen "wide"
  for i = 1, #line - 1 do d:line(line[i][1], line[i][2], line[i + 1][1], line[i + 1][2]) end
end

-- The posts' marks from the zero of the plan.
local function draw_marks(d, rack, posts, low, stretch)
  local lines = set_out.lines(rack)
  local along = set_out.along(rack, lines[1], lines[1].posts[1])
  local list = {}
  local function put(x, v)
    list[#list + 1] = { x, si(v) == 0 and "0" or (measure.mark(host.abs(v))) .. (si(v) < 0 and " W" or " E") }
  end
  for i, p in ipairs(posts) do if parts.has(stretch, p.x) then put(p.x, along[i].at) end end
  table.sort(list, function(a, b) return a[1] < b[1] end)
  local at, texts = {}, {}
  for i, one in ipairs(list) do at[i], texts[i] = one[1], one[2] end
  d:layer "G-ANNO-DIMS"
  d:running { from = low, line = low - d:paper "first", at = at, texts = texts, zero = posts[1].x }
end

local function draw(d, rack, cut, stretch, narrow)
  local way, ratio = seen.of(rack).way, d:ratio()
  local posts = posts_of(rack, way)
  for _, p in ipairs(posts) do foot.draw(d, p, p.x, true) end
  local stands = {}
  for _, p in ipairs(posts) do stands[p.post.station] = p.x end
  local braced = braces.draw(d, rack, stands)
  local corners = corners_of(rack)
  draw_modules(d, corners, way)
  local left, _, right = d:box()
  draw_ground(d, posts, left - 10e-3 * ratio, right + 10e-3 * ratio)
  local high = d:paper "text"
  d:layer "G-ANNO-TEXT"
  d:pen "thin"
  local middle = (stretch and stretch.from or left) / 2 + (stretch and stretch.to or right) / 2
  local lowest = math.huge
  for _, c in ipairs(corners) do lowest = math.min(lowest, si(c.up)) end
  for i, p in ipairs(posts) do
    -- On the side towards the middle, since levels are marked on the other; above the ground at the next post there, or
    -- where the modules come too near to that, below it.
    local inward = p.x > middle and -1 or 1
    local ground = math.max(p.ground, p.foot)
    for _, other in ipairs { posts[i - 1] or p, posts[i + 1] or p } do
      if (other.x - p.x) * inward > 0 then ground = math.max(ground, other.ground) end
    end
    local off, up = p.width / 2, ground + 0.6 * high
    if up + 1.3 * high > lowest then off, up = math.max(off, foot.half(p)), math.min(p.ground, p.foot) - 1.8 * high end
    d:text(p.x + inward * (off + 0.5 * high), up, own.name(rack, p.post), "text", 0, inward > 0 and "left" or "right")
  end
  parts.cut(d, stretch)
  draw_marks(d, rack, posts, select(2, d:box()), stretch)
  local l, under, r = d:box()
  local function level(v) return (measure.level(v)) end
  local here = parts.of(stretch, posts, function(p) return p.x end)
  local first, last = here[1], here[#here]
  local edge = { way * si(corners[1].along), si(corners[1].up), level = true,
      own.at("lower edge", level(rack.edge_height)) }
  local side = function(x) return x > (l + r) / 2 end
  local labels = { [true] = {}, [false] = {} }
  local function label(one) table.insert(labels[side(one[1])], one) end
  if parts.has(stretch, edge[1]) then label(edge) end
  local top
  for _, c in ipairs(corners) do
    -- Of a row that is level the far end from the lower edge's mark.
    local up = si(c.up)
    if not top or up > top[2] + 1e-6 or up > top[2] - 1e-6 and way * si(c.along) * way > top[1] * way then
      top = { way * si(c.along), up, level = true }
    end
  end
  top[3] = own.at(record.given(rack, "row_slope") and "top edge, highest" or "top edge", level(rack.top_edge))
  if parts.has(stretch, top[1]) then label(top) end
  for _, p in ipairs(first == last and { first } or { first, last }) do
    local outer = side(p.x) and 1 or -1
    label { p.x + outer * math.max(foot.bare(p, outer, true), 5e-3 * ratio), p.ground, level = true,
        own.at("ground at " .. own.name(rack, p.post), level(p.post.ground)) }
    for _, one in ipairs(foot.labels(p, p.x, outer)) do label(one) end
  end
  local brace = parts.of(stretch, braced, function(one) return one.x end)[1]
  if brace then label { brace.x, brace.y, braces.says(brace) } end
  local off, wide = 5e-3 * ratio, lettering.beside(narrow, 44e-3) * ratio
  d:layer "G-ANNO-TEXT"
  lettering.labels(d, l - off, labels[false], false, wide)
  lettering.labels(d, r + off, labels[true], true, wide)
  if not cut then return end
  local at = {}
  for _, p in ipairs(posts) do at[own.name(rack, p.post)] = p.x end
  lettering.tables(d, d:box(), under - 8e-3 * ratio, narrow, { columns = cut.columns,
      rows = parts.of(stretch, cut.rows, function(row) return at[row[1]] end) })
end

-- In parts, cut between posts.
local function in_parts(rack, cut, way)
  local xs = {}
  for i, p in ipairs(posts_of(rack, way)) do xs[i] = p.x end
  xs[#xs + 1], xs[#xs + 2] = 0, way * si(rack.row_width)    -- the modules' ends, where they reach far beyond posts
  local cuts = parts.between(xs)
  return parts.along(cuts, xs[1], xs[#xs], function(d, stretch, narrow)
    draw(d, rack, cut, stretch, narrow)
  end)
end

-- Of a table of all posts, the rows of the front line.
local function of_front(block, rack)
  if not block then return nil end
  local names, rows = {}, {}
  for _, p in ipairs(set_out.lines(rack)[1].posts) do names[p.station] = true end
  for _, row in ipairs(block.rows) do if names[row[1]] then rows[#rows + 1] = row end end
  return { columns = block.columns, rows = rows }
end

return function(rack, on)
  local sheet, why = told.sheet("posts", on.groups)
  if why then return nil, why end
  local printed, notes_foot = told.printed(sheet, on)
  local list = told.tables(printed, rack)
  local cut = of_front(list[2], rack)
  if cut and on.alike then cut = told.shared(cut, rack) end
  local way = seen.of(rack).way
  local low = math.huge
  for _, p in ipairs(posts_of(rack, way)) do low = math.min(low, p.foot, p.ground) end
  local notes = { "The front line of posts and the ground along it; the lines behind it are not drawn. W is on the " ..
      (way > 0 and "left" or "right") .. ". " .. own.zero() }
  if on.alike then
    notes[#notes + 1] = "Which stick a post is cut from, and how high it came out, stands on the post schedule, " ..
        "rack by rack."
  end
  local here = {}
  for _, p in ipairs(set_out.lines(rack)[1].posts) do here[p.station] = true end
  braces.told(rack, here, notes)
  if not select(2, corners_of(rack)) then
    notes[#notes + 1] = "Where its rails lie is not known: of its modules the outline alone is drawn."
  end
  return { seen = "seen from the front, from " .. words.show(rack.true_azimuth, "deg") .. " true",
      rough = words.metric() and 100 or 96, wide = si(rack.row_width) * 0.9, tall = si(rack.top_edge) - low,
      notes = told.notes(sheet, on, notes, notes_foot, told.racks(on, rack)), draw = function(d, narrow)
        draw(d, rack, cut, nil, narrow)
      end,
      parts = in_parts(rack, cut, way) }
end
