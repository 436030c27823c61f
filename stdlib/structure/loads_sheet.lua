-- SPDX-License-Identifier: MIT
-- The sheet of loads, whole: each post case by case, and the soil.
local record = import "model.record"
local graph = import "model.graph"
local run = import "model.run"
local document = import "write.document"
local words = import "write.words"
local by_post = import "structure.by_post"
local tilted = import "structure.tilted"

local of, cell = words.of, document.of
local long, right, each_post = by_post.long, by_post.right, by_post.each_post

-- Pressures by case of a rack, or of one of its positions. One outside of the figures has no cases; its loads may be
-- known from a paper all the same, and its weights are.
local function by_case(d, at)
  local list, why = graph.try(at, "wind_cases")
  if not list then
    return d:para("Wind by case is not worked out here: " .. host.message(why) .. ".")
  end
  d:para((at.by_sign and "The modules are steeper than the figure of the free roof goes: the figure of the solid " ..
      "freestanding sign is used instead." or "Pressures of the open-roof figure, cases A and B, wind on the high " ..
      "and on the low edge and along the row.") .. " Square to the modules, strength level; + presses down, - lifts:")
  local rows, told = {}, import("loads.cases").words
  for i, c in ipairs(list) do
    rows[i] = { told(list, i), document.value(c.low), document.value(c.high) }
  end
  d:table({ { "case" }, { "lower half", right = true }, { "upper half", right = true } }, rows)
end

-- What governs a foot that carries the most in one of the positions.
local function positions_of(x, what)
  local r = record.parent(x)
  return tilted.positions(r) and x.foot.stands[what] or r
end

-- What each foot carries with the case that governs it.
local function by_foot(d, r)
  local told, leaning, drift = import("loads.cases").words, nil, nil
  for _, at in ipairs(tilted.stands(r)) do
    if not graph.try(at, "wind_cases") then return end
    local frames, unknown = graph.try(at, "frames")
    if not frames then return d:para("The frames are not worked out here: " .. host.message(unknown) .. ".") end
    if not leaning or frames.leaning > leaning then leaning = frames.leaning end
    if not drift or frames.drift > drift then drift = frames.drift end
  end
  d:gap()
  d:para("The frame of each station, all combinations, each with the feet taken three ways (posts fixed at grade; " ..
      "footings that turn in the ground; the shortest line alone). What governs each post" ..
      (tilted.positions(r) and ", of all positions:" or ":"))
  local rows_of = {}
  for x in record.each(r.post) do
    local f = x.foot
    local function row(station, what, name)
      local combination, at = f[name .. "_combination"], positions_of(x, name)
      rows_of[#rows_of + 1] = { station, what, document.value(f[name]), combination == "" and "none of them" or
          combination .. ", " .. told(at.wind_cases, f[name .. "_case"]) .. "; " .. f[name .. "_limit"] ..
          tilted.behind(at) }
    end
    row(x.station, "net lift", "net_up")
    row("", "pressed", "pressed")
    row("", "sideways", "push")
  end
  d:table({ { "post" }, { "of" }, { "most", right = true }, { "by" } }, rows_of)
  d:para("Allowable level. By strength combinations, and with only half of the modules up (allowable, design wind):")
  d:table(right("lifts", "presses", "half built lifts"), each_post(r, function(x)
    local f = x.foot
    return { x.station, document.value(f.strength_up), document.value(f.strength_down),
        document.value(f.half_built_up) }
  end))
  local sways = graph.try(r, "sways")
  d:para("Leaning enlarges moments by " .. host.format(leaning, nil, 4) .. " at most as the posts bend" ..
      (sways and " and braces give" or "") .. ", which is counted; what the ground's giving way adds stands apart " ..
      "(R98, R82). " .. (sways and "If nothing kept its feet from turning it would be " ..
      host.format(sways, nil, 4) .. ", which counts where footings turn; how far they shift or settle is not in " ..
      "it. " or "") .. "Heads move sideways " ..
      words.show(drift) .. " at most, posts fixed at grade. Snow is the balanced load, whole on some bays " ..
      "and half on others where that lays more on a station; no roof live load, ice or drift is in it.")
end

-- What pushes the row along itself, and what that does to each foot, as the rack stands.
local function along_row(d, at)
  local r, behind = tilted.rack(at), tilted.behind(at)
  local frame, why = graph.try(at, "row_frame")
  if not frame then
    if host.class(why) == "missing" then return end
    return d:para("The row along itself is not worked out" .. behind .. ": " .. host.message(why) .. ".")
  end
  local sways = graph.try(r, "row_sways")
  local leans = sways and ", leaning (" .. host.format(sways, nil, 4) .. " if nothing kept feet from turning)" or ""
  local slant = record.given(r, "row_slope") and "; as the row slopes, wind square to the modules has " ..
      of(r, "slant_push") .. " along it" or ""
  d:para("Along the row" .. (r == at and "" or behind .. ",") .. " the figures of the wind have no push; the least " ..
      "wind on what is seen from the row's end, " .. of(r, "end_area") .. ", pushes each part between expansion " ..
      "joints with " .. of(r, "end_push") .. ", allowable level" .. slant .. ". The most of what lies over a line " ..
      "and what its stiffness draws, posts fixed at grade or footings that turn" .. leans .. ":")
  local by = import("loads.along").feet(at)
  d:table(right("along the row", "moment at grade", "braces lift"), each_post(r, function(x)
    local f = by[x.name]
    return { x.station, document.value(f.push), document.value(f.moment), document.value(f.lifts) }
  end))
end

-- What posts bear out of plumb as the ground gives way.
local function leaning(d, r)
  local feet = import "structure.feet"
  local holes, tested = feet.holes(r), false
  for _, g in ipairs(feet.has_other(r) and feet.of_rack(r) or {}) do
    tested = tested or feet.kind(g.footing) ~= "hole" and feet.gives_way(g.footing)
  end
  local code = record.given(record.root.codes, "building")
  if #holes == 0 and not tested or not code then return end
  for _, at in ipairs(tilted.stands(r)) do if not graph.try(at, "frames") then return end end
  if tested then
    d:para("Screws and driven posts lean as far as their test sideways had them move, a higher head as much farther" ..
        (#holes == 0 and ". How far heads go, and what it adds to the moment at the ground, allowable level:" or "."))
  end
  if #holes > 0 then
    d:para("As the ground gives way posts lean. The code doubles its lateral bearing where " ..
        words.show((host.fact("isolated_motion", code))) .. " of motion at the ground does no harm (" ..
        words.cite("{soil_isolated}") .. "): so much is taken where the doubling is claimed, half of it elsewhere, " ..
        "the soil used whole; a post turns about a point in the ground. It is derived from the code's words; nobody " ..
        "has measured this ground. How far heads go then, and what it adds to the moment at the ground, allowable " ..
        "level:")
  end
  d:table(right("head goes", "adds"), each_post(r, function(x)
    local f = x.foot
    return { x.station, document.value(f.leans), document.value(f.leaning_moment) }
  end))
end

-- What turns each station over the line of its front or back posts.
local function turning(d, r)
  local list = not import("footings.overturning").none(r) and graph.try(r, "overturning")
  if not list then return end
  d:para("Each station as one piece, about the foot of its front or of its back posts, whichever comes nearer to " ..
      "turning (R97), allowable level. Weight, what holds posts down beside it, and what the ground takes in " ..
      "bending at posts that it holds, less what the push takes off that, and no more than the post itself bears at " ..
      "the ground, stand against the wind:")
  local rows = {}
  for i, x in ipairs(list) do
    rows[i] = { x.station and tostring(x.station) or "all", x.over, document.value(x.turn), document.value(x.held),
        document.value(x.by_weight), document.value(x.by_posts), document.value(x.by_ground) }
  end
  d:table({ { "station" }, { "over" }, { "turns", right = true }, { "held", right = true },
      { "by weight", right = true }, { "by posts", right = true }, { "in bending", right = true } }, rows)
end

local nobody = "nobody: no capacity is known"

-- What judges a joint of a rack, and how far it is used there.
local function joint(r, what, id)
  local at = record.any "joint" and import("joints.on").joint(r, what)
  if not at then return nobody, "" end
  local ok, found = pcall(import("joints.judged").worst, at, r)
  if not ok and not host.class(found) then error(found, 0) end
  return id .. ", " .. words.title(at), ok and (found.fails and "fails" or host.format(found.used, nil, 3)) or ""
end

local function clamps(r)
  if not record.given(r.mid_clamp, "hold") then return nobody, "" end
  local used = graph.try(r, "clamps_used")
  return "R95, by their maker's table", used and host.format(used, nil, 3) or ""
end

-- Each link from the modules to the soil: which rule judges it, and how far it is used where that is known.
local function load_path(d, r)
  local metal, kit, braces = import("rails.plan").part(r), record.given(r, "stack"), record.given(r, "braces")
  local function shown(value) return value and host.format(value, nil, 3) or "" end
  local function used(name) return shown(graph.try(r, name)) end
  local rows = {}
  local function link(...) rows[#rows + 1] = { ... } end
  link("modules", "R39", "")
  link("clamps", clamps(r))
  if metal then link("rails", "R17, by their maker's table", "")
  else link("rails", "R85; R87 how far they bend", used "rails_used") end
  local wants = record.any "joint" and import("joints.on").joint(r, "rail splices")
  if wants then link("splices of rails", joint(r, "rail splices", "R101")) end
  link("rails on rafters", joint(r, "rails on rafters", "R93"))
  if kit then link("rafters", "R83, by a paper of the kit's maker", "")
  else link("rafters", "R83", used "rafters_used") end
  link("rafters on posts", joint(r, "rafters on posts", "R92"))
  if not import("loads.bearing").none(r) then
    link("wood across its grain, where they cross", "R99", used "bearing_used")
  end
  if braces then
    link("braces", "R86; along the row R96", used "braces_used")
    local on = import "joints.on"
    if on.has(r, "braces") then link("their ends", joint(r, "braces", "R94")) end
    if on.has(r, "braces along the row") then
      link("ends of those along the row", joint(r, "braces along the row", "R94"))
    end
  end
  if tilted.positions(r) then
    link("what holds turned modules up", "R105, legs", shown(import("seasons.sheet").used(r)))
    if import("joints.on").has(r, "pins of turned rafters") then
      link("their pins", joint(r, "pins of turned rafters", "R92"))
    end
  end
  link("posts", "R82", used "posts_used")
  local feet = import "structure.feet"
  if feet.screws_of(r)[1] or feet.blocks_of(r)[1] then
    link("what ties them to blocks or screws", joint(r, "posts on footings", "R100"))
  end
  link("posts and footings along the row", "R96", used "row_used")
  link("footings", "R34 lift, R31 sideways, R98 leaning, R97 turning over", "")
  link("soil under them", "R90", shown(import("footings.sheet").most(r, "soil_used")))
  link("settlement", "nobody: allowable bearing is meant to keep it small", "")
  d:para("From module to soil, what judges each link, and how much of its strength is used at most:")
  d:table({ { "link" }, { "judged by" }, { "used", right = true } }, rows)
  d:para("In the plane of the modules their frames are taken to hold the rails.")
end

local function soil(d)
  local s = record.given(record.root.site, "soil")
  if not s then return d:para("Soil: unknown, no class is given.") end
  local ok, presumed = pcall(function()
    return calc.soil { soil_class = s.class, edition = record.root.codes.building }.lateral
  end)
  if not ok and not host.class(presumed) then error(presumed, 0) end
  local given, report = record.given(s, "lateral"), import("structure.soil").report(s)
  local told = run.told["site.soil.lateral"]
  local code = words.cite("{soil_values}")
  d:para("Soil: " .. s.class .. ", lateral bearing " .. (given and words.show(given) ..
      (told and ", " .. told.how:gsub("_", " ") .. (told.by and " (" .. told.by .. ")" or "") or ", as declared") or
      "not given, so the presumptive value is used") ..
      (report and ", by the report of " .. report.by .. ", " .. report.dated or "") ..
      (ok and "; presumptive for the class: " .. words.show(presumed) .. " (" .. code .. ")" or "") .. ".")
  import("footings.sheet").soil(d, s)
  for _, claim in ipairs(import("structure.claims")()) do d:para(claim.path .. ": " .. claim.text .. ".") end
  d:para("Expansive, organic, filled, wet, frozen or steep ground needs a geotechnical opinion.")
end

-- What wind and snow are on a rack, or on one in one of its positions.
local function weather(d, at)
  local r = tilted.rack(at)
  local told = "velocity pressure " .. of(at, "velocity_pressure") .. " at strength level, without Kd; mean roof " ..
      "height " .. of(at, "mean_roof_height") .. " above the ground; snow " .. of(at, "snow_load") ..
      " on the slope, seen from above (" .. of(at, "flat_snow") .. " on a level roof there)"
  if r == at then d:para(told .. "; least frame weight " .. of(r, "frame_weight"))
  else
    local where = import("seasons.positions").words(at)
    d:para(where:sub(1, 1):upper() .. where:sub(2) .. ": " .. told .. ".")
    import("seasons.sheet").legs(d, at)
  end
  if import("model.rule").has_limit "shed_repose" then
    d:para("All the snow of the slope, slid off, piles up to " .. of(at, "slid_pile") .. " below the lower edge.")
  end
end

local function rack_loads(d, r)
  local stands = tilted.stands(r)
  for _, at in ipairs(stands) do
    weather(d, at)
    if stands[2] then by_case(d, at) end
  end
  if stands[1] ~= r then d:para("Least frame weight " .. of(r, "frame_weight") .. ".") end
  d:para("Snow is not counted unbalanced: the standard asks that of hip and gable, curved, multiple and sawtooth " ..
      "roofs, and a slope of modules is none of these (" .. words.cite("{snow_unbalanced}") .. ").")
  d:gap()
  if not stands[2] then by_case(d, stands[1]) end
  by_foot(d, r)
  leaning(d, r)
  for _, at in ipairs(stands) do along_row(d, at) end
  d:gap()
  local papers = #run.giving > 0
  d:table(right("up", "down", "weight", "uplift", "net", "held by", "pressed"), each_post(r, function(x)
    return { x.station, cell(x, "wind_uplift"), cell(x, "wind_down"), cell(x, papers and "dead_counted" or "dead_load"),
        cell(x, "uplift_demand"), cell(x, "net_uplift"), cell(x, "uplift_resistance"), cell(x, "pressed") }
  end))
  d:para("up, down: wind, strength level. weight: the frame's least weight on the post. uplift: allowable level; " ..
      "net: less the share of the frame's weight that counts. held by: that share of frame, post and concrete, " ..
      "against uplift; shares as in " .. words.cite("{combination_uplift}") .. ". pressed: weight, snow and wind " ..
      "together, allowable level.")
  if papers then
    d:para("Where a paper has taken the frame's weight off what lifts, up and net are without it and weight is " ..
        "none: it is not counted a second time.")
  end
  by_post.papers(d, r)
  import("footings.sheet").counted(d, r)
  d:gap()
  d:table(right("width", "sideways", "above ground", "embedment", "has", "concrete"), each_post(r, function(x)
    return { x.station, long(x, "tributary"), cell(x, "lateral"), long(x, "above_ground"),
        long(x, "embedment_needed"), long(x, "embedment"), cell(x, "concrete_weight") }
  end))
  d:para("width: length of row between the middles of the bays. sideways: at the ground, allowable level. " ..
      "embedment: needed against it.")
  import("footings.sheet").put(d, r)
  turning(d, r)
  local shares = graph.try(r, "shares")
  if shares then
    d:para("Rails carry over several rafters; what each station carries of the row:")
    local rows, snow = {}, graph.try(r, "snow_shares")
    for i, x in ipairs(shares) do
      rows[i] = { tostring(x.station), document.value(x.through), document.value(x.cut), document.value(x.taken),
          snow and document.value(snow[i].taken) or "unknown" }
    end
    d:table({ { "station" }, { "rails through", right = true }, { "cut there", right = true },
        { "taken", right = true }, { "of snow", right = true } }, rows)
    d:para("of snow: as much of the row's snow, lying whole, as it carries where snow lies whole on some bays and " ..
        "half on others (" .. words.cite("{snow_partial}") .. ").")
  end
  load_path(d, r)
end

return function(d)
  local site, codes = record.root.site, record.root.codes
  local function fact(name)
    local v = record.given(site, name)
    return v == nil and "unknown" or words.show(v)
  end
  d:para("Wind " .. fact "wind" .. ", exposure " .. fact "exposure" .. ", risk category " .. fact "risk_category" ..
      ", ground snow " .. fact "snow" .. "; " .. (record.given(codes, "loads") or "no load standard is named") ..
      ". Loads are estimates: a licensed engineer must review whenever height, snow, wind, soil, slope, " ..
      "home-built racks or a waiver is involved.")
  for _, r in ipairs(record.all "rack") do
    d:gap()
    d:subheading(words.title(r))
    d:inside(rack_loads, r)
  end
  d:gap()
  d:inside(import("structure.by_hand").put)
  d:gap()
  d:inside(soil)
end
