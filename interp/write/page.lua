-- SPDX-License-Identifier: MIT
-- A page of plain text of a given width: paragraphs, headings and tables.  No line is longer, and no number is parted
-- from its unit.
local page = {}
local methods = {}
local meta = { __index = methods }

function page.new(width, colour)
  return setmetatable({ lines = {}, width = width or 80, colour = colour }, meta)
end

local byte, sub, rep, find, match, concat = string.byte, string.sub, string.rep, string.find, string.match, table.concat
local columns_of, longest_word, put = host.columns, host.longest_word, host.put

-- ---- breaking lines ------------------------------------------------------------------------------------------------

-- word -> whether it is one, kept since the same stand behind numbers again and again; of texts without end not more
-- than so many.
local units, known, most = {}, 0, 1000

local function is_unit(word)
  if units[word] == nil then
    if known == most then units, known = {}, 0 end
    units[word], known = not find(word, "^%d") and host.is_unit(word), known + 1
  end
  return units[word]
end

-- Whether the blank at `at` stands within a number: before its unit, or between feet and inches.
local function within_number(text, at)
  if byte(text, at - 1) ~= 116 then
    local unit = match(text, "^[^%s,;:.)]+", at + 1)
    return unit ~= nil and is_unit(unit)
  end
  return find(sub(text, at - 4, at), "%d ft $") ~= nil and find(text, "^%d[%d/-]* in", at + 1) ~= nil
end

local function wrap(text, width)
  if #text <= width then return { text } end
  return host.wrap(text, width, within_number)
end
page.wrap = wrap

-- ---- lines ---------------------------------------------------------------------------------------------------------

local paints = { bad = "1;31", good = "1;32", warn = "1;33", head = "1" }

-- Coloured text where there is a terminal; never counted into a width.
function methods:paint(text, how)
  if not self.colour or not how then return text end
  return "\27[" .. paints[how] .. "m" .. text .. "\27[0m"
end

function methods:line(text)
  text = text or ""
  local n = #text
  while byte(text, n) == 32 do n = n - 1 end
  self.lines[#self.lines + 1] = n < #text and sub(text, 1, n) or text
end

function methods:blank()
  if #self.lines > 0 and self.lines[#self.lines] ~= "" then self.lines[#self.lines + 1] = "" end
end

-- Wrapped text; `first` stands before the first line, `hang` before the others (as wide as first, if not given).
-- `paint(line, i)` may colour what stands in a line.
function methods:para(text, first, hang, paint)
  first = first or ""
  hang = hang or rep(" ", columns_of(first))
  local width = columns_of(first)
  width = self.width - (#hang > width and #hang or width)
  if #text <= width then return self:line(first .. (paint and paint(text, 1) or text)) end
  local wrapped = wrap(text, width)
  for i = 1, #wrapped do
    local l = wrapped[i]
    if paint then l = paint(l, i) end
    self:line((i == 1 and first or hang) .. l)
  end
end

function methods:head(text)
  self:blank()
  for _, l in ipairs(wrap(text, self.width)) do self:line(self:paint(l, "head")) end
  self:line(rep("-", math.min(columns_of(text), self.width)))
end

-- ---- tables --------------------------------------------------------------------------------------------------------

local least = 12         -- columns that a cell of running text gets at the least

-- Of each column: what it is called, how wide its widest cell is.
local function measured(columns, widest)
  local list = host.room(0, #columns)
  for i = 1, #columns do
    local c = columns[i]
    list[i] = { at = i, head = c[1], right = c.right, wrap = c.wrap, cells = widest[i],
                width = math.max(columns_of(c[1]), widest[i]) }
  end
  return list
end

-- Columns that wrap share what the others leave of the room, each at least its longest word and as much of `least` as
-- it can use; false where that is too little.
local function share(list, room, rows)
  local left, natural, wraps = room - 2 * (#list - 1), 0, {}
  for i = 1, #list do
    local c = list[i]
    if c.wrap then
      c.natural = c.natural or c.width
      natural, wraps[#wraps + 1] = natural + c.natural, c
    else left = left - c.width end
  end
  if natural <= left then
    for _, c in ipairs(wraps) do c.width = c.natural end
    return true
  end
  local low = 0
  for _, c in ipairs(wraps) do
    if not c.low then
      c.low = longest_word(c.head)
      for k = 1, #rows do c.low = math.max(c.low, longest_word(rows[k][c.at])) end
      c.low = math.max(c.low, math.min(c.natural, least))
    end
    low = low + c.low
  end
  if low > left then return false end
  -- Each takes an equal part of what is left, the modest ones first.
  table.sort(wraps, function(x, y) return x.natural < y.natural or x.natural == y.natural and x.at < y.at end)
  left = left - low
  for i, c in ipairs(wraps) do
    local more = math.min(c.natural - c.low, left // (#wraps - i + 1))
    c.width, left = c.low + more, left - more
  end
  return true
end

-- The same where not even the longest words have room: they are broken.
local function crush(list, room)
  local left, wraps = room - 2 * (#list - 1), {}
  for _, c in ipairs(list) do
    if c.wrap then wraps[#wraps + 1] = c else left = left - c.width end
  end
  if left < least * #wraps then return false end
  for i, c in ipairs(wraps) do
    c.width = math.min(c.natural, math.max(least, left // (#wraps - i + 1)))
    left = left - c.width
  end
  return #wraps > 0
end

-- Headings on several lines, then texts on several lines: true as soon as the columns fit.
local function squeezed(list, room, rows)
  if share(list, room, rows) then return true end
  for _, c in ipairs(list) do
    if not c.wrap then c.width = math.max(c.cells, longest_word(c.head)) end
  end
  if share(list, room, rows) then return true end
  for i, c in ipairs(list) do
    if i > 1 and not c.wrap and not c.right and c.cells > least then c.wrap = true end
  end
  return share(list, room, rows) or crush(list, room)
end

-- The first column and some of the others, measured anew.
local function fresh(list, from, to)
  local out = { setmetatable({}, { __index = list[1] }) }
  for i = from, to do out[#out + 1] = setmetatable({}, { __index = list[i] }) end
  return out
end

-- As few tables beside each other as the room wants, the first column in front of each.
local function parts_of(list, room, rows)
  local parts, from = {}, 2
  while from <= #list do
    local to = #list
    local part = fresh(list, from, to)
    while not squeezed(part, room, rows) and to > from do
      to = to - 1
      part = fresh(list, from, to)
    end
    if to == from and not squeezed(part, room, rows) then       -- not even two columns have room
      for _, c in ipairs(part) do c.wrap, c.natural, c.width = true, nil, math.max(1, (room - 2) // 2) end
    end
    parts[#parts + 1] = part
    from = to + 1
  end
  return #parts > 0 and parts or { list }
end

-- columns: { "heading", right = true, wrap = true } ...; rows of texts or { text = ... }
function methods:table(columns, rows, indent)
  indent = indent or ""
  local room, named = self.width - #indent, false
  local texts, widest = host.cells(rows, #columns)
  for i = 1, #columns do
    local c = columns[i]
    named = named or c[1] ~= ""
  end
  local list = measured(columns, widest)
  local parts = squeezed(list, room, texts) and { list } or parts_of(measured(columns, widest), room, texts)
  local heads = host.room(0, #list)
  for i = 1, #list do heads[i] = list[i].head end
  for n, part in ipairs(parts) do
    if n > 1 then self:blank() end
    if named then put(self.lines, indent, part, { heads }, within_number) end
    put(self.lines, indent, part, texts, within_number)
  end
end

function methods:text()
  while self.lines[#self.lines] == "" do self.lines[#self.lines] = nil end
  return concat(self.lines, "\n") .. "\n"
end

return page
