-- SPDX-License-Identifier: MIT
-- All variants of a store as one table for a spreadsheet (RFC 4180), in the order of their numbers: number, status, of
-- each axis the step as a declaration would have it and its amount in SI, rules, what was kept in SI.
local columns = import "sweep.columns"
local quoted = import "write.csv_cell"

local concat, format = table.concat, string.format

local units                -- dimension -> the unit of SI that it has, where that has a name

-- What the numbers of an amount in SI are counted in.
local function si_unit(v)
  local dim, _, currency = host.unit(v)
  if currency ~= "" then return dim == "money" and currency or "SI, " .. currency end
  if not units then
    units = {}
    for _, u in ipairs(host.units()) do
      local one = (u.refused or "") == "" and host.literal("1" .. u.symbol)
      if one and host.is_quantity(one) and host.si(one) == 1 then
        local of = host.unit(one)
        units[of] = units[of] or u.symbol
      end
    end
  end
  return units[dim] or "SI"
end

-- What a column of amounts is called: its path, and the unit of its numbers.
local function in_si(name, v)
  return host.is_quantity(v) and name .. " [" .. si_unit(v) .. "]" or name
end

-- As short as it is read back to the same bits.
local function number(v)
  if math.type(v) == "integer" then return tostring(v) end
  local whole = math.tointeger(v)
  if whole and math.abs(whole) < 1e15 then return tostring(whole) end
  local text = format("%.15g", v)
  if tonumber(text) == v then return text end
  text = format("%.16g", v)
  return tonumber(text) == v and text or format("%.17g", v)
end

local function cell(v)
  if v == nil then return "" end
  return type(v) == "number" and number(v) or quoted(v)
end

local MOST_KEPT = 100000   -- steps of an axis whose cells are kept
local LINES = 4096         -- that are joined at once

-- The cells of an axis by its step.
local function cells_of(axis, amounts)
  local known = {}
  return function(step)
    local text = known[step]
    if not text then
      text = quoted(axis.text(step)) .. (amounts and "," .. cell((axis.si(step))) or "")
      if axis.size <= MOST_KEPT then known[step] = text end
    end
    return text
  end
end

local function has_amounts(axis) return type(axis.si(math.min(1, axis.size - 1))) == "number" end

local function heading(f, amounts)
  local names = { "number", "status" }
  for a, axis in ipairs(f.axes) do
    names[#names + 1] = quoted(axis.name)
    local target = axis.targets and axis.targets[1]
    if amounts[a] then names[#names + 1] = quoted(in_si(axis.name .. " as a number", target and target.value)) end
  end
  for _, name in ipairs { "broken", "unknown", "cautions", "why" } do names[#names + 1] = name end
  for _, k in ipairs(f.kept) do names[#names + 1] = quoted(in_si(k.name, k.like)) end
  return concat(names, ",") .. "\r\n"
end

-- f: { space, axes, kept, db } of sweep.answer.
return function(f)
  local lines, n, amounts, axis_cells = {}, 0, {}, {}
  for a, axis in ipairs(f.axes) do
    amounts[a] = has_amounts(axis)
    axis_cells[a] = cells_of(axis, amounts[a])
  end
  local chunks = { heading(f, amounts) }
  local n_axes, n_kept, steps_of = #f.axes, #f.kept, f.space.steps
  local line = {}
  local function row(number_of, status, broken, unknown, cautions, why, ...)
    line[1], line[2] = tostring(number_of), status
    local steps = steps_of(number_of)
    for a = 1, n_axes do line[2 + a] = axis_cells[a](steps[a]) end
    local at = 2 + n_axes
    line[at + 1], line[at + 2], line[at + 3], line[at + 4] = cell(broken), cell(unknown), cell(cautions), cell(why)
    for i = 1, n_kept do line[at + 4 + i] = cell((select(i, ...))) end
    n = n + 1
    lines[n] = concat(line, ",")
    if n == LINES then
      chunks[#chunks + 1] = concat(lines, "\r\n") .. "\r\n"
      lines, n = {}, 0
    end
  end
  local names = { "number, status, broken, unknown, cautions, why", table.unpack(columns.kept(f.kept)) }
  columns.each(row, f.db:each("SELECT " .. concat(names, ", ") .. " FROM variant ORDER BY number"))
  if n > 0 then chunks[#chunks + 1] = concat(lines, "\r\n") .. "\r\n" end
  return concat(chunks)
end
