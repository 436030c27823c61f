-- SPDX-License-Identifier: MIT
-- Whether each station of a rack with posts in the ground turns over the line of its front or of its back posts: wind
-- about that line at the ground against weight, what holds its posts down, and what the ground takes in bending.
--
-- The wind is taken straight from the pressures, as of a block under a station: how the frame shares it is of no
-- account.  Where a paper gives what comes to posts, that stands in its place, all of it at once.
local graph = import "model.graph"
local record = import "model.record"
local lines = import "structure.lines"
local feet = import "structure.feet"
local cases = import "loads.cases"
local tilted = import "structure.tilted"
local given = record.given
local overturning = {}

local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass
local zero, no_force, no_moment = host.literal "0in", host.literal "0lbf", host.quantity(0.0, "moment")

local function uncovered(text) host.raise { code = "C005", class = "range", text = text } end

local function by_paper(p) return graph.paper(p, "loads.up") ~= nil or graph.paper(p, "loads.side") ~= nil end

local on_blocks = "its posts stand on blocks: R35 judges whether these turn over"

-- Why it is not asked of a rack; nil where it is.
function overturning.none(r)
  if not feet.blocks_of(r)[1] then return nil end
  local in_ground = false
  for _, g in ipairs(feet.of_rack(r)) do
    if feet.kind(g.footing) ~= "ballast" then in_ground = true
    elseif g.footing.carries == "station" then return on_blocks end
  end
  return not in_ground and on_blocks or nil
end

-- ---- what turns ----------------------------------------------------------------------------------------------------

-- The modules' lower edge above the ground at a post, as the rack stands.
local function edge_above(at, p)
  local r = tilted.rack(at)
  local edge = at == r and r.edge_height or at.lower_edge
  if given(r, "row_slope") ~= nil then
    edge = edge + calc.on_slope { slope = r.row_slope, along = p.offset, above = zero }.up
  end
  local above = edge - p.ground
  if host.si(above) < 0 then
    uncovered("whether " .. tilted.title(at) .. " turns over: the ground at " .. p.station ..
        " is higher than its lower edge")
  end
  return above
end

-- Posts that stand or fall together: those of a station; of lines that are not alike, all of the rack, if papers give
-- what comes to each.
local function bodies(r)
  local list, count, alike, papers, behind = {}, #lines.of(r), true, true, {}
  for _, line in ipairs(lines.of(r)) do
    alike = alike and line.stations == r.stations
    behind[line.letter] = lines.setback(r, line.name, line.letter)
  end
  for p in record.each(r.post) do
    local given_it, at = by_paper(p), alike and p.number or 1
    local body = list[at] or { at = {} }
    list[at], body[#body + 1], body.at[#body + 1] = body, p, behind[p.letter]
    papers, body.papers = papers and given_it, body.papers or given_it
  end
  if not papers and (not alike or count == 1) then
    uncovered("whether " .. tostring(r) .. " turns over: " .. (alike and "it has one line of posts" or
        "its lines of posts are not alike") .. ", and what comes to each of its posts no paper gives")
  end
  list.alike = alike
  return list
end

-- The outer posts of a body, front and back: the numbers of both.
local function outer(body)
  local at, front, back = body.at, 1, 1
  for i = 2, #body do
    if at[i] < at[front] then front = i end
    if at[i] > at[back] then back = i end
  end
  return front, back
end

-- What all stations of a rack have alike, as it stands: the cases of wind, and what weighs for each length of row.
local function of_all(at, job)
  local r, winds = tilted.rack(at), {}
  local modules = r.module_mass * pound
  for i, c in ipairs(at.wind_cases) do winds[i] = { low = c.low, high = c.high } end
  return { winds = winds, least = host.fact("pressure_least", job.codes.loads), modules = modules / r.row_width,
      frame = (r.frame_weight - modules) / r.row_width }
end

-- Wind about the foot of the front post, from the pressures; and what weighs.  Modules that are turned lie elsewhere
-- over posts that stand where they stood.
local function by_pressures(at, body, front, of)
  local r = tilted.rack(at)
  local share, middle = r.shares[body[1].number].taken, body.at[front]
  if at ~= r then middle = middle - at.edge_moved end
  local wind = calc.wind_on_block { tilt = at.tilt, slope_length = r.slope_length, stack = r.stack_depth,
      lower_edge = edge_above(at, body[front]), middle = middle, tributary = share, least = of.least,
      winds = of.winds }
  return wind.forces, { { weight = of.modules * share, at = wind.modules_at },
    { weight = of.frame * share, at = wind.frame_at } }
end

-- The same of what papers say, or the frame, comes to each post: all of it at once, to the back and to the front.
local function by_posts(body, front, job)
  local heads, weights = {}, {}
  for i, p in ipairs(body) do
    local at = body.at[i] - body.at[front]
    local factor = calc.allowable_wind { wind = p.wind_uplift, edition = job.codes.loads }.factor
    local height = p.push_height + p.ground - body[front].ground
    heads[i] = { up = p.wind_uplift, side = p.lateral / factor, at = at,
        height = host.si(height) > 0 and height or zero }
    weights[i] = { weight = p.dead_counted, at = at }
  end
  return calc.heads_on_block { heads = heads }.forces, weights
end

-- ---- what stands against it ----------------------------------------------------------------------------------------

-- The moment that the ground takes at a post without a push, and what a push takes off it.
local function bending(p, job)
  local f = feet.footing(p)
  local kind = feet.kind(f)
  if feet.hinged(f) or kind == "ballast" then return no_moment, zero end
  if kind == "hole" then
    local soil = given(job.site, "soil")
    local neglect = soil and given(soil, "neglect")
    if neglect and neglect >= p.embedment then return no_moment, zero end    -- no soil counts
    local e = import("footings.hole").moment(p, job)
    return e.alone, e.arm
  end
  if not given(f, "sideways") or not given(f, "sideways_at") or
      not import("screws.pushed").told(f, import("screws.logs").tip(p)) then
    return no_moment, zero
  end
  return f.sideways_moment, zero
end

-- The moment that a post itself bears at the ground in wind, allowable level; or nil, and why that is not known here.
-- It is in proportion: so it is found by a moment that comes.
local function strength(p, bears, moment)
  local list = lines.of(record.parent(p))
  for i = 1, #list do
    if list[i].letter == p.letter then
      local ok, of = pcall(bears, i, "wind", { moment = moment, axial = no_force, shear = no_force })
      if ok then return moment / of.used_bending end
      if not host.class(of) then error(of, 0) end
      return nil, of
    end
  end
end

-- What holds a post down beside the frame's weight.  Of a hole it is known even where it is not how posts share that.
local function held_down(p, job, stands)
  if feet.in_hole(p) and not graph.paper(p, "holds.up") then
    return calc.ground_uplift(import("footings.hole").holding(p, job, no_force)).resistance
  end
  local post = tilted.post(stands, p)
  return post.uplift_resistance - post.frame_holds
end

-- A post of which nobody knows what it bears counts as one that bears nothing, or, if generous, all that the ground
-- takes.  Second: why that is; third: whether any bears less than the ground takes.
local function posts(job, body, front, stands, generous)
  local list, from, bears, unknown, weaker = {}, body.at[front], nil, nil, false
  for i, p in ipairs(body) do
    local holds, own = held_down(p, job, stands), nil
    local bends, arm = bending(p, job)
    if host.si(bends) > 0 then
      local why
      bears = bears or import("loads.members").post_bears(record.parent(p))
      own, why = strength(p, bears, bends)
      if why then own, unknown = not generous and no_moment or nil, unknown or why end
      weaker = weaker or own ~= nil and own < bends
    end
    list[i] = { at = body.at[i] - from, holds = host.si(holds) > 0 and holds or no_force, bends = bends,
        arm = arm, bears = own }
  end
  return list, unknown, weaker
end

-- ---- all of a rack -------------------------------------------------------------------------------------------------

local function of_body(at, job, body, all)
  local front, back = outer(body)
  local forces, weights
  if body.papers then forces, weights = by_posts(body, front, job)
  else forces, weights = by_pressures(at, body, front, all()) end
  local rows = {}
  for i, f in ipairs(forces) do rows[i] = { up = f.up, side = f.side, turning = f.turning } end
  local function against(stand)
    return calc.overturning { forces = rows, weights = weights, posts = stand, front = zero,
        back = body.at[back] - body.at[front], front_above = zero, back_above = body[back].ground - body[front].ground,
        edition = job.codes.loads }
  end
  local stand, unknown, weaker = posts(job, body, front, at)
  local of = against(stand)
  -- What stays upright without those that nobody knows does so; what turns over with all that the ground takes, too.
  if unknown and of.turn > of.held then
    of = against((posts(job, body, front, at, true)))
    if of.turn <= of.held then error(unknown, 0) end
  end
  local case
  if body.papers then case = "by what papers give, pushed to the " .. (of.of_case == 1 and "back" or "front")
  else
    case = cases.words(at.wind_cases, of.of_case)
    case = (case:find "^[AB]," and "by wind case " or "by ") .. case .. tilted.behind(at)
  end
  return { over = of.over_back and "back" or "front", turn = of.turn, held = of.held, by_weight = of.by_weight,
      by_posts = of.by_posts, by_ground = of.by_ground, case = case,
      by_strength = unknown and ", what the posts bear is not known" or
          weaker and host.si(of.by_ground) > 0 and ", no more than the posts bear" or "" }
end

local function used(row)
  local turn, held = host.si(row.turn), host.si(row.held)
  return held > 0 and turn / held or turn > 0 and math.huge or 0
end

-- For each station, as the rack stands, what comes nearest to turning it over a line of its outer posts, and what
-- stands against that.
function overturning.at(at)
  local list, bodies_of, shared, job = {}, bodies(tilted.rack(at)), nil, record.root
  local function all()
    shared = shared or of_all(at, job)
    return shared
  end
  for number, body in ipairs(bodies_of) do
    list[number] = of_body(at, job, body, all)
    list[number].station = bodies_of.alike and number or nil
  end
  return list
end

-- The same of a rack; of modules that are turned in the position in which that is most.
function overturning.of(r)
  local list = {}
  for _, at in ipairs(tilted.stands(r)) do
    for number, row in ipairs(overturning.at(at)) do
      if not list[number] or used(row) > used(list[number]) then list[number] = row end
    end
  end
  return list
end

-- The row that comes nearest to turning over, or is farthest beyond.
function overturning.worst(list)
  local worst = list[1]
  for _, row in ipairs(list) do if used(row) > used(worst) then worst = row end end
  return worst
end

function overturning.words(row)
  local show = import("write.words").show
  return (row.station and "station " .. row.station or "all of it") .. " over its " .. row.over .. " posts, " ..
      row.case .. "; held by weight " .. show(row.by_weight) .. ", by what holds posts down " .. show(row.by_posts) ..
      ", by the ground in bending " .. show(row.by_ground) .. row.by_strength
end

return overturning
