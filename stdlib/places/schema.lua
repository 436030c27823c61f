-- SPDX-License-Identifier: MIT
-- Where racks stand beside and behind each other: plan coordinates, east and north of one zero.
local schema = import "model.schema"
local kind = schema.kind

local farthest = 1e5

local function corner(says)
  return { "corner", "list", least = 2, most = 2, says = says, example = "-75ft, -150ft",
      item = { "coordinate", "quantity", type = "quantity", dim = "length", min = -farthest, max = farthest } }
end

local function settle(rack, refuse) import("places.places").settle(rack, refuse) end

schema.add_fields("rack", {
  corner("where the west end of its lower edge lies: east and north of the zero of all coordinates; where its row " ..
      "runs due north-south, the south end"),
  { "beside", "ref", of = { "rack" }, says = "the rack to whose row it goes on, to the east of it; its lower edge lies "
      .. "in the line of that one's" },
  { "aisle", "quantity", dim = "length", min = 0, max = 1000, example = "10ft",
    says = "way between the ends of the two racks' modules" },
  { "behind", "ref", of = { "rack" }, says = "the rack behind whose upper edge its lower edge lies, west ends " ..
      "in line" },
  { "gap", "quantity", dim = "length", min = 0, max = 1000, example = "12ft",
    says = "way between that upper edge and this lower edge, in plan" },
}, settle)

schema.add_fields("limits", {
  { "aisle", "limit", spare = true, own_words = true, dim = "length", max = 300, example = "8ft",
    says = "least way between two racks, for people, a ladder, a mower" },
})

kind { "row", named = true, design = true, says = "racks side by side, from west to east, as along a contour",
  fields = {
    { "racks", "list", required = true, least = 2, item = { "rack", "ref", type = "ref", of = { "rack" } },
      example = '"a", "b", "c"', says = "its racks, west to east" },
    corner("where the west end of the first rack's lower edge lies: east and north of the zero; without it that " ..
        "rack says so itself"),
    { "aisle", "quantity", required = true, dim = "length", min = 0, max = 1000, example = "6ft",
      says = "way between the ends of the modules of one rack and the next" },
    { "steps", "list", item = { "step", "quantity", type = "quantity", dim = "length", min = -100, max = 100 },
      example = "0ft, 2ft", says = "how far the lower edge of each next rack lies behind the line of the one before; "
          .. "without it all lie in one line" },
  },
  settle = function(row, refuse) import("places.places").settle_row(row, refuse) end }
