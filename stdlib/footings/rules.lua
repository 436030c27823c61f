-- SPDX-License-Identifier: MIT
-- Rules about what posts stand in.
local rule = import "model.rule"
local feet = import "structure.feet"
local kinds = import "footings.kinds"
local add, at_least, every, bound = rule.add, rule.at_least, rule.every, rule.bound

local function depth_path(post) return import("footings.search").depth_path(post) end
local function nearest_hole(...) return import("footings.search").nearest(...) end

add { id = "R30", severity = "stop", each = "post",
  says = "the concrete reaches down to frost depth, gravel not counted", may_waive = "engineer",
  cite = "{frost_depth}, frost depth by the office",
  caution = "frost lifts the post a little each winter",
  flips = kinds.flips("R30", depth_path), nearest = nearest_hole, applies = kinds.asked "R30",
  check = function(p, job) return kinds.of(p).frost(p, job) end }

add { id = "R31", severity = "stop", each = "post",
  says = "the embedment is solved for the wind, not guessed", may_waive = "engineer",
  cite = "{post_unconstrained}, S1 at a third of the depth",
  caution = "the post leans over in the design wind",
  flips = kinds.flips("R31", depth_path), nearest = nearest_hole, applies = kinds.asked "R31",
  check = function(p, job) return kinds.of(p).side(p, job) end }

add { id = "R33", severity = "note", each = "rack", says = "the hole leaves room to plumb the post and place concrete",
  cite = "common practice, no source", caution = "no room for concrete",
  flips = function(r) return tostring(feet.holes(r)[1]) .. ".hole_diameter" end,
  applies = function(r) return #feet.holes(r) > 0, "none of its posts stands in a hole" end,
  check = function(r)
    local list, width, round = {}, feet.section(r)
    local least = bound(calc.hole { post_width = width, round = round }.least, "post diagonal and room beside it")
    for i, f in ipairs(feet.holes(r)) do list[i] = at_least(f.hole_diameter, least) end
    return #list == 1 and list[1] or every(list)
  end }

add { id = "R34", severity = "stop", each = "post",
  says = "weight holds the post down in the design wind", may_waive = "engineer",
  cite = "{combination_uplift}", caution = "posts pull out of the ground",
  flips = kinds.flips("R34", depth_path), nearest = nearest_hole, applies = kinds.asked "R34",
  check = function(p)
    local finding = at_least(p.uplift_resistance, bound(p.uplift_demand, "wind uplift at allowable level"))
    finding.words = import("loads.cases").governing(p, "up", "loads.up")
    return finding
  end }
