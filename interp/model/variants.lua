-- SPDX-License-Identifier: MIT
-- A job judged with other inputs: the one engine behind margins, tolerances, suggestions and whatever else asks
-- "what if".  changes = { [path of an input in full] = value }, values as a declaration would have checked them.
local record = import "model.record"
local judge = import "model.judge"
local anew = import "model.anew"
local variants = {}

-- Calls f with these inputs put in; everything that rests on them is worked out afresh meanwhile.
function variants.with(changes, f, ...) return record.what_if(changes, f, ...) end

local function judged(changes, rules)
  anew.refuse(changes)
  return judge.all(rules)
end

-- The outcomes of the job as changed, as judge.all gives them for these rules (nil: all that are loaded); nil, and the
-- error, where the job as changed is refused.
function variants.judge(changes, rules)
  for path in next, changes do if anew.shapes(path) then return anew.judge(changes, rules) end end
  local ok, outcomes = pcall(record.what_if, changes, judged, changes, rules)
  if ok then return outcomes end
  if type(outcomes) ~= "table" then error(outcomes, 0) end
  return nil, outcomes
end

-- What an outcome is called: the same in each variant.
function variants.key(o) return o.rule.id .. " " .. tostring(o.subject) end

return variants
