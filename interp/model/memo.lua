-- SPDX-License-Identifier: MIT
-- What was worked out is kept, each thing once: a value, or the error that said why there is none.  While run.noting is
-- there (model.noting), it is told of each node, and of all that a node reads.
--
-- A node: { rec, name, def, value or unknown, rests, plain, above }, rests a bit for each source of a value from memory
-- that it rests on (see memo.rests); plain: a result that is read without a call; above: what wanted it, while it is
-- worked out.
local run = import "model.run"
local step = import("model.path").step
local memo = {}
memo.primitives = calc           -- themselves, whoever listens to `calc`

local resting = resting          -- [1]: the bits of what is being worked out now; primitives add theirs (bind.c)
local top                        -- the node that is being worked out
local once                       -- how a thing is worked out once

-- Puts what was worked out aside, for things worked out as they always are while nobody notes it, and back.
local plainly
function memo.push()
  local before = { run.memo, top, once, run.noting, calc }
  run.memo, top, once, run.noting, calc = {}, nil, plainly, false, memo.primitives
  return before
end
function memo.pop(before)
  run.memo, top, once, run.noting, calc = before[1], before[2], before[3], before[4], before[5]
end

-- Another way of working out once (model.tracking), in the place of memo.push: f(rec, name, find, x) -> node.
function memo.way(f, known)
  local before = memo.push()
  run.memo, once = known, f
  return before
end

-- The node that is being worked out; another one from here on, and the one before.
function memo.top() return top end
function memo.set_top(node)
  local before = top
  top = node
  return before
end

-- ---- once ----------------------------------------------------------------------------------------------------------

function memo.path(node) return step(node.rec.path, node.name) end

-- Raises that a node needs itself: those that wanted each other, from it to the last, which is asking.
function memo.circle(node, last)
  local names = { memo.path(node) }
  local n = last
  while n do
    table.insert(names, 1, memo.path(n))
    n = n ~= node and n.above or nil
  end
  host.raise { code = "G001", text = "results go in a circle: " .. table.concat(names, " -> "),
      help = "one of them must not need the next" }
end

-- Runs f(rec, x) once for a record and remembers what came.
function plainly(rec, name, f, x)
  local kept = run.memo
  local of = kept[rec]
  if not of then of = {}; kept[rec] = of end
  local node = of[name]
  if node then
    if node.busy then memo.circle(node, top) end
    local rests = node.rests
    if rests ~= 0 then resting[1] = resting[1] | rests end
    return node
  end
  local before, above = resting[1], top
  resting[1] = 0
  node = { rec = rec, name = name, def = x, busy = true, above = above, value = nil, unknown = nil, rests = 0,
           plain = nil }             -- room for all
  if run.noting then run.noting.begin(node) end
  of[name] = node
  top = node
  local ok, value = pcall(f, rec, x)
  top = above
  node.busy, node.above = nil, nil
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

run.keep("memo", function()              -- record's data -> name -> node
  top, once = nil, plainly
  return {}
end, function()
  local t, o = top, once
  return function() top, once = t, o end
end)

local function worth(node)
  if node.unknown then host.again(node.unknown) end
  return node.value
end

-- Kept under a name that is no result's.  f, if it is called again in another variant, is called as it was given first:
-- it rests on what it reads and on the name alone.
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

-- The value of a result, which is read without a call from then on where nothing else has to be told of it.
function memo.result(rec, def)
  local node = once(rec.root or rec, def.name, def.find, def)
  if run.noting then return run.noting.value(node, worth) end
  if node.unknown then host.again(node.unknown) end
  node.plain = node.rests == 0 and node.value ~= nil
  return node.value
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
