-- SPDX-License-Identifier: MIT
-- A ground screw: what it answers (footings.kinds).
local rule = import "model.rule"
local answers = import "screws.answers"
local at_least, bound = rule.at_least, rule.bound
local screw = { side = answers.side, along = answers.along, down = answers.down, uplift = answers.uplift,
    counted = answers.counted,
    flips = { R30 = "helix_depth", R34 = "torque" } }

function screw.frost(p, job)
  local finding = at_least(p.helix_below, bound(job.site.frost, "frost depth"))
  finding.words = "top helix below the ground"
  return finding
end

return screw
