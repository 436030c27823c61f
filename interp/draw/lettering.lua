-- SPDX-License-Identifier: MIT
-- Texts on a drawing: broken to a width that is measured, in columns of labels, in tables of a document.
local lettering = {}

-- Longer lines of a text are hard to read.
lettering.LONGEST = 0.32

local units = { ["in"] = true, ft = true, mm = true, m = true, deg = true, kg = true, lb = true, psf = true }

local function is_digit(byte) return byte ~= nil and byte >= 48 and byte <= 57 end

-- The words of a text; a number and its unit are one, and feet and their inches.
local function glued(text)
  local list = {}
  for word in text:gmatch "%S+" do
    local before = list[#list]
    if before and (is_digit(before:byte(-1)) and units[word:match "^%a+"] or
        is_digit(word:byte()) and before:find "%d ft$") then
      list[#list] = before .. " " .. word
    else list[#list + 1] = word end
  end
  local i = 0
  return function()
    i = i + 1
    return list[i]
  end
end

-- The lines of a text in a width of the drawing; a word that is wider than that is cut.
function lettering.wrap(d, text, width, key)
  local lines, line = {}, ""
  local function put(word)
    while d:wide(word, key) > width do
      local at = utf8.len(word) and utf8.len(word) or #word
      local short
      repeat
        at = at - 1
        short = word:sub(1, (utf8.offset(word, at + 1) or 2) - 1)
      until at <= 1 or d:wide(short, key) <= width
      lines[#lines + 1], word = short, word:sub(#short + 1)
    end
    line = word
  end
  for word in glued(host.safe(text)) do
    local longer = line == "" and word or line .. " " .. word
    if d:wide(longer, key) <= width then line = longer
    else
      if line ~= "" then lines[#lines + 1], line = line, "" end
      put(word)
    end
  end
  if line ~= "" then lines[#lines + 1] = line end
  return lines
end

-- Writes lines downward from the top; gives where the next would begin.
function lettering.lines(d, x, top, lines, key)
  local high = d:paper(key or "text")
  for _, line in ipairs(lines) do
    d:text(x, top - high, line, key)
    top = top - 1.65 * high
  end
  return top
end

-- Moves labels apart, from the top down: their middles, falling, each so far below the one before as both have lines;
-- as a whole they stay about where they were.
local function spread(at, lines, step)
  local function lacks(i) return step * ((lines[i] + lines[i + 1]) / 2 + 0.4) - (at[i] - at[i + 1]) end
  for _ = 1, 300 do
    local moved = false
    for i = 1, #at - 1 do
      local by = lacks(i)
      if by > step * 1e-6 then at[i], at[i + 1], moved = at[i] + by / 2, at[i + 1] - by / 2, true end
    end
    if not moved then break end
  end
  for i = 1, #at - 1 do at[i + 1] = at[i + 1] - math.max(0, lacks(i)) end
  return at
end

-- Labels in a column, each with a line to its place: { x, y, text, level = true where a level is marked } ...;
-- to_right: the column stands right of them. x: where the lines bend; wide: of the column.
function lettering.labels(d, x, list, to_right, wide)
  table.sort(list, function(a, b) return a[2] > b[2] or a[2] == b[2] and a[3] < b[3] end)
  local heights, counts, texts = {}, {}, {}
  for i, one in ipairs(list) do
    texts[i] = lettering.wrap(d, one[3], wide)
    heights[i], counts[i] = one[2], #texts[i]
  end
  for i, y in ipairs(spread(heights, counts, 1.5 * d:paper "text")) do
    local one = list[i]
    d:leader(one[1], one[2], x, y, texts[i], to_right, one.level)
  end
end

-- ---- tables --------------------------------------------------------------------------------------------------------

local function shown(cell)
  local text = type(cell) == "table" and cell.text or cell
  return host.safe(text or "")
end

-- A place for a pencil is an empty box.
local function text_of(cell) return type(cell) == "table" and cell.fill and "" or shown(cell) end

-- How wide each column is.
local function columns_of(d, block)
  local high, wide = d:paper "text", {}
  for i, c in ipairs(block.columns) do
    wide[i] = d:wide(shown(c[1]))
    for _, row in ipairs(block.rows) do
      wide[i] = math.max(wide[i], d:wide(text_of(row[i])), type(row[i]) == "table" and row[i].fill and 7 * high or 0)
    end
    wide[i] = wide[i] + 1.6 * high
  end
  return wide
end

-- A table of a document (write.document) with lines about its cells, from its upper left corner; gives its width and
-- its height.
function lettering.table(d, x, top, block)
  local high, wide = d:paper "text", columns_of(d, block)
  local columns, rows = block.columns, block.rows
  local total, step = 0, 1.9 * high
  for i = 1, #columns do total = total + wide[i] end
  local function line_of(y, of, right_of)
    local left = x
    for i = 1, #columns do
      local text = of(i)
      if text ~= "" then
        if right_of(i) then d:text(left + wide[i] - 0.8 * high, y + 0.45 * high, text, "text", 0, "right")
        else d:text(left + 0.8 * high, y + 0.45 * high, text, "text", 0, "left") end
      end
      left = left + wide[i]
    end
  end
  d:layer "G-ANNO-TEXT"
  d:pen "thin"
  line_of(top - step, function(i) return shown(columns[i][1]) end, function(i) return columns[i].right end)
  for r, row in ipairs(rows) do
    line_of(top - (r + 1) * step, function(i) return text_of(row[i]) end, function(i) return columns[i].right end)
  end
  local low = top - (#rows + 1) * step
  for r = 0, #rows + 1 do
    d:pen(r == 1 and "medium" or "thin")
    d:line(x, top - r * step, x + total, top - r * step)
  end
  d:pen "thin"
  local left = x
  for i = 0, #columns do
    d:line(left, top, left, low)
    left = left + (wide[i + 1] or 0)
  end
  return total, top - low
end

-- How wide a column of labels is on paper.
function lettering.beside(narrow, wide) return narrow and 0.68 * wide or wide end

-- On narrow paper: a table that is too wide for it as those that stand below each other, each with the first column.
local MOST = 0.157

function lettering.below_each_other(d, x, top, block)
  local wide, from = columns_of(d, block), 2
  local most = MOST * d:ratio()
  repeat
    local to, sum = from, wide[1] + (wide[from] or 0)
    while wide[to + 1] and sum + wide[to + 1] <= most do
      to = to + 1
      sum = sum + wide[to]
    end
    local rows = {}
    for i, row in ipairs(block.rows) do rows[i] = table.move(row, from, to, 2, { row[1] }) end
    local _, tall = lettering.table(d, x, top, { rows = rows,
        columns = table.move(block.columns, from, to, 2, { block.columns[1] }) })
    top, from = top - tall - 4e-3 * d:ratio(), to + 1
  until not wide[from]
end

-- The same in columns beside each other, where it has many rows and the paper is wide.
function lettering.tables(d, x, top, narrow, block)
  if narrow then return lettering.below_each_other(d, x, top, block) end
  local rows = #block.rows
  local columns = math.max(1, math.min(3, math.ceil(rows / 14)))
  local each = math.max(1, math.ceil(rows / columns))
  for first = 1, math.max(1, rows), each do
    local some = table.move(block.rows, first, math.min(first + each - 1, rows), 1, {})
    x = x + lettering.table(d, x, top, { columns = block.columns, rows = some }) + 6e-3 * d:ratio()
  end
end

return lettering
