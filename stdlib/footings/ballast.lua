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
  local job, list = import("model.record").root, {}
  local function bears(at)
    local of = blocks.bearing(first, at)
    local finding = rule.at_most(of.pressure, rule.bound(import("structure.soil").vertical(job)))
    finding.words = "below the edge of the block of " .. blocks.name(first) .. (of.combination ~= "as given" and
        ", by " .. of.combination or "") .. import("structure.tilted").behind(at) ..
        "; how far it settles is not judged"
    return finding
  end
  local stands = blocks.stands(first)
  if not stands[2] then return bears(stands[1]) end
  for i, at in ipairs(stands) do list[i] = function() return bears(at) end end
  return rule.every(list)
end

return ballast
