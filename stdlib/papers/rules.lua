-- SPDX-License-Identifier: MIT
-- What no rule judges: at permit somebody must answer for it, by a paper that was made for the job.
local rule = import "model.rule"
local not_judged = import "job.not_judged"

-- "rails, rafters by engineer Ione Castellan; labels by electrician Cyrus Vane"
local function by_whom(record)
  local parts, by = {}, {}
  for _, c in ipairs(not_judged.covered()) do
    local words = by[c.paper]
    if not words then
      words = { paper = record.inside[c.paper] }
      by[c.paper], parts[#parts + 1] = words, words
    end
    words[#words + 1] = c.subject[1]
  end
  for i, words in ipairs(parts) do
    parts[i] = table.concat(words, ", ") .. " by " .. words.paper.def.name .. " " .. words.paper.name
  end
  return table.concat(parts, "; ")
end

rule.add { id = "R74", severity = "stop", says = "a paper covers what no rule judges",
  cite = "common practice, no source", caution = "what nobody has worked out may bend, fall, burn or shock",
  applies = function() return #not_judged.here() > 0 end,
  check = function()
    local list = {}
    for i, subject in ipairs(not_judged.here()) do
      list[i] = function() return rule.states(#not_judged.papers(subject) > 0, subject[1]) end
    end
    local all = rule.every(list)
    all.words = by_whom(import "model.record")
    return all
  end }
