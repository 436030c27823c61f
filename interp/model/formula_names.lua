-- SPDX-License-Identifier: MIT
-- What the names of a formula lead to, by the schemas alone: for whoever checks a formula before it has a record.
local schema = import "model.schema"
local graph = import "model.graph"
local formula_names = {}

-- A place on the way is a kind, a group, { each = kind }: all of a kind, of which a name that nobody can know takes
-- one, or `open`: what has names of its own, such as a map.
local open = {}

local function below_field(f)
  if f.fields then return { f } end
  if f.type == "list" or f.type == "map" then return { open } end
  local kinds = {}
  for i, name in ipairs(f.type == "ref" and f.of or f.type == "part" and { f.of } or {}) do
    kinds[i] = schema.kinds[name]
  end
  return kinds
end

local function all_of(kind) return kind.single and kind or { each = kind } end

-- What a key leads to at one place: places further on, and the definition of a value; nil where there is no such thing.
local function step(place, key)
  if place == open then return { open } end
  if place.each then
    local further, leaf = step(place.each, key)
    if further then return further, leaf end             -- straight through the only one
    return { place.each }
  end
  local f = place.by[key]
  if f then return below_field(f), f end
  local r = schema.result(place, key)
  if r then return r.op and { open } or {}, r end
  local child = place.children and place.children[key] or place.name == "job" and schema.kinds[key]
  if child then return { all_of(child) } end
end

local function keys_at(place)
  local def = place.each or place
  if def == open then return {} end
  local names = schema.names(def)
  if def.name == "job" then table.move(schema.words(), 1, #schema.words(), #names + 1, names) end
  return names
end

-- Where a name { keys } of a formula of a kind leads: the definitions that it may end at, or nil, the number of the key
-- that nothing has, and what is there instead.
function formula_names.ends(kind, keys)
  local places, leaves, at = { kind }, {}, 1
  if keys[1] == "job" then places, at = { schema.kinds.job }, 2
  elseif keys[1] == "parent" then places, at = { schema.kinds[kind.parent or ""] or nil }, 2 end
  for i = at, #keys do
    local further, known = {}, false
    leaves = {}
    for _, place in ipairs(places) do
      local more, leaf = step(place, keys[i])
      known = known or more ~= nil
      table.move(more or {}, 1, #(more or {}), #further + 1, further)
      leaves[#leaves + 1] = leaf
    end
    if not known then
      local names = {}
      for _, place in ipairs(places) do
        local list = keys_at(place)
        table.move(list, 1, #list, #names + 1, names)
      end
      return nil, i, names
    end
    places = further
  end
  return leaves
end

local numbers = { ratio = true, count = true, number = true }

-- What a definition that a name ends at is: a dimension, "number", "flag"; false where it is no amount, nil where that
-- shows only as it is read.
local function is(def)
  local kind = def.type                                   -- a field's
  if kind == "quantity" then return def.dim end
  if kind == "position" then return "angle" end
  if kind == "flag" then return "flag" end
  if kind == "money" then return nil end                  -- a price by the piece, the length, the volume
  if kind then return numbers[kind] and "number" or false end
  if def.scripted then return def.amount end
  if def.dim then return numbers[def.dim] and "number" or def.dim end
  if not def.of then return nil end
  for _, out in ipairs(graph.primitive(def.of.op).outputs) do
    if out.name == def.out then
      return out.kind == "flag" and "flag" or out.kind == "count" and "number" or
          out.kind == "quantity" and (numbers[out.dim] and "number" or out.dim) or nil
    end
  end
end

-- The same of all that a name may end at, where it is one.
function formula_names.amount(leaves)
  local first = leaves[1] and is(leaves[1])
  for i = 2, #leaves do if is(leaves[i]) ~= first then return nil end end
  return first
end

-- A value of each such kind, to try a formula with; nil where there is none.
local function sample(amount, n)
  if amount == "flag" then return true end
  if amount == "number" then return 2 + n / 4 end
  if not amount or amount:find "^money" then return nil end
  return host.quantity(300 + n, amount)
end

-- What the formula gives where each of its names has what its definition says, or nil and what it says against that;
-- nothing where that cannot be told before it is read.  amounts: path -> what it is.
function formula_names.try(read, amounts)
  local at = {}
  for n, name in ipairs(read.names) do
    local value, t = sample(amounts[name.path], n), at
    if value == nil then return end
    for i = 1, #name.keys - 1 do
      t[name.keys[i]] = t[name.keys[i]] or {}
      t = t[name.keys[i]]
      if type(t) ~= "table" then return end
    end
    if t[name.keys[#name.keys]] ~= nil then return end
    t[name.keys[#name.keys]] = value
  end
  local ok, value = pcall(read.run, at)
  if ok then return value end
  if type(value) == "table" then return nil, value end
  error(value, 0)
end

return formula_names
