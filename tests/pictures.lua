-- SPDX-License-Identifier: MIT
-- What pictures show, read back from their SVG: (name of a case, tests/svg.lua) -> true, or raises with what is wrong.
-- Expected values are from hand, worked out beside each.
local name, svg = ...
local run = import "model.run"
local canvas, scale = import "write.canvas", import "write.scale"
local scatter, heat = import "write.scatter", import "write.heat"

local fail, parse, whole, numbers, subpaths = svg.fail, svg.parse, svg.whole, svg.numbers, svg.subpaths
local function same(got, want, what)
  if got ~= want then fail(what or "", ": ", tostring(got), " instead of ", tostring(want)) end
end
local function near(got, want, what)
  if not got or math.abs(got - want) > 0.06 then fail(what or "", ": ", tostring(got), " instead of ", want) end
end

local function all(list, name, class)
  local found = {}
  for _, e in ipairs(list) do
    if e.name == name and (not class or e.class == class) then found[#found + 1] = e end
  end
  return found
end

local function texts(list)
  local parts = {}
  for _, e in ipairs(all(list, "text")) do parts[#parts + 1] = e.text end
  return table.concat(parts, " ")
end

local function has(list, text)
  if not texts(list):find(text, 1, true) then fail("no text '", text, "' in ", texts(list)) end
end
local function lacks(list, text)
  if texts(list):find(text, 1, true) then fail("a text '", text, "'") end
end

-- The plot: the rect in a group of that class, without the 10 px that lie around the outermost ticks.
local function frame(list)
  local a = all(list, "rect", "frame")[1].at
  local x, y = tonumber(a.x), tonumber(a.y)
  return x + 10, y + 10, x + tonumber(a.width) - 10, y + tonumber(a.height) - 10
end

-- The middles of the marks of a class in the plot; the legend's stands below it.
local function marks(list, class)
  local _, _, _, bottom = frame(list)
  local found = {}
  for _, e in ipairs(all(list, "path", class)) do
    local subs = subpaths(e.at.d)
    local strokes = (class == "broken" or class == "declared") and 2 or 1
    for i = 1, #subs, strokes do
      local x1, x2, y1, y2 = math.huge, -math.huge, math.huge, -math.huge
      for k = i, i + strokes - 1 do
        for p = 1, #subs[k], 2 do
          x1, x2 = math.min(x1, subs[k][p]), math.max(x2, subs[k][p])
          y1, y2 = math.min(y1, subs[k][p + 1]), math.max(y2, subs[k][p + 1])
        end
      end
      if (y1 + y2) / 2 < bottom + 15 then found[#found + 1] = { (x1 + x2) / 2, (y1 + y2) / 2 } end
    end
  end
  return found
end

local function chance(seed)
  return function()
    seed = seed * 6364136223846793005 + 1442695040888963407
    return (seed >> 11) / 2.0 ^ 53
  end
end

local function plain(v) return string.format("%g", v) end
local function xy(points, more)
  local o = { title = "b against a", x = { name = "a", show = plain, goal = "least" },
      y = { name = "b", show = plain, goal = "least" }, points = points }
  for k, v in next, more or {} do o[k] = v end
  return function() return scatter(o) end
end

local case = {}

-- ---- the sheet -----------------------------------------------------------------------------------------------------

case["what is checked can fail"] = function()
  for _, bad in ipairs { "<svg><g></svg>", "<svg>a & b</svg>", "<svg>a > b</svg>", '<svg a="1" a="2"/>',
      '<svg a="x<y"/>', "<svg a=1/>", "<svg/>more", "<svg>" } do
    if pcall(parse, bad) then fail("taken for XML: ", bad) end
  end
  same(#parse '<svg a="1"><g b="&amp;"/>x</svg>', 2, "elements")
  local function off() return canvas.new { width = 10, height = 10, title = "t" } end
  if pcall(whole, function() local c = off() c:circle(9, 5, 2) return c end) then fail("off the sheet, not noticed") end
end

case["shapes and numbers of a canvas"] = function()
  local function make()
    local c = canvas.new { width = 297, height = 210, unit = "mm", title = "plan", says = "a plan" }
    c:group({ name = "wood", stroke = "#000000", width = 0.35, dash = "2 1" }, function()
      c:line(1, 2, 3.14159, -0.001)
      c:polyline { 1, 1, 2.5, 100 }
      c:polygon { 1, 1, 2, 1, 2, 2 }
      c:circle(5, 5, 1 / 3)
      c:marks({ { -1, -1, 1, 1 }, { -1, 1, 1, -1 }, { 0, 0, 1, 0, 0, 1, closed = true } }, { 10, 20, 30.04, 40 })
    end, "posts")
    c:within(10, 10, 20, 20, function() c:rect(5, 5, 10, 10) end)
    return c
  end
  local list, out = whole(make)
  same(list[1].at.width, "297mm", "width")
  same(list[1].at.viewBox, "0 0 297 210", "viewBox")
  local line = all(list, "line")[1].at
  same(line.x2 .. " " .. line.y2, "3.14 0", "hundredths, and no -0")
  same(all(list, "circle")[1].at.r, "0.33", "radius")
  same(all(list, "polyline")[1].at.points, "1,1 2.5,100", "points")
  -- from hand: strokes of a cross from (9,19) to (11,21) and (9,21) to (11,19), a triangle from (10,20)
  same(all(list, "path")[1].at.d, "M9 19l2 2m-2 0l2 -2m-1 1l1 0l-1 1zM29 39l2 2m-2 0l2 -2m-1 1l1 0l-1 1z", "marks")
  local group = all(list, "g", "wood")[1].at
  same(group["stroke-width"] .. " " .. group["stroke-dasharray"], "0.35 2 1", "style")
  same(all(list, "title", "wood")[1].text, "posts", "what a group says")
  local clip = all(list, "svg")[2].at
  same(clip.viewBox .. clip.overflow, "10 10 20 20hidden", "cut off")
  if out:find("http", 1, true) ~= out:find("http://www.w3.org/2000/svg", 1, true) then fail("reaches outside") end
  local inside = make():svg(true)
  if inside:find("http", 1, true) or inside:find("<?xml", 1, true) then fail("no part of a page") end
  for _, bad in ipairs { 0 / 0, math.huge, -math.huge } do
    if pcall(make().circle, make(), bad, 1, 1) then fail("a circle at ", tostring(bad)) end
  end
end

case["hatching by hand"] = function()
  local function lines_in(points, gap)
    local c = canvas.new { width = 50, height = 50, title = "t" }
    c:hatch(points, gap)
    local path = all(parse(c:svg()), "path")[1]
    return path and subpaths(path.at.d) or {}
  end
  -- a square of 10: of the lines x + y = 10 k only k = 1 crosses it, from corner to corner
  local one = lines_in({ 0, 0, 10, 0, 10, 10, 0, 10 }, 10)
  same(#one, 1, "lines")
  same(table.concat(one[1], " "), "0 10 10 0", "the diagonal")
  -- x + y = 5, 10, 15
  same(#lines_in({ 0, 0, 10, 0, 10, 10, 0, 10 }, 5), 3, "closer lines")
  -- a U, its gap from x = 10 to 20 above y = 20: x + y = 25 crosses both legs, (0,25) to (10,15) and (20,5) to (25,0)
  local u = lines_in({ 0, 0, 10, 0, 10, 20, 20, 20, 20, 0, 30, 0, 30, 30, 0, 30 }, 25)
  same(#u, 3, "lines in a U")                                     -- and x + y = 50 once, below the gap
  same(table.concat(u[1], " ") .. ", " .. table.concat(u[2], " "), "0 25 10 15, 20 5 25 0", "both legs")
end

case["texts are escaped"] = function()
  local bad = 'a <b> & "c" \7\u{202e} end'
  local shown = host.safe(bad)
  local points = { { number = 0, x = 1, y = 2, status = "holds" }, { number = 1, x = 2, y = 1, status = "broken" } }
  local o = { title = bad, says = bad, points = points,
      x = { name = bad, show = function() return bad end }, y = { name = bad, show = function() return bad end } }
  local list = whole(function() return scatter(o) end)
  same(list[2].text, shown, "the title")
  same(list[1].at["aria-label"], shown, "the label")
  has(list, shown)
  local steps, rules = { bad, "2" }, { { id = bad, says = bad, share = { 1, 0 } } }
  list = whole(function() return heat { title = bad, axis = { name = bad, steps = steps }, rules = rules } end)
  has(list, shown)
  same(all(list, "title", "rule")[1].text, shown .. ": " .. shown, "the whole rule")
end

-- ---- axes ----------------------------------------------------------------------------------------------------------

local function ticks(low, high, unit, length, show)
  local s = scale.new { low = low, high = high, unit = unit, from = 0, to = length or 200, show = show }
  local parts = {}
  for i, t in ipairs(s.ticks) do parts[i] = t.text end
  return table.concat(parts, ", "), s
end

-- 200 px give 5 parts.
case["ticks by hand"] = function()
  -- 1/5 = 0.2
  same(ticks(0, 1), "0.0, 0.2, 0.4, 0.6, 0.8, 1.0")
  -- 67/5 = 13.4, next 20; from the multiple below 1234 to the one above 1301
  same(ticks(1234, 1301), "1220, 1240, 1260, 1280, 1300, 1320")
  -- 10/5 = 2; the ends are multiples themselves
  same(ticks(-5, 5), "-6, -4, -2, 0, 2, 4, 6")
  -- 0.0021/5 = 0.00042, next 0.0005
  same(ticks(0.0002, 0.0023), "0.0000, 0.0005, 0.0010, 0.0015, 0.0020, 0.0025")
  -- 3e6/5 = 600000, next a million
  same(ticks(1.5e6, 4.5e6), "1000000, 2000000, 3000000, 4000000, 5000000")
end

case["ticks in the job's unit"] = function()
  -- 3 ft to 4.5 ft: 1.5/5 = 0.3, next 0.5
  same(ticks(3 * 0.3048, 4.5 * 0.3048, "ft"), "3.0 ft, 3.5 ft, 4.0 ft, 4.5 ft")
  -- -22 to -3 degrees: 19/5 = 3.8, next 5
  same(ticks(273.15 - 22, 273.15 - 3, "degC"), "-25 degC, -20 degC, -15 degC, -10 degC, -5 degC, 0 degC")
  same(ticks(0.12, 0.31, "%"), "10 %, 15 %, 20 %, 25 %, 30 %, 35 %")           -- 19/5 = 3.8
  same(ticks(3010, 3950, "USD"), "3000 USD, 3200 USD, 3400 USD, 3600 USD, 3800 USD, 4000 USD")   -- 940/5 = 188
  -- a dollar a foot is 3.2808 a metre: 2 to 4 of them, 2/5 = 0.4
  same(ticks(2 / 0.3048, 4 / 0.3048, "USD/ft"), "2.0 USD/ft, 2.5 USD/ft, 3.0 USD/ft, 3.5 USD/ft, 4.0 USD/ft")
  -- each label is asked from the job, for the value in SI
  same(ticks(3 * 0.3048, 4.5 * 0.3048, "ft", 200, function(si) return string.format("%.4f m", si) end),
      "0.9144 m, 1.0668 m, 1.2192 m, 1.3716 m")
end

case["ticks of a tape"] = function()
  run.sixteenths = true
  local function feet(si) return host.feet(host.quantity(si, "length"), 16) end
  -- 31 to 48 in: 17/5 = 3.4, next half a foot
  same(ticks(31 * 0.0254, 48 * 0.0254, "in", 200, feet), "2 ft 6 in, 3 ft, 3 ft 6 in, 4 ft")
  -- 1 to 1.5 in: 0.1, next 1/8
  same(ticks(0.0254, 1.5 * 0.0254, "ft-in", 200, feet), "1 in, 1-1/8 in, 1-1/4 in, 1-3/8 in, 1-1/2 in")
  -- 3 to 55 ft: 52/5 = 10.4 ft, next 20 ft
  same(ticks(3 * 0.3048, 55 * 0.3048, "ft", 200, feet), "0 in, 20 ft, 40 ft, 60 ft")
  -- millimetres stay decimal: 40 to 190, 30, next 50
  same(ticks(0.04, 0.19, "mm"), "0 mm, 50 mm, 100 mm, 150 mm, 200 mm")
end

case["one value"] = function()
  for _, v in ipairs { 3410, 0, -22.5 } do
    local text, s = ticks(v, v, nil, 200, plain)
    same(text, plain(v), "its tick")
    near(s.at(v), 100, "in the middle")
  end
  -- what differs in the last bits only is one value
  same(ticks(3410, 3410 * (1 + 1e-15), nil, 200, plain), "3410")
end

case["labels apart"] = function()
  -- whole dollars say nothing between 3410.1 and 3410.3: 0.04, next 0.05
  local text = ticks(3410.1, 3410.3, "USD", 200, function(v) return string.format("$%.0f", v) end)
  same(text, "3410.10 USD, 3410.15 USD, 3410.20 USD, 3410.25 USD, 3410.30 USD")
  -- long labels beside each other leave room
  local function long(v) return string.format("%.7f kilowatthours", v) end
  local s = scale.new { low = 1, high = 2, from = 0, to = 600, across = true, show = long }
  for i = 2, #s.ticks do
    if s.ticks[i].at - s.ticks[i - 1].at < s.widest then fail("labels run into each other") end
  end
  if #s.ticks < 2 then fail("no ticks left") end
end

case["scales by their ends"] = function()
  local _, s = ticks(1234, 1301)
  near(s.at(1220), 0, "low end")
  near(s.at(1320), 200, "high end")
  near(s.at(1270), 100, "middle")
  local up = scale.new { low = 0, high = 10, from = 300, to = 100 }
  near(up.at(0), 300, "upwards")
  near(up.at(10), 100, "upwards")
end

-- ---- scatter -------------------------------------------------------------------------------------------------------

local function pareto(...)
  local list = {}
  for i, p in ipairs { ... } do
    list[i] = { number = i, x = p[1], y = p[2], status = "holds", pareto = p[3] ~= false }
  end
  return list
end

-- The corners of the staircase in the numbers of the axes, which run from 0 to 10 each.
local function corners(points, gx, gy)
  points[#points + 1] = { number = 98, x = 0, y = 0, status = "broken" }
  points[#points + 1] = { number = 99, x = 10, y = 10, status = "broken" }
  local list = whole(xy(points, { x = { name = "a", show = plain, goal = gx },
      y = { name = "b", show = plain, goal = gy } }))
  local left, top, right, bottom = frame(list)
  local line = all(list, "polyline", "stairs")[1]
  local n = line and numbers(line.at.points) or {}
  for i = 1, #n, 2 do
    n[i] = string.format("%g", math.floor((n[i] - left) / (right - left) * 100 + 0.5) / 10) + 0.0
    n[i + 1] = math.floor((bottom - n[i + 1]) / (bottom - top) * 100 + 0.5) / 10
  end
  for i, v in ipairs(n) do n[i] = string.format("%g", v) end
  return table.concat(n, " ")
end

case["staircase by hand"] = function()
  -- little of both is sought: from (1,8) along y = 8 to x = 3, down to (3,4), along y = 4 to x = 7, down to (7,2)
  same(corners(pareto({ 7, 2 }, { 1, 8 }, { 3, 4 }), "least", "least"), "1 8 3 8 3 4 7 4 7 2", "least, least")
  -- much of both: from (9,1) left along y = 1 to x = 5, up to (5,6), left to x = 2, up to (2,8)
  same(corners(pareto({ 5, 6 }, { 9, 1 }, { 2, 8 }), "most", "most"), "9 1 5 1 5 6 2 6 2 8", "most, most")
  -- little of a, much of b: from (1,2) right along y = 2 to x = 4, up to (4,5)
  same(corners(pareto({ 4, 5 }, { 1, 2 }), "least", "most"), "1 2 4 2 4 5", "least, most")
  -- much of a, little of b: from (8,6) left along y = 6 to x = 3, down to (3,1)
  same(corners(pareto({ 3, 1 }, { 8, 6 }), "most", "least"), "8 6 3 6 3 1", "most, least")
  same(corners(pareto({ 3, 1 }), "least", "least"), "", "one alone has no line")
end

case["staircase of a third goal"] = function()
  -- (6,7) is of the set for a third goal; in these two (3,4) beats it, so the line passes it by
  same(corners(pareto({ 1, 8 }, { 6, 7 }, { 3, 4 }), "least", "least"), "1 8 3 8 3 4")
end

case["marks of each kind"] = function()
  local points = {
    { number = 0, x = 0, y = 0, status = "unknown", base = true }, { number = 1, x = 10, y = 10, status = "broken" },
    { number = 2, x = 5, y = 2.5, status = "holds" }, { number = 3, x = 2, y = 3, status = "holds", pareto = true },
    { number = 4, x = 1, y = 4, status = "holds", pareto = true, best = true }, { number = 5, status = "crash" },
  }
  local list = whole(xy(points))
  local left, top, right, bottom = frame(list)
  local function at(class, i, x, y)
    local m = marks(list, class)[i] or fail("no mark ", i, " of ", class)
    near(m[1], left + (right - left) * x / 10, class)
    near(m[2], bottom - (bottom - top) * y / 10, class)
  end
  at("unknown", 1, 0, 0)
  at("broken", 1, 10, 10)
  at("holds", 1, 5, 2.5)
  at("pareto", 1, 1, 4)
  at("pareto", 2, 2, 3)
  at("declared", 1, 0, 0)
  for class, n in next, { unknown = 1, broken = 1, holds = 1, pareto = 2, declared = 1 } do
    same(#marks(list, class), n, class)
  end
  local ring = all(list, "circle", "first")[1].at
  near(tonumber(ring.cx), left + (right - left) / 10, "the first")
  for _, said in ipairs { "no stop rule is broken or unknown: 3", "a stop rule is broken: 1",
      "a stop rule is unknown: 1", "Pareto set: 2", "variant 0, as declared", "variant 4, ranks first",
      "0, as declared: unknown", "1 variant has no number here", "a (the least is sought)",
      "tolerances and guesses are not tried" } do
    has(list, said)
  end
  lacks(list, "stand for")
  lacks(list, "lie on each other")
end

case["few are all drawn"] = function()
  local points = {}
  for i = 0, 1999 do points[i + 1] = { number = i, x = i % 7, y = i % 5, status = "holds" } end
  local list = whole(xy(points))
  same(#marks(list, "holds"), 2000, "marks")
  has(list, "Marks lie on each other: 2000 variants at 35 places")            -- 7 by 5
end

local function cloud(n)
  local random, points = chance(11), {}
  for i = 0, n - 1 do
    local x, y = random(), random()
    points[i + 1] = { number = i, x = x, y = y, status = y < 0.3 and "broken" or "holds" }
  end
  return points
end

case["many are thinned out"] = function()
  local points = cloud(100000)
  -- the outermost that hold, beside others that come first in their cells
  local outer = { { -0.001, 0.5 }, { 1.001, 0.6 }, { 0.4, 1.001 } }
  for i, p in ipairs(outer) do
    points[#points + 1] = { number = 200000 + i, x = p[1] * 0.999, y = p[2] * 0.999, status = "holds" }
    points[#points + 1] = { number = 300000 + i, x = p[1], y = p[2], status = "holds" }
  end
  for i = 1, 40 do                                        -- closer than a cell: all of the set are drawn
    points[#points + 1] = { number = 400000 + i, x = 0.5 + i / 10000, y = 0.4 - i / 10000, status = "holds",
        pareto = true }
  end
  points[#points + 1] = { number = 500000, x = 0.25, y = 0.75, status = "holds", base = true }
  local list, out = whole(xy(points))
  if #out > 300000 then fail(#out, " bytes") end
  local left, top, right, bottom = frame(list)
  local held = marks(list, "holds")
  -- ticks reach from -0.2 to 1.2 across, from 0 to 1.2 up
  local function drawn(x, y)
    local px, py = left + (right - left) * (x + 0.2) / 1.4, bottom - (bottom - top) * y / 1.2
    for _, m in ipairs(held) do if math.abs(m[1] - px) < 0.11 and math.abs(m[2] - py) < 0.11 then return true end end
  end
  for _, p in ipairs(outer) do if not drawn(p[1], p[2]) then fail("lost: ", p[1], " ", p[2]) end end
  same(#marks(list, "pareto"), 40, "the Pareto set")
  same(#marks(list, "declared"), 1, "declared")
  local shown = #held + #marks(list, "broken") + #marks(list, "pareto")
  if shown > 12000 or shown < 3000 then fail(shown, " marks") end
  has(list, shown .. " marks stand for 100047 variants")
end

case["what holds is on top"] = function()
  -- in the same places, the broken ones first: 30 by 50 places, 5 px or more apart
  local points = {}
  for i = 0, 2999 do
    points[i + 1] = { number = i, x = i % 30, y = i // 30 % 50, status = i < 1500 and "broken" or "holds" }
  end
  points[1].status = "unknown"
  local list = whole(xy(points))
  same(#marks(list, "holds"), 1500, "what holds")
  same(#marks(list, "broken"), 0, "what does not, below it")
  same(#marks(list, "unknown"), 0, "what is unknown, below it")
  has(list, "1500 marks stand for 3000 variants")
end

case["a crowd on the edge"] = function()
  local points = {}
  for i = 0, 9999 do
    points[i + 1] = { number = i, x = i / 10000, y = 1 - i / 10000, status = "holds", pareto = true }
  end
  local list = whole(xy(points))
  local set = marks(list, "pareto")
  if #set > 300 or #set < 80 then fail(#set, " marks") end
  local left, top, right, bottom = frame(list)
  near(set[1][1], left, "the first of the set")
  near(set[1][2], top, "the first of the set")
  near(set[#set][2], bottom - (bottom - top) * 0.0001, "the last of the set")
  has(list, "Pareto set: 10000")
end

case["no number"] = function()
  local points = { { number = 0, x = 1, y = 1, status = "holds" }, { number = 1, x = 2, y = 2, status = "holds" },
      { number = 2, x = 0 / 0, y = 1, status = "holds" }, { number = 3, y = 1, status = "holds" },
      { number = 4, x = math.huge, y = 1, status = "broken" }, { number = 5, x = 1, y = 1, status = "refused" } }
  local list = whole(xy(points))
  has(list, "4 variants have no number here")
  same(#marks(list, "holds"), 2, "marks")
  same(#marks(list, "broken"), 0, "marks")
end

case["no point and one point"] = function()
  local list = whole(xy {})
  has(list, "there is no variant yet")
  list = whole(xy { { number = 0, status = "refused" } })
  has(list, "no variant has a number for both")
  list = whole(xy { { number = 0, x = 3410, y = 2, status = "holds", base = true, best = true, pareto = true } })
  local left, top, right, bottom = frame(list)
  local m = marks(list, "pareto")[1]
  near(m[1], (left + right) / 2, "across")
  near(m[2], (top + bottom) / 2, "up")
  has(list, "0, as declared")
  has(list, "3410")
end

case["points by a function"] = function()
  local points = cloud(3000)
  points[1234].base, points[1239].best = true, true
  local function begin()
    local i, p = 0, {}
    return function()
      i = i + 1
      if not points[i] then return nil end
      p.number, p.x, p.y, p.status = points[i].number, points[i].x, points[i].y, points[i].status
      p.base, p.best = points[i].base, points[i].best
      return p
    end
  end
  same(xy(begin)():svg(), xy(points)():svg(), "by a function")
end

case["labels of marks"] = function()
  local points = pareto({ 1, 9 }, { 2, 7 }, { 4, 4 }, { 8, 1 })
  local list = whole(xy(points))
  local at = {}
  for _, e in ipairs(all(list, "text")) do
    if e.at.fill == "none" then
      for _, other in ipairs(at) do
        if math.abs(other[1] - e.at.x) < 6 and math.abs(other[2] - e.at.y) < 11 then fail("labels on each other") end
      end
      at[#at + 1] = { tonumber(e.at.x), tonumber(e.at.y) }
    end
  end
  same(#at, 4, "labels of a small set")
  for i = 5, 9 do points[i] = { number = i, x = i + 4, y = 1 - i / 100, status = "holds", pareto = true } end
  list = whole(xy(points))
  for _, e in ipairs(all(list, "text")) do if e.at.fill == "none" then fail("a label of many: ", e.text) end end
end

-- ---- heat ----------------------------------------------------------------------------------------------------------

local function rows_of(list)
  local rows, last = {}, nil
  for _, e in ipairs(all(list, "rect", "rule")) do
    if e.at.y ~= last then rows[#rows + 1], last = {}, e.at.y end
    table.insert(rows[#rows], { x = tonumber(e.at.x), fill = e.fill })
  end
  return rows
end

local function heat_of(steps, rules, tried, declared)
  return whole(function()
    return heat { title = "rules along t", axis = { name = "t", steps = steps, tried = tried, declared = declared },
        rules = rules }
  end)
end

case["shares in words"] = function()
  local list = heat_of({ "a", "b", "c", "d", "e", "f" },
      { { id = "R1", says = "one", share = { 0, 0.001, 0.384, 0.9999, 1, 0.5 } } })
  local cells = {}
  for _, e in ipairs(all(list, "text", "rule")) do
    if e.at["text-anchor"] == "middle" then cells[#cells + 1] = e.text end
  end
  same(table.concat(cells, " "), "0 <1% 38% >99% 100% 50%", "cells")
  -- by the legend: none is blank; above 0 to 20 %, to 40 %, below all, all, to 60 %
  local fills = {}
  for i, c in ipairs(rows_of(list)[1]) do fills[i] = c.fill end
  same(table.concat(fills, " "), "#fdebd0 #fbcf93 #9c4a0b #4f2404 #f0a04b", "shades")
  -- grey of the shades falls from none to all, so that they tell apart in print
  local last = 1e9
  for _, e in ipairs(all(list, "rect")) do
    local above = e.parent and e.parent.at.stroke == canvas.quiet and e.fill
    local r, g, b = (above or ""):match("^#(%x%x)(%x%x)(%x%x)$")
    if r then
      local grey = 0.299 * tonumber(r, 16) + 0.587 * tonumber(g, 16) + 0.114 * tonumber(b, 16)
      if grey > last - 15 then fail("shades too much alike: ", above) end
      last = grey
    end
  end
  if last == 1e9 then fail("no legend") end
end

case["shares weighed"] = function()
  -- 1 declared and 80 others, three to a column (80/38 = 2.1): the first holds 0, 1 and 1, tried 6, 1 and 1 times:
  -- 2/8 = 25 %, not the 67 % of the shares alone
  local steps, share, tried = {}, {}, {}
  for i = 1, 81 do steps[i], share[i], tried[i] = "s" .. i, 0, 1 end
  share[3], share[4], tried[2] = 1, 1, 6
  local rules = { { id = "R1", says = "one", share = share } }
  same(rows_of(heat_of(steps, rules, tried))[1][1].fill, "#fbcf93", "25 %")
  same(rows_of(heat_of(steps, rules))[1][1].fill, "#d4711f", "67 %")
end

case["columns of many steps"] = function()
  local steps, share = { "30deg" }, { 1 }
  for i = 15, 60 do steps[#steps + 1], share[#share + 1] = i .. "deg", 1 end
  local list = heat_of(steps, { { id = "R1", says = "one", share = share } })
  -- 46 others, two to a column (46/38), and the declared one
  same(#rows_of(list)[1], 24, "columns")
  has(list, "17deg to 18deg")
  has(list, "30deg")
  lacks(list, "30deg to")
  has(list, "Of 47 steps up to 2 stand together")
  -- 40 stand each by itself
  local few, some = {}, {}
  for i = 1, 40 do few[i], some[i] = i .. "ft", 0.5 end
  list = heat_of(few, { { id = "R1", says = "one", share = some } })
  same(#rows_of(list)[1], 40, "columns of 40")
  lacks(list, "ft to ")
  -- the declared one in the middle: columns do not reach across it
  list = heat_of(steps, { { id = "R1", says = "one", share = share } }, nil, 16)
  -- 15 before it are 8 columns, 31 behind it 16
  same(#rows_of(list)[1], 25, "columns about the declared one")
end

case["rules never broken"] = function()
  local rules = { { id = "R1", says = "one", share = { 0, 0 } }, { id = "R2", says = "two", share = { 0, 0.5 } },
      { id = "R3", says = "three", share = { false, 0 } } }
  local list = heat_of({ "a", "b" }, rules)
  has(list, "2 other rules are broken in no variant")
  lacks(list, "R1")
  has(list, "R2")
  list = heat_of({ "a", "b" }, { rules[1] })
  has(list, "no rule is broken in any variant")
  lacks(list, "none tried")
end

case["none tried"] = function()
  local list = heat_of({ "a", "b", "c" }, { { id = "R1", says = "one", share = { 1, false, 0 / 0 } } })
  local hatched = 0
  for _, e in ipairs(all(list, "path", "none-tried")) do
    hatched = hatched + 1
    if #subpaths(e.at.d) < 3 then fail("not hatched") end
  end
  same(hatched, 2, "hatched cells")
  same(#rows_of(list)[1], 1, "filled cells")
  -- steps that nobody tried weigh nothing
  list = heat_of({ "a", "b" }, { { id = "R1", says = "one", share = { 1, 1 } } }, { 3, 0 })
  same(#all(list, "path", "none-tried"), 1, "tried at no step")
end

case["names beside the grid"] = function()
  local says = "the lower edge stands above the snow that lies on the ground in a hard winter"
  local list = heat_of({ "a", "b" }, { { id = "R1", says = says, share = { 1, 1 } },
      { id = "R12 unknown", says = says, share = { 1, 1 } },
      { id = ("L.house"):rep(9), says = says, share = { 1, 1 } } })
  local left, ends, texts_at = rows_of(list)[1][1].x, {}, 0
  for _, e in ipairs(all(list, "text", "rule")) do
    if not e.at["text-anchor"] then
      texts_at = texts_at + 1
      local x, bold = tonumber(e.at.x), e.at["font-weight"]
      local stop = x + host.columns(e.text) * e.at["font-size"] * (bold and 0.6 or 0.53)
      if stop > left then fail("into the grid: ", e.text) end
      if x > 24 and x < ends[e.parent] then fail("on the rule's id: ", e.text) end
      if bold then ends[e.parent] = stop end
    end
  end
  same(texts_at, 3 + 2 + 2, "ids, and two lines of what two of them say")
end

-- ---- both ----------------------------------------------------------------------------------------------------------

case["long names stay on the sheet"] = function()
  local long = ("rack.the_one_behind_the_barn.post_lines.front "):rep(6)
  local far = { { number = 123456, x = 1e-7, y = 1e15, status = "holds", base = true },
      { number = 2 ^ 53 // 1, x = 2e-7, y = 3e15, status = "holds", best = true, pareto = true } }
  whole(xy(far, { title = long, x = { name = long, goal = "least", show = plain },
      y = { name = long, unit = "kN/m2", goal = "most" } }))
  local function wide(v) return string.format("%g kilowatthours each year", v) end
  whole(xy({ { number = 0, x = 1, y = 1, status = "holds" }, { number = 1, x = 2, y = 2, status = "holds" } },
      { x = { name = "a", show = wide }, y = { name = "b", show = wide } }))
  local steps, share = {}, {}
  for i = 1, 60 do steps[i], share[i] = long .. i, 0.5 end
  heat_of(steps, { { id = "L.a_house_rule.12", says = long, share = share } })
  heat_of({ long }, { { id = "R1", says = long, share = { 1 } } })
  same(canvas.cut("abcdefghij", 30, 10), "abcd\u{2026}", "cut")      -- 30 px at 5.6 px a letter: five, one the dots
  same(canvas.cut("abcde", 30, 10), "abcde", "not cut")
end

case["in a document"] = function()
  local d = import "write.document".new("sweep", "Sweep")
  local c = xy { { number = 0, x = 1, y = 1, status = "holds" } }()
  d:picture("scatter", c)
  d:picture("again", c, "out/a [1] <2>.svg")
  local html = import "write.html"(d, {})
  local _, n = html:gsub("<svg[^>]*role=\"img\"", "")
  same(n, 2, "pictures in the page")
  for _, bad in ipairs { "http:", "url(", "<?xml", "<img", "<script" } do
    if html:find(bad, 1, true) then fail("the page has ", bad) end
  end
  for drawn in html:gmatch("<svg.-</svg>") do parse(drawn) end
  local text = import "write.text"(d, { width = 80 })
  same(text, "picture: b against a (drawn by --format html)\npicture: b against a (out/a [1] <2>.svg)\n", "text")
  same(import "write.markdown"(d, {}), "(picture: b against a)\n\n![b against a](<out/a [1] \\<2\\>.svg>)\n",
      "markdown")
  same(import "write.csv"(d, {}), "b against a,\r\nb against a,out/a [1] <2>.svg\r\n", "CSV")
  local json = import "write.json"(d, {})
  for _, want in ipairs { '"kind": "picture"', '"name": "scatter"', '"title": "b against a"', '"file": "out/a' } do
    if not json:find(want, 1, true) then fail("JSON lacks ", want) end
  end
  if json:find("svg xmlns", 1, true) or json:find("canvas", 1, true) then fail("JSON carries the drawing") end
end

local test = case[name] or fail("there is no case '", name, "'")
test()
return true
