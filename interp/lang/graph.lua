-- SPDX-License-Identifier: MIT
-- Results: named, computed on demand and once, over the declarations.  What a result reads is noted as it runs: that
-- gives the circle check, the inputs on its sheet, and (later) what a sweep may keep.
--
-- result { "rack", "top_edge", says = "...", dim = "length", show = "in", work = function(rack, job) ... end }
-- work   { "rack", "layout", op = "layout", input = function(rack, job) return { ... } end,
--          gives = { top_edge = { says = "...", show = "in" } } }      -- fields of the primitive become results
local schema = import "lang.schema"
local record = import "lang.record"
local graph = {}

local memo = {}          -- rec -> name -> node
local stack = {}         -- nodes being worked out
local inside = record.inside

function graph.push()
  local before = { memo, stack }
  memo, stack = {}, {}
  return before
end
function graph.pop(before) memo, stack = before[1], before[2] end

function graph.note(path, value)
  local node = stack[#stack]
  if node and not node.seen[path] then
    node.seen[path] = true
    node.reads[#node.reads + 1] = { path = path, value = value }
  end
end

local function slot(rec, name)
  local of = memo[rec]
  if not of then of = {}; memo[rec] = of end
  return of, of[name]
end

local function path_of(rec, name) return record.step(rec.path, name) end

local function circle(node)
  local names, on = {}, false
  for _, n in ipairs(stack) do
    if n == node then on = true end
    if on then names[#names + 1] = n.path end
  end
  names[#names + 1] = node.path
  host.raise { code = "G001", text = "results go in a circle: " .. table.concat(names, " -> "), help = "one of them must not need the next" }
end

-- Runs f once for a record and remembers what came: a value, or the error that said why there is none.
local function run(rec, name, f)
  local of, node = slot(rec, name)
  if node then
    if node.busy then circle(node) end
    return node
  end
  node = { rec = rec, path = path_of(rec, name), reads = {}, seen = {}, busy = true }
  of[name] = node
  stack[#stack + 1] = node
  local ok, value = pcall(f, node)
  stack[#stack] = nil
  node.busy = nil
  if ok then
    node.value = value
  else
    if not host.class(value) then of[name] = nil; error(value, 0) end
    node.unknown = value
  end
  return node
end

local function worth(node)
  if node.unknown then error(node.unknown, 0) end
  return node.value
end

function graph.remember(rec, name, f) return worth(run(rec, name, f)) end

local function check_kind(def, node, value)
  if def.dim and value ~= nil and not host.is(value, def.dim) then
    host.raise { code = "G002", text = node.path .. " should be " .. def.dim .. ", got " .. host.describe(value), help = "the result's definition is wrong" }
  end
end

function graph.node(rec, def)
  if inside[record.root] ~= rec and rec.root then rec = inside[record.root] end
  return run(rec, def.name, function(node)
    if def.of then
      local worked = graph.value(rec, def.of)
      return worked[def.out]
    end
    if def.op then return calc[def.op](def.input(rec.proxy, record.root)) end
    local value
    if def.scripted then value = host.call(def.work, rec.proxy, record.root) else value = def.work(rec.proxy, record.root) end
    if value == nil then
      host.raise { code = "G003", class = "missing", text = node.path .. " cannot be worked out", path = node.path }
    end
    check_kind(def, node, value)
    return value
  end)
end

function graph.value(rec, def)
  local node = graph.node(rec, def)
  local parent = stack[#stack]
  if parent and not parent.seen[node.path] then
    parent.seen[node.path] = true
    parent.reads[#parent.reads + 1] = { path = node.path, value = node.value, node = node, def = def }
  end
  return worth(node)
end

-- The value, or nil and the error that says why not.
function graph.try(proxy, name)
  local rec = inside[proxy]
  local def = rec.def.results[name]
  local node = graph.node(rec, def)
  return node.value, node.unknown, node
end

local function add(kind, def)
  local k = schema.kinds[kind] or error("no kind " .. tostring(kind))
  assert(not k.results[def.name] and not k.by[def.name], kind .. "." .. def.name)
  k.results[def.name] = def
  k.result_order[#k.result_order + 1] = def
  def.kind = kind
end

function graph.result(def)
  def.name = def[2]
  add(def[1], def)
end

local ops
local function op_outputs(name)
  if not ops then
    ops = {}
    for _, op in ipairs(primitives()) do ops[op.name] = op end
  end
  return ops[name]
end
graph.primitive = op_outputs

function graph.work(def)
  def.name = def[2]
  add(def[1], def)
  for out, more in host.sorted(def.gives) do
    local r = { def[1], more.name or out, name = more.name or out, of = def, out = out, says = more.says, show = more.show, dim = more.dim }
    add(def[1], r)
  end
end

return graph
