-- SPDX-License-Identifier: MIT
-- Racks that stand behind each other, seen from the end of their rows: the gaps between them, the ground, and how the
-- light of the lowest noon falls from each on the next.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local sheets = import "write.sheets"
local set_out = import "structure.set_out"
local in_front = import "places.in_front"
local low_sun = import "places.low_sun"
local models = import "modules.models"
local feet = import "structure.feet"
local lettering = import "draw.lettering"
local on_slope = import "draw.slope"
local seen = import "draw.seen"
local told = import "draw.told"
local own = import "draw.own"

local given, si = record.given, host.si

local like = { kinds = {}, rules = { "R03", "R71" } }

-- ---- what is known of them -----------------------------------------------------------------------------------------

-- Each of them as it stands on the shortest day; where turned modules would then overlap others, at its own tilt.
local function stands_of(list)
  local stands = {}
  for i, rack in ipairs(list) do stands[i] = low_sun.stands(rack) end
  for i = 2, #list do
    if si(low_sun.gap(stands[i - 1], stands[i], list[i].gap_in_front)) < 0 then
      for k, rack in ipairs(list) do stands[k] = low_sun.untouched(rack) end
      break
    end
  end
  return stands
end

-- The racks in front of the last one and that itself, from the front; each with the place of its lower edge behind the
-- first: { rack, name, at, gap = to the one in front, stands = as low_sun has it } in quantities. Racks of a page that
-- stands for several such rows are named by their place in them.
local function chain_of(last, alike)
  local list, rack = { last }, last
  while true do
    local front = in_front.of(rack)
    if not front then break end
    rack = front.rack
    table.insert(list, 1, rack)
  end
  local chain, at, stands = {}, host.literal "0in", stands_of(list)
  for i, one in ipairs(list) do
    local gap = i > 1 and low_sun.gap(stands[i - 1], stands[i], one.gap_in_front) or nil
    if gap then at = at + stands[i - 1].depth + gap end
    chain[i] = { rack = one, name = alike and tostring(i) or one.name, at = at, gap = gap, stands = stands[i] }
  end
  return chain
end

-- The light on a rack behind another, and why it is not known.
local function light_on(rack)
  local angle, why = graph.try(rack, "shadow_angle")
  if not angle then return nil, why end
  return { angle = angle, reach = rack.shadow_reach, clear = rack.shadow_clear, up = rack.shadow_up }
end

-- ---- what is drawn -------------------------------------------------------------------------------------------------

local function plane(one, way)
  return on_slope.plane(one.stands, si(one.at), si(one.stands.edge), way)
end

-- Modules, what lies under them, and the last posts of its row above the ground; gives the ground's places there.
local function draw_rack(d, one, way)
  local rack, at, ground = one.rack, plane(one, way), {}
  local slope, side, gap = si(rack.slope_length), si(models.up_the_slope(rack, rack.modules)), si(rack.row_gap)
  d:layer "S-FRAM"
  d:pen "thin"
  on_slope.slab(d, at, 0, slope, -si(rack.stack_depth), 0)
  d:layer "E-MODL"
  d:pen "medium"
  for k = 0, rack.rows - 1 do
    local from = k * (side + gap)
    on_slope.slab(d, at, from, from + side, 0, si(rack.modules.frame))
  end
  d:layer "S-POST"
  local half = si((feet.section(rack))) / 2
  for _, line in ipairs(set_out.lines(rack)) do
    local p = line.posts[#line.posts]
    local x, low, top = way * si(one.at - one.stands.moved + line.setback), si(p.ground), si(p.top_height)
    d:polyline { x - half, low, x - half, top, x + half, top, x + half, low }
    ground[#ground + 1] = { x, low }
  end
  return ground
end

local function draw_ground(d, ground, reach)
  table.sort(ground, function(a, b) return a[1] < b[1] end)
  table.insert(ground, 1, { ground[1][1] - reach, ground[1][2] })
  ground[#ground + 1] = { ground[#ground][1] + reach, ground[#ground][2] }
  d:layer "C-GRAD"
  d:pen "wide"
  for i = 1, #ground - 1 do d:line(ground[i][1], ground[i][2], ground[i + 1][1], ground[i + 1][2]) end
  for _, k in ipairs { 1, #ground - 1 } do
    d:hatch("earth", { ground[k][1], ground[k][2], ground[k + 1][1], ground[k + 1][2] })
  end
end

-- The light that grazes the upper edge in front, from the air to where its shadow ends: on the modules behind, or at
-- the level of their lower edge.
local function draw_light(d, front, one, way, light)
  local angle = si(light.angle)
  local x, y = plane(front, way)(si(front.rack.slope_length), 0)
  local to_x, to_y
  if si(light.up) > 0 then to_x, to_y = plane(one, way)(si(light.up), 0)
  else to_x, to_y = x + way * si(light.reach), si(one.stands.edge) end
  if si(front.stands.top) <= si(one.stands.edge) then to_x, to_y = x, y end
  local out = 16e-3 * d:ratio()
  d:layer "G-ANNO-LGHT"
  d:pen "thin"
  d:line(x - way * out * math.cos(angle), y + out * math.sin(angle), to_x, to_y)
  local high = d:paper "text"
  d:layer "G-ANNO-TEXT"
  d:text(x - way * out * math.cos(angle), y + out * math.sin(angle) + 0.5 * high, words.show(light.angle, "deg"),
      "text", 0, "middle")
  d:pen "thin"
  d:circle(to_x, to_y, 0.25 * high, true)
  if si(light.up) > 0 or si(light.reach) <= 0 then return end
  d:pen "hidden"                                            -- what of the gap is left in the sun
  local edge = plane(one, way)(0, 0)
  d:line(to_x, to_y, edge, to_y)
end

-- From lower edge to upper edge to the next lower edge, level; and over all.  Marks count from the first lower edge of
-- the whole chain, of which first to last are drawn.
local function draw_along(d, chain, first, last, way, from)
  local places, at, texts = {}, {}, {}
  for _, one in ipairs(chain) do
    places[#places + 1], places[#places + 2] = one.at, one.at + one.stands.depth
  end
  local marks = measure.running(places)
  for i = 2 * first - 1, 2 * last do
    at[#at + 1] = way * si(places[i])
    if #at > 1 then texts[#texts + 1] = (measure.mark(marks[i].at - marks[i - 1].at)) end
  end
  local overall = (measure.mark(marks[2 * last].at - marks[2 * first - 1].at))
  if way < 0 then
    for i = 1, #at // 2 do at[i], at[#at + 1 - i] = at[#at + 1 - i], at[i] end
    for i = 1, #texts // 2 do texts[i], texts[#texts + 1 - i] = texts[#texts + 1 - i], texts[i] end
  end
  d:layer "G-ANNO-DIMS"
  local line = from - d:paper "first"
  local next = d:chain { from = from, line = line, at = at, texts = texts }
  d:chain { from = line, line = next, at = { at[1], at[#at] }, texts = { overall } }
end

local function table_of(chain, first, last)
  local rows = {}
  for i = first, last do
    local one = chain[i]
    local rack, stands = one.rack, one.stands
    local row = { one.name, (measure.level(stands.edge)), (measure.level(stands.top)), words.show(stands.tilt, "deg") }
    local light = i > 1 and light_on(rack)
    row[5] = one.gap and measure.mark(one.gap) or "-"
    if light then
      row[6] = words.show(light.angle, "deg")
      row[7] = measure.mark(light.reach)
      row[8] = si(light.clear) > 0 and measure.mark(light.clear) or "none"
      row[9] = measure.mark(light.up) .. " of " .. measure.mark(rack.slope_length)
    else for k = 6, 9 do row[k] = i > 1 and "not known" or "-" end end
    rows[#rows + 1] = row
  end
  local function right(head) return { head, right = true } end
  local columns = { { "rack" }, right "lower edge", right "upper edge", right "tilt", right "gap in front",
      right "light falls at", right "shadow reaches", right "of the gap in the sun", right "shaded up its modules" }
  if own.left_out() then
    for _, list in ipairs(rows) do table.move(list, 4, #list + 2, 2) end
    table.move(columns, 4, #columns + 2, 2)
  end
  return { columns = columns, rows = rows }
end

-- narrow: on paper with little room beside it.
local function draw(d, chain, first, last, narrow)
  local way, ratio, ground = seen.of(chain[1].rack).way, d:ratio(), {}
  for i = first, last do
    local places = draw_rack(d, chain[i], way)
    table.move(places, 1, #places, #ground + 1, ground)
  end
  draw_ground(d, ground, 12e-3 * ratio)
  for i = first + 1, last do
    local light = light_on(chain[i].rack)
    if light then draw_light(d, chain[i - 1], chain[i], way, light) end
  end
  local left, low = d:box()
  local high = d:paper "text"
  d:layer "G-ANNO-TEXT"
  for i = first, last do
    local one = chain[i]
    d:text(way * si(one.at + one.stands.depth / 2), low - 2 * high, one.name, "text", 0, "middle")
  end
  draw_along(d, chain, first, last, way, low - 2.5 * high)
  local _, under = d:box()
  local put = narrow and lettering.below_each_other or lettering.table
  put(d, left, under - 8e-3 * ratio, table_of(chain, first, last))
end

-- In parts, of which the last rack stands on the next one, too.
local function in_parts(chain)
  return function(n)
    if #chain - 1 < n then return nil end
    local list, first = {}, 1
    for i = 1, n do
      local last, from = 1 + (#chain - 1) * i // n, first
      list[i] = { wide = si(chain[last].at + chain[last].stands.depth - chain[from].at),
          draw = function(d, narrow) draw(d, chain, from, last, narrow) end }
      first = last
    end
    return list
  end
end

-- ---- the view ------------------------------------------------------------------------------------------------------

-- racks: the last ones of all rows that a page stands for.
local function names_of(racks)
  local list = {}
  for i, last in ipairs(racks) do
    local names = {}
    for k, one in ipairs(chain_of(last)) do names[k] = one.name end
    list[i] = table.concat(names, ", ")
  end
  return "Racks are numbered from the front: " .. table.concat(list, "; ") .. "."
end

local function notes_of(chain)
  local list, why = {}, nil
  for i = 2, #chain do
    local light, unknown = light_on(chain[i].rack)
    if not light then why = why or unknown end
  end
  list[1] = "Seen from the end of the rows, at their last posts; what stands in the ground, the side elevations " ..
      "show. " .. (own.left_out() and "Levels differ from row to row: those of edges are in the sheet index." or
      own.zero() .. " Edges are those of the modules' underside.")
  list[2] = "The modules face " .. words.show(chain[1].rack.true_azimuth, "deg") .. " true, to the " ..
      (seen.of(chain[1].rack).way > 0 and "left" or "right") .. " here."
  local turned = {}
  for _, one in ipairs(chain) do
    local positions, at = import("structure.tilted").positions(one.rack), one.stands.at
    if at then
      list[#list + 1] = "The modules of " .. words.title(one.rack) .. " are turned with the seasons: drawn, and the " ..
          "light worked out, as on the shortest day, " .. import("seasons.positions").words(at) .. ". What holds " ..
          "them so is not drawn."
    elseif positions then turned[#turned + 1] = words.title(one.rack) end
  end
  if #turned > 0 then
    list[#list + 1] = "! Drawn at the tilt that each rack has by itself, since " .. (low_sun.day() and "as they are " ..
        "turned on the shortest day racks would overlap" or "without a latitude the shortest day is not known") ..
        ". The modules of " .. import("model.util").list(turned) .. " are turned with the seasons: a steeper " ..
        "winter's shadow is longer."
  end
  if why then
    list[#list + 1] = "The light is not drawn on all: " .. host.message(why) ..
        (why.who and "; ask " .. why.who or "") .. "."
  end
  local noon = record.only "site" and graph.try(record.root.site, "noon_sun")
  if noon and si(noon) > 0 then
    list[#list + 1] = "Light: noon of the shortest day, when the sun stands " .. words.show(noon, "deg") ..
        " high at " .. words.show(record.root.site.noon_bearing, "deg") .. " true. At any other hour of that day it " ..
        "stands lower, and shadows reach further."
  end
  list[#list + 1] = "The shadow's reach is counted behind the upper edge in front, at the level of the lower edge " ..
      "behind it. Trees, hills and buildings are not in it."
  return list
end

return function(last, on)
  local chain = chain_of(last, on.alike)
  local first, notes = chain[1], notes_of(chain)
  if on.alike then notes[#notes + 1] = on.alike == true and "" or names_of(on.alike) end
  local low = math.huge
  for _, one in ipairs(chain) do
    for _, line in ipairs(set_out.lines(one.rack)) do low = math.min(low, si(line.posts[#line.posts].ground)) end
  end
  local racks = {}
  for i, one in ipairs(chain) do racks[i] = one.rack end
  local total = si(chain[#chain].at + chain[#chain].stands.depth)
  local _, foot = told.printed({ name = "rows behind each other " .. last.name, title = "Rows of racks",
      whole = function(d)
        local t = table_of(chain, 1, #chain)
        d:table(t.columns, t.rows)
      end }, on)
  return { seen = (#chain > 2 and "and those" or "and the one") .. " in front of " .. (on.alike and "each" or "it") ..
      ", " .. seen.from(first.rack), rough = words.metric() and 200 or 192, wide = total,
      tall = si(first.rack.slope_length) * math.sin(si(first.stands.tilt)),
      notes = told.notes(like, on, notes, foot, not on.alike and racks or nil), draw = function(d, narrow)
        draw(d, chain, 1, #chain, narrow)
      end,
      parts = in_parts(chain) }
end
