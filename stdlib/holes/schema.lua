-- SPDX-License-Identifier: MIT
-- Holes that are dug already, as somebody found them with a tape.
local schema = import "model.schema"
local kind = schema.kind

-- Further from its mark it is another hole.
local function off(name, says)
  return { name, "quantity", dim = "length", min = -3, max = 3, example = "7in", says = says,
      who = "foreman", tool = "a tape from the zero" }
end

kind { "dug", may_name = true,
  says = "holes that are dug already: of which posts, how deep and how wide",
  items = { "hole", "text", name = "holes", type = "text", example = "west.B3",
    says = "the post that the hole is for: its station, behind the rack's name and a dot where there are several" },
  fields = {
    { "depth", "quantity", dim = "length", above = 0, max = 6, example = "66in",
      says = "how deep they are, below the ground beside them", who = "foreman", tool = "a tape" },
    { "diameter", "quantity", dim = "length", above = 0, max = 1.5, example = "18in",
      says = "how wide they are; without it as wide as designed", who = "foreman", tool = "a tape" },
    off("moved_east", "how far east of its mark the hole is; less than 0: west"),
    off("moved_north", "how far north of its mark the hole is; less than 0: south"),
    { "hit", "text", example = "old corner post", says = "what was met in the ground" },
    { "by", "text", required = true, example = "Rafe Colby", says = "who measured them" },
    { "on", "date", required = true, says = "when" },
  },
  settle = function(dug, refuse) import("holes.as_dug").settle(dug, refuse) end }
