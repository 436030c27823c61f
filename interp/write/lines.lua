-- SPDX-License-Identifier: MIT
-- What a worked sheet has for each item of a list: a table with a line for each item and a column for each symbol, and
-- under it what the columns are, once each.
local lines = {}

-- The columns in the order in which their symbols come, and the lines: symbol -> row.
local function gather(rows, at)
  local columns, by, list = {}, {}, {}
  local i = at + 1
  while rows[i].kind ~= "end" do
    local r = rows[i]
    if r.kind == "line" then list[#list + 1] = {}
    else
      local c = by[r.symbol]
      if not c then
        c = { symbol = r.symbol, kind = r.kind, text = r.text, sources = {}, rows = {} }
        by[r.symbol] = c
        columns[#columns + 1] = c
      end
      c.rows[#c.rows + 1] = r
      list[#list][r.symbol] = r
    end
    i = i + 1
  end
  return columns, list, i
end

-- The sources of a column, each once.
local function sources(column, source_of)
  local list, seen = {}, {}
  for _, r in ipairs(column.rows) do
    local source = source_of(r)
    if source and not seen[source] then
      seen[source] = true
      list[#list + 1] = source
    end
  end
  return table.concat(list, "; ")
end

local function cell(r, how)
  if not r then return "" end
  local _, path = nil, nil
  if r.kind == "given" or r.kind == "word" then _, path = how.where(r) end
  if r.kind == "word" then return { text = r.text, path = path } end
  return { text = how.text(r), value = r.value, path = path }
end

-- Where the inputs in a column come from, each once.
local function origins(column, where)
  local list, seen = {}, {}
  for _, r in ipairs(column.rows) do
    local says = (r.kind == "given" or r.kind == "word") and where(r)
    if says and not seen[says] then
      seen[says] = true
      list[#list + 1] = says
    end
  end
  return table.concat(list, ", ")
end

-- Whether a column counts the lines: then they need no number of ours.
local function counts(column)
  for n, r in ipairs(column.rows) do if r.value ~= n then return false end end
  return column.kind == "given"
end

-- Writes the table that begins at rows[at]; gives where it ends.  how.text(r), how.source(r): a row's value and source
-- in words; how.where(r): where an input comes from in words, and its path where it is just that.
function lines.write(d, rows, at, how)
  local columns, list, stop = gather(rows, at)
  local counted = columns[1] and counts(columns[1])
  local heads, cells = {}, {}
  if not counted then heads[1] = { "no.", right = true } end
  for _, c in ipairs(columns) do heads[#heads + 1] = { c.symbol, right = c.kind ~= "word" } end
  for n, line in ipairs(list) do
    local out = counted and {} or { { text = tostring(n), value = n } }
    for _, c in ipairs(columns) do out[#out + 1] = cell(line[c.symbol], how) end
    cells[n] = out
  end
  d:para(rows[at].text .. (#list == 0 and ": none" or ":"))
  if #list == 0 then return stop end
  d:inside(function()
    d:table(heads, cells)
    for _, c in ipairs(columns) do
      local source, from = sources(c, how.source), origins(c, how.where)
      if c.kind == "step" then
        d:para(c.symbol .. " = " .. c.text .. (c.rows[1].si and " (in SI)" or "") .. " [" .. source .. "]")
      elseif source ~= "" then d:para(c.symbol .. " [" .. source .. "]")
      elseif from ~= "" then d:para(c.symbol .. " (" .. from .. ")") end
    end
  end)
  return stop
end

return lines
