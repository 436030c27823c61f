-- SPDX-License-Identifier: MIT
-- A check that is run again and again, each time with another value in place of one read: a comparison in an every{}
-- that did not read it comes out as it did, with the calls that it made, and is not made again.
--
-- So a comparison that is a function must rest on what it reads alone, as a node does, and hand nothing to the next one.
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
-- it read; calls; ok; finding or why } } }.
function comparisons.first()
  local kept = {}
  local inside = kept                  -- what is being run
  local run = { kept = kept }
  function run.read(path) if inside.paths then inside.paths[path] = true end end
  function run.every(findings, node)
    local list = {}
    inside[#inside + 1] = list
    return mapped(findings, function(f, i)
      return function()
        local above, one, calls = inside, { paths = {} }, #node.calls
        list[i], inside = one, one
        local ok, finding = pcall(f)
        inside = above
        for path in next, one.paths do run.read(path) end
        one.calls, one.ok = table.move(node.calls, calls + 1, #node.calls, 1, {}), ok
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

-- The same of a run in which what is read under that path is another value.  What stands inside of a comparison, or
-- behind one, where that value was read before may be something else than what was kept.
function comparisons.again(kept, other)
  local inside, n, met = kept, 0, false        -- what is being run, its every{} so far, whether it read the value
  local run = {}
  function run.read(path) met = met or path == other end
  function run.every(findings, node)
    n = n + 1
    local list = not met and inside and inside[n] or {}
    return mapped(findings, function(f, i)
      local one = list[i]
      if one and not one.paths[other] then
        return function()
          table.move(one.calls, 1, #one.calls, #node.calls + 1, node.calls)
          if not one.ok then host.again(one.why) end
          return copy_of(one.finding)
        end
      end
      return function()
        local above, count, before = inside, n, met
        inside, n, met = one, 0, false
        local ok, finding = pcall(f)
        inside, n, met = above, count, met or before
        if not ok then error(finding, 0) end
        return finding
      end
    end)
  end
  return run
end

return comparisons
