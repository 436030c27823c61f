-- SPDX-License-Identifier: MIT
-- Where the modules are in each of their positions.
local graph = import "model.graph"
local record = import "model.record"
local edge = import "structure.edge"
local lines = import "structure.lines"
local work, result, given = graph.work, graph.result, record.given

local rack_of = import("seasons.positions").rack

-- What they turn about, as a fraction of the slope.
local function pivot(position)
  local tilts = record.parent(position)
  local name = given(tilts, "pivot")
  if not name then return tilts.pivot_at end
  local rack = rack_of(position)
  for _, line in ipairs(lines.of(rack)) do if line.name == name then return line.fraction end end
  -- Where another line is tried.
  host.raise { code = "C005", class = "range", text = tostring(rack) .. " has no " .. name .. " line" }
end

local function turned(position, fraction)
  local r = rack_of(position)
  local f = pivot(position)
  return { slope_length = r.slope_length, tilt = r.tilt, lower_edge = r.edge_height, stack = r.stack_depth, pivot = f,
      line = fraction or f, to = position.tilt }
end

work { "position", "plane", op = "turned", says = "the module plane in this position",
  input = function(p) return turned(p) end,
  gives = {
    turned_edge = { name = "lower_edge", says = "height of the lower edge above the datum" },
    turned_top = { name = "top_edge", says = "height of the top edge above the datum" },
    middle = { name = "middle_above_datum", says = "height of the middle of the module plane above the datum" },
    depth = { name = "plan_depth", says = "depth of the module plane seen from above" },
    moved = { name = "edge_moved",
        says = "how far uphill the lower edge goes in plan, from where the rack's own tilt has it" },
    pivot_height = { says = "bearing points that they turn about, above the datum" },
  } }

result { "bearing_line", "fraction", dim = "ratio",
  says = "where it is, as a fraction of the slope from the lower edge",
  work = function(l) return lines.fraction(rack_of(record.parent(l)), l.name) end }
work { "bearing_line", "place", op = "turned", says = "bearing points of a line in this position",
  input = function(l) return turned(record.parent(l), l.fraction) end,
  gives = {
    line_height = { name = "height", says = "bearing points of the line above the datum" },
    from_pivot = { says = "bearing points of the line behind what they turn about, in plan" },
    leg_rise = { says = "these points above where the rack's own tilt has them; less than 0: below" },
    leg_run = { says = "the same behind, in plan; less than 0: before" },
    leg = { says = "how long a leg between the two is, from pin to pin" },
  } }

local function under(p)
  local r = rack_of(p)
  return edge.under(r, r.front_setback - p.edge_moved)
end

result { "position", "height_above_grade", dim = "length",
  says = "top edge above the lowest natural ground at a post",
  work = function(p) return p.top_edge - rack_of(p).lowest_ground end }
result { "position", "edge_ground", dim = "length",
  says = "highest ground under the lower edge, against the datum",
  work = function(p) return under(p).ground end }
result { "position", "edge_ground_at", says = "which ground that is",
  work = function(p) return edge.words(under(p)) end }
result { "position", "clearance", dim = "length", says = "lower edge above the ground under it",
  formula = "lower_edge - edge_ground" }
