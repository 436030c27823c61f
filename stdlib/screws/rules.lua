-- SPDX-License-Identifier: MIT
-- What was written down when screws were driven.
local rule = import "model.rule"
local feet = import "structure.feet"

rule.add { id = "R36", severity = "caution", each = "post",
  says = "each ground screw is logged: its torque or a pull, and what is done where one is refused",
  may_waive = "engineer", cite = "common practice, no source",
  caution = "a screw that turned easily holds little, and nobody knows which one it is",
  applies = function(p)
    if feet.kind(feet.footing(p)) ~= "screw" then return false, "it stands on no ground screw" end
    local reached, why = rule.reached "build"
    if not reached then return false, "no screw is driven before the job is built: asked " .. why end
    return true
  end,
  check = function(p) return import("screws.logged")(p) end }
