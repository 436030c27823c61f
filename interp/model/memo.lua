-- SPDX-License-Identifier: MIT
-- What was worked out is kept, each thing once: a value, or the error that said why there is none.  While run.noting is
-- on, what each read and which primitives it called is kept too: that gives the inputs on a sheet.
--
-- A node: { rec, name, def, value or unknown, rests }, rests a bit for each source of a value from memory that it rests
-- on (see memo.rests); noted, besides: { path, reads = { { path, value, node, call, out } ... },
-- calls = { { op, worked, input } ... }, kept, overlay }.
local run = import "model.run"
local step = import("model.path").step
local memo = {}

local resting = resting          -- [1]: the bits of what is being worked out now; primitives add theirs (bind.c)

-- Puts what was worked out aside, and back.
function memo.push()
  local before = { run.memo, run.stack }
  run.memo, run.stack = {}, {}
  return before
end
function memo.pop(before) run.memo, run.stack = before[1], before[2] end

-- ---- noting --------------------------------------------------------------------------------------------------------

-- What a reader gets of a value at a path, read by what is being worked out; of: the node behind a result; call, out: the
-- call of a primitive, and the output that is read of it or of the primitive's node.
function memo.note(path, value, of, call, out)
  local stack = run.stack
  local node = stack[#stack]
  if not node then return value end
  local read = node.seen[path]
  if not read then
    read = { path = path, value = value, node = of, def = of and of.def, call = call, out = out }
    node.seen[path] = read
    node.reads[#node.reads + 1] = read
  end
  if node.instead then return node.instead(read, value) end
  return value
end

-- A primitive's answer that notes which of its outputs are read.
local function watched(worked, path, of, call)
  return setmetatable({}, { __name = "worked result", __metatable = false,
    __index = function(_, out) return memo.note(step(path, out), worked[out], of, call, out) end,
    __newindex = function(_, k, v) worked[k] = v end })
end

-- A primitive that is called inline belongs to what is being worked out.
local plain_calc, noting_calc = calc, {}
memo.primitives = plain_calc

local function inline(op)
  local primitive = plain_calc[op]
  return primitive and function(input)
    local stack = run.stack
    local node = run.noting and stack[#stack]
    if not node then return primitive(input) end
    local again = node.again and node.again[#node.calls + 1]
    local call = { op = op, input = input }
    if again and again.op == op then call.worked = again.worked
    else call.worked = primitive(input) end
    node.calls[#node.calls + 1] = call
    call.number = #node.calls
    return watched(call.worked, "calc." .. op .. "#" .. call.number, nil, call)
  end
end

setmetatable(noting_calc, { __index = function(t, op)
  local f = inline(op)
  if f then rawset(t, op, f) end
  return f
end })

-- Whether what each result reads and calls is kept.
function memo.noting(on)
  run.noting = on
  calc = on and noting_calc or plain_calc
end

-- From here on it is; what was worked out before is worked out again.
function memo.start_noting()
  run.memo = {}
  memo.noting(true)
end

local function noted(node)
  node.reads, node.seen, node.calls = {}, {}, {}
  node.kept, node.overlay = run.memo, run.overlay
end

-- A node of no record: what f reads and calls.
function memo.apart(f, ...)
  local node, stack = { rests = 0 }, run.stack
  noted(node)
  stack[#stack + 1] = node
  local packed = table.pack(pcall(f, ...))
  stack[#stack] = nil
  if not packed[1] then error(packed[2], 0) end
  return node, table.unpack(packed, 2, packed.n)
end

-- Runs f(rec, x) of a node once more as it was run, with instead(read, value) in place of what it reads and the calls
-- that it made answered as they were (without `again`, they are made afresh).  Gives the node of that, whether f came to
-- an end, and its value.
function memo.again(node, f, instead, again)
  local before = { run.memo, run.stack, run.noting, run.overlay, resting[1] }
  local trial = { rec = node.rec, name = node.name, def = node.def, rests = 0, instead = instead, again = again }
  run.memo, run.overlay = node.kept, node.overlay
  noted(trial)
  run.stack = { trial }
  memo.noting(true)
  local ok, value = pcall(f, node.rec, node.def)
  run.memo, run.stack, run.overlay, resting[1] = before[1], before[2], before[4], before[5]
  memo.noting(before[3])
  return trial, ok, value
end

-- ---- once ----------------------------------------------------------------------------------------------------------

function memo.path(node) return step(node.rec.path, node.name) end

local function circle(node)
  local names, on = {}, false
  for _, n in ipairs(run.stack) do
    if n == node then on = true end
    if on then names[#names + 1] = memo.path(n) end
  end
  names[#names + 1] = memo.path(node)
  host.raise { code = "G001", text = "results go in a circle: " .. table.concat(names, " -> "),
      help = "one of them must not need the next" }
end

-- Runs f(rec, x) once for a record and remembers what came.
local function once(rec, name, f, x)
  local kept = run.memo
  local of = kept[rec]
  if not of then of = {}; kept[rec] = of end
  local node = of[name]
  if node then
    if node.busy then circle(node) end
    resting[1] = resting[1] | node.rests
    return node
  end
  local before = resting[1]
  resting[1] = 0
  node = { rec = rec, name = name, def = x, busy = true, value = nil, unknown = nil, rests = 0 }     -- room for all
  if run.noting then
    node.path = memo.path(node)
    noted(node)
  end
  of[name] = node
  local stack = run.stack
  stack[#stack + 1] = node
  local ok, value = pcall(f, rec, x)
  stack[#stack] = nil
  node.busy = nil
  local rests = resting[1]
  node.rests, resting[1] = rests, before | rests
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

-- Kept under a name that is no result's.
function memo.remember(rec, name, f)
  local node = once(rec, name, f)
  if run.noting then memo.note(node.path, nil, node) end
  return worth(node)
end

-- The node of a definition { name, find = function(rec, def) } on a record.
function memo.node(rec, def) return once(rec.root or rec, def.name, def.find, def) end

function memo.value(rec, def)
  local node = once(rec.root or rec, def.name, def.find, def)
  if not run.noting then return worth(node) end
  local value = memo.note(node.path, node.value, node)
  if node.unknown then host.again(node.unknown) end
  if def.op then return watched(value, node.path, node) end
  return value
end

-- ---- from memory ---------------------------------------------------------------------------------------------------

-- What f rests on, beside what it gives: for judging, which has no node.
function memo.begin() resting[1] = 0 end
function memo.rests() return resting[1] end

-- The citations that stand for these bits.
function memo.cites(rests)
  local list = {}
  for i, cite in ipairs(resting.cites) do if rests >> (i - 1) & 1 == 1 then list[#list + 1] = cite end end
  return list
end

return memo
