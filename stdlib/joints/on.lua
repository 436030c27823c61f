-- SPDX-License-Identifier: MIT
-- Which joint is on which rack, and what is refused of them once all is declared.
local record = import "model.record"
local memo = import "model.memo"
local graph = import "model.graph"
local words = import "write.words"
local feet = import "structure.feet"
local plan = import "rails.plan"
local on = {}

local given = record.given

-- The pieces that a joint is about, on a rack of our own making.
local of = {
  ["rails on rafters"] = function() return true end,
  ["rafters on posts"] = function() return true end,
  braces = function(rack)
    if not given(rack, "braces") then return false, "it has no braces" end
    for i = 1, #rack.braces do if not given(rack.braces[i], "along") then return true end end
    return false, "its braces stand along the row, and are \"braces along the row\""
  end,
  ["braces along the row"] = function(rack)
    if not given(rack, "braces") then return false, "it has no braces" end
    for i = 1, #rack.braces do if given(rack.braces[i], "along") then return true end end
    return false, "none of its braces stands along the row"
  end,
  ["pins of turned rafters"] = function(rack)
    if record.any "tilts" and import("seasons.held").wants_legs(rack) then return true end
    return false, "no legs hold its modules in another tilt than that which it is built at"
  end,
  ["posts on footings"] = function(rack)
    if #feet.blocks_of(rack) > 0 or #feet.screws_of(rack) > 0 then return true end
    return false, "its posts stand in the ground themselves"
  end,
  ["rail splices"] = function(rack)
    if plan.part(rack) then return false, "its rails are of metal, spliced as their maker has it" end
    return true
  end,
}

-- Whether a rack has such a joint for us to judge; why not.  A kit has all of its own, but for what ties it to blocks.
function on.has(rack, what)
  if given(rack, "stack") and not (what == "posts on footings" and #feet.blocks_of(rack) > 0) then
    return false, "it is a kit, joined as its maker has it"
  end
  return of[what](rack)
end

-- Whether rails of lumber are in pieces, as far as lengths of sticks are known.
local function is_spliced(rack)
  if plan.part(rack) or plan.plain(rack) then return false end
  local count = graph.try(rack, "splices")
  return count ~= nil and count > 0
end

-- The racks that a joint is of.
function on.racks(joint)
  local named, list = given(joint, "racks"), {}
  for _, rack in ipairs(named and {} or record.all "rack") do
    if on.has(rack, joint.of) then list[#list + 1] = rack end
  end
  for i = 1, named and #named or 0 do list[i] = named[i] end
  return list
end

local by_rack = { name = "joints by rack", find = function()
  local by = {}
  for _, joint in ipairs(record.all "joint") do
    for _, rack in ipairs(on.racks(joint)) do
      local key = tostring(rack)
      by[key] = by[key] or {}
      by[key][joint.of] = joint
    end
  end
  return by
end }

-- The joint of a rack that is about something, or nil.
function on.joint(rack, what)
  if not record.any "joint" then return nil end
  local joints = memo.value(record.inside[record.root], by_rack)[tostring(rack)]
  return joints and joints[what]
end

-- Whether any rack of a joint of splices has one, or may have: how long sticks are may not be known.
function on.is_in_pieces(joint)
  for _, rack in ipairs(on.racks(joint)) do
    local count = graph.try(rack, "splices")
    if count == nil or count > 0 then return true end
  end
  return false
end

local sorts = { "rails on rafters", "rafters on posts", "braces", "braces along the row", "pins of turned rafters",
    "posts on footings", "rail splices" }

-- What a rack has that wants a joint, each with the joint or none.
function on.wanted(rack)
  local list = {}
  for _, what in ipairs(sorts) do
    if on.has(rack, what) and (what ~= "rail splices" or is_spliced(rack)) then
      list[#list + 1] = { what = what, joint = on.joint(rack, what) }
    end
  end
  return list
end

-- Whether all joints of a rack are declared and judged by rules: none of rails of metal, of kits or of beams, which no
-- rule judges.
function on.complete(rack)
  local list = on.wanted(rack)
  if #list == 0 or given(rack, "beam") or plan.part(rack) or given(rack, "stack") then return false end
  for _, w in ipairs(list) do if not w.joint then return false end end
  return true
end

-- ---- what is refused -----------------------------------------------------------------------------------------------

local function refuse_twice(joint, refuse)
  local mine = {}
  for _, rack in ipairs(on.racks(joint)) do mine[tostring(rack)] = rack.name end
  for _, other in ipairs(record.all "joint") do
    if other == joint then return end
    for _, rack in ipairs(other.of == joint.of and on.racks(other) or {}) do
      if mine[tostring(rack)] then
        refuse({ "of" }, joint.of .. " of rack " .. rack.name .. " have " .. words.title(other) .. " already",
            "keep the one that is right, or say of which racks each is")
      end
    end
  end
end

-- A screw that ends in what it is to hold down.
local function refuse_short(joint, refuse)
  local length = given(joint, "length")
  if not length then return end
  for _, rack in ipairs(on.racks(joint)) do
    local through, what = import("joints.members").passed(joint, rack)
    local washer = given(joint, "washer")
    if washer then through = through + washer end
    if not (length > through) then
      local is, wanted = words.apart(length, through)
      refuse({ "length" }, "a screw of " .. is .. " ends in " .. what .. " of rack " .. rack.name .. ": head to " ..
          "wood is " .. wanted, "a longer one")
    end
  end
end

-- A head that holds down no wood is pulled through none.
local function refuse_head(joint, refuse)
  if not given(joint, "head") then return end
  local racks, members = on.racks(joint), import "joints.members"
  for _, rack in ipairs(racks) do if members.way(joint, rack) == "through" then return end end
  if import("joints.fastener").has_bolts(joint) then return end          -- its schema asks
  if racks[1] then
    refuse({ "head" }, "no screw of this joint is pulled along its axis: its head does not count", "leave it out")
  end
end

-- A screw in the post's end has no distance to it.
local function refuse_end(joint, refuse)
  if not given(joint, "end_of_post") then return end
  for _, rack in ipairs(on.racks(joint)) do
    if import("joints.members").way(joint, rack) == "through" then
      refuse({ "end_of_post" }, "rafters of rack " .. rack.name .. " lie on the posts' heads, and without " ..
          "a plate it goes down into the post's end: there is no distance to that",
          "leave it out; with plates beside rafter and post name them, as in plate = \"A36\"")
    end
  end
end

function on.settle(joint, refuse)
  local named = given(joint, "racks")
  for i = 1, named and #named or 0 do
    local has, why = on.has(named[i], joint.of)
    if not has then
      refuse({ "racks", i }, "rack " .. named[i].name .. " has no joint to declare for " .. joint.of .. ": " .. why,
          "leave it out")
    end
  end
  if #on.racks(joint) == 0 and record.any "rack" then
    refuse({ "of" }, "no rack of this job has a joint to declare for " .. joint.of,
        joint.of == "posts on footings" and "posts in holes, and driven ones, stand in the ground themselves" or
        joint.of == "pins of turned rafters" and "such pins go with `tilts` that turn a rack on legs" or
        "kits are joined as their maker has it")
  end
  refuse_twice(joint, refuse)
  refuse_end(joint, refuse)
  refuse_head(joint, refuse)
  refuse_short(joint, refuse)
end

return on
