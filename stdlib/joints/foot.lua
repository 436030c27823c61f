-- SPDX-License-Identifier: MIT
-- What ties posts to the blocks or screws that they stand on, by strengths that are declared; and fasteners in the post
-- where some are.  Of concrete around anchors nothing is worked out here.
local record = import "model.record"
local feet = import "structure.feet"
local tilted = import "structure.tilted"
local members = import "joints.members"
local fastener = import "joints.fastener"
local foot = {}

local given = record.given
local none = host.quantity(0.0, "force")

function foot.is_tied(post)
  local kind = feet.kind(feet.footing(post))
  return kind == "ballast" or kind == "screw"
end

-- "block", "screw", or both, as the rack has them.
function foot.under(rack)
  local blocks, screws = #feet.blocks_of(rack) > 0, #feet.screws_of(rack) > 0
  return blocks and screws and "blocks and screws" or blocks and "blocks" or "screws"
end

local function declared(joint, name, what)
  local value = given(joint, name)
  if value then return value end
  host.raise { code = "D010", class = "missing", path = tostring(joint) .. "." .. name,
      who = "maker of the anchor or base", tool = "its table, or its evaluation report",
      text = "what " .. what .. " the foot of a post holds is not given; what concrete holds around an anchor is " ..
          "not worked out here" }
end

-- Raises that nobody says how the posts of a rack are tied.
function foot.undeclared(rack)
  local what = foot.under(rack)
  host.raise { code = "D010", class = "missing", path = "joint", who = "maker of the anchor or base",
      tool = "its table, or its evaluation report",
      text = "how the posts of " .. tostring(rack) .. " are tied to their " .. what .. " is not declared, and " ..
          (what == "screws" and "screws hold" or "blocks hold") .. " down only what is tied to them" ..
          (what == "screws" and "" or "; the ballast plan has what that must hold") }
end

local function against(p, lift, side, moment)
  local rack = record.parent(p)
  local joint = record.any "joint" and import("joints.on").joint(rack, "posts on footings")
  if not joint then foot.undeclared(rack) end
  return { lift = lift, side = side, moment = moment,
      lift_allowed = declared(joint, "holds_lift", "pull"), side_allowed = declared(joint, "holds_side", "push"),
      moment_allowed = not feet.hinged(feet.footing(p)) and declared(joint, "holds_turning", "turning") or nil }
end

-- What comes to the foot of a post, allowable, the most of each as if at once, against what holds it there: the input
-- of foot_tie.
function foot.against(p) return against(p, p.foot_lift, p.lateral, p.foot_turning) end

-- What comes to the foot of a post that braces along the row lift as the row is pushed, in a case of its own: lift,
-- less what of the frame's weight counts, push and turning; as the post stands.
function foot.along_row(p)
  local at, held = import("loads.along").feet(tilted.at(p))[p.name], not feet.hinged(feet.footing(p))
  local lift = at.lifts - p.frame_holds
  return host.si(lift) > 0 and lift or none, at.push, held and at.moment or host.quantity(0.0, "moment")
end

-- across: as the other joints have it.
local function fasteners(joint, part, put, across, p, both, what)
  across(put, joint, { of = part, thick = part.breadth, wide = part.depth, angle = both.angle,
      edge = "edge_of_post", to_end = given(joint, "end_of_post") }, nil, host.si(both.force),
      { duration = "ten minutes", words = function() return what end }, "fasteners in the foot of post " .. p.station)
end

local function refuse_held(rack, part, held)
  if part and held then
    members.uncovered("the feet of " .. tostring(rack) .. " are held against turning: what that does to " ..
        "fasteners in the post is not kept here")
  end
end

-- As a rack stands; what nobody knows of the row along itself is kept beside what breaks across it: put().open.
function foot.judge(joint, at, put, across)
  local rack, along = tilted.rack(at), {}
  local part = given(joint, "fastener") and members.post(rack)
  local braced = given(rack, "braces") and import "loads.braced_feet"
  if part and not fastener.is_thin(joint) then
    fastener.wants(joint, "end_of_post", "how near to the lower end of the post its fasteners are is not said")
  end
  for p in tilted.posts(at) do
    if foot.is_tied(p) then
      local held = not feet.hinged(feet.footing(p))
      refuse_held(rack, part, held)
      put(p.foot_used, "the foot of post " .. p.station .. ", what lifts and pushes it " ..
          (held and "and turns it " or "") .. "at once, by " .. joint.holds_by)
      if part then fasteners(joint, part, put, across, p, p.foot_both, "what lifts and pushes it") end
      if braced and not braced.none(p) then along[#along + 1] = p end
    end
  end
  for _, p in ipairs(along) do
    local ok, comes = pcall(function() return against(p, foot.along_row(p)) end)
    if not ok then
      if not host.class(comes) then error(comes, 0) end
      put().open = comes
      return
    end
    put(calc.foot_tie(comes).used, "the foot of post " .. p.station .. ", as braces along the row lift it, by " ..
        joint.holds_by)
    if part then
      fasteners(joint, part, put, across, p, calc.joint_force { along = comes.lift, across = comes.side },
          "what braces along the row do to it")
    end
  end
end

return foot
