-- SPDX-License-Identifier: MIT
-- A job judged with other inputs: the one engine behind margins, tolerances, suggestions and whatever else asks
-- "what if".  changes = { [path of an input in full] = value }, values as a declaration would have checked them.
local run = import "model.run"
local record = import "model.record"
local judge = import "model.judge"
local graph = import "model.graph"
local memo = import "model.memo"
local anew = import "model.anew"
local unnoted = import "model.unnoted"
local variants = {}

local engine = memo.engine
local forced = false

-- From here on everything is worked out again for each variant, as if nothing had been kept; gives what held before.
function variants.forced(on)
  local before = forced
  forced = on
  return before
end

-- Where the inputs are kept, in the order of their paths: { read table, copy, key, value, path } ...
local function places(changes)
  local puts = {}
  for path, value in host.sorted(changes) do
    local _, at, values, copy, key = record.input(path)
    if not at then
      host.raise { code = "D019", text = "no input has the path " .. path, help = "as in rack.east.tilt" }
    end
    puts[#puts + 1] = { values, copy, key, value, path }
  end
  return puts
end

-- What is worked out of the job as declared stays, for variants to differ from.
local function track()
  if run.tracked then return end
  run.tracked = true
  record.track()
  pcall(host.hushed, judge.all)        -- what refuses the job will refuse its variants
  anew.ready()
end

local function put_in(puts, f, ...)
  for i = 1, #puts do
    local p = puts[i]
    engine.put(p[1], p[2], p[3], p[4])
  end
  return f(...)
end

-- ---- levels that stand in each other --------------------------------------------------------------------------------

-- From here on these inputs are put in, until leave(), beside those of the levels around; raises before anything is
-- changed where one of them is not there.
function variants.enter(changes)
  local puts = places(changes)
  track()
  engine.begin(false)
  for i = 1, #puts do
    local p = puts[i]
    engine.put(p[1], p[2], p[3], p[4])
  end
end

function variants.leave() engine.finish() end

-- ---- one variant ---------------------------------------------------------------------------------------------------

-- The outcomes of the job as declared, judged for the first time and with what is read noted from the start.
function variants.first(rules)
  run.tracked = true
  record.track()
  local outcomes = judge.all(rules)
  anew.ready()
  return outcomes
end

-- What a script's rules print was shown when the job was judged.
local function in_level(puts, f, ...)
  if not forced then track() end
  engine.begin(forced, true)
  local packed = table.pack(pcall(host.hushed, put_in, puts, f, ...))
  engine.finish()
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- Calls f with these inputs put in.
function variants.with(changes, f, ...)
  local puts = places(changes)
  return unnoted.call(in_level, puts, f, ...)
end

local function in_one_level(puts, f)
  track()
  engine.begin(false)
  local function with(changes, g, ...)
    for i = 1, #puts do puts[i][4] = changes[puts[i][5]] end
    return host.hushed(put_in, puts, g, ...)
  end
  local packed = table.pack(pcall(f, with))
  engine.finish()
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- Calls f(with), where with(changes, g, ...) is variants.with for other values of these inputs, all of them each time:
-- what rests on them is marked and put back once, however many are tried.  f must read nothing of the job but so.
function variants.along(changes, f)
  if forced or engine.levels() > 0 then return f(variants.with) end
  return unnoted.call(in_one_level, places(changes), f)
end

local function judged(changes, rules, more)
  anew.refuse(changes)
  local outcomes = judge.all(rules)
  if more then more() end
  return outcomes
end

-- The outcomes of the job as changed, as judge.all gives them for these rules (nil: all that are loaded), those that
-- the change does not reach the same tables as before; nil, and the error, where the job as changed is refused.  What
-- shapes the declarations is declared anew: then all tables are others.  more, if given, is called in the
-- variant, where it is none that is declared anew.
function variants.judge(changes, rules, more)
  for path in next, changes do if anew.shapes(path) then return anew.judge(changes, rules) end end
  local ok, outcomes = pcall(variants.with, changes, judged, changes, rules, more)
  if anew.kept_since() then return anew.judge(changes, rules) end
  if ok then return outcomes end
  if type(outcomes) ~= "table" then error(outcomes, 0) end
  return nil, outcomes
end

-- What an outcome is called: the same in each variant.
function variants.key(o) return o.rule.id .. " " .. tostring(o.subject) end

local function as_declared(rules)
  if anew.keeps() then return anew.base(rules) end
  track()
  return host.hushed(judge.all, rules)
end

-- The outcomes of the job as declared, from which variants differ.
function variants.base(rules)
  return unnoted.call(as_declared, rules)
end

-- Calls f(record's data, name, value) for all that was worked out of the job as declared and rests on an input.
local function each_reached(path, f)
  local _, at, values, _, key = record.input(path)
  if not at then return end
  local list = engine.reached(values, key)
  for i = 1, #list, 3 do f(list[i], list[i + 1], list[i + 2]) end
end

-- How much of what was worked out of the job as declared rests on an input.
function variants.resting(path)
  local n = 0
  each_reached(path, function() n = n + 1 end)
  return n
end

-- The keys of all outcomes that rest on an input as declared: no other outcome can change with it. known: the job was
-- judged as declared already.
function variants.reached(path, known)
  local keys = {}
  if not known then variants.base() end
  each_reached(path, function(_, name, o)
    if type(name) == "table" and type(o) == "table" and o.rule then keys[variants.key(o)] = true end
  end)
  return keys
end

local function works_out(proxy, name)
  track()
  graph.try(proxy, name)
end

-- Whether a result of a record, as declared, rests on an input.
function variants.rests(proxy, name, path)
  unnoted.call(works_out, proxy, name)
  local rec, found = record.inside[proxy], false
  each_reached(path, function(of, as) found = found or of == rec and as == name end)
  return found
end

return variants
