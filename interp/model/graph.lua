-- SPDX-License-Identifier: MIT
-- Results: named, computed on demand and once, over the declarations.
--
-- result { "rack", "top_edge", says = "...", dim = "length", show = "in", work = function(rack, job) ... end }
-- result { "rack", "line_spacing", says = "...", dim = "length", formula = "back_setback - front_setback" }
-- work   { "rack", "layout", op = "layout", input = function(rack, job) return { ... } end,
--          gives = { top_edge = { says = "...", show = "in" } } }      -- fields of the primitive become results
local schema = import "model.schema"
local record = import "model.record"
local memo = import "model.memo"
local step = import("model.path").step
local graph = {}

local inside = record.inside

-- ---- how a definition finds its value ------------------------------------------------------------------------------

local function picked(rec, def) return memo.value(rec, def.of)[def.out] end

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

local function worked(rec, def) return fitting(rec, def, def.work(rec.proxy, record.root)) end

-- A formula is read when it is first wanted.
local function by_formula(rec, def)
  if not def.read then
    local read, bad = import("model.formula").read(def.formula)
    def.read = read or host.raise { code = "G004", text = "the formula of " .. step(rec.path, def.name) .. ", '" ..
        def.formula .. "', cannot be read at '" .. string.sub(def.formula, bad.at) .. "': " .. bad.text }
  end
  local ok, value = pcall(def.read.run, rec.proxy)
  if ok then return fitting(rec, def, value) end
  if type(value) ~= "table" or host.class(value) then error(value, 0) end
  host.raise { code = value.code or "G004", help = value.help, text = "the formula of " .. step(rec.path, def.name) ..
      ", '" .. def.formula .. "': " .. value.text }
end

-- ---- registry ------------------------------------------------------------------------------------------------------

function graph.added(kind, def)
  local k = schema.kinds[kind] or error("no kind " .. tostring(kind))
  if rawget(k.results, def.name) or k.by[def.name] then error(kind .. "." .. def.name .. " is there already") end
  k.results[def.name] = def
  k.added[#k.added + 1] = def
  def.kind = kind
end

function graph.result(def)
  def.name, def.find = def[2], def.formula and by_formula or worked
  graph.added(def[1], def)
end

function graph.work(def)
  def.name, def.find = def[2], called
  graph.added(def[1], def)
  for out, more in host.sorted(def.gives) do
    graph.added(def[1], { def[1], more.name or out, name = more.name or out, find = picked, of = def, out = out,
        says = more.says, show = more.show, dim = more.dim })
  end
end

-- ---- reading -------------------------------------------------------------------------------------------------------

-- The value, or nil and the error that says why not; the node.
function graph.try(proxy, name)
  local rec = inside[proxy]
  local node = memo.node(rec, rec.def.results[name])
  if node.path then memo.note(node.path, node.value, node) end
  return node.value, node.unknown, node
end

local ops = {}
-- What C tells of a primitive: { name, help, inputs, outputs }.
function graph.primitive(name)
  ops[name] = ops[name] or primitive(name)
  return ops[name]
end

return graph
