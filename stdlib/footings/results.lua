-- SPDX-License-Identifier: MIT
-- What holds posts in the ground: embedment, concrete, weight.
local graph = import "model.graph"
local record = import "model.record"
local soil = import "structure.soil"
local feet = import "structure.feet"
local of_paper = import "structure.of_paper"
local work, result, given = graph.work, graph.result, record.given

local rack_of, footing_of = record.parent, feet.footing
local function uncovered(text) host.raise { code = "C005", class = "range", text = text } end

-- The code doubles the values of its own table; another value is doubled if the report that it stands in says so.
result { "footing", "bearing_doubled", says = "whether the soil's lateral bearing counts twice, as for isolated posts",
  work = function(f, job)
    if not f.isolated_posts then return false end
    local of = job.site.soil
    local report = soil.report(of)
    return given(of, "lateral") == nil or report ~= nil and report.for_isolated_posts
  end }

work { "post", "embed", op = "embed", says = "embedment by the unconstrained formula, iterated",
  input = function(p, job)
    if host.si(p.lateral) <= 0 then
      uncovered("a level rack has no side force in the wind figure; friction along the modules is not covered here")
    end
    local f, of = feet.only_holes(p, "the embedment needed"), job.site.soil
    local bearing = given(of, "lateral")
    local building = job.codes.building
    if not bearing then bearing = calc.soil { soil_class = of.class, edition = building }.lateral end
    local function at(push, height)
      return { edition = building, lateral = push, height = height, width = f.hole_diameter, bearing = bearing,
          isolated = f.bearing_doubled }
    end
    local most = at(p.lateral, p.push_height)
    if graph.paper(p, "loads.side") then return most end
    -- The largest moment may come with less of a push, and want more.
    local foot = p.foot
    if foot.moment <= foot.push_moment or host.si(foot.moment_push) <= 0 then return most end
    local bent = at(foot.moment_push, foot.moment / foot.moment_push)
    return calc.embed(bent).depth > calc.embed(most).depth and bent or most
  end,
  gives = { depth = { name = "embedment_needed", says = "least embedment against the wind's push" } } }

local function waste(job)
  local h = record.only "habits"
  return h and given(h, "concrete_waste") or 0
end

work { "post", "pier", op = "pier", says = "concrete around the post", none = feet.no_hole,
  input = function(p, job)
    local f = footing_of(p)
    local width, round = feet.section(rack_of(p))
    return { hole_diameter = f.hole_diameter, hole_depth = f.hole_depth, gravel = f.gravel,
        post_width = width, round = round, waste = waste(job) }
  end,
  gives = {
    concrete = { says = "concrete in the hole" },
    ordered = { name = "concrete_ordered", says = "concrete with waste" },
    earth = { name = "hole_volume", says = "earth out of the hole, before it loosens" },
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

work { "post", "hold", op = "uplift", says = "uplift against weight", none = feet.no_hole,
  input = function(p, job)
    return { wind_uplift = p.wind_uplift, dead = p.dead_counted, concrete = p.concrete_weight,
        post = feet.weight(rack_of(p), p.cut_length), edition = job.codes.loads }
  end,
  gives = { resistance = { name = "weight_holds", says = "weight counted against it: frame, post and concrete" } } }

result { "post", "uplift_resistance", dim = "force", given = "holds.up",
  takes = of_paper.allowable "what holds the post", says = "all that holds the post down, as far as it may be counted",
  work = function(p, job) return import("footings.kinds").of(p).uplift(p, job) end }
