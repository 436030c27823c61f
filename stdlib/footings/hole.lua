-- SPDX-License-Identifier: MIT
-- A hole with concrete around the post: what it answers (footings.kinds).
local rule = import "model.rule"
local feet = import "structure.feet"
local at_least, bound = rule.at_least, rule.bound
local hole = {}

function hole.frost(p, job)
  local f = feet.footing(p)
  return at_least(f.hole_depth - f.gravel, bound(job.site.frost, "frost depth"))
end

local iterated = "unconstrained post formula, iterated"
local not_doubled = iterated .. "; the declared soil value is not doubled, no report says that it may be"

function hole.side(p)
  local f = feet.footing(p)
  local single = f.isolated_posts and not f.bearing_doubled
  local finding = at_least(p.embedment, bound(p.embedment_needed, single and not_doubled or iterated))
  finding.words = import("loads.cases").governing(p, "push", "loads.side")
  return finding
end

function hole.uplift(p) return p.weight_holds end

return hole
