-- SPDX-License-Identifier: MIT
-- Where each rack stands, and its posts.
local graph = import "model.graph"
local record = import "model.record"
local places = import "places.places"
local work, result = graph.work, graph.result

work { "rack", "row_line", op = "row_bearing", says = "the direction in which its row is counted",
  input = function(r) return { facing = r.true_azimuth } end,
  gives = { bearing = { name = "row_bearing",
      says = "true bearing in which its lists run: west to east, or from the south end of a row due north-south" } } }

result { "rack", "place_east", dim = "length",
  says = "the west end of its lower edge, east of the zero of the coordinates",
  work = function(r) return places.at(r).east end }
result { "rack", "place_north", dim = "length",
  says = "the west end of its lower edge, north of the zero of the coordinates",
  work = function(r) return places.at(r).north end }

work { "rack", "outline", op = "rack_outline", says = "the corners of the module plane in plan",
  input = function(r)
    local east, north, wide = places.outer_corner(r)
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
