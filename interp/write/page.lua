-- SPDX-License-Identifier: MIT
-- A page of plain text: paragraphs, headings and tables within 80 columns.
local page = { width = 80 }
local methods = {}

function page.new(colour)
  return setmetatable({ lines = {}, colour = colour }, { __index = methods })
end

local byte, sub, rep, find, concat = string.byte, string.sub, string.rep, string.find, table.concat

-- Columns that a text takes.
local function columns_of(text)
  return utf8.len(text) or #text
end

-- Breaks a text at its blanks into lines of at most width columns; looks back from where the line is full.
local function wrap(text, width)
  local n = #text
  if n <= width then return { text } end
  local lines, at = {}, 1
  local wide = n - columns_of(text)        -- bytes that take no column: lines counted in bytes come out short at worst
  while n - at + 1 > width do
    if wide > 0 and columns_of(sub(text, at)) <= width then break end
    local stop = at + width
    while stop > at and byte(text, stop) ~= 32 do stop = stop - 1 end
    if stop == at then stop = find(text, " ", at, true) or n + 1 end
    lines[#lines + 1] = sub(text, at, stop - 1)
    at = stop + 1
    while byte(text, at) == 32 do at = at + 1 end
  end
  if at <= n then lines[#lines + 1] = sub(text, at) end
  return lines
end

local paints = { bad = "1;31", good = "1;32", warn = "1;33", head = "1" }

-- Coloured text where there is a terminal; never counted into a width.
function methods:paint(text, how)
  if not self.colour then return text end
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

-- Wrapped text; `first` stands before the first line and the rest hangs under it, or as far in as `hang`.
function methods:para(text, first, hang)
  first = first or ""
  hang = hang or rep(" ", columns_of(first))
  local width = page.width - math.max(#hang, columns_of(first))
  for i, l in ipairs(wrap(text, width)) do self:line((i == 1 and first or hang) .. l) end
end

function methods:head(text)
  self:blank()
  self:line(self:paint(text, "head"))
  self:line(rep("-", math.min(columns_of(text), page.width)))
end

local function padded(text, width, right)
  local n = width - columns_of(text)
  if n <= 0 then return text end
  return right and rep(" ", n) .. text or text .. rep(" ", n)
end

-- How wide each column is: as its widest cell; columns that wrap share what the others leave.
local function widths_of(columns, rows, indent)
  local widths, used, wraps = {}, #indent + 2 * (#columns - 1), 0
  for i = 1, #columns do
    local c = columns[i]
    local width = columns_of(c[1])
    for k = 1, #rows do
      local cell = rows[k][i]
      if cell and #cell > width then
        local n = columns_of(cell)
        if n > width then width = n end
      end
    end
    widths[i] = width
    if c.wrap then wraps = wraps + 1 else used = used + width end
  end
  local left = page.width - used
  for i = 1, #columns do
    if columns[i].wrap then
      widths[i] = math.min(widths[i], math.max(12, left // wraps))
      left, wraps = left - widths[i], wraps - 1
    end
  end
  return widths
end

-- columns: { "name" or { "name", right = true, wrap = true } ... }
function methods:table(columns, rows, indent)
  indent = indent or ""
  local count, named, heads = #columns, false, {}
  for i = 1, count do
    local c = columns[i]
    if type(c) == "string" then c = { c }; columns[i] = c end
    heads[i] = c[1]
    named = named or c[1] ~= ""
  end
  local widths = widths_of(columns, rows, indent)
  local out = {}
  -- One line, padded up to its last cell that says something.
  local function row(cells)
    local stop = count
    while stop > 1 and (cells[stop] or "") == "" do stop = stop - 1 end
    for i = 1, stop do
      local cell, right = cells[i] or "", columns[i].right
      out[i] = i == stop and not right and cell or padded(cell, widths[i], right)
    end
    self:line(indent .. concat(out, "  ", 1, stop))
  end
  local function put(cells)
    local parts, tall = nil, 1
    for i = 1, count do
      local cell = cells[i]
      if columns[i].wrap and cell and #cell > widths[i] then
        local broken = wrap(cell, widths[i])
        parts = parts or {}
        parts[i] = broken
        if #broken > tall then tall = #broken end
      end
    end
    if not parts then return row(cells) end
    local line = {}
    for n = 1, tall do
      for i = 1, count do
        local broken = parts[i]
        line[i] = broken and (broken[n] or "") or (n == 1 and cells[i] or "")
      end
      row(line)
    end
  end
  if named then put(heads) end
  for k = 1, #rows do put(rows[k]) end
end

function methods:text()
  while self.lines[#self.lines] == "" do self.lines[#self.lines] = nil end
  return table.concat(self.lines, "\n") .. "\n"
end

return page
