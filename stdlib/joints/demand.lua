-- SPDX-License-Identifier: MIT
-- What the joints of a rack carry, or of one in one of its positions (at), by allowable combinations: { duration,
-- words, ... } each; words() says of what.
--
-- A head: lift and side, on its post; up and push are the same as plain numbers; shear: of the rafter beside it, nil
-- where a paper says what comes to the post.  A rail on a rafter: lift square to
-- the modules, less than 0 where it presses, and along, down or up the slope.  A brace: axial, compression +.
local record = import "model.record"
local memo = import "model.memo"
local graph = import "model.graph"
local cases = import "loads.cases"
local loaded = import "loads.members"
local lines = import "structure.lines"
local tilted = import "structure.tilted"
local members = import "joints.members"
local demand = {}

local given = record.given
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass
local lasting = { dead = "permanent", snow = "two months", wind = "ten minutes" }
local none, upright = host.quantity(0.0, "force"), host.quantity(math.pi / 2, "angle")

local function told(at, row)
  return row.combination .. ", " .. cases.words(at.wind_cases, row.wind_case) .. "; " .. row.limit
end

-- ---- heads of posts ------------------------------------------------------------------------------------------------

-- What an engineer's paper gives of posts stands instead of the frame's; the frame's weight is not taken off there.
local function by_paper(list, line, p, paper)
  local function words() return "by " .. import("model.given").title(paper) end
  local function put(lift)
    local side = p.lateral
    list[#list + 1] = { duration = "ten minutes", line = line.letter, lift = lift, side = side, up = host.si(lift),
        push = host.si(side), words = words }
  end
  put(calc.allowable_wind { wind = p.wind_uplift, edition = record.root.codes.loads }.force)
  put(none - p.pressed)
end

-- Whether a list has the same of a head already, but for rounding.
local function is_told(list, up, push)
  for i = 1, #list do
    local r = list[i]
    if host.near(r.up, up) and host.near(r.push, push) then return true end
  end
  return false
end

-- Whether the rafters are turned off the heads on which they are built, and hang on pins.
function demand.on_pins(at)
  return tilted.rack(at) ~= at and next(import("seasons.held").legs(at)) ~= nil
end

-- Pins of which no joint is: what the heads carry then nobody judges.
function demand.refuse_pins(at)
  if demand.on_pins(at) and not import("joints.on").joint(tilted.rack(at), "pins of turned rafters") then
    members.uncovered(import("seasons.held").pins(at))
  end
end

local function worked_heads(at)
  local rack = tilted.rack(at)
  if given(rack.posts, "moment_head") then
    host.raise { code = "C005", class = "range", text = "what joins rafters and posts of " .. tostring(rack) ..
        " holds the rafters from turning, too: what fasteners bear then is not worked out here" }
  end
  local list, told_of, ours = {}, {}, {}
  for i, line in ipairs(lines.of(rack)) do
    for p in tilted.posts(at) do
      if p.letter == line.letter then
        local paper = graph.paper(p, "loads.side") or graph.paper(p, "loads.up")
        if paper then by_paper(list, line, p, paper) else ours[i] = line end
      end
    end
  end
  if next(ours) == nil then return list end
  local heads = at.frames.heads
  for i = 1, #heads do
    local row = heads[i]
    local line = ours[math.tointeger(row.line)]
    if line then
      local duration, lift, side = lasting[row.duration], row.lift, row.side
      local up, push, key = host.si(lift), host.si(side), line.letter .. duration
      local known = told_of[key] or {}
      told_of[key] = known
      if not is_told(known, up, push) then
        local r = { duration = duration, line = line.letter, lift = lift, side = side, up = up, push = push,
            shear = row.shear, words = function()
              return "post " .. line.letter .. " at station " .. math.tointeger(row.station) .. ": " .. told(at, row)
            end }
        known[#known + 1], list[#list + 1] = r, r
      end
    end
  end
  return list
end

local function all_heads(at)
  return memo.remember(record.inside[at], "what its heads carry", function() return worked_heads(at) end)
end

local nothing = {}

-- Nobody writes into it.  Of rafters that are turned pins have it all.
function demand.heads(at)
  demand.refuse_pins(at)
  return demand.on_pins(at) and nothing or all_heads(at)
end

-- What pins carry, as heads; leg: of a post on which a leg stands, whose force is that.
function demand.pins(at)
  if not demand.on_pins(at) then return nothing end
  local list, by = {}, {}
  for i, line in ipairs(lines.of(tilted.rack(at))) do by[line.letter] = import("seasons.held").legs(at)[i] ~= nil end
  for i, row in ipairs(all_heads(at)) do list[i] = { row = row, lift = row.lift, leg = by[row.line] } end
  return list
end

-- What fasteners have of each head where what presses it lies on the post: { row, lift, bound = no less than all of it,
-- as a plain number }, the largest bound first.
local function on_sides(at)
  local hangs = given(tilted.rack(at), "rafter_on") == "side"    -- then nothing lies on the post's head
  local list, rows = {}, demand.heads(at)
  for i = 1, #rows do
    local row = rows[i]
    local up = (hangs or row.up > 0) and row.up or 0
    list[i] = { row = row, lift = up ~= 0 and row.lift or none, bound = math.abs(up) + row.push, number = i }
  end
  table.sort(list, function(a, b) return a.bound > b.bound or a.bound == b.bound and a.number < b.number end)
  return list
end

-- Nobody writes into it.
function demand.side_heads(at)
  return memo.remember(record.inside[at], "what fasteners of its heads have", function() return on_sides(at) end)
end

-- All of it, as joint_force takes it: with the angles to the grain of post and rafter.
function demand.on_head(at, head)
  return { along = host.abs(head.lift), across = head.row.side, lean = upright - at.tilt }
end

-- Of the head whose fasteners have most.
function demand.hardest_head(at)
  local most, input = none, nil
  for _, head in ipairs(demand.side_heads(at)) do
    if not (head.bound > host.si(most)) then break end
    local now = demand.on_head(at, head)
    local force = calc.joint_force(now).force
    if force > most or not input then most, input = force, now end
  end
  return input or { along = none, across = none, lean = upright - at.tilt }
end

-- ---- braces --------------------------------------------------------------------------------------------------------

local function worked_braces(at)
  local list = {}
  for _, row in ipairs(at.frames.strains) do
    if row.part == "brace" then
      list[#list + 1] = { duration = lasting[row.duration], axial = row.axial,
          words = function() return "station " .. math.tointeger(row.station) .. ": " .. told(at, row) end }
    end
  end
  return list
end

-- What legs do along the row is not known.
function demand.refuse_row(at)
  if tilted.rack(at) ~= at and next(import("seasons.held").legs(at)) then
    members.uncovered("legs hold the modules of " .. tilted.title(at) .. ": what braces along the row have then is " ..
        "not worked out here")
  end
end

-- Those along the row: as it is pushed either way, each kind is pressed and pulled by the most that one of it has.
local function worked_along(at)
  local by, list = {}, {}
  demand.refuse_row(at)
  for _, x in ipairs(import("loads.along").struts(at)) do
    local entry = x.brace.entry
    local most = by[entry]
    if not most or x.force > most.force then by[entry] = x end
  end
  for entry, x in host.sorted(by) do
    local function words() return "brace " .. x.brace.name .. ", the row pushed along" end
    for _, axial in ipairs { x.force, none - x.force } do
      list[#list + 1] = { duration = lasting.wind, entry = entry, axial = axial, words = words }
    end
  end
  return list
end

-- What the braces of a joint have; of those along the row entry: of which kind.
function demand.braces(joint, at)
  return joint.of == "braces" and worked_braces(at) or worked_along(at)
end

-- ---- rails on rafters ----------------------------------------------------------------------------------------------

-- The most of the row that one rafter carries: of rails that run through, and as if they were cut over it; and the most
-- whose snow it carries.
local function most_of_row(at)
  local rack, most = tilted.rack(at), nil
  local own = given(rack, "rafters")
  local function put(length) if length and (not most or length > most) then most = length end end
  local snow = host.si(at.snow_load) > 0
  if own and given(own, "count") then
    local places = {}
    for i, s in ipairs(rack.rafter_places.stations) do
      places[i] = s.offset
      put(s.tributary)
    end
    for _, length in pairs(import "loads.carried" (rack, places)) do put(length) end
    local all = most
    for _, length in pairs(snow and import "loads.carried" (rack, places, record.root.codes.loads) or {}) do
      put(length)
    end
    return all, most
  end
  for _, s in ipairs(rack.shares) do put(s.taken) end
  local all = most
  for _, s in ipairs(snow and rack.snow_shares or {}) do put(s.taken) end
  return all, most
end

-- The most of all wind square to the modules: the frames' pressures, or that of corners and edges on so small an area.
local function pressures(at, area)
  local zones = loaded.zones(at, area)
  local lift, push, by = zones.lift, zones.push, "corners and edges"
  for i, c in ipairs(at.wind_cases) do
    for _, p in ipairs { c.low, c.high } do
      if -1 * p > lift then lift, by = -1 * p, cases.words(at.wind_cases, i) end
      if p > push then push = p end
    end
  end
  return lift, push, by
end

-- Those of a list of pulls and forces across that no other exceeds in both under loads that last as long: a screw is
-- never used more by less of either.
local function most(list, pull, across)
  local left = {}
  for i = 1, #list do
    local a, beaten = list[i], false
    local duration, up, along = a.duration, a[pull], a[across]
    for k = 1, #list do
      local b = list[k]
      if b.duration == duration and b[pull] >= up and b[across] >= along and k ~= i and
          (k < i or b[pull] > up or b[across] > along) then
        beaten = true
        break
      end
    end
    if not beaten then left[#left + 1] = a end
  end
  return left
end

-- What lifts heads and pushes them sideways, to be judged by pull and side force together.
function demand.pulled_heads(at)
  local list = {}
  for i, r in ipairs(demand.heads(at)) do
    list[i] = { duration = r.duration, line = r.line, lift = r.lift, side = r.side, up = r.up > 0 and r.up or 0,
        push = r.push, words = r.words }
  end
  return most(list, "up", "push")
end

-- One joint of a rail and a rafter under each combination and wind: square to the modules, and along the slope.
function demand.rails(at)
  local rack, row, snowed = tilted.rack(at), most_of_row(at)
  local carried, edition = loaded.rail_loads(at).height * row, record.root.codes.loads
  local lift, push, by = pressures(at, carried)
  local list = {}
  -- Of the frame, rafters and braces hold down no rail; down the slope all of the weight counts.
  for i, row in ipairs(calc.crossing_loads { edition = edition, tilt = at.tilt,
      area = rack.slope_length * rack.row_width, weight = rack.frame_weight_most,
      weight_least = rack.module_mass * pound, snow = at.snow_load * (snowed / row), push = push, lift = lift,
      least = host.fact("pressure_least", edition), carried = carried }.rows) do
    local up, slides, wind = row.lift > none and row.lift or none, host.abs(row.along), row.wind
    list[i] = { duration = lasting[row.duration], lift = up, along = slides, up = host.si(up), slides = host.si(slides),
        words = function() return row.combination .. ", " .. (wind == "wind that lifts" and by or wind) end }
  end
  return most(list, "up", "slides")
end

-- Of one of these the two parts together, as joint_force takes them.
function demand.on_rail(row) return { along = row.along, across = row.lift } end

function demand.hardest_rail(at)
  local most, input = none, demand.on_rail { along = none, lift = none }
  for _, row in ipairs(demand.rails(at)) do
    local now = demand.on_rail(row)
    local force = calc.joint_force(now).force
    if force > most then most, input = force, now end
  end
  return input
end

-- What f(at) gives for joint_force, of a rack where it is most, as it stands.
function demand.anywhere(rack, f)
  local stands, most, input = tilted.stands(rack), nil, nil
  if not stands[2] then return f(stands[1]) end
  for _, at in ipairs(stands) do
    local now = f(at)
    local force = calc.joint_force(now).force
    if not most or force > most then most, input = force, now end
  end
  return input
end

return demand
