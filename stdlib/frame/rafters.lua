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
  local at = rack.post_lines
  local back = given(at, "back")
  local apart = back and (back - at.front) * rack.slope_length
  if length and apart and length < apart then
    local is, wanted = words.apart(length, apart)
    refuse({ "rafters", "length" }, "a rafter of " .. is .. " does not reach from the front line to the back line, " ..
        wanted .. " up the slope", "a longer one")
  end
end

return rafters
