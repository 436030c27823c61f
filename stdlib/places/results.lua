-- SPDX-License-Identifier: MIT
-- Where each rack stands, and its posts; and what the low sun does between racks.
local graph = import "model.graph"
local record = import "model.record"
local work, result = graph.work, graph.result

work { "rack", "row_line", op = "row_bearing", says = "the direction in which its row is counted",
  input = function(r) return { facing = r.true_azimuth } end,
  gives = { bearing = { name = "row_bearing",
      says = "true bearing in which its lists run: west to east, or from the south end of a row due north-south" } } }

result { "rack", "place_east", dim = "length",
  says = "the west end of its lower edge, east of the zero of the coordinates",
  work = function(r) return import("places.places").at(r).east end }
result { "rack", "place_north", dim = "length",
  says = "the west end of its lower edge, north of the zero of the coordinates",
  work = function(r) return import("places.places").at(r).north end }

work { "rack", "outline", op = "rack_outline", says = "the corners of the module plane in plan",
  input = function(r)
    local east, north, wide = import("places.places").outer_corner(r)
    return { east = east, north = north, facing = r.true_azimuth, row_width = wide, plan_depth = r.plan_depth }
  end, gives = {} }

work { "post", "point", op = "place", says = "where the post stands in plan",
  input = function(p)
    local r = record.parent(p)
    return { east = r.place_east, north = r.place_north, facing = r.true_azimuth, along = p.plan_offset,
        behind = p.line == "middle" and r.post_line[p.letter].setback or r[p.line .. "_setback"] }
  end,
  gives = {
    east = { name = "place_east", says = "its centre, east of the zero of the coordinates" },
    north = { name = "place_north", says = "its centre, north of the zero of the coordinates" },
  } }

-- ---- the sun of the shortest day -----------------------------------------------------------------------------------

work { "site", "lowest_noon", op = "noon_sun", says = "the sun at noon of the shortest day",
  input = function(site) return { latitude = host.quantity(host.si(site.latitude), "angle") } end,
  gives = {
    elevation = { name = "noon_sun", says = "how high the sun stands at noon of the shortest day" },
    bearing = { name = "noon_bearing", says = "true bearing of the sun then" },
  } }

local function in_front(r) return import("places.in_front").of(r) end
local function no_gap(r) return import("places.in_front").no_gap(r) end
local function no_shadow(r) return import("places.in_front").no_shadow(r) end

result { "rack", "gap_in_front", dim = "length", show = "ft", none = no_gap,
  says = "from the upper edge of the rack in front of it to its own lower edge, in plan",
  work = function(r) return host.quantity(math.max(0, in_front(r).gap), "length") end }

-- Of modules that are turned with the seasons, in the position of that day.
work { "rack", "noon_shadow", op = "row_shadow", none = no_shadow,
  says = "the shadow of the rack in front of it at noon of the shortest day, as both stand then",
  input = function(r, job)
    local low_sun = import "places.low_sun"
    local front, own = low_sun.stands(in_front(r).rack), low_sun.stands(r)
    return { elevation = job.site.noon_sun, bearing = job.site.noon_bearing, facing = r.true_azimuth,
        drop = front.top - own.edge, gap = low_sun.gap(front, own, r.gap_in_front), tilt = own.tilt,
        slope_length = r.slope_length }
  end,
  gives = {
    angle = { name = "shadow_angle", says = "at which the light falls then, seen from the end of its row" },
    reach = { name = "shadow_reach", show = "ft",
        says = "how far behind the rack in front the shadow ends then, at the level of its own lower edge" },
    clear = { name = "shadow_clear", show = "ft",
        says = "what of the gap is left in the sun then; below 0 the shadow lies on its modules" },
    shaded = { name = "shadow_up", says = "how far up its modules the shadow lies then" },
  } }
