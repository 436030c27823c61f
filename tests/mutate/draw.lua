-- SPDX-License-Identifier: MIT
-- Which faults there are, and which are drawn. Each group has an order of its own, made of the seed and of the faults'
-- own texts: what changes in one file does not change the draw in another.
local common = require "common"
local tables = require "tables"
local calc = require "calc"
local stdlib = require "stdlib"
local draw = {}

-- Not drawn from: sheet.c records what a calculation does, and calculates nothing.
local APART = { ["interp/calc/sheet.c"] = true }

-- FNV-1a over 64 bits, stirred once more: a number for a text.
local function hash(text)
  local h = 0xcbf29ce484222325
  for i = 1, #text do h = (h ~ text:byte(i)) * 0x100000001b3 end
  h = (h ~ (h >> 33)) * 0xff51afd7ed558ccd
  return h ~ (h >> 33)
end

-- How many faults a group gives: with one of each the whole draw is run in half an hour on two cores.
local function quota(group, faults)
  local n, what = #faults, group:match "^%a+"
  return (what == "table" and n > 60 or what == "primitive" and n > 150) and 2 or 1
end

-- All faults, in groups: { { name =, class =, faults = { ... }, quota = } ... }, by name. texts[path] is each file.
function draw.groups(seed)
  local by, list, texts = {}, {}, {}
  local lua_files = common.lines "ls stdlib/*/*.lua | LC_ALL=C sort"
  local names = stdlib.names(lua_files)
  local function take(path, find)
    texts[path] = common.read(path)
    for _, fault in ipairs(find(path, texts[path], names)) do
      local group = by[fault.group]
      if not group then
        group = { name = fault.group, class = fault.class, path = path, faults = {} }
        by[fault.group] = group
        list[#list + 1] = group
      end
      local before, after = common.diff(texts[path], fault)
      fault.before, fault.after = before, after
      fault.id = ("%s %s %s"):format(path, fault.kind, ("%016x"):format(hash(before .. "\n" .. after .. fault.at)))
      fault.rank = hash(seed .. fault.group .. fault.kind .. before .. "\n" .. after .. "\n" ..
                        (fault.at - (texts[path]:find(before, 1, true) or 0)))
      table.insert(group.faults, fault)
    end
  end
  for _, path in ipairs(common.lines "ls interp/data/*.csv | LC_ALL=C sort") do take(path, tables.faults) end
  for _, path in ipairs(common.lines "ls interp/calc/*.c | LC_ALL=C sort") do
    if not APART[path] then take(path, calc.faults) end
  end
  for _, path in ipairs(lua_files) do take(path, stdlib.faults) end
  table.sort(list, function(a, b) return a.name < b.name end)
  for _, group in ipairs(list) do
    group.quota = math.min(quota(group.name, group.faults), #group.faults)
    group.order = draw.order(seed, group)
  end
  return list, texts
end

-- A group's faults in the order in which they are drawn: the kinds take turns, so that the many operators of a formula
-- leave room for its one constant. A rule is first made always true.
function draw.order(seed, group)
  local by, kinds, order = {}, {}, {}
  for _, fault in ipairs(group.faults) do
    if not by[fault.kind] then
      by[fault.kind] = {}
      kinds[#kinds + 1] = fault.kind
    end
    table.insert(by[fault.kind], fault)
  end
  local rank = {}
  for _, kind in ipairs(kinds) do
    table.sort(by[kind], function(a, b)
      if a.rank ~= b.rank then return a.rank < b.rank end
      return a.at < b.at
    end)
    rank[kind] = kind == "always true" and math.mininteger or hash(seed .. group.name .. kind)
  end
  table.sort(kinds, function(a, b) return rank[a] < rank[b] end)
  local round = 0
  while #order < #group.faults do
    round = round + 1
    for _, kind in ipairs(kinds) do order[#order + 1] = by[kind][round] end
  end
  return order
end

-- ---- faults that change nothing ------------------------------------------------------------------------------------

-- equivalent.txt: paragraphs of a path, the line as it is behind "- ", the line with the fault behind "+ ", and the
-- reason. Gives [path][before][after] = { reason =, used = }.
function draw.equivalents(path)
  local list, by = {}, {}
  local entry
  local function close()
    if not entry then return end
    if not (entry.before and entry.after and entry.reason) then
      error(("%s:%d: wants a path, a line `- `, a line `+ ` and a reason"):format(path, entry.line), 0)
    end
    by[entry.path] = by[entry.path] or {}
    by[entry.path][entry.before] = by[entry.path][entry.before] or {}
    by[entry.path][entry.before][entry.after] = entry
    list[#list + 1] = entry
    entry = nil
  end
  local number = 0
  for line in (common.read(path) .. "\n"):gmatch "([^\n]*)\n" do
    number = number + 1
    if line:find "^#" then goto next end
    if line:find "^%s*$" then close()
    elseif not entry then entry = { path = line, line = number }
    elseif line:find "^%- " then entry.before = line:sub(3)
    elseif line:find "^%+ " then entry.after = line:sub(3)
    else entry.reason = (entry.reason and entry.reason .. " " or "") .. line:match "^%s*(.-)%s*$"
    end
    ::next::
  end
  close()
  return by, list
end

-- Marks the faults that change nothing; complains of entries that no fault is.
function draw.mark(groups, by, list, complaints)
  for _, group in ipairs(groups) do
    for _, fault in ipairs(group.faults) do
      local entry = ((by[fault.path] or {})[fault.before] or {})[fault.after]
      if entry then
        fault.equivalent = entry.reason
        entry.used = true
      end
    end
  end
  for _, entry in ipairs(list) do
    if not entry.used then
      complaints[#complaints + 1] = ("line %d: no such fault can be drawn now: %s"):format(entry.line, entry.after)
    end
  end
end

return draw
