-- SPDX-License-Identifier: MIT
-- Rules about holes that are dug already.
local rule = import "model.rule"
local record = import "model.record"
local at_least, at_most, states, every, bound = rule.at_least, rule.at_most, rule.states, rule.every, rule.bound
local as_dug = import "holes.as_dug"
local feet = import "structure.feet"
local given = record.given

local nowhere = host.quantity(0.0, "length")

-- No farther from its mark than the slots at the post's head were reckoned for, where somebody did so.
local function near_its_mark(dug, hole)
  local adjustment = given(record.parent(hole.post).posts, "adjustment")
  local east, north = given(dug, "moved_east"), given(dug, "moved_north")
  if not adjustment or not (east or north) then return nil end
  local x, y = host.abs(east or nowhere), host.abs(north or nowhere)
  local off = x > nowhere and y > nowhere and calc.diagonal { along = x, across = y }.diagonal or x > y and x or y
  return at_most(off, bound(adjustment.drift, "drift that its adjustment was reckoned for"))
end

-- As deep and as wide as its post wants it.  Deeper is no fault: gravel brings the bottom up.
local function one(list, dug, hole)
  if not hole.post then
    list[#list + 1] = states(false, "no post of the design stands at " .. hole.name)
    return
  end
  local footing = feet.footing(hole.post)
  if feet.kind(footing) ~= "hole" then
    list[#list + 1] = states(false, "no hole is wanted at " .. hole.name .. ": its post has " .. feet.named(footing))
    return
  end
  list[#list + 1] = function() return at_least(dug.depth, bound(footing.hole_depth, "the design of its footing")) end
  if given(dug, "diameter") then
    list[#list + 1] = at_least(dug.diameter, bound(footing.hole_diameter, "the design of its footing"))
  end
  list[#list + 1] = near_its_mark(dug, hole)
end

rule.add { id = "R79", severity = "caution", each = "dug", says = "the holes that are dug are those that are designed",
  cite = "common practice, no source",
  caution = "a post in a shallow hole is lifted or pushed over; an open hole that nobody wants is stepped into",
  check = function(dug, job)
    local list, today = {}, given(job, "on")
    if today and dug.on > today then                                          -- dates as texts are in their order
      host.raise { code = "D010", class = "missing", text = tostring(dug) .. " is measured on " .. dug.on ..
          ", after the day judged, " .. today, path = tostring(dug) .. ".on", who = "foreman", tool = "a tape" }
    end
    for _, hole in ipairs(as_dug.list()) do if hole.record == dug then one(list, dug, hole) end end
    return every(list)
  end }
