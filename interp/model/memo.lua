-- SPDX-License-Identifier: MIT
-- What was worked out is kept, each thing once: a value, or the error that said why there is none.  While run.noting is
-- on, what each read is kept too: that gives the inputs on a sheet.
local run = import "model.run"
local step = import("model.path").step
local memo = {}

-- Puts what was worked out aside, and back.
function memo.push()
  local before = { run.memo, run.stack }
  run.memo, run.stack = {}, {}
  return before
end
function memo.pop(before) run.memo, run.stack = before[1], before[2] end

-- From here on what each result reads is kept; what was worked out before is worked out again.
function memo.start_noting() run.memo, run.noting = {}, true end

-- The value at a path, read by what is being worked out; of: the node behind a result.
function memo.note(path, value, of)
  local stack = run.stack
  local node = stack[#stack]
  if node and not node.seen[path] then
    node.seen[path] = true
    node.reads[#node.reads + 1] = { path = path, value = value, node = of, def = of and of.def }
  end
end

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
    return node
  end
  node = { rec = rec, name = name, def = x, busy = true, value = nil, unknown = nil }     -- room for all that comes
  if run.noting then node.path, node.reads, node.seen = memo.path(node), {}, {} end
  of[name] = node
  local stack = run.stack
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

function memo.remember(rec, name, f) return worth(once(rec, name, f)) end

-- The node of a definition { name, find = function(rec, def) } on a record.
function memo.node(rec, def) return once(rec.root or rec, def.name, def.find, def) end

function memo.value(rec, def)
  local node = once(rec.root or rec, def.name, def.find, def)
  if run.noting then memo.note(node.path, node.value, node) end
  return worth(node)
end

return memo
