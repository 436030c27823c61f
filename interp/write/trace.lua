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
local comparisons = import "write.comparisons"
local trace = {}

-- ---- noting --------------------------------------------------------------------------------------------------------

-- The node of one rule's check on one subject: its reads say where the numbers of the finding come from.
function trace.rule(def, proxy)
  local function find()
    if def.scripted then return (host.hushed(host.call, def.check, proxy, record.root)) end
    return def.check(proxy, record.root)
  end
  return noting.declared(function()
    return noting.node(record.inside[proxy], { name = "rule " .. def.id, find = find, finding = true,
        scripted = def.scripted })
  end)
end

-- The node of a result, noted.
function trace.result(proxy, name)
  return noting.declared(function()
    local _, _, node = graph.try(proxy, name)
    return node
  end)
end

-- A node that has read all that f reads.
function trace.body(f, ...) return (noting.declared(noting.body, f, ...)) end

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

-- Below, t is how a node is run again: { node, f = what runs, kept = the comparisons of its every{} as they came,
-- beside = { op by number } of calls that count though their members are not asked for; then calls are made without
-- them; reads = what it read of records, but for what has another value in the run at hand; members, calls = what
-- came }.

-- A run with another value in place of what is read under a path.
local function run_with(t, path, other)
  local reads = t.reads
  local function run_as(f, judged)
    local function instead(at, value)
      reads[4] = reads[4] == nil and at ~= path and at or false             -- of two reads in one: neither
      if at ~= path then return value end
      if judged then judged.read(at) end
      return other
    end
    local places = reads[3][path] or {}
    for i = 1, #places, 2 do places[i][places[i + 1]] = nil end
    reads[3][path] = nil
    -- no tail call: by this name tests/fuzz/jobs_fuzz.c knows that an error is an answer
    local trial, ok, members = noting.again(t.node, f, { instead = instead, calls = t.node.calls,
        lean = t.beside ~= nil, comparisons = judged and judged.every, reads_kept = reads })
    return trial, ok, members
  end
  if not t.kept then return run_as(t.f) end
  if t.kept[1] and not t.kept.own[path] then
    local judged = comparisons.again(t.kept, path)
    local trial, ok, stands = run_as(function(_, _, trial)
      return judged.stands(trial.calls, t.calls, unchanged)
    end, judged)
    if ok and stands then return trial, true, t.members end
    if judged.shifted then return run_as(t.f) end
  end
  local judged = comparisons.again(t.kept, path)
  local trial, ok, members = run_as(t.f, judged)
  if judged.shifted then return run_as(t.f) end
  return trial, ok, members
end

local function reaches(trial, calls)
  for number, op in next, calls do
    local call = trial.calls[number]
    if call and call.op == op then return true end
  end
  return false
end

-- For one read: marks each open member that changes while something else stands in, and those that become just that.
local function stand_in(t, read, open)
  local tried, is, others = false, {}, other_values(read)
  for n, other in ipairs(others) do
    local trial, ok, members = run_with(t, read.path, other)
    local told = n >= 2                               -- and further values could only say it again
    for i, o in ipairs(open) do
      local now
      if o.call then
        local call = trial.calls[o.call]
        now = call and call.op == t.node.calls[o.call].op and call.members or nil
      else now = ok and type(members) == "table" and members or nil end
      if now then
        tried = true
        local v = now[o.name]
        if not unchanged(o.value, v) then o.deps[read] = true end
        if n <= 2 then is[i] = is[i] ~= false and rawequal(v, other) end
      elseif ok then o.deps[read] = true end          -- it took another way, on which there is no such call
      told = told and o.deps[read]
    end
    tried = tried or t.beside and reaches(trial, t.beside)
    if told and tried then break end
  end
  for i, o in ipairs(open) do
    if not tried and #others > 0 then o.deps[read] = true end            -- it never came to an end
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

local function stands_for(r) return r.out or not (r.node and r.node.def and r.node.def.op) end    -- no whole answer

-- Whether a read is an output of a primitive, or may come from one.
local function leads_on(r) return r.call ~= nil or r.node ~= nil and not r.node.unknown and r.node.def ~= nil end

-- Those of the open members that may still come from one output alone, after another read stood in; see settle.
local function from_one(open, read)
  local list = {}
  for _, o in ipairs(open) do
    if o.deps[read] then
      o.n = (o.n or 0) + 1
      if amount(read.value) then o.amounts = (o.amounts or 0) + 1 end
      o.leads = o.leads or leads_on(read)
    end
    if (o.n or 0) <= 1 or (o.amounts or 0) <= 1 or not amount(o.value) then list[#list + 1] = o end
  end
  return list
end

-- Settles the members that come from one output alone, or may do so: what leads to none is not looked into further.
local function settle_outputs(t, open, reads)
  for _, leads in ipairs { true, false } do
    for _, r in ipairs(reads) do
      if #open > 0 and r.value ~= nil and stands_for(r) and leads_on(r) == leads then
        stand_in(t, r, open)
        open = from_one(open, r)
      end
    end
    local list = {}
    for _, o in ipairs(open) do if o.leads then list[#list + 1] = o end end
    open = list
  end
  for _, o in ipairs(open) do o.into[o.name] = settle(o, reads) end
end

local function settle_all(t, open, reads)
  for _, r in ipairs(#open > 0 and reads or {}) do
    if r.value ~= nil and stands_for(r) then stand_in(t, r, open) end
  end
  for _, o in ipairs(open) do o.into[o.name] = settle(o, reads) end
end

local result_or_finding = { value = true, limit = true, got = true, want = true }

-- outputs: only what trace.output finds something of is wanted.
local function find_origins(node, outputs)
  local out, def = { members = {}, calls = {} }, node.def
  if node.unknown or not node.reads then return out end
  if def and def.of then           -- picked: no other read is an output
    for _, r in ipairs(node.reads) do if r.out then out.members.value = { read = r } end end
    return out
  end
  local f = members_of(def)
  if not f then return out end
  local came, copies = {}, {}
  local judged = def.finding and not def.scripted and comparisons.first()
  local function copy(path, value)
    if judged then judged.read(path) end
    if not host.is_quantity(value) then return value end
    local c = copies[path]
    if not c then
      c = host.like(value, host.si(value))
      copies[path], came[c] = c, node.seen[path]
    end
    return c
  end
  local first, ok, members = noting.again(node, f, { instead = copy, calls = node.calls,
      comparisons = judged and judged.every })
  if not ok or type(members) ~= "table" then return out end
  local open, beside = {}, {}
  for name, v in host.sorted(members) do
    if came[v] then out.members[name] = { read = came[v] }
    elseif not outputs or result_or_finding[name] then
      open[#open + 1] = { into = out.members, name = name, value = v, deps = {}, is = {} }
    end
  end
  for i, call in ipairs(first.calls) do
    local into = {}
    out.calls[i] = into
    for name, v in host.sorted(call.members) do
      if came[v] then into[name] = { read = came[v] }
      elseif outputs then beside[i] = call.op
      else open[#open + 1] = { into = into, name = name, value = v, call = i, deps = {}, is = {} } end
    end
  end
  local t = { node = node, f = f, kept = judged and judged.kept, beside = outputs and beside or nil,
      reads = { {}, {}, {} }, members = members, calls = first.calls }
  if outputs then settle_outputs(t, open, node.reads) else settle_all(t, open, node.reads) end
  return out
end

-- Of a node: { members = { name = origin }, calls = { { name = origin } ... } }, where an origin is { read = the read
-- that it is } or { from = { the reads that it was made from } }.
function trace.origins(node)
  node.origins = node.origins or find_origins(node)
  return node.origins
end

-- The origins of a node's value, or of the numbers of a finding, of which trace.output finds something: what it says
-- of these is what it says of trace.origins(node).members, with much less work.
function trace.from_outputs(node)
  if node.origins then return node.origins.members end
  node.from_outputs = node.from_outputs or find_origins(node, true).members
  return node.from_outputs
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
  return trace.output(trace.from_outputs(n).value)
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

-- A function that gives those of some inputs, { path = true }, that a node rests on, as such a table; for many nodes.
function trace.among(paths)
  local known, none = {}, {}
  local function of(node)
    local found = known[node]
    if found then return found end
    found = none
    for _, r in ipairs(node.reads or {}) do
      local more = r.node and of(r.node) or not r.node and not r.call and paths[r.path] and { [r.path] = true } or none
      if found == none then found = more
      elseif more ~= none and more ~= found then
        local both = {}
        for path in next, found do both[path] = true end
        for path in next, more do both[path] = true end
        found = both
      end
    end
    known[node] = found
    return found
  end
  return of
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
