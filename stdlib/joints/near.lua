-- SPDX-License-Identifier: MIT
-- What is said of a fastener that stands nearer to an end, an edge or another than any load lets it.
local near = {}

-- By what calc.dowel_spacing says governs: the distance that there is, the least that there must be.
local measured = { ["end"] = { "to_end", "end_least" }, spacing = { "spacing", "spacing_least" },
  rows = { "row_spacing", "rows_least" }, edge = { "to_edge", "edge_least" },
  ["unloaded edge"] = { "to_other_edge", "unloaded_edge_least" } }

-- way: what calc.dowel_spacing was asked, s: what it gave; called: what that distance is called here.
function near.words(member, way, s, called)
  local of = measured[s.governs]
  local is, least = import("write.words").apart(way[of[1]], s[of[2]])
  return "too near in the " .. member .. ", loaded " .. way.load .. ": " .. (called or s.governs) .. " " .. is ..
      ", at least " .. least .. " is needed"
end

return near
