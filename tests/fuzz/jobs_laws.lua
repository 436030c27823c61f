-- SPDX-License-Identifier: MIT
-- What holds of the JSON of a judged job: the verdict counts what the rows say, and its exit is the one that came.
-- Called with (text, status, whether it has the rules that hold, too); raises what does not hold.
package.path = "tests/?.lua"
local json = require "json"

local function set(list)
  local out = {}
  for _, x in ipairs(list) do out[x] = true end
  return out
end

local function law(holds, ...) if not holds then error(table.concat { ... }, 0) end end

local RANK = { ["not applicable"] = 0, holds = 1, waived = 2, unknown = 3, broken = 4 }

-- The worst outcome of each rule's subjects, those without one left out: { id, outcome, note } ...
local function worst(rows)
  local by, list = {}, {}
  for _, r in ipairs(rows) do
    local outcome = r.waiver and r.outcome ~= "holds" and "waived" or r.outcome
    law(RANK[outcome], r.id, " is ", tostring(outcome))
    local rule = by[r.id]
    if not rule then
      rule = { id = r.id, outcome = outcome, note = r.severity == "note" }
      by[r.id], list[#list + 1] = rule, rule
    elseif RANK[outcome] > RANK[rule.outcome] then rule.outcome = outcome
    end
  end
  return list
end

return function(text, status, whole)
  local d = json.read(text)
  local v = d.verdict
  law(v.exit == status, "the verdict says exit ", tostring(v.exit), ", and ", tostring(status), " came")
  law(v.ready == (status == 0), "ready is ", tostring(v.ready), " with exit ", tostring(status))
  law(status ~= 0 or #v.broken == 0 and #v.withheld == 0, "exit 0, and something is broken or withheld")
  law(status ~= 0 or #v.unknown == 0 or d.job.stage == "quote", "exit 0, and something is unknown")
  local said = { broken = set(v.broken), unknown = set(v.unknown), waived = set(v.waived) }
  local held = 0
  for _, rule in ipairs(worst(d.rules)) do
    if rule.outcome == "holds" then held = held + 1 end
    for outcome, ids in pairs(said) do
      law(rule.note and outcome ~= "waived" or (rule.outcome == outcome) == (ids[rule.id] or false),
          rule.id, " is ", rule.outcome, " by its rows, and the verdict knows otherwise of ", outcome)
    end
  end
  local hold = v.hold.against_limit + v.hold.as_stated + v.hold.by_construction
  law(not whole or hold == held, "the verdict says that ", hold, " rules hold, and of ", held, " all rows do")
end
