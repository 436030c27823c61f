-- SPDX-License-Identifier: MIT
-- What a paper gives, at its own level, as the result wants it. The factor between the levels is that of the load
-- combination.
local of_paper = {}

local function misfit(text) host.raise { code = "G005", class = "range", text = text } end

function of_paper.uplift(p, job, up, paper)
  if paper.level == "allowable" then return up / calc.allowable_wind { wind = up, edition = job.codes.loads }.factor end
  if not paper.dead_taken_off then return up end
  misfit(tostring(p) .. ": " .. tostring(paper) .. " gives the uplift at strength level with the frame's weight " ..
      "taken off; how much of it was wind cannot be told, so it is not brought to allowable level")
end

function of_paper.side(level)
  return function(p, _, side, paper)
    if paper.level == level then return side end
    if level == "strength" then
      misfit(tostring(p) .. ": " .. tostring(paper) .. " gives the side force at allowable level only")
    end
  end
end

-- Forces that are of several loads, or a strength, have no one factor between the levels.
function of_paper.allowable(what)
  return function(p, _, force, paper)
    if paper.level == "allowable" then return force end
    misfit(tostring(p) .. ": " .. tostring(paper) .. " gives " .. what .. " at strength level; it is wanted at " ..
        "allowable level, and no one factor leads there")
  end
end

return of_paper
