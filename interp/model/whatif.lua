-- SPDX-License-Identifier: MIT
-- Rules under values that nobody declared: where an outcome flips, what would pass and what that breaks, the corners of
-- the tolerances.
local run = import "model.run"
local record = import "model.record"
local rule = import "model.rule"
local judge = import "model.judge"
local util = import "model.util"
local variants = import "model.variants"
local whatif = {}

-- The outcome under such values, which a calculation may refuse: then it is unknown.
local function try_with(def, subject)
  local ok, outcome, finding, whys = pcall(judge.try, def, subject)
  if ok then return outcome, finding, whys end
  if type(outcome) ~= "table" or outcome.code ~= "C004" then error(outcome, 0) end
  return "unknown", nil, { outcome }
end

-- True if the named rules are not broken under the values put in: for anything, for one subject only, or for those of
-- which only(rule, subject) says so.
function whatif.passes(values, ids, only)
  local function concerned(def, s)
    if type(only) == "function" then return only(def, s) end
    return only == nil or s == only
  end
  return variants.with(values, function()
    for _, id in ipairs(ids) do
      local def = rule.find(id)
      local list = judge.subjects(def)
      if not list then return false end
      for _, s in ipairs(list) do
        local outcome = concerned(def, s) and try_with(def, s)
        if outcome == "broken" or outcome == "unknown" then return false end
      end
    end
    return true
  end)
end

-- ---- flips ---------------------------------------------------------------------------------------------------------

-- The input that a rule names for its turning value: its path, its value as declared, its field; nil if there is none.
local function turning_input(def, subject)
  local path = def.flips
  if type(path) == "function" then path = path(subject, record.root) end
  if not path then return nil end
  local found, value, full = pcall(record.input, path)
  if not found then
    if not host.class(value) then error(value, 0) end
    return nil
  end
  if not full or value == nil then return nil end
  local field = record.field_at(full)
  if not (field and field.design) then
    host.raise { code = "G004", text = "rule " .. def.id .. " turns at " .. full .. ", which no designer can change" }
  end
  return full, value, field
end

-- Amounts, step by step away from what was declared, as far as the field goes, then between the last two; nil if
-- nothing turns.
local function turn_of_amount(start, field, other)
  local x0, point = host.si(start), host.is(start, "temperature")
  local unit = point and 1 or x0 ~= 0 and math.abs(x0) / 20 or nil
  if not unit then return nil end
  local function at(x) return not (field.above and x <= field.above) and other(host.like(start, x)) end
  local edges, beyond, from, to = { [1] = field.max, [-1] = field.min }, {}, nil, nil
  for k = 1, 60 do
    for _, side in ipairs { 1, -1 } do
      local x, edge = x0 + side * k * unit, edges[side]
      local last = edge and (x - edge) * side > 0                -- the edge itself, once
      if last then x = edge end
      if not beyond[side] and (point or x * x0 > 0) and at(x) then from, to = x - side * unit, x break end
      beyond[side] = last
    end
    if to then break end
  end
  if not to then return nil end
  for _ = 1, 40 do
    local mid = (from + to) / 2
    if at(mid) then to = mid else from = mid end
    if math.abs(to - from) <= 1e-9 * math.max(1, math.abs(to)) then break end
  end
  return host.like(start, to)
end

-- The entry of a list nearest to the one that stands there; counts are the list of whole numbers.
local function turn_of_entry(list, start, other)
  local here
  for i, v in ipairs(list) do if v == start then here = i end end
  for k = 1, here and #list or 0 do
    for _, i in ipairs { here - k, here + k } do
      if list[i] ~= nil and other(list[i]) then return list[i] end
    end
  end
end

-- The value of one input at which the outcome changes, nearest to what was declared; nil if none was found.
function whatif.flip(def, subject)
  if not def.flips then return nil end
  local path, start, field = turning_input(def, subject)
  if not path then return nil end
  local first = judge.try(def, subject)
  local function other(value)
    return variants.with({ [path] = value }, function()
      local ok, o = pcall(judge.try, def, subject)
      return ok and ((first == "holds" and o == "broken") or (first == "broken" and o == "holds"))
    end)
  end
  local value
  if host.is_quantity(start) then value = turn_of_amount(start, field, other)
  elseif math.type(start) == "integer" then
    local list = {}
    for n = field.min or 0, math.min(field.max or start + 60, start + 60) do list[#list + 1] = n end
    value = turn_of_entry(list, start, other)
  elseif type(start) == "number" then value = turn_of_amount(start, field, other)
  elseif field.choices then value = turn_of_entry(field.choices, start, other) end
  return value ~= nil and { path = path, value = value } or nil
end

-- ---- suggestions ---------------------------------------------------------------------------------------------------

run.keep("as_declared", function() return nil end)       -- what is broken or unknown, by rule and subject

local function key_of(o) return o.rule.id .. " " .. tostring(o.subject) end

local function bad(o) return o.outcome == "broken" or o.outcome == "unknown" end

-- An outcome and its numbers: a rule that is broken before and after, by other numbers, is touched by the change.
local function state(o)
  local f = o.finding or {}
  local function text(x) return type(x) == "number" and x or host.is_quantity(x) and host.si(x) or f.words or "" end
  return o.outcome .. " " .. text(f.value) .. " " .. text(f.got)
end

local function as_declared()
  if not run.as_declared then
    local list = {}
    for _, o in ipairs(judge.all()) do if bad(o) then list[key_of(o)] = state(o) end end
    run.as_declared = list
  end
  return run.as_declared
end

-- The ids of all rules that are broken after a change, and of those that are unknown, but for what is just so now; nil
-- where the change is refused, or does not mend what it is for.
local function breaks(changes, mended)
  local before, ids, has = as_declared(), { broken = {}, unknown = {} }, {}
  local ok, outcomes = pcall(variants.with, changes, judge.all)
  if not ok then
    if type(outcomes) ~= "table" then error(outcomes, 0) end
    return nil
  end
  for _, o in ipairs(outcomes) do
    local id = o.rule.id
    if bad(o) and key_of(o) == key_of(mended) then return nil end
    if bad(o) and before[key_of(o)] ~= state(o) and not has[id .. o.outcome] then
      has[id .. o.outcome] = true
      table.insert(ids[o.outcome], id)
    end
  end
  return ids.broken, ids.unknown
end

local function are(ids, what) return util.list(ids) .. (#ids == 1 and " is " or " are ") .. what end

-- "then R43 is broken, and R62 is unknown"; nil where nothing is.
function whatif.side_effects(x)
  local parts = {}
  if #x.breaks > 0 then parts[1] = are(x.breaks, "broken") end
  if #x.leaves_unknown > 0 then parts[#parts + 1] = are(x.leaves_unknown, "unknown") end
  return #parts > 0 and "then " .. table.concat(parts, ", and ") or nil
end

function whatif.in_words(s)
  local effects = whatif.side_effects(s)
  return s.words .. (effects and ", but " .. effects or "")
end

-- For a broken outcome: where it flips, and the nearest changes that pass, each tried against all rules.
-- o.suggestions = { { words, changes, breaks = { id ... }, leaves_unknown = { id ... } } ... }, first those that break
-- nothing; o.nearest: in words.
function whatif.remedy(o)
  if o.remedied then return end
  o.remedied = true
  local def = o.rule
  o.flip = whatif.flip(def, o.proxy)
  if o.flip then
    o.flip.breaks, o.flip.leaves_unknown = breaks({ [o.flip.path] = o.flip.value }, o)
    if not o.flip.breaks then o.flip = nil end
  end
  o.suggestions = {}
  if not def.nearest then return end
  local ok, list = pcall(def.nearest, o.proxy, record.root, whatif.passes)
  if not ok then
    if not host.class(list) then error(list, 0) end
    return
  end
  if type(list) == "string" then
    o.nearest = list
    return
  end
  local later, texts = {}, {}
  for _, s in ipairs(list or {}) do
    s.breaks, s.leaves_unknown = {}, {}
    if s.changes then s.breaks, s.leaves_unknown = breaks(s.changes, o) end
    if s.breaks and #s.breaks == 0 then table.insert(o.suggestions, s) elseif s.breaks then later[#later + 1] = s end
  end
  table.move(later, 1, #later, #o.suggestions + 1, o.suggestions)
  for i, s in ipairs(o.suggestions) do texts[i] = whatif.in_words(s) end
  if #texts > 0 then o.nearest = table.concat(texts, "; ") end
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
    local broken = variants.with(values, function()
      local b = {}
      for _, o in ipairs(holds) do
        local outcome, finding, whys = try_with(o.rule, o.proxy)
        if outcome == "broken" or outcome == "unknown" then
          b[#b + 1] = { rule = o.rule, subject = o.subject, proxy = o.proxy, outcome = outcome, finding = finding,
              whys = whys }
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
