-- SPDX-License-Identifier: MIT
-- A section of a trench: the ground, the warning tape, the conduits of the runs that lie in it, and how deep each lies.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local sheets = import "write.sheets"
local lettering = import "draw.lettering"
local told = import "draw.told"

local given, si = record.given, host.si
local nothing = host.literal "0in"

-- What the section shows wrong or not at all where one of these does not hold.
local like = { kinds = { "trench" }, rules = { "R57", "R58", "R06", "R07", "R80" }, build = true }

-- ---- what is known of it -------------------------------------------------------------------------------------------

local function runs_in(trench)
  local list = {}
  for _, run in ipairs(record.all "run") do if run.through == trench then list[#list + 1] = run end end
  return list
end

-- A conduit by its inside, which the code's table has.
local function inside_of(run)
  for _, row in ipairs(host.table "conduit_ch9_t4") do
    if row.kind == run.conduit.kind and row.size == run.conduit.size then return si(row.diameter) end
  end
end

-- What a conduit is and holds, as the sheets of wire and of digging say it.
local function holds(run)
  local text = run.conduit.kind .. " " .. run.conduit.size .. " of " .. words.title(run)
  local count, ground = graph.try(run, "conductors"), graph.try(run, "ground_wire")
  text = text .. ": " .. (count and count .. " x " or "") .. words.show(run.wire) .. " " .. run.insulation ..
      (ground and " and " .. words.show(ground) .. " ground" or "")
  local least = graph.try(run, "least_cover")
  return text .. (least and "; least cover " .. words.of(run, "least_cover") or "; its least cover is not known")
end

-- Conduits side by side, as far apart as they are wide: { run, x, radius, round }.  What no table knows the width of is
-- drawn as wide as the others.
local function conduits_of(trench)
  local list, at, most = {}, 0, 0
  for i, run in ipairs(runs_in(trench)) do
    local wide = inside_of(run)
    list[i] = { run = run, wide = wide }
    most = math.max(most, wide or 0)
  end
  if most == 0 then most = 0.03 end
  for _, one in ipairs(list) do
    local radius = (one.wide or most) / 2
    one.x, one.radius = at + radius, radius
    at = at + 2 * radius + most
  end
  for _, one in ipairs(list) do one.x = one.x - (at - most) / 2 end
  return list, math.max(0, at - most), most
end

-- ---- what is drawn -------------------------------------------------------------------------------------------------

-- Depths from the finished ground, in marks of one tape; the tape where it lies between the ground and the conduit.
local function depths(trench)
  local tape, places = given(trench, "tape_above_conduit"), { nothing }
  if tape and tape > nothing and tape < trench.cover then places[2] = trench.cover - tape end
  places[#places + 1] = trench.cover
  return places, measure.running(places)
end

local function draw_depths(d, trench, x)
  local places, marks = depths(trench)
  local at, texts = {}, {}
  for i = #places, 1, -1 do at[#at + 1] = -si(places[i]) end
  for i = #marks, 2, -1 do texts[#texts + 1] = (measure.mark(marks[i].bay)) end
  if #at < 2 or at[1] == 0 then return end                  -- a conduit at the ground itself
  d:layer "G-ANNO-DIMS"
  local line = x - d:paper "first"
  local next = d:chain { upright = true, from = x, line = line, at = at, texts = texts }
  if #at > 2 then
    d:chain { upright = true, from = line, line = next, at = { at[1], at[#at] },
        texts = { (measure.mark(marks[#marks].at)) } }
  end
end

-- Sides that end without a bottom, where nobody declared how far they go on.
local function draw_sides(d, half, low, bottom)
  local step = 0.4 * d:paper "text"
  d:layer "C-GRAD"
  d:pen "medium"
  if bottom then
    d:polyline { -half, 0, -half, low, half, low, half, 0 }
    return
  end
  for way = -1, 1, 2 do
    local x = way * half
    d:pen "medium"
    d:line(x, 0, x, low)
    d:pen "thin"
    d:polyline { x - 2 * step, low, x - step / 2, low, x - step / 4, low + step, x + step / 4, low - step, x + step / 2,
        low, x + 2 * step, low }
  end
end

local function draw_crossings(d, trench, x, top)
  local rows = {}
  for c in record.each(given(trench, "crosses") or {}) do
    rows[#rows + 1] = { words.show(c.at), c.what, "dig by hand; keep clear of the marks" }
  end
  if #rows == 0 then return end
  lettering.table(d, x, top, { columns = { { "from the array", right = true }, { "crosses" }, { "" } }, rows = rows })
end

-- What the conduits lie in: to its upper edge, with the dimensions of what is below them and above. They stand between
-- the trench and the chain of depths, which has another zero.
local function draw_bedding(d, half, bedding, cover, most)
  local below, above = si(bedding.below), given(bedding, "above")
  local over = above and si(above) or 0
  local top, bottom, line = -cover + over, -cover - most - below, -half - 6e-3 * d:ratio()
  d:layer "C-GRAD"
  d:pen "thin"
  if over > 0 then d:line(-half, top, half, top) end
  d:layer "G-ANNO-DIMS"
  if below > 0 then
    d:chain { upright = true, from = -half, line = line, at = { bottom, bottom + below },
        texts = { (measure.mark(bedding.below)) } }
  end
  if over > 0 then
    d:chain { upright = true, from = -half, line = line - (below > 0 and 5e-3 or 0) * d:ratio(), at = { -cover, top },
        texts = { (measure.mark(above)) } }
  end
end

-- Half of its width, and how low it is drawn; whether it has a width, and a bottom.
local function size_of(trench, wide, most, ratio)
  local width, bedding, cover = given(trench, "width"), given(trench, "bedding"), si(trench.cover)
  local half = width and si(width) / 2 or math.max(0.15, wide / 2 + 1.5 * most)
  local low = -cover - (bedding and most + si(bedding.below) or math.max(2.5 * most, 10e-3 * ratio))
  return half, low, width, bedding
end

local function draw(d, trench, narrow)
  local ratio, cover = d:ratio(), si(trench.cover)
  local conduits, wide, most = conduits_of(trench)
  local half, low, width, bedding = size_of(trench, wide, most, ratio)
  local reach = 16e-3 * ratio
  d:layer "C-GRAD"
  d:pen "wide"
  d:line(-half - reach, 0, half + reach, 0)
  d:hatch("earth", { -half - reach, 0, -half, 0 })
  d:hatch("earth", { half, 0, half + reach, 0 })
  draw_sides(d, half, low, bedding)
  if bedding then draw_bedding(d, half, bedding, cover, most) end
  local labels = {}
  local function label(x, y, text, level) labels[#labels + 1] = { x, y, text, level = level } end
  label(half + 0.6 * reach, 0, "finished ground; above it: " .. trench.under, true)
  local tape = given(trench, "tape_above_conduit")
  d:layer "E-COND"
  if tape and tape < trench.cover then
    local y = -si(trench.cover - tape)
    d:pen "wide"
    d:line(-half * 0.5, y, half * 0.5, y)
    label(half * 0.5, y, "warning tape " .. measure.cut(tape) .. " above the conduit, " ..
        measure.cut(trench.cover - tape) .. " down")
    label(half, y / 2, "soil put back")
  elseif cover > 0 then
    label(half, -cover / 2, tape and "soil put back; the tape would not lie under the ground" or
        "soil put back; no warning tape is declared")
  end
  d:pen "medium"
  for i, one in ipairs(conduits) do
    d:circle(one.x, -cover - one.radius, one.radius)
    local last = i == #conduits
    label(one.x + (last and one.radius or 0), -cover - one.radius * (last and 1 or 2), holds(one.run))
  end
  d:layer "C-GRAD"
  d:pen "hidden"
  d:line(-half, -cover, half, -cover)
  label(half * 0.9, -cover, "top of the conduit " .. measure.up(trench.cover) .. " down")
  d:layer "G-ANNO-TEXT"
  label(half, low + 2e-3 * ratio, import("site.digging").deeper(trench))
  if bedding then
    label(half * 0.8, low + math.max(si(bedding.below) * 0.6, 1e-3 * ratio), import("site.digging").bed(bedding))
  end
  draw_depths(d, trench, -half - reach)
  if width then
    d:layer "G-ANNO-DIMS"
    d:chain { from = low, line = low - d:paper "first", at = { -half, half }, texts = { (measure.mark(width)) } }
  end
  local left, under, right = d:box()
  d:layer "G-ANNO-TEXT"
  lettering.labels(d, right + 5e-3 * ratio, labels, true, lettering.beside(narrow, 70e-3) * ratio)
  local _, lowest = d:box()
  draw_crossings(d, trench, left, math.min(under, lowest) - 10e-3 * ratio)
end

-- ---- the view ------------------------------------------------------------------------------------------------------

-- What is a sign here, since it is not declared.
local undeclared = {
  both = " How wide the trench is and what the conduit is bedded on is not declared: its sides stand as a sign, and " ..
      "it has no bottom here.",
  width = " How wide the trench is is not declared: its sides stand as a sign.",
  bedding = " What the conduit is bedded on is not declared: the trench has no bottom here." }

local function notes_of(trench)
  local crosses = given(trench, "crosses")
  local width, bedding = given(trench, "width"), given(trench, "bedding")
  local list = { "Length of " .. words.title(trench) .. ": " .. words.show(trench.length) .. ".",
      "Cover is the soil from the top of the conduit to the finished ground." .. (undeclared[width and
      (bedding and "" or "bedding") or (bedding and "width" or "both")] or "") }
  if not crosses then list[#list + 1] = "! Nobody said what it crosses: ask before digging."
  elseif #crosses == 0 then list[#list + 1] = "It crosses nothing known." end
  local several = #runs_in(trench)
  if several == 0 then list[#list + 1] = "No run is declared that lies in it."
  else
    list[#list + 1] = "A conduit is drawn by its inside; its wall comes on top of that." .. (several > 1 and
        " Which lies where, and how far apart, is not declared." or "")
  end
  list[#list + 1] = "Do not cover before inspection."
  local digging = import "site.digging"
  local asks, dig, sum = digging.asked(trench), digging.waits(), digging.too_narrow(trench)
  if sum then list[#list + 1] = "! " .. digging.narrow(trench, sum) end
  if asks then list[#list + 1] = "! So deep a trench has " .. asks .. "." end
  if dig then list[#list + 1] = "! DO NOT DIG BY THIS: " .. dig .. "." end
  return list
end

return function(trench, on)
  local why = sheets.withheld(like, on.groups)
  if why then return nil, why end
  local _, foot = told.printed({ name = "section of " .. words.title(trench), title = "Trench section",
      whole = function(d) for _, run in ipairs(runs_in(trench)) do d:para(holds(run)) end end }, on)
  local _, wide = conduits_of(trench)
  return { seen = "cut square to its length, seen from the array", rough = words.metric() and 20 or 24,
      wide = math.max(0.3, wide), tall = si(trench.cover), notes = told.notes(like, on, notes_of(trench), foot),
      draw = function(d, narrow) draw(d, trench, narrow) end }
end
