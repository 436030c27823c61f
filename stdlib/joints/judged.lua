-- SPDX-License-Identifier: MIT
-- How far each joint of a rack is used, or of one in one of its positions (at): { used, words } of the load that uses
-- it most, or { fails = why }; beside either, open = why something of it is not known.
local record = import "model.record"
local memo = import "model.memo"
local tilted = import "structure.tilted"
local members = import "joints.members"
local bears = import "joints.bears"
local demand = import "joints.demand"
local fastener = import "joints.fastener"
local judged = {}

local given = record.given
local none = host.quantity(0.0, "force")

local right, along_grain = fastener.across, fastener.along
local function positive(force) return host.si(force) > 0 and force or none end

-- Keeps the worst: put(used, words), or put(nil, nil, why it fails); put() gives it so far.
local function keeper()
  local at = { used = 0, words = "nothing pulls at it", kept = {} }
  return at, function(used, words, fails)
    if fails then at.fails = at.fails or fails
    elseif used and used > at.used then at.used, at.words = used, words end
    return at
  end
end

-- The same part, loaded in whichever way: it bears the least then.
local function at_worst(part)
  return part and { of = part.of, thick = part.thick, wide = part.wide, angle = right, edge = part.edge,
      to_end = part.to_end, worst = true }
end

-- Whether so much across is no more than what is known already, were the part loaded in the worst way.
local function is_less(at, part, duration, size)
  local least = at.kept["least " .. part.name .. duration]
  return least and not (size / least > at.used)
end

-- Across the axis of each of so many: force over what they bear; words say where.
local function across(put, joint, main, side, size, row, where)
  if not (size > 0) then return end
  local at, duration = put(), row.duration
  local key, kept = "least " .. main.of.name .. duration, at.kept
  if kept[key] == nil then
    local least = bears.across(joint, at_worst(main), at_worst(side), duration, kept)
    kept[key] = least and joint.count * host.si(least) or false
  end
  if is_less(at, main.of, duration, size) then return end
  local each, fails = bears.across(joint, main, side, duration, kept)
  local used = each and size / (joint.count * host.si(each))
  if not each then put(nil, nil, fails) elseif used > at.used then put(used, where .. ", " .. row.words()) end
end

-- Pulled and loaded across at once, by screws.
local function pulled(put, joint, pull, force, pulls, holds, row, where)
  local before = put().used
  local used, how = bears.used(pull / joint.count, force / joint.count, pulls, holds, before)
  if used > before then put(used, how .. " " .. where .. ", " .. row.words()) end
end

-- ---- rafters on posts ----------------------------------------------------------------------------------------------

-- From the nearer end of a rafter to the head nearest to it.
local function rafter_end(rack)
  local list, slope = import("structure.lines").of(rack), rack.slope_length
  local low, high = slope * list[1].fraction, slope * (1 - list[#list].fraction)
  return (low < high and low or high) + (rack.rafter_length - slope) / 2
end

-- Post and rafter under what fasteners have of a head, by demand.side_heads and demand.on_head.
local function head_parts(joint, rack, post, rafter, at, force)
  return { of = post, thick = post.breadth, wide = post.depth, angle = force.angle, edge = "edge_of_post",
        to_end = given(joint, "end_of_post"), away = not (at.lift > none) },
      { of = rafter, thick = rafter.breadth, wide = rafter.depth, angle = force.leaning_angle, edge = "edge_of_rafter",
        to_end = rafter_end(rack) }
end

-- Into the post's end from above: pulled out of it, and loaded across it.
local function heads_through(joint, at, put)
  local rack = tilted.rack(at)
  if fastener.is_bolt(joint) then
    members.uncovered("what a bolt along the post holds a rafter down with, as on " .. tostring(rack) ..
        ", is not kept here: screws, plates, or rafters at the posts' side")
  end
  local post, rafter = members.post(rack), members.rafter(rack)
  local main = { of = post, thick = joint.length, wide = post.breadth, angle = right, edge = "edge_of_post",
      end_grain = true }
  local side = { of = rafter, thick = rafter.depth, wide = rafter.breadth, angle = at.tilt,
      in_line = true, edge = "edge_of_rafter", to_end = rafter_end(rack) }
  for _, row in ipairs(demand.pulled_heads(at)) do
    local holds, fails = bears.across(joint, main, side, row.duration, put().kept, rack.saddle)
    local pulls, why = bears.pulled(joint, main, rafter.depth, row.duration, put().kept, rack.saddle)
    if holds and pulls then
      pulled(put, joint, positive(row.lift), row.side, pulls, holds, row, "on screws in the post's end")
    else put(nil, nil, fails or why) end
  end
end

local function of_heads(joint, stands, put)
  local rack = tilted.rack(stands)
  if given(rack, "beam") then
    members.uncovered("the rafters of " .. tostring(rack) .. " lie on beams: what joins these to rafters and posts " ..
        "is not kept here")
  end
  local way = members.way(joint, rack)
  if way == "through" then return heads_through(joint, stands, put) end
  if not fastener.is_thin(joint) then
    fastener.wants(joint, "end_of_post", "how near to the top of the post its fasteners are is not said")
  end
  local of_post, of_rafter, plates = members.post(rack), members.rafter(rack), way == "plates"
  for _, x in ipairs(demand.side_heads(stands)) do
    local row, bound, at = x.row, x.bound, put()
    if bound > 0 and not (is_less(at, of_post, row.duration, bound) and
        (not plates or is_less(at, of_rafter, row.duration, bound))) then
      local force = calc.joint_force(demand.on_head(stands, x))
      local size, post, rafter = host.si(force.force), head_parts(joint, rack, of_post, of_rafter, x, force)
      if plates then
        across(put, joint, post, nil, size, row, "in the post")
        across(put, joint, rafter, nil, size, row, "in the rafter")
      else across(put, joint, post, rafter, size, row, "in post and rafter") end
    end
  end
end

-- ---- pins of turned rafters ----------------------------------------------------------------------------------------

-- One bolt at each: between rafter and post where they turn; between leg and post, and leg and rafter.  A leg has all
-- of it along its grain; what lifts pulls at the ends of posts and legs.
local function of_pins(joint, stands, put)
  local rack = tilted.rack(stands)
  if not demand.on_pins(stands) then return end
  local plates = members.way(joint, rack) == "plates"
  local of_leg, of_post, of_rafter = members.leg(rack), members.post(rack), members.rafter(rack)
  fastener.wants(joint, "end_of_post", "how near to the top of the post its pin is is not said")
  local leg_end = fastener.wants(joint, "end_of_leg", "how near to the end of a leg its pin is is not said")
  local turns, foot, head = {}, {}, {}                   -- what is kept of each two members
  for _, x in ipairs(demand.pins(stands)) do
    local row = x.row
    local function pair(kept, main, side, size, where)
      put().kept = kept
      if plates then
        across(put, joint, main, nil, size, row, "in the " .. main.of.name .. where)
        across(put, joint, side, nil, size, row, "in the " .. side.of.name .. where)
      else across(put, joint, main, side, size, row, "in " .. main.of.name .. " and " .. side.of.name .. where) end
    end
    local force = calc.joint_force(demand.on_head(stands, x))
    local size, post, rafter = host.si(force.force), head_parts(joint, rack, of_post, of_rafter, x, force)
    if x.leg then
      local leg = { of = of_leg, thick = of_leg.breadth, wide = of_leg.depth, angle = along_grain,
          edge = "edge_of_leg", to_end = leg_end, away = post.away }
      pair(foot, post, leg, size, " at the foot of a leg")
      pair(head, leg, rafter, size, " at the head of a leg")
    else pair(turns, post, rafter, size, " where it turns") end
  end
end

-- ---- braces --------------------------------------------------------------------------------------------------------

-- The flattest brace of each kind loads the post most across it.  A brace that is pressed presses its bolts towards the
-- ends of its posts, and away from its own.
local function of_braces(joint, stands, put)
  local rack = tilted.rack(stands)
  local way, post = members.way(joint, rack), members.post(rack)
  for _, at in ipairs(members.braces(joint, rack)) do
    local entry, brace = rack.braces[at.entry], members.brace(rack, at.entry)
    put().kept = {}                                      -- of another brace
    for _, row in ipairs(demand.braces(joint, stands)) do
      if row.entry == nil or row.entry == at.entry then
        local pushes = host.si(row.axial) > 0
        local main = { of = post, thick = post.breadth, wide = post.depth, angle = right - at.flat,
            edge = "edge_of_post", to_end = members.brace_to_end(rack, at.entry), away = not pushes }
        local side = { of = brace, thick = brace.breadth, wide = brace.depth, angle = along_grain,
            edge = "edge_of_brace", to_end = given(entry, "past") or host.fact "brace_end", away = pushes }
        local force = math.abs(host.si(row.axial))
        local how = (pushes and "push" or "pull") .. " of the brace, "
        if way == "plates" then
          across(put, joint, main, nil, force, row, how .. "in the post")
          across(put, joint, side, nil, force, row, how .. "in the brace")
        else across(put, joint, main, side, force, row, how .. "in post and brace") end
      end
    end
  end
end

-- ---- rails on rafters ----------------------------------------------------------------------------------------------

-- From the ends of rafter and rail to the nearest of these joints.
local function rail_ends(rack)
  local at, slope = given(rack.rails, "at") or rack.rails_by_rule.at, rack.slope_length
  local low, above = at[1], slope - at[#at]
  local supports = import("rails.plan").supports(rack)
  local west, east = supports[1], rack.row_width + 2 * rack.end_allowance - supports[#supports]
  return (low < above and low or above) + (rack.rafter_length - slope) / 2, west < east and west or east
end

-- Screwed down through the rail into the rafter's upper edge, or bolted through both.  Across their axis and along it
-- bolts are judged each by itself: the wood that is pressed by washers is not that which is pressed by bolts.
local function rails_through(joint, at, put)
  local rack = tilted.rack(at)
  local bolted = fastener.is_bolt(joint) and import "joints.steel"
  local rail, rafter = members.rail(rack), members.rafter(rack)
  local rafter_end_, rail_end
  if not fastener.is_thin(joint) then rafter_end_, rail_end = rail_ends(rack) end
  local main = { of = rafter, thick = rafter.depth, wide = rafter.breadth, angle = along_grain, edge = "edge_of_rafter",
      to_end = rafter_end_ }
  local side = { of = rail, thick = rail.flat and rail.breadth or rail.depth,
      wide = rail.flat and rail.depth or rail.breadth, angle = right, edge = "edge_of_rail", to_end = rail_end }
  for _, row in ipairs(demand.rails(at)) do
    if bolted then
      across(put, joint, main, side, host.si(row.along), row, "in rail and rafter")
      bolted.pulled(joint, put, row.lift / joint.count, row.along / joint.count, { side, main }, row.words())
    else
      local holds, fails = bears.across(joint, main, side, row.duration, put().kept)
      local pulls, why = bears.pulled(joint, main, side.thick, row.duration, put().kept)
      if holds and pulls then pulled(put, joint, row.lift, row.along, pulls, holds, row, "on screws in the rafter")
      else put(nil, nil, fails or why) end
    end
  end
end

-- By brackets at the rafter's side and at the rail's.  What slides down the slope goes along the axis of those in the
-- rail: screws of a bracket at one side are pulled by it, between two brackets the rail is pressed.
local function rails_by_brackets(joint, at, put)
  local rack = tilted.rack(at)
  local rail, rafter = members.rail(rack), members.rafter(rack)
  local one_sided, bolted = given(joint, "planes") ~= 2, fastener.is_bolt(joint)
  local rafter_end_, rail_end
  if not fastener.is_thin(joint) then rafter_end_, rail_end = rail_ends(rack) end
  local in_rail = { of = rail, thick = rail.flat and rail.depth or rail.breadth,
      wide = rail.flat and rail.breadth or rail.depth, angle = right, edge = "edge_of_rail", to_end = rail_end }
  for _, row in ipairs(demand.rails(at)) do
    local lift = row.lift
    local both = calc.joint_force(demand.on_rail(row))
    across(put, joint, { of = rafter, thick = rafter.breadth, wide = rafter.depth, angle = both.angle,
        edge = "edge_of_rafter", to_end = rafter_end_ }, nil, host.si(both.force), row, "in the rafter")
    if one_sided and bolted then
      across(put, joint, in_rail, nil, host.si(lift), row, "in the rail")
      import("joints.steel").pulled(joint, put, row.along / joint.count, lift / joint.count, { in_rail }, row.words())
    elseif one_sided then
      local holds, fails = bears.across(joint, in_rail, nil, row.duration, put().kept)
      local pulls, why = bears.pulled(joint, in_rail, joint.plate_thickness, row.duration, put().kept)
      if holds and pulls then pulled(put, joint, row.along, lift, pulls, holds, row, "on screws in the rail")
      else put(nil, nil, fails or why) end
    else across(put, joint, in_rail, nil, host.si(lift), row, "in the rail") end
  end
end

local function of_rails(joint, at, put)
  local rack = tilted.rack(at)
  members.rail(rack)                                     -- which refuses those of metal
  if members.way(joint, rack) == "plates" then return rails_by_brackets(joint, at, put) end
  return rails_through(joint, at, put)
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local work_of = { ["rafters on posts"] = of_heads, ["pins of turned rafters"] = of_pins, braces = of_braces,
    ["braces along the row"] = of_braces, ["rails on rafters"] = of_rails,
    ["posts on footings"] = function(joint, at, put) import("joints.foot").judge(joint, at, put, across) end,
    ["rail splices"] = function(joint, at, put) import("joints.splices").judge(joint, at, put) end }

-- Kept with how the rack stands: a position whose tilt is another in a variant is another record.
function judged.of(joint, stands)
  return memo.remember(record.inside[stands], "strength of " .. tostring(joint), function()
    local at, put = keeper()
    work_of[joint.of](joint, stands, put)
    if fastener.has_bolts(joint) then import("joints.steel").judge(joint, stands, put) end
    at.kept = nil
    return at
  end)
end

-- The same of a rack, in the position of its modules in which the joint is used most; and what nobody knows of it.
function judged.worst(joint, rack)
  local worst, open
  for _, stands in ipairs(tilted.stands(rack)) do
    local at = judged.of(joint, stands)
    open = open or at.open
    if not worst or not worst.fails and (at.fails or at.used > worst.used) then worst = at end
  end
  return worst, open
end

judged.rafter_end, judged.rail_ends = rafter_end, rail_ends

return judged
