-- SPDX-License-Identifier: MIT
-- A domain for the test of domains: nothing outside this folder names it.
local schema = import "model.schema"

schema.kind { "fence", named = true, says = "a fence round the array", who = "owner", tool = "a tape",
  fields = {
    { "length", "quantity", dim = "length", above = 0, max = 10000, required = true, example = "240ft",
      says = "length along the ground" },
    { "height", "quantity", dim = "length", above = 0, max = 5, required = true, example = "6ft",
      says = "height above the ground" },
  } }

schema.add_fields("limits", {
  { "fence_height", "limit", dim = "length", example = "6ft", says = "most height of a fence" },
})

schema.kind { "picket", parent = "fence", says = "one picket of a fence",
  fields = { { "number", "count", says = "its number, from the gate" } },
  derive = function(fence)
    local list = {}
    for i = 1, fence.pickets do list[i] = { name = "P" .. i, number = i } end
    return list
  end }
