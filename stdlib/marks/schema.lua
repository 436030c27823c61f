-- SPDX-License-Identifier: MIT
-- What is drilled, beyond where: the diameters.
local schema = import "model.schema"

local function hole(name, says, who, tool)
  return { name, "quantity", dim = "length", above = 0, max = 0.05, spare = true, design = false, example = "9/16in",
      says = says, who = who, tool = tool }
end

schema.add_fields("rack", {
  hole("bolt_hole", "diameter drilled where rails, rafters and what carries them are bolted together; without it " ..
      "the drill list leaves it open", "designer", "the bolt and what its holes may be wider"),
})
schema.add_fields("clamp", {
  hole("hole", "diameter drilled for its bolt, where the rail has no slot for it; without it the drill list " ..
      "leaves it open", "maker's data sheet"),
})
