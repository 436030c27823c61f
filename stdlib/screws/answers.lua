-- SPDX-License-Identifier: MIT
-- What ground screws and driven posts answer alike (footings.kinds).
local rule = import "model.rule"
local graph = import "model.graph"
local feet = import "structure.feet"
local at_most, every, bound = rule.at_most, rule.every, rule.bound
local answers = {}

local function worded(finding, words)
  finding.words = words
  return finding
end

local function given(f, name) return import("model.record").given(f, name) end

-- The load across it against what its maker's table allows as high above the ground as it acts, or higher.
local function by_table(p, push, height)
  local tables, show = import "screws.tables", import("write.words").show
  local row = tables.sideways(p, height)
  return worded(at_most(push, bound(row.sideways, "what it may take " .. show(row.load_at) ..
      " above the ground", tables.cite(row))), "pushed sideways, " .. show(height) ..
      " above the ground")
end

-- What was tested holds of what stands as deep, or deeper; what it does not take there it takes nowhere above.
local function tested(p, finding)
  if finding.ok then import("screws.pushed").ask(p) end
  return finding
end

-- A load across it, and the moment that comes with it, each against what was tested.
local function held(p, push_of, moment_of)
  local f = feet.footing(p)
  local said = "what it is allowed to take"
  return every {
    function()
      local limit = bound(f.sideways, said, f.sideways_by)                        -- missed, whatever the load is
      return tested(p, worded(at_most(push_of(), limit), "pushed sideways"))
    end,
    function()
      local moment = moment_of()
      if host.si(moment) == 0 then return nil end
      local limit, cite = f.sideways, f.sideways_by
      if not given(f, "sideways_at") then
        host.raise { code = "D010", class = "missing", path = tostring(f) .. ".sideways_at", who = "engineer",
            tool = "a test, or the maker's table", text = "what moment " .. feet.title(f) ..
            " takes at the ground is not known: at which height " .. cite .. " has its " .. host.format(limit) ..
            " is not said" }
      end
      return tested(p, worded(at_most(moment, bound(f.sideways_moment, said, cite)), "moment at the ground"))
    end }
end

function answers.side(p)
  local f = feet.footing(p)
  if not given(f, "sideways") and given(f, "model") then return by_table(p, p.lateral, p.load_height) end
  return held(p, function() return p.lateral end, function() return p.ground_moment end)
end
function answers.along(p, _, at)
  local f = feet.footing(p)
  if not given(f, "sideways") and given(f, "model") then
    if not (host.si(at.push) > 0) then return nil end
    return by_table(p, at.push, at.moment / at.push)
  end
  return held(p, function() return at.push end, function() return at.moment end)
end

-- By torque or by pulls it bears as much pressed as pulled.  pressed: by that, where it is more than what presses the
-- post.
function answers.down(p, _, pressed)
  local said = "what it holds along itself"
  if not given(feet.footing(p), "model") or not import("screws.tables").along(p) then
    return at_most(pressed or p.pressed, bound(p.anchor_bears, said))
  end
  local cite = import("screws.tables").cite(import("screws.tables").push(p))
  return at_most(pressed or p.pressed, bound(p.anchor_bears, said, cite))
end

-- What of it is by its maker's table, in words.
function answers.counted(p)
  if not given(feet.footing(p), "model") or graph.paper(p, "holds.up") then return nil end
  local tables = import "screws.tables"
  return tables.along(p) and "by the " .. tables.cite(tables.pull(p)) or nil
end

function answers.uplift(p) return p.frame_holds + p.anchor_holds end

return answers
