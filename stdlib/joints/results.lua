-- SPDX-License-Identifier: MIT
-- How many of a joint there are, and how far it is used.
local graph = import "model.graph"
local record = import "model.record"
local on = import "joints.on"
local bought = import "joints.bought"
local work, result = graph.work, graph.result

result { "joint", "places", says = "how many such joints its racks have",
  work = function(joint)
    local sum = 0
    for _, rack in ipairs(on.racks(joint)) do sum = sum + bought.places(joint, rack) end
    return sum
  end }
result { "joint", "fasteners",
  says = "how many fasteners they take; with plates, or over splices, twice as many, in each member its own",
  none = function(joint)
    if not record.given(joint, "fastener") then return "of what holds these feet its maker's paper tells" end
  end,
  work = function(joint)
    local sum = 0
    for _, rack in ipairs(on.racks(joint)) do sum = sum + bought.fasteners(joint, rack) end
    return sum
  end }
result { "joint", "used", says = "how far it is used where it carries most; 1 is its strength",
  work = function(joint)
    local most = 0
    for _, rack in ipairs(on.racks(joint)) do
      local at, open = import("joints.judged").worst(joint, rack)
      if open then error(open, 0) end
      if at.fails then host.raise { code = "C005", class = "range", text = at.fails } end
      if at.used > most then most = at.used end
    end
    return most
  end }

-- ---- feet ----------------------------------------------------------------------------------------------------------

local no_force, no_moment = host.quantity(0.0, "force"), host.quantity(0.0, "moment")

local function untied(p)
  if not import("joints.foot").is_tied(p) then return "it stands in the ground itself" end
end

result { "post", "foot_lift", dim = "force", none = untied,
  says = "what lifts its foot off its block or screw, allowable, the frame's weight taken off: what ties it must hold",
  work = function(p)
    local lift = p.net_uplift
    return host.si(lift) > 0 and lift or no_force
  end }
result { "post", "foot_turning", dim = "moment", none = untied,
  says = "what turns its foot on its block or screw, allowable; nothing where it is hinged",
  work = function(p)
    if import("structure.feet").hinged(import("structure.feet").footing(p)) then return no_moment end
    if graph.paper(p, "loads.side") then return p.lateral * p.push_height end
    return p.foot.moment
  end }

work { "post", "foot_both", op = "joint_force", none = untied,
  says = "what lifts and pushes its foot on its block or screw, both together",
  input = function(p) return { along = p.foot_lift, across = p.lateral } end,
  gives = {
    force = { name = "foot_force", says = "what lifts and pushes its foot, both together, allowable" },
  } }
work { "post", "tie", op = "foot_tie", none = untied, says = "what comes to its foot against what ties it",
  input = function(p) return import("joints.foot").against(p) end,
  gives = {
    used = { name = "foot_used", says = "how far what ties its foot to its block or screw is used; 1 is its strength" },
  } }

-- ---- heads and rails -----------------------------------------------------------------------------------------------

local function unjoined(what, words, through)
  return function(r)
    local joint = record.any "joint" and on.joint(r, what)
    if not joint then return "no joint of " .. words .. " is declared" end
    if import("joints.members").way(joint, r) == "through" then return through end
  end
end

work { "rack", "hardest_head", op = "joint_force",
  none = unjoined("rafters on posts", "its rafters on its posts",
      "its fasteners stand in the posts' ends, where lift and push are no one force"),
  says = "what comes to the fasteners of one of its heads, where they have most",
  input = function(r)
    local demand = import "joints.demand"
    return demand.anywhere(r, demand.hardest_head)
  end,
  gives = {
    force = { name = "head_force", says = "what lifts and pushes the fasteners of one of its heads most, both " ..
        "together, allowable" },
  } }
work { "rack", "hardest_rail", op = "joint_force",
  none = unjoined("rails on rafters", "its rails on its rafters",
      "its screws stand in the rafters, where lift and what slides are no one force"),
  says = "what comes to the brackets of a rail on a rafter, where they have most",
  input = function(r)
    local demand = import "joints.demand"
    return demand.anywhere(r, demand.hardest_rail)
  end,
  gives = {
    force = { name = "rail_force", says = "what lifts a rail off a rafter most and slides it, both together, " ..
        "allowable" },
  } }

-- ---- splices -------------------------------------------------------------------------------------------------------

local function unspliced(r)
  if not record.any "joint" or not on.joint(r, "rail splices") then
    return "no joint of its rails' splices is declared"
  end
  local count = graph.try(r, "splices")
  return count == 0 and "its rails are in one piece" or nil
end

work { "rack", "hardest_splice", op = "splice_group", none = unspliced,
  says = "what comes to the fasteners on one side of a splice of its rails, where one of them bears most",
  input = function(r) return import("joints.splices").hardest_anywhere(r) end,
  gives = {
    force = { name = "splice_force", says = "what the hardest fastener of its rails' splices bears, allowable" },
    turning = { name = "splice_turning", says = "moment about the middle of its group" },
  } }
