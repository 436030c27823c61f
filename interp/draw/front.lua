-- SPDX-License-Identifier: MIT
-- The front elevation: a rack from where its modules face, with its front line of posts and the ground along it.
local record = import "model.record"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local feet = import "structure.feet"
local lettering = import "draw.lettering"
local seen = import "draw.seen"
local told = import "draw.told"
local foot = import "draw.foot"

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

local function draw_modules(d, rack, way)
  local by, order = {}, {}
  for _, c in ipairs(rack.points.corners) do
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
local function draw_marks(d, rack, posts, way, low)
  local lines = set_out.lines(rack)
  local along = set_out.along(rack, lines[1], lines[1].posts[1])
  local list = {}
  local function put(x, v)
    list[#list + 1] = { x, si(v) == 0 and "0" or (measure.mark(host.abs(v))) .. (si(v) < 0 and " W" or " E") }
  end
  for i, p in ipairs(posts) do put(p.x, along[i].at) end
  table.sort(list, function(a, b) return a[1] < b[1] end)
  local at, texts = {}, {}
  for i, one in ipairs(list) do at[i], texts[i] = one[1], one[2] end
  d:layer "G-ANNO-DIMS"
  d:running { from = low, line = low - d:paper "first", at = at, texts = texts, zero = posts[1].x }
end

local function draw(d, rack, tables)
  local way, ratio = seen.of(rack).way, d:ratio()
  local posts = posts_of(rack, way)
  for _, p in ipairs(posts) do foot.draw(d, p, p.x, true) end
  draw_modules(d, rack, way)
  local left, low, right = d:box()
  draw_ground(d, posts, left - 10e-3 * ratio, right + 10e-3 * ratio)
  local high = d:paper "text"
  d:layer "G-ANNO-TEXT"
  d:pen "thin"
  for i, p in ipairs(posts) do
    -- On the side towards the middle, since levels are marked on the other; above the ground at the next post there.
    local inward = p.x > (left + right) / 2 and -1 or 1
    local ground = math.max(p.ground, p.foot)
    for _, other in ipairs { posts[i - 1] or p, posts[i + 1] or p } do
      if (other.x - p.x) * inward > 0 then ground = math.max(ground, other.ground) end
    end
    d:text(p.x + inward * (p.width / 2 + 0.5 * high), ground + 0.6 * high, p.post.station, "text", 0,
        inward > 0 and "left" or "right")
  end
  draw_marks(d, rack, posts, way, low)
  local l, under, r = d:box()
  local function level(v) return (measure.level(v)) end
  local first, last = posts[1], posts[#posts]
  local edge = { way * si(rack.points.corners[1].along), si(rack.points.corners[1].up), level = true,
      "lower edge " .. level(rack.edge_height) }
  local side = function(x) return x > (l + r) / 2 end
  local labels = { [true] = {}, [false] = {} }
  local function label(one) table.insert(labels[side(one[1])], one) end
  label(edge)
  for _, p in ipairs(first == last and { first } or { first, last }) do
    local outer = side(p.x) and 1 or -1
    label { p.x + outer * foot.half(p) * 1.6, p.ground, level = true, "ground at " .. p.post.station .. " " ..
        level(p.post.ground) }
    for _, one in ipairs(foot.labels(p, p.x, outer)) do label(one) end
  end
  local off, wide = 5e-3 * ratio, 44e-3 * ratio
  lettering.labels(d, l - off, labels[false], false, wide)
  lettering.labels(d, r + off, labels[true], true, wide)
  local cut = tables[2]
  if cut then lettering.table(d, l, under - 8e-3 * ratio, cut) end
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
  local tables = { nil, of_front(list[2], rack) }
  local way = seen.of(rack).way
  local low = math.huge
  for _, p in ipairs(posts_of(rack, way)) do low = math.min(low, p.foot, p.ground) end
  local notes = { "The front line of posts and the ground along it; the lines behind it are not drawn. W is on the " ..
      (way > 0 and "left" or "right") .. ". Levels from " .. set_out.datum() .. "; + is higher." }
  return { seen = "seen from the front, from " .. words.show(rack.true_azimuth, "deg") .. " true",
      rough = words.metric() and 100 or 96, wide = si(rack.row_width) * 0.9, tall = si(rack.top_edge) - low,
      notes = told.notes(sheet, on.groups, notes, notes_foot), draw = function(d) draw(d, rack, tables) end }
end
