-- SPDX-License-Identifier: MIT
-- What each result reads, and which primitives it calls itself, while somebody wants to know: explain, a sheet, a
-- report that says why.  A plain run never loads this.
--
-- A node: { rec, name, def, value or unknown, busy, above, path, reads = { { path, value, node, def, call, out, item,
-- field } ... } in their order, seen by path, calls = { { op, worked, input, members, number } ... }, kept: among what
-- it was worked out }.
local run = import "model.run"
local memo = import "model.memo"
local record = import "model.record"
local step = import("model.path").step
local noting = {}

local top                -- the node that is being worked out
local trying = false     -- some node is run again
local known = {}         -- record's data -> name -> node

-- What a reader gets of a value at a path, read by what is being worked out; of: the node behind a result; call: the
-- call of a primitive; out, item, field: the output that is read of it or of the primitive's node.
function noting.read(path, value, of, call, out, item, field)
  local node = run.noting and top
  if not node then return value end
  if node.instead then return node.instead(path, value) end
  if not node.seen[path] then
    local read = { path = path, value = value, node = of, def = of and of.def, call = call, out = out, item = item,
                   field = field }
    node.seen[path] = read
    node.reads[#node.reads + 1] = read
  end
  return value
end

-- What a node that is run again read of records is kept for its next run (trial.reads_kept, see interp/host/nodes.c).
local function set_top(node)
  top = node
  if trying then memo.engine.again(node and node.reads_kept) end
end

-- For records: a field, an item of a list or of a map is read.
local function listen(holder, key, value)
  if not run.noting or value == nil and not holder.v then return value end
  return noting.read(step(holder.path, key), value)
end

-- A primitive's answer, or a list or a row of it, that notes what is read of it; at: { of, call, out, item, field }.
local function watched(answer, path, at)
  return setmetatable({}, { __name = "worked result", __metatable = false,
    __len = function() return #answer end,
    __newindex = function(_, k, v) answer[k] = v end,
    __index = function(_, key)
      local v = answer[key]
      if v == nil then return nil end
      local out, item, field, kind = at.out or key, at.item, at.field, type(v)
      if at.out and math.type(key) == "integer" then item = key elseif at.out then field = key end
      if kind == "table" or kind == "userdata" and not host.is_quantity(v) and not host.wire(v) then
        return watched(v, step(path, key), { of = at.of, call = at.call, out = out, item = item, field = field })
      end
      return noting.read(step(path, key), v, at.of, at.call, out, item, field)
    end })
end

-- The inputs of a primitive one by one: angles[2], conductors[1].count.
local function flat(input)
  local out, lists = {}, nil
  for name, v in next, input do
    local data = type(v) == "table" and run.inside[v]
    if type(v) == "table" and (not data or data.list) then
      lists = lists or {}
      lists[name] = v
    else out[name] = v end
  end
  for name, v in host.sorted(lists or {}) do           -- what is read of them is noted in this order
    for i = 1, #v do
      local item, at = v[i], step(name, i)
      if type(item) == "table" and not run.inside[item] then
        for field, x in next, item do out[at .. "." .. field] = x end
      else out[at] = item end
    end
  end
  return out
end
noting.flat = flat

-- A primitive that is called inline belongs to what is being worked out.
local plain_calc, noting_calc = memo.primitives, {}

local function inline(op)
  local primitive = plain_calc[op]
  return primitive and function(input)
    local node = run.noting and top
    if not node then return primitive(input) end
    local again = node.again and node.again[#node.calls + 1]
    local call = { op = op, input = input }
    if not node.lean then call.members = flat(input) end
    if again and again.op == op then call.worked = again.worked
    else call.worked = primitive(input) end
    node.calls[#node.calls + 1] = call
    call.number = #node.calls
    return watched(call.worked, "calc." .. op .. "#" .. call.number, { call = call })
  end
end

setmetatable(noting_calc, { __index = function(t, op)
  local f = inline(op)
  if f then rawset(t, op, f) end
  return f
end })

-- From here on what each result reads and calls is kept, in a place of its own; back(what it gives) makes it as it was.
local function listen_in(among)
  local before = { run.noting, calc, record.watch(listen), known, top }
  run.noting, calc, known = noting, noting_calc, among or {}
  set_top(nil)
  return before
end

local function back(before)
  run.noting, calc, known = before[1], before[2], before[4]
  set_top(before[5])
  record.watch(before[3])
end

-- What was noted of the job as declared, for whoever asks of it again.
run.keep("noted", function() return {} end)

-- From here on it is; what was worked out before is worked out again.
function noting.start()
  run.noted = {}
  listen_in(run.noted)
end

local function in_place(known, f, ...)
  local before = listen_in(known)
  local packed = table.pack(pcall(f, ...))
  back(before)
  return packed
end

local function given_back(packed)
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- Calls f so, apart from what was worked out before.
function noting.apart(f, ...)
  local noted = run.noted
  run.noted = {}
  local packed = in_place(run.noted, f, ...)
  run.noted = noted
  return given_back(packed)
end

-- Calls f so, and what was noted of the job as declared before is not worked out again; in a variant all is.
function noting.declared(f, ...)
  if memo.engine.levels() > 0 then return noting.apart(f, ...) end
  run.noted = run.noted or {}
  return given_back(in_place(run.noted, f, ...))
end

-- ---- working out ---------------------------------------------------------------------------------------------------

local function noted(node)
  node.reads, node.seen, node.calls = {}, {}, {}
  node.kept = known
end

local function circle(node)
  local chain, n = {}, top
  while n do
    chain[#chain + 1] = { n.rec, n.name }
    n = n ~= node and n.above or nil
  end
  memo.circle(chain)
end

local function once(rec, name, f, x)
  local of = known[rec]
  if not of then of = {}; known[rec] = of end
  local node = of[name]
  if node then
    if node.busy then circle(node) end
    return node
  end
  node = { rec = rec, name = name, def = x, busy = true, above = top,
           path = type(name) == "string" and step(rec.path, name) or rec.path }
  noted(node)
  of[name] = node
  set_top(node)
  local ok, value = pcall(f, rec, x)
  set_top(node.above)
  node.busy = nil
  if ok then node.value = value
  elseif host.class(value) then node.unknown = value
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

-- As memo's, while what is read is noted.
function noting.remember(rec, name, f)
  local node = once(rec, name, f)
  noting.read(node.path, node.value, node)
  return worth(node)
end

function noting.value(rec, def)
  if type(def.kind) ~= "string" and not def.says then          -- no result, nor anything else that is told
    return noting.remember(rec.root or rec, def.name, function() return def.find(rec.root or rec, def) end)
  end
  local node = once(rec.root or rec, def.name, def.find, def)
  local value = noting.read(node.path, node.value, node)
  if node.unknown then return worth(node) end
  if def.op then return watched(value, node.path, { of = node }) end
  return value
end

function noting.try(rec, def)
  local node = once(rec.root or rec, def.name, def.find, def)
  noting.read(node.path, node.value, node)
  return node.value, node.unknown, node
end

-- The node of a definition { name, find = function(rec, def) } on a record.
function noting.node(rec, def) return once(rec.root or rec, def.name, def.find, def) end

-- A node of no record: what f reads and calls.
function noting.body(f, ...)
  local node, before = {}, top
  noted(node)
  set_top(node)
  local packed = table.pack(pcall(f, ...))
  set_top(before)
  if not packed[1] then error(packed[2], 0) end
  return node, table.unpack(packed, 2, packed.n)
end

-- The comparisons of an every{} in the check that is run: themselves, or what stands for them (see noting.again).
function noting.comparisons(findings)
  local node = top
  if node and node.comparisons then return node.comparisons(findings, node) end
  return findings
end

-- Runs f(rec, x, trial) of a node once more as it was run.  how: { instead = instead(path, value) gives what stands in
-- place of what it reads; calls = inline calls that are answered as they were; lean = those that it makes are noted
-- without their members; comparisons = comparisons(findings, node) gives what is judged in place of those of an
-- every{}; reads_kept = what it read of records, for the next run }.  Gives the node of that, whether f came to an end,
-- and its value.
function noting.again(node, f, how)
  local before, rested, tried = listen_in(node.kept), memo.rests(), trying
  local trial = { rec = node.rec, name = node.name, def = node.def, instead = how.instead, again = how.calls,
      comparisons = how.comparisons, lean = how.lean, reads_kept = how.reads_kept }
  noted(trial)
  trying = true
  set_top(trial)
  local ok, value = pcall(host.hushed, f, node.rec, node.def, trial)
  back(before)
  trying = tried
  memo.engine.rests(rested)
  return trial, ok, value
end

return noting
