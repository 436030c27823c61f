-- SPDX-License-Identifier: MIT
-- A document (write.document) on pages: texts and tables from the top down, plain black, in large letters; a table goes
-- on below its head in the next column or on the next page, and what introduces it stays with it.  A place for a pencil
-- is an empty cell, one to be ticked off a box.
local lettering = import "draw.lettering"
local sheet = import "draw.sheet"
local page = import "draw.page"
local listed = {}

-- How a document is laid out, in the order in which it is tried: columns on a page, heights of the letters of tables; a
-- layout may be for what has room on one page. One breaks cells that have a length in both ways, and the last, which is
-- tried after paper of that size was turned, parts tables that are still too wide.
local layouts = {
  { columns = 1, figures = { "title", "view" }, alone = true },
  { columns = 1, figures = { "view" }, alone = true },
  { columns = 2, figures = { "title" } },
  { columns = 2, figures = { "title", "view" } },
  { columns = 1, figures = { "view" } },
  { columns = 1, figures = { "view" }, broken = true },
  { columns = 1, figures = { "title", "view" }, parted = true },
}
local TEXT, BETWEEN = "view", 8e-3              -- letters of all else; between columns of a page
local PAD, AIR, ROW = 0.5, 1.6, 1.9            -- of a height: beside a text, from line to line, of a row of one line

local function text_of(cell)
  if type(cell) == "table" then return cell.fill and "" or host.safe(cell.text) end
  return host.safe(cell or "")
end

local function is_tick(cell) return type(cell) == "table" and cell.fill and cell.text:find "^%[" ~= nil end

-- ---- columns -------------------------------------------------------------------------------------------------------

-- How wide a column has to be for its widest cell, or the longer half of "72-1/2 in (6 ft 1/2 in)" where such are
-- broken, and for its head, or the longest word of that.
local function least(d, block, i, key, words, broken)
  local high, wide = d:paper(key), 0
  for part in host.safe(block.columns[i][1]):gmatch(words and "%S+" or ".+") do
    wide = math.max(wide, d:wide(part, key))
  end
  for _, row in ipairs(block.rows) do
    local cell = row[i]
    local pencil = type(cell) == "table" and cell.fill and (is_tick(cell) and 1.2 or 6) * high or 0
    local text = text_of(cell)
    local first, other = text:match "^(.-) (%(.*%))$"
    if not broken or not first then first, other = text, "" end
    wide = math.max(wide, d:wide(first, key), d:wide(other, key), pencil)
  end
  return wide + 2 * PAD * high
end

-- The widths of columns within `room`: first heads are broken, then those that wrap give way. nil: they have no room.
local function widths(d, block, key, room, broken)
  local list, sum, wrapped = {}, 0, {}
  for _, words in ipairs { false, true } do
    sum = 0
    for i in ipairs(block.columns) do
      list[i] = least(d, block, i, key, words, broken)
      sum = sum + list[i]
    end
    if sum <= room then return list end
  end
  for i, c in ipairs(block.columns) do if c.wrap then wrapped[#wrapped + 1] = i end end
  table.sort(wrapped, function(a, b) return list[a] > list[b] or list[a] == list[b] and a < b end)
  for _, i in ipairs(wrapped) do
    if sum <= room then break end
    local narrow = math.max(math.min(list[i], 14 * d:paper(key)), list[i] - (sum - room))
    sum, list[i] = sum - list[i] + narrow, narrow
  end
  return sum <= room + 1e-9 and list or nil
end

-- Some of a table's columns, the first always among them.
local function part_of(block, from, to)
  local columns, rows = { block.columns[1] }, {}
  table.move(block.columns, from, to, 2, columns)
  for i, row in ipairs(block.rows) do rows[i] = table.move(row, from, to, 2, { row[1] }) end
  return { kind = "table", columns = columns, rows = rows }
end

-- A table as those that stand under each other, in letters and widths that have room; nil: one column has none.
local function split(d, block, room, key)
  local list, from = {}, 2
  while from <= #block.columns do
    local to, best = from, nil
    while to <= #block.columns do
      local part = part_of(block, from, to)
      local wide = widths(d, part, key, room)
      if not wide then break end
      best, to = { block = part, wide = wide, key = key }, to + 1
    end
    if not best then return nil end
    list[#list + 1], from = best, to
  end
  return list
end

local function fitted(d, block, room, layout)
  for _, key in ipairs(layout.figures) do
    local wide = widths(d, block, key, room) or layout.broken and widths(d, block, key, room, true)
    if wide then return { { block = block, wide = wide, key = key } } end
  end
  return layout.parted and split(d, block, room, layout.figures[#layout.figures]) or nil
end

-- ---- rows ----------------------------------------------------------------------------------------------------------

-- A row of a table as something with a height that draws itself: its cells broken to their columns, lines about it.
local function row_of(d, t, cells, is_head)
  local high, lines, most = d:paper(t.key), {}, 1
  for i in ipairs(t.block.columns) do
    lines[i] = lettering.wrap(d, is_head and host.safe(t.block.columns[i][1]) or text_of(cells[i]),
        t.wide[i] - 2 * PAD * high + 1e-6, t.key)
    most = math.max(most, #lines[i])
  end
  local tall = (ROW + AIR * (most - 1)) * high
  local function draw(to, x, top)
    local low, left = top - tall, x
    to:pen "thin"
    for i, c in ipairs(t.block.columns) do
      to:line(left, top, left, low)
      for k, line in ipairs(lines[i]) do
        local y = top - (ROW + 1) / 2 * high - (k - 1) * AIR * high
        if c.right then to:text(left + t.wide[i] - PAD * high, y, line, t.key, 0, "right")
        else to:text(left + PAD * high, y, line, t.key) end
      end
      if not is_head and is_tick(cells[i]) then
        local a, b = left + PAD * high, top - (ROW + 1) / 2 * high
        to:pen "medium"
        to:polyline({ a, b, a + high, b, a + high, b + high, a, b + high }, true)
        to:pen "thin"
      end
      left = left + t.wide[i]
    end
    to:line(left, top, left, low)
    if is_head then
      to:line(x, top, left, top)
      to:pen "medium"
    end
    to:line(x, low, left, low)
  end
  return { tall = tall, draw = draw, table = not is_head and t or nil }
end

-- ---- blocks --------------------------------------------------------------------------------------------------------

local function texts(d, put, text, key, room, keep)
  local lines, step = lettering.wrap(d, text, math.min(room, lettering.LONGEST), key), AIR * d:paper(key)
  for i, line in ipairs(lines) do
    put { tall = step, keep = keep or i < #lines and i <= 2, draw = function(to, x, top)
      lettering.lines(to, x, top, { line }, key)
    end }
  end
end

local block_of = {}

function block_of.gap(d, put) put { tall = d:paper(TEXT), air = true } end
function block_of.subheading(d, put, b, room)
  put { tall = 0.6 * d:paper "title", air = true }
  texts(d, put, b.text, "title", room, true)
end
block_of.heading = block_of.subheading
function block_of.title() end
local function paragraph(d, put, b, room)
  local text = (b.kind == "warning" and "! " or b.mark and b.mark .. " " or "") .. (b.lead or "") .. b.text
  texts(d, put, text, TEXT, room, b.text:find ":$" ~= nil)
end
for _, kind in ipairs { "paragraph", "note", "warning", "item", "outcome" } do block_of[kind] = paragraph end
-- What is no part of the list, in the letters of a strip.
function block_of.small(d, put, b, room)
  for _, line in ipairs(lettering.wrap(d, b.text, math.min(room, lettering.LONGEST), "text")) do
    put { tall = AIR * d:paper "text", draw = function(to, x, top)
      to:layer "G-ANNO-TTLB"
      lettering.lines(to, x, top, { line }, "text")
      to:layer "G-ANNO-TEXT"
    end }
  end
end

-- A table without a place for a pencil gets a column to tick off what is done.
local function to_tick(block, done)
  for _, row in ipairs(block.rows) do
    for _, cell in ipairs(row) do if type(cell) == "table" and cell.fill then return block end end
  end
  local columns, rows = table.move(block.columns, 1, #block.columns, 1, {}), {}
  columns[#columns + 1] = { "done" }
  for i, row in ipairs(block.rows) do
    rows[i] = table.move(row, 1, #block.columns, 1, {})
    rows[i][#columns] = done
  end
  return { kind = "table", columns = columns, rows = rows }
end

function block_of.table(d, put, b, room, layout, done)
  local list = fitted(d, done and to_tick(b, done) or b, room, layout)
  if not list then return false end
  for n, t in ipairs(list) do
    if n > 1 then put { tall = d:paper(TEXT), air = true } end
    t.head = row_of(d, t, nil, true)
    for _, cells in ipairs(t.block.rows) do put(row_of(d, t, cells)) end
  end
  put { tall = 0.8 * d:paper(TEXT), air = true }
end

-- ---- pages ---------------------------------------------------------------------------------------------------------

-- What stands on the pages of a document, in a width; nil: a table has no room.
local function items_of(d, blocks, room, layout, done)
  local items = {}
  local function put(one) items[#items + 1] = one end
  for _, b in ipairs(blocks) do
    local of = block_of[b.kind]
    if not of then error("a list holds no " .. b.kind, 0) end
    if of(d, put, b, room, layout, done) == false then return nil end
  end
  return items
end

-- How much has to have room where items[i] begins, with what must stay with it; on: the table whose head is above it.
local function together(items, i, on)
  local tall = 0
  repeat
    local one = items[i]
    tall = tall + one.tall + (one.table and one.table ~= on and one.table.head.tall or 0)
    i = i + 1
  until not (one.keep or one.air) or not items[i]
  return tall
end

-- Items by column: { { item, how far below the top } ... } ...; nil where one alone has no room.
local function flowed(items, room)
  local pages, here, y, on = {}, {}, 0, nil
  for i, one in ipairs(items) do
    if #here > 0 and y + together(items, i, on) > room then
      pages[#pages + 1], here, y, on = here, {}, 0, nil
    end
    if not one.air then
      if one.table and one.table ~= on then
        here[#here + 1] = { one.table.head, y }
        y, on = y + one.table.head.tall, one.table
      elseif not one.table then on = nil end
      here[#here + 1] = { one, y }
      y = y + one.tall
      if y > room then return nil end
    elseif #here > 0 then y = y + one.tall end
  end
  if #here > 0 then pages[#pages + 1] = here end
  return pages
end

-- The columns of a document in a layout, how wide they are and how many pages they fill; nil: it has no room.
local function laid_out(d, blocks, room, layout, done)
  local n = layout.columns
  local wide = (room.right - room.left - (n - 1) * BETWEEN) / n
  local items = items_of(d, blocks, wide, layout, done)
  local columns = items and flowed(items, room.high - room.low)
  if not columns or layout.alone and #columns > n then return nil end
  return { columns = columns, wide = wide, each = n, pages = math.max(1, math.ceil(#columns / n)) }
end

local function write(d, at, free, k)
  d:layer "G-ANNO-TEXT"
  for i = 1, at.each do
    for _, one in ipairs(at.columns[(k - 1) * at.each + i] or {}) do
      one[1].draw(d, free.left + (i - 1) * (at.wide + BETWEEN), free.high - one[2])
    end
  end
end

-- A strip below has no room for notes: what one must not pass over stands before the list, the rest
-- behind it.
local function with_notes(view, blocks, paper)
  if not paper.below then return blocks end
  local before, list = {}, {}
  for _, text in ipairs(view.notes) do
    local one = { kind = "small", text = text }
    table.insert(text:find "^! " and before or list, one)
  end
  if #before > 0 then before[#before + 1] = { kind = "gap" } end
  if #list > 0 then table.insert(list, 1, { kind = "gap" }) end
  table.move(blocks, 1, #blocks, #before + 1, before)
  return table.move(list, 1, #list, #before + 1, before)
end

-- The pages of a list in a layout on a paper; nil: it has no room.
local function pages_on(view, blocks, paper, about, layout, done)
  local label, d, room = view.label, sheet.of(view, paper, nil, about)
  local at = d and laid_out(d, with_notes(view, blocks, paper), room, layout, done)
  if not at then return nil end
  local list = {}
  for k = 1, at.pages do
    local part = at.pages > 1 and "part " .. k .. " of " .. at.pages or nil
    view.label, about.part = k > 1 and label .. "." .. k or label, part
    local on, free = sheet.of(view, paper, nil, about)
    write(on, at, free, k)
    list[k] = page.listed(view, paper, on, part)
  end
  view.label, about.part = label, nil
  return list
end

-- The pages of a document's blocks, on the first paper on which each table has room.  view, about: as draw.page has
-- them; done: a cell to tick, for rows that have no place for a pencil.
function listed.pages(view, blocks, about, done)
  local papers, first = sheet.papers(about), 1
  while papers[first] do
    local last = first                             -- the same paper, turned
    while papers[last + 1] and papers[last + 1].name == papers[first].name do last = last + 1 end
    for _, parted in ipairs { false, true } do
      for k = first, last do
        for _, layout in ipairs(layouts) do
          local list = layout.parted == (parted or nil) and pages_on(view, blocks, papers[k], about, layout, done)
          if list then return list end
        end
      end
    end
    first = last + 1
  end
  host.raise { code = "C005", class = "range", text = view.label .. ": a table of it has no room on " ..
      sheet.largest(about) }
end

return listed
