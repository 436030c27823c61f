-- SPDX-License-Identifier: MIT
-- What the sheet of loads says of modules that are turned: the legs of each position.
local record = import "model.record"
local words = import "write.words"
local tilted = import "structure.tilted"
local sheet = {}

-- How long the legs of a position are, line by line.
function sheet.legs(d, position)
  local ok, legs = pcall(import("seasons.held").legs, position)
  if not ok then
    if not host.class(legs) then error(legs, 0) end
    return d:para("What holds the modules up then: " .. host.message(legs) .. ".")
  end
  local list = {}
  for i, line in ipairs(import("structure.lines").of(tilted.rack(position))) do
    local of = legs[i]
    if of then
      list[#list + 1] = words.show(of.leg) .. " on the " .. line.name .. " posts, from pin to pin, where the " ..
          "rafters bear " .. words.show(of.leg_rise) .. " above the heads and " .. words.show(host.abs(of.leg_run)) ..
          (host.si(of.leg_run) < 0 and " before" or " behind") .. " them"
    end
  end
  if #list > 0 then d:para("Legs of " .. import("model.util").list(list) .. ".") end
end

-- How far the legs of all positions of a rack are used; nil where that is not known.
function sheet.used(rack)
  local used
  for _, at in ipairs(tilted.stands(rack)) do
    if record.given(record.parent(at), "legs") then
      local ok, list = pcall(import("loads.members").checked, at, "leg")
      if not ok and not host.class(list) then error(list, 0) end
      local worst = ok and list[1] and list[1].worked.worst
      if worst and (not used or worst > used) then used = worst end
    end
  end
  return used
end

return sheet
