-- SPDX-License-Identifier: MIT
-- At what rules turn: flips.designs() names the fields that a designer can change, flips.turn(script, list) lets each
-- rule of a job turn, as it is declared and with each change of the list, and gives what is wrong; flips.silent() names
-- the rules that never did.
local boot, record, rule = import "model.boot", import "model.record", import "model.rule"
local judge, schema, whatif = import "model.judge", import "model.schema", import "model.whatif"
local flips = {}

-- The name of a field behind a path, as kind.field or kind.group.field.
local function name_of(path)
  local proxy, rest = record.locate(path)
  local keys = {}
  for _, key in ipairs(rest) do if type(key) == "string" then keys[#keys + 1] = key end end      -- not of a list's item
  return record.inside[proxy].def.name .. "." .. table.concat(keys, ".")
end

-- A field is the designer's where it says so, or the group or kind around it.
function flips.designs()
  local list = {}
  local function look(name, fields, design)
    for _, f in ipairs(fields) do
      local own = f.design
      if own == nil then own = design end
      local inner = f.fields or f.item and f.item.fields
      if inner then look(name .. "." .. f.name, inner, own)
      elseif own then list[#list + 1] = name .. "." .. f.name end
    end
  end
  for _, def in ipairs(schema.all()) do
    if not def.partial then look(def.name, schema.all_fields(def), def.design) end
  end
  table.sort(list)
  return list
end

local designs, turned = {}, {}
for _, name in ipairs(flips.designs()) do designs[name] = true end

-- What is wrong with the value at which a rule turns; nil if nothing is.
local function fault_of(def, subject, f)
  local function bad(why) return def.id .. " of " .. tostring(subject) .. " turns at " .. f.path .. ": " .. why end
  if not designs[name_of(f.path)] then return bad "no designer changes that" end
  local field, _, now = record.field_at(f.path), record.input(f.path)
  if field.choices then
    for _, choice in ipairs(field.choices) do if f.value == choice then return nil end end
    return bad(tostring(f.value) .. " is not in its list")
  end
  if field.type == "count" and math.type(f.value) ~= "integer" then return bad "it is a count" end
end

local function turn_all(faults)
  for _, def in ipairs(rule.all()) do
    for _, s in ipairs(def.flips and judge.subjects(def) or {}) do
      local outcome = judge.try(def, s)
      local f = (outcome == "holds" or outcome == "broken") and whatif.flip(def, s)
      if f then
        turned[def.id] = true
        faults[#faults + 1] = fault_of(def, s, f)
      end
    end
  end
end

function flips.turn(script, changes)
  local faults = {}
  for i = 0, #changes do
    boot.declare { script = script, plan = { changes[i] } }
    turn_all(faults)
  end
  return faults
end

function flips.silent()
  local list = {}
  for _, def in ipairs(rule.all()) do
    if def.flips and not turned[def.id] then list[#list + 1] = def.id end
  end
  return list
end

return flips
