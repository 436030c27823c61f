-- SPDX-License-Identifier: MIT
-- What no rule judges: at permit somebody must answer for it, by a paper that was made for the job.
local rule = import "model.rule"
local record = import "model.record"
local not_judged = import "job.not_judged"

-- "rails, rafters by engineer Ione Castellan; labels by electrician Cyrus Vane"; covered: { subject, paper } ...
local function by_whom(covered)
  local parts, by = {}, {}
  for _, c in ipairs(covered) do
    if not by[c.paper] then
      by[c.paper] = {}
      parts[#parts + 1] = c.paper
    end
    table.insert(by[c.paper], c.subject[1])
  end
  for i, paper in ipairs(parts) do
    local of = record.inside[paper]
    parts[i] = table.concat(by[paper], ", ") .. " by " .. of.def.name .. " " .. of.name
  end
  return table.concat(parts, "; ")
end

rule.add { id = "R74", severity = "stop", says = "a paper covers what no rule judges",
  cite = "common practice, no source", caution = "what nobody has worked out may bend, fall, burn or shock",
  applies = function() return #not_judged.here() > 0 end,
  check = function()
    local list, covered = {}, {}
    for i, subject in ipairs(not_judged.here()) do
      list[i] = function()
        for _, paper in ipairs(not_judged.papers(subject)) do
          covered[#covered + 1] = { subject = subject, paper = paper }
        end
        return rule.states(true, subject[1] .. " is covered")
      end
    end
    local all = rule.every(list)
    all.words = by_whom(covered)
    return all
  end }
