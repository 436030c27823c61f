-- SPDX-License-Identifier: MIT
-- Rules under values that nobody declared: where an outcome flips, what would pass, the corners of the tolerances.
local run = import "model.run"
local record = import "model.record"
local rule = import "model.rule"
local judge = import "model.judge"
local whatif = {}

-- The outcome under such values, which a calculation may refuse: then it is unknown.
local function try_with(def, subject)
  local ok, outcome, finding = pcall(judge.try, def, subject)
  if ok then return outcome, finding end
  if type(outcome) ~= "table" or outcome.code ~= "C004" then error(outcome, 0) end
  return "unknown"
end

-- True if the named rules are not broken for anything under the values put in.
function whatif.passes(values, ids)
  return record.what_if(values, function()
    for _, id in ipairs(ids) do
      local def = rule.find(id)
      local list = judge.subjects(def)
      if not list then return false end
      for _, s in ipairs(list) do
        local outcome = try_with(def, s)
        if outcome == "broken" or outcome == "unknown" then return false end
      end
    end
    return true
  end)
end

-- ---- flips ---------------------------------------------------------------------------------------------------------

-- The input that a rule names for its turning value: its path and its value as declared; nil if there is none.
local function turning_input(def, subject)
  local path = def.flips
  if type(path) == "function" then path = path(subject, record.root) end
  if not path then return nil end
  local found, value, full = pcall(record.input, path)
  if not found then
    if not host.class(value) then error(value, 0) end
    return nil
  end
  if full and (math.type(value) or host.is_quantity(value)) then return full, value end
end

-- The value of one input at which the outcome changes, nearest to what was declared; nil if none was found.
function whatif.flip(def, subject)
  if not def.flips then return nil end
  local path, start = turning_input(def, subject)
  if not path then return nil end
  local x0, point = host.si(start), host.is(start, "temperature")
  local first = judge.try(def, subject)
  local function at(x)
    return record.what_if({ [path] = host.like(start, x) }, function()
      local ok, outcome = pcall(judge.try, def, subject)
      return ok and outcome or "error"
    end)
  end
  local function other(o) return (first == "holds" and o == "broken") or (first == "broken" and o == "holds") end
  local unit = point and 1 or x0 ~= 0 and math.abs(x0) / 20 or nil
  if not unit then return nil end
  local from, to
  for k = 1, 60 do
    for _, side in ipairs { 1, -1 } do
      local x = x0 + side * k * unit
      if (point or x * x0 > 0) and other(at(x)) then from, to = x - side * unit, x break end
    end
    if to then break end
  end
  if not to then return nil end
  for _ = 1, 40 do
    local mid = (from + to) / 2
    if other(at(mid)) then to = mid else from = mid end
    if math.abs(to - from) <= 1e-9 * math.max(1, math.abs(to)) then break end
  end
  return { path = path, value = host.like(start, to) }
end

-- For a broken outcome: where it flips and the nearest change that passes.
function whatif.remedy(o)
  if o.remedied then return end
  o.remedied = true
  local def = o.rule
  o.flip = whatif.flip(def, o.proxy)
  if def.nearest then
    local ok, text = pcall(def.nearest, o.proxy, record.root, whatif.passes)
    if ok then o.nearest = text elseif not host.class(text) then error(text, 0) end
  end
end

-- ---- tolerances ----------------------------------------------------------------------------------------------------

local most_corners = 5      -- 2^5 runs; beyond that each tolerance is tried alone

-- Judges the corners of the tolerances. Returns those at which a rule that holds is broken:
-- { at = { { path, value } ... }, broken = { outcome ... } }, and whether all corners were tried.
function whatif.corners(outcomes)
  local list = record.tolerances()
  local found, all = {}, #list <= most_corners
  if #list == 0 then return found, true end
  local holds = {}
  for _, o in ipairs(outcomes) do if o.outcome == "holds" then holds[#holds + 1] = o end end
  local function try_at(signs)
    local values, at = {}, {}
    for i, t in ipairs(list) do
      if signs[i] ~= 0 then
        local v = host.like(t.value, host.si(t.value) + signs[i] * host.si(t.tolerance))
        values[t.path], at[#at + 1] = v, { path = t.path, value = v }
      end
    end
    local broken = record.what_if(values, function()
      local b = {}
      for _, o in ipairs(holds) do
        local outcome, finding = try_with(o.rule, o.proxy)
        if outcome == "broken" or outcome == "unknown" then
          b[#b + 1] = { rule = o.rule, subject = o.subject, proxy = o.proxy, outcome = outcome, finding = finding }
        end
      end
      return b
    end)
    if #broken > 0 then found[#found + 1] = { at = at, broken = broken } end
  end
  if all then
    for n = 0, 2 ^ #list - 1 do
      local signs = {}
      for i = 1, #list do signs[i] = (math.tointeger(n) >> (i - 1)) & 1 == 1 and 1 or -1 end
      try_at(signs)
    end
  else
    for i = 1, #list do
      for _, sign in ipairs { -1, 1 } do
        local signs = {}
        for j = 1, #list do signs[j] = j == i and sign or 0 end
        try_at(signs)
      end
    end
  end
  return found, all
end

return whatif
