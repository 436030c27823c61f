-- SPDX-License-Identifier: MIT
-- Which primitives' answers what a function reads rests on, and nothing else: for a page that says at its foot which
-- values out of tables were not read in the source. Who wants more has model.noting, which takes twice as long.
--
-- A node: { rec, name, value or unknown, busy, above, op = its value is an answer of a primitive, answers = of inline
-- calls, reads = nodes, each once }.
local run = import "model.run"
local memo = import "model.memo"
local record = import "model.record"
local called = {}

local top                -- the node that is being worked out
local known = {}         -- record's data -> name -> node

-- ---- listening -----------------------------------------------------------------------------------------------------

local function read(node)
  if not top then return end
  -- what is kept under a name that is no text has no path of its own: the first of a record stands for all
  local key = type(node.name) == "string" and node or node.rec
  if top.seen[key] then return end
  top.seen[key] = true
  top.reads[#top.reads + 1] = node
end

local plain_calc, noting_calc = memo.primitives, {}

setmetatable(noting_calc, { __index = function(t, op)
  local primitive = plain_calc[op]
  if not primitive then return nil end
  local function f(input)
    local answer, node = primitive(input), top
    if node then node.answers[#node.answers + 1] = answer end
    return answer
  end
  rawset(t, op, f)
  return f
end })

local function new(rec, name, op)
  return { rec = rec, name = name, op = op, answers = {}, reads = {}, seen = {}, above = top }
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
    read(node)
    return node
  end
  node = new(rec, name, type(x) == "table" and x.op)
  of[name], node.busy, top = node, true, node
  local ok, value = pcall(f, rec, x)
  top, node.busy = node.above, nil
  if ok then node.value = value
  elseif host.class(value) then node.unknown = value
  else
    of[name] = nil
    error(value, 0)
  end
  read(node)
  return node
end

local function worth(node)
  if node.unknown then host.again(node.unknown) end
  return node.value
end

-- ---- in the place of memo's ----------------------------------------------------------------------------------------

local listening = {}

function listening.remember(rec, name, f) return worth(once(rec, name, f)) end

function listening.value(rec, def) return worth(once(rec.root or rec, def.name, def.find, def)) end

function listening.try(rec, def)
  local node = once(rec.root or rec, def.name, def.find, def)
  return node.value, node.unknown
end

-- Those of an every{}: all are made.
function listening.comparisons(findings) return findings end

-- Calls f apart from what was worked out before, among nodes of its own.
function listening.apart(f, ...)
  local before = { run.noting, calc, record.watch(true), known, top }
  run.noting, calc, known, top = listening, noting_calc, {}, nil
  local packed = table.pack(pcall(f, ...))
  run.noting, calc, known, top = before[1], before[2], before[4], before[5]
  record.watch(before[3])
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- ---- all below -----------------------------------------------------------------------------------------------------

local function walk(node, list, seen)
  if seen[node] then return list end
  seen[node] = true
  if node.op and node.value then list[#list + 1] = node.value end
  table.move(node.answers, 1, #node.answers, #list + 1, list)
  for i = 1, #node.reads do walk(node.reads[i], list, seen) end
  return list
end

-- Calls f(...), and gives the answers of all primitives that what it reads rests on, in the order in which they are
-- met.
function called.by(f, ...)
  return listening.apart(function(...)
    local body = new()
    top = body
    f(...)
    return walk(body, {}, {})
  end, ...)
end

return called
