-- SPDX-License-Identifier: MIT
-- The torque of each joint, and the paper that it stands in.
local record = import "model.record"
local rule = import "model.rule"
local on = import "joints.on"
local torque = {}

local given = record.given

local function missing(path, text)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = "maker of the fastener",
      tool = "its paper" }
end

-- Feet of which a maker's paper tells all are put up as that has it.
function torque.asked(joint) return given(joint, "fastener") ~= nil or given(joint, "torque") ~= nil end

-- What a joint's is; raises what is missing of it.
function torque.of(joint)
  local value = given(joint, "torque")
  if not value then
    missing(tostring(joint) .. ".torque", "with which torque " ..
        import("write.words").title(joint) .. " is tightened is not given")
  end
  if not given(joint, "torque_paper") then
    missing(tostring(joint) .. ".torque_paper", "in which paper of its maker the torque of " ..
        import("write.words").title(joint) .. " stands is not said")
  end
  return value
end

-- What a rack has that wants a joint and has none; kits are tightened as their maker's manual has it.
local function undeclared(rack)
  local list = {}
  for _, w in ipairs(on.wanted(rack)) do if not w.joint then list[#list + 1] = w.what end end
  return list
end

-- Joints that nobody declared: a paper that covers them says how they are made, its torques too.
local function by_paper(rack, without)
  local what = import("model.util").list(without) .. " of " .. tostring(rack)
  local paper, refused = import("job.not_judged").covering("joints", rack)
  if paper then
    return rule.states(true, what .. ": as " .. import("model.given").title(paper) .. " has them, torques too: the " ..
        "sheet torque does not have them")
  end
  if refused then error(refused, 0) end
  missing("joint", "how " .. what .. " are fastened, and with which torque, is not declared, and no paper covers " ..
      "the joints")
end

-- What R66 judges: each joint, and from stage "build" on each that nobody declared.
function torque.all()
  local list, count = {}, 0
  for _, joint in ipairs(record.all "joint") do
    if torque.asked(joint) then
      count = count + 1
      list[#list + 1] = function()
        torque.of(joint)
        return nil
      end
    end
  end
  for _, rack in ipairs(rule.reached "build" and record.all "rack" or {}) do
    local without = undeclared(rack)
    if #without > 0 then list[#list + 1] = function() return by_paper(rack, without) end end
  end
  if count > 0 or #list == 0 then
    table.insert(list, 1, rule.states(true, count .. (count == 1 and " joint has its" or " joints have their") ..
        " torque, by its maker's paper; the sheet torque has both rounds"))
  end
  return rule.every(list)
end

return torque
