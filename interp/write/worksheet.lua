-- SPDX-License-Identifier: MIT
-- The worked sheet of a primitive as steps: each symbol, its formula, the values put in, the source and its basis.
local words = import "write.words"
local lines = import "write.lines"
local worksheet = {}

-- ---- does a formula hold with units on its numbers? ----------------------------------------------------------------

-- Evaluates the C text of a step with quantities for its symbols. A formula with hidden units fails here, and is then
-- shown in SI, where it is true.
local calls = {
  sqrt = function(x) return host.sqrt(x) end, sin = function(x) return host.sin(x) end,
      cos = function(x) return host.cos(x) end,
  tan = function(x) return host.tan(x) end, fmin = function(a, b) return a < b and a or b end,
      fmax = function(a, b) return a < b and b or a end,
  hypot = function(a, b) return host.sqrt(a * a + b * b) end, fabs = function(x) return host.abs(x) end,
  pow = function(a, b) return a ^ b end, exp = math.exp, floor = math.floor, ceil = math.ceil,
}

local function evaluate(text, values)
  local at = 1
  local function skip() at = text:match("^%s*()", at) end
  local function take(token)
    skip()
    if text:sub(at, at + #token - 1) == token then at = at + #token return true end
  end
  local ternary
  local function primary()
    skip()
    local number, stop = text:match("^(%d+%.?%d*[eE][+-]?%d+)()", at)
    if not number then number, stop = text:match("^(%d*%.?%d+)()", at) end
    if not number then number, stop = text:match("^(%d+%.)()", at) end
    if number then at = stop return tonumber(number) + 0.0 end
    local name, after = text:match("^([%a_][%w_]*)()", at)
    if name then
      at = after
      if take("(") then
        local args = {}
        repeat args[#args + 1] = ternary() until not take(",")
        assert(take(")"))
        return assert(calls[name])(table.unpack(args))
      end
      return assert(values[name])
    end
    assert(take("("))
    local v = ternary()
    assert(take(")"))
    return v
  end
  local function unary()
    if take("-") then return -unary() end
    return primary()
  end
  local function product()
    local v = unary()
    while true do
      if take("*") then v = v * unary() elseif take("/") then v = v / unary() else return v end
    end
  end
  local function sum()
    local v = product()
    while true do
      if take("+") then v = v + product() elseif take("-") then v = v - product() else return v end
    end
  end
  local function compared()
    local v = sum()
    if take("<=") then return v <= sum() elseif take(">=") then return v >= sum()
    elseif take("<") then return v < sum() elseif take(">") then return v > sum() end
    return v
  end
  function ternary()
    local v = compared()
    if take("?") then
      local yes = ternary()
      assert(take(":"))
      local no = ternary()
      if type(v) ~= "boolean" then v = v ~= 0 end
      if v then return yes end
      return no
    end
    return v
  end
  local v = ternary()
  skip()
  assert(at > #text)
  if type(v) == "boolean" then v = v and 1 or 0 end
  return v
end

local function holds_with_units(row, values)
  local ok, v = pcall(evaluate, row.text, values)
  if not ok then return false end
  local a, b = host.is_quantity(v), host.is_quantity(row.value)
  if a ~= b or (a and not host.same_kind(v, row.value)) then return false end
  return math.abs(host.si(v) - host.si(row.value)) <= 1e-9 * math.max(1e-30, host.size(row.value))
end

-- ---- lines ---------------------------------------------------------------------------------------------------------

local function value_text(row)
  if type(row.value) == "number" and row.dim == "ratio" then return host.format(row.value, "%") end
  return words.show(row.value)
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

-- The one thing read that has a given row's value; none where two have it.
local function named(r, reads)
  local found
  for _, x in ipairs(reads or {}) do
    if host.is_quantity(x.value) and host.is_quantity(r.value) and host.same(x.value, r.value) or
        type(x.value) == "number" and x.value == r.value then
      if found then return nil end
      found = x.path
    end
  end
  return found
end

local function put_row(d, r, reads)
  local result = value_text(r)
  local step = { symbol = r.symbol, source = source_of(r), result = { text = result, value = r.value } }
  if r.kind == "step" then
    step.formula = r.text
    if r.put ~= r.text then step.put = (r.si and "in SI: " or "") .. r.put end
    if r.si and r.shown ~= result then step.result.text = r.shown .. " = " .. result end
  elseif r.kind == "word" then step.result = { text = r.text }
  else
    local text = r.text
    if text == "" and r.kind == "given" then text = named(r, reads) or "" end
    if text ~= "" then step.says = text end
  end
  d:step(step)
end

-- Writes the whole sheet of a worked result; `reads` (what its node read) names the inputs.
function worksheet.write(d, worked, reads)
  local rows = worksheet.rows(worked)
  local i = 0
  while i < #rows do
    i = i + 1
    local r = rows[i]
    if r.kind == "lines" then i = lines.write(d, rows, i, value_text, source_of)
    elseif r.kind == "heading" then d:subheading(r.text)
    else put_row(d, r, reads) end
  end
end

-- The step that gave a value, in one line: "V = n * V_module = 6 * 43.22 V = 259.3 V".
function worksheet.step_of(worked, value)
  local found
  for _, r in ipairs(worksheet.rows(worked)) do
    if r.kind == "step" and host.is_quantity(r.value) == host.is_quantity(value) and
        host.near(host.si(r.value), host.si(value)) then found = r end
  end
  if not found then return nil end
  local result = value_text(found)
  return found.symbol .. " = " .. found.text .. (found.put ~= found.text and " = " ..
      (found.si and "in SI: " or "") .. found.put or "") .. " = " ..
           (found.si and found.shown ~= result and found.shown .. " = " or "") .. result
end

-- Table values that were not read in the source itself: adds { cite, name, basis } to a list, each once.
function worksheet.basis(worked, list, seen)
  local _, rows = worked_sheet(worked)
  for _, r in ipairs(rows) do
    if r.kind == "table" and r.basis ~= "read" and r.basis ~= "derived" then
      local key = r.basis .. "\0" .. r.cite
      if not seen[key] then
        seen[key] = { basis = r.basis, cite = r.cite, names = {}, has = {} }
        list[#list + 1] = seen[key]
      end
      local s = seen[key]
      if not s.has[r.symbol] then s.has[r.symbol] = true; s.names[#s.names + 1] = r.symbol end
    end
  end
end

return worksheet
