-- SPDX-License-Identifier: MIT
-- The foot of a sheet: which of its numbers were not read in the standard itself, by what they are, where they stand,
-- and how they were come by.  What was read stands on no foot; programs get the symbols, too.
local util = import "model.util"
local words = import "write.words"
local sources = {}

local MOST = 3             -- names of rows that stand for a table without a code's section

-- The worst known first.
local order = { "from memory", "read second-hand", "read in another edition", "common practice" }
local rank = {}
for i, how in ipairs(order) do rank[how] = i end

-- "Eq. 26.10-1, Kd kept apart" -> "Eq. 26.10-1": what is said of a section besides stands in the worked sheet.
local function section(text) return (text:gsub(": .*$", ""):gsub(", %f[%a]%f[^%sE].*$", "")) end

-- What a source is called, the code that it stands in, and its section there; without a code the text that is cited.
local function named(b)
  local says = host.stands_there(b.cite)
  if says then
    for _, edition in ipairs(host.editions()) do
      if b.cite:sub(1, #edition + 1) == edition .. " " then
        return says .. " (" .. section(b.cite:sub(#edition + 2)) .. ")", edition
      end
    end
  end
  local rows = #b.rows <= MOST and b.rows or { b.rows[1], b.rows[2], #b.rows - 2 .. " more" }
  return util.list(rows) .. " (" .. words.cite(b.cite) .. ")", ""
end

-- "from memory" -> { { code, { name ... } } ... } in the order in which they were met.
local function by_basis(list)
  local groups, by = {}, {}
  for _, b in ipairs(list) do
    local name, code = named(b)
    local g = by[b.basis]
    if not g then
      g = { basis = b.basis, codes = {}, of = {}, at = #groups + 1 }
      by[b.basis], groups[g.at] = g, g
    end
    local names = g.of[code]
    if not names then
      names = { code = code }
      g.of[code], g.codes[#g.codes + 1] = names, names
    end
    if not names[name] then names[name], names[#names + 1] = true, name end
  end
  table.sort(groups, function(a, b)
    local x, y = rank[a.basis] or #order + 1, rank[b.basis] or #order + 1
    return x < y or x == y and a.at < b.at
  end)
  return groups
end

local function facts_of(list)
  return function(as)
    local out = as.array {}
    for i, b in ipairs(list) do
      out[i] = as.object { { "known", b.basis }, { "cite", words.cite(b.cite) }, { "says", host.stands_there(b.cite) },
          { "symbols", as.array(table.move(b.names, 1, #b.names, 1, {})) } }
    end
    return out
  end
end

-- Table values that were not read in the source itself: adds { cite, basis, names = symbols, rows = names of the rows }
-- to a list, each once.
function sources.basis(worked, list, seen)
  local rows = worked_unread(worked) or {}
  for i = 1, #rows do
    local r = rows[i]
    local key = r.basis .. "\0" .. r.cite
    local s = seen[key]
    if not s then
      s = { basis = r.basis, cite = r.cite, names = {}, rows = {}, has = {} }
      seen[key], list[#list + 1] = s, s
    end
    if not s.has[r.symbol] then s.has[r.symbol] = true; s.names[#s.names + 1] = r.symbol end
    if not s.has["\0" .. r.text] then s.has["\0" .. r.text] = true; s.rows[#s.rows + 1] = r.text end
  end
end

-- answers: those of the primitives that the sheet's numbers rest on, as model.called has them.
function sources.foot(d, answers)
  local list, seen = {}, {}
  for i = 1, #answers do sources.basis(answers[i], list, seen) end
  if #list == 0 then return end
  d:fact("sources", facts_of(list))
  d:gap()
  d:subheading("Numbers that were not read in the standard itself: check them in your own copy")
  d:inside(function()
    for _, g in ipairs(by_basis(list)) do
      local parts = {}
      for i, names in ipairs(g.codes) do
        parts[i] = (names.code ~= "" and names.code .. ": " or "") .. table.concat(names, ", ")
      end
      d:para(g.basis .. ": " .. table.concat(parts, "; ") .. ".", nil, 2)
    end
  end)
end

return sources
