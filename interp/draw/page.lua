-- SPDX-License-Identifier: MIT
-- A page: paper and scale for a view, the frame, the strip with titles, and beside it what a reader must know.
--
-- A view is { title, label = "S-201", subject, seen, notes = { text ... }, draw = function(d) end, rough = ratio,
-- wide =, tall = } where rough is the smallest scale at which it can be read, and wide and tall, in metres, what it
-- takes at least.  draw is called with an empty drawing as often as scales are tried, and draws the thing about a zero
-- of its own.  parts: see draw.parts; gives a list of pages where no sheet holds all of it.
local record = import "model.record"
local words = import "write.words"
local lettering = import "draw.lettering"
local page = {}

local function mm(v) return host.number_in(v, "mm") / 1000 end

local function family() return words.metric() and "metric" or "US" end

local function rows_of(name)
  local list = {}
  for _, row in ipairs(host.table(name)) do if row.family == family() then list[#list + 1] = row end end
  return list
end

-- ---- what stands in the strip --------------------------------------------------------------------------------------

local function codes()
  local given, list = record.given(record.root, "codes"), {}
  if not given then return "no codes are named" end
  for _, name in ipairs { "electrical", "loads", "wood", "building" } do list[#list + 1] = record.given(given, name) end
  return table.concat(list, ", ")
end

-- { { text, key } ... } from the top down; a key names the height of its letters.
local function titles(view, paper, scale, about)
  local job = record.root
  local list = { { record.given(job, "name") or "a job without a name", "view" } }
  local function put(text) list[#list + 1] = { text, "text" } end
  local client, on = record.given(job, "client"), record.given(job, "on")
  if client then put("for " .. client) end
  list[#list + 1] = { view.title, "title" }
  put(view.subject .. (view.seen and ", " .. view.seen or ""))
  put(scale and "Scale " .. scale.name .. " on " .. paper.name .. " paper" or "To no scale, on " .. paper.name ..
      " paper")
  put(words.metric() and "Lengths in millimetres as marked" or "Lengths in feet and inches as marked")
  put("Stage " .. job.stage .. (on and ", judged on " .. on or ", no day judged"))
  if about.revision then put(about.revision) end
  put(codes())
  put(about.made_from)
  put "A planning aid, not a sealed design."
  return list
end

-- The lines of a list of { text, key } in a width, each with its key and with which of the texts it is of.
local function broken(d, list, width)
  local lines = {}
  for i, one in ipairs(list) do
    for _, line in ipairs(lettering.wrap(d, one[1], width, one[2])) do lines[#lines + 1] = { line, one[2], of = i } end
  end
  return lines
end

local function height_of(d, lines)
  local sum = 0
  for _, line in ipairs(lines) do sum = sum + 1.65 * d:paper(line[2]) end
  return sum
end

local function write(d, x, top, lines)
  for _, line in ipairs(lines) do top = lettering.lines(d, x, top, { line[1] }, line[2]) end
  return top
end

local function notes_of(view)
  local list = {}
  for i, text in ipairs(view.notes) do list[i] = { text, "text" } end
  return list
end

-- Lines that have room above `low`, and those that have not; no text is parted.
local function shared(d, lines, top, low)
  local here, rest, full = {}, {}, nil
  for _, line in ipairs(lines) do
    top = top - 1.65 * d:paper(line[2])
    if top < low then
      full = line.of
      break
    end
  end
  for _, line in ipairs(lines) do table.insert(full and line.of >= full and rest or here, line) end
  return here, rest
end

-- ---- the bar -------------------------------------------------------------------------------------------------------

-- How long it is on paper, as a ruler shows it.
local function on_paper_long(metres)
  if words.metric() then return string.format("%.4g mm", metres * 1000) end
  return host.feet(host.quantity(metres, "length"), 64, true)
end

-- A part of the bar: the first of these lengths that is long enough on paper, and what stands at its ends.  Gives how
-- long it is in all.
local parts = { US = { "1in", "2in", "3in", "6in", "1ft", "2ft", "5ft", "10ft", "20ft", "50ft", "100ft" },
                metric = { "10mm", "20mm", "50mm", "100mm", "200mm", "500mm", "1m", "2m", "5m", "10m", "20m", "50m" } }

local function bar(d, x, y, ratio, most)
  local least = d:paper "part"
  for _, text in ipairs(parts[family()]) do
    local length = host.literal(text)
    local unit, one = text:match "%a+$", tonumber(text:match "^%d+")
    local step, texts = host.si(length) / ratio, {}
    local count = math.min(4, math.floor(most / step))
    for i = 0, count do texts[i + 1] = string.format("%d", i * one) end
    if count > 1 and step >= math.max(least, d:wide(texts[count + 1]) + 2e-3) then
      d:bar(x, y, host.si(length), count, ratio, texts)
      d:text(x + count * step + 2e-3, y, unit)
      return count * step
    end
  end
end

-- The foot of the strip: the number of the sheet, its page and part, its revision, and how long the bar is on paper, so
-- that who prints it smaller knows.  Gives a revision that has no room there.
local function numbers(d, left, right, low, label, about, bar_long)
  local revision, wide = record.given(record.root, "revision"), nil
  d:pen "medium"
  d:text(left, low + 3.5e-3, label, "number")
  d:pen "thin"
  local lines = { "page " .. about.page .. " of " .. about.pages }
  revision = revision and "revision " .. host.safe(revision) or "no revision named"
  local both = about.part and bar_long
  if not both and d:wide(revision) <= right - left - d:wide(label, "number") - 4e-3 then lines[2] = revision
  else wide = revision end
  lines[#lines + 1] = about.part
  lines[#lines + 1] = bar_long and "bar " .. on_paper_long(bar_long) .. " long"
  for i, line in ipairs(lines) do d:text(right, low + 2e-3 + (i - 1) * 4.2e-3, line, "text", 0, "right") end
  return wide
end

-- ---- the sheet -----------------------------------------------------------------------------------------------------

-- The frame and the strip on a paper; gives the drawing of it and the room that is left for the view, or nil where not
-- all notes have room.
-- about: { page, pages, part = "part 2 of 3" or nil, made_from }
local function sheet_of(view, paper, scale, about)
  local d = host.drawing(1)
  local width, height, margin, binding = mm(paper.width), mm(paper.height), mm(paper.margin), mm(paper.binding)
  local left, low, right, high = binding, margin, width - margin, height - margin
  local strip, seal, clear = right - d:paper "strip", d:paper "seal", d:paper "clear"
  local inner = strip + (d:paper "strip" - seal) / 2
  d:layer "G-ANNO-TTLB"
  d:pen "extra"
  d:polyline({ left, low, right, low, right, high, left, high }, true)
  d:pen "wide"
  d:line(strip, low, strip, high)
  d:pen "thin"
  local foot = low + 14e-3
  d:line(strip, foot, right, foot)
  local box = foot + 2e-3
  d:polyline({ inner, box, inner + seal, box, inner + seal, box + seal, inner, box + seal }, true)
  d:text(inner + 2e-3, box + seal - 5e-3, "Seal, where one is asked for")
  local floor = box + seal + 9.5e-3
  local long
  if scale then long = bar(d, inner + 3e-3, box + seal + 3e-3, scale.ratio, seal - 14e-3)
  else floor = box + seal + 3e-3 end
  about.revision = numbers(d, inner, right - 2e-3, low, view.label, about, long)
  local lines = broken(d, titles(view, paper, scale, about), seal)
  local top = high - 3e-3
  if height_of(d, lines) > top - floor then return nil end
  top = write(d, inner, top, lines) - 2e-3
  local here, rest = shared(d, broken(d, notes_of(view), seal), top, floor)
  if #here > 0 then d:line(inner, top + 1e-3, inner + seal, top + 1e-3) end
  write(d, inner, top, here)
  local room = { left = left + clear, low = low + clear, right = strip - clear, high = high - clear }
  if #rest > 0 then
    if height_of(d, rest) > room.high - room.low then return nil end
    write(d, strip - seal - 2e-3, room.high, rest)
    d:line(strip - seal - 4e-3, low, strip - seal - 4e-3, high)
    room.right = strip - seal - 4e-3 - clear
  end
  return d, room, width, height
end

-- ---- the view ------------------------------------------------------------------------------------------------------

-- The view at a scale, and whether it has room.
local function tried(view, scale, room)
  local d = host.drawing(scale.ratio)
  view.draw(d)
  local left, low, right, high = d:box()
  if not left then return d, true, 0, 0 end
  local wide, tall = (right - left) / scale.ratio, (high - low) / scale.ratio
  local fits = wide <= room.right - room.left and tall <= room.high - room.low
  return d, fits, (room.left + room.right) / 2 - (left + right) / 2 / scale.ratio,
      (room.low + room.high) / 2 - (low + high) / 2 / scale.ratio
end

local function whole(view, sheet, width, height, drawn, x, y, paper, scale, part)
  return { width = width, height = height, sheet = sheet, view = drawn, at_x = x, at_y = y,
      title = view.label .. " " .. view.title .. ", " .. view.subject .. (part and ", " .. part or ""),
      label = view.label,
      says = view.says or view.title .. " of " .. view.subject .. (view.seen and ", " .. view.seen or "") ..
      (scale and ", to a scale of 1 to " .. scale.ratio or ""), paper = paper.name, scale = scale and scale.name }
end

-- For who writes lists: the papers in the order in which they are tried, a sheet without a view and the room on it,
-- and the page that it becomes.
function page.papers() return rows_of "drawing_sheets" end
function page.sheet(view, paper, about) return sheet_of(view, paper, nil, about) end
function page.listed(view, paper, sheet, width, height, part)
  return whole(view, sheet, width, height, nil, nil, nil, paper, nil, part)
end

-- A page without a view: why it is withheld.
function page.withheld(view, why, about)
  view.notes = {}
  for _, paper in ipairs(rows_of "drawing_sheets") do
    local sheet, room, width, height = sheet_of(view, paper, nil, about)
    if sheet then
      local left, middle = room.left + 20e-3, (room.low + room.high) / 2
      sheet:pen "medium"
      sheet:text(left, middle + 10e-3, "WITHHELD", "number")
      write(sheet, left, middle, broken(sheet, { { why .. ".", "view" } }, room.right - left - 20e-3))
      return whole(view, sheet, width, height, nil, nil, nil, paper)
    end
  end
  host.raise { code = "C005", class = "range", text = view.label .. ": its titles have no room on the largest sheet" }
end

-- The view on a paper at a scale: a page, and whether each of its texts can be read; nil where it has no room, and
-- false where not even its notes have.
local function on_paper(view, paper, scale, about)
  local wide, tall = view.wide / scale.ratio, view.tall / scale.ratio
  local most, high = mm(paper.width) - mm(paper.margin) - mm(paper.binding), mm(paper.height) - 2 * mm(paper.margin)
  if wide > most or tall > high then return nil end            -- nothing is drawn for that
  local sheet, room, width, height = sheet_of(view, paper, scale, about)
  if not sheet then return false end
  if wide > room.right - room.left or tall > room.high - room.low then return nil end
  local drawn, fits, x, y = tried(view, scale, room)
  if not fits then return nil end
  return whole(view, sheet, width, height, drawn, x, y, paper, scale, about.part), not drawn:touched()
end

-- The first paper on which the view has room and each of its texts can be read, at the largest scale at which it has
-- room, or the next; where there is none, the first on which it has room.
function page.of(view, about)
  local crowded
  for _, paper in ipairs(rows_of "drawing_sheets") do
    for _, scale in ipairs(rows_of "drawing_scales") do
      if scale.ratio > view.rough then break end
      local made, readable = on_paper(view, paper, scale, about)
      if made == false then break end
      if readable then return made end
      crowded = crowded or made
    end
  end
  if crowded then return crowded end
  local parted = view.parts and import("draw.parts").pages(view, about, rows_of, on_paper)
  if parted then return parted end
  local list = rows_of "drawing_sheets"
  host.raise { code = "C005", class = "range",
      text = view.title .. " of " .. view.subject .. " has no room on the largest sheet, " ..
      list[#list].name .. ", at a scale at which it can be read, 1 to " .. view.rough,
      help = "its sheets are printed by `stringline sheet`" }
end

return page
