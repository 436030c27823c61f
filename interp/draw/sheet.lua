-- SPDX-License-Identifier: MIT
-- A sheet without its view: papers, the frame, the strip with titles on the right, or of lists below.
local words = import "write.words"
local strip = import "draw.strip"
local lettering = import "draw.lettering"
local sheet = {}

local function mm(v) return host.number_in(v, "mm") / 1000 end

-- ---- papers --------------------------------------------------------------------------------------------------------

local function of_row(row, turned, below)
  local long, short = mm(row.width), mm(row.height)
  return { name = row.name, below = below, small = row.use == "lists", width = turned and short or long,
      height = turned and long or short, margin = mm(row.margin), binding = mm(row.binding) }
end

-- The papers in the order in which they are tried: the one that is asked for alone, else those of the family, for
-- lists first the paper of lists. Lists have no seal and no scale: on that paper their strip is below, and they stand
-- upright or, where tables are too wide for that, lie.  about: { paper = name, kind = "view", "index" or "list" }
function sheet.papers(about)
  local list, family = {}, words.metric() and "metric" or "US"
  local function put(row)
    local below = row.use == "lists" and about.kind ~= "view"
    if below then list[#list + 1] = of_row(row, true, true) end
    list[#list + 1] = of_row(row, false, below)
  end
  for _, row in ipairs(host.table "drawing_sheets") do
    if about.paper and row.name == about.paper or not about.paper and row.family == family and
        (row.use == "plans" or about.kind == "list") then put(row) end
  end
  return list
end

-- The largest paper that is tried, for who is told that it has no room on it.
function sheet.largest(about)
  local list = sheet.papers(about)
  return about.paper and about.paper .. " paper" or "the largest sheet, " .. list[#list].name
end

-- The name of a paper as it is written on a command line.
function sheet.named(word)
  local names, near = {}, nil
  for i, row in ipairs(host.table "drawing_sheets") do
    names[i] = row.name
    if row.name == word then return word end
    if row.name:lower() == word:lower() then near = row.name end
  end
  near = near or host.nearest(word, names)
  host.raise { code = "U008", text = "--paper " .. word .. ": there is no such paper", help = near and
      "did you mean '" .. near .. "'?" or "there are " .. import("model.util").list(names) }
end

-- ---- the strip on the right ----------------------------------------------------------------------------------------

-- Notes without room in the strip stand below what is drawn where they are no more lines than that there.
local BELOW = { small = 14, large = 6 }

local function below(d, rest, left, right, low, most)
  local list = {}
  for i, text in ipairs(rest) do list[i] = { text, "text" } end
  local lines = strip.broken(d, list, math.min(right - left - 4e-3, lettering.LONGEST))
  if #lines > most then return nil end
  local top = low + 2e-3 + strip.height(d, lines)
  strip.write(d, left + 2e-3, top, lines)
  d:line(left, top + 1e-3, right, top + 1e-3)
  return top + 1e-3
end

-- What one must not pass over stands on the page itself, behind what the view says of itself.
local function warnings_first(notes)
  local first, others = {}, {}
  for i, text in ipairs(notes) do table.insert((i == 1 or text:find "^! ") and first or others, text) end
  return table.move(others, 1, #others, #first + 1, first)
end

-- Notes of a view in its strip, and where that is full below the view, beside the strip or behind the page: gives those
-- that stand behind. at.room gives way to the others.
local function write_notes(d, texts, paper, about, at)
  local function broken()
    local list = {}
    for i, text in ipairs(texts) do list[i] = { text, "text" } end
    return strip.broken(d, list, at.seal)
  end
  if paper.small then texts = warnings_first(texts) end
  local room, behind = at.room, nil
  local here, rest = strip.shared(d, broken(), at.top, at.floor)
  local function others() return table.move(texts, rest[1].of, #texts, 1, {}) end
  local under = #rest > 0 and not about.behind and below(d, others(), at.left, at.line, at.low,
      paper.small and BELOW.small or BELOW.large)
  if under then room.low, rest = under + at.clear, {}
  elseif #rest > 0 and (paper.small or about.behind or strip.height(d, rest) > room.high - room.low) then
    texts = warnings_first(texts)
    here, rest = strip.shared(d, broken(), at.top, at.floor + 1.65 * d:paper "text")
    behind, rest = others(), {}
    local warned = 0                                 -- those that the strip does not hold
    while behind[warned + 1] and behind[warned + 1]:find "^! " do warned = warned + 1 end
    local edge = warned > 0 and below(d, table.move(behind, 1, warned, 1, {}), at.left, at.line, at.low, BELOW.large)
    if edge then room.low, behind = edge + at.clear, table.move(behind, warned + 1, #behind, 1, {}) end
  end
  if #here > 0 then d:line(at.inner, at.top + 1e-3, at.inner + at.seal, at.top + 1e-3) end
  local top = strip.write(d, at.inner, at.top, here)
  if behind then strip.write(d, at.inner, top, { { about.on or "Notes go on behind this page.", "text" } })
  elseif #rest > 0 then
    strip.write(d, at.line - at.seal - 2e-3, room.high, rest)
    d:line(at.line - at.seal - 4e-3, at.low, at.line - at.seal - 4e-3, at.low + room.high - room.low + 2 * at.clear)
    room.right = at.line - at.seal - 4e-3 - at.clear
  end
  return behind
end

local function lying(d, view, paper, scale, about)
  local left, low = paper.binding, paper.margin
  local right, high = paper.width - paper.margin, paper.height - paper.margin
  local line, seal, clear = right - d:paper "strip", d:paper "seal", d:paper "clear"
  local inner = line + (d:paper "strip" - seal) / 2
  d:line(line, low, line, high)
  d:pen "thin"
  local foot = low + 14e-3
  d:line(line, foot, right, foot)
  local box = foot + 2e-3
  d:polyline({ inner, box, inner + seal, box, inner + seal, box + seal, inner, box + seal }, true)
  d:text(inner + 2e-3, box + seal - 5e-3, "Seal, where one is asked for")
  local floor = box + seal + 9.5e-3
  local long
  if scale then long = strip.bar(d, inner + 3e-3, box + seal + 3e-3, scale.ratio, seal - 14e-3)
  else floor = box + seal + 3e-3 end
  about.revision = strip.numbers(d, inner, right - 2e-3, low, view.label, about, long)
  local what, how = strip.titles(view, paper, scale, about)
  local lines = strip.broken(d, table.move(how, 1, #how, #what + 1, what), seal)
  local top = high - 3e-3
  if strip.height(d, lines) > top - floor then return nil end
  top = strip.write(d, inner, top, lines) - 2e-3
  local room = { left = left + clear, low = low + clear, right = line - clear, high = high - clear }
  return room, write_notes(d, view.notes, paper, about, { inner = inner, seal = seal, top = top, floor = floor,
      left = left, low = low, line = line, clear = clear, room = room })
end

-- ---- the strip below -----------------------------------------------------------------------------------------------

-- A page of a list has that much room at least, or other paper is tried; and tables come that near to the frame.
local LEAST, SIDE = 60e-3, 3e-3

-- Its notes stand in the list, before and behind it.
local function strip_below(d, view, paper, about)
  local left, low = paper.binding, paper.margin
  local right, high, clear = paper.width - paper.margin, paper.height - paper.margin, d:paper "clear"
  local middle, edge = (left + right) / 2, 2e-3
  local foot = low + 14e-3
  about.revision = strip.numbers(d, left + edge, right - edge, low, view.label, about)
  local what, how = strip.titles(view, paper, nil, about)
  what, how = strip.broken(d, what, middle - left - 2 * edge), strip.broken(d, how, right - middle - 2 * edge)
  local top = foot + 3e-3 + math.max(strip.height(d, what), strip.height(d, how))
  if high - top - 2 * clear < LEAST then return nil end
  strip.write(d, left + edge, top - 1e-3, what)
  strip.write(d, middle + edge, top - 1e-3, how)
  d:line(left, foot, right, foot)
  d:pen "wide"
  d:line(left, top, right, top)
  return { left = left + SIDE, low = top + clear, right = right - SIDE, high = high - clear }
end

-- The frame and the strip on a paper: the drawing of it, the room that is left for the view, and the notes that go on
-- behind the page; nil where its titles have no room.
-- about: { page, pages, part = "part 2 of 3" or nil, on = where its notes go on, behind = whether they stand nowhere
-- else where the strip is full, made_from }
function sheet.of(view, paper, scale, about)
  local d = host.drawing(1)
  local left, low, right, high = paper.binding, paper.margin, paper.width - paper.margin, paper.height - paper.margin
  d:layer "G-ANNO-TTLB"
  d:pen "extra"
  d:polyline({ left, low, right, low, right, high, left, high }, true)
  d:pen "wide"
  local room, behind
  if paper.below then room = strip_below(d, view, paper, about)
  else room, behind = lying(d, view, paper, scale, about) end
  if room then return d, room, behind end
end

return sheet
