-- SPDX-License-Identifier: MIT
-- What wind, snow and weight do in each position of a rack's modules: by the same as at a tilt for good.  Each of these
-- results of a rack reads what changes with the tilt off what it is asked of, and all else off the rack.
local graph = import "model.graph"
local schema = import "model.schema"
import "structure.results"
import "loads.results"

local of_rack = { "mean_roof_height", "gust", "snow", "slid_pile", "by_sign", "roof", "roof_along", "sign",
    "wind_cases", "frames", "standing", "row_frame" }

for _, name in ipairs(of_rack) do
  local def = schema.result(schema.kinds.rack, name)
  local own = { "position", name }
  for _, key in ipairs { "op", "says", "none", "input", "gives", "dim", "rows", "work", "shows" } do
    own[key] = def[key]
  end
  local declare = def.op and graph.work or graph.result
  declare(own)
end
