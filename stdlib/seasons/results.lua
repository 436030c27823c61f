-- SPDX-License-Identifier: MIT
-- Where the modules are in each of their positions.
local run = import "model.run"
local graph = import "model.graph"
local record = import "model.record"
local work, result, given = graph.work, graph.result, record.given

local function rack_of(position) return run.groups.rack.by[position.of] end

-- The line that they turn about, as a fraction of the slope.
local function pivot(position, rack)
  local tilts = record.parent(position)
  local line = given(tilts, "pivot")
  return line and rack.post_lines[line] or tilts.pivot_at
end

local function turned(position, line)
  local r = rack_of(position)
  local f = pivot(position, r)
  return { slope_length = r.slope_length, tilt = r.tilt, lower_edge = r.lower_edge, stack = r.stack, pivot = f,
      line = line and r.post_lines[line] or f, to = position.tilt }
end

work { "position", "plane", op = "turned", says = "the module plane in this position",
  input = function(p) return turned(p) end,
  gives = {
    turned_edge = { name = "lower_edge", says = "height of the lower edge above the datum" },
    turned_top = { name = "top_edge", says = "height of the top edge above the datum" },
    middle = { name = "middle_above_datum", says = "height of the middle of the module plane above the datum" },
    moved = { name = "edge_moved", says = "how far uphill the lower edge goes in plan, from where the rack's own tilt " ..
        "has it" },
    pivot_height = { says = "bearing points that they turn about, above the datum" },
  } }

for _, line in ipairs { "front", "back" } do
  work { "position", line .. "_line", op = "turned", says = "the " .. line .. " bearing points in this position",
    input = function(p) return turned(p, line) end,
    gives = {
      line_height = { name = line .. "_height", says = "bearing points of the " .. line .. " line above the datum" },
      from_pivot = { name = line .. "_from_pivot",
          says = "bearing points of the " .. line .. " line behind what they turn about, in plan" },
    } }
end

result { "position", "height_above_grade", dim = "length",
  says = "top edge above the lowest natural ground at a post",
  work = function(p) return p.top_edge - rack_of(p).lowest_ground end }
result { "position", "edge_ground", dim = "length", says = "highest ground under the lower edge, against the datum",
  work = function(p)
    local r = rack_of(p)
    return import("structure.edge").under(r, r.front_setback - p.edge_moved).ground
  end }
result { "position", "edge_ground_at", says = "which ground that is",
  work = function(p)
    local r = rack_of(p)
    local edge = import "structure.edge"
    return edge.words(edge.under(r, r.front_setback - p.edge_moved))
  end }
result { "position", "clearance", dim = "length", says = "lower edge above the ground under it",
  formula = "lower_edge - edge_ground" }
