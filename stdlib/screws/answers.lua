-- SPDX-License-Identifier: MIT
-- What ground screws and driven posts answer alike (footings.kinds).
local rule = import "model.rule"
local feet = import "structure.feet"
local at_most, every, bound = rule.at_most, rule.every, rule.bound
local answers = {}

local function worded(finding, words)
  finding.words = words
  return finding
end

-- A load across it, and the moment that comes with it, each against what was tested.
local function held(p, push_of, moment_of)
  local f = feet.footing(p)
  local said = "what it is allowed to take"
  return every {
    function()
      local limit = bound(f.sideways, said, f.sideways_by)                        -- missed, whatever the load is
      return worded(at_most(push_of(), limit), "pushed sideways")
    end,
    function()
      local moment = moment_of()
      if host.si(moment) == 0 then return nil end
      local limit, cite = f.sideways, f.sideways_by
      if not import("model.record").given(f, "sideways_at") then
        host.raise { code = "D010", class = "missing", path = tostring(f) .. ".sideways_at", who = "engineer",
            tool = "a test, or the maker's table", text = "what moment " .. feet.title(f) ..
            " takes at the ground is not known: at which height " .. cite .. " has its " .. host.format(limit) ..
            " is not said" }
      end
      return worded(at_most(moment, bound(f.sideways_moment, said, cite)), "moment at the ground")
    end }
end

function answers.side(p)
  return held(p, function() return p.lateral end, function() return p.ground_moment end)
end
function answers.along(p, _, at)
  return held(p, function() return at.push end, function() return at.moment end)
end

-- It holds as much in push as in pull.
function answers.down(p) return at_most(p.pressed, bound(p.anchor_holds, "what it holds along itself")) end

function answers.uplift(p) return p.frame_holds + p.anchor_holds end

return answers
