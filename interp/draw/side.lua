-- SPDX-License-Identifier: MIT
-- The side elevation: a rack from the end of its row, cut at its last posts.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local feet = import "structure.feet"
local rails = import "rails.plan"
local models = import "modules.models"
local lettering = import "draw.lettering"
local seen = import "draw.seen"
local told = import "draw.told"
local foot = import "draw.foot"
local own = import "draw.own"
local braces = import "draw.braces"
local on_slope = import "draw.slope"

local given, si = record.given, host.si
local zero = host.literal "0in"

-- ---- what is known of it -------------------------------------------------------------------------------------------

-- The last post of each line, from the lower edge up: { post, line, at = setback, foot, ground, top, width } in metres.
local function posts_of(rack)
  local list = {}
  for i, line in ipairs(set_out.lines(rack)) do
    local p = line.posts[#line.posts]
    local width, round = feet.section(rack, p.line)
    list[i] = { post = p, line = line, at = si(line.setback), ground = si(p.ground), top = si(p.top_height),
        foot = si(p.top_height - p.cut_length), width = si(width), round = round, footing = feet.footing(p) }
  end
  return list
end

-- The lower edge at those posts: a row that slopes lies higher or lower there than at its west end.
local function edge_at(rack, posts)
  local slope = given(rack, "row_slope")
  local edge = si(rack.edge_height)
  return slope and edge + slope * si(posts[1].post.plan_offset) or edge, slope
end

local function height_limit(rack, outcomes)
  for i = 1, #outcomes do
    local o = outcomes[i]
    local f = o.rule.id == "R03" and o.proxy == rack and o.finding
    if f and f.value ~= nil and f.limit ~= nil then return f end
  end
end

-- ---- the parts above the posts -------------------------------------------------------------------------------------

local function draw_modules(d, rack, at)
  local side, gap, thick = si(models.up_the_slope(rack, rack.modules)), si(rack.row_gap), si(rack.modules.frame)
  d:layer "E-MODL"
  d:pen "medium"
  for k = 0, rack.rows - 1 do
    local from = k * (side + gap)
    on_slope.slab(d, at, from, from + side, 0, thick)
  end
end

-- Rails and rafter by their sizes; of a kit the room that its own parts take.
local function draw_frame(d, rack, at, posts)
  d:layer "S-FRAM"
  d:pen "medium"
  local slope = si(rack.slope_length)
  if given(rack, "stack") then
    on_slope.slab(d, at, 0, slope, -si(rack.stack), 0)
    return
  end
  local part = rails.part(rack)
  local size = not part and calc.dressed { section = rack.rails.size }
  local deep, wide
  if part then deep, wide = si(part.depth), si(part.depth)
  elseif rack.rails.face == "edge" then deep, wide = si(size.depth), si(size.breadth)
  else deep, wide = si(size.breadth), si(size.depth) end
  local known = graph.try(rack, "rail_places")
  for _, rail in ipairs(known and known.rails or {}) do
    local up = si(rail.up)
    on_slope.slab(d, at, up - wide / 2, up + wide / 2, -deep, 0)
  end
  local rafter, over = si(calc.dressed { section = rack.rafter }.depth), (si(rack.rafter_length) - slope) / 2
  on_slope.slab(d, at, -over, slope + over, -deep - rafter, -deep)
  local beam = given(rack, "beam")
  if not beam then return end
  local b = calc.dressed { section = beam }
  local half, tall = si(b.breadth) / 2, si(b.depth)
  local saddle = given(rack, "saddle")
  local way = seen.of(rack).way
  for _, p in ipairs(posts) do
    local low = p.top + (saddle and si(saddle) or 0)
    if given(rack, "beam_on") == "side" then low = p.top - tall end
    local x = way * p.at + (given(rack, "beam_on") == "side" and p.width / 2 + half or 0)
    d:polyline({ x - half, low, x + half, low, x + half, low + tall, x - half, low + tall }, true)
  end
end

-- The tilt at the upper face of the modules, in the air: a level line, an arc, the angle.
local function draw_tilt(d, rack, at, way)
  local up, tilt = si(rack.slope_length) * 0.62, si(rack.tilt)
  if tilt < 0.02 then return end
  local x, y = at(up, si(rack.modules.frame))
  local long, ring = 30e-3 * d.ratio, 22e-3 * d.ratio
  local d = d.d
  d:layer "G-ANNO-DIMS"
  d:pen "thin"
  d:line(x, y, x - way * long, y)
  if way > 0 then d:arc(x, y, ring, math.pi, math.pi + tilt) else d:arc(x, y, ring, -tilt, 0) end
  d:text(x - way * ring, y + 0.5 * d:paper "text", words.show(rack.tilt, "deg"), "text", 0, way > 0 and "left" or
      "right")
end

-- ---- the ground ----------------------------------------------------------------------------------------------------

-- Places of the line of the ground, from left to right.
local function ground_line(posts, way, left, right)
  local list = {}
  for _, p in ipairs(posts) do list[#list + 1] = { way * p.at, p.ground } end
  table.sort(list, function(a, b) return a[1] < b[1] end)
  table.insert(list, 1, { left, list[1][2] })
  list[#list + 1] = { right, list[#list][2] }
  return list
end

-- half: of what stands in the ground at its first and its last place. The line of the frost is drawn outside of the
-- posts, of one post on its lower side (1: left, 2: right), since dimensions stand on the other.
local function draw_ground(d, line, frost, half, side)
  d:layer "C-GRAD"
  for i = 1, #line - 1 do
    local a, b = line[i], line[i + 1]
    d:pen "wide"
    d:line(a[1], a[2], b[1], b[2])
    local out = i == 1 and { a[1], a[2], b[1] - half[1], b[2] } or i == #line - 1 and { a[1] + half[2], a[2], b[1],
        b[2] }
    if out and out[3] > out[1] then d:hatch("earth", out) end
    if frost and out and (#line > 3 or i == side) then
      d:pen "hidden"
      d:line(out[1], a[2] - frost, out[3], b[2] - frost)
    end
  end
end

-- ---- dimensions ----------------------------------------------------------------------------------------------------

-- Heights along a post, from its foot or from the ground, whichever is lower: rounded from that zero.
local function post_chain(p)
  local kind = feet.kind(p.footing)
  if kind ~= "hole" and kind ~= "driven" then
    return { p.foot, p.top }, { (measure.mark(p.post.cut_length)) }
  end
  local places = { { p.foot, zero }, { p.ground }, { p.top } }
  local base = host.quantity(p.foot, "length")
  for _, place in ipairs(places) do place[2] = host.quantity(place[1], "length") end
  table.sort(places, function(a, b) return a[1] < b[1] end)
  base = places[1][2]
  local at, from = {}, {}
  for i, place in ipairs(places) do at[i], from[i] = place[1], place[2] - base end
  local marks, texts = measure.running(from), {}
  for i = 2, #marks do texts[i - 1] = si(host.abs(marks[i].bay)) > 0 and (measure.mark(marks[i].bay)) or "" end
  return at, texts
end

-- Whether a brace goes through the text of a chain at x that stands between two heights.
local function braced_there(d, braced, x, low, high)
  local text = d:paper "text"
  for _, one in ipairs(braced) do
    local b = one.line
    local function y_at(at) return b.y1 + (b.y2 - b.y1) * (at - b.x1) / (b.x2 - b.x1) end
    local y1, y2 = y_at(x - 1.6 * text), y_at(x)
    if math.min(y1, y2) - b.half < high + 0.2 * text and math.max(y1, y2) + b.half > low - 0.2 * text then
      return true
    end
  end
end

-- Whether the text of the topmost part of a chain at x has room in it, below what the posts bear, under(x), and beside
-- the braces.
local function has_room(d, heights, text, x, under, braced)
  local low, top, wide, high = heights[#heights - 1], heights[#heights], d:wide(text), d:paper "text"
  local middle = (low + top) / 2
  return wide + 0.8 * high + 0.7 * d:paper "tick" < top - low and
      middle + wide / 2 + 0.4 * high < math.min(under(x), under(x - 1.8 * high)) and
      not braced_there(d, braced, x, middle - wide / 2, middle + wide / 2)
end

-- How high the underside of rails and rafter lies at a place along the view.
local function underside(rack, edge, way)
  local tilt, deep = si(rack.tilt), si(rack.stack_depth)
  local c, s = math.cos(tilt), math.sin(tilt)
  return function(x) return edge + (way * x - deep * s) / c * s - deep * c end
end

-- From the lower edge to the lines of posts and the upper edge, level, in the order in which they stand: a steep rack
-- may have its last posts behind its upper edge.
local function across_chain(rack, posts, way)
  local front = posts[1].line.setback
  local list = { { 0, zero - front }, { si(rack.plan_depth), rack.plan_depth - front } }
  for _, p in ipairs(posts) do list[#list + 1] = { p.at, p.line.setback - front } end
  table.sort(list, function(a, b) return a[1] < b[1] end)
  local places, at, texts = {}, {}, {}
  for i, one in ipairs(list) do places[i], at[i] = one[2], way * one[1] end
  local marks = measure.running(places)
  for i = 2, #marks do
    local bay = marks[i].at - marks[i - 1].at
    texts[i - 1] = si(bay) > 0 and (measure.mark(bay)) or ""
  end
  local overall = (measure.mark(marks[#marks].at - marks[1].at))
  if way < 0 then
    local turned_at, turned = {}, {}
    for i = 1, #at do turned_at[i] = at[#at + 1 - i] end
    for i = 1, #texts do turned[i] = texts[#texts + 1 - i] end
    at, texts = turned_at, turned
  end
  return at, texts, overall
end

-- ---- labels --------------------------------------------------------------------------------------------------------

local function level(v) return (measure.level(v)) end

-- What a chain would say of a post that has none.
local function heights(p)
  local above = ", " .. measure.inches(p.post.above_ground) .. " above ground"
  local kind = feet.kind(p.footing)
  if kind ~= "hole" and kind ~= "driven" then return above end
  return above .. " and " .. measure.inches(p.post.embedment) .. " in it"
end

-- How high things stand and what they are: { x, y, text } of the lower side and of the upper one; clear: how far marks
-- of the ground stand from a post at least.
local function labels(rack, posts, at, way, slope, frost, limit, chained, braced, clear)
  local low, high = {}, {}
  local x, y = at(0, 0)
  low[#low + 1] = { x, y, level = true, slope and own.at("lower edge,", level(rack.edge_height) ..
      " at the west end of the row") or own.at("lower edge", level(rack.edge_height)) }
  x, y = at(si(rack.slope_length), 0)
  high[#high + 1] = { x, y, level = true, own.at(slope and "top edge, highest" or "top edge", level(rack.top_edge)) }
  x, y = at(si(rack.slope_length) * 0.9, -si(rack.stack_depth) / 2)
  high[#high + 1] = { x, y, foot.stack(rack) }
  for i, p in ipairs(posts) do
    local list = (i == 1 or i * 2 <= #posts) and low or high
    local outer = list == low and -way or way
    local edge_x = way * p.at + outer * p.width / 2
    local name = own.name(rack, p.post)
    list[#list + 1] = { way * p.at, p.top, level = true, own.at("top of " .. name, level(p.post.top_height)) }
    list[#list + 1] = { edge_x, p.ground + (p.top - p.ground) * 0.45, name .. ": " ..
        foot.item(rack, p.post.line) .. ", cut " .. measure.cut(p.post.cut_length) ..
        (chained[i] and "" or heights(p)) }
    list[#list + 1] = { way * p.at + outer * math.max(foot.bare(p, outer), clear), p.ground,
        level = true, own.at("ground at " .. name, level(p.post.ground)) }
    -- What a post between others stands in is said of the last one, where that is the same.
    if i == 1 or i == #posts or p.footing ~= posts[#posts].footing then
      for _, one in ipairs(foot.labels(p, way * p.at, outer)) do list[#list + 1] = one end
    end
  end
  for _, one in ipairs(braced) do
    high[#high + 1] = { one.x, one.y, braces.says(one) }
  end
  if limit then high[#high + 1] = { limit.x, limit.y, limit.text } end
  if frost then low[#low + 1] = { frost.x, frost.y, frost.text } end
  return low, high
end

-- ---- the view ------------------------------------------------------------------------------------------------------

local function frost_of()
  local site = record.only "site"
  return site and given(site, "frost") or nil
end

-- narrow: on paper with little room beside it.
local function draw(rack, outcomes, d, ratio, narrow)
  local way, posts = seen.of(rack).way, posts_of(rack)
  local edge, slope = edge_at(rack, posts)
  local at = on_slope.plane(rack, 0, edge, way)
  local frost, finding = frost_of(), height_limit(rack, outcomes)
  for i, p in ipairs(posts) do
    if feet.kind(p.footing) == "ballast" then
      local all = p.footing.carries == "station"
      local front, back = foot.block(p.footing, all and posts[1].at or p.at, all and posts[#posts].at or p.at)
      p.block = { math.min(way * front, way * back), math.max(way * front, way * back), x = way * p.at,
          drawn = i == 1 or not all }
    end
    foot.draw(d, p, way * p.at)
  end
  local stands = {}
  for _, p in ipairs(posts) do stands[p.post.station] = way * p.at end
  local braced = braces.draw(d, rack, stands)
  draw_frame(d, rack, at, posts)
  draw_modules(d, rack, at)
  local left, low, right, high = d:box()
  local reach = (narrow and 8e-3 or 12e-3) * ratio
  local ground = ground_line(posts, way, left - reach, right + reach)
  local ends = { posts[1], posts[#posts] }
  if way < 0 then ends = { ends[2], ends[1] } end
  draw_ground(d, ground, frost and si(frost), { foot.half(ends[1]), foot.half(ends[2]) },
      way > 0 and 1 or 2)
  draw_tilt({ d = d, ratio = ratio }, rack, at, way)
  -- The limit of the place stands as far above the top edge as the rule found it.
  local limit
  if finding then
    local y = si(rack.top_edge) + si(finding.limit - finding.value)
    if y < high + 20e-3 * ratio then
      d:layer "C-GRAD"
      d:pen "phantom"
      d:line(left - reach, y, right + reach, y)
      limit = { x = way > 0 and right + reach / 2 or left - reach / 2, y = y, text = "limit of the place " ..
          words.show(finding.limit) }
    end
  end
  d:layer "G-ANNO-DIMS"
  local first, under = d:paper "first", select(2, d:box())
  local inside = posts[#posts].at - posts[1].at - foot.half(posts[1]) - foot.half(posts[#posts])
  local off_post = #posts > 1 and math.min(first, 0.3 * inside) or first
  local chained, under_rafter = {}, underside(rack, edge, way)
  for i, p in ipairs(posts) do
    -- Inside, between the posts, where there is room for two chains and their texts; of the last line towards the
    -- first. Else the labels say it.
    local inner = (#posts > 1 and i == #posts) and -way or way
    local heights, texts = post_chain(p)
    local from = way * p.at + inner * foot.half(p)
    local stands = from + inner * off_post
    if (i == 1 or i == #posts) and (#posts == 1 or inside > 6 * d:paper "text" and
        has_room(d, heights, texts[#texts], stands, under_rafter, braced)) then
      chained[i] = true
      d:chain { upright = true, from = from, line = stands, at = heights, texts = texts }
    end
  end
  d:layer "G-ANNO-TEXT"
  local frost_label = frost and { x = ground[1][1] + reach * (way > 0 and 0.3 or 0), y = ground[1][2] - si(frost),
      text = "frost " .. measure.up(frost) .. " deep" }
  if frost and way < 0 then frost_label.x, frost_label.y = ground[#ground][1] - reach * 0.3,
        ground[#ground][2] - si(frost) end
  local lower, upper = labels(rack, posts, at, way, slope, frost_label, limit, chained, braced, 5e-3 * ratio)
  local l, _, r = d:box()
  local off, wide = 5e-3 * ratio, lettering.beside(narrow, 44e-3) * ratio
  lettering.labels(d, way > 0 and l - off or r + off, lower, way < 0, wide)
  lettering.labels(d, way > 0 and r + off or l - off, upper, way > 0, wide)
  d:layer "G-ANNO-DIMS"                                       -- below the labels: no leader goes through its texts
  local line = select(2, d:box()) - first
  local places, texts, overall = across_chain(rack, posts, way)
  local next = d:chain { from = under, line = line, at = places, texts = texts }
  d:chain { from = line, line = next, at = { places[1], places[#places] }, texts = { overall } }
end

-- What this view does not show, in words.
local function not_shown(rack, posts)
  local list = {}
  list[1] = "Cut at " .. own.name(rack, posts[#posts].post) .. ", the last posts of the row; the other posts stand " ..
      "on the plan. " .. own.zero()
  list[#list + 1] = "The modules face " .. words.show(rack.true_azimuth, "deg") .. " true, to the " ..
      (seen.of(rack).way > 0 and "left" or "right") .. " here."
  if given(rack, "row_slope") then list[#list + 1] = "The row slopes: heights differ from post to post." end
  if not given(rack, "stack") and not graph.try(rack, "rail_places") then
    list[#list + 1] = "Where its rails lie is not known: they are not drawn."
  end
  local on = {}
  for _, p in ipairs(posts) do on[p.post.station] = true end
  braces.told(rack, on, list)
  local positions = import("structure.tilted").positions(rack)
  if positions then
    local tilts = {}
    for i, p in ipairs(positions) do tilts[i] = words.show(p.tilt, "deg") end
    list[#list + 1] = "Drawn at " .. words.show(rack.tilt, "deg") .. "; its modules are turned to " ..
        table.concat(tilts, ", ") .. " with the seasons."
  end
  if not frost_of() then list[#list + 1] = "How deep the frost goes is not known: no line of it is drawn." end
  return list
end

return function(rack, on)
  local outcomes = on.outcomes
  local posts = posts_of(rack)
  local sheet, why = told.sheet("posts", on.groups)
  local notes = not_shown(rack, posts)
  if why and record.root.stage ~= "quote" then notes[#notes + 1] = "! DO NOT BUILD FROM THIS: " .. why .. "." end
  local finding = height_limit(rack, outcomes)
  notes[#notes + 1] = finding and "Height against the place's limit: " .. words.finding(finding) .. "." or
      "No limit of height of the place is known here."
  local low = math.huge
  for _, p in ipairs(posts) do low = math.min(low, p.foot, p.ground) end
  local _, foot_notes = told.printed(sheet, on)
  return { seen = seen.from(rack), rough = words.metric() and 50 or 48,
      wide = si(rack.plan_depth), tall = si(rack.top_edge) - low,
      notes = told.notes(sheet, on, notes, foot_notes, told.racks(on, rack)),
      draw = function(d, narrow) draw(rack, outcomes, d, d:ratio(), narrow) end }
end
