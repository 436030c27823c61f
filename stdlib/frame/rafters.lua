-- SPDX-License-Identifier: MIT
-- Rafters with places or a length of their own.
local record = import "model.record"
local words = import "write.words"
local given = record.given
local rafters = {}

function rafters.refuse(rack, refuse)
  local own = rack.rafters
  local function need(name) return given(rack, name) ~= nil end
  if need "stack" then
    refuse({ "rafters" }, "the stack is given whole, and its rafters besides", "leave one of them out")
  end
  local count, length = given(own, "count"), given(own, "length")
  if count and not need "beam" then
    refuse({ "rafters", "count" }, "the rafters would lie between the posts, and no beam carries them there",
        'write beam = "4x8", or leave count and spacing out')
  end
  local row = rack.row_width
  if count and (count - 1) * own.spacing > row then
    local is, wide = words.apart((count - 1) * own.spacing, row)
    refuse({ "rafters", "spacing" }, "the rafters would lie " .. is .. " apart from end to end, wider than the " ..
        "modules' " .. wide, "fewer of them, or less between them")
  end
  local at, slope = rack.post_lines, rack.slope_length
  local back = given(at, "back")
  if not length or not back then return end
  -- Centred on the slope it reaches so far to both sides of its middle.
  local front_off, back_off = 0.5 - at.front, back - 0.5
  local wanted = 2 * (front_off > back_off and front_off or back_off) * slope
  if length < wanted and not host.near(host.si(length), host.si(wanted)) then
    local is, least = words.apart(length, wanted)
    refuse({ "rafters", "length" }, "a rafter of " .. is .. ", centred on the slope, does not reach both lines of " ..
        "posts: that takes " .. least, "a longer one")
  end
end

return rafters
