-- SPDX-License-Identifier: MIT
-- The row pushed along itself: its lines of posts, part by part between expansion joints, what pushes them, and how far
-- posts and braces are used.  What pushes it is the same in each position of its modules (at): seen from the row's end
-- they are as long and as thick; what presses and bends its posts meanwhile is not.
local record = import "model.record"
local memo = import "model.memo"
local feet = import "structure.feet"
local lines = import "structure.lines"
local plan = import "rails.plan"
local stiffness = import "loads.stiffness"
local members = import "loads.members"
local tilted = import "structure.tilted"
local along = {}

local given = record.given
local no_force, no_area = host.quantity(0.0, "force"), host.quantity(0.0, "area")

-- ---- its lines -----------------------------------------------------------------------------------------------------

local function posts_by_line(rack)
  local by = {}
  for p in record.each(rack.post) do
    local list = by[p.letter] or {}
    by[p.letter], list[#list + 1] = list, p
  end
  return by
end

-- Those of one part with posts in it, behind `from` and up to `to`, each with the share of the slope that is nearest to
-- it.
local function of_part(rack, by, from, to)
  local list = {}
  for i, line in ipairs(lines.of(rack)) do
    local posts = {}
    for _, p in ipairs(by[line.letter] or {}) do
      local at = p.offset + rack.end_allowance
      if (not from or at > from) and (not to or at <= to) then posts[#posts + 1] = p end
    end
    if #posts > 0 then
      list[#list + 1] = { order = i, letter = line.letter, fraction = line.fraction, posts = posts }
    end
  end
  for i, x in ipairs(list) do
    local low = i > 1 and (list[i - 1].fraction + x.fraction) / 2 or 0
    local high = i < #list and (x.fraction + list[i + 1].fraction) / 2 or 1
    x.share = high - low
  end
  return list
end

-- { part, share, order = which line of the rack, letter, posts } of each line of each part.
function along.lines(rack)
  return memo.remember(record.inside[rack], "lines along the row", function()
    local list, by, part = {}, posts_by_line(rack), 0
    local runs = plan.parted(rack) and rack.rail_runs or { false }
    for i, run in ipairs(runs) do
      -- a post in the gap of a joint goes with the part that is nearer
      local some = of_part(rack, by, i > 1 and (runs[i - 1].to + run.from) / 2 or nil,
          i < #runs and (run.to + runs[i + 1].from) / 2 or nil)
      if #some > 0 then part = part + 1 end
      for _, x in ipairs(some) do
        x.part, list[#list + 1] = part, x
      end
    end
    return list
  end)
end

-- The lines that nothing holds along the row, by name.
function along.loose(rack)
  local held = {}
  for p in record.each(rack.post) do
    if not feet.hinged(feet.footing(p)) then held[p.letter] = true end
  end
  if given(rack, "braces") then
    for b in record.each(rack.brace) do
      local foot, head = rack.post[b.foot], rack.post[b.head]
      if foot.letter == head.letter then held[foot.letter] = true end
    end
  end
  local list = {}
  for _, line in ipairs(lines.of(rack)) do if not held[line.letter] then list[#list + 1] = line.name end end
  return list
end

-- ---- what pushes it ------------------------------------------------------------------------------------------------

-- The side of a post that is seen from the row's end.
local function side_of_post(rack, line)
  local made = feet.made(rack, line)
  local pole = given(made, "part")
  return pole and pole.width or calc.dressed { section = made.size }.depth
end

-- Posts and beams of each line once, and one brace of each kind between lines: what stands behind is hidden.
local function seen_below(rack)
  local sum, sides = no_area, {}
  local beam = given(rack, "beam") and calc.dressed { section = rack.beam }.breadth * rack.plumb_stack
  for _, line in ipairs(lines.of(rack)) do
    local tallest
    for p in record.each(rack.post) do
      if p.letter == line.letter and (not tallest or p.above_ground > tallest) then tallest = p.above_ground end
    end
    local own = feet.own(rack, line.name) and line.name or 1
    sides[own] = sides[own] or side_of_post(rack, line.name)
    sum = sum + sides[own] * tallest
    if beam then sum = sum + beam end
  end
  local told = {}
  for b in record.each(given(rack, "braces") and rack.brace or {}) do
    if not told[b.entry] and rack.post[b.foot].letter ~= rack.post[b.head].letter then
      told[b.entry], sum = true, sum + calc.dressed { section = b.size }.depth * b.cut_length
    end
  end
  return sum
end

-- The rack as it is seen from the end of its row: modules, rails and rafters as if solid.
function along.end_area(rack)
  local frame = rack.modules.frame
  for _, x in ipairs(import("modules.models").of(rack)) do if x.module.frame > frame then frame = x.module.frame end end
  return rack.slope_length * (rack.stack_depth + frame) + seen_below(rack)
end

-- What slant_wind is asked of a row that slopes: all cases, on the longest part between expansion joints.
function along.slanted(rack)
  local winds = {}
  for i, c in ipairs(rack.wind_cases) do winds[i] = { low = c.low, high = c.high } end
  return { winds = winds, slope_length = rack.slope_length,
      length = plan.parted(rack) and rack.parting.longest or rack.row_width, rise = rack.row_slope, tilt = rack.tilt }
end

-- ---- frames --------------------------------------------------------------------------------------------------------

-- Footings of holes turn in them; what stands otherwise has no depth here.
local function depth(p)
  return feet.in_hole(p) and p.embedment or feet.depth(feet.footing(p)) or host.literal "0in"
end

local function bending(post)
  if not post.width or post.width == post.depth then return post.inertia end
  return calc.outline { shape = "rectangle", width = post.depth, depth = post.width }.inertia
end

local function braces_of(rack, list)
  local rows, its = {}, {}
  if not given(rack, "braces") then return rows, its end
  for i, x in ipairs(list) do
    local number = {}
    for k, p in ipairs(x.posts) do number[p.name] = k end
    for b in record.each(rack.brace) do
      if number[b.foot] and number[b.head] then
        local entry = rack.braces[b.entry]
        rows[#rows + 1] = { line = i, foot = number[b.foot], head = number[b.head], low = entry.low,
            high = entry.high }
        its[#its + 1] = b
      end
    end
  end
  return rows, its
end

-- What row_frame is asked under such a push, as the rack stands.
function along.frame(at, push)
  local rack = tilted.rack(at)
  if rack ~= at then import("seasons.held").refuse_along(at) end
  local list = along.lines(rack)
  local shares, posts = {}, {}
  for i, x in ipairs(list) do
    shares[i] = { part = x.part, share = x.share }
    local line = x.posts[1].line
    local own = feet.own(rack, line) and stiffness.own_post(rack, line)
    for _, p in ipairs(x.posts) do
      posts[#posts + 1] = { line = i, at = p.plan_offset, top = p.ground + p.above_ground, height = p.above_ground,
          depth = depth(p), hinged = feet.hinged(feet.footing(p)) and 1 or 0, pressed = tilted.post(at, p).pressed,
          e = own and own.e or nil, area = own and own.area or nil,
          inertia = own and bending(own) or nil }
    end
  end
  local post, braces = stiffness.own_post(rack), braces_of(rack, list)
  local brace = #braces > 0 and stiffness.brace(rack) or nil
  return { push = push, post_e = post.e, post_area = post.area, post_inertia = bending(post),
      brace_e = brace and brace.e, brace_area = brace and brace.area, lines = shares, posts = posts,
      braces = braces }
end

-- ---- how far it is used --------------------------------------------------------------------------------------------

-- The cases: least wind on its end, when nothing blows across it; wind on a row that slopes, whatever it does across.
-- share: of the push under which the frames were worked out.
function along.cases(rack)
  local list, push = { { words = "least wind on its end", calm = true, share = rack.end_push / rack.row_push } },
      rack.row_push
  if given(rack, "row_slope") ~= nil then
    list[2] = { words = "wind on the modules of a row that slopes", share = rack.slant_push / push }
  end
  return list
end

local function nothing()
  local no_moment = host.quantity(0.0, "moment")
  return { calm = { moment = no_moment, shear = no_force }, any = { moment = no_moment, shear = no_force } }
end

-- The most that posts of each line are bent and sheared across the row meanwhile, by its order: { calm = { moment,
-- shear }, any }, calm of combinations without wind.
local function across(at)
  local rack, by = tilted.rack(at), {}
  local driven = members.driven(rack)
  local function put(most, moment, shear)
    if moment > most.moment then most.moment = moment end
    if shear > most.shear then most.shear = shear end
  end
  for _, row in ipairs(at.frames.strains) do
    if row.part ~= "post" then break end                       -- they come first
    local order = math.tointeger(row.line)
    local of = by[order] or nothing()
    by[order] = of
    local moment, shear = members.bent_below(rack, driven, row), row.shear
    put(of.any, moment, shear)
    if not members.windy(row) then put(of.calm, moment, shear) end
  end
  return by
end

-- What bends a post most along the row; of a driven one below the ground, and how deep.
function along.bends(rack, post, row)
  local footing = feet.footing(post)
  if feet.kind(footing) ~= "driven" then return row.bending end
  local deep = import("loads.buried").of(footing, rack, row.shear, row.bending)
  return deep.moment, deep.at
end

-- What strains posts, by line and case: { order, words, moment, axial, shear, weak, below } each.
local function strained(stands)
  return memo.remember(record.inside[stands], "strains of posts along the row", function()
    local rack = tilted.rack(stands)
    local list, feet_rows, first = {}, stands.row_frame.feet, 0
    local by, cases = across(stands), along.cases(rack)
    for _, x in ipairs(along.lines(rack)) do
      local most = feet_rows[first + 1]
      local bent, shear, lifts, pressed, below = most.bending, most.shear, most.lifts, no_force, nil
      for k, p in ipairs(x.posts) do
        local row = feet_rows[first + k]
        local bends, deep = along.bends(rack, p, row)
        if bends > bent then bent = bends end
        if deep and (not below or deep > below) then below = deep end
        if row.shear > shear then shear = row.shear end
        if row.lifts > lifts then lifts = row.lifts end
        local presses = tilted.post(stands, p).pressed
        if presses > pressed then pressed = presses end
      end
      first = first + #x.posts
      for _, c in ipairs(cases) do
        local meanwhile = (by[x.order] or nothing())[c.calm and "calm" or "any"]
        list[#list + 1] = { order = x.order, words = "post " .. x.letter .. ", " .. c.words,
            moment = meanwhile.moment, axial = pressed + lifts * c.share, shear = meanwhile.shear + shear * c.share,
            weak = bent * c.share, below = below }
      end
    end
    return list
  end)
end

-- Posts, by line and case: { words, worked }, the one that is used most first.
function along.posts(stands)
  return memo.remember(record.inside[stands], "posts along the row", function()
    local list, bears = {}, members.post_bears(tilted.rack(stands))
    for _, s in ipairs(strained(stands)) do
      local at = { words = s.words, worked = bears(s.order, "wind", { moment = s.moment, axial = s.axial,
          shear = s.shear, weak = s.weak, below = s.below }) }
      table.insert(list, list[1] and at.worked.worst > list[1].worked.worst and 1 or #list + 1, at)
    end
    return list
  end)
end

-- How far the worst of them would be used where so much of its section is left, and of its moduli across the row and
-- along it: what strains it most anywhere counts as if it did so there.
function along.posts_at_holes(stands, area, across_row, along_row)
  local worst, bears = 0, members.post_bears(tilted.rack(stands))
  for _, s in ipairs(strained(stands)) do
    local used = bears(s.order, "wind", { moment = s.moment / across_row, axial = s.axial / area,
        shear = s.shear / area, weak = s.weak / along_row, below = s.below }).worst
    if used > worst then worst = used end
  end
  return worst
end

-- Braces along the row, each with the most that presses and pulls it: { brace, force }.
function along.struts(stands)
  local list, frame, rack = {}, stands.row_frame, tilted.rack(stands)
  local _, its = braces_of(rack, along.lines(rack))
  for i, b in ipairs(its) do list[i] = { brace = b, force = frame.struts[i].force } end
  return list
end

-- Each pressed and pulled by that, where so much of its section is left; f(brace, way, worked).
local function bear(stands, area, f)
  local rack = tilted.rack(stands)
  for _, x in ipairs(along.struts(stands)) do
    local b, force = x.brace, x.force / area
    local bears, length = stiffness.lumber(b.size, rack.rafter_species, rack.rafter_grade), b.bolt_spacing
    for _, way in ipairs { { force, "pressed" }, { no_force - force, "pulled" } } do
      f(b, way[2], bears("ten minutes", { axial = way[1], length_strong = length, length_weak = length }))
    end
  end
end

function along.braces(stands)
  return memo.remember(record.inside[stands], "braces along the row", function()
    local list = {}
    bear(stands, 1, function(b, way, worked)
      table.insert(list, list[1] and worked.worst > list[1].worked.worst and 1 or #list + 1,
          { words = "brace " .. b.name .. ", " .. way, worked = worked })
    end)
    return list
  end)
end

-- How far the worst of them is used at its holes.
function along.braces_at_holes(stands, area)
  local worst = 0
  bear(stands, area, function(_, _, worked) if worked.worst > worst then worst = worked.worst end end)
  return worst
end

-- What each foot carries along the row, by the post's name: { push, push_moment, moment, moment_push, lifts, of }.
function along.feet(stands)
  return memo.remember(record.inside[stands], "feet along the row", function()
    local by, rows, k = {}, stands.row_frame.feet, 0
    local function of(p) return by[p.name] end
    for _, x in ipairs(along.lines(tilted.rack(stands))) do
      for _, p in ipairs(x.posts) do
        k = k + 1
        local f = rows[k]
        by[p.name] = { push = f.push, push_moment = f.push_moment, moment = f.moment, moment_push = f.moment_push,
            lifts = f.lifts, of = of }
      end
    end
    return by
  end)
end

return along
