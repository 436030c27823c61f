-- SPDX-License-Identifier: MIT
-- Results: named, computed on demand and once, over the declarations.  What a result reads is noted as it runs: that
-- gives the circle check, the inputs on its sheet, and (later) what a sweep may keep.
--
-- result { "rack", "top_edge", says = "...", dim = "length", show = "in", work = function(rack, job) ... end }
-- work   { "rack", "layout", op = "layout", input = function(rack, job) return { ... } end,
--          gives = { top_edge = { says = "...", show = "in" } } }      -- fields of the primitive become results
local schema = import "model.schema"
local record = import "model.record"
local graph = { noting = false }      -- noting: keep what each result reads; `explain` and sweeps turn it on

local memo = {}          -- rec -> name -> node
local stack = {}         -- nodes being worked out
local inside = record.inside

function graph.push()
  local before = { memo, stack }
  memo, stack = {}, {}
  return before
end
function graph.pop(before) memo, stack = before[1], before[2] end

-- From here on what each result reads is kept; what was worked out before is worked out again.
function graph.start_noting() memo, graph.noting = {}, true end

function graph.note(path, value, of)
  local node = stack[#stack]
  if node and not node.seen[path] then
    node.seen[path] = true
    node.reads[#node.reads + 1] = { path = path, value = value, node = of, def = of and of.def }
  end
end

function graph.path(node) return record.step(node.rec.path, node.name) end

local function circle(node)
  local names, on = {}, false
  for _, n in ipairs(stack) do
    if n == node then on = true end
    if on then names[#names + 1] = graph.path(n) end
  end
  names[#names + 1] = graph.path(node)
  host.raise { code = "G001", text = "results go in a circle: " .. table.concat(names, " -> "), help = "one of them must not need the next" }
end

-- Runs f(rec, x) once for a record and remembers what came: a value, or the error that said why there is none.
local function run(rec, name, f, x)
  local of = memo[rec]
  if not of then of = {}; memo[rec] = of end
  local node = of[name]
  if node then
    if node.busy then circle(node) end
    return node
  end
  node = { rec = rec, name = name, def = x, busy = true, value = nil, unknown = nil }     -- room for all that comes
  if graph.noting then node.path, node.reads, node.seen = graph.path(node), {}, {} end
  of[name] = node
  stack[#stack + 1] = node
  local ok, value = pcall(f, rec, x)
  stack[#stack] = nil
  node.busy = nil
  if ok then
    node.value = value
  elseif host.class(value) then
    node.unknown = value
  else
    of[name] = nil
    error(value, 0)
  end
  return node
end

local function worth(node)
  if node.unknown then host.again(node.unknown) end
  return node.value
end

function graph.remember(rec, name, f) return worth(run(rec, name, f)) end

local function work_out(rec, def)
  if def.of then return graph.value(rec, def.of)[def.out] end
  if def.op then return calc[def.op](def.input(rec.proxy, record.root)) end
  local value = def.work(rec.proxy, record.root)
  if value == nil then
    host.raise { code = "G003", class = "missing", text = record.step(rec.path, def.name) .. " cannot be worked out", path = record.step(rec.path, def.name) }
  end
  if def.dim and not host.is(value, def.dim) then
    host.raise { code = "G002", text = record.step(rec.path, def.name) .. " should be " .. def.dim .. ", got " .. host.describe(value) }
  end
  return value
end

function graph.node(rec, def)
  if rec.root then rec = inside[record.root] end
  return run(rec, def.name, work_out, def)
end

function graph.value(rec, def)
  local node = graph.node(rec, def)
  if graph.noting then graph.note(node.path, node.value, node) end
  return worth(node)
end

-- The value, or nil and the error that says why not.
function graph.try(proxy, name)
  local rec = inside[proxy]
  local node = graph.node(rec, rec.def.results[name])
  return node.value, node.unknown, node
end

function graph.added(kind, def)
  local k = schema.kinds[kind] or error("no kind " .. tostring(kind))
  assert(not rawget(k.results, def.name) and not k.by[def.name], kind .. "." .. def.name)
  k.results[def.name] = def
  k.added[#k.added + 1] = def
  def.kind = kind
end

function graph.result(def)
  def.name = def[2]
  graph.added(def[1], def)
end

local ops = {}
-- { name, help, inputs, outputs } of a primitive.
function graph.primitive(name)
  ops[name] = ops[name] or primitive(name)
  return ops[name]
end

function graph.work(def)
  def.name = def[2]
  graph.added(def[1], def)
  for out, more in host.sorted(def.gives) do
    local r = { def[1], more.name or out, name = more.name or out, of = def, out = out, says = more.says, show = more.show, dim = more.dim }
    graph.added(def[1], r)
  end
end

return graph
