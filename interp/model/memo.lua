-- SPDX-License-Identifier: MIT
-- What was worked out is kept, each thing once: a value, or the error that said why there is none.  While run.noting is
-- there (model.noting), it is told of each node, and of all that a node reads.
--
-- A node: { rec, name, def, value or unknown, rests }, rests a bit for each source of a value from memory that it rests
-- on (see memo.rests).
local run = import "model.run"
local step = import("model.path").step
local memo = {}
memo.primitives = calc           -- themselves, whoever listens to `calc`

local resting = resting          -- [1]: the bits of what is being worked out now; primitives add theirs (bind.c)

-- Puts what was worked out aside, and back.
function memo.push()
  local before = { run.memo, run.stack }
  run.memo, run.stack = {}, {}
  return before
end
function memo.pop(before) run.memo, run.stack = before[1], before[2] end

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
    local rests = node.rests
    if rests ~= 0 then resting[1] = resting[1] | rests end
    return node
  end
  local before = resting[1]
  resting[1] = 0
  node = { rec = rec, name = name, def = x, busy = true, value = nil, unknown = nil, rests = 0 }     -- room for all
  local noting = run.noting
  if noting then noting.begin(node) end
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
  if run.noting then run.noting.read(node.path, node.value, node) end
  return worth(node)
end

-- The node of a definition { name, find = function(rec, def) } on a record.
function memo.node(rec, def) return once(rec.root or rec, def.name, def.find, def) end

function memo.value(rec, def)
  local node = once(rec.root or rec, def.name, def.find, def)
  if run.noting then return run.noting.value(node, worth) end
  return worth(node)
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
