-- SPDX-License-Identifier: MIT
-- Each block of a rack against what lifts, pushes and turns it.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local blocks = import "footings.blocks"
local tilted = import "structure.tilted"
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

-- Faces of which the figure of the solid sign has none so long and low, in words; nil where both count.
function judge.faces(p)
  local show, footing = import("write.words").show, feet.footing(p)
  local front, along = blocks.faced(p)
  if front and along then return nil end
  local list = {}
  if not front then list[1] = show(footing.block_width * footing.block_height) .. " seen from the front" end
  if not along then list[#list + 1] = show(footing.block_length * footing.block_height) .. " along the row" end
  return "the wind on the faces of a block itself, " .. table.concat(list, " and ") .. ", is not counted: the " ..
      "figure of walls that reach the ground has none of that shape, or a paper's loads are of another level; a " ..
      "margin that is less than that wind is none"
end

-- The same of the first block of a rack; nothing where its wind is not known.
function judge.tells(r)
  for p in record.each(r.post) do
    if blocks.told_at(p) then
      local ok, words = pcall(judge.faces, p)
      if ok then return words end
      if not host.class(words) then error(words, 0) end
      return nil
    end
  end
end

function judge.judge(r, job)
  local list = {}
  for p in record.each(r.post) do
    if blocks.told_at(p) then
      local function grip() return (select(2, blocks.grip(feet.footing(p), job))) end
      if tilted.of_post(p) then
        list[#list + 1] = function()
          return tilted.asked(function(post)
            local own = {}
            for _, at in ipairs(blocks.stands(post)) do of_block(own, post, at, grip) end
            return rule.every(own)
          end)(p, job)
        end
      else of_block(list, p, r, grip) end
    end
  end
  return rule.every(list)
end

return judge
