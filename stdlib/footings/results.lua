-- SPDX-License-Identifier: MIT
-- What holds posts in the ground: embedment, concrete, weight.
local graph = import "model.graph"
local record = import "model.record"
local soil = import "structure.soil"
local feet = import "structure.feet"
local of_paper = import "structure.of_paper"
local work, result, given = graph.work, graph.result, record.given

local rack_of, footing_of = record.parent, feet.footing
local none_left_out = host.literal "0in"

-- The code doubles the values of its own table; another value is doubled if the report that it stands in says so.
result { "footing", "bearing_doubled", says = "whether the soil's lateral bearing counts twice, as for isolated posts",
  work = function(f, job)
    if not f.isolated_posts then return false end
    local of = job.site.soil
    local report = soil.report(of)
    return given(of, "lateral") == nil or report ~= nil and report.for_isolated_posts
  end }

-- With the soil on top left out that does not count.
local function embedding(p, job)
  local of = job.site.soil
  return import("footings.hole").embedding(p, job, given(of, "neglect") or none_left_out,
      given(of, "pressure_from") == "grade")
end

work { "post", "embed", op = "embed_neglecting", says = "embedment by the post formula, iterated", input = embedding,
  gives = {
    depth = { name = "embedment_needed", says = "least embedment against the wind's push" },
    strict = { name = "embedment_older",
        says = "the same where the greatest depth for pressure caps the depth before its third is taken" },
  } }

work { "post", "embed_leaning", op = "embed_neglecting",
  says = "the same, with what leaning adds as the ground gives way", none = feet.no_hole,
  input = function(p, job)
    local input = embedding(p, job)
    input.height = input.height + p.leaning_moment / input.lateral
    return input
  end,
  gives = { depth = { name = "embedment_leaning",
      says = "least embedment against the wind's push, and what leaning adds as the ground gives way; R98 asks it" } } }

local function waste(job)
  local h = record.only "habits"
  return h and given(h, "concrete_waste") or 0
end

local function no_bell(f)
  if feet.kind(f) ~= "hole" or not given(f, "bell") then return "it has no bell" end
end

work { "footing", "flare", op = "bell", says = "the bell at the foot of its hole", none = no_bell,
  input = function(f)
    return { hole_diameter = f.hole_diameter, bell = f.bell, hole_depth = f.hole_depth, gravel = f.gravel }
  end,
  gives = {
    height = { name = "bell_height", says = "from the base of the bell to where it is as wide as the hole" },
    concrete = { name = "bell_concrete", says = "concrete in the bell, beyond the hole's own width" },
    earth = { name = "bell_earth", says = "earth out of the bell and the gravel under it, beyond the hole's own" },
  } }

work { "post", "pier", op = "pier", says = "concrete around the post", none = feet.no_hole,
  input = function(p, job)
    local f = footing_of(p)
    local width, round = feet.section(rack_of(p), p.line)
    local bell = given(f, "bell")
    return { hole_diameter = f.hole_diameter, hole_depth = f.hole_depth, gravel = f.gravel,
        post_width = width, round = round, waste = waste(job), bell_concrete = bell and f.bell_concrete or nil,
        bell_earth = bell and f.bell_earth or nil }
  end,
  gives = {
    concrete = { says = "concrete in the hole" },
    ordered = { name = "concrete_ordered", says = "concrete with waste" },
    earth = { name = "hole_volume", says = "earth out of the hole, before it loosens" },
    post_volume = { says = "of the post what is in the concrete" },
    weight_heavy = { name = "concrete_weight_most", says = "weight of the concrete, taken heavy since it presses" },
    weight_light = { name = "concrete_weight", says = "weight of the concrete, taken light since it holds down" },
  } }

result { "footing", "bag_fills", dim = "volume", says = "what one bag of its concrete fills",
  work = function(f)
    local printed = given(f, "bag_yield")
    if printed then return printed end
    local ok, known = pcall(calc.bag_yield, { bag_mass = f.bag })
    if ok then return known.yield end
    if not host.class(known) then error(known, 0) end
    host.raise { code = "D010", class = "missing", path = tostring(f) .. ".bag_yield", who = "yard",
        tool = "the print on the bag",
        text = "what a bag of " .. host.format(f.bag) .. " fills is not kept here and not given" }
  end }

work { "post", "bagging", op = "bags", says = "bags that are opened for the hole", none = feet.no_hole,
  input = function(p) return { concrete = p.concrete_ordered, yield = footing_of(p).bag_fills } end,
  gives = { bags = { says = "bags opened for this hole" } } }

-- ---- what lifts, and what holds ------------------------------------------------------------------------------------

work { "post", "lift", op = "allowable_wind", says = "uplift, and what of a weight counts against it",
  input = function(p, job) return { wind = p.wind_uplift, edition = job.codes.loads } end,
  gives = {
    force = { name = "uplift_demand", says = "uplift, allowable level" },
    dead = { name = "dead_share", says = "what of a weight counts against it" },
  } }
result { "post", "frame_holds", dim = "force", says = "what of the frame's weight counts against uplift",
  formula = "dead_share * dead_counted" }
result { "post", "net_uplift", dim = "force", says = "uplift less the frame's weight, allowable level",
  formula = "uplift_demand - frame_holds" }

work { "post", "hold", op = "ground_uplift", says = "uplift against what may be counted", none = feet.no_hole,
  input = function(p, job) return import("footings.hole").holding(p, job) end,
  gives = { resistance = { name = "hole_holds",
      says = "what holds the post down: frame, post, what it is keyed to, less what water takes" } } }

result { "post", "uplift_resistance", dim = "force", given = "holds.up",
  takes = of_paper.allowable "what holds the post", says = "all that holds the post down, as far as it may be counted",
  work = function(p, job) return import("footings.kinds").of(p).uplift(p, job) end }

-- ---- what turns it over --------------------------------------------------------------------------------------------

result { "rack", "overturning", rows = true,
  says = "what turns each of its stations over the line of its front or back posts, and what stands against that",
  none = function(r) return import("footings.overturning").none(r) end,
  work = function(r) return import("footings.overturning").of(r) end,
  shows = function(d, r)
    local rows, value = {}, import("write.document").value
    for i, x in ipairs(r.overturning) do
      rows[i] = { x.station and value(x.station) or "all", x.over, value(x.turn), value(x.held), value(x.by_weight),
          value(x.by_posts), value(x.by_ground), x.case }
    end
    d:table({ { "station" }, { "over" }, { "turns", right = true }, { "held", right = true },
        { "by weight", right = true }, { "by posts", right = true }, { "in bending", right = true }, { "by" } }, rows)
  end }

-- ---- what presses --------------------------------------------------------------------------------------------------

work { "post", "below", op = "soil_bearing", says = "what presses on the soil below", none = feet.no_hole,
  input = function(p, job) return import("footings.hole").below(p, job) end,
  gives = {
    pressure = { name = "soil_pressure", says = "on the soil below it: what presses the post, with concrete and post" },
    allowable = { name = "soil_allowable", says = "what that soil bears, allowable" },
    ratio = { name = "soil_used", says = "how far that is used; 1 is all" },
  } }

-- ---- frost: shown, not judged --------------------------------------------------------------------------------------

work { "post", "freezing", op = "frost_grip", says = "what frost would pull up with, by a plain sum",
  none = function(p) return import("footings.frost").not_gripped(p) end,
  input = function(p, job) return import("footings.frost").sum(p, job) end,
  gives = {
    force = { name = "frost_pull", says = "what frost would pull it up with, by a plain sum that is not judged" },
    weight = { name = "frost_weight", says = "weight of frame, post and concrete, nothing taken off, against frost" },
  } }
