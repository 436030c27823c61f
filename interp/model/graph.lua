-- SPDX-License-Identifier: MIT
-- Results: named, computed on demand and once, over the declarations.
--
-- result { "rack", "top_edge", says = "...", dim = "length", show = "in", work = function(rack, job) ... end }
-- result { "rack", "line_spacing", says = "...", dim = "length", formula = "back_setback - front_setback" }
-- work   { "rack", "layout", op = "layout", input = function(rack, job) return { ... } end,
--          gives = { top_edge = { says = "...", show = "in" } } }      -- fields of the primitive become results
--
-- none = function(record): why a record has no such result, in words, or nil where it has it.
-- leaves_out = function(): what of it the result does not count, in words.
-- given = "loads.up" in either: what of a paper may stand in the value's place; takes = function(record, job, value,
-- paper) makes it what the result is, or gives nil where the result is to be worked out all the same (model.given).
-- rows = true: a list for sheets and other results, which is told nowhere by itself.
-- worse = "more" or "less": it may stand in what a paper was made for (model.conditions).
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local memo = import "model.memo"
local step = import("model.path").step
local graph = {}

local inside = record.inside

-- ---- how a definition finds its value ------------------------------------------------------------------------------

local function picked(rec, def) return memo.value(rec, def.of)[def.out] end

-- The same of a size of wire, which primitives have as a text: with its system, 10 AWG.
local function picked_wire(rec, def) return host.wire(picked(rec, def)) end

local primitives = memo.primitives
local function called(rec, def) return primitives[def.op](def.input(rec.proxy, record.root)) end

-- The value as it was given, if it is what its definition says.
local function fitting(rec, def, value)
  if value == nil then
    local path = step(rec.path, def.name)
    host.raise { code = "G003", class = "missing", text = path .. " cannot be worked out", path = path }
  end
  if def.dim and not host.is(value, def.dim) then
    host.raise { code = "G002", text = step(rec.path, def.name) .. " should be " .. def.dim .. ", got " ..
        host.describe(value) }
  end
  return value
end

local is, root = host.is, record.root

local function worked(rec, def)
  local value = def.work(rec.proxy, root)
  if value == nil or def.dim and not is(value, def.dim) then return fitting(rec, def, value) end
  return value
end

-- The library's own formulas were turned into Lua when it was built.
local function by_formula(rec, def)
  def.run = def.run or import("index.formulas")[def.kind .. "." .. def.name] or import("model.formula").of(def).run
  local ok, value = pcall(def.run, rec.proxy)
  if not ok then import("model.formula").failed(rec, def, value) end
  if value == nil or def.dim and not is(value, def.dim) then return fitting(rec, def, value) end
  return value
end

-- A result that a paper may give is what the paper says; without papers nothing is looked for.
local function unless_given(find)
  return function(rec, def)
    if #run.giving == 0 then return find(rec, def) end
    return import("model.given").value(rec, def, find)
  end
end

local function if_any(find)
  return function(rec, def)
    local why = def.none(rec.proxy)
    if why then host.raise { code = "G003", class = "missing", text = why } end
    return find(rec, def)
  end
end

-- ---- registry ------------------------------------------------------------------------------------------------------

function graph.added(kind, def)
  local k = schema.kinds[kind] or error("no kind " .. tostring(kind))
  local name = def.name
  if rawget(k.results, name) or rawget(k.by, name) then error(kind .. "." .. name .. " is there already") end
  k.results[def.name] = def
  k.added[#k.added + 1] = def
  def.kind = kind
end

function graph.result(def)
  def.name, def.find = def[2], def.formula and by_formula or worked
  if def.given then def.find = unless_given(def.find) end
  if def.none then def.find = if_any(def.find) end
  graph.added(def[1], def)
end

function graph.work(def)
  def.name, def.find = def[2], def.none and if_any(called) or called
  graph.added(def[1], def)
  for out, more in host.sorted(def.gives) do
    local find = more.wire and picked_wire or picked
    graph.added(def[1], { def[1], more.name or out, name = more.name or out, of = def, out = out,
        find = more.given and unless_given(find) or find, picks = not (more.given or more.wire) or nil,
        given = more.given,
        takes = more.takes,
        says = more.says, show = more.show, dim = more.dim })
  end
end

-- ---- reading -------------------------------------------------------------------------------------------------------

-- The value, or nil and the error that says why not; the node, while they are noted.
function graph.try(proxy, name)
  local rec = inside[proxy]
  return memo.try(rec, schema.result(rec.def, name))
end

-- The paper that gives "loads.up" of a record, the value and where it stands; nil without one.
function graph.paper(proxy, path)
  if #run.giving > 0 then return import("model.given").paper(proxy, path) end
end

-- Why a record has no such result, as its definition says or as the primitive gives none; nil where it has it, or where
-- that is unknown.
function graph.none(proxy, def)
  local none = (def.of or def).none
  local said = none and none(proxy)
  if said or not def.of then return said end
  local _, why = graph.try(proxy, def.name)
  return why and why.code == "C007" and host.message(why) or nil
end

local ops = {}
-- What C tells of a primitive: { name, help, inputs, outputs }.
function graph.primitive(name)
  ops[name] = ops[name] or primitive(name)
  return ops[name]
end

return graph
