-- SPDX-License-Identifier: MIT
-- Whether the wood around bolts and lag screws stays whole.
local rule = import "model.rule"
local record = import "model.record"
local answers = import "joints.answers"
local on = import "joints.on"
local fastener = import "joints.fastener"

local given = record.given

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
    return answers.of_racks(joint, function(_, rack, stands)
      return answers.used(rack, import("joints.tearing").of(joint, stands), "what the wood holds")
    end)
  end }
