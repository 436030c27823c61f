-- SPDX-License-Identifier: MIT
-- How rules of joints answer, rack by rack: by what is worked out, or by a paper where nothing is.
local rule = import "model.rule"
local record = import "model.record"
local on = import "joints.on"
local members = import "joints.members"
local tilted = import "structure.tilted"
local answers = {}

function answers.named(rack, words)
  return (#record.all "rack" > 1 and "rack " .. rack.name .. ": " or "") .. words
end

-- A paper that covers the joints of this rack answers for what is not worked out here.
local function by_paper(rack, why)
  local paper, refused = import("job.not_judged").covering("joints", rack)
  if not paper then error(refused or why, 0) end
  return rule.states(true, answers.named(rack, "covered by " .. import("model.given").title(paper) ..
      "; not worked out here: " .. host.message(why)))
end

-- What f(joint, rack, as it stands) finds on each of a joint's racks, each by itself, in each position of its modules.
function answers.of_racks(joint, f)
  local list = {}
  for i, rack in ipairs(on.racks(joint)) do
    list[i] = function()
      return tilted.worst(rack, function(stands)
        local ok, found = pcall(f, joint, rack, stands)
        if ok then return found end
        if not members.is_uncovered(found) then error(found, 0) end
        return by_paper(rack, found)
      end)
    end
  end
  return #list == 1 and list[1]() or rule.every(list)
end

-- The finding of one that is used so far, or fails: { used, words } or { fails }.
function answers.used(rack, at, what)
  if at.fails then return rule.states(false, answers.named(rack, at.fails)) end
  local f = rule.at_most(at.used, rule.bound(1, what))
  f.words = answers.named(rack, at.words)
  return f
end

return answers
