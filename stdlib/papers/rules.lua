-- SPDX-License-Identifier: MIT
-- What no rule judges: at permit somebody must answer for it, by a paper that was made for the job.
local rule = import "model.rule"
local record = import "model.record"
local compare = import "model.compare"
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
    local covered, unknowns = {}, nil
    for _, subject in ipairs(not_judged.here()) do
      local ok, papers = pcall(not_judged.papers, subject)
      if not ok and not host.class(papers) then error(papers, 0) end
      if ok then
        for _, paper in ipairs(papers) do covered[#covered + 1] = { subject = subject, paper = paper } end
      else unknowns = compare.add_reason(unknowns, papers) end
    end
    local all = rule.states(true, by_whom(covered))
    all.unknowns = unknowns
    return all
  end }
