-- SPDX-License-Identifier: MIT
-- What bolts and lag screws do to the wood around them: rows and groups torn out along the grain, towards the end of a
-- member, and members split across it where the fasteners press towards an edge.
--
-- A load at an angle counts by its two parts.  What shears a member at its fasteners is what the frames tell of a
-- rafter beside a head; elsewhere all that the fasteners press across the grain, as if it went to one side.  The edge
-- that is nearest counts as the one that is pressed.
local record = import "model.record"
local tilted = import "structure.tilted"
local members = import "joints.members"
local demand = import "joints.demand"
local fastener = import "joints.fastener"
local stiffness = import "loads.stiffness"
local tearing = {}

local given, wants = record.given, fastener.wants
local function edition() return record.root.codes.wood end

-- ---- how fasteners lie in a member ---------------------------------------------------------------------------------

-- A member as fasteners go through it: wide along them, deep across its grain the way they press; thick: the wood in
-- which they stand, where that is not all of it.
local function bored(joint, of, wide, deep, to_end, thick)
  return { of = of, wide = wide, thick = thick or wide, deep = deep, to_end = to_end, row = "row_in_" .. of.name,
      most = {},
      edge = wants(joint, "edge_of_" .. of.name, "how near to the edge of the " .. of.name ..
          " its fasteners are is not said") }
end

-- The wood in which a screw stands; a bolt goes through all of it.
local function into(joint, rack, thick)
  local length = given(joint, "length")
  if not length then return thick end
  local left, washer = length - members.passed(joint, rack), given(joint, "washer")
  if washer then left = left - washer end
  return left < thick and left or thick
end

-- Each way in which rows may lie, along the grain or across it, as if rows ran along: { n, rows, spacing, row_spacing,
-- reach } each.  Of unlike rows the shorter ones count.
local function ways_of(joint, m)
  local rows = given(joint, "rows") or 1
  local n = joint.count // rows
  local s = n > 1 and wants(joint, "spacing", "how far apart its fasteners stand in a row is not said") or nil
  local g = rows > 1 and wants(joint, "row_spacing", "how far apart its rows of fasteners stand is not said") or nil
  local said, list = joint.count > 1 and given(joint, m.row) or nil, {}
  local function put(along, beside, spacing, row_spacing)
    local extent = row_spacing and (beside - 1) * row_spacing or 0 * m.edge
    if not (2 * m.edge + extent > m.deep * (1 + 1e-9)) then
      list[#list + 1] = { n = along, rows = beside, spacing = spacing, row_spacing = row_spacing,
          reach = m.edge + extent }
    end
  end
  if said ~= "across" then put(n, rows, s, g) end
  if said == "across" or not said and n ~= rows then put(rows, n, g, s) end
  return list
end

local function newton(x) return host.quantity(x, "force") end

-- What a force, and one square to it, are along the grain of a member and across it.
local function parts(force, beside, angle)
  local at = calc.grain_parts { force = newton(force), beside = newton(beside), angle = angle }
  return host.si(at.along), host.si(at.across)
end

-- So much pulls along the grain, and so much shears the member, as plain numbers.
local function load(m, duration, along, across, words)
  local at = m.most[duration] or { along = 0, across = 0 }
  m.most[duration] = at
  if along > at.along then at.along, at.along_by = along, words end
  if across > at.across then at.across, at.across_by = across, words end
end

-- ---- what comes to them --------------------------------------------------------------------------------------------

-- Only what lifts and pushes is left to the fasteners of a rafter that lies on its post: what presses square to it goes
-- through its lower edge, as far as a push does not turn that into a pull.
local function of_heads(joint, rack, at)
  if given(rack, "beam") then
    members.uncovered("the rafters of " .. tostring(rack) .. " lie on beams: what joins these to rafters and posts " ..
        "is not kept here")
  end
  local joined, post, rafter = import "joints.judged", members.post(rack), members.rafter(rack)
  local to_end = joined.rafter_end(rack)
  if members.way(joint, rack) == "through" then             -- screws along the post's grain tear out of nothing
    local m = bored(joint, rafter, rafter.depth, rafter.breadth, to_end)
    for _, row in ipairs(demand.heads(at)) do
      load(m, row.duration, parts(row.push, 0, at.tilt), 0, row.words)
    end
    return { m }
  end
  local plates = members.way(joint, rack) == "plates"
  local in_post = bored(joint, post, post.breadth, post.depth,
      wants(joint, "end_of_post", "how near to the top of the post its fasteners are is not said"),
      into(joint, rack, post.breadth))
  local in_rafter = bored(joint, rafter, rafter.breadth, rafter.depth, to_end,
      plates and into(joint, rack, rafter.breadth))
  local hangs = given(rack, "rafter_on") == "side"
  for _, row in ipairs(demand.heads(at)) do
    load(in_post, row.duration, row.up > 0 and row.up or 0, row.push, row.words)
    local along, across = parts(row.push, hangs and math.abs(row.up) or row.up, at.tilt)
    if (row.up > 0 or hangs and row.up < 0) and row.shear then across = host.si(row.shear) end
    load(in_rafter, row.duration, along, across, row.words)
  end
  return { in_post, in_rafter }
end

-- A leg is pulled along its grain alone; at its head a rafter has all that this presses across it.
local function of_pins(joint, rack, at)
  if not demand.on_pins(at) then return {} end
  local leg, post, rafter = members.leg(rack), members.post(rack), members.rafter(rack)
  local to_end = import("joints.judged").rafter_end(rack)
  local in_post = bored(joint, post, post.breadth, post.depth,
      wants(joint, "end_of_post", "how near to the top of the post its pin is is not said"))
  local in_leg = bored(joint, leg, leg.breadth, leg.depth,
      wants(joint, "end_of_leg", "how near to the end of a leg its pin is is not said"))
  local in_rafter = bored(joint, rafter, rafter.breadth, rafter.depth, to_end)
  for _, x in ipairs(demand.pins(at)) do
    local row = x.row
    load(in_post, row.duration, row.up > 0 and row.up or 0, row.push, row.words)
    local force = calc.joint_force(demand.on_head(at, x))
    local size = host.si(force.force)
    if x.leg and row.up > 0 then load(in_leg, row.duration, size, 0, row.words) end
    local along, across = parts(size, 0, force.leaning_angle)
    load(in_rafter, row.duration, along, not x.leg and row.shear and host.si(row.shear) or across, row.words)
  end
  return { in_post, in_leg, in_rafter }
end

local function of_rails(joint, rack, at)
  local rail, rafter = members.rail(rack), members.rafter(rack)
  local rafter_end, rail_end = import("joints.judged").rail_ends(rack)
  local wide, high = rail.flat and rail.depth or rail.breadth, rail.flat and rail.breadth or rail.depth
  local plates = members.way(joint, rack) == "plates"
  local through = plates and rafter.breadth or rafter.depth
  local in_rafter = bored(joint, rafter, through, plates and rafter.depth or rafter.breadth, rafter_end,
      into(joint, rack, through))
  local in_rail = plates and bored(joint, rail, wide, high, rail_end, into(joint, rack, wide)) or
      bored(joint, rail, high, wide, rail_end)
  for _, row in ipairs(demand.rails(at)) do
    load(in_rafter, row.duration, row.slides, plates and row.up or 0, row.words)
    load(in_rail, row.duration, 0, plates and row.up or row.slides, row.words)
  end
  return { in_rafter, in_rail }
end

-- Of each kind the flattest and the steepest brace, with the most that any carries.
local function of_braces(joint, rack, stands)
  local all, post = {}, members.post(rack)
  local plates = members.way(joint, rack) == "plates"
  for _, at in ipairs(members.braces(joint, rack)) do
    local entry, brace = rack.braces[at.entry], members.brace(rack, at.entry)
    local in_post = bored(joint, post, post.breadth, post.depth, members.brace_to_end(rack, at.entry),
        into(joint, rack, post.breadth))
    local in_brace = bored(joint, brace, brace.breadth, brace.depth, given(entry, "past") or host.fact "brace_end",
        plates and into(joint, rack, brace.breadth))
    for _, row in ipairs(demand.braces(joint, stands)) do
      if row.entry == nil or row.entry == at.entry then
        local axial = host.si(row.axial)
        local size = math.abs(axial)
        local along, _ = parts(size, 0, fastener.across - at.steep)
        local _, across = parts(size, 0, fastener.across - at.flat)
        load(in_post, row.duration, along, across, row.words)
        if axial < 0 then load(in_brace, row.duration, size, 0, row.words) end
      end
    end
    all[#all + 1], all[#all + 2] = in_post, in_brace
  end
  return all
end

local function of_feet(joint, rack, at)
  local foot, post = import "joints.foot", members.post(rack)
  local m = bored(joint, post, post.breadth, post.depth,
      wants(joint, "end_of_post", "how near to the lower end of the post its fasteners are is not said"),
      into(joint, rack, post.breadth))
  for p in tilted.posts(at) do
    if foot.is_tied(p) then
      load(m, "ten minutes", host.si(p.foot_lift), host.si(p.lateral), function() return "post " .. p.station end)
    end
  end
  return { m }
end

-- What of a splice's rail, and of a board over it, is sheared there; two rows pull along the grain, one each way, with
-- what turns them.
local function of_splices(joint, rack, at)
  local rail, boards = members.rail(rack), given(joint, "boards")
  if rail.flat then
    members.uncovered("the rails of " .. tostring(rack) .. " lie flat: what holds a splice of these is not kept here")
  end
  if rack.splices == 0 then return {} end
  local beams, loaded = import "loads.rail_beams", import "loads.members"
  local sides = given(joint, "planes") == 2 and 2 or 1
  local to_end = wants(joint, "end_of_rail", "how near to the end of the rail its fasteners are is not said")
  local list = { bored(joint, rail, rail.breadth, rail.depth, to_end) }
  if boards then
    local d = calc.dressed { section = boards }
    local m = bored(joint, rail, d.breadth, d.depth, to_end)
    m.of = { name = "board", size = boards, word = rail.word, grade = rail.grade }
    m.edge, m.share = m.edge + (d.depth - rail.depth) / 2, 1 / sides
    if not (host.si(m.edge) > 0) then return {}, "its fasteners miss the boards, centred on the rail" end
    list[2] = m
  end
  local lasting = { dead = "permanent", snow = "two months", wind = "ten minutes" }
  for _, run in ipairs(beams.runs(rack)) do
    local strains = beams.strains(rack, run)
    for _, place in ipairs(run.splices) do
      local _, shear = strains(place)
      for lasts, l in host.sorted(loaded.rail_loads(at).by) do
        local force = host.si(host.abs(l.load) / beams.one * shear)
        local function words() return "splice " .. import("write.words").show(run.from + place) ..
            " from the west end: " .. l.combination end
        for _, m in ipairs(list) do load(m, lasting[lasts], 0, force * (m.share or 1), words) end
      end
    end
  end
  local rows = given(joint, "rows") or 1
  if rows > 1 then
    local g = calc.splice_group(import("joints.splices").hardest(at))
    local pull = joint.count // rows * host.si(g.along)
    for _, m in ipairs(list) do
      load(m, "two months", pull * (m.share or 1), 0, function() return "the row that turning pulls most" end)
      m.one_row = true
    end
  end
  return list
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local parts_of = { ["rafters on posts"] = of_heads, ["pins of turned rafters"] = of_pins,
    ["rails on rafters"] = of_rails, braces = of_braces,
    ["braces along the row"] = of_braces,
    ["posts on footings"] = of_feet, ["rail splices"] = of_splices }

local function torn(joint, m, way, bears, force)
  local out = calc.tear_out { shear = bears.shear, tension = bears.tension, thickness = m.thick, kind = joint.fastener,
      size = joint.size, count = way.n, rows = m.one_row and 1 or way.rows, spacing = way.spacing,
      row_spacing = not m.one_row and way.row_spacing or nil, to_end = m.to_end, pull = newton(force),
      edition = edition() }
  return out.used, out.governs == "group" and "torn out along its grain in one piece" or
      "torn out along its grain, row by row"
end

local function split(_, m, way, bears, force)
  return calc.split_across { stress = bears.shear, width = m.wide, depth = m.deep, reach = way.reach,
      to_end = m.to_end, shear = newton(force), edition = edition() }.used,
      "split where its fasteners press across the grain"
end

-- The largest first; one of less than half of it is not asked: no duration halves what wood holds.
local function largest(m, kind)
  local list = {}
  for duration, l in host.sorted(m.most) do
    if l[kind] > 0 then list[#list + 1] = { duration = duration, force = l[kind], by = l[kind .. "_by"] } end
  end
  table.sort(list, function(a, b) return a.force > b.force or a.force == b.force and a.duration < b.duration end)
  while #list > 1 and 2 * list[#list].force < list[1].force do list[#list] = nil end
  return list
end

local function worst_of(joint, m, at)
  if not (host.si(m.edge) > 0) then
    members.uncovered("what is left of a " .. m.of.name .. " at fasteners in its very edge is not worked out here")
  end
  if not (host.si(m.to_end) > 0) then
    members.uncovered("what is left of a " .. m.of.name .. " at fasteners in its very end is not worked out here")
  end
  local ways = ways_of(joint, m)
  if not ways[1] then at.fails = at.fails or "its fasteners do not fit between the edges of the " .. m.of.name end
  local bears = stiffness.lumber(m.of.size, m.of.word, m.of.grade)
  for kind, work in host.sorted { along = torn, across = split } do
    for _, l in ipairs(ways[1] and largest(m, kind) or {}) do
      local stresses = bears(l.duration, {})
      for _, way in ipairs(ways) do
        local used, what = work(joint, m, way, stresses, l.force)
        if used > at.used then at.used, at.words = used, "the " .. m.of.name .. " " .. what .. ", " .. l.by() end
      end
    end
  end
end

-- How far the wood around the fasteners of a joint is used, as a rack stands: { used, words }, or { fails = why }.
function tearing.of(joint, stands)
  local at = { used = 0, words = "nothing pulls at the wood around its fasteners" }
  local list, fails = parts_of[joint.of](joint, tilted.rack(stands), stands)
  at.fails = fails
  for _, m in ipairs(list) do worst_of(joint, m, at) end
  return at
end

return tearing
