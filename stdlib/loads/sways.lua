-- SPDX-License-Identifier: MIT
-- Whether a rack stands whatever its feet do: braces, or heads that hold the rafters, keep each station upright across
-- the row, and braces each line along it.  Then what leaning adds is no more than with feet that nothing keeps from
-- turning, and the frames have it (side_frames, row_frame); where only its feet keep it upright, how far these turn
-- is all, and nobody says that of blocks, nor of screws and driven posts without a test.
local graph = import "model.graph"
local sways = {}

-- What a primitive may give or not.
local function if_given(f)
  local ok, value = pcall(f)
  if ok then return value end
  if type(value) ~= "table" or value.code ~= "C007" then error(value, 0) end
end

local function uncovered(rack, what)
  host.raise { code = "C005", class = "range", text = "nothing but its feet keeps a " .. what .. " of " ..
      tostring(rack) .. " upright" }
end

function sways.across(rack)
  return if_given(function() return rack.frames.sways end) or uncovered(rack, "station")
end
function sways.along(rack)
  return if_given(function() return rack.row_frame.sways end) or uncovered(rack, "line of posts along the row")
end

-- Whether both are known, and stand.
function sways.stands(rack)
  return graph.try(rack, "sways") ~= nil and graph.try(rack, "row_sways") ~= nil
end

return sways
