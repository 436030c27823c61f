-- SPDX-License-Identifier: MIT
-- The worked sheet of a primitive as steps: each symbol, its formula, the values put in, the source and its basis.
local formula = import "model.formula"
local util = import "model.util"
local words = import "write.words"
local trace = import "write.trace"
local lines = import "write.lines"
local worksheet = {}

-- ---- does a formula hold with units on its numbers? ----------------------------------------------------------------

-- The C text of a step with quantities for its symbols. A formula with hidden units fails here, and is then shown in
-- SI, where it is true.
local function holds_with_units(row, values)
  local read = formula.read(row.text)
  if not read then return false end
  local ok, v = pcall(read.run, values)
  if not ok then return false end
  if type(v) == "boolean" then v = v and 1 or 0 end
  local a, b = host.is_quantity(v), host.is_quantity(row.value)
  if a ~= b or (a and not host.same_kind(v, row.value)) then return false end
  return math.abs(host.si(v) - host.si(row.value)) <= 1e-9 * math.max(1e-30, host.size(row.value))
end

-- ---- lines ---------------------------------------------------------------------------------------------------------

-- Numbers that are computed with: decimals in every job.
local function value_text(row)
  if type(row.value) == "number" and row.dim == "ratio" then return host.format(row.value, "%") end
  return words.decimal(row.value)
end
worksheet.value = value_text

local function put_in(row, at, si)
  return (row.text:gsub("[%a_][%w_]*", function(name)
    local r = at[name]
    if not r then return nil end
    local text = si and host.format(host.si(r.value)) or value_text(r)
    return (text:find("^%-") or text:find("%d ft %d")) and "(" .. text .. ")" or text
  end))
end

-- 1e-9 behind an operator in a formula must not be taken for a symbol: the pattern above starts at letters, so mask it.
local function safe(row, at, si)
  local masked = {}
  local text = row.text:gsub("%d+%.?%d*[eE][+-]?%d+", function(n) masked[#masked + 1] = n return "\1" .. #masked ..
      "\2" end)
  local out = put_in({ text = text }, at, si)
  return (out:gsub("\1(%d+)\2", function(i) return masked[tonumber(i)] end))
end

-- "sum(A)": the column A of the table above, added up.
local function put_sum(row, columns)
  local parts = {}
  for i, r in ipairs(columns[row.text:match "^sum%((.*)%)$"] or {}) do parts[i] = value_text(r) end
  row.put = #parts > 0 and #parts <= 8 and table.concat(parts, " + ") or row.text
end

-- The rows of a worked result with what is needed to print them: step rows get formula, put (text) and si (flag).
function worksheet.rows(worked)
  local op, rows = worked_sheet(worked)
  local at, values, columns = {}, {}, {}
  for _, r in ipairs(rows) do
    if r.kind == "lines" then columns = {}
    elseif r.item and r.symbol ~= "" then
      columns[r.symbol] = columns[r.symbol] or {}
      table.insert(columns[r.symbol], r)
    end
    if r.kind == "step" and r.text:find("^sum%(") then put_sum(r, columns)
    elseif r.kind == "step" then
      r.si = not holds_with_units(r, values)
      r.put = safe(r, at, r.si)
      r.shown = r.si and host.is_quantity(r.value) and host.format(host.si(r.value)) or value_text(r)
    end
    at[r.symbol], values[r.symbol] = r, r.value
  end
  return rows, op
end

local function source_of(r)
  local cite = r.cite ~= "" and words.cite(r.cite) or nil
  if r.kind ~= "table" or r.basis == "read" then return cite end
  return (cite and cite .. "; " or "") .. r.basis
end

-- What stands behind a given row: the input or result that its member came from, or those that it was made from.
local function from_where(origin)
  local names, one = trace.names(origin)
  if #names == 0 then return nil, nil end
  return (one and "" or "from ") .. util.list(names), names
end
worksheet.from_where = from_where

-- The origin of an input's row, by its member: angles[2], conductors[1].count.
local function origin_of(r, origins)
  if not origins or not r.member then return nil end
  local item = r.item and origins[r.member .. "[" .. r.item .. "]" .. (r.field and "." .. r.field or "")]
  return item or origins[r.member]
end

local function put_row(d, r, origins)
  local result = value_text(r)
  local step = { symbol = r.symbol, source = source_of(r), result = { text = result, value = r.value } }
  if r.kind == "step" then
    step.formula = r.text
    if r.put ~= r.text then step.put = (r.si and "in SI: " or "") .. r.put end
    if r.si and r.shown ~= result then step.result.text = r.shown .. " = " .. result end
  else
    local says, names
    if r.kind ~= "table" then says, names = from_where(origin_of(r, origins)) end
    step.origins = names
    if r.kind == "word" then step.result, step.says = { text = r.text }, says
    else
      local text = r.text
      if text == "" then text = says or "" end
      if text ~= "" then step.says = text end
    end
  end
  d:step(step)
end

-- Writes the whole sheet of a worked result; `origins` by the members of its input (trace.origins) name the inputs.
function worksheet.write(d, worked, origins)
  local rows = worksheet.rows(worked)
  local function where(r)
    local origin = origin_of(r, origins)
    return (from_where(origin)), origin and origin.read and trace.name(origin.read) or nil
  end
  local i = 0
  while i < #rows do
    i = i + 1
    local r = rows[i]
    if r.kind == "lines" then i = lines.write(d, rows, i, { text = value_text, source = source_of, where = where })
    elseif r.kind == "heading" then d:subheading(r.text)
    else put_row(d, r, origins) end
  end
end

-- The formula of a result with its names' values put in; `node` is the result's, noted.
function worksheet.formula(d, node)
  local def, at, seen = node.def, {}, {}
  for _, name in ipairs(formula.of(def).names) do
    local read = trace.formula_read(node, name.keys)
    local value = read and read.value
    if value ~= nil and not seen[name.path] then
      seen[name.path] = true
      local unit = read.def and words.result_unit(read.def, value) or words.input_unit(read.path, value)
      local text = words.decimal(value, unit)
      at[name.path] = text
      d:step { symbol = name.path, result = { text = text, value = value, unit = unit }, says = trace.name(read),
          origins = { trace.name(read) } }
    end
  end
  local put = {}
  local last = 1
  for from, word, to in def.formula:gmatch "()([%a_][%w_.]*)()" do
    local text = at[word]
    put[#put + 1] = def.formula:sub(last, from - 1)
    put[#put + 1] = text and ((text:find "^%-" or text:find "%d ft %d") and "(" .. text .. ")" or text) or word
    last = to
  end
  put[#put + 1] = def.formula:sub(last)
  d:step { symbol = def.name, formula = def.formula, put = table.concat(put),
      source = def.cite and words.cite(def.cite),
      result = { text = words.decimal(node.value, words.result_unit(def, node.value)), value = node.value } }
end

-- The step, or the value out of a table, that gave an output (of a row: `stations`, 2, `offset`), in one line:
-- "V = n * V_module = 6 * 43.22 V = 259.3 V".
function worksheet.step_of(worked, output, item, field)
  local found
  for _, r in ipairs(worksheet.rows(worked)) do
    local is = r.member == output and (not item or r.item == item and r.field == field)
    if is and (r.kind == "step" or r.kind == "table") then found = r end
  end
  if not found then return nil end
  local result = value_text(found)
  if found.kind == "table" then
    return found.symbol .. " = " .. result .. " (" .. found.text .. "; " .. (source_of(found) or "") .. ")"
  end
  return found.symbol .. " = " .. found.text .. (found.put ~= found.text and " = " ..
      (found.si and "in SI: " or "") .. found.put or "") .. " = " ..
           (found.si and found.shown ~= result and found.shown .. " = " or "") .. result
end

return worksheet
