-- SPDX-License-Identifier: MIT
-- How the columns of a store's table `variant` are named in SQL, and how its rows are gone through.
local columns = {}

-- A name in SQL, whatever stands in it.
function columns.quoted(name) return '"' .. name:gsub('"', '""') .. '"' end

-- The columns of kept results, in their order: a list of names in SQL.
function columns.kept(kept)
  local list = {}
  for i, k in ipairs(kept) do list[i] = columns.quoted(k.field) end
  return list
end

-- So many blank cells as SQL names them: "?, ?, ?".
function columns.places(n) return string.rep("?", n, ", ") end

-- Statuses of variants that were judged; the others are told apart.
columns.judged = "status IN ('holds', 'broken', 'unknown')"

-- The ids of a cell such as "R12 R41"; none of a cell that is NULL.
function columns.ids(cell)
  local list = {}
  for id in (cell or ""):gmatch "%S+" do list[#list + 1] = id end
  return list
end

-- Calls f with all values of each row that db:each gives.
function columns.each(f, next_row, state, key)
  local function step(first, ...)
    if first == nil then return false end
    key = first
    f(first, ...)
    return true
  end
  while step(next_row(state, key)) do end
end

return columns
