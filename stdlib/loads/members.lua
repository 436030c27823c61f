-- SPDX-License-Identifier: MIT
-- How far the members of a rack are used: each where it is strained most, by the strength of what it is of.
local run = import "model.run"
local record = import "model.record"
local memo = import "model.memo"
local graph = import "model.graph"
local feet = import "structure.feet"
local lines = import "structure.lines"
local plan = import "rails.plan"
local models = import "modules.models"
local stiffness = import "loads.stiffness"
local cases = import "loads.cases"
local beams = import "loads.rail_beams"
local tilted = import "structure.tilted"
local members = {}

local given = record.given
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass
local lasting = { dead = "permanent", snow = "two months", wind = "ten minutes" }
local durations = { "dead", "snow", "wind" }
local everywhere = "snow on all spans"                       -- of partial_snow's patterns
local none = host.quantity(0.0, "force")
local function effective(length, key) return length * host.fact(key, record.root.codes.wood) end

local function tallest(rack, letter)
  local most
  for p in record.each(rack.post) do
    if not letter or p.letter == letter then
      local above = p.above_ground
      if not most or above > most then most = above end
    end
  end
  return most
end

-- Whether each station has a brace between its lines that reaches near a head, to its upper quarter: then heads do not
-- move across the row.
local function braced_across(rack)
  local held, count = {}, 0
  if not given(rack, "braces") then return false end
  for b in record.each(rack.brace) do
    local foot, head = rack.post[b.foot], rack.post[b.head]
    local near = rack.braces[b.entry].high * 4 <= head.above_ground
    if foot.number == head.number and near and not held[foot.number] then
      held[foot.number], count = true, count + 1
    end
  end
  return count == rack.stations
end

-- How far each kind of member is used: a function of a row of side_frames.

-- What bends a post most, and what is added as the ground gives way, which no paper's load says.
function members.bent(row)
  local leaning, moment = row.leaning, row.moment
  return leaning and moment + leaning or moment
end

-- The footings of driven posts by line, or nil where there are none: what bends these most lies below the ground.
function members.driven(rack)
  local by
  if not feet.has_other(rack) then return nil end
  for _, g in ipairs(feet.of_rack(rack)) do
    if feet.kind(g.footing) == "driven" then
      by = by or {}
      local told = {}
      for _, p in ipairs(g.posts) do
        local letter = p.letter
        local of = by[letter] or {}
        by[letter] = of
        if not told[letter] then of[#of + 1], told[letter] = g.footing, true end
      end
    end
  end
  return by
end

-- What bends a row's post most, and how deep below the ground that is; nil at or above it. Where it is not said which
-- post that is, any of its line may be the one that is bent most, whatever it stands in.
function members.bent_below(rack, by, row, post)
  local bent = members.bent(row)
  local moment, below = bent, nil
  if by then
    local at = by[lines.of(rack)[math.tointeger(row.line)].letter] or {}
    if post then
      local footing = feet.footing(post)
      at = feet.kind(footing) == "driven" and { footing } or {}
    end
    for _, footing in ipairs(at) do
      local deep = import("loads.buried").of(footing, rack, row.shear, bent)
      if deep.moment > moment then moment, below = deep.moment, deep.at end
    end
  end
  return moment, below
end

-- What posts of a rack bear, as a function of their line, of how long the load lasts, and of what strains them: {
-- moment, weak, axial, shear, below, method }.  weak bends them along the row.  A post stands as a cantilever: its head
-- may move along the row, and across it where no braces hold it; a driven one begins where it is bent most, below.
function members.post_bears(rack)
  local list, lengths, own = lines.of(rack), {}, {}
  local function length_of(line, below)
    local length = lengths[line] or tallest(rack, list[line].letter)
    lengths[line] = length
    return below and length + below or length
  end
  local function of_lumber(made)
    local bears = stiffness.lumber(made.size, made.species, made.grade)
    local braced = braced_across(rack)
    return function(line, duration, at)
      local length = length_of(line, at.below)
      local long = effective(length, "cantilever")
      return bears(lasting[duration], { moment = at.moment, moment_weak = at.weak, axial = at.axial, shear = at.shear,
          length_strong = braced and length or long, length_weak = long }, at.method)
    end
  end
  local function of_tube(pole)
    local tube, wall = stiffness.tube(pole)
    return function(line, _, at)
      return calc.metal { area = tube.area, plastic = tube.plastic, radius = tube.radius,
          width = wall and pole.width, wall = wall, round = pole.shape == "round",
          material = stiffness.metal_of(pole), moment = at.weak and at.moment + at.weak or at.moment, axial = at.axial,
          length = effective(length_of(line, at.below), "cantilever"), method = at.method }
    end
  end
  return function(line, ...)
    local made = feet.made(rack, list[line].name)
    local bears = own[made]
    if not bears then
      local pole = given(made, "part")
      bears = pole and of_tube(pole) or of_lumber(made)
      own[made] = bears
    end
    return bears(line, ...)
  end
end

-- Whether wind is in the combination.
function members.windy(row) return row.duration == durations[#durations] end

-- A paper's loads are of allowable level, whatever the job's method is.
local function of_posts(rack)
  local bears, by, method = members.post_bears(rack), members.driven(rack), stiffness.method()
  return function(row, post)
    local moment, below = members.bent_below(rack, by, row, post)
    return bears(math.tointeger(row.line), row.duration, { moment = moment, axial = row.axial, shear = row.shear,
        below = below, method = not post and method or nil }), below
  end
end

-- How slender the tallest post of sawn lumber stands along the row, and what a column may be; nil for poles.
function members.slender(rack)
  local most
  for _, line in ipairs(lines.of(rack)) do
    local made = feet.made(rack, line.name)
    if not given(made, "part") then
      local d = calc.dressed { section = made.size }
      local side = d.breadth < d.depth and d.breadth or d.depth
      local slender = effective(tallest(rack, line.letter), "cantilever") / side
      if not most or slender > most then most = slender end
    end
  end
  return most, most and host.fact("column_slenderness", record.root.codes.wood)
end

-- Between two heads, or beyond one: on its upper edge the rails hold it, on its lower the heads.  Sideways it is held
-- by the rails, too.
local function longest_part(rack)
  local list, slope = lines.of(rack), rack.slope_length
  local most, before = slope * list[1].fraction, list[1].fraction
  for i = 2, #list do
    local part = slope * (list[i].fraction - before)
    if part > most then most = part end
    before = list[i].fraction
  end
  local last = slope * (1 - before)
  return last > most and last or most
end

local function of_rafters(rack)
  local bears = stiffness.lumber(rack.rafter, rack.rafter_species, rack.rafter_grade)
  local length, apart = longest_part(rack), rack.slope_length / (rack.rails.lines - 1)
  local unbraced, method = effective(length, "rolling"), stiffness.method()
  return function(row)
    return bears(lasting[row.duration], { moment = row.moment, axial = row.axial, shear = row.shear,
        unbraced = unbraced, length_strong = length, length_weak = apart }, method)
  end
end

local function of_braces(rack)
  local bears = stiffness.lumber(stiffness.brace(rack).size, rack.rafter_species, rack.rafter_grade)
  local longest
  for b in record.each(rack.brace) do if not longest or b.bolt_spacing > longest then longest = b.bolt_spacing end end
  local method = stiffness.method()
  return function(row)
    return bears(lasting[row.duration], { axial = row.axial, length_strong = longest, length_weak = longest }, method)
  end
end

local work_of = { post = of_posts, rafter = of_rafters, brace = of_braces }
local function work_for(stands, part)
  if part == "leg" then return import("seasons.held").bears(stands, lasting) end
  return work_of[part](tilted.rack(stands))
end

-- What a paper gives of a post stands instead of the frame's: its side force at the head, with what presses or lifts at
-- the same time, and what presses for as long as snow lies.
local function by_paper(rack, list, line, p, paper)
  local side = p.lateral
  local function put(duration, push, axial)
    list[#list + 1] = { paper = paper, post = p, row = { part = "post", station = p.number, line = line,
        duration = duration, moment = push * p.push_height, shear = push, axial = axial } }
  end
  put("wind", side, p.pressed)
  put("wind", side, none - calc.allowable_wind { wind = p.wind_uplift, edition = record.root.codes.loads }.force)
  put("snow", none, p.pressed)
end

-- What strains a kind, { row, paper, post } each: by the frames, and where a paper says of a post, by that.
local function strains_of(at, part)
  local rack = tilted.rack(at)
  local list, said, ours = {}, nil, part ~= "post" or #run.giving == 0
  for i, line in ipairs(ours and {} or lines.of(rack)) do
    for p in record.each(rack.post) do
      local paper = p.letter == line.letter and graph.paper(p, "loads.side")
      if paper then
        said = said or {}
        said[p.number .. " " .. i] = true
        by_paper(rack, list, i, p, paper)
      else ours = ours or p.letter == line.letter end
    end
  end
  for _, row in ipairs(ours and at.frames.strains or {}) do
    if row.part == part and not (said and said[math.tointeger(row.station) .. " " .. math.tointeger(row.line)]) then
      list[#list + 1] = { row = row, worked = nil, below = nil }
    end
  end
  return list
end

-- All that is checked of a kind of a rack, or of one of its positions: { row, worked, paper, below } each, the one that
-- is used most first.
function members.checked(stands, part)
  return memo.remember(record.inside[stands], "strength of each " .. part, function()
    local list, work = {}, nil
    for _, at in ipairs(strains_of(stands, part)) do
      work = work or work_for(stands, part)
      at.worked, at.below = work(at.row, at.post)
      if list[1] and at.worked.worst > list[1].worked.worst then table.insert(list, 1, at)
      else list[#list + 1] = at end
    end
    return list
  end)
end

-- "bending", "bending with compression", ...: what governs.
function members.governs(at)
  local how = at.worked.governs
  return how:find "^with " and "bending " .. how or how
end

-- "bending of post B at station 2: D + 0.6W, B, high edge, clear; posts fixed at grade"
function members.say(stands, at)
  local rack, row = tilted.rack(stands), at.row
  local of = row.part
  if of == "post" then of = "post " .. lines.of(rack)[math.tointeger(row.line)].letter end
  local where = members.governs(at) .. " of the " .. of .. " at station " .. math.tointeger(row.station) .. ": "
  if at.below then where = where .. import("loads.buried").words(at.below) .. ", " end
  if at.paper then return where .. "by " .. import("model.given").title(at.paper) end
  return where ..
      row.combination .. ", " .. cases.words(stands.wind_cases, row.wind_case) .. "; " .. row.limit
end

-- ---- rails of lumber ------------------------------------------------------------------------------------------------

-- The height of slope that one rail carries; where nobody says where they lie, each a like share.
local function rail_height(rack)
  local at = given(rack.rails, "at")
  if not at then return rack.slope_length / rack.rails.lines end
  local list = {}
  for i = 1, #at do list[i] = at[i] end
  return calc.rail_share { side = models.up_the_slope(rack, rack.modules), rows = rack.rows, row_gap = rack.row_gap,
      rails = list }.height
end

-- Most that lifts and presses so large an area of modules, strength level, anywhere on a rack, or on one in one of its
-- positions.  Steeper than their figure goes: the more of that at its end and of the solid sign, which says nothing of
-- single modules.
function members.zones(at, area)
  local edition, listed = record.root.codes.loads, at.wind_cases         -- which refuses what the figures do not cover
  local rack, lift = tilted.rack(at), at.by_sign and listed[1].low or nil
  local push = lift
  for _, z in ipairs(calc.module_wind { edition = edition, velocity_pressure = at.velocity_pressure,
      tilt = at.by_sign and host.fact("tilt_most", edition) or at.tilt, slope_length = rack.slope_length,
      row_width = rack.row_width, mean_height = at.mean_roof_height, area = area }.zones) do
    if not lift or z.lift > lift then lift = z.lift end
    if not push or z.push > push then push = z.push end
  end
  return { lift = lift, push = push }
end

-- What presses and lifts square to such an area of its slope, by all allowable combinations, with the most that the
-- wind does there; least: what of the weight holds down against lift.
function members.square(at, area, weight, least, zones)
  return calc.slope_loads { edition = record.root.codes.loads, tilt = at.tilt, area = area, weight = weight,
      weight_least = least, snow = at.snow_load, push = zones.push, lift = zones.lift }
end

-- The longest bay of its rails, and the height of slope that each carries.
local function carried_by_rail(rack)
  local supports, span = plan.supports(rack), nil
  for i = 2, #supports do
    local bay = supports[i] - supports[i - 1]
    if not span or bay > span then span = bay end
  end
  return span or rack.row_width + 2 * rack.end_allowance, rail_height(rack)
end

-- What a rail carries for each length of it and lasting load, allowable, square to the modules; and how a load of one
-- bends it.
function members.rail_loads(at)
  return memo.remember(record.inside[at], "loads on a rail", function()
    local rack = tilted.rack(at)
    local span, height = carried_by_rail(rack)
    local third = span / 3
    local zones = members.zones(at, span * (height > third and height or third))
    local list = {}
    -- Of the frame, rafters and braces hold down no rail.
    local square = members.square(at, rack.slope_length * rack.row_width, rack.frame_weight_most,
        rack.module_mass * pound, zones)
    for _, l in ipairs(square.lasting) do
      list[l.duration] = { load = l.load * height, pressure = l.load, combination = l.combination }
    end
    local snowed = {}
    for i, l in ipairs(square.snowed) do
      snowed[i] = { duration = l.duration, load = l.others * height, snow = l.snow * height,
          combination = l.combination }
    end
    return { by = list, snowed = snowed, span = span, height = height, press = square.press * height,
        press_combination = square.press_combination }
  end)
end

-- Its rails of lumber as beams: under the most load on all of them, and under each combination with snow, which may lie
-- whole on some spans and half on the others.
function members.rail_beams(at)
  return memo.remember(record.inside[at], "its rails as beams", function()
    local rack, loads = tilted.rack(at), members.rail_loads(at)
    local rails = rack.rails
    local d = calc.dressed { section = rails.size }
    local flat = rails.face == "flat"
    local bears = stiffness.lumber(rails.size, rails.species, rails.grade)
    local width, depth = flat and d.depth or d.breadth, flat and d.breadth or d.depth
    local stiff = bears("ten minutes", {}).stiffness *
        calc.outline { shape = "rectangle", width = width, depth = depth }.inertia
    local most
    for _, lasts in ipairs(durations) do
      local l = loads.by[lasts]
      if l and (not most or host.abs(l.load) > host.abs(most.load)) then most = l end
    end
    local list = { most = most, bears = bears, flat = flat, snowed = {}, runs = {} }
    for i, run in ipairs(beams.of(rack)) do
      list.runs[i] = { supports = run.supports, beam = beams.bent(rack, run, host.abs(most.load), stiff) }
      for _, l in ipairs(loads.snowed) do
        table.insert(list.snowed, { duration = l.duration, combination = l.combination, load = l.load + l.snow,
            supports = run.supports, beam = beams.snowed(rack, run, l.load, l.snow, stiff) })
      end
    end
    return list
  end)
end

-- "D + S", or "D + S, all the snow on one outer span, half elsewhere".
function members.under_snow(combination, pattern)
  return pattern == everywhere and combination or combination .. ", " .. pattern
end

-- The most that one rail lays on what it lies on, and by which load.
function members.rail_reaction(at)
  local loads, all = members.rail_loads(at), members.rail_beams(at)
  local force, by
  local function put(reaction, words) if not force or reaction > force then force, by = reaction, words end end
  local share = loads.press / host.abs(all.most.load)
  for _, run in ipairs(all.runs) do
    for _, s in ipairs(run.beam.supports) do put(s.reaction * share, loads.press_combination) end
  end
  for _, s in ipairs(all.snowed) do
    for _, at in ipairs(s.beam.supports) do
      local partial = at.reaction > at.balanced and not host.near(host.si(at.reaction), host.si(at.balanced))
      put(at.reaction, s.combination .. (partial and ", snow whole on some spans, half on others" or ""))
    end
  end
  return force, by
end

-- Where a beam bends most for its length, an overhang by as many times its own as the code counts a cantilever.
local function bent_most(beam, supports, combination, most)
  local times = host.fact "overhang_span"
  for _, s in ipairs(beam.spans) do
    local over = s.from < supports[1] or s.to > supports[#supports]
    local length = over and times * (s.to - s.from) or s.to - s.from
    local ratio = s.deflection / length
    if not most or ratio > most.ratio then
      most = { ratio = ratio, deflection = s.deflection, length = length, over = over, combination = combination }
    end
  end
  return most
end

function members.rails(stands)
  return memo.remember(record.inside[stands], "strength of its rails", function()
    local loads, all = members.rail_loads(stands), members.rail_beams(stands)
    local most = all.most
    local list, unbraced = {}, effective(loads.span, "rolling")
    -- Of those that last as long, one that bends and shears it less than another is not asked.
    local asked = {}
    local function put(beam, share, lasts, load, combination)
      local moment = (beam.hogging > beam.sagging and beam.hogging or beam.sagging) * share
      local shear, before = beam.shear * share, asked[lasts]
      if before and moment <= before.moment and shear <= before.shear then return end
      asked[lasts] = { moment = moment, shear = shear }
      local at = { combination = combination, load = load, moment = moment, shear = shear, lasting = lasting[lasts] }
      at.worked = all.bears(at.lasting, { moment = moment, shear = shear, on_flat = all.flat, unbraced = unbraced })
      table.insert(list, list[1] and at.worked.worst > list[1].worked.worst and 1 or #list + 1, at)
    end
    local partial = {}
    for _, s in ipairs(all.snowed) do partial[s.combination] = true end
    for _, lasts in ipairs(durations) do
      local l = loads.by[lasts]                                        -- one beam under less of the same load
      if l and not partial[l.combination] then
        for _, run in ipairs(all.runs) do
          put(run.beam, host.abs(l.load / most.load), lasts, l.load, l.combination)
        end
      end
    end
    for _, run in ipairs(all.runs) do
      list.bent = bent_most(run.beam, run.supports, most.combination, list.bent)
      if not list.sag or run.beam.deflection > list.sag then list.sag = run.beam.deflection end
    end
    for _, s in ipairs(all.snowed) do
      put(s.beam, 1, s.duration, s.load, members.under_snow(s.combination, s.beam.pattern))
      list.bent = bent_most(s.beam, s.supports, s.combination, list.bent)
      if s.beam.deflection > list.sag then list.sag = s.beam.deflection end
    end
    return list
  end)
end

-- ---- at holes -------------------------------------------------------------------------------------------------------

-- Whether no strain of the same line and duration is as large in all: one that is less in all is less used.  Pull takes
-- of what bends one edge, and is never left out.
local function is_new(seen, row, moment)
  local key = row.duration .. (row.line and math.tointeger(row.line) or "")
  local list, axial, shear = seen[key] or {}, host.si(row.axial), row.shear and host.si(row.shear) or 0
  seen[key] = list
  if axial >= 0 then
    for _, s in ipairs(list) do if s[1] >= moment and s[2] >= axial and s[3] >= shear then return false end end
    list[#list + 1] = { moment, axial, shear }
  end
  return true
end

-- How far the worst of a kind would be used where so much of its section and of its modulus is left: what strains it
-- most anywhere counts as if it did so there.  What is used so little that holes cannot make it the worst is left out:
-- they raise no use by more than the square of a square, but of what buckles nearly, which is the worst anyway.
function members.at_holes(stands, part, area, modulus)
  local worst, work, seen = 0, nil, {}
  local least = area < modulus and area or modulus
  local raised = least * least * least * least
  for _, at in ipairs(members.checked(stands, part)) do
    local row = at.row
    local moment = members.bent(row)
    if at.worked.worst > raised * worst and is_new(seen, row, host.si(moment)) then
      work = work or work_for(stands, part)
      local used = work { line = row.line, duration = row.duration, moment = moment / modulus,
          axial = row.axial / area, shear = row.shear and row.shear / area }.worst
      if used > worst then worst = used end
    end
  end
  return worst
end

-- The same of posts of lumber at their ends, where they are neither bent nor free to buckle: the most thrust, pull and
-- shear of each duration.
function members.at_ends(stands, area)
  local most, worst, rack = {}, 0, tilted.rack(stands)
  for _, at in ipairs(members.checked(stands, "post")) do
    local row = at.row
    local m = most[row.duration] or { thrust = none, pull = none, shear = none }
    most[row.duration] = m
    if row.axial > m.thrust then m.thrust = row.axial end
    if -1 * row.axial > m.pull then m.pull = -1 * row.axial end
    if row.shear > m.shear then m.shear = row.shear end
  end
  local bears = stiffness.lumber(rack.posts.size, rack.posts.species, rack.posts.grade)
  local short = calc.dressed { section = rack.posts.size }.breadth
  for duration, m in host.sorted(most) do
    for _, axial in ipairs { m.thrust, -1 * m.pull } do
      local used = bears(lasting[duration], { axial = axial / area, shear = m.shear / area, length_strong = short,
          length_weak = short }).worst
      if used > worst then worst = used end
    end
  end
  return worst
end

-- The same of rails of lumber.
function members.rails_at_holes(stands, area, modulus)
  local rack, worst = tilted.rack(stands), 0
  local rails = rack.rails
  local bears = stiffness.lumber(rails.size, rails.species, rails.grade)
  local unbraced = effective(carried_by_rail(rack), "rolling")
  for _, at in ipairs(members.rails(stands)) do
    local used = bears(at.lasting, { moment = at.moment / modulus, shear = at.shear / area,
        on_flat = rails.face == "flat", unbraced = unbraced }).worst
    if used > worst then worst = used end
  end
  return worst
end

return members
