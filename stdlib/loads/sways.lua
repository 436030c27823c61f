-- SPDX-License-Identifier: MIT
-- Whether a rack stands whatever its feet do: braces, or heads that hold the rafters, keep each station upright across
-- the row, and braces each line along it.  Then what leaning adds is no more than with feet that nothing keeps from
-- turning, and the frames have it (side_frames, row_frame); where only its feet keep it upright, how far these turn
-- is all, and nobody says that of blocks, nor of screws and driven posts without a test.
local graph = import "model.graph"
local tilted = import "structure.tilted"
local sways = {}

-- Nil where the frames, which are known, give none.
local function if_given(frames)
  local ok, value = pcall(function() return frames.sways end)
  if ok then return value end
  if type(value) ~= "table" or value.code ~= "C007" then error(value, 0) end
end

-- The most of a rack as it stands; nil where it has none in one position.
local function most(rack, name)
  local found
  for _, at in ipairs(tilted.stands(rack)) do
    local value = if_given(at[name])
    if not value then return nil end
    if not found or value > found then found = value end
  end
  return found
end

function sways.across(rack) return most(rack, "frames") end
function sways.along(rack) return most(rack, "row_frame") end

-- Whether it is known of one position that it has none.
local function lacks(rack, name)
  for _, at in ipairs(tilted.stands(rack)) do
    local frames = graph.try(at, name)
    if frames and not if_given(frames) then return true end
  end
  return false
end

-- For `none` of results; where the frames are not known, that is told.
function sways.not_across(rack)
  if lacks(rack, "frames") then return "nothing but its feet keeps a station of it upright" end
end
function sways.not_along(rack)
  if lacks(rack, "row_frame") then return "nothing but its feet keeps a line of its posts upright along the row" end
end

-- Whether both are known, and stand.
function sways.stands(rack)
  return graph.try(rack, "sways") ~= nil and graph.try(rack, "row_sways") ~= nil
end

return sways
