-- SPDX-License-Identifier: MIT
-- A check that is run again and again, each time with another value in place of one read: a comparison in an every{}
-- that did not read it comes out as it did, with the calls that it made, and is not made again.  Where nothing else
-- read it and the worst comparison stays what it was, the rest of the check is not run again either.
--
-- So a comparison that is a function must rest on what it reads alone, as a node does: it may be called again, hands
-- nothing to the next one, and keeps nothing.
local compare = import "model.compare"
local comparisons = {}

-- every{} says in its worst finding what is known of all.
local function copy_of(finding)
  if type(finding) ~= "table" then return finding end
  local copy = {}
  for key, value in next, finding do copy[key] = value end
  return copy
end

-- The comparisons as make(f, i) gives them.
local function mapped(findings, make)
  local list = table.move(findings, 1, #findings, 1, {})
  for i, f in ipairs(list) do if type(f) == "function" then list[i] = make(f, i) end end
  return list
end

-- A run of which all is kept.  read(path) is told what is read, every(findings, node) gives what is judged in place of
-- the comparisons of an every{}.
--
-- kept: { every{} by every{}, in their order: { comparison by its place: { what it has inside, as kept; paths = what
-- it read; f; calls = those that it made; from = how many were made before; ok; finding or why }, findings = all as
-- they were given }, own = what was read beside all comparisons }.
function comparisons.first()
  local kept = { own = {} }
  local inside = kept                  -- what is being run
  local run = { kept = kept }
  function run.read(path) (inside.paths or inside.own)[path] = true end
  function run.every(findings, node)
    local list = { findings = findings }
    inside[#inside + 1] = list
    return mapped(findings, function(f, i)
      return function()
        local above, one = inside, { paths = {}, f = f, from = #node.calls }
        list[i], inside = one, one
        local ok, finding = pcall(f)
        inside = above
        for path in next, above.paths and one.paths or {} do above.paths[path] = true end
        one.calls, one.ok = table.move(node.calls, one.from + 1, #node.calls, 1, {}), ok
        if not ok then
          one.why = finding
          error(finding, 0)
        end
        one.finding = copy_of(finding)
        return finding
      end
    end)
  end
  return run
end

-- What stands for a comparison that came out so.
local function result_of(ok, finding, why)
  return function()
    if not ok then error(why, 0) end
    return copy_of(finding)
  end
end

-- The worst of an every{} of which each comparison is as it was kept, or as in `others` by its place; false where one
-- was never made.
local function worst(list, others)
  local all = {}
  for i, f in ipairs(list.findings) do
    local one = list[i]
    if type(f) ~= "function" then all[i] = copy_of(f)
    elseif not one or not one.ok and not host.class(one.why) then return false
    else all[i] = others and others[i] or result_of(one.ok, one.finding, one.why) end
  end
  return compare.worst_of(all) or false
end

-- Whether two findings say the same; like(a, b): whether two values do.
local function same(a, b, like)
  for key, value in next, a do
    local other = b[key]
    if not like(value, other) then
      if key ~= "unknowns" or type(value) ~= "table" or type(other) ~= "table" or #value ~= #other then return false end
      for i = 1, #value do if value[i] ~= other[i] then return false end end
    end
  end
  for key in next, b do if a[key] == nil then return false end end
  return true
end

-- The same of a run in which what is read under that path is another value.  What stands inside of a comparison, or
-- behind one, where that value was read before may be something else than what was kept.
--
-- run.shifted: other calls are made than before, so that what is kept does not stand for what would come: calls are
-- answered by their number, and those behind get the answers of others.
function comparisons.again(kept, other)
  local inside, n, met = kept, 0, false        -- what is being run, its every{} so far, whether it read the value
  local run = {}
  function run.read(path) met = met or path == other end

  -- Whether the calls from a number on are of the same primitives as those of the comparison were.
  local function as_many(calls, from, one)
    if from ~= one.from or #calls ~= from + #one.calls then return false end
    for k, call in ipairs(one.calls) do if calls[from + k].op ~= call.op then return false end end
    return true
  end

  local function made(f, one)
    local above, count, before = inside, n, met
    inside, n, met = one, 0, false
    local ok, finding = pcall(f)
    inside, n, met = above, count, met or before
    return ok, finding
  end

  function run.every(findings, node)
    n = n + 1
    local list = not met and inside and inside[n] or {}
    return mapped(findings, function(f, i)
      local one = list[i]
      if one and not one.paths[other] then
        return function()
          run.shifted = run.shifted or #node.calls ~= one.from
          table.move(one.calls, 1, #one.calls, #node.calls + 1, node.calls)
          if not one.ok then host.again(one.why) end
          return copy_of(one.finding)
        end
      end
      return function()
        local calls = #node.calls
        local ok, finding = made(f, one)
        run.shifted = run.shifted or one and not as_many(node.calls, calls, one)
        if not ok then error(finding, 0) end
        return finding
      end
    end)
  end

  -- Whether all of the check is as it was but for the calls of comparisons that read the value, which stand among the
  -- calls then; like: see same.  calls: of the run, before: those that were kept.
  function run.stands(calls, before, like)
    local there = before
    for _, list in ipairs(kept) do
      local others
      for i in ipairs(list.findings) do
        local one = list[i]
        if one and one.paths[other] then
          for k = #calls, one.from + 1, -1 do calls[k] = nil end
          if #calls < one.from then table.move(there, #calls + 1, one.from, #calls + 1, calls) end
          local ok, finding = made(one.f, one)
          run.shifted = run.shifted or not as_many(calls, one.from, one)
          if run.shifted or not ok and not host.class(finding) then return false end
          for k in ipairs(one.calls) do
            if there == before then there = table.move(before, 1, #before, 1, {}) end
            there[one.from + k] = calls[one.from + k]
          end
          if not (ok and one.ok and (finding == one.finding or finding and one.finding and
              same(finding, one.finding, like))) then
            others = others or {}
            others[i] = result_of(ok, finding, finding)
          end
        end
      end
      if others then
        if list.worst == nil then list.worst = worst(list) end
        local now = list.worst and worst(list, others)
        if not now or not same(now, list.worst, like) then return false end
      end
    end
    table.move(there, 1, #there, 1, calls)
    return true
  end
  return run
end

return comparisons
