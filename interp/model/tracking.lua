-- SPDX-License-Identifier: MIT
-- What was worked out, kept over variants of the inputs: each node knows what it read and who read it, so that of a
-- variant only that is worked out again which a changed input reaches, and no further than values really change.
--
-- A node (model.memo) has besides { find, deps, readers, seen, stamp, stale, level }: what it read, in that order; who
-- read it, as a list and a set; by the run of which reader it was noted last; its own last run; whether it has to be
-- worked out again: nil no, MAYBE if any of what it read becomes another value, SURELY.  A cell stands for one value
-- that somebody gave: { readers, seen }.
--
-- A variant is a level.  What it changes of nodes, cells and values is written down before and put back after it, so
-- that the base is there again without working anything out; levels stand in each other.
local run = import "model.run"
local record = import "model.record"
local memo = import "model.memo"
local tracking = {}

local resting = resting
local alike, class = host.alike, host.class
local MAYBE, SURELY = 1, 2

local level, levels = 0, 0       -- the variant that holds, 0 for the base; how many there were
local log, logged                -- what to put back, in fives and sixes behind each other, and how many entries
local stamps                     -- runs of nodes
local cells                      -- values of a record, a list or a map -> key -> cell
local known                      -- the nodes, as run.memo

run.keep("tracked", function()
  level, levels, log, logged, stamps, cells, known = 0, 0, {}, 0, 0, {}, {}
  return false
end, function()
  local held = { level, levels, log, logged, stamps, cells, known }
  return function() level, levels, log, logged, stamps, cells, known = table.unpack(held, 1, 7) end
end)

-- ---- what was before -----------------------------------------------------------------------------------------------

local function write_down(undo, a, b, c)
  local n = logged
  log[n + 1], log[n + 2], log[n + 3], log[n + 4] = undo, a, b, c
  logged = n + 4
end

local function undo_node(node, was)
  node.level, node.stale, node.value, node.unknown, node.rests, node.deps, node.stamp =
      was[1], was[2], was[3], was[4], was[5], was[6], was[7]
end

local function undo_edge(readers, reader)
  readers[#readers], readers[reader] = nil, nil
end

local function undo_key(t, key, value) t[key] = value end

-- Before a node changes in this variant.
local function keep(node)
  if node.level == level then return end
  write_down(undo_node, node, { node.level, node.stale, node.value, node.unknown, node.rests, node.deps, node.stamp })
  node.level = level
end

local function put_back(to)
  for n = logged - 3, to + 1, -4 do
    log[n](log[n + 1], log[n + 2], log[n + 3])
    log[n], log[n + 1], log[n + 2], log[n + 3] = nil, nil, nil, nil
  end
  logged = to
end

-- ---- who reads what ------------------------------------------------------------------------------------------------

-- What is being worked out reads x, a node or a cell.
local function note(x)
  local reader = memo.top()
  if not reader or x.seen == reader.stamp then return end
  x.seen = reader.stamp
  local deps, readers = reader.deps, x.readers
  deps[#deps + 1] = x
  if not readers[reader] then
    readers[reader] = true
    readers[#readers + 1] = reader
    if level > 0 then write_down(undo_edge, readers, reader) end
  end
end

local function cell_of(values, key)
  local of = cells[values]
  if not of then of = {}; cells[values] = of end
  local cell = of[key]
  if not cell then
    cell = { readers = {}, seen = 0 }
    of[key] = cell
    if level > 0 then write_down(undo_key, of, key, nil) end
  end
  return cell
end

-- For records: a value is read.
local function listen(_, key, value, values)
  if memo.top() then note(cell_of(values, key)) end
  return value
end

-- All that rest on what these read may be another value.
local function mark(readers, how)
  for i = 1, #readers do
    local node = readers[i]
    local stale = node.stale
    if not stale then
      keep(node)
      node.stale = how
      mark(node.readers, MAYBE)
    elseif stale < how then
      keep(node)
      node.stale = how
    end
  end
end

-- ---- working out ---------------------------------------------------------------------------------------------------

local function compute(node)
  local above, rested = memo.set_top(node), resting[1]
  stamps = stamps + 1
  node.stamp, node.deps, node.busy, node.above = stamps, {}, true, above
  resting[1] = 0
  local ok, value = pcall(node.find, node.rec, node.def)
  memo.set_top(above)
  node.busy, node.above, node.stale = nil, nil, nil
  node.rests, resting[1] = resting[1], rested
  if ok then node.value, node.unknown = value, nil
  elseif class(value) then node.value, node.unknown = nil, value
  else
    node.stale = SURELY
    error(value, 0)
  end
end

-- A node that may have become another value, or has: afterwards it is what it is.
local function refresh(node)
  if node.busy then memo.circle(node, memo.top()) end
  keep(node)
  if node.stale == MAYBE then
    local deps = node.deps
    for i = 1, #deps do
      local dep = deps[i]
      if dep.stale then
        refresh(dep)
        if node.stale ~= MAYBE then break end
      end
    end
    if node.stale == MAYBE then
      node.stale = nil
      return
    end
  end
  local value, unknown, rests = node.value, node.unknown, node.rests
  compute(node)
  if rests == node.rests and alike(value, node.value) and alike(unknown, node.unknown) then
    node.value, node.unknown = value, unknown
    return
  end
  local readers = node.readers
  for i = 1, #readers do
    local reader = readers[i]
    if reader.stale == MAYBE then
      keep(reader)
      reader.stale = SURELY
    end
  end
end

-- In the place of what works a thing out once (model.memo).
local function once(rec, name, find, x)
  local of = known[rec]
  if not of then of = {}; known[rec] = of end
  local node = of[name]
  if not node then
    node = { rec = rec, name = name, def = x, find = find, readers = {}, deps = false, seen = 0, stamp = 0,
             stale = SURELY, level = level, busy = nil, above = nil, value = nil, unknown = nil, rests = 0 }
    of[name] = node
    if level > 0 then write_down(undo_key, of, name, nil) end
    compute(node)
  elseif node.busy then memo.circle(node, memo.top())
  elseif node.stale then refresh(node) end
  note(node)
  local rests = node.rests
  if rests ~= 0 then resting[1] = resting[1] | rests end
  return node
end

-- ---- for others ----------------------------------------------------------------------------------------------------

-- Calls f among the nodes that are kept.
local function among(f, ...)
  local before, deaf = memo.way(once, known), record.watch(listen)
  local was = run.tracked
  run.tracked = tracking
  local packed = table.pack(pcall(f, ...))
  run.tracked = was
  record.watch(deaf)
  memo.pop(before)
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- Calls f among the nodes that are kept of the job as declared.
function tracking.base(f, ...) return among(f, ...) end

-- Calls f with values put in: puts = { { values, key, value } ... }.
function tracking.with(puts, f, ...)
  local before, from = level, logged
  levels = levels + 1
  level = levels
  for i = 1, #puts do
    local p = puts[i]
    local values, key = p[1], p[2]
    if not alike(values[key], p[3]) then
      write_down(undo_key, values, key, values[key])
      values[key] = p[3]
      local cell = cells[values] and cells[values][key]
      if cell then mark(cell.readers, SURELY) end
    end
  end
  local packed = table.pack(pcall(among, f, ...))
  put_back(from)
  level = before
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- What is judged by these rules, as order(rules) says, and what find(rec, def) gives of each.  What a script's own
-- function reads nobody knows, so that it is asked each time.
function tracking.outcomes(rules, order, find)
  local root = run.inside[record.root]
  local list = once(root, rules, function() return order(rules) end).value
  local out = {}
  for i = 1, #list do
    local x = list[i]
    local node = x.node
    if not node and x.rec then
      node = once(x.rec, x.def, find, x.def)
      if level == 0 then x.node = node end
    elseif node and x.def.scripted and not node.stale then
      keep(node)
      node.stale = SURELY
    end
    if node and node.stale then refresh(node) end
    out[i] = node and node.value or x.outcome
  end
  return out
end

-- Calls f(node) for each node that rests on the value under a key, as things stand.
function tracking.reached(values, key, f)
  local seen = {}
  local function visit(readers)
    for i = 1, #readers do
      local node = readers[i]
      if not seen[node] then
        seen[node] = true
        f(node)
        visit(node.readers)
      end
    end
  end
  local cell = cells[values] and cells[values][key]
  if cell then visit(cell.readers) end
end

return tracking
