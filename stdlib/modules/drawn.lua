-- SPDX-License-Identifier: MIT
-- The order in which modules are mounted, and the coordinates of all of a rack: what sheets and drawings ask for.
local graph = import "model.graph"
local record = import "model.record"
local models = import "modules.models"
local rails = import "rails.plan"
local work, given = graph.work, record.given

-- ---- mounting ------------------------------------------------------------------------------------------------------

work { "rack", "mounting", op = "mounting", says = "the order in which the modules of each row are mounted",
  input = function(r)
    local row = models.row(r)
    row.width_tolerance, row.gap_tolerance, row.end_allowance = r.modules.width_tolerance, r.gap_tolerance,
        r.end_allowance
    return row
  end,
  gives = {
    drift = { name = "row_drift", says = "how far the outer edge of the last module may be off, mounted from the "
        .. "middle outward" },
    one_way = { name = "row_drift_one_way", says = "the same, mounted from one end to the other" },
    left = { name = "end_allowance_left", says = "what the row drift leaves of the end allowance" },
  } }

-- ---- coordinates ---------------------------------------------------------------------------------------------------

local level = host.literal "0in"

local function rail_depth(r)
  local part = rails.part(r)
  if part then return part.depth end
  local rail = calc.dressed { section = r.rails.size }
  return r.rails.face == "edge" and rail.depth or rail.breadth
end

local function drawn(r, east, north)
  local row, posts, at, e = models.row(r), {}, {}, r.end_allowance
  for i, rail in ipairs(r.rail_places.rails) do at[i] = rail.up end
  for p in record.each(r.post) do
    local line = r.post_line[p.letter]
    posts[#posts + 1] = { offset = p.plan_offset, setback = line.setback, top = p.top_height, ground = p.ground }
  end
  row.corner_east, row.corner_north, row.azimuth, row.tilt, row.edge_height = east, north, r.true_azimuth, r.tilt,
      r.edge_height
  row.side, row.rows, row.row_gap, row.at = models.up_the_slope(r, r.modules), r.rows, r.row_gap, at
  -- Places on a rail count from its own west end.
  row.runs, row.supports, row.posts = {}, rails.supports(r), posts
  for k, run in ipairs(r.rail_runs) do row.runs[k] = { from = run.from - e, to = run.to - e } end
  for k, at_rail in ipairs(row.supports) do row.supports[k] = at_rail - e end
  row.slope = record.given(r, "row_slope")
  -- A rafter lies centred on the slope.
  local over = given(r, "stack") and level or (r.rafter_length - r.slope_length) / 2
  row.support_from, row.support_to, row.rail_depth = level - over, r.slope_length + over, rail_depth(r)
  return row
end

work { "rack", "points", op = "frame_points",
  says = "coordinates of modules, rails, rafters and posts; east and north of the west end of its own lower edge",
  input = function(r) return drawn(r, level, level) end, gives = {} }

work { "rack", "points_on_plan", op = "frame_points",
  says = "the same, east and north of the zero of the coordinates",
  input = function(r) return drawn(r, r.place_east, r.place_north) end, gives = {} }
