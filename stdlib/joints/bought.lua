-- SPDX-License-Identifier: MIT
-- How many of a joint a rack has, and what of it is bought: fasteners, washers and plates, by one count.
local record = import "model.record"
local members = import "joints.members"
local fastener = import "joints.fastener"
local on = import "joints.on"
local bought = {}

local given = record.given

-- ---- how many ------------------------------------------------------------------------------------------------------

local function ends_of_braces(rack, joint)
  local sum = 0
  for _, at in ipairs(members.braces(joint, rack)) do sum = sum + 2 * at.count end
  return sum
end

-- The pins at heads about which rafters turn, and at both ends of legs.
local function pins_of(rack)
  local pivot, legs, legged = 0, 0, import("seasons.held").legged(rack)
  for p in record.each(rack.post) do
    if legged[p.letter] then legs = legs + 1 else pivot = pivot + 1 end
  end
  return pivot, legs
end

local count_of = {
  ["pins of turned rafters"] = function(rack)
    local pivot, legs = pins_of(rack)
    return pivot + 2 * legs
  end,
  ["rails on rafters"] = function(rack) return rack.rails.lines * rack.rafter_count end,
  ["rafters on posts"] = function(rack)
    local count = 0
    for _ in record.each(rack.post) do count = count + 1 end
    return count
  end,
  braces = ends_of_braces, ["braces along the row"] = ends_of_braces,
  ["posts on footings"] = function(rack)
    local count, foot = 0, import "joints.foot"
    for p in record.each(rack.post) do if foot.is_tied(p) then count = count + 1 end end
    return count
  end,
  ["rail splices"] = function(rack) return rack.splices end,
}

-- How many such joints a rack has.
function bought.places(joint, rack) return math.tointeger(count_of[joint.of](rack, joint)) end

-- Fasteners at each: with plates, and over splices, so many in each of the two members.
local function at_each(joint)
  if joint.of == "posts on footings" then return joint.count end
  return joint.count * ((given(joint, "plate") or joint.of == "rail splices") and 2 or 1)
end

function bought.fasteners(joint, rack) return bought.places(joint, rack) * at_each(joint) end

-- Plates or brackets at each place: on both sides of what is sheared in two planes.
local function plates_at_each(joint) return given(joint, "planes") == 2 and 2 or 1 end

-- ---- what it is called ---------------------------------------------------------------------------------------------

-- "1/2" of the table of fasteners is in inches, "No. 10" a number.
local function sized(size) return string.find(size, "^No%.") and size or size .. " in" end

local function coated(joint, name)
  local coating = given(joint, "coating")
  return coating and name .. " " .. coating or name
end

local function unit() return import("write.words").metric() and "mm" or "in" end
local function show(length) return host.format(length, unit()) end

-- "0.06 in": sheets and washers have their thickness in decimals, which a tape would round away.
local function thick(length) return host.format(length, unit(), nil, true) end

-- Under which names price lists and orders have them; grip: the wood and steel that a bolt goes through, where known.
function bought.fastener_item(joint, grip)
  local name, length = joint.fastener .. " " .. sized(joint.size), given(joint, "length")
  local grade = fastener.is_bolt(joint) and given(joint, "grade")
  if grade then name = name .. " " .. grade end
  if length then name = name .. " x " .. show(length) elseif grip then name = name .. " grip " .. show(grip) end
  return coated(joint, name)
end
function bought.washer_item(joint)
  return coated(joint, "washer " .. thick(joint.washer) .. " for " .. joint.fastener .. " " .. sized(joint.size))
end
-- Of bolts that are pulled: those whose width is said.
function bought.wide_washer_item(joint)
  return coated(joint, "washer " .. show(joint.head) .. " wide for " .. joint.fastener .. " " .. sized(joint.size))
end
function bought.plate_item(joint)
  local width = given(joint, "plate_width")
  return coated(joint, "plate of " .. record.inside[joint].name .. " " .. joint.plate .. " " ..
      thick(joint.plate_thickness) .. (width and " x " .. show(width) or ""))
end
function bought.boards_item(joint)
  return "board over splices of " .. record.inside[joint].name .. " " .. joint.boards
end
function bought.foot_item(joint) return "base or anchors of " .. record.inside[joint].name end

-- ---- what bolts go through -----------------------------------------------------------------------------------------

local function rail_thick(rail) return rail.flat and rail.depth or rail.breadth end

-- The two members at each place, as thick as a bolt finds them, and how many places they are of: { one, other, places
-- } each; of a foot one alone, { one, nil, places }.  Into a post's end goes none.
local function pairs_of(joint, rack)
  local places = bought.places(joint, rack)
  if joint.of == "posts on footings" then return { { members.post(rack).breadth, nil, places } } end
  if joint.of == "rail splices" then
    local thick = rail_thick(members.rail(rack))
    return { { thick, thick, places } }
  elseif joint.of == "braces" or joint.of == "braces along the row" then
    local post, list = members.post(rack).breadth, {}
    for i, at in ipairs(members.braces(joint, rack)) do
      list[i] = { members.brace(rack, at.entry).breadth, post, 2 * at.count }
    end
    return list
  end
  local rafter, way = members.rafter(rack), members.way(joint, rack)
  if joint.of == "pins of turned rafters" then
    local pivot, legs = pins_of(rack)
    local post, leg = members.post(rack).breadth, members.leg(rack).breadth
    return { { rafter.breadth, post, pivot }, { leg, post, legs }, { leg, rafter.breadth, legs } }
  elseif joint.of == "rafters on posts" then
    return way ~= "through" and { { rafter.breadth, members.post(rack).breadth, places } } or nil
  end
  local rail = members.rail(rack)
  if way == "plates" then return { { rail_thick(rail), rafter.breadth, places } } end
  return { { rail.flat and rail.breadth or rail.depth, rafter.depth, places } }
end

-- How thick what lies over the members is: plates or boards, on one side or both; nil where they meet each other.
local function over(joint)
  local boards = given(joint, "boards")
  if boards then return calc.dressed { section = boards }.breadth * plates_at_each(joint) end
  return given(joint, "plate") and joint.plate_thickness * plates_at_each(joint) or nil
end

-- Grips of the bolts of a joint on a rack: { grip, count } each; nil where what they go through is not kept here.
local function grips(joint, rack)
  local ok, list = pcall(pairs_of, joint, rack)
  if not ok then
    if not members.is_uncovered(list) then error(list, 0) end
    return nil
  end
  if not list then return nil end
  local out, plate = {}, over(joint)
  local function put(grip, count) out[#out + 1] = { grip, count } end
  for _, x in ipairs(list) do
    local count = x[3] * joint.count
    if plate then
      put(x[1] + plate, count)
      if x[2] then put(x[2] + plate, count) end
    else put(x[1] + x[2], count) end
  end
  return out
end

-- ---- what is needed ------------------------------------------------------------------------------------------------

-- tools: count(item, n, spare, group), try(item, name, f).
local function put_rack(joint, rack, tools)
  local of = "parts of " .. import("write.words").title(joint)
  local function put(item, count, spare) tools.count(item, count, spare, of) end
  local function at_places(item, each)
    tools.try(item, nil, function() put(item, bought.places(joint, rack) * each) end)
  end
  if given(joint, "holds_by") then at_places(bought.foot_item(joint), 1) end
  if given(joint, "boards") then at_places(bought.boards_item(joint), plates_at_each(joint)) end
  if given(joint, "plate") then at_places(bought.plate_item(joint), plates_at_each(joint)) end
  if not given(joint, "fastener") then return end
  tools.try(bought.fastener_item(joint), nil, function()
    local list = fastener.is_bolt(joint) and grips(joint, rack)
    if not list then return put(bought.fastener_item(joint), bought.fasteners(joint, rack), true) end
    for _, x in ipairs(list) do put(bought.fastener_item(joint, x[1]), x[2], true) end
  end)
  if fastener.is_bolt(joint) and given(joint, "head") then            -- under a bracket there is one, in the rail
    tools.try(bought.wide_washer_item(joint), nil, function()
      local each = joint.count * (given(joint, "plate") and 1 or 2)
      put(bought.wide_washer_item(joint), bought.places(joint, rack) * each, true)
    end)
  end
  if given(joint, "washer") then
    tools.try(bought.washer_item(joint), nil, function()
      put(bought.washer_item(joint), bought.fasteners(joint, rack), true)
    end)
  end
end

function bought.put(tools)
  for _, joint in ipairs(record.all "joint") do
    for _, rack in ipairs(on.racks(joint)) do put_rack(joint, rack, tools) end
  end
end

-- Whether each rack has all the joints declared that it wants: kits are joined as their maker has it.
function bought.has_all()
  for _, rack in ipairs(record.all "rack") do
    for _, w in ipairs(on.wanted(rack)) do if not w.joint then return false end end
    if given(rack, "beam") then return false end
  end
  return true
end

return bought
