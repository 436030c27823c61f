-- SPDX-License-Identifier: MIT
-- Whether blocks that stand on the ground stay where they are.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"

local function first_block(r) return feet.blocks_of(r)[1] end

-- What makes a block heavier: its mass where that is given, else its height.
local function weighs(footing)
  return tostring(footing) .. (footing and record.given(footing, "block_mass") and ".block_mass" or ".block_height")
end

rule.add { id = "R35", severity = "stop", each = "rack", may_waive = "engineer",
  says = "weight and friction hold each block of a rack: it is not lifted, pushed away or turned over",
  cite = "{combination_uplift}; {soil_values}; of the blocks' own faces {wind_sign}; statics",
  caution = "the array slides or turns over; in frost blocks rise and sink with the ground",
  applies = function(r) return first_block(r) ~= nil, "none of its posts stands on a block" end,
  flips = function(r) return weighs(first_block(r)) end,
  nearest = function(...) return import("footings.block_search").nearest(...) end,
  tells = function(r) return import("footings.block_judge").tells(r) end,
  check = function(r, job) return import("footings.block_judge").judge(r, job) end }
