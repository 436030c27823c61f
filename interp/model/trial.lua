-- SPDX-License-Identifier: MIT
-- Rules tried under values that nobody declared: whether they hold, whether the job could be declared so, and where an
-- outcome flips.
local record = import "model.record"
local rule = import "model.rule"
local judge = import "model.judge"
local variants = import "model.variants"
local anew = import "model.anew"
local trial = {}

-- The outcome under such values, which a calculation may refuse: then it is unknown.
function trial.try(def, subject)
  local ok, outcome, finding, whys = pcall(judge.try, def, subject)
  if ok then return outcome, finding, whys end
  if type(outcome) ~= "table" or outcome.code ~= "C004" then error(outcome, 0) end
  return "unknown", nil, { outcome }
end

local function shape(changes)
  for path in next, changes do if anew.shapes(path) then return true end end
  return false
end

-- The same in the job judged with them.
local function by_judging(changes, def, subject)
  local name = def.each and tostring(subject) or "job"
  for _, o in ipairs(variants.judge(changes, { def }) or {}) do
    if o.subject == name then return o.outcome, o.finding, o.whys end
  end
end

-- The outcome of a rule on a subject, its finding and whys, with these inputs put in; nothing where the job is refused.
function trial.under(changes, def, subject)
  if not shape(changes) then
    local outcome, finding, whys = variants.with(changes, trial.try, def, subject)
    if not anew.kept_since() then return outcome, finding, whys end
  end
  return by_judging(changes, def, subject)
end

-- Calls f(under), where that is trial.under for other values of these inputs: see variants.along.
function trial.along(changes, f)
  if shape(changes) then return f(trial.under) end
  return variants.along(changes, function(with)
    local shaped = false
    return f(function(values, def, subject)
      if not shaped then
        local outcome, finding, whys = with(values, trial.try, def, subject)
        shaped = anew.kept_since()
        if not shaped then return outcome, finding, whys end
      end
      return by_judging(values, def, subject)
    end)
  end)
end

-- What f() gives with these inputs put in; where they shape the declarations: a copy without records.
function trial.given(changes, f)
  if not shape(changes) then
    local packed = table.pack(variants.with(changes, f))
    if not anew.kept_since() then return table.unpack(packed, 1, packed.n) end
  end
  return anew.with(changes, f)
end

local function open(o) return o == "broken" or o == "unknown" end

-- True if the named rules are not broken under the values put in: for anything, for one subject only, or for those of
-- which only(rule, subject) says so. count, if given, is called first.
function trial.passes(values, ids, only, count)
  if count then count() end
  local one = only and type(only) ~= "function" and tostring(only)
  local function concerned(def, s)
    if one then return tostring(s) == one end            -- what is derived is derived anew
    return only == nil or only(def, s)
  end
  local rules = {}
  for i, id in ipairs(ids) do rules[i] = rule.find(id) end
  if shape(values) then
    local outcomes = variants.judge(values, rules)
    for _, o in ipairs(outcomes or {}) do
      if open(o.outcome) and (not o.proxy or concerned(o.rule, o.proxy)) then return false end
    end
    return outcomes ~= nil
  end
  local pass = variants.with(values, function()
    for _, def in ipairs(rules) do
      local list = judge.subjects(def)
      if not list then return false end
      for _, s in ipairs(list) do
        if concerned(def, s) and open((trial.try(def, s))) then return false end
      end
    end
    return true
  end)
  if anew.kept_since() then return trial.passes(values, ids, only) end
  return pass
end

-- Whether the job could be declared so; if not, and why, without what was put in, which whoever asks knows. A field's
-- own range is for whoever makes the value.
function trial.declarable(changes)
  local ok, err = pcall(function()
    for path in next, changes do if anew.shapes(path) then return anew.moved(changes) end end
    variants.with(changes, anew.refuse, changes)
  end)
  if ok then return true end
  if type(err) ~= "table" then error(err, 0) end
  local text = host.message(err)
  for path, value in next, changes do
    local from = anew.in_words(path, value) .. ": "
    if text:sub(1, #from) == from then text = text:sub(#from + 1) end
  end
  return false, text
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

local farthest = 60          -- first steps: four times what was declared, 60 K

-- The value of one input at which the outcome changes, nearest to what was declared; nil if none was found. count,
-- if given, is called for each value that is tried.
function trial.flip(def, subject, count)
  if not def.flips then return nil end
  local path, start, field = turning_input(def, subject)
  if not path then return nil end
  local first, finding = host.hushed(judge.try, def, subject)
  local search = import "model.search"
  local function found(under)
    local function other(value)
      if count then count() end
      local ok, o, f = pcall(under, { [path] = value }, def, subject)
      return ok and ((first == "holds" and o == "broken") or (first == "broken" and o == "holds")),
          ok and f and f.ratio
    end
    if host.is_quantity(start) or math.type(start) == "float" then
      local now = finding and finding.ratio
      return search.towards(start, field, other, { back = farthest, ahead = farthest }, now)
          or not now and search.along(start, field, other, farthest) or nil
    elseif math.type(start) == "integer" then
      local list, least = {}, field.min or 0
      for n = least, math.min(field.max or start + farthest, start + farthest) do list[#list + 1] = n end
      return search.entry(list, start - least + 1, other)
    elseif field.choices then
      for i, v in ipairs(field.choices) do if v == start then return search.entry(field.choices, i, other) end end
    end
  end
  local value = trial.along({ [path] = start }, found)
  return value ~= nil and { path = path, value = value } or nil
end

return trial
