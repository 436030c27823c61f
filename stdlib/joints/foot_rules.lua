-- SPDX-License-Identifier: MIT
-- Whether posts are tied to what they stand on.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local tilted = import "structure.tilted"

-- Screws of a kit are joined to its legs as its maker has it; blocks are in no kit.
local function asked(r)
  if #feet.blocks_of(r) > 0 then return true end
  if #feet.screws_of(r) == 0 then return false, "its posts stand in the ground themselves" end
  return not record.given(r, "stack"), "it is a kit, whose maker joins its legs to their screws"
end

-- A paper that covers the joints of this rack answers for what nobody declared, or is not worked out here (why).
local function by_paper(r, why)
  local paper, refused = import("job.not_judged").covering("joints", r)
  if paper then
    return rule.states(true, "covered by " .. import("model.given").title(paper) ..
        (why and "; not worked out here: " .. host.message(why) or ""))
  end
  if refused or why then error(refused or why, 0) end
  import("joints.foot").undeclared(r)
end

rule.add { id = "R100", severity = "stop", each = "rack", may_waive = "engineer",
  says = "posts are tied to the blocks or screws on which they stand, by strengths that a paper gives",
  cite = "declared strengths; what comes at once as their sum, no source",
  caution = "the rack lifts off blocks that stay where they are", applies = asked,
  nearest = function() return "a stronger base or anchor, more braces, or posts nearer to each other" end,
  check = function(r)
    local joint = import("joints.on").joint(r, "posts on footings")
    if not joint then return by_paper(r) end
    return tilted.worst(r, function(stands)
      local ok, at = pcall(import("joints.judged").of, joint, stands)
      if not ok then
        if not import("joints.members").is_uncovered(at) then error(at, 0) end
        return by_paper(r, at)
      end
      if at.fails then return rule.states(false, at.fails) end
      local f = rule.at_most(at.used, rule.bound(1, "what holds it"))
      f.words = at.words
      return at.open and rule.every { f, function() error(at.open, 0) end } or f
    end)
  end }
