-- SPDX-License-Identifier: MIT
-- A block that stands on the ground: what it answers (footings.kinds).  How deep it stands and what pushes a post in
-- the ground is no question of it: R35 judges whether it stays.
local rule = import "model.rule"
local feet = import "structure.feet"
local ballast = {}

ballast.unasked = {
  R30 = "it stands on a block on the ground, which rises and sinks with it in frost",
  R31 = "it stands on a block on the ground: R35 judges whether that slides or turns over",
  R34 = "it stands on a block on the ground: R35 judges whether that is lifted",
}

function ballast.frost(p) feet.only_holes(p, "whether it is deep enough for frost") end
function ballast.along(p, job, at) return import("footings.blocks").along(p, job, at) end
function ballast.side(p) feet.only_holes(p, "the embedment needed") end

function ballast.uplift(p)
  if feet.footing(p).carries == "post" then return p.block_lift_held end
  feet.only_holes(p, "what holds one post of a station down, which stands on one block with others,")
end

-- Told at the first post that stands on the block.
function ballast.down(p)
  local blocks = import "footings.blocks"
  local first = blocks.posts(p)[1]
  local bears = first.block_bears
  local job = import("model.record").root
  local finding = rule.at_most(bears.pressure, rule.bound(import("structure.soil").vertical(job)))
  finding.words = "below the edge of the block of " .. blocks.name(first) .. (bears.combination ~= "as given" and
      ", by " .. bears.combination or "") .. "; how far it settles is not judged"
  return finding
end

return ballast
