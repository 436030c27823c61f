-- SPDX-License-Identifier: MIT
-- Variants by two of their results: which hold and which do not, the Pareto set, the job as declared, the first.
--
--   scatter { title, says = a sentence more, x = axis, y = axis, points, holds = what that means, if not the usual }
--
-- An axis is { name, unit, show(si) -> text, goal = "least", "most" or nil }.  A point is { number, x, y (SI), status,
-- pareto, base, best }; points are a list, or a function that begins to go through them anew, which may give the same
-- table each time.  Where there are many, a cell of a few pixels is drawn once: the declared one, the first, the Pareto
-- set (if it is no crowd itself) and the outermost of those that hold are kept.
local canvas = import "write.canvas"
local scale = import "write.scale"

local WIDTH, HEIGHT, CELL = 720, 400, 5          -- of the picture, of the plot, of what is drawn once
local FEW, FEW_ON_EDGE = 2000, 500               -- so many are drawn each; so many of a Pareto set among more
local LARGE = 300                                -- up to so many have larger marks
local AIR = 10                                   -- between the frame and the outermost ticks
local TEXT, TITLE, RIGHT = 11, 15, 28

local holds = { name = "holds", fill = "#0072b2" }
local broken = { name = "broken", stroke = "#8c8c8c", width = 1 }
local unknown = { name = "unknown", stroke = "#8c8c8c", width = 1 }
local pareto = { name = "pareto", fill = "#d55e00", stroke = canvas.ink, width = 0.8 }
local stairs = { name = "stairs", stroke = "#d55e00", width = 1.3, dash = "5 3" }
local declared = { name = "declared", stroke = canvas.ink, width = 2 }
local first = { name = "first", stroke = canvas.ink, width = 2 }

local dot = { { -1.6, -1.6, 1.6, -1.6, 1.6, 1.6, -1.6, 1.6, closed = true } }
local cross = { { -2, -2, 2, 2 }, { -2, 2, 2, -2 } }
local dash = { { -2.5, 0, 2.5, 0 } }
local diamond = { { 0, -4.5, 4.5, 0, 0, 4.5, -4.5, 0, closed = true } }
local plus = { { -7, 0, 7, 0 }, { 0, -7, 0, 7 } }

local function finite(v) return type(v) == "number" and v == v and math.abs(v) < math.huge end

-- What was judged to the end and has both numbers.
local function drawable(p)
  return (p.status == "holds" or p.status == "broken" or p.status == "unknown") and finite(p.x) and finite(p.y)
end

local function each(points)
  if type(points) == "function" then return points() end
  local i = 0
  return function()
    i = i + 1
    return points[i]
  end
end

local function copy(p)
  return { number = p.number, x = p.x, y = p.y, status = p.status, pareto = p.pareto, base = p.base, best = p.best }
end

-- ---- what there is -------------------------------------------------------------------------------------------------

-- How many of each, how far they reach, and which of those that hold lie outermost.
local function look(points)
  local found = { all = 0, without = 0, holds = 0, broken = 0, unknown = 0, pareto = 0, edges = {} }
  local edges = found.edges
  for p in each(points) do
    found.all = found.all + 1
    if not drawable(p) then found.without = found.without + 1
    else
      local kind = p.status
      found[kind] = found[kind] + 1
      if p.pareto then found.pareto = found.pareto + 1 end
      found.x1, found.x2 = math.min(found.x1 or p.x, p.x), math.max(found.x2 or p.x, p.x)
      found.y1, found.y2 = math.min(found.y1 or p.y, p.y), math.max(found.y2 or p.y, p.y)
      if kind == "holds" then
        for i, key in ipairs { p.x, -p.x, p.y, -p.y } do
          if not edges[i] or key < edges[i].key then edges[i] = { key = key, number = p.number } end
        end
      end
    end
  end
  found.outermost = {}
  for i = 1, #edges do found.outermost[edges[i].number] = true end
  return found
end

-- Those to be drawn: of each kind one in a cell, the first of them; one that holds before one that does not.
local function thin(points, found, sx, sy)
  local few = found.all - found.without <= FEW
  local function cell(p)
    return few and p.number or math.floor(sx.at(p.x) / CELL) * 4096 + math.floor(sy.at(p.y) / CELL)
  end
  local drawn = { holds = {}, broken = {}, unknown = {}, pareto = {} }
  local taken = { holds = {}, broken = {}, unknown = {}, pareto = {} }
  local function put(kind, key, p, always)
    if taken[kind][key] and not always then return end
    taken[kind][key] = true
    table.insert(drawn[kind], copy(p))
  end
  for p in each(points) do
    if drawable(p) then
      local key = cell(p)
      if p.base then drawn.base = copy(p) end
      if p.best then drawn.best = copy(p) end
      local kept = found.outermost[p.number]
      if p.pareto then put("pareto", key, p, kept or found.pareto <= FEW_ON_EDGE)
      elseif p.status == "holds" then put("holds", key, p, kept)
      else put(p.status, key, p) end
    end
  end
  for _, kind in ipairs { "broken", "unknown" } do
    local seen = {}
    for _, p in ipairs(drawn[kind]) do
      local key = cell(p)
      if not taken.holds[key] and not taken.pareto[key] and not (kind == "unknown" and taken.broken[key]) then
        seen[#seen + 1] = p
      end
    end
    drawn[kind] = seen
  end
  return drawn
end

-- Of the Pareto set what no other of it beats in these two, from the best x to the worst: a third goal may have brought
-- in more than belongs to the line.
local function front(set, x, y)
  local across, up = x.goal == "most" and -1 or 1, y.goal == "most" and -1 or 1
  table.sort(set, function(a, b)
    local ax, bx, ay, by = a.x * across, b.x * across, a.y * up, b.y * up
    if ax ~= bx then return ax < bx end
    if ay ~= by then return ay < by end
    return a.number < b.number
  end)
  local line = {}
  for _, p in ipairs(set) do
    local last = line[#line]
    if not last or p.y * up < last.y * up or p.x == last.x and p.y == last.y then line[#line + 1] = p end
  end
  return line
end

-- Along the edge of what it beats: as good in y up to the next one's x.
local function staircase(line, sx, sy)
  local points = {}
  for i, p in ipairs(line) do
    local x, y = sx.at(p.x), sy.at(p.y)
    if i > 1 then table.move({ x, sy.at(line[i - 1].y) }, 1, 2, #points + 1, points) end
    table.move({ x, y }, 1, 2, #points + 1, points)
  end
  return points
end

-- ---- labels --------------------------------------------------------------------------------------------------------

-- Beside, above or below a mark, where no other label is nor any of the marks; where all is taken, nowhere, unless it
-- must be.
local function placer(c, box, marks)
  local taken = {}
  for i = 1, #marks, 2 do taken[#taken + 1] = { x = marks[i] - 4, y = marks[i + 1] + 2, w = 8 } end
  local function free(x, y, w)
    if x < box.left or x + w > box.right or y - TEXT < box.top or y + 3 > box.bottom then return false end
    for _, t in ipairs(taken) do
      if x < t.x + t.w and t.x < x + w and y - TEXT < t.y + 2 and t.y - TEXT < y + 2 then return false end
    end
    return true
  end
  return function(x, y, text, must)
    local w = canvas.width(text, TEXT)
    for _, at in ipairs { { 9, 4 }, { -9 - w, 4 }, { -w / 2, -10 }, { -w / 2, 19 }, { 9, -8 }, { 9, 17 },
        { -9 - w, -8 }, { -9 - w, 17 }, { 9, -22 }, { 9, 31 }, { -9 - w, -22 }, { -9 - w, 31 } } do
      if free(x + at[1], y + at[2], w) then
        taken[#taken + 1] = { x = x + at[1], y = y + at[2], w = w }
        return c:text(x + at[1], y + at[2], text, { size = TEXT, halo = true })
      end
    end
    if must then c:text(math.max(box.left, x - 9 - w), y + 4, text, { size = TEXT, halo = true }) end
  end
end

-- ---- the picture ---------------------------------------------------------------------------------------------------

local function count(n) return string.format("%d", n) end
local function some(n, one, many) return n == 1 and "1 " .. one or count(n) .. " " .. many end

local function flat(list, sx, sy)
  local points = {}
  for i, p in ipairs(list) do points[2 * i - 1], points[2 * i] = sx.at(p.x), sy.at(p.y) end
  return points
end

local function ring(c, x, y) c:circle(x, y, 7) end

-- What the marks are, with a mark of each, in lines of the picture's width: { style, draw(c, x, y), text } ...
local function legend(entries)
  local x, y = 24, 0
  for _, e in ipairs(entries) do
    local w = 18 + canvas.width(e.text, TEXT * 0.95)
    if x > 24 and x + w > WIDTH - 24 then x, y = 24, y + 20 end
    e.x, e.y = x, y
    x = x + w + 12
  end
  return y + 26
end

-- The same strokes, larger.
local function grown(shape, by)
  local out = {}
  for i, stroke in ipairs(shape) do
    out[i] = { closed = stroke.closed }
    for k, v in ipairs(stroke) do out[i][k] = v * by end
  end
  return out
end

local function shapes(found)
  local by = found.all - found.without <= LARGE and 1.6 or 1
  return grown(dot, by), grown(cross, by), grown(dash, by)
end

local function by(shape) return function(c, x, y) c:marks(shape, { x, y }) end end

-- said: what it means to hold.
local function entries_of(found, drawn, line, said)
  local list = {}
  local dot, cross, dash = shapes(found)
  local function add(n, style, draw, text)
    if n > 0 then list[#list + 1] = { style = style, draw = draw, text = text } end
  end
  add(found.holds, holds, by(dot), said .. ": " .. count(found.holds))
  add(found.broken, broken, by(cross), "a stop rule is broken: " .. count(found.broken))
  add(found.unknown, unknown, by(dash), "a stop rule is unknown: " .. count(found.unknown))
  add(found.pareto, pareto, by(diamond), "Pareto set: " .. count(found.pareto))
  add(#line > 1 and 1 or 0, stairs, function(c, x, y) c:line(x - 7, y, x + 7, y) end,
      "nothing found that holds is beyond")
  add(drawn.base and 1 or 0, declared, by(plus), "variant " .. (drawn.base and drawn.base.number or "") ..
      ", as declared")
  add(drawn.best and 1 or 0, first, ring, "variant " .. (drawn.best and drawn.best.number or "") ..
      ", ranks first")
  return list
end

local function sought(axis) return axis.name .. (axis.goal and " (the " .. axis.goal .. " is sought)" or "") end

-- Running text below or above the plot: the lines, and how high they are.
local function lines_of(text, size) return canvas.wrap(text, WIDTH - 48, size) end

-- How many places the marks take that can be told apart.
local function places(drawn, sx, sy)
  local seen, n = {}, 0
  for _, kind in ipairs { "holds", "broken", "unknown", "pareto" } do
    for _, p in ipairs(drawn[kind]) do
      local key = math.floor(sx.at(p.x)) * 4096 + math.floor(sy.at(p.y))
      if not seen[key] then seen[key], n = true, n + 1 end
    end
  end
  return n
end

local function notes(found, drawn, o)
  local shown = #drawn.holds + #drawn.broken + #drawn.unknown + #drawn.pareto
  local there = found.all - found.without
  local list = {}
  if there > shown then
    list[#list + 1] = count(shown) .. " marks stand for " .. some(there, "variant", "variants") ..
        ": what lies within " .. CELL .. " px of each other is drawn once, what holds on top."
  elseif drawn.places and drawn.places < there then
    list[#list + 1] = "Marks lie on each other: " .. some(there, "variant", "variants") .. " at " ..
        some(drawn.places, "place", "places") .. "."
  end
  if found.without > 0 then
    list[#list + 1] = some(found.without, "variant has", "variants have") .. " no number here (refused, unknown, or " ..
        "ended by an error or a limit) and " .. (found.without == 1 and "is" or "are") .. " not drawn."
  end
  list[#list + 1] = "Each mark is the job with those values alone: tolerances and guesses are not tried, prices " ..
      "hold for their day."
  list[#list + 1] = o.says
  return table.concat(list, " ")
end

local function plot(c, o, found, drawn, line, sx, sy, box)
  c:group({ name = "grid", stroke = "#d9d9d9", width = 1 }, function()
    for _, t in ipairs(sx.ticks) do c:line(t.at, box.top, t.at, box.bottom) end
    for _, t in ipairs(sy.ticks) do c:line(box.left, t.at, box.right, t.at) end
  end)
  c:group({ name = "frame", stroke = canvas.ink, width = 1 }, function()
    c:rect(box.left, box.top, box.right - box.left, box.bottom - box.top)
  end)
  for _, t in ipairs(sx.ticks) do c:text(t.at, box.bottom + 16, t.text, { size = TEXT, anchor = "middle" }) end
  for _, t in ipairs(sy.ticks) do c:text(box.left - 10, t.at + 4, t.text, { size = TEXT, anchor = "end" }) end
  local dot, cross, dash = shapes(found)
  c:group(broken, function() c:marks(cross, flat(drawn.broken, sx, sy)) end)
  c:group(unknown, function() c:marks(dash, flat(drawn.unknown, sx, sy)) end)
  c:group(holds, function() c:marks(dot, flat(drawn.holds, sx, sy)) end)
  if #line > 1 then c:group(stairs, function() c:polyline(staircase(line, sx, sy)) end) end
  c:group(pareto, function() c:marks(diamond, flat(drawn.pareto, sx, sy)) end)
  local label = placer(c, box, flat(#line <= FEW_ON_EDGE and line or {}, sx, sy))
  local base, best = drawn.base, drawn.best
  if base then c:group(declared, function() c:marks(plus, { sx.at(base.x), sy.at(base.y) }) end) end
  if best then c:group(first, function() ring(c, sx.at(best.x), sy.at(best.y)) end) end
  local named = {}
  local function name(p, text, must)
    if named[p.number] then return end
    named[p.number] = true
    label(sx.at(p.x), sy.at(p.y), text, must)
  end
  if best then
    name(best, best.number .. (base and base.number == best.number and ", as declared" or ""), true)
  end
  if base then
    name(base, base.number .. ", as declared" .. (base.status ~= "holds" and ": " .. base.status or ""), true)
  end
  if #line <= 8 then
    for _, p in ipairs(line) do name(p, tostring(p.number), false) end
  end
end

-- Nothing to draw: the frame says so.
local function empty(c, found, box)
  c:group({ name = "frame", stroke = canvas.ink, width = 1 }, function()
    c:rect(box.left, box.top, box.right - box.left, box.bottom - box.top)
  end)
  c:text((box.left + box.right) / 2, (box.top + box.bottom) / 2, found.all == 0 and "there is no variant yet" or
      "no variant has a number for both", { size = 13, anchor = "middle", fill = canvas.quiet })
end

return function(o)
  local x, y = o.x, o.y
  local found = look(o.points)
  local title = lines_of(o.title, TITLE)
  local top = 14 + 20 * #title + 12
  local box = { left = 60, right = WIDTH - RIGHT, top = top, bottom = top + HEIGHT }
  local sx, sy, drawn, line
  if found.x1 then
    sy = scale.new { low = found.y1, high = found.y2, unit = y.unit, show = y.show, from = box.bottom - AIR,
        to = box.top + AIR, size = TEXT }
    box.left = math.max(box.left, 44 + math.ceil(sy.widest))
    for _ = 1, 2 do                                    -- the second time with room for half of the last label
      sx = scale.new { low = found.x1, high = found.x2, unit = x.unit, show = x.show, from = box.left + AIR,
          to = box.right - AIR, size = TEXT, across = true }
      box.right = math.min(box.right, WIDTH - 8 + AIR - math.ceil(sx.widest / 2), WIDTH - 12)
    end
    drawn = thin(o.points, found, sx, sy)
    drawn.places = places(drawn, sx, sy)
    line = front(drawn.pareto, x, y)
  else drawn, line = { holds = {}, broken = {}, unknown = {}, pareto = {} }, {} end
  local entries = entries_of(found, drawn, line, o.holds or "no stop rule is broken or unknown")
  local high = legend(entries)
  local said = lines_of(notes(found, drawn, o), TEXT)
  local c = canvas.new { width = WIDTH, height = box.bottom + 44 + high + 15 * #said + 14, title = o.title,
      says = sought(y) .. " against " .. sought(x) .. ", " .. some(found.all, "variant", "variants") .. ". " ..
          notes(found, drawn, o) }
  for i, text in ipairs(title) do c:text(24, 8 + 20 * i, text, { size = TITLE, bold = true }) end
  if found.x1 then plot(c, o, found, drawn, line, sx, sy, box) else empty(c, found, box) end
  c:text((box.left + box.right) / 2, box.bottom + 36, canvas.cut(sought(x), box.right - box.left, 12),
      { size = 12, anchor = "middle" })
  c:text(18, (box.top + box.bottom) / 2, canvas.cut(sought(y), HEIGHT, 12), { size = 12, anchor = "middle",
      rotate = -90 })
  local below = box.bottom + 58
  for _, e in ipairs(entries) do
    c:group(e.style, function() e.draw(c, e.x + 7, below + e.y) end)
    c:text(e.x + 18, below + e.y + 4, e.text, { size = TEXT })
  end
  for i, text in ipairs(said) do c:text(24, below + high + 15 * (i - 1), text, { size = TEXT, fill = canvas.quiet }) end
  return c
end
