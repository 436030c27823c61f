-- SPDX-License-Identifier: MIT
-- What follows from the racks: outline, posts, loads on each post, and what its hole must be.
local schema = import "model.schema"
local graph = import "model.graph"
local memo = import "model.memo"
local record = import "model.record"
local edge = import "structure.edge"
local feet = import "structure.feet"
local lines = import "structure.lines"
local rails = import "rails.plan"
local models = import "modules.models"
local lifts = import "structure.lifts"
local tilted = import "structure.tilted"
local shots = import "site.shots"
local of_paper = import "structure.of_paper"
local work, result, given = graph.work, graph.result, record.given

local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

local function edition(job) return job.codes.loads end
local rack_of = record.parent
local level = host.literal "0in"

-- What the primitives below would only call wrong input: here it is outside of what they cover.
local function uncovered(text) host.raise { code = "C005", class = "range", text = text } end

-- Most rows are level: what another one asks for is loaded with it.
local function slopes(r) return given(r, "row_slope") ~= nil end
local function slope() return import "structure.slope" end

-- ---- rack ----------------------------------------------------------------------------------------------------------

result { "rack", "datum_height", dim = "length",
  says = "what the rack's lower edge is counted from, against the datum of the ground",
  work = function(r, job)
    local above = given(r, "above")
    if above == nil or above == "datum" then return level end
    return import("structure.datum").height(r, above, job)
  end }
result { "rack", "edge_height", dim = "length",
  says = "height of the lower edge above the datum; of a row that slopes, of its west end",
  formula = "datum_height + lower_edge" }

work { "rack", "layout", op = "layout", says = "the rack's outline",
  input = function(r)
    local m = r.modules
    return { module_length = m.length, module_width = m.width, orientation = r.orientation, rows = r.rows,
        columns = r.columns,
             column_gap = r.column_gap, row_gap = r.row_gap, tilt = r.tilt, lower_edge = r.lower_edge,
             joints = rails.parted(r) and r.expansion_joint_count or nil, joint_gap = given(r.rails, "joint_gap") }
  end,
  gives = {
    row_width = { says = "length of the row, outside to outside of the modules", show = "in" },
    slope_length = { says = "length of the module plane up the slope" },
    rise = { says = "height of the upper edge above the lower" },
    run = { name = "plan_depth", says = "depth of the module plane seen from above" },
    area = { says = "area of the module plane" },
  } }

result { "rack", "top_edge", dim = "length", says = "height of the top edge above the datum, where it is highest",
  work = function(r) return r.edge_height + (slopes(r) and slope().highest(r) or r.rise) end }
result { "rack", "middle_above_datum", dim = "length",
  says = "height of the middle of the module plane above the datum",
  work = function(r) return r.edge_height + (slopes(r) and slope().middle(r) or r.rise / 2) end }

result { "rack", "module_count", says = "modules on the rack", formula = "rows * columns" }
local function of_all_modules(name)
  return function(r)
    local sum
    for _, x in ipairs(models.of(r)) do
      local of_model = x.count * x.module[name]
      sum = sum and sum + of_model or of_model
    end
    return sum
  end
end
result { "rack", "power", dim = "power", says = "rated power of the modules", work = of_all_modules "power" }
result { "rack", "module_mass", dim = "mass", says = "mass of its modules together", work = of_all_modules "mass" }

work { "rack", "rail", op = "rail_length", says = "one line of rail",
  input = function(r) return { row_width = r.row_width, end_allowance = r.end_allowance } end,
  gives = { length = { name = "rail_length", says = "length of each rail" } } }

local function dressed(size) return calc.dressed { section = size } end
local function lumber(size, length, species)
  return calc.lumber { section = size, length = length, species = species, edition = record.root.codes.wood }
end

-- What lies square to the modules on the post: all of it, or what is declared of a kit. What is bolted to the side of
-- what carries it comes up to its top, and adds nothing.
result { "rack", "stack_depth", dim = "length",
  says = "rail, rafter and what else lies between modules and posts square to the modules, together",
  work = function(r)
    local declared = given(r, "stack")
    if declared then return declared end
    local part = rails.part(r)
    local rail = not part and dressed(r.rails.size)
    local sum = part and part.depth or r.rails.face == "edge" and rail.depth or rail.breadth
    if given(r, "rafter_on") ~= "side" then sum = sum + dressed(r.rafter).depth end
    local saddle = not given(r, "beam") and given(r, "saddle")
    return saddle and sum + saddle or sum
  end }

-- A beam lies level along the row and plumb, and a saddle under it.
result { "rack", "plumb_stack", dim = "length", says = "beam and saddle under it, plumb",
  none = function(r) if not given(r, "beam") then return "it has no beam" end end,
  work = function(r)
    local sum = given(r, "beam_on") ~= "side" and dressed(r.beam).depth or level
    local saddle = given(r, "saddle")
    return saddle and sum + saddle or sum
  end }

-- Where a line stands does not rest on how high the rack does: the ground under the lower edge is found by it.
local function bearing_at(r, fraction)
  return { slope_length = r.slope_length, tilt = r.tilt, lower_edge = r.lower_edge, fraction = fraction,
      stack = r.stack_depth, plumb = given(r, "beam") and r.plumb_stack or nil }
end

local function one_line(r)
  if not given(r.post_lines, "back") then return "it has one line of posts" end
end

for _, line in ipairs { "front", "back" } do
  work { "rack", line .. "_bearing", op = "bearing", says = "where the " .. line .. " posts carry the rafters",
    none = line == "back" and one_line or nil,
    input = function(r) return bearing_at(r, r.post_lines[line]) end,
    gives = {
      height = { name = line .. "_rise",
          says = "top of the " .. line .. " posts above what the lower edge is counted from" },
      back = { name = line .. "_setback", says = "the " .. line .. " posts' line behind the lower edge, in plan" },
    } }
  result { "rack", line .. "_height", dim = "length", says = "top of the " .. line .. " posts above the datum",
    none = line == "back" and one_line or nil, formula = "datum_height + " .. line .. "_rise" }
end

result { "post_line", "fraction", dim = "ratio",
  says = "where it stands, as a fraction of the slope from the lower edge",
  work = function(l) return lines.fraction(rack_of(l), l.name) end }
result { "post_line", "stations", says = "posts in the line",
  work = function(l) return lines.stations(rack_of(l), l.line) end }
work { "post_line", "bearing", op = "bearing", says = "where its posts carry the rafters",
  input = function(l) return bearing_at(rack_of(l), l.fraction) end,
  gives = {
    height = { name = "rise", says = "top of its posts above what the lower edge is counted from" },
    back = { name = "setback", says = "the line behind the lower edge, in plan" },
  } }
result { "post_line", "height", dim = "length", says = "top of its posts above the datum",
  formula = "parent.datum_height + rise" }

-- Where the posts of a line stand.
local function place_list(r, letter, name)
  if lines.own(r, name) then return r.post_line[letter].bay_places end
  return lines.by_bays(r, name) and r.bay_places or r.post_places
end

result { "rack", "line_spacing", dim = "length", says = "between the first and the last line of posts, in plan",
  none = one_line, formula = "back_setback - front_setback" }
-- Where all stand alike, spacing and stations say as much.
result { "rack", "widest_lines", dim = "length", worse = "more",
  says = "widest distance between lines of posts beside each other, in plan, where they are not two; 0 of one line",
  none = function(r) return #lines.of(r) == 2 and "it has two lines of posts" or nil end,
  work = function(r)
    local most, before = level, nil
    for _, line in ipairs(lines.of(r)) do
      local setback = r.post_line[line.letter].setback
      if before and setback - before > most then most = setback - before end
      before = setback
    end
    return most
  end }
local function of_rafters(name, otherwise)
  return function(r)
    local own = given(r, "rafters")
    return own and given(own, name) or r[otherwise]
  end
end
local function of_kit(r) if given(r, "stack") then return "its rafters come with the kit" end end
result { "rack", "rafter_length", dim = "length", says = "length to cut each rafter", none = of_kit,
  work = of_rafters("length", "slope_length") }
result { "rack", "rafter_count", says = "rafters of the rack", none = of_kit, work = of_rafters("count", "stations") }

-- A paper is made for all the tilts that the modules are turned to, and for the braces that hold the frame.
for _, way in ipairs { { "steepest", "more" }, { "flattest", "less" } } do
  result { "rack", way[1] .. "_tilt", dim = "angle", worse = way[2],
    says = way[1] .. " tilt that its modules are turned to",
    none = function(r) if not tilted.positions(r) then return "its modules keep one tilt" end end,
    work = function(r)
      local found
      for _, p in ipairs(tilted.positions(r)) do
        if not found or way[2] == "more" and p.tilt > found or way[2] == "less" and p.tilt < found then
          found = p.tilt
        end
      end
      return found
    end }
end
local function unbraced(r)
  if not given(r, "braces") then return "it has no braces" end
end
result { "rack", "brace_count", says = "braces of the rack", none = unbraced,
  work = function(r)
    local n = 0
    for _ in record.each(r.brace) do n = n + 1 end
    return n
  end }
result { "rack", "row_per_brace", dim = "length", worse = "more", says = "length of row for each brace",
  none = unbraced, formula = "row_width / brace_count" }
result { "rack", "widest_bay", dim = "length", worse = "more",
  says = "widest bay between posts beside each other, where they are not all alike",
  none = function(r)
    return given(r, "bays") == nil and given(r, "lines") == nil and "its bays are all alike" or nil
  end,
  work = function(r)
    local most
    for _, line in ipairs(lines.of(r)) do
      for _, bay in ipairs(lines.bays(r, line.name, line.stations)) do if not most or bay > most then most = bay end end
    end
    return most or level
  end }

result { "rack", "widest_end", dim = "length", worse = "more",
  says = "most that the modules reach beyond the end post of a line, where the bays are not all alike or set in",
  none = function(r)
    return given(r, "bays") == nil and given(r, "lines") == nil and given(r, "set_in") == nil and
        "its posts stand centred, at one spacing" or nil
  end,
  work = function(r)
    local most
    for _, line in ipairs(lines.of(r)) do
      local stations = place_list(r, line.letter, line.name).stations
      for _, at in ipairs { stations[1].offset, r.row_width - stations[#stations].offset } do
        if not most or at > most then most = at end
      end
    end
    return most
  end }

result { "rack", "line_length", dim = "length", says = "between the end posts of a line",
  work = function(r)
    if lines.by_bays(r, "front") then return place_list(r, "F", "front").length end
    return r.stations > 1 and (r.stations - 1) * r.spacing or level
  end }
work { "rack", "square", op = "diagonal", says = "the check that the posts stand square",
  none = function(r)
    return one_line(r) or slopes(r) and "its row slopes: its diagonals are not alike" or
        r.stations == 1 and "its lines have one post each" or given(r, "lines") and
        "its lines of posts are not alike" or nil
  end,
  input = function(r) return { along = r.line_length, across = r.line_spacing } end,
  gives = { diagonal = { says = "from an end post of one line to the far end post of the other" } } }

work { "rack", "post_places", op = "stations", says = "the places of the posts in each of their lines",
  input = function(r) return { row_width = r.row_width, posts = r.stations, spacing = r.spacing } end,
  gives = {} }

-- The places of posts that are set in, or have unlike bays: of a rack or of one of its lines.
local function bays_of(r, name, of, stations)
  return { row_width = r.row_width, bays = lines.bays(r, name, stations), set_in = given(of, "set_in") }
end
work { "rack", "bay_places", op = "bays", says = "the places of the posts in each of their lines, bay by bay",
  input = function(r) return bays_of(r, nil, r, r.stations) end, gives = {} }
work { "post_line", "bay_places", op = "bays", says = "the places of its own posts, bay by bay",
  none = function(l) if not lines.own(rack_of(l), l.line) then return "its posts stand as the rack's do" end end,
  input = function(l)
    local r = rack_of(l)
    return bays_of(r, l.line, lines.own(r, l.line), l.stations)
  end, gives = {} }

work { "rack", "true_north", op = "true_bearing", says = "the compass reading against true north",
  input = function(r, job)
    return { compass = r.azimuth, declination = r.north == "compass" and job.site.declination or 0 * r.azimuth }
  end,
  gives = { bearing = { name = "true_azimuth", says = "bearing that the modules face, from true north" } } }

-- The lowest ground under the posts, against the datum.
result { "rack", "lowest_ground", dim = "length", says = "lowest ground at a post, against the datum",
  work = function(r)
    local low
    for p in record.each(r.post) do if not low or p.ground < low then low = p.ground end end
    return low
  end }
result { "rack", "height_above_grade", dim = "length",
  says = "top edge above the lowest natural ground at a post; of a row that slopes, at the post beneath it",
  work = function(r)
    if slopes(r) then return slope().above_grade(r) end
    return r.top_edge - r.lowest_ground
  end }

local function under_edge(r)
  return memo.remember(record.inside[r], "under the edge", function() return edge.under(r, r.front_setback) end)
end

result { "rack", "edge_ground", dim = "length",
    says = "highest ground under the lower edge, against the datum: at a front post, or carried on to the edge; of " ..
        "a row that slopes, less what the row has risen there",
  work = function(r) return under_edge(r).ground end }
result { "rack", "edge_ground_at", says = "which ground that is",
  work = function(r)
    return edge.words(under_edge(r))
  end }
result { "rack", "clearance", dim = "length", says = "lower edge above the ground under it",
  formula = "edge_height - edge_ground" }

-- The frame seen from the ground that its posts stand in, however far that is from the datum.
result { "rack", "mean_roof_height", dim = "length",
    says = "mean roof height for the wind: middle of the module plane above the mean ground at the posts",
  work = function(at)
    local sum, n = nil, 0
    for p in record.each(tilted.rack(at).post) do
      local ground = p.ground
      sum, n = sum and sum + ground or ground, n + 1
    end
    local height = at.middle_above_datum - sum / n
    if height <= 0 * height then
      uncovered("the ground at the posts of " .. tilted.title(at) .. ", on average " .. host.format(sum / n) ..
          " above the datum, is as high as the middle of its modules")
    end
    return height
  end }

-- ---- loads ---------------------------------------------------------------------------------------------------------

-- These are of a rack, or of one of its positions (seasons.loads).
local function refuse_other_tilts(at, what)
  if tilted.rack(at) ~= at then return end
  local positions = tilted.positions(at)
  if positions then import("seasons.positions").refuse_loads(at, positions, what .. " on it") end
end

work { "rack", "gust", op = "velocity_pressure", says = "velocity pressure of the wind",
  input = function(at, job)
    refuse_other_tilts(at, "wind")
    local s = job.site
    return { speed = s.wind, edition = edition(job), exposure = s.exposure, height = at.mean_roof_height,
        elevation = s.elevation, topographic = s.topography }
  end,
  gives = { pressure = { name = "velocity_pressure", says = "velocity pressure q at strength level, without Kd" } } }

work { "rack", "snow", op = "snow_load", says = "snow on the modules",
  input = function(at, job)
    refuse_other_tilts(at, "snow")
    local s = job.site
    return { edition = edition(job), ground_snow = s.snow, exposure = s.exposure, sheltering = s.sheltering,
        risk_category = s.risk_category,
             tilt = at.tilt, slippery = true }
  end,
  gives = {
    sloped = { name = "snow_load", says = "snow on the slope, per area seen from above" },
    flat = { name = "flat_snow", says = "snow that a level roof there would carry" },
    density = { name = "snow_density", says = "density of that snow" },
  } }

-- By the steepest sides that a house or a place says slid snow has: the higher pile.
result { "rack", "slid_pile", dim = "length",
  says = "how high all the snow of the slope, slid off, lies below the lower edge; common practice, no source",
  none = function()
    if not import("model.rule").has_limit "shed_repose" then return "nobody says at which angle slid snow stands" end
  end,
  work = function(at)
    local most
    for _, l in ipairs(table.pack(import("model.rule").limit "shed_repose")) do
      local height = calc.snow_pile { load = at.snow_load, plan_depth = at.plan_depth, density = at.snow_density,
          repose = l.value, banked = tilted.rack(at).under == "blocked" }.height
      if not most or height > most then most = height end
    end
    return most
  end }

-- Of rails, rafters, braces and modules: which of a stick's weights is counted.
local function frame_weight(r, which)
  local modules = r.module_mass * pound
  local declared = given(r, "frame_mass")
  if declared then return declared * pound + modules end
  if given(r, "stack") then
    host.raise { code = "D010", class = "missing", path = tostring(r) .. ".frame_mass",
        text = "what the rails, rafters and all that joins them weigh of the kit of " ..
            import("write.words").title(r) .. " is not given",
        who = "maker of the rack", tool = "the kit's data sheet" }
  end
  local part, length = rails.part(r), rails.parted(r) and r.parting.rail or r.rail_length
  local rail = r.rails.lines * (part and part.mass * length * pound or
      lumber(r.rails.size, length, r.rails.species)[which])
  local rafters = r.rafter_count * lumber(r.rafter, r.rafter_length, r.rafter_species)[which]
  local beam = given(r, "beam")
  if beam then
    rafters = rafters + #lines.of(r) * lumber(beam, r.row_width, r.rafter_species)[which]
  end
  local frame = rail + rafters + modules
  return given(r, "braces") and frame + r.brace_weight or frame
end
result { "rack", "frame_weight", dim = "force",
    says = "least weight of rails, rafters and modules, as counted against uplift",
  work = function(r) return frame_weight(r, "weight_light") end }
result { "rack", "frame_weight_most", dim = "force",
    says = "the same with lumber as it comes from the yard, wet, as counted where it presses",
  work = function(r) return frame_weight(r, "weight_heavy") end }

-- ---- post ----------------------------------------------------------------------------------------------------------

local footing_of = feet.footing

result { "post", "ground", dim = "length", says = "ground at the post against the datum; larger is higher",
  work = function(p, job) return shots.ground(p, job.ground) end }

-- Where fewer stations are tried, a post of one that is gone stands nowhere.
local function place_of(p)
  local r = rack_of(p)
  local stations = place_list(r, p.letter, p.line).stations
  return stations[p.number] or uncovered("post " .. p.station .. " is at a station beyond the " .. #stations ..
      " there are")
end
result { "post", "offset", dim = "length", says = "from the west end of the modules, along the rails",
  work = function(p) return place_of(p).offset end }
result { "post", "tributary", dim = "length", says = "length of row that the post carries",
  work = function(p) return place_of(p).tributary end }

local function line_height(p, r)
  return p.line == "middle" and r.post_line[p.letter].height or r[p.line .. "_height"]
end
local function line_rise(p, r) return p.line == "middle" and r.post_line[p.letter].rise or r[p.line .. "_rise"] end

work { "post", "turned", op = "on_slope", says = "where its top comes to lie when the row slopes",
  none = function(p) if not slopes(rack_of(p)) then return "its row is level" end end,
  input = function(p)
    local r = rack_of(p)
    return { slope = r.row_slope, along = p.offset, above = line_rise(p, r) - r.lower_edge }
  end, gives = {} }
result { "post", "plan_offset", dim = "length", says = "from the west end of the modules' lower edge, in plan",
  work = function(p) return slopes(rack_of(p)) and p.turned.plan or p.offset end }
result { "post", "top_height", dim = "length", says = "top of the post above the datum",
  work = function(p)
    local r = rack_of(p)
    return slopes(r) and r.edge_height + p.turned.up or line_height(p, r)
  end }

work { "post", "cut", op = "post_cut", says = "the post's length",
  input = function(p)
    local r, f = rack_of(p), footing_of(p)
    local top = slopes(r) and p.top_height or line_height(p, r)
    if p.ground >= top then
      uncovered("the ground at post " .. p.station .. ", " .. host.format(p.ground) ..
          " above the datum, is as high as the post's top, " .. host.format(top))
    end
    if feet.kind(f) ~= "hole" then
      return { bearing_height = top, ground = p.ground, has_base = true,
          base = import("structure.screws_and_blocks").base(f, p, feet.bed(p)) }
    end
    return { bearing_height = top, ground = p.ground, hole_depth = f.hole_depth, gravel = f.gravel }
  end,
  gives = {
    cut_length = { says = "length of the post, from its foot to the saddle" },
    above_ground = { says = "top of the post above its own ground" },
    embedment = { says = "post and concrete below ground, without the gravel" },
  } }

result { "post", "wind_uplift", dim = "force", given = "loads.up", takes = of_paper.uplift,
    says = "largest uplift by wind, strength level", work = function(p) return p.foot.up end }
result { "post", "wind_down", dim = "force",
    says = "largest push down by wind, strength level", work = function(p) return p.foot.down end }
result { "post", "wind_side", dim = "force", given = "loads.side", takes = of_paper.side "strength",
    says = "largest side force by wind at the ground, strength level", work = function(p) return p.foot.side end }

-- What a paper says of a side force is at the post's head; the frame knows what comes to the ground.
result { "post", "lateral", dim = "force", given = "loads.side", takes = of_paper.side "allowable",
    says = "most that pushes the post sideways at the ground, allowable level",
  work = function(p, job)
    if graph.paper(p, "loads.side") then
      return calc.allowable_wind { wind = p.wind_side, edition = edition(job) }.force
    end
    return p.foot.push
  end }
result { "post", "push_height", dim = "length",
    says = "how high above the ground that side force stands for its moment: of a paper's, the post's head",
  work = function(p)
    if graph.paper(p, "loads.side") then return p.above_ground end
    local push = p.lateral
    return host.si(push) > 0 and p.foot.push_moment / push or p.above_ground
  end }

result { "post", "pressed", dim = "force", given = "loads.down", takes = of_paper.allowable "the force down",
  says = "most that presses the post down, weight, snow and wind together, allowable level",
  work = function(p) return p.foot.pressed end }

result { "post", "dead_counted", dim = "force",
  says = "what of that counts against uplift: nothing where a paper has taken it off already",
  work = function(p)
    local paper = graph.paper(p, "loads.up")
    if paper and paper.dead_taken_off then return host.quantity(0.0, "force") end
    return p.dead_load
  end }

-- ---- lifting -------------------------------------------------------------------------------------------------------

result { "rack", "heaviest_piece", dim = "mass",
    says = "heaviest piece that is carried: a module, a rail, a rafter, a beam, a brace, a post, or a bag",
  work = function(r) return lifts.heaviest(r).mass end }
result { "rack", "heaviest_name", says = "which piece that is",
  work = function(r) return lifts.heaviest(r).what end }

-- The top edge above the ground, at the tilt at which that is most.
local function highest_top(r)
  local top
  for _, at in ipairs(tilted.positions(r) or { r }) do
    local height = at.height_above_grade
    if not top or height > top then top = height end
  end
  return top
end

-- A post swings as high as it is long, with what is left to trim, before it drops into its hole.
result { "rack", "tallest", dim = "length",
    says = "highest that anything of the rack reaches or is raised to: the top edge or a post on end",
  work = function(r)
    local top, post = highest_top(r), feet.stock_length(r, lifts.longest_post(r))
    return post > top and post or top
  end }
result { "rack", "tallest_name", says = "what of the rack that is",
  work = function(r)
    local post = lifts.longest_post(r)
    return feet.stock_length(r, post) > highest_top(r) and "post " .. post.station .. " on end" or "the top edge"
  end }

result { "rack", "tallest_post", dim = "length", worse = "more", says = "most that a post stands above its own ground",
  work = function(r)
    local most
    for p in record.each(r.post) do
      local above = p.above_ground
      if not most or above > most then most = above end
    end
    return most
  end }

-- ---- job -----------------------------------------------------------------------------------------------------------

-- Over all racks.
local function all_racks(name)
  return function()
    local sum
    for _, r in ipairs(record.all "rack") do sum = sum and sum + r[name] or r[name] end
    return sum
  end
end

result { "job", "power", dim = "power", says = "rated power of all modules", work = all_racks "power" }
result { "job", "module_mass", dim = "mass", says = "mass of all modules together", work = all_racks "module_mass" }
