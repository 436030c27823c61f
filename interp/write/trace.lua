-- SPDX-License-Identifier: MIT
-- What a value was worked out from: nodes of results with all that they read, noted afresh.
local record = import "model.record"
local memo = import "model.memo"
local run = import "model.run"
local graph = import "model.graph"
local trace = {}

-- Calls f with what it reads being noted, apart from what was worked out before.
function trace.noting(f, ...)
  local before, was = memo.push(), run.noting
  run.noting = true
  local packed = table.pack(pcall(f, ...))
  run.noting = was
  memo.pop(before)
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- The node of one rule's check on one subject: its reads say where the numbers of the finding come from.
function trace.rule(def, proxy)
  return trace.noting(function()
    return memo.node(record.inside[proxy], { name = "rule " .. def.id, find = function()
      if def.scripted then return (host.call(def.check, proxy, record.root)) end
      return def.check(proxy, record.root)
    end })
  end)
end

-- The node of a result, noted.
function trace.result(proxy, name)
  return trace.noting(function()
    local _, _, node = graph.try(proxy, name)
    return node
  end)
end

local function has_step(worked, value)
  if not host.is_quantity(value) then return false end
  local _, rows = worked_sheet(worked)
  for _, r in ipairs(rows) do
    if r.kind == "step" and host.is_quantity(r.value) and host.same(r.value, value) then return true end
  end
  return false
end

-- The node whose value a primitive gave: the node itself, the work behind one of its outputs, or a work that it
-- picks from.
function trace.worked(node)
  if not node.def then return nil end
  if node.def.op then return node end
  for _, r in ipairs(node.reads or {}) do
    local n = r.node
    if n and n.def and n.def.op and n.value and (n.def == node.def.of or not node.def.of and node.value and
        has_step(n.value, node.value)) then return n end
  end
end

-- All inputs (paths of fields) that a node rests on.
function trace.inputs(node, into, seen)
  into, seen = into or {}, seen or {}
  if seen[node] then return into end
  seen[node] = true
  for _, r in ipairs(node.reads or {}) do
    if r.node then trace.inputs(r.node, into, seen)
    elseif not into[r.path] then into[r.path] = true; into[#into + 1] = r.path end
  end
  return into
end

return trace
