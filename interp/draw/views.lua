-- SPDX-License-Identifier: MIT
-- The views of a job that are drawn, in the order of their pages. A view is of each rack, of each footing in which a
-- post stands, of each trench, or of racks that stand behind each other, by the last of them.
--   { name, title, letter = of the sheet's number, S where none is given, sheet = its digit, module, of = "footing" }
-- A module gives function(rack, outcomes) -> a view as draw.page has it, or nil and why it is withheld.
return {
  { name = "plan", title = "Post plan", sheet = 1, module = "draw.plan" },
  { name = "array", title = "Array plan", sheet = 1, module = "draw.array" },
  { name = "side", title = "Side elevation", sheet = 2, module = "draw.side" },
  { name = "front", title = "Front elevation", sheet = 2, module = "draw.front" },
  { name = "rows", title = "Rows of racks", sheet = 2, module = "draw.rows", of = "rows" },
  { name = "footing", title = "Footing section", sheet = 3, module = "draw.footing", of = "footing" },
  { name = "trench", title = "Trench section", letter = "C", sheet = 3, module = "draw.trench", of = "trench" },
}
