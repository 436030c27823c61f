-- SPDX-License-Identifier: MIT
-- What no rule judges: at permit somebody must answer for it, by a paper that was made for the job.
local rule = import "model.rule"
local record = import "model.record"
local compare = import "model.compare"
local not_judged = import "job.not_judged"

-- "rails, rafters by engineer Ione Castellan; labels by electrician Cyrus Vane"; covered: { subject, paper } ...
local function by_whom(covered)
  local parts, by = {}, {}
  for i = 1, #covered do
    local c = covered[i]
    local words = by[c.paper]
    if not words then
      words = {}
      by[c.paper], parts[#parts + 1] = words, c.paper
    end
    words[#words + 1] = c.subject[1]
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
    local covered, unknowns, here = {}, nil, not_judged.here()
    for i = 1, #here do
      local papers, why = not_judged.papers(here[i])
      for k = 1, papers and #papers or 0 do covered[#covered + 1] = { subject = here[i], paper = papers[k] } end
      if why then unknowns = compare.add_reason(unknowns, why) end
    end
    local all = rule.states(true, by_whom(covered))
    all.unknowns = unknowns
    return all
  end }
