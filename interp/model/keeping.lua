-- SPDX-License-Identifier: MIT
-- What functions of scripts keep from one call to the next: variables around them, tables behind these, random numbers.
-- A rule or a result that does so answers by what it was asked before, so that only a run of its own has it as a first
-- run does.
local run = import "model.run"
local judge = import "model.judge"
local keeping = {}

-- What a table or a script's function holds; nil of any other function.
local function held_by(x)
  if type(x) == "function" then return (host.upvalues(x)) end
  local holds = {}
  for k, v in next, x do holds[k] = v end
  return holds
end

-- All that can be reached from functions of scripts, each with what it holds now: { thing, holds } ...
local function picture(functions)
  local list, seen, at = {}, {}, 0
  local function add(x)
    if seen[x] or type(x) ~= "function" and (type(x) ~= "table" or run.inside[x]) then return end
    seen[x] = true
    local holds = held_by(x)
    if holds then list[#list + 1] = { x, holds } end
  end
  for _, f in ipairs(functions) do add(f) end
  while at < #list do
    at = at + 1
    local x, holds = list[at][1], list[at][2]
    for k, v in next, holds do
      add(k)
      add(v)
    end
    local meta = type(x) == "table" and getmetatable(x)
    if type(meta) == "table" then add(meta) end
  end
  return list
end

local function same(a, b) return rawequal(a, b) or a ~= a and b ~= b end

local function holds_the_same(a, b)
  for k, v in next, a do if not same(b[k], v) then return false end end
  for k in next, b do if a[k] == nil then return false end end
  return true
end

local function stands(list)
  for _, x in ipairs(list) do
    if not holds_the_same(x[2], held_by(x[1])) then return false end
  end
  return true
end

-- What the rules and results that scripts of the run at hand declare hold now: a function that tells whether they hold
-- just that when it is called.
function keeping.held()
  local functions = {}
  for _, def in ipairs(run.results) do functions[#functions + 1] = def.script end
  for _, def in ipairs(run.rules) do
    functions[#functions + 1] = def.check
    functions[#functions + 1] = def.applies
  end
  local before, drawn = picture(functions), host.drawn()
  return function() return host.drawn() == drawn and stands(before) end
end

-- Whether those rules and results, which nobody judged yet, keep something when they are judged and worked out; they
-- are then.
function keeping.anything()
  local same_as_before = keeping.held()
  for _, def in ipairs(run.rules) do
    for _, s in ipairs(judge.subjects(def) or {}) do pcall(judge.try, def, s) end
  end
  if run.results[1] then pcall(import("model.own_results").all) end      -- whoever judges the job tells an error
  return not same_as_before()
end

return keeping
