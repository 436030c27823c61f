-- SPDX-License-Identifier: MIT
-- Blocks that stand on the ground: what comes to each, and whether it stays.  A block that carries all posts of a
-- station is told of at the station's first post.
--
-- Of a block under a station the wind is taken straight from the pressures: how the frame shares it between posts that
-- stand on one thing is of no account; where modules are turned, in each of their positions (at).  Of a block under one
-- post it is what the frame brings to that post's foot, the most of each as if at once.  A paper's loads stand in the
-- place of either.
local rule = import "model.rule"
local graph = import "model.graph"
local record = import "model.record"
local lines = import "structure.lines"
local feet = import "structure.feet"
local cases = import "loads.cases"
local memo = import "model.memo"
local tilted = import "structure.tilted"
local work, result, given = graph.work, graph.result, record.given
local at_least, every = rule.at_least, rule.every
local blocks = {}

local rack_of = record.parent
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass
local zero, no_force, no_pressure = host.literal "0in", host.literal "0lbf", host.literal "0psf"

local function uncovered(text) host.raise { code = "C005", class = "range", text = text } end

-- ---- which it is ---------------------------------------------------------------------------------------------------

local function of_station(footing) return footing.carries == "station" end

-- The posts that stand on the same block as this one, from the lower edge up.
function blocks.posts(p)
  local footing, list = feet.footing(p), {}
  if not of_station(footing) then return { p } end
  local number, count = p.number, 0
  for x in tilted.beside(p) do
    if x.number == number then
      count = count + 1
      if feet.footing(x) == footing then list[#list + 1] = x end
    end
  end
  if #list < count then
    uncovered("what comes to the block under " .. p.station .. ": not all posts of its station stand on it, and how " ..
        "they share the wind with the others is not worked out here")
  end
  return list
end

-- Why a post has no block of its own to tell of.
local function no_block(p)
  local footing = feet.footing(p)
  if feet.kind(footing) ~= "ballast" then
    return tostring(p) .. " stands on no block: it has " .. feet.named(footing)
  end
  if not of_station(footing) then return nil end
  for x in tilted.beside(p) do
    if x.number == p.number and feet.kind(feet.footing(x)) == "ballast" then
      return x ~= p and "the block of its station is told of at " .. x.station or nil
    end
  end
end
function blocks.told_at(p) return not no_block(p) end

local function no_station(p)
  return no_block(p) or not of_station(feet.footing(p)) and "it stands on a block of its own" or nil
end

-- What a block is called: "station 2, F2 and B2"; "F2".
function blocks.name(p)
  if not of_station(feet.footing(p)) then return p.station end
  local names = {}
  for i, x in ipairs(blocks.posts(p)) do names[i] = x.station end
  return "station " .. p.number .. ", " .. import("model.util").list(names)
end

-- ---- whose loads ---------------------------------------------------------------------------------------------------

local function by_paper(p)
  for _, x in ipairs(blocks.posts(p)) do
    if graph.paper(x, "loads.up") or graph.paper(x, "loads.side") then return true end
  end
  return false
end

-- What of the weight a paper lets count against its loads, which are then as they stand; nil: by the load standard.
local function weight_counts(p)
  local share
  for i, x in ipairs(blocks.posts(p)) do
    local up, side = graph.paper(x, "loads.up"), graph.paper(x, "loads.side")
    local its = up and given(up, "weight_counts")
    local other = side and given(side, "weight_counts")
    if its ~= other or i > 1 and its ~= share then
      uncovered("the papers that give the loads of " .. tostring(x) .. " do not say alike what of a weight counts")
    end
    share = its
  end
  return share
end

-- A paper's forces at its own level; from whom made_for keeps them they are unknown like any other of its values.
for _, word in ipairs { "up", "side" } do
  result { "post", "paper_" .. word, dim = "force", given = "loads." .. word,
    says = word == "up" and "what a paper says lifts it, at the paper's own level" or
        "what a paper says pushes its head, at the paper's own level",
    none = function(p) if not graph.paper(p, "loads." .. word) then return "no paper gives it" end end,
    takes = function(_, _, force) return force end,
    work = function(p) uncovered("no paper gives what comes to " .. tostring(p)) end }
end

-- ---- weight --------------------------------------------------------------------------------------------------------

-- The length of row whose weight holds: where a paper gives the forces, the shorter of both readings.
local function row_of(p)
  local share = rack_of(p).shares[p.number]
  if by_paper(p) then return share.through < share.cut and share.through or share.cut end
  return share.taken
end

-- The length of row whose snow presses: some bays may carry all of it, and others half.
local function snowed_row(p, at)
  local r, row = rack_of(p), row_of(p)
  local snow = host.si(at.snow_load) > 0 and r.snow_shares[p.number].taken
  return snow and snow > row and snow or row
end

local function taken_off(p)
  local paper = graph.paper(p, "loads.up")
  return paper ~= nil and paper.dead_taken_off or false
end

local function block_weight(p) return feet.footing(p).block_weighs * pound end

-- Where the middle of a station's block lies, behind the lower edge in plan.
local function setback(p) return lines.setback(rack_of(p), p.line, p.letter) end
local function middle(p)
  local posts, footing = blocks.posts(p), feet.footing(p)
  local first, last = setback(posts[1]), setback(posts[#posts])
  local before = given(footing, "block_front")
  if before then return first - before + footing.block_length / 2 end
  return (first + last) / 2
end
function blocks.before_first(p) return feet.footing(p).block_length / 2 - (middle(p) - setback(p)) end

-- What stands on the block and the block itself, as rows of ballast and block_bearing; wind: the wind on its station,
-- which knows where the frame is.
local function weights(p, without_frame, wind)
  local r, list = rack_of(p), { { weight = block_weight(p), at = zero } }
  local station = of_station(feet.footing(p))
  local m = station and middle(p)
  for _, x in ipairs(blocks.posts(p)) do
    list[#list + 1] = { weight = feet.weight(r, x.cut_length, x.line),
        most = feet.mass(r, x.cut_length, x.line) * pound, at = station and setback(x) - m or zero }
  end
  if without_frame then return list end
  if not station then
    list[#list + 1] = { weight = p.dead_counted, at = zero }
    return list
  end
  local share = row_of(p) / r.row_width
  local modules = r.module_mass * pound
  wind = wind or p.block_wind
  list[#list + 1] = { weight = modules * share, at = wind.modules_at }
  list[#list + 1] = { weight = (r.frame_weight - modules) * share, most = (r.frame_weight_most - modules) * share,
      at = wind.frame_at }
  return list
end

-- ---- what comes to it ----------------------------------------------------------------------------------------------

-- The lower edge above the lowest ground at the posts of a station.
local function edge_above(p, at)
  local r, low = rack_of(p), nil
  for _, x in ipairs(blocks.posts(p)) do if not low or x.ground < low then low = x.ground end end
  local edge = at == r and r.edge_height or at.lower_edge
  if given(r, "row_slope") ~= nil then
    edge = edge + calc.on_slope { slope = r.row_slope, along = p.offset, above = zero }.up
  end
  return edge - low
end

-- Modules that are turned lie elsewhere over a block that stands where it stood.
local function wind_on(p, job, at)
  local r, winds, least = rack_of(p), {}, no_pressure
  if not by_paper(p) then
    for i, c in ipairs(at.wind_cases) do winds[i] = { low = c.low, high = c.high } end
    least = host.fact("pressure_least", job.codes.loads)
  end
  return { tilt = at.tilt, slope_length = r.slope_length, stack = r.stack_depth, lower_edge = edge_above(p, at),
      middle = at == r and middle(p) or middle(p) - at.edge_moved, tributary = row_of(p), least = least, winds = winds }
end

work { "post", "block_wind", op = "wind_on_block", none = no_station,
  says = "what wind on a station does to the block under it, and where what it carries weighs",
  input = function(p, job) return wind_on(p, job, rack_of(p)) end, gives = {} }

-- Forces are of the wind at strength level: what is known at allowable level is brought there by the same factor.
local function head(p, x, counts, edition)
  local footing = feet.footing(p)
  local at = of_station(footing) and setback(x) - middle(p) or zero
  if counts then
    return { up = graph.paper(x, "loads.up") and x.paper_up or no_force,
        side = graph.paper(x, "loads.side") and x.paper_side or no_force, at = at, height = x.above_ground }
  end
  local factor = calc.allowable_wind { wind = x.wind_uplift, edition = edition }.factor
  local side = x.lateral / factor
  if graph.paper(x, "loads.side") then return { up = x.wind_uplift, side = side, at = at, height = x.above_ground } end
  if feet.hinged(footing) then return { up = x.wind_uplift, side = side, at = at, height = footing.block_height } end
  return { up = x.wind_uplift, side = side, at = at, height = zero, moment = x.foot.moment / factor }
end

work { "post", "block_heads", op = "heads_on_block", says = "what posts bring to the block under them",
  none = function(p)
    return no_block(p) or of_station(feet.footing(p)) and not by_paper(p) and
        "the pressures on its station count, not how the frame shares them" or nil
  end,
  input = function(p, job)
    local counts, list = weight_counts(p), {}
    for i, x in ipairs(blocks.posts(p)) do list[i] = head(p, x, counts, not counts and job.codes.loads) end
    return { heads = list }
  end, gives = {} }

local function rows(forces)
  local list = {}
  for i, f in ipairs(forces) do list[i] = { up = f.up, side = f.side, turning = f.turning } end
  return list
end

local upright = host.quantity(math.pi / 2, "angle")

-- The velocity pressure where a rack, or one of its positions, stands; of a rack that is turned the most of all.
local function blown(at)
  local most
  for _, x in ipairs(tilted.rack(at) == at and tilted.stands(at) or { at }) do
    local q = x.velocity_pressure
    if not most or q > most then most = q end
  end
  return most
end

-- The wind on a face of a block so wide, at strength level, as on a solid wall that reaches the ground: the figure of
-- the solid sign; nil where that has no such face, and where a paper's forces are of another level.  at: the rack, or
-- its position.
local function on_face(p, width, at)
  local footing = feet.footing(p)
  if weight_counts(p) then return nil end
  local q = blown(at)
  local ok, sign = pcall(calc.sign_wind, { edition = record.root.codes.loads, velocity_pressure = q, tilt = upright,
      slope_length = footing.block_height, row_width = width, top = footing.block_height })
  if ok then return sign end
  if host.class(sign) ~= "range" then error(sign, 0) end
end

-- How much of both faces of a block counts: of that seen from the front, of that along the row.
function blocks.faced(p)
  local footing, at = feet.footing(p), rack_of(p)
  return on_face(p, footing.block_width, at) ~= nil, on_face(p, footing.block_length, at) ~= nil
end

-- Forces with the wind on a face; factor: of strength level that counts.
local function with_face(p, list, width, factor, at)
  local sign = on_face(p, width, at)
  if not sign then return list end
  local strips = {}
  for i, s in ipairs(sign.strips) do strips[i] = { from = s.from, to = s.to, pressure = s.pressure * factor } end
  return rows(calc.wind_on_faces { forces = list, pressure = sign.pressure * factor, width = width,
      height = feet.footing(p).block_height, raise = sign.raise, strips = strips }.forces)
end

local function by_pressures(p) return of_station(feet.footing(p)) and not by_paper(p) end

local function forces(p, at, wind)
  local list = by_pressures(p) and rows((wind or p.block_wind).forces) or rows(p.block_heads.forces)
  return with_face(p, list, feet.footing(p).block_width, 1, at)
end

-- ---- whether it stays ----------------------------------------------------------------------------------------------

-- What a primitive may give or not.
local function if_given(f)
  local ok, value = pcall(f)
  if ok then return value end
  if type(value) ~= "table" or value.code ~= "C007" then error(value, 0) end
end
function blocks.slide_used(stands) return if_given(function() return stands.slide_ratio end) end

-- What holds a block in its place: { friction } or { adhesion, area, most }, and whose word that is.
function blocks.grip(footing, job)
  local friction = given(footing, "friction")
  if friction then return { friction = friction }, "friction " .. host.format(friction) .. ", by " ..
      footing.friction_by end
  local class = job.site.soil.class
  local found = calc.soil_sliding { soil_class = class, edition = job.codes.building }
  local by_class = if_given(function() return found.friction end)
  if by_class then return { friction = by_class }, "friction " .. host.format(by_class) .. " of " .. class end
  return { adhesion = found.adhesion, area = footing.block_length * footing.block_width, most = found.most },
      "what clings to " .. class
end

local function standing(p, job, at, wind)
  local footing, counts = feet.footing(p), weight_counts(p)
  local input = blocks.grip(footing, job)
  input.forces, input.weights, input.length = forces(p, at, wind), weights(p, taken_off(p), wind), footing.block_length
  if counts then input.weight_counts = counts else input.edition = job.codes.loads end
  return input
end

work { "post", "block_stands", op = "ballast", none = no_block,
  says = "whether the block under it is lifted, pushed away or turned over",
  input = function(p, job) return standing(p, job, rack_of(p)) end,
  gives = {
    weight = { name = "block_load", says = "block and all that stands on it, at least" },
    lift = { name = "block_lift", says = "what lifts the block under it, of the worst case" },
    lift_held = { name = "block_lift_held", says = "what of all weight on the ground counts against that" },
    slide = { name = "block_push", says = "what pushes the block under it, of the worst case" },
    slide_held = { name = "block_push_held", says = "what the ground holds against that" },
    turn = { name = "block_turn", says = "what turns the block under it over an edge, of the worst case" },
    turn_held = { name = "block_turn_held", says = "what of the weights counts against that" },
  } }

-- What posts bring to a block as the row is pushed, strength level; at as below, share: of the push; way 1: braces lift
-- it, -1: they press it; blows: what the wind across does to a post at the same time, nil of none.
local function heads_along(p, at, share, way, blows, edition)
  local footing, heads = feet.footing(p), {}
  local strength = share / calc.allowable_wind { wind = at.push, edition = edition }.factor
  for i, x in ipairs(blocks.posts(p)) do
    local its = at.of(x)
    heads[i] = { up = way * its.lifts * strength + (blows and way * x[blows] or no_force), side = its.push * strength,
        at = zero, height = zero, moment = its.moment * strength }
    if feet.hinged(footing) then heads[i].height, heads[i].moment = footing.block_height, nil end
  end
  return rows(calc.heads_on_block { heads = heads }.forces)
end

local function weights_along(p, job)
  local turned = tilted.of_post(p)
  local wind = turned and of_station(feet.footing(p)) and calc.wind_on_block(wind_on(p, job, turned[1])) or nil
  local list = weights(p, taken_off(p), wind)
  for _, w in ipairs(list) do w.at = zero end
  return list
end

local function stays_along(list, p, job, forces)
  local footing = feet.footing(p)
  local input = blocks.grip(footing, job)
  input.forces = with_face(p, forces, footing.block_length, 1, tilted.at(p))
  input.weights = weights_along(p, job)
  input.length, input.edition = footing.block_width, job.codes.loads
  local stands = calc.ballast(input)
  for _, x in ipairs { { "lift", "lifted" }, { "slide", "pushed" }, { "turn", "turned over" } } do
    list[#list + 1] = function()
      local finding = at_least(stands[x[1] .. "_held"], stands[x[1]])
      finding.words = "block of " .. blocks.name(p) .. ", " .. x[2]
      return finding
    end
  end
end

-- Below its edge, about its width; the frame weighs as where it presses, and snow lies on it.
local function pressing_along(p, job, forces)
  local footing, list, snow = feet.footing(p), weights_along(p, job), no_force
  for _, x in ipairs(blocks.posts(p)) do snow = snow + x.foot.snow end
  if not of_station(footing) then
    local frame = list[#list]
    frame.most = p.foot.weight > frame.weight and p.foot.weight or nil
  end
  local bears = calc.block_bearing { forces = with_face(p, forces, footing.block_length, 1, tilted.at(p)),
      weights = list, length = footing.block_width, width = footing.block_length, snow = snow, snow_at = zero,
      edition = job.codes.loads, allowable = (import("structure.soil").vertical(job)) }
  local finding = rule.at_most(bears.pressure, rule.bound(import("structure.soil").vertical(job)))
  finding.words = "below the edge of the block of " .. blocks.name(p) .. ", by " .. bears.combination
  return finding
end

-- Pushed along the row, at(post) = { push, moment, lifts } of each post on it, allowable: about the block's width.
-- Where the row slopes the wind across lifts or presses it at the same time.
function blocks.along(p, job, at)
  local list, edition = {}, job.codes.loads
  for _, c in ipairs(import("loads.along").cases(rack_of(p))) do
    stays_along(list, p, job, heads_along(p, at, c.share, 1, not c.calm and "wind_uplift" or nil, edition))
    list[#list + 1] = function()
      return pressing_along(p, job, heads_along(p, at, c.share, -1, not c.calm and "wind_down" or nil, edition))
    end
  end
  return every(list)
end

-- What a number of a case means.
function blocks.case(p, at, number)
  if by_pressures(p) then return cases.words(at.wind_cases, number) .. tilted.behind(at) end
  local way = number == 1 and "pushed to the back" or "pushed to the front"
  return (by_paper(p) and "by the paper's loads" or "most of each at the foot") .. ", " .. way
end

-- ---- how it presses ------------------------------------------------------------------------------------------------

local function pressing_as_given(p) return not of_station(feet.footing(p)) or by_paper(p) end

work { "post", "block_pressing", op = "heads_on_block", says = "what presses the block under it, allowable level",
  none = function(p)
    return no_block(p) or not pressing_as_given(p) and "the pressures on its station count" or nil
  end,
  input = function(p)
    local list, m = {}, of_station(feet.footing(p)) and middle(p)
    for i, x in ipairs(blocks.posts(p)) do
      local row = { up = no_force - x.pressed, side = x.lateral, at = m and setback(x) - m or zero, height = zero }
      if graph.paper(x, "loads.side") then row.height = x.above_ground
      elseif feet.hinged(feet.footing(p)) then row.height = feet.footing(p).block_height
      else row.moment = x.foot.moment end
      list[i] = row
    end
    return { heads = list }
  end, gives = {} }

local function bearing(p, job, at, wind)
  local footing, as_given = feet.footing(p), pressing_as_given(p)
  local input = { weights = weights(p, as_given, wind), length = footing.block_length, width = footing.block_width,
      snow = no_force, snow_at = zero, as_given = as_given,
      allowable = (import("structure.soil").vertical(job)) }
  if as_given then
    local edition = not weight_counts(p) and job.codes.loads
    input.forces = with_face(p, rows(p.block_pressing.forces), footing.block_width,
        edition and calc.allowable_wind { wind = no_force, edition = edition }.factor or 1, at)
  else
    wind = wind or p.block_wind
    input.forces, input.edition = with_face(p, rows(wind.forces), footing.block_width, 1, at), job.codes.loads
    input.snow, input.snow_at = at.snow_load * at.plan_depth * snowed_row(p, at), wind.modules_at
  end
  return input
end

work { "post", "block_bears", op = "block_bearing", none = no_block,
  says = "how the block under it presses on the ground",
  input = function(p, job) return bearing(p, job, rack_of(p)) end,
  gives = { pressure = { name = "block_pressure", says = "most that the block under it presses below an edge" } } }

-- ---- in each position ----------------------------------------------------------------------------------------------

-- As what the block under a post is asked: once, but where the pressures count in each position of the modules.
function blocks.stands(p)
  local r = rack_of(p)
  return by_pressures(p) and tilted.stands(r) or { r }
end

-- What a primitive gives of it in a position, known by the position and the post's name.
local function turned(p, at, op, input)
  local name = p.name
  return memo.remember(record.inside[at], op .. " under " .. name, function()
    local post, job = tilted.rack(at).post[name], record.root
    return calc[op](input(post, job, at, calc.wind_on_block(wind_on(post, job, at))))
  end)
end
function blocks.stability(p, at)
  if at == rack_of(p) then return p.block_stands end
  return turned(p, at, "ballast", standing)
end
function blocks.bearing(p, at)
  if at == rack_of(p) then return p.block_bears end
  return turned(p, at, "block_bearing", bearing)
end

return blocks
