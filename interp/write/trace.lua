-- SPDX-License-Identifier: MIT
-- What a value was worked out from: nodes of results with all that they read and called, noted afresh, and for each
-- member of a primitive's input, each number of a finding, each value, which of those reads it is or was made from.
--
-- An origin is found by what causes what, never by equal numbers.  The function behind a node is run again: first with
-- a copy of its own for each quantity that is read, so that a member which is that very copy came from there; then, for
-- what is left, with one read at a time standing in as another value, so that a member which changes was made from it.
local run = import "model.run"
local record = import "model.record"
local memo = import "model.memo"
local noting = import "model.noting"
local graph = import "model.graph"
local formula = import "model.formula"
local path_of = import "model.path"
local trace = {}

-- ---- noting --------------------------------------------------------------------------------------------------------

-- The node of one rule's check on one subject: its reads say where the numbers of the finding come from.
function trace.rule(def, proxy)
  local function find()
    if def.scripted then return (host.hushed(host.call, def.check, proxy, record.root)) end
    return def.check(proxy, record.root)
  end
  return noting.apart(function()
    return noting.node(record.inside[proxy], { name = "rule " .. def.id, find = find, finding = true })
  end)
end

-- The node of a result, noted.
function trace.result(proxy, name)
  return noting.apart(function()
    local _, _, node = graph.try(proxy, name)
    return node
  end)
end

-- A node that has read all that f reads.
function trace.body(f, ...) return (noting.apart(noting.body, f, ...)) end

-- ---- origins -------------------------------------------------------------------------------------------------------

local numbers_of_finding = { "value", "limit", "got", "want" }

-- What runs again for a node, as members by name; nil: there is nothing to run.
local function members_of(def)
  if not def then return nil end
  if def.given and #run.giving > 0 then return function(rec) return { value = def.find(rec, def) } end end
  if def.op then return function(rec) return noting.flat(def.input(rec.proxy, record.root)) end end
  if def.finding then
    return function()
      local f, members = def.find(), {}
      for _, key in ipairs(numbers_of_finding) do members[key] = f[key] end
      return members
    end
  end
  if def.formula then return function(rec) return { value = formula.of(def).run(rec.proxy) } end end
  if def.work then return function(rec) return { value = def.work(rec.proxy, record.root) } end end
end

local function amount(v) return host.is_quantity(v) or type(v) == "number" end

local function unchanged(a, b)          -- of one member before and after another value stood in
  if host.is_quantity(a) and host.is_quantity(b) then return host.si(a) == host.si(b) and host.same_kind(a, b) end
  return rawequal(a, b) or type(a) == "number" and type(b) == "number" and a == b
end

local sizes = { "14", "4/0", "6" }

local function choices_of(path)
  local proxy, rest = record.locate(path)
  local f = proxy and { by = record.inside[proxy].def.by }
  for _, key in ipairs(rest or {}) do f = f and f.by and f.by[key] end
  return f and f.choices or {}
end

-- Other values of the same kind: near, so that no choice between values turns, then far, so that what is rounded moves.
local function other_values(read)
  local v = read.value
  if host.is_quantity(v) then
    local si = host.si(v)
    return { host.like(v, si * (1 + 1e-6) + 1e-9), host.like(v, si * 1.5 + 1), host.like(v, si * 0.5) }
  elseif math.type(v) == "integer" then return { v + 1, v + 2, v - 1, 2 * v + 3 }
  elseif type(v) == "number" then return { v * (1 + 1e-6) + 1e-9, v * (1 - 1e-6) - 1e-9, v * 1.5 + 1, v * 0.5 }
  elseif type(v) == "boolean" then return { not v }
  elseif type(v) == "string" then
    local list = { v .. "?" }
    for _, other in ipairs(choices_of(read.path)) do if other ~= v then list[#list + 1] = other end end
    return list
  elseif host.wire(v) then
    local list = {}
    for _, size in ipairs(sizes) do
      local w = host.wire(size)
      if host.format(w) ~= host.format(v) then list[#list + 1] = w end
    end
    return list
  end
  return {}
end

-- Whether no further value can tell more of a read: every member changed, and none became just what stood in, or two
-- values told which did.
local function known(open, read, is, n)
  for i, o in ipairs(open) do
    if not o.deps[read] or n < 2 and is[i] ~= false then return false end
  end
  return true
end

-- For one read: marks each open member that changes while something else stands in, and those that become just that.
local function stand_in(node, f, read, open)
  local tried, is, others = 0, {}, other_values(read)
  for n, other in ipairs(others) do
    local function instead(path, value)
      if path == read.path then return other end
      return value
    end
    local trial, ok, members = noting.again(node, f, instead, node.calls)
    for i, o in ipairs(open) do
      local now
      if o.call then
        local call = trial.calls[o.call]
        now = call and call.op == node.calls[o.call].op and call.members or nil
      else now = ok and type(members) == "table" and members or nil end
      if now then
        tried = tried + 1
        local v = now[o.name]
        if not unchanged(o.value, v) then o.deps[read] = true end
        if n <= 2 then is[i] = is[i] ~= false and rawequal(v, other) end
      elseif ok then o.deps[read] = true end          -- it took another way, on which there is no such call
    end
    if known(open, read, is, n) then break end
  end
  for i, o in ipairs(open) do
    if tried == 0 and #others > 0 then o.deps[read] = true end           -- it never came to an end
    o.is[read] = is[i] and rawequal(o.value, read.value) or nil
  end
end

-- What an open member is, or was made from, in the order of reading.
local function settle(o, reads)
  local from, amounts, one = {}, 0, nil
  for _, r in ipairs(reads) do
    if o.deps[r] then
      from[#from + 1] = r
      if amount(r.value) then amounts = amounts + 1 end
      if o.is[r] then one = r end
    end
  end
  if one and (amounts <= 1 or not amount(o.value)) then return { read = one } end
  return { from = from }
end

-- Of a node: { members = { name = origin }, calls = { { name = origin } ... } }, where an origin is { read = the read
-- that it is } or { from = { the reads that it was made from } }.
function trace.origins(node)
  if node.origins then return node.origins end
  local out, def = { members = {}, calls = {} }, node.def
  node.origins = out
  if node.unknown or not node.reads then return out end
  if def and def.of then           -- picked: no other read is an output
    for _, r in ipairs(node.reads) do if r.out then out.members.value = { read = r } end end
    return out
  end
  local f = members_of(def)
  if not f then return out end
  local came, copies = {}, {}
  local function copy(path, value)
    if not host.is_quantity(value) then return value end
    local c = copies[path]
    if not c then
      c = host.like(value, host.si(value))
      copies[path], came[c] = c, node.seen[path]
    end
    return c
  end
  local first, ok, members = noting.again(node, f, copy, node.calls)
  if not ok or type(members) ~= "table" then return out end
  local open = {}
  local function look(into, list, call)
    for name, v in host.sorted(list) do
      if came[v] then into[name] = { read = came[v] }
      else open[#open + 1] = { into = into, name = name, value = v, call = call, deps = {}, is = {} } end
    end
  end
  look(out.members, members)
  for i, call in ipairs(first.calls) do
    out.calls[i] = {}
    look(out.calls[i], call.members, i)
  end
  if #open > 0 then
    for _, r in ipairs(node.reads) do
      local whole = r.node and not r.out and r.node.def and r.node.def.op          -- its outputs are read of it
      if r.value ~= nil and not whole then stand_in(node, f, r, open) end
    end
  end
  for _, o in ipairs(open) do o.into[o.name] = settle(o, node.reads) end
  return out
end

-- What a read is called: a path; of an inline call, its output.
function trace.name(r)
  if r.call then
    local path = r.item and path_of.step(r.out, r.item) or r.out
    return (r.field and path_of.step(path, r.field) or path) .. " of " .. r.call.op
  end
  if r.out and not r.item and r.node then
    local more = r.node.def.gives[r.out]
    if more then return path_of.step(r.node.rec.path, more.name or r.out) end
  end
  return r.path
end

-- The read that a name of a formula led to: the last one on its way.
function trace.formula_read(node, keys)
  local x, path, i = node.rec.proxy, nil, 1
  if keys[1] == "job" then x, i = record.root, 2
  elseif keys[1] == "parent" then x, i = record.parent(x), 2 end
  for k = i, #keys do
    local data = record.inside[x]
    if data and data.order and not data.by[keys[k]] and #data.order == 1 then data = record.inside[data.order[1]] end
    if not data then return nil end
    path = path_of.step(data.path, keys[k])
    local read = node.seen[path]
    if k == #keys then return read end
    if read then x = read.value else x = x[keys[k]] end
  end
end

-- The names of what an origin is, each once, and whether it is the one that it is.
function trace.names(origin)
  if not origin then return {}, false end
  if origin.read then return { trace.name(origin.read) }, true end
  local list, has = {}, {}
  for _, r in ipairs(origin.from) do
    local name = trace.name(r)
    if not has[name] then
      has[name] = true
      list[#list + 1] = name
    end
  end
  return list, false
end

-- The worked result that an origin is an output of, the read of that output, and the node or the call that gave it; nil
-- where it is none.  What only one output was made into (another unit, a sign) counts as that output.
function trace.output(origin)
  local r = origin and (origin.read or #origin.from == 1 and origin.from[1])
  if not r then return nil end
  if r.call then return r.call.worked, r, r.call end
  local n = r.node
  if not n or n.unknown or not n.def then return nil end
  if r.out then return n.value, r, n end
  return trace.output(trace.origins(n).members.value)
end

-- The node of a primitive that gave a node's value as one of its outputs, if it is no other result's: the node itself,
-- the work behind one of its outputs, or a work that it picks from.
function trace.worked(node)
  if not node.def then return nil end
  if node.def.op then return node end
  local origin = trace.origins(node).members.value
  local r = origin and origin.read
  if r and r.out and r.node then return r.node end
end

-- ---- all below -----------------------------------------------------------------------------------------------------

-- Goes through a node and all that it rests on, each once: node(n) for each, call(c) for each inline call.
function trace.walk(node, on_node, on_call, seen)
  seen = seen or {}
  if seen[node] then return end
  seen[node] = true
  on_node(node)
  for _, c in ipairs(node.calls or {}) do on_call(c) end
  for _, r in ipairs(node.reads or {}) do if r.node then trace.walk(r.node, on_node, on_call, seen) end end
end

local function nothing() end

-- Calls f(worked) for each primitive's answer that a node rests on.
function trace.primitives(node, f)
  trace.walk(node, function(n) if n.def and n.def.op and n.value then f(n.value) end end,
             function(c) f(c.worked) end)
end

-- All inputs (paths of fields, and of items in them) that a node rests on.
function trace.inputs(node)
  local into = {}
  trace.walk(node, function(n)
    for _, r in ipairs(n.reads or {}) do
      if not r.node and not r.call and not into[r.path] then into[r.path] = true; into[#into + 1] = r.path end
    end
  end, nothing)
  return into
end

return trace
