-- SPDX-License-Identifier: MIT
-- A post driven into the ground: what it answers (footings.kinds).
local rule = import "model.rule"
local feet = import "structure.feet"
local answers = import "screws.answers"
local at_least, bound = rule.at_least, rule.bound
local driven = { side = answers.side, along = answers.along, down = answers.down, uplift = answers.uplift,
    counted = answers.counted, flips = { R30 = "driven_depth" } }

function driven.frost(p, job)
  local finding = at_least(feet.footing(p).driven_depth, bound(job.site.frost, "frost depth"))
  finding.words = "foot of the driven post"
  return finding
end

return driven
