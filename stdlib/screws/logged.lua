-- SPDX-License-Identifier: MIT
-- R36: what is written down of a post's screw.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local logs = import "screws.logs"
local at_least, states, every, bound = rule.at_least, rule.states, rule.every, rule.bound
local given = record.given

local function missing(path, who, tool, text)
  host.raise { code = "D010", class = "missing", path = path, who = who, tool = tool, text = text }
end

local function shown(v) return host.format(v, record.root.units == "SI" and "mm" or "in") end

-- A log, or nothing but one that is dated after the day judged.
local function log_of(post)
  local log, later = logs.of(post)
  if log then return log end
  local name = feet.title(feet.footing(post)) .. " at " .. tostring(post)
  if later then
    missing(tostring(later) .. ".on", "foreman", "a torque gauge", tostring(later) .. " is of " .. later.on ..
        ", after the day judged, " .. given(record.root, "on"))
  end
  missing(tostring(post), "foreman", "a torque gauge", "no screw_log says how " .. name .. " was driven")
end

-- By torque where there is a target, else by pulls.
local function strength(post, log)
  local f = feet.footing(post)
  local target = given(f, "torque")
  if target then
    if not given(log, "torque") then
      missing(tostring(log) .. ".torque", "foreman", "a torque gauge", "with which torque the screw of " ..
          tostring(post) .. " was driven is not logged")
    end
    local finding = at_least(log.torque, bound(target, "target of " .. feet.title(f)))
    finding.words = "by " .. log.by .. ", " .. log.on
    return finding
  end
  local pulls = #logs.pulls(f)
  if pulls > 0 then
    return states(true, "screws of it are pulled: " .. pulls .. (pulls == 1 and " test" or " tests"))
  end
  if given(log, "torque") then return states(true, "driven with " .. host.format(log.torque)) end
  missing(tostring(f) .. ".torque", "engineer", "a torque to drive to, or a pull test",
      "neither a torque nor a pull test of " .. feet.title(f) .. " is recorded")
end

return function(post)
  local log = log_of(post)
  local list = { function() return strength(post, log) end }
  local refused = given(log, "refused")
  if refused then
    local plan = given(log, "plan")
    list[2] = states(plan ~= nil, "refused at " .. shown(refused) .. ", " .. (plan or "and no plan says what is done"))
  end
  return every(list)
end
