-- SPDX-License-Identifier: MIT
-- Rules about what posts stand in.
local rule = import "model.rule"
local record = import "model.record"
local util = import "model.util"
local feet = import "structure.feet"
local tilted = import "structure.tilted"
local kinds = import "footings.kinds"
local add, at_least, states, every, bound = rule.add, rule.at_least, rule.states, rule.every, rule.bound

local function depth_path(post) return import("footings.search").depth_path(post) end
local function nearest_hole(...) return import("footings.search").nearest(...) end

add { id = "R30", severity = "stop", each = "post",
  says = "the footing reaches down to frost depth, gravel not counted", may_waive = "engineer",
  cite = "{frost_depth}, frost depth by the office",
  caution = "frost lifts the post a little each winter",
  flips = kinds.flips("R30", depth_path), nearest = nearest_hole, applies = kinds.asked "R30",
  check = function(p, job) return kinds.of(p).frost(p, job) end }

add { id = "R31", severity = "stop", each = "post",
  says = "the footing holds the push of the wind: worked out, not guessed", may_waive = "engineer",
  cite = "{post_unconstrained}, S1 at a third of the depth; held at grade {post_constrained}",
  caution = "the post leans over in the design wind",
  flips = kinds.flips("R31", depth_path), nearest = nearest_hole, applies = kinds.asked "R31",
  check = tilted.asked(function(p, job) return kinds.of(p).side(p, job) end) }

-- Asked of the frost depth that is given: without one it is unknown.
local function freezes(_, job)
  local depth = record.given(job.site, "frost")
  return depth == nil or host.si(depth) > 0, "the ground does not freeze there"
end

add { id = "R32", severity = "caution", each = "rack",
  says = "something is done about frost that grips posts and footings, or the soil does not heave",
  may_waive = "engineer",
  cite = "field reports of light racks that rose; the plain sum by a Canadian foundation manual as quoted",
  caution = "frost draws it up a little each winter, and it stays up", applies = freezes,
  nearest = function(r, job) return import("footings.frost").advice(r, job) end,
  tells = function(r) return import("footings.frost").worst(r) end,
  check = function(r, job)
    local done, open = import("footings.frost").judged(r, job)
    if #open > 0 then return states(false, "nothing is declared about frost that lifts " .. util.list(open)) end
    return states(true, table.concat(done, "; "))
  end }

add { id = "R33", severity = "note", each = "rack", says = "the hole leaves room to plumb the post and place concrete",
  cite = "common practice, no source", caution = "no room for concrete",
  flips = function(r) return tostring(feet.holes(r)[1]) .. ".hole_diameter" end,
  applies = function(r) return #feet.holes(r) > 0, "none of its posts stands in a hole" end,
  check = function(r)
    local list, width, round = {}, feet.widest(r)
    local least = bound(calc.hole { post_width = width, round = round }.least, "post diagonal and room beside it")
    for i, f in ipairs(feet.holes(r)) do list[i] = at_least(f.hole_diameter, least) end
    return #list == 1 and list[1] or every(list)
  end }

local flips_held = kinds.flips("R34", depth_path)

add { id = "R34", severity = "stop", each = "post",
  says = "what may be counted holds the post down in the design wind", may_waive = "engineer",
  cite = "{combination_uplift}", caution = "posts pull out of the ground",
  flips = function(p)
    return kinds.no_room(p) and tostring(feet.footing(p)) .. ".hole_diameter" or flips_held(p)
  end,
  nearest = nearest_hole, applies = kinds.asked "R34",
  check = tilted.asked(function(p, job)
    local crowded = kinds.no_room(p)
    if crowded then return crowded end
    local finding = at_least(p.uplift_resistance, bound(p.uplift_demand, "wind uplift at allowable level"))
    local by, counted = import("loads.cases").governing(p, "up", "loads.up"), kinds.of(p).counted
    local told = counted and counted(p, job)
    finding.words = told and (by and by .. "; " .. told or told) or by
    return finding
  end) }

add { id = "R90", severity = "stop", each = "post",
  says = "the soil under the footing bears what presses on it", may_waive = "engineer",
  cite = "{post_bearing}; {soil_values}", caution = "the post sinks, and the frame with it",
  flips = function(p)
    return feet.in_hole(p) and tostring(feet.footing(p)) .. ".hole_diameter" or depth_path(p)
  end,
  nearest = nearest_hole, applies = kinds.asked "R90",
  check = tilted.asked(function(p, job) return kinds.of(p).down(p, job) end) }

add { id = "R91", severity = "caution", each = "rack",
  says = "piers stand so far apart that none takes the soil of another", may_waive = "engineer",
  cite = "ANSI/ASAE EP486.3, 1.2.1", caution = "piers that share soil hold less than each by itself",
  flips = function(r) return tostring(feet.holes(r)[1]) .. ".hole_diameter" end,
  applies = function(r) return import("footings.apart").asked(r) end,
  check = function(r) return import("footings.apart").check(r) end }

add { id = "R97", severity = "stop", each = "rack", may_waive = "engineer",
  says = "no station turns over the line of its front or back posts at the ground",
  cite = "{combination_uplift}; {post_unconstrained}; statics",
  caution = "the rack turns over as one piece, posts and all",
  flips = function(r) for p in record.each(r.post) do return depth_path(p) end end,
  nearest = function()
    return "deeper or wider holes, lines of posts further apart, or stations nearer to each other"
  end,
  applies = function(r)
    local why = import("footings.overturning").none(r)
    return why == nil, why
  end,
  check = function(r)
    local overturning = import "footings.overturning"
    local function judged(rows)
      local row = overturning.worst(rows)
      local finding = at_least(row.held, bound(row.turn, "what turns it over"))
      finding.words = overturning.words(row)
      return finding
    end
    local positions = tilted.positions(r)
    if not positions then return judged(r.overturning) end
    local list = {}
    for i, at in ipairs(positions) do list[i] = function() return judged(overturning.at(at)) end end
    return every(list)
  end }
