-- SPDX-License-Identifier: MIT
-- Every kind of footing answers the same questions about a post, so that rules and sheets ask once:
--
--   frost(post, job)    a finding: whether it reaches below frost
--   side(post, job)     a finding: whether it holds what pushes the post sideways at the ground
--   along(post, job, at)  a finding: the same of what pushes it along its row, at = { push, push_moment, moment,
--                       moment_push, lifts }, allowable
--   down(post, job, pressed)  a finding: whether the ground bears what presses, or so much, where that is more; blocks
--                       answer for that in `along`
--   uplift(post, job)   a force at allowable level: what holds the post down, the frame's weight included
--   no_room(post)       a finding where the post does not go into it at all; nil else.  A kind need not have it
--   counted(post, job)  what of that is counted, in words, where somebody may take it for more; nil else.  A kind need
--                       not have it
--
-- What a kind cannot say it refuses by name.  unasked[rule]: why a rule is not asked of a kind.  flips[rule]: the field
-- of the footing that turns it.
local feet = import "structure.feet"
local kinds = {}

local files = { hole = "footings.hole", screw = "footings.screw", ballast = "footings.ballast",
    driven = "footings.driven" }

function kinds.of(post) return import(files[feet.kind(feet.footing(post))]) end

-- For `applies` of a rule on posts.
function kinds.asked(id)
  return function(post)
    local unasked = kinds.of(post).unasked
    local why = unasked and unasked[id]
    return not why, why
  end
end

-- A finding where a post does not go into its footing at all; nil else.
function kinds.no_room(post)
  local asks = kinds.of(post).no_room
  return asks and asks(post)
end

-- For `flips` of a rule on posts; otherwise: what gives the path for kinds that do not say.
function kinds.flips(id, otherwise)
  return function(post)
    local flips = kinds.of(post).flips
    local field = flips and flips[id]
    return field and tostring(feet.footing(post)) .. "." .. field or otherwise(post)
  end
end

return kinds
