-- SPDX-License-Identifier: MIT
-- Faults of a table of interp/data: a cell's last digit, its sign, the value of a neighbour, two cells of a row
-- exchanged, how a row is known, a row left out.
local common = require "common"
local tables = {}

-- Cells that a person reads and nothing computes with: what is printed of a table is the goldens' and `make docs`' to
-- hold.
local PROSE = { name = true, cite = true, source = true, section = true, edition = true, band = true, words = true,
                definition = true, ucum = true, note = true, refused = true, aliases = true, text = true, says = true,
                table = true, clause = true, unit = true, family_basis = false }
local NUMBERS = { int = true, ["int?"] = true, real = true, ["real?"] = true }
local KNOWN = { READ = "MEMORY", ["READ-2ND"] = "MEMORY", MEMORY = "READ", DERIVED = "MEMORY", PRACTICE = "READ",
                TAKEN = "READ" }

-- The cells of a line: { text =, at =, to = }, the place without the quotes; `offset` is where the line stands.
local function cells_of(line, offset)
  local list, at = {}, 1
  while true do
    if line:sub(at, at) == '"' then
      local i = at + 1
      while line:sub(i, i) ~= '"' or line:sub(i + 1, i + 1) == '"' do i = i + (line:sub(i, i) == '"' and 2 or 1) end
      list[#list + 1] = { text = line:sub(at + 1, i - 1), at = offset + at, to = offset + i - 1 }
      at = i + 1
    else
      local to = line:find(",", at, true) or #line + 1
      list[#list + 1] = { text = line:sub(at, to - 1), at = offset + at - 1, to = offset + to - 1 }
      at = to
    end
    if line:sub(at, at) ~= "," then return list end
    at = at + 1
  end
end

-- columns: { { name =, kind = "number" | "known" | "text" | "prose" } ... }; rows of cells, each with its line's place.
function tables.read(text)
  local columns, rows, offset = nil, {}, 1
  for line, ending in text:gmatch "([^\n]*)(\n?)" do
    if line ~= "" and not line:find "^#" then
      local cells = cells_of(line, offset)
      if not columns then
        columns = {}
        for i, cell in ipairs(cells) do
          local name, type = cell.text:match "^(.*):(%S+)"
          local kind = NUMBERS[type] and "number" or (type == "known" or type == "basis") and "known" or
                       (type == "text" or type == "key") and not PROSE[name] and "text" or "prose"
          columns[i] = { name = name or cell.text, kind = kind }
        end
      else
        cells.at, cells.to = offset, offset + #line + #ending
        rows[#rows + 1] = cells
      end
    end
    offset = offset + #line + #ending
  end
  return columns or {}, rows
end

local function is_number(cell) return cell and tonumber(cell.text) ~= nil end

function tables.faults(path, text)
  local columns, rows = tables.read(text)
  local group = "table " .. path:match "([^/]+)%.csv$"
  local add, list = common.collector(path, text, "tables")
  local signed = {}
  for _, row in ipairs(rows) do
    for i in ipairs(columns) do
      if row[i] and row[i].text:find "^%-%d" then signed[i] = true end
    end
  end
  for r, row in ipairs(rows) do
    for i, column in ipairs(columns) do
      local cell, below = row[i], rows[r + 1] and rows[r + 1][i] or rows[r - 1] and rows[r - 1][i]
      if not cell or cell.text == "" then goto next end
      if column.kind == "number" and is_number(cell) then
        for _, up in ipairs { true, false } do
          add(group, "digit", cell.at, cell.to, common.other_number(cell.text, up) or cell.text)
        end
        if signed[i] and tonumber(cell.text) ~= 0 then
          add(group, "sign", cell.at, cell.to, cell.text:find "^%-" and cell.text:sub(2) or "-" .. cell.text)
        end
        if is_number(below) and tonumber(below.text) ~= tonumber(cell.text) then
          add(group, "neighbour", cell.at, cell.to, below.text)
        end
        for j = i + 1, #columns do
          local other = row[j]
          if columns[j].kind == "number" then
            if is_number(other) and tonumber(other.text) ~= tonumber(cell.text) then
              add(group, "exchanged", cell.at, other.to,
                  other.text .. text:sub(cell.to, other.at - 1) .. cell.text)
            end
            break
          end
        end
      elseif column.kind == "text" and below and below.text ~= "" and not cell.text:find '"' then
        add(group, "neighbour", cell.at, cell.to, below.text)
      elseif column.kind == "known" and KNOWN[cell.text] then
        add(group, "known", cell.at, cell.to, KNOWN[cell.text])
      end
      ::next::
    end
    if #rows > 1 then add(group, "row", row.at, row.to, "") end
  end
  return list
end

return tables
