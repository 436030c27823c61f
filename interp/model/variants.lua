-- SPDX-License-Identifier: MIT
-- A job judged with other inputs: the one engine behind margins, tolerances, suggestions and whatever else asks
-- "what if".  changes = { [path of an input in full] = value }, values as a declaration would have checked them.
local run = import "model.run"
local record = import "model.record"
local judge = import "model.judge"
local memo = import "model.memo"
local anew = import "model.anew"
local variants = {}

local forced = false

-- From here on everything is worked out again for each variant, as if nothing had been kept; gives what held before.
function variants.forced(on)
  local before = forced
  forced = on
  return before
end

-- Where the inputs are kept: { { values, key, value } ... }, in the order of their paths.
local function places(changes)
  local puts = {}
  for path, value in host.sorted(changes) do
    local _, at, values, key = record.input(path)
    if not at then host.raise { code = "D019", text = "no input has the path " .. path, help = "as in rack.east.tilt" } end
    puts[#puts + 1] = { values, key, value }
  end
  return puts
end

local function put(puts, f, ...)
  local before = {}
  for i, p in ipairs(puts) do
    before[i] = p[1][p[2]]
    p[1][p[2]] = p[3]
  end
  local known, deaf = memo.push(), record.watch(false)
  local packed = table.pack(pcall(f, ...))
  record.watch(deaf)
  memo.pop(known)
  for i = #puts, 1, -1 do puts[i][1][puts[i][2]] = before[i] end
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- Calls f with these inputs put in.
function variants.with(changes, f, ...)
  local puts = places(changes)
  if forced then return put(puts, f, ...) end
  return import("model.tracking").with(puts, f, ...)
end

local function judged(changes, rules)
  anew.refuse(changes)
  return judge.all(rules)
end

-- The outcomes of the job as changed, as judge.all gives them for these rules (nil: all that are loaded), those that
-- the change does not reach the same tables as before; nil, and the error, where the job as changed is refused.  What
-- shapes the declarations is declared anew: then all tables are others.
function variants.judge(changes, rules)
  for path in next, changes do if anew.shapes(path) then return anew.judge(changes, rules) end end
  if not forced and not run.anew.ready then import("model.tracking").base(anew.ready) end
  local ok, outcomes = pcall(variants.with, changes, judged, changes, rules)
  if ok then return outcomes end
  if type(outcomes) ~= "table" then error(outcomes, 0) end
  return nil, outcomes
end

-- What an outcome is called: the same in each variant.
function variants.key(o) return o.rule.id .. " " .. tostring(o.subject) end

-- The outcomes of the job as declared, from which variants differ.
function variants.base(rules) return import("model.tracking").base(judge.all, rules) end

-- The keys of all outcomes that rest on an input as declared: no other outcome can change with it.
function variants.reached(path)
  local _, at, values, key = record.input(path)
  local keys = {}
  if not at then return keys end
  import("model.tracking").reached(values, key, function(node)
    local o = node.value
    if type(node.name) == "table" and type(o) == "table" and o.rule then keys[variants.key(o)] = true end
  end)
  return keys
end

return variants
