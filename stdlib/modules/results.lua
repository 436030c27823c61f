-- SPDX-License-Identifier: MIT
-- Modules on their rails: where rails and clamps lie, in which order modules are mounted, coordinates of all of a rack.
local graph = import "model.graph"
local record = import "model.record"
local models = import "modules.models"
local work, result, given = graph.work, graph.result, record.given

-- ---- rails up the slope --------------------------------------------------------------------------------------------

-- Rails are placed by rule where two lie under each row.
local function refuse_other_counts(r)
  if r.rails.lines == 2 * r.rows then return end
  host.raise { code = "D010", class = "missing", path = tostring(r) .. ".rails.at", who = "designer",
      tool = "the modules' mounting manual",
      text = "where the " .. r.rails.lines .. " rails under " .. r.rows ..
          (r.rows == 1 and " row" or " rows") .. " of modules lie is not given", help = "rails.at has a place for each" }
end

work { "rack", "rails_by_rule", op = "rail_places", says = "rails in the middle of the clamp zones",
  none = function(r) if given(r.rails, "at") then return "its rails are placed as rails.at says" end end,
  input = function(r)
    refuse_other_counts(r)
    local least, most = models.zone(r, r.modules)
    return { side = models.up_the_slope(r, r.modules), rows = r.rows, row_gap = r.row_gap, zone_least = least,
        zone_most = most }
  end, gives = {} }

work { "rack", "rail_places", op = "rail_crossings", says = "where each rail crosses the modules",
  input = function(r)
    return { side = models.up_the_slope(r, r.modules), rows = r.rows, row_gap = r.row_gap,
        at = given(r.rails, "at") or r.rails_by_rule.at }
  end, gives = {} }

-- ---- clamps along the rails ----------------------------------------------------------------------------------------

local function along_the_row(r)
  return { across = models.along_the_row(r, r.modules), columns = r.columns, column_gap = r.column_gap, joints = {},
      joint_gap = r.column_gap }
end

work { "rack", "clamp_places", op = "clamps", says = "the clamps on each rail",
  input = along_the_row,
  gives = {
    mids = { name = "mid_clamps_a_rail", says = "clamps between modules on each rail" },
    ends = { name = "end_clamps_a_rail", says = "clamps at the ends of each rail" },
  } }

result { "rack", "mid_clamps", says = "clamps between modules", formula = "rails.lines * mid_clamps_a_rail" }
result { "rack", "end_clamps", says = "clamps at the ends of the rails", formula = "rails.lines * end_clamps_a_rail" }

-- ---- mounting ------------------------------------------------------------------------------------------------------

work { "rack", "mounting", op = "mounting", says = "the order in which the modules of each row are mounted",
  input = function(r)
    local row = along_the_row(r)
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
  local rail = calc.dressed { section = r.rails.size }
  return r.rails.face == "edge" and rail.depth or rail.breadth
end

-- What stands under the rails, from the west: one at each station of the first line.
local function supports(r)
  local list = {}
  for p in record.each(r.post) do if p.letter == "F" then list[#list + 1] = p.offset end end
  return list
end

work { "rack", "points", op = "frame_points",
  says = "coordinates of modules, rails, rafters and posts, from the rack's west lower corner",
  input = function(r)
    local row, posts, at = along_the_row(r), {}, {}
    for i, rail in ipairs(r.rail_places.rails) do at[i] = rail.up end
    for p in record.each(r.post) do
      posts[#posts + 1] = { offset = p.offset, setback = r.post_line[p.letter].setback, top = p.above_ground + p.ground,
          ground = p.ground }
    end
    row.corner_east, row.corner_north, row.azimuth, row.tilt, row.edge_height = level, level, r.true_azimuth, r.tilt,
        r.edge_height
    row.side, row.rows, row.row_gap, row.at = models.up_the_slope(r, r.modules), r.rows, r.row_gap, at
    row.runs = { { from = -r.end_allowance, to = r.row_width + r.end_allowance } }
    row.supports, row.support_from, row.support_to, row.rail_depth = supports(r), level, r.slope_length, rail_depth(r)
    row.posts = posts
    return row
  end, gives = {} }
