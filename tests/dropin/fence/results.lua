-- SPDX-License-Identifier: MIT
local graph = import "model.graph"

graph.result { "fence", "pickets", says = "pickets, one every 8 ft and one at the end",
  work = function(fence) return math.ceil(fence.length / host.literal "8ft" - 1e-9) + 1 end }

graph.result { "rack", "fence_height", dim = "length", says = "height of the fence that would hide it",
  work = function(rack) return rack.top_edge end }
