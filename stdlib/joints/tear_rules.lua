-- SPDX-License-Identifier: MIT
-- Whether the wood around bolts and lag screws stays whole.
local rule = import "model.rule"
local record = import "model.record"
local on = import "joints.on"
local fastener = import "joints.fastener"

local given = record.given

local function named(rack, words)
  return (#record.all "rack" > 1 and "rack " .. rack.name .. ": " or "") .. words
end

-- A paper that covers the joints of this rack answers for what is not worked out here.
local function by_paper(rack, why)
  local paper, refused = import("job.not_judged").covering("joints", rack)
  if not paper then error(refused or why, 0) end
  return rule.states(true, named(rack, "covered by " .. import("model.given").title(paper) ..
      "; not worked out here: " .. host.message(why)))
end

local function on_rack(joint, rack)
  return import("structure.tilted").worst(rack, function(stands)
    local ok, at = pcall(import("joints.tearing").of, joint, stands)
    if not ok then
      if not import("joints.members").is_uncovered(at) then error(at, 0) end
      return by_paper(rack, at)
    end
    if at.fails then return rule.states(false, named(rack, at.fails)) end
    local f = rule.at_most(at.used, rule.bound(1, "what the wood holds"))
    f.words = named(rack, at.words)
    return f
  end)
end

rule.add { id = "R104", severity = "stop", each = "joint", may_waive = "engineer",
  says = "wood is not torn out along its grain around bolts and lag screws, nor split where they press across it",
  cite = "{row_tear}; {group_tear}; {wood_connection}; statics",
  caution = "the bolts hold, and the wood splits off with them",
  applies = function(joint)
    if #on.racks(joint) == 0 then return false, "there is no rack" end
    if not given(joint, "fastener") then return false, "of what holds these feet its maker's paper tells" end
    if fastener.is_thin(joint) then
      return false, "of wood screws the standard says only that they are not to split the wood"
    end
    if joint.of == "rail splices" and not on.is_in_pieces(joint) then return false, "its rails are in one piece" end
    return true
  end,
  nearest = function(joint, _, passes) return import("joints.tear_tries")(joint, passes) end,
  check = function(joint)
    local list = {}
    for i, rack in ipairs(on.racks(joint)) do list[i] = function() return on_rack(joint, rack) end end
    return #list == 1 and list[1]() or rule.every(list)
  end }
