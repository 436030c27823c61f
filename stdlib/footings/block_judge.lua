-- SPDX-License-Identifier: MIT
-- Each block of a rack against what lifts, pushes and turns it.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local blocks = import "footings.blocks"
local at_least = rule.at_least
local judge = {}

local function of_block(list, p, at, grip)
  local function put(what, held, demand, number, more)
    list[#list + 1] = function()
      local stands = blocks.stability(p, at)
      local finding = at_least(stands[held], stands[demand])
      finding.words = "block of " .. blocks.name(p) .. ", " .. what .. ": " .. blocks.case(p, at, stands[number]) ..
          (more and more(stands) or "")
      return finding
    end
  end
  put("lifted", "lift_held", "lift", "lift_case")
  put("pushed", "slide_held", "slide", "slide_case", function() return "; " .. grip() end)
  put("turned over", "turn_held", "turn", "turn_case", function(stands)
    return "; about its " .. (stands.over_back and "back" or "front") .. " edge"
  end)
end

-- No figure that is kept here is of a block on the ground: that of the solid sign is of a thin wall across the wind.
function judge.faces(footing)
  local show = import("write.words").show
  return "the wind on the faces of a block itself, " .. show(footing.block_width * footing.block_height) ..
      " seen from the front and " .. show(footing.block_length * footing.block_height) .. " along the row, is not " ..
      "counted: no coefficient of a block on the ground is kept here; a margin that is less than that wind is none"
end

function judge.judge(r, job)
  local list = {}
  for p in record.each(r.post) do
    if blocks.told_at(p) then
      local function grip() return (select(2, blocks.grip(feet.footing(p), job))) end
      for _, at in ipairs(blocks.stands(p)) do of_block(list, p, at, grip) end
    end
  end
  return rule.every(list)
end

return judge
