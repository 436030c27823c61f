-- SPDX-License-Identifier: MIT
-- Modules on their rails: where rails and clamps lie.
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
          (r.rows == 1 and " row" or " rows") .. " of modules lie is not given",
      help = "rails.at has a place for each" }
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

work { "rack", "clamp_places", op = "clamps", says = "the clamps on each rail",
  input = models.row,
  gives = {
    mids = { name = "mid_clamps_a_rail", says = "clamps between modules on each rail" },
    ends = { name = "end_clamps_a_rail", says = "clamps at the ends of each rail" },
  } }

result { "rack", "mid_clamps", says = "clamps between modules", formula = "rails.lines * mid_clamps_a_rail" }
result { "rack", "end_clamps", says = "clamps at the ends of the rails", formula = "rails.lines * end_clamps_a_rail" }

result { "rack", "clamps_used", says = "how far its clamps are used where they are lifted most; 1 is what they hold",
  none = function(r)
    if not given(r.mid_clamp, "hold") and not given(r.end_clamp, "hold") then
      return "what its clamps hold is not in their parts file"
    end
  end,
  work = function(r) return import("modules.clamps_hold").used(r) end }
