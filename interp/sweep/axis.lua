-- SPDX-License-Identifier: MIT
-- An axis out of what it moves and the choices of each of its steps; sweep.axes says what an axis is.
local run = import "model.run"
local boot = import "model.boot"
local axis = {}

local function joined(list, pick, between)
  local parts, alike = {}, true
  for i, x in ipairs(list) do
    parts[i] = pick(x)
    alike = alike and parts[i] == parts[1]
  end
  return alike and parts[1] or table.concat(parts, between)
end

local function any(list, key)
  for _, x in ipairs(list) do if x[key] then return true end end
  return false
end

local kept_choices = 4096      -- of an axis, as they are asked for again and again

-- The files that a job reads with a plan and not as declared, in the order read: { path, sha256 } ...
local function files_of(script, plan)
  local known = {}
  for _, f in ipairs(host.files_read()) do known[f.path] = true end
  local whole = table.move(run.declared.plan, 1, #run.declared.plan, 1, {})
  table.move(plan, 1, #plan, #whole + 1, whole)
  return run.aside(function()
    local list = {}
    local ok, err = pcall(boot.declare, { script = script, plan = whole })
    if not ok and type(err) ~= "table" then error(err, 0) end
    for _, f in ipairs(host.files_read()) do
      if not known[f.path] then list[#list + 1] = f end
    end
    return list
  end)
end

-- at: where it is varied; choices(i) -> of step i a choice for each target, or fewer where a cell is left empty; more:
-- what else the axis has.
function axis.of(at, targets, name, size, choices, more)
  local known = {}
  local function step(i)
    local list = known[i]
    if not list then
      list = choices(i)
      if size <= kept_choices then known[i] = list end
    end
    return list
  end
  local shapes = any(targets, "shapes") or more.shapes or false
  local first = targets[1]
  local own = { name = name, size = size, targets = targets, at = at, notes = {}, place = first.place,
      unit = first.unit, says = joined(targets, function(t) return t.says end, "; ") }
  for key, value in next, more do own[key] = value end
  own.shapes = shapes
  function own.text(i)
    if i == 0 then return joined(targets, function(t) return t.said end, " + ") end
    return step(i)[1].text
  end
  function own.si(i)
    if own.kind == "rows" then return nil end
    if i == 0 then return first.si end
    return step(i)[1].si
  end
  function own.plan(i)
    local plan = {}
    for _, c in ipairs(i > 0 and step(i) or {}) do table.move(c.plan, 1, #c.plan, #plan + 1, plan) end
    return plan
  end
  own.puts = not shapes and function(i)
    local list = i > 0 and step(i) or {}
    if list.puts then return list.puts end
    local puts = {}
    for _, c in ipairs(list) do
      for path, value in next, c.put do puts[path] = value end
    end
    list.puts = puts
    return puts
  end or nil
  function own.sets(i)
    local list = {}
    for _, c in ipairs(i > 0 and step(i) or {}) do
      if c.set then list[#list + 1] = c.set elseif not c.alternate then return nil end
    end
    return list
  end
  function own.alternate(i)
    for _, c in ipairs(i > 0 and step(i) or {}) do if c.alternate then return c.alternate end end
  end
  local names_files = false
  for _, t in ipairs(targets) do names_files = names_files or t.file end
  own.files = names_files and function(i)
    for _, c in ipairs(i > 0 and step(i) or {}) do
      if c.path then return files_of(run.declared.script, own.plan(i)) end
    end
    return {}
  end or nil
  return own
end

-- ---- lists ---------------------------------------------------------------------------------------------------------
local function same(a, b)
  if host.is_quantity(a) and host.is_quantity(b) then return host.same(a, b) end
  return a == b or host.wire(a) and host.wire(b) and type(a) ~= "string" and host.format(a) == host.format(b) or
      type(a) == "number" and type(b) == "number" and host.near(a, b)
end

-- Whether choices are what is declared: each the value of its target, with no other tolerance.
function axis.as_declared(targets, list)
  for k, t in ipairs(targets) do
    if t.value == nil or not same(t.value, list[k].value) or t.off ~= list[k].off then return false end
  end
  return true
end

-- Whether a step cannot be put into records, such as one with a tolerance of its own.
function axis.shaping(steps)
  for _, list in ipairs(steps) do
    for _, c in ipairs(list) do if not c.put then return true end end
  end
  return false
end

-- values: { { raw, keys, tolerance } ... }.
function axis.list(at, targets, name, values)
  local steps, notes = {}, {}
  for _, v in ipairs(values) do
    local list = {}
    for k, t in ipairs(targets) do list[k] = t.take(v.raw, at, v.keys, v.tolerance) end
    if axis.as_declared(targets, list) then
      notes[#notes + 1] = list[1].text .. " is what is declared, and counts once"
    else
      local twice = false
      for _, s in ipairs(steps) do
        twice = twice or same(s[1].value, list[1].value) and s[1].off == list[1].off
      end
      if twice then notes[#notes + 1] = list[1].text .. " stands there twice, and counts once"
      else steps[#steps + 1] = list end
    end
  end
  local texts = {}
  for i, s in ipairs(steps) do texts[i] = s[1].text end
  return axis.of(at, targets, name, #steps + 1, function(i) return steps[i] end,
      { kind = "list", shapes = axis.shaping(steps), notes = notes, spec = table.concat(texts, "\n") })
end

return axis
