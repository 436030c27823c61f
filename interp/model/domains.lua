-- SPDX-License-Identifier: MIT
-- What the library has and did not load yet: every word, result, rule and sheet, with the module that brings it.
--
-- The index is written at build (interp/gen/index.lua) out of what the modules declare when they run.  A table made by
-- `lazy` loads the module at the first look for a name that it does not have yet: what is there costs nothing, and a
-- start does not grow with the library.  What no module brings is false in it.
local words = import "index.words"
local domains = { order = words.order, place = words.place }

function domains.load(module) return import(module) end

-- ---- tables that load ----------------------------------------------------------------------------------------------

local maps = {}          -- what a table is about -> its names -> the modules that bring them

function maps.kinds() return words.kinds end
function maps.file_words() return words.file_words end

function maps.fields(kind) return words.fields[kind] end
function maps.results(kind) return import("index.results")[kind] or {} end

function maps.children(kind)
  local map = {}
  for _, name in ipairs(words.children[kind] or {}) do map[name] = words.kinds[name] end
  return map
end

function maps.rules()
  local map = {}
  for _, row in ipairs(import "index.rules") do
    for i = 1, #row, 3 do map[row[i]] = row.module end
  end
  return map
end

local about = {}         -- a table that loads -> { what, of }, later its map

local lazy_meta = { __index = function(t, name)
  local a = about[t]
  local map = a.map
  if not map then
    map = maps[a[1]](a[2])
    a.map = map
  end
  local module = map[name]
  if not module then
    if type(name) == "string" then t[name] = false end         -- asked once, known not to be
    return false
  end
  domains.load(module)
  return rawget(t, name)
end }

-- An empty table of kinds, file_words or rules, or of a kind's results, children or fields; names: how many are put
-- there at once.
function domains.lazy(what, of, names)
  local t = setmetatable(names and host.room(names) or {}, lazy_meta)
  about[t] = { what, of }
  return t
end

-- ---- lists ---------------------------------------------------------------------------------------------------------

-- The fields that domains add to a kind of another's, or nil.
function domains.added_to(kind) return words.fields[kind] end

function domains.has_kind(name) return words.kinds[name] ~= nil end

-- Names of kinds that hang on a kind, in the library's order.
function domains.children(kind) return words.children[kind] or {} end

local parents            -- kind -> the one that it hangs on

-- The kind that a kind hangs on, or nil.
function domains.parent(kind)
  if not parents then
    parents = {}
    for parent, names in next, words.children do for _, name in ipairs(names) do parents[name] = parent end end
  end
  return parents[kind]
end

-- Names of a kind's results, in the library's order.
function domains.results(kind) return import("index.result_order")[kind] or {} end

function domains.file_words()
  local names = {}
  for name in host.sorted(words.file_words) do names[#names + 1] = name end
  return names
end

-- { module, always, kinds = what it judges, id, severity, each, id, ... } of each module with rules.
function domains.rules() return import "index.rules" end

-- { name, title, module, build, crew, of = what it is about, sorts = of which sorts of these alone, beside = it has
-- lines beside the verdict, alone = nothing of it stands in a report } of each sheet, in order.
function domains.sheets() return import "index.sheets" end

return domains
